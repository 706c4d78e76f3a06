"""`postcheck post`: draws what lies in the bore of the post, and of every other passage."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING

from postcheck.cli.kinds import FILE
from postcheck.cli.options import effort, one_build, read_build, read_changes, what_if
from postcheck.cli.progress import working
from postcheck.cli.talk import CLEAR, UNUSABLE, complain, saved, shown, width

if TYPE_CHECKING:
    from postcheck.cli.parser import Commands
    from postcheck.pictured import BorePicture


def add(commands: Commands) -> None:
    """The command's words and options."""
    post = commands.add_parser(
        "post",
        help="draw the bore of the post and what lies in it",
        description="Draws the bore of the post, and of every other passage, to scale with all that lies in it.",
        examples=(
            ("post airship.post.toml", "draws it here; in a pipe it is told in words"),
            ("post airship.post.toml --svg bore.svg", "makes a drawing to hang up"),
        ),
    )
    one_build(post)
    post.add_argument(
        "--passage", metavar="NAME", help="draw this passage alone; the post is 'post'; all without it"
    )
    post.add_argument("--svg", type=FILE, metavar="OUT", help="write an SVG drawing there instead")
    what_if(post)
    effort(post)
    post.set_defaults(do=_post)


def _post(options: argparse.Namespace) -> tuple[int, str]:
    from postcheck.checking import pictures  # noqa: PLC0415
    from postcheck.description.naming import passages_of  # noqa: PLC0415

    if not read_changes(options):
        return UNUSABLE, ""
    build = read_build(options, options.svg)
    if build is None:
        return UNUSABLE, ""
    names, problem = _passages_wanted(options.passage, list(passages_of(build)))
    if problem is not None:
        complain(f"{shown(build.file)}: {problem}")
        return UNUSABLE, ""
    with working("packing the bore"):
        drawn = pictures(build, names, options.effort)
    if options.svg is None:
        return CLEAR, _bores(drawn)
    from postcheck.renderers import bore_svg  # noqa: PLC0415

    picture = bore_svg.render(drawn)
    if options.svg == "-":
        return CLEAR, picture
    code = saved(options.svg, picture, CLEAR)
    return code, f"Wrote {shown(options.svg)}.\n" if code == CLEAR else ""


def _passages_wanted(wanted: str | None, there: list[str]) -> tuple[list[str], str | None]:
    """The passages to draw, or what is wrong."""
    from postcheck.plain import named_few, no_such  # noqa: PLC0415

    if not there:
        return [], "there is nothing to draw: it has no [post] and no [passage.NAME]"
    if wanted is None:
        return there, None
    if wanted in there:
        return [wanted], None
    if wanted == "post":
        return [], f"it has no [post]; it has {named_few(there)}"
    return [], no_such("passage", wanted, there)


def _bores(drawn: Sequence[BorePicture]) -> str:
    """The bores as this stream can show them: drawn on a terminal that has the dots, else in words."""
    from postcheck.renderers import streams  # noqa: PLC0415

    if sys.stdout is not None and sys.stdout.isatty():
        from postcheck.renderers import bore_screen, braille  # noqa: PLC0415

        if streams.encodable(sys.stdout, braille.DOTS):
            colour = streams.colour_wanted(sys.stdout, os.environ)
            return bore_screen.render(drawn, width=width(), colour=colour)
    from postcheck.renderers import bore_words  # noqa: PLC0415

    return bore_words.render(drawn)
