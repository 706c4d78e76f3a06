"""Heat in closed places and on small parts: Newton's law of cooling, and a resistor's own data sheet."""

from __future__ import annotations

from postcheck.physics.given import from_zero

__all__ = ["place_rise", "resistor_rise"]


def place_rise(power: float, surface: float, per_area: float) -> float:
    """Rise (K) of the air in a closed place over the room at rest: dT = P / (U A).

    Power in W, outer surface in m2, U in W/(m2 K). Even temperature inside is assumed; expect about 30 % either
    way. Steady state; a small body gets there within the hour.
    """
    from_zero(power=power)
    if not (surface > 0 and per_area > 0):
        raise ValueError("a closed place needs a surface")
    return power / (per_area * surface)


def resistor_rise(power: float, rated: float, at_rating: float = 85.0) -> float:
    """Rise (K) of a resistor's body over the air round it: dT = at_rating * P / P_rated.

    Thick-film ratings run to zero at 155 degC from full rating at 70 degC (data sheet of a CRCW e3 type), so the
    rise at full rating is 155 - 70 = 85 K; film parts at full rating run 70 to 100 K hot (from memory).
    """
    from_zero(power=power, at_rating=at_rating)
    if not rated > 0:
        raise ValueError("a resistor has a rating above zero")
    return at_rating * power / rated
