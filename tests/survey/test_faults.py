"""Shorts: currents against Ohm's law by hand, temperatures against published fusing currents."""

from time import perf_counter

import pytest

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
    assert _of(survey(), "bow lamp", "feed").current == pytest.approx(11.4 / ohms, rel=0.02)


def test_a_resistor_at_the_joint_keeps_the_lead_safe():
    assert [fault for fault in survey(lamps=lamp(at=" at hull")).faults if fault.kind == "lead"] == []


def test_a_resistor_at_the_lamp_does_not():
    assert {fault.leg for fault in survey().faults if fault.kind == "lead"} == {"feed", "back"}


def test_two_conductors_side_by_side_halve_the_way_and_share_the_current():
    one = survey(supply=adaptor("5 A", None))
    two = type(one)(
        one.build.model_copy(
            update={"run": [run.model_copy(update={"conductors": 2}) for run in one.build.run]}
        )
    )
    assert _of(two, "feed").current == pytest.approx(2 * _of(one, "feed").current, rel=1e-6)
    assert _of(two, "feed").lasting_current == pytest.approx(_of(one, "feed").lasting_current / 2)


# UL 248-14: a fuse opens at 135 % within the hour, so that is the most that nothing ends
def test_the_lasting_current_is_what_fuse_or_supply_allow():
    assert _of(survey(), "bow lamp", "feed").lasting_current == pytest.approx(0.675)
    assert _of(survey(supply=adaptor("1 A", None)), "bow lamp", "feed").lasting_current == pytest.approx(1.0)
    stated = survey(supply=adaptor("1 A", None) + 'current_limit = "1.3 A"')
    assert _of(stated, "bow lamp", "feed").lasting_current == pytest.approx(1.3)
    assert _of(stated, "bow lamp", "feed").opens


# Preece 1884: 0.1 mm of copper melts at 2.5 A in free air. 0.675 A must leave it well, 3 A must not.
def test_a_fine_lead_against_its_fusing_current():
    assert not _of(survey(), "bow lamp", "feed").hurt
    burnt = _of(survey(supply=adaptor("3 A", None)), "bow lamp", "feed")
    assert burnt.hurt
    assert burnt.hottest is None or burnt.hottest > 350.0


def test_a_slow_fuse_lets_through_what_a_quick_one_does_not():
    quick = _of(survey(supply=adaptor("5 A", "500 mA")), "bow lamp", "feed")
    slow = _of(survey(supply=adaptor("5 A", "500 mA slow")), "bow lamp", "feed")
    assert not quick.hurt
    assert slow.hottest is None or slow.hottest > quick.hottest


def test_a_constant_current_output_is_its_own_limit():
    steady = survey(circuit='output = { steady = "15 mA", compliance = "1 V" }', supply=adaptor("5 A", None))
    assert [fault.name for fault in steady.faults] == ["negative"]


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
    few.parts, many.parts, few.faults  # noqa: B018 - worked out before the clock starts
    began = perf_counter()
    assert len(many.faults) == 2 + 2 * 2000
    assert perf_counter() - began < 5.0
