"""The two points of an LED's curve, by hand: what the file says of them, and usual slopes where it says no more than one."""

from __future__ import annotations

import pytest

from postcheck.description.curves import curve_points
from postcheck.description.models import LampKind


@pytest.mark.parametrize(
    ("said", "low", "high"),
    [
        # a quarter of the current lies 0.1 V lower up to 2.5 V, and 0.35 V above
        ({"forward": "2 V"}, (1.9, 0.005), (2.0, 0.02)),
        ({"forward": "2.5 V"}, (2.4, 0.005), (2.5, 0.02)),
        ({"forward": "2.51 V"}, (2.16, 0.005), (2.51, 0.02)),
        ({"forward": "2.9/3.3/3.6 V"}, (2.95, 0.005), (3.3, 0.02)),
        # for each die, of which there is one for each 4 V begun
        ({"forward": "4 V"}, (3.65, 0.005), (4.0, 0.02)),
        ({"forward": "4.4 V"}, (4.2, 0.005), (4.4, 0.02)),
        ({"forward": "6.4 V"}, (5.7, 0.005), (6.4, 0.02)),
        ({"forward": "9.6 V"}, (8.55, 0.005), (9.6, 0.02)),
        # what the file says stands before what is usual
        ({"forward": "2 V", "at": "12 mA"}, (1.9, 0.003), (2.0, 0.012)),
        ({"forward": "2 V", "low_at": "4 mA"}, (1.9, 0.004), (2.0, 0.02)),
        ({"forward": "2 V", "low_forward": "1.7 V", "low_at": "1 mA"}, (1.7, 0.001), (2.0, 0.02)),
        ({"forward": "2 V", "low_forward": "1.7 V"}, (1.7, 0.005), (2.0, 0.02)),
        ({"colour": "red"}, (1.9, 0.005), (2.0, 0.02)),
        ({"colour": "blue"}, (2.85, 0.005), (3.2, 0.02)),
    ],
)
def test_the_two_points(said: dict[str, str], low: tuple[float, float], high: tuple[float, float]) -> None:
    points = curve_points(LampKind.model_validate({"rated": "20 mA", **said}))
    assert points == (pytest.approx(low, rel=1e-12), pytest.approx(high, rel=1e-12))
