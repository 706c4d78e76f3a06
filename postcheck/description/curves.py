"""The two points through which the curve of an LED goes that a file describes, without the resistor inside it."""

from __future__ import annotations

from math import ceil

from postcheck.description.models import LampKind
from postcheck.physics.network import diode_through

# Forward voltages of usual LEDs, least, typical and most, V: the rows of led-5mm in the catalogue, and their sources.
_RED, _BLUE = (1.7, 2.0, 2.6), (2.8, 3.2, 4.0)
_REDDISH = ("red", "orange", "amber", "yellow", "infrared")


def usual_forward(colour: str | None) -> tuple[float, float, float]:
    """Least, typical and most forward voltage (V) of an LED of which nothing but its colour is known: red, or blue and white."""
    plain = (colour or "").casefold().replace("-", " ").split()
    return _RED if any(word in plain for word in _REDDISH) else _BLUE


def curve_points(kind: LampKind) -> tuple[tuple[float, float], tuple[float, float]]:
    """The lower and the upper point of an LED's curve, each volt and ampere; the lower from usual slopes where not said.

    A single point fixes the curve only with a usual slope: a white 0603 falls about 0.35 V to a quarter current.
    Lamps above 4 V hold several dice in series.
    """
    typical = (kind.forward if kind.forward is not None else usual_forward(kind.colour))[1]
    at = kind.at or kind.rated or 0.0
    low_at = kind.low_at if kind.low_at is not None else at / 4
    if kind.low_forward is not None:
        return (kind.low_forward, low_at), (typical, at)
    dice = max(1, ceil(typical / 4.0))
    fall = dice * (0.35 if typical / dice > 2.5 else 0.1)
    return (typical - fall, low_at), (typical, at)


def is_a_diode(kind: LampKind) -> bool:
    """Whether a diode with a resistance in series goes through the two points."""
    (low, low_at), (high, at) = curve_points(kind)
    try:
        diode_through(low, low_at, high, at)
    except (ValueError, OverflowError):
        return False
    return True
