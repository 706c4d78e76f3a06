"""Volts that can hurt, mains in a body, and metal that is live: on both sides of each limit. 60 V is the most (IEC 60364-4-41: direct)."""

from __future__ import annotations

import pytest

from postcheck.checks import scope
from postcheck.report import Subject
from tests.survey.small import adaptor, survey

from .facts import asked, facts, judged, units, values, with_figures

AFT = '[supply.aft]\nkind = "adaptor"\nplace = "base"\nvolts = "{}"\nrated = "1 A"\nshares_negative_with = "main"\n'


# 12 V and 5 %
@pytest.mark.parametrize(("volts", "found"), [("57.1 V", False), ("57.2 V", True)])
def test_a_supply_above_what_is_safe(volts, found):
    made = survey(supply=adaptor().replace("12 V", volts), lamps="")
    got = facts(scope, "scope.volts", made)
    assert [(fact.case, fact.severity, fact.subject) for fact in got] == [
        ("supply", "stop", Subject("supply", "main"))
    ] * found
    for fact in got:
        assert values(fact) == {"voltage": pytest.approx(57.2 * 1.05)}
        assert units(fact) == {"voltage": "V"}
        assert (fact.path, fact.limit.value if fact.limit else 0) == (("supply", "main"), 60.0)


@pytest.mark.parametrize(("widest", "found"), [(60.0, False), (60.1, True)])
def test_supplies_that_add_up(widest, found):
    made = with_figures(survey(extra=AFT.format("24 V")), widest=widest)
    got = facts(scope, "scope.volts", made)
    assert [(fact.case, fact.subject, values(fact)) for fact in got] == [
        ("stacked", Subject("supply", "main"), {"voltage": 60.1})
    ] * found
    # above it by itself, that is what is told
    alone = with_figures(survey(extra=AFT.format("72 V"), lamps=""), widest=widest)
    assert [fact.case for fact in facts(scope, "scope.volts", alone)] == ["supply"]
    assert len(judged(scope, "scope.volts", made)) == 3 + found


@pytest.mark.parametrize(
    ("volts", "found", "asks"), [('open_volts = "60 V"', 0, 0), ('open_volts = "60.5 V"', 1, 0), ("", 0, 1)]
)
def test_an_inverter_by_what_it_puts_out(volts, found, asks):
    glow = f'[[load]]\nname = "glow"\nkind = "inverter"\ncircuit = "lights"\nplace = "hull"\ntypical = "10 mA"\n{volts}\n'
    made = survey(extra=glow)
    got = facts(scope, "scope.volts", made)
    assert [(fact.case, fact.subject, fact.path) for fact in got] == [
        ("load", Subject("load", "glow"), ("load", 0, "open_volts"))
    ] * found
    assert [question.vital for question in asked(scope, "scope.volts", made)] == [True] * asks


@pytest.mark.parametrize(
    ("access", "socket", "found"),
    [
        ("open", "", False),
        ("cover", "", True),
        ("sealed", "", True),
        ("cover", '\nsocket = "5.5/2.1 mm"', False),
    ],
)
def test_mains_in_a_body(access, socket, found):
    made = survey(
        supply=adaptor().replace('"base"', '"hull"') + socket, hull=f'access = "{access}"', lamps=""
    )
    got = facts(scope, "supply.mains-inside", made)
    assert [(fact.severity, fact.case, fact.path) for fact in got] == [
        ("stop", access, ("supply", "main", "place"))
    ] * found
    for fact in got:
        assert fact.lines == ('socket = "5.5/2.1 mm, centre positive"',)
        assert fact.firm
        assert fact.parts == {"place": Subject("place", "hull")}
    bank = survey(
        supply='kind = "usb"\nplace = "hull"\nport = "power-bank"', hull=f'access = "{access}"', lamps=""
    )
    assert facts(scope, "supply.mains-inside", bank) == []


BELL = '[wire.bell]\nstrands = 7\nstrand = "0.1 mm"\noutside = "0.6 mm"\n{}\n'
SPEAKER = '[[run]]\nname = "speaker"\nends = ["base", "hull"]\nlength = "300 mm"\nwire = "bell"\ncarries = "sound"\n'
FIVE = '[supply.five]\nkind = "adaptor"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\n[circuit.five]\nsupply = "five"\n'
FIVE_RUN = (
    '[[run]]\nname = "five"\nline = "five"\nends = ["base", "hull"]\nlength = "300 mm"\nwire = "bell"\n'
)


# 12 V and 5 %
@pytest.mark.parametrize(
    ("wire", "volts", "extra", "cases"),
    [
        ("bell", "12.6 V", "", []), ("bell", "12.5 V", "", ["own"]), ("bell", "", "", []), ("ptfe-28", "12.5 V", SPEAKER, ["beside"]),
        ("ptfe-28", "12.6 V", SPEAKER, []), ("ptfe-28", "12.5 V", FIVE + FIVE_RUN, ["beside"]), ("ptfe-28", "12.5 V", "", []),
        # in no passage it has its own 5.25 V alone
        ("ptfe-28", "5.5 V", FIVE + FIVE_RUN + "through = []\n", []), ("ptfe-28", "5.2 V", FIVE + FIVE_RUN + "through = []\n", ["own"]),
    ],
)  # fmt: skip
def test_volts_of_insulation(wire, volts, extra, cases):
    made = survey(wire=wire, extra=BELL.format(f'volts = "{volts}"' if volts else "") + extra)
    got = facts(scope, "wire.volts", made)
    assert [(fact.case, fact.severity) for fact in got] == [(case, "caution") for case in cases]
    for fact in got:
        own = "through" in extra
        assert values(fact)["gets"] == pytest.approx(5.25 if own else 12.6)
        assert fact.parts["supply"] == Subject("supply", "five" if own else "main")
        assert fact.words["wire"] == "bell"
        assert fact.limit is not None
        assert f"{fact.limit.value} V" == volts
