"""The cut list or the list of what to buy as comma-separated values (RFC 4180, UTF-8), for a spreadsheet or a shop's form.

Numbers are plain numbers, with the unit in the head. A text that a spreadsheet would take for a formula is led by an
apostrophe.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable
from io import StringIO

from postcheck.materials import Item, Materials, Piece
from postcheck.renderers.sheet.lists import item_name, piece_name, sleeve_over
from postcheck.renderers.sheet.words import text
from postcheck.sheet import Sheet

__all__ = ["PARTS", "render"]

PARTS = ("cut", "buy")
"""The parts that are tables of numbers; each is a file of its own."""
_CUT = (
    "Number",
    "Wire",
    "Colour",
    "Flag",
    "What",
    "From",
    "To",
    "Count",
    "Laid (mm)",
    "Cut to (mm)",
    "Cable",
)
_BUY = ("Kind", "What", "Colour", "Unit", "Needed", "There", "To buy", "Ohm", "W", "A", "Across (mm)", "Over")
# What spreadsheets begin a formula with, the wide forms of East Asian keyboards too.
_FORMULA = tuple("=+-@\t\r\n\uff1d\uff0b\uff0d\uff20")
_NAME = 200


def render(sheet: Sheet) -> str:
    """The one part of the sheet that is asked for; ValueError for another, or for several."""
    if len(sheet.parts) != 1 or sheet.parts[0] not in PARTS:
        message = f"CSV has one table: one of the parts {' and '.join(PARTS)}"
        raise ValueError(message)
    materials = sheet.materials or Materials((), (), 0.0, 0.0, 0.0)
    if sheet.parts == ("cut",):
        return _written(_CUT, map(_piece, materials.pieces))
    return _written(_BUY, map(_item, materials.items))


def _piece(piece: Piece) -> tuple[str | float | None, ...]:
    return (
        piece.number, text(piece.wire, _NAME), text(piece.colour, _NAME), text(piece.label, _NAME), piece_name(piece),
        text(piece.start, _NAME), text(piece.end, _NAME), piece.count, _mm(piece.laid), _mm(piece.length),
        text(piece.cable, _NAME),
    )  # fmt: skip


def _item(item: Item) -> tuple[str | float | None, ...]:
    return (
        item.kind, item_name(item) if item.kind == "plug" else text(item.what, _NAME), text(item.colour, _NAME), item.unit or "pieces",
        item.needed, item.have, item.buy, item.ohms, item.watts, item.amps, _mm(item.across),
        sleeve_over(item),
    )  # fmt: skip


def _mm(metres: float | None) -> float | None:
    return None if metres is None else metres * 1e3


def _written(head: tuple[str, ...], rows: Iterable[tuple[str | float | None, ...]]) -> str:
    out = StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(head)
    writer.writerows([_cell(value) for value in row] for row in rows)
    return out.getvalue()


def _cell(value: str | float | None) -> str:
    if value is None:
        return ""
    if isinstance(value, str):
        return f"'{value}" if value.lstrip(" ").startswith(_FORMULA) else value
    return f"{value:.9g}"
