"""What the full supply does to an end, and how a bench supply is set for it, on both sides of each bound: by Shockley, Ohm and SciPy."""

from __future__ import annotations

from math import ceil, floor, inf

import pytest
from scipy.optimize import brentq

from postcheck.survey import Survey
from postcheck.survey.bench.figures import BenchFigures, Setting
from tests.survey.bench.boats import boat
from tests.survey.bench.leds import BLUE, LEAST, MOST, RED, WIRE, WIRES, Led, amps, band, hung, ohms_for

KINDS = WIRE + str(RED) + str(BLUE)
HIGHEST = 12.6  # 12 V and 5 %
AIM = 0.002  # what an LED is lit with at the bench


def built(*parts: str, more: str = "", circuit: str = "") -> Survey:
    supply = f'kind = "adaptor"\nvolts = "12 V"\ntolerance = "5 %"\nrated = "10 A"\n{more}'
    return boat(KINDS, *parts, supply=supply, circuit=circuit)


def of_lead(survey: Survey, name: str = "lamp", kind: str = "lamp") -> BenchFigures:
    found = survey.bench.lead(kind, name)
    assert found is not None
    known = survey.bench.figures(found)
    assert known is not None
    return known


def of_line(survey: Survey) -> BenchFigures:
    known = survey.bench.figures(survey.bench.lines["a", "hub"])
    assert known is not None
    return known


def near(*values: float) -> object:
    return pytest.approx(values, rel=1e-7)


# -- the full supply


@pytest.mark.parametrize(
    ("current", "outcome"),
    [
        (0.99e-4, "dark"),
        (1.01e-4, "lights"),
        (1.499 * 0.030, "lights"),
        (1.501 * 0.030, "too much"),
        (4.99 * 0.030, "too much"),
        (5.01 * 0.030, "destroyed"),
    ],
)
def test_what_the_full_supply_does(current: float, outcome: str) -> None:
    """From 0.1 mA it lights, above one and a half times its rating it is too much, above five it is destroyed."""
    ohms = (ohms_for(HIGHEST, current, RED, taken=MOST) - WIRES) / 0.95
    contact = of_lead(built(hung(RED, f"{ohms:.8f} ohm 5 %"))).contact_test
    assert (contact.volts, contact.outcome, contact.worst) == (pytest.approx(HIGHEST), outcome, "lamp")
    assert (contact.amps, contact.worst_amps, contact.rated) == near(current, current, 0.030)


def test_the_lamp_nearest_to_its_end_is_the_worst() -> None:
    """In shares of what each is rated for: the blue takes less than the red, and is worse off."""
    contact = of_line(built(hung(RED, "300 ohm 5 %"), hung(BLUE, "290 ohm 5 %", name="blue"))).contact_test
    red, blue = (
        amps(HIGHEST, ohms * 0.95 + WIRES, led, taken=MOST) for ohms, led in ((300.0, RED), (290.0, BLUE))
    )
    assert red > blue
    assert (contact.worst, contact.rated, contact.outcome) == ("blue", 0.024, "lights")
    assert (contact.amps, contact.worst_amps) == near(red + blue, blue)


@pytest.mark.parametrize("gives", [0.010, 0.050, 0.085, 0.200])
def test_a_supply_that_gives_no_more_lets_its_volts_fall_until_the_ends_take_just_that(gives: float) -> None:
    """Then the red one, which needs fewer volts, keeps more than its part."""
    survey = built(
        hung(RED, "100 ohm 5 %"), hung(BLUE, "150 ohm 5 %", name="blue"), more=f'current_limit = "{gives} A"'
    )
    contact = of_line(survey).contact_test

    def both(volts: float) -> tuple[float, float]:
        return (
            amps(volts, 95.0 + WIRES, RED, taken=MOST), amps(volts, 142.5 + WIRES, BLUE, taken=MOST)
        )  # fmt: skip

    whole = both(HIGHEST)
    assert 0.085 < sum(whole) < 0.200
    red, blue = (
        both(brentq(lambda volts: sum(both(volts)) - gives, 1.0, HIGHEST)) if sum(whole) > gives else whole
    )
    name, most, rated = ("lamp", red, 0.030) if red / 0.030 > blue / 0.024 else ("blue", blue, 0.024)
    assert (contact.worst, contact.rated) == (name, rated)
    assert (contact.volts, contact.amps, contact.worst_amps) == near(HIGHEST, red + blue, most)


def test_a_load_alone_takes_what_it_takes() -> None:
    """Electronics take what they take at any volts; by 30 % more at most where the file does not say."""
    radio = '[[load]]\nname = "radio"\ncircuit = "a"\nplace = "hub"\ntypical = "{} mA"\n'
    contact = of_line(built(radio.format(20))).contact_test
    assert (contact.outcome, contact.worst, contact.worst_amps, contact.rated) == ("lights", "", 0.0, 0.0)
    assert contact.amps == pytest.approx(0.026)


def test_of_two_colours_in_one_string_the_lower_rating_counts() -> None:
    """A red die of 30 mA and a blue one of 20 mA, one after the other."""
    both = built(hung("smd-0603-red-blue", "330 ohm 5 %"))
    contact = of_lead(both).contact_test
    assert contact.rated == 0.020
    assert both.electrics.lamps["lamp"].part.rated == 0.020
    usual = both.bench.expected(both.bench.leads["lamp", "lamp"], 12.0, with_resistors=True)
    assert usual is not None
    assert 1.25 * 0.020 > usual.usual > 0.015
    over = both.bench.over(both.bench.leads["lamp", "lamp"], 15.0)
    assert over is not None
    assert (over[0], over[2]) == ("lamp", 0.020)
    assert 1.25 * 0.030 > over[1] > 1.25 * 0.020


def test_a_circuit_of_which_nobody_knows_the_supply_has_no_volts() -> None:
    """Of two supplies it names none."""
    two = '[supply.aux]\nplace = "base"\nkind = "adaptor"\nvolts = "5 V"\nrated = "1 A"\n[circuit.b]\n'
    bench = built(two, hung(RED, "1k")).bench
    assert (bench.highest_on("a"), bench.highest_on("b")) == (pytest.approx(HIGHEST), 0.0)


# -- the wrong way round

TEN = 'kind = "adaptor"\nvolts = "8 V"\ntolerance = "25 %"\nrated = "10 A"'  # 10 V at its highest


@pytest.mark.parametrize(("stood", "outcome"), [(9.9, "may destroy"), (10.0, "dark"), (10.1, "dark")])
def test_backwards_the_highest_volts_count(stood: float, outcome: str) -> None:
    led = RED._replace(name="stout", reverse=stood)
    found = of_lead(boat(WIRE, str(led), hung(led, "1k"), supply=TEN)).backwards
    assert found == (10.0, stood, outcome)


def test_backwards_an_led_of_which_nobody_says_stands_five_volts() -> None:
    led = RED._replace(name="plain", reverse=None)
    found = of_lead(boat(WIRE, str(led), hung(led, "1k"))).backwards
    assert (found.stood, found.outcome) == (5.0, "may destroy")


@pytest.mark.parametrize(("reverse", "outcome"), [(9.9, "may destroy"), (10.0, "dark"), (20.0, "dark")])
def test_backwards_a_load_stands_what_the_file_says(reverse: float, outcome: str) -> None:
    load = f'[[load]]\nname = "radio"\ncircuit = "a"\nplace = "hub"\ntypical = "20 mA"\nreverse = "{reverse} V"\n'
    assert of_line(boat(load, supply=TEN)).backwards == (10.0, reverse, outcome)


@pytest.mark.parametrize(("current", "outcome"), [(1.499, "unknown"), (1.501, "may destroy")])
def test_one_that_is_wired_backwards_is_lit_by_a_supply_that_is_turned(current: float, outcome: str) -> None:
    """Nobody knows what it was meant to stand then; above one and a half times its rating it may be destroyed."""
    led = RED._replace(name="stout", reverse=30.0)
    ohms = (ohms_for(HIGHEST, current * 0.030, led, taken=MOST) - WIRES) / 0.95
    found = of_lead(boat(WIRE, str(led), hung(led, f"{ohms:.8f} ohm 5 %", "backwards = true"))).backwards
    assert (found.volts, found.stood, found.outcome) == (pytest.approx(12.6), None, outcome)


@pytest.mark.parametrize(
    ("stood", "contact", "set_"),
    [(11.9, "unknown", False), (12.0, "unknown", True), (12.1, "unknown", True), (12.7, "dark", True)],
)
def test_one_that_is_wired_backwards_gets_no_setting_beyond_what_it_stands(
    stood: float, contact: str, set_: bool
) -> None:
    """The full supply has 12.6 V, the bench is set to 12."""
    led = RED._replace(name="stout", reverse=stood)
    known = of_lead(boat(WIRE, str(led), hung(led, "1k", "backwards = true")))
    assert known.contact_test.outcome == contact
    assert (known.setting is not None) is set_


# -- the bench supply: the usual volts


def step_up(current: float) -> float:
    """Milliamps, from 50 mA on tens, from 500 mA on hundreds."""
    step = 1e-3 if current < 0.05 else 1e-2 if current < 0.5 else 0.1
    return ceil(current / step - 1e-9) * step


def step_down(current: float) -> float:
    step = 1e-3 if current < 0.05 else 1e-2 if current < 0.5 else 0.1
    return floor(current / step + 1e-9) * step


@pytest.mark.parametrize(("amount", "held"), [(1.249, False), (1.251, True)])
def test_up_to_five_quarters_of_the_rating_the_usual_volts_are_set(amount: float, held: bool) -> None:
    ohms = (ohms_for(12.0, amount * 0.030, RED, taken=MOST) - WIRES) / 0.95
    known = of_lead(built(hung(RED, f"{ohms:.8f} ohm 5 %")))
    assert known.setting is not None
    assert known.usual_volts == 12.0
    assert known.setting.held is held
    assert (known.tester is not None) is held
    if not held:
        found = band(12.0, ohms, RED, more=WIRES)
        assert known.setting.volts == 12.0
        assert known.setting.expected == near(*found)
        assert known.setting.forgotten == pytest.approx(found[2], rel=1e-7)
        assert known.setting.limit == pytest.approx(step_up(1.1 * found[2]))
        assert known.setting.starting is None


def test_what_a_motor_takes_while_it_starts_comes_on_top() -> None:
    """It takes five times its most while it starts: four times 26 mA more; the limit is a tenth above all of it."""
    screw = '[[load]]\nname = "screw"\nkind = "motor"\ncircuit = "a"\nplace = "hub"\ntypical = "20 mA"\nmost = "26 mA"\n'
    known = of_line(built(screw, hung(RED, "1k 5 %")))
    red = band(12.0, 1000.0, RED, more=WIRES)
    assert known.setting is not None
    most = red[2] + 0.026
    # running free it takes a fifth of its typical current (motor.free)
    assert known.setting.expected == near(red[0] + 0.004, red[1] + 0.020, most)
    assert known.setting.starting == pytest.approx(most + 0.104, rel=1e-7)
    assert known.setting.limit == pytest.approx(step_up(1.1 * (most + 0.104)))
    assert (known.setting.held, known.setting.forgotten) == (False, pytest.approx(most, rel=1e-7))


@pytest.mark.parametrize("behaviour", ["", 'behaviour = "flash"\nrate = "1 /s"'])
@pytest.mark.parametrize("amount", [0.95, 1.05, 1.2])
def test_what_flashes_in_the_model_is_held_on_and_gets_no_more_than_it_stands(
    amount: float, behaviour: str
) -> None:
    """What parts that take most would get beyond their rating, the limit keeps: to the milliamp below it."""
    ohms = (ohms_for(12.0, amount * 0.030, RED, taken=MOST) - WIRES) / 0.95
    known = of_lead(built(hung(RED, f"{ohms:.8f} ohm 2 W 5 %"), circuit=behaviour))
    found = band(12.0, ohms, RED, more=WIRES)
    assert known.setting is not None
    limit = step_up(1.1 * found[2]) if amount < 1.0 or not behaviour else 0.030
    assert known.setting.limit == pytest.approx(limit)
    assert known.setting.expected == near(*(min(one, limit) for one in found))
    assert known.setting.held is (found[1] > limit)
    assert known.setting.forgotten == pytest.approx(found[2], rel=1e-7)


def test_of_two_that_flash_the_supply_falls_until_each_has_what_it_stands() -> None:
    """The volts at which the first of them is at its rating; what both take then is the limit, rounded down."""
    survey = built(
        hung(RED, "400 ohm 2 W 5 %"),
        hung(BLUE, "330 ohm 2 W 5 %", name="blue"),
        circuit='behaviour = "flash"\nrate = "1 /s"',
    )
    known = of_line(survey)

    def both(volts: float) -> tuple[float, float]:
        return amps(volts, 400 * 0.95 + WIRES, RED, taken=MOST), amps(
            volts, 330 * 0.95 + WIRES, BLUE, taken=MOST
        )

    at = BLUE.volts(0.024, MOST) + 0.024 * (330 * 0.95 + WIRES)
    red, blue = both(at)
    assert (red < 0.030, blue) == (True, pytest.approx(0.024))
    assert sum(both(12.0)) > red + blue
    assert known.setting is not None
    assert known.setting.limit == pytest.approx(step_down(red + blue))


# -- the bench supply: few volts and a limit


def least_volts(count: int, led: Led, ohms: float = 0.0) -> float:
    """The least tenth of a volt at which the hardest parts get 2 mA."""
    return ceil((count * led.volts(AIM, LEAST) + AIM * (ohms + WIRES)) * 10.0 - 1e-6) / 10.0


@pytest.mark.parametrize("led", [RED, BLUE])
@pytest.mark.parametrize("series", [1, 2])
@pytest.mark.parametrize("parallel", [1, 3])
def test_bare_ends_get_few_volts_and_a_limit(led: Led, series: int, parallel: int) -> None:
    """The limit is 2 mA a string; what is expected is what flows, or the limit that holds it."""
    more = f"series = {series}\n" + (
        f'parallel = {parallel}\nstrings_share = "nothing"\n' if parallel > 1 else ""
    )
    survey = built(hung(led, "" if parallel > 1 else "1k 5 % at base", more))
    known = of_lead(survey)
    safe = known.setting
    assert safe is not None
    volts, limit = least_volts(series, led), AIM * parallel
    assert (safe.volts, safe.limit, safe.held) == (pytest.approx(volts), pytest.approx(limit), True)
    string = [led] * series
    found = [parallel * one for one in band(volts, 0.0, *string, more=WIRES)]
    assert safe.expected == near(*(min(one, limit) for one in found))
    assert safe.forgotten == pytest.approx(found[2], rel=1e-7)


def test_one_that_is_wanted_dim_is_lit_with_that_and_a_small_one_with_its_rating() -> None:
    for led, more, aim in (
        (RED, 'wanted = "1 mA"', 0.001),
        (RED._replace(name="tiny", rated=0.0015), "", 0.0015),
    ):
        safe = of_lead(boat(WIRE, str(led), hung(led, "", more))).setting
        assert safe is not None
        least = ceil((led.volts(aim, LEAST) + aim * WIRES) * 10.0 - 1e-6) / 10.0
        assert (safe.volts, safe.limit) == (pytest.approx(least), pytest.approx(0.001))


THREE_VOLTS = '[lamp_kind.bulb]\nkind = "filament"\nvolts = "3.02 V"\nrated = "30 mA"\n'


def test_a_bulb_alone_gets_the_nearest_step_and_beside_an_led_that_which_lights_both() -> None:
    """3.02 V are nearest to 3.0; where an LED takes some of it the next step above is the least that lights all."""
    bulb = hung("bulb", name="bulb")
    for parts, volts in (((bulb,), 3.0), ((bulb, hung(RED)), 3.1)):
        safe = of_line(built(THREE_VOLTS, *parts)).setting
        assert safe is not None
        assert safe.volts == pytest.approx(volts)


# -- a resistor in the bench lead

E12 = (10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82)


def e12(ohms: float) -> float:
    """The next value of E12 above: IEC 60063."""
    return min(value * 10.0**decade for value in E12 for decade in range(5) if value * 10.0**decade >= ohms)


@pytest.mark.parametrize("led", [RED, BLUE])
@pytest.mark.parametrize("series", [1, 2, 3])
def test_the_resistor_with_which_the_full_supply_may_touch_bare_ends(led: Led, series: int) -> None:
    """With it 5 % low, and 12.6 V on parts that take most, 2 mA flow; with the ends touching each other it stands the heat."""
    known = of_lead(built(hung(led, "1k 5 % at base", f"series = {series}")))
    string = [led] * series
    ohms = e12(ohms_for(HIGHEST, AIM, *string, taken=MOST) / 0.95)
    assert known.tester is not None
    assert (known.tester.ohms, known.tester.volts) == (pytest.approx(ohms), 12.0)
    assert known.tester.expected == near(*band(12.0, ohms, *string, more=WIRES))
    # three quarters of it at most (common practice): 12.6 V over 6k8 less 5 % are 25 mW, over 1k 167 mW
    heat = HIGHEST**2 / (0.95 * ohms)
    sold = [power for power in (0.125, 0.25, 0.5) if heat <= 0.75 * power]
    assert known.tester.power == sold[0]


def test_what_the_ends_keep_for_themselves_is_that_at_the_current_let_through() -> None:
    """Three reds keep 0.8 V less at some microamps than at 2 mA: by that, 4.7 kohm would seem needed where 3.9 do."""
    highest = 3 * RED.volts(AIM, MOST) + AIM * 0.95 * 0.97 * 3900.0
    supply = f'kind = "adaptor"\nvolts = "{highest / 1.05:.9f} V"\ntolerance = "5 %"\nrated = "10 A"'
    known = of_lead(boat(KINDS, hung(RED, "1k 5 % at base", "series = 3"), supply=supply))
    assert known.tester is not None
    assert known.tester.ohms == pytest.approx(3900.0)


def test_for_several_strings_it_lets_through_what_all_are_lit_with_and_no_more_than_one_stands() -> None:
    """Three of 2 mA each, 6 mA; of one that is rated for 5 mA just these."""
    three = 'parallel = 3\nstrings_share = "nothing"\n'
    small = RED._replace(name="small", rated=0.005)
    for led, most in ((RED, 0.006), (small, 0.005)):
        known = of_lead(boat(WIRE, str(led), hung(led, "", three)))
        assert known.tester is not None
        kept = led.volts(most / 3.0, MOST) + most / 3.0 * WIRES
        ohms = e12((HIGHEST - kept) / most / 0.95)
        assert known.tester.ohms == pytest.approx(ohms)


def test_with_the_usual_resistor_nothing_is_held() -> None:
    """Where the resistor sits at the base, what is to be expected through it stands beside the bare ends."""
    known = of_lead(built(hung(RED, "1k 5 % at base")))
    assert known.with_resistors == near(*band(12.0, 1000.0, RED, more=WIRES))
    assert of_lead(built(hung(RED, "1k 5 %"))).with_resistors is None
    assert of_lead(built(hung(RED))).with_resistors is None


# -- the usual volts through all that belongs there


def usual(survey: Survey) -> Setting:
    found = survey.bench.lead("lamp", "lamp")
    assert found is not None
    setting = survey.bench.usual_setting(found)
    assert setting is not None
    return setting


@pytest.mark.parametrize("amount", [0.9, 0.99, 1.01, 1.24, 1.5, 3.0])
@pytest.mark.parametrize("power", [inf, 1.0, 0.25])
def test_left_on_for_good_no_string_gets_more_than_it_stands(amount: float, power: float) -> None:
    """30 mA, or what its resistor's watts let through (P = I2 R); through its resistor, wherever that sits."""
    ohms = (ohms_for(12.0, amount * 0.030, RED, taken=MOST) - WIRES) / 0.95
    watts = f"{power} W" if power < inf else ""
    safe = usual(built(hung(RED, f"{ohms:.8f} ohm {watts} 5 % at base")))
    found = band(12.0, ohms, RED, more=WIRES)
    stood = min(0.030, (power / ohms) ** 0.5)
    limit = step_up(1.1 * found[2]) if stood >= found[2] else step_down(stood)
    assert (safe.volts, safe.limit) == (12.0, pytest.approx(limit))
    assert safe.expected == near(*(min(one, limit) for one in found))
    assert safe.held is (found[1] > limit)
    assert safe.forgotten == pytest.approx(found[2], rel=1e-7)


BULB = '[lamp_kind.{name}]\nkind = "filament"\nvolts = "{volts} V"\nrated = "60 mA"\n'


@pytest.mark.parametrize(("amount", "limited"), [(1.13, False), (1.14, True), (1.24, True)])
def test_a_bulb_that_may_take_a_tenth_more_is_kept_at_five_quarters(amount: float, limited: bool) -> None:
    """Its current goes by the volts to 0.55 (makers of miniature lamps, from memory); the other one is at its rating."""
    volts = 12.0 / amount ** (1.0 / 0.55)
    survey = built(
        BULB.format(name="hot", volts=f"{volts:.8f}") + BULB.format(name="plain", volts=12),
        hung("hot", at="hub"), hung("plain", name="other"),
    )  # fmt: skip
    safe = of_line(survey).setting
    assert safe is not None
    most = 1.1 * 0.060 * (amount + 1.0)
    limit = step_down(1.25 / (1.1 * amount) * most) if limited else step_up(1.1 * most)
    assert safe.limit == pytest.approx(limit)
    assert safe.expected.usual == pytest.approx(min(0.060 * (amount + 1.0), limit), rel=1e-3)
    assert safe.forgotten == pytest.approx(most, rel=1e-3)


@pytest.mark.parametrize(("volts", "known"), [(57.0, True), (57.3, False)])
def test_beyond_the_volts_that_are_judged_nothing_is_told(volts: float, known: bool) -> None:
    """60 V with its tolerance of 5 %: 57.14 V."""
    supply = f'kind = "adaptor"\nvolts = "{volts} V"\ntolerance = "5 %"\nrated = "1 A"'
    survey = boat(KINDS, hung(RED, "10k"), supply=supply)
    found = survey.bench.lead("lamp", "lamp")
    assert found is not None
    assert (survey.bench.figures(found) is not None) is known


@pytest.mark.parametrize(("stood", "other"), [(11.9, 20.0), (20.0, 11.9), (20.0, 20.0)])
def test_of_two_wired_backwards_the_one_that_stands_least_counts(stood: float, other: float) -> None:
    one, two = (
        RED._replace(name=name, reverse=volts) for name, volts in (("stout", stood), ("stouter", other))
    )
    known = of_line(
        boat(
            WIRE,
            str(one),
            str(two),
            hung(one, "1k", "backwards = true"),
            hung(two, "1k", "backwards = true", name="two"),
        )
    )
    weak = min(stood, other) < 12.0
    assert known.contact_test.outcome == ("unknown" if weak else "dark")
    assert (known.setting is None) is weak


@pytest.mark.parametrize("names", [("bare", "sound"), ("sound", "bare")])
def test_one_that_is_destroyed_is_enough(names: tuple[str, str]) -> None:
    """Beside one that stands the full supply."""
    ohms = {"bare": "22 ohm 5 %", "sound": "1k 5 %"}
    contact = of_line(built(*(hung(RED, ohms[name], name=name) for name in names))).contact_test
    assert (contact.outcome, contact.worst) == ("destroyed", "bare")


def test_a_converter_holds_its_volts_at_the_ends() -> None:
    """5 V and 2 %; an adaptor of the same volts has 0.4 ohm inside, a tenth of which its rating loses."""
    five = '[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "base"\nvolts = "5 V"\ntolerance = "2 %"\nrated = "1 A"\n[circuit.b]\nsupply = "five"\n'
    lines = '[[run]]\nline = "{}"\nends = ["base", "hub"]\nlength = "200 mm"\n'
    text = five + lines.format("b") + lines.format("five-") + hung(RED, "100 ohm 5 %", circuit="b")
    contact = of_lead(built(text)).contact_test
    assert (contact.volts, contact.amps) == near(5.1, amps(5.1, 95.0 + WIRES, RED, taken=MOST))


@pytest.mark.parametrize("names", [("lamp", "two"), ("two", "lamp")])
def test_of_two_wired_backwards_one_that_is_harmed_is_enough(names: tuple[str, str]) -> None:
    """Half as much again as its rating through the one, half of it through the other."""
    led = RED._replace(name="stout", reverse=30.0)
    ohms = {"lamp": ohms_for(HIGHEST, 1.6 * 0.030, led, taken=MOST), "two": 820.0}
    lamps = [hung(led, f"{ohms[name]:.3f} ohm 1 %", "backwards = true", name=name) for name in names]
    assert of_line(boat(WIRE, str(led), *lamps)).backwards.outcome == "may destroy"


def test_a_bulb_that_may_take_a_tenth_more_is_kept_at_its_rating_for_good() -> None:
    """50 mA at 12 V, 55 mA of the easiest: its limit 50 mA; or 12 V times (10/11)**(1/0.55), 10.09 V, on the tenth below."""
    bulb = '[lamp_kind.bulb]\nkind = "filament"\nvolts = "12 V"\nrated = "50 mA"\n'
    bench = boat(WIRE, bulb, hung("bulb")).bench
    point = bench.lead("lamp", "lamp")
    assert point is not None
    usual, gentle = bench.usual_setting(point), bench.gentle_setting(point)
    assert usual is not None
    assert (usual.volts, usual.limit) == (12.0, 0.05)
    assert gentle is not None
    assert gentle.volts == 10.0
    assert gentle.expected.most == pytest.approx(0.055 * (10.0 / 12.0) ** 0.55, rel=1e-3)
    assert gentle.starting is None
