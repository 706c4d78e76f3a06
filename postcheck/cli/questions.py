"""The questions of `postcheck ask` as a table, and the parser of each."""

from __future__ import annotations

import argparse
import re
from importlib import import_module
from typing import TYPE_CHECKING, Any, NamedTuple

from postcheck.cli.kinds import CELL, LAMP, WIRE
from postcheck.cli.options import text_or_json
from postcheck.cli.parser import Parser
from postcheck.plain import quoted

if TYPE_CHECKING:
    from postcheck.answered import Answer

EXITS = {0: "answered, also where the answer is no", 2: "the question cannot be read"}


class _Question(NamedTuple):
    """A question: what is asked, worked examples with what each tells, and the arguments of the function that answers it.

    `counts`: its first words are one phrase that may begin with a count, as in 3 smd-0603-white. `spoken`: options that a
    quantity of their dimension is meant for, where there is one alone. `named`: the option that a word which is no
    quantity is meant for.
    """

    asks: str
    examples: tuple[tuple[str, str], ...]
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
        (
            ('bore "5 mm" "3 ptfe-28" "2 enamel-0.10" "1.2 mm"', "whether these lie in 5 mm"),
            ("bore 4 mm 7 ptfe-28 --effort long", "looks harder for a way to pack them"),
        ),
        (
            _word("across", "BORE", 'inside diameter, such as "5 mm"'),
            _word(
                "what", "WHAT", 'what goes through: "3 ptfe-28", "1.2 mm", "2 x 1.2 mm"', nargs="+", type=WIRE
            ),
            _word("--effort", None, "how hard to look for a way", choices=("quick", "long"), default="quick"),
        ),
    ),
    "resistor": _Question(
        "which resistor for this lamp on this supply",
        (
            ('resistor smd-0402-red --on "12 V"', "the resistor for one lamp"),
            ("resistor 3 smd-0603-white --on 12 V", "the one for three in series"),
        ),
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
            _word("--current", "CURRENT", "what it should get; four fifths of its rating without it"),
            _word("--tolerance", "SHARE", "of the supply, each way; 5 %% without it"),
            _word("--rated", "CURRENT", "rating of a lamp written as volts and current"),
            _word("--shelf", None, "the series you keep", choices=("E12", "E24", "E96"), default="E12"),
        ),
        counts=True,
        spoken=(("on", "VOLTAGE"), ("current", "CURRENT")),
    ),
    "drop": _Question(
        "how much is lost along this wire",
        (
            ('drop "260 mm" ptfe-28 --current "120 mA" --on "12 V"', "what is lost there and back"),
            ("drop 260 mm ptfe-28 120 mA", "the same in volts alone"),
        ),
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
        (
            ('turn "160 mm" "5 ptfe-28" --cycles "10 /day for 10 years"', "how far, so often"),
            ("turn 160 mm 5 ptfe-28 --by 90 deg", "whether a quarter each way is too far"),
        ),
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
        (
            ('fuse "340 mA" --wire ptfe-28', "the fuse for 340 mA through that wire"),
            ("fuse 2 A --wire ptfe-24 --starting 3 A", "the one that a motor does not blow"),
        ),
        (
            _word("current", "CURRENT", "the most that flows for good"),
            _word("--wire", "WIRE", "the thinnest behind it, such as ptfe-28", type=WIRE, dest="name"),
            _word("--on", "VOLTS", "the supply; 12 V without it"),
            _word("--length", "LENGTH", "of that wire each way; 300 mm without it"),
            _word("--starting", "CURRENT", "what flows while a motor starts"),
        ),
        spoken=(("on", "VOLTAGE"), ("length", "LENGTH")),
        named="wire",
    ),
    "battery": _Question(
        "how long does this battery last",
        (
            ('battery "4 alkaline-aa" --current "45 mA"', "how many hours"),
            ("battery cr2032 --current 2 mA --lasting 8 h", "whether it lasts an evening"),
        ),
        (
            _word("what", "CELLS", 'such as "4 alkaline-aa", cr2032 or lipo', nargs="+", type=CELL),
            _word("--cells", "N", "in series", type=_count),
            _word("--current", "CURRENT", "average current", required=True),
            _word("--capacity", "CHARGE", 'of one cell, such as "1000 mAh"'),
            _word("--lasting", "TIME", 'whether it lasts so long, such as "8 h"'),
            _word("--lowest", "VOLTS", "the least that the load works at"),
            _word("--cut-off", "VOLTS", "at which the battery counts as empty"),
            _word("--rated", "CURRENT", "what its cells may give for good, by their label or sheet"),
        ),
        counts=True,
        spoken=(("current", "CURRENT"), ("capacity", "CHARGE"), ("lasting", "TIME")),
    ),
}


def question_parser(name: str) -> Parser:
    """The parser of one question."""
    question = QUESTIONS[name]
    parser = Parser(
        prog=f"postcheck ask {name}",
        says=f"{question.asks}?",
        description="Quotes may be left out where a number and its unit follow each other.",
        examples=[(f"ask {example}", words) for example, words in question.examples],
        exits=EXITS,
    )
    for argument, settings in question.arguments:
        parser.add_argument(argument, **settings)
    text_or_json(parser)
    return parser


def question_parsers() -> dict[str, Parser]:
    """The parser of each question."""
    return {name: question_parser(name) for name in QUESTIONS}
