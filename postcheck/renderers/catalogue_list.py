"""Rows of the catalogue as aligned lines."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import groupby
from typing import Any

from postcheck.renderers.figures import show
from postcheck.renderers.words import folded, safe

_KINDS = {
    "wire": "enamelled and insulated wires",
    "lamp": "LEDs and filament lamps",
    "strip": "LED strips",
    "resistor": "sizes of resistors",
    "fuse": "ratings of fuses",
    "plastic": "materials of bodies",
    "battery": "chemistries and sizes of cells",
}


def render(kind: str, rows: Sequence[Any], width: int | None = None) -> str:
    """The rows with the figures that decide and their sources: a line each; with `width`, none wider.

    On a narrow page each source stands once below the rows that have it.
    """
    table = [(safe(row.name, 60), safe(_WORDS[kind](row), 200), safe(row.source)) for row in rows]
    first = max((len(name) for name, _, _ in table), default=0)
    head = f"{kind} ({len(rows)})"
    if width is None:
        second = max((len(words) for _, words, _ in table), default=0)
        return "\n".join([head, *(f"{n:<{first}}  {w:<{second}}  {s}" for n, w, s in table)]) + "\n"
    lines = [head]
    for source, same in groupby(table, key=lambda line: line[2]):
        for name, words, _ in same:
            lines += folded(f"  {name:<{first}}  {words}", width, first + 4)
        lines += folded(f"    Source: {source}", width, 6)
    return "\n".join(lines) + "\n"


def render_kinds(counts: Mapping[str, int]) -> str:
    """What there is, and how each kind is listed."""
    lines = [
        f"  {kind:<9} {count:>4}  {_KINDS[kind]:<32} postcheck catalogue {kind}"
        for kind, count in counts.items()
    ]
    return (
        "\n".join([*lines, "", "A part of a name narrows it: postcheck catalogue lamp --matching 0603"])
        + "\n"
    )


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
    if row.flashes is not None:
        return f"flashes {show(row.flashes, 'Hz')}, {show(row.inside.current, 'A')} on {show(row.inside.volts, 'V')}, works from {show(row.works[0], 'V')} to {show(row.works[1], 'V')}"
    if row.inside is not None:
        return f"{show(row.inside.current, 'A')} on {show(row.inside.volts, 'V')} by a resistor inside, up to {show(row.inside.most_volts, 'V')}"
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
