"""Where a resistor sits, seen from every end: by what a hand with a meter would find there, case by case."""

from __future__ import annotations

import pytest

from postcheck.survey import Survey
from postcheck.survey.bench import test_points as points
from postcheck.survey.bench.rig import BENCH
from tests.survey.bench.boats import boat, lamp, run

B = '[circuit.b]\nsupply = "main"\n'


def at_lead(survey: Survey, name: str = "lamp") -> str:
    return survey.bench.leads["lamp", name].resistor_position


def at_line(survey: Survey, place: str, name: str = "lamp", circuit: str = "a") -> str:
    return dict(survey.bench.lines[circuit, place].resistor_positions)[name]


@pytest.mark.parametrize(
    ("resistor", "lead", "hub", "base"),
    [
        ("1k", "ahead", "ahead", "ahead"),
        ("1k at car", "ahead", "ahead", "ahead"),
        ("1k at hub", "here", "ahead", "ahead"),
        ("1k at base", "behind", "behind", "here"),
        (None, "none", "none", "none"),
        ("0 ohm at base", "none", "none", "none"),
    ],
)
def test_every_seat_of_the_resistor(resistor: str | None, lead: str, hub: str, base: str) -> None:
    survey = boat(lamp(resistor))
    assert (at_lead(survey), at_line(survey, "hub"), at_line(survey, "base")) == (lead, hub, base)


def test_seen_from_a_branch_beyond_the_joint_the_base_does_not_guard() -> None:
    survey = boat(lamp("1k at base"), run("a", "hub", "mast"), run("main-", "hub", "mast"))
    assert at_line(survey, "mast") == "behind"


def test_half_way_up_the_resistor_guards_from_below_only() -> None:
    survey = boat(
        lamp("1k at hub", lead='"90 mm to mast"'), run("a", "hub", "mast"), run("main-", "hub", "mast")
    )
    assert at_lead(survey) == "behind"
    assert [at_line(survey, place) for place in ("base", "hub", "mast")] == ["ahead", "here", "behind"]


def test_in_the_return_of_its_own_it_guards_as_in_the_feed() -> None:
    back = '{ ohms = "1k", place = "base", side = "back" }'
    survey = boat(lamp(back), circuit="own_return = true", lines=("a", "a-return"))
    assert (at_lead(survey), at_line(survey, "hub"), at_line(survey, "base")) == ("behind", "behind", "here")


def test_over_a_plug() -> None:
    plug = '[[plug]]\nname = "post plug"\nends = ["base", "hub"]\npins = ["a", "main-"]\nkeyed = true\n'
    survey = boat(lamp("1k at base"), plug, lines=())
    assert (at_lead(survey), at_line(survey, "hub"), at_line(survey, "base")) == ("behind", "behind", "here")


def test_a_resistor_at_the_end_of_a_passage_that_the_lead_goes_through_is_in_the_lead() -> None:
    passage = (
        '[passage.neck]\nfrom = "hub"\nto = "mast"\nbore = "3 mm"\nlength = "60 mm"\nthrough = ["lamp"]\n'
    )
    survey = boat(passage, lamp("1k at mast"))
    assert (at_lead(survey), at_line(survey, "hub")) == ("ahead", "ahead")


def test_at_the_other_end_of_split_legs_it_is_at_the_end_too() -> None:
    split = '{ length = "90 mm", feed = { to = "hub" }, back = { to = "mast" } }'
    for place in ("hub", "mast"):
        survey = boat(lamp(f"1k at {place}", lead=split), run("main-", "hub", "mast"))
        assert at_lead(survey) == "here"
        assert survey.bench.leads["lamp", "lamp"].places == ("hub", "mast")


def test_a_resistor_at_a_lamp_of_a_chain_is_ahead() -> None:
    chain = 'series = 2\nplaces = ["mast", "car"]\nlinks = ["60 mm"]'
    assert at_lead(boat(lamp("470 ohm at mast", more=chain))) == "ahead"


def test_the_least_protected_lamp_stands_for_a_line() -> None:
    survey = boat(lamp(), lamp(None, name="other"))
    assert survey.bench.lines["a", "hub"].resistor_position == "none"
    assert at_line(survey, "hub") == "ahead"


def test_a_negative_circuit_has_its_plus_on_the_other_line() -> None:
    survey = boat(
        lamp(lead='"150 mm to hub, black/red"'), circuit='switched = "negative"', lines=("a", "main+")
    )
    for test_point in (survey.bench.leads["lamp", "lamp"], survey.bench.lines["a", "base"]):
        assert (test_point.plus.net, test_point.minus.net) == ("main+", "a")
    assert survey.bench.leads["lamp", "lamp"].plus.colour == "red"
    flow = survey.bench.rig(survey.bench.leads["lamp", "lamp"], with_resistors=True).flow(12.0, BENCH)
    assert flow is not None
    assert 9e-3 < flow.amps < 11e-3  # (12 - 2) V over 1k


def test_joined_lines_feed_the_lamps_of_both() -> None:
    """Soldered together at the hub they are one: what comes out of either lights all."""
    join = '[[join]]\nplace = "hub"\nlines = ["a", "b"]\n'
    parts = (B, lamp(), lamp(name="second", circuit="b"))
    apart = boat(*parts, lines=("a", "b", "main-")).bench
    made_one = boat(*parts, join, lines=("a", "b", "main-")).bench
    for circuit in "ab":
        for place in ("base", "hub"):
            alone = apart.expected(apart.lines[circuit, place], 12.0, with_resistors=True)
            both = made_one.expected(made_one.lines[circuit, place], 12.0, with_resistors=True)
            assert alone is not None
            assert both is not None
            assert both.usual == pytest.approx(2 * alone.usual, rel=1e-3)  # but for the wires
    assert made_one.leads["lamp", "lamp"].resistor_positions == (("lamp", "ahead"),)


def test_joined_returns_alone_feed_nothing_more() -> None:
    own = "own_return = true"
    join = '[[join]]\nplace = "hub"\nlines = ["a-return", "b-return"]\n'
    survey = boat(
        B + own, lamp(), lamp(name="second", circuit="b"), join, circuit=own,
        lines=("a", "a-return", "b", "b-return"),
    )  # fmt: skip
    assert survey.bench.lines["a", "hub"].resistor_positions == (("lamp", "ahead"),)


@pytest.mark.parametrize(
    ("name", "string"),
    [
        ("lamp", None),
        ("lamp 1", 0),
        ("lamp 3", 2),
        ("lamp 0", ...),
        ("lamp 4", ...),
        ("lamp x", ...),
        ("lamp ", ...),
        ("other 1", ...),
        ("1", ...),
    ],
)
def test_a_string_by_its_number(name: str, string: object) -> None:
    """From one on, as many as there are; of strings on one lead there is only the lead."""
    bench = boat(lamp(more='parallel = 3\nstrings_share = "nothing"')).bench
    found = bench.lead("lamp", name)
    assert (found is None) is (string is ...)
    if found is not None:
        assert (found.name, found.string) == (name, string)
    shared = boat(lamp(more='parallel = 3\nstrings_share = "lead"')).bench
    assert (shared.lead("lamp", name) is not None) is (name == "lamp")
    assert bench.lead("load", name) is None


def test_the_names_of_strings_with_leads_of_their_own() -> None:
    for share, names in (("nothing", ("lamp 1", "lamp 2")), ("return", ("lamp 1", "lamp 2")), ("lead", ())):
        made = boat(lamp(more=f'parallel = 2\nstrings_share = "{share}"'))
        assert made.bench.strings(made.parts.lamps[0]) == names
    alone = boat(lamp())
    assert alone.bench.strings(alone.parts.lamps[0]) == ()


@pytest.mark.parametrize(
    ("parts", "several"),
    [
        ([lamp()], False),
        ([lamp(None, name="a"), lamp(None, name="b")], False),
        ([lamp(), lamp(None, name="b")], False),
        ([lamp(), lamp(name="b")], True),
        ([lamp(more="parallel = 2")], True),
        ([lamp("1k at hub", more="parallel = 2\none_resistor = true\nmatched = true")], False),
        ([lamp("1k at hub", more="parallel = 2\none_resistor = true\nmatched = true"), lamp(name="b")], True),
    ],
)
def test_whether_each_string_has_a_resistor_of_its_own(parts: list[str], several: bool) -> None:
    made = boat(*parts)
    assert points.own_resistors(made.parts, made.bench.lines["a", "hub"]) is several
    # another circuit's are none of these
    made = boat(*parts, B, lamp(name="far", circuit="b"), lines=("a", "b", "main-"))
    assert points.own_resistors(made.parts, made.bench.lines["b", "hub"]) is False


def test_ends_of_a_line_are_those_of_its_conductors() -> None:
    """Colour and wire of the run that ends there; of a plug neither."""
    red = run("a").replace("length", 'colour = "red"\nwire = "ptfe-30"\nlength')
    made = boat(lamp(), red, run("main-").replace("length", 'colour = "black"\nlength'), lines=())
    for place in ("base", "hub"):
        found = made.bench.lines["a", place]
        assert found.plus == ("a", place, "red", "ptfe-30")
        assert found.minus == ("main-", place, "black", "ptfe-28")
        assert (found.places, found.path, found.circuits, found.kind) == (
            (place,),
            ("circuit", "a"),
            ("a",),
            "circuit",
        )
    assert [one.plus.place for one in made.bench.along["a"]] == ["base", "hub"]
    plug = '[[plug]]\nname = "post plug"\nends = ["base", "hub"]\npins = ["a", "main-"]\nkeyed = true\n'
    assert boat(lamp(), plug, lines=()).bench.lines["a", "hub"].plus == ("a", "hub", None, None)
    # where one of both lines is missing there is nothing to put a supply on
    made = boat(lamp(), run("a", "hub", "mast"))
    assert {*made.bench.lines} == {("a", "base"), ("a", "hub")}


def test_what_flashes_or_is_dimmed_is_pulsed() -> None:
    for said, pulsed in (
        ("", False),
        ('behaviour = "flash"\nrate = "1 /s"', True),
        ('behaviour = "dim"\nrate = "200 Hz"', True),
    ):
        bench = boat(lamp(), circuit=said).bench
        assert bench.pulsed(bench.lines["a", "hub"]) is pulsed
