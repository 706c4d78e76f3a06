"""`postcheck plan`: a wiring proposed for what a build leaves open, proven by the checks."""

from __future__ import annotations

import argparse
import os
import sys
from typing import TYPE_CHECKING

from postcheck.cli.kinds import BUILD, FILE
from postcheck.cli.talk import (
    CLEAR,
    FOUND,
    UNUSABLE,
    complain,
    loaded,
    looks,
    reason,
    saved,
    shown,
)

if TYPE_CHECKING:
    from postcheck.cli.talk import Commands
    from postcheck.planned import Planned


def add(commands: Commands) -> None:
    """The command's words and options."""
    plan = commands.add_parser(
        "plan",
        help="propose a wiring for what is still open",
        description="Propose resistors, strings, leads, runs, fuses and colours for what a build leaves open. What is printed "
        "was checked in full and passes. Exits with 1 where there is no plan.",
    )
    plan.add_argument("file", type=BUILD, metavar="FILE", help="a .post.toml file; - reads standard input")
    plan.add_argument(
        "--write",
        type=FILE,
        metavar="NEW",
        help="write a copy of the file with the plan in it, comments kept",
    )
    plan.add_argument(
        "--in-place",
        action="store_true",
        help="write it into the file itself; its old text is kept beside it as FILE~",
    )
    plan.add_argument(
        "--format", choices=("text", "json"), default="text", help="what to print (default: text)"
    )
    plan.add_argument(
        "--seconds", type=float, default=4.0, metavar="N", help="look no longer than this (default: 4)"
    )
    plan.set_defaults(do=_plan)


def _plan(options: argparse.Namespace) -> tuple[int, str]:
    if problem := _trouble(options):
        complain(problem)
        return UNUSABLE, ""
    to = options.file if options.in_place else options.write
    build = loaded(options.file)
    if build is None:
        return UNUSABLE, ""
    from postcheck.planner.planning import plan  # noqa: PLC0415

    screen = sys.stderr is not None and sys.stderr.isatty()
    planned = plan(build, seconds=options.seconds, progress=_Progress() if screen else None)
    if screen:
        sys.stderr.write("\r\033[K")
    code = CLEAR if planned.verdict is not None else FOUND
    written = None
    if to is not None and planned.verdict is not None:
        code = _written(planned, to, build.text or "", keep=options.in_place)
        if code != CLEAR:
            return code, ""
        written = to
    return code, _rendered(planned, options.format, written)


def _trouble(options: argparse.Namespace) -> str | None:
    if options.write is not None and options.in_place:
        return "--write makes a copy and --in-place changes the file itself: one of them"
    if options.in_place and options.file == "-":
        return "--in-place needs a file; standard input cannot be written to"
    if options.write is not None and os.path.lexists(options.write):
        return f"'{shown(options.write)}' is already there and is left as it is; name another file"
    if not 0.0 < options.seconds <= 3600.0:
        return "--seconds needs a number above 0, 3600 at most"
    return None


class _Progress:
    """A word on the screen once a search takes above a second."""

    def __init__(self) -> None:
        from time import monotonic  # noqa: PLC0415

        self.now = monotonic
        self.began = monotonic()

    def __call__(self, judged: int) -> None:
        if self.now() - self.began > 1.0:
            sys.stderr.write(f"\r{judged} wirings judged; Ctrl-C takes the best so far")
            sys.stderr.flush()


def _written(planned: Planned, to: str, before: str, *, keep: bool) -> int:
    if planned.text is None:
        complain(
            f"'{shown(to)}' is not written: the file has a table in a form that is not changed by itself, such as dotted "
            "keys; without --write the plan is printed to be typed"
        )
        return UNUSABLE
    if keep:
        try:
            with open(f"{to}~", "w", encoding="utf-8", newline="") as copy:
                copy.write(before)
        except OSError as error:
            complain(f"'{shown(to)}~' cannot be written: {reason(error)}")
            return UNUSABLE
    return saved(to, planned.text, CLEAR)


def _rendered(planned: Planned, form: str, written: str | None) -> str:
    from postcheck import __version__  # noqa: PLC0415
    from postcheck.renderers import plan as renderer  # noqa: PLC0415

    if form == "json":
        return renderer.render_json(planned, __version__)
    return renderer.render(planned, looks()["width"], written_to=written)
