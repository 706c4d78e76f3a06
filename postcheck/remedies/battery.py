"""Another battery: other cells of the catalogue, one more of them, for a coin cell others that carry more; with the resistors that go with it."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from postcheck import catalogue
from postcheck.description.cells import cells_in, is_coin, listed
from postcheck.description.models import Supply
from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.limits import above, below
from postcheck.physics.battery import capacity_at, charge_left
from postcheck.remedies.fuse import with_a_first_fuse
from postcheck.remedies.proposal import Proposal, Proposer, changed, quantity, set_to, taken_out
from postcheck.remedies.ratings import amps, cells_of, in_volts, larger_sizes, rating_for, size_called
from postcheck.remedies.resistor import at_other_volts
from postcheck.report import Figure, Finding
from postcheck.survey import Survey
from postcheck.survey.network.supplies import cell_of, typical_volts

# What replaces coin cells: cells of these sizes, 1.5 V each. Common practice.
_FOR_COIN, _SIZES, _EACH = "alkaline", ("aaa", "aa"), 1.5
# Single cells in the holder that takes the place of a block of six or seven: common practice.
_HOLDER = 8
# Keys about the old cells, which go with them.
_OF_THE_OLD = ("capacity", "rated", "resistance", "cut_off", "protected")
# Another chemistry may replace cells one for one down to this share of their volts: NiMH of 1.2 V for 1.5 V.
_AS_MANY = 0.8


def _larger_cells(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The next sizes of the chemistry; where the file states a capacity, or none is larger, one that lasts, and keeps its lamps lit."""
    name = finding.subject.name
    said = survey.build.supply[name]
    if (finding.case or "").startswith("empty from the start"):
        if said.chemistry is not None and said.cells is not None:
            volts = catalogue.chemistry(said.chemistry).empty_volts * said.cells
            yield Proposal(
                f"Use more cells, or set the cut-off to {in_volts(volts)}.",
                (quantity(("supply", name, "cut_off"), volts, Dimension.VOLTAGE),),
            )
        return
    needed = finding.figures["needed"].value if "needed" in finding.figures else 0.0
    if is_coin(said):
        yield from _larger_coins(survey, name, needed)
        yield from _for_coins(survey, name, needed)
        return
    if (has := listed(said)) is not None:
        yield from _other_cells(survey, name, has)
        return
    if needed:
        battery = survey.batteries[name]
        lit = needed
        if battery.dim_seconds and battery.wanted and battery.holds:
            lit = max(needed, battery.holds * battery.wanted / battery.dim_seconds)
        for charge in (needed, lit):
            yield _holding(name, charge)


def _holding(name: str, charge: float) -> Proposal:
    """Cells that hold so much (C), in tenths of an ampere-hour."""
    tenths = ceil(charge / 360.0 - 1e-6)
    return Proposal(
        f"Use cells of {format_quantity(tenths * 360.0, Dimension.CHARGE)} or more.",
        (quantity(("supply", name, "capacity"), tenths * 360.0, Dimension.CHARGE),),
    )


def _larger_coins(survey: Survey, name: str, needed: float) -> Iterator[Proposal]:
    """The next coin cell that holds so much (C), where the file does not state a capacity of its own."""
    said = survey.build.supply[name]
    if said.capacity is not None or said.chemistry is None:
        return
    for size in larger_sizes(said.chemistry, said.size or "")[:2]:
        if not below(_holds(said.chemistry, size), needed):
            yield cells_of(name, size)._replace(replaces=("supply", name))
            return


def _holds(chemistry: str, size: str) -> float:
    return catalogue.chemistry(chemistry).size(size).capacity or 0.0


def _for_coins(survey: Survey, name: str, needed: float = 0.0) -> Iterator[Proposal]:
    """Other cells in place of coin cells that hold `needed` C: of the same volts, or one more with larger resistors."""
    said, battery = survey.build.supply[name], survey.batteries[name]
    before = typical_volts(said)
    same = round(before / _EACH)
    words, resistors = at_other_volts(survey, name, (same + 1) * _EACH - before)
    sizes = [size for size in _SIZES if not below(_holds(_FOR_COIN, size), needed)]
    plain = [_exchanged(name, said, same, size) for size in sizes]
    more = []
    for size in sizes if resistors else ():
        one = _exchanged(name, said, same + 1, size)
        says = f"{one.says.removesuffix('.')}, with {words}."
        more.append(one._replace(says=says, changes=(*one.changes, *resistors)))
    # the same number is too few if a lamp is dim while they still hold much
    row, early = catalogue.chemistry(_FOR_COIN), survey.limits.value("battery.early")
    full, flat, half = (volts * same for volts in (row.full_volts, row.empty_volts, row.half_volts))
    fades = any(above(charge_left(volts, full, flat, half), early) for _, volts, _ in battery.dim[:1])
    for proposal in (*more, *plain) if fades else (*plain, *more):
        yield with_a_first_fuse(survey, name, proposal)


def _exchanged(name: str, said: Supply, cells: int, size: str) -> Proposal:
    """Other cells in the place of coin cells."""
    stated = (key for key in _OF_THE_OLD if getattr(said, key) is not None)
    return Proposal(
        f"Use {cells} {_FOR_COIN} {size.upper()} {'cell' if cells == 1 else 'cells'} instead.",
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
    if (has := listed(said)) is not None:
        yield from _other_cells(survey, name, has, load)
        return
    if (hourly := survey.batteries[name].hourly) is not None:
        yield _holding(name, load / hourly * 3600.0)
    rating = rating_for(load, 1.0)
    if rating is not None:
        yield Proposal(
            f"Use cells that may give {amps(rating)} for long.",
            (quantity(("supply", name, "rated"), rating, Dimension.CURRENT),),
        )


def _other_cells(survey: Survey, name: str, has: catalogue.CellSize, load: float = 0.0) -> Iterator[Proposal]:
    """Cells of the catalogue that hold what is asked of a battery and carry its load (A); what changes least first.

    The number of cells stays, for the holder does. No lithium cell takes the place of another chemistry.
    """
    said, battery = survey.build.supply[name], survey.batteries[name]
    own = catalogue.chemistry(said.chemistry or "")
    asked = battery.average * (battery.wanted or 0.0) / survey.limits.value("battery.derate")
    # so much more is needed if lamps fade before the cells are empty
    lit = battery.seconds / battery.dim_seconds if battery.seconds and battery.dim_seconds else 1.0
    found = []
    for chemistry in (row for row in catalogue.rows("battery") if isinstance(row, catalogue.Chemistry)):
        if chemistry is not own and (own.lithium or chemistry.lithium or not _alike(own, chemistry)):
            continue
        for size in chemistry.sizes:
            if size.coin or (size.cells == 1) != (has.cells == 1) or (chemistry is own and size is has):
                continue
            proposal = _put_in(name, said, has, chemistry, size)
            cell = cell_of(changed(survey.build, proposal.changes).supply[name])
            if cell is None or below(cell.most_current or 0.0, max(battery.highest, load)):
                continue
            holds = (
                capacity_at(cell.at_rates, battery.average)
                if cell.at_rates and battery.average > 0.0
                else cell.capacity or 0.0
            )
            if not below(holds, asked):
                order = (
                    below(holds, lit * asked),
                    chemistry.nominal_volts != own.nominal_volts,
                    (chemistry is not own) + 2 * (size.name != has.name),
                    holds,
                )
                found.append((order, proposal))
    for _, proposal in sorted(found, key=lambda row: row[0]):
        yield with_a_first_fuse(survey, name, proposal)


def _alike(one: catalogue.Chemistry, other: catalogue.Chemistry) -> bool:
    """Whether cells of one replace the same number of the other: NiMH of 1.2 V do for primary cells of 1.5 V."""
    low, high = sorted((one.nominal_volts, other.nominal_volts))
    return not below(low, _AS_MANY * high)


def _put_in(
    name: str, said: Supply, has: catalogue.CellSize, chemistry: catalogue.Chemistry, size: catalogue.CellSize
) -> Proposal:
    """Cells of a chemistry and size in the place of others; keys about the old ones go with them."""
    other = chemistry.name != catalogue.chemistry(said.chemistry or "").name
    changes, blocks = [], cells_in(said) // has.cells
    if other:
        changes.append(set_to(("supply", name, "chemistry"), chemistry.name))
    if size.name != has.name:
        changes.append(set_to(("supply", name, "size"), size.name))
    if size.cells != has.cells and said.cells is not None:
        changes.append(set_to(("supply", name, "cells"), blocks * size.cells))
    old = ("capacity", "rated", "resistance", *(("cut_off", "volts") if other else ()))
    stated = [key for key in old if getattr(said, key) is not None]
    changes += [taken_out(("supply", name, key)) for key in stated]
    if "volts" in stated and said.cells is None and size.cells == 1:
        changes.append(set_to(("supply", name, "cells"), blocks))
    kind = f"{chemistry.name} " if other else ""
    if size.name == has.name:
        return Proposal(f"Use {kind}cells of the same size.", tuple(changes))
    return Proposal(f"Use {kind}{size_called(size.name)} cells.", tuple(changes))


def _one_cell_more(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """One cell more, with larger resistors where it takes them; coin cells that give too much are not doubled but exchanged."""
    name = finding.subject.name
    said, battery = survey.build.supply[name], survey.batteries[name]
    coin = is_coin(said)
    own: tuple[str | int, ...] = ("supply", name) if coin else ()
    if coin and battery.most is not None and above(battery.highest, battery.most):
        yield from _for_coins(survey, name)
        return
    block = listed(said)
    if block is not None and block.cells != 1:
        yield from _in_a_holder(survey, name, block.cells)
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


def _in_a_holder(survey: Survey, name: str, has: int) -> Iterator[Proposal]:
    """For a block, which takes no cell more: single cells of its chemistry in a holder, with larger resistors.

    Nothing where there are several blocks: the holder has no room for as many cells.
    """
    said = survey.build.supply[name]
    if said.chemistry is None or cells_in(said) != has:
        return
    words, resistors = at_other_volts(survey, name, (_HOLDER / has - 1.0) * typical_volts(said))
    stated = (key for key in (*_OF_THE_OLD, "volts") if getattr(said, key) is not None)
    changes = (
        set_to(("supply", name, "cells"), _HOLDER), *(taken_out(("supply", name, key)) for key in stated), *resistors
    )  # fmt: skip
    for size in _SIZES:
        if catalogue.chemistry(said.chemistry).find(size) is not None:
            yield with_a_first_fuse(
                survey,
                name,
                Proposal(
                    f"Use {_HOLDER} {size.upper()} cells in a holder{', with ' * bool(words)}{words}.",
                    (set_to(("supply", name, "size"), size), *changes),
                    figures={"cells": Figure(_HOLDER, "")},
                    alone=True,
                    replaces=("supply", name),
                ),
            )


CELLS: dict[str, Proposer] = {
    "battery.too-short": _larger_cells,
    "battery.overload": _carrying_more,
    "battery.stops-early": _one_cell_more,
    "battery.dim-early": _one_cell_more,
}
