"""Options that several commands have in common."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from postcheck.cli.kinds import BUILD
from postcheck.cli.talk import complain, loaded, may_write

if TYPE_CHECKING:
    from postcheck.description.models import Build


def one_build(command: argparse.ArgumentParser) -> None:
    """The only build that a command is given."""
    command.add_argument("file", type=BUILD, metavar="FILE", help="a .post.toml file; - reads standard input")


def effort(command: argparse.ArgumentParser) -> None:
    """How hard a bore is packed."""
    command.add_argument(
        "--effort",
        choices=("quick", "long"),
        default="quick",
        help="how hard to look for a way to pack a bore",
    )


def text_or_json(command: argparse.ArgumentParser) -> None:
    """What is written to standard output."""
    command.add_argument("--format", choices=("text", "json"), default="text", help="what to write")


def for_stage(command: argparse.ArgumentParser) -> None:
    """The stage that a build is judged for."""
    command.add_argument(
        "--for",
        dest="stage",
        choices=("planning", "wiring", "closing"),
        metavar="STAGE",
        help="the stage to judge for; the file's own without it",
    )


def on_day(command: argparse.ArgumentParser) -> None:
    """The day that a build is judged on; `talk.day` reads it."""
    command.add_argument(
        "--today",
        metavar="DATE",
        help="the day that counts for proofs and acceptances, as 2026-11-25; today without it",
    )


def judgement(command: argparse.ArgumentParser) -> None:
    """How a build is judged, and from which weight up that makes the exit code 1."""
    command.add_argument(
        "--fail-on",
        choices=("stop", "caution"),
        default="stop",
        help="from which weight up the exit code is 1",
    )
    for_stage(command)
    effort(command)
    on_day(command)


def what_if(command: argparse.ArgumentParser, written: str = "nothing is written") -> None:
    """What is judged as if the file said it; the values go by `read_changes`, the build by `as_if`."""
    command.add_argument(
        "--with",
        dest="changes",
        action="append",
        default=[],
        metavar="KEY=VALUE",
        help=f"as if the file said this, as in 'post.bore = \"6 mm\"'; {written}",
    )


def read_changes(options: argparse.Namespace) -> bool:
    """Whether each --with is an assignment, said where not; the options then hold what they assign."""
    if not options.changes:
        return True
    from postcheck.description.problems import QuantityError  # noqa: PLC0415
    from postcheck.reading.what_if import assignment  # noqa: PLC0415

    try:
        options.changes = [assignment(text) for text in options.changes]
    except QuantityError as error:
        complain(f"--with: {error}")
        return False
    return True


def read_build(options: argparse.Namespace, output: str | None) -> Build | None:
    """The build with what --with assigns, if `output` may be written; None where not, and said why.

    `output`: a file, None or - where none is written.
    """
    to_file = output not in (None, "-")
    if to_file and not may_write(output or "", [options.file]):
        return None
    build = as_if(loaded(options.file), options)
    if build is not None and to_file and not may_write(output or "", [options.file], build.used):
        return None
    return build


def as_if(build: Build | None, options: argparse.Namespace) -> Build | None:
    """The build with what --with assigns; None where there is none, or nothing comes of it, and said why."""
    if build is None or not options.changes:
        return build
    from postcheck.description.problems import BuildError  # noqa: PLC0415
    from postcheck.reading.what_if import assigned  # noqa: PLC0415 - most commands take the file as it is

    try:
        return assigned(build, options.changes)
    except BuildError as error:  # the file is a build: what is wrong is what was asked for
        for line in str(error).splitlines():
            complain(line)
        return None
