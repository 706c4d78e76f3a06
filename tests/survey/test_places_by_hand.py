"""Closed places, hot spots and motors: Newton's law of cooling by hand, with all the figures that a place has.

Walls pass 3.5 W/(m2 K), of bare metal 1.9, the case of a motor 12 (the limits heat.per-area, heat.per-area.bare, heat.case).
"""

from __future__ import annotations

from typing import Any

import pytest

import postcheck
from postcheck.limits import Limits
from postcheck.survey import Survey
from postcheck.survey.heat.motors import Warm
from postcheck.survey.heat.places import _by_place, unsized

HEAD = """
format = 1
[build]
name = "Tender"
air = "5..35 degC"
[lamp_kind.bulb]
kind = "filament"
volts = "12 V"
rated = "50 mA"
[lamp_kind.plain]
forward = "1.9/2.0/2.15 V"
at = "20 mA"
low_forward = "1.9 V"
low_at = "5 mA"
per_kelvin = "0 mV"
rated = "20 mA"
[supply.main]
place = "base"
{main}
[place.base]
access = "open"
[place.hull]
{hull}
[circuit.lights]
supply = "main"
{circuit}
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
ADAPTOR = 'kind = "adaptor"\nvolts = "12 V"\ntolerance = "0 %"\n'
LOAD = '[[load]]\nname = "screw"\nkind = "{kind}"\ncircuit = "lights"\nplace = "hull"\n{says}\n'


def survey(hull: str, text: str = "", main: str = ADAPTOR, circuit: str = "") -> Survey:
    return Survey(postcheck.loads(HEAD.format(hull=hull, main=main, circuit=circuit) + text))


def near(value: Any) -> Any:
    return pytest.approx(value, rel=1e-9)


# 0.4 W and what 20 mA of 11.9 V are, with 5 ohm of wire on the way, half of which is in the hull
WATTS = 0.4 + 0.02 * (12.0 - 0.1) + 0.02**2 * 2.5


@pytest.mark.parametrize(
    ("hull", "loss", "stands"),
    [
        ('access = "cover"\nmaterial = "styrene"', 3.5, 60.0),
        ('access = "sealed"\nmaterial = "pla"', 3.5, 45.0),
        ('access = "sealed"\nmaterial = "brass"\npainted = true', 3.5, 90.0),
        ('access = "sealed"\nmaterial = "brass"\npainted = false', 1.9, 90.0),
        ('access = "sealed"\nmaterial = "brass"', 3.5, 90.0),
        ('access = "sealed"\nmaterial = "something soft"', 3.5, 60.0),
        ('access = "sealed"', 3.5, 60.0),
    ],
)
def test_the_air_of_a_closed_place_and_what_its_walls_withstand(
    hull: str, loss: float, stands: float
) -> None:
    text = LOAD.format(kind="sound", says='typical = "20 mA"')
    made = survey(hull + '\nsurface = "90 cm2"\nheat = "0.4 W"', text)
    place = made.places["hull"]
    assert place.heat == near(WATTS)
    assert place.rise == near(WATTS / (loss * 0.009))
    assert place.hottest == near(35.0 + WATTS / (loss * 0.009))
    assert place.stands == stands
    assert [name for name, _ in place.parts][:2] == ["what else is in it", "screw"]
    # where its material is not known: what the weakest of all withstands; where nobody says that metal is bare: if it is
    known = '"styrene"' in hull or '"pla"' in hull or '"brass"' in hull
    assert place.weakest == (None if known else 40.0)
    unsaid = '"brass"' in hull and "painted" not in hull
    assert place.bare == (near(35.0 + WATTS / (1.9 * 0.009)) if unsaid else None)
    # of a place whose size nobody says there is heat and no rise
    unknown = survey(hull + '\nheat = "0.4 W"', text).places["hull"]
    assert (unknown.heat, unknown.rise, unknown.hottest, unknown.bare, unknown.steady) == (
        near(WATTS),
        None,
        None,
        None,
        None,
    )


def test_what_is_warm_for_a_share_of_the_time_and_for_good() -> None:
    flash = 'behaviour = "flash"\nrate = "60 /min"\non_share = "25 %"'
    made = survey(
        'access = "sealed"\nmaterial = "styrene"\nsurface = "90 cm2"',
        LOAD.format(kind="sound", says='typical = "20 mA"'),
        circuit=flash,
    )
    place = made.places["hull"]
    on = 0.02 * (12.0 - 0.1) + 0.02**2 * 2.5
    assert place.heat == near(0.25 * on)
    assert place.hottest == near(35.0 + 0.25 * on / (3.5 * 0.009))
    assert place.steady == near(35.0 + on / (3.5 * 0.009))
    assert dict(place.steady_parts) == {
        "screw": near(0.02 * 11.9),
        "the wire of feed": near(0.02**2),
        "the wire of back": near(0.02**2 * 1.5),
    }


@pytest.mark.parametrize(
    ("size", "free", "watts"),
    [
        # 0.33 W for each of the smallest bodies, 1 W at most; less where the walls leave less than 25 K
        (1.0, 25.0, 0.33),
        (2.0, 25.0, 0.66),
        (3.0, 25.0, 0.99),
        (4.0, 25.0, 1.0),
        (1.0, 10.0, 0.33 * 0.4),
        (1.0, 50.0, 0.66),
        (1.0, 2.5, 0.033),
        (1.0, 1.0, 0.033),
        (1.0, -5.0, 0.033),
    ],
)
def test_the_heat_from_which_the_size_of_a_place_has_to_be_known(
    size: float, free: float, watts: float
) -> None:
    assert unsized(Limits(), size, free) == near(watts)


LAMP = '[[lamp]]\nname = "bow"\ncircuit = "lights"\nkind = "{kind}"\nplace = "hull"\n{more}\n'


@pytest.mark.parametrize(
    ("hull", "material", "stands"),
    [
        ('access = "open"\nmaterial = "styrene"', "styrene", 70.0),
        ('access = "open"', None, 70.0),
        ('access = "sealed"\nmaterial = "abs"\nsurface = "120 cm2"', "abs", 75.0),
    ],
)
def test_the_wall_beside_a_resistor_has_half_of_its_rise(
    hull: str, material: str | None, stands: float
) -> None:
    """85 K at the rating of 1/4 W; the wall touches it on one side."""
    made = survey(hull, LAMP.format(kind="plain", more='resistor = "470 ohm 1/4 W"'))
    lamp = made.electrics.lamps["bow"]
    (spot,) = made.hot_spots
    watts = lamp.nominal**2 * 470.0
    air = made.places["hull"].hottest if "sealed" in hull else 35.0
    assert (spot.kind, spot.name, spot.place, spot.material, spot.stuck) == (
        "resistor",
        "bow",
        "hull",
        material,
        False,
    )
    assert spot.air == near(air)
    assert spot.celsius == near(spot.air + 0.5 * 85.0 * watts / 0.25)
    assert spot.stands == stands
    assert made.spots == ({} if material is None else {"hull": (material, stands)})


def test_where_no_wall_takes_a_spot_of_heat() -> None:
    lamp = LAMP.format(kind="plain", more='resistor = "470 ohm 1/4 W"')
    assert survey('access = "open"\nmaterial = "brass"', lamp).hot_spots == ()
    assert survey('access = "open"\nmaterial = "brass"', lamp).spots == {}
    assert survey('access = "open"\nmaterial = "styrene"', lamp + "held_off = true\n").hot_spots == ()
    # what is little warmer than its air is none: 2 K, which 11.8 mW in a resistor of 1/4 W are
    for ohms, found in (("8.2 kohm", 1), ("9.1 kohm", 0)):
        made = survey('access = "open"', LAMP.format(kind="plain", more=f'resistor = "{ohms} 1/4 W"'))
        lit = made.electrics.lamps["bow"].resistor_nominal
        assert (lit > 2.0 / (0.5 * 85.0) * 0.25) is bool(found)
        assert len(made.hot_spots) == found


def test_a_flasher_warms_the_wall_by_its_share_and_stuck_by_all() -> None:
    made = survey(
        'access = "sealed"\nmaterial = "styrene"\nsurface = "120 cm2"',
        LAMP.format(kind="plain", more='resistor = "470 ohm 1/4 W"'),
        circuit='behaviour = "flash"\nrate = "60 /min"\non_share = "25 %"',
    )
    usual, stuck = made.hot_spots
    lit = 0.5 * 85.0 * made.electrics.lamps["bow"].resistor_nominal / 0.25
    place = made.places["hull"]
    assert (usual.stuck, stuck.stuck) == (False, True)
    assert (usual.air, stuck.air) == (place.hottest, place.steady)
    assert usual.celsius == near(usual.air + 0.25 * lit)
    assert stuck.celsius == near(stuck.air + lit)


def test_the_glass_of_a_filament_by_its_share_of_the_current() -> None:
    """Its watts go with its current to the power of 1 + 1/0.55 (makers' rerating); the glass is told at its rated volts."""
    made = survey(
        'access = "open"\nmaterial = "styrene"',
        '[[lamp]]\nname = "bow"\ncircuit = "lights"\nkind = "wheat-12v"\nplace = "hull"\n',
    )
    lamp = made.electrics.lamps["bow"]
    die = lamp.part.dice[0]
    assert die.glass is not None
    (spot,) = made.hot_spots
    assert (spot.kind, spot.name) == ("lamp", "bow")
    watts = lamp.nominal * lamp.string_volts / (12.0 * die.rated)
    assert spot.celsius == pytest.approx(35.0 + (die.glass - 25.0) * watts, rel=1e-6)
    assert watts < 0.99
    # one that the file describes says nothing of its glass
    assert survey('access = "open"', LAMP.format(kind="bulb", more="")).hot_spots == ()


def test_what_gives_off_nothing_is_not_among_what_warms_a_place() -> None:
    """The largest first, of alike ones the first of the file; and what the file says is in it besides."""
    build = survey('access = "sealed"\nheat = "0.25 W"', LAMP.format(kind="plain", more="")).build
    rows = [
        ("hull", "horn", 0.2),
        ("hull", "dark", 0.0),
        ("base", "bell", 0.1),
        ("hull", "bow", 0.3),
        ("hull", "stern", 0.2),
    ]
    assert _by_place(build, rows) == {
        "hull": (("bow", 0.3), ("what else is in it", 0.25), ("horn", 0.2), ("stern", 0.2)),
        "base": (("bell", 0.1),),
    }
    assert _by_place(build, rows[1:2]) == {"hull": (("what else is in it", 0.25),)}


# -- motors


def motor(says: str, hull: str, main: str = ADAPTOR) -> Any:
    (found,) = survey(hull, LOAD.format(kind="motor", says=says), main).motors
    return found


OPEN, CLOSED = (
    'access = "open"\nmaterial = "styrene"',
    'access = "cover"\nmaterial = "styrene"\nsurface = "60 cm2"',
)


def test_the_case_of_a_motor_in_the_open_running_and_held_fast() -> None:
    """20 mA through 5 ohm: 11.9 V. Held fast it is a resistor: 12 times 50 mA of what 11.9 V drive."""
    found = motor('typical = "20 mA"\nmost = "30 mA"\nstarting = "90 mA"\ncase = "14 cm2"', OPEN)
    assert (found.name, found.place, found.material, found.measured, found.said) == (
        "screw",
        "hull",
        "styrene",
        True,
        True,
    )
    watts = 0.03 * 11.9
    assert found.running == Warm(
        near(0.03),
        near(watts),
        near(35.0),
        near(35.0 + watts / (12.0 * 14e-4)),
        near(70.0),
        near(watts / (12.0 * 35.0)),
    )
    held = 0.09 * 11.9
    assert found.held == Warm(
        near(0.09),
        near(held),
        near(35.0),
        near(35.0 + held / (12.0 * 14e-4)),
        near(70.0),
        near(held / (12.0 * 35.0)),
    )


def test_the_case_of_a_motor_that_nobody_measured() -> None:
    """The smallest usual one has 13 cm2; one built for more has as much as lets it get 60 K warm (IEC 60034-1), in whole cm2."""
    small = motor('typical = "20 mA"', OPEN)
    assert (small.measured, small.said) == (False, False)
    assert small.running.celsius == near(35.0 + 0.02 * 11.9 / (12.0 * 13e-4))
    # five times 20 mA at the start, where nothing is said
    assert (small.held.current, small.held.watts) == near((0.1, 0.1 * 11.9))
    large = motor('typical = "200 mA"', OPEN)
    watts = 0.2 * 11.0
    assert 30e-4 < watts / (12.0 * 60.0) < 31e-4
    assert large.case == near(31e-4)
    assert large.running.celsius == near(35.0 + watts / (12.0 * 31e-4))
    # 1 A held fast: 11 W, for which no motor of a model is large enough, 130 cm2 at the most
    assert large.held.watts == near(11.0)
    assert large.held.least is None
    assert large.running.least == near(watts / (12.0 * 35.0))


def test_the_air_round_a_motor_has_its_usual_heat_in_it_already() -> None:
    found = motor('typical = "20 mA"\nmost = "30 mA"\nstarting = "90 mA"\ncase = "14 cm2"', CLOSED)
    usual = 0.02 * 11.9
    air = 35.0 + (usual + 0.02**2 * 2.5) / (3.5 * 0.006)
    for warm, amps in ((found.running, 0.03), (found.held, 0.09)):
        watts = amps * 11.9
        inside = air + (watts - usual) / (3.5 * 0.006)
        assert warm.celsius == near(inside + watts / (12.0 * 14e-4))
        least = watts / (12.0 * (70.0 - inside)) if inside < 70.0 else None
        assert warm.least == (None if least is None or least > 130e-4 else near(least))
    # held off its walls it is judged while it is held fast: by its air, and by what it withstands itself
    off = motor(
        'typical = "20 mA"\nmost = "30 mA"\nstarting = "90 mA"\ncase = "14 cm2"\nheld_off = true', CLOSED
    )
    assert off.running is None
    held = 0.09 * 11.9
    inside = air + (held - usual) / (3.5 * 0.006)
    assert off.held == Warm(
        near(0.09), near(held), near(inside), near(inside + held / (12.0 * 14e-4)), near(70.0), None
    )
    open_off = motor('typical = "20 mA"\nstarting = "90 mA"\nheld_off = true', OPEN)
    assert (open_off.running, open_off.touches) == (None, False)
    assert open_off.held.celsius == near(35.0 + held / (12.0 * 13e-4))


@pytest.mark.parametrize(
    ("main", "amps", "watts"),
    [
        # a limit of 60 mA leaves it two thirds of the volts
        ('current_limit = "60 mA"', 0.06, 0.06 * 0.06 * 11.9 / 0.09),
        # twice its rating at the most
        ('rated = "40 mA"', 0.08, 0.08 * 0.08 * 11.9 / 0.09),
        ('rated = "50 mA"', 0.09, 0.09 * 11.9),
        # 2.1 times 40 mA are 84: a time-lag fuse in glass opens within two minutes at 90 mA, a quick one within half an hour
        ('rated = "1 A"\nfuse = "40 mA slow glass"', None, None),
        ('rated = "1 A"\nfuse = "40 mA"', 0.09, 0.09 * 11.9),
        ('rated = "1 A"\nfuse = "50 mA slow glass"', 0.09, 0.09 * 11.9),
    ],
)
def test_what_ends_or_limits_a_motor_that_is_held_fast(
    main: str, amps: float | None, watts: float | None
) -> None:
    found = motor('typical = "20 mA"\nstarting = "90 mA"\ncase = "14 cm2"', OPEN, ADAPTOR + main)
    if amps is None:
        assert found.held is None
    else:
        assert (found.held.current, found.held.watts) == near((amps, watts))


def test_a_steady_output_leaves_a_motor_no_more_than_its_own() -> None:
    """Of 90 mA that it would take held fast 50, and so five ninths of the volts."""
    says = LOAD.format(kind="motor", says='typical = "20 mA"\nstarting = "90 mA"\ncase = "14 cm2"')
    for steady, amps in (("50 mA", 0.05), ("95 mA", 0.09)):
        made = survey(OPEN, says, ADAPTOR, f'output = {{ steady = "{steady}" }}')
        (found,) = made.motors
        volts = made.electrics.loads["screw"].volts
        assert found.held is not None
        assert (found.held.current, found.held.watts) == near((amps, amps * amps * volts / 0.09))


def test_what_else_the_fuse_carries_opens_it_sooner() -> None:
    """90 mA held fast and 20 mA of a sounder: 2.2 times 50 mA."""
    says = LOAD.format(kind="motor", says='typical = "20 mA"\nstarting = "90 mA"\ncase = "14 cm2"')
    horn = LOAD.format(kind="sound", says='typical = "20 mA"').replace('"screw"', '"horn"')
    main = ADAPTOR + 'rated = "1 A"\nfuse = "50 mA slow glass"'
    (alone,) = survey(OPEN, says, main).motors
    (both,) = survey(OPEN, says + horn, main).motors
    assert alone.held is not None
    assert both.held is None


def test_a_motor_that_takes_nothing_and_one_in_air_as_hot_as_its_walls_withstand() -> None:
    assert motor('typical = "0 mA"', OPEN).held is None
    text = HEAD.format(hull=OPEN, main=ADAPTOR, circuit="").replace("5..35 degC", "5..70 degC")
    (found,) = Survey(postcheck.loads(text + LOAD.format(kind="motor", says='typical = "20 mA"'))).motors
    # 60 degC and 10 K for a spot: no case is large enough
    assert (found.running.withstands, found.running.least, found.held.least) == (70.0, None, None)


@pytest.mark.parametrize(
    ("says", "hull"),
    [
        ('typical = "20 mA"', 'access = "open"\nmaterial = "brass"'),
        ('typical = "20 mA"', 'access = "cover"\nmaterial = "brass"\nsurface = "60 cm2"'),
    ],
)
def test_a_motor_in_metal_is_not_asked_about(says: str, hull: str) -> None:
    assert survey(hull, LOAD.format(kind="motor", says=says)).motors == ()
    unknown = survey('access = "cover"\nsurface = "60 cm2"', LOAD.format(kind="motor", says=says)).motors
    assert [(found.material, found.touches) for found in unknown] == [(None, True)]
    # in the open, with nothing named that it touches, it can still burn itself
    (alone,) = survey('access = "open"', LOAD.format(kind="motor", says=says)).motors
    assert (alone.material, alone.touches, alone.running) == (None, False, None)
    assert alone.held is not None
    assert motor('typical = "20 mA"\nnever_stalls = true', OPEN).held is None


@pytest.mark.parametrize(
    ("kind", "most", "stays"),
    [("pixels", 1.0, True), ("inverter", 1.0, True), ("other", 1.0, True), ("sound", 1.0, False), ("motor", 1.0, False), ("pixels", 0.1, False)],
)  # fmt: skip
def test_what_can_stay_at_its_most_warms_its_place_by_that(kind: str, most: float, stays: bool) -> None:
    of = survey(
        'access = "cover"\nmaterial = "abs"\nsurface = "1000 cm2"',
        LOAD.format(kind=kind, says=f'typical = "0.1 A"\nmost = "{most} A"'),
    )
    place = of.places["hull"]

    def watts(amps: float) -> float:
        """In the load, behind 5 ohm, and in half of these: the runs lie half at each of their ends."""
        return (12.0 - 5.0 * amps) * amps + 2.5 * amps * amps

    assert place.heat == pytest.approx(watts(0.1))
    assert place.steady == (pytest.approx(35.0 + watts(1.0) / (3.5 * 0.1)) if stays else None)


def test_at_their_most_and_on_for_good_go_together() -> None:
    flashed = 'behaviour = "flash"\nrate = "30 /min"\non_share = "50 %"'
    of = survey(
        'access = "cover"\nmaterial = "abs"\nsurface = "1000 cm2"',
        LOAD.format(kind="pixels", says='typical = "0.1 A"\nmost = "1 A"'), circuit=flashed,
    )  # fmt: skip
    assert dict(of.places["hull"].steady_parts)["screw"] == pytest.approx((12.0 - 5.0) * 1.0)
    assert dict(of.places["hull"].parts)["screw"] == pytest.approx((12.0 - 0.5) * 0.1 * 0.5)
