"""Which test record proves what, thing by thing: what a builder at the bench would take it for."""

from __future__ import annotations

import pytest

from postcheck.survey import Survey
from postcheck.survey.closing import tested as proofs
from postcheck.survey.closing.currents import Currents
from postcheck.wiring.parts import Part
from tests.survey.bench.boats import ADAPTOR, boat, run
from tests.survey.bench.leds import BLUE, RED, WIRE, WIRES, amps, hung

KINDS = WIRE + str(RED) + str(BLUE)
ONE = amps(12.0, 1000.0 + WIRES, RED)


def proof(subject: str, milliamps: float | None = None, volts: float = 12.0, **said: object) -> str:
    """A test record; what is said besides in words of the file."""
    lines = [f'[[proof]]\nsubject = "{subject}"']
    if milliamps is not None:
        lines += [f'volts = "{volts} V"', f'current = "{milliamps:.6f} mA"']
    for key, value in said.items():
        told = str(value).lower() if isinstance(value, bool) else f'"{value}"'
        lines.append(f"{key} = {told}")
    return "\n".join(lines) + "\n"


def after(
    *parts: str, lines: tuple[str, ...] = ("a", "main-"), circuit: str = ""
) -> tuple[Survey, proofs.Tested]:
    survey = boat(KINDS, *parts, supply=ADAPTOR, lines=lines, circuit=circuit)
    return survey, proofs.Tested(
        survey.wiring, Currents(survey.parts, survey.bench, survey.limits), survey.test_records
    )


def part(survey: Survey, name: str = "lamp") -> Part:
    return survey.parts.named[name]


LAMP = hung(RED, "1k 5 %")


# -- a lamp by its own records


@pytest.mark.parametrize(
    ("records", "by"),
    [
        ([], None),
        ([proof("lamp", ONE * 1e3)], 0),
        ([proof("hub"), proof("lamp", ONE * 1e3)], 1),
        ([proof("lamp", 3.0)], None),  # out of its band
        ([proof("lamp", 0.0, 1.0)], None),  # lights nothing
        ([proof("lamp", 0.099, 1.73)], None),
        ([proof("lamp", hours="3 h")], None),  # nobody measured it
        ([proof("lamp", done="seen to light")], None),
        ([proof("lamp", 9.9, limit="10 mA")], None),  # what a short takes as well
        ([proof("lamp", 9.9, limit="10 mA", done="seen to light")], 0),
        ([proof("lamp", 9.9, limit="10 mA", hours="2 h")], 0),
        ([proof("lamp", 9.9, limit="10 mA", polarity=True)], 0),
        ([proof("lamp", 9.9, limit="10 mA", polarity=False)], None),
        ([proof("lamp", done="seen to light"), proof("lamp", 9.9, limit="10 mA")], 1),
    ],
)
def test_whether_a_lamp_is_lit(records: list[str], by: int | None) -> None:
    survey, found = after(LAMP, *[one.replace("hub", "main") for one in records])
    assert found.lit(part(survey)) == by


@pytest.mark.parametrize(("current", "proves"), [(0.000099, False), (0.000101, True)])
def test_from_a_tenth_of_a_milliamp_on_it_lights(current: float, proves: bool) -> None:
    """Each of its strings: of three together three times that."""
    volts = RED.volts(current) + current * (1000.0 + WIRES)
    survey, found = after(LAMP, proof("lamp", current * 1e3, volts))
    assert (found.lit(part(survey)) == 0) is proves
    three = hung(RED, "1k 1 %", 'parallel = 3\nstrings_share = "lead"')
    survey, found = after(three, proof("lamp", 3 * current * 1e3, volts, done="three seen"))
    assert (found.lit(part(survey)) == 0) is proves


@pytest.mark.parametrize(
    ("records", "by"),
    [
        ([], None),
        ([proof("lamp", done="seen")], 0),
        ([proof("lamp", hours="2 h")], 0),
        ([proof("lamp", polarity=True)], 0),
        ([proof("lamp", polarity=False, done="seen")], None),
        ([proof("lamp", continuity=True)], 0),
        ([proof("lamp", continuity=False)], None),
        ([proof("lamp", ONE * 1e3)], 0),
        ([proof("lamp", 3.0)], None),
        ([proof("lamp", 0.0, 1.0)], None),
        ([proof("lamp", 0.0, 1.0, hours="3 h")], None),  # it was dark for three hours
        ([proof("lamp", 0.0, 1.0, done="seen")], 0),  # somebody saw it
        ([proof("lamp", 0.0, 1.0), proof("lamp", hours="3 h")], 1),
        ([proof("lamp", done="seen"), proof("lamp", 3.0)], None),
        # a later good one takes its place
        ([proof("lamp", 3.0), proof("lamp", ONE * 1e3)], 1),
        # of several that say something what was done counts before hours and current
        ([proof("lamp", hours="2 h"), proof("lamp", ONE * 1e3), proof("lamp", done="seen")], 2),
        ([proof("lamp", ONE * 1e3), proof("lamp", hours="2 h")], 1),
        ([proof("lamp", polarity=True), proof("lamp", ONE * 1e3)], 1),
    ],
)
def test_whether_a_thing_was_tried_and_nothing_is_against_it(records: list[str], by: int | None) -> None:
    _, found = after(LAMP, *records)
    assert found.tried("lamp", "lamp") == by
    assert found.tried("lamp", "other") is None
    assert found.tried("circuit", "lamp") is None


def test_what_is_wired_backwards_shows_no_current_and_has_to_be_tried() -> None:
    lamp = hung(RED, "1k 5 %", "backwards = true")
    survey, found = after(lamp, proof("lamp", 0.0, done="seen the other way round"))
    assert found.lit(part(survey)) == 0
    survey, found = after(lamp, proof("lamp", 0.0))
    assert found.lit(part(survey)) is None


# -- its resistor


@pytest.mark.parametrize(
    ("seat", "record", "by"),
    [
        ("", proof("lamp", ONE * 1e3), 0),
        ("", proof("lamp", ONE * 1e3 / 2, 7.0, through="470 ohm"), None),  # might be bridged and hardly show
        (" at hub", proof("lamp", ONE * 1e3), 0),
        (" at hub", proof("lamp", 2.0, 1.85), None),  # bare ends
        (" at hub", proof("lamp", 9.9, limit="10 mA", done="seen"), None),
        (" at base", proof("lamp", ONE * 1e3), 0),
        (" at base", proof("a", ONE * 1e3), 0),  # from the base on
        (" at base", proof("a", ONE * 1e3, at="hub"), 0),
        (" at base", proof("a", 2.0, 1.85, at="hub"), None),
    ],
)
def test_what_came_through_its_resistor(seat: str, record: str, by: int | None) -> None:
    survey, found = after(hung(RED, f"1k 5 %{seat}"), record)
    assert found.shows(part(survey), through=True) == by


@pytest.mark.parametrize(
    ("places", "counted"),
    [
        (("", ""), [(1, None)]),
        (("", "base"), [(1, None)]),  # it begins there
        (("", "hub"), [(0, None), (1, "hub")]),
        (("hub", "hub"), [(1, "hub")]),
    ],
)
def test_a_circuit_is_known_at_each_place_where_it_was_measured(
    places: tuple[str, str], counted: list[tuple[int, str | None]]
) -> None:
    records = [proof("a", ONE * 1e3, **({"at": place} if place else {})) for place in places]
    survey, _ = after(LAMP, *records)
    known = list(survey.test_records.known.values())
    assert [(one.said["current"], one.at) for one in known] == counted
    assert [one.position for one in survey.test_records.readings] == [position for position, _ in counted]


# -- by its circuit

PAIR = (LAMP, hung(BLUE, "470 ohm 5 %", name="blue"))
BOTH = (ONE + amps(12.0, 470.0 + WIRES, BLUE)) * 1e3


@pytest.mark.parametrize(
    ("record", "things", "joints"),
    [
        ("", set(), set()),
        # from the base on: through both runs, to both joints
        (
            proof("a", BOTH),
            {("run", "a base-hub"), ("run", "main- base-hub")},
            {("lamp", "hub"), ("blue", "hub")},
        ),
        (proof("a", BOTH, at="hub"), set(), {("lamp", "hub"), ("blue", "hub")}),
        (proof("a", 3.0), set(), set()),
        (proof("a", 0.05, 1.7), set(), set()),
        (proof("a", BOTH, limit=f"{BOTH} mA"), set(), set()),
        (proof("lamp", ONE * 1e3), set(), set()),
    ],
)
def test_what_a_current_goes_through(
    record: str, things: set[tuple[str, ...]], joints: set[tuple[str, str]]
) -> None:
    survey, found = after(*PAIR, record)
    assert {*found.proven} == things
    assert {*found.proven_joints} == joints
    assert {*found.proven.values(), *found.proven_joints.values()} <= {0}
    if joints:
        assert [found.lit(part(survey, name)) for name in ("lamp", "blue")] == [0, 0]
        assert found.shows(part(survey, "blue"), through=True) == 0


def test_where_many_hang_there_what_was_seen_counts() -> None:
    """One of twelve does not show in the current; that all of them were seen to light says it."""
    many = [hung(RED, "1k 5 %", name=f"red {n}") for n in range(12)]
    _, found = after(*many, proof("a", 12 * ONE * 1e3))
    assert {*found.proven} == {("run", "a base-hub"), ("run", "main- base-hub")}
    assert found.proven_joints == {}
    survey, found = after(*many, proof("a", 12 * ONE * 1e3, done="all lit"))
    assert {*found.proven_joints.values()} == {0}
    assert len(found.proven_joints) == 12
    assert found.lit(part(survey, "red 3")) is None  # of the lamps themselves the current has to say it


PLUG = '[[plug]]\nname = "coupling"\nends = ["base", "hub"]\npins = ["a", "main-"]\nkeyed = true\n'


@pytest.mark.parametrize(
    ("records", "by"),
    [
        ([], None),
        ([proof("a", ONE * 1e3)], 0),
        ([proof("a", ONE * 1e3, at="hub")], None),
        ([proof("coupling", continuity=True)], 0),
        ([proof("coupling", continuity=False)], None),
        ([proof("coupling", done="pushed home")], None),
        ([proof("a", ONE * 1e3), proof("coupling", continuity=True)], 1),
        # ohms say nothing of more than plain copper
        ([proof("coupling", continuity="0.2 ohm")], 0),
        ([proof("coupling", continuity="3 ohm")], None),
    ],
)
def test_a_plug(records: list[str], by: int | None) -> None:
    survey, found = after(LAMP, PLUG, *records, lines=())
    (plug,) = {one for one in survey.access if one.kind == "plug" and one.place == "hub"}
    assert found.mated(plug) == by


def test_of_a_plug_of_several_circuits_the_reading_of_its_first_pin_counts() -> None:
    plug = PLUG.replace('"a", "main-"', '"b", "a", "main-"')
    parts = (LAMP, '[circuit.b]\nsupply = "main"\n', hung(RED, "1k 5 %", name="far", circuit="b"), plug)
    for first, second, by in (("a", "b", 1), ("b", "a", 0), ("a", "a", None)):
        survey, found = after(*parts, proof(first, ONE * 1e3), proof(second, ONE * 1e3), lines=())
        (one,) = {one for one in survey.access if one.kind == "plug" and one.place == "hub"}
        assert found.mated(one) == by


def test_a_conductor_from_end_to_end() -> None:
    """By its ohms: 0.2 m of 0.22 ohm/m, and no more than an ohm beside (leads and joints of the meter)."""
    long = run("a").replace("[[run]]\n", '[[run]]\nname = "feed"\n')
    for said, whole in ((True, True), (False, False), ("0.9 ohm", True), ("1.2 ohm", False)):
        survey, found = after(LAMP, long, proof("feed", continuity=said), lines=("main-",))
        assert survey.test_records.copper("run", "feed") < 0.1
        assert (found.whole("run", "feed") == 0) is whole
        assert found.whole("plug", "feed") is None
        assert survey.test_records.whole(0) is whole


# -- strings with leads of their own

TWO = hung(RED, "1k 5 %", 'parallel = 2\nstrings_share = "nothing"')


@pytest.mark.parametrize(
    ("records", "read", "by"),
    [
        ([], {}, None),
        ([proof("lamp 1", ONE * 1e3)], {0: 0}, None),
        ([proof("lamp 2", ONE * 1e3)], {1: 0}, None),
        ([proof("lamp 2", ONE * 1e3), proof("lamp 1", ONE * 1e3)], {1: 0, 0: 1}, 1),
        ([proof("lamp 1", ONE * 1e3), proof("lamp 2", 3.0)], {0: 0}, None),
        ([proof("lamp 1", ONE * 1e3), proof("lamp 2", 0.05, 1.7)], {0: 0}, None),
        ([proof("lamp 1", ONE * 1e3), proof("lamp 2", ONE * 1e3, limit="10 mA")], {0: 0}, None),
    ],
)
def test_strings_one_by_one(records: list[str], read: dict[int, int], by: int | None) -> None:
    survey, found = after(TWO, *records)
    lamp = survey.parts.lamps[0]
    assert found.read_strings(lamp) == found.read_strings(lamp, through=True) == read
    assert found.shows(lamp) == found.shows(lamp, through=True) == found.lit(lamp) == by


def test_strings_without_their_resistors_show_that_they_light_and_no_more() -> None:
    bare = [proof(f"lamp {n}", 2.0, RED.volts(0.002) + 0.002 * WIRES) for n in (1, 2)]
    survey, found = after(TWO.replace("1k 5 %", "1k 5 % at hub"), *bare)
    lamp = survey.parts.lamps[0]
    assert (found.read_strings(lamp), found.read_strings(lamp, through=True)) == ({0: 0, 1: 1}, {})
    assert (found.shows(lamp), found.shows(lamp, through=True)) == (1, None)


# -- boards, outputs, hours

BOARD = '[board.winker]\nplace = "base"\nsupply = "main"\n[circuit.b]\nboard = "winker"\n'


@pytest.mark.parametrize(
    ("records", "by"),
    [
        ([], None),
        ([proof("b", ONE * 1e3)], 0),
        ([proof("a", ONE * 1e3)], None),  # not of the board
        ([proof("far", ONE * 1e3)], None),  # its lead alone
        ([proof("winker", done="winks"), proof("b", ONE * 1e3)], 0),
        ([proof("b", ONE * 1e3), proof("winker", done="winks")], 1),
        # its own records count before what it drives
        ([proof("winker", continuity=False), proof("b", ONE * 1e3)], None),
        ([proof("winker", current="30 mA", volts="12 V"), proof("b", ONE * 1e3)], 0),
    ],
)
def test_a_board(records: list[str], by: int | None) -> None:
    _, found = after(
        LAMP, BOARD, hung(RED, "1k 5 %", name="far", circuit="b"), *records, lines=("a", "b", "main-")
    )
    assert found.drives("winker") == by


@pytest.mark.parametrize(
    ("records", "hours"),
    [
        ([], 0.0),
        ([proof("lamp", hours="3 h")], 3.0),
        ([proof("a", hours="4 h"), proof("lamp", hours="3 h")], 4.0),
        ([proof("main", hours="5 h")], 0.0),  # nothing says that it hung there
        ([proof("main", hours="5 h"), proof("a", BOTH)], 5.0),
        ([proof("main", hours="5 h"), proof("lamp", ONE * 1e3)], 0.0),
        ([proof("main", hours="5 h"), proof("a", BOTH), proof("a", hours="6 h")], 6.0),
        # of one thing the latest counts
        ([proof("lamp", hours="8 h"), proof("lamp", hours="2 h")], 2.0),
        ([proof("blue", hours="8 h")], 0.0),
    ],
)
def test_how_long_it_ran(records: list[str], hours: float) -> None:
    survey, found = after(*PAIR, *records)
    lamp = next(one for one in survey.parts.lamps if one.name == "lamp")
    assert found.ran(lamp) == pytest.approx(hours * 3600.0)


def test_just_a_tenth_of_a_milliamp_lights() -> None:
    """At its own lead, and at its circuit."""
    volts = RED.volts(0.0001) + 0.0001 * (1000.0 + WIRES)
    survey, found = after(LAMP, proof("lamp", 0.1, volts))
    assert survey.test_records.readings[0].amps == 0.0001
    assert (found.lit(part(survey)), found.tried("lamp", "lamp")) == (0, 0)
    survey, found = after(LAMP, proof("a", 0.1, volts, at="hub"))
    assert [reading.position for reading, _ in found.good["a"]] == [0]
