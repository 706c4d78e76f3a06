"""The quantities of a build file with their units, as the reader knows them."""

from __future__ import annotations

from postcheck.description.units import MEASURES


def units_list() -> str:
    """Every quantity with an example and its units, as a list in Markdown; a plural stands for no unit of its own."""
    lines = []
    for dimension, measure in MEASURES.items():
        units = [unit for unit in measure.units if not (unit[-1] == "s" and unit[:-1] in measure.units)]
        lines.append(
            f'- {dimension.value}, as `"{measure.example}"`: {", ".join(f"`{unit}`" for unit in units)}'
        )
    return "\n".join(lines)
