"""Ratings in which supplies, boards and outputs are sold, and sizes of cells."""

from __future__ import annotations

from postcheck import catalogue
from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.limits import above, below
from postcheck.remedies.proposal import Proposal, set_to

# Ratings that small adaptors and converters are sold in, A.
SOLD = (0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)
# Volts that boards, loads and converters are made for: common practice.
VOLTS = (0.9, 1.8, 2.5, 3.0, 4.0, 4.5, 5.0, 6.0, 7.0, 9.0, 12.0, 15.0, 18.0, 24.0, 30.0)
# Volts that adaptors are sold with: common practice.
ADAPTORS = (3.0, 4.5, 5.0, 6.0, 7.5, 9.0, 12.0, 15.0, 18.0, 24.0)
# Steps in which outputs and contacts are rated, A: common practice.
STEPS = tuple(step * decade for decade in (0.01, 0.1, 1.0) for step in (1.0, 1.5, 2.0, 3.0, 5.0))


def rating_for(highest: float, fraction: float) -> float | None:
    """The next rating sold (A) that `highest` (A) loads to no more than `fraction`; None above all of them."""
    return next((rating for rating in SOLD if not above(highest, fraction * rating)), None)


def next_step(current: float) -> float | None:
    """The next step (A) of outputs and contacts that carries a current (A); None above all of them."""
    return next((step for step in STEPS if not above(current, step)), None)


def made_for(volts: float) -> float | None:
    """The most volts that there is something made for which works from these (V); None below all of them."""
    return next((made for made in reversed(VOLTS) if not below(volts, made)), None)


def larger_sizes(chemistry: str, size: str) -> list[str]:
    """The sizes of a chemistry with more capacity than one of them, the next first."""
    sizes = catalogue.chemistry(chemistry)
    has = sizes.find(size)
    least = has.capacity if has is not None else None
    if has is None or least is None:
        return []
    more = [
        row
        for row in sizes.sizes
        if (row.capacity or 0.0) > least and (row.cells, row.coin) == (has.cells, has.coin)
    ]
    return [row.name for row in sorted(more, key=lambda row: row.capacity or 0.0)]


def cells_of(supply: str, size: str) -> Proposal:
    """Cells of another size for a supply."""
    return Proposal(f"Use {size_called(size)} cells.", (set_to(("supply", supply, "size"), size),))


def size_called(size: str) -> str:
    """A size of cells as a sentence has it: AA, 18650."""
    return size.upper() if size.isalpha() else size


def in_volts(volts: float) -> str:
    """Volts as a remedy words them."""
    return format_quantity(volts, Dimension.VOLTAGE)


def amps(current: float) -> str:
    """A rating in words."""
    return format_quantity(current, Dimension.CURRENT)
