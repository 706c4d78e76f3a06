"""Outputs and boards on both sides of each limit, with currents of our own."""

from __future__ import annotations

from typing import Any

import pytest

from postcheck.checks import outputs, surges
from postcheck.checks.known import short_of_current
from postcheck.limits import Limits
from postcheck.report import Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import CircuitFigures
from tests.survey.small import adaptor, survey

from .facts import asked, facts, judged, units, values, with_figures
from .test_lamps import string

LIGHTS = Subject("circuit", "lights")
BOARD = '[board.driver]\nplace = "base"\nsupply = "main"\n{}\n'
CHANNEL = '[circuit.channel]\nboard = "driver"\n[[run]]\nline = "channel"\nends = ["base", "hull"]\nlength = "300 mm"\n'


def amps(made: Survey, name: str = "lights", **figures: float) -> Survey:
    circuits: dict[str, CircuitFigures] = {**made.electrics.circuits}
    circuits[name] = circuits[name]._replace(**figures)
    return with_figures(made, circuits=circuits)


def output(said: str, lamps: str | None = None) -> Survey:
    return survey(circuit=f'output = "{said}"', lamps=lamps)


@pytest.mark.parametrize(
    ("nominal", "highest", "severity"),
    [
        (0.09, 0.1, None),
        (0.1, 0.1, None),
        (0.1, 0.101, "caution"),
        (0.101, 0.101, "stop"),
        (0.101, 0.09, "stop"),
    ],
)
def test_an_output_with_too_much_on_it(nominal, highest, severity):
    made = amps(output("100 mA, 0.2 V drop"), nominal=nominal, highest=highest)
    got = facts(outputs, "output.overload", made)
    assert [fact.severity for fact in got] == ([severity] if severity else [])
    for fact in got:
        assert values(fact) == {"nominal": nominal, "highest": max(nominal, highest), "rated": 0.1}
        assert set(units(fact).values()) == {"A"}
        assert (fact.case, fact.subject, fact.path) == ("output", LIGHTS, ("circuit", "lights", "output"))
        # what fails for sure cannot be accepted
        assert bool(fact.firm) is (severity == "stop")
        assert fact.because_of is None
    strict = Survey(made.build, Limits({"output.load": (0.8, "long life")}))
    strict.__dict__["electrics"] = amps(made, nominal=0.079, highest=0.081).electrics
    (fact,) = facts(outputs, "output.overload", strict)
    assert fact.limit is not None
    assert (fact.severity, fact.limit.value) == ("caution", pytest.approx(0.08))


def test_a_bare_lamp_takes_all_that_it_can_get():
    made = amps(output("100 mA, 0.2 V drop", string(resistor=None)), nominal=0.5, highest=0.5)
    (fact,) = facts(outputs, "output.overload", made)
    assert (fact.case, values(fact)) == ("output, bare lamp", {"rated": 0.1})
    assert fact.parts == {"lamp": Subject("lamp", "bow lamp")}
    assert fact.because_of == "lamp.no-resistor:bow lamp"


def test_what_sets_its_current_is_not_overloaded():
    for said in ("20 mA constant, compliance 1 V", "0.2 V drop"):
        assert judged(outputs, "output.overload", amps(output(said), nominal=9.0, highest=9.0)) == []


@pytest.mark.parametrize(
    ("board", "nominal", "highest", "found"),
    [
        ('limit = "100 mA"', 0.1, 0.1, None), ('limit = "100 mA"', 0.1, 0.101, ("circuit", "caution")), ('limit = "100 mA"', 0.102, 0.102, ("circuit", "stop")),
        ('steady = "20 mA"\nlimit = "100 mA"', 0.102, 0.102, None),
    ],
)  # fmt: skip
def test_a_board_with_too_much_on_one_output(board, nominal, highest, found):
    made = amps(survey(extra=BOARD.format(board) + CHANNEL), "channel", nominal=nominal, highest=highest)
    got = facts(outputs, "board.overload", made)
    assert [(fact.subject.kind, fact.severity) for fact in got] == ([found] if found else [])
    for fact in got:
        assert (fact.path, fact.parts) == (
            ("circuit", "channel", "board"),
            {"board": Subject("board", "driver")},
        )
        assert bool(fact.firm) is (fact.severity == "stop")


def test_an_output_that_says_more_than_its_board():
    own = CHANNEL.replace('board = "driver"', 'board = "driver"\noutput = "2 A, 0.2 V drop"')
    made = amps(survey(extra=BOARD.format('limit = "100 mA"') + own), "channel", nominal=1.0, highest=1.0)
    assert facts(outputs, "board.overload", made) == []
    drop = CHANNEL.replace('board = "driver"', 'board = "driver"\noutput = "0.2 V drop"')
    made = amps(survey(extra=BOARD.format('limit = "100 mA"') + drop), "channel", nominal=1.0, highest=1.0)
    assert len(facts(outputs, "board.overload", made)) == 1


@pytest.mark.parametrize(
    ("load", "severity"), [((0.3, 0.3), None), ((0.3, 0.301), "caution"), ((0.301, 0.302), "stop")]
)
def test_all_outputs_of_a_board_together(load, severity):
    made = with_figures(survey(extra=BOARD.format('total = "300 mA"') + CHANNEL), boards={"driver": load})
    got = facts(outputs, "board.overload", made)
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, "board")] if severity else [])
    for fact in got:
        assert values(fact) == {"nominal": load[0], "highest": load[1], "rated": 0.3}
        # they may never be on at once, so it can be accepted
        assert (fact.subject, fact.path, fact.firm) == (Subject("board", "driver"), ("board", "driver", "total"), "")  # fmt: skip


@pytest.mark.parametrize(
    ("said", "fates", "found"), [('total = "300 mA"', {}, 1), ('total = "300 mA"', {("board", "driver"): "lamp destroyed"}, 0), ("", {}, 0)]
)  # fmt: skip
def test_what_a_board_gives_at_a_start_is_held_against_its_total_where_it_has_one(said, fates, found):
    horn = '[[load]]\nname = "winch"\nkind = "motor"\ncircuit = "channel"\nplace = "hull"\ntypical = "100 mA"\nstarting = "400 mA"\n'
    made = survey(extra=BOARD.format(said) + CHANNEL + horn)
    assert made.electrics.board_surges.keys() == {"driver"}
    made.__dict__["beyond"] = made.beyond._replace(fates=fates)
    assert (
        len([fact for fact in facts(surges, "output.starts", made) if fact.subject.kind == "board"]) == found
    )


# -- cold filaments


@pytest.mark.parametrize(("starting", "found"), [(0.1, False), (0.101, True)])
def test_cold_filaments_that_take_more(starting, found):
    rice = output("100 mA, 0.2 V drop", string("rice-12v", None))
    got = facts(outputs, "output.cold-filaments", amps(rice, starting=starting, nominal=0.03))
    assert len(got) == found
    for fact in got:
        assert values(fact) == {"starting": starting, "nominal": 0.03, "rated": 0.1}
        assert set(units(fact).values()) == {"A"}
        assert fact.parts == {"lamp": Subject("lamp", "bow lamp")}
        assert (fact.severity, fact.path) == ("caution", ("circuit", "lights", "output"))


def test_when_cold_filaments_are_no_matter():
    many: dict[str, Any] = {"starting": 5.0}
    rice = string("rice-12v", None)
    for nominal, judges in ((0.1, True), (0.101, False)):
        made = amps(output("100 mA, 0.2 V drop", rice), nominal=nominal, **many)
        assert bool(judged(outputs, "output.cold-filaments", made)) is judges
    for made in (output("100 mA, 0.2 V drop"), output("0.2 V drop", rice), output("20 mA constant, compliance 1 V", rice), survey(lamps=rice)):  # fmt: skip
        assert judged(outputs, "output.cold-filaments", amps(made, nominal=0.03, **many)) == []
    on_board = survey(
        lamps=rice.replace('"lights"', '"channel"'), extra=BOARD.format('limit = "100 mA"') + CHANNEL
    )
    (fact,) = facts(outputs, "output.cold-filaments", amps(on_board, "channel", starting=0.2, nominal=0.03))
    assert fact.path == ("circuit", "channel", "board")


# -- volts: 12 V and 5 %


@pytest.mark.parametrize(
    ("board", "severity", "case", "limit"),
    [
        ('most_volts = "12.6 V"', None, None, 0), ('most_volts = "12.5 V"', "caution", "too high", 12.5), ('most_volts = "12 V"', "caution", "too high", 12.0),
        ('most_volts = "11.9 V"', "stop", "too high", 11.9), ('least_volts = "11.4 V"', None, None, 0), ('least_volts = "11.5 V"', "caution", "low at worst", 11.5),
        ('least_volts = "12 V"', "caution", "low at worst", 12.0), ('least_volts = "12.1 V"', "stop", "too low", 12.1),
    ],
)  # fmt: skip
def test_a_board_on_other_volts(board, severity, case, limit):
    got = facts(outputs, "board.wrong-volts", survey(extra=BOARD.format(board)))
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, case)] if severity else [])
    for fact in got:
        assert values(fact) == pytest.approx({"lowest": 11.4, "volts": 12.0, "highest": 12.6})
        assert fact.limit is not None
        assert fact.limit.value == limit
        assert fact.path == ("board", "driver", "supply")
        assert bool(fact.firm) is (severity == "stop" and case == "too high")


def test_a_battery_that_runs_down_is_judged_for_that():
    cells = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 8'
    made = survey(supply=cells, extra=BOARD.format('least_volts = "11 V"'))
    assert facts(outputs, "board.wrong-volts", made) == []


# -- constant current: five per cent less than it promises, and a tenth of it


@pytest.mark.parametrize(
    ("nominal", "severity"),
    [(0.019, None), (0.0189, "caution"), (0.002, "caution"), (0.0019, "stop"), (-0.001, "stop")],
)
def test_an_output_that_has_not_the_volts(nominal, severity):
    made = amps(output("20 mA constant, compliance 1.5 V", string(resistor=None, series=2)), nominal=nominal)
    got = facts(outputs, "output.compliance", made)
    assert [fact.severity for fact in got] == ([severity] if severity else [])
    for fact in got:
        assert values(fact) == {
            "nominal": max(nominal, 0.0), "promised": 0.02, "needs": pytest.approx(1.5), "volts": pytest.approx(12.0),
            "string": pytest.approx(made.electrics.lamps["bow lamp"].string_volts),
        }  # fmt: skip
        assert units(fact) == {"nominal": "A", "promised": "A", "needs": "V", "volts": "V", "string": "V"}
        assert fact.limit is not None
        assert fact.limit.value == pytest.approx(0.019)
        assert fact.parts == {"lamp": Subject("lamp", "bow lamp")}
    assert judged(outputs, "output.compliance", amps(output("100 mA, 0.2 V drop"), nominal=0.0)) == []


def test_one_lamp_of_its_own_is_enough_to_lack_current():
    of_its_own = string(resistor=None)
    turned = string(resistor=None, backwards="true").replace("bow lamp", "turned lamp")
    elsewhere = string().replace("bow lamp", "deck lamp").replace('"lights"', '"deck"')
    deck = '[circuit.deck]\nsupply = "main"\n'
    for lamps, found in ((of_its_own + elsewhere, 1), (of_its_own + turned, 1), (turned + elsewhere, 0), (elsewhere, 0)):  # fmt: skip
        made = survey(circuit='output = "20 mA constant, compliance 1.5 V"', lamps=lamps, extra=deck)
        assert short_of_current(amps(made, nominal=0.0189), "lights") is bool(found)
        assert short_of_current(amps(made, nominal=0.019), "lights") is False
    assert short_of_current(amps(output("100 mA, 0.2 V drop"), nominal=0.0), "lights") is False


@pytest.mark.parametrize(
    ("at_low", "severity"), [(0.019, None), (0.0189, "caution"), (0.0, "caution"), (None, None)]
)
def test_an_output_that_has_not_the_volts_with_its_supply_at_its_lowest(at_low, severity):
    made = amps(
        output("20 mA constant, compliance 1.5 V", string(resistor=None, series=2)),
        nominal=0.02,
        at_low=at_low,
    )
    got = facts(outputs, "output.compliance", made)
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, "supply low")] if severity else [])
    for fact in got:
        assert values(fact) == {
            "lowest": at_low, "promised": 0.02, "needs": pytest.approx(1.5), "volts": pytest.approx(11.4),
            "string": pytest.approx(made.electrics.lamps["bow lamp"].string_volts),
        }  # fmt: skip


# -- outputs of which nobody says what they carry: vital above 20 mA


@pytest.mark.parametrize(
    ("highest", "vital"), [(0.02, False), (0.02 * (1.0 + 1e-12), False), (0.02001, True)]
)
def test_what_an_output_carries_has_to_be_said(highest, vital):
    made = amps(output("0.2 V drop"), highest=highest)
    (question,) = asked(outputs, "output.unlimited", made)
    assert (question.vital, question.subject) == (vital, "lights")
    assert 'output = "... mA, 0.2 V drop"' in question.missing
    assert asked(outputs, "output.unlimited", amps(made, highest=0.0)) == []
    for said in ("100 mA, 0.2 V drop", "20 mA constant, compliance 1 V"):
        assert asked(outputs, "output.unlimited", amps(output(said), highest=highest)) == []


def test_of_a_board_the_output_with_most_on_it():
    second = CHANNEL.replace("channel", "deck")
    made = survey(extra=BOARD.format("") + CHANNEL + second)
    made = amps(amps(made, "channel", highest=0.03), "deck", highest=0.05)
    (question,) = asked(outputs, "output.unlimited", made)
    assert (question.subject, question.vital) == ("driver", True)
    assert "50 mA of 'deck'" in question.what
    for known in ('limit = "1 A"', 'total = "1 A"', 'steady = "10 mA"'):
        assert asked(outputs, "output.unlimited", amps(survey(extra=BOARD.format(known) + CHANNEL), "channel", highest=0.03)) == []  # fmt: skip
    # a circuit straight on its supply has none
    assert asked(outputs, "output.unlimited", amps(survey(supply=adaptor()), highest=0.5)) == []


def test_the_longest_string_is_what_lacks_volts():
    lamps = string(resistor=None) + string(resistor=None, series=3).replace("bow lamp", "long one")
    made = amps(output("20 mA constant, compliance 1.5 V", lamps), nominal=0.01)
    (fact,) = facts(outputs, "output.compliance", made)
    assert fact.parts == {"lamp": Subject("lamp", "long one")}
