"""SARIF 2.1.0: valid by the committee's schema, read by another program, true to the report."""

from __future__ import annotations

import json
import re
from collections import Counter
from dataclasses import replace
from functools import cache, partial
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urljoin, urlsplit

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

import postcheck
from postcheck.renderers import sarif
from postcheck.renderers.ci import within
from postcheck.report import FileReport, Finding, Report, Subject, Where
from postcheck.rules import rules
from tests import write_expected
from tests.description.test_edits import put_in
from tests.renderers.hostile import FORBIDDEN, NAMES, report
from tests.renderers.samples import FAULTY, REPORTS, RULES

ROOT = Path(__file__).parent.parent.parent
SCHEMA = json.loads((ROOT / "tests" / "data" / "sarif-2.1.0.schema.json").read_text(encoding="utf-8"))
VALID = Draft202012Validator(SCHEMA)


def log(given: Report, **more: Any) -> dict[str, Any]:
    """The one run of a report; the whole log is valid."""
    whole = json.loads(sarif.render(given, "1.2.3", RULES, **more))
    VALID.validate(whole)
    (run,) = whole["runs"]
    return run


@cache
def corpus() -> tuple[FileReport, ...]:
    return tuple(write_expected.report(path) for path in sorted(write_expected.FAULTY.glob("*.post.toml")))


def test_the_schema_refuses_what_is_no_log() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    whole = json.loads(sarif.render(REPORTS["faulty"], "1.2.3", RULES))
    whole["runs"][0]["results"][0]["level"] = "stop"
    assert [list(error.path)[-1] for error in VALID.iter_errors(whole)] == ["level"]


@pytest.mark.parametrize("name", REPORTS)
def test_every_sample_is_valid(name: str) -> None:
    run = log(REPORTS[name])
    assert len(run["artifacts"]) == len(REPORTS[name].files)


def test_the_corpus_is_valid_and_complete() -> None:
    files = corpus()
    given = Report(files)
    whole = json.loads(sarif.render(given, "1.2.3", rules(), code=1))
    VALID.validate(whole)
    run = whole["runs"][0]
    found = [finding for file in files for finding in file.findings]
    vital = [question for file in files for question in file.not_judged if question.vital]
    assert len(run["results"]) == len(found) + len(vital) > 200
    # every check has its rule, and the index leads to it
    names = [rule["id"] for rule in run["tool"]["driver"]["rules"]]
    assert len(set(names)) == len(names)
    assert all(names[result["ruleIndex"]] == result["ruleId"] for result in run["results"])
    for rule in run["tool"]["driver"]["rules"]:
        assert rule["shortDescription"]["text"].endswith(".")
        assert rule["help"]["text"].strip()
        assert rule["help"]["markdown"].strip()
    assert any("fixes" in result for result in run["results"])
    assert any("relatedLocations" in result for result in run["results"])


def test_another_program_reads_the_same(tmp_path: Path) -> None:
    """sarif-tools, by Microsoft: what it lists, suppressed or not, is what the report holds."""
    from sarif.loader import load_sarif_file  # noqa: PLC0415 - it loads much

    path = tmp_path / "report.sarif"
    files = corpus()
    path.write_text(sarif.render(Report(files), "1.2.3", rules()), encoding="utf-8")
    read = load_sarif_file(str(path))
    levels = {"stop": "error", "caution": "warning", "note": "note"}
    expected: Counter[tuple[str, str, str, int]] = Counter()
    for file in files:
        for finding in file.findings:
            line = finding.where.line if finding.where else 1
            expected[finding.check, levels[finding.severity], file.file, line] += 1
        for question in file.not_judged:
            line = question.where.line if question.where else 1
            expected["not-judged", "none", file.file, line] += question.vital
    listed = Counter(
        (row["Code"], row["Severity"], unquote(urlsplit(row["Location"]).path), int(row["Line"]))
        for row in read.get_records()
    )
    assert listed == +expected


def test_a_fix_is_what_cures() -> None:
    """The replacements are those that `tests/description/test_edits.py` proves on the files."""
    text = (ROOT / "tests" / "builds" / "faulty" / "lamp-shared-resistor.post.toml").read_text()
    given = postcheck.check(postcheck.loads(text, "a.post.toml"))
    (fix,) = [fix for result in log(given)["results"] for fix in result.get("fixes", [])]
    (change,) = fix["artifactChanges"]
    lines = text.splitlines(keepends=True)
    for put in sorted(change["replacements"], key=lambda put: -put["deletedRegion"]["startLine"]):
        region = put["deletedRegion"]
        assert region["startLine"] == region["endLine"]
        line = lines[region["startLine"] - 1]
        lines[region["startLine"] - 1] = (
            line[: region["startColumn"] - 1]
            + put["insertedContent"]["text"]
            + line[region["endColumn"] - 1 :]
        )
    cured = "".join(lines)
    finding = next(finding for finding in given.files[0].findings if finding.edits)
    assert cured == put_in(text, finding.edits or ())
    assert finding.id not in {other.id for other in postcheck.check(postcheck.loads(cured)).files[0].findings}


def test_a_remedy_that_is_typed_in_part_is_no_fix() -> None:
    first = FAULTY.findings[0]
    assert first.edits is not None
    half = replace(first, edits=(*first.edits, replace(first.edits[0], typed=None)))
    assert "fixes" in log(Report((FAULTY,)))["results"][0]
    assert "fixes" not in log(Report((replace(FAULTY, findings=(half,)),)))["results"][0]


def fingerprints(file: FileReport) -> list[str]:
    return [result["partialFingerprints"]["finding/v1"] for result in log(Report((file,)))["results"]]


def test_fingerprints_stay_while_lines_and_words_move_and_differ_otherwise() -> None:
    moved = replace(
        FAULTY,
        findings=tuple(
            replace(finding, where=Where(FAULTY.file, 900, 7), says="Other words.")
            for finding in FAULTY.findings
        ),
    )
    assert fingerprints(moved) == fingerprints(FAULTY)
    assert len(set(fingerprints(FAULTY))) == len(FAULTY.findings) + 1
    assert not set(fingerprints(replace(FAULTY, file="other.post.toml"))) & set(fingerprints(FAULTY))
    twice = Finding("file.missing", "stop", Subject("file", "post"), "one", "why")
    file = FileReport("a.post.toml", "unreadable", (twice, replace(twice, says="two")))
    assert len(set(fingerprints(file))) == 2


def test_what_was_accepted_is_suppressed_and_all_others_say_that_they_are_not() -> None:
    by_rule = {result["ruleId"]: result["suppressions"] for result in log(REPORTS["faulty"])["results"]}
    accepted = by_rule.pop("lamp.unequal")
    assert accepted == [
        {"kind": "inSource", "status": "accepted", "justification": "the client wants the stern dimmer"}
    ]
    assert set(map(len, by_rule.values())) == {0}


@pytest.mark.parametrize(("code", "done"), [(0, True), (1, True), (2, False), (70, False)])
def test_a_run_that_judged_every_file_has_succeeded(code: int, done: bool) -> None:
    (invocation,) = log(REPORTS["faulty"], code=code)["invocations"]
    assert (invocation["exitCode"], invocation["executionSuccessful"]) == (code, done)


@pytest.mark.parametrize(
    ("given", "uri"),
    [
        ("a.post.toml", "a.post.toml"),
        ("./models/a b.post.toml", "models/a%20b.post.toml"),
        ("/srv/models/a.post.toml", "models/a.post.toml"),
        ("/elsewhere/ä.post.toml", "file:///elsewhere/%C3%A4.post.toml"),
        ("../a.post.toml", "file:///a.post.toml"),
        ("灯台.post.toml", "%E7%81%AF%E5%8F%B0.post.toml"),
        ("a:b#c?d%20.post.toml", "a%3Ab%23c%3Fd%2520.post.toml"),
        ("\udcff.post.toml", "%FF.post.toml"),
        ("-", "-"),
    ],
)
def test_a_file_is_named_by_a_uri_that_leads_back_to_it(given: str, uri: str) -> None:
    named = partial(within, folder="/srv", here="/srv")
    (artifact,) = log(Report((FileReport(given, "clear"),)), named=named)["artifacts"]
    assert artifact["location"]["uri"] == uri
    if given != "-":  # RFC 3986 by the standard library's own reader
        back = unquote(urlsplit(urljoin("file:///srv/", uri)).path, errors="surrogateescape")
        assert back == str(Path("/srv", given)).replace("/srv/..", "")


def texts(value: Any) -> list[str]:
    if isinstance(value, dict):
        return [text for key, item in value.items() for text in ([item] if key == "text" else texts(item))]
    return [text for item in value for text in texts(item)] if isinstance(value, list) else []


@pytest.mark.parametrize("name", [*NAMES.values(), "[click](http://example.invalid)", "{0} and {12}"])
def test_no_name_is_a_link_a_placeholder_or_a_repainted_screen(name: str) -> None:
    given = report(name)
    text = sarif.render(given, "1.2.3", RULES)
    text.encode("ascii")
    VALID.validate(json.loads(text))
    said = texts(json.loads(text)["runs"][0]["results"])
    assert len(said) == 5  # three findings, one of which names its cause again, and an open question
    for one in said:
        assert not FORBIDDEN.search(one)
        assert not re.search(r"\]\(|\{\d+\}", one)


@settings(max_examples=25)
@given(st.text(max_size=60))
def test_any_name_gives_a_valid_log(name: str) -> None:
    VALID.validate(json.loads(sarif.render(report(name), "1.2.3", RULES)))
