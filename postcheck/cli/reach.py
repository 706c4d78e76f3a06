"""`postcheck reach`: how a part is got at that fails later."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from postcheck import __version__
from postcheck.cli.options import as_if, one_build, read_changes, text_or_json, what_if
from postcheck.cli.talk import CLEAR, UNUSABLE, complain, loaded, page, shown

if TYPE_CHECKING:
    from postcheck.cli.parser import Commands


def add(commands: Commands) -> None:
    """The command's words and options."""
    reach = commands.add_parser(
        "reach",
        help="say how to get at a part that fails later",
        description="Where a part can be got at in the finished model, what shows at the bench that it is this one, and what would do instead.",
        examples=(
            ("reach airship.post.toml 'nose lamp'", "says how to get at a lamp"),
            ("reach airship.post.toml 'resistor nose lamp'", "says how to get at its resistor"),
        ),
    )
    one_build(reach)
    reach.add_argument(
        "part",
        metavar="PART",
        help='a lamp, strip, load, board, supply or plug by name; or "joint NAME", "resistor NAME"',
    )
    text_or_json(reach)
    what_if(reach)
    reach.set_defaults(do=_reach)


def _reach(options: argparse.Namespace) -> tuple[int, str]:
    from postcheck.reaching import reach  # noqa: PLC0415
    from postcheck.renderers import repaired  # noqa: PLC0415

    if not read_changes(options):
        return UNUSABLE, ""
    build = as_if(loaded(options.file), options)
    if build is None:
        return UNUSABLE, ""
    try:
        found = reach(build, options.part)
    except ValueError as wrong:
        complain(f"{shown(build.file)}: {wrong}")
        return UNUSABLE, ""
    text = (
        repaired.render_json(found, __version__)
        if options.format == "json"
        else repaired.render(found, page())
    )
    return CLEAR, text
