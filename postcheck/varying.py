"""A build judged over a range of one key, finer where the outcome turns; or over two keys, as a map."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from itertools import pairwise, product
from math import log
from time import process_time
from typing import Any, NamedTuple

from postcheck.checks.fact import Within
from postcheck.checks.judge import judge
from postcheck.checks.table import CHECKS
from postcheck.description.keys import form_at
from postcheck.description.limits import limit_changes
from postcheck.description.models import Build
from postcheck.description.problems import BuildError, QuantityError
from postcheck.description.ranges import Choices, Range, values_of
from postcheck.limits import Limits
from postcheck.physics.preferred import at_least
from postcheck.plain import nearest, quoted
from postcheck.reading.instead import what_ifs
from postcheck.reading.what_if import Assignment, assigned, key_steps, named
from postcheck.report import SEVERITIES, Effort, Stage
from postcheck.survey import Survey
from postcheck.taken import takes
from postcheck.variation import Axis, Found, Point, Segment, Turn, Variation

__all__ = ["MOST", "MOST_A_SIDE", "SECONDS", "MarginError", "Varied", "varied"]

# Judgements for one key: of a coarse grid, of the grid that is gone on to, and in all; once time is up, those that
# a turn of the verdict may still take, and for how many times the seconds. Nothing doubtful is followed up closer than
# this part of the range. Where a judgement takes long, so few of the coarse grid have to do.
_COARSE = 21
_LEAST = 6
_FINE = 61
MOST = 240
_MOST_LATE, _LATEST = 60, 1.5
_FINEST = 1000.0
# How much steeper than it is found to be a comparison may be between two values: judgement.
_STEEPER = 1.5
# Beyond so many times its limit it does not matter how far a value is beyond.
_FAR_BEYOND = 10.0
# Seconds of computing, for one key.
SECONDS = 5.0
# Values that are named, and values of each key of a map.
MOST_NAMED = 60
MOST_A_SIDE = 20
_COARSE_A_SIDE = 13
# Twelve decades of E96 are more than anyone has.
_MOST_KEYS = 2
_MOST_ON_THE_SHELF = 12 * 96

Progress = Callable[[int], None]


class Varied(NamedTuple):
    """A key, step by step, and the values that it takes."""

    steps: tuple[str, ...]
    values: Range | Choices


def vary(
    build: Build, values: Mapping[str, str], *, stage: Stage | None = None, today: date | None = None, effort: Effort = "quick",
    margin: str | None = None, seconds: float = SECONDS,
) -> Variation:  # fmt: skip
    """The build over the values of one key, or of two: `{"post.bore": "1.6 mm..4 mm"}`, as `postcheck vary` takes them.

    The rest is as `varied` says it. ValueError for a key or values that cannot be read (QuantityError), for other than one or two
    keys, and where nothing is compared by `margin` (MarginError); BuildError where a key is not known or no value makes a build.
    """
    takes("vary", build, Build)
    takes("vary", values, Mapping)
    if not seconds >= 0.0:
        raise ValueError(f"seconds is a number from 0 up; not {seconds!r}")
    if not 1 <= len(values) <= _MOST_KEYS:
        raise ValueError(f"one key or two can be varied at once, not {len(values)}")
    keys = [Varied(key_steps(key), values_of(text)) for key, text in values.items()]
    return varied(build, keys, stage=stage, today=today, effort=effort, margin=margin, seconds=seconds)


class MarginError(ValueError):
    """Nothing is compared by the check whose margin was asked for."""


def varied(
    build: Build, keys: Sequence[Varied], *, stage: Stage | None = None, today: date | None = None, effort: Effort = "quick",
    margin: str | None = None, seconds: float = SECONDS, progress: Progress = lambda _: None,
) -> Variation:  # fmt: skip
    """The build over the values of one key, or of two. `margin`: the check of which the margin is told, else one that turns.

    `seconds` of computing go at most into looking closer, once a coarse grid is judged; turns of the verdict are followed up in
    any case. `progress` is told after each judgement how many there have been. KeyboardInterrupt ends it with what there is, told as
    such; before two values are judged, or a row of a map, it is raised. Raises BuildError where a key is not known or no value makes
    a build, QuantityError for too many values, MarginError.
    """
    if margin is not None and margin not in (known := [check.name for check in CHECKS]):
        near = nearest(margin, known)
        hint = f"did you mean {quoted(near)}?" if near else "`postcheck explain` lists them"
        raise MarginError(f"there is no check {quoted(margin)}; {hint}")
    asked = [_Key(build, one, len(keys)) for one in keys]
    if len({one.path for one in asked}) < len(asked):
        raise QuantityError("file.invalid", f"{asked[0].key} is named twice", "a map is of two keys")
    bench = _Bench(build, asked, (stage, today, effort), progress, seconds)
    return bench.told(bench.one() if len(keys) == 1 else bench.two(), margin)


class _Key:
    """A key with its values so far, in order."""

    def __init__(self, build: Build, wanted: Varied, keys: int) -> None:
        self.values = wanted.values
        where = named(build, wanted.steps)
        self.steps = wanted.steps
        if (part := self._part(where.path, where.given)) is not None:
            self.steps = (*wanted.steps, part)
            where = named(build, self.steps)
        self.path, self.key, self.was = where.path, where.key, where.was
        self.own: float | None = None
        self.series = ""
        most = MOST_NAMED if keys == 1 else MOST_A_SIDE
        if isinstance(self.values, Choices):
            if len(self.values.values) > most:
                count = len(self.values.values)
                raise QuantityError(
                    "file.out-of-range", f"{count} values are too many", f"name {most} at the most"
                )
            self.numbers = [float(index) for index in range(len(self.values.values))]
            self.own = next(
                (float(i) for i, value in enumerate(self.values.values) if value == where.given), None
            )
        else:
            if where.path[-2:] == ("resistor", "ohms"):
                self.values = _on_the_shelf(self.values, build)
                self.series = build.stock.series if self.values.only else ""
            self.numbers = self.values.grid(_COARSE if keys == 1 else _COARSE_A_SIDE)
            own = self.values.number_of(where.given)
            if own is not None and self.values.least <= own <= self.values.most:
                self.own = own
                self.numbers = sorted({*self.numbers, own})

    def _part(self, path: tuple[str | int, ...], there: object) -> str | None:
        """Of a table that may be written in one line, the part that the values say: the rest of it stays as it is."""
        form = form_at(Build, path)
        if form is None or not isinstance(there, str | Mapping):
            return None
        ends: tuple[Any, ...] = (
            self.values.values
            if isinstance(self.values, Choices)
            else (self.values.value(self.values.least),)
        )
        parts = set()
        for end in ends:
            try:
                found = form.form(end) if isinstance(end, str) else {}
            except QuantityError:
                return None
            said = [key for key, value in found.items() if value == end]
            parts.add(said[0] if len(said) == 1 and len(found) == 1 else "")
        return parts.pop() or None if len(parts) == 1 else None

    def spread(self) -> list[float]:
        """The values in the order in which they are judged: the file's own and both ends first, so that little says much."""
        numbers = self.numbers
        first = [self.own] if self.own is not None else []
        if isinstance(self.values, Choices):
            return list(dict.fromkeys([*first, *numbers]))
        return list(dict.fromkeys([*first, numbers[0], numbers[-1], *numbers[::4], *numbers[::2], *numbers]))

    def value(self, number: float) -> Any:
        return (
            self.values.values[int(number)] if isinstance(self.values, Choices) else self.values.value(number)
        )

    def text(self, number: float) -> str:
        if isinstance(self.values, Range):
            return self.values.text(number)
        value = self.value(number)
        return (
            value if isinstance(value, str) else str(value).lower() if isinstance(value, bool) else str(value)
        )

    def between(self, below: float, above: float) -> float | None:
        return self.values.between(below, above) if isinstance(self.values, Range) else None

    def far(self, below: float, above: float) -> float:
        """How far apart two values are, for choosing where to look closer."""
        return (
            log(above / below) if isinstance(self.values, Range) and self.values.by_ratio else above - below
        )

    def axis(self) -> Axis:
        values = tuple(map(self.text, self.numbers))
        own = self.numbers.index(self.own) if self.own in self.numbers else None
        if isinstance(self.values, Choices):
            return Axis(self.key, values, was=self.was, own=own)
        return Axis(
            self.key,
            values,
            tuple(self.numbers),
            self.values.unit,
            self.values.by_ratio,
            self.series,
            self.was,
            own,
        )


def _on_the_shelf(values: Range, build: Build) -> Range:
    """Of resistances those of the builder's series, where the range holds two of them."""
    unit = {"ohm": 1.0, "kohm": 1e3, "k": 1e3, "Mohm": 1e6, "M": 1e6}.get(values.unit)
    if unit is None or values.least <= 0.0:
        return values
    found: list[float] = []
    value = at_least(values.least * unit, build.stock.series)
    while value <= values.most * unit * (1.0 + 1e-9) and len(found) <= _MOST_ON_THE_SHELF:
        found.append(float(f"{value / unit:.12g}"))
        value = at_least(value * (1.0 + 1e-6), build.stock.series)
    return values._replace(only=tuple(found)) if len(found) > 1 else values


class _Step(NamedTuple):
    """Two neighbouring values, one half way between them, what differs (see `_weighs`), and how far apart they are."""

    low: float
    high: float
    middle: float
    weight: int
    far: float


def _far(step: _Step) -> float:
    return step.far


class _Outcome(NamedTuple):
    """What a judgement came to; its place among the values is known at the end. `shares`: of each check's limit, what is used up."""

    point: Point
    compared: Mapping[str, Within]
    shares: Mapping[str, float]
    error: BuildError | None = None

    @property
    def state(self) -> tuple[object, ...]:
        return self.point.verdict, frozenset((one.id, one.severity) for one in self.point.findings)


class _Bench:
    def __init__(
        self, build: Build, keys: Sequence[_Key], how: tuple[Stage | None, date | None, Effort], progress: Progress, seconds: float
    ) -> None:  # fmt: skip
        self.build, self.keys, self.how, self.progress = build, keys, how, progress
        self.alike: Survey | None = None
        self.doubts: dict[tuple[float, tuple[float, ...]], bool] = {}
        self.seconds, self.began = seconds, process_time()
        values = keys[0].values
        self.grid = values.grid(_FINE) if isinstance(values, Range) else []
        self.outcomes: dict[tuple[float, ...], _Outcome] = {}
        self.stopped = False

    @property
    def spent(self) -> float:
        """Seconds of the processor so far."""
        return process_time() - self.began

    @property
    def late(self) -> bool:
        """Whether the time is up."""
        return self.spent > self.seconds

    def one(self) -> list[Turn]:
        """The coarse grid, then what lies between neighbours, the doubtful first; the turns that are left."""
        (key,) = self.keys
        try:
            spread = key.spread()
            enough = _LEAST if isinstance(key.values, Range) else len(spread)
            for count, number in enumerate(spread):
                if count >= enough and self.spent > max(self.seconds, SECONDS):
                    break
                self._judge([(number,)])
            key.numbers = [number for number in key.numbers if (number,) in self.outcomes]
            while (middle := self._next(key)) is not None:
                self._judge([(middle,)])
                key.numbers = sorted({*key.numbers, middle})
        except KeyboardInterrupt:
            self.stopped = True
            key.numbers = [number for number in key.numbers if (number,) in self.outcomes]
            if len(key.numbers) < 2:
                raise
        found = []
        for a, b in self._turns(key) if isinstance(key.values, Range) else ():
            below, above = (self.outcomes[one,].point for one in (a, b))
            before, after = ({one.id: one.severity for one in point.findings} for point in (below, above))
            new = tuple(name for name in after if name not in before)
            gone = tuple(name for name in before if name not in after)
            other = tuple(name for name in before if after.get(name, before[name]) != before[name])
            at = key.numbers.index(a)
            found.append(Turn(at, at + 1, new, gone, other, key.between(a, b) is None))
        return found

    def two(self) -> list[Turn]:
        """Every pair of values; of a map that is broken off the rows that are whole."""
        down, across = self.keys
        try:
            self._judge(product(down.numbers, across.numbers))
        except KeyboardInterrupt:
            self.stopped = True
            down.numbers = down.numbers[: len(self.outcomes) // len(across.numbers)]
            if not down.numbers:
                raise
        return []

    def _turns(self, key: _Key) -> list[tuple[float, float]]:
        return [
            (a, b) for a, b in pairwise(key.numbers) if self.outcomes[a,].state != self.outcomes[b,].state
        ]

    def _next(self, key: _Key) -> float | None:
        """The value that is worth looking at next; None where none is, or enough was looked at.

        First where the verdict turns; where a comparison could cross its limit and come back; where stops and cautions come
        or go; then evenly; at last where notes come or go.
        """
        count = len(self.outcomes)
        if not isinstance(key.values, Range) or count >= MOST:
            return None
        late = self.late
        steps = [
            _Step(a, b, middle, self._weighs(a, b), key.far(a, b))
            for a, b in pairwise(key.numbers)
            if (middle := key.between(a, b)) is not None
        ]
        if turns := [step for step in steps if step.weight == 3]:
            goes_on = not late or (count < _MOST_LATE and self.spent < _LATEST * self.seconds)
            return max(turns, key=_far).middle if goes_on else None
        if late:
            return None
        least = key.far(key.numbers[0], key.numbers[-1]) / _FINEST
        if doubts := [
            step for step in steps if step.weight == 0 and step.far > least and self._doubtful(key, step)
        ]:
            return max(doubts, key=_far).middle
        if turns := [step for step in steps if step.weight == 2]:
            return max(turns, key=_far).middle
        if even := [
            step
            for step in steps
            if step.weight == 0 and any(step.low < one < step.high for one in self.grid)
        ]:
            widest = max(even, key=_far)
            inside = [one for one in self.grid if widest.low < one < widest.high]
            return min(inside, key=lambda one: abs(key.far(widest.low, one) - key.far(one, widest.high)))
        turns = [step for step in steps if step.weight == 1]
        return max(turns, key=_far).middle if turns else None

    def _weighs(self, a: float, b: float) -> int:
        """What differs between two values: 3 the verdict, 2 stops or cautions, 1 notes, 0 nothing."""
        below, above = (self.outcomes[one,] for one in (a, b))
        if below.state == above.state:
            return 0
        if below.point.verdict != above.point.verdict:
            return 3
        told = [{(one.id, one.severity) for one in one.point.findings} for one in (below, above)]
        return 2 if any(weight != "note" for _, weight in told[0] ^ told[1]) else 1

    def _doubtful(self, key: _Key, step: _Step) -> bool:
        """Whether a comparison may reach its limit between two values on one side of it.

        It may by the bound for a function that is nowhere steeper than it is found to be hereabouts (S. A. Piyavskii, 1972;
        B. O. Shubert, 1972), half as steep again to be safe. One that is made at one of them only may do anything.
        """
        at = key.numbers.index(step.low)
        around = tuple(key.numbers[max(at - 1, 0) : at + 3])
        if (step.low, around) not in self.doubts:
            self.doubts[step.low, around] = self._may_cross(key, step, around)
        return self.doubts[step.low, around]

    def _may_cross(self, key: _Key, step: _Step, around: Sequence[float]) -> bool:
        below, above = (self.outcomes[one,].shares for one in (step.low, step.high))
        if below.keys() != above.keys():
            return True
        for name, low in below.items():
            high = above[name]
            if (low > 1.0) != (high > 1.0):
                continue  # a turn, or a finding that is told with another one
            shares = [(at, known[name]) for at in around if name in (known := self.outcomes[at,].shares)]
            steepest = max(abs(v - u) / key.far(a, b) for (a, u), (b, v) in pairwise(shares))
            if _STEEPER * steepest * step.far > abs(2.0 - low - high):
                return True
        return False

    def gap(self) -> float | None:
        """See `Variation`."""
        (key, *more) = self.keys
        if more or not isinstance(values := key.values, Range):
            return None
        apart = [
            b / a if values.by_ratio else b - a
            for a, b in pairwise(key.numbers)
            if not self._weighs(a, b) and not values.next_to(a, b)
        ]
        return max(apart, default=0.0)

    def _judge(self, places: Iterable[tuple[float, ...]]) -> None:
        for place in places:
            self.outcomes[place] = self._outcome(place)
            self.progress(len(self.outcomes))

    def _outcome(self, place: tuple[float, ...]) -> _Outcome:
        wanted = [
            Assignment(key.steps, key.value(number)) for key, number in zip(self.keys, place, strict=True)
        ]
        try:
            build = assigned(self.build, wanted)
        except BuildError as error:
            found = tuple(Found(f"{one.check}:{self.build.file}", "stop", str(one)) for one in error.problems)
            return _Outcome(Point((), "unreadable", found), {}, {}, error)
        stage, today, effort = self.how
        if self.alike is None:
            survey = Survey(build, Limits(limit_changes(build)[0]), stage, effort, today=today)
            # a bore changes nothing of the currents: they are worked out once
            if effort == "quick" and all(key.path[-1] == "bore" for key in self.keys):
                self.alike = survey
        else:
            survey = self.alike.again(build, changed=[key.path for key in self.keys])
        judged = judge(survey)
        # causes first, as a report has them
        findings = [one for one in judged.findings if one.accepted is None]
        told = sorted(findings, key=lambda one: (SEVERITIES.index(one.severity), one.because_of is not None))
        vital = [question for question in judged.not_judged if question.vital]
        point = Point(
            (), judged.verdict, tuple(Found(one.id, one.severity, one.says) for one in told),
            vital=len(vital), asks=vital[0] if vital else None,
        )  # fmt: skip
        shares = {name: min(one.used, _FAR_BEYOND) for name, one in judged.compared.items()}
        return _Outcome(point, judged.compared, shares)

    def told(self, turns: list[Turn], margin: str | None) -> Variation:
        places = list(product(*(key.numbers for key in self.keys)))
        errors = [self.outcomes[place].error for place in places]
        if all(errors) and errors[0] is not None:
            raise errors[0]
        name = self._margin(margin, turns, places)
        points = []
        for place in places:
            outcome = self.outcomes[place]
            one = outcome.compared.get(name)
            # a limit of nothing has no share that could be told
            used = one.used if one is not None and (one.kept or one.used > 1.0) else None
            at = tuple(key.numbers.index(number) for key, number in zip(self.keys, place, strict=True))
            points.append(replace(outcome.point, at=at, used=used))
        staged = self.how[0] is None and any(key.path == ("build", "stage") for key in self.keys)
        stage = "" if staged else Survey(self.build, Limits(limit_changes(self.build)[0]), self.how[0]).stage
        line = next((check.line for check in CHECKS if check.name == name), "")
        segments = (
            self._segments(points) if isinstance(self.keys[0].values, Range) and len(self.keys) == 1 else ()
        )
        return Variation(
            self.build.file, self.build.build.name, stage, tuple(key.axis() for key in self.keys),
            tuple(points), tuple(turns), segments, name, line, what_ifs(self.build), self.gap(), self.stopped,
        )  # fmt: skip

    def _segments(self, points: Sequence[Point]) -> tuple[Segment, ...]:
        found: list[Segment] = []
        for index, point in enumerate(points):
            if found and found[-1].verdict == point.verdict:
                found[-1] = replace(found[-1], last=index)
            else:
                found.append(Segment(index, index, point.verdict))
        return tuple(found)

    def _margin(self, wanted: str | None, turns: Sequence[Turn], places: Sequence[tuple[float, ...]]) -> str:
        """The check whose margin is told: the one asked for, one that turns with the verdict, or the one that moves most."""
        series = {
            check.name: [
                one.used for place in places if (one := self.outcomes[place].compared.get(check.name))
            ]
            for check in CHECKS
        }
        if wanted is not None:
            if not series.get(wanted):
                known = [name for name, used in series.items() if used]
                raise MarginError(
                    f"{quoted(wanted)} compares nothing here; {', '.join(known[:6])} do"
                    if known
                    else "nothing is compared here"
                )
            return wanted
        moves = {
            name: max(used) - min(used)
            for name, used in series.items()
            if len(used) * 2 >= len(places) and max(used) > min(used)
        }
        points = [self.outcomes[place].point for place in places]
        for turn in sorted(turns, key=lambda turn: points[turn.below].verdict == points[turn.above].verdict):
            for name in (*turn.other, *turn.gone, *turn.new):
                if (check := name.partition(":")[0]) in moves:
                    return check
        # of what stays far from its limit nobody wants to see how it moves
        return max(moves, key=lambda name: min(max(series[name]), 2.0) * min(moves[name], 1.0), default="")
