"""A row of the catalogue that has the size of what was typed is named before others of its sort."""

from __future__ import annotations

import pytest

from postcheck import catalogue
from postcheck.description.meant import all_words_in, words_in


@pytest.mark.parametrize(
    ("typed", "first"), [("0.1mm enamelled", "enamel-0.10"), ("enamel 0.063 mm", "enamel-0.063")]
)
def test_the_row_of_a_size(typed: str, first: str) -> None:
    found = words_in(typed, catalogue.names("wire"))
    assert found[0] == first
    assert all(row.startswith(first) for row in found)  # the grade with more enamel is of that size too


def test_without_a_size_there_are_several() -> None:
    assert len(words_in("enamelled", catalogue.names("wire"))) == 3


LAMPS = ("smd-0603-red", "led-3mm-warm-white", "led-3mm-white", "led-5mm-white")


@pytest.mark.parametrize(
    ("typed", "row"),
    [("white led 3mm", "led-3mm-white"), ("3mm led", "led-3mm-white"), ("warm led", "led-3mm-warm-white"), ("red", None), ("red 0805", None)],
)  # fmt: skip
def test_all_words_of_two_or_more_in_the_row_with_the_fewest_others(typed: str, row: str | None) -> None:
    assert all_words_in(typed, LAMPS) == row


@pytest.mark.parametrize(
    ("typed", "rows"),
    [
        # two words before one; of as many the first three
        ("red led", ["smd-0603-red", "led-3mm-warm-white", "led-3mm-white"]), ("warm led", ["led-3mm-warm-white"]), ("led", ["led-3mm-warm-white", "led-3mm-white", "led-5mm-white"]), ("blue", []), ("", []),
    ],
)  # fmt: skip
def test_most_words_of_a_name(typed: str, rows: list[str]) -> None:
    assert words_in(typed, LAMPS) == rows


def test_of_no_rows_there_are_none() -> None:
    assert words_in("red", ()) == []
