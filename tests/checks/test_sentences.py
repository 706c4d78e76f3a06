"""Facts before words: no sentence of a finding shows a number or a name that is not in its data."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import postcheck
from postcheck.checks.table import CHECKS
from postcheck.checks.wording import Wording, names_in
from postcheck.report import Finding
from postcheck.survey import Survey
from tests.write_expected import FAULTY, report

from .sentences import CONSTANTS, unexplained

BUILDS = sorted(FAULTY.glob("*.post.toml"))
WORDED = [check for check in CHECKS if check.wording]


def facts_of(path: Path) -> list[Finding]:
    """The findings of a build that were made of facts."""
    survey = Survey(postcheck.load(path))
    found = [result for check in CHECKS for result in check.results(survey)]
    return [one for one in found if isinstance(one, Finding) and one.case is not None]


@pytest.mark.parametrize("path", BUILDS, ids=lambda path: path.name)
def test_every_number_and_name_of_a_sentence_stands_in_its_data(path: Path) -> None:
    for finding in report(path).findings:
        if finding.case is not None:
            assert unexplained(finding, f"{finding.says} {finding.why}") == [], finding.id


@pytest.mark.parametrize("path", BUILDS, ids=lambda path: path.name)
def test_any_other_number_in_its_place_is_caught(path: Path) -> None:
    for finding in facts_of(path):
        text = f"{finding.says} {finding.why}"
        bare = re.sub(r"'[^']*'", lambda name: "_" * len(name[0]), text)
        for number in re.finditer(r"(?<![\w.])\d[\d.]*\b", bare):
            if number[0] in finding.words.values():
                continue
            wrong = f"{text[: number.start()]}7{number[0]}1{text[number.end() :]}"
            assert unexplained(finding, wrong), (finding.id, number[0])


def templates(wording: Wording) -> list[str]:
    return [text for text in wording if text is not None]


def test_no_number_stands_in_a_template() -> None:
    for check in WORDED:
        for case, wording in check.wording.items():
            for text in templates(wording):
                bare = re.sub(r"\{[^{}]*\}", "", text)
                for constant in CONSTANTS:
                    bare = bare.replace(constant, "")
                assert not re.search(r"\d", bare), (check.name, case, text)


def test_every_case_is_shown_with_all_that_its_sentences_may_name() -> None:
    cases = {(check.name, case): wording for check in WORDED for case, wording in check.wording.items()}
    shown: dict[tuple[str, str], set[str]] = {}
    for path in BUILDS:
        for finding in facts_of(path):
            names = {"subject", *finding.figures, *finding.parts, *finding.words}
            names |= {"limit"} if finding.limit is not None else set()
            shown.setdefault((finding.check, finding.case or ""), set()).update(names)
    missing = {
        key: lacking
        for key, wording in cases.items()
        if (
            lacking := {name for text in templates(wording) for name in names_in(text)}
            - shown.get(key, set())
        )
        or key not in shown
    }
    assert missing == {}


def test_a_limit_that_a_finding_names_is_one_of_its_check() -> None:
    declared = {check.name: check.limits for check in CHECKS}
    for path in BUILDS:
        for finding in facts_of(path):
            if finding.limit is not None and finding.limit.name:
                assert finding.limit.name in declared[finding.check], finding.id
