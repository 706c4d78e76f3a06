"""The bore, the free length and the turn with which a passage would do."""

from __future__ import annotations

from math import ceil, degrees, floor, hypot, radians, sqrt

from postcheck.limits import Limits
from postcheck.physics import twist
from postcheck.survey.figures import PassageFigures
from postcheck.survey.passages import USUAL_SLACK

__all__ = ["free_length", "short_lived", "turn_borne", "wide_bore"]


def wide_bore(figures: PassageFigures, limits: Limits) -> float:
    """The least bore (m, to a tenth of a millimetre up) with room for the bundle, within the fill limit, that jams none."""
    bores = [figures.smallest_bore * limits.value("passage.room") if len(figures.members) > 1 else 0.0]
    bores.append(figures.passage.bore * sqrt(figures.fill / figures.fill_limit))
    if figures.jam_ratio is not None:
        bores.append(
            figures.passage.bore / figures.jam_ratio * limits.value("passage.jam.high") * (1.0 + 1e-6)
        )
    return ceil(max(bores) * 1e4 - 1e-6) / 1e4


def short_lived(figures: PassageFigures, cycles: float, length: float, turn: float) -> list[int]:
    """The members that may not live for so many cycles with this free length (m) and turn each way (rad)."""
    passage = figures.passage
    found = []
    for number, (member, (x, y)) in enumerate(zip(figures.members, figures.centres, strict=True)):
        if member.wire is None:
            continue
        helix = hypot(x, y)
        radius = twist.working_radius(
            member.wire.strand_diameter, member.wire.strands, passage.soldered_inside
        )
        slack = passage.slack
        if slack is None:
            slack = min(twist.slack_needed(length, helix, turn), USUAL_SLACK)
        strain = twist.strain_range(radius, length, -turn, turn, helix, slack).equivalent
        if twist.life(strain).low < cycles:
            found.append(number)
    return found


def free_length(figures: PassageFigures, cycles: float) -> float | None:
    """The least free length (m, to a millimetre up) at which every wire surely lives for so many cycles.

    None where that is more than the passage is long: wires are gripped at its ends at the latest. Found by halving; the
    strain falls as the length grows.
    """
    turn = figures.passage.turn
    low, high = 0.001, figures.passage.length
    if short_lived(figures, cycles, high, turn):
        return None
    for _ in range(14):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if short_lived(figures, cycles, middle, turn) else (low, middle)
    return min(ceil(high * 1e3) / 1e3, figures.passage.length)


def turn_borne(figures: PassageFigures, cycles: float, step: float = 5.0) -> float | None:
    """The greatest turn each way (rad, to so many degrees down) that every wire surely lives with; None below a step."""
    passage = figures.passage
    length = passage.free if passage.free is not None else passage.length
    for number in range(floor(degrees(passage.turn) / step), 0, -1):
        if not short_lived(figures, cycles, length, radians(number * step)):
            return radians(number * step)
    return None
