"""Shorts, fuses and switches on both sides of each limit, with faults of our own. The fuse is 500 mA quick; the adaptor's 1 A."""

from __future__ import annotations

from typing import Any

import pytest

from postcheck.checks import protection, switches
from postcheck.limits import Limits
from postcheck.report import Subject
from postcheck.survey import Survey
from postcheck.survey.heat.figures import ConductorFault, FaultHeat
from postcheck.survey.network.figures import SwitchFigures
from tests.survey.small import adaptor, survey

from .facts import asked, facts, judged, units, values, with_figures
from .test_lamps import own_kind, string

MAIN = Subject("supply", "main")
COOL = FaultHeat(1.0, 60.0, 60.0, 200.0, 300.0)
PATH = ("supply", "main", "fuse")


def hot(settled: float | None = 60.0, peak: float | None = 60.0, lasting: float = 1.0) -> FaultHeat:
    """PTFE: 200 degC for good, 300 until the fuse opens."""
    return FaultHeat(lasting, settled, peak, 200.0, 300.0)


def fault(made: Survey, name: str = "feed", sure: FaultHeat = COOL, most: FaultHeat | None = None, **more: Any) -> ConductorFault:  # fmt: skip
    run = next(run for run in made.parts.runs if run.name == name)
    assert run.wire is not None
    own: dict[str, Any] = {
        "supply": "main",
        "current": 9.0,
        "fuse": None,
        "opens": False,
        "leg": "",
        "part_way": False,
    } | more
    wire = run.wire._replace(conductor_area=own.pop("area", run.wire.conductor_area))
    return ConductorFault(name, "run", run.path, wire, sure=sure, most=most or sure, **own)


def shorted(made: Survey, *some: ConductorFault) -> Survey:
    other = Survey(made.build, made.limits)
    other.__dict__["faults"] = some
    other.__dict__["electrics"] = made.electrics
    return other


BARE = survey(supply=adaptor(fuse=None))
FUSED = survey()


# -- no fuse in the way


@pytest.mark.parametrize(
    ("settled", "peak", "severity", "shown"),
    [
        (200.0, 300.0, None, {}), (200.1, 200.1, "caution", {"hottest": 200.1, "insulation": 200.0}), (100.0, 300.1, "stop", {"hottest": 300.1, "insulation": 300.0}),
        (220.0, 220.0, "caution", {"hottest": 220.0, "insulation": 200.0}), (220.1, 100.0, "stop", {"hottest": 220.1, "insulation": 200.0}),
        (None, 100.0, "stop", {"melts": 1083.0, "insulation": 200.0}), (100.0, None, "stop", {"melts": 1083.0, "insulation": 300.0}),
    ],
)  # fmt: skip
def test_a_short_that_overheats_a_conductor(settled, peak, severity, shown):
    got = facts(protection, "fuse.absent", shorted(BARE, fault(BARE, sure=hot(settled, peak, 1.5))))
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, "no fuse")] if severity else [])
    for fact in got:
        assert values(fact) == {"short": 9.0, "lasting": 1.5, **shown}
        assert {units(fact)[name] for name in shown} == {"degC"}
        assert fact.parts == {"conductor": Subject("run", "feed")}
        assert fact.words == {"wire": "ptfe-28", "where": "at the far end of"}
        assert fact.limit is not None
        assert (fact.limit.value, fact.path, bool(fact.firm)) == (
            shown["insulation"],
            ("supply", "main"),
            True,
        )


def test_the_thinnest_and_hottest_first():
    def first(*some: ConductorFault) -> tuple[str, tuple[Subject, ...]]:
        (fact,) = facts(protection, "fuse.absent", shorted(BARE, *some))
        return fact.parts["conductor"].name, fact.parts.get("others", ())  # type: ignore[union-attr, return-value]

    warm, hotter = hot(210.0, 210.0), hot(215.0, 215.0)
    feed, negative = (Subject("run", name) for name in ("feed", "negative"))
    assert first(fault(BARE, sure=hotter), fault(BARE, "negative", sure=warm, area=1e-9)) == (
        "negative",
        (feed,),
    )
    assert first(fault(BARE, sure=warm), fault(BARE, "negative", sure=hotter)) == ("negative", (feed,))
    assert first(fault(BARE, sure=warm), fault(BARE, "negative", sure=warm, current=9.1)) == (
        "negative",
        (feed,),
    )
    assert first(fault(BARE, sure=warm), fault(BARE, "negative", sure=warm, most=hotter)) == (
        "negative",
        (feed,),
    )
    assert first(fault(BARE, sure=warm), fault(BARE, "negative", sure=warm._replace(lasting=1.1))) == ("negative", (feed,))  # fmt: skip
    assert first(fault(BARE, sure=warm), fault(BARE, "negative", sure=warm)) == ("feed", (negative,))
    # one that melts before one that glows; both legs of one are one part
    assert first(fault(BARE, sure=hot(999.0, 999.0)), fault(BARE, "negative", sure=hot(None, None))) == (
        "negative",
        (feed,),
    )
    assert first(fault(BARE, sure=warm), fault(BARE, sure=warm)) == ("feed", ())


def test_the_severity_is_that_of_the_hottest():
    some = (fault(BARE, sure=hot(210.0), area=1e-9), fault(BARE, "negative", sure=hot(221.0)))
    (fact,) = facts(protection, "fuse.absent", shorted(BARE, *some))
    assert (fact.severity, fact.parts["conductor"]) == ("stop", Subject("run", "feed"))


def test_of_which_supply_and_behind_which_fuse():
    assert facts(protection, "fuse.absent", shorted(FUSED, fault(FUSED, sure=hot(250.0), fuse=0.5))) == []
    assert facts(protection, "fuse.absent", shorted(BARE, fault(BARE, sure=hot(250.0), supply="aft"))) == []
    (fact,) = facts(
        protection, "fuse.absent", shorted(BARE, fault(BARE, sure=hot(250.0), part_way=True, current=2e6))
    )
    assert (fact.words["where"], values(fact)["short"]) == ("part of the way along", 1e6)


@pytest.mark.parametrize(
    ("supply", "case"),
    [
        ('kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 8', "battery"),
        ('kind = "battery"\nplace = "base"\nchemistry = "li-ion"\nsize = "18650"\ncells = 3\nprotected = true', "protection board"),
        ('kind = "battery"\nplace = "base"\nchemistry = "li-ion"\nsize = "18650"\ncells = 3\nprotected = true\ncurrent_limit = "9 A"', "battery"),
        (adaptor(fuse=None), "no fuse"),
    ],
)  # fmt: skip
def test_what_there_is_instead_of_a_fuse(supply, case):
    made = survey(supply=supply)
    (fact,) = facts(protection, "fuse.absent", shorted(made, fault(made, sure=hot(250.0))))
    assert fact.case == case


@pytest.mark.parametrize(
    ("supply", "missing"),
    [
        (adaptor(fuse=None).replace('rated = "1 A"', ""), "rated current"), ('kind = "battery"\nplace = "base"\nvolts = "12 V"', "chemistry and size"),
        (adaptor(fuse=None).replace('rated = "1 A"', 'current_limit = "9 A"'), None), (adaptor(fuse=None), None),
        ('kind = "battery"\nplace = "base"\nvolts = "12 V"\nresistance = "1 ohm"', None),
    ],
)  # fmt: skip
def test_what_has_to_be_said_before_a_short_can_be_judged(supply, missing):
    made = survey(supply=supply)
    short = shorted(made, fault(made, sure=hot(250.0)))
    questions = asked(protection, "fuse.absent", short)
    assert len(questions) == (missing is not None)
    assert len(facts(protection, "fuse.absent", short)) == (missing is None)
    for question in questions:
        assert question.vital
        assert missing in question.missing
        assert 'fuse = "100 mA"' in question.missing
    assert asked(protection, "fuse.absent", shorted(made, fault(made))) == []


# -- only if it gives more than it is sure to


@pytest.mark.parametrize(
    ("most", "asks"), [(hot(200.0, 300.0), 0), (hot(250.0, 250.0, 2.2), 1), (hot(None, None, 2.2), 1)]
)
def test_hurt_only_by_the_most_that_it_may_give(most, asks):
    made = shorted(BARE, fault(BARE, sure=hot(150.0, 150.0, 1.1), most=most))
    questions = asked(protection, "fuse.absent", made)
    assert [question.vital for question in questions] == [True] * asks
    for question in questions:
        assert "withstands 1.1 A, but 2.2 A" in question.what
        assert ("melts the wire" if most.peak is None else "250 degC") in question.what.replace("°C", "degC")
        assert 'current_limit = "... A", or a quick fuse: fuse = "100 mA"' in question.missing
    # what is surely hurt is told as such
    both = shorted(BARE, fault(BARE, sure=hot(250.0)), fault(BARE, "negative", sure=COOL, most=most))
    assert asked(protection, "fuse.absent", both) == []


# -- fuses that are too small: 90 % of it for good; 80 % of a resettable one, 75 % by UL


@pytest.mark.parametrize(
    ("fuse", "highest", "severity", "most"),
    [
        ("500 mA", 0.45, None, 0), ("500 mA", 0.451, "caution", 0.45), ("500 mA", 0.5, "caution", 0.45), ("500 mA", 0.501, "stop", 0.45), ("500 mA slow", 0.451, "caution", 0.45),
        ("500 mA resettable", 0.4, None, 0), ("500 mA resettable", 0.401, "caution", 0.4), ("500 mA UL", 0.375, None, 0), ("500 mA UL", 0.376, "caution", 0.375),
    ],
)  # fmt: skip
def test_a_fuse_that_is_too_small(fuse, highest, severity, most):
    made = survey(supply=adaptor(fuse=fuse))
    made = with_figures(made, supplies={"main": made.electrics.supplies["main"]._replace(highest=highest)})
    got = facts(protection, "fuse.too-small", made)
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, "over its rating" if severity == "stop" else "near its rating")] if severity else [])  # fmt: skip
    for fact in got:
        assert values(fact) == pytest.approx({"load": highest, "rated": 0.5, "most": most / 0.5})
        assert units(fact) == {"load": "A", "rated": "A", "most": "share"}
        assert fact.limit is not None
        assert (fact.limit.value, fact.path) == (pytest.approx(most), PATH)
    assert judged(protection, "fuse.too-small", BARE) == []


# -- fuses that never open: half as much again is held, 2.1 times opens it (IEC 60127-2); 1 and 1.35 by UL


@pytest.mark.parametrize(
    ("fuse", "current", "lasting", "case", "severity", "flows"),
    [
        ("500 mA", 0.74, 0.0, "held", "stop", 0.74), ("500 mA", 0.76, 0.0, "not sure to open", "caution", 0.76), ("500 mA", 0.75, 0.0, "not sure to open", "caution", 0.75), ("500 mA", 0.76, 0.74, "held", "stop", 0.74),
        ("500 mA", 0.74, 0.9, "held", "stop", 0.74), ("500 mA UL", 0.499, 0.0, "held", "stop", 0.499), ("500 mA UL", 0.501, 0.0, "not sure to open", "caution", 0.501),
        ("500 mA resettable", 0.499, 0.0, "held", "stop", 0.499),
    ],
)  # fmt: skip
def test_a_fuse_that_holds_a_short(fuse, current, lasting, case, severity, flows):
    made = survey(supply=adaptor(fuse=fuse))
    short = shorted(made, fault(made, sure=hot(210.0, 210.0, lasting), fuse=0.5, current=current))
    (fact,) = facts(protection, "fuse.never-opens", short)
    assert (fact.case, fact.severity, fact.path) == (case, severity, PATH)
    assert (values(fact)["flows"], values(fact)["rated"], fact.words["kind"]) == (flows, 0.5, (fuse.split()[2:] or ["quick"])[0])  # fmt: skip
    assert fact.limit is not None
    held = 0.75 if fuse == "500 mA" else 0.5
    opens = 1.05 if fuse == "500 mA" else 0.675
    assert fact.limit.value == pytest.approx(held if case == "held" else opens)
    # one that it opens is another matter
    assert facts(protection, "fuse.never-opens", shorted(made, fault(made, sure=hot(210.0), fuse=0.5, current=current, opens=True))) == []  # fmt: skip


def test_a_short_that_hurts_nothing_and_opens_nothing():
    some = (
        fault(FUSED, fuse=0.5, current=0.7),
        fault(FUSED, "negative", fuse=0.5, current=0.6),
        fault(FUSED, fuse=0.5, current=0.74, opens=True),
    )
    (fact,) = facts(protection, "fuse.never-opens", shorted(FUSED, *some))
    assert (fact.case, fact.severity, fact.parts["conductor"]) == (
        "harmless",
        "note",
        Subject("run", "negative"),
    )
    assert values(fact)["flows"] == 0.6
    assert [one.case for one in facts(protection, "fuse.never-opens", shorted(FUSED, fault(FUSED, fuse=0.5, current=0.75)))] == []  # fmt: skip


@pytest.mark.parametrize(
    ("supply", "load", "found"),
    [
        # it gives up at twice its rating at the latest
        (adaptor("1 A", "2 A"), 0.1, False), (adaptor("1 A", "2.5 A"), 0.1, True), (adaptor("1 A", "2.5 A"), 1.01, False), (adaptor("1 A", "2.5 A"), 1.0, True),
        (adaptor("1 A", "2.5 A") + '\ncurrent_limit = "2.4 A"', 0.1, True), (adaptor("1 A", "2.5 A") + '\ncurrent_limit = "2.6 A"', 0.1, False),
        (adaptor(fuse="2.5 A").replace('rated = "1 A"', ""), 0.1, False), ('kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 8\nfuse = "9 A"', 0.1, False),
    ],
)  # fmt: skip
def test_a_fuse_without_effect(supply, load, found):
    made = survey(supply=supply)
    made = with_figures(made, supplies={"main": made.electrics.supplies["main"]._replace(highest=load)})
    got = facts(protection, "fuse.never-opens", shorted(made))
    assert [(fact.severity, fact.case) for fact in got] == [("note", "without effect")] * found
    for fact in got:
        assert values(fact) == {"most": 2.4 if "2.4" in supply else 2.0, "rated": 2.5}


def test_a_conductor_that_is_hurt_before_the_fuse_opens():
    some = (
        fault(FUSED, sure=hot(100.0, 301.0), fuse=0.5, opens=True),
        fault(FUSED, "negative", sure=hot(100.0, 310.0), fuse=0.5),
    )
    (fact,) = facts(protection, "wire.hurt-before-fuse", shorted(FUSED, *some))
    assert (fact.severity, fact.path, fact.parts) == (
        "stop",
        ("run", 0),
        {"conductor": Subject("run", "feed")},
    )
    assert (values(fact)["hottest"], values(fact)["insulation"], values(fact)["rated"]) == (301.0, 300.0, 0.5)
    assert fact.because_of == "fuse.never-opens:main"
    assert facts(protection, "wire.hurt-before-fuse", shorted(FUSED, fault(FUSED, sure=hot(100.0, 300.0), fuse=0.5, opens=True))) == []  # fmt: skip


# -- switches


def of_circuit(text: str, **figures: float) -> Survey:
    made = survey(circuit=f'on_off = "{text}"')
    one: SwitchFigures = made.electrics.switches["lights"]
    return with_figures(made, switches={"lights": one._replace(**figures)})


@pytest.mark.parametrize(
    ("highest", "starting", "severity", "case"),
    [
        (1.0, 1.0, None, None),
        (1.01, 1.0, "stop", "carries"),
        (1.0, 1.01, "caution", "makes"),
        (1.02, 1.01, "stop", "carries"),
    ],
)
def test_a_switch_that_is_too_weak(highest, starting, severity, case):
    got = facts(switches, "switch.overload", of_circuit("1 A", highest=highest, starting=starting))
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, case)] if severity else [])
    for fact in got:
        assert values(fact) == {"current": highest if case == "carries" else starting, "rated": 1.0}
        assert (fact.subject, fact.path) == (Subject("circuit", "lights"), ("circuit", "lights", "on_off"))
        assert bool(fact.firm) is (severity == "stop")


@pytest.mark.parametrize(
    ("starting", "unknown", "asks"), [(0.5, 0.5, 0), (0.5, 0.51, 1), (0.999, 0.0, 0), (0.2, 0.9, 1)]
)
def test_motors_of_which_nobody_says_their_start(starting, unknown, asks):
    made = of_circuit("1 A", highest=0.1, starting=starting, unknown=unknown)
    questions = asked(switches, "switch.overload", made)
    assert len(questions) == asks
    for question in questions:
        assert f"{starting + unknown:.3g} A" in question.what
    assert (
        len(asked(switches, "switch.overload", of_circuit("at base", highest=0.1, starting=9.0, unknown=9.0)))
        == 1
    )


# a contact that makes twice its rating, as the file says: with 1.5 A known, what is not known asks, however little
@pytest.mark.parametrize(("unknown", "asks"), [(0.0, 0), (0.01, 1)])
def test_where_every_start_is_known_none_is_asked(unknown, asks):
    made = of_circuit("1 A", highest=0.1, starting=1.5, unknown=unknown)
    lenient = Survey(made.build, Limits({"switch.inrush": (2.0, "its maker says so")}))
    lenient.__dict__["electrics"] = made.electrics
    assert facts(switches, "switch.overload", lenient) == []
    assert len(asked(switches, "switch.overload", lenient)) == asks


@pytest.mark.parametrize(
    ("text", "volts", "found", "asks"),
    [
        ("1 A", 30.0, 0, 0),
        ("1 A", 30.1, 0, 1),
        ("1 A 24 V", 24.0, 0, 0),
        ("1 A 24 V", 24.1, 1, 0),
        ("1 A 48 V", 40.0, 0, 0),
    ],
)
def test_the_volts_that_a_switch_breaks(text, volts, found, asks):
    made = of_circuit(text)
    made = with_figures(
        made, supplies={"main": made.electrics.supplies["main"]._replace(highest_volts=volts)}
    )
    got = facts(switches, "switch.volts", made)
    assert (len(got), len(asked(switches, "switch.volts", made))) == (found, asks)
    for fact in got:
        assert values(fact) == {"volts": volts}
        assert fact.limit is not None
        assert (fact.severity, fact.limit.value, bool(fact.firm)) == ("stop", 24.0, True)


@pytest.mark.parametrize(
    ("nominal", "through", "found"),
    [(0.06, 0.0, False), (0.06, 0.001, True), (0.0599, 0.05, False), (0.5, 0.44, False), (0.5, 0.441, True)],
)
def test_a_bank_that_sleeps_once_something_is_switched_off(nominal, through, found):
    bank = 'kind = "usb"\nplace = "base"\nport = "power-bank"\nswitches_off_below = "60 mA"'
    made = survey(supply=bank, circuit='on_off = "1 A"')
    made = with_figures(
        made, supplies={"main": made.electrics.supplies["main"]._replace(nominal=nominal)},
        switches={"lights": made.electrics.switches["lights"]._replace(nominal=through)},
    )  # fmt: skip
    got = facts(switches, "switch.bank-asleep", made)
    assert len(got) == found
    for fact in got:
        assert values(fact) == pytest.approx({"off": nominal - through})
        assert (fact.severity, fact.parts) == ("note", {"bank": MAIN})


def test_a_bare_lamp_chooses_no_fuse_but_on_another_supply():
    aft = '[supply.aft]\nkind = "adaptor"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\nshares_negative_with = "main"\n[circuit.deck]\nsupply = "aft"\n'
    feed = '[[run]]\nline = "deck"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    bare = string("own", None)
    for circuit, because in (("lights", "lamp.no-resistor:bow lamp"), ("deck", None)):
        made = survey(lamps=bare.replace('"lights"', f'"{circuit}"'), extra=own_kind() + aft + feed)
        made = with_figures(made, supplies={"main": made.electrics.supplies["main"]._replace(highest=0.6)})
        (fact,) = facts(protection, "fuse.too-small", made)
        assert fact.because_of == because


# what limits a short is known of an adaptor by its rating, of cells by what they are, of anything by a fuse or a limit of its own
@pytest.mark.parametrize(
    ("supply", "known"),
    [
        ('volts = "12 V"', False), ('volts = "12 V"\nfuse = "500 mA at hull"', True), ('volts = "12 V"\ncurrent_limit = "2 A"', True),
        ('volts = "12 V"\nresistance = "1 ohm"', True), ('chemistry = "nimh"\ncells = 10', True),
    ],
)  # fmt: skip
def test_a_short_is_judged_where_something_that_limits_it_is_known(supply, known):
    made = survey(supply=f'kind = "battery"\nplace = "base"\n{supply}')
    short = shorted(made, fault(made, sure=hot(210.0, 210.0)))
    assert len(facts(protection, "fuse.absent", short)) == known
    assert len(asked(protection, "fuse.absent", short)) == (not known)
