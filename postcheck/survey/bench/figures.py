"""What is known of each test point, as plain frozen records. Currents in A, volts in V, resistances in ohm."""

from __future__ import annotations

from typing import Literal, NamedTuple

from postcheck.survey.bench.test_points import TestPoint


class Band(NamedTuple):
    """A current: with parts that take least, as they usually are, and that take most."""

    least: float
    usual: float
    most: float


class ContactTest(NamedTuple):
    """The full supply on the ends, the right way round: its highest volts, the current at worst, and what comes of it.

    `worst`: the lamp that fares worst, with its share and its rating; empty where there is none. Of `amps`, what the
    wires and lamps would let through where that is less than the supply can give.
    """

    volts: float
    amps: float
    outcome: Literal["lights", "dark", "too much", "destroyed", "unknown"]
    worst: str = ""
    worst_amps: float = 0.0
    rated: float = 0.0


class Backwards(NamedTuple):
    """The full supply the wrong way round: `volts` on LEDs that are tested at `stood`; "shorts": the diode across a motor conducts."""

    volts: float
    stood: float | None
    outcome: Literal["dark", "may destroy", "shorts", "the same", "unknown"]


class Setting(NamedTuple):
    """How a bench supply is set before it touches: volts and current limit, and the current to expect.

    `held`: the limit holds the current, so the volts may be anything up to those set. `forgotten`: what would flow at
    worst with the limit left open. `starting`: the most while a motor or the like starts;
    None where none does.
    """

    volts: float
    limit: float
    expected: Band
    held: bool
    forgotten: float
    starting: float | None = None


class Tester(NamedTuple):
    """A resistor in the bench lead with which the full supply may touch the ends, and the current to expect then.

    `power`: the least that is sold (W) and stands it for good that the ends touch each other.
    """

    ohms: float
    power: float
    volts: float
    expected: Band


class BenchFigures(NamedTuple):
    """Everything of one test point. `with_resistors`: the current to expect from the usual volts through the resistors that belong there."""

    test_point: TestPoint
    usual_volts: float
    contact_test: ContactTest
    backwards: Backwards
    setting: Setting | None
    tester: Tester | None
    with_resistors: Band | None
