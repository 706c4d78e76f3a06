"""How much a steady lamp flickers when another one on the same path switches, and how large a flash looks.

Sources: the small-signal divider of the shared path; WCAG 2.2 success criterion 2.3.1 for flashes.
What the eye notices: Weber's law (a just visible step is a fixed share of the light, 1 to 2 % side by side) and the
temporal contrast thresholds of de Lange and Kelly, about 0.5 % at 8 to 10 Hz and 1 to 1.5 % at 1 to 2 Hz (all from
memory). LED light is close to proportional to its current.
"""

from __future__ import annotations

from math import pi

__all__ = ["flash_area", "flashes_per_second", "modulation", "shared_step", "solid_angle", "step_share"]

FLASH_SOLID_ANGLE = 0.006
"""sr: concurrent flashing area within any 10 degrees of view, WCAG 2.2, general flash threshold."""


def shared_step(
    flash_current: float, shared: float, series: float, dynamic: float = 0.0, lamps_in_string: int = 1
) -> float:
    """Change (A, positive = dimmer) of a steady string's current when a flasher switches on.

    dI_s = dI_f R_c / (R + n r_d + R_c): R_c everything shared (feed, return, source), R the string's resistor,
    r_d the dynamic resistance of each of its n lamps; ohm and A. First order, within 1.4 % of the exact solution
    up to a step of 37 %.
    """
    total = series + lamps_in_string * dynamic + shared
    if not total > 0:
        raise ValueError("the path needs some resistance")
    return flash_current * shared / total


def step_share(
    flash_current: float,
    shared: float,
    steady_current: float,
    series: float,
    dynamic: float = 0.0,
    lamps_in_string: int = 1,
) -> float:
    """Step of a steady string as a share of its current: dI_s / I_s, i.e. disturbance volts over headroom volts."""
    if not steady_current > 0:
        raise ValueError("the steady current must be above zero")
    return shared_step(flash_current, shared, series, dynamic, lamps_in_string) / steady_current


def modulation(step: float) -> float:
    """Modulation depth of light that steps by this share of its bright level: M = s / (2 - s).

    M = (Lmax - Lmin)/(Lmax + Lmin) with Lmin = (1 - s) Lmax; a step of 2 % is M = 1 %. Valid for 0 <= s <= 1.
    """
    return step / (2.0 - step)


def flashes_per_second(per_minute: float) -> float:
    """Rate (Hz) of so many flashes a minute."""
    return per_minute / 60.0


def solid_angle(area: float, distance: float) -> float:
    """Solid angle (sr) of a small area (m2) seen square on at a distance (m): A / d**2."""
    if not distance > 0:
        raise ValueError("the distance must be above zero")
    return area / (distance * distance)


def flash_area(distance: float, steradian: float = FLASH_SOLID_ANGLE) -> float:
    """Area (m2) of flashing light that reaches the WCAG 2.2 solid angle at this distance (m): 0.006 sr * d**2.

    The small-angle form; at 0.006 sr it is right to 0.2 % of the cap on the sphere.
    """
    if not 0 < steradian < 2 * pi:
        raise ValueError("a solid angle in front of the viewer lies between 0 and 2 pi")
    return steradian * distance * distance
