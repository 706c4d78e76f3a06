"""A check that had nothing to judge is named as such, and none that would find something is."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import pytest

import postcheck
from postcheck.checks.occasions import has_an_occasion
from postcheck.checks.table import CHECKS
from postcheck.survey import Survey
from tests.schemas import EXAMPLES, FAULTY

NAMED = {check.name: check for check in CHECKS}


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.name)
def test_where_a_check_finds_something_the_build_has_what_it_looks_at(path: object) -> None:
    """By the build alone, though what found something counts anyway."""
    build = postcheck.load(str(path))
    found, survey = postcheck.check(build, remedies=False).files[0], Survey(build)
    without = [
        finding.check for finding in found.findings if not has_an_occasion(NAMED[finding.check], survey)
    ]
    assert without == []
    assert not {finding.check for finding in found.findings} & set(found.nothing_to_judge)


def test_what_an_airship_on_an_adaptor_has_not_is_skipped_and_the_rest_passes() -> None:
    """No battery, strip, motor, plug or converter is in it; LEDs, a flasher, a fuse and a post are."""
    (path,) = [path for path in EXAMPLES if "airship" in path.name]
    report = postcheck.check(postcheck.load(path))
    nothing = set(report.files[0].nothing_to_judge)
    families = {name.partition(".")[0] for name in nothing}
    assert {"battery", "strip", "motor", "plug", "converter", "load", "closing"} <= families
    assert not families & {"wire", "ends", "network", "line"}
    assert not nothing & {
        "lamp.over-rating",
        "flash.rate",
        "fuse.never-opens",
        "passage.tight",
        "place.too-hot",
    }
    suite = ET.fromstring(postcheck.render(report, "junit"))[0]
    skipped = {case.get("name") for case in suite.iter("testcase") if case.find("skipped") is not None}
    assert skipped == nothing
    assert suite.get("skipped") == str(len(nothing))
    assert suite.get("failures") == "0"


@pytest.mark.parametrize("name", ["network.unsolved", "line.unbuilt", "colour.misspelt", "colour.both-poles"])
def test_what_any_build_can_have_is_never_without_an_occasion(name: str) -> None:
    assert has_an_occasion(NAMED[name], Survey(postcheck.loads('format = 1\n[build]\nname = "Tender"\n')))
