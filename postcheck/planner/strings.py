"""Lamps put into strings, each with its resistor: a current that leaves room for tolerances, and the volts to set it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from postcheck.description.models import Build, ResistorSpec
from postcheck.limits import Limits
from postcheck.physics import preferred
from postcheck.planner.warmth import Warm
from postcheck.survey.network.dice import rated_at
from postcheck.survey.network.resistor_choice import ENOUGH, LEAST_HEADROOM, volts_at
from postcheck.wiring.data import DieData
from postcheck.wiring.looked_up import usual_resistor

# What a lamp is given where nothing else is wanted, as a share of its rating in the hottest air: judgement. To the eye it is
# as bright as at the full rating, and what a closed body has to stand is little more than half.
USUAL_SHARE = 0.6
# Of its volts a resistor keeps at least this share when everything is against it: judgement, else lamps go dark.
STARVED = 0.2


# Powers that a drawer holds where the file does not say, W: a plan with five sizes is for nobody. Common practice.
FEW_POWERS = (0.25, 0.5, 1.0)


class Source(NamedTuple):
    """What drives a circuit: its usual, least and most volts behind the output, and the current of one that sets it."""

    usual: float
    least: float
    most: float
    steady: float | None


class Strings(NamedTuple):
    """The strings of one lamp, or of one colour of it, whose resistor is open: `dice` of one string, planned `current` (A).

    `seats`: where its resistor can sit, with the lamp first. `wanted`: the current is what the file asks for.
    """

    path: tuple[str | int, ...]
    dice: tuple[DieData, ...]
    series: int
    parallel: int
    source: Source
    current: float
    wanted: bool
    seats: tuple[str, ...]

    def warm(self, seat: str) -> Warm:
        """What it dissipates with its resistor at `seat`."""
        filament = self.dice[0].filament_volts is not None
        volts = sum(die.filament_volts or volts_at(die, self.current) for die in self.dice)
        over = 0.0 if self.source.steady is not None else max(self.source.usual - volts, 0.0)
        return Warm(
            self.path, self.current, self.parallel, volts, over, self.seats[0], seat,
            self.wanted or filament or self.source.steady is not None,
        )  # fmt: skip


def wanted_current(dice: Sequence[DieData], wanted: float | None, air: float) -> float:
    """The current (A) that a string is planned for."""
    return wanted if wanted is not None else USUAL_SHARE * min(rated_at(die, air) for die in dice)


def longest_string(die: Sequence[DieData], count: int, source: Source, current: float) -> int:
    """How many lamps are best put in series: the most that divide `count` and leave the resistor volts to set a current by.

    Typically a tenth of the supply's, and with a low supply and dice at their most still STARVED of what it has then.
    """
    each = sum(volts_at(one, current) for one in die)
    most = each + sum(one.forward[2] - one.forward[1] for one in die)
    for series in range(count, 1, -1):
        over = source.usual - series * each
        if (
            count % series == 0
            and over >= LEAST_HEADROOM * source.usual
            and source.least - series * most >= STARVED * over
        ):
            return series
    return 1


def powers(build: Build) -> tuple[float, ...]:
    """The powers of resistors that a plan takes, W: those on the shelf, else the usual one and few others."""
    if build.stock.powers is not None:
        return tuple(sorted(build.stock.powers))
    usual = usual_resistor(build.usual.resistor)[0]
    return tuple(sorted({*FEW_POWERS, *([usual] if usual is not None else [])}))


def resistor_for(
    build: Build, one: Strings, current: float, place: str | None, limits: Limits
) -> ResistorSpec | None:
    """The resistor of a string, of a power that stands the worst; None where no volts are left for one.

    For a current that is wanted the nearest value sold, else the next one up.
    """
    dice, source = one.dice, one.source
    if source.steady is not None:
        return None
    filament = dice[0].filament_volts is not None
    takes = sum(die.filament_volts or volts_at(die, current) for die in dice)
    over = source.usual - takes
    if over <= 0.0 or (filament and over < 0.05 * takes):
        return None
    sold = preferred.nearest if one.wanted else preferred.at_least
    ohms = sold(over / current, build.stock.series)
    tolerance = usual_resistor(build.usual.resistor)[1]
    most = over + source.most - source.usual
    most += 0.0 if filament else sum(die.forward[1] - die.forward[0] for die in dice)
    worst, kept = (most / (1.0 - tolerance)) ** 2, powers(build)
    load = min(ENOUGH, limits.value("resistor.power.caution"))
    # where none that is kept stands it, the lamp has to do with less; not with less than is wanted of it
    least = preferred.at_least(worst / (load * kept[-1]), build.stock.series)
    if not one.wanted or ohms >= least * (1.0 - limits.value("lamp.wanted")):
        ohms = max(ohms, least)
    chosen = next((power for power in kept if worst / ohms <= load * power * (1.0 + 1e-9)), kept[-1])
    usual = usual_resistor(build.usual.resistor)[0]
    enough = usual is not None and chosen <= usual
    return ResistorSpec.model_construct(ohms=ohms, power=None if enough else chosen, place=place)
