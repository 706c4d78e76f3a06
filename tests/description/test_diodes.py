"""Diodes by their JEDEC registrations: average current and repetitive reverse voltage, from memory."""

from __future__ import annotations

import pytest

from postcheck.description.diodes import DIODES

REGISTERED = {
    "1N4001": (1.0, 50), "1N4002": (1.0, 100), "1N4003": (1.0, 200), "1N4004": (1.0, 400), "1N4005": (1.0, 600),
    "1N4006": (1.0, 800), "1N4007": (1.0, 1000), "1N5400": (3.0, 50), "1N5401": (3.0, 100), "1N5402": (3.0, 200),
    "1N5404": (3.0, 400), "1N5406": (3.0, 600), "1N5407": (3.0, 800), "1N5408": (3.0, 1000),
    "1N5817": (1.0, 20), "1N5818": (1.0, 30), "1N5819": (1.0, 40), "1N4148": (0.2, 75), "1N914": (0.2, 75),
}  # fmt: skip


@pytest.mark.parametrize("name", [*DIODES])
def test_what_a_diode_stands(name: str) -> None:
    assert tuple(DIODES[name][:2]) == REGISTERED[name]
    assert DIODES.keys() == REGISTERED.keys()
