"""Numbers for people, spelt as in the findings and in build files: a figure can be typed back."""

from __future__ import annotations

from math import floor, isfinite, log10, pi

_MINUTE, _HOUR, _DAY, _YEAR = 60.0, 3600.0, 86400.0, 365.25 * 86400.0
_PREFIXES = ((1e6, "M"), (1e3, "k"), (1.0, ""), (1e-3, "m"), (1e-6, "u"), (1e-9, "n"))

# Unit: (reached from, size, name), the largest first; a value takes the first that it reaches, or else the last.
_LADDERS: dict[str, tuple[tuple[float, float, str], ...]] = {
    **{
        unit: tuple((size, size, prefix + unit) for size, prefix in _PREFIXES)
        for unit in ("V", "A", "ohm", "W", "Hz", "J", "C")
    },
    "m": ((0.0, 1e-3, "mm"),),
    "m2": ((0.1e-4, 1e-4, "cm2"), (0.0, 1e-6, "mm2")),  # a wire's section would be 0.00008 cm2
    "share": ((0.0, 1e-2, "%"),),
    "rad": ((0.0, pi / 180.0, "deg"),),
    "s": (
        (2.0 * _YEAR, _YEAR, "years"), (100.0 * _HOUR, _DAY, "days"), (_HOUR, _HOUR, "h"), (_MINUTE, _MINUTE, "min"),
        (1.0, 1.0, "s"), (1e-3, 1e-3, "ms"), (0.0, 1e-6, "us"),
    ),
}  # fmt: skip
_OF_NOTHING = {"m": "mm", "m2": "cm2", "share": "%", "rad": "deg"}


def show(value: float | None, unit: str, digits: int = 3) -> str:
    """Return an SI value with its unit to three significant digits, or so many.

    V, A, ohm, W, Hz, J and C take a prefix; m is shown in mm, m2 in cm2 or mm2, "share" in %, rad in degrees, s in
    the unit of time that suits. Any other unit follows the number as it is. What is no finite number is "not known".
    """
    if value is None or not isfinite(value):
        return "not known"
    if value == 0.0:
        return f"0 {_OF_NOTHING.get(unit, unit)}".rstrip()
    if unit not in _LADDERS:
        return f"{_rounded(value, digits)} {unit}".rstrip()
    for reached_from, size, name in _LADDERS[unit]:
        text, unit = _rounded(value / size, digits), name
        # 999.96 mA is 1000 mA to three digits, and so 1 A: the rounded number decides
        if abs(float(text)) * size >= reached_from * (1.0 - 1e-9):
            break
    return f"{text} {unit}"


def number(value: object) -> float | None:
    """Return a figure of the report as a finite number, or None where it is text or not known."""
    if isinstance(value, int | float) and not isinstance(value, bool) and isfinite(value):
        return float(value)
    return None


def _rounded(value: float, digits: int) -> str:
    if not 1e-7 < abs(value) < 1e9:
        return f"{value:.{digits}g}"
    rounded = float(f"{value:.{digits}g}") if abs(value) < 10.0**digits else float(round(value))
    text = f"{rounded:.{max(0, digits - 1 - floor(log10(abs(rounded))))}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
