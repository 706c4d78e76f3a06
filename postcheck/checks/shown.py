"""Numbers and names as findings show them: one spelling for each unit and each kind of part."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import ceil, floor, log10

from postcheck.description.consumers import CONSUMERS
from postcheck.description.printing import format_apart, format_quantity
from postcheck.description.units import Dimension
from postcheck.plain import quoted
from postcheck.report import Figure, Subject

APART = "apart"
"""`{bore:apart}`: figures of one unit that are held against each other; what differs does not look alike."""
HOURS = "h"
"""`{ran:h}`: a time in hours, however short or long."""
TENTHS = "tenths"
"""`{way:tenths}`: a length to a tenth of a millimetre, for those that add up."""
THEN = "then"
"""`{order:then}`: all parts by name, one after the other."""
ANY = "any"
"""`{suspects:any}`: parts of which any one will do, joined by "or"."""
KIND = "kind"
"""`{part:kind}`: by kind and name, for what may share its name with something else."""

_DIMENSIONS = {
    "A": Dimension.CURRENT,
    "V": Dimension.VOLTAGE,
    "W": Dimension.POWER,
    "ohm": Dimension.RESISTANCE,
    "m": Dimension.LENGTH,
    "m2": Dimension.AREA,
    "rad": Dimension.ANGLE,
    "Hz": Dimension.RATE,
    "share": Dimension.SHARE,
    "s": Dimension.TIME,
    "C": Dimension.CHARGE,
    "K": Dimension.WARMING,
    "N": Dimension.FORCE,
}
# What is left of rounding is nothing.
_NOTHING = {"A": 1e-10, "V": 1e-9}
# Up to this time (s) people count in hours, not days.
_HOUR = 3600.0
_MOST_HOURS = 100.0 * _HOUR
# Parts that have the name of what they belong to.
_PART_OF = frozenset({"lead", "resistor", "output", "wire", "contacts", "joint", "supply leg", "return leg"})


def shown(figure: Figure, how: str = "") -> str:
    """A figure in the spelling of its unit.

    `how`: for a count its noun, one and many, as in "string" or "lamp loses|lamps lose"; for a time `HOURS`; for a length
    `TENTHS`.
    """
    value, unit = figure.value, figure.unit
    if unit == "":
        one, _, many = how.partition("|")
        return count_of(value, one, many or None) if how else _number(value)
    if unit == "degC":
        return f"{value:.0f} degC"
    if how == TENTHS:
        return f"{round(value * 1e4) / 10:.12g} mm"
    if unit == "s" and (how == HOURS or _HOUR <= value < _MOST_HOURS):
        return f"{float(f'{value / _HOUR:.3g}'):g} h"
    if unit not in _DIMENSIONS:
        return f"{_number(value)} {unit}"
    return format_quantity(_clean(value, unit), _DIMENSIONS[unit])


def _clean(value: float, unit: str) -> float:
    return value if abs(value) > _NOTHING.get(unit, 0.0) else 0.0


def shown_apart(figures: Sequence[Figure]) -> tuple[str, ...]:
    """Figures with as many digits as tell those of one unit apart; times all in hours where people count hours."""
    spelt: dict[Figure, str] = {}
    for unit in dict.fromkeys(figure.unit for figure in figures):
        alike = [figure for figure in figures if figure.unit == unit]
        values = [_clean(figure.value, unit) for figure in alike]
        spelt.update(zip(alike, _apart(unit, values), strict=True))
    return tuple(spelt[figure] for figure in figures)


def _apart(unit: str, values: Sequence[float]) -> tuple[str, ...]:
    if not unit:
        return _until_apart(values, 3, lambda value, digits: f"{value:.{digits}g}")
    if unit not in _DIMENSIONS and unit != "degC":
        return _until_apart(values, 3, lambda value, digits: f"{value:.{digits}g} {unit}")
    if unit == "degC":
        return _until_apart(values, 0, lambda value, digits: f"{value:.{digits}f} degC")
    if unit == "s" and max(values) >= _HOUR:
        return _until_apart(
            values, 3,
            lambda value, digits: (
                f"{value / _HOUR:.{digits}g} h" if value < _MOST_HOURS else format_quantity(value, Dimension.TIME, digits)
            ),
        )  # fmt: skip
    return format_apart(_DIMENSIONS[unit], *values)


def _until_apart(values: Sequence[float], digits: int, spell: Callable[[float, int], str]) -> tuple[str, ...]:
    """The values spelt with as many digits, from `digits` up, as tell them apart."""
    tried = [tuple(spell(value, digits + more) for value in values) for more in range(8)]
    return next((spelt for spelt in tried if len(set(spelt)) == len(set(values))), tried[0])


def shown_parts(parts: Sequence[Subject], how: str = "") -> str:
    """Parts by name: the first few, and how many more there are.

    `how`: how many are named, three if it is empty; or `ANY`, `KIND` or `THEN`.
    """
    if how == THEN:
        return ", then ".join(map(_name, parts))
    names = list(dict.fromkeys(_name(part, kind=how == KIND) for part in parts))
    most = int(how) if how.isdigit() else 3
    more = len(names) - most
    head, last = (names[:most], f"{more} more") if more > 0 else (names[:-1], names[-1])
    return f"{', '.join(head)} {'or' if how == ANY else 'and'} {last}" if head else last


def _name(part: Subject, *, kind: bool = False) -> str:
    if part == Subject("passage", "post"):
        return "the post"
    if part.kind in _PART_OF:
        return f"the {part.kind} of {quoted(part.name)}"
    # the name of a finding holds that of a check and that of a part
    name = quoted(part.name, 200) if part.kind in ("finding", "acceptance") else quoted(part.name)
    # lamps, strips and loads go by their names alone, as people at the bench say them
    return f"{part.kind} {name}" if kind and part.kind not in CONSUMERS else name


def _number(value: float) -> str:
    """A number without a unit: whole ones whole, with a comma before each three digits."""
    return f"{value:,.0f}" if value == round(value) or abs(value) >= 1000.0 else f"{value:.3g}"


def count_of(number: float, one: str, many: str | None = None) -> str:
    """A number with its noun: 1 lamp, 3 lamps."""
    return f"{_number(number)} {one if number == 1 else many or one + 's'}"


def amps(value: float) -> str:
    """A current."""
    return shown(Figure(value, "A"))


def volts(value: float) -> str:
    """A voltage."""
    return shown(Figure(value, "V"))


def watts(value: float) -> str:
    """A power."""
    return shown(Figure(value, "W"))


def ohms(value: float) -> str:
    """A resistance."""
    return shown(Figure(value, "ohm"))


def millimetres(value: float) -> str:
    """A length."""
    return shown(Figure(value, "m"))


def degrees(value: float) -> str:
    """An angle."""
    return shown(Figure(value, "rad"))


def celsius(value: float) -> str:
    """A temperature, whole degrees."""
    return shown(Figure(value, "degC"))


def percent(value: float) -> str:
    """A share."""
    return shown(Figure(value, "share"))


def span(seconds: float, beside: float = 0.0) -> str:
    """A length of time, in hours up to four days; `beside`: a longer one told with it, so that both are in hours."""
    hours = max(seconds, beside) >= _HOUR and seconds < _MOST_HOURS
    return shown(Figure(seconds, "s"), HOURS if hours else "")


def listed(names: Sequence[str], most: int = 3) -> str:
    """Names in quotes: the first few, and how many more there are."""
    known = list(dict.fromkeys(names))
    head = ", ".join(quoted(name) for name in known[:most])
    more = len(known) - most
    return f"{head} and {more} more" if more > 0 else head


def rounded_up(value: float) -> float:
    """A value above zero to two digits, and no less than it is."""
    step = _second_digit(value)
    return ceil(value / step - 1e-9) * step


def rounded_down(value: float) -> float:
    """A value above zero to two digits, and no more than it is."""
    step = _second_digit(value)
    return floor(value / step + 1e-9) * step


def _second_digit(value: float) -> float:
    step: float = 10.0 ** (floor(log10(value)) - 1)
    return step
