"""Factors are checked against SciPy's constants (CODATA and NIST SP 811) where SciPy knows the unit."""

import math
import time
import unicodedata
from fractions import Fraction
from typing import Annotated

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import BaseModel, ConfigDict, ValidationError
from scipy import constants

from postcheck.description import fields
from postcheck.description.printing import format_apart, format_quantity
from postcheck.description.problems import FILE_CHECKS, QuantityError
from postcheck.description.quantities import (
    parse,
    parse_any,
    parse_cycles,
    parse_range,
    parse_resistor,
    parse_spread,
    read,
    with_unit,
)
from postcheck.description.units import MEASURES, SHOWN, Dimension

D = Dimension


@pytest.mark.parametrize(
    ("text", "dimension", "expected"),
    [
        ("260 mm", D.LENGTH, 260 * constants.milli),
        ("1/4 in", D.LENGTH, constants.inch / 4),
        ("1 1/2 in", D.LENGTH, 1.5 * constants.inch),
        ('3/8"', D.LENGTH, 3 / 8 * constants.inch),
        ("2 ft", D.LENGTH, 2 * constants.foot),
        ("50 µm", D.LENGTH, 50 * constants.micro),
        ("50 \u03bcm", D.LENGTH, 50 * constants.micro),
        ("50um", D.LENGTH, 50 * constants.micro),
        ("2.6e2\u00a0mm", D.LENGTH, 0.26),
        (".5 m", D.LENGTH, 0.5),
        ("12 V", D.VOLTAGE, 12.0),
        ("200 mV", D.VOLTAGE, 0.2),
        ("20 mA", D.CURRENT, 0.02),
        ("1/4 W", D.POWER, 0.25),
        ("0.25 W", D.POWER, 0.25),
        ("90 deg", D.ANGLE, 90 * constants.degree),
        ("90°", D.ANGLE, math.pi / 2),
        ("1/2 turn", D.ANGLE, math.pi),
        ("45 /min", D.RATE, 45 / constants.minute),
        ("45 per minute", D.RATE, 0.75),
        ("1.2 kHz", D.RATE, 1200.0),
        ("10 / day", D.RATE, 10 / constants.day),
        ("12 %", D.SHARE, 0.12),
        ("10 years", D.TIME, 10 * constants.Julian_year),
        ("8 h", D.TIME, 8 * constants.hour),
        ("2000 mAh", D.CHARGE, 2 * constants.hour),
        ("10 Wh", D.ENERGY, 10 * constants.hour),
        ("38 cm2", D.AREA, 38 * constants.centi**2),
        ("38 cm²", D.AREA, 0.0038),
        ("1 in2", D.AREA, constants.inch**2),
        ("77 degF", D.TEMPERATURE, constants.convert_temperature(77, "F", "C")),
        ("-5 °C", D.TEMPERATURE, -5.0),
        ("0.2 ohm/m", D.RESISTANCE_PER_LENGTH, 0.2),
    ],
)
def test_a_quantity_is_read_in_si(text: str, dimension: Dimension, expected: float) -> None:
    assert parse(text, dimension) == pytest.approx(expected, rel=1e-12)


# What a rate, a time, a charge and the like are in SI, by SciPy's constants: every unit there is, so that a wrong one shows.
IN_SI = {
    D.LENGTH: {"mm": constants.milli, "cm": constants.centi, "um": constants.micro, "inch": constants.inch, "feet": constants.foot,
               "millimetres": constants.milli, "centimetres": constants.centi, "metres": 1.0, "in": constants.inch, "ft": constants.foot},
    D.VOLTAGE: {"mV": constants.milli, "uV": constants.micro, "kV": constants.kilo, "volts": 1.0, "V DC": 1.0},
    D.CURRENT: {"mA": constants.milli, "uA": constants.micro, "nA": constants.nano, "amps": 1.0, "milliamps": constants.milli},
    D.RESISTANCE: {"ohm": 1.0, "mohm": constants.milli, "kohm": constants.kilo, "Mohm": constants.mega, "k": constants.kilo,
                   "M": constants.mega, "Gohm": constants.giga, "R": 1.0},
    D.POWER: {"mW": constants.milli, "uW": constants.micro, "watts": 1.0},
    D.RATE: {"Hz": 1.0, "kHz": constants.kilo, "MHz": constants.mega, "/s": 1.0, "/second": 1.0, "/min": 1 / constants.minute,
             "/minute": 1 / constants.minute, "/h": 1 / constants.hour, "/hour": 1 / constants.hour, "/day": 1 / constants.day,
             "/year": 1 / constants.Julian_year},
    D.TIME: {"us": constants.micro, "ms": constants.milli, "s": 1.0, "min": constants.minute, "h": constants.hour,
             "minutes": constants.minute, "hours": constants.hour, "days": constants.day, "weeks": constants.week,
             "years": constants.Julian_year},
    D.CHARGE: {"mAh": constants.milli * constants.hour, "Ah": constants.hour},
    D.ENERGY: {"mWh": constants.milli * constants.hour, "Wh": constants.hour, "kWh": constants.kilo * constants.hour,
               "J": 1.0, "mJ": constants.milli},
    D.FORCE: {"N": 1.0, "mN": constants.milli, "gf": constants.g / 1000, "kgf": constants.g},
    D.RESISTANCE_PER_LENGTH: {"mohm/m": 1e-3, "kohm/m": 1e3, "ohm/km": 1e-3, "ohm/cm": 100.0, "ohm/ft": 1 / constants.foot},
    D.VOLTAGE_PER_KELVIN: {"mV/K": constants.milli, "V/K": 1.0, "mV/degC": constants.milli},
}  # fmt: skip


# The rest: other spellings, whole units, and angles and areas by definition.
SPELT = {
    D.LENGTH: {1.0: "m|metre|meter|meters", constants.milli: "millimetre|millimeter|millimeters", constants.inch: '"|inches|inchs',
               constants.centi: "centimetre|centimeter|centimeters", constants.foot: "foot"},
    D.AREA: {constants.milli**2: "mm2|sq mm", constants.centi**2: "cm2|sq cm", 1.0: "m2", constants.inch**2: "in2|sq in"},
    D.VOLTAGE: {1.0: "V|v|volt|Volt|Volts|VDC|Vdc|V dc"},
    D.CURRENT: {1.0: "A|amp|ampere|amperes", constants.milli: "milliamp"},
    D.RESISTANCE: {1.0: "ohms", constants.kilo: "K|kohms", constants.mega: "Mohms"},
    D.POWER: {1.0: "W|w|watt|Watt|Watts", constants.kilo: "kW"},
    D.ANGLE: {constants.degree: "deg|degree|degrees", 1.0: "rad", 2 * constants.pi: "turn|turns"},
    D.SHARE: {0.01: "%|percent"},
    D.TIME: {1.0: "sec|second|seconds", constants.minute: "minute", constants.hour: "hour", constants.day: "day", constants.week: "week",
             constants.Julian_year: "year"},
    D.TEMPERATURE: {1.0: "degC", 5 / 9: "degF"},
    D.WARMING: {1.0: "K|kelvin"},
    D.RESISTANCE_PER_LENGTH: {1.0: "ohm/m"},
    D.THERMAL_RESISTANCE: {1.0: "K/W|degC/W"},
}  # fmt: skip


@pytest.mark.parametrize("dimension", MEASURES, ids=lambda dimension: dimension.value)
def test_every_spelling_of_a_unit_is_that_unit(dimension: Dimension) -> None:
    spelt = {unit: size for size, units in SPELT.get(dimension, {}).items() for unit in units.split("|")}
    assert MEASURES[dimension].units == pytest.approx(spelt | IN_SI.get(dimension, {}), rel=1e-12)
    for unit, size in spelt.items():
        if (
            dimension is not Dimension.TEMPERATURE
            and MEASURES[dimension].least <= size <= MEASURES[dimension].most
        ):
            assert parse(f"1 {unit}", dimension) == pytest.approx(size, rel=1e-12)


@pytest.mark.parametrize(("dimension", "unit"), [(d, unit) for d, units in IN_SI.items() for unit in units])
def test_every_unit_is_what_it_is_in_si(dimension: Dimension, unit: str) -> None:
    for number in (2.0, 0.5):
        whole = MEASURES[dimension]
        if whole.least <= number * IN_SI[dimension][unit] <= whole.most:
            assert parse(f"{number} {unit}", dimension) == pytest.approx(
                number * IN_SI[dimension][unit], rel=1e-12
            )
    assert MEASURES[dimension].units[unit] == pytest.approx(IN_SI[dimension][unit], rel=1e-12)


# IEC 60062:2016, letter code for resistance values, examples of its table, and tolerance letters (from memory).
@pytest.mark.parametrize(
    ("text", "ohms"),
    [
        ("R10", 0.1),
        ("R332", 0.332),
        ("1R0", 1.0),
        ("3R32", 3.32),
        ("10R", 10.0),
        ("59R04", 59.04),
        ("100R", 100.0),
        ("1K0", 1e3),
        ("4k7", 4700.0),
        ("4r7", 4.7),
        ("K47", 470.0),
        ("3M3", 3.3e6),
        ("5K904", 5904.0),
        ("1M0", 1e6),
        ("470 ohm", 470.0),
        ("470Ω", 470.0),
        ("470\u2126", 470.0),
        ("4.7 kohm", 4700.0),
        ("4.7k", 4700.0),
        ("10 k", 1e4),
        ("20 mohm", 0.02),
    ],
)
def test_resistances(text: str, ohms: float) -> None:
    assert parse(text, D.RESISTANCE) == pytest.approx(ohms, rel=1e-12)


@pytest.mark.parametrize("sign", "\u00bd\u00bc\u00be\u215b\u215c\u215d\u215e")
def test_a_fraction_in_one_character_is_shown_in_digits(sign: str) -> None:
    with pytest.raises(QuantityError) as caught:
        parse(f"{sign} in", D.LENGTH)
    shown = (caught.value.hint or "").removeprefix('write "').removesuffix(' in"')
    assert Fraction(shown) == Fraction(unicodedata.numeric(sign))
    assert parse(f"{shown} in", D.LENGTH) == pytest.approx(unicodedata.numeric(sign) * constants.inch)


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("5 \u00b5m", D.LENGTH, 5e-6), ("5 \u03bcm", D.LENGTH, 5e-6), ("47 \u2126", D.RESISTANCE, 47.0), ("47 k\u03a9", D.RESISTANCE, 47e3),
        ("\u22125 degC", D.TEMPERATURE, -5.0), ("2\u2033", D.LENGTH, 2 * constants.inch), ("2\u201d", D.LENGTH, 2 * constants.inch),
        ("38 cm\u00b2", D.AREA, 38e-4), ("38 cm^2", D.AREA, 38e-4), ("5\u00a0mm", D.LENGTH, 5e-3), ("5\u2009mm", D.LENGTH, 5e-3),
        ("5\u202fmm", D.LENGTH, 5e-3), ("5\u2007mm", D.LENGTH, 5e-3), ("25 \u00b0C", D.TEMPERATURE, 25.0), ("77 \u00baF", D.TEMPERATURE, 25.0),
        ("25 deg C", D.TEMPERATURE, 25.0), ("90\u00b0", D.ANGLE, constants.pi / 2), ("10 per day", D.RATE, 10 / constants.day),
        ("10 / day", D.RATE, 10 / constants.day), ("4.7 KOhm", D.RESISTANCE, 4700.0), ("4.7 kOHM", D.RESISTANCE, 4700.0), ("47 Ohm", D.RESISTANCE, 47.0),
        ("47Ohm", D.RESISTANCE, 47.0), ("4.7 M Ohm", D.RESISTANCE, 4.7e6),
    ],
)  # fmt: skip
def test_what_looks_like_it_is_read_as_it(text: str, dimension: Dimension, value: float) -> None:
    assert parse(text, dimension) == pytest.approx(value, rel=1e-12)


# IEC 60062:2016, letters for symmetrical tolerances, in per cent (from memory)
@pytest.mark.parametrize(
    ("letter", "percent"),
    [("B", 0.1), ("C", 0.25), ("D", 0.5), ("F", 1.0), ("G", 2.0), ("J", 5.0), ("K", 10.0), ("M", 20.0)],
)
def test_every_tolerance_letter(letter: str, percent: float) -> None:
    assert parse_resistor(f"4K7{letter}") == (4700.0, pytest.approx(percent / 100.0))


def test_the_tolerance_letter_is_read_apart() -> None:
    assert parse_resistor("4K7J") == (4700.0, 0.05)
    assert parse_resistor("10RF") == (10.0, 0.01)
    assert parse_resistor("100RK") == (100.0, 0.1)
    assert parse_resistor("4K") == (4000.0, None)
    with pytest.raises(QuantityError) as caught:
        parse_resistor("4K7Z")
    assert "tolerance" in caught.value.says


@pytest.mark.parametrize(
    ("text", "dimension", "check", "words"),
    [
        (
            "12 V",
            D.LENGTH,
            "file.wrong-dimension",
            "'12 V' is a voltage; a length is needed, such as \"260 mm\"",
        ),
        ("4k7", D.LENGTH, "file.wrong-dimension", "a resistance"),
        ("90 deg", D.VOLTAGE, "file.wrong-dimension", "an angle"),
        ("470", D.RESISTANCE, "file.no-unit", "470 ohm"),
        ("0.12", D.SHARE, "file.no-unit", "12 %"),
        ("1,5 mm", D.LENGTH, "file.decimal-comma", 'write "1.5 mm"'),
        ("1,500 mm", D.LENGTH, "file.decimal-comma", '"1500 mm"'),
        ("1,234,567 mm", D.LENGTH, "file.decimal-comma", 'write "1234567 mm"'),
        ("1,234.5 mm", D.LENGTH, "file.decimal-comma", 'write "1234.5 mm"'),
        ("1.234,5 mm", D.LENGTH, "file.decimal-comma", 'write "1234.5 mm"'),
        ("1,234,5 mm", D.LENGTH, "file.decimal-comma", 'write "1234.5 mm"'),
        ("1.234,567,8 mm", D.LENGTH, "file.decimal-comma", 'write "1234567.8 mm"'),
        ("12 mv", D.VOLTAGE, "file.unknown-unit", 'write "12 mV"'),
        ("5 milimetre", D.LENGTH, "file.unknown-unit", 'write "5 millimetre"'),
        ("35 C", D.TEMPERATURE, "file.unknown-unit", 'write "35 degC"'),
        ("nan mm", D.LENGTH, "file.not-finite", "length"),
        ("-inf V", D.VOLTAGE, "file.not-finite", "voltage"),
        ("1e400 mm", D.LENGTH, "file.not-finite", "length"),
        ("-3 mm", D.LENGTH, "file.negative", "below zero"),
        ("200 m", D.LENGTH, "file.absurd", "100 m"),
        ("0.1 um", D.LENGTH, "file.absurd", "1 um"),
        ("2 kV", D.VOLTAGE, "file.absurd", "1000 V"),
        ("120 %", D.SHARE, "file.absurd", "100 %"),
        ("3000 degC", D.TEMPERATURE, "file.absurd", "1000"),
        ("1/0 in", D.LENGTH, "file.not-a-quantity", "1/0"),
        ("2.9..3.6 V", D.VOLTAGE, "file.not-a-quantity", "range"),
        ("2.9/3.2 V", D.VOLTAGE, "file.not-a-quantity", "2.9/3.2"),
        ("", D.LENGTH, "file.not-a-quantity", "260 mm"),
        ("mm", D.LENGTH, "file.not-a-quantity", "260 mm"),
        ("M", D.RESISTANCE, "file.not-a-quantity", "470 ohm"),
        ("٣ mm", D.LENGTH, "file.not-a-quantity", "number"),
    ],
)
def test_a_slip_is_named_with_the_way_out(text: str, dimension: Dimension, check: str, words: str) -> None:
    with pytest.raises(QuantityError) as caught:
        parse(text, dimension)

    assert caught.value.check == check
    assert words in str(caught.value)
    assert check in FILE_CHECKS


@pytest.mark.parametrize(
    ("text", "dimension", "right"),
    [("5 am", D.LENGTH, None), ("5 rh", D.TIME, None), ("5 mmx", D.LENGTH, "5 mm"), ("5 hor", D.TIME, "5 h")],
)
def test_a_unit_is_guessed_from_three_letters_up(text: str, dimension: Dimension, right: str | None) -> None:
    with pytest.raises(QuantityError) as caught:
        parse(text, dimension)
    assert caught.value.check == "file.unknown-unit"
    assert ("write" in (caught.value.hint or "")) == (right is not None)
    assert (right or "") in (caught.value.hint or "")


@pytest.mark.parametrize(
    ("value", "check"),
    [
        pytest.param(10**5000, "file.no-unit", id="huge"),
        (float("nan"), "file.not-finite"),
        (float("inf"), "file.not-finite"),
        (True, "file.wrong-type"),
        (["260 mm"], "file.wrong-type"),
        ({}, "file.wrong-type"),
    ],
)
def test_what_is_no_text_is_refused(value: object, check: str) -> None:
    with pytest.raises(QuantityError) as caught:
        read(value, D.LENGTH)

    assert caught.value.check == check
    assert "260 mm" in str(caught.value)
    assert len(str(caught.value)) < 200


@pytest.mark.parametrize(
    ("number", "example", "right"),
    [
        ("230", "260 mm", "230 mm"), ("4", "4 mm", "4 mm"), ("50", "45 /min", "50 /min"), ("5", "12 V", "5 V"),
        ("250", "500 mA slow", "250 mA"), ("2", "500 mA slow", "2 A"), ("2", "20 mA", "2 mA"), ("350", "0.2 V", "350 mV"),
        ("0.25", "1/4 W", "0.25 W"), ("250", "1/4 W", "250 mW"), ("1/8", "1/4 W", "1/8 W"), ("2.2", "470 ohm", "2.2 ohm"),
        ("2", "2000 mAh", "2 Ah"), ("800", "2 kHz", "800 Hz"), ("5..30", "5..35 degC", "5..30 degC"), ("4", "3.5..14 V", "4 V"),
        ("2.8/3.0/3.4", "2.9/3.2/3.6 V", "2.8/3.0/3.4 V"), ("5000", "5000 cycles", "5000 cycles"), ("0", "20 mA", "0 mA"),
        ("-5", "25 degC", "-5 degC"), ("-2", "-2 mV/K", "-2 mV/K"), ("-12", "12 V", "-12 V"), ("-20", "20 mA", "-20 mA"),
        ("of more than 15 digits", "260 mm", None), ("230000000", "260 mm", None), ("3", "1N4001", None),
    ],
)  # fmt: skip
def test_a_number_alone_is_shown_with_its_usual_unit(number: str, example: str, right: str | None) -> None:
    assert with_unit(number, example) == right


@pytest.mark.parametrize("dimension", D)
def test_every_example_gives_its_unit_to_its_own_number(dimension: D) -> None:
    example = MEASURES[dimension].example
    assert with_unit(example.split(" ")[0].lstrip("-"), example) == example.lstrip("-")


@pytest.mark.parametrize("number", [260, 0.26])
def test_a_number_without_a_unit_is_shown_as_it_is_typed(number: float) -> None:
    with pytest.raises(QuantityError) as caught:
        read(number, D.LENGTH)
    assert caught.value.check == "file.no-unit"
    assert caught.value.hint == f'write "{number} mm", in the unit that you measured it in'
    assert read(f"{number} mm", D.LENGTH) == pytest.approx(number / 1000.0)


def test_what_is_read_is_above_zero_where_nobody_says_otherwise() -> None:
    with pytest.raises(QuantityError, match="cannot be below zero"):
        read("-5 mm", D.LENGTH)
    assert read("-5 mm", D.LENGTH, signed=True) == pytest.approx(-0.005)


@pytest.mark.parametrize(
    ("number", "shown"),
    [(10**15, "of more than 15 digits"), (-(10**15), "of more than 15 digits"), (10**15 - 1, "999999999999999"), (1e15, "1e+15")],
)  # fmt: skip
def test_a_number_of_more_than_15_digits_is_not_shown(number: float, shown: str) -> None:
    with pytest.raises(QuantityError) as caught:
        read(number, D.LENGTH)
    assert caught.value.says == f"the number {shown} has no unit"


def test_hostile_texts_give_a_short_harmless_message_at_once() -> None:
    began = time.perf_counter()
    for text in (
        "9" * 100_000 + " mm",
        "\x1b[2J" * 30_000,
        "1 " * 50_000,
        "1/" * 50_000,
        "a" * 100_000,
        "\x1b[31m5 V\u202e",
    ):
        for reader in (
            lambda t: parse(t, D.LENGTH),
            parse_cycles,
            parse_any,
            lambda t: parse_spread(t, D.VOLTAGE),
        ):
            with pytest.raises(QuantityError) as caught:
                reader(text)
            assert len(str(caught.value)) < 300
            assert "\x1b" not in str(caught.value)
            assert "\u202e" not in str(caught.value)
    assert time.perf_counter() - began < 1


@given(st.text(max_size=40), st.sampled_from(Dimension))
def test_any_text_is_read_or_refused_in_words(text: str, dimension: Dimension) -> None:
    for reader in (parse, parse_range, parse_spread):
        refusal: QuantityError | None = None
        try:
            values = reader(text, dimension)
        except QuantityError as error:
            refusal = error
        if refusal is None:
            assert all(map(math.isfinite, values if isinstance(values, tuple) else [values]))
        else:
            assert refusal.check in FILE_CHECKS
            assert refusal.hint


@given(st.sampled_from(Dimension), st.data())
def test_what_is_shown_can_be_read_again(dimension: Dimension, data: st.DataObject) -> None:
    measure = MEASURES[dimension]
    low = 0.001 if dimension in {D.TEMPERATURE, D.WARMING} else measure.least
    value = data.draw(st.floats(low, measure.most))

    shown = format_quantity(value, dimension)

    assert parse(shown, dimension) == pytest.approx(value, rel=0.005001)
    assert parse(format_quantity(0.0, dimension), dimension) == 0.0


@pytest.mark.parametrize(
    ("value", "dimension", "shown"),
    [
        (0.26, D.LENGTH, "260 mm"),
        (0.00635, D.LENGTH, "6.35 mm"),
        (1.234, D.LENGTH, "1234 mm"),
        (12.0, D.VOLTAGE, "12 V"),
        (0.9996, D.CURRENT, "1 A"),
        (0.01234, D.CURRENT, "12.3 mA"),
        (4700.0, D.RESISTANCE, "4.7 kohm"),
        (0.12, D.SHARE, "12 %"),
        (0.75, D.RATE, "45 /min"),
        (math.pi / 2, D.ANGLE, "90 deg"),
        (7200.0, D.CHARGE, "2 Ah"),
        (86400.0 * 365.25, D.TIME, "1 year"),
        (-0.0021, D.VOLTAGE_PER_KELVIN, "-2.1 mV/K"),
        (0.0, D.VOLTAGE, "0 V"),
    ],
)
def test_how_values_are_shown(value: float, dimension: Dimension, shown: str) -> None:
    assert format_quantity(value, dimension) == shown


@pytest.mark.parametrize(
    ("values", "shown"),
    [
        # of the largest a billionth is nothing, of the others it is
        ((1.0, 1.0 + 5e-10, 0.123456), ("1000 mm", "1000 mm", "123 mm")),
        ((0.002, 0.001998), ("2 mm", "1.998 mm")),
        ((0.005, (25.04**0.5) / 1e3), ("5 mm", "5.004 mm")),
        ((0.16, 0.1596, 0.1), ("160 mm", "159.6 mm", "100 mm")),
        ((0.1 + 0.2, 0.3), ("300 mm", "300 mm")),
        ((0.002, 0.00123456), ("2 mm", "1.23 mm")),
        ((0.0, 0.0), ("0 mm", "0 mm")),
    ],
)
def test_what_differs_does_not_look_alike(values: tuple[float, ...], shown: tuple[str, ...]) -> None:
    assert format_apart(D.LENGTH, *values) == shown


@given(st.floats(1e-6, 10.0), st.floats(1e-8, 0.1))
def test_what_differs_by_little_keeps_its_order(length: float, share: float) -> None:
    less, more = (parse(text, D.LENGTH) for text in format_apart(D.LENGTH, length, length * (1.0 + share)))
    assert less < more


def test_what_is_not_finite_cannot_be_shown() -> None:
    with pytest.raises(ValueError, match="nan"):
        format_quantity(math.nan, D.LENGTH)


def test_every_dimension_has_a_sound_example_and_known_shown_units() -> None:
    for dimension, measure in MEASURES.items():
        parse(measure.example, dimension, signed=True)
        assert set(SHOWN[dimension]) <= set(measure.units)


def test_no_unit_means_two_things() -> None:
    spelled = [unit for measure in MEASURES.values() for unit in measure.units]
    shared = {unit for unit in spelled if spelled.count(unit) > 1}
    assert shared == {
        "K"
    }  # kelvin, and kilo-ohm as the trade writes it: the place in the file tells them apart


def test_ranges_spreads_and_cycles() -> None:
    assert parse_range("5..35 degC", D.TEMPERATURE) == (5.0, 35.0)
    assert parse_range("-5 .. 35 °C", D.TEMPERATURE) == (-5.0, 35.0)
    assert parse_range("20 degC", D.TEMPERATURE) == (20.0, 20.0)
    assert parse_range("500 mV..3.6 V", D.VOLTAGE) == (0.5, 3.6)
    assert parse_spread("2.9/3.2/3.6 V", D.VOLTAGE) == (2.9, 3.2, 3.6)
    assert parse_spread("2.9 / 3.2 / 3.6 V", D.VOLTAGE).typical == 3.2
    assert parse_spread("2.9..3.6 V", D.VOLTAGE) == pytest.approx((2.9, 3.25, 3.6))
    assert parse_spread("3.2 V", D.VOLTAGE) == (3.2, 3.2, 3.2)
    assert parse_cycles("10 /day for 10 years") == pytest.approx(36525)
    assert parse_cycles("10 per day for 10 years") == pytest.approx(36525)
    assert parse_cycles("5000 cycles") == 5000
    assert parse_cycles("5000 turns") == 5000
    assert parse_any("4k7") == (4700.0, D.RESISTANCE)
    assert parse_any("3.2 V") == (3.2, D.VOLTAGE)


@pytest.mark.parametrize(
    ("text", "check"),
    [
        ("35..5 degC", "file.wrong-order"),
        ("5-35 degC", "file.not-a-quantity"),
        ("1..2..3 degC", "file.not-a-quantity"),
    ],
)
def test_bad_ranges(text: str, check: str) -> None:
    with pytest.raises(QuantityError) as caught:
        parse_range(text, D.TEMPERATURE)

    assert caught.value.check == check


@pytest.mark.parametrize("text", ["3.6/3.2/2.9 V", "2.9/3.6 V", "2.9-3.6 V", "1/2/3/4 V"])
def test_bad_spreads(text: str) -> None:
    with pytest.raises(QuantityError):
        parse_spread(text, D.VOLTAGE)


class Sample(BaseModel):
    model_config = ConfigDict(strict=True, frozen=True, extra="forbid", allow_inf_nan=False)

    length: fields.Length = 0.1
    forward: fields.Spread | None = None
    air: fields.CelsiusRange = (5.0, 35.0)
    cycles: fields.Cycles | None = None
    bit: Annotated[dict[str, str] | None, fields.one_line(lambda text: {"said": text})] = None


def test_fields_read_text_and_nothing_else() -> None:
    sample = Sample.model_validate(
        {"length": "260 mm", "forward": "2.9..3.6 V", "air": "20 degC", "cycles": "5 cycles", "bit": "x"}
    )
    assert (sample.length, sample.air, sample.cycles, sample.bit) == (0.26, (20.0, 20.0), 5.0, {"said": "x"})
    assert sample.forward is not None
    assert sample.forward.most == 3.6

    with pytest.raises(ValidationError) as caught:
        Sample.model_validate({"length": 0.26, "forward": [1, 2, 3], "air": 20, "cycles": 5, "bit": 3})
    assert [error["ctx"]["check"] for error in caught.value.errors()] == [
        "file.no-unit",
        "file.wrong-type",
        "file.no-unit",
        "file.no-unit",
        "file.wrong-type",
    ]


def test_the_editor_schema_asks_for_text() -> None:
    schema = Sample.model_json_schema()["properties"]

    assert schema["length"]["type"] == "string"
    assert schema["length"]["examples"] == ["260 mm"]
    assert "string" in [branch.get("type") for branch in schema["bit"]["anyOf"]]


# What the refusals say, typed: the most, and the least where they name one; and the least that is no slip of the hand otherwise.
ENDS = [
    (D.LENGTH, "0.001 mm", "100 m"), (D.AREA, "1e-6 mm2", "10 m2"), (D.VOLTAGE, "1e-3 uV", "1000 V"), (D.CURRENT, "1e-3 nA", "100 A"),
    (D.RESISTANCE, "0.001 mohm", "1000 Gohm"), (D.POWER, "1e-6 uW", "10 kW"), (D.ANGLE, "1e-9 rad", "1000 turns"), (D.RATE, "1e-10 Hz", "100 MHz"),
    (D.SHARE, "1e-7 %", "100 %"), (D.TIME, "1e-3 us", "200 years"), (D.CHARGE, "1e-6 mAh", "1000 Ah"), (D.ENERGY, "1e-9 J", "100 kWh"),
    (D.WARMING, None, "1000 K"), (D.TEMPERATURE, None, "1000 degC"), (D.FORCE, "0.001 mN", "10000 N"), (D.RESISTANCE_PER_LENGTH, "0.001 mohm/m", "1000 kohm/m"),
    (D.VOLTAGE_PER_KELVIN, "1e-6 mV/K", "1 V/K"), (D.THERMAL_RESISTANCE, "1e-6 K/W", "100000 K/W"),
]  # fmt: skip


@pytest.mark.parametrize(("dimension", "least", "most"), ENDS)
def test_no_more_and_no_less_is_taken_than_the_refusal_says(
    dimension: Dimension, least: str | None, most: str
) -> None:
    assert {row[0] for row in ENDS} == set(MEASURES)

    def scaled(text: str, by: float) -> str:
        number, unit = text.split(" ")
        return f"{float(number) * by:.9g} {unit}"

    assert parse(scaled(most, 0.9999), dimension) == pytest.approx(0.9999 * parse(most, dimension))
    with pytest.raises(QuantityError, match="implausible"):
        parse(scaled(most, 1.0001), dimension)
    if least is not None:
        assert parse(scaled(least, 1.0001), dimension) > 0.0
        with pytest.raises(QuantityError, match="implausible"):
            parse(scaled(least, 0.9999), dimension)


@pytest.mark.parametrize(("zeros", "fits"), [(116, True), (117, False)])
def test_a_quantity_has_120_characters_at_most(zeros: int, fits: bool) -> None:
    text = "0" * zeros + "5 mm"
    if fits:
        assert parse(text, D.LENGTH) == pytest.approx(0.005)
    else:
        with pytest.raises(QuantityError, match="is 121 characters long"):
            parse(text, D.LENGTH)
