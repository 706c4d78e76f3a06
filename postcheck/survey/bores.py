"""The bore, the free length and the wire with which a passage would do."""

from __future__ import annotations

from math import ceil, hypot, sqrt

from postcheck.physics import twist
from postcheck.survey.figures import PassageFigures
from postcheck.survey.passages import USUAL_SLACK

__all__ = ["bore_by_fill", "bore_for", "free_length"]


def bore_for(figures: PassageFigures, room: float = 1.0) -> float:
    """The least bore (m, to a tenth of a millimetre up) for the bundle found, with so much room."""
    return _tenth(figures.smallest_bore * room)


def bore_by_fill(figures: PassageFigures) -> float:
    """The least bore (m, to a tenth of a millimetre up) at the fill limit for so many conductors."""
    return _tenth(figures.passage.bore * sqrt(figures.fill / figures.fill_limit))


def free_length(figures: PassageFigures, cycles: float) -> float | None:
    """The least free length (m, to a millimetre up) at which every wire surely lives for so many cycles, or None.

    Found by halving up to 2 m; the strain falls as the length grows.
    """

    def lives(length: float) -> bool:
        passage = figures.passage
        for member, (x, y) in zip(figures.members, figures.centres, strict=True):
            if member.wire is None:
                continue
            helix = hypot(x, y)
            radius = twist.working_radius(
                member.wire.strand_diameter, member.wire.strands, passage.soldered_inside
            )
            slack = passage.slack
            if slack is None:
                slack = min(twist.slack_needed(length, helix, passage.turn), USUAL_SLACK)
            strain = twist.strain_range(radius, length, -passage.turn, passage.turn, helix, slack).equivalent
            if twist.life(strain).low < cycles:
                return False
        return True

    low, high = 0.001, 2.0
    if not lives(high):
        return None
    for _ in range(14):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if lives(middle) else (middle, high)
    return ceil(high * 1e3) / 1e3


def _tenth(metres: float) -> float:
    return ceil(metres * 1e4 - 1e-6) / 1e4
