"""Wires against the standards' formula and tables, each named beside its check."""

from __future__ import annotations

from itertools import pairwise
from math import isfinite, pi

import pytest

from postcheck import catalogue
from postcheck.physics import copper

WIRES = catalogue.rows("wire")
FOOT = 0.3048


def by_family():
    families = {}
    for wire in WIRES:
        families.setdefault(wire.family, []).append(wire)
    return families


@pytest.mark.parametrize("wire", WIRES, ids=lambda wire: wire.name)
def test_figures_make_sense(wire):
    numbers = (
        wire.strand_diameter, wire.conductor_diameter, wire.conductor_area, wire.max_diameter, wire.ohms_per_metre,
        wire.ohms_per_metre_most, wire.insulation_celsius,
    )  # fmt: skip
    assert all(isfinite(number) and number > 0 for number in numbers)
    assert wire.source.strip()
    assert wire.solid == (wire.strands == 1)
    assert wire.enamelled == wire.name.startswith("enamel-")
    assert 0.025e-3 < wire.strand_diameter <= wire.conductor_diameter < wire.max_diameter < 2.5e-3
    assert wire.conductor_area == pytest.approx(wire.strands * pi / 4 * wire.strand_diameter**2)
    # the strands lie within their bundle, with some air between them
    assert wire.conductor_area <= pi / 4 * wire.conductor_diameter**2 * (1 + 1e-9)
    # a wire in its standard has at most 1.3 times the nominal resistance
    assert 1.0 < wire.ohms_per_metre_most / wire.ohms_per_metre < 1.3
    assert (wire.insulation_volts is None) == wire.enamelled
    assert 80 <= wire.insulation_celsius <= 260


def test_the_catalogue_has_every_family_it_should():
    for gauge in (20, 22, 24, 26, 28, 30, 32):
        for name in (
            f"pvc-{gauge}",
            f"pvc-{gauge}-thick",
            f"pvc-{gauge}-thin",
            f"ptfe-{gauge}",
            f"ptfe-{gauge}-e",
        ):
            assert catalogue.wire(name).gauge == gauge
        assert catalogue.wire(f"silicone-{gauge}").strands > 1
    for gauge in range(30, 45):
        assert catalogue.wire(f"enamel-awg{gauge}").gauge == gauge
        assert catalogue.wire(f"enamel-awg{gauge}-heavy").gauge == gauge
    for gauge in range(28, 41, 2):
        assert catalogue.wire(f"fep-{gauge}").insulation_volts == 30
    assert catalogue.wire("wrap-30").solid


@pytest.mark.parametrize(
    ("family", "wires"), by_family().items(), ids=lambda item: item if isinstance(item, str) else ""
)
def test_a_thicker_wire_is_thicker_in_everything(family, wires):
    assert len(wires) >= 3
    for thin, thick in pairwise(sorted(wires, key=lambda wire: wire.conductor_area)):
        assert thin.max_diameter < thick.max_diameter
        assert thin.conductor_diameter < thick.conductor_diameter
        assert thin.ohms_per_metre > thick.ohms_per_metre
        assert thin.ohms_per_metre_most > thick.ohms_per_metre_most
        if thin.gauge is not None:
            assert thin.gauge > thick.gauge


def test_a_second_coat_is_thicker_than_the_first():
    for wire in WIRES:
        if wire.family == "enamelled, IEC grade 1":
            assert catalogue.wire(f"{wire.name}-g2").max_diameter > wire.max_diameter
        if wire.family == "enamelled, NEMA single":
            assert catalogue.wire(f"{wire.name}-heavy").max_diameter > wire.max_diameter


# ASTM B258: d = 0.005 in * 92**((36 - n)/39). Winding wire is tabulated to 0.1 mil.
@pytest.mark.parametrize("gauge", range(30, 45))
def test_gauge_diameters_of_winding_wire(gauge):
    mils = 5.0 * 92.0 ** ((36 - gauge) / 39)
    for name in (f"enamel-awg{gauge}", f"enamel-awg{gauge}-heavy"):
        assert catalogue.wire(name).conductor_diameter * 1e3 / 0.0254 == pytest.approx(mils, abs=0.0501)


def test_gauge_diameters_of_solid_hook_up_wire():
    solid = [wire for wire in WIRES if wire.solid and not wire.enamelled]
    assert len(solid) >= 15
    for wire in solid:
        assert wire.conductor_diameter == pytest.approx(0.127e-3 * 92.0 ** ((36 - wire.gauge) / 39), rel=1e-6)


# A stranded wire called by a gauge holds about the copper of that gauge: 19/38 called 26 AWG 18 % more, 60 strands of
# 0.08 mm called 22 AWG 7 % less (computed from the constructions).
def test_stranded_wires_hold_about_the_copper_of_their_gauge():
    for wire in WIRES:
        if not wire.solid:
            assert wire.gauge is not None
            assert 0.92 < wire.conductor_area / copper.area(copper.awg_diameter(wire.gauge)) < 1.2


# MWS Techbook, copper magnet wire table (NEMA MW 1000 basis), nominal ohm per 1000 ft at 20 degC.
PUBLISHED = {20: 10.13, 22: 16.20, 24: 25.67, 26: 41.02, 28: 65.33, 30: 103.7, 31: 130.9, 32: 162.0, 33: 205.7,
             34: 261.3, 35: 330.7, 36: 414.8}  # fmt: skip


def test_resistances_of_solid_wires_against_the_published_nominal():
    checked = 0
    for wire in WIRES:
        if wire.solid and wire.gauge in PUBLISHED:
            assert wire.ohms_per_metre * 1000 * FOOT == pytest.approx(PUBLISHED[wire.gauge], rel=0.015), (
                wire.name
            )
            checked += 1
    assert checked >= 25


def test_the_published_spread_of_awg_30_winding_wire():
    """MWS Techbook: AWG 30 has 103.7 ohm per 1000 ft nominal and 105.8 at most."""
    wire = catalogue.wire("enamel-awg30")
    assert wire.ohms_per_metre * 1000 * FOOT == pytest.approx(103.7, rel=1e-3)
    assert wire.ohms_per_metre_most * 1000 * FOOT == pytest.approx(105.8, rel=1e-3)


# IEC 60317-0-1, overall diameter, by an Elektrisola table: bare, grade 1 most, grade 2 most, mm.
@pytest.mark.parametrize(
    ("bare", "first", "second"),
    [
        ("0.063", 0.076, 0.083), ("0.071", 0.084, 0.091), ("0.08", 0.094, 0.101), ("0.10", 0.117, 0.125),
        ("0.125", 0.144, 0.154), ("0.15", 0.171, 0.182), ("0.20", 0.226, 0.239), ("0.25", 0.281, 0.297),
        ("0.315", 0.349, 0.367), ("0.40", 0.439, 0.459), ("0.50", 0.544, 0.566),
    ],
)  # fmt: skip
def test_iec_overall_diameters(bare, first, second):
    assert catalogue.wire(f"enamel-{bare}").max_diameter == pytest.approx(first * 1e-3, abs=1e-9)
    assert catalogue.wire(f"enamel-{bare}-g2").max_diameter == pytest.approx(second * 1e-3, abs=1e-9)
    assert catalogue.wire(f"enamel-{bare}").conductor_diameter == pytest.approx(float(bare) * 1e-3, abs=1e-9)


# A second, independent page (enameled-wires.com) quotes 0.108 to 0.117 mm for 0.100 mm grade 1.
def test_iec_overall_diameter_by_a_second_page():
    assert 0.108e-3 < catalogue.wire("enamel-0.10").max_diameter == pytest.approx(0.117e-3)


# Resistance per metre most, IEC 60317-0-1 annex, from memory: 0.100 mm 2.333, 0.200 mm 0.5657, 0.500 mm 0.08959.
@pytest.mark.parametrize(
    ("name", "most"), [("enamel-0.10", 2.333), ("enamel-0.20", 0.5657), ("enamel-0.50", 0.08959)]
)
def test_iec_most_resistance(name, most):
    assert catalogue.wire(name).ohms_per_metre_most == pytest.approx(most, rel=5e-4)


# Centelsa magnet wire catalogue, NEMA MW 1000, single film maximum in mils: independent of the table used.
@pytest.mark.parametrize(
    ("gauge", "mils"), [(30, 11.2), (32, 9.1), (34, 7.2), (36, 5.8), (38, 4.7), (40, 3.7)]
)
def test_nema_overall_diameters_by_a_second_maker(gauge, mils):
    assert catalogue.wire(f"enamel-awg{gauge}").max_diameter == pytest.approx(mils * 25.4e-6, abs=0.6e-6)


# NEMA MW 1000, heavy film maximum, mm, by an Elektrisola table.
@pytest.mark.parametrize(
    ("gauge", "heavy"), [(30, 0.302), (34, 0.198), (36, 0.160), (38, 0.130), (40, 0.102), (44, 0.069)]
)
def test_nema_heavy_diameters(gauge, heavy):
    assert catalogue.wire(f"enamel-awg{gauge}-heavy").max_diameter == pytest.approx(heavy * 1e-3, abs=1e-9)


# UL 758, highest DC resistance at 20 degC of tinned conductors, ohm per km, stranded and solid (UL 1007 sheet).
UL_MOST = {32: (588, 563), 30: (381, 361), 28: (239, 227), 26: (150, 143), 24: (94.2, 89.3), 22: (59.4, 56.4),
           20: (36.7, 35.2)}  # fmt: skip


def test_ul_highest_resistances():
    checked = 0
    for wire in WIRES:
        if wire.name.startswith(("pvc-", "fep-", "silicone-", "wrap-")) and wire.gauge in UL_MOST:
            stranded, solid = UL_MOST[wire.gauge]
            assert wire.ohms_per_metre_most * 1e3 == pytest.approx(solid if wire.solid else stranded), (
                wire.name
            )
            checked += 1
    assert checked >= 45


# The rule behind it: stranded at most 1.12 times solid of exact gauge. Silver-plated and finer wires are held to it.
@pytest.mark.parametrize("name", ["ptfe-28", "ptfe-24-e", "fep-34", "fep-40", "pvc-34-thin"])
def test_ul_rule_for_wires_without_a_published_row(name):
    wire = catalogue.wire(name)
    solid = copper.ohms_per_metre(copper.area(copper.awg_diameter(wire.gauge)))
    assert wire.ohms_per_metre_most == pytest.approx(1.12 * solid)


# Lay of 2 % (ASTM B496) on the sum of the strands (IEC 60028 copper).
@pytest.mark.parametrize("wire", [wire for wire in WIRES if not wire.solid], ids=lambda wire: wire.name)
def test_stranded_resistance(wire):
    strands = copper.ohms_per_metre(wire.conductor_area, stranded=True)
    assert wire.ohms_per_metre == pytest.approx(strands, rel=1e-9)


def test_copper_is_the_copper_of_the_physics():
    wire = catalogue.wire("enamel-0.10")
    assert wire.ohms_per_metre == pytest.approx(copper.ohms_per_metre(wire.conductor_area), rel=1e-12)


# A published table of strandings, ohm per km with lay: 7/0.127, 7/0.10, 7/0.16, 19/36; bundle diameter in mm.
@pytest.mark.parametrize(
    ("name", "ohms", "bundle"),
    [("pvc-28", 198.3, 0.381), ("pvc-30", 319.9, 0.300), ("pvc-26", 125.0, 0.480), ("ptfe-24", 73.1, 0.635)],
)
def test_strandings(name, ohms, bundle):
    wire = catalogue.wire(name)
    assert wire.ohms_per_metre * 1e3 == pytest.approx(ohms, rel=1e-3)
    assert wire.conductor_diameter * 1e3 == pytest.approx(bundle, abs=1e-3)


# MIL-W-16878: outside = strands + 2 walls; type E wall 0.010 in, type ET 0.006 in (ET from memory). The catalogue
# adds an upper tolerance of 0.05 mm.
@pytest.mark.parametrize("gauge", [20, 22, 24, 26, 28, 30, 32])
@pytest.mark.parametrize(("suffix", "wall"), [("", 0.006), ("-e", 0.010)])
def test_ptfe_walls(gauge, suffix, wall):
    wire = catalogue.wire(f"ptfe-{gauge}{suffix}")
    nominal = wire.conductor_diameter + 2 * wall * 25.4e-3
    assert wire.max_diameter - 0.05e-3 == pytest.approx(nominal, abs=0.006e-3)


def test_ptfe_type_e_24_awg_as_printed():
    """A cable maker's technical page prints 0.045 in for 24 AWG, 19/36, type E."""
    assert catalogue.wire("ptfe-24-e").max_diameter - 0.05e-3 == pytest.approx(0.045 * 25.4e-3, abs=0.01e-3)


# Alpha Wire 26 AWG 7/34 UL 1061: 0.99 mm nominal, a second maker beside the 1.00 mm used.
def test_pvc_thin_wall_by_a_second_maker():
    assert catalogue.wire("pvc-26").max_diameter - 0.05e-3 == pytest.approx(0.99e-3, abs=0.02e-3)


# UL 1061: wall 9 mil on average (0.23 mm); UL 1007: 15 mil (0.38 mm); UL 1332: 0.33 mm. Nominal outside less strands.
@pytest.mark.parametrize(("name", "wall"), [("pvc-28", 0.23), ("pvc-26", 0.23), ("pvc-28-thick", 0.38), ("pvc-26-thick", 0.38),
                                            ("fep-28-thick", 0.33), ("fep-26-thick", 0.33), ("fep-28", 0.11)])  # fmt: skip
def test_walls_of_ul_styles(name, wall):
    wire = catalogue.wire(name)
    plus = 0.03 if name == "fep-28" else 0.05
    assert ((wire.max_diameter * 1e3 - plus) - wire.conductor_diameter * 1e3) / 2 == pytest.approx(
        wall, abs=0.035
    )
