"""Rows of the catalogue as aligned lines."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from postcheck.faces.figures import show
from postcheck.faces.words import safe

__all__ = ["render"]


def render(kind: str, rows: Sequence[Any]) -> str:
    """One line a row: its name, the figures that decide, its source."""
    table = [(safe(row.name, 60), safe(_WORDS[kind](row), 200), safe(row.source)) for row in rows]
    widths = [max((len(line[column]) for line in table), default=0) for column in (0, 1)]
    lines = [f"{name:<{widths[0]}}  {words:<{widths[1]}}  {source}" for name, words, source in table]
    return "\n".join([f"{kind} ({len(rows)})", *lines]) + "\n"


def _wire(row: Any) -> str:
    made = "solid" if row.solid else f"{row.strands} strands"
    return f"{made}, outside {show(row.max_diameter, 'm')}, {show(row.ohms_per_metre, 'ohm')}/m, {row.insulation_celsius:.0f} degC"


def _lamp(row: Any) -> str:
    if not hasattr(row, "dice"):
        return f"{show(row.rated_volts, 'V')}, {show(row.rated_current, 'A')} filament"
    dice = [
        f"{die.forward_typical:.2f} V at {show(die.at_current, 'A')}, rated {show(die.rated_current, 'A')}"
        for die in row.dice[:1]
    ]
    return dice[0] + (f", {len(row.dice)} dice" if len(row.dice) > 1 else "")


def _strip(row: Any) -> str:
    return f"{show(row.volts, 'V')}, segment {show(row.segment_length, 'm')}, {show(row.segment_current, 'A')} a segment"


def _battery(row: Any) -> str:
    volts = f"{row.full_volts:g}/{row.nominal_volts:g}/{row.empty_volts:g} V a cell, full/nominal/empty"
    sizes = [size.name + (f" ({size.cells} cells)" if size.cells > 1 else "") for size in row.sizes]
    return f"{volts}; sizes {', '.join(sizes) if sizes else 'of any kind, with their own capacity'}"


_WORDS: dict[str, Callable[[Any], str]] = {
    "wire": _wire,
    "lamp": _lamp,
    "strip": _strip,
    "resistor": lambda row: f"{show(row.power, 'W')}, {show(row.max_volts, 'V')}",
    "fuse": lambda row: show(row.current, "A"),
    "plastic": lambda row: f"up to {row.celsius:.0f} degC for long",
    "battery": _battery,
}
