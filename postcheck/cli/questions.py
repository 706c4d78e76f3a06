"""The questions of `postcheck ask` as a table, and the parser of each."""

from __future__ import annotations

import argparse
import re
from importlib import import_module
from typing import TYPE_CHECKING, Any, NamedTuple, NoReturn

from postcheck.cli.kinds import CELL, LAMP, WIRE
from postcheck.plain import quoted

if TYPE_CHECKING:
    from postcheck.report import Answer

EXIT_CODES = (
    "Exit code 0 when it is answered, also when the answer is no; 2 when the question cannot be read."
)


class Refused(Exception):  # noqa: N818 - it is shown, not raised to anybody
    """A question that cannot be answered; its text says why, on one line."""


class _Parser(argparse.ArgumentParser):
    """An argument parser that prints nothing and never exits; `options` are the long ones that it knows."""

    def __init__(self, **settings: Any) -> None:
        self.options: set[str] = set()
        super().__init__(**settings)

    def add_argument(self, *names: Any, **settings: Any) -> argparse.Action:
        self.options.update(name[2:] for name in names if name.startswith("--"))
        return super().add_argument(*names, **settings)

    def error(self, message: str) -> NoReturn:
        raise Refused(f"{quoted(message, 200)[1:-1]}; `{self.prog} --help` has an example")


class _Question(NamedTuple):
    """A question: what is asked, a worked example, and the arguments of the function that answers it.

    `counts`: its first words are one phrase that may begin with a count, as in 3 smd-0603-white. `spoken`: options that a
    quantity of their dimension is meant for, where there is one alone. `named`: the option that a word which is no
    quantity is meant for.
    """

    asks: str
    example: str
    arguments: tuple[tuple[str, dict[str, Any]], ...]
    counts: bool = False
    spoken: tuple[tuple[str, str], ...] = ()
    named: str | None = None

    def answer(self, name: str, options: argparse.Namespace) -> Answer:
        """The answer of the function of this name in `postcheck.ask`, imported only now: `--help` needs none of it."""
        values = {key: value for key, value in vars(options).items() if key not in ("format", "help")}
        if self.counts:
            values["what"] = " ".join(values["what"])
        answer: Answer = getattr(import_module("postcheck.ask"), name)(**values)
        return answer


def _count(text: str) -> int:
    if not re.fullmatch(r"[0-9]{1,6}", text):
        raise argparse.ArgumentTypeError(f"{quoted(text)} is no number of pieces")
    return int(text)


def _word(name: str, shown: str | None, help_: str, **settings: Any) -> tuple[str, dict[str, Any]]:
    """An argument, or an option by its dashes; `name` or `dest` is the parameter that it is to the function."""
    return name, {"metavar": shown, "help": help_, **settings}


QUESTIONS = {
    "bore": _Question(
        "does this bundle go through this bore",
        'bore "5 mm" "3 ptfe-28" "2 enamel-0.10" "1.2 mm"',
        (
            _word("across", "BORE", 'inside diameter, such as "5 mm"'),
            _word(
                "what", "WHAT", 'what goes through: "3 ptfe-28", "1.2 mm", "2 x 1.2 mm"', nargs="+", type=WIRE
            ),
            _word("--effort", None, "long tries far harder", choices=("quick", "long"), default="quick"),
        ),
    ),
    "resistor": _Question(
        "which resistor for this lamp on this supply",
        'resistor smd-0402-red --on "12 V"',
        (
            _word(
                "what",
                "LAMP",
                'such as smd-0402-red, "3 smd-0603-white", "smd-5050-rgb red" or "1.8 V at 20 mA"',
                nargs="+",
                type=LAMP,
            ),
            _word("--on", "VOLTS", 'the supply, such as "12 V"', required=True),
            _word("--series", "N", "so many in a string", type=_count, default=1),
            _word("--current", "CURRENT", "what it should get; four fifths of its rating if not said"),
            _word("--tolerance", "SHARE", "of the supply, each way; 5 %% if not said"),
            _word("--rated", "CURRENT", "rating of a lamp written as volts and current"),
            _word("--shelf", None, "the series you keep", choices=("E12", "E24", "E96"), default="E12"),
        ),
        counts=True,
        spoken=(("on", "VOLTAGE"), ("current", "CURRENT")),
    ),
    "drop": _Question(
        "how much is lost along this wire",
        'drop "260 mm" ptfe-28 --current "120 mA" --on "12 V"',
        (
            _word("length", "LENGTH", "of the way there; the way back is counted too"),
            _word("name", "WIRE", "such as ptfe-28", type=WIRE),
            _word("--current", "CURRENT", 'such as "120 mA"', required=True),
            _word("--on", "VOLTS", "the supply, to tell the share that is lost"),
        ),
        spoken=(("current", "CURRENT"), ("on", "VOLTAGE")),
    ),
    "turn": _Question(
        "how far may this post turn",
        'turn "160 mm" "5 ptfe-28" --cycles "10 /day for 10 years"',
        (
            _word("length", "LENGTH", "free length of the wires between their grips"),
            _word("what", "WHAT", 'what lies in the post: "3 ptfe-28"', nargs="+", type=WIRE),
            _word("--cycles", "TIMES", '"5000 times", or "10 /day for 10 years"', dest="often"),
            _word("--by", "ANGLE", 'whether it may turn so far each way, such as "90 deg"'),
            _word("--bore", "BORE", "of the post, to tell whether they go through as well"),
        ),
        spoken=(("by", "ANGLE"),),
    ),
    "fuse": _Question(
        "which fuse for this load",
        'fuse "340 mA" --wire ptfe-28',
        (
            _word("current", "CURRENT", "the most that flows for good"),
            _word("--wire", "WIRE", "the thinnest behind it, such as ptfe-28", type=WIRE, dest="name"),
            _word("--on", "VOLTS", "the supply; 12 V if not said"),
            _word("--length", "LENGTH", "of that wire each way; 300 mm if not said"),
            _word("--starting", "CURRENT", "what flows while a motor starts"),
        ),
        spoken=(("on", "VOLTAGE"), ("length", "LENGTH")),
        named="wire",
    ),
    "battery": _Question(
        "how long does this battery last",
        'battery "4 alkaline-aa" --current "45 mA"',
        (
            _word("what", "CELLS", 'such as "4 alkaline-aa", cr2032 or lipo', nargs="+", type=CELL),
            _word("--cells", "N", "in series", type=_count),
            _word("--current", "CURRENT", "average current", required=True),
            _word("--capacity", "CHARGE", 'of one cell, such as "1000 mAh"'),
            _word("--lasting", "TIME", 'whether it lasts so long, such as "8 h"'),
            _word("--lowest", "VOLTS", "the least that the load works at"),
            _word("--cut-off", "VOLTS", "at which the battery counts as empty"),
        ),
        counts=True,
        spoken=(("current", "CURRENT"), ("capacity", "CHARGE"), ("lasting", "TIME")),
    ),
}


def question_parser(name: str) -> _Parser:
    """The parser of one question."""
    question = QUESTIONS[name]
    parser = _Parser(
        prog=f"postcheck ask {name}",
        description=f"{question.asks[0].upper()}{question.asks[1:]}?",
        epilog=f"Example: postcheck ask {question.example}. {EXIT_CODES}",
        add_help=False,
    )
    for argument, settings in question.arguments:
        parser.add_argument(argument, **settings)
    parser.add_argument(
        "--format", choices=("text", "json"), default="text", help="what to write (default: text)"
    )
    parser.add_argument("-h", "--help", action="store_true", help="show this")
    return parser


def question_parsers() -> dict[str, argparse.ArgumentParser]:
    """The parser of each question."""
    return {name: question_parser(name) for name in QUESTIONS}
