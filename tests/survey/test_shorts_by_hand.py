"""Shorts of measured wires: Ohm's law for each current, and the laws of a wire in air for where that leaves it.

Air of 35 degC, wires of 0.5 and 2 ohm/m; 300 mm there, 300 mm back, a lead of two times 120 mm.
"""

from __future__ import annotations

from math import inf, pi
from typing import Any

import pytest

import postcheck
from postcheck.limits import Limits
from postcheck.physics.wire_heat import loss_per_metre, settles_at, warms_to
from postcheck.survey import Survey
from postcheck.survey.heat.faults import Faults, _rounded
from postcheck.survey.heat.figures import ConductorFault, FaultHeat
from postcheck.survey.heat.fuses import _least, protecting_fuse, with_fuse

HEAD = """
format = 1
[build]
name = "Tender"
air = "5..35 degC"
[usual]
run = "stout"
lead = "fine"
[wire.stout]
strand = "0.3 mm"
outside = "0.8 mm"
ohms_per_metre = "0.5 ohm/m"
stands = "105 degC"
stands_briefly = "160 degC"
[wire.fine]
strand = "0.1 mm"
outside = "0.2 mm"
ohms_per_metre = "2 ohm/m"
[supply.main]
place = "base"
{main}
[place.base]
access = "open"
[place.hull]
access = "open"
[place.bow]
access = "open"
[circuit.lights]
supply = "main"
{circuit}
[[run]]
name = "feed"
line = "lights"
ends = ["base", "hull"]
length = "300 mm"
[[run]]
name = "back"
line = "main-"
ends = ["base", "hull"]
length = "300 mm"
[[lamp]]
name = "bow"
circuit = "lights"
kind = "smd-0402-red"
place = "bow"
resistor = "1k5 1/4 W{at}"
lead = "120 mm to hull"
"""
# A resettable fuse trips at so many times its current in air of 5 degC: 0.75 % a kelvin below 20 (makers' tables, from memory).
COLD = 1.0 + 15.0 * 0.0075
ADAPTOR = 'kind = "adaptor"\nvolts = "12 V"\ntolerance = "5 %"\n'


def survey(main: str, extra: str = "", circuit: str = "", at: str = "") -> Survey:
    return Survey(postcheck.loads(HEAD.format(main=main, circuit=circuit, at=at) + extra))


def faults(made: Survey) -> dict[tuple[str, str], ConductorFault]:
    return {(fault.name, fault.leg): fault for fault in made.faults}


def near(value: Any, rel: float = 1e-9) -> Any:
    return pytest.approx(value, rel=rel)


RUNS, LEGS = [("feed", ""), ("back", "")], [("bow", "supply"), ("bow", "return")]


@pytest.mark.parametrize(
    ("main", "low", "inside"),
    [
        (ADAPTOR + 'resistance = "1.2 ohm"', 11.4, 1.2),
        ('kind = "battery"\nchemistry = "alkaline"\nsize = "aa"\ncells = 3', 2.7, 0.9),
        ('kind = "usb"\nresistance = "0.8 ohm"', 4.75, 0.8),
    ],
)
def test_the_least_current_of_a_short_at_the_far_end(main: str, low: float, inside: float) -> None:
    found = faults(survey(main))
    assert set(found) == {*RUNS, *LEGS}
    for key in RUNS:
        assert found[key].current == near(low / (inside + 0.3))
    for key in LEGS:
        assert found[key].current == near(low / (inside + 0.3 + 0.48))
    assert {(fault.kind, fault.supply, fault.fuse, fault.opens) for fault in found.values()} == {
        ("run", "main", None, False),
        ("lead", "main", None, False),
    }


@pytest.mark.parametrize(
    ("main", "sure", "most"),
    [
        ('rated = "400 mA"', 0.4, 0.8),
        ('rated = "400 mA"\ncurrent_limit = "600 mA"', 0.6, 0.6),
        ('rated = "2 A"\nfuse = "250 mA"', 0.525, 0.525),
        ('rated = "2 A"\nfuse = "250 mA slow"', 0.525, 0.525),
        ('rated = "2 A"\nfuse = "250 mA UL"', 0.3375, 0.3375),
        ('rated = "2 A"\nfuse = "250 mA resettable"', 0.75 * COLD, 0.75 * COLD),
        ('rated = "500 mA"\nfuse = "250 mA resettable"', 0.5, 0.75 * COLD),
        ('rated = "450 mA"\nfuse = "400 mA"', 0.45, 0.84),
    ],
)
def test_the_largest_current_that_nothing_is_sure_to_end(main: str, sure: float, most: float) -> None:
    """A fuse is asked for nothing below 2.1 times its rating (IEC 60127-2), 1.35 by UL 248-14, 3 (in the cold) where it resets itself."""
    made = survey(ADAPTOR + 'resistance = "1.2 ohm"\n' + main)
    for key, fault in faults(made).items():
        assert (fault.sure.lasting, fault.most.lasting) == near((sure, most)), key
        outside, ohms = (0.8e-3, 0.5) if fault.kind == "run" else (0.2e-3, 2.0)
        for heat in (fault.sure, fault.most):
            # worked out for the current to three digits, rounded up
            settled = settles_at(heat.lasting, ohms, outside, 35.0)
            if not fault.part_way:
                assert heat.settled == pytest.approx(settled, abs=0.5)
            assert heat.stands == (105.0 if fault.kind == "run" else 80.0)
    fuse = next(iter(made.build.supply.values())).fuse
    assert {fault.fuse for fault in made.faults} == {None if fuse is None else fuse.rated}
    # 11.4 V over 1.98 ohm: 5.8 A at the least
    assert {fault.opens for fault in made.faults} == {fuse is not None}


def test_whether_the_least_current_opens_the_fuse() -> None:
    """11.4 V over 5 + 0.3 + 0.48 ohm drive 1.9723 A through the lead: 2.1 times 939.2 mA."""
    for rated, opens in (("939 mA", True), ("940 mA", False)):
        fault = faults(survey(ADAPTOR + f'rated = "5 A"\nresistance = "5 ohm"\nfuse = "{rated}"'))[LEGS[0]]
        assert fault.opens is opens


def test_a_fuse_of_which_its_maker_says_when_it_trips() -> None:
    main = 'rated = "5 A"\nresistance = "1.2 ohm"\nfuse = { rated = "250 mA", kind = "resettable", trips_at = "600 mA", trips_in = "3 s" }'
    fault = faults(survey(ADAPTOR + main))[LEGS[0]]
    assert fault.sure.lasting == near(0.6 * COLD)


def test_the_way_back_that_a_short_finds_may_be_short_or_long() -> None:
    """A return of its own of 900 mm beside one of 300 mm: the current is the least by the long one, the heat by the short one."""
    own = (
        '[circuit.aft]\nsupply = "main"\nown_return = true\n[[run]]\nname = "aft feed"\nline = "aft"\nends = ["base", "hull"]\nlength = "500 mm"\n'
        '[[run]]\nname = "aft back"\nline = "aft-return"\nends = ["base", "hull"]\nlength = "900 mm"\n'
    )
    found = faults(survey(ADAPTOR + 'resistance = "1.2 ohm"\nrated = "40 A"', own))
    assert found["feed", ""].current == near(11.4 / (1.2 + 0.15 + 0.45))
    assert found["aft feed", ""].current == near(11.4 / (1.2 + 0.25 + 0.45))
    # of a return: from the nearest of both feeds to the farthest
    assert found["aft back", ""].current == near(11.4 / (1.2 + 0.45 + 0.25))
    # with what flows by the nearest way back
    assert found["feed", ""].sure.lasting == near(12.0 / (1.2 + 0.15 + 0.15))
    assert found["aft feed", ""].sure.lasting == near(12.0 / (1.2 + 0.25 + 0.15))


def test_several_conductors_side_by_side_share_what_flows() -> None:
    made = survey(
        ADAPTOR + 'resistance = "1.2 ohm"\nrated = "40 A"',
        '[[run]]\nname = "pair"\nline = "lights"\nends = ["hull", "bow"]\nlength = "400 mm"\nconductors = 2\n',
    )
    pair = faults(made)["pair", ""]
    assert pair.current == near(
        11.4 / (1.2 + 0.15 + 0.1 + 0.25)
    )  # back by as long a way: nothing else comes there
    assert pair.sure.lasting == near(12.0 / (1.2 + 0.15 + 0.1 + 0.25) / 2.0)


def test_a_short_nearer_than_the_far_end_may_be_the_worse_one() -> None:
    """A lead of 3 m: 12 V behind 1.2 ohm drive 0.89 A to its end, and the 2 A that it is rated for at its beginning."""
    long = HEAD.replace("120 mm to hull", "3 m to hull")
    made = Survey(
        postcheck.loads(
            long.format(
                main=ADAPTOR + 'resistance = "1.2 ohm"\nrated = "1.2 A"\ncurrent_limit = "1.5 A"',
                circuit="",
                at="",
            )
        )
    )
    fault = faults(made)[LEGS[0]]
    far = settles_at(12.0 / (1.2 + 0.3 + 12.0), 2.0, 0.2e-3, 35.0)
    assert far is not None
    assert far < 80.0
    near_by = settles_at(1.5, 2.0, 0.2e-3, 35.0)
    assert near_by is None or near_by > 80.0
    assert fault.part_way
    assert fault.hurt
    assert (fault.current, fault.sure.lasting) == near((1.5, 1.5))
    assert (fault.opens, fault.sure.for_now, fault.sure.stands) == (False, 80.0, 80.0)


def test_what_a_conductor_withstands_of_what_hurts_it() -> None:
    cases = {
        # lasting hurt, no peak; hurt until it opens; sound; melts
        FaultHeat(1.0, 90.0, 90.0, 80.0, 80.0): (True, 80.0, 90.0),
        FaultHeat(1.0, 70.0, 170.0, 80.0, 160.0): (True, 160.0, 170.0),
        FaultHeat(1.0, 70.0, 150.0, 80.0, 160.0): (False, 160.0, 150.0),
        FaultHeat(1.0, 80.0, 160.0, 80.0, 160.0): (False, 160.0, 160.0),
        FaultHeat(1.0, None, 150.0, 80.0, 160.0): (True, 80.0, None),
        FaultHeat(1.0, 70.0, None, 80.0, 160.0): (True, 160.0, None),
        FaultHeat(1.0, 75.0, 60.0, 80.0, 160.0): (False, 160.0, 75.0),
    }
    for heat, (hurt, withstands, hottest) in cases.items():
        assert (heat.hurt, heat.withstands, heat.hottest) == (hurt, withstands, hottest), heat


def test_only_what_the_supply_may_give_beyond_its_rating_is_unsure() -> None:
    made = survey(ADAPTOR + 'resistance = "1.2 ohm"\nrated = "900 mA"')
    lead, run = faults(made)[LEGS[0]], faults(made)[RUNS[0]]
    assert (lead.hurt, lead.unsure) == (lead.sure.hurt, lead.most.hurt and not lead.sure.hurt)
    sure, most = (settles_at(amps, 2.0, 0.2e-3, 35.0) for amps in (0.9, 1.8))
    assert sure is not None
    assert sure < 80.0
    assert most is None or most > 80.0
    assert lead.unsure
    assert (run.hurt, run.unsure) == (False, False)


# a resistor at the hub limits the lead, one at the lamp does not; nor what a steady output feeds
def test_what_limits_a_lead() -> None:
    main = ADAPTOR + 'resistance = "1.2 ohm"\nrated = "5 A"'
    assert set(faults(survey(main, at=" at hull"))) == set(RUNS)
    assert set(faults(survey(main, at=" at bow"))) == {*RUNS, *LEGS}
    assert set(faults(survey(main, circuit='output = { steady = "10 mA" }'))) == set()


def test_the_shorts_of_one_supply_with_another_fuse() -> None:
    made = survey(ADAPTOR + 'resistance = "1.2 ohm"\nrated = "5 A"\nfuse = "500 mA"')
    worked = Faults(made.wiring, made.limits, made.in_use)
    with_other = with_fuse(made.build, "main", 0.2, "slow", "glass")
    spec = with_other.supply["main"].fuse
    assert spec is not None
    assert (spec.rated, spec.kind, spec.body, spec.place) == (0.2, "slow", "glass", None)
    other = {(fault.name, fault.leg): fault for fault in worked.of("main", spec)}
    assert other == faults(Survey(with_other))
    assert {fault.fuse for fault in other.values()} == {0.2}
    assert list(worked.of("none", spec)) == []


@pytest.mark.parametrize(
    ("carries", "most", "protects", "rating"),
    [
        (0.11, 1.0, inf, 0.125),
        (0.125, 1.0, inf, 0.125),
        (0.01, 1.0, inf, 0.1),
        # a larger one than the supply is rated for promises nothing
        (0.11, 0.12, inf, None),
        (0.11, 0.125, inf, 0.125),
        # where 100 mA is too much: the largest below it that is not
        (0.03, 1.0, 0.07, 0.063),
        (0.03, 1.0, 0.05, 0.05),
        (0.03, 1.0, 0.032, 0.032),
        (0.04, 1.0, 0.035, None),
        (0.03, 0.05, inf, 0.05),
        (0.001, 1.0, 0.033, 0.032),
        (0.09, 1.0, 0.08, None),
        (20.0, 50.0, inf, None),
    ],
)
def test_the_rating_of_a_fuse_that_carries_and_protects(
    carries: float, most: float, protects: float, rating: float | None
) -> None:
    """Of the ratings of IEC 60127-1: 32, 40, 50, 63, 80 mA and 100, 125 and so on."""
    assert _least(carries, most, lambda rated: rated <= protects) == rating


@pytest.mark.parametrize(
    ("inside", "carries", "rating"),
    [("15 ohm", 0.36, 0.4), ("15 ohm", 0.361, None), ("1.2 ohm", 0.36, 0.4), ("1.2 ohm", 0.361, None), ("1.2 ohm", 0.05, 0.1)],
)  # fmt: skip
def test_a_fuse_that_protects_keeps_the_wire_cool_and_opens_for_the_farthest_short(
    inside: str, carries: float, rating: float | None
) -> None:
    """Loaded to nine tenths. Behind 15 ohm a short at the lamp draws 11.4 V / 15.78 ohm = 722 mA, and 500 mA are made to hold 750.

    Behind 1.2 ohm it draws amperes: 2.1 times 400 mA leave the lead below its 80 degC, 2.1 times 500 mA do not.
    """
    made = survey(ADAPTOR + f'resistance = "{inside}"\nrated = "5 A"')
    cool, hot = (settles_at(2.1 * rated, 2.0, 0.2e-3, 35.0) for rated in (0.4, 0.5))
    assert cool is not None
    assert hot is not None
    assert cool < 80.0 < hot
    assert protecting_fuse(made.shorts, "main", carries) == rating


@pytest.mark.parametrize("bores", [("2.4", "6"), ("6", "2.4")])
def test_a_run_through_two_passages_sheds_its_heat_in_the_slimmer(bores: tuple[str, str]) -> None:
    arm = '[passage.{name}]\nfrom = "{a}"\nto = "{b}"\nbore = "{bore} mm"\nlength = "90 mm"\n'
    twig = '[[run]]\nname = "twig"\nline = "lights"\nends = ["hull", "bow"]\nlength = "300 mm"\nthrough = ["there", "back"]\n'
    passages = arm.format(name="there", a="hull", b="bow", bore=bores[0]) + arm.format(
        name="back", a="bow", b="hull", bore=bores[1]
    )
    fault = faults(survey(ADAPTOR + 'current_limit = "2.5 A"', passages + twig))["twig", ""]
    slim, wide = (settles_at(2.5, 0.5, 0.8e-3, 35.0, bore) for bore in (0.0024, 0.006))
    assert slim is not None
    assert wide is not None
    assert abs(slim - wide) > 2.0
    assert fault.sure.settled == pytest.approx(slim, abs=0.5)


def test_a_run_in_which_a_short_is_worst_where_it_begins() -> None:
    """3 m of fine wire beyond the hull: 12 V drive 0.89 A to its end, and 8 A to its beginning through 1.5 ohm."""
    twig = '[[run]]\nname = "twig"\nline = "lights"\nends = ["hull", "bow"]\nlength = "3 m"\nwire = "fine"\n'
    main = 'kind = "battery"\nvolts = "12 V"\nresistance = "1.2 ohm"'
    fault = faults(survey(main, twig))["twig", ""]
    far = settles_at(12.0 / 13.5, 2.0, 0.2e-3, 35.0)
    assert far is not None
    assert far < 80.0
    assert fault.part_way
    assert (fault.current, fault.sure.lasting) == near((8.0, 8.0))


@pytest.mark.parametrize(
    ("amps", "rounded"),
    [
        (0.0, 0.0),
        (-1.0, 0.0),
        (inf, 1e6),
        (1.234, 1.234),
        (1.2341, 1.235),
        (12.34, 12.34),
        (12.341, 12.35),
        (0.5678, 0.568),
        (0.012341, 0.0124),
        (2.0, 2.0),
    ],
)
def test_a_current_is_worked_out_to_three_digits_up(amps: float, rounded: float) -> None:
    assert _rounded(amps) == near(rounded)


@pytest.mark.parametrize(
    ("fuse", "seconds"),
    [
        # 12 V over 0.9 + 0.3 + 0.48 ohm are 7.14 A: past ten times 500 mA a quick fuse has opened within 20 ms x (5 / 7.14)**2
        ("500 mA", 0.02 * (5.0 / (12.0 / 1.68)) ** 2),
        # past four times 1 A within 0.3 s x (4 / 7.14)**2
        ("1 A", 0.3 * (4.0 / (12.0 / 1.68)) ** 2),
        ("500 mA slow glass", 0.3 * (5.0 / (12.0 / 1.68)) ** 2),
    ],
)
def test_how_hot_a_lead_gets_until_the_fuse_opens(fuse: str, seconds: float) -> None:
    """As warm as its copper holds, less what flows off near what its insulation stands for a moment (IEC 60364-5-54 and IEC 60127-2)."""
    lead = faults(survey(ADAPTOR + f'resistance = "0.9 ohm"\nrated = "40 A"\nfuse = "{fuse}"'))[LEGS[0]]
    amps = 12.0 / 1.68
    copper = pi * 0.05e-3**2
    loss = loss_per_metre(0.2e-3, 45.0, 35.0, None) / 45.0
    assert seconds * loss < 5.0 * 3.45e6 * copper
    peak = warms_to(amps, seconds, copper, 2.0, loss, 35.0)
    assert lead.opens
    if peak > 1083.0:
        assert lead.sure.peak is None
    else:
        assert lead.sure.peak == near(peak)
    # what it stands for so short a time is what it stands for good, where the file says no more
    assert (lead.sure.for_now, lead.sure.stands) == (80.0, 80.0)
    stout = faults(survey(ADAPTOR + f'resistance = "0.9 ohm"\nrated = "40 A"\nfuse = "{fuse}"'))[RUNS[0]]
    assert (stout.sure.for_now, stout.sure.stands) == (160.0, 105.0)


def test_what_lies_ahead_of_a_fuse_has_none() -> None:
    """A fuse at the hull: runs up to it have none, what goes on from there has, and so has the lead."""
    twig = '[[run]]\nname = "twig"\nline = "lights"\nends = ["hull", "bow"]\nlength = "200 mm"\n'
    main = ADAPTOR + 'resistance = "1.2 ohm"\nrated = "5 A"\n'
    found = faults(survey(main + 'fuse = "500 mA at hull"', twig))
    assert {key: fault.fuse for key, fault in found.items()} == {
        ("feed", ""): None,
        ("back", ""): None,
        ("twig", ""): 0.5,
        ("bow", "supply"): 0.5,
        ("bow", "return"): 0.5,
    }
    assert found["feed", ""].sure.lasting == near(5.0)
    assert found["twig", ""].sure.lasting == near(1.05)
    # at the supply's own place it has all behind it
    assert {fault.fuse for fault in faults(survey(main + 'fuse = "500 mA at base"', twig)).values()} == {0.5}
    # at the far end of all it guards nothing but what is there
    far = faults(survey(main + 'fuse = "500 mA at bow"', twig))
    assert {key: fault.fuse for key, fault in far.items()} == {
        ("feed", ""): None,
        ("back", ""): None,
        ("twig", ""): None,
        ("bow", "supply"): None,
        ("bow", "return"): None,
    }


def test_a_short_through_nothing_counts_as_one_of_a_milliohm() -> None:
    """An ideal supply and runs of no ohms: 11.4 V over a thousandth of an ohm."""
    text = HEAD.format(main=ADAPTOR, circuit="", at="").replace('length = "300 mm"', 'ohms = "0 ohm"')
    for key in RUNS:
        fault = faults(Survey(postcheck.loads(text)))[key]
        assert fault.current == near(11.4e3)


def test_a_lead_that_a_slow_fuse_leaves_to_settle_is_as_hot_as_it_settles() -> None:
    """12 V over 13.16 + 0.3 + 0.48 ohm: 0.861 A, 2.15 times 400 mA. Half an hour may pass; the wire has settled in seconds."""
    lead = faults(survey(ADAPTOR + 'resistance = "13.16 ohm"\nrated = "40 A"\nfuse = "400 mA"'))[LEGS[0]]
    amps = 12.0 / (13.16 + 0.78)
    settled = settles_at(0.861, 2.0, 0.2e-3, 35.0)
    assert 0.84 < amps < 0.861
    assert settled is not None
    assert 45.0 < settled < 80.0
    assert (lead.sure.lasting, lead.sure.peak) == (near(0.84), near(settled, 1e-6))
    lasting = settles_at(0.84, 2.0, 0.2e-3, 35.0)
    assert lead.sure.settled == near(lasting, 1e-6)


@pytest.mark.parametrize(
    ("trace", "ohms"), [("", 0.0), ('trace = "4 ohm/m"\n', 0.4), ('lead = "150 mm to hull"\n', 0.3)]
)
def test_what_a_strip_feeds_from_its_far_end_is_reached_through_its_traces(trace: str, ohms: float) -> None:
    """Two segments of 50 mm, or its lead; what was not measured counts as nothing, so that a short draws the most."""
    strip = (
        '[strip_kind.own]\nvolts = "12 V"\nsegment = "50 mm"\nseries = 3\nohms = "150 ohm"\nkind = "smd-0402-red"\n'
        f'[[strip]]\nname = "deck"\ncircuit = "lights"\nkind = "own"\nplace = "hull"\nsegments = 2\nfar_end = "aft"\n{trace}'
        '[place.aft]\naccess = "open"\n[place.end]\naccess = "open"\n'
        '[[run]]\nname = "on"\nline = "lights"\nends = ["aft", "end"]\nlength = "200 mm"\n'
        '[[run]]\nname = "home"\nline = "main-"\nends = ["aft", "end"]\nlength = "200 mm"\n'
    )
    found = faults(survey(ADAPTOR + 'resistance = "1.2 ohm"\nrated = "40 A"', strip))
    assert found["on", ""].current == near(11.4 / (1.2 + 0.3 + 2.0 * ohms + 0.2))
    assert found["home", ""].current == near(11.4 / (1.2 + 0.3 + 2.0 * ohms + 0.2))


def test_each_leg_of_a_strip_leads_on_on_its_own_side() -> None:
    """0.3 ohm there, 0.5 ohm back; what goes back by a wire of its own has 0.1."""
    strip = (
        '[strip_kind.own]\nvolts = "12 V"\nsegment = "50 mm"\nseries = 3\nohms = "150 ohm"\nkind = "smd-0402-red"\n'
        '[[strip]]\nname = "deck"\ncircuit = "lights"\nkind = "own"\nplace = "hull"\nsegments = 2\nfar_end = "aft"\n'
        'lead = { to = "hull", feed = { length = "150 mm" }, back = { length = "250 mm" } }\n'
        '[place.aft]\naccess = "open"\n[place.end]\naccess = "open"\n'
        '[[run]]\nname = "on"\nline = "{line}"\nends = ["aft", "end"]\nlength = "200 mm"\n'
        '[[run]]\nname = "straight"\nline = "{other}"\nends = ["base", "end"]\nlength = "200 mm"\n'
    )
    for line, other, leg in (("lights", "main-", 0.3), ("main-", "lights", 0.5)):
        text = strip.replace("{line}", line).replace("{other}", other)
        found = faults(survey(ADAPTOR + 'resistance = "1.2 ohm"\nrated = "40 A"', text))
        assert found["on", ""].current == near(11.4 / (1.2 + 0.15 + leg + 0.1 + 0.1))


def test_a_lead_in_which_a_short_is_worst_where_it_begins() -> None:
    """3 m of lead: 12 V behind 1.2 ohm drive 8 A through the runs there and back, and 0.89 A to its end."""
    long = HEAD.replace("120 mm to hull", "3 m to hull")
    main = 'kind = "battery"\nvolts = "12 V"\nresistance = "1.2 ohm"'
    found = faults(Survey(postcheck.loads(long.format(main=main, circuit="", at=""))))
    for leg in LEGS:
        assert found[leg].part_way
        assert (found[leg].current, found[leg].sure.lasting) == near((8.0, 8.0))


def test_a_lead_of_which_nobody_knows_the_wire_is_no_subject() -> None:
    text = HEAD.replace('lead = "fine"\n', "").format(main=ADAPTOR + 'rated = "5 A"', circuit="", at="")
    assert set(faults(Survey(postcheck.loads(text)))) == set(RUNS)


def test_a_wire_that_warms_holds_its_own_short_back() -> None:
    """A metre of lead on 6 V behind 1.2 ohm: cold 1.09 A; one leg warms, the other is taken as cold, and so are the runs."""
    long = HEAD.replace("120 mm to hull", "1 m to hull")
    main = 'kind = "battery"\nvolts = "6 V"\nresistance = "1.2 ohm"'
    lead = faults(Survey(postcheck.loads(long.format(main=main, circuit="", at=""))))[LEGS[0]]

    def amps(celsius: float) -> float:
        return 6.0 / (1.2 + 0.3 + 2.0 + 2.0 * (1.0 + 0.00393 * (celsius - 20.0)))

    cold, warm = (settles_at(each, 2.0, 0.2e-3, 35.0) for each in (amps(20.0), amps))
    assert warm is not None
    assert warm > 80.0
    assert cold is None or cold > warm + 1.0
    assert lead.sure.settled == near(warm, 1e-6)
    assert lead.sure.lasting == near(6.0 / 5.5)


def test_a_fuse_that_trips_at_just_what_flows_ends_it_in_its_time() -> None:
    main = 'rated = "667.5 mA"\nresistance = "1.2 ohm"\nfuse = { rated = "250 mA", kind = "resettable", trips_at = "600 mA", trips_in = "3 s" }'
    heat = faults(survey(ADAPTOR + main))[RUNS[0]].sure
    # within 5 s its insulation stands more than for good
    assert (heat.lasting, heat.for_now, heat.stands) == (near(0.6 * COLD), 160.0, 105.0)
    slow = faults(survey(ADAPTOR + main.replace("3 s", "6 s")))[RUNS[0]].sure
    assert slow.for_now == 105.0


def test_a_changed_limit_of_insulation_is_a_share_of_what_it_is_rated_for() -> None:
    made = survey(ADAPTOR + 'resistance = "1.2 ohm"\nrated = "400 mA"')
    less = Survey(made.build, Limits({"wire.insulation": (0.9, "warm hull")}))
    assert sorted({fault.sure.stands for fault in less.faults}) == near([0.9 * 80.0, 0.9 * 105.0])
    # what lies nearer than the far end is judged by it, too
    long = HEAD.replace("120 mm to hull", "3 m to hull")
    main = ADAPTOR + 'resistance = "1.2 ohm"\nrated = "1.2 A"\ncurrent_limit = "1.5 A"'
    build = Survey(postcheck.loads(long.format(main=main, circuit="", at=""))).build
    lead = faults(Survey(build, Limits({"wire.insulation": (0.9, "warm hull")})))[LEGS[0]]
    assert lead.part_way
    assert (lead.sure.stands, lead.sure.for_now) == near((72.0, 72.0))


def test_a_short_at_the_near_end_of_a_run_goes_back_by_the_nearest_way() -> None:
    """Three metres far the wire holds it back; at its beginning 9.6 V drive it through 1.2 ohm, 0.15 there and 0.3 back."""
    runs = (
        '[[run]]\nname = "mast feed"\nline = "lights"\nends = ["hull", "bow"]\nlength = "3 m"\n'
        '[[run]]\nname = "mast back"\nline = "main-"\nends = ["bow", "hull"]\nlength = "3 m"\n'
    )
    text = HEAD.replace(
        'line = "main-"\nends = ["base", "hull"]\nlength = "300 mm"',
        'line = "main-"\nends = ["base", "hull"]\nlength = "600 mm"',
    )
    text = text[: text.index("[[lamp]]")] + text[text.index("[[lamp]]") :].replace(
        'lead = "120 mm to hull"\n', ""
    ).replace("{at}", "")
    pack = 'kind = "battery"\nvolts = "9.6 V"\nresistance = "1.2 ohm"'
    found = faults(Survey(postcheck.loads(text.format(main=pack, circuit="") + runs)))
    for name in ("mast feed", "mast back"):
        fault = found[name, ""]
        assert fault.part_way
        assert fault.current == near(9.6 / (1.2 + 0.15 + 0.3))
        assert fault.sure.lasting == near(9.6 / (1.2 + 0.15 + 0.3))
