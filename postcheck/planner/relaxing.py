"""What of a wish could be otherwise: for what stands in the way, values of the file from little to much, where the figures say to begin.

The figures of a finding say how much is too much; the values here begin there. None of them is proven: what frees a plan is
tried in `frees.py`.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, degrees, floor, log10, radians
from typing import NamedTuple

from postcheck.description.called import POWER_WORDS, POWERS
from postcheck.description.models import Build
from postcheck.description.naming import passages_of
from postcheck.description.printing import format_quantity
from postcheck.description.toml_text import in_toml
from postcheck.description.units import Dimension
from postcheck.planner.moves import excess
from postcheck.planner.routes import Routes
from postcheck.planner.wires import has_room, thinner_wires, through
from postcheck.remedies.proposal import Change, set_to
from postcheck.remedies.ratings import ADAPTORS, larger_sizes
from postcheck.remedies.table import proposals
from postcheck.report import Finding
from postcheck.survey import Survey
from postcheck.wiring.data import wire_data

# Bores are tried in steps of this, m; turns, rad; currents that are wanted in this part of what is asked for.
BORE_STEP, TURN_STEP, WANTED_STEP = 5e-5, radians(5.0), 0.05
# A rating, a surface or a time has two figures; where what the figures ask for is not enough, or too much, so much of it is tried.
LESS, MORE = (0.82, 0.9), (1.0, 1.05, 1.12, 1.25, 1.5, 1.75, 2.0)
# The widest bore that is looked at, m.
WIDEST = 0.02

Changes = tuple[Change, ...]

KEPT, ANEW = frozenset({"kept"}), frozenset({"drafted"})
BOTH = KEPT | ANEW


class Series(NamedTuple):
    """Values for the same keys, from the least to the most relaxed; `first`: the number of the one that the figures ask for.

    `by`: in which ways it can be tried: by the best wiring so far, kept as it is, and by wirings that are drafted anew.
    """

    steps: tuple[Changes, ...]
    first: int = 0
    by: frozenset[str] = BOTH


class Near(NamedTuple):
    """A finding of the best wiring so far, `after`; `thin`: that wiring of the thinnest wire."""

    wish: Build
    after: Survey
    finding: Finding
    thin: Build


def relaxations(at: Near) -> Iterator[Series]:
    """What could cure a finding, the most local first."""
    for source in (_values, _passage, _battery, _stock, _wanted, _boards, _volts, _remedies):
        yield from (one for one in source(at) if one.steps)


def _quantity(path: tuple[str | int, ...], value: float, dimension: Dimension) -> Change:
    return Change(path, float(f"{value:.9g}"), in_toml(format_quantity(value, dimension)))


def _two_figures(value: float, *, up: bool = True) -> float:
    step = 10.0 ** (floor(log10(value)) - 1)
    return float(f"{(ceil(value / step - 1e-6) if up else floor(value / step + 1e-6)) * step:.9g}")


def _more(path: tuple[str | int, ...], value: float, dimension: Dimension) -> Series:
    """A value as the figures ask for it, less and more."""
    rows = list(dict.fromkeys(_two_figures(value * factor) for factor in (*LESS, *MORE)))
    return Series(tuple((_quantity(path, row, dimension),) for row in rows), rows.index(_two_figures(value)))


# -- a value of the file that is too small or too large


def _values(at: Near) -> Iterator[Series]:
    name, figures, limit = at.finding.subject.name, at.finding.figures, at.finding.limit
    if at.finding.check in ("supply.overload", "converter.overload") and "highest" in figures:
        needed = figures["highest"].value / at.after.limits.value("supply.load.caution")
        if at.wish.supply[name].rated is not None:
            yield _more(("supply", name, "rated"), needed, Dimension.CURRENT)
    if at.finding.check in ("output.overload", "board.overload") and "highest" in figures:
        needed = figures["highest"].value / at.after.limits.value("output.load")
        said = at.wish.circuit.get(name)
        if at.finding.subject.kind == "board":
            yield _more(("board", name, "total"), needed, Dimension.CURRENT)
        elif said is not None and said.output is not None and said.output.limit is not None:
            yield _more(("circuit", name, "output", "limit"), needed, Dimension.CURRENT)
        elif said is not None and said.board is not None:
            yield _more(("board", said.board, "limit"), needed, Dimension.CURRENT)
    if at.finding.check == "place.too-hot" and at.wish.place[name].surface and "allowed" in figures:
        allowed, heat = figures["allowed"].value, figures["heat"].value
        if allowed > 0.0:
            needed = (at.wish.place[name].surface or 0.0) * heat / allowed
            yield _more(("place", name, "surface"), needed, Dimension.AREA)
    if at.finding.check == "flash.rate" and limit is not None and limit.unit == "Hz":
        circuit = at.wish.circuit.get(name)
        if circuit is not None and circuit.rate is not None and circuit.rate > limit.value:
            yield Series(((_quantity(("circuit", name, "rate"), limit.value, Dimension.RATE),),))


# -- passages


def _passage(at: Near) -> Iterator[Series]:
    name = at.finding.subject.name
    passage = passages_of(at.wish).get(name) if at.finding.check.startswith("passage.") else None
    if passage is None:
        return
    path: tuple[str | int, ...] = (
        ("post",) if name == "post" and at.wish.post is not None else ("passage", name)
    )
    if at.finding.check in ("passage.cannot-fit", "passage.tight", "passage.full", "passage.jam"):
        mine, others = through(at.thin, name, len(at.wish.run))
        each = [
            wire_data(at.thin, at.thin.run[one].wire or at.thin.usual.run or "").max_diameter
            for one in mine
            for _ in range(at.thin.run[one].conductors)
        ]
        low = int(passage.bore / BORE_STEP + 1e-6) + 1
        numbers = range(low, int(WIDEST / BORE_STEP))
        fits = next(
            (
                number
                for number in numbers
                if has_room(
                    [*others, *each], passage.model_copy(update={"bore": number * BORE_STEP}), at.after.limits
                )
            ),
            None,
        )
        if fits is not None:
            steps = range(max(low, fits - 3), fits + 8)
            yield Series(
                tuple(
                    ((_quantity((*path, "bore"), number * BORE_STEP, Dimension.LENGTH)),) for number in steps
                ),
                fits - steps[0],
                by=ANEW,
            )
    figures = at.after.passages.get(name)
    if passage.turn > 0.0 and figures is not None and at.finding.check in (
        "passage.strain", "passage.loops", "passage.slack", "passage.coiled", "passage.solid", "passage.enamelled",
    ):  # fmt: skip
        borne = figures.turn_borne or 0.0
        most = min(passage.turn, at.after.limits.value("twist.turn.caution"))
        count = ceil(degrees(passage.turn) / degrees(TURN_STEP) - 1e-6) - 1
        turns = [number * TURN_STEP for number in range(count, 0, -1)]
        if turns:
            borne = min(most, borne) if borne else most
            first = next((number for number, turn in enumerate(turns) if turn <= borne * (1.0 + 1e-6)), 0)
            yield Series(tuple((_quantity((*path, "turn"), turn, Dimension.ANGLE),) for turn in turns), first)


# -- batteries


def _battery(at: Near) -> Iterator[Series]:
    names = {driver.supply for driver in at.after.wiring.drivers.values()}
    if at.finding.subject.kind == "supply":
        names = {at.finding.subject.name}
    elif at.finding.subject.kind == "lamp":
        lamp = at.after.electrics.lamps.get(at.finding.subject.name)
        names = {at.after.wiring.drivers[lamp.part.circuit].supply} if lamp is not None else set()
    figures = at.finding.figures
    for name in names:
        supply = at.wish.supply.get(name or "")
        if supply is None or supply.kind != "battery" or name is None:
            continue
        lasts = figures.get("lasts") or (figures.get("after") if "wanted" in figures else None)
        if supply.runs_for is not None and lasts is not None and lasts.value > 0.0:
            rows = dict.fromkeys(
                _two_figures(lasts.value * part / 3600.0, up=False) * 3600.0
                for part in (1.0, 0.95, 0.85, 0.7)
            )
            yield Series(
                tuple((_quantity(("supply", name, "runs_for"), row, Dimension.TIME),) for row in rows)
            )
        if at.finding.check == "battery.too-short" and supply.capacity is not None:
            yield _more(("supply", name, "capacity"), supply.capacity * excess(at.finding), Dimension.CHARGE)
        if (
            at.finding.check.startswith("battery.")
            and supply.chemistry
            and supply.size
            and supply.capacity is None
        ):
            sizes = larger_sizes(supply.chemistry, supply.size)
            yield Series(tuple((set_to(("supply", name, "size"), size),) for size in sizes), by=ANEW)
        low = at.finding.check in ("battery.dim-early", "battery.stops-early", "lamp.dim", "lamp.not-as-wanted", "lamp.over-rating", "lamp.unequal", "line.drop", "load.low-volts", "battery.fades")  # fmt: skip
        if low and supply.cells:
            now, needed = supply.cells, supply.cells + 1
            dim, empty = figures.get("dim"), figures.get("empty")
            if dim is not None and empty is not None and empty.value > 0.0:
                needed = max(needed, ceil(now * dim.value / empty.value - 1e-6))
            steps = range(now + 1, max(needed, now) + 4)
            yield Series(
                tuple((set_to(("supply", name, "cells"), number),) for number in steps),
                needed - now - 1, by=ANEW,
            )  # fmt: skip


# -- what is at hand


def _stock(at: Near) -> Iterator[Series]:
    powers = at.wish.stock.powers
    if at.finding.check in ("resistor.overloaded", "part.hot-spot") and powers is not None:
        words = dict(zip(POWERS, POWER_WORDS, strict=True))

        def called(watts: float) -> str:
            return words.get(watts) or format_quantity(watts, Dimension.POWER)

        more = [watts for watts in POWERS if watts > max(powers)]
        needed = max(
            (figures.value for name, figures in at.finding.figures.items() if name == "highest"), default=0.0
        )
        needed /= at.after.limits.value("resistor.power.caution")
        first = next((number for number, watts in enumerate(more) if watts >= needed), 0)
        yield Series(
            tuple(
                (Change(("stock", "powers"), (*powers, watts), in_toml([*map(called, (*powers, watts))])),)
                for watts in more
            ),
            first, by=ANEW,
        )  # fmt: skip
    wires = at.wish.stock.wires
    if wires is not None and at.finding.check in (
        "passage.cannot-fit",
        "passage.tight",
        "passage.full",
        "passage.jam",
    ):
        passage = passages_of(at.wish)[at.finding.subject.name]
        mine, others = through(at.thin, at.finding.subject.name, len(at.wish.run))
        count = sum(at.thin.run[one].conductors for one in mine)
        free = at.wish.model_copy(update={"stock": at.wish.stock.model_copy(update={"wires": None})})
        rows = [row for row in thinner_wires(free, wires[0], at.after.limits) if row.name not in wires]
        moves = passage.turn > 0.0 or passage.fold > 0.0
        rows = [row for row in rows if not (moves and (row.enamelled or row.solid))]
        thick = [
            row for row in rows if has_room([*others, *[row.max_diameter] * count], passage, at.after.limits)
        ]
        yield Series(
            tuple(
                (Change(("stock", "wires"), (*wires, row.name), in_toml([*wires, row.name])),)
                for row in thick[:3]
            ),
            by=ANEW,
        )


# -- currents that are wanted


def _wanted(at: Near) -> Iterator[Series]:
    """Less current for the lamps of a finding, in steps of what is wanted now."""
    rows = [
        lamp
        for lamp in at.after.electrics.lamps.values()
        if lamp.part.wanted_range is not None
        and len(lamp.part.path) == 2
        and _has_to_do(at.after, at.finding, lamp.part.name)
    ]
    if not rows or at.finding.check.startswith(("passage.", "access.", "flash.", "way.")):
        return
    over = excess(at.finding)
    part = 1.0
    if over > 1.0:
        # at the least of what is wanted now it is still so much too much
        part = min(
            max(lamp.nominal / (over * (lamp.part.wanted or lamp.nominal)) for lamp in rows) / 0.9, 1.0
        )
    elif at.finding.check == "lamp.not-as-wanted":
        part = min(min(lamp.nominal / (lamp.part.wanted or lamp.nominal) for lamp in rows) / 0.8, 1.0)
    shares = [1.0 - WANTED_STEP * number for number in range(1, 19)]
    steps = []
    for share in shares:
        changes = []
        for lamp in rows:
            least, most = lamp.part.wanted_range or (0.0, 0.0)
            low = _two_figures(share * least, up=False)
            high = low if least == most else most
            words = format_quantity(low, Dimension.CURRENT)
            if least < most:
                words = f"{words}..{format_quantity(most, Dimension.CURRENT)}"
            changes.append(Change((*lamp.part.path, "wanted"), (low, high), in_toml(words)))
        steps.append(tuple(changes))
    first = next((number for number, share in enumerate(shares) if share <= part + 1e-9), len(shares) - 1)
    yield Series(tuple(steps), first, by=ANEW)


def _has_to_do(after: Survey, finding: Finding, name: str) -> bool:
    subject, part = finding.subject, after.electrics.lamps[name].part
    driver = after.wiring.drivers[part.circuit]
    return subject.name in (
        name, part.circuit, driver.board, driver.supply, *part.places, part.resistor.place if part.resistor else "",
    )  # fmt: skip


# -- boards elsewhere, other volts


def _boards(at: Near) -> Iterator[Series]:
    """All boards at another place where a hand gets at them."""
    if not at.wish.board or not at.finding.check.startswith(
        ("access.", "place.", "passage.", "way.", "wire.")
    ):
        return
    routes = Routes(at.wish)
    for place in at.wish.place:
        if routes.reachable(place):
            changes = tuple(
                set_to(("board", name, "place"), place)
                for name, board in at.wish.board.items()
                if board.place != place
            )
            if changes:
                yield Series((changes,), by=ANEW)


def _volts(at: Near) -> Iterator[Series]:
    """An adaptor of more volts where lamps lack them, of less where resistors or places are too warm."""
    for name, supply in at.wish.supply.items():
        if supply.kind != "adaptor" or supply.volts is None:
            continue
        now = supply.volts
        fewer = [volts for volts in reversed(ADAPTORS) if volts < now]
        more = [volts for volts in ADAPTORS if volts > now]
        if at.finding.check in (
            "resistor.overloaded",
            "part.hot-spot",
            "place.too-hot",
            "load.over-volts",
            "board.wrong-volts",
        ):
            rows = fewer
        elif at.finding.check in (
            "lamp.dim",
            "lamp.not-as-wanted",
            "lamp.over-rating",
            "load.low-volts",
            "lamp.unequal",
            "circuit.step",
        ):
            rows = more
        else:
            rows = []
        yield Series(
            tuple((_quantity(("supply", name, "volts"), volts, Dimension.VOLTAGE),) for volts in rows[:3]),
            by=ANEW,
        )


# -- what the remedies of the finding say besides


def _remedies(at: Near) -> Iterator[Series]:
    """What a remedy changes in the file itself, not in the wiring that was planned."""
    for proposal in proposals(at.after, at.finding):
        if proposal.changes and all(map(_said, proposal.changes)):
            yield Series((proposal.changes,), by=KEPT)


def _said(change: Change) -> bool:
    own = ("post", "passage", "place", "board", "circuit", "supply")
    return (
        change.written is not None
        and change.path[0] in own
        and change.path[-1] not in ("fuse", "through", "own_return")
    )
