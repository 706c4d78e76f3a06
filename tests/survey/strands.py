"""Strands laid round each other in a wire that is twisted, measured on their curves by NumPy: lengths and curvatures, no formula for either."""

from __future__ import annotations

from math import pi, sqrt

import numpy as np

STEPS = 4001


def measured(radius: float, rate: float, length: float) -> tuple[float, float]:
    """Length (m) and curvature (1/m) of a helix of this radius (m) that turns by `rate` (rad/m), over a length (m) of its axis."""
    z = np.linspace(0.0, length, STEPS)
    curve = np.stack([radius * np.cos(rate * z), radius * np.sin(rate * z), z])
    step = np.gradient(curve, z, axis=1)
    bent = np.linalg.norm(np.cross(step.T, np.gradient(step, z, axis=1).T), axis=1)
    sharp = bent / np.linalg.norm(step, axis=0) ** 3
    return float(np.linalg.norm(np.diff(curve, axis=1), axis=0).sum()), float(sharp[STEPS // 2])


def seven(strand: float, length: float, turn: float, helix: float = 0.0) -> float:
    """Equivalent strain range of the worst of seven strands, turned by so much each way (rad) over a length (m), without stretch of the wire.

    One in the middle and six a strand's diameter from it, laid in 20 diameters of the conductor, which is three strands across
    (ASTM B286 and judgement); the wire lies at a distance (m) from the middle of its bundle.
    """
    laid, twisted = 2.0 * pi / (20.0 * 3.0 * strand), turn / length
    ways = [measured(strand, laid + way * twisted, length) for way in (-1, 0, 1)]
    outer = (ways[2][0] - ways[0][0]) / ways[1][0]
    # the one in the middle keeps its length; what all seven have in common the conductor as a whole takes up
    along = max(outer - outer * 6.0 / 7.0, outer * 6.0 / 7.0)
    wound = measured(helix, twisted, length)[1]
    bend = strand / 2.0 * (abs(ways[2][1] - ways[0][1]) + wound)
    shear = strand * twisted / (1.0 + (helix * twisted) ** 2)
    return sqrt((along + bend) ** 2 + shear**2 / 3.0)
