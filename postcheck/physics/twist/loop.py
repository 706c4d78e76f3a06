"""When a wire that is turned throws a loop: Greenhill's clamped rod."""

from __future__ import annotations

from postcheck.physics.copper import POISSON

__all__ = ["LOOP_ROOT", "loop_limit"]

LOOP_ROOT = 4.493409457909064
"""First positive root of tan x = x."""


def loop_limit(poisson: float = POISSON) -> float:
    """Turn (rad) from which a straight clamped elastic rod throws a loop: 2 * 4.4934 * (1 + nu), 690 degrees.

    M L/(E I) = 8.987, twice the first root of tan x = x (Greenhill, attribution from memory), with M = G J turn/L and
    G J/(E I) = 1/(1 + nu) for a round section: neither gauge nor length matter. No tension, no slack, no bow.
    """
    if not -1.0 < poisson <= 0.5:
        raise ValueError(f"Poisson's ratio lies above -1 and up to 0.5, not {poisson!r}")
    return 2.0 * LOOP_ROOT * (1.0 + poisson)
