"""A wire that winds up as a post turns: its path, and the strains of one turning to and fro.

Straight wires gripped at both ends, free length L between the grips (less what glue or solder stiffens). Angles in
rad, lengths in m. Sources: Saint-Venant torsion; helix geometry.
"""

from __future__ import annotations

from math import sqrt
from typing import NamedTuple

from postcheck.physics.given import above, from_zero

__all__ = [
    "TwistStrain",
    "axial_strain",
    "curvature",
    "equivalent_strain",
    "path_length",
    "shear_strain",
    "shortest_span",
    "slack_needed",
    "strain_range",
    "torsion",
    "working_radius",
]


def path_length(length: float, helix: float, turn: float) -> float:
    """Length (m) of a wire at helix radius a over the free length L at a turn: s = sqrt(L**2 + (a turn)**2)."""
    above(length=length)
    from_zero(helix=helix)
    return sqrt(length * length + (helix * turn) * (helix * turn))


def slack_needed(length: float, helix: float, turn: float) -> float:
    """Spare length (m) that keeps a wire off its stops at a turn from straight: s - L, about (a turn)**2/(2 L)."""
    across = helix * turn
    # the difference written without cancellation
    return across * across / (path_length(length, helix, turn) + length)


def axial_strain(length: float, helix: float, turn: float, slack: float = 0.0, lay: float = 0.0) -> float:
    """Stretch of a wire gripped at both ends: e = max(0, s(lay + turn)/(s(lay) + slack) - 1).

    `lay` (rad over L) is the twist the bundle was made with, positive in the sense of `turn`; s as `path_length`.
    About (a turn/L)**2 / 2 for a straight bundle without slack. A shorter path gives no strain: the wire bows.
    """
    from_zero(slack=slack)
    made = path_length(length, helix, lay)
    if lay == 0.0 and slack == 0.0:
        return slack_needed(length, helix, turn) / length
    return max(0.0, path_length(length, helix, lay + turn) / (made + slack) - 1.0)


def curvature(length: float, helix: float, turn: float) -> float:
    """Curvature (1/m) of the helix: kappa = a k**2 / (1 + (a k)**2), k = turn/L."""
    above(length=length)
    from_zero(helix=helix)
    k = turn / length
    index = helix * k
    return helix * k * k / (1.0 + index * index)


def torsion(length: float, helix: float, turn: float) -> float:
    """Torsion (rad/m) of the helix: tau = k / (1 + (a k)**2), k = turn/L."""
    above(length=length)
    from_zero(helix=helix)
    k = turn / length
    index = helix * k
    return k / (1.0 + index * index)


def shear_strain(radius: float, length: float, turn: float, helix: float = 0.0) -> float:
    """Shear at the surface of a round wire or strand of this radius: gamma = r tau; r turn/L on the axis."""
    from_zero(radius=radius)
    return radius * torsion(length, helix, turn)


def equivalent_strain(axial: float, bend: float, shear: float) -> float:
    """Von Mises equivalent strain, plastic convention: sqrt((axial + bend)**2 + shear**2 / 3)."""
    along = axial + bend
    return sqrt(along * along + shear * shear / 3.0)


class TwistStrain(NamedTuple):
    """Peak-to-peak strains of a wire as a post turns to and fro: stretch, bend, shear, and the equivalent of all.

    All are pure numbers: `axial` along the wire, `bend` at its outside, `shear` at its surface, `lay` along a strand that is
    laid round others; `equivalent` as `equivalent_strain` puts them together, the lay with the bend.
    """

    axial: float
    bend: float
    shear: float
    equivalent: float
    lay: float = 0.0


def strain_range(
    radius: float, length: float, low: float, high: float, helix: float = 0.0, slack: float = 0.0
) -> TwistStrain:
    """Peak-to-peak strains for a post that turns between two angles from straight: +-180 degrees is -pi to pi.

    Shear r |tau(high) - tau(low)|; axial and bend from straight (or the least turn passed) to the largest turn;
    together as `equivalent_strain`. Axial and bend are even in the angle and run at twice the rate when the turn
    passes zero, so adding their ranges is on the safe side. `radius` as `working_radius`.
    """
    if not length > 0:
        raise ValueError("the free length must be above zero")
    largest = max(abs(low), abs(high))
    least = 0.0 if low <= 0.0 <= high or high <= 0.0 <= low else min(abs(low), abs(high))
    axial = axial_strain(length, helix, largest, slack) - axial_strain(length, helix, least, slack)
    bend = radius * (curvature(length, helix, largest) - curvature(length, helix, least))
    shear = abs(shear_strain(radius, length, high, helix) - shear_strain(radius, length, low, helix))
    return TwistStrain(axial, bend, shear, equivalent_strain(axial, bend, shear))


def working_radius(strand: float, strands: int = 1, soldered: bool = False) -> float:
    """Radius (m) that twists as one: half a strand's diameter if strands slide, half the conductor's if not.

    Soldered or solid conductors twist as one: 3 strand diameters for 7, 5 for 19, else 1.155 sqrt(n) (wire makers'
    cabling factors).
    """
    from_zero(strand=strand)
    if not strands >= 1:
        raise ValueError("a conductor has at least one strand")
    if strands == 1 or not soldered:
        return strand / 2.0
    factor = {2: 2.0, 3: 2.154, 4: 2.414, 5: 2.7, 6: 3.0, 7: 3.0, 19: 5.0}.get(strands, 1.155 * sqrt(strands))
    return strand * factor / 2.0


def shortest_span(radius: float, swing: float, allowed: float) -> float:
    """Least free length (m) for a peak-to-peak turn (rad) at an allowed strain range: L = r swing/(sqrt(3) e)."""
    from_zero(radius=radius, swing=swing)
    above(allowed=allowed)
    return radius * swing / (sqrt(3.0) * allowed)
