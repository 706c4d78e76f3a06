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
        ("1000..5000 cycles", Range(1000.0, 5000.0, "cycles", False)),
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
