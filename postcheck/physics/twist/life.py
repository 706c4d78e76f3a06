"""How many turnings soft copper bears: a band over published relations, never one number.

Sources beside each: IPC-TR-579, Manson, Coffin and Tavernelli. The fatigue constants of soft copper wire differ by a
factor of 3 to 5 in life between the relations, before the scatter of specimens.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import exp, inf, log10, sqrt
from typing import Literal, NamedTuple

from postcheck.physics.copper import ELASTIC_MODULUS, TENSILE
from postcheck.physics.given import one_of

__all__ = ["Life", "Relation", "life", "life_together", "strain_allowed", "strain_borne"]


Relation = Literal["foil", "foil-poor", "slopes-poor", "slopes", "plastic"]
"""The candidate relations of `strain_allowed`."""


def _engelmaier(cycles: float, ductility: float) -> float:
    base = exp(ductility) / 0.36
    elastic = 0.9 * TENSILE / ELASTIC_MODULUS * float(base ** (0.1785 * log10(1e5 / cycles)))
    return float(cycles**-0.6 * ductility**0.75) + elastic


def _slopes(cycles: float, ductility: float) -> float:
    return float(3.5 * TENSILE / ELASTIC_MODULUS * cycles**-0.12 + ductility**0.6 * cycles**-0.6)


def _tavernelli(cycles: float) -> float:
    return 0.6 / sqrt(cycles)


_RELATIONS: dict[Relation, Callable[[float], float]] = {
    "foil": lambda n: _engelmaier(n, 0.30),
    "foil-poor": lambda n: _engelmaier(n, 0.15),
    "slopes-poor": lambda n: _slopes(n, 0.3),
    "slopes": lambda n: _slopes(n, 1.2),
    "plastic": _tavernelli,
}


def strain_allowed(cycles: float, relation: Relation = "foil") -> float:
    """Total strain range that soft copper stands for so many cycles, by one of the candidate relations.

    foil, foil-poor: e = N**-0.6 Df**0.75 + 0.9 (Su/E) (exp(Df)/0.36)**(0.1785 log10(1e5/N)), Df 0.30 and 0.15
    (IPC-TR-579, Engelmaier). slopes, slopes-poor: e = 3.5 (Su/E) N**-0.12 + D**0.6 N**-0.6, D 1.2 and 0.3 (Manson).
    plastic: e = 0.6 N**-0.5 (Coffin and Tavernelli, plastic part only). Su 220 MPa, E 117 GPa. Constants from
    memory; valid about 10 to 1e6 cycles.
    """
    if not cycles >= 1:
        raise ValueError(f"at least one cycle, not {cycles!r}")
    one_of("relation", relation, _RELATIONS)
    return _RELATIONS[relation](cycles)


# More cycles than anything moves.
_NEVER = 1e15


def strain_borne(cycles: float, beside: float = 0.0) -> float:
    """Total strain range that lives for so many cycles, one at least, by every relation: the least of `strain_allowed`.

    `beside`: another strain range that each cycle also brings; what damage it leaves counts (Palmgren and Miner, as
    `life_together`), and none is 0.0.
    """
    wanted, least = max(cycles, 1.0), inf
    for name, relation in _RELATIONS.items():
        left = 1.0 - wanted / _invert(relation, beside, _NEVER) if beside > 0.0 else 1.0
        if left <= 0.0:
            return 0.0
        least = min(least, strain_allowed(wanted / left, name))
    return least


class Life(NamedTuple):
    """Cycles to a break by the relations of `strain_allowed`. Its order is low, high, middle: take fields by name.

    `low`: the least that any of them gives. `high`: the most. `middle`: the usual one between them (foil, Df 0.30).
    """

    low: float
    high: float
    middle: float


def life(strain: float, most: float = 1e9) -> Life:
    """Cycles to a break at a total strain range, as a band over the relations of `strain_allowed`.

    Each relation falls steadily with N and is inverted by halving in log N, held between 1 and `most`.
    """
    return life_together((strain,), most)


def life_together(strains: Sequence[float], most: float = 1e9) -> Life:
    """Cycles to a break where each cycle strains the copper by each of some total strain ranges, one after the other.

    Linear damage, by each relation: 1/N = sum 1/N_i (A. Palmgren 1924; M. A. Miner, J. Appl. Mech. 12, 1945). As `life`
    for a single strain, and held to one cycle at least.
    """
    if not most >= 1.0:
        raise ValueError(f"most is one cycle at least, not {most!r}")
    if not all(strain >= 0 for strain in strains):
        raise ValueError("a strain range is not below zero")
    found = {
        name: _summed([_invert(relation, strain, most) for strain in strains if strain > 0.0], most)
        for name, relation in _RELATIONS.items()
    }
    return Life(min(found.values()), max(found.values()), found["foil"])


def _summed(lives: Sequence[float], most: float) -> float:
    if len(lives) < 2:
        return next(iter(lives), most)
    return max(1.0, 1.0 / sum(1.0 / cycles for cycles in lives))


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
