"""The command line as data, read off its argparse parser: what can be typed where.

argparse has no public way to ask a parser for its arguments; `_actions` has been the same since Python 2.7, and a test
holds what is read here against what `--help` prints.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import Literal, NamedTuple

from postcheck.cli import kinds
from postcheck.cli.pages import said
from postcheck.cli.parser import Commands, Parser


class Value(NamedTuple):
    """A word to be typed: what it is called, what it may be, and the words themselves where they are known."""

    name: str
    kind: Literal["words", "build", "file", "text"]
    words: tuple[str, ...] = ()
    says: str = ""
    many: bool = False
    needed: bool = True


class Option(NamedTuple):
    """An option by all its names, with the value that it takes."""

    names: tuple[str, ...]
    says: str
    value: Value | None = None
    repeats: bool = False


class Command(NamedTuple):
    """A command, the program itself or a question: its options, and what else follows, commands or values in order."""

    path: tuple[str, ...]
    says: str
    options: tuple[Option, ...]
    values: tuple[Value, ...] = ()
    commands: tuple[Command, ...] = ()

    @property
    def name(self) -> str:
        """The last word of its path."""
        return self.path[-1]

    def every(self) -> Iterator[Command]:
        """Itself and all commands below it."""
        yield self
        for command in self.commands:
            yield from command.every()


def command_line(commands: Commands) -> Command:
    """The whole command line, with the questions of `ask`, which has parsers of its own."""
    options = (Option(("-h", "--help"), "what there is"), Option(("--version",), "which version this is"))
    every = (_command(parser, (name,)) for name, parser in commands.parsers.items())
    return Command((), "", options, (), tuple(_asking(one) if one.name == "ask" else one for one in every))


def _command(parser: Parser, path: tuple[str, ...]) -> Command:
    options, values = [], []
    for action in parser._actions:
        if action.option_strings:
            options.append(_option(action))
        else:
            values.append(_value(action, said(action)))
    return Command(path, parser.says, tuple(options), tuple(values))


def _asking(command: Command) -> Command:
    """The questions as commands. Where quotes may be left out, one quantity can be two words: the last value repeats."""
    from postcheck.cli.questions import question_parsers  # noqa: PLC0415

    questions = []
    for name, parser in question_parsers().items():
        question = _command(parser, (*command.path, name))
        last = question.values[-1]._replace(many=True)
        questions.append(question._replace(values=(*question.values[:-1], last)))
    help_too = Option(("-h", "--help"), "show what can be asked")
    return command._replace(options=(help_too,), values=(), commands=tuple(questions))


def _option(action: argparse.Action) -> Option:
    says = said(action)
    value = None if action.nargs == 0 else _value(action, says)
    return Option(tuple(action.option_strings), says, value, isinstance(action, argparse._AppendAction))


def _value(action: argparse.Action, says: str) -> Value:
    name = action.metavar if isinstance(action.metavar, str) and action.choices is None else action.dest
    many, needed = action.nargs in ("*", "+"), action.nargs not in ("?", "*")
    if action.choices is not None:
        return Value(name, "words", tuple(map(str, action.choices)), says, many, needed)
    if action.type is kinds.BUILD:
        return Value(name, "build", (), says, many, needed)
    if action.type is kinds.FILE:
        return Value(name, "file", (), says, many, needed)
    words = _names(action.type) if isinstance(action.type, kinds.Kind) else ()
    return Value(name, "words" if words else "text", words, says, many, needed)


def _names(kind: kinds.Kind) -> tuple[str, ...]:
    from postcheck import catalogue  # noqa: PLC0415 - asked only when a script is made
    from postcheck.checks.table import CHECKS  # noqa: PLC0415
    from postcheck.description.problems import FILE_CHECKS  # noqa: PLC0415

    if kind is kinds.TOPIC:
        from postcheck.guidebook.book import topics  # noqa: PLC0415

        return topics()
    if kind is kinds.CHECK:
        return (*(check.name for check in CHECKS), *FILE_CHECKS)
    if kind is kinds.ROW:
        return tuple(dict.fromkeys(name for family in catalogue.KINDS for name in catalogue.names(family)))
    return catalogue.names({kinds.WIRE: "wire", kinds.LAMP: "lamp", kinds.CELL: "battery"}[kind])
