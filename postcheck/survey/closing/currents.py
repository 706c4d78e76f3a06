"""Whether the current of a circuit would plainly be another if something on it were dark."""

from __future__ import annotations

from math import sqrt

from postcheck.limits import Limits
from postcheck.survey.bench.bench import Bench
from postcheck.survey.bench.figures import Band
from postcheck.survey.bench.test_points import TestPoint
from postcheck.survey.test_records.readings import Reading
from postcheck.wiring.parts import LampPart, Part, Parts

# With more lamps on a circuit than this, a dark one is lost in the tolerances and the meter's error.
MOST_DISTINGUISHED = 40


class Currents:
    """What is connected to a test point, and what its current shows of each. `meter`: a fraction; `lights`: A."""

    def __init__(self, parts: Parts, bench: Bench, limits: Limits) -> None:
        self.bench = bench
        self.meter: float = limits.value("proof.meter")
        self.lights: float = limits.value("bench.lights")
        self.lamps: dict[str, LampPart] = {lamp.name: lamp for lamp in parts.lamps}
        self.on: dict[str, list[Part]] = {}
        for part in parts.all:
            self.on.setdefault(part.circuit, []).append(part)
        # by circuit, with everything that is connected there, at its usual volts
        self.whole: dict[TestPoint, Band | None] = {}

    def connected(self, test_point: TestPoint) -> list[Part]:
        """All that is connected to a test point's circuit and to those that are joined to it."""
        return [part for circuit in test_point.circuits for part in self.on.get(circuit, ())]

    def missed(
        self, test_point: TestPoint, names: frozenset[str], volts: float, amps: float,
        *, with_resistors: bool = True, ohms: float = 0.0, string: bool = False,
    ) -> bool:  # fmt: skip
        """Whether a current (A) is more than all else on the test point could take without these, by at least what lights one of them.

        `string`: without one string of them.
        """
        most = 0.0
        strings = [self.lamps[name] for name in names if name in self.lamps]
        if string and strings and len(self.connected(test_point)) > MOST_DISTINGUISHED:
            return False
        if string and strings:
            opened = frozenset((lamp.name, 0) for lamp in strings)
            band = self.bench.expected(
                test_point, volts, with_resistors=with_resistors, ohms=ohms, opened=opened
            )
            return band is not None and amps >= band.most * (1.0 + self.meter) + self.lights
        if len(names) == 1 and len(self.connected(test_point)) > MOST_DISTINGUISHED:
            return False
        without = test_point._replace(
            resistor_positions=tuple(pair for pair in test_point.resistor_positions if pair[0] not in names),
            others=tuple(other for other in test_point.others if other not in names),
        )
        if without.resistor_positions or without.others:
            band = self.bench.expected(without, volts, with_resistors=with_resistors, ohms=ohms)
            if band is None:
                return False
            most = band.most * (1.0 + self.meter)
        return amps >= most + self.lights

    def would_be_missed(
        self, reading: Reading, test_point: TestPoint, *names: str, string: bool = False
    ) -> bool:
        """Whether a reading would be another without these, by what lights one of them."""
        volts = reading.record.volts
        return volts is not None and self.missed(
            test_point,
            frozenset(names),
            volts,
            reading.amps,
            with_resistors=reading.through,
            ohms=reading.ohms,
            string=string,
        )

    def shown(
        self, test_point: TestPoint, volts: float, names: frozenset[str], *, string: bool = False
    ) -> bool:
        """Whether a rather low current at these volts would plainly be less without all these."""
        if test_point not in self.whole:
            self.whole[test_point] = self.bench.expected(test_point, volts, with_resistors=True)
        whole = self.whole[test_point]
        by_chance = sqrt(len(self.connected(test_point)))
        return whole is not None and self.missed(
            test_point, names, volts, whole.usual - (whole.usual - whole.least) / by_chance, string=string
        )

    def hides(self, lamp: LampPart) -> bool:
        """Whether the usual current of all its strings together may be had with one of them dark, or one LED shorted."""
        test_point = self.bench.leads.get(("lamp", lamp.name))
        if test_point is None or (volts := self.bench.usual_volts(test_point)) is None:
            return False
        first = frozenset({(lamp.name, 0)})
        whole = self.bench.expected(test_point, volts, with_resistors=True)
        dark = self.bench.expected(test_point, volts, with_resistors=True, opened=first)
        short = self.bench.expected(test_point, volts, with_resistors=True, shorted=first)
        return whole is not None and any(
            band is not None
            and band.least * (1.0 - self.meter) <= whole.usual <= band.most * (1.0 + self.meter)
            for band in (dark, short)
        )
