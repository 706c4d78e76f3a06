"""Diodes across motors, cells in warm air, and ways, on both sides of each limit, with figures of our own. Room: 35 degC."""

from __future__ import annotations

from typing import Any

import pytest

from postcheck.checks import cells, diodes, ways
from postcheck.report import Subject
from postcheck.survey import Survey
from tests.survey.small import adaptor, lamp, survey

from .facts import asked, facts, units, values, with_figures

WINCH = Subject("load", "winch")
LOAD = '[[load]]\nname = "winch"\nkind = "{kind}"\ncircuit = "{circuit}"\nplace = "hull"\ntypical = "10 mA"\nmost = "{most}"\n{more}\n'


def winch(
    most: str = "100 mA",
    more: str = "",
    circuit: str = "",
    kind: str = "motor",
    on: str = "lights",
    **parts: Any,
) -> Survey:
    return survey(
        lamps="",
        circuit=circuit,
        extra=LOAD.format(kind=kind, circuit=on, most=most, more=more) + parts.pop("extra", ""),
        **parts,
    )


# -- 1N4148: 0.2 A for good, 1 A for a moment, 75 V; 1N5817: 1 A, 25 A, 20 V (data sheets)


@pytest.mark.parametrize(
    ("diode", "most", "starting", "volts", "behaviour", "severity", "case", "gets"),
    [
        ("1N4148", "200 mA", "1 A", 12.6, "", None, None, 0), ("1N4148", "201 mA", "1 A", 12.6, "", "caution", "current", 0.201), ("1N4148", "201 mA", "1 A", 12.6, "flash", "stop", "again", 0.201),
        ("1N4148", "200 mA", "1.01 A", 12.6, "", "stop", "held", 1.01), ("1N4148", "1.01 A", "", 12.6, "", "caution", "current", 1.01),
        ("1N5817", "900 mA", "2 A", 20.0, "", None, None, 0), ("1N5817", "900 mA", "2 A", 20.1, "", "stop", "reverse", 20.1),
    ],
)  # fmt: skip
def test_a_diode_that_is_too_small(diode, most, starting, volts, behaviour, severity, case, gets):
    more = f'diode = "{diode}"\n' + (f'starting = "{starting}"' if starting else "")
    circuit = f'behaviour = "{behaviour}"\nrate = "60 /min"' if behaviour else ""
    made = winch(most, more, circuit)
    made = with_figures(
        made, supplies={"main": made.electrics.supplies["main"]._replace(highest_volts=volts)}
    )
    got = facts(diodes, "diode.too-small", made)
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, case)] if severity else [])
    for fact in got:
        assert values(fact) == {"gets": pytest.approx(gets)}
        assert units(fact) == {"gets": "V" if case == "reverse" else "A"}
        assert (fact.subject, fact.path, bool(fact.firm)) == (WINCH, ("load", 0, "diode"), case == "reverse")


@pytest.mark.parametrize(
    ("more", "found"),
    [('diode = "1N4001"\nreverses = true', True), ('diode = "1N4001"', False), ("reverses = true", False)],
)
def test_a_diode_across_what_is_driven_both_ways(more, found):
    got = facts(diodes, "diode.both-ways", winch(more=more))
    assert len(got) == found
    for fact in got:
        assert (fact.severity, fact.parts, bool(fact.firm)) == (
            "stop",
            {"supply": Subject("supply", "main")},
            True,
        )


BOARD = '[board.driver]\nplace = "base"\nsupply = "main"\n[circuit.channel]\nboard = "driver"\n[[run]]\nline = "channel"\nends = ["base", "hull"]\nlength = "300 mm"\n'


@pytest.mark.parametrize(
    ("parts", "vital", "by"),
    [
        ({}, None, None), ({"circuit": 'output = "1 A, 0.2 V drop"'}, True, "'lights'"), ({"on": "channel", "extra": BOARD}, True, "'driver'"), ({"circuit": 'on_off = "1 A"'}, False, "switch of"),
        ({"supply": adaptor() + '\non_off = "1 A"'}, False, "switch of"), ({"circuit": 'on_off = "1 A"\noutput = "1 A, 0.2 V drop"'}, True, "'lights'"),
        ({"circuit": 'on_off = "1 A"', "more": 'diode = "1N4001"'}, None, None), ({"circuit": 'on_off = "1 A"', "kind": "sound"}, None, None),
    ],
)  # fmt: skip
def test_what_the_kick_of_a_motor_hurts(parts, vital, by):
    questions = asked(diodes, "diode.missing", winch(**parts))
    assert [question.vital for question in questions] == ([vital] if by else [])
    for question in questions:
        assert by in question.what
        assert ("switch of" in question.what) is (by == "switch of")
        assert question.lines
        assert question.under == ("load", 0)
    both = (
        asked(
            diodes, "diode.missing", winch(**{**parts, "more": parts.get("more", "") + "\nreverses = true"})
        )
        if by
        else []
    )
    assert [question.lines for question in both] == ([()] if by else [])


def test_a_kick_goes_through_what_is_lit_by_the_switched_supply_and_through_nothing_else():
    switched = adaptor() + '\non_off = "1 A"'
    aft = '[supply.aft]\nkind = "adaptor"\nplace = "base"\nvolts = "12 V"\nrated = "1 A"\n[circuit.{0}]\nsupply = "{1}"\n[[run]]\nline = "{0}"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    for supply, told in (("main", True), ("aft", False)):
        deck = aft.format("deck", supply) + lamp().replace('"lights"', '"deck"')
        if supply == "aft":
            deck += '[[run]]\nline = "aft-"\nends = ["base", "hull"]\nlength = "300 mm"\n'
        (question,) = asked(diodes, "diode.missing", winch(supply=switched, extra=deck))
        assert ("bow lamp" in question.what) is told


# -- cells: 60 degC in use, 45 of lithium while it is charged


CELLS = 'kind = "battery"\nplace = "hull"\nchemistry = "{}"\n{}\n'
CLOSED = 'access = "cover"\nmaterial = "abs"\nsurface = "100 cm2"'


@pytest.mark.parametrize(
    ("chemistry", "air", "severity", "case", "limit"),
    [
        ("alkaline", 60.0, None, None, 0), ("alkaline", 60.1, "caution", "other cells", 60.0), ("li-ion", 45.0, None, None, 0), ("li-ion", 45.1, "note", "charging", 45.0),
        ("li-ion", 60.0, "note", "charging", 45.0), ("li-ion", 60.1, "stop", "lithium", 60.0),
    ],
)  # fmt: skip
def test_cells_in_warm_air(chemistry, air, severity, case, limit):
    size = 'size = "aa"\ncells = 8' if chemistry == "alkaline" else 'size = "18650"\ncells = 3'
    made = survey(supply=CELLS.format(chemistry, size), hull=CLOSED, lamps="")
    place = made.places["hull"]._replace(hottest=air, rise=20.0, heat=2.0)
    made.__dict__["places"] = {"hull": place}
    got = facts(cells, "battery.hot", made)
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, case)] if severity else [])
    for fact in got:
        # 2 W for 20 K: from 35 degC to the limit, a hundredth less
        assert values(fact) == {"air": air, "allowed": pytest.approx(0.99 * 2.0 * (limit - 35.0) / 20.0)}
        assert units(fact) == {"air": "degC", "allowed": "W"}
        assert fact.limit is not None
        assert (fact.limit.value, fact.path, fact.because_of) == (
            limit,
            ("supply", "main", "place"),
            "place.too-hot:hull",
        )
        assert bool(fact.firm) is (severity == "stop")
    for figures in ({"rise": 0.0}, {"rise": None}, {"hottest": None}):
        made.__dict__["places"] = {"hull": place._replace(**figures)}
        assert facts(cells, "battery.hot", made) == []


def test_where_the_room_is_too_warm_no_heat_is_allowed():
    made = survey(
        supply=CELLS.format("li-ion", 'size = "18650"\ncells = 3'), hull=CLOSED, lamps="", air="5..45 degC"
    )
    made.__dict__["places"] = {"hull": made.places["hull"]._replace(hottest=50.0, rise=5.0, heat=2.0)}
    (fact,) = facts(cells, "battery.hot", made)
    assert values(fact) == {"air": 50.0}


@pytest.mark.parametrize(
    ("access", "more", "found", "lines"),
    [
        ("open", "", True, ('access = "cover"', 'opens_with = "tool"')), ("cover", "", True, ('opens_with = "tool"',)), ("cover", 'opens_with = "tool"', False, ()), ("sealed", "", False, ()),
    ],
)  # fmt: skip
def test_a_coin_cell_in_reach_of_a_child(access, more, found, lines):
    coin = 'kind = "battery"\nplace = "hull"\nchemistry = "lithium-coin"\nsize = "cr2032"\ncells = 1'
    got = facts(cells, "battery.coin", survey(supply=coin, hull=f'access = "{access}"\n{more}', lamps=""))
    assert len(got) == found
    for fact in got:
        assert (fact.severity, fact.case, fact.lines, bool(fact.firm)) == ("caution", access, lines, True)
        assert fact.parts == {"place": Subject("place", "hull")}


@pytest.mark.parametrize(
    ("access", "more", "found"),
    [("cover", "", True), ("sealed", "", True), ("cover", "vented = true", False), ("open", "", False)],
)
def test_gas_in_a_closed_body(access, more, found):
    lead = 'kind = "battery"\nplace = "hull"\nchemistry = "lead-acid"\ncells = 6\ncapacity = "1.2 Ah"'
    got = facts(cells, "battery.gas", survey(supply=lead, hull=f'access = "{access}"\n{more}', lamps=""))
    assert [(fact.severity, fact.case, fact.lines) for fact in got] == [
        ("stop", access, ("vented = true",))
    ] * found


# -- ways


WAY = '[[way]]\nfrom = "base"\nto = "hull"\nlength = "{} mm"\n[[way]]\nfrom = "hull"\nto = "bow"\nlength = "{} mm"\n'


@pytest.mark.parametrize(("way", "found"), [(300.0, False), (300.1, True)])
def test_a_run_that_is_shorter_than_its_way(way, found):
    got = facts(ways, "way.short", survey(extra=WAY.format(way, 90)))
    assert [fact.subject for fact in got] == [Subject("run", "feed"), Subject("run", "negative")] * found
    for fact in got:
        assert values(fact) == pytest.approx({"length": 0.3, "way": way / 1e3, "lacks": 0.0001}, abs=1e-9)
        assert set(units(fact).values()) == {"m"}
        assert fact.path[0::2] == ("run", "length")
        assert fact.parts["from"] == Subject("place", "base")
        assert fact.parts["to"] == Subject("place", "hull")
        assert fact.severity == "caution"
    assert facts(ways, "way.short", survey()) == []


def test_of_a_lead_the_leg_that_lacks_most():
    legs = lamp().replace(
        'lead = "120 mm to hull"', 'lead = { length = "120 mm", to = "hull", back = { length = "100 mm" } }'
    )
    (fact,) = facts(ways, "way.short", survey(extra=WAY.format(250, 130), lamps=legs))
    assert (fact.subject, values(fact)["lacks"], values(fact)["length"]) == (
        Subject("lamp", "bow lamp"),
        pytest.approx(0.03),
        pytest.approx(0.1),
    )
    assert (fact.path, fact.parts["conductor"]) == (("lamp", 0, "lead"), Subject("lead", "bow lamp"))
    legs = legs.replace("back", "feed")
    (fact,) = facts(ways, "way.short", survey(extra=WAY.format(250, 130), lamps=legs))
    assert values(fact)["lacks"] == pytest.approx(0.03)
    # of legs to two places that lack the same the first; one of which nobody says the length lacks nothing
    apart = '[[way]]\nfrom = "base"\nto = "bow"\nlength = "{} mm"\n'
    legs = legs.replace('length = "120 mm", to = "hull", feed = { length = "100 mm" }', 'length = "125 mm", to = "hull", back = { to = "base", length = "250 mm" }')  # fmt: skip
    for way, place in ((375, "hull"), (376, "base"), (374, "hull")):
        (fact,) = facts(ways, "way.short", survey(extra=WAY.format(250, 250) + apart.format(way), lamps=legs))
        assert (fact.parts["from"], fact.parts["to"]) == (Subject("place", "bow"), Subject("place", place))
        assert values(fact)["lacks"] == pytest.approx(max(0.125, way / 1e3 - 0.25))
    assert facts(ways, "way.short", survey(extra=WAY.format(250, 130), lamps=lamp(lead="to hull"))) == []
