"""Cells: how many a battery has (as counted, as its block holds, or as many as make up its volts), and of what sort."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck import catalogue
from postcheck.description.models import Supply
from postcheck.description.printing import format_quantity
from postcheck.description.problems import Path, Problem
from postcheck.description.units import Dimension
from postcheck.limits import below
from postcheck.plain import nearest, quoted

# Packs are sold by round figures: four LiFePO4 cells of 3.2 V as 12 V, which is 6.3 % less. Up to its full volts a
# cell may be named by those as well.
ROUND = 0.07


def cells_in(supply: Supply) -> int:
    """Cells in series. A battery of which the file gives volts alone counts as one cell."""
    row, block = _row(supply), listed(supply)
    if supply.cells is not None:
        return supply.cells
    if block is not None and block.cells > 1:
        return block.cells
    return _made_up(supply.volts, row) or 1


def chemistries_of(volts: float) -> list[str]:
    """The chemistries of which a whole number of cells makes up these volts."""
    return [name for name in catalogue.names("battery") if _made_up(volts, catalogue.chemistry(name))]


def listed(supply: Supply) -> catalogue.CellSize | None:
    """The row of the catalogue that a battery's chemistry and size name; None where they name none."""
    row = _row(supply)
    return row.find(supply.size) if row is not None and supply.size is not None else None


def takes_one_more(supply: Supply) -> bool:
    """Whether it is made of single cells, so that one more can be bought and put in: no block, no pack, nothing of lithium but coin cells."""
    row, block = _row(supply), listed(supply)
    if row is None or supply.cells is None or (block is not None and block.cells > 1):
        return False
    return is_coin(supply) or not (row.lithium or row.name == "lead-acid")


def most_of_any_size(supply: Supply) -> float:
    """What the largest cell of a battery's chemistry may give for good, A; 0 where none is listed."""
    row = _row(supply)
    return max((size.most_current or 0.0 for size in row.sizes), default=0.0) if row is not None else 0.0


def is_coin(supply: Supply) -> bool:
    """Whether it is a button or coin cell, small enough to be swallowed."""
    row = _row(supply)
    return row is not None and row.size(supply.size).coin


def is_lead_acid(supply: Supply) -> bool:
    """Whether it gives off hydrogen when it is charged too far."""
    row = _row(supply)
    return row is not None and row.name == "lead-acid"


def is_power_bank(supply: Supply) -> bool:
    """Whether it is a lithium pack with a charger: said so, or a USB source that switches off below some load."""
    says_when = supply.switches_off_below is not None or supply.switches_off_after is not None
    return supply.port == "power-bank" or (supply.kind == "usb" and says_when)


def cell_problems(name: str, supply: Supply) -> Iterator[Problem]:
    """What a battery's chemistry, size, cells and volts say against each other, or leave open."""
    path: Path = ("supply", name)
    if supply.chemistry is None:
        yield from _without_chemistry(name, supply, path)
        return
    row = _row(supply)
    if row is None:
        return  # told as an unknown name
    block = row.find(supply.size) if supply.size is not None else None
    if supply.size is not None and block is None and row.sizes:
        yield _unknown_size(supply.size, row, (*path, "size"))
        return
    if supply.cells is not None and block is not None and supply.cells % block.cells:
        yield Problem(
            "file.out-of-range", (*path, "cells"),
            f"a block of size {quoted(block.name)} has {block.cells} cells, and cells = {supply.cells} is said",
            f"write cells = {block.cells} for one block, {2 * block.cells} for two in series",
        )  # fmt: skip
        return
    yield from _cut_off_of_one(supply, row, path)
    if supply.cells is None and (block is None or block.cells == 1):
        yield from _count_left_open(name, supply, row, path)
    elif supply.volts is not None and not _fits(supply.volts, cells_in(supply), row):
        made = cells_in(supply)
        counted = _made_up(supply.volts, row)
        yield Problem(
            "file.invalid", (*path, "volts"),
            f"{made} {row.name} {'cell makes' if made == 1 else 'cells make'} {_volts(made * row.nominal_volts)}, not {_volts(supply.volts)}",
            (f"write cells = {counted}, or " if counted and (block is None or block.cells == 1) else "") + "leave `volts` out",
        )  # fmt: skip


# A cut-off below this share of that of its cells is the one of a single cell: two of them make half. Judgement.
_OF_ONE = 0.6


def _cut_off_of_one(supply: Supply, row: catalogue.Chemistry, path: Path) -> Iterator[Problem]:
    """A cut-off that is written for one cell, where it counts for all in series: so deep it ruins them."""
    cells = cells_in(supply)
    empty = cells * row.empty_volts
    if cells > 1 and supply.cut_off is not None and below(supply.cut_off, _OF_ONE * empty):
        yield Problem(
            "file.invalid", (*path, "cut_off"),
            f"{cells} {row.name} cells are empty at {_volts(empty)} in all, and {_volts(supply.cut_off)} would empty each to {_volts(supply.cut_off / cells)}",
            f"cut_off is that of all {cells} in series, such as cut_off = \"{_volts(empty)}\"",
        )  # fmt: skip


def _row(supply: Supply) -> catalogue.Chemistry | None:
    if supply.kind != "battery" or supply.chemistry is None:
        return None
    try:
        return catalogue.chemistry(supply.chemistry)
    except catalogue.UnknownRow:
        return None


def _fits(volts: float, cells: int, row: catalogue.Chemistry) -> bool:
    """Whether so many cells may be called by these volts."""
    most = max(row.nominal_volts * (1.0 + ROUND), row.full_volts * (1.0 + 1e-9))
    return row.nominal_volts * (1.0 - ROUND) <= volts / cells <= most


def _made_up(volts: float | None, row: catalogue.Chemistry | None) -> int | None:
    """The whole number of cells that makes up these volts; None where no number does."""
    if volts is None or row is None:
        return None
    cells = max(1, round(volts / row.nominal_volts))
    return cells if _fits(volts, cells, row) else None


def _without_chemistry(name: str, supply: Supply, path: Path) -> Iterator[Problem]:
    if supply.volts is None:
        yield Problem(
            "file.missing", path, f"battery {quoted(name)} needs `chemistry` and `cells`, or `volts`",
            'such as chemistry = "alkaline" and cells = 3', "key",
        )  # fmt: skip
    elif supply.size is not None:
        yield Problem(
            "file.missing", (*path, "size"), f"the size of {quoted(name)} tells nothing without its `chemistry`",
            'such as chemistry = "alkaline"', "key",
        )  # fmt: skip


def _count_left_open(name: str, supply: Supply, row: catalogue.Chemistry, path: Path) -> Iterator[Problem]:
    if supply.volts is None:
        yield Problem(
            "file.missing", path, f"battery {quoted(name)} needs `cells`",
            f"how many are in series: one has {_volts(row.nominal_volts)}", "key",
        )  # fmt: skip
    elif _made_up(supply.volts, row) is None:
        fewer = max(1, int(supply.volts / row.nominal_volts))
        yield Problem(
            "file.invalid", (*path, "volts"),
            f"{_volts(supply.volts)} is no whole number of {row.name} cells",
            f"{fewer} {'makes' if fewer == 1 else 'make'} {_volts(fewer * row.nominal_volts)}, {fewer + 1} make {_volts((fewer + 1) * row.nominal_volts)}; write `cells`",
        )  # fmt: skip


def _unknown_size(size: str, row: catalogue.Chemistry, path: Path) -> Problem:
    known = [other.name for other in row.sizes]
    near = nearest(size, known)
    hint = f"did you mean {quoted(near)}? " if near else ""
    return Problem(
        "file.unknown-name", path, f"there is no size {quoted(size)} of {row.name} cell",
        f"{hint}The catalogue has {', '.join(known)}; for another leave `size` out and give its `capacity`, `rated` and `resistance`",
    )  # fmt: skip


def _volts(value: float) -> str:
    return format_quantity(value, Dimension.VOLTAGE)
