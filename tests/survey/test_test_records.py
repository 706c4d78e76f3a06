"""Measured currents against computed ones. What the bench computes is compared with ngspice elsewhere; here by Ohm's law."""

from __future__ import annotations

from datetime import date

import pytest

import postcheck
from postcheck.description.problems import BuildError
from postcheck.survey import Survey
from postcheck.survey.test_records.readings import Explanation, Reading

from .small import lamp, survey

STRING = lamp().replace('"smd-0402-red"', '"smd-0603-warm-white"').replace('"1k5 1/4 W"', '"390 ohm 1/4 W"')


def record(**said: str) -> str:
    return "\n[[proof]]\n" + "".join(f"{key} = {value}\n" for key, value in said.items())


def reading(
    current: str, volts: str = "12 V", lamps: str | None = None, **said: str
) -> tuple[Survey, Reading]:
    text = record(subject='"bow lamp"', volts=f'"{volts}"', current=f'"{current}"', **said)
    made = survey(lamps=lamps, extra=text)
    (one,) = made.test_records.readings
    return made, one


def causes(current: str, lamps: str | None = None, volts: str = "12 V") -> list[Explanation]:
    made, one = reading(current, volts, lamps)
    assert one.fits is False
    return list(made.test_records.explained(one))


def what(found: list[Explanation]) -> list[str]:
    return [one.what for one in found]


# a red lamp of about 1.9 V behind 1k5 of 5 % (by Ohm's law 6.7 mA; 6.4 to 7.1 mA for the resistor alone)
@pytest.mark.parametrize(("current", "fits"), [("5.5 mA", False), ("6.6 mA", True), ("8 mA", False)])
def test_a_reading_lies_in_its_band_or_not(current: str, fits: bool) -> None:
    _, one = reading(current)
    assert one.fits is fits
    (expected,) = one.expected
    assert expected.band.usual == pytest.approx((12.0 - 1.9) / 1500.0, rel=0.05)


def test_a_current_without_its_volts_is_not_judged() -> None:
    made = survey(extra=record(subject='"bow lamp"', current='"6.6 mA"'))
    (one,) = made.test_records.readings
    assert (one.fits, one.missing) == (None, 'the bench voltage, such as volts = "12 V"')


# V/R: nothing but the resistor is left in the way. 12 V / 1500 ohm = 8 mA
def test_a_short_across_a_lamp_is_ohms_law() -> None:
    assert causes("8 mA")[0] == Explanation("short", ("bow lamp",), given=1.0)


# (12 - 1.9) V / 6.6 mA is 1k5; a third of the current is 4k7 by the same rule, the nearest of E24 (IEC 60063)
def test_the_nearest_value_of_the_series_is_told() -> None:
    (found, *_) = causes("2.14 mA")
    assert (found.what, found.value, found.given) == ("resistor", 4700.0, 1500.0)


def test_nothing_that_flows_is_polarity_or_an_open_joint_and_nothing_else() -> None:
    assert causes("0 A") == [Explanation("dark")]


# two strings of (12 - 2 * 2.9) V / 390 ohm each; one dark leaves half
def test_a_dark_string_is_half_the_current() -> None:
    two = STRING.replace("place =", "series = 2\nparallel = 2\nplace =")
    _, one = reading("32 mA", lamps=two)
    assert one.fits
    found = causes("16 mA", two)
    assert found[0] == Explanation("open", ("bow lamp",), 1.0, 2.0)


# one of three LEDs shorted: the string takes as much as one of two
def test_a_shorted_led_leaves_one_fewer() -> None:
    three = STRING.replace("place =", "series = 3\nplace =")
    two = survey(lamps=STRING.replace("place =", "series = 2\nplace ="))
    amps = two.bench.expected(two.bench.leads["lamp", "bow lamp"], 12.0, with_resistors=False).usual
    assert "short" in what(causes(f"{amps * 1e3:.2f} mA", three))


# a string of two whites in place of two reds takes (12 - 2 * 2.9) instead of (12 - 2 * 1.9) V over its resistor
def test_another_colour_in_the_string_is_told_by_its_volts() -> None:
    reds = STRING.replace("warm-white", "red").replace("place =", "series = 2\nplace =")
    whites = survey(lamps=STRING.replace("place =", "series = 2\nplace ="))
    amps = whites.bench.expected(whites.bench.leads["lamp", "bow lamp"], 12.0, with_resistors=False).usual
    made, one = reading(f"{amps * 1e3:.2f} mA", lamps=reds)
    assert one.fits is False
    from postcheck.survey.test_records.explained import _Case  # noqa: PLC0415 - all causes, not the best two

    all_of_them = list(_Case(made.wiring, made.parts, made.bench, one, made.limits).causes())
    (forward,) = [found for found in all_of_them if found.what == "forward"]
    assert any("white" in kind or "blue" in kind or "green" in kind for kind in forward.kinds)


def test_what_no_single_part_explains_is_not_explained() -> None:
    # 1.9 V and no resistor at all: no lamp stands 700 mA, and none that does is another sort of it
    assert causes("700 mA", lamp().replace('resistor = "1k5 1/4 W"', "")) == []


# 12 V / (1500 ohm less 5 %) = 8.42 mA is the most that comes through the resistor with nothing but wire behind it
def test_more_than_the_resistor_can_let_through_is_the_resistor_whatever_the_lamp() -> None:
    (found,) = causes("700 mA")
    assert (found.what, found.given) == ("past", 1500.0)
    assert found.value == pytest.approx(12.0 / (0.95 * 1500.0), rel=1e-6)
    # a value that would let it through is told instead
    assert "past" not in what(causes("12 mA"))


def test_a_lead_whose_resistor_sits_at_its_joint_may_be_read_with_it_or_without() -> None:
    at_hull = lamp(at=" at hull")
    assert reading("6.6 mA", lamps=at_hull)[1].fits
    _, bare = reading("2 mA", "1.8 V", at_hull)
    assert (bare.fits, bare.through) == (True, False)
    # held by the bench supply's limit: it proves only that the lamp takes it
    assert reading("2 mA", "3 V", at_hull)[1].fits is False
    assert reading("2 mA", "3 V", at_hull, limit='"2 mA"')[1].fits
    # never the first: here 3 V through 1.5 kohm alone are 2 mA as well
    assert what(causes("2 mA", at_hull, "3 V")) == ["short", "held"]


def test_bare_ends_are_expected_only_at_a_setting_that_makes_sense() -> None:
    at_hull = lamp(at=" at hull")
    # nobody puts 12 V on a bare red; at 1.8 V, or with a limit, it may have been meant
    assert [one.resistor for one in reading("4 mA", lamps=at_hull)[1].expected] == [True]
    assert [one.resistor for one in reading("4 mA", "1.8 V", at_hull)[1].expected] == [True, False]
    assert [one.resistor for one in reading("4 mA", lamps=at_hull, limit='"2 mA"')[1].expected] == [
        True,
        False,
    ]
    # a whole number of milliamps is a bench supply's limit all the same
    assert what(causes("4 mA", at_hull)) == ["resistor", "held"]


# a bare red of some 2.0 V at 1.5 mA, 0.3 V less to 0.4 V more: (12 - 2.0) V / 6k8 is 1.5 mA, and with its 1k5 as well
# 1.2 mA (Ohm's law)
def test_a_resistor_in_the_bench_lead_counts() -> None:
    at_hull = lamp(at=" at hull")
    _, bare = reading("1.5 mA", lamps=at_hull, through='"6k8"')
    assert (bare.fits, bare.through) == (True, False)
    assert bare.expected[1].band.least == pytest.approx((12.0 - 2.4) / 6800.0 / 1.05, rel=0.01)
    assert bare.expected[1].band.most == pytest.approx((12.0 - 1.7) / 6800.0 / 0.95, rel=0.01)
    _, whole = reading("1.23 mA", lamps=at_hull, through='"6k8"')
    assert (whole.fits, whole.through) == (True, True)
    # a resistor with the lamp itself might be bridged, and between 6k8 and 8k3 that would hardly be seen
    _, own = reading("1.23 mA", through='"6k8"')
    assert (own.fits, own.through) == (True, False)
    made, short = reading("1.76 mA", lamps=at_hull, through='"6k8"')
    assert short.fits is False
    assert what(list(made.test_records.explained(short)))[0] == "short"  # 12 V / 6k8


def test_the_meter_may_be_out_by_its_limit() -> None:
    _, one = reading("6.6 mA")
    most = one.expected[0].band.most
    assert reading(f"{most * 1.029 * 1e3:.4f} mA")[1].fits
    assert not reading(f"{most * 1.031 * 1e3:.4f} mA")[1].fits


@pytest.mark.parametrize(
    ("days", "counts"),
    [(("2026-03-01", "2026-03-02"), 1), (("2026-03-02", "2026-03-01"), 0), (("2026-03-01", "2026-03-01"), 1), ((None, None), 1),
     (("2026-03-02", None), 1), ((None, "2026-03-01"), 1)],
)  # fmt: skip
def test_the_latest_counts(days: tuple[str | None, str | None], counts: int) -> None:
    text = "".join(
        record(
            subject='"bow lamp"', volts='"12 V"', current=f'"{current} mA"', **({"date": day} if day else {})
        )
        for day, current in zip(days, ("6.5", "6.6"), strict=True)
    )
    (one,) = survey(extra=text).test_records.readings
    assert one.position == counts


def test_the_order_is_the_same_whichever_are_compared() -> None:
    """One without a date is as of the latest above it: here it is the latest, though dated ones stand below."""
    text = "".join(
        record(subject='"bow lamp"', volts='"12 V"', current='"6.6 mA"', **({"date": day} if day else {}))
        for day in ("2026-03-03", None, "2026-03-01", "2026-03-02")
    )
    (one,) = survey(extra=text).test_records.readings
    assert one.position == 1


@pytest.mark.parametrize("limit", [{}, {"limit": '"200 mA"'}])
def test_a_slip_of_a_decade_is_told_however_it_was_meant_to_be_tried(limit: dict[str, str]) -> None:
    """12 V less some 2.3 V of a red driven hard over 150 ohm is 65 mA; with a limit bare ends are possible as well."""
    made, one = reading("65 mA", lamps=lamp(at=" at hull"), **limit)
    assert len(one.expected) == 1 + len(limit)
    first = made.test_records.explained(one)[0]
    assert (first.what, first.value, first.given) == ("resistor", pytest.approx(150.0), 1500.0)


@pytest.mark.parametrize(("current", "volts"), [("0 mA", "0 V"), ("0 mA", "1 V"), ("8 uA", "1 V")])
def test_what_no_meter_shows_is_no_fault(current: str, volts: str) -> None:
    assert reading(current, volts)[1].fits


def test_what_is_still_to_come_proves_nothing() -> None:
    text = record(subject='"bow lamp"', volts='"12 V"', current='"6.6 mA"', date="2026-03-02")
    build = survey(extra=text).build
    assert Survey(build, today=date(2026, 3, 1)).test_records.readings == ()
    assert len(Survey(build, today=date(2026, 3, 2)).test_records.readings) == 1


def test_what_is_not_there_cannot_be_proven() -> None:
    with pytest.raises(BuildError) as error:
        survey(extra=record(subject='"bow lmap"', at='"hul"'))
    assert [(problem.check, problem.path, problem.hint) for problem in error.value.problems] == [
        ("file.unknown-name", ("proof", 0, "subject"), "did you mean 'bow lamp'?"),
        ("file.unknown-name", ("proof", 0, "at"), "did you mean 'hull'? Or describe it:"),
    ]


@pytest.mark.parametrize(
    ("words", "kind"),
    [
        ("lights", "circuit"),
        ("circuit lights", "circuit"),
        ("feed", "run"),
        ("main", "supply"),
        ("post", "passage"),
    ],
)
def test_anything_with_a_name_can_be_proven(words: str, kind: str) -> None:
    made = survey(extra=record(subject=f'"{words}"', hours='"24 h"'))
    assert [known.kind for known in made.test_records.known.values()] == [kind]


def test_a_lamp_of_several_colours_is_measured_by_colour() -> None:
    text = postcheck.__path__[0] + "/../tests/builds/sound/colour-lamp-with-three-dice.post.toml"
    with open(text, encoding="utf-8") as file:
        source = file.read()
    build = postcheck.loads(source)
    name = next(iter({lamp.entry for lamp in Survey(build).parts.lamps if lamp.colour}))
    whole = postcheck.loads(source + record(subject=f'"{name}"', volts='"12 V"', current='"5 mA"'))
    assert "colours" in Survey(whole).test_records.readings[0].missing
    one = postcheck.loads(source + record(subject=f'"{name} red"', volts='"12 V"', current='"5 mA"'))
    assert Survey(one).test_records.readings[0].missing == ""


def test_a_load_of_which_only_the_usual_current_is_known_has_a_spread() -> None:
    def fits(current: str, load: str = "") -> bool | None:
        hoist = f'[[load]]\nname = "hoist"\nkind = "sound"\ncircuit = "lights"\nplace = "hull"\ntypical = "30 mA"\n{load}\n'
        text = hoist + record(subject='"hoist"', volts='"12 V"', current=f'"{current}"')
        (one,) = survey(extra=text).test_records.readings
        return one.fits

    # 30 % either way (load.spread), and the meter's 3 %
    assert [fits(current) for current in ("20 mA", "22 mA", "38 mA", "41 mA")] == [False, True, True, False]
    # what the file says counts
    assert fits("38 mA", 'most = "32 mA"') is False
    assert fits("22 mA", 'least = "29 mA"') is False
    assert fits("41 mA", 'most = "45 mA"') is True


@pytest.mark.parametrize("least", ["", 'least = "25 mA"', 'least = "4 mA"'])
def test_a_motor_that_runs_free_at_the_bench_is_no_fault(least: str) -> None:
    """It takes a fifth of its typical current at least (motor.free), or what the file gives where that is less; and the meter's 3 %."""

    def fits(current: str) -> bool | None:
        winch = f'[[load]]\nname = "winch"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "30 mA"\n{least}\n'
        (one,) = survey(
            extra=winch + record(subject='"winch"', volts='"12 V"', current=f'"{current}"')
        ).test_records.readings
        return one.fits

    lowest = 4.0 if "4 mA" in least else 6.0
    assert [fits(f"{lowest * share:g} mA") for share in (0.95, 0.98, 2.0)] == [False, True, True]
    # more than it may take is one still: it is braked, or a wire is bare
    assert fits("41 mA") is False


def test_what_the_supply_held_tells_no_value_and_no_bare_lamp() -> None:
    """A resistor of 1.5 kohm bridged, at 12 V with the limit at 8 mA: the meter shows 8 mA whatever less than 1.2 kohm is in the way."""
    made = survey(extra=record(subject='"bow lamp"', volts='"12 V"', current='"8 mA"'))
    made.test_records.limits_set[0] = 8e-3
    (one,) = made.test_records.readings
    assert (one.fits, one.held) == (False, True)
    found = [explanation.what for explanation in made.test_records.explained(one)]
    assert found[0] == "bridged"
    assert not {"resistor", "forward", "volts", "held"} & set(found)


def test_the_copper_of_a_run_is_its_own() -> None:
    """0.198 ohm/m of 28 AWG (ASTM B258), and up to a quarter more of the worst wire; what is no run has none that is known."""
    long = '[[run]]\nname = "long"\nspare = true\nends = ["base", "hull"]\nlength = "50 m"\n'
    records = survey(extra=long).test_records
    feed, other = records.copper("run", "feed"), records.copper("run", "long")
    assert 0.3 * 0.198 < feed < 0.3 * 0.198 * 1.25
    assert other == pytest.approx(feed * 50.0 / 0.3)
    assert (records.copper("run", "no such"), records.copper("plug", "feed")) == (0.0, 0.0)


def test_what_stands_without_a_day_below_todays_record_is_of_today() -> None:
    """Of one day the last of the file counts."""
    first = record(subject='"bow lamp"', volts='"12 V"', current='"6.6 mA"', date="2026-03-02")
    build = survey(extra=first + record(subject='"bow lamp"', volts='"12 V"', current='"6.7 mA"')).build
    (one,) = Survey(build, today=date(2026, 3, 2)).test_records.readings
    assert one.amps == pytest.approx(6.7e-3)
