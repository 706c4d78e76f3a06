"""What test records say, on both sides of each limit, with records of our own."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from postcheck.checks import closing, test_records
from postcheck.report import Finding, Subject
from postcheck.survey import Survey
from postcheck.survey.test_records.readings import Known
from tests.survey.small import lamp, survey
from tests.survey.test_test_records import record

from .facts import asked, facts, judged, units, values

BOW = Subject("lamp", "bow lamp")


def recorded(
    at: str | None = None,
    whole: bool | None = True,
    copper: float = 0.25,
    lamps: str | None = None,
    **said: str,
) -> Survey:
    """A record of a lamp, of which the survey knows whether its ohms are from end to end, and what its copper has."""
    made = survey(extra=record(subject='"bow lamp"', date="2026-11-20", **said), lamps=lamps)
    known = Known("lamp", "bow lamp", at, dict.fromkeys(said, 0))
    other = Survey(made.build, made.limits)
    other.__dict__["test_records"] = SimpleNamespace(
        known={"one": known}, whole=lambda _: whole, copper=lambda *_: copper
    )
    return other


@pytest.mark.parametrize(
    ("polarity", "lamps", "found"),
    [("false", None, True), ("true", None, False), ("false", lamp() + "backwards = true\n", False)],
)
def test_a_lamp_the_wrong_way_round(polarity, lamps, found):
    got = facts(test_records, "proof.polarity", recorded(polarity=polarity, lamps=lamps))
    assert [(fact.severity, fact.subject, fact.path) for fact in got] == [
        ("stop", BOW, ("proof", 0, "polarity"))
    ] * found
    assert facts(test_records, "proof.polarity", recorded(insulation='"1 Mohm"')) == []


# an ohm more than its copper has: plugs, joints and the meter's leads
@pytest.mark.parametrize(
    ("said", "case", "measured"),
    [("true", None, 0), ("false", "open", None), ('"1.25 ohm"', None, 0), ('"1.26 ohm"', "ohms", 1.26)],
)
def test_from_end_to_end(said, case, measured):
    got = facts(test_records, "proof.continuity", recorded(continuity=said))
    assert [(fact.severity, fact.case, fact.path) for fact in got] == (
        [("stop", case, ("proof", 0, "continuity"))] if case else []
    )
    for fact in got:
        assert values(fact) == ({} if case == "open" else {"measured": measured, "copper": 0.25})
        assert set(units(fact).values()) <= {"ohm"}
        assert fact.parts == {"thing": BOW}
        if case == "ohms":
            assert fact.limit is not None
            assert fact.limit.value == pytest.approx(1.25)


@pytest.mark.parametrize(("copper", "shown"), [(0.001, False), (0.0011, True)])
def test_next_to_no_copper_is_not_told(copper, shown):
    (fact,) = facts(test_records, "proof.continuity", recorded(continuity='"3 ohm"', copper=copper))
    assert ("copper" in values(fact)) is shown


def test_of_what_the_ohms_are_has_to_be_known():
    made = recorded(continuity='"3 ohm"', whole=None)
    assert facts(test_records, "proof.continuity", made) == []
    (question,) = asked(test_records, "proof.continuity", made)
    assert (question.subject, question.vital) == ("bow lamp", False)


@pytest.mark.parametrize(("ohms", "found"), [("500 kohm", False), ("499 kohm", True), ("0 ohm", True)])
def test_insulation(ohms, found):
    got = facts(test_records, "proof.insulation", recorded(insulation=f'"{ohms}"'))
    assert [fact.severity for fact in got] == ["caution"] * found
    for fact in got:
        assert values(fact) == {"insulation": float(ohms.split()[0]) * (1e3 if "k" in ohms else 1.0)}
        assert fact.limit is not None
        assert (fact.limit.value, units(fact)) == (5e5, {"insulation": "ohm"})


def test_where_it_was_measured_and_what_was_done():
    (fact,) = facts(
        test_records, "proof.polarity", recorded(at="hull", polarity="false", done='"by its band"')
    )
    assert (fact.subject, fact.words) == (Subject("lamp", "bow lamp at hull"), {"done": "by its band"})
    (fact,) = facts(test_records, "proof.polarity", recorded(polarity="false"))
    assert fact.words == {}


# -- closing: a day of burning


def shut(*ran: tuple[str, float]) -> Survey:
    made = survey()
    other = Survey(made.build, made.limits, "closing")
    other.__dict__["closing"] = {"hull": SimpleNamespace(place="hull", ran=ran, unproven=(), needed=())}
    return other


@pytest.mark.parametrize(
    ("ran", "case", "longest", "short"),
    [
        ((("one", 86400.0), ("two", 90000.0)), None, 0, 0), ((("one", 86399.0), ("two", 90000.0)), "short", 86399.0, 1), ((("one", 100.0), ("two", 5000.0)), "short", 5000.0, 2),
        ((("one", 0.0), ("two", 0.0)), "not yet", 0.0, 2), ((), None, 0, 0),
    ],
)  # fmt: skip
def test_how_long_lamps_have_burnt(ran, case, longest, short):
    got = facts(closing, "closing.short-run", shut(*ran))
    assert [fact.case for fact in got] == ([case] if case else [])
    for fact in got:
        assert values(fact) == {"longest": longest, "short": float(short)}
        assert units(fact) == {"longest": "s", "short": ""}
        assert (fact.severity, fact.subject) == ("caution", Subject("place", "hull"))
        assert fact.parts == {
            "lamps": tuple(Subject("lamp", name) for name, seconds in ran if seconds < 86400.0)
        }


def test_nothing_is_closed_nothing_is_open():
    caution: Any = Finding("lamp.dim", "caution", BOW, "", "")
    assert list(closing.open_cautions(survey(), [caution])) == []
    assert list(closing.open_cautions(shut(), [])) == []
    assert judged(closing, "closing.short-run", survey()) == []
