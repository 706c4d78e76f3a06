"""Warm places, wires and spots, on both sides of each limit, with figures of our own. The room is 35 degC at its warmest."""

from __future__ import annotations

from typing import Any

import pytest

from postcheck.checks import heat, hot_wires
from postcheck.limits import Limits
from postcheck.report import Subject
from postcheck.survey import Survey
from postcheck.survey.heat.conductors import InUse, UsedWire
from postcheck.survey.heat.figures import PlaceFigures
from tests.survey.small import lamp, survey

from .facts import asked, facts, judged, units, values

HULL = Subject("place", "hull")
CLOSED = 'access = "cover"\nmaterial = "abs"\nsurface = "100 cm2"'
BOARD = '[board.driver]\nplace = "base"\nsupply = "main"\n'
HORN = '[[load]]\nname = "horn"\nkind = "sound"\ncircuit = "lights"\nplace = "hull"\ntypical = "10 mA"\n'
ADAPTOR = 'kind = "adaptor"\nplace = "base"\nvolts = "12 V"\nrated = "2 A"\n'
FLASH = 'behaviour = "flash"\nrate = "30 /min"\non_share = "50 %"'


def made_of(kind: str, most: str = "500 mA") -> str:
    """A load in the hull, of 0.24 W on 12 V and 6 W at the most."""
    says = f'most = "{most}"\n' if most else ""
    return f'[[load]]\nname = "{kind}"\nkind = "{kind}"\ncircuit = "lights"\nplace = "hull"\ntypical = "20 mA"\n{says}'


@pytest.fixture(scope="module")
def made() -> Survey:
    return survey(hull=CLOSED, lamps=lamp(at=" at hull"), extra=HORN + BOARD)


def place(made: Survey, **figures: Any) -> Survey:
    """A place in which air of 65 degC is the most, by figures of our own."""
    own: dict[str, Any] = {
        "stands": 65.0, "stands_source": "", "heat": 2.0, "rise": 20.0, "hottest": 55.0, "weakest": None, "bare": None, "bodies": 1.0, "steady": None,
        "steady_parts": (), "parts": (("horn", 1.2), ("the resistor of bow lamp", 0.8)), "material": "abs",
    }  # fmt: skip
    other = Survey(made.build, made.limits)
    base = made.places["hull"]
    other.__dict__["places"] = {"hull": PlaceFigures(**{**base._asdict(), **own, **figures})}
    return other


# -- air: five kelvin are kept free, or three tenths of the rise


@pytest.mark.parametrize(
    ("rise", "hottest", "severity"),
    [
        (30.0, 60.0, None), (30.0, 60.1, "caution"), (30.0, 65.0, "caution"), (30.0, 65.1, "stop"), (10.0, 62.0, None), (10.0, 62.1, "caution"),
        (16.0, 60.2, None), (16.0, 60.3, "caution"), (17.0, 60.1, "caution"),
        # the room alone is no fault of the build: two kelvin
        (2.0, 99.0, None), (2.1, 99.0, "stop"),
    ],
)  # fmt: skip
def test_how_hot_the_air_may_get(made, rise, hottest, severity):
    got = facts(heat, "place.too-hot", place(made, rise=rise, hottest=hottest))
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, "air")] if severity else [])
    for fact in got:
        assert fact.limit is not None
        assert fact.limit.value == 65.0
        assert bool(fact.firm) is (severity == "stop")
        assert (values(fact)["air"], values(fact)["rise"], values(fact)["heat"]) == (hottest, rise, 2.0)
        assert (values(fact)["largest_heat"], values(fact)["known_to"]) == (1.2, 0.3)
        assert fact.parts["largest"] == Subject("load", "horn")
        assert fact.words == {"material": "abs"}


def test_how_much_heat_is_allowed(made):
    # from 40 K on 30 K are free: 30 - 5 K, for which 2 W x 25 / 40, and a hundredth less; to two digits down
    (fact,) = facts(heat, "place.too-hot", place(made, rise=40.0, hottest=75.0))
    assert values(fact)["allowed"] == pytest.approx(1.2)
    assert pytest.approx(1.2375) == 0.99 * 2.0 * 25.0 / 40.0
    assert units(fact)["allowed"] == "W"
    # electronics first, and out with the resistor, which leaves just so much
    assert fact.parts["begin"] == Subject("load", "horn")
    assert fact.parts["moved"] == (Subject("resistor", "bow lamp"),)
    (fact,) = facts(heat, "place.too-hot", place(made, rise=41.0, hottest=76.0))
    assert values(fact)["allowed"] == pytest.approx(1.2)
    # of 12 K free 12 / 1.3 K, more than 7
    (fact,) = facts(heat, "place.too-hot", place(made, rise=20.0, hottest=55.0, stands=47.0))
    assert values(fact)["allowed"] == pytest.approx(0.91)
    assert pytest.approx(0.9138, rel=1e-3) == 0.99 * 2.0 * 12.0 / 1.3 / 20.0
    # with less allowed than the horn has, its resistor alone does not help
    assert "moved" not in fact.parts


AFT = lamp(at=" at hull").replace("bow lamp", "aft lamp").replace('place = "bow"', 'place = "stern"')
BOTH = (("the resistor of bow lamp", 0.5), ("the resistor of aft lamp", 0.5))


@pytest.mark.parametrize(
    ("stern", "more", "moved"),
    [
        # 25 K x 3.5 W/m2K x 100 cm2 are 0.875 W, half a watt of that new
        (CLOSED, {"heat": 0.375}, True), (CLOSED, {"heat": 0.376}, False), (CLOSED, {"heat": 0.1, "steady_parts": (("horn", 0.2), ("bell", 0.175))}, True),
        (CLOSED, {"heat": 0.1, "steady_parts": (("horn", 0.2), ("bell", 0.176))}, False),
        # of unknown size, with three bodies: 0.33 W each of walls with 25 K left, 1.188 W with 30 K
        ('access = "cover"\nmaterial = "abs"', {"heat": 0.688, "bodies": 3.0}, True), ('access = "cover"\nmaterial = "abs"', {"heat": 0.689, "bodies": 3.0}, False),
        ('access = "open"', None, True),
    ],
)  # fmt: skip
def test_where_resistors_are_moved_to_stays_cool(stern, more, moved):
    # 2 W are 40 K too warm: 1.2375 W may stay, so both half watts go, one of them to the stern
    built = survey(hull=CLOSED, lamps=lamp(at=" at hull") + AFT, extra=f"[place.stern]\n{stern}\n")
    hot = place(built, rise=40.0, hottest=75.0, parts=BOTH)
    if more is not None:
        hot.__dict__["places"]["stern"] = built.places["stern"]._replace(**more)
    (fact,) = facts(heat, "place.too-hot", hot)
    assert (
        fact.parts.get("moved", ())
        == (Subject("resistor", "bow lamp"), Subject("resistor", "aft lamp")) * moved
    )
    assert fact.parts.get("outside", ()) == (Subject("place", "bow"), Subject("place", "stern")) * moved


def test_no_more_is_moved_than_has_to_be():
    built = survey(hull=CLOSED, lamps=lamp(at=" at hull") + AFT, extra=f"[place.stern]\n{CLOSED}\n")
    for first, names in ((0.7625, ("bow lamp",)), (0.76, ("bow lamp", "aft lamp"))):
        hot = place(built, rise=40.0, hottest=75.0, parts=((BOTH[0][0], first), BOTH[1], ("horn", 0.7)))
        hot.__dict__["places"]["stern"] = built.places["stern"]
        (fact,) = facts(heat, "place.too-hot", hot)
        assert fact.parts["moved"] == tuple(Subject("resistor", name) for name in names)
    # once it sticks one of them has more than the walls of the stern bear
    hot = place(
        built,
        rise=40.0,
        hottest=75.0,
        parts=BOTH,
        steady=76.0,
        steady_parts=(("the resistor of aft lamp", 0.9),),
    )
    hot.__dict__["places"]["stern"] = built.places["stern"]._replace(heat=0.0)
    (fact,) = facts(heat, "place.too-hot", hot)
    assert "moved" not in fact.parts


def test_walls_that_the_room_alone_is_too_hot_for(made):
    # 5 K above the air of 55 degC are needed; the room 10 K cooler than the walls stand, less 5 and the rise
    (fact,) = facts(heat, "place.too-hot", place(made, rise=20.0, hottest=55.0, stands=35.0))
    assert values(fact)["needs"] == 60.0
    assert values(fact)["room"] == 10.0
    assert "allowed" not in values(fact)
    # the rise is known to 3 K: 55 + 3, and 35 - 3 - 10
    (fact,) = facts(heat, "place.too-hot", place(made, rise=10.0, hottest=54.5, stands=35.0))
    assert (values(fact)["needs"], values(fact)["room"]) == (58.0, 22.0)
    # cooler than the room ever is (5 degC)
    (fact,) = facts(heat, "place.too-hot", place(made, rise=25.1, hottest=60.0, stands=35.0))
    assert "room" not in values(fact)
    (fact,) = facts(heat, "place.too-hot", place(made, rise=25.0, hottest=60.0, stands=35.0))
    assert values(fact)["room"] == 5.0


@pytest.mark.parametrize(("hottest", "case"), [(300.0, "air"), (301.0, "far beyond")])
def test_far_beyond_there_is_no_figure(made, hottest, case):
    (fact,) = facts(heat, "place.too-hot", place(made, rise=hottest - 35.0, hottest=hottest))
    assert fact.case == case
    assert values(fact).get("beyond") == (300.0 if case == "far beyond" else None)


@pytest.mark.parametrize(
    ("called", "part"),
    [
        ("bow lamp", Subject("lamp", "bow lamp")), ("the resistor of bow lamp", Subject("resistor", "bow lamp")), ("driver", Subject("board", "driver")),
        ("main", Subject("supply", "main")), ("something else", None),
    ],
)  # fmt: skip
def test_what_is_warmest_is_named(made, called, part):
    (fact,) = facts(heat, "place.too-hot", place(made, rise=40.0, hottest=75.0, parts=((called, 2.0),)))
    assert fact.parts.get("largest") == part
    assert fact.words.get("largest") == (None if part else called)
    assert ("begin" in fact.parts) is False
    assert fact.because_of == (None if part is None else f"lamp.over-rating:{part.name}")


# -- what flashes, on for good: no margin is kept, and two kelvin count


@pytest.mark.parametrize(("steady", "found"), [(65.0, False), (65.1, True), (301.0, True)])
def test_once_it_sticks(made, steady, found):
    built = place(
        made, rise=20.0, hottest=55.0, steady=steady, steady_parts=(("bow lamp", 3.0), ("horn", 1.0))
    )
    got = facts(heat, "place.too-hot", built)
    assert len(got) == found
    for fact in got:
        far = steady > 300.0
        assert (fact.severity, fact.case) == ("caution", "stuck far beyond" if far else "stuck")
        # 4 W x 30 K / the rise then, a hundredth less
        allowed = 0.99 * 4.0 * 30.0 / (steady - 35.0)
        shown = values(fact)
        assert (shown["heat"], shown["largest_heat"], shown["air"], shown["rise"]) == (
            4.0,
            3.0,
            steady,
            pytest.approx(steady - 35.0),
        )
        assert 0.9 * allowed <= shown["allowed"] <= allowed
        assert shown.get("beyond") == (300.0 if far else None)
        assert fact.parts["largest"] == Subject("lamp", "bow lamp")
        assert fact.firm


@pytest.mark.parametrize(
    ("hottest", "steady", "case"),
    [
        (60.0, 65.1, "stuck"), (60.1, 65.0, "air"), (60.1, 65.1, "stuck"), (65.0, 65.1, "stuck"), (65.1, 90.0, "air"), (65.0, 301.0, "stuck far beyond"),
    ],
)  # fmt: skip
def test_near_as_it_usually_is_the_hotter_case_is_told(made, hottest, steady, case):
    """2 W usually: with five kelvin kept free 25 K of the rise, a hundredth less; a stop is told by itself."""
    rise = hottest - 35.0
    built = place(made, rise=rise, hottest=hottest, steady=steady, steady_parts=(("bow lamp", 4.0),))
    (fact,) = facts(heat, "place.too-hot", built)
    shown = values(fact)
    assert (fact.case, fact.severity) == (case, "stop" if hottest > 65.0 else "caution")
    near = case.startswith("stuck") and hottest > 60.0
    assert bool(fact.firm) is (case != "air" or hottest > 65.0)
    assert (shown.get("usual_air"), "usual_allowed" in shown) == (hottest if near else None, near)
    if near:
        allowed = 0.99 * 2.0 * 25.0 / rise
        assert 0.9 * allowed <= shown["usual_allowed"] <= allowed


def test_walls_that_bear_no_more_than_the_room_allow_no_heat(made):
    parts = (("bow lamp", 3.0),)
    for stands, allowed in ((35.0, False), (36.0, True)):
        (fact,) = facts(heat, "place.too-hot", place(made, rise=1.0, hottest=36.0, stands=stands, steady=60.0, steady_parts=parts))  # fmt: skip
        assert ("allowed" in values(fact)) is allowed


def test_the_room_alone_is_no_fault_of_what_sticks(made):
    parts = (("bow lamp", 3.0),)
    for steady, found in ((37.0, 0), (37.1, 1)):
        got = facts(heat, "place.too-hot", place(made, rise=2.0, hottest=37.0, stands=36.0, steady=steady, steady_parts=parts))  # fmt: skip
        assert len(got) == found


# -- where the file does not say: a tenth of a watt matters, 0.33 W a body is vital; less where little is free


@pytest.mark.parametrize(
    ("watts", "stands", "asks", "vital"),
    [
        (0.1, 60.0, 0, None), (0.101, 60.0, 1, False), (0.33, 60.0, 1, False), (0.331, 60.0, 1, True), (0.1, 85.0, 0, None), (0.101, 85.0, 1, False),
        (0.05, 47.5, 0, None), (0.051, 47.5, 1, False), (0.166, 47.5, 1, True), (0.0099, 36.0, 0, None), (0.0101, 36.0, 1, False), (0.0331, 36.0, 1, True), (0.0329, 36.0, 1, False),
    ],
)  # fmt: skip
def test_how_large_a_place_is_has_to_be_said(made, watts, stands, asks, vital):
    built = place(made, rise=None, hottest=None, heat=watts, stands=stands, parts=(("horn", watts),))
    questions = asked(heat, "place.too-hot", built)
    assert [question.vital for question in questions] == [vital] * asks


@pytest.mark.parametrize(
    ("bodies", "watts", "vital"),
    [(2.0, 0.65, False), (2.0, 0.67, True), (5.0, 0.99, False), (5.0, 1.01, True)],
)
def test_a_larger_body_may_have_more(made, bodies, watts, vital):
    built = place(
        made, rise=None, hottest=None, heat=watts, stands=60.0, bodies=bodies, parts=(("horn", watts),)
    )
    assert [question.vital for question in asked(heat, "place.too-hot", built)] == [vital]


def test_how_much_surface_is_enough(made):
    # 1 W over 25 K less 5: 20 K, at 3.5 W/(m2 K) and a hundredth more: 0.01443 m2, to two digits up
    built = place(made, rise=None, hottest=None, heat=1.0, stands=60.0, parts=(("horn", 1.0),))
    (question,) = asked(heat, "place.too-hot", built)
    assert "150 cm2 is enough" in question.missing
    # 3 W once it sticks, over all of 25 K
    built = place(made, rise=None, hottest=None, heat=1.0, stands=60.0, parts=(("horn", 1.0),), steady_parts=(("horn", 3.0),))  # fmt: skip
    (question,) = asked(heat, "place.too-hot", built)
    assert "350 cm2 is enough" in question.missing
    # half a kelvin is free, a third of it as unsure; and none
    for stands, enough in ((35.5, True), (35.0, False)):
        built = place(made, rise=None, hottest=None, heat=1.0, stands=stands, parts=(("horn", 1.0),))
        (question,) = asked(heat, "place.too-hot", built)
        assert ("enough" in question.missing) is enough


def test_metal_that_may_be_bare_and_walls_that_may_be_weak(made):
    for bare, asks in ((65.0, 0), (65.1, 1)):
        questions = asked(heat, "place.too-hot", place(made, bare=bare, hottest=50.0))
        assert [question.vital for question in questions] == [True] * asks
    for weakest, hottest, vital in ((40.0, 40.0, None), (39.9, 40.0, False), (39.0, 40.1, True)):
        questions = asked(heat, "place.too-hot", place(made, weakest=weakest, hottest=hottest, material=None))
        assert [question.vital for question in questions] == ([] if vital is None else [vital])


# -- conductors: what their insulation withstands, 200 degC of PTFE


def wires(made: Survey, *some: UsedWire, warming: dict[str, Any] | None = None) -> Survey:
    other = Survey(made.build, made.limits)
    other.__dict__["in_use"] = InUse(
        some, warming or {}, {name: sum(each.values()) for name, each in (warming or {}).items()}
    )
    return other


def used(made: Survey, name: str, celsius: float | None, through: tuple[str, ...] = ("post",), kind: str = "run", **more: Any) -> UsedWire:  # fmt: skip
    runs = {run.name: run for run in made.parts.runs}
    run = runs.get(name, runs["feed"])
    wire = run.wire._replace(**more)  # type: ignore[union-attr]
    return UsedWire(kind, name, "", run.path, wire, 1.5, 1, through, celsius)


@pytest.mark.parametrize(("celsius", "found"), [(200.0, False), (200.1, True), (None, True)])
def test_a_wire_that_is_too_hot(made, celsius, found):
    got = facts(hot_wires, "wire.hot", wires(made, used(made, "feed", celsius)))
    assert len(got) == found
    for fact in got:
        shown = values(fact)
        assert shown.pop("current") == 1.5
        # copper melts at 1085 degC (CRC handbook; 1083 in older ones)
        assert list(shown.values()) == [pytest.approx(celsius or 1085.0, abs=3.0)]
        assert (fact.severity, fact.subject, fact.words) == (
            "stop",
            Subject("run", "feed"),
            {"wire": "ptfe-28"},
        )
        assert fact.because_of is None


@pytest.mark.parametrize(("beside", "shown"), [(5.0, 5.0), (4.9, None)])
def test_what_lies_with_it_is_hot_for_the_same_reason(made, beside, shown):
    warming = {"post": {("run", "feed", ""): beside, ("run", "negative", ""): 90.0}}
    both = (used(made, "negative", 300.0), used(made, "feed", 250.0), used(made, "negative", 290.0))
    first, second = facts(hot_wires, "wire.hot", wires(made, *both, warming=warming))
    assert (first.subject.name, first.because_of, values(first).get("beside")) == ("negative", None, shown)
    assert (second.subject.name, second.because_of) == ("feed", "wire.hot:negative")
    apart = (used(made, "negative", 300.0), used(made, "feed", 250.0, ()))
    assert [fact.because_of for fact in facts(hot_wires, "wire.hot", wires(made, *apart))] == [None, None]
    # a lamp's lead carries what the lamp withstands
    assert judged(hot_wires, "wire.hot", wires(made, used(made, "bow lamp", 300.0, kind="lead"))) == []


@pytest.mark.parametrize(("celsius", "found"), [(80.0, False), (80.1, True)])
def test_a_wire_that_is_too_hot_for_the_insulation_beside_it(celsius, found):
    made = survey()  # what they lie on is not said
    weak = used(made, "negative", 40.0, insulation_celsius=80.0)
    middle = used(made, "third", 40.0, insulation_celsius=105.0)
    got = facts(
        hot_wires,
        "wire.hot-beside",
        wires(made, used(made, "feed", celsius, insulation_celsius=200.0), middle, weak),
    )
    assert [(fact.severity, fact.case, fact.subject.name) for fact in got] == [
        ("stop", "neighbour", "feed")
    ] * found
    for fact in got:
        assert values(fact) == {"current": 1.5, "hottest": celsius}
        assert fact.parts == {"what": Subject("run", "negative")}
        assert fact.limit is not None
        assert (fact.limit.value, bool(fact.firm)) == (80.0, True)


def test_the_weakest_is_held_against_the_next_weakest(made):
    weak = used(made, "negative", 79.0, insulation_celsius=80.0)
    some = (
        weak,
        used(made, "feed", 30.0, insulation_celsius=70.0),
        used(made, "third", 30.0, insulation_celsius=105.0),
    )
    (fact,) = facts(hot_wires, "wire.hot-beside", wires(made, *some))
    assert (fact.subject.name, fact.parts["what"]) == ("negative", Subject("run", "feed"))
    just = used(made, "negative", 80.0, insulation_celsius=80.0)
    assert len(facts(hot_wires, "wire.hot-beside", wires(made, just, *some[1:]))) == 1
    # what is too hot itself is told by itself
    hot = used(made, "negative", 80.1, insulation_celsius=80.0)
    assert facts(hot_wires, "wire.hot-beside", wires(made, hot, *some[1:])) == []


def test_a_wire_that_marks_what_it_lies_on(made):
    # a small spot withstands ten kelvin more than the air: 75 degC of the hull
    for celsius, found in ((made.spots["hull"][1], 0), (made.spots["hull"][1] + 0.1, 1)):
        got = facts(hot_wires, "wire.hot-beside", wires(made, used(made, "feed", celsius, ())))
        assert [(fact.severity, fact.case) for fact in got] == [("caution", "place")] * found
        for fact in got:
            assert fact.parts == {"what": HULL}
            assert fact.limit is not None
            assert fact.limit.value == made.spots["hull"][1]
    # through no passage, and no run of the build: there is nothing to hold it against
    assert judged(hot_wires, "wire.hot-beside", wires(made, used(made, "third", 190.0, ()))) == []


@pytest.mark.parametrize(
    ("kind", "celsius", "found"), [("run", 77.0, False), ("run", 77.1, True), ("lead", 90.0, False), ("run", 500.0, True), ("run", None, False)]
)  # fmt: skip
def test_a_wire_that_burns_who_touches_it(made, kind, celsius, found):
    one = used(made, "feed", celsius, ())._replace(kind=kind)
    got = facts(hot_wires, "wire.hot-touched", wires(made, one))
    # what its insulation does not withstand is told for that
    first = "wire.hot:feed" if celsius == 500.0 else None
    assert [(fact.severity, fact.subject, fact.parts["place"], fact.because_of) for fact in got] == [
        ("caution", Subject("run", "feed"), Subject("place", "base"), first)
    ] * found


# -- what stays at its most: 12 V x 0.5 A are 6 W, and in 100 cm2 171 K


def with_loads(*kinds: str, circuit: str = "", most: str = "500 mA") -> Survey:
    loads = "".join(made_of(kind, most) for kind in kinds)
    return survey(hull=CLOSED, supply=ADAPTOR, lamps=loads, circuit=circuit, wire="silicone-22")


@pytest.mark.parametrize(
    ("kinds", "circuit", "case", "firm", "peaks"),
    [
        (("pixels",), "", "white", True, None), (("other",), "", "at most", False, ("other",)), (("inverter", "other"), "", "at most", False, ("inverter", "other")),
        (("pixels", "other"), "", "at most", True, None), (("pixels",), FLASH, "white", True, None),
    ],
)  # fmt: skip
def test_what_stays_at_its_most(kinds, circuit, case, firm, peaks):
    (fact,) = facts(heat, "place.too-hot", with_loads(*kinds, circuit=circuit))
    assert (fact.severity, fact.case.removesuffix(" far beyond"), bool(fact.firm)) == ("caution", case, firm)
    assert fact.parts["loads"] == tuple(Subject("load", kind) for kind in kinds)
    assert fact.parts.get("peaks") == (
        None if peaks is None else tuple(Subject("load", name) for name in peaks)
    )
    assert "circuits" not in fact.parts
    # as much as the walls bear, with a margin to the usual heat
    assert values(fact)["enough"] >= values(fact)["heat"] / (3.5 * 30.0)


# 12 V x 20 mA are 0.24 W: 25 K in 27 cm2 are near, in 60 cm2 they are not, and 6 W are too much for both
@pytest.mark.parametrize(("surface", "near"), [("27 cm2", True), ("60 cm2", False)])
def test_what_is_near_as_it_usually_is_may_sit_elsewhere(surface, near):
    hull = CLOSED.replace("100 cm2", surface)
    (fact,) = facts(
        heat,
        "place.too-hot",
        survey(hull=hull, supply=ADAPTOR, lamps=made_of("other"), wire="silicone-22"),
    )
    assert (fact.case.removesuffix(" far beyond"), fact.severity, fact.firm) == ("at most", "caution", "")
    assert fact.parts.get("begin") == (Subject("load", "other") if near else None)
    assert ("usual_air" in values(fact)) is near


@pytest.mark.parametrize("kind", ["sound", "motor"])
def test_what_does_not_stay_at_its_most(kind):
    assert facts(heat, "place.too-hot", with_loads(kind)) == []


def test_a_flasher_beside_pixels_is_named_where_it_adds():
    both = lamp(at=" at hull").replace("1k5 1/4 W", "100 ohm 10 W").replace('"lights"', '"wink"')
    wink = f'[circuit.wink]\nsupply = "main"\n{FLASH}\n[[run]]\nname = "wink"\nline = "wink"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    made = survey(hull=CLOSED, supply=ADAPTOR, lamps=both + made_of("pixels"), extra=wink, wire="silicone-22")
    (fact,) = facts(heat, "place.too-hot", made)
    assert (fact.case.removesuffix(" far beyond"), bool(fact.firm)) == ("at most", True)
    assert fact.parts["circuits"] == (Subject("circuit", "wink"),)
    assert "peaks" not in fact.parts


def test_pixels_of_which_only_the_usual_current_is_known():
    assert [one.vital for one in asked(heat, "place.too-hot", with_loads("pixels", most=""))] == [False]
    assert asked(heat, "place.too-hot", with_loads("other", most="")) == []
    assert asked(heat, "place.too-hot", with_loads("pixels")) == []


def test_the_size_of_a_place_matters_for_what_stays_at_its_most():
    unsized = CLOSED.replace('surface = "100 cm2"', "")
    for kind, questions in (("pixels", [True]), ("sound", [])):
        made = survey(hull=unsized, supply=ADAPTOR, lamps=made_of(kind), wire="silicone-22")
        got = asked(heat, "place.too-hot", made)
        assert [one.vital for one in got] == (questions or [False] * len(got))


def test_a_share_of_what_its_insulation_withstands_makes_it_too_hot_by_itself():
    # of 80 degC nine tenths: 72, and of the 70 beside it 63
    build = survey().build
    for celsius, found in ((72.0, 1), (72.1, 0)):
        strict = Survey(build, Limits({"wire.insulation": (0.9, "long life")}))
        weak = used(strict, "negative", celsius, insulation_celsius=80.0)
        beside = used(strict, "feed", 30.0, insulation_celsius=70.0)
        assert len(facts(hot_wires, "wire.hot-beside", wires(strict, weak, beside))) == found
