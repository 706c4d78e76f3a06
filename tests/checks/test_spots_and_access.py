"""Hot spots, motors, strong light, leads behind covers, and what hangs on a supply without figures: with figures of our own."""

from __future__ import annotations

from math import pi
from typing import Any

import pytest

from postcheck.checks import access, hot_spots, light, motors
from postcheck.checks.no_figures import feeding, folded
from postcheck.report import Finding, Subject
from postcheck.survey import Survey
from postcheck.survey.heat.figures import HotSpot
from postcheck.survey.heat.motors import MotorHeat, Warm
from tests.survey.small import adaptor, lamp, survey

from .facts import asked, facts, judged, units, values, with_figures
from .test_lamps import own_kind, string

BOW = Subject("lamp", "bow lamp")
CLOSED = 'access = "cover"\nmaterial = "abs"\nsurface = "100 cm2"'


@pytest.fixture(scope="module")
def made() -> Survey:
    return survey(hull=CLOSED, lamps=lamp(at=" at hull"))


def spots(made: Survey, *some: HotSpot) -> Survey:
    other = Survey(made.build, made.limits)
    other.__dict__["hot_spots"] = some
    other.__dict__["electrics"] = made.electrics
    return other


def spot(
    celsius: float,
    *,
    kind: str = "resistor",
    air: float = 45.0,
    stuck: bool = False,
    material: str | None = "abs",
    stands: float = 75.0,
    place: str = "hull",
) -> HotSpot:
    return HotSpot(kind, "bow lamp", ("lamp", 0, "resistor"), place, material, celsius, stands, air, stuck)  # type: ignore[arg-type]


@pytest.mark.parametrize(("celsius", "found"), [(75.0, False), (75.1, True)])
@pytest.mark.parametrize("stuck", [True, False])
def test_a_resistor_that_is_too_hot_for_its_wall(made, celsius, found, stuck):
    lit = with_figures(
        made, lamps={"bow lamp": made.electrics.lamps["bow lamp"]._replace(spot=(0.2, 0.25), duty_cycle=0.4)}
    )
    got = facts(hot_spots, "part.hot-spot", spots(lit, spot(celsius, stuck=stuck)))
    assert [fact.case for fact in got] == (["stuck" if stuck else "resistor"] if found else [])
    for fact in got:
        # the rise beside it goes with its heat: 30 K of 30.1 are free, and a hundredth less
        heat = 0.2 if stuck else 0.08
        assert values(fact) == {
            "hottest": celsius,
            "dissipates": pytest.approx(heat),
            "may": pytest.approx(0.99 * heat * 30.0 / 30.1),
        }
        assert units(fact) == {"hottest": "degC", "dissipates": "W", "may": "W"}
        assert fact.parts["place"] == Subject("place", "hull")
        assert ("circuit" in fact.parts) is stuck
        assert (fact.severity, fact.subject, fact.words, bool(fact.firm)) == (
            "caution",
            Subject("resistor", "bow lamp"),
            {"material": "abs"},
            True,
        )
        assert fact.because_of == "lamp.over-rating:bow lamp"


def test_a_glass_has_no_heat_to_choose(made):
    (fact,) = facts(hot_spots, "part.hot-spot", spots(made, spot(80.0, kind="lamp")))
    assert (fact.case, values(fact)) == ("lamp", {"hottest": 80.0})


@pytest.mark.parametrize(
    ("air", "celsius", "found", "because"),
    [
        # ten kelvin below what a spot withstands the walls themselves are too hot: what would be well in the room is not told
        (65.0, 80.0, 1, "lamp.over-rating:bow lamp"), (65.1, 105.2, 1, "place.too-hot:hull"), (65.1, 105.0, 0, None), (66.0, 106.0, 0, None), (301.0, 400.0, 0, None), (300.0, 341.0, 1, "place.too-hot:hull"),
    ],
)  # fmt: skip
def test_air_that_the_walls_do_not_withstand_is_another_matter(made, air, celsius, found, because):
    got = facts(hot_spots, "part.hot-spot", spots(made, spot(celsius, air=air)))
    assert [fact.because_of for fact in got] == [because] * found
    for fact in got:
        assert ("may" in values(fact)) is (air < 75.0)


def test_the_hottest_of_a_part_is_told_and_what_sticks_last(made):
    some = (spot(90.0, stuck=True), spot(80.0), spot(85.0), spot(79.0, kind="lamp"))
    got = facts(hot_spots, "part.hot-spot", spots(made, *some))
    assert [(fact.case, values(fact)["hottest"]) for fact in got] == [("resistor", 85.0), ("lamp", 79.0)]


@pytest.mark.parametrize(("celsius", "asks"), [(300.0, 1), (301.0, 0)])
@pytest.mark.parametrize(("place", "vital"), [("hull", True), ("base", False)])
def test_what_it_touches_has_to_be_said(made, celsius, asks, place, vital):
    built = spots(made, spot(celsius, material=None, place=place))
    assert facts(hot_spots, "part.hot-spot", built) == []
    assert [question.vital for question in asked(hot_spots, "part.hot-spot", built)] == [vital] * asks


# -- motors: 150 degC burns one that is held fast; what it touches withstands a spot


def motor(made: Survey, running: float | None = None, held: float | None = None, *, measured: bool = True, said: bool = True) -> Survey:  # fmt: skip
    def warm(celsius: float | None, current: float) -> Warm | None:
        return (
            None
            if celsius is None
            else Warm(
                current=current,
                watts=12.0 * current,
                air=25.0,
                celsius=celsius,
                withstands=75.0,
                least=0.00123,
            )
        )

    one = MotorHeat(
        **MOTOR_HEAT, measured=measured, said=said, running=warm(running, 0.1), held=warm(held, 0.5)
    )
    other = Survey(made.build, made.limits)
    other.__dict__["motors"] = (one,)
    return other


MOTOR_HEAT: dict[str, Any] = {
    "name": "winch", "path": ("load", 0), "place": "hull", "material": "abs",
    "walls": (85.0, "abs"), "case": 0.0013, "touches": True,
}  # fmt: skip


@pytest.mark.parametrize(
    ("running", "held", "severity", "case", "current"),
    [
        (75.0, 75.0, None, None, 0), (75.1, 75.0, "caution", "running", 0.1), (75.0, 75.1, "caution", "held", 0.5), (75.1, 80.0, "caution", "running", 0.1),
        (80.0, 150.0, "caution", "running", 0.1), (80.0, 150.1, "stop", "burns out", 0.5), (None, 150.1, "stop", "burns out", 0.5), (75.1, None, "caution", "running", 0.1),
    ],
)  # fmt: skip
def test_how_hot_a_motor_gets(made, running, held, severity, case, current):
    got = facts(motors, "motor.hot", motor(made, running, held))
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, case)] if severity else [])
    for fact in got:
        own = {"enough": pytest.approx(0.0013)} if case == "running" else {"current": current}
        assert values(fact) == {
            "watts": pytest.approx(12.0 * current),
            "hottest": running if case == "running" else held,
            **own,
        }
        assert fact.limit is not None
        assert fact.limit.value == (150.0 if case == "burns out" else 75.0)
        assert fact.because_of == ("place.too-hot:hull" if case == "running" else None)
        assert bool(fact.firm) is (severity == "stop")
        assert fact.parts == {"place": Subject("place", "hull")}


@pytest.mark.parametrize(
    ("running", "held", "measured", "said", "asks", "vital"),
    [
        (60.0, 70.0, False, True, 0, None), (75.0, 75.0, False, False, 0, None), (60.0, 75.1, False, True, 1, False), (60.0, 150.1, False, True, 1, True), (75.1, 70.0, False, True, 1, False),
        (75.1, 70.0, True, False, 0, None), (60.0, 75.1, True, False, 1, False), (75.1, None, False, True, 1, False), (None, 151.0, False, False, 1, True),
    ],
)  # fmt: skip
def test_what_has_to_be_said_of_a_motor(made, running, held, measured, said, asks, vital):
    built = motor(made, running, held, measured=measured, said=said)
    questions = asked(motors, "motor.hot", built)
    assert [question.vital for question in questions] == [vital] * asks
    for question in questions:
        assert ("surface, such as" in question.missing) is (not measured)
        assert ("starting = " in question.missing) is (not said and held is not None and held > 75.0)
        assert ("never_stalls" in question.missing) is (held is not None and held > 75.0)
        assert ("held_off" in question.missing) is (running is not None and running > 75.0 and not measured)
        assert ("13 cm2" in question.missing) is (not measured)
        assert ("held fast" in question.what) is (held is not None and held > 75.0)


# -- strong blue: a tenth of an ampere and more


def test_strong_blue():
    blue = own_kind() + 'colour = "blue"\n'
    two = string("own") + string("own").replace("bow lamp", "stern lamp")
    built = survey(lamps=two, extra=blue)

    def lit(*amperes: float) -> Survey:
        lamps = {
            name: one._replace(nominal=current)
            for (name, one), current in zip(built.electrics.lamps.items(), amperes, strict=True)
        }
        return with_figures(built, lamps=lamps)

    assert facts(light, "lamp.eyes", lit(0.0999, 0.0)) == []
    (fact,) = facts(light, "lamp.eyes", lit(0.1, 0.0))
    assert (fact.severity, fact.case, values(fact), units(fact)) == (
        "note",
        "blue",
        {"current": 0.1},
        {"current": "A"},
    )
    (fact,) = facts(light, "lamp.eyes", lit(0.12, 0.15))
    assert values(fact) == {"current": 0.15}
    assert (
        facts(light, "lamp.eyes", with_figures(survey(lamps=two, extra=own_kind() + 'colour = "red"\n')))
        == []
    )


# -- ultraviolet: 10 W/m2 and more at 200 mm; four tenths of what it takes is light. A chip shines into pi sr, all of it for 4 V
UV = own_kind(forward="4 V").replace('low_forward = "2.85 V"', 'low_forward = "3.5 V"') + 'colour = "uv"\n'


def test_strong_ultraviolet():
    two = string("smd-own") + string("smd-own").replace("bow lamp", "stern lamp")
    built = survey(lamps=two, extra=UV.replace("lamp_kind.own", "lamp_kind.smd-own"))
    limit = 10.0 * pi * 0.2**2 / (0.4 * 4.0)  # A

    def lit(*shares: float) -> Survey:
        lamps = {
            name: one._replace(nominal=share * limit)
            for (name, one), share in zip(built.electrics.lamps.items(), shares, strict=True)
        }
        return with_figures(built, lamps=lamps)

    bow, stern = Subject("lamp", "bow lamp"), Subject("lamp", "stern lamp")
    (near,) = facts(light, "lamp.eyes", lit(1.0, 0.5))
    assert (near.severity, near.case, near.parts, dict(near.figures)) == ("note", "ultraviolet", {"lamps": (bow, stern)}, {})  # fmt: skip
    strong, near = facts(light, "lamp.eyes", lit(0.9, 1.1))
    assert (strong.severity, strong.case, strong.parts) == (
        "caution",
        "strong ultraviolet",
        {"lamps": (stern,)},
    )
    assert (near.case, near.parts) == ("ultraviolet", {"lamps": (bow,)})
    for shares in ((1.1, 1.3), (1.3, 1.1)):
        (fact,) = facts(light, "lamp.eyes", lit(*shares))
        assert values(fact) == {"most": pytest.approx(13.0), "distance": 0.2}
        assert units(fact) == {"most": "W/m2", "distance": "m"}
        assert (fact.subject, fact.parts, fact.path) == (bow, {"lamps": (bow, stern)}, ("lamp", 0, "kind"))


# -- a lead behind a cover: 30 mm more than it comes out, or 15 mm to end it anew


@pytest.mark.parametrize(
    ("hull", "spare", "found", "needed"),
    [
        ('access = "cover"\nopening = "20 mm"', 50, False, 0), ('access = "cover"\nopening = "20 mm"', 49.9, True, 0.05), ('access = "cover"', 15, False, 0),
        ('access = "cover"', 14.9, True, 0.015), ('access = "open"', 14.9, True, 0.015), ('access = "sealed"', 0, False, 0), ('access = "open"\nopening = "20 mm"', 14.9, True, 0.015),
    ],
)  # fmt: skip
def test_a_lead_that_lets_its_cover_open(hull, spare, found, needed):
    lead = lamp().replace(
        'lead = "120 mm to hull"', f'lead = {{ length = "120 mm", to = "hull", spare = "{spare} mm" }}'
    )
    got = facts(access, "lead.too-short", survey(hull=hull, lamps=lead))
    assert len(got) == found
    for fact in got:
        opening = {"opening": 0.02} if needed == 0.05 else {}
        assert values(fact) == pytest.approx({"spare": spare / 1e3, "needed": needed, **opening})
        assert set(units(fact).values()) == {"m"}
        assert (fact.severity, fact.case, fact.path) == (
            "caution",
            "" if opening else "anew",
            ("lamp", 0, "lead", "spare"),
        )
        assert fact.parts == {"lead": Subject("lead", "bow lamp"), "place": Subject("place", "hull")}


@pytest.mark.parametrize(
    ("leads", "whole"),
    [
        # 20 mm and 30 to make it anew: the shortest has to come out so far
        ('"120 mm", "50 mm"', None), ('"120 mm", "49.9 mm"', 0.0499), ('"49 mm", "120 mm"', 0.049),
    ],
)  # fmt: skip
def test_the_shortest_of_its_leads_lets_its_cover_open(leads, whole):
    two = lamp().replace('lead = "120 mm to hull"', f'lead = {{ to = "hull" }}\nleads = [{leads}]\ncount = 2')
    got = facts(access, "lead.too-short", survey(hull='access = "cover"\nopening = "20 mm"', lamps=two))
    assert [fact.case for fact in got] == ["whole"] * (whole is not None)
    for fact in got:
        assert values(fact) == pytest.approx({"length": whole, "opening": 0.02, "needed": 0.05, "longer": whole + 0.05})  # fmt: skip
        assert (fact.severity, fact.path, fact.subject) == ("caution", ("lamp", 0, "lead"), Subject("lamp", "bow lamp"))  # fmt: skip


@pytest.mark.parametrize(
    ("hull", "asks"),
    [('access = "cover"\nopening = "20 mm"', 1), ('access = "cover"', 0), ('access = "open"', 0)],
)
def test_its_spare_length_has_to_be_said(hull, asks):
    assert len(asked(access, "lead.too-short", survey(hull=hull))) == asks
    home = survey(hull=hull, lamps=lamp(lead="120 mm").replace('place = "bow"', 'place = "hull"'))
    assert judged(access, "lead.too-short", home) == []


# -- what hangs on a supply that gives no figures


TWO = (
    '[supply.aft]\nkind = "adaptor"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\nshares_negative_with = "main"\n[circuit.deck]\nsupply = "aft"\n'
    '[supply.five]\nkind = "converter"\nfrom = "aft"\nplace = "base"\nvolts = "3 V"\nrated = "1 A"\n[circuit.low]\nsupply = "five"\n'
    '[board.driver]\nplace = "base"\nsupply = "aft"\n[circuit.channel]\nboard = "driver"\n'
    '[[run]]\nname = "deck feed"\nline = "deck"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    '[[plug]]\nname = "foot"\nat = "hull"\npins = ["deck", "main-"]\nkeyed = true\n'
    '[[plug]]\nname = "heel"\nat = "hull"\npins = ["lights"]\nkeyed = true\n'
    '[[join]]\nplace = "hull"\nlines = ["deck", "channel"]\n'
)


@pytest.mark.parametrize(
    ("subject", "fed"),
    [
        ("supply:main", {"main"}), ("supply:five", {"five", "aft"}), ("circuit:deck", {"aft"}), ("circuit:low", {"five", "aft"}), ("board:driver", {"aft"}), ("circuit:channel", {"aft"}),
        ("lamp:bow lamp", {"main"}), ("place:bow", {"main"}), ("place:hull", {"main"}), ("place:base", set()), ("run:deck feed", {"aft"}), ("run:feed", {"main"}), ("plug:foot", {"aft", "main"}), ("plug:heel", {"main"}), ("lamp:foot", set()),
        ("join:hull", {"aft"}), ("network:network", {"main", "aft", "five"}), ("passage:post", set()), ("board:none", set()), ("lamp:none", set()),
    ],
)  # fmt: skip
def test_which_supplies_something_hangs_on(subject, fed):
    made = survey(lamps=lamp(at=" at hull"), extra=TWO)
    assert feeding(made, Subject(*subject.split(":"))) - {""} == fed


@pytest.mark.parametrize(
    ("check", "name", "follows"),
    [
        ("lamp.dim", "deck", True), ("lamp.dim", "lights", False), ("passage.tight", "deck", False), ("flash.rate", "deck", False), ("run.no-spare", "deck", False),
        ("battery.dim-early", "deck", False), ("supply.overload", "deck", True), ("lead.bare", "deck", False), ("scope.volts", "deck", False),
    ],
)  # fmt: skip
def test_what_was_worked_out_from_such_a_supply_follows(check, name, follows):
    made = survey(supply=adaptor(), extra=TWO)
    beyond = Finding("scope.volts", "stop", Subject("supply", "aft"), "", "", remedy="this")
    other = Finding(check, "caution", Subject("circuit", name), "", "", remedy="that")
    first, second = folded(made, [beyond, other])
    assert (first.because_of, first.remedy) == (None, "this")
    assert (second.because_of, second.remedy) == (("scope.volts:aft", None) if follows else (None, "that"))
    # one that is shorted, or does not start
    for figures, cause in (
        ({"shorted": ("aft",)}, "supply.conflict:aft"),
        ({"no_start": (("aft", "all on"),)}, "converter.no-start:aft"),
    ):
        (one,) = folded(with_figures(made, **figures), [other])
        assert one.because_of == (cause if follows else None)
    (one,) = folded(with_figures(made, shorted=("no such",)), [other])
    assert one.because_of is None
