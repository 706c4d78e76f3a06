"""Pulses and dimming: which rating of a lamp counts, and the average a pulse train makes.

Sources: LED data sheets state the pulse current for pulses of at most 0.1 ms at a duty of at most 1/10.
"""

from __future__ import annotations

from postcheck.physics import given
from postcheck.physics.given import above, from_zero

__all__ = [
    "PULSE_DUTY",
    "PULSE_WIDTH",
    "applies_pulse_rating",
    "average",
    "duty",
    "on_time",
    "pulse_limit",
    "rare_enough",
    "root_mean_square",
    "short_enough",
]

PULSE_WIDTH = 1e-4
"""s, longest pulse for which a data sheet's pulse rating counts."""
PULSE_DUTY = 0.1
"""Largest duty for which it counts."""


def on_time(share: float, rate: float) -> float:
    """Length (s) of one pulse of a train on for this share of the time, so many times a second (Hz): t = s / f."""
    if not (0.0 <= share <= 1.0 and rate > 0):
        raise ValueError("a share between 0 and 1, a rate above zero")
    return share / rate


def duty(width: float, rate: float) -> float:
    """Share of the time on, of pulses of this width (s, from zero) at this rate (Hz, above zero): s = t f."""
    from_zero(width=width)
    above(rate=rate)
    share = width * rate
    if not 0.0 <= share <= 1.0 + 1e-12:
        raise ValueError("the pulses overlap")
    return min(share, 1.0)


def average(peak: float, share: float, off: float = 0.0) -> float:
    """Average of a train between `peak` (for this share of the time) and `off`: s p + (1 - s) o."""
    given.share(share=share)
    return share * peak + (1.0 - share) * off


def root_mean_square(peak: float, share: float) -> float:
    """Effective value of a train between zero and `peak`: p sqrt(s); what heats a resistor."""
    given.share(share=share)
    return peak * float(share**0.5)


def applies_pulse_rating(
    width: float, share: float, longest: float = PULSE_WIDTH, most: float = PULSE_DUTY
) -> bool:
    """Whether the pulse rating counts: width (s) at most 0.1 ms and duty at most 10 %.

    A model strobe of 10 to 100 ms is direct current to the die, whose thermal time constant is about a
    millisecond (from memory).
    """
    return short_enough(width, longest) and rare_enough(share, most)


def short_enough(width: float, longest: float = PULSE_WIDTH) -> bool:
    """Whether a pulse (s) is short enough for the pulse rating to count."""
    from_zero(width=width, longest=longest)
    return 0.0 < width <= longest * (1.0 + 1e-9)


def rare_enough(share: float, most: float = PULSE_DUTY) -> bool:
    """Whether it is on for little enough of the time for the pulse rating to count."""
    given.share(share=share, most=most)
    return share <= most * (1.0 + 1e-9)


def pulse_limit(
    continuous: float,
    pulse: float | None,
    width: float,
    share: float,
    longest: float = PULSE_WIDTH,
    most: float = PULSE_DUTY,
) -> float:
    """Peak current (A) a lamp stands: the pulse rating where it counts and is known, else the continuous one.

    Ratings in A, from zero; width in s, shares between 0 and 1.
    """
    from_zero(continuous=continuous, pulse=pulse or 0.0)
    if pulse is not None and applies_pulse_rating(width, share, longest, most):
        return max(pulse, continuous)
    return continuous
