"""What is judged of a passage, on both sides of each limit, with figures of our own."""

from __future__ import annotations

from math import pi, radians

import pytest

from postcheck.checks import grips, threading, turning
from postcheck.physics.twist.helix import TwistStrain
from postcheck.report import Subject
from postcheck.survey import Survey
from postcheck.survey.post.figures import Both, Coil, EndBend, Folding, Nicked, Pull
from tests.survey.small import survey

from .facts import asked, facts, judged, units, values, with_passage

POST = Subject("passage", "post")
FEED, NEGATIVE = Subject("run", "feed"), Subject("run", "negative")
# soft copper wire of 0.127 mm stretches by 15 % at least before it breaks (ASTM B3: 0.005 inch)
SURELY = 0.15


def post(
    more: str = 'turn = "90 deg"\nstop = true\ncycles = "1000 cycles"', bore: str = "5 mm", **parts: str
) -> Survey:
    return survey(post=f'bore = "{bore}"\nlength = "160 mm"\n{more}', **parts)


@pytest.fixture(scope="module")
def made() -> Survey:
    return post()


# -- slack: soft copper springs back from 0.064 %


def strains(*axial: float) -> tuple[TwistStrain, ...]:
    return tuple(TwistStrain(one, 0.0, 0.0, one) for one in axial)


@pytest.mark.parametrize(
    ("stretch", "found"), [(0.00064, False), (0.000641, True), (0.2999, True), (0.3001, True)]
)
@pytest.mark.parametrize("given", [True, False])
def test_wires_that_turning_stretches(stretch, found, given):
    said = post('turn = "90 deg"\nstop = true\n' + ('slack = "2 mm"' if given else ""))
    made = with_passage(said, strains=strains(0.0001, stretch), slack_needed=0.0077, slack=0.002)
    got = facts(grips, "passage.slack", made)
    assert len(got) == found
    for fact in got:
        shown = {"strain": stretch} if stretch <= 2.0 * SURELY else {"withstood": pytest.approx(SURELY)}
        assert values(fact) == {
            "turn": pytest.approx(pi / 2), **shown, "stretch": stretch, "slack": 0.0077, "given" if given else "usual": 0.002,
        }  # fmt: skip
        assert {units(fact)[name] for name in ("turn", "stretch", "slack")} == {"rad", "share", "m"}
        assert (fact.severity, fact.subject, fact.path) == ("caution", POST, ("post", "slack"))
        assert fact.parts == {"conductor": NEGATIVE}
        assert fact.limit is not None
        assert fact.limit.value == 0.00064


def test_what_does_not_turn_stretches_nothing():
    assert judged(grips, "passage.slack", with_passage(post(""), strains=strains(0.1, 0.1))) == []
    assert judged(grips, "passage.slack", with_passage(post(), members=(), strains=())) == []


# -- coils: six diameters at rest (NASA-STD-8739.4)


@pytest.mark.parametrize(("diameters", "found"), [(6.0, False), (5.99, True)])
@pytest.mark.parametrize(
    ("more", "severity", "reason"),
    [
        ('turn = "90 deg"', "caution", "moves"),
        ('fold = "45 deg"\nfree = "60 mm"', "caution", "moves"),
        ("", "note", "still"),
    ],
)
def test_spare_length_that_coils(diameters, found, more, severity, reason):
    built = post(more)
    coil = Coil(built.passages["post"].members[0], diameters, 0.0123)
    got = facts(grips, "passage.coiled", with_passage(built, coil=coil, slack=0.044))
    assert len(got) == found
    for fact in got:
        assert (fact.severity, fact.reason, fact.path) == (severity, reason, ("post", "slack"))
        assert values(fact) == {"slack": 0.044, "bore": 0.005, "diameters": diameters, "most": 0.0123}
        assert units(fact) == {"slack": "m", "bore": "m", "diameters": "", "most": "m"}
        assert fact.parts == {"conductor": FEED}
        assert fact.because_of == "passage.lengths:post"
    assert judged(grips, "passage.coiled", with_passage(built, coil=None)) == []


# -- the last grip: 10 mm, or ten diameters


@pytest.mark.parametrize(
    ("away", "grip", "found", "limit"),
    [
        ("10 mm", 0.01, False, "twist.grip"), ("9.9 mm", 0.01, True, "twist.grip"), ("12 mm", 0.0121, True, "twist.grip.diameters"),
        ("12.1 mm", 0.0121, False, "twist.grip.diameters"),
    ],
)  # fmt: skip
def test_a_joint_close_to_what_twists(away, grip, found, limit):
    made = with_passage(post(f'turn = "90 deg"\nto_joint = "{away}"'), grip=grip)
    (within,) = judged(grips, "passage.grip", made)[:1]
    assert (within.limit.value, within.limit.name) == (grip, limit)
    got = facts(grips, "passage.grip", made)
    assert len(got) == found
    for fact in got:
        assert values(fact) == {
            "away": pytest.approx(float(away.split()[0]) / 1e3),
            "turn": pytest.approx(pi / 2),
        }
        assert (fact.severity, fact.path) == ("caution", ("post", "to_joint"))


def test_how_far_it_is_has_to_be_said():
    assert len(asked(grips, "passage.grip", post('turn = "90 deg"'))) == 1
    assert judged(grips, "passage.grip", post("")) == []
    assert judged(grips, "passage.grip", with_passage(post('turn = "90 deg"'), members=())) == []


# -- sharp ends. The wall of ptfe-28 is (0.74 - 0.381) / 2 mm: three strands of 0.127 across


@pytest.mark.parametrize(
    ("more", "wire", "severity", "case"),
    [
        ("", "ptfe-28", "note", "insulated"), ("", "enamel-0.20", "caution", "enamelled"),
        ('turn = "90 deg"', "ptfe-28", "caution", "thin"), ('turn = "90 deg"', "ptfe-28-e", "caution", "moves"),
        ('fold = "45 deg"\nfree = "60 mm"', "ptfe-28-e", "caution", "moves"),
    ],
)  # fmt: skip
def test_sharp_ends(more, wire, severity, case):
    (fact,) = facts(grips, "passage.edge", post(f'edges = "sharp"\n{more}', wire=wire))
    assert (fact.severity, fact.case, fact.path) == (severity, case, ("post", "edges"))
    thin = {"wall": pytest.approx(0.18e-3, rel=0.03)} if case == "thin" else {}
    moves = (
        {"turn": pytest.approx(pi / 2)} if "turn" in more else {"fold": pytest.approx(pi / 4)} if more else {}
    )
    assert values(fact) == {**moves, **thin}
    assert fact.parts == ({"wires": (FEED, NEGATIVE)} if case in ("thin", "enamelled") else {})
    assert (fact.limit is not None) is (case == "thin")


@pytest.mark.parametrize(
    ("metal", "severity", "parts"),
    [((), "caution", None), (("main-",), "stop", (FEED,)), (("lights",), "stop", (NEGATIVE,)), (("lights", "main-"), "stop", (FEED, NEGATIVE))],
)  # fmt: skip
def test_thin_insulation_on_live_metal(metal, severity, parts):
    built = with_passage(post('edges = "sharp"\nturn = "90 deg"'), metal=metal)
    (fact,) = facts(grips, "passage.edge", built)
    assert (fact.severity, fact.case) == (severity, "shorts" if parts else "thin")
    if parts:
        assert fact.parts == {"wires": parts, "lines": tuple(Subject("line", line) for line in metal)}


def test_how_its_ends_are_has_to_be_said():
    assert len(asked(grips, "passage.edge", post(""))) == 1
    for edges in ("rounded", "bushed"):
        assert judged(grips, "passage.edge", post(f'edges = "{edges}"')) == []
    for edges in ("", 'edges = "sharp"'):
        assert judged(grips, "passage.edge", with_passage(post(edges), members=())) == []


# -- bends at the ends: ten diameters where wires move, six at rest, below two they crease


def bent(built: Survey, diameters: float, moves: bool | None, low: float = 2e3, high: float = 9e3, strain: float = 0.01) -> Survey:  # fmt: skip
    feed, negative = built.passages["post"].members
    bend = EndBend(feed, diameters, negative, strain, 0.02, 0.15, (low, high), moves)
    return with_passage(built, end_bend=bend)


BENT = 'turn = "90 deg"\nstop = true\nbend_radius = "3 mm"\ncycles = "1000 cycles"'


@pytest.mark.parametrize(
    ("moves", "diameters", "severity", "limit"),
    [
        (False, 6.0, None, None), (False, 5.99, "note", 6.0), (False, 2.0, "note", 6.0), (False, 1.99, "caution", 6.0),
        (True, 6.0, None, None), (True, 5.99, "note", 10.0), (True, 1.99, "caution", 10.0), (None, 5.99, "note", 10.0),
    ],
)  # fmt: skip
def test_a_bend_that_creases(moves, diameters, severity, limit):
    got = facts(grips, "passage.bend", bent(post(BENT), diameters, moves))
    assert [fact.severity for fact in got] == ([severity] if severity else [])
    for fact in got:
        assert (fact.case, fact.path) == ("still" if moves is False else "moving", ("post", "bend_radius"))
        assert values(fact) == {"diameters": diameters, "bending": 0.01}
        assert fact.limit is not None
        assert fact.limit.value == limit
        assert fact.parts == {"conductor": FEED}


@pytest.mark.parametrize(
    ("moves", "diameters", "low", "case", "advised"),
    [
        (True, 12.0, 1000.0, None, None), (True, 12.0, 999.0, "flexed", None), (True, 10.0, 999.0, "flexed", None), (True, 9.99, 999.0, "flexed", 10.0),
        (None, 9.99, 999.0, "perhaps flexed", 10.0), (None, 12.0, 999.0, "asked", None), (False, 12.0, 999.0, None, None),
    ],
)  # fmt: skip
def test_a_bend_that_tires(moves, diameters, low, case, advised):
    built = bent(post(BENT), diameters, moves, low, 8765.4)
    got, questions = facts(grips, "passage.bend", built), asked(grips, "passage.bend", built)
    assert [fact.case for fact in got] == ([case] if case not in (None, "asked") else [])
    assert len(questions) == (case == "asked")
    for fact in got:
        assert values(fact) == {
            "radius": 0.003, "least": 999.0, "most": 8765.0, "wanted": 1000.0, "strain": 0.01, "swing": 0.02, "diameters": diameters,
            **({} if advised is None else {"advised": advised}),
        }  # fmt: skip
        assert fact.severity == "caution"
        assert fact.parts == {"conductor": NEGATIVE, "widest": FEED}


@pytest.mark.parametrize(
    ("low", "high", "shown"),
    [
        (9.9, 9.9, {"few": 10.0}), (9.9, 10.0, {"at_most": 10.0}), (10.0, 10.4, {"least": 10.0, "most": 10.0}), (123.6, 4567.4, {"least": 124.0, "most": 4567.0}),
    ],
)  # fmt: skip
def test_below_ten_turnings_there_is_no_figure(low, high, shown):
    (fact,) = facts(grips, "passage.bend", bent(post(BENT), 12.0, True, low, high))
    assert {name: value for name, value in values(fact).items() if name in ("few", "at_most", "least", "most")} == shown  # fmt: skip


@pytest.mark.parametrize(("strain", "shown"), [(0.3, {"strain": 0.3}), (0.301, {"withstood": 0.15})])
def test_far_beyond_what_it_withstands_a_strain_is_no_figure(strain, shown):
    (fact,) = facts(grips, "passage.bend", bent(post(BENT), 12.0, True, 20.0, 40.0, strain))
    assert {name: value for name, value in values(fact).items() if name in ("strain", "withstood")} == shown


# -- turning and folding: the weakest, by the lower of its relations


@pytest.mark.parametrize(
    ("lives", "severity", "who", "others"),
    [
        (((1000.0, 5000.0), (1000.0, 6000.0)), None, None, 0), (((999.0, 5000.0), (2000.0, 6000.0)), "caution", FEED, 0),
        (((999.0, 1000.0), (998.0, 1000.0)), "caution", NEGATIVE, 1), (((500.0, 999.0), (600.0, 9000.0)), "stop", FEED, 1),
    ],
)  # fmt: skip
def test_wires_that_turning_tires(made, lives, severity, who, others):
    built = with_passage(made, cycles_to_failure=lives, strain=(0.004, 0.005), turn_borne=radians(33.3))
    got = facts(turning, "passage.strain", built)
    assert [fact.severity for fact in got] == ([severity] if severity else [])
    for fact in got:
        low, high = min(lives)
        assert values(fact) == {
            "turn": radians(33.3), "free": 0.16, "least": low, "most": high, "wanted": 1000.0, "strain": 0.004 if who == FEED else 0.005,
            "harmless": pytest.approx(radians(33)), **({"others": 1.0} if others else {}),
        }  # fmt: skip
        assert fact.parts == {"conductor": who}
        assert fact.limit is not None
        assert (fact.limit.value, fact.path) == (1000.0, ("post", "turn"))


@pytest.mark.parametrize(
    ("borne", "shown"),
    [(None, {"harmful": 1.0}), (0.9, {"harmful": 1.0}), (1.0, {"harmless": 1.0}), (7.99, {"harmless": 7.0})],
)
def test_how_far_it_may_turn_to_a_whole_degree(made, borne, shown):
    turned = None if borne is None else radians(borne * (1.0 + 1e-12))
    built = with_passage(made, cycles_to_failure=((10.0, 20.0),) * 2, turn_borne=turned)
    (fact,) = facts(turning, "passage.strain", built)
    assert {name: value for name, value in values(fact).items() if name.startswith("harm")} == {
        name: pytest.approx(radians(value)) for name, value in shown.items()
    }
    assert values(fact)["turn"] == (turned or 0.0)


def test_how_often_is_assumed_where_nobody_says():
    built = with_passage(post('turn = "90 deg"\nstop = true'), cycles_to_failure=((9999.0, 10000.0),) * 2)
    (fact,) = facts(turning, "passage.strain", built)
    assert (fact.severity, values(fact)["assumed"]) == ("caution", 10000.0)
    assert fact.limit is not None
    assert fact.limit.name == "twist.cycles"
    assert (
        judged(turning, "passage.strain", with_passage(post(""), cycles_to_failure=((1.0, 1.0),) * 2)) == []
    )


FOLDS = 'fold = "45 deg"\nfree = "60 mm"\ncycles = "1000 cycles"'


@pytest.mark.parametrize(
    ("low", "high", "severity"), [(1000.0, 1000.0, None), (999.0, 1000.0, "caution"), (998.0, 999.0, "stop")]
)
def test_wires_that_folding_tires(low, high, severity):
    built = post(FOLDS)
    folding = Folding(built.passages["post"].members[1], 0.012, (low, high), 0.0789)
    got = facts(turning, "passage.fold", with_passage(built, folding=folding))
    assert [fact.severity for fact in got] == ([severity] if severity else [])
    for fact in got:
        assert values(fact) == {
            "fold": pytest.approx(pi / 4), "free": 0.06, "needed": 0.0789, "least": low, "most": high, "wanted": 1000.0, "strain": 0.012,
        }  # fmt: skip
        assert fact.parts == {"conductor": NEGATIVE}
        assert fact.path == ("post", "fold")
    assert judged(turning, "passage.fold", with_passage(built, folding=None)) == []


TURNS_TOO = f'turn = "90 deg"\nstop = true\n{FOLDS}'


@pytest.mark.parametrize(
    ("both", "alone", "severity"),
    [
        ((1000.0, 1000.0), (2000.0, 3000.0), None), ((999.0, 1000.0), (1000.0, 3000.0), "caution"), ((998.0, 999.0), (2000.0, 3000.0), "stop"),
        # folding alone breaks it: that is told, and not both
        ((900.0, 999.0), (999.0, 3000.0), None),
    ],
)  # fmt: skip
def test_wires_that_turning_and_folding_tire_together(both, alone, severity):
    built = post(TURNS_TOO)
    worn = with_passage(
        built,
        both=Both(built.passages["post"].members[1], 0.011, 0.007, both),
        folding=Folding(built.passages["post"].members[1], 0.012, alone, 0.0789),
        cycles_to_failure=((5000.0, 6000.0),) * 2,
        turn_borne=radians(33.3),
    )
    got = facts(turning, "passage.strain", worn)
    assert [(fact.severity, fact.case) for fact in got] == ([(severity, "folds too")] if severity else [])
    for fact in got:
        assert values(fact) == {
            "turn": pytest.approx(pi / 2), "fold": pytest.approx(pi / 4), "free": 0.06, "strain": 0.011, "folded": 0.007,
            "least": both[0], "most": both[1], "wanted": 1000.0, "harmless": pytest.approx(radians(33)),
        }  # fmt: skip
        assert (fact.parts, fact.path) == ({"conductor": NEGATIVE}, ("post", "turn"))
    # what bears no whole degree has none to be told
    for borne in (radians(0.9), None):
        for fact in facts(turning, "passage.strain", with_passage(worn, turn_borne=borne)):
            assert "harmless" not in values(fact)


# -- solid wire: 0.26 mm, and what stripping nicked


@pytest.mark.parametrize(
    ("low", "wire", "case"),
    [
        (1000.0, "wrap-30", None),
        (999.4, "wrap-30", "nicked"),
        (3.0, "wrap-30", "nicked"),
        (1e9, "wrap-28", ""),
    ],
)
def test_solid_wire_that_moves(low, wire, case):
    built = post(wire=wire)
    nicked = Nicked(built.passages["post"].members[0], (low, 2.0 * low))
    got = facts(turning, "passage.solid", with_passage(built, nicked=nicked))
    assert [fact.case for fact in got] == ([case] if case is not None else [])
    for fact in got:
        # 30 AWG 0.2546 mm, 28 AWG 0.3211 (ASTM B258)
        across = 0.2546e-3 if wire == "wrap-30" else 0.3211e-3
        lasts = {"lasts": max(10.0, round(low)), "needed": 1000.0} if case else {}
        assert values(fact) == {
            "diameter": pytest.approx(across, rel=1e-3),
            "turn": pytest.approx(pi / 2),
            **lasts,
        }
        assert fact.parts == {"wires": (FEED, NEGATIVE)}
        assert (fact.severity, fact.path, fact.because_of) == (
            "caution",
            ("post", "turn"),
            "passage.strain:post",
        )
        assert fact.limit is not None
        assert fact.limit.value == (1000.0 if case else 0.00026)
    assert judged(turning, "passage.solid", with_passage(built, nicked=None)) == []


def test_soldered_strands_and_enamelled_wire_that_move():
    (fact,) = facts(turning, "passage.soldered", post('turn = "90 deg"\nsoldered_inside = true'))
    assert (fact.severity, fact.parts, fact.because_of) == ("caution", {"wires": (FEED, NEGATIVE)}, "passage.strain:post")  # fmt: skip
    assert values(fact) == {"turn": pytest.approx(pi / 2)}
    (fact,) = facts(turning, "passage.soldered", post(f"{FOLDS}\nsoldered_inside = true"))
    assert fact.because_of == "passage.fold:post"
    for built in (post("soldered_inside = true"), post('turn = "90 deg"'), post('turn = "90 deg"\nsoldered_inside = true', wire="wrap-30")):  # fmt: skip
        assert facts(turning, "passage.soldered", built) == []
    fine = with_passage(post(wire="enamel-0.20"), weak=(3.3, 7.7))
    (fact,) = facts(turning, "passage.enamelled", fine)
    assert values(fact) == {"turn": pytest.approx(pi / 2), "diameter": pytest.approx(0.2e-3), "stretches": 3.3, "breaks": 7.7}  # fmt: skip
    assert units(fact) == {"turn": "rad", "diameter": "m", "stretches": "N", "breaks": "N"}
    # of two the thinner one
    for sizes in ((0.16, 0.2), (0.2, 0.16)):
        two = tuple(
            post(wire=f"enamel-{size:.2f}").passages["post"].members[n] for n, size in enumerate(sizes)
        )
        (fact,) = facts(turning, "passage.enamelled", with_passage(fine, members=two))
        assert values(fact)["diameter"] == pytest.approx(0.16e-3)
        assert fact.parts == {"wires": (FEED, NEGATIVE)}
    assert facts(turning, "passage.enamelled", with_passage(post(), weak=(3.3, 7.7))) == []
    assert facts(turning, "passage.enamelled", with_passage(fine, weak=None)) == []


# -- loops: a whole turn each way throws none


@pytest.mark.parametrize(
    ("turn", "stop", "case", "asks"),
    [("360 deg", "stop = true", None, 0), ("360 deg", "", None, 1), ("360 deg", "stop = false", "no stop", 0), ("361 deg", "stop = true", "far", 0), ("361 deg", "", "far", 0)],
)  # fmt: skip
def test_how_far_a_passage_turns(turn, stop, case, asks):
    built = with_passage(post(f'turn = "{turn}"\n{stop}'), loop_turn=12.3)
    got = facts(turning, "passage.loops", built)
    assert [fact.case for fact in got] == ([case] if case else [])
    assert len(asked(turning, "passage.loops", built)) == asks
    for fact in got:
        assert values(fact) == {"turn": pytest.approx(radians(float(turn.split()[0]))), "loop": 12.3}
        assert units(fact) == {"turn": "rad", "loop": "rad"}
        assert (fact.severity, fact.path) == ("caution", ("post", "turn" if case == "far" else "stop"))
    assert judged(turning, "passage.loops", with_passage(built, members=())) == []


# -- pulls: 50 N/mm2 of copper; from its breaking load on it may tear, from twice that on it does


@pytest.mark.parametrize(
    ("force", "case", "reason"),
    [(4.0, None, None), (4.01, "stretches", "stretches"), (9.0, "stretches", "stretches"), (9.01, "stretches", "may tear"), (18.0, "stretches", "may tear"), (18.1, "tears", "tears")],
)  # fmt: skip
def test_how_hard_a_wire_is_pulled(force, case, reason):
    built = post('bends = "90 deg"')
    pull = Pull(built.passages["post"].members[1], force, 4.0, 9.0, 0.77)
    got = facts(threading, "passage.pull", with_passage(built, pull=pull))
    assert [(fact.case, fact.reason) for fact in got] == ([(case, reason)] if case else [])
    for fact in got:
        shown = {} if case == "tears" else {"pull": force}
        assert values(fact) == {
            **shown,
            "stands": 4.0,
            "breaks": 9.0,
            "bends": 0.77,
            "in_all": pytest.approx(pi / 2),
        }
        assert units(fact) == {
            **dict.fromkeys(shown, "N"),
            "stands": "N",
            "breaks": "N",
            "bends": "rad",
            "in_all": "rad",
        }
        assert (fact.severity, fact.path, fact.parts) == (
            "caution",
            ("post", "bends"),
            {"conductor": NEGATIVE},
        )
        assert fact.limit is not None
        assert fact.limit.value == 4.0
    assert judged(threading, "passage.pull", with_passage(built, pull=None)) == []


# -- plugs against the bore


@pytest.mark.parametrize(("diameter", "found", "asks"), [("5 mm", 0, 0), ("5.1 mm", 1, 0), (None, 0, 1)])
def test_a_plug_that_has_to_pass(diameter, found, asks):
    size = f'diameter = "{diameter}"\n' if diameter else ""
    plug = f'[[plug]]\nname = "foot"\nat = "hull"\npins = ["lights", "main-"]\nkeyed = true\nthrough = ["post"]\n{size}'
    built = post("", extra=plug)
    got = facts(threading, "passage.plug", built)
    assert (len(got), len(asked(threading, "passage.plug", built))) == (found, asks)
    for fact in got:
        assert values(fact) == {"diameter": pytest.approx(0.0051)}
        assert (fact.severity, fact.subject, fact.path) == (
            "stop",
            Subject("plug", "foot"),
            ("plug", 0, "diameter"),
        )
        assert fact.parts == {"passage": POST}
        assert fact.limit is not None
        assert fact.limit.value == 0.005


def test_enamel_and_strands_are_none_of_the_solid_wires():
    runs = "".join(
        f'[[run]]\nname = "{wire}"\nspare = true\nends = ["base", "hull"]\nlength = "300 mm"\nwire = "{wire}"\n'
        for wire in ("enamel-0.50", "ptfe-20")
    )
    built = post(wire="wrap-30", extra=runs)
    assert len(built.passages["post"].members) == 4
    # of solid ones of two sizes the thicker is too thick, whichever comes first
    for sizes in (("wrap-30", "wrap-28"), ("wrap-28", "wrap-30")):
        two = tuple(post(wire=size).passages["post"].members[n] for n, size in enumerate(sizes))
        mixed = with_passage(built, members=two, nicked=Nicked(two[0], (9999.0, 99999.0)))
        (fact,) = facts(turning, "passage.solid", mixed)
        assert values(fact)["diameter"] == pytest.approx(0.3211e-3, rel=1e-3)
        assert fact.parts == {"wires": ((FEED, NEGATIVE)[sizes.index("wrap-28")],)}
    nicked = Nicked(built.passages["post"].members[0], (999.0, 9999.0))
    (fact,) = facts(turning, "passage.solid", with_passage(built, nicked=nicked))
    assert (fact.case, fact.parts) == ("nicked", {"wires": (FEED, NEGATIVE)})
    assert values(fact)["diameter"] == pytest.approx(0.2546e-3, rel=1e-3)
