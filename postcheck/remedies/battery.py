"""Another battery: larger cells, one more of them, for a coin cell others that carry more; with the resistors that go with it."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from postcheck import catalogue
from postcheck.description.cells import cells_in, is_coin
from postcheck.description.models import Supply
from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.physics.battery import charge_left
from postcheck.remedies.fuse import with_a_first_fuse
from postcheck.remedies.proposal import Proposal, Proposer, quantity, set_to, taken_out
from postcheck.remedies.ratings import SOLD, amps, cells_of, larger_sizes
from postcheck.remedies.resistor import at_other_volts
from postcheck.report import Figure, Finding
from postcheck.survey import Survey
from postcheck.survey.network.supplies import typical_volts

# What coin cells are used for, cells of these sizes carry: so many of 1.5 V each. Common practice.
_FOR_COIN, _SIZES, _EACH = "alkaline", ("aaa", "aa"), 1.5
# Facts of the cells that are taken out.
_OF_THE_OLD = ("capacity", "rated", "resistance", "cut_off", "protected")


def _larger_cells(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The next sizes of the chemistry; where the file states a capacity, or none is larger, one that lasts, and keeps its lamps lit."""
    name = finding.subject.name
    said = survey.build.supply[name]
    if (finding.case or "").startswith("empty from the start"):
        if said.chemistry is not None and said.cells is not None:
            volts = catalogue.chemistry(said.chemistry).empty_volts * said.cells
            yield Proposal(
                f"Use more cells, or set the cut-off to {_volts(volts)}.",
                (quantity(("supply", name, "cut_off"), volts, Dimension.VOLTAGE),),
            )
        return
    needed = finding.figures["needed"].value if "needed" in finding.figures else 0.0
    if is_coin(said):
        yield from _larger_coins(survey, name, needed)
        yield from _for_coins(survey, name, needed)
        return
    if said.capacity is None and said.chemistry is not None and said.size is not None:
        for size in larger_sizes(said.chemistry, said.size)[:2]:
            yield cells_of(name, size)
    if needed:
        battery = survey.batteries[name]
        lit = needed
        if battery.dim_seconds and battery.wanted and battery.holds:
            lit = max(needed, battery.holds * battery.wanted / battery.dim_seconds)
        for charge in (needed, lit):
            tenths = ceil(charge / 360.0 - 1e-6)
            shown = format_quantity(tenths * 360.0, Dimension.CHARGE)
            yield Proposal(
                f"Use cells of {shown} or more.",
                (quantity(("supply", name, "capacity"), tenths * 360.0, Dimension.CHARGE),),
            )


def _larger_coins(survey: Survey, name: str, needed: float) -> Iterator[Proposal]:
    """The next coin cell that holds so much (C), where the file does not state a capacity of its own."""
    said = survey.build.supply[name]
    if said.capacity is not None or said.chemistry is None:
        return
    for size in larger_sizes(said.chemistry, said.size or "")[:2]:
        if _holds(said.chemistry, size) >= needed:
            yield cells_of(name, size)._replace(replaces=("supply", name))
            return


def _holds(chemistry: str, size: str) -> float:
    row = catalogue.chemistry(chemistry).find(size)
    return (row.capacity if row is not None else None) or 0.0


def _for_coins(survey: Survey, name: str, needed: float = 0.0) -> Iterator[Proposal]:
    """Other cells that hold so much (C) for coin cells: of their volts, or one more with larger resistors."""
    said, battery = survey.build.supply[name], survey.batteries[name]
    before = typical_volts(said)
    same = round(before / _EACH)
    words, resistors = at_other_volts(survey, name, (same + 1) * _EACH - before)
    sizes = [size for size in _SIZES if _holds(_FOR_COIN, size) >= needed]
    plain = [_exchanged(name, said, same, size) for size in sizes]
    more = []
    for size in sizes if resistors else ():
        one = _exchanged(name, said, same + 1, size)
        says = f"{one.says.removesuffix('.')}, with {words}."
        more.append(one._replace(says=says, changes=(*one.changes, *resistors)))
    # the same number is too few for a lamp that is dim while they hold much still
    row, early = catalogue.chemistry(_FOR_COIN), survey.limits.value("battery.early")
    full, flat, half = (volts * same for volts in (row.full_volts, row.empty_volts, row.half_volts))
    fades = any(charge_left(volts, full, flat, half) > early for _, volts, _ in battery.dim[:1])
    for proposal in (*more, *plain) if fades else (*plain, *more):
        yield with_a_first_fuse(survey, name, proposal)


def _exchanged(name: str, said: Supply, cells: int, size: str) -> Proposal:
    """Other cells in the place of coin cells."""
    stated = (key for key in _OF_THE_OLD if getattr(said, key) is not None)
    return Proposal(
        f"Use {cells} {_FOR_COIN} {size.upper()} cells instead.",
        (
            set_to(("supply", name, "chemistry"), _FOR_COIN),
            set_to(("supply", name, "size"), size),
            set_to(("supply", name, "cells"), cells),
            *(taken_out(("supply", name, key)) for key in stated),
        ),
        figures={"cells": Figure(cells, "")},
        alone=True,
        replaces=("supply", name),
    )


def _carrying_more(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """For cells that give too much: larger ones, or those that are made for it; for coin cells others."""
    name = finding.subject.name
    said = survey.build.supply[name]
    load = finding.figures["load"].value
    if said.chemistry is None:
        return
    if is_coin(said):
        yield from _for_coins(survey, name)
        return
    for larger in larger_sizes(said.chemistry, said.size or ""):
        row = catalogue.chemistry(said.chemistry).find(larger)
        if row is not None and (row.most_current or 0.0) >= load:
            yield cells_of(name, larger)
    rating = next((rating for rating in SOLD if rating >= load), None)
    if rating is not None:
        yield Proposal(
            f"Use cells that may give {amps(rating)} for long.",
            (quantity(("supply", name, "rated"), rating, Dimension.CURRENT),),
        )


def _one_cell_more(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """One cell more, with larger resistors where it takes them; coin cells that give too much are not doubled but exchanged."""
    name = finding.subject.name
    said, battery = survey.build.supply[name], survey.batteries[name]
    coin = is_coin(said)
    own: tuple[str | int, ...] = ("supply", name) if coin else ()
    if coin and battery.most is not None and battery.highest > battery.most:
        yield from _for_coins(survey, name)
        return
    if said.cells is None or finding.remedy is None:
        return
    more = set_to(("supply", name, "cells"), said.cells + 1)
    yield Proposal(finding.remedy, (more,), alone=True, replaces=own)
    words, changes = at_other_volts(survey, name, typical_volts(said) / cells_in(said))
    if changes:
        yield Proposal(
            f"Use {said.cells + 1} cells, with {words}.", (more, *changes), alone=True, replaces=own
        )


def _volts(volts: float) -> str:
    return format_quantity(volts, Dimension.VOLTAGE)


CELLS: dict[str, Proposer] = {
    "battery.too-short": _larger_cells,
    "battery.overload": _carrying_more,
    "battery.stops-early": _one_cell_more,
    "battery.dim-early": _one_cell_more,
}
