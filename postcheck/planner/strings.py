"""Lamps put into strings, each with its resistor: a current that leaves room for tolerances, and the volts to set it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil, floor, log
from typing import NamedTuple

from postcheck.description.models import Build, ResistorSpec
from postcheck.description.problems import Path
from postcheck.limits import Limits, above
from postcheck.physics import preferred
from postcheck.planner.warmth import Warm
from postcheck.survey.network.dice import rated_at
from postcheck.survey.network.resistor_choice import (
    LEAST_HEADROOM,
    ballast_volts,
    most_load,
    volts_at,
)
from postcheck.wiring.data import DieData
from postcheck.wiring.resistors import usual_resistor

# Of its current a string keeps at least this share when everything is against it: judgement, else lamps go dark.
STARVED = 0.2


# Shares of what was meant that are tried where a longer string leaves too few volts at the full current, down to half of it:
# the volts of a die fall with its current. Half the light is seen as dimmer and still as bright (judgement).
SHARES = tuple(step / 20.0 for step in range(20, 9, -1))
BRIGHT = SHARES[-1]
# Powers that a drawer holds where the file does not say, W: a plan with five sizes is for nobody. Common practice.
FEW_POWERS = (0.25, 0.5, 1.0)

Layout = tuple[tuple[int, int], ...]
"""How lamps are put into strings: how many in each and how many of these, the longest first."""


class Source(NamedTuple):
    """What drives a circuit: its usual, least and most volts behind the output, and the current of one that sets it."""

    usual: float
    least: float
    most: float
    steady: float | None


class Strings(NamedTuple):
    """The strings of one lamp, or of one colour of it, whose resistor is open: `dice` of one string.

    `meant`: the current that is planned for one if neither volts nor heat are in its way, `current`: what the volts allow,
    A. `seats`: where its resistor can sit, with the lamp first. `wanted`: the current is what the file asks for. `like`:
    kind, circuit and colour, alike for lamps that should look alike.
    """

    path: Path
    dice: tuple[DieData, ...]
    series: int
    parallel: int
    source: Source
    current: float
    wanted: bool
    seats: tuple[str, ...]
    meant: float
    like: tuple[str, ...]

    @property
    def free(self) -> bool:
        """Whether its current is the plan's to choose, by a resistor."""
        return not self.wanted and self.source.steady is None and self.dice[0].made_for is None

    @property
    def over(self) -> float:
        """The volts that its resistor has to take, V."""
        takes = sum(die.made_for or volts_at(die, self.current) for die in self.dice)
        return max(self.source.usual - takes, 0.0)

    def warm(self, seat: str) -> Warm:
        """What it dissipates with its resistor at `seat`."""
        filament = self.dice[0].made_for is not None
        volts = sum(die.made_for or volts_at(die, self.current) for die in self.dice)
        over = 0.0 if self.source.steady is not None else max(self.source.usual - volts, 0.0)
        return Warm(
            path=self.path, amps=self.meant, strings=self.parallel, dice_volts=volts, resistor_volts=over, place=self.seats[0],
            seat=seat, fixed=self.wanted or filament or self.source.steady is not None, most=self.current / self.meant,
        )  # fmt: skip


def wanted_current(dice: Sequence[DieData], wanted: float | None, air: float, limits: Limits) -> float:
    """The current (A) that a string is planned for."""
    if wanted is not None:
        return wanted
    share = limits.value("lamp.usual.planned")
    return min(die.usual or share * rated_at(die, air) for die in dice)


def layouts(
    die: Sequence[DieData],
    count: int,
    source: Source,
    meant: float,
    limits: Limits,
    *,
    fixed: bool,
    uneven: bool,
) -> Iterator[tuple[Layout, float]]:
    """The ways to put `count` lamps into strings, the longest first, single lamps last; each with the current that it stands (A).

    `fixed`: the current is `meant` and no less. `uneven`: strings may differ in length.
    """
    seen: set[Layout] = set()
    shares = SHARES[:1] if fixed else SHARES
    most = min(count, int(source.usual / max(sum(one.forward[0] for one in die), 1e-3)))
    for longest in range(most, 1, -1):
        layout = laid_out(count, longest, uneven=uneven)
        length, side_by_side = layout[0]
        if side_by_side > 1 and not _evens_out(die, length, side_by_side, source, limits):
            continue
        currents = (share * meant for share in shares)
        current = next((one for one in currents if _leaves_volts(die, length, source, one)), None)
        if current is not None and length > 1 and layout not in seen:
            seen.add(layout)
            yield layout, current
    yield ((1, count),), meant


def laid_out(count: int, longest: int, *, uneven: bool) -> Layout:
    """Lamps in strings of at most so many: all of one length where that takes at most one string more, else as even as can be."""
    even = next(length for length in range(longest, 0, -1) if count % length == 0)
    fewest = ceil(count / longest)
    if not uneven or count // even <= fewest + 1:
        return ((even, count // even),)
    short, longer = divmod(count, fewest)
    return ((short + 1, longer), (short, fewest - longer))


def _evens_out(die: Sequence[DieData], series: int, parallel: int, source: Source, limits: Limits) -> bool:
    """Whether strings on one constant-current output leave volts for the resistors with which they share it evenly; others need none."""
    if source.steady is None:
        return True
    over = source.least - series * sum(volts_at(one, source.steady / parallel) for one in die)
    spread = limits.value("lamp.parallel-spread")
    return over >= ballast_volts(tuple(die) * series, parallel, spread)


def _leaves_volts(die: Sequence[DieData], series: int, source: Source, current: float) -> bool:
    """Whether so many lamps in series leave the resistor volts to set a current by.

    Typically a tenth of the supply's, and with a low supply and dice at their most still what STARVED of the current takes.
    """
    over = source.usual - series * sum(volts_at(one, current) for one in die)
    # with less current the dice take less: held at what they take of the whole of it, sound strings would count as dark
    starved = sum(volts_at(one, STARVED * current) for one in die)
    most = starved + sum(one.forward[2] - one.forward[1] for one in die)
    return over >= LEAST_HEADROOM * source.usual and source.least - series * most >= STARVED * over


def steps_down(share: float, equal: float) -> int:
    """How many clear steps light is below what was meant: none while its share of that is above `equal`, one for each such factor.

    Below one step it is the same light to the eye; steps are factors, by Weber's law.
    """
    return max(floor(log(max(share, 1e-6)) / log(equal) + 1e-9), 0) if 0.0 < equal < 1.0 else 0


def powers(build: Build) -> tuple[float, ...]:
    """The powers of resistors that a plan takes, W: those on the shelf, else the usual one and few others."""
    if build.stock.powers is not None:
        return tuple(sorted(build.stock.powers))
    usual = usual_resistor(build.usual.resistor)[0]
    return tuple(sorted({*FEW_POWERS, *([usual] if usual is not None else [])}))


def usual_power(build: Build) -> float:
    """The power (W) that a resistor has unless there is a reason: that of `[usual]`, else 1/4 W or what is nearest on the shelf."""
    usual, kept = usual_resistor(build.usual.resistor)[0], powers(build)
    return max((one for one in kept if not above(one, usual or FEW_POWERS[0])), default=kept[0])


def resistor_for(
    build: Build, one: Strings, current: float, place: str | None, limits: Limits
) -> tuple[ResistorSpec, float] | None:
    """The resistor of a string, of a power that stands the worst, and what it would have if power were no matter, ohm.

    For a current that is wanted the nearest value sold, else the next one up. None where no volts are left for one.
    """
    dice, source = one.dice, one.source
    if source.steady is not None:
        return None
    filament = dice[0].made_for is not None
    takes = sum(die.made_for or volts_at(die, current) for die in dice)
    over = source.usual - takes
    if over <= 0.0 or (filament and over < 0.05 * takes):
        return None
    sold = preferred.nearest if one.wanted else preferred.at_least
    first = sold(over / current, build.stock.series)
    tolerance = usual_resistor(build.usual.resistor)[1]
    most = over + source.most - source.usual
    most += 0.0 if filament else sum(die.forward[1] - die.forward[0] for die in dice)
    worst, kept = (most / (1.0 - tolerance)) ** 2, powers(build)
    load = most_load(limits)

    def stands(power: float) -> float:
        return max(first, preferred.at_least(worst / (load * power), build.stock.series))

    # less light is taken before a bigger resistor; where none that is kept stands it, the lamp has to do with less anyway,
    # but not with less than is wanted of it
    ohms = stands(usual_power(build))
    if not one.free or one.over < BRIGHT * ohms * one.meant:
        ohms = stands(kept[-1])
    if one.wanted and first < ohms * (1.0 - limits.value("lamp.wanted")):
        ohms = first
    chosen = next((power for power in kept if not above(worst / ohms, load * power)), kept[-1])
    usual = usual_resistor(build.usual.resistor)[0]
    enough = usual is not None and chosen <= usual
    spec = ResistorSpec.model_construct(ohms=ohms, power=None if enough else chosen, place=place)
    return spec, first
