"""Parts in the words of the trade: what is written means what it was made of."""

from __future__ import annotations

import pytest

from postcheck.description.called import POWER_WORDS, POWERS, power_words
from postcheck.description.quantities import parse
from postcheck.description.units import Dimension


def test_a_power_is_what_its_words_are_read_as():
    assert [parse(words, Dimension.POWER) for words in POWER_WORDS] == list(POWERS)


@pytest.mark.parametrize(
    ("watts", "words"),
    [(0.0625, "1/16 W"), (0.1, "1/10 W"), (0.125, "1/8 W"), (0.25, "1/4 W"), (0.5, "1/2 W"), (1.0, "1 W"), (3.0, "3 W"), (0.063, "63 mW"), (0.4, "400 mW"), (10.0, "10 W")],
)  # fmt: skip
def test_a_power_as_resistors_are_sold_by_it(watts, words):
    assert power_words(watts) == words
