"""Ranges and lists as they are typed, and the values that are tried of them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from postcheck.description.problems import QuantityError
from postcheck.description.ranges import Choices, Range, values_of


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("3 mm..8 mm", Range(3.0, 8.0, "mm", False)),
        ("3..8 mm", Range(3.0, 8.0, "mm", False)),
        ("3 mm...8 mm", Range(3.0, 8.0, "mm", False)),
        ("1..4 mm^2", Range(1.0, 4.0, "mm2", False)),
        (" 3 .. 8 mm ", Range(3.0, 8.0, "mm", False)),
        ("1..5", Range(1.0, 5.0, "", True)),
        ("470 ohm..4k7", Range(470.0, 4700.0, "ohm", False)),
        ("-10..40 degC", Range(-10.0, 40.0, "degC", False)),
        ("1/4 in..1/2 in", Range(6.35, 12.7, "mm", False)),
        ("100 mA..1 A", Range(100.0, 1000.0, "mA", False)),
        ("1000 mA..3 A", Range(1.0, 3.0, "A", False)),
        ("1000..5000 cycles", Range(1000.0, 5000.0, "cycles", False)),
        ("1..10000", Range(1.0, 10000.0, "", True)),
        ("1..20000000 ohm", Range(1.0, 2e7, "ohm", False)),
        ("ptfe-28, ptfe-30", Choices(("ptfe-28", "ptfe-30"))),
        ("3 mm, 5 mm, 4 mm", Choices(("3 mm", "5 mm", "4 mm"))),
        ("true, false", Choices((True, False))),
        ("2, 3", Choices((2, 3))),
        ('["90 mm to keel, red/black", "80 mm to keel, red/black"]',
         Choices(("90 mm to keel, red/black", "80 mm to keel, red/black"))),
    ],
)  # fmt: skip
def test_it_is_read_as_typed(text: str, found: Range | Choices) -> None:
    assert values_of(text) == found


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("3 mm", "names no two values"),
        ("", "names no two values"),
        ("a,", "names no two values"),
        ("3 mm..", "has not two ends"),
        ("1..2..3 mm", "has not two ends"),
        ("8 mm..3 mm", "does not rise"),
        ("3 mm..3 mm", "has no width"),
        ("3 mm..8 V", "goes from length to voltage"),
        ('["one"]', "is no list of two or more"),
        ("[1, 2", "is no list of two or more"),
        ("a..b", "not a number"),
        ("1e400 mm..2 mm", "is beyond any number"),
        ("1..1e400", "is beyond any number"),
        ("0..1e300 mm", "is implausible"),
        ("1..2000 m", "is implausible"),
        ("1..10001", "is implausible"),
        ("1..100000000000000000000", "is implausible"),
        ("1..1e13 cycles", "is implausible"),
        ("1..10^20", "has a power of a number; write the number out"),
    ],
)
def test_what_is_no_range_is_refused(text: str, says: str) -> None:
    with pytest.raises(QuantityError, match=says):
        values_of(text)


# below the least normal number there are no three digits
ENDS = st.floats(-1e3, 1e6, allow_subnormal=False).map(lambda value: float(f"{value:.4g}"))


@given(ENDS, ENDS, st.booleans(), st.integers(5, 40))
def test_a_coarse_grid_has_both_ends_rises_and_is_not_too_fine(
    one: float, other: float, whole: bool, most: int
) -> None:
    least, last = sorted((round(one), round(other)) if whole else (one, other))
    if not last > least:
        return
    values = Range(float(least), float(last), "" if whole else "mm", whole)
    grid = values.grid(most)
    assert (grid[0], grid[-1]) == (least, last)
    assert grid == sorted(set(grid))
    assert 2 <= len(grid) <= most + 1
    if whole:
        assert all(number.is_integer() for number in grid)


@given(ENDS, ENDS, st.booleans())
def test_halving_ends_between_numbers_that_three_digits_hardly_tell_apart(
    one: float, other: float, upwards: bool
) -> None:
    least, most = sorted((one, other))
    if not most > least:
        return
    values = Range(least, most, "mm", False)
    below, above = least, most
    for _ in range(60):
        middle = values.between(below, above)
        if middle is None:
            break
        assert below < middle < above
        assert float(values.text(middle).removesuffix(" mm")) == middle
        below, above = (middle, above) if upwards else (below, middle)
    else:
        raise AssertionError("it never ends")
    scale = (
        max(abs(below), abs(above)) if values.by_ratio else max(abs(below), abs(above), (most - least) / 10.0)
    )
    assert above - below <= 0.011 * scale


def test_only_what_there_is_lies_between() -> None:
    values = Range(100.0, 1000.0, "ohm", False, (120.0, 150.0, 180.0, 220.0))
    assert values.grid(2) == [120.0, 180.0, 220.0]
    assert values.grid(20) == [120.0, 150.0, 180.0, 220.0]
    assert values.between(120.0, 220.0) == 180.0
    assert values.between(120.0, 150.0) is None


@pytest.mark.parametrize(
    ("unit", "whole", "value", "number"),
    [("mm", False, "5 mm", 5.0), ("mm", False, "1 cm", 10.0), ("mm", False, "1/4 in", 6.35), ("mm", False, "5 V", None),
     ("ohm", False, "1k5", 1500.0), ("", True, 3, 3.0), ("", True, "3", None), ("mm", False, 3, None), ("", True, True, None),
     ("cycles", False, "5000 cycles", 5000.0), ("cycles", False, "10 /day for 10 years", None)],
)  # fmt: skip
def test_the_files_own_value_is_found_among_them(
    unit: str, whole: bool, value: object, number: float | None
) -> None:
    assert Range(1.0, 10.0, unit, whole).number_of(value) == number


@pytest.mark.parametrize(
    ("values", "most", "grid"),
    [
        # by their ratio from a twentyfold on: ISO 3, R5, R10, R20, R40 and 1, 2, 5, as many as there is room for
        (Range(1.0, 20.0, "mm", False), 10, [1, 1.6, 2.5, 4, 6.3, 10, 16, 20]),
        (Range(1.0, 19.9, "mm", False), 10, [1, 2.5, 5, 7.5, 10, 12.5, 15, 17.5, 19.9]),
        (Range(1.0, 100.0, "ohm", False), 3, [1, 10, 100]),
        (Range(1.0, 100.0, "ohm", False), 5, [1, 3, 10, 30, 100]),
        (Range(1.0, 100.0, "ohm", False), 7, [1, 2, 5, 10, 20, 50, 100]),
        (Range(1.0, 100.0, "ohm", False), 11, [1, 1.6, 2.5, 4, 6.3, 10, 16, 25, 40, 63, 100]),
        (Range(3.0, 70.0, "ohm", False), 8, [3, 5, 10, 20, 50, 70]),
        (Range(3.0, 70.0, "ohm", False), 9, [3, 4, 6.3, 10, 16, 25, 40, 63, 70]),
        (Range(0.001, 1.0, "A", False), 3, [0.001, 0.01, 1.0]),
        # else evenly, in steps of 1, 2, 2.5 and 5
        (Range(0.0, 10.0, "V", False), 11, [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10]),
        (Range(0.0, 10.0, "V", False), 10, [0, 2, 4, 6, 8, 10]),
        (Range(0.0, 10.0, "V", False), 5, [0, 2.5, 5, 7.5, 10]),
        (Range(0.0, 10.0, "V", False), 4, [0, 5, 10]),
        (Range(3.1, 8.7, "mm", False), 6, [3.1, 4, 6, 8, 8.7]),
        (Range(-10.0, 40.0, "degC", False), 6, [-10, 0, 10, 20, 30, 40]),
        (Range(0.0, 1.0, "V", False), 5, [0, 0.25, 0.5, 0.75, 1.0]),
        # counts, whole
        (Range(1.0, 5.0, "", True), 20, [1, 2, 3, 4, 5]),
        (Range(1.0, 30.0, "", True), 13, [1, *range(5, 31, 5)]),
        (Range(1.0, 30.0, "", True), 16, [1, *range(2, 31, 2)]),
        (Range(0.0, 100.0, "", True), 5, [0, 25, 50, 75, 100]),
        (Range(0.0, 1000.0, "", True), 3, [0, 500, 1000]),
    ],
)
def test_round_numbers_between_both_ends(values: Range, most: int, grid: list[float]) -> None:
    assert values.grid(most) == sorted({float(one) for one in grid})


@pytest.mark.parametrize(("most", "steps"), [(42, 20), (82, 40), (80, 20), (22, 10), (12, 5)])
def test_a_decade_each_by_the_preferred_numbers(most: int, steps: int) -> None:
    """ISO 3: each is 10 to the n over R, rounded, and 1.26 % beside it at most."""
    grid = Range(1.0, 100.0, "mm", False).grid(most)
    assert grid == pytest.approx([10.0 ** (n / steps) for n in range(2 * steps + 1)], rel=0.0127)
    assert grid[:steps] == pytest.approx([one / 10.0 for one in grid[steps : 2 * steps]], rel=1e-12)


@pytest.mark.parametrize(
    ("values", "below", "above", "middle"),
    [
        (Range(0.0, 10.0, "V", False), 2.0, 3.0, 2.5),
        (Range(0.0, 10.0, "V", False), 2.111, 2.124, 2.12),
        (
            Range(0.0, 10.0, "V", False),
            0.001,
            0.009,
            None,
        ),  # finer than a hundredth of a tenth of it nobody asks
        (Range(0.0, 10.0, "V", False), 0.0, 0.03, 0.02),
        (Range(1.0, 100.0, "V", False), 1.0, 100.0, 10.0),
        (Range(1.0, 100.0, "V", False), 2.0, 8.0, 4.0),
        (Range(1.0, 100.0, "V", False), 4.0, 5.0, 4.47),
        (Range(1.0, 10.0, "", True), 2.0, 3.0, None),
        (Range(1.0, 10.0, "", True), 2.0, 4.0, 3.0),
        (Range(1.0, 10.0, "", True), 2.0, 7.0, 4.0),
        (Range(-40.0, 10.0, "degC", False), -20.0, -10.0, -15.0),
    ],
)
def test_half_way_to_three_digits(values: Range, below: float, above: float, middle: float | None) -> None:
    assert values.between(below, above) == middle


def test_what_lies_next_to_what() -> None:
    only = Range(100.0, 1000.0, "ohm", False, (120.0, 150.0, 180.0))
    assert [only.next_to(120.0, 150.0), only.next_to(120.0, 180.0), only.next_to(110.0, 130.0)] == [
        True,
        False,
        False,
    ]
    whole = Range(1.0, 9.0, "", True)
    assert [whole.next_to(2.0, 3.0), whole.next_to(2.0, 4.0)] == [True, False]
    assert not Range(1.0, 9.0, "mm", False).next_to(2.0, 2.001)


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("1k..47k", Range(1.0, 47.0, "k", False)),
        ("50 mm..1 m", Range(50.0, 1000.0, "mm", False)),
        ("1 V..500 mV", None),
        ("2..3e3", Range(2.0, 3000.0, "", False)),
        ("2.0..4", Range(2.0, 4.0, "", False)),
        ("1..10000", Range(1.0, 10000.0, "", True)),
        ("1..10001", None),
        ("-5..5 V", Range(-5.0, 5.0, "V", False)),
        ("-5 V..-500 mV", None),
        ("1..1e12 cycles", Range(1.0, 1e12, "cycles", False)),
        ("-3..3", Range(-3.0, 3.0, "", True)),
    ],
)
def test_more_ranges(text: str, found: Range | None) -> None:
    if found is None:
        with pytest.raises(QuantityError):
            values_of(text)
    else:
        assert values_of(text) == found


@pytest.mark.parametrize(
    ("number", "text"), [(5.0, "5 mm"), (0.1 + 0.2, "0.3 mm"), (1e-7, "0.0000001 mm"), (100.0, "100 mm")]
)
def test_a_number_as_the_file_has_it(number: float, text: str) -> None:
    assert Range(0.0, 100.0, "mm", False).text(number) == Range(0.0, 100.0, "mm", False).value(number) == text
    assert Range(0.0, 100.0, "", True).value(5.0) == 5


def test_below_the_least_normal_number_there_is_nothing_between() -> None:
    assert Range(0.0, 1e-322, "mm", False).between(0.0, 1e-322) is None
