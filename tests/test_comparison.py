"""Two reports side by side: what is new, gone and changed, in findings and figures."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from math import inf, nan
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft7Validator
from rich.cells import cell_len

import postcheck
from postcheck.comparison import Changed, Comparison, Part
from postcheck.renderers import compared
from postcheck.renderers.report_schema import comparison_schema
from postcheck.report import Figure, FileReport, Finding, NotJudged, Report, Subject
from postcheck.reported import meanings, no_figures
from tests import write_expected
from tests.renderers.hostile import FORBIDDEN, NAMES, report
from tests.renderers.test_report_schema import closed
from tests.schemas import EXAMPLES, FAULTY, SOUND

STRICT = Draft7Validator(closed(comparison_schema()))
TODAY = date(2026, 11, 25)
AIRSHIP = Path(__file__).parent.parent / "example_builds" / "mail_airship.post.toml"


def finding(name: str, severity: Any = "caution", says: str = "Says.", **more: Any) -> Finding:
    return Finding("lamp.dim", severity, Subject("lamp", name), says, "Why.", **more)


def of(*findings: Finding, **more: Any) -> Report:
    return Report((FileReport("f.post.toml", more.pop("verdict", "caution"), findings, **more),))


def checked(text: str, name: str = "airship") -> Report:
    return postcheck.check(postcheck.loads(text, name), today=TODAY)


@pytest.mark.parametrize("path", [*EXAMPLES, *SOUND, *FAULTY[::4]], ids=lambda path: path.name)
def test_a_build_is_the_same_as_itself(path: Path) -> None:
    known = Report((write_expected.report(path),))
    build = postcheck.load(path)
    again = postcheck.check(build, closing=write_expected.to_be_closed(path), today=write_expected.TODAY)
    comparison = postcheck.compare(known, again)
    assert comparison.same
    assert comparison.worse("caution") == ()
    assert (
        compared.render(comparison).splitlines()[0].endswith("as before: no finding and no figure differs.")
    )


def test_findings_are_told_apart_by_their_names() -> None:
    stays, light, heavy = finding("stays"), finding("grows"), finding("grows", "stop")
    comparison = postcheck.compare(of(stays, light, finding("goes")), of(stays, heavy, finding("comes")))
    assert comparison.new == (finding("comes"),)
    assert comparison.gone == (finding("goes"),)
    assert comparison.changed == (Changed(light, heavy),)
    assert not comparison.same


def with_lamps(*findings: Finding, others: tuple[str, ...] = ()) -> Report:
    """The lamps of these findings, and some more."""
    names = [*(one.subject.name for one in findings), *others]
    rows: Any = {name: {"nominal": 0.01, "lowest": 0.01, "highest": 0.01} for name in names}
    return of(*findings, figures={**no_figures(), "lamps": rows})


def test_a_new_name_is_no_new_finding() -> None:
    def stop(name: str, share: str = "half", **more: Any) -> Finding:
        return finding(name, "stop", f"'{name}' gets {share} of what it needs.", **more)

    comparison = postcheck.compare(with_lamps(stop("lantern")), with_lamps(stop("main light"), stop("spare")))
    assert comparison.new == (stop("spare"),)  # each is taken once
    assert comparison.changed == (Changed(stop("lantern"), stop("main light")),)
    assert comparison.gone == ()
    assert comparison.worse() == (stop("spare"),)
    told = compared.render(comparison)
    assert (
        "\nChanged, stop: 'main light' gets half of what it needs.\n    Name: lamp.dim:main light\n    Its name was: lamp.dim:lantern\n"
        in told
    )
    for other in (stop("main light", "a third"), stop("main light", accepted="as meant")):
        comparison = postcheck.compare(with_lamps(stop("lantern")), with_lamps(other))
        assert (len(comparison.new), len(comparison.gone)) == (1, 1)
    # both lamps were there before, and are now: one is cured, and the other has it
    swapped = postcheck.compare(with_lamps(stop("a"), others=("b",)), with_lamps(stop("b"), others=("a",)))
    assert (swapped.new, swapped.gone, swapped.worse()) == ((stop("b"),), (stop("a"),), (stop("b"),))


def test_what_a_changed_finding_was_and_what_cures_it_is_told() -> None:
    before = finding("a", says="It was so.", accepted="as meant")
    after = finding("a", "stop", "It is so.", remedy="Use less.")
    told = compared.render(postcheck.compare(of(before, stage="wiring"), of(after, stage="closing")))
    assert told.splitlines() == [
        "Caution, as before: 1 finding changed.",
        "Before: f.post.toml, judged for wiring",
        "Now: f.post.toml, judged for closing",
        "Changed, stop, was caution, accepted no more: It is so.",
        "    Name: lamp.dim:a",
        "    Was: It was so.",
        "    Do: Use less.",
    ]
    grown = compared.render(postcheck.compare(of(before), of(replace(after, accepted="as meant"))))
    assert "\nChanged, stop, was caution, accepted: It is so." in grown


def asks(what: str, *, vital: bool = True, subject: str = "keel") -> Report:
    return of(not_judged=(NotJudged(subject, what, "its surface", vital=vital),), verdict="incomplete")


def test_a_question_is_the_same_whatever_its_figures_are() -> None:
    before, after = (
        asks("how warm it gets from the 262 mW in it"),
        asks("how warm it gets from the 1.5 W in it"),
    )
    assert postcheck.compare(before, after).same
    other = postcheck.compare(before, asks("how long it lasts at 262 mW"))
    assert (len(other.asked), len(other.answered), len(other.worse("caution"))) == (1, 1, 1)
    assert len(postcheck.compare(before, asks("how warm it gets", subject="bow")).asked) == 1
    text = AIRSHIP.read_text(encoding="utf-8").replace('surface  = "70 cm2"\n', "")
    milder = text.replace('"1k at keel"', '"1k2 at keel"')
    assert text != milder
    told = postcheck.compare(checked(text), checked(milder))
    assert (told.asked, told.answered) == ((), ())
    assert told.moved


def test_a_question_that_has_become_vital_is_told() -> None:
    comparison = postcheck.compare(asks("how warm", vital=False), asks("how warm"))
    assert len(comparison.asked) == len(comparison.worse("caution")) == 1
    assert "\nNew, not judged: 'keel': how warm; missing: its surface (vital)\n" in compared.render(
        comparison
    )
    assert postcheck.compare(asks("how warm"), asks("how warm", vital=False)).asked == ()


def test_another_order_of_the_same_words_is_no_news() -> None:
    one, other = finding("a", says="Joins 'b', 'c' at 2 mm."), finding("a", says="Joins 'c', 'b' at 2 mm.")
    assert postcheck.compare(of(one), of(other)).same
    assert not postcheck.compare(of(one), of(finding("a", says="Joins 'b', 'c' at 3 mm."))).same


def of_facts(name: str, current: float, *others: str, case: str = "less:") -> Finding:
    parts = {"others": tuple(Subject("lamp", other) for other in (*others, name))}
    figures = {"nominal": Figure(current, "A")}
    return replace(finding(name), figures=figures, parts=parts, case=case)


def test_what_is_different_in_a_finding_is_read_from_its_data_not_its_words() -> None:
    before = of_facts("a", 0.01, "b", "c")
    assert postcheck.compare(of(before), of(replace(before, says="Says it in other words."))).same
    assert postcheck.compare(of(before), of(of_facts("a", 0.010001, "c", "b"))).same
    for other in (
        of_facts("a", 0.011, "b", "c"),
        of_facts("a", 0.01, "b"),
        of_facts("a", 0.01, "b", "c", case="more:"),
        replace(before, words={"wire": "ptfe-30"}),
    ):
        assert postcheck.compare(of(before), of(other)).changed == (Changed(before, other),)
    told = compared.render(postcheck.compare(of(before), of(of_facts("a", 0.011, "b", "c"))))
    assert "\nChanged, caution: Says.\n    Name: lamp.dim:a\n    Figures: nominal 11 mA, was 10 mA.\n" in told


def test_a_new_name_is_known_by_the_data() -> None:
    before = with_lamps(of_facts("lantern", 0.01, "b"), others=("b",))
    renamed = of_facts("main light", 0.01, "b")
    comparison = postcheck.compare(before, with_lamps(renamed, others=("b",)))
    assert [(one.before.id, one.after.id) for one in comparison.changed] == [
        ("lamp.dim:lantern", "lamp.dim:main light")
    ]
    other = with_lamps(of_facts("main light", 0.02, "b"), others=("b",))
    assert len(postcheck.compare(before, other).new) == 1


def test_a_question_is_known_by_its_case() -> None:
    def asks(what: str, case: str | None) -> Report:
        return of(not_judged=(NotJudged("keel", what, "its surface", case=case),))

    assert postcheck.compare(asks("how warm", "warmth"), asks("how hot", "warmth")).same
    assert not postcheck.compare(asks("how warm", "warmth"), asks("how warm", "heat")).same


def test_less_than_nothing_is_no_difference() -> None:
    def lamp(current: float) -> Report:
        rows: Any = {"dark": {"nominal": current, "lowest": 0.0, "highest": 0.0}}
        return of(figures={**no_figures(), "lamps": rows}, verdict="clear")

    assert postcheck.compare(lamp(4e-12), lamp(4e-11)).same  # what an LED leaks
    assert not postcheck.compare(lamp(1e-5), lamp(2e-5)).same


@pytest.mark.parametrize(
    ("before", "after", "stop", "caution"),
    [
        (of(), of(finding("a")), 0, 1),
        (of(), of(finding("a", "stop")), 1, 1),
        (of(finding("a")), of(finding("a", "stop")), 1, 1),
        (of(finding("a", "stop")), of(finding("a", "stop", "Says more.")), 0, 0),
        (of(finding("a", "stop")), of(finding("a")), 0, 0),
        (of(finding("a", accepted="as meant")), of(finding("a")), 0, 1),  # accepted no more
        (of(), of(finding("a", accepted="as meant")), 0, 0),
        (of(), of(not_judged=(NotJudged("a", "b", "c", vital=True),)), 0, 1),
        (of(), of(not_judged=(NotJudged("a", "b", "c"),)), 0, 0),
    ],
)
def test_only_what_is_new_or_heavier_fails(before: Report, after: Report, stop: int, caution: int) -> None:
    comparison = postcheck.compare(before, after)
    assert (len(comparison.worse()), len(comparison.worse("caution"))) == (stop, caution)


def test_a_changed_resistor_shows_in_every_figure_that_the_reports_have() -> None:
    text = AIRSHIP.read_text(encoding="utf-8")
    at = text.index('name     = "nose lamp"')
    before, after = checked(text), checked(text[:at] + text[at:].replace("1k at keel", "100 ohm at keel", 1))
    comparison = postcheck.compare(before, after)
    assert comparison.new == after.files[0].findings
    assert comparison.gone == comparison.changed == ()
    moved = {(one.part, one.figure): one for one in comparison.moved}
    told: set[tuple[Part, str]] = set()
    for section in ("lamps", "supplies", "runs", "passages", "places"):
        for name, row in after.files[0].figures[section].items():  # type: ignore[literal-required]
            for figure, value in row.items():
                was = before.files[0].figures[section][name][figure]  # type: ignore[literal-required]
                if (
                    isinstance(value, str)
                    or meanings()[section][figure].follows
                    or abs(value - was) <= 1e-3 * max(abs(value), abs(was))
                ):
                    continue
                told.add((Part(section, name), figure))
                one = moved[Part(section, name), figure]
                assert (one.before, one.after) == (was, value)
    assert told == set(moved)
    assert moved[Part("lamps", "nose lamp"), "nominal"].unit == "A"
    back = postcheck.compare(after, before)
    assert back.gone == comparison.new
    assert {(one.part, one.figure, one.after, one.before) for one in back.moved} == {
        (one.part, one.figure, one.before, one.after) for one in comparison.moved
    }


def test_a_part_that_comes_or_goes_is_told_and_has_no_figures_to_compare() -> None:
    text = AIRSHIP.read_text(encoding="utf-8")
    more = (
        text
        + '\n[[lamp]]\nname = "keel lamp"\ncircuit = "running"\nkind = "smd-0402-red"\nplace = "keel"\nresistor = "1k5"\n'
    )
    comparison = postcheck.compare(checked(text), checked(more))
    assert comparison.added == (Part("lamps", "keel lamp"),)
    assert comparison.removed == ()
    assert all(one.part.name != "keel lamp" for one in comparison.moved)
    assert "\nNew: lamp 'keel lamp'\n" in compared.render(comparison)
    assert "\nGone: lamp 'keel lamp'\n" in compared.render(postcheck.compare(checked(more), checked(text)))


def test_little_is_counted_and_not_told() -> None:
    def lamps(share: float) -> Report:
        rows: Any = {
            f"lamp {number}": {"nominal": 0.01 * (1 + share), "lowest": 0.01, "highest": 0.01}
            for number in range(3)
        }
        return of(figures={**no_figures(), "lamps": rows}, verdict="clear")

    assert postcheck.compare(lamps(0.0), lamps(0.0005)).same
    little = compared.render(postcheck.compare(lamps(0.0), lamps(0.005)))
    assert little.endswith("\nFigures of 3 parts differ by less than 1 %.\n")
    much = compared.render(postcheck.compare(lamps(0.0), lamps(0.02)))
    assert "\nLamp 'lamp 2': nominal 10.2 mA, was 10 mA\n" in much


def test_of_many_those_that_differ_most_are_told() -> None:
    def lamps(share: float) -> Report:
        rows: Any = {
            f"lamp {number}": {"nominal": 0.01 * (1 + share * (number + 1)), "lowest": 0.01, "highest": 0.01}
            for number in range(60)
        }
        return of(figures={**no_figures(), "lamps": rows}, verdict="clear")

    lines = compared.render(postcheck.compare(lamps(0.0), lamps(0.02))).splitlines()
    assert sum(line.startswith("Lamp ") for line in lines) == 40
    assert "Lamp 'lamp 59': nominal 22 mA, was 10 mA" in lines
    assert lines[-1].startswith("Figures of 20 more parts differ, by no more than these")


def test_what_is_no_number_is_told_as_what_it_is() -> None:
    def post(**row: Any) -> Report:
        rows: Any = {"post": {"fill": 0.1, "smallest_bore": 0.002, "verdict": "fits", "bore": 0.005} | row}
        return of(figures={**no_figures(), "passages": rows}, verdict="clear")

    comparison = postcheck.compare(post(), post(verdict="cannot fit", fill=None, bore=inf, smallest_bore=nan))
    assert compared.render(comparison).splitlines()[-1] == (
        "The post: fill none, was 10 %; smallest bore none, was 2 mm; verdict cannot fit, was fits; "
        "bore none, was 5 mm"
    )
    told = json.loads(compared.render_json(comparison, "1"), parse_constant=pytest.fail)
    assert [one["after"] for one in told["figures"]] == [None, None, "cannot fit", None]


@pytest.mark.parametrize(
    "bad", [Report(()), Report((FileReport("f", "unreadable"),)), Report(of().files * 2)]
)
def test_only_two_builds_are_compared(bad: Report) -> None:
    for pair in ((bad, of()), (of(), bad)):
        with pytest.raises(ValueError, match="one build that could be read"):
            postcheck.compare(*pair)


@pytest.mark.parametrize("path", FAULTY[::3], ids=lambda path: path.name)
def test_its_json_holds_to_its_schema(path: Path) -> None:
    comparison = postcheck.compare(*(Report((write_expected.report(one),)) for one in (AIRSHIP, path)))
    told = json.loads(compared.render_json(comparison, "1.2.3"))
    assert [error.message for error in STRICT.iter_errors(told)] == []
    # some ask only, and find nothing
    assert comparison.new or comparison.asked
    assert len(told["findings"]["new"]) == len(comparison.new)
    assert len(told["not_judged"]["new"]) == len(comparison.asked)
    assert len(told["parts"]["new"]) == len(comparison.added) > 0


def test_its_schema_is_draft_07_and_would_see_another_key() -> None:
    Draft7Validator.check_schema(comparison_schema())
    told = json.loads(compared.render_json(postcheck.compare(of(), of(finding("a"))), "1"))
    assert not list(STRICT.iter_errors(told))
    told["findings"]["new"][0]["severity"] = "fatal"
    assert list(STRICT.iter_errors(told))


@pytest.mark.parametrize("name", NAMES.values(), ids=NAMES.keys())
def test_hostile_names_steer_nothing(name: str) -> None:
    (there,) = report(name).files
    empty = FileReport(name, "clear", name=name)
    moved = replace(there, figures={**there.figures, "places": {name: {"heat": 9.0, "rise": 9.0}}})
    for before, after in ((empty, there), (there, empty), (there, moved)):
        comparison: Comparison = postcheck.compare(Report((before,)), Report((after,)))
        text = compared.render(comparison)
        assert not FORBIDDEN.search(text)
        assert not [line for line in text.split("\n") if line.lstrip().startswith("::") or "##[" in line]
        screen = compared.render(comparison, 40, ascii=True)
        assert not FORBIDDEN.search(screen)
        assert max(cell_len(line) for line in screen.split("\n")) <= 40
        screen.encode("ascii")
        json.loads(compared.render_json(comparison, "1").encode("ascii"))
