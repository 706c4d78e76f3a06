"""JUnit XML: valid by the XSD of Jenkins' xUnit plug-in, read by two parsers that are not ours, true to the report."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree

from postcheck.renderers import junit
from postcheck.report import FileReport, Report
from tests.renderers.hostile import FORBIDDEN, NAMES, report
from tests.renderers.samples import FAULTY, REPORTS

CHECKS = [
    "lamp.no-resistor",
    "passage.tight",
    "place.too-hot",
    "supply.overload",
    "lamp.unequal",
    "passage.solid",
]
SCHEMA = etree.XMLSchema(
    etree.parse(str(Path(__file__).parent.parent / "data" / "junit-10.xsd"), etree.XMLParser(no_network=True))
)


def suites(given: Report) -> list[ElementTree.Element]:
    """The suites of a report whose XML is valid, and whose counts are those of its elements."""
    text = junit.render(given, CHECKS)
    text.encode("ascii")
    SCHEMA.assertValid(etree.fromstring(text.encode()))
    whole = ElementTree.fromstring(text)
    for element in (whole, *whole):
        for count, outcome in (("failures", "failure"), ("errors", "error"), ("skipped", "skipped")):
            if count in element.attrib:
                assert int(element.attrib[count]) == len(element.findall(f".//{outcome}"))
        assert int(element.attrib["tests"]) == len(element.findall(".//testcase"))
    return list(whole)


def outcomes(suite: ElementTree.Element) -> dict[str, str]:
    return {
        case.attrib["name"]: "+".join(child.tag for child in case) or "passed"
        for case in suite.iter("testcase")
    }


def test_the_schema_refuses_what_is_no_report() -> None:
    with pytest.raises(etree.DocumentInvalid):
        SCHEMA.assertValid(etree.fromstring(b"<testsuites><testcase name='a'/></testsuites>"))


@pytest.mark.parametrize("name", REPORTS)
def test_every_sample_is_valid_and_has_a_suite_a_file(name: str) -> None:
    assert [suite.attrib["name"] for suite in suites(REPORTS[name])] == [
        file.file for file in REPORTS[name].files
    ]


def test_a_clean_file_shows_every_check_as_passed() -> None:
    (suite,) = suites(REPORTS["sound"])
    assert outcomes(suite) == dict.fromkeys(CHECKS, "passed")


def test_what_makes_the_exit_code_fails_and_the_rest_is_told() -> None:
    (suite,) = suites(REPORTS["faulty"])
    assert outcomes(suite) == {
        "lamp.no-resistor": "failure",
        "passage.tight": "system-out",
        "place.too-hot": "failure",
        "supply.overload": "system-out",
        "lamp.unequal": "system-out",
        "passage.solid": "system-out",
        "not-judged": "failure",
    }
    failure = suite.find(".//failure")
    assert failure is not None
    assert (failure.text or "").startswith(
        "survey_submersible.post.toml:41:1  stop  'bow lamp' has no resistor"
    )
    strict = junit.render(REPORTS["faulty"], CHECKS, "caution")
    assert outcomes(ElementTree.fromstring(strict)[0])["passage.tight"] == "failure"


def test_several_findings_of_one_check_are_one_case() -> None:
    first = FAULTY.findings[0]
    (suite,) = suites(Report((FileReport("a.post.toml", "stop", (first, FAULTY.findings[1], first)),)))
    failure = suite.find("testcase[@name='lamp.no-resistor']/failure")
    assert failure is not None
    assert failure.attrib["message"].endswith("(and 1 finding more)")
    assert (failure.text or "").count("Name: lamp.no-resistor:bow lamp") == 2


def test_a_file_that_cannot_be_read_has_errors_and_no_checks() -> None:
    (suite,) = suites(REPORTS["unreadable"])
    assert outcomes(suite) == {"file.no-unit tender.post.toml:9:8": "error"}


@pytest.mark.parametrize("name", NAMES.values(), ids=NAMES.keys())
def test_no_name_breaks_the_document(name: str) -> None:
    (suite,) = suites(report(name))
    (plain,) = suites(report("lamp"))
    assert outcomes(suite) == outcomes(plain)
    for element in suite.iter():
        assert not FORBIDDEN.search("".join([*element.attrib.values(), element.text or ""]))


@settings(max_examples=25)
@given(st.text(max_size=60))
def test_any_name_gives_a_valid_document(name: str) -> None:
    suites(report(name))
