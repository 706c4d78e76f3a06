"""`postcheck compare`: what is different between two builds, or two revisions of one."""

from __future__ import annotations

import argparse
import os
import re
from typing import TYPE_CHECKING, NamedTuple

from postcheck.cli.kinds import BUILD
from postcheck.cli.options import as_if, judgement, read_changes, text_or_json, what_if
from postcheck.cli.progress import working
from postcheck.cli.talk import CLEAR, FOUND, UNUSABLE, complain, day, looks, report_unreadable, shown
from postcheck.plain import quoted

if TYPE_CHECKING:
    from postcheck.cli.parser import Commands
    from postcheck.description.models import Build


def add(commands: Commands) -> None:
    """The command's words and options."""
    compare = commands.add_parser(
        "compare",
        help="say what is different between two builds",
        description="Two builds, or two revisions of one in git: findings that are new, gone or changed, and figures.",
        examples=(
            ("compare airship.post.toml", "says what you have changed since the last commit"),
            ("compare before.post.toml airship.post.toml", "says what is different in the second file"),
        ),
        exits={0: "nothing fails that did not before", 1: "something fails that did not before"},
    )
    compare.add_argument(
        "before", type=BUILD, metavar="FILE", help="a .post.toml file, or REVISION:FILE as git has it"
    )
    compare.add_argument(
        "after",
        nargs="?",
        type=BUILD,
        metavar="FILE",
        help="the later one; without it, the file as it lies in the folder is compared with what git had of it",
    )
    compare.add_argument(
        "--since",
        metavar="REVISION",
        help="of a single FILE: since which revision; without it that of REVISION:FILE, else HEAD, the last commit",
    )
    text_or_json(compare)
    judgement(compare)
    what_if(compare, "of the later one; a single FILE is compared with itself as it is")
    compare.set_defaults(do=_compare)


class _Named(NamedTuple):
    """A file, and the revision of git that it is asked of; None: as it lies in the folder."""

    revision: str | None
    path: str


# REVISION:FILE, cut at the first colon outside braces; :2:FILE is a stage of a merge (gitrevisions(7)).
_OF_GIT = re.compile(r"(?P<revision>:[0-3](?=:)|(?:[^:{]|\{[^}]*\})*+):(?P<path>.*)", re.DOTALL)
# A scheme and what follows it, RFC 3986, 3.1; a drive of one letter is none.
_ADDRESS = re.compile(r"[A-Za-z][A-Za-z0-9+.-]+://")


def _compare(options: argparse.Namespace) -> tuple[int, str]:
    usable, today = day(options.today)
    if not usable or not read_changes(options):
        return UNUSABLE, ""
    if trouble := _trouble(options):
        complain(trouble)
        return UNUSABLE, ""
    first, second = _two(options)
    before_build = _read(first)
    after_build = as_if(before_build if second == first else _read(second), options)
    if before_build is None or after_build is None:
        return UNUSABLE, ""
    from postcheck.checking import check  # noqa: PLC0415
    from postcheck.comparison import compare  # noqa: PLC0415
    from postcheck.rendering import render  # noqa: PLC0415

    with working("judging both"):
        before, after = (
            # of what was, words show no remedy
            check(build, stage=options.stage, today=today, effort=options.effort, remedies=remedies)
            for build, remedies in ((before_build, options.format == "json"), (after_build, True))
        )
    comparison = compare(before, after)
    code = FOUND if comparison.worse(options.fail_on) else CLEAR
    return code, render(comparison, options.format, **looks())


def _trouble(options: argparse.Namespace) -> str | None:
    """What is wrong with the words themselves."""
    if options.after is not None and options.since is not None:
        return "--since goes with a single file: it is compared with what git had of it"
    if options.since is not None and not options.since.strip():
        return "--since names no revision: is a variable empty? Leave it out for HEAD"
    for name in (options.before, options.after):
        if name is None or os.path.lexists(name):
            continue
        if _ADDRESS.match(name):
            return f"'{shown(name)}' is an address, not a file; fetch it first"
        if not _named(name).path.strip():
            return f"{quoted(name, 200)} names no file; write FILE or REVISION:FILE, without a blank after the colon"
    return None


def _two(options: argparse.Namespace) -> tuple[_Named, _Named]:
    """The earlier one and the later one: of a single file, what git had of it comes first."""
    one = _named(options.before)
    if options.after is not None:
        return one, _named(options.after)
    if options.since is not None:
        return _Named(options.since, one.path), one
    if one.revision is not None:
        return one, _Named(None, one.path)
    if options.changes:  # what they change is asked, not what was changed since
        return one, one
    return _Named("HEAD", one.path), one


def _named(name: str) -> _Named:
    """What a word names; no revision where a file of that name is there, or there is no colon to cut at."""
    found = None if os.path.lexists(name) else _OF_GIT.fullmatch(name)
    return _Named(None, name) if found is None else _Named(found["revision"], found["path"])


def _read(named: _Named) -> Build | None:
    from postcheck.description.problems import BuildError  # noqa: PLC0415
    from postcheck.reading.loading import load  # noqa: PLC0415

    revision, path = named
    if revision is None and os.path.isdir(path):
        complain(f"'{shown(path)}' is a folder; name the one build file that is to be compared")
        return None
    try:
        if revision is None:
            return load(path)
        from postcheck.reading.revision import load_revision  # noqa: PLC0415 - only then is git asked

        return load_revision(revision, path)
    except BuildError as error:
        report_unreadable(error)
        return None
