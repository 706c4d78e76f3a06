"""The values of the resistors that a plan chooses: lamps that should look alike do, and few values do for all.

Both only as far as the light stays the same to the eye.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from postcheck.description.models import Build, Die, Lamp, ResistorSpec
from postcheck.description.problems import Path
from postcheck.limits import Limits
from postcheck.physics import preferred
from postcheck.planner.strings import Strings, resistor_for


@dataclass
class Valued:
    """Strings with their resistor.

    `planned`: the ohms with which they would have all the current that they should have, `cool`: those that they would be
    given if heat were no matter. `most`: the ohms with which they look
    the same as at what heat leaves of that.
    """

    one: Strings
    spec: ResistorSpec
    planned: float
    cool: float
    most: float

    @property
    def amps(self) -> float:
        """Its typical current, A."""
        return self.one.over / self.spec.ohms

    def take(self, ohms: float) -> None:
        """Take another value."""
        self.spec = self.spec.model_copy(update={"ohms": ohms})


def equal_light(limits: Limits) -> float:
    """The share of light that still counts as equal, by the limit for lamps that should look alike."""
    return 1.0 - limits.value("lamp.unequal")


def valued(
    build: Build, strings: Sequence[Strings], down: Mapping[Path, float], seats: Mapping[Path, str], limits: Limits
) -> list[Valued]:  # fmt: skip
    """The resistor of each of some strings, with what was meant for them brought `down`; none for those that need none."""
    found, equal = list[Valued](), equal_light(limits)
    for one in strings:
        seat = seats[one.path] if seats[one.path] != one.seats[0] else None
        volts = one.current / one.meant
        share = min(down[one.path], volts)
        cool = resistor_for(build, one, one.current, seat, limits)
        chosen = resistor_for(build, one, share * one.meant, seat, limits)
        if chosen is not None and cool is not None:
            spec, ohms = chosen
            most = (
                max(share * ohms / down[one.path] / equal * (1.0 - 1e-9), spec.ohms)
                if one.free
                else spec.ohms
            )
            found.append(Valued(one, spec, volts * cool[1], cool[0].ohms, most))
    alike = defaultdict[tuple[str, ...], list[Valued]](list)
    for row in found:
        if row.one.free:
            alike[row.one.like].append(row)
    for rows in alike.values():
        _levelled(rows, build, limits)
    _merged(found, {(spec.ohms, spec.power) for _, spec in resistors_of(build)})
    return found


def _levelled(rows: Sequence[Valued], build: Build, limits: Limits) -> None:
    """Lamps that should look alike brought to the light of the dimmest, where that is the same to the eye.

    Strings of unequal length in one place come down to it in any case: side by side more light in a few of them is a fault.
    """
    dimmest = min(rows, key=lambda row: row.amps)
    target, same = dimmest.amps, [dimmest]
    for row in rows:
        ohms = max(preferred.nearest(row.one.over / target, build.stock.series), row.spec.ohms)
        unequal = row.one.seats[0] == dimmest.one.seats[0] and row.one.series != dimmest.one.series
        if row is not dimmest and (ohms <= row.most or unequal):
            row.take(ohms)
            same.append(row)
    # strings of unequal length: one of them alone goes no further than what is not noticed side by side
    together = min(row.most for row in same) if len({row.spec.ohms for row in same}) == 1 else None
    for row in same:
        beside = row.spec.ohms / (1.0 - limits.value("lamp.unequal.beside"))
        row.most = max(min(row.most, beside) if together is None else together, row.spec.ohms)


def _merged(rows: Iterable[Valued], given: Iterable[tuple[float, float | None]]) -> None:
    """As few values as can be: each is the highest that one of its strings needs, and none is beyond what another stands.

    Taken by their upper ends, intervals are met by the fewest points (the greedy choice is proven best).
    """
    by_power = defaultdict[float | None, list[tuple[float, float, Valued | None]]](list)
    for row in rows:
        by_power[row.spec.power].append((row.most, row.spec.ohms, row))
    for ohms, power in given:
        by_power[power].append((ohms, ohms, None))
    for waiting in by_power.values():
        left = sorted(waiting, key=lambda one: one[:2])
        while left:
            most = left[0][0]
            group = [one for one in left if one[1] <= most]
            left = [one for one in left if one[1] > most]
            ohms = max(least for _, least, _ in group)
            for _, _, one in group:
                if one is not None:
                    one.take(ohms)


def resistors_of(build: Build) -> Iterator[tuple[Path, ResistorSpec]]:
    """Each resistor of a build, by the path of its lamp or of its colour."""
    for number, lamp in enumerate(build.lamp):
        said_by: dict[Path, Lamp | Die] = {(): lamp}
        said_by |= {("dice", colour): die for colour, die in (lamp.dice or {}).items()}
        for path, said in said_by.items():
            if said.resistor is not None:
                yield ("lamp", number, *path), said.resistor
