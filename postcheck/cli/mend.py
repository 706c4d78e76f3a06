"""`postcheck mend`: every proven remedy as an edit of the file, asked one by one."""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING

from postcheck.cli.kinds import BUILD
from postcheck.cli.options import judgement
from postcheck.cli.progress import working
from postcheck.cli.talk import CLEAR, UNUSABLE, complain, day, loaded, rewritten, shown

if TYPE_CHECKING:
    from collections.abc import Callable

    from postcheck.cli.parser import Commands
    from postcheck.mending import Mending, Step


def add(commands: Commands) -> None:
    """The command's words and options."""
    mend = commands.add_parser(
        "mend",
        help="put proven remedies into the file, asked one by one",
        description="Shows each proven remedy as the lines that change, and asks. The file is written once, at the end, whole or not "
        "at all; comments and order stay.",
        examples=(
            ("mend airship.post.toml --dry", "shows what would change"),
            ("mend airship.post.toml --yes", "takes every remedy that is proven"),
        ),
        exits={0: "nothing is left that fails", 1: "something is left that fails"},
    )
    mend.add_argument("file", type=BUILD, metavar="FILE", help="a .post.toml file")
    how = mend.add_mutually_exclusive_group()
    how.add_argument("--yes", action="store_true", help="take every remedy without asking")
    how.add_argument("--dry", action="store_true", help="show what would change, and write nothing")
    judgement(mend)
    mend.set_defaults(do=_mend)


def _mend(options: argparse.Namespace) -> tuple[int, str]:
    usable, today = day(options.today)
    if not usable:
        return UNUSABLE, ""
    if options.file == "-":
        complain("mend writes into the file, and standard input is none; name the file")
        return UNUSABLE, ""
    asked = not (options.yes or options.dry)
    if asked and not sys.stdin.isatty():
        complain(
            "mend asks before it changes anything, and nobody can answer here; use --yes, or --dry to look"
        )
        return UNUSABLE, ""
    build = loaded(options.file)
    if build is None:
        return UNUSABLE, ""
    from postcheck.mending import Mending  # noqa: PLC0415

    with working("judging the build"):
        mending = Mending(build, stage=options.stage, today=today, effort=options.effort)
    ask: Callable[[Step], str] = _asked if asked else (lambda _: "y")
    taken, left = _walk(mending, ask, show=asked or options.dry)
    from postcheck.renderers import mended  # noqa: PLC0415
    from postcheck.report import Report  # noqa: PLC0415

    written = bool(taken) and not options.dry and not left
    if written and (code := rewritten(options.file, build.text or "", mending.text)) != CLEAR:
        return code, ""
    code = Report((mending.report,)).exit_code(options.fail_on)
    summary = mended.summary(
        mending.report, shown(options.file), taken, written=written, left=left, by_hand=mending.by_hand
    )
    return code, summary


def _walk(mending: Mending, ask: Callable[[Step], str], *, show: bool) -> tuple[int, bool]:
    """How many remedies were taken, and whether the walk was left without writing."""
    from postcheck.renderers import mended  # noqa: PLC0415

    taken = 0
    while (step := _next(mending)) is not None:
        if show:
            sys.stdout.write(mended.step(step.finding, step.lines))
            sys.stdout.flush()
        answer = ask(step)
        if answer == "q":
            return taken, True
        if answer == "n" or not _take(mending, step):
            mending.skip(step)
        else:
            taken += 1
    return taken, False


def _next(mending: Mending) -> Step | None:
    with working("looking for a remedy"):
        return mending.next()


def _take(mending: Mending, step: Step) -> bool:
    with working("judging the build with it"):
        return mending.take(step)


def _asked(_: Step) -> str:
    """y, n or q."""
    while True:
        try:
            answer = input("Do it? (y)es, (n)o, (q)uit and write nothing: ").strip().casefold()
        except (EOFError, KeyboardInterrupt):
            sys.stdout.write("\n")
            return "q"
        if answer[:1] in ("y", "n", "q"):
            return answer[:1]
