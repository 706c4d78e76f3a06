"""What is exactly at a limit is within it, whatever the last digit of a float says."""

from __future__ import annotations

import pytest

from postcheck.checks import outputs, scope, supplies, switches
from postcheck.checks.fact import Within
from postcheck.limits import above, below
from postcheck.report import Limited, Subject
from postcheck.survey.network.supplies import source_of
from tests.survey.small import adaptor, survey

from .facts import facts

# 12 V and 5 % more; three cells of 3.7 V; 12 V and 5 % less; 48 V and a quarter more
HIGH, CELLS, LOW, SCOPE = 12.0 * 1.05, 3 * 3.7, 12.0 * 0.95, 48.0 * 1.25
LITHIUM = (
    'kind = "battery"\nplace = "base"\nchemistry = "li-ion"\nsize = "18650"\ncells = 3\nprotected = true'
)
BOARD = '[board.driver]\nplace = "base"\nsupply = "main"\nmost_volts = "{}"\n[circuit.channel]\nboard = "driver"\n[[run]]\nline = "channel"\nends = ["base", "hull"]\nlength = "300 mm"\n'
CONVERTER = '[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\nleast_input = "{}"\n[circuit.five]\nsupply = "five"\n[[lamp]]\nname = "keel lamp"\ncircuit = "five"\nplace = "base"\nkind = "smd-0402-red"\nresistor = "330 ohm"\n'


def test_floats_miss_what_is_meant_by_their_last_digit() -> None:
    assert (HIGH, CELLS, LOW) == (12.600000000000001, 11.100000000000001, 11.399999999999999)
    assert not above(HIGH, 12.6)
    assert not below(LOW, 11.4)
    assert above(12.6001, 12.6)
    assert below(11.3999, 11.4)
    subject = Subject("supply", "main")
    assert Within(subject, HIGH, Limited(12.6, "V", "")).kept
    assert Within(subject, LOW, Limited(11.4, "V", ""), least=True).kept


@pytest.mark.parametrize(("most", "found"), [("12.6 V", []), ("12.59 V", ["stop"])])
def test_a_switch_rated_for_the_highest_volts_of_its_supply(most, found):
    made = survey(circuit=f'on_off = "1 A {most}"')
    assert made.electrics.supplies["main"].highest_volts == HIGH
    assert [fact.severity for fact in facts(switches, "switch.volts", made)] == found


@pytest.mark.parametrize(("most", "found"), [("11.1 V", ["caution"]), ("11.09 V", ["stop"]), ("12.6 V", [])])
def test_a_board_rated_for_the_usual_volts_of_its_cells(most, found):
    made = survey(supply=LITHIUM, extra=BOARD.format(most))
    supply = made.build.supply["main"]
    assert (source_of(supply, 0)[0], source_of(supply, 1)[0]) == (CELLS, HIGH)
    assert [fact.severity for fact in facts(outputs, "board.wrong-volts", made)] == found


@pytest.mark.parametrize(("least", "found"), [("11.4 V", []), ("11.41 V", ["stop"])])
def test_a_converter_that_works_from_the_lowest_volts_of_its_source(least, found):
    made = survey(supply=adaptor(), extra=CONVERTER.format(least))
    assert source_of(made.build.supply["main"], -1)[0] == LOW
    assert [fact.severity for fact in facts(supplies, "converter.no-start", made)] == found


@pytest.mark.parametrize(("tolerance", "found"), [("25 %", []), ("26 %", ["stop"])])
def test_a_supply_that_comes_up_to_what_is_judged(tolerance, found):
    made = survey(
        supply=f'kind = "adaptor"\nplace = "base"\nvolts = "48 V"\ntolerance = "{tolerance}"\nrated = "1 A"'
    )
    assert [fact.severity for fact in facts(scope, "scope.volts", made)][:1] == found


@pytest.mark.parametrize(
    ("value", "limit", "least", "used"),
    [
        (3.0, 4.0, False, 0.75), (6.0, 4.0, False, 1.5), (0.2, 0.5, False, 0.4), (-1.0, 4.0, False, 0.0), (0.0, 4.0, False, 0.0), (5.0, 0.0, False, 0.0), (5.0, -2.0, False, 0.0),
        (4.0, 3.0, True, 0.75), (2.0, 3.0, True, 1.5), (0.5, 0.2, True, 0.4), (0.0, 3.0, True, 0.0), (-1.0, 3.0, True, 0.0), (4.0, -3.0, True, 0.0),
    ],
)  # fmt: skip
def test_how_much_of_a_limit_is_used_up(value, limit, least, used):
    within = Within(Subject("lamp", "bow lamp"), value, Limited(limit, "A", "a test"), least)
    assert within.used == pytest.approx(used)
