"""`postcheck catalogue`: what a build can name."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from postcheck import __version__
from postcheck.cli.kinds import ROW
from postcheck.cli.talk import CLEAR, FOUND, complain, page

if TYPE_CHECKING:
    from postcheck.cli.parser import Commands


def add(commands: Commands) -> None:
    """The command's words and options."""
    catalogue = commands.add_parser(
        "catalogue",
        help="list wires, lamps and other parts that a build can name",
        examples=(
            ("catalogue wire", "lists the wires"),
            ("catalogue --matching 0402", "lists all with 0402 in their name"),
        ),
        exits={1: "no row matches"},
    )
    catalogue.add_argument(
        "kind",
        nargs="?",
        choices=("wire", "lamp", "strip", "resistor", "fuse", "plastic", "battery"),
        help="what to list; without it you are told how much there is of each",
    )
    catalogue.add_argument(
        "--matching", type=ROW, metavar="TEXT", help="only rows whose name holds this text"
    )
    catalogue.add_argument(
        "--format",
        choices=("text", "json"),
        default="text",
        help="what to write; json is for other programs",
    )
    catalogue.add_argument(
        "--sources",
        action="store_true",
        help="list where the figures are from, however many sources there are; json always has them",
    )
    catalogue.set_defaults(do=_catalogue)


def _catalogue(options: argparse.Namespace) -> tuple[int, str]:
    from postcheck import catalogue  # noqa: PLC0415
    from postcheck.renderers import catalogue_list  # noqa: PLC0415

    if options.format == "text" and options.kind is None and options.matching is None:
        return CLEAR, catalogue_list.render_kinds(
            {kind: len(catalogue.names(kind)) for kind in catalogue.KINDS}
        )
    kinds = [options.kind] if options.kind else catalogue.KINDS
    part = (options.matching or "").lower()
    found = {kind: [row for row in catalogue.rows(kind) if part in row.name.lower()] for kind in kinds}
    found = {kind: rows for kind, rows in found.items() if rows}
    if not found:
        complain("no row matches")
        return FOUND, ""
    if options.format == "json":
        return CLEAR, catalogue_list.render_json(found, __version__)
    return CLEAR, "\n".join(
        catalogue_list.render(kind, rows, page(), sources=options.sources) for kind, rows in found.items()
    )
