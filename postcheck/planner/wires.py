"""The wire of each run: the usual one, and a thinner one for as few as possible where a bore asks for it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import product

from postcheck import catalogue
from postcheck.description.models import Build, Passage
from postcheck.description.naming import passages_of
from postcheck.limits import Limits, below
from postcheck.physics import bundle, copper, fill
from postcheck.remedies.wires import LEAST_COPPER, sort_of
from postcheck.survey.post.bores import is_easy, most_fill, room_wanted
from postcheck.wiring import resolve
from postcheck.wiring.data import WireData, wire_data
from postcheck.wiring.nets import drivers_of

# What is taken where the usual wire is too thick and the file lists none: small hook-up wires, then winding wire.
THINNER = (
    "ptfe-30", "fep-28", "ptfe-32", "fep-30", "fep-32", "enamel-0.28", "enamel-0.25", "enamel-0.224", "enamel-0.20", "enamel-0.18",
)  # fmt: skip

# Finer strands, which a hand tears that takes hold of one alone: for bundles that nothing thicker goes through with.
FINE = ("fep-34", "fep-36")


def thinner_wires(build: Build, usual: str, limits: Limits, *, fine: bool = False) -> tuple[WireData, ...]:
    """Wires slimmer than the usual one that a hand does not tear, the thickest first: from the shelf, or the usual make's, then others.

    `fine`: those too that it does tear, down to the finest that are laid through a post.
    """
    most = wire_data(build, usual)
    if build.stock.wires is not None:
        names: Sequence[str] = build.stock.wires
    else:
        alike = [name for name in catalogue.names("wire") if sort_of(name) == sort_of(usual)]
        names = (*alike, *THINNER, *(FINE if fine else ()))
    rows = {row.name: row for row in (wire_data(build, name) for name in names)}
    return tuple(
        sorted(
            (
                row
                for row in rows.values()
                if below(row.max_diameter, most.max_diameter)
                and (
                    row.conductor_area * copper.TENSILE >= limits.value("wire.hand")
                    or (fine and row.strands > 1 and row.conductor_area >= LEAST_COPPER)
                )
            ),
            key=lambda row: -row.max_diameter,
        )
    )


def usable_in(passage: Passage, rows: Iterable[WireData]) -> list[WireData]:
    """Those that may lie in a passage: neither enamelled nor solid where it moves."""
    moves = passage.turn > 0.0 or passage.fold > 0.0
    return [row for row in rows if not (moves and (row.enamelled or row.solid))]


def fitted(build: Build, first: int, usual: str, limits: Limits) -> Build:
    """The build with wires for its runs from number `first` on with which the bundle of each passage has its room, if any do."""
    thinner, finer = (thinner_wires(build, usual, limits, fine=fine) for fine in (False, True))
    chosen: dict[int, WireData] = {}
    for name, passage in passages_of(build).items():
        mine, others = through(build, name, first)
        if not mine:
            continue
        ordered = sorted(mine, key=_weights(build).__getitem__)
        now = {
            number: chosen.get(number) or wire_data(build, build.run[number].wire or usual) for number in mine
        }
        tiers = [usable_in(passage, rows) for rows in (thinner, finer)]
        for row, count in _choices(build, passage, ordered, now, others, tiers, limits):
            for number in ordered[:count]:
                if now[number].max_diameter > row.max_diameter:
                    chosen[number] = row
    return _with_wires(build, chosen)


def thinnest(build: Build, first: int, usual: str, limits: Limits) -> Build:
    """The build with the thinnest wire that there is to choose for its runs from number `first` on that go through a passage."""
    found: dict[int, WireData] = {}
    thinner = thinner_wires(build, usual, limits, fine=True)
    for name, passage in passages_of(build).items():
        some = usable_in(passage, thinner)
        for number in through(build, name, first)[0] if some else ():
            row = some[-1]
            if number not in found or found[number].enamelled or found[number].solid:
                found[number] = row
    return _with_wires(build, found)


def _with_wires(build: Build, wires: Mapping[int, WireData]) -> Build:
    """The build with other wires for some of its runs, by their number."""
    runs = (
        run.model_copy(update={"wire": wires[number].name}) if number in wires else run
        for number, run in enumerate(build.run)
    )
    return build.model_copy(update={"run": tuple(runs)})


def _choices(
    build: Build, passage: Passage, ordered: Sequence[int], now: Mapping[int, WireData], others: Sequence[float],
    tiers: Sequence[Sequence[WireData]], limits: Limits,
) -> Iterator[tuple[WireData, int]]:  # fmt: skip
    """The thickest wire, and for how few runs, with which all go through; nothing where they do as they are.

    Of the first of the `tiers` of which all of them do.
    """

    def fits(row: WireData | None, count: int) -> bool:
        thin = set(ordered[:count])
        diameters = [*others]
        for number in ordered:
            wide = now[number].max_diameter
            wide = min(wide, row.max_diameter) if row is not None and number in thin else wide
            diameters += [wide] * build.run[number].conductors
        return has_room(diameters, passage, limits)

    if fits(None, 0):
        return
    usable = next((rows for rows in tiers if rows and fits(rows[-1], len(ordered))), None)
    if usable is None:
        return
    low, high = 0, len(ordered)  # of the slimmest there is: how few runs must have it
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if fits(usable[-1], middle) else (middle, high)
    yield next(row for row in usable if fits(row, high)), high


def fewest_thinner(build: Build, first: int, usual: str, limits: Limits) -> int:
    """How many runs from number `first` on have to be thinner than the usual wire, proven; more may have to be.

    All of these runs taken as usual wire, the most conductors of them replaced by the slimmest wire there is, until nothing
    proves any more that a passage has no room for them.
    """
    slimmest = [
        min((row.max_diameter for row in thinner_wires(build, usual, limits, fine=fine)), default=None)
        for fine in (False, True)
    ]
    most = wire_data(build, usual).max_diameter
    found = 0
    for name, passage in passages_of(build).items():
        mine, others = through(build, name, first)
        counts = sorted((build.run[number].conductors for number in mine), reverse=True)
        for thick, thin in product(slimmest, range(len(counts) + 1)):
            diameters = [*others, *[most] * sum(counts[thin:]), *[thick or most] * sum(counts[:thin])]
            if _room(diameters, passage, limits) != bundle.CANNOT:
                found = max(found, thin)
                break
    return found


def has_room(diameters: Sequence[float], passage: Passage, limits: Limits) -> bool:
    """Whether a bundle of such wires, m, surely has its room in a passage."""
    return _room(diameters, passage, limits) == bundle.FITS


def _room(diameters: Sequence[float], passage: Passage, limits: Limits) -> str:
    """Whether a bundle has its room in a passage, as the packing says it: fits, cannot fit, or not found."""
    count = len(diameters)
    by_hand = is_easy(passage, limits)  # handbook fill is a note there, and thinner wire worse than a note
    if not by_hand and fill.fill(diameters, passage.bore) > most_fill(count, limits).value:
        return bundle.CANNOT
    return _packed(tuple(sorted(diameters)), passage.bore / room_wanted(count, limits).value)


@lru_cache(maxsize=4096)
def _packed(diameters: tuple[float, ...], bore: float) -> str:
    return bundle.pack(diameters, bore).verdict if diameters else bundle.FITS


def through(build: Build, name: str, first: int) -> tuple[list[int], list[float]]:
    """The runs of a passage whose wire is to be chosen, by their number, and the diameters of all else in it."""
    wiring = resolve(build)
    mine, others = [], []
    for number, run in enumerate(wiring.parts.runs):
        if name in run.through and not run.body:
            if number >= first and run.wire is not None:
                mine.append(number)
            elif run.wire is not None:
                others += [run.wire.max_diameter] * run.conductors
    others += [
        wire.data.wire.max_diameter
        for wire in wiring.fine_wires
        if name in wire.through and wire.data.wire is not None
    ]
    return mine, others


def _weights(build: Build) -> Mapping[int, float]:
    """How much each run matters to the volts that arrive: strings that its line feeds, times its length; spares least of all."""
    strings: Counter[str] = Counter()
    drivers = drivers_of(build)
    for part in resolve(build).parts.all:
        driver = drivers[part.circuit]
        for line in (part.circuit, driver.return_net, driver.pole):
            strings[line] += part.parallel
    return {
        number: 0.0 if run.spare else (1 + strings[run.line or ""]) * (run.length or 0.0)
        for number, run in enumerate(build.run)
    }
