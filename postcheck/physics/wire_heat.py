"""How hot a thin wire gets, free in still air, alone in the bore of a post, or with others.

A fine wire sheds heat far better than a plate: the air around it conducts from a small cylinder. Film by Morgan's
correlation for long horizontal cylinders. Sources: Morgan 1975 (coefficients from memory, as handbooks of heat transfer
print them); Preece's fusing currents as a check; IEC 60028 (copper); IEC 60364-5-54 annex A (heat capacity).
"""

from __future__ import annotations

from collections.abc import Callable
from math import exp, log, pi

from postcheck.physics.copper import ALPHA, MELTING, VOLUMETRIC_HEAT
from postcheck.physics.given import above, from_zero, warmer_than_nothing

__all__ = ["WALL_FILM", "company_rise", "film", "loss_per_metre", "settles_at", "warms_to"]

WALL_FILM = 10.0
"""W/(m2 K) from the outside of a post to the room, free convection and radiation; judgement, as for small parts."""

# (up to this Rayleigh number, C, m) of Nu = C Ra**m
_MORGAN = ((1e-2, 0.675, 0.058), (1e2, 1.02, 0.148), (1e4, 0.850, 0.188), (1e7, 0.480, 0.250))


def _conductivity(kelvin: float) -> float:
    """W/(m K), air; 0.0241 at 0 degC, power law (from memory; within 3 % to 800 K)."""
    return float(0.0241 * (kelvin / 273.15) ** 0.84)


def _nusselt(outside: float, rise: float, ambient: float) -> tuple[float, float]:
    """Nusselt number and the air's conductivity at the film temperature."""
    middle = 273.15 + ambient + rise / 2.0
    viscosity = (
        1.458e-6 * middle**1.5 / (middle + 110.4) * middle * 287.05 / 101325.0
    )  # kinematic, Sutherland
    # Prandtl number 0.71: diffusivity = viscosity / 0.71
    rayleigh = 9.81 / middle * max(rise, 1e-3) * outside**3 * 0.71 / (viscosity * viscosity)
    for most, factor, power in _MORGAN:
        if rayleigh <= most:
            return float(factor * rayleigh**power), _conductivity(middle)
    raise ValueError("not a thin wire: Rayleigh number above 1e7")


def _sound(outside: float, rise: float, ambient: float) -> None:
    above(outside=outside)
    from_zero(rise=rise)
    warmer_than_nothing(ambient=ambient)


def film(outside: float, rise: float, ambient: float = 25.0) -> float:
    """Heat film (W/(m2 K)) of a long level wire in still air: h = Nu k / D, Nu = C Ra**m.

    C, m by Morgan: 0.675, 0.058 to Ra 1e-2; 1.02, 0.148 to 1e2; 0.850, 0.188 to 1e4; 0.480, 0.250 to 1e7; valid from
    Ra 1e-10, that is from about 1 um to some 20 mm. Air at the film temperature. No radiation: the hot side.
    """
    _sound(outside, rise, ambient)
    nusselt, conductivity = _nusselt(outside, rise, ambient)
    return nusselt * conductivity / outside


def loss_per_metre(outside: float, rise: float, ambient: float = 25.0, bore: float | None = None) -> float:
    """Heat (W/m) that a wire of this outside diameter (m) sheds at a rise (K) of its surface.

    Free: pi k Nu dT. In a bore (m) the air does not move: conduction across the gap, Nu = 2 / ln(bore/outside) with
    the wire in the middle (against the wall it is cooler), in series with the post's outer film, 1/(pi D h), D taken
    as the bore and h = 10 W/(m2 K). In wide bores, where air begins to move, the hot side.
    """
    _sound(outside, rise, ambient)
    if bore is not None:
        above(bore=bore)
    return _loss(outside, rise, ambient, bore)


def _loss(outside: float, rise: float, ambient: float, bore: float | None) -> float:
    nusselt, conductivity = _nusselt(outside, rise, ambient)
    if bore is None:
        return pi * conductivity * nusselt * rise
    gap = log(bore / outside) / (2.0 * pi * conductivity) if bore > outside else 0.0
    return rise / (gap + 1.0 / (pi * bore * WALL_FILM))


def company_rise(
    watts_per_metre: float, bundle: float, bore: float, rise: float, ambient: float = 25.0
) -> float:
    """By how many K heat (W/m) shed in a bundle of this diameter warms all that lies in it, in a bore (m).

    The bundle sheds as one wire of its diameter does (`loss_per_metre`), taken near a rise (K) of its surface: dT = W
    rise / loss. A wire's own way out to the bundle's rim is no part of it. Steady state.
    """
    from_zero(watts_per_metre=watts_per_metre)
    above(bundle=bundle, bore=bore)
    near = max(rise, 1.0)
    return watts_per_metre * near / loss_per_metre(bundle, near, ambient, bore)


def settles_at(
    current: float | Callable[[float], float],
    ohms_per_metre: float,
    outside: float,
    ambient: float = 25.0,
    bore: float | None = None,
    most: float = MELTING,
) -> float | None:
    """Temperature (degC) at which a wire settles, or None if it gets beyond `most` (degC; copper's melting point).

    Balance of I**2 R'20 (1 + alpha (T - 20)) with `loss_per_metre`, by halving. `current` in A, or a function that
    gives it for a temperature of the wire: a short in a long fine wire throttles itself as the wire warms. The drop
    across the insulation, some 5 % of the rise, is left out.
    """
    from_zero(ohms_per_metre=ohms_per_metre)
    above(outside=outside)
    warmer_than_nothing(ambient=ambient, most=most)
    if bore is not None:
        above(bore=bore)

    def gains(rise: float) -> bool:
        celsius = ambient + rise
        amps = current(celsius) if callable(current) else current
        made = amps * amps * ohms_per_metre * (1.0 + ALPHA * (celsius - 20.0))
        return made > _loss(outside, rise, ambient, bore)

    low, high = 0.0, most - ambient
    if high <= 0.0 or gains(high):
        return None
    for _ in range(24):  # a tenth of a millikelvin
        middle = 0.5 * (low + high)
        low, high = (middle, high) if gains(middle) else (low, middle)
    return ambient + high


def warms_to(
    current: float,
    seconds: float,
    cross_section: float,
    ohms_per_metre: float,
    loss: float,
    ambient: float = 25.0,
) -> float:
    """Temperature (degC) of a wire after so long at a current; infinite when it has run away.

    c A dT/dt = I**2 R'20 (1 + alpha (T - 20)) - g (T - Ta), g the loss in W/(m K) held constant (take it at a rise
    near the one of interest), c A the heat held by the copper alone, 3.45e6 J/(K m3): dT = P0/(c A) (exp(m t) - 1)/m
    with m = (I**2 R'20 alpha - g)/(c A). Above some 500 degC a lower bound.
    """
    from_zero(seconds=seconds, ohms_per_metre=ohms_per_metre, loss=loss)
    above(cross_section=cross_section)
    warmer_than_nothing(ambient=ambient)
    held = VOLUMETRIC_HEAT * cross_section
    power = current * current * ohms_per_metre
    start = power * (1.0 + ALPHA * (ambient - 20.0)) / held
    rate = (power * ALPHA - loss) / held
    exponent = rate * seconds
    if exponent > 50.0:
        return float("inf")
    if abs(exponent) < 1e-9:
        return ambient + start * seconds
    return ambient + start * (exp(exponent) - 1.0) / rate
