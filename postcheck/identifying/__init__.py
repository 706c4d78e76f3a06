"""Unmarked leads told apart, reading by reading: which lead of the file each may be, and what is measured next.

All leads are taken together: each lead of the file is one at the bench. Of all ways to hand the names out, those count that
need no more than `SLACK` faults more than the fewest: a lead is known for sure where it has the same name in all of these.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cached_property

from postcheck.description.limits import limit_changes
from postcheck.description.models import Build
from postcheck.identification import Across, Found, Identification
from postcheck.identifying.apart import Apart
from postcheck.identifying.colours import SEEN
from postcheck.identifying.handing_out import cheapest
from postcheck.identifying.meter import DIGIT, Meter
from postcheck.identifying.next_step import next_step
from postcheck.lead_readings import LeadReading, ReadingError, read
from postcheck.limits import Limits
from postcheck.plain import enumerated, nearest, quoted
from postcheck.survey import Survey
from postcheck.survey.bench.identities import Identities, Identity
from postcheck.taken import takes
from postcheck.wiring.doors import takes_build

__all__ = ["MOST_BIN", "ReadingError", "which"]

SLACK = 1
"""A name is sure only if it holds with so many faults more than the readings need."""
# What a name costs, in faults, that nothing looked for explains: less probable than two faults in one lead. And one that it is not.
_UNEXPLAINED, _IMPOSSIBLE = 3, 10_000
MOST_BIN = 1.0
"""The widest bin of forward voltage that is taken, V."""


def which(
    build: Build, place: str, readings: str | Mapping[str, str] = "", *, bin_volts: float | None = None
) -> Identification:
    """How the unmarked leads that end at a place are told apart, and what the readings tell.

    `readings`: a text, as in "lead 1: 2.07, lead 2: 4.99 / dark", or what was read of each lead by its name at the bench.
    `bin_volts`: that the LEDs of a kind are of one bin of forward voltage, so wide (V), about the typical one.

    ReadingError (a ValueError) for a place without leads, and for a reading that cannot be taken.
    """
    return Identifier(build, place, bin_volts).told(readings)


class Identifier:
    """The leads of one place, surveyed once; `told` any number of times, with more and more readings."""

    def __init__(self, build: Build, place: str, bin_volts: float | None = None) -> None:
        takes_build("which", build)
        takes("which", place, str)
        if place not in build.place:
            near = nearest(place, list(build.place))
            raise ReadingError(
                f"the build has no place {quoted(place)}"
                + (
                    f"; did you mean {quoted(near)}?"
                    if near
                    else f"; it has {enumerated([*map(quoted, build.place)], most=12)}"
                )
            )
        if bin_volts is not None and not 0.0 < bin_volts <= MOST_BIN:
            raise ReadingError("a bin of forward voltage is above 0 V and no wider than 1 V, as in 70 mV")
        self.build: Build = build
        self.place: str = place
        self.limits: Limits = Limits(limit_changes(build)[0])
        survey = Survey(build, self.limits)
        self.identities: Identities = Identities(survey.bench, place, self.limits, bin_volts)
        self.meter: Meter = Meter(self.identities, self.limits)
        if not self.identities.test_points:
            having = dict.fromkeys(
                one.places[0] for one in survey.bench.leads.values() if len(one.places) == 1
            )
            raise ReadingError(
                f"no lead ends at {quoted(place)}"
                + (f"; leads end at {', '.join(map(quoted, list(having)[:5]))}" if having else "")
            )

    @cached_property
    def unmarked(self) -> tuple[Identity, ...]:
        """The leads that have no flag; what is marked is known."""
        return tuple(one for one in self.identities.all if not one.expected.label.strip())

    @cached_property
    def apart(self) -> Apart:
        """What tells these apart."""
        return Apart(self.meter, self.unmarked)

    @cached_property
    def bare(self) -> Identification:
        """What is known before anything is read."""
        known = (one.expected for one in self.identities.all if one.expected.label.strip())
        return Identification(
            file=self.build.file,
            build=self.build.build.name,
            place=self.place,
            first=self.identities.first,
            more=self.identities.more,
            expected=tuple(one.expected for one in self.unmarked),
            alike=tuple(self.apart.like_lamps()),
            told=self.apart.told(),
            apart=self.identities.apart,
            marked=tuple((lead.name, lead.label) for lead in known),
            bin=self.identities.bin_volts,
            legs_told=self.identities.legs_told,
        )

    def told(self, readings: str | Mapping[str, str]) -> Identification:
        """What these readings tell."""
        taken = read(
            readings,
            colours=SEEN,
            places={place for one in self.unmarked for place in one.expected.places},
            leads=[one.expected.name for one in self.unmarked],
        )
        bare = self.bare
        if not self.unmarked or bare.first is None:
            if taken:
                raise ReadingError(
                    f"no setting harms none of the leads at {quoted(self.place)}: nothing is read there"
                )
            return bare
        if len(taken) > len(self.unmarked):
            raise ReadingError(
                f"{len(self.unmarked)} unmarked leads end at {quoted(self.place)}, and {len(taken)} are named"
            )
        for one in taken:
            if one.more is not None and not one.whole:
                raise ReadingError(
                    f"{quoted(one.lead)}: setting B is for a lead whose continuity is proven; write whole once it is"
                )
            if one.more is not None and bare.more is None:
                raise ReadingError(f"{quoted(one.lead)}: there is no setting B for these leads")
            self._as_set(one, bare)
        return self._solved(bare, taken) if taken else replace(bare, next=next_step(self.apart, (), {}, ()))

    def _as_set(self, one: LeadReading, bare: Identification) -> None:
        """ReadingError for volts above the setting, and for whole volts, which no meter shows, but none and those that are set."""
        assert bare.first is not None
        settings = {"A": bare.first, "B": bare.more}
        for volts, digit, name in (
            (one.first.volts, one.first.digit, "A"), (one.turned.volts, one.turned.digit, "A"), (one.more, one.more_digit, "B"),
        ):  # fmt: skip
            setting = settings[name]
            if volts is None or setting is None:
                continue
            most = self.meter.shows(Across(0.0, 0.0, setting.volts, 0.0, 0.0), DIGIT)[1] + digit / 2.0
            if volts > most and volts != setting.volts:
                raise ReadingError(
                    f"{quoted(one.lead)} reads {volts:.4g} V, more than setting {name} has, {setting.volts:g} V: take the lead "
                    "off, set the volts with the ends apart and measure them; then read it again"
                )
            if digit >= 1.0 and volts not in (0.0, setting.volts):
                raise ReadingError(
                    f"{quoted(one.lead)}: type all that the meter shows, with its decimals, as in {volts:.2f}"
                )

    # -- which lead may be which

    def _solved(self, bare: Identification, taken: Sequence[LeadReading]) -> Identification:
        rows = [[list(self.meter.fits(one, identity)) for identity in self.unmarked] for one in taken]
        costs = [[min((cost for cost, _ in fits), default=_UNEXPLAINED) for fits in row] for row in rows]
        for one, row in zip(taken, costs, strict=True):
            if one.known:
                row[:] = [
                    cost if identity.expected.name == one.known else _IMPOSSIBLE
                    for cost, identity in zip(row, self.unmarked, strict=True)
                ]
        names = [one.known for one in taken if one.known]
        if twice := next((name for name in names if names.count(name) > 1), None):
            raise ReadingError(f"two leads cannot both be {quoted(twice)}")
        whole = costs + [[0] * len(self.unmarked) for _ in range(len(self.unmarked) - len(taken))]
        least, forced = cheapest(whole)
        found, left_of = [], {}
        for at, one in enumerate(taken):
            may = [to for to, cost in enumerate(forced[at]) if cost <= least + SLACK]
            left_of[one.lead] = may
            best = [to for to, cost in enumerate(forced[at]) if cost <= least]
            fits = [(cost, fit) for to in best for cost, fit in rows[at][to] if cost == costs[at][to]]
            found.append(
                Found(
                    lead=one.lead,
                    reading=one.text,
                    left=tuple(self.unmarked[to].expected.name for to in may),
                    sure=len(may) == 1 and not one.known,
                    fits=tuple(dict.fromkeys(fit for _, fit in fits)),
                    dark=self.meter.dark(one),
                    known=bool(one.known),
                )
            )
        unexplained = tuple(
            one.lead for one, row in zip(taken, rows, strict=True) if not any(fits for fits in row)
        )
        faults = least - _UNEXPLAINED * len(unexplained)
        done = replace(bare, found=tuple(found), faults=faults, unexplained=unexplained)
        return replace(done, next=None if done.done else next_step(self.apart, taken, left_of, found))
