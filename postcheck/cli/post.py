"""`postcheck post`: draws what lies in the bore of the post, and of every other passage."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING

from postcheck.cli.kinds import BUILD, FILE
from postcheck.cli.options import as_if, effort, read_changes, what_if
from postcheck.cli.progress import working
from postcheck.cli.talk import CLEAR, UNUSABLE, complain, loaded, may_write, saved, shown, width

if TYPE_CHECKING:
    from postcheck.cli.talk import Commands
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
    post.add_argument("file", type=BUILD, metavar="FILE", help="a .post.toml file; - reads standard input")
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
    to_file = options.svg not in (None, "-")
    if to_file and not may_write(options.svg, [options.file]):
        return UNUSABLE, ""
    build = as_if(loaded(options.file), options)
    if build is None:
        return UNUSABLE, ""
    if to_file and not may_write(options.svg, [options.file], build.used):
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
    if not to_file:
        return CLEAR, picture
    code = saved(options.svg, picture, CLEAR)
    return code, f"Wrote {shown(options.svg)}.\n" if code == CLEAR else ""


def _passages_wanted(wanted: str | None, there: list[str]) -> tuple[list[str], str | None]:
    """The passages to draw, or what is wrong."""
    from postcheck.plain import nearest, quoted  # noqa: PLC0415

    if not there:
        return [], "there is nothing to draw: it has no [post] and no [passage.NAME]"
    if wanted is None:
        return there, None
    if wanted in there:
        return [wanted], None
    if wanted == "post":
        return [], f"it has no [post]; it has {_several(there)}"
    near = nearest(wanted, there)
    hint = f"did you mean {quoted(near)}?" if near else f"it has {_several(there)}"
    return [], f"there is no passage {quoted(wanted)}; {hint}"


def _several(names: list[str]) -> str:
    from postcheck.plain import first_few, quoted  # noqa: PLC0415

    return first_few([*map(quoted, names)], 8)


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
