"""What a supply gives: voltage and internal resistance at a corner, rated current, what a short can draw."""

from math import inf
from typing import NamedTuple

from postcheck import catalogue
from postcheck.description.cells import cells_in
from postcheck.description.models import Build, Supply
from postcheck.wiring.nets import Driver

# Output tolerance of small adaptors and USB sources where none is stated: data sheets of 5 and 12 V plug-in
# adaptors, and 4.75 to 5.25 V at a USB source.
USUAL_TOLERANCE = 0.05
USB_VOLTS = 5.0
# What a USB source has to give a device that has not asked for more: 500 mA by USB 2.0.
USB_CURRENT = 0.5
BANK_ASKS, BANK_OFF = 0.1, 0.05
"""Power banks of which nothing is said switch off somewhere below the one, and nearly all below the other, A (common practice: 50 to 100 mA)."""
# Of a small converter, where the file does not state it; and what a constant-current output needs for itself
# (linear LED drivers want 0.4 to 1 V). Both from memory.
USUAL_EFFICIENCY = 0.85
USUAL_COMPLIANCE = 0.5
# Where the file does not say at what current a supply gives up, it is between its rating and twice that: makers'
# sheets of small adaptors and converters say 110 to 200 % (from memory). A USB source that owes 0.5 A may be a charger
# that gives 3 A.
GIVES_UP_AT = 2.0
USB_CHARGER = 3.0
# The protection board of a small cell trips at 2 to 5 A, that of a larger pack at two to five times what the cells may
# give (sheets of the usual control chips, from memory). It guards the cell: what flows below that, it lets flow.
BOARD_TRIPS = (2.0, 5.0)
# In a short that lasts, a fresh disposable cell has half as much resistance again, for it sags at once and
# is soon empty: 0.15 to 0.3 ohm are printed for a fresh AA of alkaline; judgement. Others keep it up until empty.
SAGS = {"alkaline": 1.5, "zinc-carbon": 1.5}
# Where a converter's least input voltage is not stated, none is judged: it starts from a hundredth of its output.
LEAST_INPUT = 0.01


class CellData(NamedTuple):
    """A cell: full, nominal and empty voltage in V, internal resistance in ohm, capacity in C (None: not known).

    `half`: V with half of its charge gone. `most_current`: A that it may give for good; `hourly`: the part of its capacity that this is
    an hour, where neither the file nor its size states it. `at_rates`: A and the C it gives at them, as in the catalogue; none where the file gives the capacity.
    """

    full: float
    nominal: float
    half: float
    empty: float
    ohms: float
    capacity: float | None
    most_current: float | None
    lithium: bool
    source: str
    at_rates: tuple[tuple[float, float], ...] = ()
    hourly: float | None = None


def cell_of(supply: Supply) -> CellData | None:
    """The data of a battery's cells, from the file and the catalogue; None where the file does not give them."""
    if supply.kind != "battery":
        return None
    cells = cells_in(supply)
    if supply.chemistry is None:
        if supply.volts is None:
            return None
        volts = supply.volts / cells
        return CellData(volts, volts, volts, (supply.cut_off or supply.volts) / cells, (supply.resistance or 0.0) / cells,
                        supply.capacity, supply.rated, False, "the file")  # fmt: skip
    row = catalogue.chemistry(supply.chemistry)
    size = row.size(supply.size)
    empty = row.empty_volts if supply.cut_off is None else supply.cut_off / cells
    ohms = size.ohms if supply.resistance is None else supply.resistance / cells
    capacity, rates = (size.capacity, size.at_rates) if supply.capacity is None else (supply.capacity, ())
    most, hourly = _most_current(supply, row, size)
    return CellData(
        row.full_volts, row.nominal_volts, row.half_volts, empty, ohms, capacity, most, row.lithium, row.source, rates, hourly
    )  # fmt: skip


def _most_current(
    supply: Supply, row: catalogue.Chemistry, size: catalogue.CellSize
) -> tuple[float | None, float | None]:
    """What a cell may give for good, A, and the part of its capacity an hour that this is where only its capacity tells it."""
    if supply.rated is not None or row.hourly is None:
        return (size.most_current if supply.rated is None else supply.rated), None
    by_capacity = inf if supply.capacity is None else row.hourly * supply.capacity / 3600.0
    # what is not charged again comes in sizes: its own resistance sets what it may give, not what its label holds
    if size.most_current is not None and (row.hourly < 1.0 or size.most_current <= by_capacity):
        return size.most_current, None
    return (None if supply.capacity is None else by_capacity), row.hourly


def typical_volts(supply: Supply) -> float:
    """The voltage that a supply is called by, V; 0 where it is not known."""
    cell = cell_of(supply)
    if cell is not None:
        return cell.nominal * cells_in(supply)
    if supply.volts is not None:
        return supply.volts
    return USB_VOLTS if supply.kind == "usb" else 0.0


def source_of(supply: Supply, corner: int) -> tuple[float, float]:
    """Open voltage in V and internal resistance in ohm at a corner (-1 low, 0 typical, +1 high).

    The rated volts are those at rated load. A stated regulation (the rise from there to no load, as a share of the
    rated volts), or an unloaded voltage, gives the open voltage and the resistance; where neither is stated none is
    invented.
    """
    cell = cell_of(supply)
    if cell is not None:
        cells = cells_in(supply)
        # a cut-off above the usual volts makes no battery higher
        return (cell.nominal, cell.full, min(cell.empty, cell.nominal))[corner] * cells, cell.ohms * cells
    volts = typical_volts(supply)
    rated = rated_current(supply)
    ohms = supply.resistance or 0.0
    if supply.unloaded is not None and rated:
        ohms = max((supply.unloaded - volts) / rated, 0.0)
        volts = supply.unloaded
    elif supply.regulation and rated:
        ohms = supply.regulation * volts / rated
        volts *= 1.0 + supply.regulation
    tolerance = USUAL_TOLERANCE if supply.tolerance is None else supply.tolerance
    return volts * (1.0 + corner * tolerance), ohms


def most_volts(supply: Supply) -> float:
    """The most that a supply can put on anything, V: at its highest, or with nothing connected."""
    return max(source_of(supply, 1)[0], typical_volts(supply), supply.unloaded or 0.0)


def converter_volts(supply: Supply, corner: int) -> tuple[float, float, float]:
    """A converter's output voltage in V at a corner, its efficiency, and its least input voltage in V."""
    tolerance = USUAL_TOLERANCE if supply.tolerance is None else supply.tolerance
    volts = typical_volts(supply) * (1.0 + corner * tolerance)
    return volts, supply.efficiency or USUAL_EFFICIENCY, supply.least_input or volts * LEAST_INPUT


def open_volts(supply: Supply, corner: int) -> float:
    """What a supply or a converter gives without load at a corner, V."""
    return converter_volts(supply, corner)[0] if supply.kind == "converter" else source_of(supply, corner)[0]


def efficiency_of(supply: Supply, source: Supply, corner: int = 0, source_corner: int | None = None) -> float:
    """What of its input power a converter gives on; a linear one takes the current that it gives, and turns the rest into heat."""
    if not supply.linear:
        return supply.efficiency or USUAL_EFFICIENCY
    given = source_of(source, corner if source_corner is None else source_corner)[0]
    return min(converter_volts(supply, corner)[0] / given, 1.0) if given > 0.0 else 1.0


def stops_above_empty(build: Build, name: str) -> bool:
    """Whether a converter on this battery needs more volts than an empty one has: its low corner is no state in which it runs.

    When that comes is asked of the battery, in `survey/heat/batteries.py`; here it is as it usually is.
    """
    supply = build.supply[name]
    cell = cell_of(supply)
    return cell is not None and any(
        (other.least_input or 0.0) > cell.empty * cells_in(supply)
        for other in build.supply.values()
        if other.fed_by == name
    )


def with_converters(build: Build, name: str) -> set[str]:
    """A supply, and the converters that it feeds, by way of others too."""
    found = {name}
    while more := {one for one, supply in build.supply.items() if supply.fed_by in found} - found:
        found |= more
    return found


def volts_needed(driver: Driver) -> float:
    """What a constant-current output needs for itself, V."""
    return max(driver.compliance or USUAL_COMPLIANCE, driver.drop)


def rated_current(supply: Supply) -> float | None:
    """The continuous rating of a supply, A; None where the file does not give it."""
    if supply.rated is not None:
        return supply.rated
    if supply.kind == "usb":
        return USB_CURRENT
    cell = cell_of(supply)
    return cell.most_current if cell is not None else None


def gives_up(supply: Supply) -> tuple[float, float]:
    """What a supply is sure to give into a short without end, and the most that it may give, A.

    Both are the stated limit where there is one. A battery has none but its own resistance; nor has one whose rating
    nobody knows.
    """
    if supply.current_limit is not None:
        return supply.current_limit, supply.current_limit
    rated = rated_current(supply)
    if supply.kind == "battery":
        if not supply.protected:
            return inf, inf
        low, high = BOARD_TRIPS
        return low * max(rated or 0.0, 1.0), high * max(rated or 0.0, 1.0)
    if rated is None:
        return inf, inf
    if supply.kind == "usb" and supply.rated is None:
        return rated, USB_CHARGER
    return rated, GIVES_UP_AT * rated


def in_a_short(supply: Supply) -> tuple[float, float, float]:
    """Open voltage at the low corner and typical, V, and resistance inside, ohm, in a short that lasts."""
    if supply.kind == "converter":
        return converter_volts(supply, -1)[0], converter_volts(supply, 0)[0], 0.0
    (low, _), (volts, ohms) = source_of(supply, -1), source_of(supply, 0)
    if supply.kind == "battery" and supply.chemistry is not None and supply.resistance is None:
        ohms *= SAGS.get(catalogue.chemistry(supply.chemistry).name, 1.0)
    return low, volts, ohms


def prospective(supply: Supply) -> float:
    """The most that a short at its own terminals can draw at first, fresh and full, A; infinite where nothing known limits it."""
    most = gives_up(supply)[1]
    volts, ohms = source_of(supply, 1)
    return most if supply.kind == "converter" or ohms <= 0.0 else min(volts / ohms, most)
