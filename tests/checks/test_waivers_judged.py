"""Waivers that waive nothing, or no longer: on the day, the day before and the day after."""

from __future__ import annotations

from datetime import date
from types import SimpleNamespace
from typing import Any

import pytest

from postcheck.checks.table import CHECKS
from postcheck.checks.waivers import matching_nothing, not_counting
from postcheck.description.models import Accept
from postcheck.report import Finding, Subject

TODAY = date(2026, 11, 25)
FAMILIES = {"lamp", "wire", "closing", "supply"}


def build(*accepts: dict[str, Any]) -> Any:
    return SimpleNamespace(accept=[Accept(reason="as meant", **one) for one in accepts])


def nothing(
    *accepts: dict[str, Any], found: tuple[str, ...] = (), closing: tuple[str, ...] = ()
) -> list[tuple[str, tuple[Any, ...]]]:
    return [
        (one.check, one.path) for one in matching_nothing(build(*accepts), found, TODAY, closing, FAMILIES)
    ]


@pytest.mark.parametrize(
    ("name", "found", "told"),
    [
        ("lamp.dim:bow", (), True), ("lamp.dim:bow", ("lamp.dim:bow",), False), ("lamp.dim", (), True), ("lampp.dim:bow", (), True), ("wier.hot:feed", (), True),
        # a project's own check is not run everywhere
        ("glue.dry:hull", (), False), ("glue:hull", (), True), ("glue.dry", (), True),
    ],
)  # fmt: skip
def test_a_waiver_that_matches_nothing(name, found, told):
    assert (
        nothing({"finding": name}, found=found)
        == [("accept.matches-nothing", ("accept", 0, "finding"))] * told
    )


@pytest.mark.parametrize(
    ("until", "told"), [(None, True), (date(2026, 11, 24), False), (TODAY, True), (date(2026, 11, 26), True)]
)
def test_one_that_has_run_out_matches_nothing_any_more(until, told):
    assert len(nothing({"finding": "lamp.dim:bow", "until": until})) == told


@pytest.mark.parametrize(
    ("name", "closing", "told"),
    [
        ("closing.unproven:bow in hull", (), False),
        ("closing.unproven:bow in hull", ("hull",), True),
        ("closing.unproven:bow in hull", ("mast",), False),
        ("closing.open:hull", ("mast", "hull"), True),
    ],
)
def test_what_is_found_when_a_place_is_closed_waits_for_that(name, closing, told):
    assert len(nothing({"finding": name}, closing=closing)) == told


def test_each_by_its_place_in_the_file():
    assert nothing({"finding": "lamp.dim:a"}, {"finding": "lamp.dim:b"}, {"finding": "lamp.dim:c"}, found=("lamp.dim:b",)) == [
        ("accept.matches-nothing", ("accept", 0, "finding")), ("accept.matches-nothing", ("accept", 2, "finding")),
    ]  # fmt: skip


# -- what counts all the same


def counting(
    *accepts: dict[str, Any],
    severity: str = "caution",
    accepted: str | None = None,
    refused: bool = False,
    firm: str = "",
    name: str = "lamp.dim:bow",
) -> list[tuple[str, tuple[Any, ...], dict[str, str]]]:
    finding = Finding("lamp.dim", severity, Subject("lamp", "bow"), "", "", accepted=accepted, firm=firm)  # type: ignore[arg-type]
    told = not_counting(build(*accepts), {name: finding}, {name} if refused else set(), TODAY)
    return [(one.check, one.path, dict(one.words)) for one in told]


BOW = {"finding": "lamp.dim:bow"}


def test_one_that_cannot_be_waived():
    ((check, path, words),) = counting(BOW, refused=True, firm="it burns")
    assert (check, path, "it burns" in words.values()) == ("accept.refused", ("accept", 0, "finding"), True)
    ((check, _, words),) = counting(BOW, refused=True)
    assert "it destroys parts or can start a fire" in words.values()


@pytest.mark.parametrize(
    ("until", "told"),
    [(date(2026, 11, 24), True), (TODAY, False), (date(2026, 11, 26), False), (None, False)],
)
def test_one_that_has_run_out(until, told):
    found = counting({**BOW, "until": until}, accepted=None if told else "as meant")
    assert [(check, path) for check, path, _ in found] == [("accept.expired", ("accept", 0, "until"))] * told
    for _, _, words in found:
        assert "2026-11-24" in words.values()


@pytest.mark.parametrize(("until", "renewed"), [(None, True), (TODAY, True), (date(2026, 11, 24), False)])
def test_one_that_was_renewed(until, renewed):
    found = counting({**BOW, "until": date(2026, 11, 20)}, {**BOW, "until": until}, accepted="as meant")
    assert len(found) == (0 if renewed else 2)
    other = counting({**BOW, "until": date(2026, 11, 20)}, {"finding": "lamp.dim:stern"})
    assert len(other) == 1


@pytest.mark.parametrize(
    ("severity", "up_to", "told"),
    [
        ("stop", "caution", True),
        ("stop", "stop", False),
        ("caution", "caution", False),
        ("caution", "note", True),
        ("note", "note", False),
        ("note", "caution", False),
    ],
)
def test_one_that_is_outgrown(severity, up_to, told):
    found = counting({**BOW, "up_to": up_to}, severity=severity)
    assert [(check, path) for check, path, _ in found] == [("accept.outgrown", ("accept", 0, "up_to"))] * told
    for _, _, words in found:
        assert {up_to, severity} <= set(words.values())
    assert counting({**BOW, "up_to": up_to}, severity=severity, accepted="as meant") == []
    assert counting({"finding": "lamp.dim:stern", "up_to": up_to}, severity=severity) == []


# as the words of a check have it; else any stop of one that is dangerous; else nothing
@pytest.mark.parametrize(
    ("name", "held"),
    [
        ("lamp.over-rating", "what burns a lamp out"),
        ("lamp.no-resistor", "any stop"),
        ("lamp.pulses-only", ""),
    ],
)
def test_what_of_a_check_cannot_be_accepted(name, held):
    (check,) = [check for check in CHECKS if check.name == name]
    assert check.not_waived == held
