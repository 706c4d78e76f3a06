"""What is offered is what is sold: ratings as the trade steps them (common practice), sizes of cells by IEC 60086 and 61951."""

from __future__ import annotations

import pytest

from postcheck.remedies.ratings import larger_sizes, next_step, rating_for


@pytest.mark.parametrize(
    ("highest", "fraction", "rating"),
    [(0.4, 0.8, 0.5), (0.41, 0.8, 1.0), (1.0, 1.0, 1.0), (1.2, 0.8, 1.5), (1.3, 0.8, 2.0), (1.9, 0.8, 2.5), (2.4, 0.8, 3.0),
     (3.2, 0.8, 4.0), (4.0, 0.8, 5.0), (4.8, 0.8, 6.0), (6.4, 0.8, 8.0), (8.0, 0.8, 10.0), (8.1, 0.8, None)],
)  # fmt: skip
def test_the_next_rating_that_is_loaded_no_more_than_it_should_be(highest, fraction, rating):
    assert rating_for(highest, fraction) == rating


# 1, 1.5, 2, 3, 5 in each decade from 10 mA to 5 A
@pytest.mark.parametrize(
    ("current", "step"),
    [(0.0, 0.01), (0.01, 0.01), (0.011, 0.015), (0.016, 0.02), (0.021, 0.03), (0.031, 0.05), (0.051, 0.1), (0.11, 0.15), (0.16, 0.2),
     (0.21, 0.3), (0.31, 0.5), (0.51, 1.0), (1.0, 1.0), (1.1, 1.5), (1.6, 2.0), (2.1, 3.0), (3.1, 5.0), (5.0, 5.0), (5.1, None)],
)  # fmt: skip
def test_the_next_step_of_outputs_and_contacts(current, step):
    assert next_step(current) == (pytest.approx(step) if step else None)


@pytest.mark.parametrize(
    ("chemistry", "size", "larger"),
    [
        ("alkaline", "aaa", ["aa", "c", "d"]),
        ("alkaline", "c", ["d"]),
        ("alkaline", "d", []),
        ("alkaline", "no such", []),
    ],
)
def test_a_larger_cell_of_the_same_shape(chemistry, size, larger):
    assert larger_sizes(chemistry, size) == larger
