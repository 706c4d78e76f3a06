"""The script for fish: a `complete` for each thing that can be typed, on the condition that its command stands there."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from postcheck.cli.completion.words import Command, Option, Value


def script(root: Command) -> str:
    """The script for the whole command line."""
    return _SCRIPT + "".join(f"{line}\n" for command in root.every() for line in _lines(command))


def _lines(command: Command) -> Iterator[str]:
    here = _condition("__postcheck_choosing" if command.commands else "__postcheck_in", command)
    for option in command.options:
        yield f"complete -c postcheck -n {here} {_option(option)}"
    for each in command.commands:
        yield f"complete -c postcheck -n {here} -a {_list([each.name])} -d {_quoted(each.says)}"
    for offer in dict.fromkeys(filter(None, map(_offer, command.values))):
        yield f"complete -c postcheck -n {here} {offer}"


def _condition(function: str, command: Command) -> str:
    return _quoted(" ".join((function, *map(_word, command.path))))


def _option(option: Option) -> str:
    said = [
        f"-l {_word(name[2:])}" if name.startswith("--") else f"-s {_word(name[1:])}" for name in option.names
    ]
    if option.value is not None:
        said.append(
            f"-r {_offer(option.value)}"
            if option.value.kind == "file"
            else f"-x {_offer(option.value)}".rstrip()
        )
    return " ".join([*said, f"-d {_quoted(option.says)}"])


def _offer(value: Value) -> str:
    if value.kind == "words":
        return f"-a {_list(value.words)}"
    return {"build": "-a '(__postcheck_builds)'", "file": "-F", "text": ""}[value.kind]


def _list(words: Iterable[str]) -> str:
    """Words for -a, which fish reads twice: as an argument, and then as words of a line."""
    return _quoted(" ".join(map(_word, words)))


def _word(word: str) -> str:
    return word if re.fullmatch(r"[A-Za-z0-9_.,/+-]+", word) else _quoted(word)


def _quoted(text: str) -> str:
    """In single quotes, where only the quote and the backslash mean anything."""
    return "'" + text.replace("\\", "\\\\").replace("'", "\\'") + "'"


_SCRIPT = r"""# Completion of postcheck for fish, written by `postcheck completion fish`.

# The words before the one at the cursor that are no options, without the program's own name.
function __postcheck_said
    set -l words (commandline -opc)
    set -e words[1]
    string match -v -- '-*' $words
end

# Whether the line is one of this command.
function __postcheck_in
    set -l said (string join ' ' -- (__postcheck_said))
    string match -q -- "$argv *" "$said "
end

# Whether it ends there, and a command of its own is to follow.
function __postcheck_choosing
    set -l said (string join ' ' -- (__postcheck_said))
    test "$said" = "$argv"
end

# Build files and folders, and no others, found as fish finds files.
function __postcheck_builds
    complete -C "__postcheck_files "(commandline -ct) | string replace -r '\t.*' '' | string match -r '.*(?:/|\.post\.toml)$'
end

complete -c postcheck -f
"""
