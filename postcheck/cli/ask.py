"""`postcheck ask`: its words, with quotes or without, to a question of `postcheck.ask`, and the answer as text."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING

from postcheck import __version__
from postcheck.cli.parser import Refused
from postcheck.cli.progress import working
from postcheck.cli.questions import EXITS, QUESTIONS, question_parser
from postcheck.cli.spoken import spoken, together
from postcheck.cli.talk import CLEAR, on_screen
from postcheck.plain import nearest, quoted

if TYPE_CHECKING:
    from postcheck.cli.parser import Commands


def add(commands: Commands) -> None:
    """The command's word; what follows it is read here: with this prefix none of it is an option of the whole."""
    ask = commands.add_parser(
        "ask",
        help="answer a question of the bench in one line, without a file",
        prefix_chars="\0",
        add_help=False,
    )
    ask.add_argument("words", nargs="*")
    ask.set_defaults(do=_ask)


def _ask(options: argparse.Namespace) -> tuple[int, str]:
    return CLEAR, answered(options.words, __version__)


def overview() -> str:
    """What can be asked, with an example of each."""
    from postcheck.cli.pages import sections  # noqa: PLC0415

    return sections(
        "postcheck ask",
        [
            "Answer a question of the bench in one line, without a file.",
            "Quotes may be left out where a number and its unit follow each other, and an option where the unit tells it.",
        ],
        ("What can be asked", [(name, f"{question.asks}?") for name, question in QUESTIONS.items()]),
        (
            "Typed like this",
            [
                (f"postcheck ask {line}", words)
                for question in QUESTIONS.values()
                for line, words in question.examples[:1]
            ],
        ),
        ("What can be added", [("--help, -h", "this page; behind a question, all that it takes")]),
        ("How it ends", [(str(code), words) for code, words in EXITS.items()]),
    )


def answered(words: Sequence[str], version: str) -> str:
    """The answer to a question, or the help that was asked for. Refused where it cannot be answered."""
    if not words:
        raise Refused(
            f"what is the question? There is {', '.join(QUESTIONS)}; `postcheck ask --help` has an example of each"
        )
    if words[0] in ("-h", "--help", "help"):
        return overview()
    name = words[0].lower()
    question = QUESTIONS.get(name)
    if question is None:
        near = nearest(name, QUESTIONS)
        hint = f"did you mean {quoted(near)}?" if near else f"there is {', '.join(QUESTIONS)}"
        raise Refused(f"there is no question {quoted(words[0])}; {hint}")
    parser = question_parser(name)
    if {"-h", "--help"} & set(words):
        return parser.format_help()
    words = together(words[1:], parser.long_options, counts=question.counts)
    options = parser.parse_args(spoken(words, question.spoken, question.named))

    from postcheck.ask.mistake import Mistake  # noqa: PLC0415
    from postcheck.renderers import answers  # noqa: PLC0415

    try:
        with working("working it out"):
            answer = question.answer(name, options)
    except Mistake as mistake:
        raise Refused(str(mistake)) from None
    if options.format == "json":
        return answers.render_json(answer, version)
    return on_screen(answers.render(answer), sys.stdout)
