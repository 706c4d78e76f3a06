"""`postcheck ask`: its words, with quotes or without, to a question of `postcheck.ask`, and the answer as text."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable, Collection, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple, NoReturn

from postcheck import __version__
from postcheck.cli.kinds import CELL, LAMP, WIRE
from postcheck.cli.talk import CLEAR, UNUSABLE, complain
from postcheck.plain import nearest, quoted

if TYPE_CHECKING:
    from postcheck.cli.talk import Commands
    from postcheck.report import Answer

__all__ = ["Refused", "add", "answered", "overview", "question_parsers"]


def add(commands: Commands) -> None:
    """The command's word; what follows it is read here: with this prefix none of it is an option of the whole."""
    ask = commands.add_parser("ask", help="answer a question of the bench", prefix_chars="\0", add_help=False)
    ask.add_argument("words", nargs="*")
    ask.set_defaults(do=_ask)


def _ask(options: argparse.Namespace) -> tuple[int, str]:
    try:
        return CLEAR, answered(options.words, __version__)
    except Refused as refused:
        complain(str(refused))
        return UNUSABLE, ""


_SAID = "Exit code 0 when it is answered, also when the answer is no; 2 when the question cannot be read."


class Refused(Exception):  # noqa: N818 - it is told, not raised to anybody
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
        raise Refused(f"{_short(message)}; `{self.prog} --help` has an example")


def _short(message: str) -> str:
    return quoted(message, 200)[1:-1]


class _Question(NamedTuple):
    """A question: what is asked, a worked example, its arguments, and the way to the answer.

    `counts`: its first word may be a count, as in 3 smd-0603-white. `spoken`: options that a quantity of their
    dimension is meant for, where there is one alone. `named`: the option that a word which is no quantity is meant for.
    """

    asks: str
    example: str
    arguments: Callable[[_Parser], None]
    answer: Callable[[argparse.Namespace], Answer]
    counts: bool = False
    spoken: tuple[tuple[str, str], ...] = ()
    named: str | None = None


# -- the questions. What answers them is imported when it is asked: `--help` needs none of it.


def _bore_arguments(parser: _Parser) -> None:
    parser.add_argument("bore", metavar="BORE", help='inside diameter, such as "5 mm"')
    parser.add_argument(
        "what",
        nargs="+",
        type=WIRE,
        metavar="WHAT",
        help='what goes through: "3 ptfe-28", "1.2 mm", "2 x 1.2 mm"',
    )
    parser.add_argument("--effort", choices=("quick", "long"), default="quick", help="long tries far harder")


def _bore(options: argparse.Namespace) -> Answer:
    from postcheck.ask.bore import bore  # noqa: PLC0415

    return bore(options.bore, options.what, options.effort)


def _resistor_arguments(parser: _Parser) -> None:
    parser.add_argument(
        "lamp",
        nargs="+",
        type=LAMP,
        metavar="LAMP",
        help='such as smd-0402-red, "3 smd-0603-white", "smd-5050-rgb red" or "1.8 V at 20 mA"',
    )
    parser.add_argument("--on", required=True, metavar="VOLTS", help='the supply, such as "12 V"')
    parser.add_argument("--series", type=_count, default=1, metavar="N", help="so many in a string")
    parser.add_argument(
        "--current", metavar="CURRENT", help="what it should get; four fifths of its rating if not said"
    )
    parser.add_argument("--tolerance", metavar="SHARE", help="of the supply, each way; 5 %% if not said")
    parser.add_argument("--rated", metavar="CURRENT", help="rating of a lamp written as volts and current")
    parser.add_argument("--shelf", choices=("E12", "E24", "E96"), default="E12", help="the series you keep")


def _resistor(options: argparse.Namespace) -> Answer:
    from postcheck.ask.resistor import resistor  # noqa: PLC0415

    return resistor(
        " ".join(options.lamp), options.on, series=options.series, current=options.current, tolerance=options.tolerance,
        rated=options.rated, shelf=options.shelf,
    )  # fmt: skip


def _drop_arguments(parser: _Parser) -> None:
    parser.add_argument("length", metavar="LENGTH", help="of the way there; the way back is counted too")
    parser.add_argument("wire", type=WIRE, metavar="WIRE", help="such as ptfe-28")
    parser.add_argument("--current", required=True, metavar="CURRENT", help='such as "120 mA"')
    parser.add_argument("--on", metavar="VOLTS", help="the supply, to tell the share that is lost")


def _drop(options: argparse.Namespace) -> Answer:
    from postcheck.ask.drop import drop  # noqa: PLC0415

    return drop(options.length, options.wire, options.current, options.on)


def _turn_arguments(parser: _Parser) -> None:
    parser.add_argument("length", metavar="LENGTH", help="free length of the wires between their grips")
    parser.add_argument(
        "what", nargs="+", type=WIRE, metavar="WHAT", help='what lies in the post: "3 ptfe-28"'
    )
    parser.add_argument("--cycles", metavar="TIMES", help='"5000 times", or "10 /day for 10 years"')
    parser.add_argument("--by", metavar="ANGLE", help='whether it may turn so far each way, such as "90 deg"')
    parser.add_argument("--bore", metavar="BORE", help="of the post, to tell whether they go through as well")


def _turn(options: argparse.Namespace) -> Answer:
    from postcheck.ask.turn import turn  # noqa: PLC0415

    return turn(options.length, options.what, options.cycles, options.bore, options.by)


def _fuse_arguments(parser: _Parser) -> None:
    parser.add_argument("current", metavar="CURRENT", help="the most that flows for good")
    parser.add_argument("--wire", type=WIRE, metavar="WIRE", help="the thinnest behind it, such as ptfe-28")
    parser.add_argument("--on", metavar="VOLTS", help="the supply; 12 V if not said")
    parser.add_argument("--length", metavar="LENGTH", help="of that wire each way; 300 mm if not said")
    parser.add_argument("--starting", metavar="CURRENT", help="what flows while a motor starts")


def _fuse(options: argparse.Namespace) -> Answer:
    from postcheck.ask.fuse import fuse  # noqa: PLC0415

    return fuse(options.current, options.wire, options.on, options.length, options.starting)


def _battery_arguments(parser: _Parser) -> None:
    parser.add_argument(
        "kind", nargs="+", type=CELL, metavar="CELLS", help='such as "4 alkaline-aa", cr2032 or lipo'
    )
    parser.add_argument("--cells", type=_count, metavar="N", help="in series")
    parser.add_argument("--current", required=True, metavar="CURRENT", help="average current")
    parser.add_argument("--capacity", metavar="CHARGE", help='of one cell, such as "1000 mAh"')
    parser.add_argument("--lasting", metavar="TIME", help='whether it lasts so long, such as "8 h"')
    parser.add_argument("--lowest", metavar="VOLTS", help="the least that the load works at")
    parser.add_argument("--cut-off", metavar="VOLTS", help="at which the battery counts as empty")


def _battery(options: argparse.Namespace) -> Answer:
    from postcheck.ask.battery import battery  # noqa: PLC0415

    return battery(
        " ".join(options.kind), options.current, cells=options.cells, capacity=options.capacity, lasting=options.lasting,
        lowest=options.lowest, cut_off=options.cut_off,
    )  # fmt: skip


_QUESTIONS = {
    "bore": _Question(
        "does this bundle go through this bore",
        'bore "5 mm" "3 ptfe-28" "2 enamel-0.10" "1.2 mm"',
        _bore_arguments,
        _bore,
    ),
    "resistor": _Question(
        "which resistor for this lamp on this supply",
        'resistor smd-0402-red --on "12 V"',
        _resistor_arguments,
        _resistor,
        counts=True,
        spoken=(("on", "VOLTAGE"), ("current", "CURRENT")),
    ),
    "drop": _Question(
        "how much is lost along this wire",
        'drop "260 mm" ptfe-28 --current "120 mA" --on "12 V"',
        _drop_arguments,
        _drop,
        spoken=(("current", "CURRENT"), ("on", "VOLTAGE")),
    ),
    "turn": _Question(
        "how far may this post turn",
        'turn "160 mm" "5 ptfe-28" --cycles "10 /day for 10 years"',
        _turn_arguments,
        _turn,
        spoken=(("by", "ANGLE"),),
    ),
    "fuse": _Question(
        "which fuse for this load",
        'fuse "340 mA" --wire ptfe-28',
        _fuse_arguments,
        _fuse,
        spoken=(("on", "VOLTAGE"), ("length", "LENGTH")),
        named="wire",
    ),
    "battery": _Question(
        "how long does this battery last",
        'battery "4 alkaline-aa" --current "45 mA"',
        _battery_arguments,
        _battery,
        counts=True,
        spoken=(("current", "CURRENT"), ("capacity", "CHARGE"), ("lasting", "TIME")),
    ),
}


def question_parsers() -> dict[str, argparse.ArgumentParser]:
    """The parser of each question."""
    return {name: _parser(name, question) for name, question in _QUESTIONS.items()}


def overview() -> str:
    """What can be asked, with an example of each."""
    rows = [f"  {name:<9} {question.asks}" for name, question in _QUESTIONS.items()]
    examples = [f"  postcheck ask {question.example}" for question in _QUESTIONS.values()]
    return "\n".join([
        "usage: postcheck ask QUESTION ...", "",
        "Answers a question of the bench in one line, without a file.", "",
        *rows, "", *examples, "",
        "Quotes may be left out where a number and its unit follow each other, and the option where the unit tells it:",
        "  postcheck ask drop 260 mm ptfe-28 120 mA", "",
        "`postcheck ask QUESTION --help` tells the rest; --format json is for other programs.", _SAID, "",
    ])  # fmt: skip


def answered(words: Sequence[str], version: str) -> str:
    """The answer to a question, or the help that was asked for. Refused where it cannot be answered."""
    if not words:
        raise Refused(
            f"what is the question? There is {', '.join(_QUESTIONS)}; `postcheck ask --help` has an example of each"
        )
    if words[0] in ("-h", "--help", "help"):
        return overview()
    name = words[0].lower()
    question = _QUESTIONS.get(name)
    if question is None:
        near = nearest(name, _QUESTIONS)
        hint = f"did you mean {quoted(near)}?" if near else f"there is {', '.join(_QUESTIONS)}"
        raise Refused(f"there is no question {quoted(words[0])}; {hint}")
    parser = _parser(name, question)
    if {"-h", "--help"} & set(words):
        return parser.format_help()
    said = _spoken(_together(words[1:], parser.options, counts=question.counts), question)
    options = parser.parse_args(said)
    return _rendered(options, question, version)


def _rendered(options: argparse.Namespace, question: _Question, version: str) -> str:
    from postcheck.ask.mistake import Mistake  # noqa: PLC0415
    from postcheck.renderers import answers  # noqa: PLC0415

    try:
        answer = question.answer(options)
    except Mistake as mistake:
        raise Refused(str(mistake)) from None
    return answers.render_json(answer, version) if options.format == "json" else answers.render(answer)


def _parser(name: str, question: _Question) -> _Parser:
    parser = _Parser(
        prog=f"postcheck ask {name}",
        description=f"{question.asks[0].upper()}{question.asks[1:]}?",
        epilog=f"Example: postcheck ask {question.example}. {_SAID}",
        add_help=False,
    )
    question.arguments(parser)
    parser.add_argument(
        "--format", choices=("text", "json"), default="text", help="what to write (default: text)"
    )
    parser.add_argument("-h", "--help", action="store_true", help="show this")
    return parser


def _count(text: str) -> int:
    if not re.fullmatch(r"[0-9]{1,6}", text):
        raise argparse.ArgumentTypeError(f"{quoted(text)} is no number of pieces")
    return int(text)


# -- words as a shell parts them

_NUMBER = re.compile(r"[-+]?[0-9]*\.?[0-9]+(?:[eE][-+]?[0-9]+)?|[0-9]+/[0-9]+")
_COUNTING = ("x", "×", "of")


def _together(words: Sequence[str], options: Collection[str], *, counts: bool) -> list[str]:
    """What belongs together in one word: 5 mm, 3 ptfe-28, 2 x 1.2 mm; an option's name may go without its dashes."""
    from postcheck.description.units import MEASURES  # noqa: PLC0415

    units = {unit for measure in MEASURES.values() for unit in measure.units}
    found: list[str] = []
    for position, word in enumerate(words):
        before = found[-1] if found else ""
        whole = found[-2] if len(found) > 1 else ""
        if word in units and _NUMBER.fullmatch(before):
            found[-1] = f"{before} {word}"
            if "/" in before and whole.isdecimal():  # 1 1/4 in
                found[-2:] = [f"{whole} {found[-1]}"]
        elif (word.lower() == "awg" and before.isdecimal()) or (before.lower() == "awg" and word.isdecimal()):
            found[-1] = f"{before} {word}"
        elif word in options and position:
            found.append(f"--{word}")
        else:
            found.append(word)
    return _counted(found) if counts else [*found[:1], *_counted(found[1:])]


def _counted(words: Sequence[str]) -> list[str]:
    """The same with every count before what it counts, and "for" between what it joins."""
    found: list[str] = []
    joins = False
    for word in words:
        before = found[-1] if found else ""
        named = len(found) > 1 and found[-2] in ("--series", "--cells")
        count = before.isdecimal() and not named
        if joins or (count and not word.startswith("-")) or (word == "for" and before):
            found[-1] = f"{before} {word}"
        else:
            found.append(word)
        joins = bool(found[:-1] or before) and (
            word == "for" or (word in _COUNTING and found[-1].partition(" ")[0].isdecimal())
        )
    return found


def _spoken(words: list[str], question: _Question) -> list[str]:
    """The same with the option before what its unit tells: 120 mA is the current. Left alone where two would do."""
    free = [
        at
        for at, word in enumerate(words)
        if not word.startswith("--")
        and (at == 0 or not words[at - 1].startswith("--"))
        # 1.8 V at 20 mA is a lamp
        and not {*words[max(at - 1, 0) : at], *words[at + 1 : at + 2]} & {"at", "@"}
    ]
    meant: dict[int, str] = {}
    for option, dimension in question.spoken:
        places = [at for at in free if _is_quantity(words[at], dimension)]
        if f"--{option}" not in words and len(places) == 1:
            meant[places[0]] = option
    if question.named is not None and f"--{question.named}" not in words:
        places = [at for at in free if words[at][:1].isalpha() or words[at].lower().endswith("awg")]
        if len(places) == 1:
            meant[places[0]] = question.named
    if not meant:
        return words
    rest = [word for at, word in enumerate(words) if at not in meant]
    return [*rest, *(part for at, option in meant.items() for part in (f"--{option}", words[at]))]


def _is_quantity(word: str, dimension: str) -> bool:
    if not word[:1].isdigit() and word[:1] != ".":
        return False
    from postcheck.description.problems import QuantityError  # noqa: PLC0415
    from postcheck.description.quantities import Dimension, parse  # noqa: PLC0415

    try:
        parse(word, Dimension[dimension])
    except QuantityError:
        return False
    return not word.isdecimal()
