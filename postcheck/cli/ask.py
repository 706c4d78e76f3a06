"""`postcheck ask`: its words, with quotes or without, to a question of `postcheck.ask`, and the answer as text."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import TYPE_CHECKING

from postcheck import __version__
from postcheck.cli.questions import EXIT_CODES, QUESTIONS, Refused, question_parser
from postcheck.cli.spoken import spoken, together
from postcheck.cli.talk import CLEAR, UNUSABLE, complain
from postcheck.plain import nearest, quoted

if TYPE_CHECKING:
    from postcheck.cli.talk import Commands


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


def overview() -> str:
    """What can be asked, with an example of each."""
    rows = [f"  {name:<9} {question.asks}" for name, question in QUESTIONS.items()]
    examples = [f"  postcheck ask {question.example}" for question in QUESTIONS.values()]
    return "\n".join([
        "usage: postcheck ask QUESTION ...", "",
        "Answers a question of the bench in one line, without a file.", "",
        *rows, "", *examples, "",
        "Quotes may be left out where a number and its unit follow each other, and the option where the unit tells it:",
        "  postcheck ask drop 260 mm ptfe-28 120 mA", "",
        "`postcheck ask QUESTION --help` tells the rest; --format json is for other programs.", EXIT_CODES, "",
    ])  # fmt: skip


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
    words = together(words[1:], parser.options, counts=question.counts)
    options = parser.parse_args(spoken(words, question.spoken, question.named))

    from postcheck.ask.mistake import Mistake  # noqa: PLC0415
    from postcheck.renderers import answers  # noqa: PLC0415

    try:
        answer = question.answer(name, options)
    except Mistake as mistake:
        raise Refused(str(mistake)) from None
    return answers.render_json(answer, version) if options.format == "json" else answers.render(answer)
