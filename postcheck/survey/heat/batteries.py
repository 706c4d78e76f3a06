"""How long every battery lasts, and at what voltage its lamps go dim."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from postcheck import catalogue
from postcheck.description.cells import cells_in
from postcheck.description.models import Supply
from postcheck.limits import Limits
from postcheck.physics import battery
from postcheck.physics.network import FILAMENT_EXPONENT
from postcheck.survey.heat.figures import BatteryFigures
from postcheck.survey.network.figures import Electrics
from postcheck.survey.network.supplies import CellData, cell_of, volts_needed
from postcheck.wiring import Wiring
from postcheck.wiring.data import DieData
from postcheck.wiring.nets import Driver

# A, the short of a lithium coin cell of 10 to 40 ohm stays under a tenth of this; judgement
_HARMLESS_SHORT = 2.0


def battery_figures(
    wiring: Wiring,
    electrics: Electrics,
    limits: Limits,
) -> dict[str, BatteryFigures]:
    """Every battery by name."""
    figures = {}
    for name, supply in wiring.build.supply.items():
        cell = cell_of(supply)
        if cell is not None:
            figures[name] = _figures(name, supply, cell, wiring, electrics, limits)
    return figures


class _Discharge(NamedTuple):
    """How a battery empties at its `average` load, A: from `full` volts over `half` to `flat`, where all that it `holds` is out.

    `holds`: C, None where it is not known. `derate`: the fraction of that which is counted on.
    """

    average: float
    holds: float | None
    full: float
    half: float
    flat: float
    derate: float

    def left_at(self, volts: float) -> float:
        """The fraction of its charge that is left at these volts."""
        if self.full <= self.flat:
            return float(volts >= self.full)
        return battery.charge_left(volts, self.full, self.flat, self.half)

    def seconds_to(self, volts: float) -> float | None:
        """The time until it gives these volts, s; None where it is not known."""
        if self.holds is None or self.average <= 0.0 or self.full <= self.flat:
            return None
        return battery.time_to_voltage(
            self.holds, self.average, self.full, self.flat, volts, self.derate, self.half
        )

    def runtime(self, empty: float) -> float | None:
        """The time until it counts as empty, at so many volts, s; None where it is not known."""
        seconds = self.seconds_to(empty)
        if seconds is None and self.holds is not None and self.average > 0.0:
            return 0.0 if empty > self.full else battery.runtime(self.holds, self.average, self.derate)
        return seconds


def _figures(
    name: str, supply: Supply, cell: CellData, wiring: Wiring, electrics: Electrics, limits: Limits
) -> BatteryFigures:
    load = electrics.supplies.get(name)
    average = load.average if load is not None else 0.0
    cells = cells_in(supply)
    full, usual, half, empty = (volts * cells for volts in (cell.full, cell.nominal, cell.half, cell.empty))
    holds = cell.capacity
    if holds is not None and average > 0.0 and cell.at_rates:
        holds = battery.capacity_at(cell.at_rates, average)
    flat = _flat(supply, empty, half, cells)
    discharge = _Discharge(average, holds, full, half, flat, limits.value("battery.derate"))
    dim = _first_to_go(_dim(name, wiring.drivers, electrics, full, usual, limits.value("battery.dim")))
    stops = _first_to_go(_stopping(name, wiring, electrics, usual, cell.ohms * cells))
    return BatteryFigures(
        name=name,
        path=("supply", name),
        average=average,
        seconds=discharge.runtime(empty),
        wanted=supply.runs_for,
        lithium=_dangerous(cell),
        protected=supply.protected,
        empty_volts=empty,
        dim=tuple((lamp, volts, discharge.left_at(volts)) for lamp, volts in dim),
        full_volts=full,
        usual_volts=usual,
        half_volts=half,
        dim_seconds=discharge.seconds_to(dim[0][1]) if dim else None,
        highest=load.highest if load is not None else 0.0,
        most=cell.most_current,
        place=supply.place,
        stops=stops,
        stops_seconds=discharge.seconds_to(stops[0][1]) if stops else None,
        rated=cell.capacity,
        holds=holds,
        known_to=cell.at_rates[-1][0] if cell.at_rates else None,
        hourly=cell.hourly,
        starts={
            load: (discharge.left_at(volts), discharge.seconds_to(volts))
            for load, volts in _starting(name, wiring, electrics, usual)
        },
    )


def _first_to_go(rows: Iterable[tuple[str, float]]) -> tuple[tuple[str, float], ...]:
    """What needs so many volts, by name: that first which needs most, of equal ones by the alphabet."""
    return tuple(sorted(rows, key=lambda row: (-row[1], row[0])))


def _flat(supply: Supply, empty: float, half: float, cells: int) -> float:
    """The volts at which the whole capacity is out: those at which it counts as empty, for a cut-off is set near the end.

    One that comes while half is still inside leaves much: the chemistry's own count then.
    """
    if supply.cut_off is None or supply.chemistry is None or empty < half:
        return empty
    return catalogue.chemistry(supply.chemistry).empty_volts * cells


def _stopping(
    name: str, wiring: Wiring, electrics: Electrics, usual: float, ohms: float
) -> Iterator[tuple[str, float]]:
    """The volts of the battery at which each load, board and converter on it has its least voltage; the way there costs as now."""
    for fed, supply in wiring.build.supply.items():
        if supply.fed_by == name and supply.least_input is not None:
            yield fed, supply.least_input + ohms * electrics.drawn.get(fed, (0.0, 0.0))[0]
    for load in electrics.loads.values():
        if load.part.lowest is not None and wiring.drivers[load.part.circuit].supply == name:
            yield load.part.name, load.part.lowest + max(usual - load.volts, 0.0)
    for board_name, board in wiring.build.board.items():
        if board.least_volts is not None and board.supply == name:
            yield board_name, board.least_volts


def _starting(name: str, wiring: Wiring, electrics: Electrics, usual: float) -> Iterator[tuple[str, float]]:
    """The volts of the battery at which each load on it no longer starts.

    It takes the same current whatever the battery is at, so that what is lost on the way stays.
    """
    for load in electrics.loads.values():
        lowest, start = load.part.lowest, load.start_usual
        if lowest is not None and start is not None and wiring.drivers[load.part.circuit].supply == name:
            yield load.part.name, usual - start + lowest


def _dangerous(cell: CellData) -> bool:
    """Whether a short of the cell can start a fire: lithium, and not held back by its own resistance as coin cells are."""
    return cell.lithium and cell.full > _HARMLESS_SHORT * cell.ohms


def _dim(
    name: str, drivers: Mapping[str, Driver], electrics: Electrics, full: float, usual: float, fraction: float
) -> Iterator[tuple[str, float]]:
    """The open volts of the battery at which each lamp, and each strip, falls below a fraction of its current at the full battery.

    String and resistor are taken as a straight line through the nominal point: I = (V - V0) / R, V0 where the dice
    begin to conduct; then V = V0 + fraction (V_full - V0).
    """
    for lamp in electrics.lamps.values():
        driver = drivers[lamp.part.circuit]
        if driver.supply != name or lamp.nominal <= 0.0 or not lamp.part.dice:
            continue
        if lamp.part.dice[0].filament_volts:
            yield lamp.name, float(full * fraction ** (1.0 / FILAMENT_EXPONENT))
            continue
        if driver.steady is not None:
            yield lamp.name, min(full, lamp.string_volts + volts_needed(driver))
            continue
        yield lamp.name, _at_fraction(lamp.part.dice, lamp.string_volts, lamp.nominal, full, usual, fraction)
    for strip in electrics.strips.values():
        driver, (dice, ohms) = drivers[strip.part.circuit], strip.part.chains[0]
        if driver.supply == name and driver.steady is None:
            volts = strip.first_volts - ohms * strip.segment_current
            yield strip.name, _at_fraction(dice, volts, strip.segment_current, full, usual, fraction)


def _at_fraction(
    dice: Sequence[DieData], volts: float, current: float, full: float, usual: float, fraction: float
) -> float:
    """The volts of the battery at which a string of dice with `volts` over it at a current (A) has a fraction of its full current."""
    begins = _begins(dice, volts, current)
    return begins + fraction * (full - begins) if begins < usual else full


def _begins(dice: Sequence[DieData], volts: float, current: float) -> float:
    """Volts at which a string begins to conduct, by the chord between the two points that describe each die."""
    for die in dice:
        if die.at_current > die.low_current:
            slope = max(die.forward[1] - die.low_forward, 0.0) / (die.at_current - die.low_current)
            volts -= min(slope * current, die.low_forward * 0.3) + die.inside * current
    return volts
