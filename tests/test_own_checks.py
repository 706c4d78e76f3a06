"""Checks of a project beside postcheck's own, and what the Python interface refuses."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ElementTree
from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest

import postcheck
from postcheck.checks.table import CHECKS
from postcheck.report import FileReport

ROOT = Path(__file__).parent.parent
AIRSHIP = ROOT / "example_builds" / "mail_airship.post.toml"
BARE = ROOT / "tests" / "builds" / "faulty" / "lamp-no-resistor.post.toml"


def finding(name: str = "house.nose", severity: Any = "caution", **more: Any) -> postcheck.Finding:
    return postcheck.Finding(
        name, severity, postcheck.Subject("lamp", "nose lamp"), "The nose is lit.", "Not by us.", **more
    )


def own(*found: Any, name: str = "house.nose", severity: Any = "stop", **more: Any) -> postcheck.Check:
    def judge(_survey: postcheck.Survey) -> Iterator[Any]:
        yield from found

    words = {"line": "a lit nose", "why": "House rule.", "formula": "lit or not", "source": "house rule"}
    return postcheck.Check(
        name=name, severity=severity, subject="lamp", limits=(), judge=judge, **words, **more
    )


def checked(*checks: postcheck.Check, text: str = "", **more: Any) -> FileReport:
    build = postcheck.loads(AIRSHIP.read_text(encoding="utf-8") + text, "airship")
    return postcheck.check(build, checks=checks, **more).files[0]


def test_its_finding_stands_in_the_report_with_its_line() -> None:
    report = checked(own(finding(path=("lamp", 0, "kind"))))
    assert report.verdict == "caution"
    assert [one.id for one in report.findings] == ["house.nose:nose lamp"]
    where = report.findings[0].where
    assert where is not None
    line = AIRSHIP.read_text(encoding="utf-8").splitlines()[where.line - 1]
    assert line.startswith("kind")


def test_it_reads_the_figures_that_the_report_has() -> None:
    seen: list[postcheck.Figures] = []

    def judge(survey: postcheck.Survey) -> Iterator[postcheck.Finding]:
        seen.append(survey.figures)
        yield from ()

    report = checked(own()._replace(judge=judge))
    # how near each check comes to its limit is known when all have judged
    assert seen == [{**report.figures, "margins": {}}]
    assert report.figures["margins"]
    assert report.verdict == "clear"


def test_it_is_accepted_in_the_file_unless_it_is_dangerous() -> None:
    accept = '\n[[accept]]\nfinding = "house.nose:nose lamp"\nreason = "the client asked for it"\n'
    stop = finding(severity="stop")
    accepted = checked(own(stop), text=accept)
    assert (accepted.verdict, accepted.findings[0].accepted) == ("clear", "the client asked for it")
    refused = checked(own(stop, dangerous=True), text=accept)
    assert refused.verdict == "stop"
    assert {one.check for one in refused.findings} == {"house.nose", "accept.refused"}


def test_what_could_not_be_judged_counts() -> None:
    question = postcheck.NotJudged("nose lamp", "whether it is lit", "its switch", vital=True)
    assert checked(own(question)).verdict == "incomplete"


def test_a_finding_of_ours_keeps_its_remedy_and_can_be_its_cause() -> None:
    build = postcheck.load(BARE)
    (alone, *_) = postcheck.check(build).files[0].findings
    stays = own(finding(because_of=alone.id))
    report = postcheck.check(build, checks=[stays]).files[0]
    found = {one.id: one for one in report.findings}
    assert found[alone.id] == alone
    # the remedy of its cause was tried, and it did not go with it
    assert found["house.nose:nose lamp"].because_of is None


@pytest.mark.parametrize(
    ("check", "says"),
    [
        (own(name="nose"), "two words with a dot"),
        (own(name="House.Nose"), "two words with a dot"),
        (own(name="house.nose:x"), "two words with a dot"),
        (own(name="file.nose"), "two words with a dot"),
        (own(name="lamp.no-resistor"), "there is a check 'lamp.no-resistor' already"),
        (own(severity="fatal"), "is one of stop, caution, note"),
        (own()._replace(judge=None), "no function that judges"),
        (own(finding("house.other")), "gave a finding of 'house.other'"),
        (own(finding(severity="stop"), severity="note"), "is a note at most and gave a 'stop'"),
        (own(finding(severity="loud")), "is a stop at most and gave a 'loud'"),
        (own(finding(), finding(severity="note")), "gave 'nose lamp' two findings"),
        (own("lit"), "gave str, and neither a Finding nor a NotJudged"),
        (own(finding(edits=(postcheck.Edit(("lamp", 0, "kind"), '"1k'),))), "gave an edit that is no TOML"),
        (
            own(finding(edits=(postcheck.Edit(("lamp", 0, "kind"), "1\nx = 2"),))),
            "gave an edit that is no TOML",
        ),
        (own(finding(path=["lamp", 0])), "gave a finding whose path is no tuple"),
        (own(finding(figures={"a": 1.0})), "gave a finding whose figures are no Figures"),
        (own(postcheck.Finding("house.nose", "note", None, "Says.", "Why.")), "whose subject is no Subject"),  # type: ignore[arg-type]
        (own()._replace(judge=lambda _survey: None), "gave NoneType, and no findings to go through"),  # type: ignore[arg-type,return-value]
        (own()._replace(limits=("house.lead",)), "names a limit that there is not: 'house.lead'"),
    ],
)
def test_a_check_that_cannot_be_told_apart_or_lies_is_refused(check: postcheck.Check, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        checked(check)


def test_two_of_one_name_are_refused() -> None:
    with pytest.raises(ValueError, match=r"there is a check .house\.nose. already"):
        checked(own(), own())


def test_what_it_raises_comes_through() -> None:
    def judge(_survey: postcheck.Survey) -> Iterator[postcheck.Finding]:
        raise LookupError("no such jig")
        yield

    with pytest.raises(LookupError, match="no such jig"):
        checked(own()._replace(judge=judge))


def test_the_faces_for_ci_know_it_found_or_not() -> None:
    build = postcheck.load(AIRSHIP)
    for found in ((finding(),), ()):
        report = postcheck.check(build, checks=[own(*found)])
        log = json.loads(postcheck.render(report, "sarif"))["runs"][0]
        (rule,) = [one for one in log["tool"]["driver"]["rules"] if one["id"] == "house.nose"]
        assert "lit or not" in rule["help"]["text"]
        assert [one["ruleId"] for one in log["results"]] == ["house.nose"] * len(found)
        cases = ElementTree.fromstring(postcheck.render(report, "junit", fail_on="caution")).iter("testcase")
        assert {case.get("name"): len(case.findall("failure")) for case in cases} == {
            **{check.name: 0 for check in CHECKS},
            "house.nose": len(found),
        }


def test_reports_are_joined_with_each_check_of_the_project_once() -> None:
    build = postcheck.load(AIRSHIP)
    reports = [postcheck.check(build, checks=[own(finding())]) for _ in range(2)]
    with pytest.raises(postcheck.BuildError) as caught:
        postcheck.loads("format = ")
    whole = postcheck.Report.joined([*reports, postcheck.unreadable(caught.value)])
    assert [file.verdict for file in whole.files] == ["caution", "caution", "unreadable"]
    assert [rule.name for rule in whole.own] == ["house.nose"]
    assert whole.exit_code() == 2
    log = json.loads(postcheck.render(whole, "sarif"))["runs"][0]
    assert [one["id"] for one in log["tool"]["driver"]["rules"]].count("house.nose") == 1
    assert all("ruleIndex" in one for one in log["results"])


@pytest.mark.parametrize(
    ("options", "says"),
    [
        ({"stage": "gluing"}, "stage is one of planning, wiring, closing; not 'gluing'"),
        ({"effort": "all"}, "effort is one of quick, long; not 'all'"),
        ({"closing": ["attic"]}, "there is no place 'attic'"),
    ],
)
def test_words_that_mean_nothing_are_refused(options: dict[str, Any], says: str) -> None:
    with pytest.raises(ValueError, match=says):
        checked(**options)


def test_what_is_no_build_is_refused_and_one_place_is_one() -> None:
    with pytest.raises(TypeError, match="takes a Build, not"):
        postcheck.check("airship.post.toml")  # type: ignore[arg-type]
    assert checked(closing="tail") == checked(closing=["tail"])


def test_a_moment_counts_as_its_day() -> None:
    assert checked(today=datetime(2026, 11, 25, 23, 59)) == checked(today=date(2026, 11, 25))


def test_a_report_is_rendered_in_each_form_and_in_no_other(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    report = postcheck.check(postcheck.load(BARE))
    assert postcheck.render(report).startswith(f"{BARE}:")
    assert max(map(len, postcheck.render(report, width=40).splitlines())) <= 40
    assert "\x1b[" in postcheck.render(report, width=40, colour=True)
    postcheck.render(report, ascii=True).encode("ascii")
    assert json.loads(postcheck.render(report, "json"))["files"][0]["verdict"] == "stop"
    assert ",file=tests/builds/faulty/" in postcheck.render(report, "github", folder=ROOT).splitlines()[0]
    monkeypatch.chdir(ROOT / "tests")
    log = json.loads(postcheck.render(report, "sarif"))
    assert log["runs"][0]["artifacts"][0]["location"]["uri"].startswith("builds/faulty/")
    assert log["runs"][0]["invocations"][0]["exitCode"] == report.exit_code() == 1
    for told, form in ((report, "pdf"), (postcheck.compare(report, report), "sarif")):
        with pytest.raises(ValueError, match=form):
            postcheck.render(told, form)  # type: ignore[arg-type]


def test_what_is_public_is_there_and_listed() -> None:
    assert dir(postcheck) == sorted(postcheck.__all__)
    for name in postcheck.__all__:
        assert getattr(postcheck, name) is not None
    with pytest.raises(AttributeError, match="'postcheck' has no attribute 'nothing'"):
        postcheck.nothing  # noqa: B018
