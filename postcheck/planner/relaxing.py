"""What of a wish could be otherwise: for what stands in the way, values of the file from little to much.

The figures of a finding say how much is too much; the values begin there. None of them is proven: what frees a plan is
tried in `frees.py`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import ceil, degrees, floor, log10, radians
from typing import NamedTuple

from postcheck.description.called import POWER_WORDS, POWERS
from postcheck.description.models import Build, Passage, Supply
from postcheck.description.naming import passages_of
from postcheck.description.printing import format_quantity
from postcheck.description.problems import Path
from postcheck.description.toml_text import in_toml
from postcheck.description.units import Dimension
from postcheck.planner.moves import excess
from postcheck.planner.routes import Routes
from postcheck.planner.wires import has_room, thinner_wires, through, usable_in
from postcheck.remedies.proposal import Change, quantity, set_to
from postcheck.remedies.ratings import ADAPTORS, larger_sizes
from postcheck.remedies.table import proposals
from postcheck.report import Finding
from postcheck.survey import Survey
from postcheck.survey.network.resistor_choice import sold
from postcheck.wiring.data import wire_data

# Bores are tried in steps of this, m; turns, rad; currents that are wanted in this part of what is asked for.
BORE_STEP, TURN_STEP, WANTED_STEP = 5e-5, radians(5.0), 0.05
# A rating, a surface or a time has two figures; where what the figures ask for is not enough, or too much, so much of it is tried.
LESS, MORE = (0.82, 0.9), (1.0, 1.05, 1.12, 1.25, 1.5, 1.75, 2.0)
# The widest bore that is looked at, m.
WIDEST = 0.02

# Findings of a passage that is too narrow, of one that turns too far, of lamps that get too little, and of what is too warm.
_TIGHT = ("passage.cannot-fit", "passage.tight", "passage.full", "passage.jam")
_TURNED = (
    "passage.strain", "passage.loops", "passage.slack", "passage.coiled", "passage.solid", "passage.enamelled",
)  # fmt: skip
_DIM = ("lamp.dim", "lamp.not-as-wanted", "lamp.over-rating", "load.low-volts", "lamp.unequal")
_LOW = (*_DIM, "battery.dim-early", "battery.stops-early", "battery.fades", "line.drop")
_WARM = ("resistor.overloaded", "part.hot-spot", "place.too-hot", "load.over-volts", "board.wrong-volts")

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
    for source in (
        _values,
        _wider,
        _less_turn,
        _batteries,
        _powers,
        _wires,
        _wanted,
        _boards,
        _volts,
        _remedies,
    ):
        yield from (one for one in source(at) if one.steps)


def _set(path: Path, value: float, dimension: Dimension) -> Change:
    return quantity(path, float(f"{value:.9g}"), dimension)


def _one_key(changes: Iterable[Change], first: int = 0, by: frozenset[str] = BOTH) -> Series:
    return Series(tuple((change,) for change in changes), first, by)


def _two_figures(value: float, *, up: bool = True) -> float:
    step = 10.0 ** (floor(log10(value)) - 1)
    return float(f"{(ceil(value / step - 1e-6) if up else floor(value / step + 1e-6)) * step:.9g}")


def _more(path: Path, value: float, dimension: Dimension) -> Series:
    """A value as the figures ask for it, less and more."""
    rows = list(dict.fromkeys(_two_figures(value * factor) for factor in (*LESS, *MORE)))
    return _one_key((_set(path, row, dimension) for row in rows), rows.index(_two_figures(value)))


# -- a value of the file that is too small or too large


def _values(at: Near) -> Iterator[Series]:
    name, figures, limit = at.finding.subject.name, at.finding.figures, at.finding.limit
    if at.finding.check in ("supply.overload", "converter.overload") and "highest" in figures:
        needed = figures["highest"].value / at.after.limits.value("supply.load.caution")
        if at.finding.path[-1:] == ("current_limit",):
            yield _more(("supply", name, "current_limit"), figures["highest"].value, Dimension.CURRENT)
        elif at.wish.supply[name].rated is not None:
            yield _more(("supply", name, "rated"), needed, Dimension.CURRENT)
    if at.finding.check == "battery.overload" and "hourly" in figures:
        needed = figures["load"].value / figures["hourly"].value * 3600.0
        yield _more(("supply", name, "capacity"), needed, Dimension.CHARGE)
    takes = figures.get("highest") or figures.get("current")
    if at.finding.check in ("output.overload", "output.starts", "board.overload") and takes is not None:
        needed = takes.value / at.after.limits.value("output.load")
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
            yield _one_key([_set(("circuit", name, "rate"), limit.value, Dimension.RATE)])


# -- passages


def _passage(at: Near) -> tuple[Path, Passage | None]:
    """The passage that a finding is about, and its path."""
    name = at.finding.subject.name
    path: Path = ("post",) if name == "post" and at.wish.post is not None else ("passage", name)
    return path, passages_of(at.wish).get(name) if at.finding.check.startswith("passage.") else None


def _wider(at: Near) -> Iterator[Series]:
    """Bores about the least in which all of it has room, of the thinnest wire."""
    path, passage = _passage(at)
    if passage is None or at.finding.check not in _TIGHT:
        return
    mine, others = through(at.thin, at.finding.subject.name, len(at.wish.run))
    each = [
        wire_data(at.thin, at.thin.run[one].wire or at.thin.usual.run or "").max_diameter
        for one in mine
        for _ in range(at.thin.run[one].conductors)
    ]

    def fits(number: int) -> bool:
        wider = passage.model_copy(update={"bore": number * BORE_STEP})
        return has_room([*others, *each], wider, at.after.limits)

    low = int(passage.bore / BORE_STEP + 1e-6) + 1
    least = next(filter(fits, range(low, int(WIDEST / BORE_STEP))), None)
    if least is not None:
        steps = range(max(low, least - 3), least + 8)
        bores = (_set((*path, "bore"), number * BORE_STEP, Dimension.LENGTH) for number in steps)
        yield _one_key(bores, least - steps[0], ANEW)


def _less_turn(at: Near) -> Iterator[Series]:
    """Less turn, down from what its wires bear."""
    path, passage = _passage(at)
    figures = at.after.passages.get(at.finding.subject.name)
    if passage is None or figures is None or passage.turn <= 0.0 or at.finding.check not in _TURNED:
        return
    most = min(passage.turn, at.after.limits.value("twist.turn.caution"))
    count = ceil(degrees(passage.turn) / degrees(TURN_STEP) - 1e-6) - 1
    turns = [number * TURN_STEP for number in range(count, 0, -1)]
    borne = min(most, figures.turn_borne or most)
    first = next((number for number, turn in enumerate(turns) if turn <= borne * (1.0 + 1e-6)), 0)
    yield _one_key((_set((*path, "turn"), turn, Dimension.ANGLE) for turn in turns), first)


# -- batteries


def _batteries(at: Near) -> Iterator[Series]:
    """Of the battery that a finding is about, or that feeds its lamp; else of all."""
    drivers = at.after.wiring.drivers
    names = {driver.supply for driver in drivers.values()}
    if at.finding.subject.kind == "supply":
        names = {at.finding.subject.name}
    elif at.finding.subject.kind == "lamp":
        lamp = at.after.electrics.lamps.get(at.finding.subject.name)
        names = {drivers[lamp.part.circuit].supply} if lamp is not None else set()
    for name in names:
        supply = at.wish.supply.get(name or "")
        if name is not None and supply is not None and supply.kind == "battery":
            yield from _battery(at, name, supply)


def _battery(at: Near, name: str, supply: Supply) -> Iterator[Series]:
    """A shorter time, more capacity, larger cells, or more of them."""
    figures = at.finding.figures
    lasts = figures.get("lasts") or (figures.get("after") if "wanted" in figures else None)
    if supply.runs_for is not None and lasts is not None and lasts.value > 0.0:
        hours = (_two_figures(lasts.value * part / 3600.0, up=False) for part in (1.0, 0.95, 0.85, 0.7))
        yield _one_key(
            _set(("supply", name, "runs_for"), time * 3600.0, Dimension.TIME) for time in dict.fromkeys(hours)
        )
    if at.finding.check == "battery.too-short" and supply.capacity is not None:
        yield _more(("supply", name, "capacity"), supply.capacity * excess(at.finding), Dimension.CHARGE)
    by_size = supply.chemistry and supply.size and supply.capacity is None
    if at.finding.check.startswith("battery.") and by_size:
        sizes = larger_sizes(supply.chemistry or "", supply.size or "")
        yield _one_key((set_to(("supply", name, "size"), size) for size in sizes), by=ANEW)
    if at.finding.check in _LOW and supply.cells:
        now, needed = supply.cells, supply.cells + 1
        dim, empty = figures.get("dim"), figures.get("empty")
        if dim is not None and empty is not None and empty.value > 0.0:
            needed = max(needed, ceil(now * dim.value / empty.value - 1e-6))
        steps = range(now + 1, max(needed, now) + 4)
        cells = (set_to(("supply", name, "cells"), number) for number in steps)
        yield _one_key(cells, needed - now - 1, ANEW)


# -- what is at hand


def _powers(at: Near) -> Iterator[Series]:
    """A power of resistors more on the shelf."""
    powers = at.wish.stock.powers
    if at.finding.check not in ("resistor.overloaded", "part.hot-spot") or powers is None:
        return
    words = dict(zip(POWERS, POWER_WORDS, strict=True))
    more = [watts for watts, _ in sold() if watts > max(powers)]
    highest = at.finding.figures.get("highest")
    needed = highest.value / at.after.limits.value("resistor.power.caution") if highest is not None else 0.0
    first = next((number for number, watts in enumerate(more) if watts >= needed), 0)

    def with_one(watts: float) -> Change:
        all_of = (*powers, watts)
        called = [words.get(one) or format_quantity(one, Dimension.POWER) for one in all_of]
        return Change(("stock", "powers"), all_of, in_toml(called))

    yield _one_key(map(with_one, more), first, ANEW)


def _wires(at: Near) -> Iterator[Series]:
    """A wire more on the shelf: the thickest ones with which the passage has room."""
    wires, name = at.wish.stock.wires, at.finding.subject.name
    if wires is None or at.finding.check not in _TIGHT:
        return
    passage = passages_of(at.wish)[name]
    mine, others = through(at.thin, name, len(at.wish.run))
    count = sum(at.thin.run[one].conductors for one in mine)
    free = at.wish.model_copy(update={"stock": at.wish.stock.model_copy(update={"wires": None})})
    rows = [row for row in thinner_wires(free, wires[0], at.after.limits) if row.name not in wires]
    thick = [
        row.name
        for row in usable_in(passage, rows)
        if has_room([*others, *[row.max_diameter] * count], passage, at.after.limits)
    ]
    yield _one_key((set_to(("stock", "wires"), (*wires, one)) for one in thick[:3]), by=ANEW)


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
    if at.finding.check.startswith(("access.", "place.", "passage.", "way.", "wire.")):
        yield from (Series((changes,), by=ANEW) for _, changes in boards_elsewhere(at.wish))


def boards_elsewhere(wish: Build) -> Iterator[tuple[str, Changes]]:
    """All boards at another place where a hand gets at them."""
    routes = Routes(wish)
    for place in wish.place if wish.board else ():
        boards = wish.board.items() if routes.reachable(place) else ()
        changes = tuple(
            set_to(("board", name, "place"), place) for name, board in boards if board.place != place
        )
        if changes:
            yield place, changes


def _volts(at: Near) -> Iterator[Series]:
    """An adaptor of more volts where lamps lack them, of less where resistors or places are too warm."""
    for name, supply in at.wish.supply.items():
        if supply.kind != "adaptor" or supply.volts is None:
            continue
        rows: list[float] = []
        if at.finding.check in _WARM:
            rows = [volts for volts in reversed(ADAPTORS) if volts < supply.volts]
        elif at.finding.check in (*_DIM, "circuit.step"):
            rows = [volts for volts in ADAPTORS if volts > supply.volts]
        path = ("supply", name, "volts")
        yield _one_key((_set(path, volts, Dimension.VOLTAGE) for volts in rows[:3]), by=ANEW)


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
