"""`postcheck check`: judges build files."""

from __future__ import annotations

import argparse
import os
from typing import TYPE_CHECKING, NamedTuple

from postcheck.cli.folders import builds, no_builds, once_late
from postcheck.cli.kinds import BUILD, FILE
from postcheck.cli.options import judgement, read_changes, what_if
from postcheck.cli.progress import working
from postcheck.cli.talk import (
    CLEAR,
    OUR_FAULT,
    UNUSABLE,
    complain,
    day,
    fault_words,
    looks,
    may_write,
    saved,
    shown,
)

if TYPE_CHECKING:
    from datetime import date

    from postcheck.cli.parser import Commands
    from postcheck.report import FileReport, Report


class Judged(NamedTuple):
    """What came of one file: its report, or what is said in its place; the exit code; where its `use` leads."""

    report: FileReport | None
    said: tuple[str, ...]
    code: int
    used: tuple[str, ...] = ()


def add(commands: Commands) -> None:
    """The command's words and options."""
    check = commands.add_parser(
        "check",
        help="judge builds: what is wrong, why, and what to change",
        examples=(
            ("check airship.post.toml", "judges one build"),
            (
                "check models --fail-on caution",
                "judges every build in and below a folder, and lets no caution pass",
            ),
        ),
        exits={
            0: "nothing found that fails",
            1: "a finding that fails; with --fail-on caution, --for closing or --closing also something vital that the file does not say",
            2: "a file is no build, could not be read, or was typed wrong",
        },
    )
    check.add_argument(
        "files",
        nargs="*",
        type=BUILD,
        metavar="FILE",
        help="a .post.toml file, or a folder with such files; - reads standard input; the folder you are in without any",
    )
    check.add_argument(
        "--format",
        choices=("text", "json", "sarif", "junit", "github"),
        default="text",
        help="what to write; sarif, junit and github are for CI",
    )
    check.add_argument(
        "-o",
        "--output",
        type=FILE,
        metavar="FILE",
        help="write there instead of to the terminal; - is standard output",
    )
    judgement(check)
    what_if(check)
    check.add_argument(
        "--closing",
        action="append",
        default=[],
        metavar="PLACE",
        help="judge whether this place may be closed now, whatever the file's stage",
    )
    check.add_argument(
        "--quiet",
        action="store_true",
        help="name the clear builds in one line, by file, and tell only the others in full",
    )
    check.add_argument(
        "--watch",
        action="store_true",
        help="check again whenever a file is saved, on one screen; Ctrl-C leaves",
    )
    check.set_defaults(do=_check)


def _check(options: argparse.Namespace) -> tuple[int, str]:
    from postcheck.report import Report  # noqa: PLC0415

    options.files = options.files or [os.curdir]
    if options.quiet and options.format != "text":
        complain(
            f"--quiet is for text, and --format {options.format} has every build; leave one of the two out"
        )
        return UNUSABLE, ""
    usable, today = day(options.today)
    if not usable or not read_changes(options):
        return UNUSABLE, ""
    if options.watch:
        from postcheck.cli.watch import watch  # noqa: PLC0415

        return watch(options, today)
    to_file = options.output not in (None, "-")
    with working("looking for builds", once_late()) as say:
        names = list(builds(options.files, say))
    if to_file and not may_write(options.output, names):
        return UNUSABLE, ""
    results: list[Judged] = []
    with working("checking") as say:
        for number, name in enumerate(names, 1):
            say(f"checking {shown(name)}" + (f", {number} of {len(names)}" if len(names) > 1 else ""))
            results.append(judged(name, options, today))
    # a file that brought out a bug of ours, or has no such place, is in no report, and hides none of the others
    for words in (words for one in results for words in one.said):
        complain(words)
    code = max(one.code for one in results)
    files = [one.report for one in results if one.report is not None]
    text = _rendered(Report(tuple(files)), options, code, to_file=to_file) if files else ""
    if not to_file or not files:
        return code, text
    if code != CLEAR:
        from postcheck.renderers.words import summary  # noqa: PLC0415

        # a log that shows nothing but the exit code leaves one guessing
        complain(summary(Report(tuple(files))))
    if not may_write(options.output, names, [path for one in results for path in one.used]):
        return UNUSABLE, ""
    return saved(options.output, text, code), ""


def judged(name: str, options: argparse.Namespace, today: date | None) -> Judged:
    """What comes of one file; nothing is printed, and nothing raised but what POSTCHECK_TRACEBACK asks for."""
    from postcheck.checking import check, no_such_place, unreadable  # noqa: PLC0415
    from postcheck.description.problems import BuildError  # noqa: PLC0415
    from postcheck.reading.loading import load  # noqa: PLC0415

    if name != "-" and os.path.isdir(name):
        return Judged(None, (no_builds(name, options.files),), UNUSABLE)
    used: tuple[str, ...] = ()
    try:
        build = load(name)
        used = build.used
        if problem := no_such_place(build, options.closing):
            return Judged(None, (f"{shown(name)}: {problem}",), UNUSABLE, used)
        if options.changes:
            from postcheck.reading.what_if import assigned  # noqa: PLC0415 - most judge the file as it is

            try:
                build = assigned(build, options.changes)
            except BuildError as error:  # the file is a build: what is wrong is what was asked for
                return Judged(None, tuple(str(error).splitlines()), UNUSABLE, used)
        report = check(
            build, stage=options.stage, today=today, effort=options.effort, closing=options.closing
        ).files[0]
    except BuildError as error:
        return Judged(unreadable(error), (), UNUSABLE, error.used)
    except Exception as fault:
        return Judged(None, fault_words(fault, name), OUR_FAULT, used)
    return Judged(report, (), report.exit_code(options.fail_on), used)


def _rendered(report: Report, options: argparse.Namespace, code: int, *, to_file: bool) -> str:
    from postcheck.rendering import render  # noqa: PLC0415

    if options.format == "text":
        quiet = options.quiet
        return render(report, quiet=quiet) if to_file else render(report, **looks(), quiet=quiet)
    # the runner wants paths from the top of the repository, wherever the step stands in it
    top = os.environ.get("GITHUB_WORKSPACE") if options.format == "github" else None
    return render(report, options.format, fail_on=options.fail_on, code=code, folder=top or None)
