"""How much light of a small lamp falls on an eye that looks into it."""

from __future__ import annotations

from math import cos, pi

from postcheck.physics.given import above, from_zero

__all__ = ["irradiance"]


def irradiance(watts: float, distance: float, beam: float | None = None) -> float:
    """Irradiance (W/m2) on the axis of a lamp of so many radiant watts, at a distance (m) far beyond its size.

    With no lens it shines by Lambert's law, watts/(pi d**2). A lens gathers all of it evenly into a cone of full angle
    `beam` (rad): watts/(2 pi (1 - cos(beam/2)) d**2).
    """
    from_zero(watts=watts)
    above(distance=distance)
    if beam is None:
        return watts / (pi * distance * distance)
    if not 0.0 < beam <= pi:
        raise ValueError(f"a beam is above zero and a half turn at most, not {beam!r}")
    return watts / (2.0 * pi * (1.0 - cos(beam / 2.0)) * distance * distance)
