"""Strings side by side: what a reading of all of them says of each, and readings of each by itself."""

from __future__ import annotations

import pytest

import postcheck
from postcheck.survey import Survey
from postcheck.survey.closing.figures import Closing

from .small import survey
from .test_test_records import record

WINDOWS = """
[[lamp]]
name = "windows"
circuit = "lights"
kind = "smd-0603-warm-white"
place = "bow"
series = {series}
parallel = {strings}
resistor = "{ohms} 1/4 W at hull"
strings_share = "{share}"
lead = "120 mm to hull"
"""


def windows(
    strings: int, *, series: int = 3, share: str = "return", extra: str = "", stage: str = ""
) -> Survey:
    lamps = WINDOWS.format(strings=strings, series=series, share=share, ohms="390 ohm")
    made = survey(lamps=lamps, extra=extra)
    return Survey(made.build, closing=("bow",)) if stage else made


def amps(strings: int, *, dark: int = 0, shorted: int = 0, series: int = 3) -> float:
    """What usual parts take through their resistors on 12 V, with some strings dark or with an LED that conducts like wire."""
    made = windows(strings, series=series)
    test_point = made.bench.leads["lamp", "windows"]
    opened = frozenset(("windows", number) for number in range(dark))
    short = frozenset(("windows", number) for number in range(shorted))
    band = made.bench.expected(test_point, 12.0, with_resistors=True, opened=opened, shorted=short)
    assert band is not None
    return band.usual


def read(strings: int, current: float, series: int = 3, subject: str = "windows") -> Survey:
    text = record(subject=f'"{subject}"', volts='"12 V"', current=f'"{current * 1e3:.4g} mA"')
    return windows(strings, series=series, extra=text)


def closing(made: Survey) -> Closing:
    return Survey(made.build, closing=("bow",)).closing["bow"]


def test_an_led_shorted_in_the_reading_of_one_string_is_named() -> None:
    """(12 - 2 x 2.9) / 390: two dice are left of three, and the reading is that string's alone."""
    made = windows(
        3, share="nothing", extra=record(subject='"windows 2"', volts='"12 V"', current='"15.9 mA"')
    )
    (reading,) = made.test_records.readings
    assert made.test_records.explained(reading)[0].what == "short"


@pytest.mark.parametrize("strings", [2, 3, 4, 6])
@pytest.mark.parametrize("series", [1, 2, 3])
def test_one_dark_string_is_told_at_exactly_its_share(strings: int, series: int) -> None:
    made = read(strings, amps(strings, dark=1, series=series), series)
    (reading,) = made.test_records.readings
    assert reading.fits is False
    causes = {(one.what, one.value, one.given) for one in made.test_records.explained(reading)}
    assert ("open", 1.0, float(strings)) in causes


@pytest.mark.parametrize("strings", [2, 3, 4, 6])
@pytest.mark.parametrize("series", [2, 3])
def test_one_shorted_led_is_told_too(strings: int, series: int) -> None:
    made = read(strings, amps(strings, shorted=1, series=series), series)
    (reading,) = made.test_records.readings
    assert reading.fits is False
    assert "short" in {one.what for one in made.test_records.explained(reading)}


@pytest.mark.parametrize("strings", [2, 3, 4, 6])
def test_the_usual_current_counts_only_where_a_dark_string_would_show(strings: int) -> None:
    made = read(strings, amps(strings))
    (reading,) = made.test_records.readings
    assert reading.fits is True
    unproven = {one.name for one in closing(made).unproven if one.kind == "lamp"}
    if reading.coarse:  # each string by itself is asked for
        assert unproven == {f"windows {number + 1}" for number in range(strings)}
    else:
        assert unproven == set()


def test_many_strings_are_too_coarse_and_few_are_not() -> None:
    coarse = [bool(read(strings, amps(strings)).test_records.readings[0].coarse) for strings in (2, 6)]
    assert coarse == [False, True]


def test_each_string_has_a_reading_of_its_own() -> None:
    one = amps(1)
    texts = [
        record(subject=f'"windows {number + 1}"', volts='"12 V"', current=f'"{one * 1e3:.4g} mA"')
        for number in range(6)
    ]
    left = windows(6, extra="".join(texts[:5]))
    assert {each.name for each in closing(left).unproven if each.kind == "lamp"} == {"windows 6"}
    done = windows(6, extra="".join(texts))
    assert [each.name for each in closing(done).unproven if each.kind in ("lamp", "resistor")] == []


def test_strings_that_share_their_lead_have_none() -> None:
    made = windows(6, share="nothing")
    assert made.bench.lead("lamp", "windows 6") is not None
    assert made.bench.lead("lamp", "windows 7") is None
    together = survey(
        lamps=WINDOWS.format(strings=6, series=3, share="lead", ohms="390 ohm").replace(" at hull", ""),
        extra=record(subject='"windows 1"', volts='"12 V"', current='"7 mA"'),
    )
    assert together.bench.lead("lamp", "windows 1") is None
    (reading,) = together.test_records.readings
    assert "all its strings together" in reading.missing


def test_a_circuit_counts_for_a_lamp_only_if_one_dark_string_would_show() -> None:
    """Of two strings one halves the current; of six it takes a sixth, less than forward voltages differ."""
    for strings, shown in ((2, True), (6, False)):
        text = record(subject='"lights"', volts='"12 V"', current=f'"{amps(strings) * 1e3:.4g} mA"')
        left = {one.kind for one in closing(windows(strings, extra=text)).unproven}
        assert ("lamp" in left) is not shown


@pytest.mark.parametrize("how", ["dark", "shorted"])
def test_what_is_measured_at_the_circuit_of_one_lamp_tells_the_same(how: str) -> None:
    current = amps(3, **{how: 1})
    for subject in ("windows", "lights"):
        (reading,) = read(3, current, subject=subject).test_records.readings
        assert reading.fits is False
        assert reading.nearer is not None
        assert reading.nearer[0] == ("open" if how == "dark" else "short")


def test_who_has_seen_each_string_or_measured_it_is_not_asked_again() -> None:
    # sound strings of a low bin take no more than five usual ones
    current = amps(6, dark=1)
    whole = record(subject='"windows"', volts='"12 V"', current=f'"{current * 1e3:.4g} mA"')
    seen = windows(6, extra=whole + 'done = "each of the six strings seen to light"\n')
    each = "".join(
        record(subject=f'"windows {number}"', volts='"12 V"', current=f'"{current / 6 * 1e3:.4g} mA"')
        for number in range(1, 7)
    )
    for made in (seen, windows(6, extra=whole + each, share="nothing")):
        reading = next(one for one in made.test_records.readings if one.name == "windows")
        assert reading.fits is True
        assert (reading.nearer, reading.coarse) == (None, "")
    assert windows(6, extra=whole).test_records.readings[0].fits is False


def test_closing_asks_for_each_string_with_the_resistor_of_that_one() -> None:
    report = postcheck.check(windows(6).build, closing=["bow"]).files[0]
    (finding,) = (one for one in report.findings if one.check == "closing.unproven")
    lines = "\n".join(finding.lines)
    for number in range(1, 7):
        assert f'"windows {number}"' in lines
    assert "through its 390 ohm" in lines
    assert "each string" not in lines


def test_a_day_alight_shows_nothing_of_each_string_where_a_dark_one_would_not_show() -> None:
    text = record(subject='"windows"', volts='"12 V"', current=f'"{amps(6) * 1e3:.4g} mA"', hours='"24 h"')
    made = Survey(windows(6, extra=text).build, closing=("bow",))
    assert made.closing["bow"].unproven
