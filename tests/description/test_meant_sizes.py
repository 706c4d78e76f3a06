"""A row of the catalogue that has the size of what was typed is named before others of its sort."""

from __future__ import annotations

import pytest

from postcheck import catalogue
from postcheck.description.meant import words_in


@pytest.mark.parametrize(
    ("typed", "first"), [("0.1mm enamelled", "enamel-0.10"), ("enamel 0.063 mm", "enamel-0.063")]
)
def test_the_row_of_a_size(typed: str, first: str) -> None:
    found = words_in(typed, catalogue.names("wire"))
    assert found[0] == first
    assert all(row.startswith(first) for row in found)  # the grade with more enamel is of that size too


def test_without_a_size_there_are_several() -> None:
    assert len(words_in("enamelled", catalogue.names("wire"))) == 3
