"""A build judged at each value of a key, or of two, and what comes of it in all."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from datetime import date
from itertools import product
from time import process_time

from postcheck.checks.judge import judge
from postcheck.checks.table import CHECKS
from postcheck.description.limits import limit_changes
from postcheck.description.models import Build
from postcheck.description.problems import BuildError
from postcheck.description.ranges import Range
from postcheck.limits import Limits
from postcheck.plain import quoted
from postcheck.reading.instead import what_ifs
from postcheck.reading.what_if import Assignment, assigned
from postcheck.report import Effort, Stage, rank
from postcheck.survey import Survey
from postcheck.variation import Found, Point, Segment, Turn, Variation
from postcheck.varying.closer import Closer, Outcome
from postcheck.varying.keys import Key

Progress = Callable[[int], None]

# Seconds of the processor for looking closer, unless said otherwise; the least judgements of a coarse grid.
SECONDS, _LEAST = 5.0, 3
# Beyond so many times its limit it does not matter how far a value is beyond.
_FAR_BEYOND = 10.0


class MarginError(ValueError):
    """Nothing is compared by the check whose margin was asked for."""


class Sweep:
    """The judgements at the values of one key, or of two. `how`: for which stage and day, and how hard a bore is packed."""

    def __init__(
        self, build: Build, keys: Sequence[Key], how: tuple[Stage | None, date | None, Effort], progress: Progress, seconds: float
    ) -> None:  # fmt: skip
        self.build: Build = build
        self.keys: Sequence[Key] = keys
        self.how: tuple[Stage | None, date | None, Effort] = how
        self.progress: Progress = progress
        self.alike: Survey | None = None
        self.outcomes: dict[tuple[float, ...], Outcome] = {}
        self.began: float = process_time()
        self.seconds: float = seconds
        self.closer: Closer = Closer(keys[0], self.outcomes, lambda: self.spent / max(seconds, 1e-9))
        self.stopped: bool = False

    def one(self) -> list[Turn]:
        """The coarse grid, then what lies between neighbours, the doubtful first; the turns that are left."""
        (key,) = self.keys
        try:
            self._judge_coarsely(key)
            while (middle := self.closer.next()) is not None:
                self._judge([(middle,)])
                key.numbers = sorted({*key.numbers, middle})
        except KeyboardInterrupt:
            self.stopped = True
            key.numbers = [number for number in key.numbers if (number,) in self.outcomes]
            if len(key.numbers) < 2:
                raise
        found = []
        for a, b in self.closer.turns() if isinstance(key.values, Range) else ():
            below, above = (self.outcomes[one,].point for one in (a, b))
            before, after = ({one.id: one.severity for one in point.findings} for point in (below, above))
            new = tuple(name for name in after if name not in before)
            gone = tuple(name for name in before if name not in after)
            other = tuple(name for name in before if after.get(name, before[name]) != before[name])
            at = key.numbers.index(a)
            found.append(Turn(at, at + 1, new, gone, other, key.between(a, b) is None))
        return found

    @property
    def spent(self) -> float:
        """Seconds of the processor so far."""
        return process_time() - self.began

    def _judge_coarsely(self, key: Key) -> None:
        """The coarse grid; of a range so few of it where a judgement takes long."""
        spread = key.spread()
        enough = _LEAST if isinstance(key.values, Range) else len(spread)
        for count, number in enumerate(spread):
            if count >= enough and self.spent > max(self.seconds, SECONDS):
                break
            self._judge([(number,)])
        key.numbers = [number for number in key.numbers if (number,) in self.outcomes]

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

    def _judge(self, places: Iterable[tuple[float, ...]]) -> None:
        for place in places:
            self.outcomes[place] = self._outcome(place)
            self.progress(len(self.outcomes))

    def _outcome(self, place: tuple[float, ...]) -> Outcome:
        wanted = [
            Assignment(key.steps, key.value(number)) for key, number in zip(self.keys, place, strict=True)
        ]
        try:
            build = assigned(self.build, wanted)
        except BuildError as error:
            found = tuple(Found(f"{one.check}:{self.build.file}", "stop", str(one)) for one in error.problems)
            return Outcome(Point((), "unreadable", found), {}, {}, error)
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
        ordered = sorted(findings, key=lambda one: (rank(one), one.because_of is not None))
        vital = [question for question in judged.not_judged if question.vital]
        point = Point(
            (), judged.verdict, tuple(Found(one.id, one.severity, one.says) for one in ordered),
            vital=len(vital), asks=vital[0] if vital else None,
        )  # fmt: skip
        shares = {name: min(one.used, _FAR_BEYOND) for name, one in judged.compared.items()}
        return Outcome(point, judged.compared, shares)

    def variation(self, turns: list[Turn], margin: str | None) -> Variation:
        """All of it, with the margin of a check. Raises BuildError where no value makes a build, MarginError."""
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
        single = len(self.keys) == 1
        segments = _segments(points) if single and isinstance(self.keys[0].values, Range) else ()
        gap = self.closer.gap() if single else None
        return Variation(
            self.build.file, self.build.build.name, stage, tuple(key.axis() for key in self.keys),
            tuple(points), tuple(turns), segments, name, line, what_ifs(self.build), gap, self.stopped,
        )  # fmt: skip

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


def _segments(points: Sequence[Point]) -> tuple[Segment, ...]:
    found: list[Segment] = []
    for index, point in enumerate(points):
        if found and found[-1].verdict == point.verdict:
            found[-1] = replace(found[-1], last=index)
        else:
            found.append(Segment(index, index, point.verdict))
    return tuple(found)
