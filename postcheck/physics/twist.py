"""Wires in a post that turns: strain, cycles, looping, bends and pulling.

Straight wires gripped at both ends, free length L between the grips (less what glue or solder stiffens). Angles in
rad, lengths in m. Sources: Saint-Venant torsion; helix geometry; Greenhill's clamped rod; fatigue relations beside
each; IPC-TR-579, Manson, Coffin and Tavernelli. The fatigue constants of soft copper wire differ by a factor of 3 to
5 in life between the relations, before the scatter of specimens: judge by the band, not by one number.
"""

from __future__ import annotations

from collections.abc import Callable
from math import exp, log10, sqrt
from typing import NamedTuple

from postcheck.physics.copper import ELASTIC_MODULUS, POISSON, TENSILE

__all__ = [
    "LOOP_ROOT",
    "Life",
    "TwistStrain",
    "axial_strain",
    "bend_strain",
    "capstan",
    "curvature",
    "equivalent_strain",
    "life",
    "loop_limit",
    "minimum_bend_radius",
    "path_length",
    "pull_limit",
    "repeated_bend_radius",
    "shear_strain",
    "shortest_span",
    "slack_needed",
    "strain_allowed",
    "strain_range",
    "torsion",
    "working_radius",
]

LOOP_ROOT = 4.493409457909064
"""First positive root of tan x = x."""


def path_length(length: float, helix: float, turn: float) -> float:
    """Length (m) of a wire at helix radius a over the free length L at a turn: s = sqrt(L**2 + (a turn)**2)."""
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
    made = path_length(length, helix, lay)
    if lay == 0.0 and slack == 0.0:
        return slack_needed(length, helix, turn) / length
    return max(0.0, path_length(length, helix, lay + turn) / (made + slack) - 1.0)


def curvature(length: float, helix: float, turn: float) -> float:
    """Curvature (1/m) of the helix: kappa = a k**2 / (1 + (a k)**2), k = turn/L."""
    k = turn / length
    index = helix * k
    return helix * k * k / (1.0 + index * index)


def torsion(length: float, helix: float, turn: float) -> float:
    """Torsion (rad/m) of the helix: tau = k / (1 + (a k)**2), k = turn/L."""
    k = turn / length
    index = helix * k
    return k / (1.0 + index * index)


def shear_strain(radius: float, length: float, turn: float, helix: float = 0.0) -> float:
    """Shear at the surface of a round wire or strand of this radius: gamma = r tau; r turn/L on the axis."""
    return radius * torsion(length, helix, turn)


def equivalent_strain(axial: float, bend: float, shear: float) -> float:
    """Von Mises equivalent strain, plastic convention: sqrt((axial + bend)**2 + shear**2 / 3)."""
    along = axial + bend
    return sqrt(along * along + shear * shear / 3.0)


class TwistStrain(NamedTuple):
    """Peak-to-peak strains of a wire as a post turns to and fro."""

    axial: float
    bend: float
    shear: float
    equivalent: float


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
    if strands < 1:
        raise ValueError("a conductor has at least one strand")
    if strands == 1 or not soldered:
        return strand / 2.0
    factor = {2: 2.0, 3: 2.154, 4: 2.414, 5: 2.7, 6: 3.0, 7: 3.0, 19: 5.0}.get(strands, 1.155 * sqrt(strands))
    return strand * factor / 2.0


def shortest_span(radius: float, swing: float, allowed: float) -> float:
    """Least free length (m) for a peak-to-peak turn (rad) at an allowed strain range: L = r swing/(sqrt(3) e)."""
    return radius * swing / (sqrt(3.0) * allowed)


def loop_limit(poisson: float = POISSON) -> float:
    """Turn (rad) from which a straight clamped elastic rod throws a loop: 2 * 4.4934 * (1 + nu), 690 degrees.

    M L/(E I) = 8.987, twice the first root of tan x = x (Greenhill, attribution from memory), with M = G J turn/L and
    G J/(E I) = 1/(1 + nu) for a round section: neither gauge nor length matter. No tension, no slack, no bow.
    """
    return 2.0 * LOOP_ROOT * (1.0 + poisson)


def _engelmaier(cycles: float, ductility: float) -> float:
    base = exp(ductility) / 0.36
    elastic = 0.9 * TENSILE / ELASTIC_MODULUS * float(base ** (0.1785 * log10(1e5 / cycles)))
    return float(cycles**-0.6 * ductility**0.75) + elastic


def _slopes(cycles: float, ductility: float) -> float:
    return float(3.5 * TENSILE / ELASTIC_MODULUS * cycles**-0.12 + ductility**0.6 * cycles**-0.6)


def _tavernelli(cycles: float) -> float:
    return 0.6 / sqrt(cycles)


_RELATIONS: dict[str, Callable[[float], float]] = {
    "foil": lambda n: _engelmaier(n, 0.30),
    "foil-poor": lambda n: _engelmaier(n, 0.15),
    "slopes-poor": lambda n: _slopes(n, 0.3),
    "slopes": lambda n: _slopes(n, 1.2),
    "plastic": _tavernelli,
}


def strain_allowed(cycles: float, relation: str = "foil") -> float:
    """Total strain range that soft copper stands for so many cycles, by one of the candidate relations.

    foil, foil-poor: e = N**-0.6 Df**0.75 + 0.9 (Su/E) (exp(Df)/0.36)**(0.1785 log10(1e5/N)), Df 0.30 and 0.15
    (IPC-TR-579, Engelmaier). slopes, slopes-poor: e = 3.5 (Su/E) N**-0.12 + D**0.6 N**-0.6, D 1.2 and 0.3 (Manson).
    plastic: e = 0.6 N**-0.5 (Coffin and Tavernelli, plastic part only). Su 220 MPa, E 117 GPa. Constants from
    memory; valid about 10 to 1e6 cycles.
    """
    if not cycles >= 1:
        raise ValueError("at least one cycle")
    return _RELATIONS[relation](cycles)


class Life(NamedTuple):
    """Cycles to a break: the least and most that the relations give, and the usual middle one (foil, Df 0.30)."""

    low: float
    high: float
    middle: float


def life(strain: float, most: float = 1e9) -> Life:
    """Cycles to a break at a total strain range, as a band over the relations of `strain_allowed`.

    Each relation falls steadily with N and is inverted by halving in log N, held between 1 and `most`.
    """
    if not strain >= 0:
        raise ValueError("a strain range is not below zero")
    found = {name: _invert(relation, strain, most) for name, relation in _RELATIONS.items()}
    return Life(min(found.values()), max(found.values()), found["foil"])


def _invert(relation: Callable[[float], float], strain: float, most: float) -> float:
    if relation(most) >= strain:
        return most
    if relation(1.0) <= strain:
        return 1.0
    low, high = 0.0, log10(most)
    for _ in range(60):
        middle = 0.5 * (low + high)
        if relation(10.0**middle) > strain:
            low = middle
        else:
            high = middle
    return float(10.0**low)


def bend_strain(radius: float, bend: float) -> float:
    """Strain range of bending and straightening to an inner radius R: e = r/(R + r), r as `working_radius`."""
    return radius / (bend + radius)


def repeated_bend_radius(radius: float, allowed: float) -> float:
    """Inner radius (m) at which repeated bending just stays within a strain range: R = r (1/e - 1)."""
    return radius * (1.0 / allowed - 1.0)


def minimum_bend_radius(outside: float, moving: bool = False) -> float:
    """Least bend radius (m) of a wire or bundle of this outside diameter: 6 D at rest, 10 D for the long term.

    NASA-STD-8739.4, 7.3.21, through the NASA workmanship standards, book 4, 4.03; 10 D is taken where it moves.
    """
    return (10.0 if moving else 6.0) * outside


def capstan(tail: float, friction: float, angle: float) -> float:
    """Pull (N) at the head of a wire drawn round bends of `angle` (rad) in all: T = T0 exp(mu angle).

    Euler and Eytelwein. Friction about 0.35 to 0.5 for cable in conduit, 0.04 to 0.1 for PTFE, 0.3 to 0.5 for PVC
    on metal (from memory).
    """
    return tail * exp(friction * angle)


def pull_limit(cross_section: float, stress: float = 50e6) -> float:
    """Pull (N) that copper of this section (m2) takes: F = A stress.

    50 N/mm2 is European cable practice (from memory); 0.008 lb per circular mil = 70.2 N/mm2 is the ICEA-sponsored
    figure of American pulling guides.
    """
    return cross_section * stress
