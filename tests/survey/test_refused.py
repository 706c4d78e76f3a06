"""What is not put on a bench supply as it is, and how a test is set that is asked for: by Ohm and Shockley, on both sides of each bound."""

from __future__ import annotations

import pytest

from postcheck.survey import Survey
from postcheck.survey.closing.asked import Asked, asked, asked_of
from postcheck.survey.closing.figures import Needed
from postcheck.survey.closing.refused import (
    Never,
    beyond,
    held_on_too_hot,
    out_of_scope,
    pulses_alone,
    refused,
)
from postcheck.survey.heat.figures import HotSpot
from tests.survey.bench.boats import boat, run
from tests.survey.bench.leds import BLUE, RED, WIRE, WIRES, amps, band, hung, ohms_for

KINDS = WIRE + str(RED) + str(BLUE)


def built(
    *parts: str, volts: float = 12.0, circuit: str = "", lines: tuple[str, ...] = ("a", "main-")
) -> Survey:
    supply = f'kind = "adaptor"\nvolts = "{volts} V"\ntolerance = "5 %"\nrated = "10 A"'
    return boat(KINDS, *parts, supply=supply, circuit=circuit, lines=lines)


def why(survey: Survey, volts: float | None = None) -> Never | None:
    point = survey.bench.lines["a", "hub"]
    return refused(survey, point, survey.bench.usual_volts(point) if volts is None else volts)  # type: ignore[arg-type]


@pytest.mark.parametrize(("volts", "never"), [(57.1, False), (57.2, True)])
def test_beyond_60_volts_nothing_is_judged(volts: float, never: bool) -> None:
    """With 5 % more."""
    survey = built(hung(RED, "4k7 2 W"), volts=volts)
    told = Never("scope", pytest.approx(volts * 1.05), "", pytest.approx(volts * 1.05), 60.0)  # type: ignore[arg-type]
    point = survey.bench.lines["a", "hub"]
    expected = told if never else None
    assert out_of_scope(survey, "a") == beyond(survey, point) == why(survey) == expected


LOAD = '[[load]]\nname = "tube"\ncircuit = "a"\nplace = "hub"\ntypical = "20 mA"\n'


@pytest.mark.parametrize(("volts", "never"), [(60, False), (61, True)])
def test_a_load_that_puts_out_more_than_60_volts(volts: float, never: bool) -> None:
    survey = built(LOAD + f'open_volts = "{volts} V"\n', hung(RED, "1k"))
    assert why(survey) == (Never("scope", 12.0, "tube", volts, 60.0) if never else None)
    # the lamp's own lead has none of it
    point = survey.bench.lead("lamp", "lamp")
    assert point is not None
    assert beyond(survey, point) is None


def test_light_that_burns() -> None:
    burning = BLUE._replace(name="lamp-uvc", colour="uvc")
    survey = built(str(burning), hung(burning, "1k"), hung(RED, "1k", name="red"))
    assert why(survey) == Never("eyes", 12.0, "lamp", 0.0, 0.0)
    own = survey.bench.lead("lamp", "red")
    assert own is not None
    assert refused(survey, own, 12.0) is None


@pytest.mark.parametrize(("amount", "never"), [(1.249, False), (1.251, True)])
def test_a_lamp_beyond_five_quarters_of_its_rating(amount: float, never: bool) -> None:
    ohms = ohms_for(12.0, amount * 0.024, BLUE) - WIRES
    found = why(built(hung(RED, "1k"), hung(BLUE, f"{ohms:.6f} ohm 1 W 5 %", name="blue")))
    current = pytest.approx(amount * 0.024, rel=1e-5)
    assert found == (Never("rating", 12.0, "blue", current, 0.024) if never else None)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("highest", "never"),
    [(11.98, True), (11.987, True), (11.989, False), (11.995, False), (12.0, False), (14.0, False)],
)
def test_a_load_for_fewer_volts(highest: float, never: bool) -> None:
    """A thousandth is no more than rounding."""
    found = why(built(LOAD + f'lowest = "3 V"\nhighest = "{highest} V"\n'))
    assert found == (Never("load", 12.0, "tube", 12.0, highest) if never else None)


PULSES = 'behaviour = "dim"\nfrequency = "250 Hz"\non_share = "20 %"'


@pytest.mark.parametrize(
    ("red", "blue", "circuit", "alone"),
    [
        # what is no more than it stands for good, and never more
        ({"likely_highest": 0.030}, {}, PULSES, False),
        ({"likely_highest": 0.0374}, {}, PULSES, False),
        # pulses of up to a millisecond and a fifth of the time, up to a quarter more than the 100 mA that it says it stands in them
        ({"likely_highest": 0.0376}, {}, PULSES, True),
        ({"likely_highest": 0.1249}, {}, PULSES, True),
        ({"likely_highest": 0.1251}, {}, PULSES, False),
        ({"likely_highest": 0.0376}, {}, PULSES.replace("20 %", "21 %"), False),
        ({"likely_highest": 0.0376}, {}, PULSES.replace("250", "199"), False),
        ({"likely_highest": 0.0376}, {}, "", False),
        # the blue says nothing of pulses
        ({"likely_highest": 0.0376}, {"likely_highest": 0.0301}, PULSES, False),
        ({"likely_highest": 0.0376}, {"likely_highest": 0.0299}, PULSES, True),
        # what is cool in its pulses alone
        ({"likely_highest": 0.030, "held_on": 0.0301}, {}, PULSES, True),
        ({"likely_highest": 0.030, "held_on": 0.0300}, {}, PULSES, False),
    ],
)
def test_what_gets_too_much_in_pulses_that_it_stands(
    red: dict[str, float], blue: dict[str, float], circuit: str, alone: bool
) -> None:
    pulsed = str(RED) + 'pulse = "100 mA"\npulse_width = "1 ms"\npulse_share = "20 %"\n'
    survey = boat(
        WIRE, pulsed, str(BLUE), hung(RED, "1k"), hung(BLUE, "1k", name="blue"),
        circuit=circuit + '\noutput = { limit = "1 A" }' if circuit else "",
    )  # fmt: skip
    lamps = dict(survey.electrics.lamps)
    for name, figures in (("lamp", red), ("blue", {"likely_highest": 0.010, **blue})):
        lamps[name] = lamps[name]._replace(**figures)
    survey.__dict__["electrics"] = survey.electrics._replace(lamps=lamps)
    assert pulses_alone(survey, survey.bench.lines["a", "hub"]) is alone
    # nothing is told of a lamp that has no figures
    survey.__dict__["electrics"] = survey.electrics._replace(lamps={})
    assert not pulses_alone(survey, survey.bench.lines["a", "hub"])


@pytest.mark.parametrize(("current", "never"), [(0.99e-4, True), (1.01e-4, False)])
def test_what_lights_nothing(current: float, never: bool) -> None:
    """Less than 0.1 mA by parts that take most, of lamps alone."""
    ohms = (ohms_for(12.0, current, RED, taken=1) - WIRES) / 0.95
    survey = built(hung(RED, f"{ohms:.4f} ohm 5 %"))
    assert why(survey) == (Never("dark", 12.0) if never else None)


def test_a_load_lights_nothing_and_is_tried_all_the_same() -> None:
    assert why(built(LOAD.replace("20 mA", "20 uA"))) is None
    assert why(built(LOAD.replace("20 mA", "20 uA"), hung(RED, "1 Mohm"))) is None


def tape(ohms: float, segments: int = 2, more: str = "") -> str:
    return (
        f'[strip_kind.tape]\nvolts = "12 V"\nsegment = "50 mm"\nseries = 3\nohms = "{ohms:.6f} ohm"\nkind = "azure"\n'
        f'[[strip]]\nname = "tape"\ncircuit = "a"\nkind = "tape"\nplace = "hub"\nlength = "{50 * segments} mm"\n{more}'
    )


@pytest.mark.parametrize(("amount", "never"), [(1.2, False), (1.3, True)])
def test_the_leds_of_a_strip(amount: float, never: bool) -> None:
    """What they get by the network of the build, with its wires: 0.4 m of some 0.22 ohm/m take a little of it."""
    ohms = ohms_for(12.0, amount * 0.024, BLUE, BLUE, BLUE)
    found = why(built(tape(ohms)))
    assert (found is not None) is never
    if found is not None:
        assert (found.why, found.name, found.limit) == ("strip", "tape", 0.024)
        assert found.value == pytest.approx(amount * 0.024, rel=0.02)


@pytest.mark.parametrize(
    ("amps_", "wire", "never"), [(0.5, "ptfe-28", False), (0.29, "fine", False), (0.6, "fine", True)]
)
def test_a_run_that_gets_too_hot_for_hours(amps_: float, wire: str, never: bool) -> None:
    """0.5 A in 0.08 mm2 is nothing; 0.6 A in 0.05 mm of copper, where some 0.3 A give 22 K, is far beyond its 80 degC."""
    fine = '[wire.fine]\nstrand = "0.05 mm"\noutside = "0.2 mm"\n'
    feed = run("a").replace("[[run]]\n", f'[[run]]\nname = "feed"\nwire = "{wire}"\n')
    found = why(
        built(fine, feed, LOAD.replace("20 mA", f"{amps_} A") + f'most = "{amps_} A"\n', lines=("main-",))
    )
    assert (found is not None) is never
    if found is not None:
        assert (found.why, found.name, found.volts, found.limit) == ("wire", "feed", 12.0, 80.0)
        # its own lead does not go through that
        own = built(
            fine, feed, LOAD.replace("20 mA", f"{amps_} A") + f'most = "{amps_} A"\n', lines=("main-",)
        )
        lead = own.bench.lead("load", "tube")
        assert lead is not None
        assert refused(own, lead, 12.0) is None
        assert found.value == 0.0 or found.value > 80.0
    # a hot one of another line is none of its
    other = built(
        fine, feed, LOAD.replace("20 mA", f"{amps_} A"), '[circuit.b]\nsupply = "main"\n', run("b"),
        LOAD.replace("tube", "lantern").replace('"a"', '"b"').replace("20 mA", "400 mA"), lines=("main-",),
    )  # fmt: skip
    point = other.bench.lines["b", "hub"]
    assert refused(other, point, 12.0) is None


@pytest.mark.parametrize(
    ("circuit", "steady", "parts", "where"),
    [
        # what flashes, in walls that withstand 60 degC: alone, beside what is on anyway, or that by itself
        (PULSES, 60.1, ("lamp",), "car"),
        (PULSES, 60.1, ("heater", "lamp"), "car"),
        (PULSES, 60.1, ("heater", "the resistor of lamp"), "car"),
        (PULSES, 60.1, ("heater",), ""),
        (PULSES, 59.9, ("lamp",), ""),
        (PULSES, None, ("lamp",), ""),
        ("", 60.1, ("lamp",), ""),
    ],
)
def test_a_place_that_gets_too_hot_by_what_is_held_on(
    circuit: str, steady: float | None, parts: tuple[str, ...], where: str
) -> None:
    survey = built(hung(RED, "1k"), circuit=circuit)
    place = survey.places["car"]._replace(
        stands=60.0, steady=steady, steady_parts=tuple((part, 0.1) for part in parts)
    )
    survey.__dict__["places"] = {"hub": survey.places["hub"], "car": place}
    assert held_on_too_hot(survey, survey.bench.lines["a", "hub"]) == where


@pytest.mark.parametrize(
    ("name", "celsius", "stuck", "where"),
    [
        ("lamp", 70.1, True, "car"),
        ("lamp", 69.9, True, ""),
        ("lamp", 70.1, False, ""),
        ("other", 70.1, True, ""),
    ],
)
def test_a_spot_that_gets_too_hot_by_what_is_held_on(
    name: str, celsius: float, stuck: bool, where: str
) -> None:
    survey = built(hung(RED, "1k"), circuit=PULSES)
    cool = HotSpot("resistor", "lamp", ("lamp", 0), "mast", None, 40.0, 70.0, 35.0, True)
    spot = HotSpot("resistor", name, ("lamp", 0), "car", None, celsius, 70.0, 35.0, stuck)
    survey.__dict__["hot_spots"] = (cool, spot)
    assert held_on_too_hot(survey, survey.bench.lines["a", "hub"]) == where


# -- how what is asked for is set


def test_what_a_test_measures() -> None:
    survey = built(hung(RED, "1k"))
    for kind, name, measures in (
        ("board", "b", "work"), ("supply", "main", "work"), ("run", "feed", "continuity"), ("plug", "p", "continuity"),
    ):  # fmt: skip
        assert asked_of(survey, kind, name) == Asked(kind, name, measures)  # type: ignore[arg-type]


def test_a_circuit_is_measured_where_it_begins() -> None:
    survey = built(hung(RED, "1k 5 %"), hung(BLUE, "470 ohm 5 %", name="blue"))
    found = asked_of(survey, "circuit", "a")
    assert (found.measures, found.at, found.ohms, found.each, found.never) == (
        "current",
        None,
        None,
        False,
        None,
    )
    assert found.test_point == survey.bench.lines["a", "base"]
    assert found.setting is not None
    assert found.setting == survey.bench.usual_setting(survey.bench.lines["a", "base"])
    # with no line at the base where both its lines end, elsewhere
    board = '[board.winker]\nplace = "mast"\nsupply = "main"\n[circuit.b]\nboard = "winker"\n'
    survey = built(board, hung(RED, "1k", circuit="b"), run("b", "mast", "hub"))
    assert asked_of(survey, "circuit", "b").at in (None, "hub")


@pytest.mark.parametrize(
    ("seat", "parallel", "ohms", "each"),
    [
        ("", 1, None, False),
        (" at hub", 1, 1000.0, False),
        (" at base", 1, 1000.0, False),
        ("", 2, None, False),
        (" at hub", 2, 1000.0, True),
    ],
)
def test_resistors_that_have_to_be_put_in_its_way(
    seat: str, parallel: int, ohms: float | None, each: bool
) -> None:
    """Of a lead that does not hold its own; each string through one of its own."""
    more = 'parallel = 2\nstrings_share = "return"' if parallel > 1 else ""
    found = asked_of(built(hung(RED, f"1k 5 %{seat}", more)), "lamp", "lamp")
    assert (found.ohms, found.each, found.never) == (ohms, each, None)
    assert found.setting is not None
    total = [parallel * one for one in band(12.0, 1000.0, RED, more=WIRES)]
    assert found.setting.expected.usual == pytest.approx(total[1], rel=1e-5)
    assert not found.setting.held


def test_bare_lamps_of_one_sort_get_the_setting_that_cannot_hurt() -> None:
    bare = built(hung(RED, ""))
    found = asked_of(bare, "lamp", "lamp")
    point = bare.bench.lead("lamp", "lamp")
    assert point is not None
    known = bare.bench.figures(point)
    assert known is not None
    assert known.setting is not None
    assert (found.setting, found.never, found.setting and found.setting.held) == (known.setting, None, True)
    two = built(hung(RED, "", name="one"), hung(RED, "", name="two"))
    held = asked_of(two, "circuit", "a").setting
    assert held is not None
    assert held.held
    assert held.limit == pytest.approx(0.004)
    # of two sorts the red would take all of it: they are refused
    sorts = built(hung(RED, "", name="one"), hung(BLUE, "", name="two"))
    found = asked_of(sorts, "circuit", "a")
    assert found.setting is None
    assert found.never is not None
    assert found.never.why == "rating"
    # one with a resistor and one without: neither
    mixed = built(hung(RED, "", name="one"), hung(RED, "1k", name="two"))
    assert asked_of(mixed, "circuit", "a").setting is None


def test_what_is_wired_backwards_is_looked_at() -> None:
    survey = built(hung(RED, "1k", "backwards = true"))
    found = asked_of(survey, "lamp", "lamp")
    assert found == Asked("lamp", "lamp", "work", test_point=survey.bench.lead("lamp", "lamp"))
    # whatever is beside it, and that beside it is measured
    both = built(hung(RED, "1k", "backwards = true"), hung(BLUE, "1k", name="blue"))
    assert [asked_of(both, "lamp", name).measures for name in ("lamp", "blue")] == ["work", "current"]


def test_a_circuit_beyond_the_volts_that_are_judged_is_never_asked_for_a_reading() -> None:
    found = asked_of(built(hung(RED, "4k7 2 W"), volts=72.0), "circuit", "a")
    assert found.never is not None
    assert found.never.why == "scope"
    assert found.setting is None


def test_one_test_serves_all_that_ask_for_it() -> None:
    survey = built(hung(RED, "1k"))
    lamp, resistor = ("lamp", "lamp"), ("circuit", "a")
    needed = [
        Needed("lamp", "lamp", lamp), Needed("joint", "lamp", resistor, unseen=True), Needed("resistor", "lamp", lamp),
        Needed("run", "feed", resistor),
    ]  # fmt: skip
    found = list(asked(survey, needed))
    assert [(one.kind, one.name, one.unseen) for one in found] == [
        ("lamp", "lamp", False),
        ("circuit", "a", True),
    ]
    assert [one.needed for one in found] == [(needed[0], needed[2]), (needed[1], needed[3])]


def test_what_the_whole_line_takes_is_what_all_on_it_take() -> None:
    """Both at their usual: some 10 and 18 mA."""
    found = asked_of(
        built(hung(RED, "1k 5 %"), hung(BLUE, "470 ohm 5 %", name="blue"), lines=("a", "main-")),
        "circuit",
        "a",
    )
    assert found.setting is not None
    total = amps(12.0, 1000.0, RED) + amps(12.0, 470.0, BLUE)
    assert found.setting.expected.usual == pytest.approx(total, rel=1e-3)


def test_lamps_and_circuits_are_left_on_for_hours_and_loads_are_not() -> None:
    survey = built(hung(RED, "1k"), LOAD)
    hours = survey.limits.value("closing.run")
    assert [asked_of(survey, kind, name).hours for kind, name in (("lamp", "lamp"), ("circuit", "a"), ("load", "tube"))] == [
        hours, hours, None,
    ]  # fmt: skip


def test_the_traces_of_a_strip() -> None:
    """All of ten segments goes in at one end: 20 mA each, and more with 12.6 V; its maker lets through that, or less."""
    ohms = ohms_for(12.0, 0.020, BLUE, BLUE, BLUE)
    through = built(tape(ohms, 10)).electrics.strips["tape"].through
    assert 0.2 < through <= 10 * amps(12.6, ohms * 0.95, BLUE, BLUE, BLUE, taken=1)
    for most, never in ((through * 1.001, False), (through * 0.999, True)):
        found = why(built(tape(ohms, 10, f'through = "{most:.9f} A"\n')))
        told = Never("traces", 12.0, "tape", pytest.approx(through, rel=1e-3), pytest.approx(most))  # type: ignore[arg-type]
        assert found == (told if never else None)


@pytest.mark.parametrize(("volts", "never"), [(28.0, False), (29.0, True)])
def test_two_supplies_stacked_count_together(volts: float, never: bool) -> None:
    """Each is far below 60 V; one on top of the other, with 5 % more, 28 V twice are 58.8 V and 29 V twice 60.9."""
    top = (
        f'[supply.top]\nkind = "adaptor"\nplace = "base"\nvolts = "{volts} V"\ntolerance = "5 %"\nrated = "1 A"\n'
        '[[join]]\nplace = "base"\nlines = ["main+", "top-"]\n'
    )
    found = out_of_scope(built(top, hung(RED, "4k7 2 W"), volts=volts), "a")
    assert (found is not None) is never
    if found is not None:
        assert (found.volts, found.value, found.limit) == (
            pytest.approx(2.1 * volts),
            pytest.approx(2.1 * volts),
            60.0,
        )


def test_a_run_that_melts_has_no_temperature() -> None:
    """0.05 mm of copper melts at some 1.1 A (Preece: 80 A by the diameter in mm to the power of 1.5 is 0.9 A)."""
    fine = '[wire.fine]\nstrand = "0.05 mm"\noutside = "0.2 mm"\n'
    feed = run("a").replace("[[run]]\n", '[[run]]\nname = "feed"\nwire = "fine"\n')
    found = why(built(fine, feed, LOAD.replace("20 mA", "3 A") + 'most = "3 A"\n', lines=("main-",)))
    assert found is not None
    assert (found.why, found.name, found.value, found.limit) == ("wire", "feed", 0.0, 80.0)
