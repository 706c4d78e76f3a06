"""Switches, diodes and strips: the least that is sold and does, where it goes, and how a strip is cut."""

from __future__ import annotations

import pytest

from postcheck.report import Subject
from tests.survey.small import adaptor, survey

from .offers import given, offers

LOAD = '[[load]]\nname = "winch"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "{}"\nmost = "{}"\n{}\n'


def load(most: str, more: str = "", typical: str = "1 mA") -> str:
    return LOAD.format(typical, most, more)


# direct current that small switches are sold for: 0.1, 0.3, 0.5, 1, 2, 3, 5, 6, 10, 16, 20 A
@pytest.mark.parametrize(
    ("most", "more", "rated"),
    [
        ("100 mA", "", "100 mA"), ("101 mA", "", "300 mA"), ("310 mA", "", "500 mA"), ("510 mA", "", "1 A"), ("1.1 A", "", "2 A"),
        ("2.1 A", "", "3 A"), ("3.1 A", "", "5 A"), ("5.1 A", "", "6 A"), ("6.1 A", "", "10 A"), ("10.1 A", "", "16 A"), ("16.1 A", "", "20 A"),
        ("20.1 A", "", None),
        # what it makes counts as well
        ("100 mA", 'starting = "550 mA"', "1 A"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("kind", ["supply", "circuit"])
def test_the_least_switch_that_carries_and_makes_it(most, more, rated, kind):
    on_off = 'on_off = "50 mA 24 V"'
    made = survey(
        supply=adaptor("30 A", None) + ("\n" + on_off if kind == "supply" else ""),
        circuit=on_off if kind == "circuit" else "",
        lamps="",
        extra=load(most, more),
    )
    name = "main" if kind == "supply" else "lights"
    assert offers(made, given("switch.overload", (kind, name))) == (
        []
        if rated is None
        else [(f"Use one that is rated for {rated} of direct current.", f'{kind}.{name}.on_off = "{rated} 24 V"')]
    )  # fmt: skip
    assert offers(made, given("switch.overload", (kind, "no such"))) == []


@pytest.mark.parametrize(
    ("text", "then"),
    [('"500 mA 24 V at hull"', '"500 mA 24 V at base"'), ('"at hull"', '"at base"'), ('"500 mA"', None)],
)
def test_a_switch_out_to_where_its_line_begins(text, then):
    made = survey(circuit=f"on_off = {text}")
    sealed = given("switch.sealed", ("circuit", "lights"))
    assert offers(made, sealed) == (
        [] if then is None else [("Put it at 'base'.", f"circuit.lights.on_off = {then}")]
    )
    assert offers(made, given("switch.sealed", ("circuit", "no such"))) == []


def test_but_not_to_where_no_hand_gets_either():
    # its line begins at an output of a board, which lies where nothing opens
    board = '[board.driver]\nplace = "hull"\nsupply = "main"\n'
    feed = '[[run]]\nline = "main+"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    spot = '[circuit.spot]\nboard = "driver"\non_off = "at bow"\n'
    out = '[[run]]\nline = "spot"\nends = ["hull", "bow"]\nlength = "90 mm"\n'
    for access, offered in (("cover", True), ("sealed", False)):
        made = survey(hull=f'access = "{access}"', extra=board + feed + spot + out)
        assert offers(made, given("switch.sealed", ("circuit", "spot"))) == (
            [("Put it at 'hull'.", 'circuit.spot.on_off = "at hull"')] if offered else []
        )


# data sheets: 1N4148 0.2 A, 75 V, 1 A for a second; 1N5817 1 A, 20 V, 25 A; 1N4001 1 A, 50 V, 30 A; 1N5400 3 A, 50 V, 200 A
@pytest.mark.parametrize(
    ("most", "starting", "volts", "first"),
    [
        ("200 mA", "1 A", "12 V", "1N4148"), ("201 mA", "1 A", "12 V", "1N5817"), ("200 mA", "1.1 A", "12 V", "1N5817"),
        ("1 A", "25 A", "12 V", "1N5817"), ("1 A", "26 A", "12 V", "1N4001"), ("1 A", "31 A", "12 V", "1N5400"),
        ("1.1 A", "2 A", "12 V", "1N5400"), ("3 A", "99 A", "12 V", "1N5400"), ("3.1 A", "4 A", "12 V", None),
        # 24 V and 5 %: 25.2 V; 30 V are the next
        ("1 A", "2 A", "24 V", "1N5818"), ("1 A", "2 A", "19 V", "1N5817"), ("1 A", "2 A", "19.1 V", "1N5818"),
    ],
)  # fmt: skip
def test_the_least_diode_that_takes_its_current(most, starting, volts, first):
    supply = adaptor("100 A", None).replace("12 V", volts)
    more = f'starting = "{starting}"\ndiode = "1N914"'
    made = survey(supply=supply, lamps="", extra=load(most, more, typical=most))
    finding = given("diode.too-small", ("load", "winch"), ("load", 0, "diode"))
    assert offers(made, finding)[:1] == (
        [] if first is None else [(f"Use a {first}.", f'load.0.diode = "{first}"')]
    )
    assert offers(made, given("diode.too-small", ("load", "no such"))) == []


def test_no_diode_across_what_is_driven_both_ways():
    made = survey(lamps="", extra=load("100 mA", 'diode = "1N914"'))
    assert offers(made, given("diode.both-ways", ("load", "winch"))) == [("Mend it.", "load.0.diode -")]
    assert offers(made, given("diode.both-ways", ("load", "winch"), remedy=None)) == [
        ("Take it off.", "load.0.diode -")
    ]
    assert offers(made, given("diode.both-ways", ("load", "no such"))) == []


# -- strips of 60 LEDs a metre on 12 V: three in a segment, 50 mm from mark to mark


def strip(size: str, volts: int = 12, more: str = "") -> str:
    return f'[[strip]]\nname = "bay"\ncircuit = "lights"\nkind = "strip-{volts}v-white-60"\nplace = "hull"\n{size}\n{more}'


BAY = ("strip", "bay")


@pytest.mark.parametrize(
    ("length", "cuts"),
    [
        (0.18, [("150 mm", "3 whole segments"), ("200 mm", "4 whole segments")]),
        (0.06, [("50 mm", "1 whole segment"), ("100 mm", "2 whole segments")]),
        (0.03, [("50 mm", "1 whole segment")]),
    ],
)
def test_cut_at_the_mark_below_and_else_above(length, cuts):
    made = survey(lamps=strip('length = "180 mm"'))
    finding = given("strip.not-at-mark", BAY, figures={"length": length})
    assert offers(made, finding) == [
        (f"Cut it at {at}: {count}.", f'strip.0.length = "{at}"') for at, count in cuts
    ]
    assert offers(made, given("strip.not-at-mark", ("strip", "no such"), figures={"length": length})) == []


@pytest.mark.parametrize(
    ("volts", "of"), [(12.0, 12), (10.92, 12), (10.9, None), (13.3, 12), (13.4, None), (5.0, 5), (24.0, 24)]
)
def test_the_same_strip_for_the_volts_that_there_are(volts, of):
    made = survey(lamps=strip("segments = 6", 24 if of != 24 else 12))
    parts = {"source": Subject("supply", "main")}
    other = "24 V" if of != 24 else "12 V"
    finding = given("strip.wrong-volts", BAY, figures={"supply": volts}, parts=parts)
    same = [] if of is None else [(f"Use strip-{of}v-white-60.", f'strip.0.kind = "strip-{of}v-white-60"')]
    assert offers(made, finding) == [
        *same,
        (f"Use an adaptor of {other}.", f'supply.main.volts = "{other}"'),
    ]
    assert offers(made, given("strip.wrong-volts", BAY, figures={"supply": volts})) == same
    assert offers(made, given("strip.wrong-volts", ("strip", "x"), figures={"supply": volts})) == []


def test_another_adaptor_is_offered_for_an_adaptor_alone():
    cells = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 8'
    made = survey(lamps=strip("segments = 6", 24), supply=cells)
    parts = {"source": Subject("supply", "main")}
    assert offers(made, given("strip.wrong-volts", BAY, figures={"supply": 12.0}, parts=parts)) == [
        ("Use strip-12v-white-60.", 'strip.0.kind = "strip-12v-white-60"')
    ]


@pytest.mark.parametrize(
    ("size", "key", "pieces", "shares"),
    [
        ('length = "350 mm"', "length", 3, ['"150 mm"', '"100 mm"', '"100 mm"']),
        ("segments = 7", "segments", 3, ["3", "2", "2"]),
        ("segments = 6", "segments", 3, ["2", "2", "2"]),
        ("segments = 8", "segments", 3, ["3", "3", "2"]),
        ("segments = 5", "segments", 2, ["3", "2"]),
    ],
)
def test_in_pieces_of_whole_segments(size, key, pieces, shares):
    made = survey(lamps=strip(size))
    finding = given("strip.over-through", BAY, figures={"pieces": pieces})
    more = [
        f'strip.+ = {{ name = "bay {number}", circuit = "lights", kind = "strip-12v-white-60", place = "hull", {key} = {share} }}'
        for number, share in enumerate(shares[1:], 2)
    ]
    first = ('strip.0.name = "bay 1"', f"strip.0.{key} = {shares[0]}")
    assert offers(made, finding) == [("Mend it.", *first, *more)]
    assert offers(made, given("strip.over-through", BAY)) == []
    assert offers(made, given("strip.over-through", ("strip", "x"), figures={"pieces": pieces})) == []
    # fed at both ends it is one piece
    fed = survey(lamps=strip(size, more='far_end = "base"\n'))
    assert offers(fed, finding) == []
