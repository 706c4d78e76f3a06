"""`postcheck schema`: what a file and a report look like, for editors and other programs."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

from postcheck.cli.talk import CLEAR

if TYPE_CHECKING:
    from postcheck.cli.parser import Commands

SCHEMAS = ("build", "workshop", "report", "comparison", "variation", "identification")


def add(commands: Commands) -> None:
    """The command's words and options."""
    schema = commands.add_parser(
        "schema",
        help="print a JSON Schema for editors and programs",
        description="JSON Schema (draft-07) of a build file, of a workshop file that builds share, or of what check (report), "
        "compare (comparison), vary (variation) and which (identification) write with --format json.",
        examples=(
            ("schema build", "for an editor that helps while you write a build"),
            ("schema report", "for a program that reads `check --format json`"),
        ),
    )
    schema.add_argument(
        "of",
        choices=SCHEMAS,
        metavar="WHAT",
        help="what to describe",
    )
    schema.set_defaults(do=_schema)


def _schema(options: argparse.Namespace) -> tuple[int, str]:
    return CLEAR, text_of(options.of)


def text_of(name: str) -> str:
    """One of SCHEMAS as JSON text in ASCII that ends in a line break."""
    import json  # noqa: PLC0415

    return json.dumps(_made(name), indent=2) + "\n"


def _made(name: str) -> dict[str, Any]:
    if name not in {"build", "workshop"}:
        from postcheck.renderers.identification_schema import identification_schema  # noqa: PLC0415
        from postcheck.renderers.report_schema import comparison_schema, report_schema  # noqa: PLC0415
        from postcheck.renderers.variation_schema import variation_schema  # noqa: PLC0415

        made = {
            "report": report_schema,
            "comparison": comparison_schema,
            "variation": variation_schema,
            "identification": identification_schema,
        }
        return made[name]()
    from postcheck.description.schema import build_schema, workshop_schema  # noqa: PLC0415

    return build_schema() if name == "build" else workshop_schema()
