"""Circuits on both sides of each limit, with figures of our own: what is lost on the way, what is joined, what is empty."""

from __future__ import annotations

from typing import Any

import pytest

from postcheck.checks import circuits
from postcheck.report import Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import PlugFault
from tests.survey.small import lamp, survey

from .facts import asked, facts, judged, units, values, with_figures
from .test_lamps import own_kind, string

LIGHTS = Subject("circuit", "lights")


def run(line: str, name: str = "", more: str = "") -> str:
    return f'[[run]]\nname = "{name or line}"\nline = "{line}"\nends = ["base", "hull"]\nlength = "300 mm"\n{more}\n'


def circuit(name: str, more: str = "") -> str:
    return f'[circuit.{name}]\nsupply = "main"\n{more}\n'


def join(*lines: str, place: str = "hull") -> str:
    return f'[[join]]\nplace = "{place}"\nlines = {[*lines]}\n'.replace("'", '"')


FLASH, FADE = 'behaviour = "flash"\nrate = "60 /min"', 'behaviour = "fade"\nrate = "10 /min"'
DIM = 'behaviour = "dim"'


# -- lost on the way: a tenth of the volts, or a quarter of the light


def lossy(made: Survey, name: str = "bow lamp", **figures: Any) -> Survey:
    each = {**made.electrics.lamps, name: made.electrics.lamps[name]._replace(**figures)}
    return with_figures(made, lamps=each)


@pytest.mark.parametrize(
    ("loss", "light", "case", "limit"),
    [
        (1.2, 0.25, None, 0),
        (1.21, 0.25, "volts", 1.2),
        (1.0, 0.26, "light", 0.25),
        (1.21, 0.26, "volts", 1.2),
    ],
)
def test_a_lamp_that_loses_volts_on_its_way(loss, light, case, limit):
    made = lossy(survey(), loss=loss, light_lost=light, nominal=0.0066)
    got = facts(circuits, "line.drop", made)
    assert [fact.case for fact in got] == ([case] if case else [])
    for fact in got:
        assert values(fact) == {
            "lost": loss,
            "supply": 12.0,
            "share": pytest.approx(loss / 12.0),
            "dimmer": light,
            "current": 0.0066,
        }
        assert units(fact) == {
            "lost": "V",
            "supply": "V",
            "share": "share",
            "dimmer": "share",
            "current": "A",
        }
        assert fact.limit is not None
        assert fact.limit.value == pytest.approx(limit)
        assert (fact.severity, fact.subject, fact.path, fact.because_of) == (
            "caution",
            LIGHTS,
            ("circuit", "lights"),
            None,
        )
        assert fact.parts == {"lamp": Subject("lamp", "bow lamp")}


def test_a_bulb_by_its_light_alone():
    rice = survey(lamps=string("rice-12v", None))
    assert facts(circuits, "line.drop", lossy(rice, loss=3.0, light_lost=0.25)) == []
    assert [fact.case for fact in facts(circuits, "line.drop", lossy(rice, loss=0.1, light_lost=0.26))] == [
        "light"
    ]


def test_the_darkest_is_told_and_the_others_counted():
    two = survey(lamps=lamp() + lamp().replace("bow lamp", "stern lamp"))
    made = lossy(lossy(two, loss=2.0, light_lost=0.3), "stern lamp", loss=1.5, light_lost=0.4)
    (fact,) = facts(circuits, "line.drop", made)
    assert (fact.parts["lamp"], values(fact)["others"], values(fact)["lost"]) == (Subject("lamp", "stern lamp"), 1.0, 1.5)  # fmt: skip


@pytest.mark.parametrize(
    ("wanted", "nominal", "found"),
    [
        ('"8 mA"', 0.006, False),
        ('"8 mA"', 0.0059, True),
        ('"7..9 mA"', 0.007, False),
        ('"7..9 mA"', 0.0069, True),
    ],
)
def test_a_lamp_that_has_what_is_wanted_loses_nothing(wanted, nominal, found):
    # within a quarter of one value, or in the range
    made = lossy(survey(lamps=lamp() + f"wanted = {wanted}\n"), nominal=nominal, loss=2.0)
    assert len(facts(circuits, "line.drop", made)) == found


def test_on_a_constant_current_no_volts_are_missed():
    made = survey(
        lamps=string("own", None), extra=own_kind(), circuit='output = "20 mA constant, compliance 1 V"'
    )
    assert judged(circuits, "line.drop", lossy(made, loss=9.0, light_lost=0.9)) == []


# -- joined with the wrong ones


@pytest.mark.parametrize(
    ("lights", "deck", "case", "first"),
    [
        (FLASH, "", "joined, flash", ("lights", "deck")), ("", FLASH, "joined, flash", ("deck", "lights")), (FADE, "", "joined, fade", ("lights", "deck")),
        (FLASH, FADE, "joined, flash", ("lights", "deck")), (FADE, FLASH, "joined, flash", ("deck", "lights")), ("", "", None, None),
        # a steady line on a dimmed one gets its pulses, or with a run of its own feeds it past the dimmer: one node
        (DIM, "", "joined, dim", ("lights", "deck")), ("", DIM, "joined, dim", ("deck", "lights")), (DIM, FADE, "joined, fade", ("deck", "lights")),
        (FLASH, DIM, "joined, flash", ("lights", "deck")), (DIM, DIM, None, None),
    ],
)  # fmt: skip
def test_what_flashes_joined_with_what_does_not(lights, deck, case, first):
    made = survey(circuit=lights, extra=circuit("deck", deck) + run("deck") + join("lights", "deck"))
    got = facts(circuits, "circuit.steady-on-flasher", made)
    assert [fact.case for fact in got] == ([case] if case else [])
    for fact in got:
        assert (fact.severity, fact.subject, fact.path) == (
            "stop",
            Subject("join", "hull"),
            ("join", 0, "lines"),
        )
        assert fact.parts == {
            "flashing": Subject("circuit", first[0]),
            "steady": Subject("circuit", first[1]),
        }


@pytest.mark.parametrize(
    ("more", "pole", "found"),
    [
        (FLASH, "main+", True), ("", "main+", False), ('output = "100 mA, 0.2 V drop"', "main+", True), (f'{FLASH}\nswitched = "negative"', "main+", False),
    ],
)  # fmt: skip
def test_a_flasher_joined_with_a_pole(more, pole, found):
    made = survey(circuit=more, extra=run("main+") + join("lights", "main+"))
    got = facts(circuits, "circuit.steady-on-flasher", made)
    assert [fact.case for fact in got] == ["on a pole"] * found
    for fact in got:
        assert fact.parts == {"circuit": LIGHTS, "pole": Subject("line", pole)}


@pytest.mark.parametrize(
    ("behaviour", "goes"), [(FLASH, "flashes"), (FADE, "fades"), ("", None), ('behaviour = "dim"', None)]
)
def test_a_light_that_is_to_be_steady(behaviour, goes):
    made = survey(circuit=behaviour, lamps=lamp() + 'behaviour = "steady"\n')
    got = facts(circuits, "circuit.steady-on-flasher", made)
    assert [fact.words for fact in got] == ([{"goes": goes}] if goes else [])
    for fact in got:
        assert (fact.case, fact.path, fact.parts) == ("lamp", ("lamp", 0, "behaviour"), {"circuit": LIGHTS})


OUTPUT = 'output = "100 mA, 0.2 V drop"'


@pytest.mark.parametrize(
    ("lights", "deck", "found"), [(OUTPUT, OUTPUT, True), (OUTPUT, "", False), (f"{OUTPUT}\n{FLASH}", OUTPUT, False), (f"{OUTPUT}\n{FLASH}", f"{OUTPUT}\n{FLASH}", True)]
)  # fmt: skip
def test_outputs_joined_with_each_other(lights, deck, found):
    made = survey(circuit=lights, extra=circuit("deck", deck) + run("deck") + join("lights", "deck"))
    got = facts(circuits, "circuit.joined-outputs", made)
    assert len(got) == found
    for fact in got:
        assert fact.parts == {"circuits": (LIGHTS, Subject("circuit", "deck"))}
        assert (fact.severity, fact.subject, fact.path) == (
            "stop",
            Subject("join", "hull"),
            ("join", 0, "lines"),
        )


@pytest.mark.parametrize(
    ("behaviour", "what"),
    [
        (FLASH, "what makes it flash"),
        (FADE, "what makes it fade"),
        ('behaviour = "dim"', "what dims it"),
        ("", None),
    ],
)
def test_what_makes_a_circuit_come_and_go_has_to_be_said(behaviour, what):
    questions = asked(circuits, "circuit.unswitched", survey(circuit=behaviour))
    assert [(one.what, one.vital, one.under) for one in questions] == (
        [(what, True, ("circuit", "lights"))] if what else []
    )
    for question in questions:
        assert question.lines == ('output = "100 mA, 0.2 V drop"',)
    assert asked(circuits, "circuit.unswitched", survey(circuit=f"{behaviour}\n{OUTPUT}")) == []


# -- with nothing on it


@pytest.mark.parametrize(
    ("runs", "case", "parts"),
    [("", "", {}), (run("deck"), "laid", {"runs": (Subject("run", "deck"),)}), (run("deck", more="spare = true"), None, None),
     (run("deck") + run("deck", "more", "spare = true"), "laid", {"runs": (Subject("run", "deck"),)})],
)  # fmt: skip
def test_a_circuit_with_nothing_on_it(runs, case, parts):
    made = survey(extra=circuit("deck") + runs)
    got = facts(circuits, "circuit.empty", made)
    assert [fact.case for fact in got] == ([case] if case is not None else [])
    for fact in got:
        assert (fact.severity, fact.subject, fact.path, fact.parts) == ("note", Subject("circuit", "deck"), ("circuit", "deck"), parts)  # fmt: skip
        closing = Survey(made.build, made.limits, "closing")
        assert [one.severity for one in facts(circuits, "circuit.empty", closing)] == ["caution"]


def test_a_board_that_drives_nothing():
    board = '[board.driver]\nplace = "base"\nsupply = "main"\n'
    (fact,) = facts(circuits, "circuit.empty", survey(extra=board))
    assert (fact.severity, fact.case, fact.subject, fact.path) == ("note", "board", Subject("board", "driver"), ("board", "driver"))  # fmt: skip
    used = (
        '[circuit.channel]\nboard = "driver"\n'
        + run("channel")
        + lamp().replace("bow lamp", "spot").replace('"lights"', '"channel"')
    )
    assert facts(circuits, "circuit.empty", survey(extra=board + used)) == []


@pytest.mark.parametrize(
    ("at", "kind", "carries", "empty"),
    [
        # beside pixels, or where a run with data ends, it may make these; nowhere else, and of nothing else
        ("hull", "pixels", "", False), ("hull", "motor", "", True), ("base", "pixels", "", True), ("base", "pixels", "data", False),
        ("base", "pixels", "sound", True), ("bow", "pixels", "data", True),
    ],
)  # fmt: skip
def test_a_board_that_makes_data(at, kind, carries, empty):
    board = f'[board.driver]\nplace = "{at}"\nsupply = "main"\n'
    row = f'[[load]]\nname = "row"\nkind = "{kind}"\ncircuit = "lights"\nplace = "hull"\ntypical = "20 mA"\n'
    line = f'[[run]]\nname = "signal"\nends = ["base", "hull"]\nlength = "300 mm"\ncarries = "{carries}"\n'
    got = facts(circuits, "circuit.empty", survey(lamps=row, extra=board + (line if carries else "")))
    assert [fact.subject.name for fact in got] == ["driver"] * empty


def test_no_board_is_no_board_that_drives_nothing():
    assert facts(circuits, "circuit.empty", survey(lamps="", extra=circuit("deck"))) == []


@pytest.mark.parametrize(("volts", "found"), [(0.0, 0), (0.9, 1)])
def test_of_no_volts_there_is_no_share(volts, found):
    made = lossy(survey(), loss=0.2)
    main = made.electrics.supplies["main"]._replace(volts=volts)
    assert len(facts(circuits, "line.drop", with_figures(made, supplies={"main": main}))) == found
    assert judged(circuits, "line.drop", with_figures(made, supplies={})) == []


@pytest.mark.parametrize("kind", ["unsolved", "untried"])
def test_a_return_whose_break_could_not_be_worked_out_is_named(kind: str) -> None:
    some = with_figures(survey(), pole_faults=(PlugFault("negative", "broken", kind, ""),))
    (question,) = asked(circuits, "line.broken-pole", some)
    assert (question.subject, question.what, question.vital) == (
        "negative",
        "what happens if it breaks",
        False,
    )
    assert facts(circuits, "line.broken-pole", some) == []


@pytest.mark.parametrize(("lead", "where"), [(2.0, "shared"), (2.01, "own lead")])
def test_more_than_half_of_it_is_lost_in_its_own_lead(lead, where):
    made = lossy(survey(), loss=4.0, light_lost=0.5, nominal=0.0066, lead_drop=lead)
    assert [fact.reason for fact in facts(circuits, "line.drop", made)] == [where]
