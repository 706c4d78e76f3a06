"""Shorts: currents against Ohm's law by hand, temperatures against published fusing currents."""

from math import log10
from pathlib import Path
from time import perf_counter

import pytest

import postcheck
from postcheck.physics.wire_heat import settles_at
from postcheck.survey import Survey

from .small import adaptor, lamp, survey


def _of(made, name, leg=""):
    return next(fault for fault in made.faults if fault.name == name and fault.leg == leg)


# 28 AWG of seven 36 AWG strands: 0.1983 ohm/m (1/58 ohm mm2/m, +2 % for the lay); the way there and back is 0.6 m,
# and the adaptor at its lowest gives 11.4 V
def test_the_current_of_a_short_at_the_end_of_a_run():
    assert _of(survey(), "feed").current == pytest.approx(11.4 / (0.6 * 0.1983), rel=0.02)


# enamelled 0.100 mm: 2.195 ohm/m (1/58 ohm mm2/m)
def test_the_current_of_a_short_at_the_lamp():
    ohms = 0.6 * 0.1983 + 2 * 0.120 * 2.195
    assert _of(survey(), "bow lamp", "supply").current == pytest.approx(11.4 / ohms, rel=0.02)


def test_a_resistor_at_the_joint_keeps_the_lead_safe():
    assert [fault for fault in survey(lamps=lamp(at=" at hull")).faults if fault.kind == "lead"] == []


def test_a_resistor_at_the_lamp_does_not():
    assert {fault.leg for fault in survey().faults if fault.kind == "lead"} == {"supply", "return"}


def test_two_conductors_side_by_side_halve_the_way_and_share_the_current():
    one = survey(supply=adaptor("5 A", None))
    two = type(one)(
        one.build.model_copy(
            update={"run": [run.model_copy(update={"conductors": 2}) for run in one.build.run]}
        )
    )
    assert _of(two, "feed").current == pytest.approx(2 * _of(one, "feed").current, rel=1e-6)
    assert _of(two, "feed").sure.lasting == pytest.approx(_of(one, "feed").sure.lasting / 2)


def _lead(**said):
    return _of(survey(**said), "bow lamp", "supply")


# IEC 60127-2: no gate below 210 %, so that a fuse of 500 mA may hold 1.05 A
def test_the_lasting_current_is_what_fuse_or_supply_allow():
    assert _lead(supply=adaptor("5 A")).sure.lasting == pytest.approx(1.05)
    # three times what it holds at 20 degC, which is 1 + 0.0075 x 15 times as much in a room of 5 degC
    assert _lead(supply=adaptor("5 A", "500 mA resettable")).sure.lasting == pytest.approx(1.5 * 1.1125)
    small = _lead(supply=adaptor("1 A", None))
    assert (small.sure.lasting, small.most.lasting) == (pytest.approx(1.0), pytest.approx(2.0))
    stated = _lead(supply=adaptor("1 A", None) + 'current_limit = "1.3 A"')
    assert stated.sure == stated.most
    assert stated.sure.lasting == pytest.approx(1.3)


BATTERY = 'kind = "battery"\nplace = "base"\nchemistry = "{}"\nsize = "{}"\ncells = {}\n'
WAY = 0.6 * 0.1983 + 2 * 0.120 * 2.195  # ohm, as above


# by Ohm's law: a cell of 3.7 V and 0.25 ohm; what is good for its life (320 mA) does not limit a short
def test_a_battery_has_no_limit_but_its_own_resistance():
    cell = _lead(supply=BATTERY.format("li-ion", "10440", 1))
    assert cell.sure.lasting == pytest.approx(3.7 / (0.25 + WAY), rel=0.02)
    assert cell.sure == cell.most
    assert cell.hurt


# 0.15 to 0.3 ohm are printed for a fresh AA of alkaline: in a short that lasts the upper end
def test_a_disposable_cell_sags():
    assert _lead(supply=BATTERY.format("alkaline", "aa", 3)).sure.lasting == pytest.approx(
        4.5 / (0.9 + WAY), rel=0.02
    )
    stated = _lead(supply=BATTERY.format("alkaline", "aa", 3) + 'resistance = "0.6 ohm"')
    assert stated.sure.lasting == pytest.approx(4.5 / (0.6 + WAY), rel=0.02)


def test_a_coin_cell_holds_itself_back():
    assert not _lead(supply=BATTERY.format("lithium-coin", "cr2032", 1)).hurt


# boards of small cells trip at 2 to 5 A (sheets of their control chips, from memory): less than that they let flow
def test_a_protection_board_guards_the_cell_and_not_the_wire():
    pack = BATTERY.format("lipo", "pouch", 1) + "protected = true\n"
    assert _lead(supply=pack).sure.lasting == pytest.approx(2.0)
    large = _of(survey(supply=pack + 'capacity = "3000 mAh"'), "feed").sure.lasting
    assert large == pytest.approx(6.0)
    assert _lead(supply=pack + 'current_limit = "900 mA"').most.lasting == pytest.approx(0.9)


# 5 V behind 2.75 ohm drive 1.54 A through the way: 1.9 times a fuse of 800 mA, where no gate promises anything
def test_between_holding_and_opening_the_short_itself_lasts():
    weak = 'kind = "adaptor"\nplace = "base"\nvolts = "5 V"\nrated = "3 A"\nresistance = "2.75 ohm"\nfuse = "800 mA"'
    fault = _lead(supply=weak)
    assert fault.sure.lasting == pytest.approx(5.0 / (2.75 + WAY), rel=0.02)
    assert not fault.opens
    assert fault.hurt


# IEC 60364-4-43 knows the higher temperature for 5 s: 12 V behind 9 ohm are 2.5 times 500 mA, which may take minutes
def test_the_short_time_allowance_is_for_short_times():
    slow = _lead(supply=adaptor("5 A") + '\nresistance = "9 ohm"')
    assert slow.opens
    assert slow.sure.for_now == slow.sure.stands == 130.0
    # solderable enamel of class 130 is asked for 155 degC of heat shock, IEC 60317-4; PVC for 160 degC, IEC 60724
    assert _lead(supply=adaptor("5 A")).sure.for_now == 155.0


def test_it_gets_no_hotter_than_where_it_settles():
    # at 2.3 times its rating the fuse may take minutes, the wire has settled within seconds
    fault = _lead(supply=adaptor("5 A", "630 mA") + '\nresistance = "7.6 ohm"')
    assert fault.current > 2.1 * 0.63
    assert fault.sure.peak is not None
    wire = fault.wire
    amps = 12.0 / (7.6 + WAY)
    assert fault.sure.peak <= settles_at(amps, wire.ohms_per_metre_most, wire.max_diameter, 35.0) + 1.0


# Preece 1884: 0.1 mm of copper melts at 2.5 A in free air. 1.05 A must leave it well, 3 A must not.
def test_a_fine_lead_against_its_fusing_current():
    assert not _lead(supply=adaptor("5 A")).hurt
    burnt = _lead(supply=adaptor("3 A", None))
    assert burnt.hurt
    assert burnt.sure.hottest is None or burnt.sure.hottest > 350.0


# Onderdonk, from 35 degC: 33 (I/A)**2 t = log10(1 + (1083 - 35)/(234 + 35)), A in circular mils (0.1 mm: 15.5); a quick
# fuse opens within 20 ms at ten times its rating (IEC 60127-2)
@pytest.mark.parametrize(("ohms", "fuse", "melts"), [(0.01, "1.6 A", True), (0.75, "800 mA", False)])
def test_what_melts_before_the_fuse_opens_has_no_temperature(ohms, fuse, melts):
    fault = _lead(supply=adaptor("50 A", fuse) + f'\nresistance = "{ohms} ohm"')
    assert fault.opens
    current = 12.0 / (ohms + WAY)
    seconds = log10(1.0 + 1048.0 / 269.0) / 33.0 * (15.5 / current) ** 2
    assert (seconds < 0.02) == melts
    if melts:
        assert fault.sure.peak is None
        assert fault.hurt
    else:
        # K/s: I**2 rho / (c A**2), by CRC Handbook values of copper (3.45e6 J/(K m3), 1.9e-8 ohm m at 60 degC)
        assert fault.sure.peak == pytest.approx(
            35.0 + 0.02 * current**2 * 1.9e-8 / (3.45e6 * 7.854e-9**2), rel=0.3
        )


def test_a_slow_fuse_lets_through_what_a_quick_one_does_not():
    quick = _lead(supply=adaptor("5 A", "500 mA"))
    slow = _lead(supply=adaptor("5 A", "500 mA slow"))
    assert not quick.hurt
    assert slow.sure.hottest is None or slow.sure.hottest > quick.sure.hottest


def test_a_short_part_of_the_way_along_a_long_lead():
    """Ohm and Preece: 2.5 m of 0.1 mm hold a short at its far end to 12 / 11.1 A; nearer 3 A flow, where 2.5 A melt it.

    A fuse of 1.6 A is sure to open from 3.36 A on. One of 500 mA leaves it no more than 1.05 A anywhere.
    """
    text = (
        Path(__file__).parents[1] / "builds" / "faulty" / "fuse-never-opens-part-way.post.toml"
    ).read_text()
    for fuse, most in (("1.6 A", 3.0), ("500 mA", 1.05)):
        made = Survey(postcheck.loads(text.replace('fuse = "1.6 A"', f'fuse = "{fuse}"')))
        leads = [fault for fault in made.faults if fault.kind == "lead"]
        assert [fault.part_way for fault in leads] == [most > 2.5] * 2
        assert [fault.hurt for fault in leads] == [most > 2.5] * 2
        assert [fault.sure.lasting for fault in leads] == pytest.approx([most] * 2)
        assert all((fault.sure.settled is None) == (most > 2.5) for fault in leads)


def test_a_fuse_protects_what_lies_behind_it():
    made = survey(supply=adaptor("5 A", "500 mA at hull"))
    assert {fault.name: fault.fuse for fault in made.faults} == {
        "feed": None,
        "negative": None,
        "bow lamp": 0.5,
    }
    assert {fault.fuse for fault in survey(supply=adaptor("5 A", "500 mA at base")).faults} == {0.5}
    # no conductor of the positive side comes to the fuse: it guards nothing
    assert {fault.fuse for fault in survey(supply=adaptor("5 A", "500 mA at bow")).faults} == {None}


def test_a_constant_current_output_is_its_own_limit():
    steady = survey(circuit='output = { steady = "15 mA", compliance = "1 V" }', supply=adaptor("5 A", None))
    assert steady.faults == ()  # and the supply's own positive pole comes nowhere near the return's far end


def test_a_way_round_has_half_the_resistance_and_its_far_end_the_most():
    ring = survey(
        extra='[[run]]\nname = "second feed"\nline = "lights"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    )
    # each of the two is reached at both ends over the other: half of one way and the whole way back
    assert _of(ring, "feed").current == pytest.approx(11.4 / (0.6 * 0.1983), rel=0.1)


def test_thousands_of_leads_are_worked_out_in_seconds():
    few, many = (
        survey(lamps=lamp()),
        survey(lamps="".join(lamp().replace("bow lamp", f"lamp {n}") for n in range(2000))),
    )
    few.faults, many.in_use  # noqa: B018 - worked out before the clock starts
    began = perf_counter()
    assert len(many.faults) == 2 + 2 * 2000
    assert perf_counter() - began < 5.0
