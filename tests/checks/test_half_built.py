"""What is asked of half a build, and the lines that can be typed as they stand: a run for each line that nothing carries yet."""

from __future__ import annotations

import pytest

import postcheck
from postcheck.checks import unbuilt
from postcheck.report import NotJudged
from postcheck.survey import Survey

from .facts import asked

BASE = """format = 1
[build]
name = "Half a tender"
{usual}[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
rated = "1 A"
[post]
from = "base"
to = "hull"
bore = "5 mm"
length = "160 mm"
[place.base]
access = "open"
[place.hull]
access = "cover"
[place.bow]
access = "open"
[place.stern]
access = "open"
{circuit}{lamps}{runs}"""
LIGHTS = '[circuit.lights]\nsupply = "main"\n'
DECK = '[circuit.deck]\nsupply = "main"\n'


def lamp(
    name: str, lead: str = "120 mm of enamel-0.10 to hull", place: str = "bow", circuit: str = "lights"
) -> str:
    return f'[[lamp]]\nname = "{name}"\ncircuit = "{circuit}"\nkind = "smd-0402-red"\nplace = "{place}"\nresistor = "1k5 1/4 W"\nlead = "{lead}"\n'


def run(line: str, length: int = 300, start: str = "base", end: str = "hull", wire: str = "ptfe-30") -> str:
    wired = f'wire = "{wire}"\n' if wire else ""
    return f'[[run]]\nname = "{line}"\nline = "{line}"\nends = ["{start}", "{end}"]\nlength = "{length} mm"\n{wired}'


def half(circuit: str = LIGHTS, lamps: str = "", runs: str = "", usual: str = "") -> Survey:
    text = BASE.format(circuit=circuit, lamps=lamps or lamp("bow lamp"), runs=runs, usual=usual)
    return Survey(postcheck.loads(text))


def questions(made: Survey, name: str = "line.unbuilt") -> dict[str, NotJudged]:
    return {question.subject: question for question in asked(unbuilt, name, made)}


def to_type(line: str, length: int, *more: str, ends: str = '"base", "hull"') -> tuple[str, ...]:
    return (
        "[[run]]",
        f'line = "{line}"',
        f"ends = [{ends}]",
        *more,
        f'length = "{length} mm"  # as you measure it',
    )


def test_a_run_for_each_line_as_long_as_the_post_and_what_comes_out_of_it():
    found = questions(half())
    assert {name: question.lines for name, question in found.items()} == {
        name: to_type(name, 260) for name in ("lights", "main-")
    }
    for question in found.values():
        assert (question.vital, question.plannable, question.missing) == (True, True, "a run, and its length")
        assert question.what == (
            "what is lost and what a short does on its way from 'base' to 'hull': nothing carries it there yet, where 'bow lamp' is joined"
        )


def test_of_the_wire_and_length_of_its_neighbour():
    (one,) = questions(half(runs=run("lights"))).values()
    assert one.lines == to_type("main-", 300, 'wire = "ptfe-30"')
    # not of a spare one; nor of one elsewhere but for its wire
    spare = '[[run]]\nname = "reserve"\nspare = true\nends = ["base", "hull"]\nlength = "410 mm"\nwire = "ptfe-32"\n'
    (one,) = questions(half(runs=spare + run("lights", 330))).values()
    assert one.lines == to_type("main-", 330, 'wire = "ptfe-30"')
    # what is usual is not typed
    (one,) = questions(half(runs=run("lights", wire=""), usual='[usual]\nrun = "ptfe-28"\n')).values()
    assert one.lines == to_type("main-", 300)


def test_where_no_length_is_known_a_tenth_of_a_metre_is_put():
    found = questions(half(lamps=lamp("bow lamp", "120 mm of enamel-0.10 to stern")))
    assert found["lights"].lines == to_type("lights", 100, ends='"base", "stern"')


def test_of_several_that_are_joined_there():
    found = questions(half(lamps=lamp("bow lamp") + lamp("stern lamp")))
    assert found["lights"].what.endswith("where 'bow lamp' and 'stern lamp' are joined")


def test_where_one_lead_goes_that_another_may_be_meant_to():
    there, lost = lamp("bow lamp"), lamp("lost", "120 mm of enamel-0.10")
    runs = run("lights") + run("main-")
    # a lead that does not say where it goes is asked about alone, but where another's goes to its place as well
    assert questions(half(lamps=there + lost, runs=runs)).keys() == {"lost"}
    both = questions(
        half(lamps=there + lost + lamp("found", "120 mm of enamel-0.10 to bow", "stern"), runs=runs)
    )
    assert both["lights"].what.endswith("where 'lost' and 'found' are joined")


@pytest.mark.parametrize(
    ("places", "listed"),
    [
        (("bow",), '"bow"'),
        (("bow", "stern"), '"bow" or "stern"'),
        (("bow", "stern", "hull"), '"bow" or "hull" or "stern"'),
        (("bow", "stern", "hull", "base"), '"base" or "bow" or "hull"'),
    ],
)
def test_a_single_lead_may_go_elsewhere(places, listed):
    more = '[place.mast]\naccess = "open"\n'
    others = "".join(lamp(f"lamp {place}", f"120 mm of enamel-0.10 to {place}") for place in places)
    runs = "".join(
        run(line, end=place).replace(f'name = "{line}"\n', "")
        for line in ("lights", "main-")
        for place in places
        if place != "base"
    )
    made = half(lamps=more + others + lamp("lost", "120 mm of enamel-0.10 to mast"), runs=runs)
    found = questions(made)
    assert found["lights"].lines[0] == (
        f"# unless the lead of 'lost' goes to {listed}, as others do, and not to \"mast\"; else:"
    )
    # two that go there know where they go
    both = half(
        lamps=more
        + others
        + lamp("lost", "120 mm of enamel-0.10 to mast")
        + lamp("found", "120 mm of enamel-0.10 to mast"),
        runs=runs,
    )
    assert questions(both)["lights"].lines[0] == "[[run]]"


def test_a_run_that_nothing_joins():
    runs = run("lights") + run("main-") + run("deck", 90, "hull", "bow")
    (one,) = questions(half(LIGHTS + DECK, runs=runs)).values()
    assert (one.subject, one.vital, one.plannable, one.lines) == ("deck", True, False, ())
    assert one.missing == "a [[run]] that joins it to the rest of its line, or spare = true"


# -- circuits that nothing feeds


@pytest.mark.parametrize(
    ("circuit", "missing", "lines", "under"),
    [
        ("", "its table", ("[circuit.lights]", 'supply = "main"', 'behaviour = "steady"'), ()),
        ('[circuit.lights]\nbehaviour = "dim"\n', "its supply", ('supply = "main"',), ("circuit", "lights")),
        (DECK, "its right name or its table", ("# unless the circuit 'lights' is one that the file describes: 'deck'; else:", "[circuit.lights]", 'supply = "main"', 'behaviour = "steady"'), ()),
    ],
)  # fmt: skip
def test_a_circuit_on_the_only_supply(circuit, missing, lines, under):
    (one,) = [
        question for name, question in questions(half(circuit), "circuit.unfed").items() if name == "lights"
    ]
    assert (one.missing, one.lines, one.under) == (missing, lines, under)
    assert one.plannable
    assert "fed by 'main', the only supply" in one.what
    assert ("'deck'" in one.what) is (circuit == DECK)
    planning = Survey(half(circuit).build, stage="planning")
    assert [
        question.vital
        for question in asked(unbuilt, "circuit.unfed", planning)
        if question.subject == "lights"
    ] == [False]
    wiring = Survey(half(circuit).build, stage="wiring")
    assert [
        question.vital for question in asked(unbuilt, "circuit.unfed", wiring) if question.subject == "lights"
    ] == [True]


def test_a_supply_without_its_volts():
    text = BASE.format(circuit=LIGHTS, lamps=lamp("bow lamp"), runs="", usual="").replace(
        'volts = "12 V"\n', ""
    )
    (one,) = questions(Survey(postcheck.loads(text)), "circuit.unfed").values()
    assert (one.subject, one.vital, one.lines, one.under) == (
        "main",
        True,
        ('volts = "12 V"',),
        ("supply", "main"),
    )


def test_of_two_supplies_nobody_knows_which():
    aft = '[supply.aft]\nkind = "adaptor"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\n'
    one = questions(half(aft), "circuit.unfed")["lights"]
    assert (one.vital, one.missing, one.under) == (True, "its supply", ())
    assert one.lines == ("[circuit.lights]", 'supply = "main"', 'behaviour = "steady"')
