"""A project's own checks: what is refused of them, and what they may not give."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from postcheck.checks.fact import Within
from postcheck.checks.own import usable
from postcheck.checks.record import Check
from postcheck.report import Edit, Figure, Finding, Limited, NotJudged, Subject
from tests.survey.small import survey

SUBJECT = Subject("lamp", "bow lamp")


def check(
    name: str = "house.lead",
    *results: Any,
    severity: str = "caution",
    limits: tuple[str, ...] = (),
    judge: Any = ...,
) -> Check:
    def told(_: object) -> Iterator[Any]:
        yield from results

    return Check(name, severity, "lamp", "", "", "", limits, "", told if judge is ... else judge)  # type: ignore[arg-type]


def finding(**more: Any) -> Finding:
    own: dict[str, Any] = {
        "check": "house.lead",
        "severity": "caution",
        "subject": SUBJECT,
        "says": "so",
        "why": "why",
    }
    return Finding(**{**own, **more})


@pytest.mark.parametrize("name", ["house.lead", "house.long-lead", "h2.a.b", "house-two.lead"])
def test_a_name_is_two_words_with_a_dot(name):
    (one,) = usable([check(name)])
    assert one.name == name


@pytest.mark.parametrize(
    "name",
    ["house", "House.lead", "house.", ".lead", "house lead.x", "2house.lead", "file.lead", "house.lead:x"],
)
def test_another_name_is_none(name):
    with pytest.raises(ValueError, match="two words with a dot"):
        usable([check(name)])


@pytest.mark.parametrize(
    ("some", "says"),
    [
        ([check("lamp.dim")], "there is a check 'lamp.dim' already"), ([check(), check()], "there is a check 'house.lead' already"), ([check(severity="awful")], "is one of stop, caution, note"),
        ([check(limits=("no.such", "lamp.dim", "a.limit"))], "there is not: 'a.limit'"), ([check(judge=None)], "has no function that judges"),
    ],
)  # fmt: skip
def test_what_is_refused(some, says):
    with pytest.raises(ValueError, match=says):
        usable(some)


WITHIN = Within(SUBJECT, 1.0, Limited(2.0, "A", ""))
ASKED = NotJudged("bow lamp", "what", "that")


@pytest.mark.parametrize(
    "results",
    [
        (WITHIN, ASKED, finding()), (finding(severity="note"),), (finding(), finding(subject=Subject("lamp", "other"))), (finding(edits=(Edit(("lamp", 0, "x"), '"1 mA"'), Edit(("y",), None))),),
        (finding(figures={"a": Figure(1.0, "A")}),), (),
    ],
)  # fmt: skip
def test_what_it_gives_comes_through(results):
    (one,) = usable([check("house.lead", *results)])
    assert one.judge is not None
    assert list(one.judge(survey())) == list(results)


@pytest.mark.parametrize(
    ("results", "says"),
    [
        (("text",), "gave str, and neither"), ((finding(subject="bow lamp"),), "subject is no Subject"), ((finding(says=None),), "`says` is no text"), ((finding(why=3),), "`why` is no text"),
        ((finding(path=["lamp", 0]),), "path is no tuple"), ((finding(figures={"a": 1.0}),), "figures are no Figures"), ((finding(check="house.other"),), "gave a finding of 'house.other'"),
        ((finding(severity="stop"),), "is a caution at most and gave a 'stop'"), ((finding(), finding(says="again")), "'bow lamp' two findings"),
        ((finding(edits=(Edit(("x",), "1 mA"),)),), "no TOML: '1 mA'"), ((finding(edits=(Edit(("x",), "1\ny = 2"),)),), "no TOML"),
    ],
)  # fmt: skip
def test_what_it_may_not_give(results, says):
    (one,) = usable([check("house.lead", *results)])
    assert one.judge is not None
    with pytest.raises(ValueError, match=f"the check house.lead .*{says}"):
        list(one.judge(survey()))


def test_findings_that_cannot_be_gone_through():
    (one,) = usable([check(judge=lambda _: 3)])
    assert one.judge is not None
    with pytest.raises(ValueError, match="gave int, and no findings to go through"):
        list(one.judge(survey()))
