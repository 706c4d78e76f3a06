"""Filament lamps: I = I0 (V / V0)**0.55, a tenth of their ohms while they are cold, light by the 3.4th power of the volts (makers' rerating)."""

from __future__ import annotations

from typing import Any

import pytest
from scipy.optimize import brentq, root

import postcheck
from postcheck.limits import Limits
from postcheck.physics.network import Filament, Resistance
from postcheck.planner.strings import wanted_current
from postcheck.survey import Survey
from postcheck.survey.network.dice import destroyed, is_destroyed, reverse_stood, worst_reverse
from postcheck.survey.network.electrics import _Gauge
from postcheck.survey.network.elements import REFERENCE, StringMaker
from postcheck.survey.network.resistor_choice import (
    body_for,
    most_load,
    ohms_for,
    self_heat_volts,
    steps,
    usual_current,
    volts_at,
)

WARM, COLD = 1.0 + 15.0 * 0.00393, 1.0 - 15.0 * 0.00393
LIGHT = 3.4 / 0.55

HEAD = """
format = 1
[build]
name = "Tender"
air = "5..35 degC"
[lamp_kind.bulb]
kind = "filament"
volts = "{bulb} V"
rated = "50 mA"
[lamp_kind.plain]
forward = "1.9/2.0/2.15 V"
at = "20 mA"
low_forward = "1.9 V"
low_at = "5 mA"
per_kelvin = "-2 mV"
rated = "20 mA"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
tolerance = "5 %"
resistance = "0.5 ohm"
rated = "1 A"
[place.base]
access = "cover"
[place.hull]
access = "cover"
[circuit.lights]
supply = "main"
[circuit.flash]
supply = "main"
behaviour = "flash"
rate = "60 /min"
on_share = "20 %"
[[run]]
name = "feed"
line = "lights"
ends = ["base", "hull"]
ohms = "2 ohm"
[[run]]
name = "other"
line = "flash"
ends = ["base", "hull"]
ohms = "4 ohm"
[[run]]
name = "back"
line = "main-"
ends = ["base", "hull"]
ohms = "3 ohm"
"""
ONE = '[[lamp]]\nname = "one"\ncircuit = "lights"\nkind = "bulb"\nplace = "hull"\n{more}\n'


def survey(text: str, bulb: float = 12.0) -> Survey:
    return Survey(postcheck.loads(HEAD.format(bulb=bulb) + text))


def near(value: Any) -> Any:
    return pytest.approx(value, rel=1e-8)


def glows(volts: float, ohms: float, count: int = 1, rated: float = 12.0) -> float:
    """A of some filaments in series behind a resistance."""

    def off(amps: float) -> float:
        return amps - 0.05 * (max(volts - ohms * amps, 0.0) / (count * rated)) ** 0.55

    return float(brentq(off, 0.0, 1.0, xtol=1e-16, rtol=1e-14))


def test_a_bulb_behind_its_wires() -> None:
    made = survey(ONE.format(more="")).electrics
    lamp = made.lamps["one"]
    usual = glows(12.0, 5.5)
    assert lamp.nominal == near(usual)
    assert lamp.highest == near(glows(12.6, 0.5 + 5.0 * COLD))
    assert lamp.lowest == near(glows(11.4, 0.5 + 5.0 * WARM))
    assert lamp.string_volts == near(12.0 - 5.5 * usual)
    assert lamp.light_lost == near(1.0 - (usual / glows(lamp.joint_volts + lamp.loss, 0.0)) ** LIGHT)
    # 24 ohm while it is cold
    cold = 12.0 / (24.0 + 5.5)
    assert made.supplies["main"].starting == near(cold)
    assert made.circuits["lights"].starting == near(cold)
    assert lamp.inside_heat == 0.0


def test_two_in_series_behind_a_resistor_warm_each_its_own_place() -> None:
    text = ONE.format(
        more='series = 2\nplaces = ["hull", "base"]\nlinks = ["10 mm of enamel-0.10"]\nresistor = "40 ohm 1 W 5 % at base"'
    )
    made = survey(text.replace('place = "hull"\nseries', 'place = "hull"\nseries'), 5.0)
    lamp = made.electrics.lamps["one"]
    wire = next(each.data for each in made.wiring.fine_wires if each.leg == "link")
    link = wire.ohms(20.0)
    usual = glows(12.0, 2.5 + 40.0 + link, 2, 5.0)
    assert lamp.nominal == near(usual)
    each = (12.0 - usual * (2.5 + 40.0 + link)) / 2.0
    hull, base = (dict(made.places[name].parts) for name in ("hull", "base"))
    assert (hull["one"], base["one"]) == near((usual * each,) * 2)
    assert base["the resistor of one"] == near(usual**2 * 40.0)
    assert "the resistor of one" not in hull
    assert (hull["the lead of one"], base["the lead of one"]) == near((usual**2 * link / 2.0,) * 2)
    # cold: two of 10 ohm
    assert made.electrics.supplies["main"].starting == near(12.0 / (20.0 + 2.5 + 40.0 + link))


@pytest.mark.parametrize(("circuit", "share"), [("lights", 1.0), ("flash", 0.2)])
def test_dice_in_two_places_warm_each_its_own_for_their_share_of_the_time(circuit: str, share: float) -> None:
    chain = ONE.format(
        more='series = 3\nplaces = ["hull", "base", "hull"]\nlinks = ["10 mm of enamel-0.10", "10 mm of enamel-0.10"]\nresistor = "330 ohm 1 W at base"'
    )
    text = chain.replace('place = "hull"\nseries', 'place = "hull"\nseries').replace(
        '"lights"', f'"{circuit}"'
    )
    for kind in ("plain", "bulb"):
        made = survey(text.replace('"bulb"', f'"{kind}"'), 3.0)
        lamp = made.electrics.lamps["one"]
        each = lamp.nominal * lamp.string_volts / 3.0 * share
        hull, base = (dict(made.places[name].parts) for name in ("hull", "base"))
        assert (hull["one"], base["one"]) == near((2.0 * each, each))


def test_the_light_of_a_bulb_steps_by_more_than_its_current() -> None:
    second = ONE.format(more="").replace('"one"', '"two"').replace('"lights"', '"flash"')
    made = survey(ONE.format(more="") + second)

    def off(amps: Any) -> list[float]:
        lost = 3.5 * sum(amps)
        return [
            amps[0] - 0.05 * ((12.0 - lost - 2.0 * amps[0]) / 12.0) ** 0.55,
            amps[1] - 0.05 * ((12.0 - lost - 4.0 * amps[1]) / 12.0) ** 0.55,
        ]

    lit = float(root(off, [0.05, 0.05], tol=1e-14).x[0])
    (step,) = made.electrics.steps
    assert (step.lamp, step.flasher, step.kind) == ("one", "flash", "lamp")
    assert step.share == near((lit / glows(12.0, 5.5)) ** LIGHT - 1.0)


# twice its volts destroy a filament (limit lamp.filament.destroyed), five times its rating, or its pulse, a die
def test_from_what_current_a_lamp_is_destroyed() -> None:
    limits = Limits()
    bulb = survey(ONE.format(more="")).parts.lamps[0].dice
    at = 2.0**0.55 * 0.05
    assert [destroyed(bulb, amps, limits) for amps in (0.999 * at, at, 1.001 * at)] == [False, False, True]
    led = survey(ONE.format(more='resistor = "470 ohm"').replace('"bulb"', '"plain"')).parts.lamps[0].dice
    assert [destroyed(led, amps, limits) for amps in (0.0999, 0.1, 0.1001)] == [False, False, True]
    strong = (led[0]._replace(pulse=0.15),)
    assert [destroyed(strong, amps, limits) for amps in (0.149, 0.151)] == [False, True]
    # the most delicate of several
    assert destroyed((*strong, *led), 0.12, limits)
    weak = (bulb[0]._replace(rated=0.02), *bulb)
    assert destroyed(weak, 0.03, limits)
    assert not destroyed(weak, 0.029, limits)
    figures = survey(ONE.format(more=""), 5.0).electrics.lamps["one"]
    assert is_destroyed(figures, limits)
    assert not is_destroyed(survey(ONE.format(more="")).electrics.lamps["one"], limits)


def test_a_bulb_behind_a_trimmer_alone() -> None:
    """Turned to nothing, as it counts where nobody says its setting, and to all of its 100 ohm."""
    lamp = survey(ONE.format(more='resistor = "trimmer 100 ohm 1 W"')).electrics.lamps["one"]
    assert lamp.part.resistor is None
    assert lamp.nominal == near(glows(12.0, 5.5))
    assert lamp.turned == near((glows(12.0, 5.5), glows(12.0, 105.5)))


def test_how_far_a_bulb_may_come_from_its_rating() -> None:
    bulb = survey(ONE.format(more="")).parts.lamps[0].dice[0]._replace(rated_spread=0.1)
    make = StringMaker((0, 1), (bulb, bulb), ("hull",), None, ())
    for dice, amps in ((0, 0.05), (1, 0.055), (-1, 0.045)):
        made = make(REFERENCE._replace(dice=dice), {})
        assert isinstance(made, Filament)
        assert (made.volts, made.amps, made.ohms) == near((24.0, amps, 0.0))
    cold = StringMaker((0, 1), (bulb, bulb), ("hull",), None, (), starting=True)(REFERENCE, {})
    assert isinstance(cold, Resistance)
    assert cold.ohms == near(48.0)


def test_what_stands_in_reverse() -> None:
    limits = Limits()
    bulb = survey(ONE.format(more="")).parts.lamps[0].dice
    led = survey(ONE.format(more='resistor = "470 ohm"').replace('"bulb"', '"plain"')).parts.lamps[0].dice
    assert [worst_reverse(led, volts) for volts in (7.5, 0.0, -3.0)] == [7.5, 0.0, 0.0]
    assert [worst_reverse(bulb, volts) for volts in (7.5, 0.0, -3.0)] == [0.0, 0.0, 0.0]
    # 5 V where no data sheet gives any; else the least of those given
    assert reverse_stood(led, limits) == (5.0, False)
    assert reverse_stood((led[0]._replace(reverse=8.0), led[0]._replace(reverse=6.0), *led), limits) == (
        6.0,
        True,
    )


def test_the_resistor_that_a_string_is_given() -> None:
    limits = Limits()
    (die,) = survey(ONE.format(more='resistor = "470 ohm"').replace('"bulb"', '"plain"')).parts.lamps[0].dice
    # through the points of its data sheet
    assert (volts_at(die, 0.02), volts_at(die, 0.005)) == near((2.0, 1.9))
    assert volts_at(die, 0.0) == volts_at(die, -0.01) == pytest.approx(0.0, abs=1e-12)
    # four fifths of its rating; of the weakest
    assert usual_current((die, die._replace(rated=0.03)), 35.0, Limits()) == near(0.016)
    derated = die._replace(derate_above=25.0, derate_per_kelvin=0.0004)
    assert usual_current((die, derated), 35.0, Limits()) == near(0.8 * (0.02 - 0.004))
    assert ohms_for((die, die), 12.0, 0.02) == near(8.0 / 0.02)
    # a tenth of the volts at least has to be left for it: 4.0 of 4.4445 are
    assert ohms_for((die, die), 4.45, 0.02) == near(0.45 / 0.02)
    assert ohms_for((die, die), 4.44, 0.02) is None
    assert ohms_for((), 5.0, 0.02) == near(250.0)
    assert [ohms_for((), volts, amps) for volts, amps in ((0.0, 0.02), (5.0, 0.0), (-1.0, 0.02))] == [
        None
    ] * 3
    # 500 K/W at -2 mV/K: a volt a watt; 15 mA of 6 V over three dice are 30 mW each
    assert self_heat_volts((die,) * 3, 0.015, 6.0) == near(-3 * 0.030)
    assert self_heat_volts((die,), -0.015, 6.0) == self_heat_volts((die,), 0.015, -6.0) == 0.0
    # E12: 10 12 15 18 22 27 33 39 47 56 68 82 (IEC 60063)
    assert list(steps(330.0, "E12")) == near([330.0, 390.0, 470.0])
    assert list(steps(331.0, "E12", 2)) == near([390.0, 470.0])
    # a quarter less than its power, or what is judged too hot where that is less
    assert most_load(limits) == 0.75
    for watts, body in ((0.0930, 0.125), (0.0937, 0.125), (0.0939, 0.25), (0.1875, 0.25), (0.19, 0.5)):
        found = body_for(watts, limits)
        assert found is not None
        assert found[0] == body, watts
    assert body_for(1e3, limits) is None


@pytest.mark.parametrize("resistor", ["", "40"])
def test_bulbs_make_their_places_warmest_by_their_volts(resistor: str) -> None:
    """Two of 5 V in series, one in each of two bodies of 70 and 40 cm2; the resistor, if any, with the first of them."""
    ohms = float(resistor or 0.0)
    more = 'series = 2\nplaces = ["hull", "bow"]\nlinks = ["10 mm of enamel-0.10"]\n' + (
        f'resistor = "{resistor} ohm 1 W 5 %"' if resistor else ""
    )
    text = HEAD.format(bulb=5.0).replace(
        '[place.hull]\naccess = "cover"', '[place.hull]\naccess = "sealed"\nsurface = "70 cm2"'
    )
    text += '[place.bow]\naccess = "sealed"\nsurface = "40 cm2"\n'
    text += "".join(
        f'[[run]]\nname = "{name} on"\nline = "{line}"\nends = ["hull", "bow"]\nohms = "0 ohm"\n'
        for name, line in (("feed", "lights"), ("back", "main-"))
    )
    made = Survey(postcheck.loads(text + ONE.format(more=more)))
    gauge = _Gauge(made.wiring, made.limits)
    gauge.solved()
    wire = next(each.data for each in made.wiring.fine_wires if each.leg == "link")
    link, worst = wire.ohms(20.0), wire.ohms(20.0, most=True)
    amps = glows(12.6, 0.5 + (5.0 + link) * COLD + 0.95 * ohms, 2, 5.0)
    volts = 12.6 - amps * (0.5 + (5.0 + link) * COLD + 0.95 * ohms)
    leads = amps**2 * worst * WARM / 2.0
    # bulb and resistor together have most with the most ohms
    less = glows(12.6, 0.5 + (5.0 + link) * COLD + 1.05 * ohms, 2, 5.0)
    left = 12.6 - less * (0.5 + (5.0 + link) * COLD + 1.05 * ohms)
    both = max(
        amps * volts / 2.0 + amps**2 * 0.95 * ohms,
        less * left / 2.0 + less**2 * 1.05 * ohms,
    )
    assert (both > amps * volts / 2.0 + amps**2 * 0.95 * ohms) is bool(resistor)
    # half of each run lies in the hull
    hull, bow = both + leads + amps**2 * 2.5 * WARM, amps * volts / 2.0 + leads
    found = gauge.states.hottest
    assert found["bow"] == pytest.approx(bow / (3.5 * 0.004) + 2e-4, rel=1e-5)
    assert found["hull"] == pytest.approx(hull / (3.5 * 0.007) + 2e-4, rel=1e-5)


def test_what_advice_leaves_free_is_a_limit_like_others() -> None:
    """Advice gives four fifths of a rating and a plan three; a resistor to be bought has a quarter free, but where the check asks for more."""
    (die,) = survey(ONE.format(more='resistor = "470 ohm"').replace('"bulb"', '"plain"')).parts.lamps[0].dice
    assert (Limits().value("lamp.usual"), Limits().value("lamp.usual.planned")) == (0.8, 0.6)
    assert wanted_current((die,), None, 35.0, Limits()) == near(0.6 * 0.02)
    assert wanted_current((die,), 0.015, 35.0, Limits()) == 0.015
    own = Limits(
        {
            "lamp.usual": (0.5, "long life"),
            "lamp.usual.planned": (0.4, "cool"),
            "resistor.power.bought": (0.5, "cool"),
        }
    )
    assert usual_current((die,), 35.0, own) == near(0.5 * 0.02)
    assert wanted_current((die,), None, 35.0, own) == near(0.4 * 0.02)
    assert most_load(own) == 0.5
    assert most_load(Limits({"resistor.power.caution": (0.6, "cool")})) == 0.6


def test_a_bulb_is_cold_at_first_beside_an_led_too() -> None:
    """12 V from one node through 5.5 ohm: the bulb has 24 ohm there, the LED some 18 mA behind 470."""
    led = ONE.format(more='resistor = "470 ohm 1 W"').replace('"bulb"', '"plain"').replace('"one"', '"led"')
    for text in (ONE.format(more="") + led, led + ONE.format(more="")):
        made = survey(text).electrics
        start = made.supplies["main"].starting

        def off(volts: float) -> float:
            return (12.0 - volts) / 5.5 - volts / 24.0 - (volts - 1.97) / 470.0

        assert start == pytest.approx((12.0 - brentq(off, 0.0, 12.0)) / 5.5, rel=1e-3)
        assert start > 4.0 * made.supplies["main"].nominal
