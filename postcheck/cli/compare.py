"""`postcheck compare`: what is different between two builds, or two revisions of one."""

from __future__ import annotations

import argparse
import os
from typing import TYPE_CHECKING

from postcheck.cli.kinds import BUILD
from postcheck.cli.options import judgement
from postcheck.cli.talk import CLEAR, FOUND, UNUSABLE, complain, day, looks, shown, tell_unreadable

if TYPE_CHECKING:
    from postcheck.build.models import Build
    from postcheck.cli.talk import Commands

__all__ = ["add"]


def add(commands: Commands) -> None:
    """The command's words and options."""
    compare = commands.add_parser(
        "compare",
        help="say what is different between two builds",
        description="Say what is different between two builds, or two revisions of one in git: findings that are new, "
        "gone or changed, and figures. Exits with 1 where something fails that did not before.",
    )
    compare.add_argument(
        "before", type=BUILD, metavar="FILE", help="a .post.toml file, or REVISION:FILE as git has it"
    )
    compare.add_argument(
        "after",
        nargs="?",
        type=BUILD,
        metavar="FILE",
        help="the later one; without it FILE is compared with what git had of it",
    )
    compare.add_argument(
        "--since",
        metavar="REVISION",
        help="of a single FILE: since which revision (default: HEAD, the last commit)",
    )
    compare.add_argument(
        "--format", choices=("text", "json"), default="text", help="what to write (default: text)"
    )
    judgement(compare)
    compare.set_defaults(do=_compare)


def _compare(options: argparse.Namespace) -> tuple[int, str]:
    usable, today = day(options.today)
    if not usable:
        return UNUSABLE, ""
    if options.after is not None and options.since is not None:
        complain("--since goes with a single file: it is compared with what git had of it")
        return UNUSABLE, ""
    before, after = (options.before, options.after) if options.after is not None else _since(options)
    builds = [_read(before), _read(after)]
    if any(build is None for build in builds):
        return UNUSABLE, ""
    from postcheck.checking import check  # noqa: PLC0415
    from postcheck.comparison import compare  # noqa: PLC0415
    from postcheck.rendering import render  # noqa: PLC0415

    comparison = compare(
        *(
            check(build, stage=options.stage, today=today, effort=options.effort)
            for build in builds
            if build is not None
        )
    )
    code = FOUND if comparison.worse(options.fail_on) else CLEAR
    return code, render(comparison, options.format, **looks())


def _since(options: argparse.Namespace) -> tuple[str, str]:
    """A single file, and what it is compared with: the same file at the revision."""
    _, path = _parted(options.before)
    return f"{'HEAD' if options.since is None else options.since}:{path}", options.before


def _parted(name: str) -> tuple[str | None, str]:
    """Revision and path of a name; no revision where a file of that name is there, or there is no colon."""
    revision, colon, path = name.partition(":")
    if not colon or os.path.lexists(name):
        return None, name
    return revision, path


def _read(name: str) -> Build | None:
    from postcheck.build.loading import load  # noqa: PLC0415
    from postcheck.build.problems import BuildError  # noqa: PLC0415

    revision, path = _parted(name)
    if os.path.isdir(path):
        complain(f"'{shown(path)}' is a folder; name the one build file that is to be compared")
        return None
    try:
        if revision is None:
            return load(path)
        from postcheck.build.revision import load_revision  # noqa: PLC0415 - only then is git asked

        return load_revision(revision, path)
    except BuildError as error:
        tell_unreadable(error)
        return None
