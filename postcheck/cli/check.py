"""`postcheck check`: judges build files."""

from __future__ import annotations

import argparse
import os
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from postcheck.cli.talk import (
    OUR_FAULT,
    UNUSABLE,
    complain,
    day,
    effort,
    looks,
    may_write,
    own_up,
    saved,
    shown,
)

if TYPE_CHECKING:
    from datetime import date

    from postcheck.cli.talk import Commands
    from postcheck.report import FileReport, Report

__all__ = ["add"]


def add(commands: Commands) -> None:
    """The command's words and options."""
    check = commands.add_parser(
        "check", help="judge build files", description="Judge one or more build files."
    )
    check.add_argument(
        "files",
        nargs="+",
        metavar="FILE",
        help="a .post.toml file, or a folder with such files; - reads standard input",
    )
    check.add_argument(
        "--format",
        choices=("text", "json", "sarif", "junit", "github"),
        default="text",
        help="what to write (default: text); sarif, junit and github are for CI",
    )
    check.add_argument(
        "--output", metavar="FILE", help="write there instead of to the terminal; - is standard output"
    )
    check.add_argument(
        "--fail-on",
        choices=("stop", "caution"),
        default="stop",
        help="exit 1 from this weight up (default: stop)",
    )
    check.add_argument(
        "--for",
        dest="stage",
        choices=("planning", "wiring", "closing"),
        help="the stage to judge for, instead of the file's",
    )
    check.add_argument(
        "--closing",
        action="append",
        default=[],
        metavar="PLACE",
        help="judge whether this place may be closed now, whatever the file's stage; may be repeated",
    )
    effort(check)
    check.add_argument(
        "--today", metavar="DATE", help="the day that counts for proofs and acceptances, such as 2026-11-25"
    )
    check.set_defaults(do=_check)


def _check(options: argparse.Namespace) -> tuple[int, str]:
    from postcheck.report import Report  # noqa: PLC0415

    usable, today = day(options.today)
    if not usable:
        return UNUSABLE, ""
    to_file = options.output not in (None, "-")
    names = list(_builds(options.files))
    if to_file and not may_write(options.output, names):
        return UNUSABLE, ""
    judged = [_one(name, options, today) for name in names]
    files = tuple(file for file in judged if not isinstance(file, int))
    # a file that brought out a bug of ours, or has no such place, is in no report, and hides none of the others
    code = max(file if isinstance(file, int) else file.exit_code(options.fail_on) for file in judged)
    text = _rendered(Report(files), options, code, to_file=to_file) if files else ""
    if not to_file or not files:
        return code, text
    return saved(options.output, text, code), ""


def _builds(names: Sequence[str]) -> Iterator[str]:
    """The files named, and those in and below the folders named, in the order of their names; hidden folders are passed over."""
    for name in names:
        found = []
        for folder, inner, files in os.walk(name) if name != "-" and os.path.isdir(name) else ():
            inner[:] = [one for one in inner if not one.startswith(".")]
            found += [os.path.join(folder, file) for file in files if file.endswith(".post.toml")]
        yield from sorted(found) or [name]


def _one(name: str, options: argparse.Namespace, today: date | None) -> FileReport | int:
    """The report of one file; an exit code where there is none."""
    from postcheck.build.loading import load  # noqa: PLC0415
    from postcheck.build.problems import BuildError  # noqa: PLC0415
    from postcheck.checking import check, no_such_place, unreadable  # noqa: PLC0415

    try:
        build = load(name)
        if problem := no_such_place(build, options.closing):
            complain(f"{shown(name)}: {problem}")
            return UNUSABLE
        report = check(
            build, stage=options.stage, today=today, effort=options.effort, closing=options.closing
        )
        return report.files[0]
    except BuildError as error:
        return unreadable(error)
    except Exception as fault:
        own_up(fault, name)
        return OUR_FAULT


def _rendered(report: Report, options: argparse.Namespace, code: int, *, to_file: bool) -> str:
    from postcheck.rendering import render  # noqa: PLC0415

    if options.format == "text":
        return render(report) if to_file else render(report, **looks())
    # the runner wants paths from the top of the repository, wherever the step stands in it
    top = os.environ.get("GITHUB_WORKSPACE") if options.format == "github" else None
    return render(report, options.format, fail_on=options.fail_on, code=code, folder=top or None)
