"""When the strings of a constant-current output could be one, and what that takes: white 0603 take 3.6 V at most, red 2.6 V, both are for 20 mA."""

from __future__ import annotations

import pytest

from postcheck.checks.strings import in_series, on_one_output
from postcheck.report import Subject
from postcheck.survey import Survey
from tests.survey.small import survey

from .test_lamps import string

STEADY = "20 mA constant, {} compliance"
WHITE = string(resistor=None)
RED = string("smd-0603-red", None).replace("bow lamp", "red lamp")
SECOND = WHITE.replace("bow lamp", "second lamp")


def output(*lamps: str, said: str = STEADY.format("1 V"), extra: str = "") -> Survey:
    return survey(circuit=f'output = "{said}"', lamps="".join(lamps), extra=extra)


def of(made: Survey) -> object:
    return in_series(made, made.electrics.lamps["bow lamp"])


def test_what_single_strings_come_to_as_one():
    # 12 V less 5 %
    others, takes, needs, volts = of(output(WHITE, SECOND, RED))  # type: ignore[misc]
    assert others == (Subject("lamp", "second lamp"), Subject("lamp", "red lamp"))
    assert (takes, needs, volts) == pytest.approx((3.6 + 3.6 + 2.6, 1.0, 11.4))


@pytest.mark.parametrize(("compliance", "fits"), [("4.2 V", True), ("4.21 V", False)])
def test_it_has_the_volts_that_there_are(compliance, fits):
    # 11.4 V less twice 3.6 V
    assert (of(output(WHITE, SECOND, said=STEADY.format(compliance))) is not None) is fits


BESIDE = {
    "two strings": string(resistor=None, parallel=2),
    "a resistor": string(resistor="100 ohm 1/4 W"),
    "backwards": string(resistor=None) + "backwards = true\n",
    "a filament": string("rice-12v", None),
    "a filament of few volts": string("rice-3v", None),
    "a chip inside": string("led-12v-5mm-white", None),
    "a chip for few volts": string("led-5v-5mm-white", None),
}


@pytest.mark.parametrize("beside", BESIDE)
def test_one_of_another_sort_is_enough_to_keep_them_apart(beside):
    other = BESIDE[beside].replace("bow lamp", "second lamp")
    assert of(output(WHITE, other, RED)) is None
    assert of(output(WHITE, other)) is None


@pytest.mark.parametrize(
    "extra",
    [
        '[[load]]\nname = "horn"\nkind = "sound"\ncircuit = "lights"\nplace = "hull"\ntypical = "5 mA"\n',
        '[[strip]]\nname = "mast"\nkind = "strip-12v-white-30"\ncircuit = "lights"\nplace = "hull"\nlength = "100 mm"\n',
    ],
)
def test_what_else_takes_current_stays_beside_them(extra):
    assert of(output(WHITE, SECOND, extra=extra)) is None
    assert of(output(WHITE, SECOND, extra=extra.replace('"lights"', '"deck"') + '[circuit.deck]\nsupply = "main"\n')) is not None  # fmt: skip


def test_strings_on_one_output_are_those_that_it_lights():
    deck = SECOND.replace('"lights"', '"deck"')
    turned = SECOND + "backwards = true\n"
    for lamps, more, several in ((WHITE, "", False), (WHITE + SECOND, "", True), (WHITE + turned, "", False), (WHITE + deck, '[circuit.deck]\nsupply = "main"\n', False), (string(resistor=None, parallel=2), "", True)):  # fmt: skip
        made = output(lamps, extra=more)
        assert on_one_output(made, made.electrics.lamps["bow lamp"]) is several
    made = output(WHITE, SECOND, said="100 mA, 0.2 V drop")
    assert not on_one_output(made, made.electrics.lamps["bow lamp"])


def test_the_current_of_each_is_that_of_the_output():
    assert of(output(WHITE, SECOND, said="20.1 mA constant, 1 V compliance")) is None
    assert of(output(WHITE, SECOND, said="100 mA, 0.2 V drop")) is None
