"""`postcheck guide`: a page on a part of the work, or on a table of a build file."""

from __future__ import annotations

import argparse
import contextlib
import os
import sys
from typing import TYPE_CHECKING

from postcheck.cli.kinds import TOPIC
from postcheck.cli.talk import CLEAR, UNUSABLE, complain, looks, shown

if TYPE_CHECKING:
    from postcheck.cli.parser import Commands


def add(commands: Commands) -> None:
    """The command's words and options."""
    guide = commands.add_parser(
        "guide",
        help="show a page on a table or a piece of work",
        description="A table of the build file with its keys and checks, or a piece of work such as planning. Piped it is Markdown.",
        examples=(
            ("guide lamp", "shows what can be said of a lamp"),
            ("guide", "lists all pages"),
        ),
    )
    guide.add_argument(
        "topic",
        nargs="?",
        type=TOPIC,
        metavar="TOPIC",
        help="such as lamp, file or planning; without one all are listed",
    )
    guide.add_argument(
        "--no-pager",
        action="store_true",
        help="print a long page as well, instead of giving it to $PAGER or less",
    )
    guide.set_defaults(do=_guide)


def _guide(options: argparse.Namespace) -> tuple[int, str]:
    from postcheck.guidebook.book import guide, unknown  # noqa: PLC0415

    if options.topic is not None and (reason := unknown(options.topic)):
        complain(reason)
        return UNUSABLE, ""
    text = guide(options.topic)
    look = looks()
    width = look["width"]
    if width is None:
        return CLEAR, text
    from postcheck.renderers.guide import render  # noqa: PLC0415

    screen = render(text, width=width, colour=look["colour"], ascii=look["ascii"])
    if not options.no_pager and _leafed(screen):
        return CLEAR, ""
    return CLEAR, screen


def _leafed(text: str) -> bool:
    """Whether a page that is longer than the screen was given to a pager, and shown by it."""
    import shlex  # noqa: PLC0415
    import shutil  # noqa: PLC0415
    import subprocess  # noqa: PLC0415

    typed = sys.stdin is not None and sys.stdin.isatty()
    if not typed or os.environ.get("TERM") == "dumb" or text.count("\n") < shutil.get_terminal_size().lines:
        return False
    words = os.environ.get("PAGER", "less")
    try:
        command = shlex.split(words)
    except ValueError:
        complain(f"PAGER is no command: '{shown(words)}'")
        return False
    if not command or shutil.which(command[0]) is None:
        return False
    # R lets bold through, X leaves the page on the screen, F ends at once where it is not longer than that after all
    pager = subprocess.Popen(command, stdin=subprocess.PIPE, env={"LESS": "FRX", **os.environ})  # noqa: S603 - as the builder names it
    stream = pager.stdin
    with contextlib.suppress(OSError, KeyboardInterrupt):  # it may be left before it has read all
        if stream is not None:
            stream.write(text.encode(sys.stdout.encoding or "utf-8", "replace"))
            stream.close()
    while pager.poll() is None:
        with contextlib.suppress(KeyboardInterrupt):  # which is for the pager
            pager.wait()
    return pager.returncode <= 0
