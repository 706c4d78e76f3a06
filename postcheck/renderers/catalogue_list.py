"""Rows of the catalogue as aligned lines."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
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


# So many sources stand below a list without being asked for: more are a wall of text behind what was looked for.
_FEW = 8


def render(kind: str, rows: Sequence[Any], width: int | None = None, *, sources: bool = False) -> str:
    """The rows with the figures that decide: a line each, with the number of its source where these stand below.

    That is where they are few, or with `sources`. With `width` no line is wider.
    """
    if not rows:
        return f"{kind} (0)\n"
    numbers = {source: n for n, source in enumerate(dict.fromkeys(row.source for row in rows), 1)}
    listed = sources or len(numbers) <= _FEW
    first = max(len(safe(row.name, 60)) for row in rows)
    table = [
        f"{safe(row.name, 60):<{first}}  {safe(_WORDS[kind](row), 200)}"
        + (f" ({numbers[row.source]})" if listed else "")
        for row in rows
    ]
    cited = [f"({n}) {safe(source)}" for source, n in numbers.items()] if listed else []
    if width is not None:
        table = [part for line in table for part in folded(f"  {line}", width, first + 4)]
        cited = [part for line in cited for part in folded(f"  {line}", width, 6)]
    below = ["Sources", *cited] if listed else [f"Their {len(numbers)} sources: --sources"]
    return "\n".join([f"{kind} ({len(rows)})", *table, "", *below]) + "\n"


def render_json(rows: Mapping[str, Sequence[Any]], version: str) -> str:
    """The rows of each kind with all their figures, in SI, as JSON text that ends in a line break."""
    from postcheck.renderers.json_text import json_text  # noqa: PLC0415 - only where it is asked for

    return json_text(version, catalogue=dict(rows))


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
