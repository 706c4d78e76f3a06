"""What is tested at the bench, what the meter showed, and what that says: plain frozen records, all numbers in SI."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from postcheck.expected import Expected
from postcheck.report import Finding, NotJudged, Subject

__all__ = ["BenchTest", "Judged", "MeterReading", "Outcome"]

Outcome = Literal[
    "as expected", "dark", "too low", "too high", "at the limit", "over the limit", "reversed", "open", "not judged"
]  # fmt: skip
"""What a reading is beside what was expected: `at the limit` that the bench supply was set to, so that more would flow; `over the
limit`, which therefore was not set; `open` of a conductor; `not judged` where too little is known."""


@dataclass(frozen=True, slots=True)
class BenchTest:
    """A test that closing asks for. A, V, ohm, s.

    `place`: what is to be closed. `subject`: what a test record calls it. `measures`: a current, whether a conductor goes
    from end to end (`continuity`), that it is seen to work (`work`), or only how long it has run (`hours`). `limit` and
    `volts`: how the bench supply is set, in this order; None where the file does not say enough. `held`: the limit holds the
    current. `bare`: what the full supply does to the ends without what is put in their way. `ohms`: the resistor to be put
    there, `each` string through its own. `at`: where the meter is put on a circuit, where that is not its beginning. `ends`:
    the places of the two ends, `plus` and `minus` their colours. `look`: the current does not show all of it, so somebody
    has to look. `hours`: how long it should run, None where it has. `heats`: a place that gets too hot if it is held on for
    so long, so that it runs as it is lit in the model; empty where none does. `white`: pixels in it have to
    be all white for its hours. `proves`: what it proves. `mend_first`: why it is not tested as it is; empty where it is.
    `stood`: what an LED there is tested at the wrong way round, V, where the volts are more than that.
    """

    place: str
    kind: str
    name: str
    subject: str
    measures: Literal["current", "continuity", "work", "hours"]
    limit: float | None = None
    volts: float | None = None
    expected: Expected | None = None
    starting: float | None = None
    held: bool = False
    bare: Literal["", "lights", "dark", "too much", "destroyed", "unknown"] = ""
    ohms: float | None = None
    each: bool = False
    at: str | None = None
    ends: tuple[str, ...] = ()
    plus: str = ""
    minus: str = ""
    label: str = ""
    look: bool = False
    hours: float | None = None
    proves: tuple[Subject, ...] = ()
    mend_first: str = ""
    stood: float | None = None
    heats: str = ""
    white: bool = False


@dataclass(frozen=True, slots=True)
class MeterReading:
    """What was read and seen: current in A, with the bench volts where the test names none; continuity, or ohm; run time in s.

    `done`: what was seen, in words. `reversed`: it was found the wrong way round.
    """

    current: float | None = None
    volts: float | None = None
    continuity: bool | float | None = None
    hours: float | None = None
    done: str | None = None
    reversed: bool = False

    @property
    def numbers(self) -> tuple[float, ...]:
        """All that was read as a number."""
        read = (self.current, self.volts, self.continuity, self.hours)
        return tuple(one for one in read if one is not None and not isinstance(one, bool))

    def answers(self, test: BenchTest) -> bool:
        """Whether it has what the test measures."""
        read = {
            "current": self.current,
            "continuity": self.continuity,
            "work": self.done,
            "hours": self.hours,
        }
        return read[test.measures] is not None


@dataclass(frozen=True, slots=True)
class Judged:
    """What a reading says. `text`: of the file with its test record in it; `lines`: those of it that are new or changed.

    `findings`: what is wrong with it, with its likely causes as the remedy. `questions`: what it does not show. `proven`:
    what the test was asked for is proven now, how long it runs apart.
    """

    test: BenchTest
    reading: MeterReading
    outcome: Outcome
    findings: tuple[Finding, ...]
    questions: tuple[NotJudged, ...]
    proven: bool
    text: str
    lines: tuple[str, ...] = ()
