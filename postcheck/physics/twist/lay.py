"""The strands of a conductor are laid round each other already: what twisting adds to or takes from that.

Strands slide on each other, so each twists about its own axis (`helix.shear_strain`); but one that lies far from the
middle gets a longer way, and pulls on those inside. Geometry of a helix; no force along the conductor as a whole.
"""

from __future__ import annotations

from math import pi
from typing import NamedTuple

from postcheck.physics.given import above
from postcheck.physics.twist.helix import curvature, working_radius

__all__ = ["USUAL_LAY", "Lay", "lay_of", "lay_strain"]

USUAL_LAY = 20.0
"""Length of lay in diameters of the conductor: 8 to 16 for concentric hook-up wire (ASTM B286), 25 to 30 for bunched wire, both from memory; judgement."""

# mean square of the strands' distances from the middle, in squares of their radius: a core and one or two rings (geometry)
_RINGS = {7: 24.0 / 7.0, 19: 192.0 / 19.0}


class Lay(NamedTuple):
    """How strands lie. `length` of lay, `radius` at which the outermost lie, both m; `spread`: greatest difference of a strand's squared radius from the mean, m2."""

    length: float
    radius: float
    spread: float


def lay_of(strand: float, strands: int, length: float | None = None) -> Lay | None:
    """The lay of so many strands of this diameter (m); None of a solid conductor. `USUAL_LAY` where no length (m) is given."""
    conductor = working_radius(strand, strands, soldered=True)
    if strands == 1:
        return None
    if length is None:
        length = USUAL_LAY * 2.0 * conductor
    above(length=length)
    outer = conductor - strand / 2.0
    # a disc filled evenly where the rings are not known
    mean = _RINGS[strands] * strand * strand / 4.0 if strands in _RINGS else outer * outer / 2.0
    return Lay(length, outer, max(mean, outer * outer - mean))


def lay_strain(lay: Lay, radius: float, length: float, low: float, high: float) -> float:
    """Range of the strain along the worst strand, of this radius (m), as a conductor turns from `low` to `high` (rad) over a length (m).

    With k0 = 2 pi/p and k = k0 + turn/L the path of a strand at a is sqrt(1 + (a k)**2) a metre; to first order its range is
    (a**2 - mean) (k_high**2 - k_low**2)/2/(1 + (a k0)**2), and its bending changes by r times the change of curvature.
    """
    above(length=length)
    laid = 2.0 * pi / lay.length
    first, last = laid + low / length, laid + high / length
    index = lay.radius * laid
    along = lay.spread * abs(last * last - first * first) / 2.0 / (1.0 + index * index)
    return along + radius * abs(
        curvature(1.0, lay.radius, abs(last)) - curvature(1.0, lay.radius, abs(first))
    )
