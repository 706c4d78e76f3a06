"""The script for bash: tables of words as `case`s, and one function that finds its place in the line.

Bash hands over the words as they were typed, quotes and all, and parts them at `=` and `:` too.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from postcheck.cli.completion.words import Command, Value


def script(root: Command) -> str:
    """The script for the whole command line."""
    commands = list(root.every())
    return (
        _SCRIPT.replace("@COMMANDS@", _cases(_commands(commands)))
        .replace("@TAKERS@", _takers(commands))
        .replace("@VALUES@", _cases(_values(commands)))
        .replace("@OPTIONS@", _cases(_options(commands)))
        .replace("@PLACES@", _cases(_places(commands)))
    )


def quoted(word: str) -> str:
    """A word in single quotes, in which nothing means anything to a POSIX shell."""
    return "'" + word.replace("'", "'\\''") + "'"


def _array(words: Iterable[str]) -> str:
    return f"words=({' '.join(map(quoted, words))})"


def _key(command: Command, *more: str) -> str:
    return quoted(" ".join((*command.path, *more)))


def _cases(rows: Iterable[tuple[str, str]]) -> str:
    return "\n".join(f"        {key}) {does} ;;" for key, does in rows)


def _commands(commands: Iterable[Command]) -> Iterator[tuple[str, str]]:
    for command in commands:
        if command.commands:
            yield _key(command), _array(each.name for each in command.commands)


def _takers(commands: Iterable[Command]) -> str:
    keys = [
        _key(command, name)
        for command in commands
        for option in command.options
        if option.value is not None
        for name in option.names
    ]
    return " | \\\n            ".join(keys)


def _values(commands: Iterable[Command]) -> Iterator[tuple[str, str]]:
    for command in commands:
        for option in command.options:
            if option.value is not None and (does := _offer(option.value)):
                yield " | ".join(_key(command, name) for name in option.names), does


def _options(commands: Iterable[Command]) -> Iterator[tuple[str, str]]:
    for command in commands:
        yield _key(command), _array(name for option in command.options for name in option.names)


def _places(commands: Iterable[Command]) -> Iterator[tuple[str, str]]:
    """What may stand at each place of a command, counted from 0; `+` after the number of the last for all that follow."""
    for command in commands:
        for number, value in enumerate(command.values):
            key = _key(command, str(number))
            yield (f"{key} | {_key(command, '+')}" if value.many else key), _offer(value) or ":"


def _offer(value: Value) -> str:
    if value.kind == "words":
        return _array(value.words)
    return "" if value.kind == "text" else f"kind={value.kind}"


_SCRIPT = r"""# Completion of postcheck for bash 4 and later, written by `postcheck completion bash`.

# Each of these sets `words`, or `kind` to build or file, for a place in the command line.
_postcheck_commands() {
    case $1 in
@COMMANDS@
    esac
}

_postcheck_takes_value() {
    case $1 in
        @TAKERS@) return 0 ;;
    esac
    return 1
}

_postcheck_value() {
    case $1 in
@VALUES@
    esac
}

_postcheck_options() {
    case $1 in
@OPTIONS@
    esac
}

_postcheck_place() {
    case $1 in
@PLACES@
        *) return 1 ;;
    esac
}

# A word as it was typed, to what it means: sets `plain`.
_postcheck_unquote() {
    local typed=$1 quote= at sign next
    plain=
    for ((at = 0; at < ${#typed}; at++)); do
        sign=${typed:at:1}
        if [[ $quote == "'" ]]; then
            if [[ $sign == "'" ]]; then quote=; else plain+=$sign; fi
        elif [[ $sign == "\\" ]]; then
            at=$((at + 1))
            next=${typed:at:1}
            # between double quotes a backslash is one, but before these
            if [[ $quote == '"' && $next != ['$`"\'] ]]; then plain+="\\"; fi
            plain+=$next
        elif [[ -n $quote && $sign == "$quote" ]]; then
            quote=
        elif [[ -z $quote && ($sign == "'" || $sign == '"') ]]; then
            quote=$sign
        else
            plain+=$sign
        fi
    done
}

# Files that begin with `plain`; builds and folders alone where the kind is build.
_postcheck_files() {
    local stem=$plain name
    if [[ $typed == "~/"* ]]; then stem=$HOME/${plain:2}; fi
    compopt -o filenames 2>/dev/null
    while IFS= read -r -d '' name; do
        [[ -n $name ]] || continue
        if [[ $1 == file || -d $name || $name == *.post.toml ]]; then
            if [[ $stem != "$plain" ]]; then name="~/${name:${#HOME} + 1}"; fi
            COMPREPLY+=("$name")
        fi
    done < <(set +f; shopt -u failglob; shopt -s nullglob; printf '%s\0' "$stem"*)
}

_postcheck() {
    local typed=${COMP_WORDS[COMP_CWORD]} path= option= ended= kind= plain= place=0 at word
    local -a words=() parts=()
    COMPREPLY=()
    for ((at = 1; at < COMP_CWORD; at++)); do
        word=${COMP_WORDS[at]}
        words=()
        if [[ -n $option ]]; then
            if [[ $word != "=" ]]; then option=; fi
        elif [[ -z $ended && $word == -- ]]; then
            ended=yes
        elif [[ -z $ended && $word == -* ]]; then
            if _postcheck_takes_value "${path:+$path }$word"; then option=$word; fi
        else
            _postcheck_commands "$path"
            if [[ ${#words[@]} -gt 0 ]]; then
                path=${path:+$path }$word
            else
                place=$((place + 1))
            fi
        fi
    done
    if [[ -n $option && $typed == "=" ]]; then typed=; fi
    _postcheck_unquote "$typed"
    words=()
    if [[ -n $option ]]; then
        _postcheck_value "${path:+$path }$option"
    elif [[ -z $ended && $typed == -* ]]; then
        _postcheck_options "$path"
    else
        _postcheck_commands "$path"
        if [[ ${#words[@]} -eq 0 ]]; then
            _postcheck_place "${path:+$path }$place" || _postcheck_place "${path:+$path }+"
        fi
    fi
    if [[ -n $kind ]]; then
        _postcheck_files "$kind"
        return
    fi
    for word in "${words[@]}"; do
        if [[ $word == "$plain"* ]]; then
            # with a quote open the shell closes it itself
            if [[ $typed != [\'\"]* ]]; then printf -v word %q "$word"; fi
            COMPREPLY+=("$word")
        fi
    done
}

complete -F _postcheck postcheck
"""
