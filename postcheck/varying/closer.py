"""Where to look closer: between which values of a key the outcome turns, or may have turned and come back."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

from postcheck.checks.fact import Within
from postcheck.description.problems import BuildError
from postcheck.description.ranges import Range
from postcheck.report import Severity, Verdict
from postcheck.variation import Point
from postcheck.varying.keys import Key

# Judgements for one key: of the grid that is gone on to, and in all; once time is up, those that a turn of the verdict
# may still take, and for how many times the time. Nothing doubtful is followed up closer than this part of the range.
_FINE = 61
MOST = 240
_MOST_LATE, _LATEST = 60, 1.5
_FINEST = 1000.0
# How much steeper than it is found to be a comparison may be between two values: judgement.
_STEEPER = 1.5

# What may differ between two outcomes: nothing, notes, stops or cautions, the verdict.
_NOTHING, _NOTES, _WEIGHTY, _VERDICT = range(4)


class Outcome(NamedTuple):
    """What a judgement came to; its place among the values is known at the end. `shares`: of each check's limit, what is used up."""

    point: Point
    compared: Mapping[str, Within]
    shares: Mapping[str, float]
    error: BuildError | None = None

    @property
    def state(self) -> tuple[Verdict, frozenset[tuple[str, Severity]]]:
        """What counts as the same outcome: the verdict, and what is found with its weight."""
        return self.point.verdict, frozenset((one.id, one.severity) for one in self.point.findings)


class _Step(NamedTuple):
    """Two neighbouring values, one half way between them, what differs, and how far apart they are."""

    low: float
    high: float
    middle: float
    differs: int
    far: float


class Closer:
    """The outcomes of one key, and what lies between them. `spent`: the share of the time for looking closer that is gone."""

    def __init__(
        self, key: Key, outcomes: Mapping[tuple[float, ...], Outcome], spent: Callable[[], float]
    ) -> None:
        self.key: Key = key
        self.outcomes: Mapping[tuple[float, ...], Outcome] = outcomes
        self.spent: Callable[[], float] = spent
        self.doubts: dict[tuple[float, tuple[float, ...]], bool] = {}
        self.grid: list[float] = key.values.grid(_FINE) if isinstance(key.values, Range) else []

    def turns(self) -> list[tuple[float, float]]:
        """Neighbours of which the outcomes differ."""
        outcomes = self.outcomes
        return [(a, b) for a, b in pairwise(self.key.numbers) if outcomes[a,].state != outcomes[b,].state]

    def next(self) -> float | None:
        """The value that is worth looking at next; None where none is, or enough was looked at.

        First where the verdict turns; where a comparison could cross its limit and come back; where stops and cautions come
        or go; then evenly; at last where notes come or go.
        """
        key, count = self.key, len(self.outcomes)
        if not isinstance(key.values, Range) or count >= MOST:
            return None
        spent = self.spent()
        steps = [
            _Step(a, b, middle, self._differs(a, b), key.far(a, b))
            for a, b in pairwise(key.numbers)
            if (middle := key.between(a, b)) is not None
        ]

        def widest(some: Iterable[_Step]) -> _Step | None:
            return max(some, key=lambda step: step.far, default=None)

        if turn := widest(step for step in steps if step.differs == _VERDICT):
            return turn.middle if spent <= 1.0 or (count < _MOST_LATE and spent < _LATEST) else None
        if spent > 1.0:
            return None
        same = [step for step in steps if step.differs == _NOTHING]
        least = key.far(key.numbers[0], key.numbers[-1]) / _FINEST
        if doubt := widest(step for step in same if step.far > least and self._doubtful(step)):
            return doubt.middle
        if turn := widest(step for step in steps if step.differs == _WEIGHTY):
            return turn.middle
        if even := widest(step for step in same if any(step.low < one < step.high for one in self.grid)):
            inside = [one for one in self.grid if even.low < one < even.high]
            return min(inside, key=lambda one: abs(key.far(even.low, one) - key.far(one, even.high)))
        turn = widest(step for step in steps if step.differs == _NOTES)
        return turn.middle if turn else None

    def _differs(self, a: float, b: float) -> int:
        """What differs between the outcomes of two values, the weightiest of it."""
        below, above = (self.outcomes[one,] for one in (a, b))
        if below.state == above.state:
            return _NOTHING
        if below.point.verdict != above.point.verdict:
            return _VERDICT
        (_, ours), (_, theirs) = below.state, above.state
        return _WEIGHTY if any(severity != "note" for _, severity in ours ^ theirs) else _NOTES

    def _doubtful(self, step: _Step) -> bool:
        """Whether a comparison may reach its limit between two values on one side of it.

        It may by the bound for a function that is nowhere steeper than it is found to be hereabouts (S. A. Piyavskii, 1972;
        B. O. Shubert, 1972), half as steep again to be safe. One that is made at one of them only may do anything.
        """
        at = self.key.numbers.index(step.low)
        around = tuple(self.key.numbers[max(at - 1, 0) : at + 3])
        if (step.low, around) not in self.doubts:
            self.doubts[step.low, around] = self._may_cross(step, around)
        return self.doubts[step.low, around]

    def _may_cross(self, step: _Step, around: Sequence[float]) -> bool:
        below, above = (self.outcomes[one,].shares for one in (step.low, step.high))
        if below.keys() != above.keys():
            return True
        for name, low in below.items():
            high = above[name]
            if (low > 1.0) != (high > 1.0):
                continue  # a turn, or a finding that is told with another one
            shares = [(at, known[name]) for at in around if name in (known := self.outcomes[at,].shares)]
            steepest = max(abs(v - u) / self.key.far(a, b) for (a, u), (b, v) in pairwise(shares))
            if _STEEPER * steepest * step.far > abs(2.0 - low - high):
                return True
        return False

    def gap(self) -> float | None:
        """See `Variation`."""
        values = self.key.values
        if not isinstance(values, Range):
            return None
        apart = [
            b / a if values.by_ratio else b - a
            for a, b in pairwise(self.key.numbers)
            if not self._differs(a, b) and not values.next_to(a, b)
        ]
        return max(apart, default=0.0)
