"""What has to be proven of a place, and by which test: with as few as will do, as somebody with a meter would go about it."""

from __future__ import annotations

import pytest

from postcheck.survey import Survey
from postcheck.survey.closing.current_paths import behind, origin_test_point
from postcheck.survey.closing.currents import Currents
from postcheck.survey.closing.figures import Needed
from tests.survey.bench.boats import ADAPTOR, boat, run
from tests.survey.bench.leds import BLUE, MOST, RED, WIRE, WIRES, amps, hung

KINDS = WIRE + str(RED) + str(BLUE)
A, LAMP, BLUE_LAMP = ("circuit", "a"), ("lamp", "lamp"), ("lamp", "blue")
PAIR = (hung(RED, "1k 5 % at hub"), hung(BLUE, "470 ohm 5 %", name="blue"))


def needed(
    *parts: str, places: tuple[str, ...], lines: tuple[str, ...] = ("a", "main-"), circuit: str = ""
) -> list[Needed]:
    """Of all these places, one after the other."""
    build = boat(KINDS, *parts, supply=ADAPTOR, lines=lines, circuit=circuit).build
    return [one for closed in Survey(build, closing=places).closing.values() for one in closed.needed]


def asks(found: list[Needed]) -> list[tuple[str, str, tuple[str, str], bool]]:
    return [(one.kind, one.name, one.ask, one.unseen) for one in found]


RUNS = [("run", "a base-hub", A, False), ("run", "main- base-hub", A, False)]


def test_where_the_joints_ask_for_the_circuit_all_on_it_is_seen_in_its_current() -> None:
    hub = [("joint", "lamp", A, False), ("resistor", "lamp", A, False), ("joint", "blue", A, False), *RUNS]
    car = [("lamp", "lamp", A, False), ("lamp", "blue", A, False), ("resistor", "blue", A, False)]
    assert asks(needed(*PAIR, places=("hub", "car"))) == hub + car
    # two of them are worth a test of the circuit by themselves
    assert asks(needed(*PAIR, places=("car",))) == car
    # one alone is tried by itself, and its resistor with it
    assert asks(needed(hung(RED, "1k 5 %"), places=("car",))) == [
        ("lamp", "lamp", LAMP, False),
        ("resistor", "lamp", LAMP, False),
    ]
    # the resistor alone in its place: through it
    assert asks(needed(hung(RED, "1k 5 % at hub"), places=("hub",)))[1] == ("resistor", "lamp", A, False)


def test_strings_that_all_together_hide() -> None:
    """One of twelve: each by its own lead; on one lead somebody has to look."""
    own = asks(needed(hung(RED, "1k 5 %", 'parallel = 12\nstrings_share = "nothing"'), places=("car",)))
    assert own[:12] == [("lamp", f"lamp {n}", ("lamp", f"lamp {n}"), False) for n in range(1, 13)]
    assert own[12:] == [("resistor", "lamp", ("lamp", "lamp 1"), False)]
    one = asks(needed(hung(RED, "1k 5 %", 'parallel = 12\nstrings_share = "lead"'), places=("car",)))
    assert one == [("lamp", "lamp", LAMP, True), ("resistor", "lamp", LAMP, False)]
    # of two a dark one shows
    two = asks(
        needed(hung(RED, "1k 1 %", 'series = 2\nparallel = 2\nstrings_share = "lead"'), places=("car",))
    )
    assert two[0] == ("lamp", "lamp", LAMP, False)


def test_strings_that_were_read_are_done() -> None:
    one = amps(12.0, 1000.0 + WIRES, RED) * 1e3
    records = [f'[[proof]]\nsubject = "lamp {n}"\nvolts = "12 V"\ncurrent = "{one:.5f} mA"\n' for n in (1, 3)]
    found = needed(hung(RED, "1k 5 %", 'parallel = 12\nstrings_share = "nothing"'), *records, places=("car",))
    assert {one.name: one.by for one in found if one.by is not None} == {"lamp 1": 0, "lamp 3": 1}


JOIN = '[circuit.b]\nsupply = "main"\n[[join]]\nplace = "hub"\nlines = ["a", "b"]\n'


def test_a_joint_of_two_lines() -> None:
    found = needed(
        JOIN, hung(RED, "1k 5 %"), hung(BLUE, "470 ohm 5 %", name="blue", circuit="b"), places=("hub",)
    )
    assert ("join", "a and b", A, False) in asks(found)
    both = (amps(12.0, 1000.0, RED) + amps(12.0, 470.0, BLUE)) * 1e3
    record = f'[[proof]]\nsubject = "a"\nvolts = "12 V"\ncurrent = "{both:.3f} mA"\n'
    found = needed(
        JOIN,
        hung(RED, "1k 5 %"),
        hung(BLUE, "470 ohm 5 %", name="blue", circuit="b"),
        record,
        places=("hub",),
    )
    assert {one.kind: one.by for one in found} == {"joint": 0, "join": 0, "run": 0}


@pytest.mark.parametrize("lines", ['["b-return", "c-return"]', '["c-return", "b-return"]'])
def test_a_joint_of_two_returns_no_current_proves_and_one_of_theirs_is_asked_for(lines: str) -> None:
    """Either of them comes home all the same; somebody looks while the first of them is lit."""
    own = '[circuit.{}]\nsupply = "main"\nown_return = true\n'
    join = f'[[join]]\nplace = "hub"\nlines = {lines}\n'
    found = needed(
        own.format("b"), own.format("c"), join, hung(RED, "1k 5 %", circuit="b"), hung(BLUE, "470 ohm 5 %", name="blue", circuit="c"),
        places=("hub",), lines=("b", "c", "b-return", "c-return"),
    )  # fmt: skip
    (one,) = [one for one in found if one.kind == "join"]
    assert (one.ask, one.unseen, one.by) == (("circuit", lines[2]), True, None)


FIXTURES = (
    '[[load]]\nname = "radio"\ncircuit = "a"\nplace = "hub"\ntypical = "40 mA"\n'
    '[[plug]]\nname = "coupling"\nat = "hub"\npins = ["a", "main-"]\nkeyed = true\n'
    '[board.winker]\nplace = "hub"\nsupply = "main"\n'
    '[[run]]\nname = "reserve"\nspare = true\nends = ["base", "hub"]\nlength = "200 mm"\n'
)


def test_everything_else_in_a_place() -> None:
    found = asks(needed(FIXTURES, hung(RED, "1k 5 %"), places=("hub",)))
    assert found == [
        ("joint", "lamp", A, True),  # 10 mA beside a load that may take 12 mA more or less
        ("load", "radio", A, False), ("joint", "radio", A, False),
        ("plug", "coupling", ("plug", "coupling"), False), ("board", "winker", ("board", "winker"), False),
        ("run", "reserve", ("run", "reserve"), False), *RUNS,
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("record", "by"),
    [
        ("", None),
        ('[[proof]]\nsubject = "radio"\ndone = "plays"\n', 0),
        ('[[proof]]\nsubject = "radio"\nvolts = "12 V"\ncurrent = "41 mA"\n', 0),
        ('[[proof]]\nsubject = "radio"\nvolts = "12 V"\ncurrent = "80 mA"\n', None),
        ('[[proof]]\nsubject = "radio"\ndone = "plays"\ncontinuity = false\n', None),
        (
            '[[proof]]\nsubject = "a"\nvolts = "12 V"\ncurrent = "50 mA"\n[[proof]]\nsubject = "radio"\ndone = "plays"\n',
            0,
        ),
    ],
)
def test_a_load_works_by_its_current_or_as_somebody_saw(record: str, by: int | None) -> None:
    """Its own, or that of its circuit: 40 mA beside 10 of the lamp."""
    found = needed(FIXTURES, hung(RED, "1k 5 %"), record, places=("hub",))
    assert [one.by for one in found if one.kind == "load"] == [by]


def test_a_supply_is_tried_by_itself() -> None:
    found = needed(hung(RED, "1k"), places=("base",))
    assert ("supply", "main", ("supply", "main"), False) in asks(found)
    done = '[[proof]]\nsubject = "main"\ndone = "12.1 V"\n'
    assert [one.by for one in needed(hung(RED, "1k"), done, places=("base",)) if one.kind == "supply"] == [0]


def test_how_long_each_proven_lamp_ran() -> None:
    both = (amps(12.0, 1000.0, RED) + amps(12.0, 470.0, BLUE)) * 1e3
    record = f'[[proof]]\nsubject = "a"\nvolts = "12 V"\ncurrent = "{both:.3f} mA"\nhours = "5 h"\n'
    more = '[[proof]]\nsubject = "blue"\nhours = "9 h"\n'
    build = boat(KINDS, *PAIR, record, more, supply=ADAPTOR).build
    closed = Survey(build, closing=["car"]).closing["car"]
    assert closed.ran == (("lamp", 18000.0), ("blue", 32400.0))
    assert {(one.kind, one.name) for one in closed.held} == {
        ("lamp", "lamp"),
        ("lamp", "blue"),
        ("resistor", "blue"),
    }
    assert closed.unproven == ()
    # of one that is not proven nothing is told
    build = boat(KINDS, *PAIR, more, supply=ADAPTOR).build
    assert Survey(build, closing=["car"]).closing["car"].ran == ()


def test_a_run_that_a_test_goes_through_anyhow_is_not_asked_for_apart() -> None:
    """The common return of two circuits: by the one whose joint asks for it already."""
    second = '[circuit.b]\nsupply = "main"\n'
    found = needed(
        second, hung(RED, "1k 5 %", circuit="b", at="mast"), hung(BLUE, "470 ohm 5 %", name="blue"), run("b"), run("b", "hub", "mast"),
        run("main-", "hub", "mast"), places=("mast",),
    )  # fmt: skip
    assert {one.ask for one in found} == {("circuit", "b")}
    found = needed(
        second,
        hung(RED, "1k 5 %", circuit="b"),
        hung(BLUE, "470 ohm 5 %", name="blue"),
        run("b"),
        places=("hub",),
    )
    asked = {one.name: one.ask for one in found if one.kind == "run"}
    assert asked == {"b base-hub": ("circuit", "b"), "a base-hub": A, "main- base-hub": A}


def test_what_nobody_knows_the_volts_of_is_told_and_no_test_proves_it() -> None:
    dim = '[supply.other]\nkind = "adaptor"\nplace = "base"\n[circuit.b]\nsupply = "other"\n'
    found = needed(
        dim, hung(RED, "1k", name="dim", circuit="b"), hung(BLUE, "1k", name="blue"), places=("car",)
    )
    assert [(one.kind, one.name, one.ask, one.by) for one in found] == [
        ("lamp", "blue", BLUE_LAMP, None), ("resistor", "blue", BLUE_LAMP, None), ("lamp", "dim", ("lamp", "dim"), None),
    ]  # fmt: skip


@pytest.mark.parametrize(("seat", "shares"), [("", "lead"), (" at hub", "return")])
@pytest.mark.parametrize(("share", "hides"), [(5.0, False), (7.0, True), (9.0, True)])
def test_a_dark_string_hides_where_the_meter_could_read_the_same(
    share: float, hides: bool, seat: str, shares: str
) -> None:
    """Eleven of twelve at their most, and 3 % of the meter; one shorted LED of five would be plain."""
    led = RED._replace(name="even", forward=(2.299, 2.3, 2.301), low=2.2)
    lamp = hung(led, f"1k {share} %{seat}", f'series = 5\nparallel = 12\nstrings_share = "{shares}"')
    made = boat(WIRE, str(led), lamp, supply=ADAPTOR)
    one = amps(12.0, 1000.0, *[led] * 5)
    most = amps(12.0, 1000.0 * (1.0 - share / 100.0), *[led] * 5, taken=MOST)
    assert (12.0 * one <= 11.0 * most * 1.03) is hides
    assert 12.0 * one > 11.0 * most * 0.97
    assert Currents(made.parts, made.bench, made.limits).hides(made.parts.lamps[0]) is hides


def test_what_a_current_proves_on_its_way_is_runs_and_joints_and_no_trace() -> None:
    """The lamp at the far end of a strip: the strip's traces are no joint, though they are numbered as joints are."""
    strip = '[[strip]]\nname = "deck"\ncircuit = "a"\nkind = "strip-12v-white-60"\nplace = "hub"\nsegments = 2\nfar_end = "mast"\n'
    joint = '[circuit.b]\nsupply = "main"\n[circuit.c]\nsupply = "main"\n[[join]]\nplace = "hub"\nlines = ["b", "c"]\n'
    made = boat(KINDS, strip, joint, hung(RED, "1k 5 %", at="mast"))
    test_point = origin_test_point(made.wiring, made.bench, "a")
    assert test_point is not None
    found, _ = behind(made.wiring, test_point, made.wiring.parts.all)
    both = frozenset({"deck", "lamp"})
    assert found == {("run", "a base-hub"): both, ("run", "main- base-hub"): both}
