"""What a bench supply gives what is put on it, corner by corner: by Shockley, Ohm and SciPy's root finder."""

from __future__ import annotations

import pytest

from postcheck.survey import Survey
from postcheck.survey.bench import test_points as points
from postcheck.survey.bench.rig import EASIEST
from tests.survey.bench.boats import boat
from tests.survey.bench.leds import BLUE, MOST, RED, WIRE, WIRES, amps, band, hung

KINDS = WIRE + str(RED) + str(BLUE)
ADAPTOR = 'kind = "adaptor"\nvolts = "{volts} V"\ntolerance = "5 %"\nrated = "10 A"'


def built(*parts: str, volts: float = 12.0) -> Survey:
    return boat(KINDS, *parts, supply=ADAPTOR.format(volts=volts))


def lead(survey: Survey, name: str = "lamp", kind: str = "lamp") -> points.TestPoint:
    found = survey.bench.lead(kind, name)
    assert found is not None
    return found


def near(*values: float) -> object:
    return pytest.approx(values, rel=1e-7)


@pytest.mark.parametrize("volts", [3.0, 9.0, 12.0])
@pytest.mark.parametrize("through", [0.0, 220.0])
@pytest.mark.parametrize("led", [RED, BLUE])
def test_a_lamp_with_its_resistor(led: object, volts: float, through: float) -> None:
    """The resistor of the bench lead has 5 % of its own; all that takes most comes together."""
    survey = built(hung(led, "470 ohm 5 %"))  # type: ignore[arg-type]
    found = survey.bench.expected(lead(survey), volts, with_resistors=False, ohms=through)
    assert found == near(*band(volts, 470.0 + through, led, more=WIRES))  # type: ignore[arg-type]


def test_a_resistor_elsewhere_counts_only_where_it_is_put_in_the_way() -> None:
    survey = built(hung(RED, "330 ohm 2 % at base"))
    for with_resistors, ohms in ((True, 330.0), (False, 0.0)):
        found = survey.bench.expected(lead(survey), 2.05, with_resistors=with_resistors)
        assert found == near(*band(2.05, ohms, RED, more=WIRES, tolerance=0.02))


@pytest.mark.parametrize("share", ["nothing", "lead"])
def test_strings_add_up_and_one_that_is_dark_or_shorted_is_missed(share: str) -> None:
    """Three strings of two, each with its own 560 ohm; each on wires of its own, or all on one pair."""
    survey = built(hung(RED, "560 ohm 5 %", f'series = 2\nparallel = 3\nstrings_share = "{share}"'))
    point = lead(survey)
    own, shared = (WIRES, 0.0) if share == "nothing" else (0.0, WIRES)

    def sum_of(*strings: tuple[object, ...], taken: int = 0) -> float:
        # what all of them drop over the wires that they share is found round by round
        total = 0.0
        for _ in range(30):
            left = 12.0 - total * shared
            total = sum(
                amps(left, 560.0 * (1.0 - 0.05 * taken) + own, *string, taken=taken) for string in strings
            )  # type: ignore[arg-type]
        return total

    two = (RED, RED)
    for strings, failed in (
        ((two, two, two), {}),
        ((two, two), {"opened": frozenset({("lamp", 1)})}),
        ((two,), {"opened": frozenset({("lamp", 0), ("lamp", 2)})}),
        ((two, two, (RED,)), {"shorted": frozenset({("lamp", 2)})}),
    ):
        found = survey.bench.expected(point, 12.0, with_resistors=True, **failed)
        assert found == near(*(sum_of(*strings, taken=taken) for taken in (-1, 0, 1)))


def test_a_lamp_that_flashes_by_itself_may_be_dark_while_it_is_read() -> None:
    """So the least of the line is what the steady one beside it takes; the rest is as if it were always lit."""
    chip = str(RED).replace(RED.name, "winker") + 'flashes = "2 /s"\n'
    survey = built(chip, hung("winker", "1k 5 %"), hung(BLUE, "680 ohm 5 %", name="steady"))
    point = survey.bench.lines["a", "hub"]
    found = survey.bench.expected(point, 12.0, with_resistors=True)
    assert found is not None
    red, blue = band(12.0, 1000.0, RED, more=WIRES), band(12.0, 680.0, BLUE, more=WIRES)
    assert found.least == pytest.approx(blue[0], rel=1e-7)
    assert found[1:] == near(*(one + other for one, other in zip(red[1:], blue[1:], strict=True)))
    # and of its own lead nothing
    own = survey.bench.expected(lead(survey), 12.0, with_resistors=True)
    assert own is not None
    assert own.least == pytest.approx(0.0, abs=1e-12)
    assert own.usual == pytest.approx(red[1], rel=1e-7)


@pytest.mark.parametrize(("amps_cold", "warm"), [(0.0588, True), (0.0612, False)])
def test_what_takes_most_has_warmed_itself_unless_it_does_not_live_to(amps_cold: float, warm: bool) -> None:
    """Up to twice the 30 mA that it is rated for. 2 mV less a kelvin, 500 K/W: by its own heat it takes more."""
    led = RED._replace(name="ember", kelvin=-0.002)
    ohms = (12.0 - led.volts(amps_cold, MOST)) / amps_cold / 0.95 - WIRES
    survey = boat(WIRE, str(led), hung(led, f"{ohms:.6f} ohm 5 %"))
    flow = survey.bench.rig(lead(survey), with_resistors=True).flow(12.0, EASIEST)
    assert flow is not None
    found = amps(12.0, ohms * 0.95 + WIRES, led, taken=MOST, warm=warm)
    assert flow.amps == pytest.approx(found, rel=1e-6)
    assert (flow.amps > amps_cold * 1.0001) is warm
    assert flow.strings == (("lamp", pytest.approx(found, rel=1e-6)),)


def test_what_fares_worst_is_named_beyond_five_quarters_of_its_rating() -> None:
    """At usual parts: the blue is rated for 24 mA, the red for 30; a share counts, not milliamps."""
    survey = built(hung(RED, "320 ohm 5 %"), hung(BLUE, "270 ohm 5 %", name="blue"))
    point = survey.bench.lines["a", "hub"]
    red, blue = (amps(12.0, ohms + WIRES, led) for ohms, led in ((320.0, RED), (270.0, BLUE)))
    assert blue / BLUE.rated > 1.25 > red / RED.rated > 1.0
    assert survey.bench.over(point, 12.0) == ("blue", pytest.approx(blue, rel=1e-7), 0.024)
    for amount, told in ((1.249, False), (1.251, True)):
        volts = BLUE.volts(amount * 0.024) + amount * 0.024 * (270.0 + WIRES)
        assert (survey.bench.over(point, volts) is not None) is told
        # a resistor in the bench lead takes its part of it, here that of the blue alone
        alone = lead(survey, "blue")
        assert (survey.bench.over(alone, volts) is not None) is told
        assert survey.bench.over(alone, volts, ohms=2.0) is None
        assert (survey.bench.over(alone, volts + 2.0 * amount * 0.024, ohms=2.0) is not None) is told


def test_leads_that_are_alike_have_the_same_figures_under_their_own_names() -> None:
    survey = built(hung(RED, "470 ohm 1/8 W 5 %"), hung(RED, "470 ohm 1/8 W 5 %", name="twin"))
    one, twin = lead(survey), lead(survey, "twin")
    expected = band(9.0, 470.0, RED, more=WIRES)
    for point, name in ((one, "lamp"), (twin, "twin")):
        rig = survey.bench.rig(point, with_resistors=True)
        assert rig.flow(9.0) == (
            pytest.approx(expected[1], rel=1e-7),
            ((name, pytest.approx(expected[1], rel=1e-7)),),
        )
        assert survey.bench.expected(point, 9.0, with_resistors=True) == near(*expected)
        most = (0.125 / 470.0) ** 0.5
        for amount, stands in ((0.999, True), (1.001, False)):
            volts = RED.volts(amount * most, MOST) + amount * most * (470.0 * 0.95 + WIRES)
            assert survey.bench.stands_for_good(point, volts) is stands
        known = survey.bench.figures(point)
        assert known is not None
        assert (known.test_point, known.contact_test.worst) == (point, name)


def test_a_load_is_over_nothing() -> None:
    survey = built('[[load]]\nname = "radio"\ncircuit = "a"\nplace = "hub"\ntypical = "900 mA"\n')
    assert survey.bench.over(survey.bench.lines["a", "hub"], 12.0) is None


@pytest.mark.parametrize(("amount", "stands"), [(0.999, True), (1.001, False)])
@pytest.mark.parametrize(
    ("power", "parallel", "one", "most"),
    [
        ("1/8 W", 1, False, (0.125 / 470.0) ** 0.5),  # 16.3 mA by P = I2 R
        ("1/8 W", 2, False, (0.125 / 470.0) ** 0.5),
        ("1/8 W", 2, True, (0.125 / 470.0) ** 0.5 / 2.0),  # both strings through one
        ("2 W", 1, False, 0.030),  # the LED's own
        ("", 1, False, 0.030),
    ],
)
def test_what_a_string_stands_for_good(
    amount: float, stands: bool, power: str, parallel: int, one: bool, most: float
) -> None:
    """Its rating, or what its resistor's watts let through; with parts that take most."""
    more = (
        f"parallel = {parallel}\nmatched = true\none_resistor = {str(one).lower()}\n" if parallel > 1 else ""
    )
    survey = built(hung(RED, f"470 ohm {power} 5 %", more))
    shared = parallel if one else 1
    string = amount * most
    volts = RED.volts(string, MOST) + string * 470.0 * 0.95 * shared + string * parallel * WIRES
    assert survey.bench.stands_for_good(lead(survey), volts) is stands


@pytest.mark.parametrize(
    ("supply", "usual", "highest"),
    [
        ('kind = "adaptor"\nvolts = "12 V"\ntolerance = "5 %"\nrated = "1 A"', 12.0, 12.6),
        ('kind = "adaptor"\nvolts = "12 V"\nunloaded = "17 V"\nrated = "1 A"', 12.0, 17.85),
        ('kind = "usb"', 5.0, 5.25),
    ],
)
def test_the_volts_of_a_supply(supply: str, usual: float, highest: float) -> None:
    """What is written on it; at most its tolerance above, or above what it has with nothing connected."""
    survey = boat(KINDS, hung(RED, "1k"), supply=supply)
    assert survey.bench.usual_volts(lead(survey)) == pytest.approx(usual)
    assert survey.bench.highest_volts(lead(survey)) == pytest.approx(highest)
    assert survey.bench.highest_on("a") == pytest.approx(highest)
