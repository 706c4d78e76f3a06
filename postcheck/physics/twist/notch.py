"""A nick in a solid wire, as stripping leaves it: strain gathers at its root."""

from __future__ import annotations

from postcheck.physics.given import from_zero

__all__ = ["HARDENING", "nicked_strain"]

HARDENING = 0.54
"""Strain hardening exponent of annealed copper, s = K e**n (Dieter, Mechanical Metallurgy; from memory)."""


def nicked_strain(strain: float, concentration: float, hardening: float = HARDENING) -> float:
    """Strain at the root of a nick where the sound wire has `strain`: e kt**(2/(1 + n)).

    Neuber's rule, stress times strain at the root is kt**2 times that of the sound wire, with s = K e**n on both sides
    (H. Neuber, J. Applied Mechanics 28, 1961). On the safe side of kt e, which holds while all of it springs back.
    """
    from_zero(strain=strain, hardening=hardening)
    if not concentration >= 1.0:
        raise ValueError(f"a nick takes no strain away: 1 at least, not {concentration!r}")
    return strain * float(concentration ** (2.0 / (1.0 + hardening)))
