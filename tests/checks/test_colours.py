"""Ends that cannot be told apart, and colours on both sides: what alarms, and above all what does not."""

from __future__ import annotations

import pytest

import postcheck
from postcheck.checks import colours, ends
from postcheck.limits import Limits
from postcheck.survey import Survey
from postcheck.survey.bench.ends import poor_light_differences
from tests.survey.small import survey

from .run import run

SECOND = """
[circuit.beacon]
supply = "main"
behaviour = "flash"
[[run]]
name = "beacon feed"
line = "beacon"
ends = ["base", "hull"]
length = "300 mm"
"""


def lit(name: str, circuit: str, colours: str, more: str = "", kind: str = "smd-0402-red") -> str:
    listed = ", ".join(f'"{colour}"' for colour in colours.split("/"))
    return f"""
[[lamp]]
name = "{name}"
circuit = "{circuit}"
kind = "{kind}"
place = "bow"
resistor = "1k5 1/4 W"
lead = {{ length = "120 mm", to = "hull", colours = [{listed}]{more} }}
"""


def two(
    first: str, second: str, more: str = "", circuit: str = "beacon", kind: str = "smd-0402-red"
) -> Survey:
    lamps = lit("bow lamp", "lights", first, kind=kind) + lit("mast lamp", circuit, second, more, kind)
    return survey(lamps=lamps, extra=SECOND)


def found(name: str, of: Survey) -> list[str]:
    findings, unjudged = run(colours if name.startswith("colour.") else ends, name, of)
    assert unjudged == []  # what is not stated a check of its own asks for
    return [finding.subject.name for finding in findings]


@pytest.mark.parametrize(
    ("first", "second", "more", "circuit", "places"),
    [
        ("red/black", "red/black", "", "beacon", ["hull"]),
        ("red/black", "RD/black", "", "beacon", ["hull"]),
        ("red/black", "red/black", ', label = "beacon"', "beacon", []),
        ("red/black", "red/black", ', feed = { label = "beacon" }', "beacon", []),
        ("red/black", "red/black", ', back = { label = "beacon" }', "beacon", ["hull"]),
        ("red/black", "red/black", ', wire = "enamel-0.20"', "beacon", []),
        ("red/black", "red/black", "", "lights", []),
        ("red/black", "red/white", "", "lights", []),
        ("red/black", "white/red", "", "lights", ["hull"]),
        ("red/black", "white with red stripe/black", "", "beacon", []),
        ("red/black", "dark red/black", "", "beacon", []),
        ("copper/black", "copper/black", "", "beacon", ["hull"]),
    ],
)
def test_ends_of_one_look(first: str, second: str, more: str, circuit: str, places: list[str]) -> None:
    assert found("ends.alike", two(first, second, more, circuit)) == places


def test_without_colours_nothing_is_found_and_it_is_asked() -> None:
    lamps = "".join(
        lit(name, circuit, "red/black").replace('colours = ["red", "black"]', 'spare = "80 mm"')
        for name, circuit in (("bow lamp", "lights"), ("mast lamp", "beacon"))
    )
    of = survey(lamps=lamps, extra=SECOND)
    checks = [check for check in (*colours.CHECKS, *ends.CHECKS) if check.name != "ends.uncoloured"]
    assert [found(check.name, of) for check in checks] == [[]] * len(checks)
    findings, asked = run(ends, "ends.uncoloured", of)
    assert findings == []
    assert {question.subject for question in asked} == {"hull", "base"}
    assert not any(question.vital for question in asked)


def test_the_same_flag_on_two_lines_tells_nothing() -> None:
    lamps = lit("bow lamp", "lights", "red/black", ', label = "lamp"')
    lamps += lit("mast lamp", "beacon", "red/black", ', label = "Lamp"')
    assert found("ends.alike", survey(lamps=lamps, extra=SECOND)) == ["hull"]


def test_one_finding_for_a_place_and_none_for_the_other_ends_of_the_same_runs() -> None:
    many = "".join(
        lit(f"lamp {number}", ("lights", "beacon")[number % 2], "red/black") for number in range(6)
    )
    of = survey(lamps=many, extra=SECOND)
    (finding,), _ = run(ends, "ends.alike", of)
    assert finding.figures["ends"].value == 6.0
    runs = SECOND.replace('length = "300 mm"', 'length = "300 mm"\ncolour = "white"')
    third = runs.replace("beacon feed", "second feed").replace(
        "[circuit.beacon]\nsupply", "[circuit.mast]\nsupply"
    )
    of = survey(extra=runs + third.replace('line = "beacon"', 'line = "mast"'))
    (finding,), _ = run(ends, "ends.alike", of)
    assert "'hull'" in finding.says
    assert "'base'" in finding.says


def test_a_spare_is_joined_to_nothing() -> None:
    spare = '[[run]]\nspare = true\nends = ["base", "hull"]\ncolour = "red"\n'
    reds = SECOND.replace('length = "300 mm"', 'length = "300 mm"\ncolour = "red"')
    assert found("ends.alike", survey(extra=reds + spare)) == []


@pytest.mark.parametrize(
    ("said", "places"),
    [('colour = "red"', ["base", "hull"]), ('colour = "red"\nlabel = "spare"', []), ('colour = "grey"', []), ("", [])],
)  # fmt: skip
def test_a_spare_like_a_feed_is_told_where_both_end(said: str, places: list[str]) -> None:
    spare = f'[[run]]\nname = "reserve"\nspare = true\nends = ["base", "hull"]\nlength = "300 mm"\n{said}\n'
    reds = SECOND.replace('length = "300 mm"', 'length = "300 mm"\ncolour = "red"')
    told, _ = run(ends, "ends.spare", survey(extra=reds + spare))
    assert [[place.name for place in one.parts["places"]] for one in told] == ([places] if places else [])


def test_at_closing_nobody_gets_at_a_sealed_place() -> None:
    lamps = lit("bow lamp", "lights", "red/black") + lit("mast lamp", "beacon", "red/black")
    build = survey(lamps=lamps, extra=SECOND, hull='access = "sealed"').build
    assert found("ends.alike", Survey(build)) == ["hull"]
    assert found("ends.alike", Survey(build, stage="closing")) == []


# -- legs


@pytest.mark.parametrize(
    ("legs", "more", "kind", "places"),
    [
        ("copper/copper", "", "smd-0402-red", ["hull"]),
        ("black/BK", ', label = "mast"', "smd-0402-red", ["hull"]),
        ("black/black", ', feed = { label = "+" }', "smd-0402-red", []),
        ("black banded/black", "", "smd-0402-red", []),
        ("black/black", ', wires = ["enamel-0.10", "enamel-0.20"]', "smd-0402-red", []),
        ("black/black", "", "rice-12v", []),
        ("red/black", "", "smd-0402-red", []),
    ],
)
def test_legs_of_one_look(legs: str, more: str, kind: str, places: list[str]) -> None:
    of = survey(lamps=lit("mast lamp", "lights", legs, more, kind))
    assert found("lead.same-legs", of) == places
    assert found("colour.both-poles", of) == []
    assert found("ends.alike", of) == []


# -- one colour on both sides


@pytest.mark.parametrize(
    ("lamps", "names"),
    [
        (["red/black", "red/black"], []),
        (["red/black", "red/black", "white/red"], ["red"]),
        (["red/black", "black/red"], ["black", "red"]),
        (["red/black", "red/black", "black/black"], []),
        (["copper/black", "red/copper"], []),
        (["red/black", "light red/black", "white/light red"], ["light red"]),
    ],
)
def test_one_colour_one_side(lamps: list[str], names: list[str]) -> None:
    of = survey(lamps="".join(lit(f"lamp {n}", "lights", legs) for n, legs in enumerate(lamps)))
    assert sorted(found("colour.both-poles", of)) == names


def test_the_odd_ones_are_named_and_a_flag_of_their_own_excuses_them() -> None:
    usual = "".join(lit(f"lamp {n}", "lights", "red/black") for n in range(4))
    (finding,), _ = run(colours, "colour.both-poles", survey(lamps=usual + lit("odd", "lights", "white/red")))
    assert "the return leg of 'odd'" in finding.says
    assert {name: figure.value for name, figure in finding.figures.items()} == {
        "positive": 4.0,
        "negative": 1.0,
    }
    for more, names in ((', label = "odd"', ["red"]), (', back = { label = "-" }', [])):
        assert (
            found("colour.both-poles", survey(lamps=usual + lit("odd", "lights", "white/red", more))) == names
        )


def test_the_rule_can_be_asked_to_be_clearer() -> None:
    lamps = "".join(lit(f"lamp {n}", "lights", "red/black") for n in range(2)) + lit(
        "odd", "lights", "white/red"
    )
    build = survey(lamps=lamps).build
    for most, words in (
        (2.0, "in this build (2 conductors). It is also the colour of"),
        (3.0, "is on both sides"),
    ):
        (finding,), _ = run(
            colours, "colour.both-poles", Survey(build, Limits({"colour.majority": (most, "a test")}))
        )
        assert words in finding.says


def test_ends_alike_only_for_a_colour_on_both_sides_follow_from_it() -> None:
    of = two("red/black", "white/red", circuit="lights")
    report = postcheck.check(of.build).files[0]
    causes = {one.id: one.because_of for one in report.findings if one.check != "circuit.empty"}
    assert causes == {"colour.both-poles:red": None, "ends.alike:hull": "colour.both-poles:red"}


# -- poor light


def test_which_colours_are_called_alike() -> None:
    limits = Limits()
    apart = poor_light_differences(limits)
    alike = {frozenset(pair) for pair, value in apart.items() if value < limits.value("colour.poor-light")}
    assert {"/".join(sorted(pair)) for pair in alike} == {"BN/RD", "BU/GY", "BU/VT", "GY/TQ", "OG/RD"}
    assert len(apart) == 12 * 11


@pytest.mark.parametrize(
    ("first", "second", "more", "places"),
    [
        ("blue/black", "violet/black", "", ["hull"]),
        ("blue/black", "violet/black", ', label = "beacon"', []),
        ("blue/black", "violet/black", ', wire = "enamel-0.20"', []),
        ("blue/black", "light violet/black", "", []),
        ("blue/black", "white/violet", "", ["hull"]),
        ("red/black", "white/brown", ', label = "beacon"', []),
        ("red/black", "blue/grey", ', label = "beacon"', ["hull"]),
        ("white/black", "yellow/black", "", []),
    ],
)
def test_ends_in_poor_light(first: str, second: str, more: str, places: list[str]) -> None:
    assert found("ends.poor-light", two(first, second, more)) == places


def test_colours_alike_on_one_line_do_not_matter() -> None:
    assert found("ends.poor-light", two("blue/black", "violet/black", circuit="lights")) == []
