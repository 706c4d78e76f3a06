"""How much light closed places stand: currents brought down where a place would get too warm, resistors out of those that are full.

A plane estimate by the same laws as the survey's, so that the first draft is near what passes; what passes is for the checks
to say.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from postcheck.description.models import Build, Place
from postcheck.description.problems import Path
from postcheck.limits import Limits
from postcheck.survey.heat.places import bodies, unsized, withstands
from postcheck.survey.network.states import loss_per_area

# Of what a place is reckoned to stand this share is planned for: tolerances, and what conductors dissipate.
USED = 0.9
# Currents are not brought below this share of what was planned for them.
LEAST = 0.25
ROUNDS = 20


class Warm(NamedTuple):
    """What dissipates: `amps` planned through one string, `strings` of them; volts over the dice and over the resistor.

    `place` of the dice, `seat` of the resistor; `fixed`: the current is not the plan's to choose. `most`: the share of it that
    the volts allow.
    """

    path: Path
    amps: float
    strings: int
    dice_volts: float
    resistor_volts: float
    place: str
    seat: str
    fixed: bool
    most: float = 1.0

    def heat(self, place: str, factor: float = 1.0) -> float:
        """What it dissipates in a place, W, with its current brought down to a share of what was planned."""
        volts = self.dice_volts * (self.place == place) + self.resistor_volts * (self.seat == place)
        return self.amps * self.strings * min(factor, self.most) * volts


def allowances(build: Build, limits: Limits) -> dict[str, float]:
    """What may be dissipated in each closed place, W; of one whose size is not known what makes that no vital question."""
    return {
        name: _allowance(build, name, place, limits)
        for name, place in build.place.items()
        if place.access != "open"
    }


def _allowance(build: Build, name: str, place: Place, limits: Limits) -> float:
    free = withstands(place.material, limits)[0] - build.build.air[1]
    if not place.surface:
        strips = sum(strip.length or 0.0 for strip in build.strip if strip.place == name)
        return USED * unsized(limits, bodies(build, name, strips), free)
    rise = max(free - limits.value("heat.margin"), free / 1.3, 0.0)
    return max(USED * rise * loss_per_area(place, limits) * place.surface - (place.heat or 0.0), 0.0)


def too_full(rows: Iterable[Warm], allowed: Mapping[str, float]) -> frozenset[str]:
    """The places that would be too warm with all resistors beside their lamps."""
    rows = tuple(rows)
    return frozenset(name for name, watts in allowed.items() if sum(row.heat(name) for row in rows) > watts)


def factors(rows: Iterable[Warm], allowed: Mapping[str, float]) -> dict[Path, float]:
    """By what each current has to be brought down so that no place gets too warm, at most to LEAST; all in a place alike."""
    rows = tuple(rows)
    found = {row.path: 1.0 for row in rows}
    for _ in range(ROUNDS):
        worst, over = "", 1.0
        for name, watts in allowed.items():
            given = sum(row.heat(name, found[row.path]) for row in rows)
            if given > watts * over * 1.0001:
                worst, over = name, given / watts if watts > 0.0 else 1e9
        if not worst:
            break
        kept = sum(row.heat(worst, found[row.path]) for row in rows if row.fixed)
        rest = sum(row.heat(worst, found[row.path]) for row in rows if not row.fixed)
        factor = max((allowed[worst] - kept) / rest, 0.0) if rest > 0.0 else 1.0
        for row in rows:
            if not row.fixed and row.heat(worst):
                found[row.path] = max(found[row.path] * factor, LEAST)
        if factor >= 1.0:
            break
    return found
