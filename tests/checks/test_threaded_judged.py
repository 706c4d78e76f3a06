"""What has to pass while other wires lie in a bore of 5 mm, with findings of our own."""

from __future__ import annotations

from math import hypot

import pytest

from postcheck.checks import threading
from postcheck.physics import bundle
from postcheck.physics.threading import Thick
from postcheck.report import Subject
from postcheck.survey import Survey
from postcheck.survey.post.figures import Threaded, Threading
from tests.survey.small import survey

from .facts import facts, judged, values, with_passage

STUCK, FITS, UNSURE = bundle.CANNOT, bundle.FITS, bundle.NOT_FOUND


@pytest.fixture(scope="module")
def made() -> Survey:
    return survey()


def thing(name: str = "feed", kind: str = "run", thick: Thick = Thick(0.003), verdict: str = STUCK, room: float | None = None) -> Threaded:  # fmt: skip # noqa: B008
    return Threaded(name, kind, (kind, name), thick, (0.001,), verdict, room)


def threaded(made: Survey, *things: Threaded, verdict: str = STUCK, **more: object) -> Survey:
    threading = Threading("apart", verdict, things, rest=True)._replace(**more)  # type: ignore[arg-type]
    return with_passage(made, verdict=FITS, threading=threading)


@pytest.mark.parametrize(
    ("thick", "room", "shown"),
    [
        (Thick(0.003), None, {"round": 0.003}), (Thick(0.003), 0.002, {"round": 0.003, "room": 0.002}), (Thick(0.003), 0.0, {"round": 0.003}),
        (Thick(0.004, 0.001), None, {"wide": 0.004, "thin": 0.001}),
        # it is as wide as the bore, and more from corner to corner
        (Thick(0.005, 0.001), None, {"wide": 0.005, "thin": 0.001, "corners": hypot(0.005, 0.001)}), (Thick(0.0051, 0.001), None, {"wide": 0.0051, "thin": 0.001}),
        (Thick(0.004, 0.003), None, {"wide": 0.004, "thin": 0.003}),
    ],
)  # fmt: skip
def test_how_large_it_is(made, thick, room, shown):
    (fact,) = facts(threading, "passage.widest", threaded(made, thing(thick=thick, room=room)))
    alone = hypot(thick.across, thick.thin) > 0.005
    others = {} if alone else {"others": 1.0}  # two runs, one of them its own wire
    assert values(fact) == {"bore": 0.005, "across": pytest.approx(hypot(*thick)), **others, **{name: pytest.approx(value) for name, value in shown.items()}}  # fmt: skip
    assert fact.reason == ("alone" if alone else "past")
    assert fact.parts == {"thing": Subject("joint", "feed")}
    assert fact.path == ("post", "bore")


@pytest.mark.parametrize(
    ("kind", "parts"),
    [("run", {"thing": Subject("joint", "feed")}), ("lead", {"lead": Subject("lead", "feed")}), ("plug", {"thing": Subject("plug", "feed")})],
)  # fmt: skip
def test_what_sits_at_its_end(made, kind, parts):
    (fact,) = facts(threading, "passage.widest", threaded(made, thing(kind=kind)))
    assert fact.parts == parts


@pytest.mark.parametrize(
    ("verdict", "tight", "severity", "case"),
    [(STUCK, False, "stop", "stuck"), (UNSURE, False, "caution", "not found"), (FITS, True, "caution", "tight"), (FITS, False, None, None)],
)  # fmt: skip
def test_how_bad_that_is(made, verdict, tight, severity, case):
    one = thing(verdict=verdict)
    got = facts(
        threading, "passage.widest", threaded(made, one, verdict=verdict, tight=one if tight else None)
    )
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, case)] if severity else [])
    for fact in got:
        assert fact.limit is not None
        assert (fact.limit.value, fact.limit.name) == ((1.03, "passage.room.past") if tight else (0.005, ""))


@pytest.mark.parametrize(("across", "alone"), [(0.005 / 1.03, False), (0.00486, True)])
def test_what_is_tight_has_three_hundredths_less_for_itself(made, across, alone):
    one = thing(thick=Thick(across), verdict=FITS)
    (fact,) = facts(threading, "passage.widest", threaded(made, one, verdict=FITS, tight=one))
    assert fact.reason == ("alone" if alone else "past")


@pytest.mark.parametrize(
    ("way", "kind", "role"), [("apart", "run", "others"), ("one by one", "run", "ordered"), ("abreast", "run", "abreast"), ("abreast", "plug", "others")],
)  # fmt: skip
def test_what_it_has_to_pass(made, way, kind, role):
    two = (thing(kind=kind), thing("negative", verdict=FITS), thing("foot", "plug", verdict=FITS))
    (fact,) = facts(threading, "passage.widest", threaded(made, *two, way=way))
    if role == "abreast":
        assert fact.parts[role] == (Subject("joint", "negative"),)
    else:
        assert values(fact)[role] == 1.0


def test_a_plug_that_still_gets_a_wire_is_judged_later(made):
    two = (thing("foot", "plug"), thing(verdict=FITS))
    lacking = survey(extra='[[plug]]\nname = "foot"\nat = "hull"\npins = ["deck"]\nkeyed = true\n[circuit.deck]\nsupply = "main"\n[[lamp]]\nname = "deck lamp"\ncircuit = "deck"\nkind = "smd-0402-red"\nplace = "bow"\nresistor = "1k5 1/4 W"\nlead = "120 mm to hull"\n')  # fmt: skip
    assert ("plug", "foot") in lacking.wiring.lacking
    assert facts(threading, "passage.widest", threaded(lacking, *two)) == []
    assert facts(threading, "passage.widest", threaded(lacking, *reversed(two))) == []
    assert len(facts(threading, "passage.widest", threaded(made, *two))) == 1


def test_an_order_is_told_where_only_it_will_do(made):
    two = (thing("feed", verdict=FITS), thing("negative", thick=Thick(0.004), verdict=FITS))
    for rest in (True, False):
        (fact,) = facts(threading, "passage.order", threaded(made, *two, verdict=FITS, free=False, rest=rest))
        assert (fact.severity, fact.case) == ("note", "with others" if rest else "")
        assert fact.parts == {"thing": Subject("joint", "negative"), "order": (Subject("run", "feed"), Subject("run", "negative"))}  # fmt: skip
        assert values(fact) == {"bore": 0.005, "across": 0.004, "round": 0.004}
    assert judged(threading, "passage.order", threaded(made, *two, verdict=FITS)) == []
    assert judged(threading, "passage.order", threaded(made, *two, verdict=UNSURE, free=False)) == []
    other = with_passage(threaded(made, *two, verdict=FITS, free=False), verdict=UNSURE)
    assert judged(threading, "passage.order", other) == []
    assert judged(threading, "passage.widest", with_passage(threaded(made, *two), verdict=UNSURE)) == []
