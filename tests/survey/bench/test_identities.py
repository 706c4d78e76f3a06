"""What each unmarked lead reads, and at which setting: by Shockley, Ohm and SciPy, number by number."""

from __future__ import annotations

from math import inf

import pytest
from scipy.optimize import brentq

from postcheck.identification import Across, Setting
from postcheck.survey.bench.identities import Hypothesis, Identities
from tests.survey.bench.boats import boat, run
from tests.survey.bench.leds import BLUE, LEAST, MOST, RED, USUAL, WIRE, WIRES, Led, amps, hung

AIM = 0.002
BULB = '[lamp_kind.bulb]\nkind = "filament"\nvolts = "6 V"\nrated = "60 mA"\n'


def leads(*parts: str, width: float | None = None, place: str = "hub") -> Identities:
    survey = boat(WIRE, str(RED), str(BLUE), *parts)
    return Identities(survey.bench, place, survey.limits, width)


def near(*values: float) -> object:
    return pytest.approx(values, rel=1e-6, abs=1e-9)


def beside(led: Led, by: float = 0.1) -> Led:
    """A tenth of a volt more room on either side of its data sheet."""
    least, typical, most = led.forward
    return led._replace(forward=(least - by, typical, most + by))


def across(setting: Setting, own: float, *string: Led, count: int = 1, bulbs: float = 0.0) -> Across:
    """At least: a tenth of a volt below the setting, the bench resistor 5 % high, parts that take most; and the other way round."""
    found = []
    for taken, volts, bench in (
        (MOST, setting.volts - 0.1, 1.05), (USUAL, setting.volts, 1.0), (LEAST, setting.volts, 0.95),
    ):  # fmt: skip
        ohms = own * (1.0 - 0.05 * taken) + WIRES + count * setting.ohms * bench
        if bulbs:
            each = brentq(
                lambda i, v=volts, o=ohms: bulbs * 6.0 * (i / 0.060) ** (1.0 / GLOWS) + o * i - v, 1e-9, 1.0
            )
        else:
            each = amps(volts, ohms, *string, taken=taken)
        found.append((volts - count * each * setting.ohms * bench, each))
    reads, currents = [one for one, _ in found], [one for _, one in found]
    return Across(min(reads), reads[1], max(reads), min(currents), max(currents))


GLOWS = (
    0.55  # current of a filament by its volts: exponent 0.5 to 0.6 (makers of miniature lamps, from memory)
)


def conditions(found: Identities, name: str) -> dict[str, list[Hypothesis]]:
    (one,) = [one for one in found.all if one.expected.name == name]
    sorts: dict[str, list[Hypothesis]] = {}
    for hypothesis in one.hypotheses:
        sorts.setdefault(hypothesis.condition, []).append(hypothesis)
    return sorts


# -- the first setting


@pytest.mark.parametrize(
    ("reverse", "volts"), [(8.0, 5.0), (5.0, 5.0), (4.27, 4.2), (3.0, 3.0), (1.59, 1.5), (1.45, None)]
)
def test_the_first_setting_is_what_the_weakest_stands_backwards(reverse: float, volts: float | None) -> None:
    """In tenths of a volt, 5 V at most and 1.5 V at least. 2 mA through the resistor at what the red needs for it, E12 below."""
    led = RED._replace(name="weak", reverse=reverse)
    first = leads(str(led), hung(led)).first
    assert (first and first.volts) == (volts and pytest.approx(volts))
    if first is None or volts is None:
        return
    if volts > 2.1:
        wanted = (volts - led.volts(AIM)) / AIM
        ohms = max(one for one in (1000, 1200, 1500, 390, 470, 560, 680, 820) if one <= wanted)
        assert first.ohms == pytest.approx(ohms)
    else:
        assert first.ohms == 1000.0  # nothing lights: any will do
    assert (first.forward, first.rated, first.delicate) == (
        pytest.approx(volts / 0.95 / first.ohms),
        0.030,
        "lamp",
    )
    assert (first.reverse, first.weakest) == (reverse, "lamp")
    assert first.watts == pytest.approx(volts**2 / (4 * 0.95 * first.ohms))


@pytest.mark.parametrize(("over", "lit"), [(0.301, True), (0.299, False)])
def test_an_led_counts_for_the_resistor_where_three_tenths_of_a_volt_are_left(over: float, lit: bool) -> None:
    """Of 3 V; else a kilohm will do."""
    high = RED._replace(name="high", forward=(1.9, 2.0, 2.3), reverse=3.0)
    lift = 3.0 - over - high.volts(AIM)
    high = high._replace(forward=tuple(one + lift for one in high.forward), low=high.low + lift)  # type: ignore[arg-type]
    first = leads(str(high), hung(high)).first
    assert first is not None
    assert high.volts(AIM) == pytest.approx(3.0 - over)
    # 0.301 V at 2 mA is 150 ohm; a short would give 3 V over 142 ohm, 21 mA of the 30
    assert first.ohms == pytest.approx(150.0 if lit else 1000.0)


def test_the_resistor_keeps_a_short_below_what_the_most_delicate_is_rated_for() -> None:
    """5 V and 1 mA: 5 kohm, and 5 % more: 5.26, so 5.6 of E12."""
    tiny = RED._replace(name="tiny", rated=0.001)
    first = leads(str(tiny), hung(tiny, name="small"), hung(BLUE)).first
    assert first is not None
    assert (first.ohms, first.rated, first.delicate) == (pytest.approx(5600.0), 0.001, "small")
    assert first.forward == pytest.approx(5.0 / 5600.0 / 0.95)
    # the blue withstands 5.5 V backwards, the red 7
    assert (first.reverse, first.weakest, first.volts) == (5.5, "lamp", 5.0)


def test_bulbs_alone_stand_anything_backwards() -> None:
    first = leads(BULB, hung("bulb")).first
    assert first is not None
    assert (first.volts, first.ohms, first.rated, first.delicate) == (5.0, 1000.0, 0.060, "lamp")
    assert first.reverse == inf


# -- what each reads


@pytest.mark.parametrize("width", [None, 0.1, 1.0])
@pytest.mark.parametrize("own", [0.0, 680.0])
def test_a_single_led(own: float, width: float | None) -> None:
    """Of a bin so wide about the middle of its data sheet, and never beyond that; without one a tenth of a volt beside it."""
    found = leads(hung(RED, f"{own} ohm 5 %" if own else ""), width=width)
    first = found.first
    assert first is not None
    led = beside(RED)
    if width is not None:
        led = RED._replace(forward=(max(1.9, 2.0 - width / 2), 2.0, min(2.3, 2.0 + width / 2)))
    sorts = conditions(found, "lamp")
    assert {sort: len(of) for sort, of in sorts.items()} == {"sound": 1, "shorted": 1, "open": 1} | (
        {"no resistor": 1} if own else {}
    )
    (sound,) = sorts["sound"]
    assert sound.first == near(*across(first, own, led))
    assert sound.turned == near(4.9, 5.0, 5.0, 0.0, 0.0)
    assert sound.more is None
    if own:
        assert sorts["no resistor"][0].first == near(*across(first, 0.0, led))
        assert sorts["no resistor"][0].turned == near(4.9, 5.0, 5.0, 0.0, 0.0)
    # an LED that conducts like wire may keep a tenth of a volt, either way round, and does not light
    wire = across(first, own)
    (shorted,) = sorts["shorted"]
    assert shorted.first == shorted.turned == near(wire.least, wire.usual, wire.most + 0.1, 0.0, 0.0)
    assert sorts["open"][0].first == sorts["open"][0].turned == Across(4.9, 5.0, 5.0, 0.0, 0.0)
    (one,) = found.all
    said = one.expected
    assert (said.kind, said.name, said.colours, said.places) == ("lamp", "lamp", ("red",), ("car",))
    assert (said.first, said.turned, said.more) == (sound.first, sound.turned, None)
    assert (said.resistor, said.plus, said.minus, said.label) == (own or None, "red", "black", "")


def test_what_sits_at_its_end_is_not_read() -> None:
    found = leads(hung(RED, "680 ohm 5 % at hub"))
    first = found.first
    assert first is not None
    assert conditions(found, "lamp")["sound"][0].first == near(*across(first, 0.0, beside(RED)))
    assert "no resistor" not in conditions(found, "lamp")
    assert found.all[0].expected.resistor is None


def test_of_two_in_series_one_shorted_leaves_one_that_lights() -> None:
    found = leads(hung(RED, "330 ohm 5 %", "series = 2"))
    first, led = found.first, beside(RED)
    assert first is not None
    sorts = conditions(found, "lamp")
    assert sorts["sound"][0].first == near(*across(first, 330.0, led, led))
    one = across(first, 330.0, led)
    assert sorts["shorted"][0].first == near(
        one.least, one.usual, one.most + 0.1, one.amps_least, one.amps_most
    )
    # turned, the other one still lets nothing through
    assert sorts["shorted"][0].turned == near(4.9, 5.0, 5.1, 0.0, 0.0)


def test_strings_on_one_lead_share_the_current_and_each_may_be_dark() -> None:
    """Three of 680 ohm: what one takes goes through the bench resistor three times, twice, once."""
    found = leads(hung(RED, "680 ohm 5 %", 'parallel = 3\nstrings_share = "lead"'))
    first, led = found.first, beside(RED)
    assert first is not None
    sorts = conditions(found, "lamp")
    assert sorts["sound"][0].first == pytest.approx(across(first, 680.0, led, count=3), rel=1e-4)
    assert [tuple(one.first) for one in sorts["open"]] == [
        pytest.approx(across(first, 680.0, led, count=2), rel=1e-4),
        pytest.approx(across(first, 680.0, led, count=1), rel=1e-4),
        (4.9, 5.0, 5.0, 0.0, 0.0),
    ]


def test_of_two_strings_on_one_lead_one_may_be_dark() -> None:
    found = leads(hung(RED, "680 ohm 5 %", 'parallel = 2\nstrings_share = "lead"'))
    first, led = found.first, beside(RED)
    assert first is not None
    assert [tuple(one.first) for one in conditions(found, "lamp")["open"]] == [
        pytest.approx(across(first, 680.0, led, count=1), rel=1e-4),
        (4.9, 5.0, 5.0, 0.0, 0.0),
    ]


def test_strings_with_leads_of_their_own_are_read_one_by_one() -> None:
    found = leads(hung(RED, "680 ohm 5 %", 'parallel = 2\nstrings_share = "nothing"'))
    first = found.first
    assert first is not None
    assert [one.expected.name for one in found.all] == ["lamp 1", "lamp 2"]
    for name in ("lamp 1", "lamp 2"):
        sorts = conditions(found, name)
        assert sorts["sound"][0].first == near(*across(first, 680.0, beside(RED)))
        assert [tuple(one.first) for one in sorts["open"]] == [(4.9, 5.0, 5.0, 0.0, 0.0)]
    assert len({one.sort for one in found.all}) == 1


def test_a_bulb_is_cold_at_first_and_nobody_knows_it_better_than_twice() -> None:
    """6 V, 60 mA: 100 ohm lit, a tenth of it cold; at usual parts that, at least half and at most twice of cold or glowing."""
    for count in (1, 2):
        found = leads(BULB, hung("bulb", more=f"series = {count}"))
        first = found.first
        assert first is not None
        cold = first.volts * 10.0 * count / (10.0 * count + first.ohms)
        sorts = conditions(found, "lamp")
        (sound,) = sorts["sound"]
        lit = across(first, 0.0, bulbs=count)
        bounds = min(lit.least, cold) / 2.0, max(lit.most, cold) * 2.0
        assert (
            (sound.first.least, sound.first.most) == (sound.turned.least, sound.turned.most) == near(*bounds)
        )
        assert sound.first.amps_most == pytest.approx(lit.amps_most, rel=1e-6)
        assert sound.first.usual == sound.turned.usual == pytest.approx(cold)
        assert sound.first.amps_least == sound.turned.amps_least == 0.0
        wire = Across(0.0, 0.0, 0.1, 0.0, 0.0)
        assert (sorts["shorted"][0].first, sorts["shorted"][0].turned, sorts["shorted"][0].more) == (
            wire,
            wire,
            None,
        )
        assert found.all[0].expected.colours == ()
        assert found.all[0].expected.turned == sound.turned


def test_they_come_in_order_of_what_they_read_and_alike_ones_are_of_one_sort() -> None:
    found = leads(
        hung(BLUE, "1k 5 %", name="c"),
        hung(RED, "1k 5 %", name="b"),
        hung(RED, "1k 5 %", name="a"),
        hung(RED, name="d"),
    )
    assert [one.expected.name for one in found.all] == ["d", "b", "a", "c"]
    sorts = [one.sort for one in found.all]
    assert sorts[1] == sorts[2]
    assert len({*sorts}) == 3
    # of another tolerance they are not alike
    found = leads(hung(RED, "1k 5 %", name="a"), hung(RED, "1k 1 %", name="b"))
    assert len({one.sort for one in found.all}) == 2


# -- the second setting


def test_the_second_setting_lights_what_stays_dark_at_the_first() -> None:
    """Two blues need 5.6 V: by 2 mA through the resistor of the first, to the volt; the resistor for a quarter of V2 / P."""
    found = leads(hung(BLUE, "100 ohm 5 %", "series = 2", name="far"), hung(RED, "1k 5 %"))
    first, more = found.first, found.more
    assert first is not None
    assert more is not None
    # the red needs the least: the blue is at 2 mA as well, 5 V less some 2.8 V
    lit = max(RED.volts(AIM), BLUE.volts(AIM))
    assert first.ohms == max(one for one in (820, 1000, 1200, 1500) if one <= (5.0 - lit) / AIM)
    assert [point.name for point in found.dark] == ["far"]
    volts = float(round(2 * BLUE.volts(AIM) + AIM * first.ohms))
    heat = BLUE.rated * BLUE.forward[1]
    assert more.volts == volts
    assert more.ohms == first.ohms > volts**2 / (4 * heat) / 0.95
    assert (more.rated, more.delicate, more.reverse, more.weakest) == (0.024, "far", 5.5, "far")
    led = beside(BLUE)
    sound = conditions(found, "far")["sound"][0]
    assert sound.more == near(*across(more, 100.0, led, led))
    assert conditions(found, "far")["open"][0].more == Across(volts - 0.1, volts, volts, 0.0, 0.0)
    assert conditions(found, "lamp")["sound"][0].more is None
    assert found.legs_told


def test_a_long_string_gets_a_resistor_that_keeps_its_heat_below_what_one_led_is_rated_for() -> None:
    """Eight blues need 22.6 V; 25 V, and were the legs swapped all of it on one: P = V2 / 4R is 77 mW at most, so 2.2 kohm."""
    found = leads(hung(BLUE, "100 ohm 5 %", "series = 8", name="far"))
    first, more = found.first, found.more
    assert first is not None
    assert more is not None
    volts = float(round(8 * BLUE.volts(AIM) + AIM * first.ohms))
    needed = volts**2 / (4 * 0.024 * 3.2) / 0.95
    assert needed > first.ohms
    assert (more.volts, more.ohms) == (volts, min(one for one in (1800, 2200, 2700, 3300) if one >= needed))
    assert more.watts == pytest.approx(volts**2 / (4 * 0.95 * more.ohms))
    assert more.watts <= 0.024 * 3.2


def test_it_waits_for_legs_that_tell_which_is_which() -> None:
    """And what is wired backwards is dark because it was meant to be."""
    far, colours = hung(BLUE, "100 ohm 5 %", "series = 2"), ', colours = ["red", "black"]'
    for said, told in ((colours, True), (', colours = ["red", "red"]', False), ("", False)):
        found = leads(far.replace(colours, said))
        assert [one.name for one in found.dark] == ["lamp"]
        assert ((found.more is not None), found.legs_told) == (told, told)
    turned = leads(far + "backwards = true\n")
    assert (turned.dark, turned.more) == ((), None)


@pytest.mark.parametrize(("current", "dark"), [(0.99e-4, True), (1.01e-4, False)])
def test_dark_is_below_a_tenth_of_a_milliamp_in_the_hardest_case(current: float, dark: bool) -> None:
    """The least of all: 5 V over parts that take least, with the resistor of the bench 5 % low."""
    bench = 1200.0
    left = (5.0 - current * (WIRES + 0.95 * bench)) / 2.0
    by = left - beside(RED).volts(current, LEAST)
    least, typical, most = (one + by for one in RED.forward)
    high = RED._replace(name="high", forward=(least, typical, most), low=RED.low + by)
    found = leads(str(high), hung(high, more="series = 2", name="far"), hung(RED, "1k 5 %", name="near"))
    assert found.first is not None
    # 2 mA through what is left of 5 V over the one that needs more, E12 below
    assert found.first.ohms == bench < (5.0 - high.volts(AIM)) / AIM < 1500.0
    assert [one.name for one in found.dark] == (["far"] if dark else [])


# -- loads, and who is tried

RADIO = '[[load]]\nname = "radio"\ncircuit = "a"\nplace = "car"\ntypical = "20 mA"\nlead = "150 mm to hub, red/black"\n'


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ("", "backwards"),
        ('reverse = "4.9 V"\n', "little"),
        ('reverse = "5 V"\n', None),
        ('reverse = "6 V"\nhighest = "4.9 V"\nlowest = "3 V"\n', "forwards"),
        ('reverse = "6 V"\nhighest = "5 V"\nlowest = "3 V"\n', None),
    ],
)
def test_a_load_is_tried_only_if_it_stands_five_volts_either_way(said: str, why: str | None) -> None:
    """It may read anything then."""
    found = leads(RADIO + said, hung(RED, "1k"))
    assert found.apart == ((("radio", why),) if why else ())
    assert [point.name for point in found.tried] == (["lamp"] if why else ["lamp", "radio"])
    if why is None:
        (radio,) = [one for one in found.all if one.expected.name == "radio"]
        assert [tuple(one.first) for one in radio.hypotheses] == [(0.0, 0.0, 5.0, 0.0, 0.0)]
        assert radio.hypotheses[0].turned == radio.hypotheses[0].first
        assert radio.hypotheses[0].condition == "sound"


def test_each_strip_is_read_by_itself() -> None:
    """A segment takes what its resistor and its LED leave of the setting: 150 ohm here, 1.5 kohm there."""
    strips = "".join(
        f'[strip_kind.{name}]\nvolts = "12 V"\nsegment = "50 mm"\nseries = 1\nohms = "{ohms} ohm"\nkind = "crimson"\n'
        f'[[strip]]\nname = "{name}"\ncircuit = "a"\nkind = "{name}"\nplace = "car"\nsegments = 1\n'
        'lead = { length = "150 mm", to = "hub", wire = "bar", colours = ["red", "black"] }\n'
        for name, ohms in (("keen", 150), ("meek", 1500))
    )
    found = leads(strips)
    assert found.first is not None
    usual = {one.expected.name: one.expected.first.usual for one in found.all}
    for name, ohms in (("keen", 150.0), ("meek", 1500.0)):
        current = amps(found.first.volts, ohms + WIRES + found.first.ohms, RED)
        assert usual[name] == pytest.approx(found.first.volts - current * found.first.ohms, rel=1e-6)


def test_loads_alone_are_tried_at_five_volts_through_a_kilohm() -> None:
    found = leads(RADIO + 'reverse = "6 V"\n')
    assert found.first is not None
    assert found.first[:2] == (5.0, 1000.0)
    assert leads(RADIO).first is None
    assert leads(RADIO).all == ()


def test_only_leads_with_both_ends_there_are_asked() -> None:
    split = hung(RED, "1k", name="split").replace(
        'to = "hub", wire = "bar"', 'feed = { to = "hub" }, back = { to = "mast" }, wire = "bar"'
    )
    straight = (
        f'[[lamp]]\nname = "straight"\ncircuit = "a"\nkind = "{RED.name}"\nplace = "hub"\nresistor = "1k"\n'
    )
    found = leads(split, straight, hung(RED, "1k"), run("main-", "hub", "mast"))
    assert [point.name for point in found.test_points] == ["lamp"]


def test_the_second_setting_is_a_volt_above_the_first_at_least() -> None:
    """A lamp that needs 4.53 V at 2 mA usually, and a volt more at the worst; 220 ohm add 0.44 V: to the volt that would be 5."""
    one, other = (
        RED._replace(name=name, forward=(volts - 0.1, volts, volts + more), low=volts - 0.2)
        for name, volts, more in (("tall", 4.6, 0.05), ("taller", 4.8, 1.0))
    )
    found = leads(str(one), str(other), hung(one), hung(other, name="other"))
    first, more = found.first, found.more
    assert first is not None
    assert more is not None
    assert (first.volts, [one.name for one in found.dark]) == (5.0, ["other"])
    assert round(other.volts(AIM) + AIM * first.ohms) == 5
    assert more.volts == 6.0


def test_of_strings_on_one_lead_the_brightest_counts() -> None:
    """With an LED shorted in one of two strings of two that one takes nearly all, and is the brighter for it."""
    found = leads(hung(RED, "330 ohm 5 %", 'series = 2\nparallel = 2\nstrings_share = "lead"'))
    sorts = conditions(found, "lamp")
    (sound,), (shorted,) = sorts["sound"], sorts["shorted"]
    assert shorted.first.amps_least > 1.5 * sound.first.amps_least
    assert shorted.first.amps_most > sound.first.amps_most
