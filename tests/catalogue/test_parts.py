"""Lamps, strips, resistors, fuses, materials and cells, each against what was published."""

from __future__ import annotations

from itertools import pairwise
from math import isfinite, log

import pytest
from scipy.optimize import brentq

from postcheck import catalogue
from postcheck.limits import Limits
from postcheck.survey.network.resistor_choice import body_for, sold

THERMAL_VOLTS = 0.02569  # kT/q at 25 degC
LEDS = [lamp for lamp in catalogue.rows("lamp") if isinstance(lamp, catalogue.LedLamp)]
FILAMENTS = [lamp for lamp in catalogue.rows("lamp") if isinstance(lamp, catalogue.FilamentLamp)]
STRIPS = catalogue.rows("strip")
strip_row = catalogue.strip
DICE = [pytest.param(die, id=f"{lamp.name}/{die.colour}") for lamp in LEDS for die in lamp.dice] + [
    pytest.param(chain.die, id=f"{strip.name}/{chain.die.colour}")
    for strip in STRIPS
    for chain in strip.chains
]


@pytest.mark.parametrize("kind", catalogue.KINDS)
def test_every_row_has_a_source(kind):
    for row in catalogue.rows(kind):
        assert len(row.source.strip()) > 5, row.name


# -- light-emitting dice


def series_ohms(die):
    """R_s of V = n V_T ln(I/I_s) + I R_s through both points, n = 2."""
    volts = die.forward_typical - die.low_forward
    return (volts - 2 * THERMAL_VOLTS * log(die.at_current / die.low_current)) / (
        die.at_current - die.low_current
    )


def forward(die, current):
    typical = die.forward_typical + 2 * THERMAL_VOLTS * log(current / die.at_current)
    return typical + series_ohms(die) * (current - die.at_current)


@pytest.mark.parametrize("die", DICE)
def test_a_die_makes_sense(die):
    assert 1.5 < die.forward_least < die.forward_typical < die.forward_most < 4.3
    assert die.low_forward < die.forward_typical
    assert 0 < die.low_current < die.at_current <= die.rated_current * 1.01 + 0.011
    assert 0.004 < die.rated_current <= die.pulse_current <= 0.2
    assert 0 < die.pulse_width <= 0.01
    assert 0 < die.pulse_duty <= 0.25
    assert 0.4 < die.reverse_volts <= 10
    assert -0.004 <= die.volts_per_kelvin <= -0.001
    assert 50 < die.kelvin_per_watt < 1000
    # nothing is left of the rating at, or a little above, the highest junction temperature; HLMP-3450, yellow GaAsP:
    # 20 mA, less 0.2 mA per kelvin from 50 degC, so half of it is left at 100 degC
    dark = die.derate_above + die.rated_current / die.derate_per_kelvin
    slow = die.derate_per_kelvin == pytest.approx(0.2e-3)
    assert die.derate_above < dark <= die.junction_most + (50 if slow else 10)


@pytest.mark.parametrize("die", DICE)
def test_two_points_make_a_curve(die):
    """An ideal diode with n = 2 and a series resistance that is not negative, and not that of a fault."""
    assert 0 <= series_ohms(die) < 60


@pytest.mark.parametrize("lamp", LEDS, ids=lambda lamp: lamp.name)
def test_the_dice_of_a_lamp_can_be_told_apart(lamp):
    colours = [die.colour for die in lamp.dice]
    assert len(colours) == len(set(colours)) >= 1
    assert lamp.package.replace(" ", "") in lamp.name
    assert lamp.name.endswith(lamp.colour)
    if len(colours) == 1:
        assert colours == [lamp.colour]


def test_the_common_lamps_are_complete():
    usual = {
        "red",
        "orange",
        "amber",
        "yellow",
        "yellow-green",
        "green",
        "blue",
        "white",
        "warm-white",
        "pink",
        "uv",
    }
    for package in ("smd-0402", "smd-0603", "smd-0805", "smd-1206", "led-3mm", "led-5mm"):
        for colour in usual:
            assert catalogue.lamp(f"{package}-{colour}").colour == colour
    for name in ("smd-0603-rgb", "smd-1206-rgb", "smd-5050-rgb", "led-5mm-rgb"):
        assert [die.colour for die in catalogue.lamp(name).dice] == ["red", "green", "blue"]
    assert len(catalogue.lamp("smd-5050-white").dice) == 3


# Data sheets, at 20 mA and 25 degC: OptoSupply OSxx0603C1C (white, and 570 to 625 nm), OptoSupply 0603 two-colour,
# OptoSupply OSTB1206C1E, RND 135-00123.
@pytest.mark.parametrize(
    ("name", "colour", "least", "typical", "most", "rated"),
    [
        ("smd-0603-warm-white", "warm-white", 2.9, 3.2, 3.6, 20),
        ("smd-0603-blue", "blue", 2.9, 3.1, 3.6, 20),
        ("smd-0603-red-blue", "red", 1.8, 2.1, 2.6, 30),
        ("smd-1206-rgb", "red", 1.8, 2.0, 2.6, 30),
        ("smd-1206-rgb", "green", 2.8, 2.9, 3.6, 30),
        ("smd-1206-blue", "blue", 2.8, 2.9, 3.6, 20),
        ("led-3mm-warm-white", "warm-white", 2.6, 3.0, 3.4, 25),
    ],
)
def test_data_sheet_figures(name, colour, least, typical, most, rated):
    die = next(die for die in catalogue.lamp(name).dice if die.colour == colour)
    assert (die.forward_least, die.forward_typical, die.forward_most) == (least, typical, most)
    assert die.at_current == pytest.approx(0.020)
    assert die.rated_current == pytest.approx(rated / 1e3)
    assert die.pulse_current == pytest.approx(0.1)


def test_the_rating_of_a_5_mm_blue_falls_as_its_data_sheet_says():
    """WW05A3SBQ4: 20 mA, less 0.4 mA per kelvin above 50 degC."""
    (die,) = catalogue.lamp("led-5mm-blue").dice
    assert (die.rated_current, die.derate_above) == (pytest.approx(0.020), 50)
    assert die.derate_per_kelvin == pytest.approx(0.4e-3)


# Forward volts at 20 mA (None: not on the sheet), and the sheet. The row's spread holds all of them.
@pytest.mark.parametrize(
    ("name", "least", "typical", "most", "sheet"),
    [
        ("smd-0402-white", 2.8, 3.4, 3.8, "DL-PCB0402W"),
        ("smd-0603-red", 1.8, 2.1, 2.6, "OptoSupply OSRB0603C1C"),
        ("smd-0603-red", 1.9, 2.2, 2.6, "OptoSupply OSxx0603C1C"),
        ("smd-0603-red", None, 2.0, 2.4, "Vishay VLMS1300"),
        ("smd-0805-green", None, 3.2, 4.0, "Kingbright APT2012ZGC"),
        ("smd-1206-red", 1.8, 2.0, 2.6, "OptoSupply OSTB1206C1E"),
        ("smd-1206-green", 2.8, 2.9, 3.6, "OptoSupply OSTB1206C1E"),
        ("smd-1206-white", None, 3.3, 4.0, "Kingbright APTR3216QWF"),
        ("smd-2835-white", 2.9, 3.1, 3.3, "Lumileds LUXEON 2835"),
        ("smd-3528-red", 1.8, 2.0, 2.6, "Vishay VLMS335"),
        ("smd-3528-orange", 1.8, 2.1, 2.6, "Vishay VLMO335"),
        ("smd-3528-blue", None, 3.2, 4.2, "Vishay VLMB40L1M2"),
        ("smd-5050-white", 3.0, 3.2, 3.4, "LLH-RGBW-5050"),
        ("smd-5050-red", 1.8, 2.0, 2.2, "LLH-RGBW-5050"),
        ("smd-5050-green", 3.0, 3.1, 3.6, "OptoSupply OSG5DTS4C1A"),
        ("led-3mm-red", None, 1.9, 2.6, "Vishay TLHK4400"),
        ("led-3mm-orange", None, 2.4, 3.0, "Vishay TLHO42.."),
        ("led-3mm-yellow-green", None, 2.4, 3.0, "Vishay TLHG42.."),
        ("led-5mm-red", None, 2.1, 2.6, "Cree LC503UHR1"),
        ("led-5mm-yellow", None, 2.4, 3.0, "Vishay TLHY54.."),
        ("led-5mm-yellow", 1.7, None, 2.6, "Ligitek LUY13533H"),
        ("led-5mm-blue", None, 3.2, 4.0, "WW05A3SBQ4"),
        ("led-5mm-white", None, 3.2, 4.0, "Cree LC513FWH1"),
    ],
)
def test_the_spread_of_a_row_holds_published_parts(name, least, typical, most, sheet):
    die = catalogue.lamp(name).dice[0]
    assert least is None or die.forward_least <= least, sheet
    assert typical is None or die.forward_least < typical < die.forward_most, sheet
    assert most <= die.forward_most, sheet


# Most mA for good, and of a pulse (at 1/10, 0.1 ms), most reverse V: no row dares more than its sheet.
@pytest.mark.parametrize(
    ("name", "rated", "pulse", "reverse", "sheet"),
    [
        ("smd-0402-red", 25, 60, 5, "Everlight 16-213SURC"),
        ("smd-0402-yellow-green", 25, 60, 5, "Everlight 16-213SYGC"),
        ("smd-0402-blue", 25, 100, 5, "Everlight 16-213/BHC"),
        ("smd-0603-yellow", 30, 175, 5, "Kingbright APT1608SYCK"),
        ("smd-0603-yellow-green", 20, 30, 5, "Wuerth 150060VS86000"),
        ("smd-0603-green", 25, 100, 5, "Everlight 19-217/GHC"),
        ("smd-0805-orange", 25, 50, 5, "NTE30022"),
        ("smd-0805-green", 25, 100, 5, "Everlight 17-21/GHC"),
        ("smd-0805-blue", 20, 100, 4, "NTE30023"),
        ("smd-1206-orange", 50, 100, 10, "Everlight 15-21-S2SC"),
        ("smd-1206-white", 25, 100, 5, "Everlight 15-21/T1D"),
        ("smd-2835-white", 240, 300, 5, "Lumileds LUXEON 2835"),
        ("smd-3528-green", 30, 100, 5, "Wuerth 150141GS73100"),
        ("smd-3528-white", 60, 100, 5, "Everlight 67-11U"),
        # 75 mA and 100 mA for 10 ms the whole lamp of three dice
        ("smd-5050-green", 75 / 3, 100 / 3, 5, "OptoSupply OSG5DTS4C1A"),
        ("smd-5050-red", 30, 70, 5, "Gtlight GTG5050RGBC"),
        ("led-3mm-green", 25, 100, 5, "Lucky Light LL-304PGC4B"),
        ("led-5mm-red", 50, 200, 5, "Cree LC503UHR1"),
        ("led-5mm-yellow", 50, 100, 5, "Ligitek LUY13533H"),
        ("led-5mm-white", 25, 100, 5, "Cree LC513FWH1"),
    ],
)
def test_no_rating_dares_more_than_its_sheet(name, rated, pulse, reverse, sheet):
    for die in catalogue.lamp(name).dice:
        assert die.rated_current <= rated / 1e3 + 1e-9, sheet
        assert die.pulse_current <= pulse / 1e3 + 1e-9, sheet
        assert die.reverse_volts <= reverse, sheet


# Junction to air: Everlight 15-21-S2SC 800 K/W, Kingbright APT1608SYCK 350 (on pads), Vishay VLMx335 400, TLHK4400 400,
# TLLR5400 500.
@pytest.mark.parametrize(
    ("package", "kelvin_per_watt"),
    [("1206", 800), ("0603", 350), ("3528", 400), ("3 mm", 400), ("5 mm", 500)],
)
def test_no_die_is_cooled_better_than_its_sheet_says(package, kelvin_per_watt):
    dice = [die for lamp in LEDS if lamp.package == package for die in lamp.dice]
    assert min(die.kelvin_per_watt for die in dice) >= kelvin_per_watt


@pytest.mark.parametrize(("colour", "rated", "fall"), [("red", 30, 0.5), ("yellow", 20, 0.2)])
def test_the_rating_of_gaasp_falls_as_its_data_sheet_says(colour, rated, fall):
    """HLMP 3350/3450/3550: from 50 degC 0.5 mA per kelvin of the 30 mA of red, 0.2 of the 20 mA of yellow."""
    for size in ("3mm", "5mm"):
        (die,) = catalogue.lamp(f"led-{size}-{colour}").dice
        assert (die.rated_current, die.derate_above) == (pytest.approx(rated / 1e3), 50)
        assert die.derate_per_kelvin == pytest.approx(fall / 1e3)


@pytest.mark.parametrize("lamp", FILAMENTS, ids=lambda lamp: lamp.name)
def test_filament_lamps(lamp):
    assert lamp.kind == "filament"
    assert lamp.name.endswith(f"-{lamp.rated_volts:g}v")
    assert 0.005 < lamp.rated_current <= 0.1
    # a driver maker's note on incandescent lamps: 10 to 12 times the rated current when cold
    assert 12 <= lamp.cold_ratio <= 15
    assert 40 <= lamp.celsius <= 120


def test_grain_of_wheat_lamps_are_there():
    assert {lamp.rated_volts for lamp in FILAMENTS if lamp.name.startswith("wheat-")} >= {1.5, 6.0, 12.0}


# -- strips


def chain_current(chain, volts):
    return brentq(
        lambda amperes: chain.series * forward(chain.die, amperes) + chain.ohms * amperes - volts, 1e-6, 0.2
    )


@pytest.mark.parametrize("strip", STRIPS, ids=lambda strip: strip.name)
def test_a_strip_draws_what_it_says(strip):
    """SciPy solves the strings of a segment at the rated voltage."""
    drawn = sum(chain_current(chain, strip.volts) for chain in strip.chains)
    assert strip.segment_current == pytest.approx(drawn, rel=0.01)
    for chain in strip.chains:
        assert chain_current(chain, strip.volts) < chain.die.rated_current
        # a supply 5 % high, and dice at their least
        assert (strip.volts * 1.05 - chain.series * chain.die.forward_least) / chain.ohms < 0.040
    assert strip.name.startswith(f"strip-{strip.volts:g}v-{strip.colour}")
    assert strip.trace_ohms_per_metre is None
    assert strip.leds_per_segment == strip.series
    assert (strip.die, strip.ohms, strip.strings) == (
        strip.chains[0].die,
        strip.chains[0].ohms,
        len(strip.chains),
    )


@pytest.mark.parametrize("strip", STRIPS, ids=lambda strip: strip.name)
def test_a_strip_has_its_lamps_to_the_metre(strip):
    lamps = int(strip.name.rpartition("-")[2])
    assert strip.leds_per_segment / strip.segment_length == pytest.approx(lamps, rel=1e-12)


def test_published_figures_of_12_volt_strips():
    """Strip guides of makers: 60 lamps a metre have segments of 50 mm, 30 have 100 mm; about 20 mA a string.

    3528 at 60 a metre takes 4.8 W/m, 5050 14.4 W/m (nominal, so with some room); RGB 60 mA a segment with all on.
    """
    single, triple = strip_row("strip-12v-white-60"), strip_row("strip-12v-white-5050-60")
    assert single.segment_length == pytest.approx(0.050)
    assert strip_row("strip-12v-white-30").segment_length == pytest.approx(0.100)
    assert 12 * single.segment_current / single.segment_length == pytest.approx(4.8, rel=0.15)
    assert 12 * triple.segment_current / triple.segment_length == pytest.approx(14.4, rel=0.15)
    assert strip_row("strip-12v-rgb-60").segment_current == pytest.approx(0.060, rel=0.15)


def test_5050_strips_of_other_volts():
    """Strip makers: six lamps a group at 24 V; 5050 up to 14.4 W/m at 60 a metre, up to 60 mA a lamp at 5 V."""
    strip = strip_row("strip-24v-white-5050-60")
    assert strip.leds_per_segment == 6
    for volts, name in ((24, "strip-24v-white-5050-60"), (24, "strip-24v-rgb-60")):
        row = strip_row(name)
        assert volts * row.segment_current / row.segment_length == pytest.approx(14.4, rel=0.15)
    for name in ("strip-5v-white-5050-60", "strip-5v-rgb-60"):
        assert strip_row(name).segment_current == pytest.approx(0.060, rel=0.15)
    assert all(chain.die.pulse_current == pytest.approx(0.033) for chain in strip.chains)


@pytest.mark.parametrize(("volts", "milliamperes"), [(11.4, 14.4), (12.0, 17.2), (12.6, 20.0), (9.0, 3.8)])
def test_three_white_and_150_ohm(volts, milliamperes):
    """A published hand calculation of three white dice (2.85 V at 5 mA, 3.2 V at 20 mA) and 150 ohm."""
    (chain,) = strip_row("strip-12v-white-60").chains
    assert (chain.series, chain.ohms) == (3, 150)
    assert chain_current(chain, volts) * 1e3 == pytest.approx(milliamperes, abs=0.06)


# -- resistors


# Vishay D/CRCW e3, document 20035: W at 70 degC and V.
@pytest.mark.parametrize(
    ("name", "power", "volts"),
    [("0402", 0.063, 50), ("0603", 0.10, 75), ("0805", 0.125, 150), ("1206", 0.25, 200), ("2512", 1.0, None)],
)
def test_chip_resistors(name, power, volts):
    size = catalogue.resistor_size(name)
    assert size.power == pytest.approx(power)
    assert volts is None or size.max_volts == volts
    assert size.film_celsius == 155


# Royal Ohm thick film chips (01005 ends at 125 degC); Yageo CFR and RS carbon film, the smaller body: W, V, degC.
@pytest.mark.parametrize(
    ("name", "power", "volts", "celsius"),
    [
        ("01005", 1 / 32, 15, 125), ("0201", 1 / 20, 25, 155), ("2010", 0.5, 200, 155), ("2512", 1.0, 200, 155),
        ("1/8 W", 0.125, 150, 155), ("1/4 W", 0.25, 200, 155), ("1/2 W", 0.5, 300, 155), ("1 W", 1.0, 400, 155),
    ],
)  # fmt: skip
def test_no_resistor_dares_more_than_its_sheet(name, power, volts, celsius):
    size = catalogue.resistor_size(name)
    assert (size.power, size.max_volts, size.film_celsius) == (pytest.approx(power, rel=0.01), volts, celsius)


def test_resistors_grow_with_their_size():
    chips = [
        catalogue.resistor_size(name)
        for name in ("01005", "0201", "0402", "0603", "0805", "1206", "1210", "2010", "2512")
    ]
    axial = [catalogue.resistor_size(name) for name in ("1/8 W", "1/4 W", "1/2 W", "1 W")]
    for sizes, mount in ((chips, "chip"), (axial, "axial")):
        for small, large in pairwise(sizes):
            assert small.power < large.power
            assert small.max_volts <= large.max_volts
        assert {size.mount for size in sizes} == {mount}
    assert [size.power for size in axial] == [0.125, 0.25, 0.5, 1.0]
    assert all(0 < size.tolerance <= 0.2 for size in catalogue.rows("resistor"))


# -- fuses


def test_fuse_ratings_are_the_r10_series():
    """ISO 3 R10: 1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8; IEC 60127-1 annex A, 32 mA to 10 A."""
    r10 = (1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8)
    currents = [rating.current for rating in catalogue.fuse_ratings()]
    assert currents[0] == pytest.approx(0.032)
    assert currents[-1] == pytest.approx(10)
    assert len(currents) == 26
    for current, number in zip(currents, range(-15, 11), strict=True):
        # 32 mA is the fuse makers' rounding of 31.5 mA
        assert current == pytest.approx(r10[number % 10] * 10.0 ** (number // 10), rel=0.02)
        assert current == pytest.approx(10 ** (number / 10), rel=0.03)


def test_a_fuse_is_called_by_its_rating():
    for rating in catalogue.fuse_ratings():
        number, unit = rating.name.split()
        assert float(number) * {"mA": 1e-3, "A": 1.0}[unit] == pytest.approx(rating.current)


# -- materials


# Lowest published softening figure: HIPS HDT 70 (plastics suppliers), ABS HDT 76 at 1.8 MPa, PLA glass transition 55,
# printed resin HDT 43.6 at 1.8 MPa, ethyl cyanoacrylate service 82, hot-melt 60 (from memory).
@pytest.mark.parametrize(
    ("name", "softens"),
    [("styrene", 70), ("abs", 76), ("pla", 55), ("resin", 43.6), ("cyanoacrylate", 82), ("hot-melt", 60), ("petg", 65),
     ("acrylic", 85)],
)  # fmt: skip
def test_materials_stay_below_their_softening(name, softens):
    assert 0.5 * softens < catalogue.plastic(name).celsius < softens


def test_all_materials_make_sense():
    rows = catalogue.rows("plastic")
    assert {row.kind for row in rows} == {"plastic", "glue", "metal", "other"}
    assert all(isfinite(row.celsius) and 35 <= row.celsius <= 150 and row.softens for row in rows)
    for name in (
        "styrene",
        "abs",
        "pla",
        "petg",
        "acrylic",
        "resin",
        "brass",
        "metal",
        "wood",
        "cyanoacrylate",
        "epoxy",
        "hot-melt",
    ):
        assert catalogue.plastic(name).name == name


# -- cells


def test_wood_and_card_stay_where_they_cannot_catch_fire_after_long():
    """Babrauskas et al., Fire and Materials 31 (2007) 125: liable to ignite from 77 degC where it is held for long."""
    for name in ("wood", "card", "plywood", "paper"):
        assert catalogue.plastic(name).celsius <= 77


# Four makers' curves of alkaline AA to 0.8 V at 21 degC, read off by a review of 2019: mAh at 25, 100, 500, 1000 mA.
AA = ((3000, 2700, 1650, 1250), (3125, 2900, 1900, 1400), (3000, 2450, 1375, 1000), (3000, 2600, 1600, 1000))


def test_alkaline_aa_by_makers_curves():
    size = catalogue.chemistry("alkaline").size("aa")
    for (current, charge), at, curves in zip(
        size.at_rates, (25, 100, 500, 1000), zip(*AA, strict=True), strict=True
    ):
        assert current == pytest.approx(at / 1e3)
        assert charge == pytest.approx(min(curves) * 3.6)


# CR2032: 225 to 240 mAh at 0.19 mA; FDK CR2025 150 mAh; Atmel CR2450 550 mAh at 0.2 mA; Energizer A76 150 mAh at 0.2 mA.
@pytest.mark.parametrize(
    ("chemistry", "name", "most"),
    [
        ("lithium-coin", "cr2032", 240),
        ("lithium-coin", "cr2025", 150),
        ("lithium-coin", "cr2450", 550),
        ("alkaline", "lr44", 150),
    ],
)
def test_coin_cells_are_rated_at_a_fifth_of_a_milliampere(chemistry, name, most):
    size = catalogue.chemistry(chemistry).size(name)
    assert size.capacity is not None
    assert size.capacity <= most * 3.6
    assert size.at_rates == ((pytest.approx(0.0002), pytest.approx(size.capacity)),)


@pytest.mark.parametrize("cell", catalogue.rows("battery"), ids=lambda cell: cell.name)
def test_cells(cell):
    assert 0.8 <= cell.empty_volts < cell.nominal_volts < cell.full_volts <= 4.25
    assert 0.01 <= cell.ohms <= 40
    for size in cell.sizes:
        found = cell.size(size.name.upper())
        assert found is size
        assert size.cells >= 1
        assert 0 < size.ohms <= 40
        assert 50 * 3.6 < size.capacity <= 20_000 * 3.6
        assert 0 < size.most_current <= 10
        # what a cell gives for good does not pull it below its empty voltage
        assert cell.nominal_volts - size.most_current * size.ohms > cell.empty_volts
        assert size.source
        assert list(size.at_rates) == sorted(size.at_rates)
        charges = [charge for _, charge in size.at_rates]
        assert charges == sorted(charges, reverse=True)
    for unknown in (None, "brick"):
        general = cell.size(unknown)
        assert (general.ohms, general.capacity, general.most_current, general.cells) == (
            cell.ohms,
            None,
            None,
            1,
        )
    if cell.hourly is not None:  # no size of the catalogue is rated for more: they are in the same boat
        assert all(size.most_current <= cell.hourly * size.capacity / 3600 for size in cell.sizes)
    assert cell.lithium == cell.name.startswith(("li-", "lipo", "lith", "life"))


def test_published_cells():
    """CR2032 sheets: 235 mAh, 3 mA continuous, 10 to 40 ohm. Lithium cells: 4.2 V full, 3.7 nominal, 3.0 cut-off."""
    coin = catalogue.chemistry("cr2032").size("cr2032")
    assert (coin.capacity, coin.most_current) == (pytest.approx(0.235 * 3600), pytest.approx(0.003))
    assert 10 <= coin.ohms <= 40
    for name in ("lipo", "li-ion", "lithium-ion"):
        row = catalogue.chemistry(name)
        assert (row.full_volts, row.nominal_volts, row.empty_volts) == (4.2, 3.7, 3.0)
    block = catalogue.chemistry("alkaline").size("9v")
    # 9 V block, from memory: 550 mAh and about 2 ohm in all
    assert (block.cells, block.capacity, block.cells * block.ohms) == (
        6,
        pytest.approx(0.55 * 3600),
        pytest.approx(2.0),
    )


def test_the_powers_that_are_advised_are_those_of_the_catalogue():
    """Resistors with wires begin at 1/8 W; 1/16 and 1/10 W are chips, and asked for by their size."""
    assert [power for power, _ in sold()] == [0.125, 0.25, 0.5, 1.0, 2.0, 3.0, 5.0]
    assert all(catalogue.resistor_size(words).power == power for power, words in sold())
    assert body_for(0.001, Limits()) == (0.125, "1/8 W")
    assert body_for(3.76, Limits()) is None
    assert body_for(3.75, Limits()) == (5.0, "5 W")
