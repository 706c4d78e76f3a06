"""What findings of test records say."""

from __future__ import annotations

from datetime import date

import pytest

from postcheck.checks import measured, test_records
from postcheck.survey import Survey
from tests.survey.small import lamp, survey
from tests.survey.test_closing import OF_THE_CIRCUIT
from tests.survey.test_test_records import record

from .run import run

DAY = date(2026, 11, 25)


def said(check: str, **keys: str) -> list[str]:
    module = measured if check == "proof.current" else test_records
    findings, _ = run(module, check, survey(extra=record(**keys)))
    return [finding.severity for finding in findings]


# 20 mA is its rating; the usual 1.25 times that is a stop
@pytest.mark.parametrize(("current", "weight"), [("6.6 mA", []), ("24 mA", ["caution"]), ("26 mA", ["stop"])])
def test_a_wrong_current_is_a_caution_and_one_beyond_the_rating_a_stop(
    current: str, weight: list[str]
) -> None:
    assert said("proof.current", subject='"bow lamp"', volts='"12 V"', current=f'"{current}"') == weight


def test_what_would_explain_it_is_told() -> None:
    made = survey(extra=record(subject='"bow lamp"', volts='"12 V"', current='"2.14 mA"'))
    (finding,), _ = run(measured, "proof.current", made)
    assert "Look for a resistor of 4.7 kohm instead of 1.5 kohm at 'bow lamp'." in (finding.remedy or "")
    assert finding.path == ("proof", 0, "current")


def test_without_its_volts_it_is_not_judged() -> None:
    findings, (question,) = run(
        measured, "proof.current", survey(extra=record(subject='"bow lamp"', current='"1 A"'))
    )
    assert findings == []
    assert "volts" in question.missing


@pytest.mark.parametrize("check", ["polarity", "continuity"])
@pytest.mark.parametrize(("value", "weight"), [("true", []), ("false", ["stop"])])
def test_a_test_that_failed_is_a_stop(check: str, value: str, weight: list[str]) -> None:
    assert said(f"proof.{check}", subject='"bow lamp"', **{check: value}) == weight


def test_a_failed_test_that_was_mended_since_is_not_told() -> None:
    text = record(subject='"feed"', continuity="false") + record(subject='"feed"', continuity="true")
    assert run(test_records, "proof.continuity", survey(extra=text)) == ([], [])


def test_ohms_through_a_lamp_are_no_continuity() -> None:
    found, unknown = run(
        test_records, "proof.continuity", survey(extra=record(subject='"bow lamp"', continuity='"5 kohm"'))
    )
    assert (found, len(unknown)) == ([], 1)


# IEC 60364-6 table 6A (from memory): 0.5 Mohm for SELV and PELV
@pytest.mark.parametrize(("measured", "found"), [("499 kohm", 1), ("500 kohm", 0)])
def test_insulation(measured: str, found: int) -> None:
    assert len(said("proof.insulation", subject='"feed"', insulation=f'"{measured}"')) == found


def test_a_proof_of_tomorrow() -> None:
    build = survey(extra=record(subject='"feed"', continuity="true", date="2026-11-26")).build
    assert len(run(test_records, "proof.future", Survey(build, today=DAY))[0]) == 1
    assert run(test_records, "proof.future", Survey(build, today=date(2026, 11, 26)))[0] == []


def test_a_whole_circuit_is_told_by_its_kind() -> None:
    made = survey(extra=OF_THE_CIRCUIT.replace("6.6 mA", "3 mA"))
    (finding,), _ = run(measured, "proof.current", made)
    assert finding.says.startswith("circuit 'lights' took 3 mA at 12 V")


@pytest.mark.parametrize(("strings", "asked"), [(2, False), (12, True)])
def test_a_current_that_may_be_that_of_one_string_dark_says_nothing_of_each(
    strings: int, asked: bool
) -> None:
    """(12 V - 2.1 V) / 1.5 kohm are 6.6 mA a string; of twelve one takes less than 5 % parts and the meter hide."""
    lamps = lamp(at="").replace("resistor", f"parallel = {strings}\nresistor")
    reading = record(subject='"bow lamp"', volts='"12 V"', current=f'"{strings * 6.6:.1f} mA"')
    findings, questions = run(measured, "proof.current", survey(lamps=lamps, extra=reading))
    assert findings == []
    assert [question.subject for question in questions] == (["bow lamp"] if asked else [])
    if asked:
        assert "may also be that of one string dark" in questions[0].what
