"""The quantities of a build file with their units, as the reader knows them."""

from __future__ import annotations

from postcheck.description.units import MEASURES


def units_list() -> str:
    """Every quantity with an example and its units, as a list in Markdown."""
    return "\n".join(
        f'- {dimension.value}: `"{measure.example}"`; {", ".join(f"`{unit}`" for unit in measure.units)}'.replace(
            '`"`', '`` " ``'
        )
        for dimension, measure in MEASURES.items()
    )
