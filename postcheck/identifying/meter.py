"""What a meter and an eye say of a lead at the settings of a place, and what of a lead of the file would explain it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from math import inf

from postcheck.identification import Across, Fit, LeadExpected
from postcheck.identifying.colours import alike
from postcheck.lead_readings import LeadReading, Way
from postcheck.limits import Limits
from postcheck.survey.bench.identities import Hypothesis, Identities, Identity

# What `bench.digits` is of, V.
DIGIT = 0.01


class Meter:
    """A meter at the settings of one place, and who reads it."""

    def __init__(self, identities: Identities, limits: Limits) -> None:
        self.identities: Identities = identities
        self.limits: Limits = limits

    def fits(self, one: LeadReading, identity: Identity) -> Iterator[tuple[int, Fit]]:
        """What of a lead would explain a reading, with the number of faults in it."""
        expected = identity.expected
        for hypothesis in identity.hypotheses:
            for swapped in (False, True):
                # what reads the same either way round is never swapped
                if swapped and hypothesis.first == hypothesis.turned:
                    continue
                if not self._explains(one, expected, hypothesis, swapped=swapped):
                    continue
                miswired = swapped and self.identities.legs_told
                cost = int(hypothesis.condition != "sound") + int(miswired)
                yield cost, Fit(expected.name, hypothesis.condition, miswired)

    def _explains(
        self, one: LeadReading, expected: LeadExpected, hypothesis: Hypothesis, *, swapped: bool
    ) -> bool:
        ways = (hypothesis.turned, hypothesis.first) if swapped else (hypothesis.first, hypothesis.turned)
        if not any(
            all(self._reads(way, at, expected) for way, at in zip(said, ways, strict=True))
            for said in one.ways
        ):
            return False
        lit = [*ways, hypothesis.more] if one.more is not None and hypothesis.more is not None else ways
        if one.place and (one.place not in expected.places or max(at.amps_most for at in lit) < self.lights):
            return False
        if one.more is None:
            return True
        return (
            not swapped
            and hypothesis.more is not None
            and self._within(one.more, one.more_digit, hypothesis.more)
        )

    def _reads(self, way: Way, at: Across, expected: LeadExpected) -> bool:
        if way.volts is not None and not self._within(way.volts, way.digit, at):
            return False
        if way.seen == "dark":
            # what is sealed in, by day, is taken for dark up to a good deal more than is seen in a dim room
            return at.amps_least <= max(self.lights, self.dim)
        if way.seen:
            if at.amps_most < self.lights / 2.0:
                return False
            return (
                way.seen == "lit"
                or not expected.colours
                or any(alike(way.seen, one) for one in expected.colours)
            )
        return True

    @cached_property
    def lights(self) -> float:
        """What is seen of a lamp in a dim room, A."""
        return self.limits.value("bench.lights")

    @cached_property
    def dim(self) -> float:
        """What is taken for dark by day, A."""
        first = self.identities.first
        return self.limits.value("lamp.dim.far") * (
            first.rated if first is not None and first.rated < inf else 0.0
        )

    def _within(self, volts: float, digit: float, at: Across) -> bool:
        # whole volts are taken for none and for all that is set alone, and mean just that
        least, most = self.shows(at, digit if digit < 1.0 else DIGIT)
        return least <= volts <= most

    def shows(self, at: Across, digit: float = DIGIT) -> tuple[float, float]:
        """The least and the most that a meter may show of it, V, whose last digit is so many volts."""
        meter, digits = self.limits.value("bench.meter"), self.limits.value("bench.digits") * digit / DIGIT
        return at.least * (1.0 - meter) - digits, at.most * (1.0 + meter) + digits

    def dark(self, one: LeadReading) -> bool:
        """Whether a lead stayed dark both ways round."""
        first = self.identities.first
        assert first is not None
        if one.more is not None:
            return False
        # what the resistor keeps is what flows, whatever is seen
        most = first.volts - max(self.lights, self.dim) * first.ohms
        return all(
            way.seen == "dark" or (way.volts is not None and way.volts >= most and way.seen in ("", "dark"))
            for way in (one.first, one.turned)
        )

    def seems_dark(self, way: Way) -> bool:
        """Whether nothing lit, one way round."""
        first = self.identities.first
        assert first is not None
        return way.seen == "dark" or (
            way.seen == "" and way.volts is not None and way.volts >= first.volts - self.lights * first.ohms
        )

    def wants_more(self, one: Identity) -> bool:
        """Whether a lead lights at setting B only."""
        return one.expected.more is not None or one.expected.first.amps_most < self.lights

    def apart(self, one: Across, other: Across) -> bool:
        """Whether a meter shows two leads differently, whatever parts they have."""
        (low, high), (least, most) = self.shows(one), self.shows(other)
        return high < least or most < low
