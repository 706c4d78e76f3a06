"""Copper conductors: gauge, resistance, strength.

Sources: ASTM B258 (gauge), IEC 60028 (resistivity), ASTM B496 (stranding), ASTM B3 (elongation).
"""

from __future__ import annotations

from math import pi

from postcheck.physics.given import above, from_zero, warmer_than_nothing

__all__ = [
    "ALPHA",
    "ELASTIC_MODULUS",
    "MELTING",
    "POISSON",
    "RESISTIVITY",
    "STRANDING",
    "TENSILE",
    "VOLUMETRIC_HEAT",
    "YIELD",
    "area",
    "at_temperature",
    "awg_diameter",
    "breaking_load",
    "minimum_elongation",
    "ohms_per_metre",
    "strand_area",
    "yield_load",
]

RESISTIVITY = 1e-6 / 58.0
"""Ohm metre at 20 degC: 1/58 ohm mm2/m, annealed copper, IEC 60028."""
ALPHA = 0.00393
"""Per kelvin, from 20 degC, IEC 60028."""
MELTING = 1083.0
"""degC, as in Onderdonk's equation (1085 by later measurement)."""
VOLUMETRIC_HEAT = 3.45e6
"""J/(K m3), IEC 60364-5-54 table A.54.1."""
STRANDING = 1.02
"""Resistance of a stranded conductor over the sum of its strands, for the lay: 2 %, ASTM B496 (and B8)."""
TENSILE = 220e6
"""Pa, ultimate tensile strength of annealed copper: strip O 216 to 224 MPa (Smithells, table 22.7); 200 to 250 usual."""
YIELD = 75e6
"""Pa, 0.2 % proof stress, annealed, OS050 temper of C10800 (48 to 75 MPa are published for soft copper)."""
ELASTIC_MODULUS = 117e9
"""Pa, annealed copper (Smithells; 17 Msi)."""
POISSON = 0.34
"""Poisson's ratio of annealed copper."""


def awg_diameter(gauge: float) -> float:
    """Bare diameter (m) of an American wire gauge number: d = 0.127 mm * 92**((36 - n)/39).

    Valid for 4/0 (write -3) to 50; the tabulated diameters of makers are rounded to 0.1 mil, which moves the
    resistance by up to 1.3 %. Source: ASTM B258.
    """
    if not -3 <= gauge <= 50:
        raise ValueError(f"no AWG {gauge}: 4/0 (-3) to 50")
    return float(0.127e-3 * 92.0 ** ((36.0 - gauge) / 39.0))


def area(diameter: float) -> float:
    """Cross-section (m2) of a round conductor of this diameter (m): A = pi d**2 / 4."""
    from_zero(diameter=diameter)
    return pi * diameter * diameter / 4.0


def strand_area(strands: int, diameter: float) -> float:
    """Copper cross-section (m2) of so many strands of this diameter (m): A = k pi w**2 / 4."""
    if not strands >= 1:
        raise ValueError(f"a conductor has at least one strand, not {strands!r}")
    return strands * area(diameter)


def ohms_per_metre(cross_section: float, stranded: bool = False, factor: float = STRANDING) -> float:
    """Resistance (ohm/m) at 20 degC of a copper cross-section (m2): R' = rho / A, times `factor` if stranded.

    UL style hook-up wire may lie up to 1.12 times the solid value and still be in its specification (UL 758).
    Source: IEC 60028; factor ASTM B496.
    """
    above(factor=factor)
    if not cross_section > 0:
        raise ValueError("a conductor needs a cross-section above zero")
    return RESISTIVITY / cross_section * (factor if stranded else 1.0)


def at_temperature(ohms20: float, celsius: float, alpha: float = ALPHA) -> float:
    """Resistance (ohm) at a temperature (degC) from that at 20 degC: R = R20 (1 + alpha (T - 20)).

    Valid about -50 to 200 degC (linear law). Source: IEC 60028.
    """
    from_zero(ohms20=ohms20)
    warmer_than_nothing(celsius=celsius)
    return ohms20 * (1.0 + alpha * (celsius - 20.0))


def breaking_load(cross_section: float, tensile: float = TENSILE) -> float:
    """Load (N) that breaks an annealed conductor of this section (m2): F = A * UTS; within about 12 %."""
    from_zero(cross_section=cross_section, tensile=tensile)
    return cross_section * tensile


def yield_load(cross_section: float, proof: float = YIELD) -> float:
    """Load (N) from which an annealed conductor of this section (m2) stays longer: F = A * proof stress."""
    from_zero(cross_section=cross_section, proof=proof)
    return cross_section * proof


def minimum_elongation(diameter: float) -> float:
    """Least elongation at break (share of 254 mm) of soft wire of this diameter (m).

    Steps of ASTM B3-95 table 1: 35 % from 8.25 mm, 30 % from 2.906, 25 % from 0.574, 20 % from 0.287, 15 % from
    0.079 mm. Below 0.079 mm the table ends; 10 % is returned (from memory).
    """
    from_zero(diameter=diameter)
    millimetres = diameter * 1e3
    # a little below the printed limits, which stand for gauges: 23 AWG is 0.5733 and printed as 0.574
    for least, share in ((8.2495, 0.35), (2.9055, 0.30), (0.5725, 0.25), (0.2855, 0.20), (0.0785, 0.15)):
        if millimetres >= least:
            return share
    return 0.10
