"""A setting that cannot hurt and still lights: over random lamps of the catalogue, by Kirchhoff and SciPy's root finder."""

from __future__ import annotations

import math
import random

import pytest
from scipy.constants import elementary_charge, k
from scipy.optimize import brentq

from postcheck import catalogue
from postcheck.catalogue import FilamentLamp
from postcheck.limits import Limits
from postcheck.physics import preferred
from postcheck.survey import Survey
from postcheck.survey.bench import test_points as points
from postcheck.survey.bench.figures import Band, BenchFigures
from postcheck.survey.bench.rig import BENCH, EASIEST, HARDEST, Rig
from postcheck.survey.bench.settings import limit_above
from tests.survey import small
from tests.survey.bench.boats import ADAPTOR, boat, lamp

LIMITS = Limits()
AIM, LIGHTS = LIMITS.value("bench.current"), LIMITS.value("bench.lights")
SLOPE = 2 * k * 298.15 / elementary_charge
KINDS = [name for name in catalogue.names("lamp") if len(getattr(catalogue.lamp(name), "dice", (1,))) == 1]


def supply(volts: float) -> str:
    return ADAPTOR.replace("12 V", f"{volts:g} V")


def random_case(seed: int) -> Survey:
    rng = random.Random(seed)
    kind = rng.choice(KINDS)
    volts = rng.choice([5.0, 6.0, 9.0, 12.0, 15.0, 24.0])
    more = rng.choice(["", "", "series = 2", "series = 3", "parallel = 2", "parallel = 5", "parallel = 30"])
    resistor = rng.choice([None, "1k", "330 ohm", "47 ohm at hub", "1k at hub", "1k at base"])
    if resistor == "1k at base" and "parallel" in more:
        resistor = None
    if rng.random() < 0.1:
        more += '\nwanted = "0.5 mA"'
    return boat(lamp(resistor, kind=kind, more=more), supply=supply(volts))


def points_of(survey: Survey) -> list[points.TestPoint]:
    return [*survey.bench.leads.values(), *survey.bench.lines.values()]


def ordered(band: Band) -> bool:
    return band.least <= band.usual <= band.most


def at_most(rig: Rig, volts: float, amps: float, ohms: float = 0.0) -> list[tuple[str, float]]:
    """The strings where the supply lets no more through than so much."""
    flow = rig.flow(volts, EASIEST, ohms)
    assert flow is not None
    if flow.amps <= amps:
        return list(flow.strings)
    held = brentq(lambda v: rig.flow(v, EASIEST, ohms).amps - amps, 0.0, volts, xtol=1e-12)  # type: ignore[union-attr]
    return list(rig.flow(held, EASIEST, ohms).strings)  # type: ignore[union-attr]


def judge(survey: Survey, test_point: points.TestPoint, known: BenchFigures) -> None:
    rig = survey.bench.rig(test_point, with_resistors=False)
    lamps = {part.name: part for part in survey.parts.lamps}
    rated = {name: min(die.rated for die in part.dice) for name, part in lamps.items()}
    safe = known.setting
    assert safe is not None
    assert ordered(safe.expected)
    assert safe.volts <= known.usual_volts + 1e-9
    through = at_most(rig, safe.volts, safe.limit)
    if not safe.held:
        assert safe.volts == known.usual_volts
        assert known.tester is None
        assert all(amps <= 1.25 * rated[name] * (1 + 1e-6) for name, amps in through)
        assert safe.limit >= safe.expected.most
        return
    assert all(amps <= rated[name] * (1 + 1e-6) for name, amps in through)
    # even where one string takes all that the limit lets through, while it can
    loose = rig.flow(safe.volts, EASIEST)
    assert loose is not None
    assert all(min(amps, safe.limit) <= rated[name] * (1 + 1e-6) for name, amps in loose.strings)
    hard = rig.flow(safe.volts, HARDEST)
    assert hard is not None
    for name, amps in hard.strings:
        part = lamps[name]
        aim = min(AIM, part.wanted or math.inf, rated[name])
        if part.dice[0].filament_volts is None and safe.volts < known.usual_volts:
            assert amps >= min(aim, max(LIGHTS, aim)) * (1 - 1e-6)
    assert known.tester is not None
    assert ordered(known.tester.expected)
    assert known.tester.volts == known.usual_volts
    assert preferred.at_least(known.tester.ohms * 0.999, "E12") == pytest.approx(known.tester.ohms)
    # a resistor is loaded to three quarters at most (common practice), the ends touching each other
    assert known.contact_test.volts**2 / (0.95 * known.tester.ohms) <= 0.75 * known.tester.power * (1 + 1e-9)
    flow = rig.flow(known.contact_test.volts, EASIEST, 0.95 * known.tester.ohms)
    assert flow is not None
    assert flow.amps <= min(rated[name] for name, _ in flow.strings) * (1 + 1e-6)
    hard = rig.flow(known.usual_volts, HARDEST, 1.05 * known.tester.ohms)
    assert hard is not None
    if hard.amps > 0.1 * AIM and len(hard.strings) <= 10:
        assert all(amps >= LIGHTS for _, amps in hard.strings)


@pytest.mark.parametrize("block", range(6))
def test_no_setting_hurts_and_every_one_lights(block: int) -> None:
    held = 0
    for seed in range(block * 25, block * 25 + 25):
        survey = random_case(seed)
        for test_point in points_of(survey):
            known = survey.bench.figures(test_point)
            assert known is not None
            assert known.with_resistors is None or ordered(known.with_resistors)
            judge(survey, test_point, known)
            held += known.setting.held  # type: ignore[union-attr]
    assert held >= 10


@pytest.mark.parametrize("kind", ["smd-0603-red", "smd-0603-white", "led-5mm-blue", "smd-0402-green"])
@pytest.mark.parametrize("series", [1, 2, 3])
def test_the_least_step_at_which_the_hardest_gets_the_bench_current(kind: str, series: int) -> None:
    survey = boat(lamp(None, kind=kind, more=f"series = {series}"), supply=supply(24))
    die, part = catalogue.lamp(kind).dice[0], survey.parts.lamps[0]
    step = (die.forward_typical, die.at_current), (die.low_forward, die.low_current)
    (v2, i2), (v1, i1) = step
    ohm = ((v2 - v1) - SLOPE * math.log(i2 / i1)) / (i2 - i1)
    saturation = i1 / math.expm1((v1 - i1 * ohm) / SLOPE)
    harder = die.forward_most - die.forward_typical
    wires = part.supply_leg.ohms(20.0) + part.return_leg.ohms(20.0)

    def amps(volts: float) -> float:
        def over(current: float) -> float:
            each = SLOPE * math.log1p(current / saturation) + current * ohm + harder
            return series * each + current * wires - volts

        return brentq(over, 0.0, 10.0, xtol=1e-15) if over(0.0) < 0.0 else 0.0

    least = brentq(lambda volts: amps(volts) - AIM, 0.1, 23.9)
    known = survey.bench.figures(survey.bench.leads["lamp", "lamp"])
    assert known is not None
    assert known.setting is not None
    assert known.setting.volts == pytest.approx(math.ceil(least * 10 - 1e-6) / 10)
    assert known.setting.limit == AIM


@pytest.mark.parametrize("kind", [name for name in KINDS if isinstance(catalogue.lamp(name), FilamentLamp)])
def test_a_filament_is_set_to_its_rated_volts(kind: str) -> None:
    """On a supply that would burn it through."""
    rated = catalogue.lamp(kind).rated_volts
    survey = boat(lamp(None, kind=kind), supply=supply(24))
    known = survey.bench.figures(survey.bench.leads["lamp", "lamp"])
    assert known is not None
    assert known.setting is not None
    assert known.setting.volts == pytest.approx(rated, abs=0.051 + 0.1)  # and what the lead takes
    assert known.backwards.outcome == "the same"


@pytest.mark.parametrize(
    ("most", "limit"),
    [
        (0.2, 1),
        (1.0, 2),
        (6.6, 8),
        (20.0, 22),
        (40.0, 44),
        (45.4, 50),
        (45.5, 60),
        (100.0, 110),
        (441.0, 490),
        (455.0, 600),
    ],
)
def test_a_limit_is_a_tenth_above_on_the_step_that_a_supply_has(most: float, limit: float) -> None:
    """By hand, in mA: 1.1 times what flows at most, up to the next milliamp; from 50 mA on the next 10, from 500 the next 100."""
    assert limit_above(most / 1e3) * 1e3 == pytest.approx(limit)


def test_a_limit_that_must_not_be_passed_is_the_step_below() -> None:
    """Three strings that are lit with 2 mA each: 6 mA in all, and not the 7 above it."""
    known = boat(lamp(None, more="parallel = 3"), supply=supply(12)).bench
    found = known.figures(known.leads["lamp", "lamp"])
    assert found is not None
    assert found.setting is not None
    assert found.setting.held
    assert found.setting.limit == pytest.approx(0.006)


def test_a_lamp_of_few_volts_among_others_is_not_given_the_current_of_all() -> None:
    """A bare red one beside forty white ones: the red takes all that the limit lets through."""
    others = [lamp(None, name=f"white {n}", kind="smd-0603-white") for n in range(40)]
    survey = boat(lamp(None), *others)
    test_point = survey.bench.lines["a", "hub"]
    known = survey.bench.figures(test_point)
    assert known is not None
    judge(survey, test_point, known)
    assert known.setting is not None
    rated = min(die.rated for part in survey.parts.lamps for die in part.dice)
    assert known.setting.limit <= rated < 41 * AIM


def test_the_parts_that_take_least_take_less_than_usual_ones() -> None:
    for seed in range(20):
        survey = random_case(seed)
        for test_point in points_of(survey):
            rig = survey.bench.rig(test_point, with_resistors=True)
            flows = [rig.flow(4.0, corner) for corner in (HARDEST, BENCH, EASIEST)]
            amps = [flow.amps for flow in flows if flow is not None]
            assert amps == sorted(amps)
            assert len(amps) == 3


RADIO = '[[load]]\nname = "radio"\ncircuit = "a"\nplace = "hub"\ntypical = "20 mA"\n'


def backwards(*parts: str, volts: float = 12.0) -> tuple[str, float | None]:
    survey = boat(*parts, supply=supply(volts))
    known = survey.bench.figures(survey.bench.lines["a", "hub"])
    assert known is not None
    return known.backwards.outcome, known.backwards.stood


KIND = '[lamp_kind.{name}]\nforward = "2.0 V"\nat = "20 mA"\nrated = "20 mA"\nreverse = "{stood} V"\n'


def test_the_wrong_way_round_the_weakest_counts() -> None:
    weak, tough = KIND.format(name="weak", stood=5), KIND.format(name="tough", stood=20)
    one, two = lamp(kind="tough"), lamp(kind="weak", name="other")
    assert backwards(tough, one) == ("dark", 20.0)
    assert backwards(weak, tough, one, two) == ("may destroy", 5.0)
    assert backwards(weak, two, volts=4.5) == ("dark", 5.0)


def test_the_wrong_way_round_a_load_on_the_line_counts_too() -> None:
    tough = KIND.format(name="tough", stood=20) + lamp(kind="tough")
    motor = RADIO.replace("radio", "screw") + 'kind = "motor"\n'
    assert backwards(tough, RADIO)[0] == "unknown"
    assert backwards(tough, RADIO + 'reverse = "6 V"\n') == ("may destroy", 6.0)
    assert backwards(tough, RADIO + 'reverse = "15 V"\n') == ("dark", 15.0)
    assert backwards(tough, motor) == ("dark", 20.0)
    assert backwards(motor) == ("the same", None)
    # no volts are withstood across a diode that conducts, and no motor is destroyed by it
    assert backwards(motor + 'diode = "1N4001"\n') == ("shorts", None)


def test_a_lamp_wired_the_wrong_way_round_is_the_right_way_round_when_the_supply_is_not() -> None:
    assert backwards(lamp(None, more="backwards = true"))[0] == "may destroy"
    assert backwards(lamp(more="backwards = true"))[0] != "may destroy"


@pytest.mark.parametrize("volts", [5.0, 12.0])
def test_nor_is_it_given_more_in_reverse_than_it_stands(volts: float) -> None:
    survey = boat(
        KIND.format(name="weak", stood=6), lamp(kind="weak", more="backwards = true"), supply=supply(volts)
    )
    known = survey.bench.figures(survey.bench.leads["lamp", "lamp"])
    assert known is not None
    assert known.contact_test.outcome == ("dark" if volts < 6 else "unknown")
    assert (known.setting is None) == (volts > 6)


def test_the_full_supply_is_at_its_highest() -> None:
    """12 V and 5 % more are 12.6 V."""
    bench = boat(lamp()).bench
    assert bench.highest_volts(bench.leads["lamp", "lamp"]) == pytest.approx(12.6)
    assert bench.usual_volts(bench.leads["lamp", "lamp"]) == pytest.approx(12.0)


def test_of_strings_with_leads_of_their_own_one_is_touched_alone() -> None:
    """Forty reds on 10 A share 250 mA each if all are held at once; an end is touched alone, and gets what one alone gets."""
    alone = boat(lamp("1k at hub")).bench
    for share in ("nothing", "return"):
        many = boat(lamp("1k at hub", more=f'parallel = 40\nstrings_share = "{share}"\n')).bench
        contact = many.figures(many.leads["lamp", "lamp"]).contact_test
        one = alone.figures(alone.leads["lamp", "lamp"]).contact_test
        assert (contact.outcome, contact.worst) == ("destroyed", "lamp")
        assert contact.worst_amps == pytest.approx(one.worst_amps, rel=1e-3)


def test_what_a_motor_takes_more_while_it_starts() -> None:
    """Of one of which nothing is said so many times its most, less that; of one whose start is given, what that is more."""
    screw = RADIO.replace("radio", "screw") + 'kind = "motor"\nmost = "30 mA"\n'
    (load,) = boat(screw).parts.loads
    assert load.surge() == 0.0
    assert load.surge(5.0) == pytest.approx(0.120)
    (load,) = boat(screw + 'starting = "100 mA"\n').parts.loads
    assert load.surge() == load.surge(5.0) == pytest.approx(0.070)
    (radio,) = boat(RADIO + 'most = "30 mA"\n').parts.loads
    assert radio.surge(5.0) == 0.0
    assert boat(lamp()).parts.lamps[0].surge(5.0) == 0.0


# A white of 20 mA on 12 V behind so much takes, with parts at their ends, 16, 22, 29, 82 mA: never more than it stands for
# good, and never more than the supply lets through.
@pytest.mark.parametrize("resistor", ["560 ohm 1 W", "430 ohm 1 W", "330 ohm 1 W", "100 ohm 2 W"])
def test_no_more_is_expected_than_a_limit_lets_through(resistor: str) -> None:
    lamps = small.lamp(at="").replace("smd-0402-red", "smd-0603-white").replace("1k5 1/4 W", resistor)
    made = small.survey(lamps=lamps)
    for point in made.bench.along["lights"]:
        setting = made.bench.usual_setting(point)
        assert setting is not None
        assert setting.expected.most <= setting.limit
        assert setting.limit <= 0.0205
        assert setting.limit >= min(0.9 * setting.expected.most, 0.0185)
