"""The script for zsh: a function a command, each a call of `_arguments`, zsh's own way to say what can be typed."""

from __future__ import annotations

import re
from collections.abc import Iterator

from postcheck.cli.completion.bash import quoted
from postcheck.cli.completion.words import Command, Option, Value


def script(root: Command) -> str:
    """The script for the whole command line."""
    functions = "\n".join(_function(command) for command in root.every())
    return _SCRIPT.replace("@FUNCTIONS@", functions)


def _function(command: Command) -> str:
    specs = [spec for option in command.options for spec in _option_specs(option)]
    if command.commands:
        specs += ["1: :->command", "*:: :->rest"]
    else:
        specs += _value_specs(command.values)
    body = [f"{_name(command)}() {{"]
    if command.commands:
        body.append("    local curcontext=$curcontext state line")
        body.append("    typeset -A opt_args")
    body.append("    _arguments -s -S" + (" -C" if command.commands else "") + " \\")
    body.append(" \\\n".join(f"        {quoted(spec)}" for spec in specs))
    if command.commands:
        body += _choices(command)
    return "\n".join([*body, "}", ""])


def _choices(command: Command) -> Iterator[str]:
    """Which command it is, by name with its help; behind it, that command's own function."""
    yield "    case $state in"
    yield "        command)"
    yield "            local -a commands=("
    for each in command.commands:
        yield f"                {quoted(_described(each))}"
    yield "            )"
    yield "            _describe -t commands command commands"
    yield "            ;;"
    yield "        rest)"
    yield "            case $line[1] in"
    for each in command.commands:
        yield f"                {quoted(each.name)}) {_name(each)} ;;"
    yield "            esac"
    yield "            ;;"
    yield "    esac"


def _described(command: Command) -> str:
    return command.name.replace("\\", "\\\\").replace(":", "\\:") + ":" + command.says


def _name(command: Command) -> str:
    return "_".join(("_postcheck", *(re.sub(r"[^A-Za-z0-9]", "-", word) for word in command.path)))


def _option_specs(option: Option) -> Iterator[str]:
    """A spec for each of its names; what has been given is offered no more, unless it may be repeated."""
    for name in option.names:
        before = "*" if option.repeats else f"({' '.join(option.names)})" if len(option.names) > 1 else ""
        if "--help" in option.names or "--version" in option.names:
            before = "(- *)"  # nothing else goes with it
        takes = "" if option.value is None else "=" if name.startswith("--") else "+"
        value = "" if option.value is None else f":{_plain(option.value.name)}:{_action(option.value)}"
        yield f"{before}{name}{takes}[{_plain(option.says)}]{value}"


def _value_specs(values: tuple[Value, ...]) -> Iterator[str]:
    for number, value in enumerate(values, 1):
        place = "*:" if value.many else f"{number}:" if value.needed else f"{number}::"
        yield f"{place}{_plain(value.name)}:{_action(value)}"


def _plain(text: str) -> str:
    """Text inside a spec, where brackets and colons end things."""
    return re.sub(r"([\\\[\]:])", r"\\\1", text)


def _action(value: Value) -> str:
    if value.kind == "words":
        return f"({' '.join(map(_word, value.words))})"
    return {"build": "_postcheck_builds", "file": "_files", "text": " "}[value.kind]


def _word(word: str) -> str:
    return re.sub(r"([^A-Za-z0-9_.,/+-])", r"\\\1", word)


_SCRIPT = r"""#compdef postcheck
# Completion of postcheck for zsh, written by `postcheck completion zsh`.

# Build files and folders, and no others.
_postcheck_builds() {
    _alternative 'builds:build file:_path_files -g "*.post.toml(-.)"' 'folders:folder:_path_files -/'
}

@FUNCTIONS@
# in a folder of fpath this file is the function itself; sourced, it says what it is for
if [[ $zsh_eval_context[-1] == loadautofunc ]]; then
    _postcheck "$@"
else
    compdef _postcheck postcheck
fi
"""
