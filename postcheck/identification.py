"""Unmarked leads told apart: plain frozen records. Volts in V, currents in A, resistances in ohm, powers in W."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

__all__ = [
    "Across",
    "Alike",
    "Condition",
    "Fit",
    "Found",
    "Identification",
    "LeadExpected",
    "Next",
    "Setting",
    "Step",
    "Told",
]

Condition = Literal["sound", "no resistor", "shorted", "open"]
"""What a lead may have: nothing wrong; its own resistor missing; an LED that conducts like wire; a string that is broken."""
Step = Literal["volts", "turn", "colour", "place", "whole", "more volts"]


class Across(NamedTuple):
    """What a meter reads across a lead, V: at least, with usual parts, at most; and what its brightest string then takes, A."""

    least: float
    usual: float
    most: float
    amps_least: float
    amps_most: float


class Setting(NamedTuple):
    """A bench supply with a resistor in its lead.

    `forward`: the most that can flow, into a short; `rated`: what the most delicate lamp is rated for, `delicate` its name;
    `reverse`: the least reverse voltage that a lamp withstands, `weakest` its name. `watts`: the most that any lamp can turn
    into heat at it, either way round.
    """

    volts: float
    ohms: float
    forward: float
    rated: float
    delicate: str
    reverse: float
    weakest: str
    watts: float


@dataclass(frozen=True, slots=True)
class LeadExpected:
    """What one lead reads. `colours`: of its light; `places`: where it lights; `plus`, `minus`: the colours of its legs.

    `first`: at setting A the right way round; `turned`: the other way; `more`: at setting B the right way round, where it
    is dark at A. `resistor`: ohms that sit in it ahead of the lamp; one at its very end is not in what is read. `label`: what
    is written on its flag.
    """

    kind: str
    name: str
    colours: tuple[str, ...]
    places: tuple[str, ...]
    first: Across
    turned: Across
    more: Across | None = None
    resistor: float | None = None
    plus: str = ""
    minus: str = ""
    label: str = ""


@dataclass(frozen=True, slots=True)
class Alike:
    """Leads that nothing but where they light tells apart; `place`: whether that does."""

    names: tuple[str, ...]
    place: bool


@dataclass(frozen=True, slots=True)
class Told:
    """Of so many pairs, how many are told apart by the meter; with the colour seen; with where it lights."""

    pairs: int
    volts: int
    colour: int
    place: int


class Fit(NamedTuple):
    """What would explain a reading: this lead, in this condition; `swapped`: its legs the wrong way round."""

    name: str
    condition: Condition = "sound"
    swapped: bool = False

    @property
    def fault(self) -> bool:
        """Whether something is wrong with it."""
        return self.swapped or self.condition != "sound"


class Next(NamedTuple):
    """What to do next with a lead, and how much that is expected to tell, bit."""

    step: Step
    lead: str
    bits: float


@dataclass(frozen=True, slots=True)
class Found:
    """What is known of one lead at the bench. `left`: the leads of the file that it may be.

    `sure`: one is left, even with a fault more than need be. `fits`: what explains its readings with as few faults as can
    be, all leads taken together. `dark`: it did not light either way round. `known`: who read it said which lead of the
    file it is.
    """

    lead: str
    reading: str
    left: tuple[str, ...]
    sure: bool
    fits: tuple[Fit, ...]
    dark: bool = False
    known: bool = False

    @property
    def faulty(self) -> bool:
        """Whether nothing without a fault explains it."""
        return bool(self.fits) and all(fit.fault for fit in self.fits)


@dataclass(frozen=True, slots=True)
class Identification:
    """How the unmarked leads that end at a place are told apart, and what readings have told so far.

    `first`: the setting that harms none of them either way round, None where there is none; `more`: the one for leads that
    stay dark, the right way round only. `apart`: leads on which nothing is put before they are known, with the reason.
    `bin`: the width of forward voltage that was assumed, V. `faults`: the least number that explains all readings
    but the `unexplained`; `legs_told`: the colours of the legs say which is which.
    """

    file: str
    build: str
    place: str
    first: Setting | None
    more: Setting | None
    expected: tuple[LeadExpected, ...]
    alike: tuple[Alike, ...]
    told: Told
    apart: tuple[tuple[str, str], ...] = ()
    marked: tuple[tuple[str, str], ...] = ()
    bin: float | None = None
    legs_told: bool = False
    found: tuple[Found, ...] = ()
    faults: int = 0
    unexplained: tuple[str, ...] = ()
    next: Next | None = None

    @property
    def done(self) -> bool:
        """Whether every lead is known for sure."""
        return len(self.found) == len(self.expected) and all(one.sure or one.known for one in self.found)
