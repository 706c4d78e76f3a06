"""Test records: what the tests themselves say."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from postcheck.checks.fact import Fact, Within, limited
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.description.subjects import subject_of
from postcheck.limits import above
from postcheck.plain import harmless
from postcheck.report import Figure, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey

if TYPE_CHECKING:
    from postcheck.survey.test_records.readings import Known


def recorded(survey: Survey, kind: str, name: str, at: str | None = None) -> Subject:
    """A finding's subject under a unique name: a circuit may have a lamp's name, or be tried at two places."""
    words = subject_of(survey.kinds_by_name, kind, name)
    return Subject(kind, words if at is None else f"{words} at {at}")


def _recorded_by(survey: Survey, key: str) -> Iterator[tuple[Known, int]]:
    for known in survey.test_records.known.values() if survey.build.proof else ():
        if key in known.said:
            yield known, known.said[key]


def _fact(
    survey: Survey, severity: Severity, known: Known, position: int, key: str, case: str = "", **more: Any
) -> Fact:
    """A fact of what a test says by one of its keys, with what was done, if that stands there."""
    done = survey.build.proof[position].done
    return Fact(
        severity,
        recorded(survey, known.kind, known.name, known.at),
        ("proof", position, key),
        case,
        parts={"thing": Subject(known.kind, known.name)},
        words={"done": harmless(done, 80)} if done else {},
        **more,
    )


def _polarity(survey: Survey) -> Iterator[Fact]:
    on_purpose = {lamp.entry for lamp in survey.parts.lamps if lamp.backwards}
    for known, position in _recorded_by(survey, "polarity"):
        if survey.build.proof[position].polarity is False and known.name not in on_purpose:
            yield _fact(survey, "stop", known, position, "polarity")


def _continuity(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    limit = survey.limits["proof.continuity"]
    for known, position in _recorded_by(survey, "continuity"):
        whole = survey.test_records.whole(position)
        if whole is None:
            yield NotJudged(
                known.name, "whether the ohms that were measured are what it should have from end to end",
                "continuity = true or false, or its run or plug as the subject",
            )  # fmt: skip
        measured = survey.build.proof[position].continuity
        if whole is None or measured is None or measured is True:
            continue
        if measured is False:
            yield _fact(survey, "stop", known, position, "continuity", "open")
            continue
        own = survey.test_records.copper(known.kind, known.name)
        most = Limited(own + limit.value, limit.unit, limit.source, limit.name)
        yield (within := Within(recorded(survey, known.kind, known.name, known.at), measured, most))
        if within.kept:
            continue
        yield _fact(
            survey,
            "stop",
            known,
            position,
            "continuity",
            "ohms",
            figures={
                "measured": Figure(measured, "ohm"),
                **({"copper": Figure(own, "ohm")} if above(own, _NO_OHMS) else {}),
            },
            limit=most,
        )


_NO_OHMS = 1e-3


def _insulation(survey: Survey) -> Iterator[Fact | Within]:
    limit = limited(survey.limits["proof.insulation"])
    for known, position in _recorded_by(survey, "insulation"):
        measured = survey.build.proof[position].insulation or 0.0
        subject = recorded(survey, known.kind, known.name, known.at)
        yield (within := Within(subject, measured, limit, least=True))
        if not within.kept:
            yield _fact(
                survey,
                "caution",
                known,
                position,
                "insulation",
                figures={"insulation": Figure(measured, "ohm")},
                limit=limit,
            )


def _future(survey: Survey) -> Iterator[Fact]:
    for position, record in enumerate(survey.build.proof):
        if record.on is not None and record.on > survey.today:
            kind, name = survey.test_records.about(record)
            yield Fact(
                "caution",
                recorded(survey, kind, name, record.at),
                ("proof", position, "date"),
                parts={"thing": Subject(kind, name)},
                words={"date": record.on.isoformat(), "today": survey.today.isoformat()},
            )


_JOINT_AGAIN = "Make the joint again or lay a new conductor, test again and write that down."

CHECKS: tuple[Check, ...] = (
    Check(
        name="proof.polarity",
        severity="stop",
        subject="proof",
        line="something that was tested and found the wrong way round",
        why="An LED the wrong way round stays dark, and above its reverse voltage it may be harmed.",
        formula="polarity = false in the latest test record of it that says so or otherwise",
        limits=(),
        source="the builder's own test",
        judge=_polarity,
        wording={
            "": Wording(
                "{thing:kind} was tested and found the wrong way round[ ({done})].",
                "An LED the wrong way round stays dark, and above its reverse voltage it may be harmed.",
                "Swap its two legs, test again and write that down.",
            )
        },
    ),
    Check(
        name="proof.continuity",
        severity="stop",
        subject="proof",
        line="something that was tested and found open, or nearly so",
        why="What is open on the bench does not close by itself in the model.",
        formula="continuity = false, or more ohm than its copper and the limit, in the latest test record of it that says so or otherwise",
        limits=("proof.continuity",),
        source="the builder's own test",
        judge=_continuity,
        wording={
            "open": Wording(
                "{thing:kind} was tested and is open from end to end[ ({done})].",
                "What is open on the bench does not close by itself in the model.",
                _JOINT_AGAIN,
            ),
            "ohms": Wording(
                "{thing:kind} was measured at {measured:apart}[ ({done})].[ Its copper has {copper}.] With joints and meter leads it should have {limit:apart} at most.",
                "A joint that is bad already gets worse, and then flickers where nobody gets at it.",
                _JOINT_AGAIN,
            ),
        },
    ),
    Check(
        name="proof.insulation",
        severity="caution",
        subject="proof",
        line="insulation that was measured and is too low",
        why="Somewhere bare copper, flux or damp joins what should be apart. An insulation tester is never used with LEDs connected.",
        formula="the latest measured insulation resistance against the least",
        limits=("proof.insulation",),
        source="BS 7671 table 64, as IEC 60364-6",
        judge=_insulation,
        wording={
            "": Wording(
                "The insulation of {thing:kind} was measured at {insulation:apart}[ ({done})]. It should have {limit:apart} at least.",
                "Somewhere bare copper, flux or damp joins what should be apart. It gets worse, not better.",
                "Find the place, clean and insulate it, and measure again with the ohm range of a multimeter. Never put an insulation tester on wiring with LEDs or boards connected.",
            )
        },
    ),
    Check(
        name="proof.future",
        severity="caution",
        subject="proof",
        line="a test record with a date that is still to come",
        why="What has not happened yet proves nothing.",
        formula="its date against today, or --today",
        limits=(),
        source="the calendar",
        judge=_future,
        wording={
            "": Wording(
                "The test record of {thing:kind} is dated {date}, and today is {today}.",
                "What has not happened yet proves nothing. It is left out until then.",
                "Write the day on which it was done.",
            )
        },
    ),
)
