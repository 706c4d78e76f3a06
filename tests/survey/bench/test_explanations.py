"""What would give a current that was not expected: parts changed by hand, and their current put in as the reading."""

from __future__ import annotations

import pytest

from postcheck.survey import Survey
from postcheck.survey.test_records.explained import _Case, _like
from postcheck.survey.test_records.readings import Explanation, Reading
from tests.survey.bench.boats import ADAPTOR, boat, run
from tests.survey.bench.leds import BLUE, RED, WIRE, WIRES, Led, amps, band, hung

KINDS = WIRE + str(RED) + str(BLUE)


def read(
    parts: list[str], current: float, volts: float = 12.0, subject: str = "lamp", **said: str
) -> tuple[Survey, Reading]:
    more = "".join(f'{key} = "{value}"\n' for key, value in said.items())
    proof = (
        f'[[proof]]\nsubject = "{subject}"\nvolts = "{volts} V"\ncurrent = "{current * 1e3:.9f} mA"\n{more}'
    )
    survey = boat(KINDS, *parts, proof, supply=ADAPTOR)
    (reading,) = survey.test_records.readings
    return survey, reading


def causes(
    parts: list[str], current: float, volts: float = 12.0, subject: str = "lamp", **said: str
) -> list[Explanation]:
    """All of them, not the best two alone."""
    survey, reading = read(parts, current, volts, subject, **said)
    assert reading.fits is False
    found = list(_Case(survey.wiring, survey.bench.parts, survey.bench, reading, survey.limits).causes())
    assert survey.test_records.explained(reading) == tuple(found[:2])
    return found


def of(found: list[Explanation], what: str) -> Explanation | None:
    told = [one for one in found if one.what == what]
    assert len(told) <= 1
    return told[0] if told else None


def near(value: float) -> object:
    return pytest.approx(value, rel=1e-6)


LAMP = [hung(RED, "1k 5 %")]


# -- whether it fits


@pytest.mark.parametrize(("times", "fits"), [(0.969, False), (0.971, True)])
def test_the_least_less_what_the_meter_may_be_out(times: float, fits: bool) -> None:
    assert read(LAMP, times * band(12.0, 1000.0, RED, more=WIRES)[0])[1].fits is fits


@pytest.mark.parametrize(("times", "fits"), [(1.029, True), (1.031, False)])
def test_the_most_and_what_the_meter_may_be_out(times: float, fits: bool) -> None:
    _, reading = read(LAMP, times * band(12.0, 1000.0, RED, more=WIRES)[2])
    assert reading.fits is fits
    assert reading.through is fits
    assert reading.rated == 0.030


@pytest.mark.parametrize(("shown", "fits"), [(0.99e-5, True), (1.01e-5, False)])
def test_the_last_digit_of_a_meter_is_nothing(shown: float, fits: bool) -> None:
    """At a volt a red takes nothing that shows."""
    assert amps(1.0, 1000.0, RED) < 1e-8
    assert read(LAMP, shown, 1.0)[1].fits is fits


@pytest.mark.parametrize(("limit", "held"), [(9.7, False), (9.71, True), (10.29, True), (10.32, False)])
def test_a_supply_held_what_is_within_a_meter_of_its_limit(limit: float, held: bool) -> None:
    """10 mA, 3 % of the limit either way."""
    reading = read(LAMP, 0.010, limit=f"{limit} mA")[1]
    assert reading.held is held


def test_what_the_limit_held_fits_up_to_what_would_flow() -> None:
    """A bare red at 12 V takes anything; the limit of 5 mA is what is shown, and says that it lights."""
    bare = [hung(RED)]
    assert read(bare, 0.005, 2.4, limit="5 mA")[1].fits
    assert read(bare, 0.005, 2.4, limit="7 mA")[1].fits is False
    # through the resistor no more than 10 mA flow, so a limit that shows is a short's
    assert read(LAMP, 0.012, limit="12 mA")[1].fits is False
    assert read(LAMP, 0.005, limit="5 mA")[1].fits


# -- several strings on one lead


def many(count: int, series: int = 1, share: float = 5.0) -> list[str]:
    return [hung(RED, f"1k {share:g} %", f'series = {series}\nparallel = {count}\nstrings_share = "lead"')]


ONE = amps(12.0, 1000.0, RED)


@pytest.mark.parametrize(("times", "dark"), [(11.4, True), (11.48, True), (11.50, False), (12.0, False)])
def test_a_dark_string_of_twelve_is_told_where_it_comes_nearer(times: float, dark: bool) -> None:
    """By the ratio of the currents: the root of 11 times 12 is 11.489; the tolerances would let either."""
    _, reading = read(many(12), times * ONE)
    assert reading.fits is not dark
    if dark:
        assert reading.nearer is not None
        assert (reading.nearer[0], reading.nearer[1]) == ("open", pytest.approx(11.0 * ONE, rel=1e-4))
        assert reading.coarse == ""
    else:
        assert (reading.nearer, reading.coarse) == (None, "open")
    # somebody looked
    _, seen = read(many(12), times * ONE, done="all twelve lit")
    assert (seen.fits, seen.nearer, seen.coarse) == (True, None, "")


@pytest.mark.parametrize(
    ("seen", "fits"),
    [("", False), ('subject = "lamp"', True), ('subject = "a"\nat = "hub"', True), ('subject = "a"\nat = "base"', True), ('subject = "blue"', False)],
)  # fmt: skip
def test_what_somebody_saw_of_the_lamp_or_of_its_line_counts_at_its_line(seen: str, fits: bool) -> None:
    """Eleven and a bit of twelve, read at the hub: of another lamp, which is on another line, nothing was seen."""
    other = '[circuit.b]\nsupply = "main"\n' + run("b") + hung(BLUE, "1k", name="blue", circuit="b")
    done = f'[[proof]]\n{seen}\ndone = "all lit"\n' if seen else ""
    proof = f'[[proof]]\nsubject = "a"\nat = "hub"\nvolts = "12 V"\ncurrent = "{11.4 * ONE * 1e3} mA"\n'
    records = boat(KINDS, *many(12), other, proof, done, supply=ADAPTOR).test_records
    (reading,) = records.readings
    assert reading.fits is fits


@pytest.mark.parametrize(("times", "short"), [(1.02, False), (1.10, True)])
def test_a_shorted_led_in_one_of_eight_strings(times: float, short: bool) -> None:
    """Four in series: (12 - 3 * 2) over (12 - 4 * 2) is half as much again in one string of eight."""
    both, three = amps(12.0, 1000.0, RED, RED, RED, RED), amps(12.0, 1000.0, RED, RED, RED)
    _, reading = read(many(8, 4), times * 8 * both)
    failed = 7 * both + three
    assert (failed / (8 * both)) ** 0.5 < 1.10
    if short:
        assert reading.nearer == ("short", pytest.approx(failed, rel=1e-4))
        assert reading.fits is False
    else:
        assert reading.nearer is None
        assert reading.fits


@pytest.mark.parametrize("count", [1, 2, 3, 4, 5, 6, 8, 20])
@pytest.mark.parametrize("share", [0.01, 0.05])
def test_with_few_strings_the_current_shows_each(count: int, share: float) -> None:
    """What usual parts take beside one string less, or beside one that takes all of 12 V over its resistor."""
    _, reading = read(many(count, share=share * 100.0), count * ONE)
    one = band(12.0, 1000.0, RED, tolerance=share)
    short = [12.0 / (1000.0 * (1.0 - share * taken)) for taken in (-1, 0, 1)]
    dark = [(count - 1) * amount for amount in one]
    failed = {"open": dark, "short": [left + more for left, more in zip(dark, short, strict=True)]}
    may = [how for how, (least, _, most) in failed.items() if least * 0.97 <= count * ONE <= most * 1.03]
    assert (reading.fits, reading.coarse) == (True, may[0] if may and count > 1 else "")


def test_strings_that_were_each_measured_are_known() -> None:
    """With leads of their own; whatever all of them together show."""
    own = [hung(RED, "1k 5 %", 'parallel = 12\nstrings_share = "nothing"')]
    records = "".join(
        f'[[proof]]\nsubject = "lamp {n + 1}"\nvolts = "12 V"\ncurrent = "{ONE * 1e3} mA"\n'
        for n in range(12)
    )
    proof = f'[[proof]]\nsubject = "lamp"\nvolts = "12 V"\ncurrent = "{11.4 * ONE * 1e3} mA"\n'
    for parts, fits in (([*own, proof], False), ([*own, proof, records], True)):
        (reading,) = [
            one for one in boat(KINDS, *parts, supply=ADAPTOR).test_records.readings if one.name == "lamp"
        ]
        assert reading.fits is fits


def test_what_is_missing_to_judge_a_reading() -> None:
    two = [*LAMP, hung(BLUE, "1k", name="blue")]
    for subject, said, says in (
        ("main", {}, "the lamp or circuit that it was measured at"),
        ("lamp", {"at": "base"}, "the current of its lead alone, or its circuit"),
        ("a", {"at": "car"}, "a place where both its lines end"),
    ):
        _, reading = read(two, 0.010, subject=subject, **said)
        assert reading.fits is None
        assert reading.missing.startswith(says)
        assert (reading.through, reading.held, reading.expected, reading.rated) == (False, False, (), None)
    assert read(two, 0.010, at="hub")[1].fits
    for more in (hung(BLUE, "1k", name="blue") + RADIO, RADIO):
        _, reading = read([*LAMP, more], 0.010, at="base")
        assert (reading.fits, reading.test_point) == (None, None)
    # where it hangs alone, the line there is as good
    _, reading = read(LAMP, 0.010, at="base")
    assert reading.fits
    assert reading.test_point is not None
    assert reading.test_point.kind == "circuit"


# -- causes


@pytest.mark.parametrize(("times", "dark"), [(0.0199, True), (0.0201, False)])
def test_less_than_a_fiftieth_of_the_least_is_dark(times: float, dark: bool) -> None:
    found = causes(LAMP, times * band(12.0, 1000.0, RED, more=WIRES)[0])
    assert (found == [Explanation("dark")]) is dark


@pytest.mark.parametrize("ohms", [100.0, 470.0, 1500.0, 2200.0, 10000.0])
def test_another_resistor(ohms: float) -> None:
    """(12 - 2) V over it."""
    found = of(causes(LAMP, amps(12.0, ohms + WIRES, RED)), "resistor")
    assert found == Explanation("resistor", ("lamp",), near(ohms), 1000.0)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("given", "there"), [("1k", 100.0), ("470 ohm", 4700.0), ("2k2", 22000.0), ("620 ohm", 62.0)]
)
def test_a_band_of_another_colour_is_likelier_than_the_next_value(given: str, there: float) -> None:
    """As far beside it as its tolerance and the meter's allow."""
    values = {"1k": 1e3, "470 ohm": 470.0, "2k2": 2200.0, "620 ohm": 620.0}
    found = of(causes([hung(RED, f"{given} 5 %")], amps(12.0, there * 1.06, RED)), "resistor")
    assert found == Explanation("resistor", ("lamp",), near(there), values[given])  # type: ignore[arg-type]


@pytest.mark.parametrize("ohms", [150.0, 470.0, 1000.0, 1050.0, 2200.0, 10000.0, 47000.0])
def test_a_resistor_that_the_file_does_not_say(ohms: float) -> None:
    """(12 - 2) V over it, though far less than 2 % of what the LED alone would take; written down it fits."""
    current = amps(12.0, ohms + WIRES, RED)
    found = causes([hung(RED)], current)[0]
    # as E12 has it where that fits too: 1 k for 1.05 k, which E24 calls 1.1 k, within 5 %, 3 % of the meter and the spread of the LED
    assert found == Explanation("unstated", ("lamp",), near(1000.0 if ohms == 1050.0 else ohms))  # type: ignore[arg-type]
    assert read([hung(RED, f"{found.value:.0f} ohm 5 %")], current)[1].fits


@pytest.mark.parametrize(
    ("lamp", "current", "what"),
    [
        (hung(RED), 1e-6, ["dark"]),  # leakage
        (hung(RED, "1k 5 %"), 0.02, ["resistor"]),
        (hung(RED, more="backwards = true"), 0.005, []),
    ],
)
def test_a_resistor_that_is_none(lamp: str, current: float, what: list[str]) -> None:
    survey, reading = read([lamp], current)
    found = [one.what for one in survey.test_records.explained(reading)]
    assert "unstated" not in found
    assert found[:1] == what


def test_a_resistor_that_was_bridged() -> None:
    """At 2.2 V with a limit, some 40 mA through the LED alone; through 150 ohm 1.5 mA."""
    found = causes([hung(RED, "150 ohm 5 %")], amps(2.2, WIRES, RED), 2.2)
    assert found[0] == Explanation("bridged", ("lamp",))


def test_one_led_of_three_shorted_and_strings_that_are_dark() -> None:
    three = [hung(RED, "330 ohm 5 %", "series = 3")]
    found = causes(three, amps(12.0, 330.0 + WIRES, RED, RED))
    assert of(found, "short") == Explanation("short", ("lamp",), 0.0, 3.0)
    four = [hung(RED, "1k 5 %", "parallel = 4")]
    one = amps(12.0, 1000.0 + WIRES, RED)
    for dark in (1, 2, 3):
        found = causes(four, (4 - dark) * one)
        assert of(found, "open") == Explanation("open", ("lamp",), float(dark), 4.0)


@pytest.mark.parametrize(("by", "told"), [(-0.249, True), (-0.251, False), (0.249, True), (0.251, False)])
@pytest.mark.parametrize("series", [1, 2])
def test_an_led_of_another_bin_is_told_up_to_a_quarter_of_a_volt_beside_its_sheet(
    by: float, told: bool, series: int
) -> None:
    """The data sheet says 1.9 to 2.3 V; the resistor is so small that the LED counts."""
    volts = (1.9 if by < 0.0 else 2.3) + by
    other = Led("", (volts,) * 3, 1.8 + volts - 2.0, 0.030)
    supply = 1.7 * series + 1.3
    current = amps(supply, 33.0 + WIRES, *[other] * series)
    parts = [hung(RED, "33 ohm 1 %", f"series = {series}")]
    found = of(causes(parts, current, supply), "forward")
    assert found == (Explanation("forward", ("lamp",), near(volts), 2.0) if told else None)  # type: ignore[arg-type]


@pytest.mark.parametrize(("volts", "told"), [(10.25, True), (10.15, False), (13.75, True), (13.85, False)])
def test_a_setting_up_to_15_percent_out(volts: float, told: bool) -> None:
    found = of(causes([hung(RED, "1k 1 %")], amps(volts, 1000.0 + WIRES, RED)), "volts")
    # 13.8 V is a usual setting itself: what is within 4 % of it is it
    expected = volts if told else (13.8 if volts > 13.0 else None)
    assert found == (None if expected is None else Explanation("volts", (), near(expected), 12.0))  # type: ignore[arg-type]


@pytest.mark.parametrize("usual", [3.0, 3.3, 3.7, 4.5, 5.0, 6.0, 7.4, 7.5, 9.0, 15.0, 24.0])
def test_another_usual_setting(usual: float) -> None:
    """Those of batteries, adaptors and USB: exactly that one is told, though the nearest is a little beside."""
    current = amps(usual * 1.003, 1000.0 + WIRES, RED)
    found = of(causes([hung(RED, "1k 5 %")], current), "volts")
    assert found == Explanation("volts", (), usual, 12.0)


@pytest.mark.parametrize(
    ("usual", "times", "told"),
    [(5.0, 1.039, True), (5.0, 1.042, False), (9.0, 0.963, True), (9.0, 0.960, False)],
)
def test_within_4_percent_of_a_usual_setting(usual: float, times: float, told: bool) -> None:
    """The resistor's tolerance would let more."""
    current = amps(usual * times, 1000.0 + WIRES, RED)
    found = of(causes([hung(RED, "1k 15 %")], current), "volts")
    assert found == (Explanation("volts", (), usual, 12.0) if told else None)


# -- a supply that may have held it


@pytest.mark.parametrize(
    ("current", "told"),
    [
        (4.00, True),
        (4.04, True),
        (4.06, False),
        (3.96, True),
        (3.94, False),
        (29.0, True),
        (30.0, True),
        (31.0, False),
    ],
)
def test_whole_milliamps_up_to_the_rating_may_be_a_limit(current: float, told: bool) -> None:
    """Of bare ends at 2.6 V that would take 35 mA at least; give or take a twentieth of a milliamp."""
    bare = [hung(RED, "1k 5 % at base")]
    assert amps(3.0, WIRES, RED, taken=-1) > 0.035
    found = of(causes(bare, current * 1e-3, 3.0), "held")
    assert found == (Explanation("held") if told else None)


def test_no_limit_is_guessed_where_one_is_told_or_a_resistor_is_ahead() -> None:
    assert of(causes(LAMP, 0.004), "held") is None
    bare = [hung(RED, "1k 5 % at base")]
    assert of(causes(bare, 0.004, 3.0, limit="9 mA"), "held") is None


# -- one of several

PAIR = [hung(RED, "1k 5 %"), hung(BLUE, "470 ohm 5 %", name="blue")]


def test_one_of_two_that_is_dark_shorted_or_has_another_resistor() -> None:
    """Each by what the other takes beside it."""
    red, blue = amps(12.0, 1000.0 + WIRES, RED), amps(12.0, 470.0 + WIRES, BLUE)
    assert of(causes(PAIR, blue, subject="a", at="hub"), "missing") == Explanation("missing", ("lamp",))
    assert of(causes(PAIR, red, subject="a", at="hub"), "missing") == Explanation("missing", ("blue",))
    short = red + 12.0 / (470.0 + WIRES)
    assert of(causes(PAIR, short, subject="a", at="hub"), "short") == Explanation(
        "short", ("blue",), 0.0, 1.0
    )
    _, reading = read(PAIR, red + amps(12.0, 4700.0 + WIRES, BLUE), subject="a", at="hub")
    assert reading.rated == pytest.approx(0.054)
    found = causes(PAIR, red + amps(12.0, 4700.0 + WIRES, BLUE), subject="a", at="hub")
    assert Explanation("resistor", ("blue",), near(4700.0), 470.0) in found  # type: ignore[arg-type]


def test_of_like_ones_all_are_named() -> None:
    three = [hung(RED, "1k 5 %", name=name) for name in ("one", "two", "three")]
    found = causes(three, 2.0 * amps(12.0, 1000.0 + WIRES, RED), subject="a", at="hub")
    assert of(found, "missing") == Explanation("missing", ("one", "two", "three"))


def test_two_that_are_dark_where_one_is_not_enough() -> None:
    """By what the third takes: 10 mA of a red behind 1k, some 33 mA of a blue one behind 270 ohm."""
    red, blue = amps(12.0, 1000.0 + WIRES, RED), amps(12.0, 270.0 + WIRES, BLUE)
    three = [hung(RED, "1k 5 %", name=name) for name in ("one", "two", "three")]
    assert causes(three, red, subject="a", at="hub")[0] == Explanation("pair", ("one", "two", "three"))
    mixed = [*three[:2], hung(BLUE, "270 ohm 5 %", name="blue")]
    # a single part goes first: another resistor before the blue one, beside both reds
    assert causes(mixed, blue, subject="a", at="hub")[0].what == "resistor"
    assert causes(mixed, red, subject="a", at="hub")[0] == Explanation("pair", ("one", "two", "blue"))
    # one that is dark is told alone, and nothing lit is told as dark
    assert of(causes(three, 2.0 * red, subject="a", at="hub"), "pair") is None
    assert of(causes(PAIR, 1e-9, subject="a", at="hub"), "pair") is None


RADIO = '[[load]]\nname = "radio"\ncircuit = "a"\nplace = "hub"\ntypical = "40 mA"\nleast = "38 mA"\nmost = "43 mA"\n'


def test_a_load_that_is_missing() -> None:
    red = amps(12.0, 1000.0 + WIRES, RED)
    _, reading = read([*LAMP, RADIO], red + 0.040, subject="a", at="hub")
    assert (reading.fits, reading.rated) == (True, None)
    found = causes([*LAMP, RADIO], red, subject="a", at="hub")
    assert of(found, "missing") == Explanation("missing", ("radio",))
    found = causes([*LAMP, RADIO], 0.040, subject="a", at="hub")
    assert of(found, "missing") == Explanation("missing", ("lamp",))


EVEN = Led("even", (3.19, 3.2, 3.21), 2.85, 0.030)
STRIP = (
    '[strip_kind.tape]\nvolts = "12 V"\nsegment = "50 mm"\nseries = 3\nohms = "150 ohm"\nkind = "even"\n'
    '[[strip]]\nname = "tape"\ncircuit = "a"\nkind = "tape"\nplace = "hub"\nlength = "{} mm"\n'
)


@pytest.mark.parametrize(("segments", "there"), [(5, 2), (5, 4), (5, 6), (5, 8), (2, 1), (1, 4)])
def test_a_strip_of_more_or_fewer_segments(segments: int, there: int) -> None:
    """(12 - 3 * 3.1) V over 150 ohm each, but for the traces."""
    parts = [str(EVEN), STRIP.format(50 * segments)]
    each = amps(12.0, 150.0, EVEN, EVEN, EVEN)
    current = there * each
    found = of(causes(parts, current, subject="tape"), "segments")
    assert found == Explanation("segments", ("tape",), float(there), float(segments))


@pytest.mark.parametrize(
    ("parts", "subject", "rated"),
    [
        (LAMP, "lamp", 0.030),
        ([hung(RED, "1k 5 %", 'parallel = 3\nstrings_share = "nothing"')], "lamp", 0.090),
        ([hung(RED, "1k 5 %", 'parallel = 3\nstrings_share = "nothing"')], "lamp 2", 0.030),
        ([*LAMP, hung(BLUE, "1k", "parallel = 2", name="blue")], "a", 0.030 + 0.048),
        ([*LAMP, RADIO], "a", None),
        ([RADIO], "radio", None),
        (
            ['[lamp_kind.bulb]\nkind = "filament"\nvolts = "12 V"\nrated = "60 mA"\n', hung("bulb")],
            "lamp",
            None,
        ),
        (
            [
                '[lamp_kind.bulb]\nkind = "filament"\nvolts = "12 V"\nrated = "60 mA"\n',
                hung("bulb", name="bulb"),
                *LAMP,
            ],
            "a",
            None,
        ),
    ],
)
def test_what_the_strings_behind_a_meter_are_rated_for(
    parts: list[str], subject: str, rated: float | None
) -> None:
    """Together; None where something else takes current there, or a bulb, which its volts set."""
    said = {"at": "hub"} if subject == "a" else {}
    _, reading = read(parts, 0.010, subject=subject, **said)
    assert reading.rated == (None if rated is None else pytest.approx(rated))


def test_a_record_without_a_date_is_of_the_day_above_it() -> None:
    """Of one day the last of the file counts; what is still to come proves nothing."""

    def latest(*days: str | None) -> int:
        records = "".join(
            '[[proof]]\nsubject = "lamp"\nhours = "1 h"\n' + (f"date = {day}\n" if day else "")
            for day in days
        )
        (known,) = boat(KINDS, *LAMP, records).test_records.known.values()
        return known.said["hours"]

    assert latest("2026-01-02", None, "2026-01-01") == 1
    assert latest("2026-01-01", None, "2026-01-01") == 2
    assert latest(None, "2026-01-01", None) == 2
    assert latest("2026-01-01", "2999-01-01", None) == 2
    assert latest("2026-01-03", "2026-01-02", "2026-01-01") == 0


# -- which of several causes


def test_bare_ends_are_looked_at_bare_where_that_is_nearer() -> None:
    """A red of 2.5 V on 2.6 V takes some 30 mA without its resistor and 0.7 mA with it."""
    parts = [hung(RED, "1k 5 % at hub")]
    other = Led("", (2.5,) * 3, 2.3, 0.030)
    current = amps(2.6, WIRES, other)
    found = of(causes(parts, current, 2.6, limit="1 A"), "forward")
    assert found == Explanation("forward", ("lamp",), near(2.5), 2.0)  # type: ignore[arg-type]
    # and through it where that is
    found = of(causes(parts, amps(3.7, 1000.0 + WIRES, RED), 2.6, limit="1 A"), "volts")
    assert found == Explanation("volts", (), near(3.7), 2.6)  # type: ignore[arg-type]
    # some tenth of what bare ends take is another resistor
    current = amps(2.6, 220.0 + WIRES, RED)
    found = of(causes(parts, current, 2.6, limit="1 A"), "resistor")
    assert found == Explanation("resistor", ("lamp",), near(220.0), 1000.0)  # type: ignore[arg-type]


@pytest.mark.parametrize(("there", "told"), [(10.0, True), (15.0, False), (22.0, False)])
def test_beyond_what_destroys_it_only_a_slip_of_a_decade_is_told(there: float, told: bool) -> None:
    """More than five times 30 mA: no die's curve is known, but a band of another colour still is likely."""
    current = amps(12.0, there + WIRES, RED)
    assert current > 5 * 0.030
    found = of(causes([hung(RED, "1k 5 %")], current), "resistor")
    assert found == (Explanation("resistor", ("lamp",), near(there), 1000.0) if told else None)  # type: ignore[arg-type]
    assert of(causes([hung(RED, "1k 5 %")], current), "forward") is None


@pytest.mark.parametrize(("given", "there"), [("470 ohm", 4.7), ("680 ohm", 68.0)])
def test_a_slip_of_a_decade_is_one_of_any_value(given: str, there: float) -> None:
    """68 ohm at 12 V are less than what destroys it, 4.7 ohm more."""
    found = of(causes([hung(RED, f"{given} 5 %")], amps(12.0, there + WIRES, RED)), "resistor")
    assert found == Explanation("resistor", ("lamp",), near(there), float(given[:3]))  # type: ignore[arg-type]


@pytest.mark.parametrize(("current", "volts"), [(0.0, 1.0), (0.0, 0.0), (0.8e-5, 1.0)])
def test_of_several_strings_nothing_that_shows_comes_no_nearer_to_one(current: float, volts: float) -> None:
    """Below what a meter shows all is alike, whether one of twelve is dark or shorted."""
    _, reading = read(many(12), current, volts)
    assert (reading.fits, reading.nearer, reading.coarse) == (True, None, "open")


def test_the_plainest_come_first_and_those_of_which_it_would_be_true_are_named_together() -> None:
    """One that is dark before another resistor; reds of 1k with other tolerances are two sorts, and one cause."""
    parts = [hung(RED, "1k 5 %"), hung(RED, "1k 2 %", name="twin"), hung(BLUE, "470 ohm 5 %", name="blue")]
    red, blue = amps(12.0, 1000.0, RED), amps(12.0, 470.0, BLUE)
    found = causes(parts, red + blue, subject="a", at="hub")
    assert found[0] == Explanation("missing", ("lamp", "twin"))
    order = [
        ("missing", "short", "open", "resistor").index(one.what)
        for one in found
        if one.what not in ("held", "volts")
    ]
    assert order == sorted(order)
    assert "resistor" in {one.what for one in found}


@pytest.mark.parametrize(("count", "seen"), [(12, True), (13, False)])
def test_of_more_than_a_dozen_sorts_the_rest_is_not_tried(count: int, seen: bool) -> None:
    parts = [hung(EVEN, f"{500 + 50 * n} ohm 1 %", name=f"red {n}") for n in range(count)]
    total = sum(amps(12.0, 500.0 + 50.0 * n, EVEN) for n in range(count - 1))
    found = of(causes([str(EVEN), *parts], total, subject="a", at="hub"), "missing")
    assert (found is not None and f"red {count - 1}" in found.names) is seen


@pytest.mark.parametrize(
    ("name", "kinds"), [("smd-0603-red", True), ("smd-0603-white", True), ("led-5mm-red", True)]
)
def test_other_colours_of_the_same_size_are_named(name: str, kinds: bool) -> None:
    """A typical one of another colour put in its place: at most two, of its package, and itself not among them."""
    from postcheck import catalogue  # noqa: PLC0415

    size = "-".join(name.split("-")[:2]) + "-"
    others = [one for one in catalogue.names("lamp") if one.startswith(size) and one != name]
    there = f"{size}blue" if "red" in name else f"{size}red"
    assert there in others
    made = boat(KINDS, hung(there, "100 ohm 1 %"), supply=ADAPTOR)
    point = made.bench.lead("lamp", "lamp")
    assert point is not None
    expected = made.bench.expected(point, 4.0, with_resistors=True)
    assert expected is not None
    found = of(causes([hung(name, "100 ohm 1 %")], expected.usual, 4.0), "forward")
    assert (found is not None) is kinds
    assert found is not None
    assert 1 <= len(found.kinds) <= 2
    assert {*found.kinds} <= {*others}


def test_the_volts_of_a_load_are_not_told_by_what_it_takes_at_any() -> None:
    """Below its lowest 4.5 V it takes less, in step with the volts: 27 mA at 3 V, 33 at 3.7 V; its 40 mA at 4.5 V and at 24."""
    radio = RADIO.replace('"38 mA"', '"40 mA"').replace('"43 mA"', '"40 mA"') + 'lowest = "4.5 V"\n'
    assert of(causes([radio], 0.040, 3.0, subject="radio"), "volts") is None
    found = of(causes([radio], 0.040 * 3.7 / 4.5, 3.0, subject="radio"), "volts")
    assert found == Explanation("volts", (), near(3.7), 3.0)  # type: ignore[arg-type]
    # beside a lamp the volts tell
    found = of(
        causes([radio, *LAMP], 0.040 + amps(9.0, 1000.0 + WIRES, RED), 24.0, subject="a", at="hub"), "volts"
    )
    assert found == Explanation("volts", (), near(9.0), 24.0)  # type: ignore[arg-type]


def test_only_leds_of_one_die_are_taken_for_another_colour() -> None:
    assert _like("led-5mm-rgb") is None
    assert _like("rice-12v") is None
    red = _like("smd-0603-red")
    assert red is not None
    assert red.colour == "red"


@pytest.mark.parametrize(
    ("lamp", "subject", "most"),
    [
        ("75 ohm 1 %", "lamp", 12.0 / 74.25),
        # each string has its own, and all of them together twice as much; one for both lets no more through than one
        ('75 ohm 1 %|parallel = 2\nstrings_share = "lead"', "lamp", 2 * 12.0 / 74.25),
        ('36 ohm 1 %|parallel = 2\none_resistor = true\nstrings_share = "lead"', "lamp", 12.0 / 35.64),
        ('75 ohm 1 %|parallel = 2\nstrings_share = "nothing"', "lamp 2", 12.0 / 74.25),
    ],
)
@pytest.mark.parametrize(("times", "told"), [(1.029, False), (1.031, True)])
def test_more_than_comes_through_a_resistor_with_nothing_behind_it(
    lamp: str, subject: str, most: float, times: float, told: bool
) -> None:
    """All of 12 V over the least that it may have, and what the meter may be out; no LED lives to tell of another value."""
    resistor, _, more = lamp.partition("|")
    found = of(causes([hung(RED, resistor, more)], times * most, subject=subject), "past")
    assert found == (Explanation("past", ("lamp",), near(most), float(resistor[:2])) if told else None)  # type: ignore[arg-type]


def test_of_bare_ends_no_resistor_is_told_to_be_passed_by() -> None:
    """It may have been left out, as bare ends are tried."""
    parts = [hung(RED, "75 ohm 1 % at hub")]
    assert of(causes(parts, 1.1 * 12.0 / 74.25, limit="1 A"), "past") is None


@pytest.mark.parametrize(("current", "held"), [(0.029, True), (0.031, False)])
def test_the_lead_of_one_string_counts_for_one(current: float, held: bool) -> None:
    """A limit is set to what one of two strings is rated for, 30 mA, where one is measured; and one dies of five times that."""
    two = 'parallel = 2\nstrings_share = "nothing"'
    found = causes([hung(RED, "1k 5 % at hub", two)], current, 3.0, subject="lamp 2")
    assert (of(found, "held") is not None) is held
    for amount, told in ((0.149, True), (0.151, False)):
        found = causes([hung(RED, more=two)], amount, 12.0, subject="lamp 2")
        assert (of(found, "unstated") is not None) is told


def test_both_of_two_like_ones_that_are_dark() -> None:
    """The radio beside them takes its 40 mA; without one red it would be 50."""
    two = [hung(RED, "1k 5 %", name=name) for name in ("one", "two")]
    found = causes([*two, RADIO], 0.040, subject="a", at="hub")
    assert found[0] == Explanation("pair", ("one", "two"))


@pytest.mark.parametrize(("lit", "dark"), [(4.6, 1.0), (4.4, 2.0)])
def test_of_two_counts_of_dark_strings_that_fit_the_nearer_by_ratio_is_told(lit: float, dark: float) -> None:
    """Between four and five of six: the root of twenty, 4.47, parts them. At 20 % either would do."""
    six = [hung(RED, "1k 20 %", "parallel = 6")]
    found = of(causes(six, lit * amps(12.0, 1000.0 + WIRES, RED)), "open")
    assert found == Explanation("open", ("lamp",), dark, 6.0)


def test_a_resistor_of_less_than_a_hundredth_of_what_is_said() -> None:
    """470 ohm for 100 k: some 21 mA for a tenth of a milliamp."""
    found = of(causes([hung(RED, "100k 5 %")], amps(12.0, 470.0 + WIRES, RED)), "resistor")
    assert found == Explanation("resistor", ("lamp",), near(470.0), 100e3)  # type: ignore[arg-type]


def test_a_supply_of_24_volts_is_told_of_one_that_was_set_to_five() -> None:
    current = amps(24.0 * 0.997, 1000.0 + WIRES, RED)
    found = of(causes([hung(RED, "1k 5 %")], current, 5.0), "volts")
    assert found == Explanation("volts", (), 24.0, 5.0)


def test_lamps_alike_but_for_the_tolerance_of_their_resistors_are_tried_apart() -> None:
    """10 mA and 2.1 mA: with ten times its ohms the tight one leaves up to 13 mA of the loose; the loose one no more than 11.6."""
    two = [hung(RED, "1k 1 %", name="tight"), hung(RED, "1k 20 %", name="loose")]
    current = amps(12.0, 1000.0, RED) + amps(12.0, 4700.0, RED)
    found = [one for one in causes(two, current, subject="a") if one.what == "resistor"]
    assert {one.names: one.value for one in found} == {("tight",): near(10e3), ("loose",): near(4700.0)}


def test_of_several_counts_of_dark_strings_the_nearest_is_told() -> None:
    """What four of six take, and a twentieth more or less: with resistors of 20 % five could take as much, but four come nearer."""
    six = [hung(RED, "1k 20 %", "parallel = 6")]
    one = amps(12.0, 1000.0 + WIRES, RED)
    for strings in (4.2, 3.8):
        assert of(causes(six, strings * one), "open") == Explanation("open", ("lamp",), 2.0, 6.0)
