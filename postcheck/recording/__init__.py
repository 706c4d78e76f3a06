"""Readings of the bench put into a build file as test records: which tests closing still asks for, and what each reading says."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

import tomli

from postcheck.checking import no_such_place
from postcheck.checks import measured, test_records
from postcheck.checks.judge import judge
from postcheck.description.limits import limit_changes
from postcheck.description.models import Build
from postcheck.description.problems import Path
from postcheck.description.rewriting import Put, changed_lines, rewritten
from postcheck.description.subjects import subjects
from postcheck.description.toml_text import in_toml
from postcheck.limits import Limits
from postcheck.reading.loading import build_from
from postcheck.reading.source import Source
from postcheck.recorded import BenchTest, Judged, MeterReading, Outcome
from postcheck.recording.left import bench_test, left_to_test
from postcheck.report import Finding, NotJudged, Verdict
from postcheck.survey import Survey
from postcheck.survey.closing.asked import asked_of
from postcheck.taken import takes
from postcheck.wiring.doors import takes_build

__all__ = ["ClashError", "Recording", "bench_tests", "judge_reading"]

_MOST = 1e9
# What a new reading of the same day takes the place of, for it said so of what was measured before.
_OF_A_READING = ("volts", "limit", "through", "current", "done", "hours", "polarity", "continuity")
_Record = Mapping[str, Any]


class ClashError(Exception):
    """The file was changed meanwhile in what a reading is about; its text says what."""


def bench_tests(
    build: Build, *, closing: Iterable[str] = (), today: date | None = None
) -> Iterator[BenchTest]:
    """The tests that closing these places still asks for (every sealed place if none is named), place by place.

    Each thing is asked for once: leads with the place that they are in, what several places ask for with the last of them,
    when their leads are tested. Raises ValueError for a place that is not there.
    """
    takes_build("bench_tests", build)
    return iter(Recording(build, closing=closing, today=today).left)


def judge_reading(
    build: Build, test: BenchTest, reading: MeterReading, *, closing: Iterable[str] = (), today: date | None = None
) -> Judged:  # fmt: skip
    """What a reading of one of `bench_tests` says, and the text of the file with its test record in it.

    Raises ValueError for a build without a text and for a reading that no meter shows, RewriteError where the text is such that
    no test record can be put into it.
    """
    takes_build("judge_reading", build)
    takes("judge_reading", test, BenchTest)
    takes("judge_reading", reading, MeterReading)
    return Recording(build, closing=closing, today=today).read(test, reading)


@dataclass(frozen=True, slots=True)
class _Answer:
    """A test record before and after an answer to a test, and the whole text."""

    test: BenchTest
    was: _Record | None
    now: _Record
    text_was: str
    text: str


class Recording:
    """The text of a build with more and more readings in it. Nothing is written to any file here.

    `left`: the tests that closing still asks for. Raises ValueError for a place that is not there.
    """

    def __init__(self, build: Build, *, closing: Iterable[str] = (), today: date | None = None) -> None:
        self._closing = (closing,) if isinstance(closing, str) else tuple(closing)
        if problem := no_such_place(build, self._closing):
            raise ValueError(problem)
        self.today: date = today or date.today()
        self._answers: tuple[_Answer, ...] = ()
        self._take(build)
        self._before: tuple[Build, tuple[_Answer, ...]] = (build, ())

    def _take(self, build: Build) -> None:
        self.build: Build = build
        self._survey = Survey(
            build, Limits(limit_changes(build)[0]), "closing", closing=self._closing, today=self.today
        )
        self.left: tuple[BenchTest, ...] = tuple(left_to_test(self._survey))

    @property
    def text(self) -> str:
        """The text of the file, with all that was read."""
        if self.build.text is None:
            raise ValueError("only a build that was read from a text can have its readings written into it")
        return self.build.text

    @property
    def places(self) -> tuple[str, ...]:
        """What is to be closed."""
        return tuple(self._survey.closing)

    @property
    def verdict(self) -> Verdict:
        """That of the whole build, for closing."""
        return judge(self._survey).verdict

    # -- a reading

    def read(self, test: BenchTest, reading: MeterReading) -> Judged:
        """Put a reading into the text, and judge it there."""
        keys = self._keys(test, reading)
        before = self.text
        was, text = self._put(test, keys)
        build = self._built(text)
        self._before = (self.build, self._answers)
        self._take(build)
        record = _last(self.build, test)
        assert record is not None
        position, now = record
        self._answers = (*self._answers, _Answer(test, was, now, before, text))
        findings, questions = self._said(test, position)
        proven = all(
            (one.kind, one.name) != (test.kind, test.name) or one.measures == "hours" for one in self.left
        )
        outcome = _outcome(test, reading, findings, questions, self._meter)
        if outcome == "as expected" and not proven and not reading.answers(test):
            outcome = "not judged"
        return Judged(
            test,
            reading,
            outcome,
            findings,
            questions,
            proven,
            text,
            tuple(line.new for line in changed_lines(before, text) if line.new),
        )

    def back(self) -> BenchTest | None:
        """Take the last reading out of the text again; its test, None where there is none. Raises ClashError."""
        if not self._answers:
            return None
        last = self._answers[-1]
        if self.text == last.text:
            text = last.text_was
        else:
            found = _last(self.build, last.test)
            if found is None or found[1] != last.now:
                raise ClashError(
                    f"the test record of '{last.test.name}' was changed in the file meanwhile, and stays"
                )
            position, now = found
            text = rewritten(self.text, _undone(("proof", position), last.was, now))
        self._before = (self.build, self._answers)
        self._take(self._built(text))
        self._answers = self._answers[:-1]
        return last.test

    def undo(self) -> None:
        """As it was before the last `read` or `back`, which could not be written."""
        build, self._answers = self._before
        self._take(build)

    def reread(self, build: Build, test: BenchTest | None = None) -> None:
        """Take the file as it is by now. Raises ClashError where what `test` is about was changed in it."""
        if problem := no_such_place(build, self._closing):
            raise ClashError(f"the file was changed meanwhile: {problem}")
        before = None if test is None else _last(self.build, test)
        self._take(build)
        if test is None:
            return
        after = None
        if subjects(build).get(test.subject) == (test.kind, test.name):
            after = bench_test(self._survey, test.place, asked_of(self._survey, test.kind, test.name))
        if after is None or _setting(after) != _setting(test):
            raise ClashError(f"'{test.name}' was changed in the file meanwhile; this reading was not written")
        record = _last(build, test)
        if (before and before[1]) != (record and record[1]):
            raise ClashError(
                f"the file has another test record of '{test.name}' by now; this reading was not written"
            )

    def _built(self, text: str) -> Build:
        return build_from(Source(self.build.file, text), path=self.build.file)

    # -- its test record

    def _keys(self, test: BenchTest, reading: MeterReading) -> dict[str, Any]:
        """What a test record says of a reading, as the file has it."""
        if any(not 0.0 <= number < _MOST for number in reading.numbers):
            raise ValueError("what a meter or a clock shows is a number from 0 up, below 1e9")
        keys: dict[str, Any] = {}
        if reading.reversed:
            keys["polarity"] = False
        if reading.current is not None:
            volts = test.volts if test.volts is not None else reading.volts
            if volts is None:
                raise ValueError("a current without the volts at which it was read says nothing")
            keys["volts"] = f"{volts:.10g} V"
            # of what has its resistors it would say that they were left out
            if test.limit is not None and test.held:
                keys["limit"] = f"{test.limit * 1e3:.10g} mA"
            keys["current"] = f"{reading.current * 1e3:.10g} mA"
            if reading.current >= self._survey.limits.value("bench.lights") and self._was_reversed(test):
                keys["polarity"] = True
        if reading.continuity is not None:
            keys["continuity"] = (
                reading.continuity
                if isinstance(reading.continuity, bool)
                else f"{reading.continuity:.10g} ohm"
            )
        if reading.hours is not None:
            keys["hours"] = f"{reading.hours / 3600.0:.10g} h"
        if reading.done is not None:
            keys["done"] = reading.done
        if not keys:
            raise ValueError("nothing was read")
        return keys

    def _was_reversed(self, test: BenchTest) -> bool:
        """Whether the file has it the wrong way round still."""
        found = [known.said.get("polarity") for known in self._survey.test_records.of(test.kind, test.name)]
        return any(at is not None and self.build.proof[at].polarity is False for at in found)

    @property
    def _meter(self) -> float:
        return self._survey.limits.value("proof.meter")

    def _put(self, test: BenchTest, keys: Mapping[str, Any]) -> tuple[_Record | None, str]:
        """The record that is changed, if any, and the text with these keys in it.

        The latest record of the day is added to, unless it has a reading already and this is another; else there is a new
        one: of one day the last of the file counts, and those of other days stay as they are.
        """
        last = _last(self.build, test)
        if last is not None and last[1].get("date") == self.today:
            position, record = last
            fresh = "current" in keys or "polarity" in keys
            gone = [
                key
                for key in _OF_A_READING
                if key in record
                and key not in keys
                and fresh
                and ("current" in record or "polarity" in record)
            ]
            puts = [
                *(Put(("proof", position, key), in_toml(value)) for key, value in keys.items()),
                *(Put(("proof", position, key), None) for key in gone),
            ]
            return record, rewritten(self.text, puts)
        at = {} if test.at is None else {"at": test.at}
        table = {"subject": test.subject, **at, **keys, "date": self.today}
        return None, rewritten(self.text, [Put(("proof", "+"), in_toml(table))])

    def _said(self, test: BenchTest, position: int) -> tuple[tuple[Finding, ...], tuple[NotJudged, ...]]:
        """What the checks of test records say of one of them."""
        survey = self._survey.again()
        if test.limit is not None:
            survey.test_records.limits_set[position] = test.limit
        findings: list[Finding] = []
        questions: list[NotJudged] = []
        for check in (*measured.CHECKS, *test_records.CHECKS):
            for result in check.results(survey):
                if isinstance(result, Finding):
                    if result.path[:2] == ("proof", position):
                        findings.append(result)
                elif result.subject == test.name:
                    questions.append(result)
        return tuple(findings), tuple(questions)


# -- what a reading is


def _setting(test: BenchTest) -> BenchTest:
    """What of a test a reading is judged by, for comparing."""
    return replace(test, measures="current", look=False, hours=None, proves=(), mend_first="", place="")


def _outcome(
    test: BenchTest, reading: MeterReading, findings: tuple[Finding, ...], questions: tuple[NotJudged, ...],
    meter: float,
) -> Outcome:  # fmt: skip
    """What the findings of a reading come to in a word. `meter`: its error, as a fraction of what it shows."""
    checks = {finding.check for finding in findings}
    if "proof.polarity" in checks:
        return "reversed"
    if "proof.continuity" in checks:
        return "open"
    amps, expected = reading.current, test.expected
    if "proof.current" not in checks or amps is None:
        return "not judged" if amps is not None and expected is None and questions else "as expected"
    if expected is not None and amps < expected.usual:
        return "dark" if amps <= measured.NEXT_TO_NOTHING * expected.least else "too low"
    if test.limit is None or amps < test.limit * (1.0 - meter):
        return "too high"
    return "at the limit" if abs(amps - test.limit) <= meter * test.limit else "over the limit"


# -- records in the text


def _last(build: Build, test: BenchTest) -> tuple[int, _Record] | None:
    """The last test record of the file that is about the same, as it stands there, and its position."""
    about = subjects(build)
    for position in range(len(build.proof) - 1, -1, -1):
        record = build.proof[position]
        if about[record.subject] == (test.kind, test.name) and record.at == test.at:
            return position, tomli.loads(build.text or "")["proof"][position]
    return None


def _undone(path: Path, was: _Record | None, now: _Record) -> Iterator[Put]:
    if was is None:
        yield Put(path, None)
        return
    for key in (*was, *(key for key in now if key not in was)):
        if was.get(key) != now.get(key):
            yield Put((*path, key), in_toml(was[key]) if key in was else None)
