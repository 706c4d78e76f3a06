"""`postcheck explain` and `postcheck catalogue`: what is judged, and what can be named."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from postcheck import __version__
from postcheck.cli.kinds import CHECK, ROW
from postcheck.cli.talk import CLEAR, FOUND, UNUSABLE, complain, page, shown

if TYPE_CHECKING:
    from postcheck.cli.talk import Commands


def add(commands: Commands) -> None:
    """The command's words and options."""
    explain = commands.add_parser(
        "explain",
        help="say what a check looks at: formula, limit and source",
        examples=(
            ("explain lamp.no-resistor", "explains one check; a finding's name will do"),
            ("explain", "lists all checks"),
        ),
    )
    explain.add_argument(
        "check",
        nargs="?",
        type=CHECK,
        metavar="CHECK",
        help="its name, such as lamp.no-resistor; lamp lists those of a lamp; without one all are listed",
    )
    explain.set_defaults(do=_explain)

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


def _explain(options: argparse.Namespace) -> tuple[int, str]:
    from postcheck.checks.table import CHECKS  # noqa: PLC0415
    from postcheck.description.problems import FILE_CHECKS  # noqa: PLC0415
    from postcheck.limits import Limits  # noqa: PLC0415
    from postcheck.plain import nearest  # noqa: PLC0415
    from postcheck.renderers import explain  # noqa: PLC0415

    if options.check is None:
        return CLEAR, explain.render_list(CHECKS, page())
    name = options.check.split(":", 1)[0]
    for check in CHECKS:
        if check.name == name:
            limits = Limits()
            return CLEAR, explain.render_check(check, [limits[limit] for limit in check.limits], page())
    if name in FILE_CHECKS:
        return CLEAR, f"{name}\n{FILE_CHECKS[name]}\n"
    from postcheck.guidebook.topics import belonging, topic_of  # noqa: PLC0415

    if names := belonging(name, [check.name for check in CHECKS]):
        listed = explain.render_list([check for check in CHECKS if check.name in names], page())
        return CLEAR, f"{listed}\n`postcheck guide {topic_of(name)}` says what can be written there.\n"
    near = nearest(name, [*(check.name for check in CHECKS), *FILE_CHECKS])
    hint = f"; did you mean '{near}'?" if near else "; `postcheck explain` lists them"
    complain(f"there is no check '{shown(name)}'{hint}")
    return UNUSABLE, ""


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
