"""The pages of `--help`: what a command is for, how it is typed, what can be added, and how it ends.

Words stand beside the command, in its `add`; options, their choices and what counts without them are taken from the parser.
"""

from __future__ import annotations

import argparse
import shutil
import sys
import textwrap
from collections.abc import Iterable, Iterator, Sequence

from postcheck.cli.commands import GROUPS
from postcheck.cli.parser import Commands, Parser, either

__all__ = ["first_page", "page", "sections"]

_WIDEST, _NARROWEST = 80, 24
_LONGEST = 22  # of the words in the left column; longer ones have a line of their own
_EXITS = {0: "done", 2: "what was typed, or a file, cannot be used"}

_TYPED = (
    ("check airship.post.toml", "judges a build, and says what to change while it still can be"),
    ("help check", "shows all that can be typed behind a command; so does check --help"),
)
_ENDS = {
    0: "done, and nothing found that fails",
    1: "something was found",
    2: "what was typed, or a file, cannot be used",
    70: "a bug of ours, and said so",
    130: "stopped with Ctrl-C",
}
_CAUTIONS = (
    "Mains adaptors, lithium cells, heat in closed bodies and flashing light can hurt people. postcheck judges "
    "low-voltage wiring only; local rules and licensed people have the last word."
)

Rows = Sequence[tuple[str, str]]


def page(parser: Parser) -> str:
    """The page of a command."""
    options = sorted(
        (action for action in parser._actions if action.option_strings), key=lambda one: one.dest == "help"
    )
    words = [action for action in parser._actions if not action.option_strings]
    exits = {**_EXITS, **parser.exits}
    return sections(
        parser.prog,
        [_sentence(parser.says), *([parser.description] if parser.description else [])],
        _examples(parser.examples),
        ("What it is given", [(_word(action), said(action)) for action in words]),
        ("What can be added", [(_option(action), said(action)) for action in options]),
        ("How it ends", [(str(code), exits[code]) for code in sorted(exits)]),
    )


def first_page(commands: Commands) -> str:
    """All commands, by when they are needed."""
    rows = {name: parser.says for name, parser in commands.parsers.items()}
    return sections(
        "postcheck",
        ["Checks the lighting of a display model before it is glued shut."],
        _examples(_TYPED),
        *((title, [(name, rows[name]) for name in group]) for title, group in GROUPS.items()),
        ("Without a command", [("--help, -h", "this page"), ("--version", "which version this is")]),
        ("How it ends", [(str(code), words) for code, words in _ENDS.items()]),
        closing=_CAUTIONS,
    )


def sections(title: str, begins: Iterable[str], *parts: tuple[str, Rows], closing: str = "") -> str:
    """A page of titled rows, no wider than the terminal or 80 columns."""
    width = _width()
    lines = [title]
    for words in begins:
        lines += ["", *_folded(words, width)]
    for heading, rows in parts:
        if rows:
            lines += ["", heading, *_rows(rows, width)]
    if closing:
        lines += ["", *_folded(closing, width)]
    return "\n".join(lines) + "\n"


def said(action: argparse.Action) -> str:
    """What is said of an argument, its choices, and what counts without it."""
    parts = ((action.help or "") % vars(action)).split("; ")
    if action.choices is not None:
        parts[0] += f": {either(action.choices)}"
    if action.nargs in ("+", "*"):
        parts.append("several will do")
    if action.nargs == "?" and not action.option_strings and action.default is None:
        parts.append("may be left out")
    if action.option_strings and action.required:
        parts.append("always needed")
    if isinstance(action, argparse._AppendAction):
        parts.append("may be repeated")
    if action.default not in (None, False, argparse.SUPPRESS) and action.default != []:
        parts.append(f"{action.default:g}" if isinstance(action.default, float) else str(action.default))
        parts[-1] += " without it"
    return "; ".join(parts)


def _word(action: argparse.Action) -> str:
    return action.metavar if isinstance(action.metavar, str) else action.dest.upper()


def _option(action: argparse.Action) -> str:
    names = ", ".join(sorted(action.option_strings, key=len, reverse=True))
    if action.nargs == 0:
        return names
    return f"{names} {action.metavar if isinstance(action.metavar, str) else 'WORD'}"


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}{'' if words.endswith('?') else '.'}"


def _examples(examples: Rows) -> tuple[str, Rows]:
    return "Typed like this", [(f"postcheck {line}", words) for line, words in examples]


def _width() -> int:
    columns = (
        shutil.get_terminal_size().columns if sys.stdout is not None and sys.stdout.isatty() else _WIDEST
    )
    return max(_NARROWEST, min(columns, _WIDEST))


def _folded(words: str, width: int) -> list[str]:
    return textwrap.wrap(words, width, break_long_words=False, break_on_hyphens=False) or [""]


def _rows(rows: Rows, width: int) -> Iterator[str]:
    most = max(len(left) for left, _ in rows)
    column = min(most, _LONGEST) + 4
    if width - column < 24 or rows[0][0].startswith("postcheck "):  # a command line has a line of its own
        column = 6
    for left, right in rows:
        lines = _folded(right, width - column)
        if len(left) + 4 <= column:
            yield f"  {left}".ljust(column) + lines.pop(0)
        else:
            yield f"  {left}"
        yield from (" " * column + line for line in lines)
