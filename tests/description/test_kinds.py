"""What a file is refused for of its own lamps and cables, each with one message that says what to type."""

from __future__ import annotations

from pathlib import Path

import pytest

import postcheck

SOUND = Path(__file__).parents[1] / "builds" / "sound"
FLAT = (SOUND / "flat-cable-in-its-post.post.toml").read_text(encoding="utf-8")
LAMP = (SOUND / "lamp-of-12-volts-described.post.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("said", "says"),
    [
        ('outside = "3 mm"\nflat = "6.4 x 0.9 mm"', "has `outside` and `flat`"),
        ("", "needs `outside` or `flat`"),
        ('flat = "0.9 x 6.4 mm"', "is flat"),
        ('flat = "6.4 mm"', "is flat"),
        ('flat = "1.2 x 0.9 mm"', "wide, and its conductors side by side need at least"),
        ('flat = "6.4 x 0.3 mm"', "thick, and its conductors side by side need at least"),
    ],
)
def test_a_cable_is_round_or_flat(said: str, says: str) -> None:
    with pytest.raises(postcheck.BuildError, match=says):
        postcheck.loads(FLAT.replace('flat = "6.4 x 0.9 mm"', said))


def test_what_is_as_wide_as_thick_has_its_width_first() -> None:
    assert postcheck.loads(FLAT.replace("6.4 x 0.9 mm", "6.4 x 6.4 mm")).cable


def test_a_flat_cable_may_be_as_thin_as_its_wires_are_at_least() -> None:
    """pvc-28 is 0.9 mm, 0.05 mm more or less (UL 1061 sheet): a cable of four that measures 0.9 mm is what is sold."""
    built = postcheck.loads(
        FLAT.replace('flat = "6.4 x 0.9 mm"', 'flat = "3.6 x 0.9 mm"').replace("ptfe-28", "pvc-28")
    )
    assert built.usual.run == "pvc-28"


@pytest.mark.parametrize(
    ("said", "says"),
    [
        ('volts = "12 V"\n', "needs `at`"),
        ('volts = "2.5 V"\nat = "15 mA"\n', "nothing is left for a resistor inside"),
        ('forward = "3.2 V"\n', "needs `rated`"),
        ('kind = "filament"\nvolts = "12 V"\n', "needs `rated`"),
    ],
)
def test_an_led_with_its_resistor_inside_says_its_current(said: str, says: str) -> None:
    with pytest.raises(postcheck.BuildError, match=says):
        postcheck.loads(LAMP.replace('volts = "12 V"\nat = "15 mA"\n', said))
