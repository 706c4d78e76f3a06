"""Lamps and the air round them at their warmest, and what a die's own heat does: SciPy's root finder and sums by hand.

The room's air is 5 to 35 degC; at these a wire has 15 x 0.393 % less and more than at 20 degC (IEC 60028).
"""

from __future__ import annotations

import math
from typing import Any

import pytest
from scipy.optimize import root

import postcheck
from postcheck.physics.network import String
from postcheck.survey import Survey
from postcheck.survey.network.dice import curve_of, rated_at
from postcheck.survey.network.electrics import _Gauge
from postcheck.survey.network.elements import REFERENCE, StringMaker
from postcheck.survey.network.figures import Electrics
from tests.survey.plain_led import alone, die

WARM, COLD = 1.0 + 15.0 * 0.00393, 1.0 - 15.0 * 0.00393
WALLS = 3.5  # W/(m2 K), the limit heat.per-area
KELVIN_PER_WATT = 500.0  # of a small part of which the file says nothing

HEAD = """
format = 1
[build]
name = "Tender"
air = "5..35 degC"
[usual]
lead = "enamel-0.10"
[lamp_kind.plain]
forward = "1.9/2.0/2.15 V"
at = "20 mA"
low_forward = "1.9 V"
low_at = "5 mA"
per_kelvin = "{per_kelvin} mV"
rated = "20 mA"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
tolerance = "5 %"
resistance = "0.5 ohm"
rated = "1 A"
[place.base]
{base}
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
OPEN, SMALL, LARGE = (
    'access = "open"',
    'access = "sealed"\nsurface = "40 cm2"',
    'access = "sealed"\nsurface = "70 cm2"\nheat = "0.2 W"',
)
ONE = '[[lamp]]\nname = "one"\ncircuit = "lights"\nkind = "plain"\nplace = "hull"\nseries = 2\nresistor = "330 ohm 1/4 W 5 %{at}"\n'


def survey(
    text: str, *, per_kelvin: float = 0.0, base: str = OPEN, hull: str = OPEN, circuit: str = ""
) -> Survey:
    head = HEAD.format(per_kelvin=per_kelvin, base=base, hull=hull, circuit=circuit)
    return Survey(postcheck.loads(head + text))


def hottest(made: Survey) -> dict[str, float]:
    """K by which the air of each closed place rises at most."""
    gauge = _Gauge(made.wiring, made.limits)
    gauge.solved()
    return dict(gauge.states.hottest)


def near(value: Any) -> Any:
    return pytest.approx(value, rel=1e-8)


@pytest.mark.parametrize(
    ("circuit", "share"), [("", 1.0), ('behaviour = "flash"\nrate = "60 /min"\non_share = "30 %"', 0.3)]
)
def test_the_warmest_air_has_the_most_current_in_the_worst_wires(circuit: str, share: float) -> None:
    made = survey(ONE.format(at="") + 'lead = "1000 mm to hull"\n', hull=LARGE, circuit=circuit)
    wire = next(each.data.wire for each in made.wiring.fine_wires)
    assert wire is not None
    assert wire.ohms_per_metre == pytest.approx(1 / 58 / (math.pi * 0.05**2), rel=1e-4)
    assert wire.ohms_per_metre_most > 1.05 * wire.ohms_per_metre
    amps = alone(12.6, 0.5 + 5.0 * COLD + 330.0 * 0.95 + 2.0 * wire.ohms_per_metre * COLD, shift=-0.1)
    string = amps * 2 * die(amps, -0.1) + amps**2 * 330.0 * 0.95
    leads = amps**2 * 2.0 * wire.ohms_per_metre_most * WARM
    runs = amps**2 * 5.0 / 2.0 * WARM
    watts = (string + leads + runs) * share + 0.2
    assert hottest(made) == {"hull": near(watts / (WALLS * 0.007) + 2e-4)}


def test_wires_side_by_side_warm_as_the_one_that_they_come_to() -> None:
    """Two of 4 ohm each have a half of the current and of the ohms of one of 2 ohm."""
    twin = HEAD.replace('ohms = "2 ohm"', 'ohms = "4 ohm"\nconductors = 2')
    found = []
    for head in (HEAD, twin):
        text = head.format(per_kelvin=0.0, base=OPEN, hull=SMALL, circuit="")
        found.append(hottest(Survey(postcheck.loads(text + ONE.format(at="")))))
    assert found[1] == {"hull": near(found[0]["hull"])}


def test_a_resistor_elsewhere_is_warmest_by_its_own_ohms_and_the_dice_by_theirs() -> None:
    made = survey(ONE.format(at=" at base"), base=SMALL, hull=LARGE)
    path = 0.5 + 5.0 * COLD
    corners = {
        "most": (alone(12.6, path + 330.0 * 0.95, shift=-0.1), 330.0 * 0.95, -0.1),
        "dice": (alone(12.6, path + 330.0 * 0.95, shift=0.15), 330.0 * 0.95, 0.15),
        "ohms": (alone(12.6, path + 330.0 * 1.05, shift=-0.1), 330.0 * 1.05, -0.1),
    }
    dice = max(amps * 2 * die(amps, shift) for amps, _, shift in corners.values())
    resistor = max(amps**2 * ohms for amps, ohms, _ in corners.values())
    assert dice == near(corners["dice"][0] * 2 * die(corners["dice"][0], 0.15))
    assert resistor == near(corners["most"][0] ** 2 * 330.0 * 0.95)
    runs = corners["most"][0] ** 2 * 5.0 / 2.0 * WARM
    assert hottest(made) == {
        "base": near((resistor + runs) / (WALLS * 0.004) + 2e-4),
        "hull": near((dice + runs + 0.2) / (WALLS * 0.007) + 2e-4),
    }


def test_strings_behind_one_resistor_warm_by_what_all_take_at_the_most() -> None:
    text = (
        ONE.format(at="")
        .replace("330", "100")
        .replace("series = 2", "series = 2\nparallel = 3\none_resistor = true")
    )
    made = survey(text, hull=SMALL)
    amps = alone(12.6, 3.0 * (0.5 + 5.0 * COLD + 95.0), shift=-0.1)
    watts = 3 * amps * 2 * die(amps, -0.1) + 9.0 * amps**2 * (95.0 + 2.5 * WARM)
    assert hottest(made) == {"hull": near(watts / (WALLS * 0.004) + 2e-4)}


def test_what_is_shown_of_spans_is_not_where_strings_behind_one_resistor_warm_a_closed_place() -> None:
    """Together they dissipate; beside them a lamp of one string. In an open place nothing gets warm."""
    pair = (
        ONE.format(at="")
        .replace('"one"', '"pair"')
        .replace("series = 2", "series = 2\nparallel = 2\none_resistor = true")
    )
    for lamps, hull, proven in (
        (ONE.format(at="") + pair, SMALL, False),
        (ONE.format(at="") + pair, OPEN, True),
        (ONE.format(at=""), SMALL, True),
    ):
        assert survey(lamps, hull=hull).electrics.proven is proven


def test_each_of_two_lamps_is_at_its_own_most_and_the_wires_carry_both() -> None:
    """While one takes its most the other is at its least, in warm wires; no state has both, and the heat of none is more."""
    two = (
        ONE.format(at="").replace('"one"', '"two"').replace("330", "150").replace("series = 2", "series = 3")
    )
    made = survey(ONE.format(at="") + two, hull=SMALL)

    def off(amps: Any, ohms: tuple[float, float], shift: tuple[float, float]) -> list[float]:
        left = 12.6 - (0.5 + 5.0 * COLD) * (amps[0] + amps[1])
        return [
            left - ohms[0] * amps[0] - 2 * die(amps[0], shift[0]),
            left - ohms[1] * amps[1] - 3 * die(amps[1], shift[1]),
        ]

    most, least = -0.1, 0.15
    one = float(root(off, [0.02, 0.02], ((330.0 * 0.95, 150.0 * 1.05), (most, least)), tol=1e-14).x[0])
    other = float(root(off, [0.02, 0.02], ((330.0 * 1.05, 150.0 * 0.95), (least, most)), tol=1e-14).x[1])
    strings = one * 2 * die(one, most) + one**2 * 330.0 * 0.95
    strings += other * 3 * die(other, most) + other**2 * 150.0 * 0.95
    assert hottest(made) == {
        "hull": near((strings + (one + other) ** 2 * 2.5 * WARM) / (WALLS * 0.004) + 2e-4)
    }


def warmed(air: float, per_kelvin: float) -> Any:
    """The law of a die that warms itself: V = cold V + k (air - 25 + 500 K/W x I V)."""

    def volts(amps: float, shift: float) -> float:
        cold = die(amps, shift) + per_kelvin * (air - 25.0)
        return cold / (1.0 - per_kelvin * KELVIN_PER_WATT * amps)

    return volts


def test_a_die_warms_itself_and_falls_by_its_coefficient() -> None:
    made = survey(ONE.format(at=""), per_kelvin=-3.0)
    lamp = made.electrics.lamps["one"]
    k = -0.003
    usual = alone(12.0, 335.5, shift=0.0, each=warmed(20.0, k))
    assert lamp.nominal == near(usual)
    assert lamp.string_volts == near(2 * warmed(20.0, k)(usual, 0.0))
    # most: settled in the warmest air; least: just switched on in the coldest
    assert lamp.highest == near(
        alone(12.6, 0.5 + 5.0 * COLD + 330.0 * 0.95, shift=-0.1, each=warmed(35.0, k))
    )
    assert lamp.lowest == near(alone(11.4, 0.5 + 5.0 * WARM + 330.0 * 1.05, shift=0.15 + k * (5.0 - 25.0)))
    up = (
        alone(12.6, 335.5, shift=0.0, each=warmed(20.0, k)),
        alone(12.0, 335.5, shift=-0.1, each=warmed(20.0, k)),
        alone(12.0, 335.5 - 16.5, shift=0.0, each=warmed(20.0, k)),
        alone(12.0, 335.5, shift=0.0, each=warmed(35.0, k)),
    )
    down = (
        alone(11.4, 335.5, shift=0.0, each=warmed(20.0, k)),
        alone(12.0, 335.5, shift=0.15, each=warmed(20.0, k)),
        alone(12.0, 335.5 + 16.5, shift=0.0, each=warmed(20.0, k)),
        alone(12.0, 335.5, shift=0.0, each=warmed(5.0, k)),
    )
    assert lamp.likely_highest == near(usual + math.hypot(*(amps - usual for amps in up)))
    assert lamp.likely_lowest == near(usual - math.hypot(*(amps - usual for amps in down)))


def test_a_place_that_nothing_warms_does_not_end_the_search() -> None:
    """Two dice and their resistor in 40 cm2, beside another body in which there is nothing."""
    made = survey(ONE.format(at="") + f"[place.spare]\n{SMALL}\n", per_kelvin=-3.0, hull=SMALL, base=OPEN)

    def off(unknown: Any) -> list[float]:
        amps, rise = unknown
        volts = warmed(20.0 + rise, -0.003)(amps, 0.0)
        watts = amps * 2 * volts + amps**2 * (330.0 + 2.5)
        return [12.0 - amps * 335.5 - 2 * volts, watts / (WALLS * 0.004) - rise]

    amps, rise = map(float, root(off, [0.025, 15.0], tol=1e-14).x)
    assert made.electrics.lamps["one"].nominal == near(amps)
    assert made.places["hull"].rise == near(rise)
    assert made.places["spare"].rise == 0.0
    assert hottest(made)["spare"] == pytest.approx(2e-4, rel=1e-3)
    assert hottest(made)["hull"] > 1.05 * rise


@pytest.mark.parametrize(("watts", "rise"), [("6.9", 6.9 / 0.014), ("7.1", 500.0), ("20", 500.0)])
def test_air_that_melts_everything_is_taken_as_so_hot_and_no_hotter(watts: str, rise: float) -> None:
    """Through 40 cm2 that pass 3.5 W/(m2 K) 7 W are 500 K; a lamp is judged in no more than that."""
    made = survey(
        '[[lamp]]\nname = "one"\ncircuit = "lights"\nkind = "plain"\nplace = "hull"\nresistor = "100 kohm 1 W"\n',
        hull=f'{SMALL}\nheat = "{watts} W"',
    )
    assert made.electrics.lamps["one"].hottest == pytest.approx(35.0 + rise, rel=1e-3)
    assert made.electrics.lamps["one"].hottest < 535.0 + 0.1


def test_the_rating_of_a_chain_is_that_of_its_die_in_the_warmest_place() -> None:
    chain = (
        '[[lamp]]\nname = "row"\ncircuit = "lights"\nkind = "smd-0603-white"\nplace = "hull"\nplaces = ["hull", "base"]\nseries = 2\n'
        'links = ["10 mm"]\nresistor = "330 ohm 1 W"\n'
    )
    hot = 'access = "sealed"\nsurface = "40 cm2"\nheat = "0.6 W"'
    for base, hull in ((hot, OPEN), (OPEN, hot)):
        made = survey(chain, base=base, hull=hull)
        row = made.electrics.lamps["row"]
        (closed,) = made.places.values()
        assert closed.hottest is not None
        assert closed.hottest > 75.0
        assert row.hottest == near(closed.hottest)
        assert row.rated == near(rated_at(row.part.dice[0], closed.hottest))
        assert row.rated_outside == row.part.dice[0].rated
        assert row.rated < 0.9 * row.rated_outside


# five times its rating, or what a data sheet allows in a pulse, destroys a die
def test_up_to_what_current_a_die_is_heated_by_itself() -> None:
    made = survey(ONE.format(at=""), per_kelvin=-3.0)
    own = made.parts.lamps[0].dice[0]
    assert own.pulse is None
    assert curve_of(own).most == near(0.1)
    assert curve_of(own._replace(pulse=0.06)).most == near(0.1)
    assert curve_of(own._replace(pulse=0.13)).most == near(0.13)
    # volts a kelvin times kelvins a watt: 1.5 V/W; a coefficient above zero must not turn the law round below 0.1 A
    assert curve_of(own).heat == near(1.5)
    assert curve_of(own._replace(volts_per_kelvin=0.004)).heat == near(-2.0)
    assert curve_of(own._replace(volts_per_kelvin=0.02)).heat == near(-5.0)


def test_a_string_is_heated_up_to_what_destroys_the_weakest_of_its_dice() -> None:
    own = survey(ONE.format(at=""), per_kelvin=-3.0).parts.lamps[0].dice[0]
    warm = REFERENCE._replace(junction=20.0)
    for dice in ((own, own._replace(rated=0.004)), (own._replace(rated=0.004), own)):
        string = StringMaker((0, 1), dice, ("hull",), None, ())(warm, {})
        assert isinstance(string, String)
        assert string.most == near(0.02)


def test_a_build_that_nothing_feeds_or_nothing_solves_has_no_figures() -> None:
    nothing = Electrics()
    assert (nothing.widest, nothing.work, nothing.proven) == (0.0, 0, True)
    some = survey(ONE.format(at="")).electrics
    assert some.work > 0
    assert some != nothing
    bare = postcheck.loads('format = 1\n[build]\nname = "Tender"\n[place.base]\naccess = "open"\n')
    assert Survey(bare).electrics == nothing
    joined = (
        '[supply.aux]\nkind = "adaptor"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\n'
        '[[join]]\nplace = "base"\nlines = ["main+", "aux+"]\n[[join]]\nplace = "base"\nlines = ["main-", "aux-"]\n'
    )
    stiff = survey(ONE.format(at="") + joined).build.text or ""
    made = Survey(postcheck.loads(stiff.replace('resistance = "0.5 ohm"\n', ""))).electrics
    assert made.failed
    assert set(made.conflict) == {"main", "aux"}
    assert (made.lamps, made.supplies, made.widest) == ({}, {}, 0.0)


FIVE = '[[lamp]]\nname = "five"\ncircuit = "lights"\nkind = "plain"\nplace = "hull"\nseries = 5\n'
DRIVEN = 'output = "20 mA constant, compliance 1.5 V"'
WIRES = 0.5 + 5.0


def test_a_constant_current_output_with_its_supply_low_is_a_resistance() -> None:
    """Below its compliance at 11.4 V: 1.5 V / 20 mA in series with wires and dice."""
    made = survey(FIVE, circuit=DRIVEN, base=SMALL)
    low = alone(11.4, WIRES + 75.0, dice=5)
    assert low < 0.95 * 0.02
    assert made.electrics.circuits["lights"].nominal == near(0.02)
    assert made.electrics.circuits["lights"].at_low == near(low)
    (row,) = (watts for called, watts in made.places["base"].parts if called == "the output of lights")
    assert row == near(0.02 * (12.0 - 0.02 * WIRES - 5 * die(0.02)))


@pytest.mark.parametrize(
    "supply",
    [
        'kind = "battery"\nplace = "base"\nvolts = "12 V"\ncut_off = "9 V"\nresistance = "0.5 ohm"\nrated = "1 A"',
        'kind = "adaptor"\nplace = "base"\nvolts = "12 V"\ntolerance = "5 %"\nresistance = "0.5 ohm"\nrated = "1 A"',
    ],
)
def test_what_a_battery_falls_to_as_it_empties_is_no_low_supply(supply: str) -> None:
    head = HEAD.format(per_kelvin=0.0, base=OPEN, hull=OPEN, circuit=DRIVEN)
    before = head[head.index('kind = "adaptor"') : head.index("[place.base]")]
    made = Survey(postcheck.loads(head.replace(before, supply + "\n") + FIVE))
    assert (made.electrics.circuits["lights"].at_low is None) is ("battery" in supply)


def test_a_converter_goes_low_by_its_own_volts() -> None:
    """It gives 12 V less 3 %, whatever the 24 V in front of it do; the wires alone lie between: 11.64 V."""
    head = HEAD.format(per_kelvin=0.0, base=OPEN, hull=OPEN, circuit=DRIVEN)
    text = (
        head.replace('volts = "12 V"', 'volts = "24 V"').replace('supply = "main"', 'supply = "down"') + FIVE
    )
    text = text.replace('line = "main-"', 'line = "down-"')
    down = '[supply.down]\nkind = "converter"\nfrom = "main"\nplace = "base"\nvolts = "12 V"\ntolerance = "3 %"\nrated = "1 A"\n'
    made = Survey(postcheck.loads(text + down))
    low = alone(11.64, 5.0 + 75.0, dice=5)
    assert low > 0.0199
    assert made.electrics.circuits["lights"].at_low == near(min(low, 0.02))
    made = Survey(postcheck.loads(text + down.replace("3 %", "5 %")))
    assert made.electrics.circuits["lights"].at_low == near(alone(11.4, 5.0 + 75.0, dice=5))
