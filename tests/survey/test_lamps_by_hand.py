"""The figures of lamps whose forward voltage no heat moves: SciPy's root finder on Kirchhoff's laws written here.

The room's air is 5 to 35 degC, so wires are at 20 degC as usual; at 35 and 5 degC they have 15 x 0.393 % more and less (IEC 60028).
"""

from __future__ import annotations

import math
from itertools import product
from typing import Any

import pytest
from scipy.optimize import root

import postcheck
from postcheck.survey import Survey
from postcheck.survey.network import corners
from postcheck.survey.network.states import States
from tests.survey.plain_led import alone, die

WARM, COLD = 1.0 + 15.0 * 0.00393, 1.0 - 15.0 * 0.00393

HEAD = """
format = 1
[build]
name = "Tender"
air = "5..35 degC"
[usual]
lead = "fine"
[wire.fine]
strand = "0.1 mm"
outside = "0.2 mm"
ohms_per_metre = "2 ohm/m"
[lamp_kind.plain]
forward = "1.9/2.0/2.15 V"
at = "20 mA"
low_forward = "1.9 V"
low_at = "5 mA"
per_kelvin = "0 mV"
rated = "20 mA"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
tolerance = "5 %"
resistance = "0.5 ohm"
rated = "1 A"
[place.base]
access = "open"
[place.hull]
access = "open"
[circuit.lights]
supply = "main"
[[run]]
name = "feed"
line = "lights"
ends = ["base", "hull"]
ohms = "2 ohm"
[[run]]
name = "back"
line = "main-"
ends = ["base", "hull"]
ohms = "3 ohm"
"""
ONE = '[[lamp]]\nname = "one"\ncircuit = "lights"\nkind = "plain"\nplace = "hull"\nseries = 2\nresistor = "330 ohm 1/4 W 5 %"\nlead = "1000 mm to hull"\n'
TWO = '[[lamp]]\nname = "two"\ncircuit = "{circuit}"\nkind = "plain"\nplace = "hull"\nresistor = "470 ohm 1/2 W 2 %"\n'


def survey(text: str, head: str = HEAD) -> Survey:
    return Survey(postcheck.loads(head + text))


def near(value: Any) -> Any:
    return pytest.approx(value, rel=1e-8, abs=1e-12)


def both(volts: float, shared: float, first: tuple[float, float], second: tuple[float, float]) -> list[float]:
    """A of two dice behind a resistance and one beside them behind another: ohm and shift of each, and what they share."""

    def off(amps: Any) -> list[float]:
        lost = shared * (amps[0] + amps[1])
        return [
            volts - lost - first[0] * amps[0] - 2 * die(amps[0], first[1]),
            volts - lost - second[0] * amps[1] - die(amps[1], second[1]),
        ]

    found = root(off, [0.02, 0.02], tol=1e-14)
    assert max(map(abs, found.fun)) < 1e-11
    return list(map(float, found.x))


def test_the_usual_the_least_and_the_most_of_two_lamps_on_one_pair_of_wires() -> None:
    made = survey(ONE + TWO.format(circuit="lights"))
    lamp, other = (made.electrics.lamps[name] for name in ("one", "two"))
    assert made.electrics.proven
    usual = both(12.0, 5.5, (334.0, 0.0), (470.0, 0.0))
    assert [lamp.nominal, other.nominal] == near(usual)
    # most: own dice and resistor let most through and the shared wires are cold, the other takes least and its wires are warm
    shared = 0.5 + 5.0 * COLD
    most = both(12.6, shared, (330.0 * 0.95 + 4.0 * COLD, -0.1), (470.0 * 1.02, 0.15))[0]
    assert lamp.highest == near(most)
    shared = 0.5 + 5.0 * WARM
    least = both(11.4, shared, (330.0 * 1.05 + 4.0 * WARM, 0.15), (470.0 * 0.98, -0.1))[0]
    assert lamp.lowest == near(least)
    assert other.highest == near(
        both(12.6, 0.5 + 5.0 * COLD, (330.0 * 1.05 + 4.0 * WARM, 0.15), (470.0 * 0.98, -0.1))[1]
    )
    # with nothing else on
    assert lamp.alone == near(alone(12.6, 0.5 + 5.0 * COLD + 330.0 * 0.95 + 4.0 * COLD, 2, -0.1))
    assert lamp.alone > lamp.highest
    assert lamp.strings == near((usual[0],))
    assert (lamp.rated, lamp.rated_outside, lamp.hottest) == near((0.02, 0.02, 35.0))


def test_where_the_volts_of_a_lamp_go() -> None:
    made = survey(ONE + TWO.format(circuit="lights"))
    lamp, other = (made.electrics.lamps[name] for name in ("one", "two"))
    total = lamp.nominal + other.nominal
    assert (lamp.joint_volts, other.joint_volts) == near((12.0 - 5.5 * total,) * 2)
    # in the lines of both, and in the lead that it has to itself
    assert lamp.loss == near(5.0 * total + 4.0 * lamp.nominal)
    assert other.loss == near(5.0 * total)
    assert lamp.lead_drop == near(4.0 * lamp.nominal)
    assert other.lead_drop == pytest.approx(0.0, abs=1e-9)
    assert lamp.string_volts == near(2.0 * die(lamp.nominal))
    assert lamp.die_volts == near(die(lamp.nominal))
    # the light that the loss costs: of a string and its resistor straight on the supply's poles, by its current
    whole = alone(lamp.joint_volts + 5.0 * total, 330.0, 2)
    assert lamp.light_lost == near(1.0 - lamp.nominal / whole)
    # nothing takes more while it starts
    assert made.electrics.circuits["lights"].starting == 0.0
    assert made.electrics.supplies["main"].starting == 0.0
    assert (lamp.duty_cycle, lamp.resistor_fraction, lamp.shares, lamp.turned) == (1.0, 1.0, (), None)


def test_a_lamp_by_itself_and_what_is_likely_of_it() -> None:
    """The root of the sum of the squares of what the supply, the dice, the resistor and the air move by themselves."""
    made = survey(ONE)
    lamp = made.electrics.lamps["one"]
    ohms = 5.5 + 4.0
    usual = alone(12.0, ohms + 330.0, 2)
    up = [
        alone(12.6, ohms + 330.0, 2),
        alone(12.0, ohms + 330.0, 2, -0.1),
        alone(12.0, ohms + 330.0 * 0.95, 2),
    ]
    down = [
        alone(11.4, ohms + 330.0, 2),
        alone(12.0, ohms + 330.0, 2, 0.15),
        alone(12.0, ohms + 330.0 * 1.05, 2),
    ]
    assert lamp.nominal == near(usual)
    assert lamp.likely_highest == near(usual + math.hypot(*(amps - usual for amps in up)))
    assert lamp.likely_lowest == near(usual - math.hypot(*(amps - usual for amps in down)))
    highest = alone(12.6, 0.5 + 9.0 * COLD + 330.0 * 0.95, 2, -0.1)
    assert (lamp.highest, lamp.alone) == near((highest,) * 2)
    assert lamp.lowest == near(alone(11.4, 0.5 + 9.0 * WARM + 330.0 * 1.05, 2, 0.15))
    # W in its resistor: usual, likely with current and ohms of one corner, and at its most
    assert lamp.resistor_nominal == near(usual**2 * 330.0)
    watts = [
        up[0] ** 2 * 330.0 - lamp.resistor_nominal,
        up[1] ** 2 * 330.0 - lamp.resistor_nominal,
        up[2] ** 2 * 330.0 * 0.95 - lamp.resistor_nominal,
    ]
    assert lamp.resistor_likely == near(lamp.resistor_nominal + math.hypot(*watts))
    assert (lamp.resistor_highest, lamp.resistor_load) == near((highest**2 * 330.0 * 0.95,) * 2)
    assert lamp.spot == (near(usual**2 * 330.0), 0.25)


def test_a_resistor_with_little_of_the_volts_is_warmest_with_the_most_ohms() -> None:
    """Power in a resistor R behind 100 ohm of others is greatest at R = 100: below that more ohms take more."""
    text = ONE.replace("330 ohm 1/4 W 5 %", "20 ohm 1/4 W 10 %").replace(
        '"hull"\nseries = 2', '"hull"\nseries = 4'
    )
    made = survey(text, HEAD.replace('"2 ohm"', '"100 ohm"'))
    lamp = made.electrics.lamps["one"]
    other = alone(12.6, 0.5 + (103.0 + 4.0) * COLD + 22.0, 4, -0.1)
    highest = alone(12.6, 0.5 + (103.0 + 4.0) * COLD + 18.0, 4, -0.1)
    assert lamp.highest == near(highest)
    assert other**2 * 22.0 > highest**2 * 18.0
    assert lamp.resistor_highest == near(other**2 * 22.0)


FLASH = (
    '[circuit.flash]\nsupply = "main"\nbehaviour = "{how}"\nrate = "60 /min"\n{more}'
    '[[run]]\nname = "other"\nline = "flash"\nends = ["base", "hull"]\nohms = "4 ohm"\n'
)


@pytest.mark.parametrize(
    ("how", "more", "depth", "duty"),
    [
        ("flash", 'on_share = "30 %"\n', 1.0, 0.3),
        ("flash", "", 1.0, 0.5),
        ("fade", "", 1.0, 0.5),
        ("fade", 'least_share = "40 %"\n', 0.6, 0.7),
    ],
)
def test_what_a_steady_lamp_does_when_another_comes_on(
    how: str, more: str, depth: float, duty: float
) -> None:
    made = survey(ONE + TWO.format(circuit="flash") + FLASH.format(how=how, more=more))
    dark = alone(12.0, 5.5 + 334.0, 2)
    lit = both(12.0, 0.5 + 3.0, (336.0, 0.0), (474.0, 0.0))
    steps = {
        (step.kind, step.lamp, step.flasher, step.by, step.rate): step.share for step in made.electrics.steps
    }
    fast = how == "flash" or depth >= 0.1
    assert fast
    if how == "flash":
        assert steps == {("lamp", "one", "flash", "circuit", 1.0): near((lit[0] / dark - 1.0) * depth)}
    two = made.electrics.lamps["two"]
    assert two.nominal == near(lit[1])
    assert two.duty_cycle == near(duty)
    # a pulse of a second at most only counts by its average
    assert two.resistor_fraction == near(duty)
    # the other is at its most with this one dark, and at its least with it on
    one = made.electrics.lamps["one"]
    if how == "flash":
        assert one.highest == near(alone(12.6, 0.5 + 9.0 * COLD + 330.0 * 0.95, 2, -0.1))
    assert made.electrics.supplies["main"].average == near(sum(lit) - (1.0 - duty) * lit[1])


def test_two_flashers_each_alone_and_both_at_once() -> None:
    third = (
        TWO.format(circuit="wink").replace('"two"', '"three"').replace("470", "390")
        + '[circuit.wink]\nsupply = "main"\nbehaviour = "flash"\nrate = "90 /min"\non_share = "10 %"\n'
        '[[run]]\nline = "wink"\nends = ["base", "hull"]\nohms = "6 ohm"\n'
    )
    made = survey(
        ONE + TWO.format(circuit="flash") + FLASH.format(how="flash", more='on_share = "30 %"\n') + third
    )
    dark = alone(12.0, 5.5 + 334.0, 2)
    first = both(12.0, 3.5, (336.0, 0.0), (474.0, 0.0))[0]
    second = both(12.0, 3.5, (336.0, 0.0), (396.0, 0.0))[0]

    def off(amps: Any) -> list[float]:
        lost = 3.5 * sum(amps)
        return [
            12.0 - lost - 336.0 * amps[0] - 2 * die(amps[0]),
            12.0 - lost - 474.0 * amps[1] - die(amps[1]),
            12.0 - lost - 396.0 * amps[2] - die(amps[2]),
        ]

    together = float(root(off, [0.02] * 3, tol=1e-14).x[0])
    found = {(step.lamp, step.flasher): (step.share, step.rate) for step in made.electrics.steps}
    assert found == {
        ("one", "flash"): (near(first / dark - 1.0), 1.0),
        ("one", "wink"): (near(second / dark - 1.0), 1.5),
        ("one", None): (near(together / dark - 1.0), None),
    }


def test_what_a_lamp_loses_while_a_motor_starts() -> None:
    motor = '[[load]]\nname = "screw"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "50 mA"\nmost = "60 mA"\n{more}'
    for more, amps, given in (('starting = "170 mA"\n', 0.17, True), ("", 0.3, False)):
        made = survey(ONE + motor.format(more=more))
        running = alone(12.0 - 5.5 * 0.05, 5.5 + 334.0, 2)
        starting = alone(12.0 - 5.5 * amps, 5.5 + 334.0, 2)
        # with nothing else on its wires it gets more than it does beside the motor
        assert made.electrics.lamps["one"].alone == near(
            alone(12.6, 0.5 + 9.0 * COLD + 330.0 * 0.95, 2, -0.1)
        )
        assert made.electrics.lamps["one"].highest < 0.999 * made.electrics.lamps["one"].alone
        (dip,) = made.electrics.dips
        assert (dip.kind, dip.lamp, dip.load, dip.given) == ("lamp", "one", "screw", given)
        assert (dip.share, dip.starting) == near((1.0 - starting / running, amps))


def test_three_strings_behind_one_resistor() -> None:
    text = ONE.replace("330 ohm 1/4 W 5 %", "100 ohm 1/4 W 5 %").replace(
        "series = 2", "series = 2\nparallel = 3\none_resistor = true"
    )
    made = survey(text)
    lamp = made.electrics.lamps["one"]
    # each string has a third of what goes through resistor, lead and wires
    usual = alone(12.0, 3.0 * (5.5 + 4.0 + 100.0), 2)
    assert lamp.nominal == near(usual)
    assert lamp.strings == near((usual,) * 3)
    assert (lamp.resistor_nominal, lamp.resistor_load) == near((9.0 * usual**2 * 100.0,) * 2)
    assert lamp.lead_drop == near(3.0 * 4.0 * usual)
    assert lamp.loss == near(3.0 * (4.0 + 5.0) * usual)
    # with nothing lost each still has what all three lose in their resistor; that is taken in proportion to its own current
    assert lamp.light_lost == near(1.0 - usual / alone(12.0 - 3.0 * 0.5 * usual, 3.0 * 100.0, 2))
    most = alone(12.6, 3.0 * (0.5 + 9.0 * COLD + 95.0), 2, -0.1)
    assert lamp.resistor_highest == near(9.0 * most**2 * 95.0)
    assert lamp.resistor_likely == lamp.resistor_nominal

    # one string with the least forward voltage, the other two typical
    def off(amps: Any) -> list[float]:
        left = 12.0 - 109.5 * (amps[0] + 2.0 * amps[1])
        return [left - 2 * die(amps[0], -0.1), left - 2 * die(amps[1])]

    first, rest = map(float, root(off, [0.03, 0.02], tol=1e-14).x)
    assert lamp.shares == near((first, rest, rest))
    assert lamp.alone == lamp.highest
    (fault,) = made.electrics.parallel_string_faults
    assert (fault.circuit, fault.how, fault.lamp, fault.other, fault.rated) == (
        "lights",
        "open",
        "one",
        "one",
        0.02,
    )
    assert fault.current == near(alone(12.0, 2.0 * 109.5, 2))
    matched = survey(text + "matched = true\n").electrics.lamps["one"]
    assert matched.shares == ()


@pytest.mark.parametrize(("setting", "turned_in"), [(" set 150 ohm", 150.0), ("", 0.0)])
def test_a_trimmer_turned_to_nothing_and_to_all_of_its_track(setting: str, turned_in: float) -> None:
    made = survey(ONE.replace("330 ohm 1/4 W 5 %", f"220 ohm 1/4 W 5 % + trimmer 500 1/2 W 10 %{setting}"))
    lamp = made.electrics.lamps["one"]
    assert lamp.nominal == near(alone(12.0, 9.5 + 220.0 + turned_in, 2))
    assert lamp.turned == near((alone(12.0, 9.5 + 220.0, 2), alone(12.0, 9.5 + 720.0, 2)))
    # at its least all of the track and 10 % of it is in, where nobody says the setting
    more = 550.0 if not turned_in else 150.0 * 1.05
    if not turned_in:
        assert lamp.lowest == near(alone(11.4, 0.5 + 9.0 * WARM + 231.0 + more, 2, 0.15))
    # which of the two is nearer to its rating
    usual = lamp.nominal
    fixed = usual**2 * 220.0 / 0.25
    if turned_in:
        # a track stands its power as a whole: 150 of 500 ohm of it is what dissipates
        assert lamp.spot == (near(usual**2 * 220.0), 0.25)
        return
    tried = [500.0 * step / 24.0 for step in range(1, 25)]
    track = max(alone(12.0, 9.5 + 220.0 + ohms, 2) ** 2 * ohms for ohms in tried)
    assert lamp.spot == ((near(usual**2 * 220.0), 0.25) if fixed > track / 0.5 else (near(track), 0.5))


@pytest.mark.parametrize(
    ("fixed", "track", "step"), [("10 ohm 10 W", 500.0, 1), ("3.3 kohm 10 W", 500.0, 24)]
)
def test_a_track_is_warmest_at_its_first_turn_behind_little_and_as_a_whole_behind_much(
    fixed: str, track: float, step: int
) -> None:
    """What is in has the most of the heat where it equals what is before it (matched power), as far as the track goes."""
    lamp = survey(ONE.replace("330 ohm 1/4 W 5 %", f"{fixed} + trimmer 500 1/16 W")).electrics.lamps["one"]
    before = {1: 19.5, 24: 3309.5}[step]
    tried = [track * turn / 24.0 for turn in range(1, 25)]
    watts = [alone(12.0, before + ohms, 2) ** 2 * ohms for ohms in tried]
    assert watts.index(max(watts)) == step - 1
    assert lamp.spot == (near(max(watts)), 1 / 16)


STRIP = (
    '[strip_kind.own]\nvolts = "12 V"\nsegment = "50 mm"\nseries = 4\nohms = "120 ohm"\nkind = "plain"\nstrings = 2\n'
    '[[strip]]\nname = "hall"\ncircuit = "lights"\nkind = "own"\nplace = "hull"\nsegments = 3\ntrace = "30 ohm/m"\n'
)


def test_the_segments_of_a_strip_along_its_traces() -> None:
    """A ladder of three: each step has 1.5 ohm of trace on either side, and two chains of four dice behind 120 ohm."""

    def solve(volts: float, shared: float, trace: float, ohms: float, shift: float) -> list[float]:
        def off(amps: Any) -> list[float]:
            left, rows = volts - shared * 2.0 * sum(amps), []
            for segment in range(3):
                left -= 2.0 * trace * 2.0 * sum(amps[segment:])
                rows.append(left - ohms * amps[segment] - 4 * die(amps[segment], shift))
            return rows

        found = root(off, [0.02, 0.018, 0.017], tol=1e-14)
        assert max(map(abs, found.fun)) < 1e-11
        return list(map(float, found.x))

    usual = solve(12.0, 5.5, 1.5, 120.0, 0.0)
    (strip,) = survey(STRIP).electrics.strips.values()
    assert strip.nominal == near(2.0 * sum(usual))
    assert [amps for _, amps in strip.segments] == near([2.0 * amps for amps in usual])
    assert [volts for volts, _ in strip.segments] == near([120.0 * amps + 4 * die(amps) for amps in usual])
    assert (strip.segment_current, strip.last_current) == near((usual[0], usual[-1]))
    most = solve(12.6, 0.5 + 5.0 * COLD, 1.5 * COLD, 114.0, -0.1)
    assert (strip.highest, strip.through) == near((2.0 * sum(most),) * 2)
    # of the light of its last segment against that on the supply's own volts
    whole = alone(12.0, 120.0, 4)
    assert strip.light_lost == pytest.approx(1.0 - usual[-1] / whole, rel=0.02)
    # where its traces were not measured, all lie side by side
    (flat,) = survey(STRIP.replace('trace = "30 ohm/m"\n', "")).electrics.strips.values()
    each = alone(12.0, 6.0 * 5.5 + 120.0, 4)
    assert [amps for _, amps in flat.segments] == near([2.0 * each] * 3)
    assert (flat.through, flat.highest) == near(
        (6.0 * alone(12.6, 6.0 * (0.5 + 5.0 * COLD) + 114.0, 4, -0.1),) * 2
    )


def test_a_trimmer_before_several_strings_takes_what_all_of_them_take() -> None:
    text = ONE.replace("330 ohm 1/4 W 5 %", "50 ohm 1/4 W 5 % + trimmer 200 ohm 1/2 W 10 % set 80 ohm")
    made = survey(text.replace("series = 2", "series = 2\nparallel = 3\none_resistor = true"))
    lamp = made.electrics.lamps["one"]
    usual = alone(12.0, 3.0 * (9.5 + 130.0), 2)
    assert lamp.nominal == near(usual)
    # the way to it is taken as stiff
    assert lamp.turned == near(
        (alone(lamp.joint_volts, 3.0 * 50.0, 2), alone(lamp.joint_volts, 3.0 * 250.0, 2))
    )
    # turned to nothing, as it is where nobody says its setting, it has no heat: what is fixed has it all
    text = text.replace(" set 80 ohm", "").replace(
        "series = 2", "series = 2\nparallel = 3\none_resistor = true"
    )
    usual = alone(12.0, 3.0 * (9.5 + 50.0), 2)
    assert survey(text).electrics.lamps["one"].spot == (near(9.0 * usual**2 * 50.0), 0.25)


@pytest.mark.parametrize("ohms", ["0.01", "2"])
@pytest.mark.parametrize("conductors", [1, 2])
def test_where_corners_are_not_solved_in_full_a_lamp_by_itself_has_the_same_span(
    conductors: int, ohms: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One string sees the rest as a voltage behind a resistance, so there the short way loses nothing."""
    head = HEAD.replace('ohms = "2 ohm"', f'ohms = "{ohms} ohm"\nconductors = {conductors}')
    soft = 0.5 if ohms == "2" else 0.0
    if not soft:
        head = head.replace('resistance = "0.5 ohm"\n', "").replace('"3 ohm"', '"0.02 ohm"')
    monkeypatch.setattr(corners, "EXACT_STRINGS", 0)
    lamp = survey(ONE, head).electrics.lamps["one"]
    ways = float(ohms) / conductors + (3.0 if soft else 0.02) + 4.0
    assert lamp.highest == near(alone(12.6, soft + ways * COLD + 330.0 * 0.95, 2, -0.1))
    assert lamp.lowest == near(alone(11.4, soft + ways * WARM + 330.0 * 1.05, 2, 0.15))
    assert lamp.likely_highest > lamp.nominal > lamp.likely_lowest


def test_where_corners_are_not_solved_in_full_two_lamps_are_on_the_safe_side(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    full = survey(ONE + TWO.format(circuit="lights")).electrics.lamps
    monkeypatch.setattr(corners, "EXACT_STRINGS", 0)
    quick = survey(ONE + TWO.format(circuit="lights")).electrics.lamps
    for name in ("one", "two"):
        assert quick[name].nominal == near(full[name].nominal)
        assert full[name].highest * (1.0 - 1e-9) <= quick[name].highest < full[name].highest * 1.001
        assert full[name].lowest * 0.999 < quick[name].lowest <= full[name].lowest * (1.0 + 1e-9)


MOTOR = '[[load]]\nname = "{name}"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "50 mA"\nstarting = "{starting}"\n'


def test_which_lamps_are_told_to_dip_by_which_motor() -> None:
    """Not one that flashes anyway, nor one that is dark or on another supply; each motor with all others running."""
    text = (
        ONE
        + '[supply.aux]\nkind = "adaptor"\nplace = "hull"\nvolts = "12 V"\nrated = "1 A"\n[circuit.aft]\nsupply = "aux"\n'
        + TWO.format(circuit="aft").replace('"two"', '"aft"')
        + TWO.format(circuit="flash")
        + FLASH.format(how="flash", more='on_share = "30 %"\n')
        + TWO.format(circuit="lights").replace('"two"', '"back"')
        + "backwards = true\n"
        + MOTOR.format(name="screw", starting="170 mA")
        + MOTOR.format(name="pump", starting="250 mA")
        + MOTOR.format(name="idle", starting="50 mA")
    )
    found = {(dip.lamp, dip.load): dip for dip in survey(text).electrics.dips}
    assert set(found) == {("one", "screw"), ("one", "pump")}

    def lit(amps: float) -> float:
        """The steady lamp and the flasher, with the motors taking so much through 2 ohm of the feed and 3.5 shared."""

        def off(both: Any) -> list[float]:
            lost = 3.5 * (both[0] + both[1] + amps)
            return [
                12.0 - lost - 2.0 * (both[0] + amps) - 334.0 * both[0] - 2 * die(both[0]),
                12.0 - lost - 474.0 * both[1] - die(both[1]),
            ]

        return float(root(off, [0.02, 0.02], tol=1e-14).x[0])

    running = lit(0.15)
    assert found["one", "screw"].share == near(1.0 - lit(0.27) / running)
    assert found["one", "pump"].share == near(1.0 - lit(0.35) / running)
    assert [found["one", name].starting for name in ("screw", "pump")] == near([0.17, 0.25])


def test_the_worst_segment_of_a_strip_is_told_to_step() -> None:
    strip = STRIP.replace("segments = 3", "segments = 2")
    made = survey(strip + TWO.format(circuit="flash") + FLASH.format(how="flash", more=""))

    def solve(lit: bool) -> list[float]:
        def off(amps: Any) -> list[float]:
            two = amps[2] if lit else 0.0
            near_end = 12.0 - 3.5 * (2.0 * (amps[0] + amps[1]) + two) - 2.0 * 2.0 * (amps[0] + amps[1])
            first = near_end - 3.0 * 2.0 * (amps[0] + amps[1])
            rows = [
                first - 120.0 * amps[0] - 4 * die(amps[0]),
                first - 3.0 * 2.0 * amps[1] - 120.0 * amps[1] - 4 * die(amps[1]),
            ]
            last = 12.0 - 3.5 * (2.0 * (amps[0] + amps[1]) + amps[2]) - 474.0 * amps[2] - die(amps[2])
            return [*rows, last if lit else amps[2]]

        found = root(off, [0.02, 0.018, 0.02], tol=1e-14)
        assert max(map(abs, found.fun)) < 1e-10
        return list(map(float, found.x))

    dark, lit = solve(False), solve(True)
    (step,) = [one for one in made.electrics.steps if one.kind == "strip"]
    shares = [on / off - 1.0 for on, off in zip(lit[:2], dark[:2], strict=True)]
    assert step.lamp == "hall"
    assert step.share == near(max(shares, key=abs))


CHIP = (
    '[lamp_kind.blinker]\nforward = "1.9/2.0/2.15 V"\nat = "20 mA"\nlow_forward = "1.9 V"\nlow_at = "5 mA"\nper_kelvin = "0 mV"\nrated = "20 mA"\nflashes = "2 Hz"\n'
    '[[lamp]]\nname = "buoy"\ncircuit = "lights"\nkind = "blinker"\nplace = "hull"\nresistor = "390 ohm 1 W 2 %"\n'
)


@pytest.mark.parametrize("circuit", [True, False])
def test_a_lamp_that_flashes_by_itself_beside_a_circuit_that_does(circuit: bool) -> None:
    """Each comes on with the other dark, and now and then both at once."""
    more = TWO.format(circuit="flash") + FLASH.format(how="flash", more="") if circuit else ""
    made = survey(CHIP + ONE + more)

    def one(buoy: bool, flash: bool) -> float:
        def off(amps: Any) -> list[float]:
            b, f = (amps[1] if buoy else 0.0), (amps[2] if flash else 0.0)
            lost = 3.5 * (amps[0] + b + f)
            fed = 2.0 * (amps[0] + b)
            return [
                12.0 - lost - fed - 334.0 * amps[0] - 2 * die(amps[0]),
                12.0 - lost - fed - 390.0 * amps[1] - die(amps[1]) if buoy else amps[1],
                12.0 - lost - 474.0 * amps[2] - die(amps[2]) if flash else amps[2],
            ]

        found = root(off, [0.02, 0.02, 0.02], tol=1e-14)
        assert max(map(abs, found.fun)) < 1e-10
        return float(found.x[0])

    dark = one(False, False)
    steps = {
        (step.flasher, step.by): (step.share, step.rate)
        for step in made.electrics.steps
        if step.lamp == "one"
    }
    alone_ = {("buoy", "lamp"): (near(one(True, False) / dark - 1.0), 2.0)}
    if circuit:
        alone_["flash", "circuit"] = (near(one(False, True) / dark - 1.0), 1.0)
        alone_[None, "circuit"] = (near(one(True, True) / dark - 1.0), None)
    assert steps == alone_
    # at its most with both dark, at its least with both lit
    assert made.electrics.lamps["one"].highest == near(alone(12.6, 0.5 + 9.0 * COLD + 330.0 * 0.95, 2, -0.1))


def test_the_short_way_takes_the_rest_as_a_voltage_behind_a_resistance(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Thevenin: the other lamp by its slope where all others are; the shared wires brought to their corner as if it took no notice."""
    monkeypatch.setattr(corners, "EXACT_STRINGS", 0)
    lamp = survey(ONE + TWO.format(circuit="lights")).electrics.lamps["one"]

    def slope(amps: float) -> float:
        return (die(amps * (1 + 1e-6)) - die(amps * (1 - 1e-6))) / (2e-6 * amps)

    for found, volts, others, warm, own, shift in (
        (lamp.highest, 12.6, (346.5, 0.15, 479.4), WARM, 313.5, -0.1),
        (lamp.lowest, 11.4, (313.5, -0.1, 460.6), COLD, 346.5, 0.15),
    ):
        there = COLD if warm == WARM else WARM
        shared = 0.5 + 5.0 * warm
        one, two = both(volts, shared, (others[0] + 4.0 * warm, others[1]), (others[2], others[1]))
        beside = others[2] + slope(two)
        behind = shared * beside / (shared + beside)
        open_volts = volts - shared * (one + two) + behind * one
        more = 5.0 * (there - warm)
        open_volts += more * one - more * (one + two)
        assert found == pytest.approx(
            alone(open_volts, behind + more + own + 4.0 * there, 2, shift), rel=1e-7
        )


def test_a_lamp_with_its_resistor_inside() -> None:
    """12 V less 2.0 V at 20 mA: 500 ohm inside, a tenth less or more; rated for a quarter more volts."""
    kind = (
        '[lamp_kind.ready]\nforward = "1.9/2.0/2.15 V"\nat = "20 mA"\nlow_forward = "1.9 V"\nlow_at = "5 mA"\nper_kelvin = "0 mV"\nvolts = "12 V"\n'
        '[[lamp]]\nname = "ready"\ncircuit = "lights"\nkind = "ready"\nplace = "hull"\n'
    )
    lamp = survey(kind).electrics.lamps["ready"]
    usual = alone(12.0, 5.5 + 500.0, 1)
    assert lamp.nominal == near(usual)
    assert lamp.highest == near(alone(12.6, 0.5 + 5.0 * COLD + 450.0, 1, -0.1))
    assert lamp.lowest == near(alone(11.4, 0.5 + 5.0 * WARM + 550.0, 1, 0.15))
    assert lamp.inside_heat == near(usual**2 * 500.0)
    assert lamp.die_volts == near(12.0 - 5.5 * usual)
    assert lamp.rated == near(0.026)
    # of a resistor of its own nothing is told
    assert (lamp.resistor_nominal, lamp.resistor_likely, lamp.resistor_highest) == (0.0, 0.0, 0.0)
    assert (lamp.spot, lamp.turned) == ((0.0, None), None)


@pytest.mark.parametrize(("share", "squares"), [("nothing", 6.0), ("return", 3.0 + 9.0), ("lead", 9.0 + 9.0)])
@pytest.mark.parametrize(("circuit", "duty"), [("lights", 1.0), ("flash", 0.25)])
def test_the_leads_of_three_strings_warm_by_what_each_of_them_carries(
    share: str, squares: float, circuit: str, duty: float
) -> None:
    """Legs of 2 ohm: one string's current squared in each of its own, nine times that in one for all three."""
    text = ONE.replace("series = 2", f'series = 2\nparallel = 3\nstrings_share = "{share}"')
    made = survey(
        text.replace('"lights"', f'"{circuit}"') + FLASH.format(how="flash", more='on_share = "25 %"\n')
    )
    lamp = made.electrics.lamps["one"]
    feed = 2.0 if circuit == "lights" else 4.0
    legs = {"nothing": 4.0, "return": 2.0 + 3 * 2.0, "lead": 3 * 4.0}[share]
    usual = alone(12.0, 3.0 * (3.5 + feed) + legs + 330.0, 2)
    assert lamp.nominal == near(usual)
    heats = {(place, part): watts for place, part, watts in made.electrics.heats}
    assert heats["hull", "the lead of one"] == near(squares * usual**2 * 2.0 * duty)
    assert heats["hull", "the resistor of one"] == near(3.0 * usual**2 * 330.0 * duty)
    assert heats["hull", "one"] == near(3.0 * usual * 2 * die(usual) * duty)


def test_the_least_volts_of_a_load_with_a_lamp_at_its_most_beside_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """The supply low; the lamp takes most through warm wires, on its own way too where corners are not solved in full."""
    motor = '[[load]]\nname = "horn"\nkind = "sound"\ncircuit = "lights"\nplace = "hull"\ntypical = "40 mA"\nmost = "50 mA"\n'
    shared = 0.5 + 5.0 * WARM
    for size, own in ((300, COLD), (-1, WARM)):
        monkeypatch.setattr(corners, "EXACT_SIZE", size)
        lamp = alone(11.4 - shared * 0.05, shared + 313.5 + 4.0 * own, 2, -0.1)
        found = survey(ONE + motor).electrics.loads["horn"]
        assert found.lowest_volts == near(11.4 - shared * (0.05 + lamp))


def test_beside_a_load_a_lamp_gets_most_where_that_takes_least_and_least_where_it_takes_most() -> None:
    motor = '[[load]]\nname = "horn"\nkind = "sound"\ncircuit = "lights"\nplace = "hull"\nleast = "20 mA"\ntypical = "40 mA"\nmost = "50 mA"\n'
    lamp = survey(ONE + motor).electrics.lamps["one"]
    for found, volts, amps, wire, ohms, shift in (
        (lamp.nominal, 12.0, 0.04, 1.0, 330.0, 0.0),
        (lamp.highest, 12.6, 0.02, COLD, 330.0 * 0.95, -0.1),
        (lamp.lowest, 11.4, 0.05, WARM, 330.0 * 1.05, 0.15),
    ):
        shared = 0.5 + 5.0 * wire
        assert found == near(alone(volts - shared * amps, shared + 4.0 * wire + ohms, 2, shift))


def test_a_circuit_on_which_nothing_is_takes_nothing() -> None:
    """Beside a bulb that starts cold. Its output has what it needs for itself missing: half a volt."""
    head = HEAD.replace(
        '[circuit.lights]\nsupply = "main"',
        '[circuit.lights]\nsupply = "main"\n[circuit.held]\nsupply = "main"\noutput = { steady = "60 mA" }\n[circuit.spare]\nsupply = "main"',
    )
    bulb = '[lamp_kind.bulb]\nkind = "filament"\nvolts = "12 V"\nrated = "50 mA"\n'
    made = survey(bulb + ONE.replace('"plain"', '"bulb"'), head).electrics.circuits
    assert made["lights"].starting > 1.4 * made["lights"].nominal > 0.0
    for name, drop, spare, low in (("held", 0.0, -0.5, 0.0), ("spare", None, None, None)):
        found = made[name]
        assert (found.nominal, found.highest, found.starting) == (0.0, 0.0, 0.0)
        assert (found.drop, found.spare, found.at_low) == (drop, spare, low)


def crossing(*names: str) -> Survey:
    """A feed of the first and second lamp, a return of the second and third: neither has all that the other has."""
    head = (
        HEAD.replace('[place.hull]\naccess = "open"', '[place.hull]\naccess = "open"\n[place.bow]\naccess = "open"')
        .replace('line = "main-"\nends = ["base", "hull"]', 'line = "main-"\nends = ["base", "bow"]')
    )  # fmt: skip
    lamps = {
        name: TWO.format(circuit="lights").replace('"two"', f'"{name}"').replace("470", ohms)
        + f'lead = {{ length = "100 mm", feed = {{ to = "{feed}" }}, back = {{ to = "{back}" }} }}\n'
        for name, feed, back, ohms in (
            ("first", "hull", "base", "330"),
            ("second", "hull", "bow", "470"),
            ("third", "base", "bow", "680"),
        )
    }
    return survey("".join(lamps[name] for name in names), head)


def test_feeds_and_returns_that_branch_otherwise_are_tried_and_not_proven() -> None:
    assert crossing("first", "second").electrics.proven
    assert crossing("second", "third").electrics.proven
    assert not crossing("first", "second", "third").electrics.proven


def test_what_is_tried_of_them_is_the_worst_of_all_corners() -> None:
    """Each lamp at its own end; the others, the feed and the return at either of theirs, in every combination."""
    ends = [
        [(ohms * part + 0.4 * wire, shift) for ohms in (330.0, 470.0, 680.0)]
        for part, wire, shift in ((0.98, COLD, -0.1), (1.02, WARM, 0.15))
    ]

    def amps(volts: float, feed: float, back: float, each: list[tuple[float, float]]) -> Any:
        def off(flow: Any) -> list[float]:
            there, home = feed * (flow[0] + flow[1]), back * (flow[1] + flow[2])
            lost = (there, there + home, home)
            return [
                volts - 0.5 * sum(flow) - lost[k] - each[k][0] * flow[k] - die(flow[k], each[k][1])
                for k in range(3)
            ]

        return root(off, [0.02] * 3, tol=1e-14).x

    lamps = crossing("first", "second", "third").electrics.lamps
    for number, name in enumerate(("first", "second", "third")):
        for own, volts, found, worst in (
            (0, 12.6, lamps[name].highest, max),
            (1, 11.4, lamps[name].lowest, min),
        ):
            tried = []
            for feed, back, one, other in product((COLD, WARM), (COLD, WARM), (0, 1), (0, 1)):
                others = iter((one, other))
                each = [ends[own if k == number else next(others)][k] for k in range(3)]
                tried.append(amps(volts, 2.0 * feed, 3.0 * back, each)[number])
            assert found == near(worst(tried))


def test_a_strip_on_a_constant_current_is_held_against_no_volts() -> None:
    head = HEAD.replace(
        '[circuit.lights]\nsupply = "main"',
        '[circuit.lights]\nsupply = "main"\noutput = { steady = "60 mA" }',
    )
    (strip,) = survey(STRIP, head).electrics.strips.values()
    assert strip.light_lost == 0.0
    assert strip.nominal == near(0.06)


def test_a_track_that_is_small_beside_the_rest_is_warmest_when_all_of_it_is_in() -> None:
    """I2 R rises with R until that is as much as all the rest of the way."""
    made = survey(ONE.replace("330 ohm 1/4 W 5 %", "220 ohm 5 W 5 % + trimmer 60 ohm 50 mW 10 %"))
    lamp = made.electrics.lamps["one"]
    assert lamp.spot == (near(alone(12.0, 9.5 + 280.0, 2) ** 2 * 60.0), 0.05)


def test_what_nothing_is_connected_to_carries_nothing() -> None:
    made = survey(ONE + '[circuit.spare]\nsupply = "main"\n')
    spare = made.electrics.circuits["spare"]
    assert (spare.nominal, spare.highest, spare.starting) == (0.0, 0.0, 0.0)


def test_what_a_strip_feeds_has_what_its_lead_leaves() -> None:
    """Strip and sounder together through 5.5 ohm and both legs of 0.4 ohm; traces that were not measured lose nothing."""
    far = '[place.bow]\naccess = "open"\n[place.aft]\naccess = "open"\n[[load]]\nname = "bell"\nkind = "sound"\ncircuit = "lights"\nplace = "aft"\ntypical = "20 mA"\n'
    text = STRIP.replace('trace = "30 ohm/m"', 'far_end = "aft"\nlead = "200 mm to hull"').replace(
        'place = "hull"', 'place = "bow"'
    )
    electrics = survey(text + far).electrics
    total = electrics.strips["hall"].nominal + 0.020
    assert electrics.loads["bell"].volts == near(12.0 - (5.5 + 0.8) * total)
    assert electrics.strips["hall"].first_volts == near(12.0 - (5.5 + 0.8) * total)
    # one soldered to the line has no legs
    text = STRIP.replace('trace = "30 ohm/m"', 'far_end = "aft"')
    electrics = survey(text + far).electrics
    total = electrics.strips["hall"].nominal + 0.020
    assert electrics.loads["bell"].volts == near(12.0 - 5.5 * total)


def test_what_a_strip_feeds_has_what_its_traces_leave() -> None:
    """20 mA more through every trace: 1.5 ohm on either side of each of three segments, the sounder behind the last."""
    far = '[place.aft]\naccess = "open"\n[[load]]\nname = "bell"\nkind = "sound"\ncircuit = "lights"\nplace = "aft"\ntypical = "20 mA"\n'

    def off(amps: Any) -> list[float]:
        left, rows = 12.0 - 5.5 * (2.0 * sum(amps) + 0.020), []
        for segment in range(3):
            left -= 3.0 * (2.0 * sum(amps[segment:]) + 0.020)
            rows.append(left - 120.0 * amps[segment] - 4 * die(amps[segment]))
        return rows

    usual = list(map(float, root(off, [0.02, 0.018, 0.017], tol=1e-14).x))
    electrics = survey(STRIP.replace("trace =", 'far_end = "aft"\ntrace =') + far).electrics
    assert [amps for _, amps in electrics.strips["hall"].segments] == near([2.0 * amps for amps in usual])
    assert electrics.loads["bell"].volts == near(120.0 * usual[-1] + 4 * die(usual[-1]))


def test_a_leg_of_a_strip_whose_wire_nobody_knows_loses_nothing_and_the_other_does() -> None:
    far = '[place.bow]\naccess = "open"\n[place.aft]\naccess = "open"\n[[load]]\nname = "bell"\nkind = "sound"\ncircuit = "lights"\nplace = "aft"\ntypical = "20 mA"\n'
    head = HEAD.replace('[usual]\nlead = "fine"\n', "")
    for known, other in (("feed", "back"), ("back", "feed")):
        lead = f'lead = {{ to = "hull", {known} = {{ length = "200 mm", wire = "fine" }}, {other} = {{ length = "200 mm" }} }}'
        text = STRIP.replace('trace = "30 ohm/m"', f'far_end = "aft"\n{lead}').replace(
            'place = "hull"', 'place = "bow"'
        )
        electrics = survey(text + far, head).electrics
        total = electrics.strips["hall"].nominal + 0.020
        assert electrics.loads["bell"].volts == near(12.0 - (5.5 + 0.4) * total)


def test_an_output_that_takes_no_volts_has_no_drop_and_nothing_to_spare() -> None:
    head = HEAD.replace(
        '[circuit.lights]\nsupply = "main"', '[circuit.lights]\nsupply = "main"\noutput = { limit = "1 A" }'
    )
    lights = survey(ONE, head).electrics.circuits["lights"]
    assert (lights.drop, lights.spare) == (0.0, None)


def test_beside_a_circuit_that_flashes_one_that_flashes_by_itself_has_a_state_of_its_own() -> None:
    """Each of them by itself, both dark, and both lit; where there is one alone it is on with all."""
    kind = (
        HEAD[HEAD.index("[lamp_kind.plain]") : HEAD.index("[supply.main]")].replace("plain", "winker")
        + 'flashes = "1.5 Hz"\n'
    )
    winker = '[[lamp]]\nname = "winker"\ncircuit = "lights"\nkind = "winker"\nplace = "hull"\nresistor = "470 ohm 1/2 W"\n'
    flasher = FLASH.format(how="flash", more='on_share = "25 %"\n') + TWO.format(circuit="flash")
    dark = frozenset({("winker", 0)})
    both = States(survey(kind + winker + flasher).wiring)
    assert both.flashers == ("flash", "winker")
    assert (both.quiet.on, both.quiet.open_strings) == ({"lights"}, dark)
    assert (both.alone["flash"].on, both.alone["flash"].open_strings) == ({"lights", "flash"}, dark)
    assert (both.by_itself["winker"].on, both.by_itself["winker"].open_strings) == ({"lights"}, frozenset())
    one = States(survey(kind + winker).wiring)
    assert (one.quiet.open_strings, one.by_itself) == (dark, {"winker": one.everything})
    other = States(survey(flasher).wiring)
    assert (other.quiet.on, other.alone) == ({"lights"}, {"flash": other.everything})


def test_two_that_flash_by_themselves_have_figures_of_their_own() -> None:
    kind = (
        HEAD[HEAD.index("[lamp_kind.plain]") : HEAD.index("[supply.main]")].replace("plain", "winker")
        + 'flashes = "1.5 Hz"\n'
    )
    lamps = "".join(
        f'[[lamp]]\nname = "{name}"\ncircuit = "lights"\nkind = "winker"\nplace = "hull"\nresistor = "{ohms} ohm 1/2 W 2 %"\n'
        for name, ohms in (("one", 470), ("two", 680))
    )
    found = survey(kind + lamps).electrics.lamps
    assert found["one"].nominal > 1.3 * found["two"].nominal


def test_five_times_its_rating_an_led_still_stands() -> None:
    """30 mA: 150 mA are no figure of a dead one, more are."""
    from postcheck.limits import Limits  # noqa: PLC0415
    from postcheck.survey.network.dice import destroyed  # noqa: PLC0415
    from postcheck.survey.test_records.explained import _like  # noqa: PLC0415

    red = _like("smd-0603-red")
    assert red is not None
    most = max(5 * red.rated, red.pulse or 0.0)
    assert not destroyed([red], most, Limits({}))
    assert destroyed([red], most * 1.0001, Limits({}))


@pytest.mark.parametrize(
    ("more", "proven"),
    [
        ("", True),
        ('[[load]]\nname = "horn"\ncircuit = "lights"\nplace = "hull"\ntypical = "20 mA"\n', False),
        ('[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "base"\nvolts = "5 V"\n', False),
        ('[circuit.held]\nsupply = "main"\noutput = { steady = "10 mA" }\n', False),
        (
            '[[lamp]]\nname = "both"\ncircuit = "lights"\nkind = "smd-0402-red"\nplace = "hull"\nparallel = 2\nresistor = "1k5 1/2 W"\none_resistor = true\n',
            False,
        ),
    ],
)
def test_beside_a_plain_lamp_what_makes_corners_tried_alone(more: str, proven: bool) -> None:
    """Electronics, a converter, a constant current, or strings that warm one resistor in a closed place."""
    from tests.survey.small import lamp as plain  # noqa: PLC0415
    from tests.survey.small import survey as small  # noqa: PLC0415

    made = small(lamps=plain() + more, hull='access = "sealed"\nsurface = "40 cm2"')
    assert made.electrics.proven is proven


def test_where_corners_are_not_solved_in_full_either_end_of_a_run_may_be_named_first(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(corners, "EXACT_STRINGS", 0)
    there = '["base", "hull"]'
    assert there in HEAD
    text = ONE + TWO.format(circuit="lights")
    made = [survey(text, head).electrics.lamps for head in (HEAD, HEAD.replace(there, '["hull", "base"]'))]
    for name in ("one", "two"):
        here, back = (lamps[name] for lamps in made)
        assert (back.lowest, back.highest) == (near(here.lowest), near(here.highest))
