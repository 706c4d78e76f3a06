"""Leads that end bare: told where the resistor sits elsewhere and the full supply would do harm, and nowhere else."""

from __future__ import annotations

import re

import pytest

import postcheck
from postcheck.report import Finding
from postcheck.survey import Survey
from tests.survey.bench.boats import ADAPTOR, boat, lamp, run


def told(survey: Survey) -> list[Finding]:
    report = postcheck.check(survey.build).files[0]
    return [finding for finding in report.findings if finding.check == "lead.bare"]


@pytest.mark.parametrize(
    ("resistor", "count"),
    [("1k at base", 1), ("1k at hub", 0), ("1k", 0), (None, 0), ("0 ohm at base", 0)],
)
def test_only_where_the_resistor_sits_elsewhere(resistor: str | None, count: int) -> None:
    assert len(told(boat(lamp(resistor)))) == count


def test_the_words_hold_what_the_hand_needs() -> None:
    survey = boat(lamp("1k at base"))
    (finding,) = told(survey)
    known = survey.bench.figures(survey.bench.leads["lamp", "lamp"])
    assert known is not None
    assert known.setting is not None
    assert known.tester is not None
    # ngspice and SciPy have judged the figures (tests/outside, tests/survey/bench); here: they are told
    assert finding.severity == "caution"
    assert "'hub'" in finding.says
    assert "'base'" in finding.says
    assert "'red' to +" in finding.says
    assert f"{known.contact_test.volts:.3g} V" in finding.says
    assert finding.figures["current"].value == known.contact_test.amps
    assert re.search(rf"test it at {known.setting.volts:g} V with the limit at 2 mA", finding.remedy or "")
    # (12.6 - 1.7) V over 2 mA, and the 5 % of the resistor: 5.7 kohm, and the next of the E12 series is 6.8
    # should the two ends touch: 12.6 V squared over 6.46 kohm are 25 mW, and 1/8 W is the least that is sold
    assert "12 V through 6.8 kohm of 125 mW or more" in (finding.remedy or "")
    assert finding.figures["bench_volts"].value == known.setting.volts


def test_of_several_strings_behind_one_resistor_the_share_of_one_is_told() -> None:
    survey = boat(
        lamp("1k at base", more="parallel = 3\nstrings_share = 'lead'\none_resistor = true\nmatched = true")
    )
    (finding,) = told(survey)
    known = survey.bench.figures(survey.bench.leads["lamp", "lamp"])
    assert known is not None
    assert finding.figures["current"].value == pytest.approx(known.contact_test.amps / 3, rel=1e-6)
    assert "through one string" in finding.says


def test_bare_on_along_its_line() -> None:
    survey = boat(lamp("1k at base"), run("a", "hub", "mast"), run("main-", "hub", "mast"))
    assert "'hub' and 'mast'" in told(survey)[0].says


def test_each_colour_by_itself() -> None:
    text = """
[[lamp]]
name = "arm"
kind = "smd-5050-rgb"
place = "car"
lead = "150 mm to hub"
dice = { red = { circuit = "a", resistor = "470 ohm at base" }, green = { circuit = "b", resistor = "470 ohm" } }
"""
    survey = boat('[circuit.b]\nsupply = "main"\n', text, lines=("a", "b", "main-"))
    assert [finding.subject.name for finding in told(survey)] == ["arm red"]


def test_split_legs_are_named_both() -> None:
    split = '{ length = "90 mm", feed = { to = "hub" }, back = { to = "mast" } }'
    parts = (lamp("1k at base", lead=split), run("main-", "hub", "mast"))
    assert "'hub' and 'mast'" in told(boat(*parts))[0].says
    assert told(boat(lamp("1k at mast", lead=split), run("main-", "hub", "mast"))) == []


def test_a_supply_that_its_lamp_stands_by_itself_is_no_danger() -> None:
    weak = 'kind = "battery"\nvolts = "2.7 V"\ncells = 2\nresistance = "0.5 ohm"'
    assert told(boat(lamp("10 ohm at base", kind="smd-0603-blue"), supply=weak)) == []
    limited = ADAPTOR.replace("10 A", "0.5 A") + '\ncurrent_limit = "15 mA"'
    assert told(boat(lamp("1k at base"), supply=limited)) == []


def test_an_output_of_constant_current_has_no_resistor_elsewhere() -> None:
    assert told(boat(lamp(None), circuit='output = { steady = "10 mA", compliance = "1 V" }')) == []


def test_a_lamp_without_a_lead() -> None:
    bare = '[[lamp]]\nname = "lamp"\ncircuit = "a"\nkind = "smd-0603-red"\nplace = "hub"\nresistor = "1k at base"\n'
    (finding,) = told(boat(bare))
    assert " to +" not in finding.says


@pytest.mark.parametrize(
    "parts",
    [
        (),
        (
            '[[strip]]\ncircuit = "a"\nkind = "strip-12v-warm-white-60"\nplace = "hub"\nsegments = 2\nfar_end = "mast"\n',
        ),
        ('[[load]]\nname = "screw"\nkind = "motor"\ncircuit = "a"\nplace = "hub"\ntypical = "60 mA"\n',),
        (lamp(more="backwards = true"),),
        (lamp("1k at base", more="backwards = true"),),
        (lamp(more="parallel = 500"),),
        (lamp(None, more="parallel = 40"),),
        (lamp(more="series = 60"),),
        (lamp(), run("a"), run("a", "hub", "mast"), run("a", "mast", "base")),
        (lamp(), '[[join]]\nplace = "hub"\nlines = ["a", "main-"]\n'),
        (lamp(), '[[join]]\nplace = "hub"\nlines = ["a", "main+"]\n', run("main+")),
    ],
)
@pytest.mark.parametrize(
    "supply",
    [
        ADAPTOR,
        'kind = "usb"',
        'kind = "adaptor"',
        'kind = "battery"\nchemistry = "alkaline"\nsize = "aa"\ncells = 4',
        'kind = "battery"',
        ADAPTOR + '\ncurrent_limit = "20 mA"',
    ],
)
def test_whatever_hangs_there_every_tap_has_figures_or_none(supply: str, parts: tuple[str, ...]) -> None:
    try:
        survey = boat(*parts, supply=supply)
    except postcheck.BuildError as refused:
        assert refused.problems  # said in plain words, as a short of its own lines or a supply of no volts  # noqa: PT017
        return
    told(survey)
    for test_point in (*survey.bench.leads.values(), *survey.bench.lines.values()):
        known = survey.bench.figures(test_point)
        if known is None:
            assert supply in ('kind = "adaptor"', 'kind = "battery"')
            continue
        assert known.contact_test.amps >= 0.0
        assert known.setting is None or known.setting.limit >= 1e-3


def test_a_converter_and_its_source_share_their_negative() -> None:
    low = '[supply.low]\nkind = "converter"\nplace = "base"\nfrom = "main"\nvolts = "5 V"\nrated = "1 A"\n[circuit.b]\nsupply = "low"\n'
    survey = boat(low, lamp("150 ohm at base", circuit="b"), lines=("b", "main-"))
    (finding,) = told(survey)
    assert finding.figures["volts"].value == pytest.approx(5.25)  # 5 % of a converter whose file says nothing
