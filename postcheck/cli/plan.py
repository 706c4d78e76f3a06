"""`postcheck plan`: a wiring proposed for what a build leaves open, proven by the checks."""

from __future__ import annotations

import argparse
import contextlib
import os
import sys
from typing import TYPE_CHECKING

from postcheck.cli.kinds import FILE, number
from postcheck.cli.options import as_if, one_build, read_changes, what_if
from postcheck.cli.progress import working
from postcheck.cli.talk import (
    CLEAR,
    FOUND,
    UNUSABLE,
    complain,
    loaded,
    looks,
    rewritten,
    saved,
    shown,
    write_file_out,
)

if TYPE_CHECKING:
    from postcheck.cli.parser import Commands
    from postcheck.planned import Planned


def add(commands: Commands) -> None:
    """The command's words and options."""
    plan = commands.add_parser(
        "plan",
        help="propose a wiring for what is still open",
        description="Proposes resistors, strings, leads, runs, fuses and colours for what a build leaves open. What is printed "
        "was checked in full and passes. It can aim at few conductors, the usual wire, light as it was meant, leads that a bench "
        "supply does not harm, little heat in closed places, little drop, few kinds of parts.",
        examples=(
            ("plan airship.post.toml", "prints what to add to the file"),
            ("plan airship.post.toml --write new.post.toml", "writes a copy with the plan in it"),
        ),
        exits={0: "there is a plan", 1: "there is none; what stands in the way is named"},
    )
    one_build(plan)
    plan.add_argument(
        "--write",
        type=FILE,
        metavar="NEW",
        help="write a copy of the file with the plan in it, comments kept; - prints it, and nothing else",
    )
    plan.add_argument(
        "--in-place",
        action="store_true",
        help="write it into the file itself; its old text is kept beside it as FILE~, which must not be there yet",
    )
    plan.add_argument(
        "--anew",
        action="store_true",
        help="choose again what the file has of runs, resistors, leads' wire and colours, fuses and ratings, but for what says "
        "keep = true or fixed = true",
    )
    plan.add_argument("--format", choices=("text", "json"), default="text", help="what to print")
    plan.add_argument(
        "--aim",
        action="append",
        choices=("conductors", "wire", "light", "bench", "heat", "drop", "kinds"),
        default=[],
        help="what counts first; given again, what counts next; in this order without it",
    )
    plan.add_argument("--seconds", type=number, default=8.0, metavar="N", help="compute no longer than this")
    what_if(plan, "a copy that --write makes has it too, the file itself stays as it is")
    plan.set_defaults(do=_plan)


def _plan(options: argparse.Namespace) -> tuple[int, str]:
    if problem := _trouble(options):
        complain(problem)
        return UNUSABLE, ""
    if not read_changes(options):
        return UNUSABLE, ""
    build = as_if(loaded(options.file), options)
    if build is None:
        return UNUSABLE, ""
    from postcheck.planner.planning import plan  # noqa: PLC0415

    with working("looking for a wiring; Ctrl-C takes the best so far") as say:
        planned = plan(
            build,
            anew=options.anew,
            aims=options.aim,
            seconds=options.seconds,
            progress=lambda judged: say(f"{judged} wirings judged; Ctrl-C takes the best so far"),
        )
    code = CLEAR if planned.verdict is not None else FOUND
    to = options.file if options.in_place else options.write
    if to is None:
        return code, _rendered(planned, options.format, None)
    if planned.verdict is None:
        text = _rendered(planned, options.format, None)
        if to == "-" and sys.stderr is not None:  # what reads standard output waits for a build
            sys.stderr.write(text)
        return code, "" if to == "-" else text
    if planned.text is None:
        named = "the plan" if to == "-" else f"'{shown(to)}'"
        complain(
            f"{named} is not written: {shown(planned.unwritten or '')}; "
            f"without {'--in-place' if options.in_place else '--write'} the plan is printed to be typed"
        )
        return UNUSABLE, ""
    if to == "-":
        return write_file_out(planned.text, code), ""
    if options.in_place and planned.text == build.text:
        complain(f"the plan changes nothing: '{shown(to)}' is left as it is")
        return code, _rendered(planned, options.format, None)
    written = _written(options, planned.text, build.text or "")
    return (code, _rendered(planned, options.format, to)) if written == CLEAR else (written, "")


def _trouble(options: argparse.Namespace) -> str | None:
    if not 0.0 < options.seconds <= 3600.0:
        return "--seconds needs a number above 0, 3600 at most"
    if options.write is not None and options.in_place:
        return "--write makes a copy and --in-place changes the file itself: one of them"
    if options.changes and options.in_place:
        return (
            "--with holds for this plan alone and goes into no file that is there; name a copy with --write"
        )
    if options.in_place and options.file == "-":
        return "--in-place needs a file; standard input cannot be written to"
    if options.write == "-":
        return "--write - prints a build file, not JSON: one of them" if options.format == "json" else None
    if options.write is not None and not os.path.basename(options.write):
        return "--write needs the name of a file, or - to print it"
    if options.in_place and os.path.lexists(f"{options.file}~"):
        return f"'{shown(options.file)}~' is already there, and the old text would go into it; move it away first"
    if options.write is not None and os.path.lexists(options.write):
        return f"'{shown(options.write)}' is already there and is left as it is; name another file"
    return None


def _written(options: argparse.Namespace, text: str, before: str) -> int:
    if options.in_place:
        return rewritten(options.file, before, text, copy=f"{options.file}~")
    from postcheck.output import with_mark_of  # noqa: PLC0415

    with contextlib.suppress(OSError):  # gone meanwhile, or standard input
        text = with_mark_of(options.file, text)
    return saved(options.write, text, CLEAR)


def _rendered(planned: Planned, form: str, written: str | None) -> str:
    from postcheck import __version__  # noqa: PLC0415
    from postcheck.renderers import plan as renderer  # noqa: PLC0415

    if form == "json":
        return renderer.render_json(planned, __version__)
    return renderer.render(planned, looks()["width"], written_to=written)
