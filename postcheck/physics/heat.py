"""Heat in closed places and on small parts.

Sources: Newton's law of cooling with a series of thermal resistances; the default conductance is judged from a
worked polystyrene box (3.3 W/m2K) and a published enclosure curve (4.6 W/m2K).
"""

from __future__ import annotations

from math import isfinite

__all__ = [
    "CLOSED_PLACE",
    "allowed_power",
    "conductance",
    "led_heat",
    "led_junction_rise",
    "local_temperature",
    "place_rise",
    "resistor_rise",
    "surface_rise",
]

CLOSED_PLACE = 3.5
"""W/(m2 K) from the air inside a closed small body to the room; judgement between 3.3 (worked) and 4.6 (curve)."""


def conductance(
    inside: float = 5.0, thickness: float = 0.0, conductivity: float = 0.16, outside: float = 10.0
) -> float:
    """Heat passed by a wall, U in W/(m2 K): 1/U = 1/h_i + t/k + 1/h_o.

    Films h_i, h_o in W/(m2 K) (free convection alone 2 to 25; small plastic bodies about 5 inside and, with
    radiation, 10 outside), thickness t in m, conductivity k in W/(m K) (polystyrene 0.16, from memory).
    """
    if not (inside > 0 and conductivity > 0 and outside > 0 and thickness >= 0):
        raise ValueError("films and conductivity must be above zero, a thickness not below")
    return 1.0 / (1.0 / inside + thickness / conductivity + 1.0 / outside)


def place_rise(power: float, surface: float, per_area: float = CLOSED_PLACE) -> float:
    """Rise (K) of the air in a closed place over the room at rest: dT = P / (U A).

    Power in W, outer surface in m2, U in W/(m2 K). Even temperature inside is assumed; expect about 30 % either
    way. Steady state; a small body gets there within the hour.
    """
    if not (surface > 0 and per_area > 0):
        raise ValueError("a closed place needs a surface")
    return power / (per_area * surface)


def allowed_power(rise: float, surface: float, per_area: float = CLOSED_PLACE) -> float:
    """Power (W) that warms a closed place by just this rise (K): P = U A dT."""
    return rise * per_area * surface


def surface_rise(power: float, surface: float, outside: float = 10.0) -> float:
    """Rise (K) of the outer wall over the room: dT = P / (h_o A)."""
    return place_rise(power, surface, outside)


def led_heat(volts: float, current: float, light_share: float = 0.0) -> float:
    """Heat (W) of an LED: P = V I (1 - share that leaves as light).

    The share defaults to none: in a closed painted body the light too ends as heat.
    """
    return volts * current * (1.0 - light_share)


def led_junction_rise(power: float, thermal_resistance: float = 500.0) -> float:
    """Rise (K) of a die over the air round it: dT = P Rth.

    Default 500 K/W, junction to ambient of a common 0805 LED on a board; data sheets of small LEDs give 300 to
    620 K/W. On fine leads without a board take the upper end.
    """
    return power * thermal_resistance


def resistor_rise(power: float, rated: float, at_rating: float = 85.0) -> float:
    """Rise (K) of a resistor's body over the air round it: dT = at_rating * P / P_rated.

    Thick-film ratings run to zero at 155 degC from full rating at 70 degC (data sheet of a CRCW e3 type), so the
    rise at full rating is 155 - 70 = 85 K; film parts at full rating run 70 to 100 K hot (from memory).
    """
    if not rated > 0:
        raise ValueError("a resistor has a rating above zero")
    return at_rating * power / rated


def local_temperature(ambient: float, place: float = 0.0, part: float = 0.0, share: float = 1.0) -> float:
    """Temperature (degC) of material beside a warm part: T = T_room + rise of the place + share * rise of the part.

    `share` is how much of the part's own rise reaches the material: 1 in contact (the safe default).
    """
    if not all(map(isfinite, (ambient, place, part, share))):
        raise ValueError("temperatures must be finite")
    return ambient + place + share * part
