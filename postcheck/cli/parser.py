"""How the words of a command are read: options anywhere, never abbreviated, and complaints of our own.

argparse does the reading. What it would print is raised instead: `Refused` for a complaint, `Shown` for a page.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, NoReturn

from postcheck.plain import harmless, nearest, quoted

__all__ = ["Commands", "Parser", "Refused", "Shown", "either"]


class Refused(Exception):  # noqa: N818 - it is shown, not raised to anybody
    """What was typed cannot be done; its text says why, on one line."""


class Shown(Exception):  # noqa: N818 - no error
    """A page that was asked for; its text is the page."""


class _Help(argparse.Action):
    def __call__(self, parser: argparse.ArgumentParser, *_: Any) -> NoReturn:
        raise Shown(parser.format_help())


class Parser(argparse.ArgumentParser):
    """The parser of a command, with what its page says besides the options.

    `says` is what the command is for, in a line that goes on from its name; `examples` are command lines without
    "postcheck", each with what it does; `exits` are exit codes with what they mean.
    """

    def __init__(
        self, *, says: str = "", examples: Sequence[tuple[str, str]] = (), exits: Mapping[int, str] | None = None,
        add_help: bool = True, **settings: Any,
    ) -> None:  # fmt: skip
        self.says: str = says
        self.examples: Sequence[tuple[str, str]] = examples
        self.exits: Mapping[int, str] = exits or {}
        super().__init__(**settings, add_help=False, allow_abbrev=False, exit_on_error=False)
        if add_help:
            self.add_argument(
                "-h", "--help", action=_Help, nargs=0, default=argparse.SUPPRESS, help="this page"
            )

    @property
    def name(self) -> str:
        """The command as it is typed, without the program."""
        return self.prog.partition(" ")[2] or self.prog

    @property
    def long_options(self) -> set[str]:
        """Its options without their dashes, those of one letter left out."""
        return {option[2:] for option in self._option_string_actions if option.startswith("--")}

    def format_help(self) -> str:
        """The page of the command."""
        from postcheck.cli.pages import page  # noqa: PLC0415 - no run needs it

        return page(self)

    def parse_args(self, args: Any = None, namespace: Any = None) -> Any:
        """What was typed, as argparse has it. Raises Refused, or Shown where a page is asked for."""
        words = self._ordered(list(args)) if self.prefix_chars == "-" else args
        try:
            parsed, left = self.parse_known_args(words, namespace)
        except argparse.ArgumentError as error:
            raise Refused(self._words(error)) from None
        if left:
            raise Refused(f"what is {quoted(left[0])} for? {self.name} needs no further word; {self._hint}")
        if self._files(parsed).count("-") > 1:
            raise Refused(f"{self.name}: - is standard input, which can be read only once")
        return parsed

    def _files(self, parsed: argparse.Namespace) -> list[str]:
        """The words that are no option's."""
        given = [getattr(parsed, action.dest) for action in self._actions if not action.option_strings]
        return [word for one in given for word in (one if isinstance(one, list) else [one])]

    def error(self, message: str) -> NoReturn:
        """Complain of what argparse has no ArgumentError for."""
        raise Refused(self._words(argparse.ArgumentError(None, message)))

    @property
    def _hint(self) -> str:
        return f"`{self.prog} --help` shows how it is typed"

    def _ordered(self, words: list[str]) -> list[str]:
        """The options first, so that they can stand anywhere. Raises Refused for one that there is not, or that lacks its value."""
        options: list[str] = []
        others: list[str] = []
        while words:
            word = words.pop(0)
            if word == "--":
                return [*options, *others, word, *words]
            if not self._is_option(word):
                others.append(word)
                continue
            action = self._option(word)
            options.append(word)
            whole = word in action.option_strings
            if action.nargs == 0:
                if not whole and word.startswith("--"):
                    raise Refused(f"{self.name}: {word.partition('=')[0]} takes no value")
            elif whole:
                if not words or words[0] == "--" or self._is_option(words[0]):
                    raise Refused(
                        f"{self.name}: {word} needs a word behind it{_one_of(action)}; {self._hint}"
                    )
                options.append(words.pop(0))
        return [*options, *others]

    def _is_option(self, word: str) -> bool:
        return (
            len(word) > 1
            and word.startswith("-")
            and " " not in word
            and not self._negative_number_matcher.match(word)
        )

    def _option(self, word: str) -> argparse.Action:
        known = self._option_string_actions
        name = word.partition("=")[0] if word.startswith("--") else word[:2]
        action = known.get(name)
        if action is not None:
            return action
        long = [option for option in known if option.startswith("--")]
        begun = [option for option in long if len(name) > 2 and option.startswith(name)]
        near = begun[0] if len(begun) == 1 else nearest(name, long)
        hint = f"did you mean {near}?" if near else f"`{self.prog} --help` lists those that there are"
        raise Refused(f"{self.name} has no option {quoted(word if near is None else name)}; {hint}")

    def _check_value(self, action: argparse.Action, value: Any) -> None:
        if action.choices is None or value in action.choices:
            return
        near = nearest(str(value), map(str, action.choices), 0.7)  # csh is not meant to be zsh
        hint = f"did you mean {quoted(near)}?" if near else f"there is {either(action.choices)}"
        option = f"{action.option_strings[-1]} " if action.option_strings else ""
        raise Refused(f"{self.name} knows no {option}{quoted(str(value))}; {hint}")

    def _words(self, error: argparse.ArgumentError) -> str:
        """What argparse complains of, in our words."""
        message = harmless(error.message, 300)
        if message.startswith(_MISSING):
            return f"{self.name} needs {' and '.join(self._missing(message.removeprefix(_MISSING)))}; {self._hint}"
        about = f"{(error.argument_name or '').rpartition('/')[2]}"
        if message.startswith(_CLASH):
            return f"{self.name}: {about} and {message.removeprefix(_CLASH).rpartition('/')[2]} do not go together"
        return f"{self.name}: {about}: {message}" if about else f"{self.name}: {message}"

    def _missing(self, names: str) -> Iterable[str]:
        for name in names.split(", "):
            option = self._option_string_actions.get(name.rpartition("/")[2])
            yield name if option is None else f"{option.option_strings[-1]} {option.metavar}"


_MISSING, _CLASH = "the following arguments are required: ", "not allowed with argument "


def _one_of(action: argparse.Action) -> str:
    return f": {either(action.choices)}" if action.choices is not None else ""


def either(words: Iterable[Any]) -> str:
    """a, b or c."""
    *most, last = map(str, words)
    return f"{', '.join(most)} or {last}" if most else last


class Commands:
    """The parsers of commands by name, as their modules add them."""

    def __init__(self) -> None:
        self.parsers: dict[str, Parser] = {}

    def add_parser(self, name: str, *, help: str, **settings: Any) -> Parser:  # noqa: A002 - as argparse has it
        """A new command; `help` is what it is for, `settings` are those of Parser."""
        parser = self.parsers[name] = Parser(prog=f"postcheck {name}", says=help, **settings)
        return parser
