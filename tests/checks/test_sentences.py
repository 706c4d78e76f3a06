"""Facts before words: no sentence of a finding shows a number or a name that is not in its data."""

from __future__ import annotations

import re
from itertools import combinations
from pathlib import Path

import pytest

import postcheck
from postcheck.checks.judge import judge
from postcheck.checks.shown import shown, shown_parts
from postcheck.checks.table import CHECKS
from postcheck.checks.wording import OPTIONAL, names_in
from postcheck.description.limits import limit_changes
from postcheck.limits import Limits
from postcheck.report import Figure, Finding, Subject
from postcheck.survey import Survey
from tests.write_expected import FAULTY, TODAY, report, to_be_closed

from .sentences import CONSTANTS, unexplained, unexplained_in_remedy

BUILDS = sorted(FAULTY.glob("*.post.toml"))
WORDED = [check for check in CHECKS if check.wording]


def facts_of(path: Path) -> list[Finding]:
    """The findings of a build that were made of facts."""
    return [one for one in report(path).findings if one.case is not None]


def as_judged(path: Path) -> list[Finding]:
    """The same before those that hang on a destroyed lamp or a dead short are worded without figures."""
    build = postcheck.load(path)
    survey = Survey(build, Limits(limit_changes(build)[0]), closing=to_be_closed(path), today=TODAY)
    return [one for one in judge(survey).findings if one.case is not None]


def test_a_check_without_sentences_says_that_it_asks() -> None:
    assert [check.name for check in CHECKS if check.asks] == [
        check.name for check in CHECKS if not check.wording
    ]


@pytest.mark.parametrize("path", BUILDS, ids=lambda path: path.name)
def test_every_number_and_name_of_a_sentence_stands_in_its_data(path: Path) -> None:
    for finding in facts_of(path):
        assert unexplained(finding, f"{finding.says} {finding.why}") == [], finding.id


@pytest.mark.parametrize("path", BUILDS, ids=lambda path: path.name)
def test_every_number_of_a_remedy_stands_in_its_data(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    for finding in report(path).findings:
        assert unexplained_in_remedy(finding, text) == [], (finding.id, finding.remedy)


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


def test_no_number_stands_in_a_template() -> None:
    for check in WORDED:
        for case, wording in check.wording.items():
            for text in wording.templates:
                bare = re.sub(r"\{[^{}]*\}", "", text)
                for constant in CONSTANTS:
                    bare = bare.replace(constant, "")
                assert not re.search(r"\d", bare), (check.name, case, text)


def test_every_sentence_and_each_piece_that_may_fall_away_is_shown() -> None:
    wordings = {check.name: check.wording for check in WORDED}
    unseen = {
        (check, text)
        for check, cases in wordings.items()
        for wording in cases.values()
        for template in wording.templates
        for text in (template, *OPTIONAL.findall(template))
    }
    for path in BUILDS:
        shorted = any(one.check == "supply.conflict" for one in facts_of(path))
        for finding in (*facts_of(path), *(as_judged(path) if shorted else ())):
            case, _, reason = (finding.case or "").partition(":")
            says, why, remedy = wordings[finding.check][case]
            given = {"subject", "limit", *finding.figures, *finding.parts, *finding.words}
            for template in (says, why if isinstance(why, str) else why[reason], remedy):
                pieces = OPTIONAL.findall(template)
                unseen.discard((finding.check, template))
                unseen -= {(finding.check, piece) for piece in pieces if names_in(piece) <= given}
    assert unseen == set()


def test_what_one_sentence_shows_is_somewhere_all_different() -> None:
    """One number, or name, put in another's place would go unseen where the two are the same in each build."""
    wordings = {check.name: check.wording for check in WORDED}
    alike: dict[tuple[str, str], set[tuple[str, str]]] = {}
    for path in BUILDS:
        for finding in facts_of(path):
            says, _, _ = wordings[finding.check][(finding.case or "").partition(":")[0]]
            given = {**finding.figures, **finding.parts, "subject": finding.subject}
            spelt = {name: _spelt(given[name]) for name in names_in(says) & given.keys()}
            same = {pair for pair in combinations(sorted(spelt), 2) if spelt[pair[0]] == spelt[pair[1]]}
            key = (finding.check, says)
            alike[key] = alike.get(key, same) & same
    assert {key: same for key, same in alike.items() if same} == {}


def _spelt(value: Figure | Subject | tuple[Subject, ...]) -> str:
    if isinstance(value, Figure):
        return f"{shown(value)} {value.unit}"
    return shown_parts((value,) if isinstance(value, Subject) else value)


@pytest.mark.parametrize("path", BUILDS, ids=lambda path: path.name)
def test_a_limit_that_a_finding_names_is_one_of_its_check(path: Path) -> None:
    declared = {check.name: check.limits for check in CHECKS}
    for finding in facts_of(path):
        if finding.limit is not None and finding.limit.name:
            assert finding.limit.name in declared[finding.check], finding.id
