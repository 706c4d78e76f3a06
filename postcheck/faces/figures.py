"""Numbers for people: three significant digits with the prefix that suits them."""

from __future__ import annotations

from math import degrees, floor, log10

__all__ = ["show"]

_PREFIXES = ((1e6, "M"), (1e3, "k"), (1.0, ""), (1e-3, "m"), (1e-6, "u"), (1e-9, "n"))


def show(value: float, unit: str) -> str:
    """A number in SI with its unit, as it is said at the bench: lengths in mm, shares in %, turns in degrees."""
    if unit == "m":
        return f"{_digits(value * 1e3)} mm"
    if unit == "m2":
        return f"{_digits(value * 1e4)} cm2"
    if unit == "share":
        return f"{value * 100:.0f} %"
    if unit == "rad":
        return f"{degrees(value):.0f} deg"
    if unit == "s":
        return f"{_digits(value / 3600)} h" if value >= 3600 else f"{_digits(value)} s"
    if unit in ("V", "A", "W", "ohm", "Hz"):
        for factor, prefix in _PREFIXES:
            if abs(value) >= factor * 0.9995:
                return f"{_digits(value / factor)} {prefix}{unit}"
        return f"0 {unit}"
    return f"{_digits(value)} {unit}".rstrip()


def _digits(value: float) -> str:
    if value == 0:
        return "0"
    places = max(0, 2 - floor(log10(abs(value))))
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
