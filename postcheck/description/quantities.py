"""Text with a unit, such as "260 mm", "1/4 in", "4k7" or "45 /min", to an SI number."""

from __future__ import annotations

import math
import re
from typing import NamedTuple

from postcheck.description.printing import article
from postcheck.description.problems import QuantityError, written_as
from postcheck.description.units import MEASURES, SHOWN, Dimension
from postcheck.plain import harmless, nearest, quoted

MOST_CHARACTERS = 120  # the longest sound one-line form is about half of this

UNSIGNED = r"(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
_QUANTITY = re.compile(
    rf"(?P<sign>[+-]?) ?(?:(?:(?P<whole>[0-9]+)[ -])?(?P<top>[0-9]+)/(?P<bottom>[0-9]+)(?![0-9.])"
    rf"|(?P<number>{UNSIGNED})) ?(?P<unit>.*)"
)
_NOT_FINITE = re.compile(r"[+-]?(?:nan|inf(?:inity)?)\b", re.IGNORECASE)
_COMMA, _GROUPED = re.compile("[0-9],[0-9]"), "[0-9]+(?:[.,][0-9]+)+"
# IEC 60062 letter code: the letter stands for the decimal point. "r" passes for R, "K" and "k" both are kilo.
_CODE = re.compile(r"(?P<front>[0-9]*)(?P<letter>[RrkKM])(?P<back>[0-9]*)(?P<tolerance>[A-Z]?)(?: ?ohms?)?")
_CODE_FACTOR = {"R": 1.0, "r": 1.0, "k": 1e3, "K": 1e3, "M": 1e6}
# IEC 60062, letters for the tolerance of resistors.
_TOLERANCE = {
    "B": 0.001, "C": 0.0025, "D": 0.005, "F": 0.01, "G": 0.02, "J": 0.05, "K": 0.1, "M": 0.2,
}  # fmt: skip
_LOOKALIKES = str.maketrans(
    {
        "\u00b5": "u", "\u03bc": "u",  # micro sign, Greek mu
        "\u2126": "ohm", "\u03a9": "ohm",  # ohm sign, Greek omega
        "\u2212": "-", "\u2033": '"', "\u201d": '"', "\u00b2": "2", "\u2026": "..",
        "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\u2007": " ",  # spaces that do not break
    }
)  # fmt: skip
_ALTERNATING = r"(?i)V(?:olts?)? ?(?:AC|~|rms)|AC"
# Ohms as people write them beside the usual way: Ohm, OHM, kOhm, K ohm.
_OHMS = re.compile(r"(?<![A-Za-z])(?P<kilo>[kKM]?) ?(?:[oO]hm|OHM)")
_DEGREES = re.compile("[\u00b0\u00ba] ?")


IN_DIGITS = {
    "\u00bd": "1/2",
    "\u00bc": "1/4",
    "\u00be": "3/4",
    "\u215b": "1/8",
    "\u215c": "3/8",
    "\u215d": "5/8",
    "\u215e": "7/8",
}
_FRACTIONS = frozenset(IN_DIGITS)


class Spread(NamedTuple):
    """The least, typical and most of something, in SI."""

    least: float
    typical: float
    most: float


def _unreadable(text: str, what: str, hint: str) -> QuantityError:
    return QuantityError("file.not-a-quantity", f"{quoted(text)} {what}", hint)


def _needed(dimension: Dimension) -> str:
    return f'{article(dimension)} is needed, such as "{MEASURES[dimension].example}"'


def tidy(text: str) -> str:
    """Return `text` with ASCII units and single spaces, or raise where it is too long for a quantity."""
    if len(text) > MOST_CHARACTERS:
        raise QuantityError(
            "file.too-long",
            f"{quoted(text, 40)} is {len(text)} characters long",
            "write a single value with its unit",
        )
    text = _DEGREES.sub("deg", text.translate(_LOOKALIKES))
    text = re.sub(r"\bper ", "/", " ".join(text.split()))
    if "hm" in text or "HM" in text:
        text = _OHMS.sub(_kilo, re.sub("(?<=[0-9])O(?:hm|HM)", "ohm", text))
    return text.replace("^2", "2").replace("deg C", "degC").replace("deg F", "degF").replace("/ ", "/")


def _kilo(found: re.Match[str]) -> str:
    prefix = found["kilo"].replace("K", "k")
    return f"{prefix}ohm" if prefix else found[0].lower()


def parse(text: str, dimension: Dimension, *, signed: bool = False) -> float:
    """Return the SI value of one quantity.

    The number is plain ("0.25"), scientific ("2.5e-1") or, for lengths, powers and angles, a fraction
    ("1/4", "1 1/2"). Resistances also take the letter code of IEC 60062 ("4k7", "R47"). Temperatures are in
    degrees Celsius and may be negative. Raises QuantityError.
    """
    tidied = tidy(text)
    if dimension is Dimension.RESISTANCE and (code := _CODE.fullmatch(tidied)) and not code["tolerance"]:
        value = _from_code(code, text)
        return _within(value, dimension, text)
    number, unit = _split(tidied, text, dimension)
    value = _scale(number, unit, text, dimension)
    if value < 0 and not signed and dimension is not Dimension.TEMPERATURE:
        raise QuantityError(
            "file.negative", f"{quoted(text)} is negative", f"{article(dimension)} cannot be below zero here"
        )
    return _within(value, dimension, text)


def read(value: object, dimension: Dimension, *, signed: bool = False) -> float:
    """Return the SI value of whatever stands in a file: text with a unit, never a bare number."""
    return parse(text_of(value, dimension), dimension, signed=signed)


def text_of(value: object, dimension: Dimension, example: str | None = None) -> str:
    """Return `value` if it is text; otherwise raise with a hint how to write the quantity."""
    if isinstance(value, str):
        return value
    example = example or MEASURES[dimension].example
    if isinstance(value, float) and not math.isfinite(value):
        raise QuantityError(
            "file.not-finite", f"{value} is no size of a real thing", f'write it as "{example}"'
        )
    if isinstance(value, int | float) and not isinstance(value, bool):
        raise _no_unit(_short(value), f"the number {_short(value)}", dimension, value, example)
    kind = {bool: "true or false", list: "a list", dict: "a table"}.get(type(value), "a date or time")
    raise QuantityError(
        "file.wrong-type", f"this is {kind}", f'{article(dimension)} is needed, such as "{example}"'
    )


def _short(value: float) -> str:
    # printing thousands of digits is slow, and may be refused
    if isinstance(value, int) and abs(value) >= 10**15:
        return "of more than 15 digits"
    return f"{value:.15g}"


def without_comma(text: str) -> str:
    """What to write for a text with commas in its numbers."""
    shown = harmless(" ".join(text.split()), 60)
    first = re.sub(_GROUPED, lambda number: _meant(number[0])[0], shown)
    readings = dict.fromkeys((first, re.sub(_GROUPED, lambda number: _meant(number[0])[-1], shown)))
    if shown in readings:  # the number is too long to be shown
        return "write it without the comma"
    hint = " or ".join(f'"{one}"' for one in readings)
    return f"write {hint}" + (", whichever is meant" if len(readings) > 1 else "")


def _meant(number: str) -> list[str]:
    """What a number with commas may mean; one without them means itself.

    The last sign is the point, and those before it part thousands; one sign alone before three digits may be either, and more
    of one kind before three digits each part thousands.
    """
    if "," not in number:
        return [number]
    *groups, last = re.split("[.,]", number)
    plain, point = "".join((*groups, last)), f"{''.join(groups)}.{last}"
    if len(set(re.findall("[.,]", number))) > 1 or any(len(one) != 3 for one in (*groups[1:], last)):
        return [point]
    return [point, plain] if len(groups) == 1 else [plain]


def _refuse_comma(tidied: str, text: str, dimension: Dimension) -> None:
    if _COMMA.search(tidied):
        raise QuantityError(
            "file.decimal-comma",
            f"{quoted(text)} has a comma in the number",
            without_comma(text) if re.search("[^0-9,. ]", tidied) else _needed(dimension),
        )


def _split(tidied: str, text: str, dimension: Dimension) -> tuple[float, str]:
    _refuse_comma(tidied, text, dimension)
    if _FRACTIONS & set(tidied):
        spelt = "".join(f" {IN_DIGITS[sign]}" if sign in _FRACTIONS else sign for sign in tidied).strip()
        raise _unreadable(text, "has a fraction in one character", written_as(spelt))
    if _NOT_FINITE.match(tidied):
        raise QuantityError(
            "file.not-finite", f"{quoted(text)} is no size of a real thing", _needed(dimension)
        )
    if ".." in tidied:
        raise _unreadable(text, "is a range", "one value is needed here, not two")
    code = _CODE.fullmatch(tidied)
    if code and (code["front"] or code["back"]) and code["tolerance"] in {"", *_TOLERANCE}:
        if dimension is not Dimension.RESISTANCE:
            raise _wrong(text, Dimension.RESISTANCE, dimension)
        raise _unreadable(text, "ends in a letter for the tolerance", "write the resistance alone here")
    match = _QUANTITY.fullmatch(tidied)
    if match is None:
        # a diameter sign, or each way: the key says both
        bare = re.sub("^(?:[\u00f8\u00d8\u2300\u00b1~]|\\+/-|ca\\.?|about) ?", "", tidied)
        if (
            bare != tidied
            and (plain := _QUANTITY.fullmatch(bare))
            and plain["unit"] in MEASURES[dimension].units
        ):
            raise _unreadable(text, "does not begin with its number", f'write "{bare}"')
        raise _unreadable(text, "is not a number with a unit", _needed(dimension))
    if match["number"] is not None:
        number = float(match["number"])
    else:
        if not MEASURES[dimension].fractions or not int(match["bottom"]):
            raise _unreadable(text, "is not one number", _needed(dimension))
        number = float(match["whole"] or 0) + float(match["top"]) / float(match["bottom"])
    if not math.isfinite(number):
        raise QuantityError("file.not-finite", f"{quoted(text)} is beyond any number", _needed(dimension))
    return (-number if match["sign"] == "-" else number), match["unit"]


def _scale(number: float, unit: str, text: str, dimension: Dimension) -> float:
    measure = MEASURES[dimension]
    if unit in measure.units:
        if unit == "degF":
            return (number - 32.0) * measure.units[unit]
        return _nearby(number * measure.units[unit])
    if not unit:
        raise _no_unit(tidy(text), quoted(text), dimension, number)
    if dimension is Dimension.VOLTAGE and re.fullmatch(_ALTERNATING, unit):
        raise QuantityError(
            "file.invalid",
            f"{quoted(text)} is alternating current, and only direct current is judged",
            "use an adaptor that gives DC and write its volts: on AC a lamp gets the full voltage backwards half the time",
        )
    other = next((d for d, m in MEASURES.items() if unit in m.units), None)
    if other is not None:
        raise _wrong(text, other, dimension)
    # a full stop ends a sentence, and no unit
    if near := _near_unit(unit.rstrip("."), dimension):
        head = harmless(text, 60).strip()
        head = head[: len(head) - len(unit)].rstrip() if head.endswith(unit) else f"{number:g}"
        raise QuantityError(
            "file.unknown-unit", f"the unit in {quoted(text)} is not known", f'write "{head} {near}"'
        )
    for candidate in Dimension:
        if candidate is not dimension and unit.lower() in (u.lower() for u in MEASURES[candidate].units):
            raise _wrong(text, candidate, dimension)
    if re.match(r"[-/] ?[0-9.]|to [0-9.]", unit):
        raise _unreadable(text, "is not one number", _needed(dimension))
    raise QuantityError("file.unknown-unit", f"the unit in {quoted(text)} is not known", _needed(dimension))


AS_MEASURED = "in the unit that you measured it in"
"""Beside a number that is shown with the usual unit."""
_WITH_UNIT = rf"(?<![0-9.])(?P<size>{UNSIGNED}(?:/[0-9]+)?) ?(?P<unit>[A-Za-z%\u00b5/]+2?)(?![A-Za-z0-9])"


def with_unit(number: str, example: str) -> str | None:
    """The number as it was typed, with the unit of the example; None where that would be no size of a real thing.

    Of units a thousand times larger or smaller it is the one with which the number comes nearest to the example.
    """
    if not re.fullmatch(r"[-+0-9./ eE]+", number):
        return None
    found = re.search(_WITH_UNIT, example.replace("..", " "))
    if found is None:
        return None
    unit = found["unit"]
    dimension = next((one for one, measure in MEASURES.items() if unit in measure.units), None)
    if dimension is None or not re.fullmatch(rf"[-+]?{UNSIGNED}", number):
        return f"{number} {unit}"  # of a range, or a count
    factors, usual = MEASURES[dimension].units, parse(found[0], dimension)
    near = [unit]
    if float(number) and dimension is not Dimension.RESISTANCE:  # a resistance alone is in ohm
        near += [
            one for one in SHOWN[dimension] if round(math.log10(factors[one] / factors[unit]), 9) in (-3, 3)
        ]
        near.sort(key=lambda one: abs(math.log(abs(float(number)) * factors[one] / usual)))
    for one in near:
        try:
            parse(f"{number} {one}", dimension, signed=True)
        except QuantityError:
            continue
        return f"{number} {one}"
    return None


def measured(number: str, example: str) -> str | None:
    """What to write for a number without its unit: the number itself, with the unit that is usual where the example stands."""
    right = with_unit(number, example)
    return right and f'write "{right}", {AS_MEASURED}'


def _no_unit(
    bare: str, called: str, dimension: Dimension, number: float | None = None, example: str = ""
) -> QuantityError:
    """What is wrong with a number, or several, without any unit. `bare`: as it was typed; `called`: in a sentence."""
    example = example or MEASURES[dimension].example
    hint = (_percent(number, dimension) if number is not None else None) or measured(bare, example)
    general = f'write {article(dimension)} in quotes with its unit, such as "{example}"'
    return QuantityError("file.no-unit", f"{called} has no unit", hint or general, bare)


def _percent(number: float, dimension: Dimension) -> str | None:
    """A share that is given as a bare number, as it is written: up to one it is a fraction, above that per cent."""
    if dimension is Dimension.SHARE and 0.0 < number < 1.0:
        return f'write "{number * 100.0:.12g} %", or "{number:.12g} %" where that is meant'
    if dimension is Dimension.SHARE and 1.0 < number <= 100.0:
        return f'write "{number:.12g} %"'
    return None


def _nearby(value: float) -> float:
    # 5 um is 5e-6 m, not 4.9999999999999996e-06: take the short number where it is a last-bit neighbour
    short = float(f"{value:.15g}")
    return short if abs(short - value) <= 2 * math.ulp(value) else value


def _near_unit(unit: str, dimension: Dimension) -> str | None:
    units = MEASURES[dimension].units
    if dimension is Dimension.TEMPERATURE and unit in {"C", "F", "c", "f"}:
        return "deg" + unit.upper()
    same = [known for known in units if known.lower() == unit.lower()]
    if unit in units or same:
        return unit if unit in units else same[0]
    if unit.casefold() == "grad":  # degrees in one language, the hundredth of a right angle in another
        return None
    # one or two letters are near to everything, so only longer units are guessed
    return nearest(unit, units) if len(unit) > 2 else None


def _wrong(text: str, given: Dimension, needed: Dimension) -> QuantityError:
    return QuantityError("file.wrong-dimension", f"{quoted(text)} is {article(given)}", _needed(needed))


def _within(value: float, dimension: Dimension, text: str) -> float:
    measure = MEASURES[dimension]
    if dimension is Dimension.TEMPERATURE:
        sound = -100.0 <= value <= measure.most
    else:
        slack = 1 + 1e-12  # "1 um" itself is sound, whatever the last bit says
        sound = value == 0 or measure.least / slack <= abs(value) <= measure.most * slack
    if not sound:
        raise QuantityError(
            "file.absurd", f"{quoted(text)} is implausible (a typing mistake?)", measure.reason
        )
    return value


def _from_code(code: re.Match[str], text: str) -> float:
    if not code["front"] and not code["back"]:
        raise _unreadable(text, "has no number", _needed(Dimension.RESISTANCE))
    return float(f"{code['front'] or 0}.{code['back'] or 0}") * _CODE_FACTOR[code["letter"]]


def parse_resistor(text: str) -> tuple[float, float | None]:
    """Return ohms and, where a letter of IEC 60062 follows ("4K7J"), the tolerance as a fraction."""
    code = _CODE.fullmatch(tidy(text))
    if code is None or not code["tolerance"]:
        return parse(text, Dimension.RESISTANCE), None
    if code["tolerance"] not in _TOLERANCE:
        raise _unreadable(
            text,
            "ends in a letter that is no tolerance",
            "the letters are B, C, D, F, G, J, K and M; J is 5 %",
        )
    return _within(_from_code(code, text), Dimension.RESISTANCE, text), _TOLERANCE[code["tolerance"]]


def parse_any(text: str, *, signed: bool = False) -> tuple[float, Dimension]:
    """Return the SI value and the dimension of a quantity of whatever kind, told by its unit."""
    tidied = tidy(text)
    code = _CODE.fullmatch(tidied)
    match = _QUANTITY.fullmatch(tidied)
    unit = match["unit"] if match else ""
    for dimension, measure in MEASURES.items():
        if unit in measure.units:
            return parse(text, dimension, signed=signed), dimension
    if code:
        return parse(text, Dimension.RESISTANCE), Dimension.RESISTANCE
    # raises: no unit, or an unknown one
    return parse(text, Dimension.LENGTH, signed=signed), Dimension.LENGTH


def _parts(tidied: str, separator: str, text: str, dimension: Dimension, signed: bool) -> list[float]:
    _refuse_comma(tidied, text, dimension)
    pieces = [piece.strip() for piece in tidied.split(separator)]
    last = _QUANTITY.fullmatch(pieces[-1])
    unit = last["unit"] if last else ""
    if all((one := _QUANTITY.fullmatch(piece)) and not one["unit"] for piece in pieces):
        raise _no_unit(tidied, quoted(text), dimension)
    values = []
    for piece in pieces:
        match = _QUANTITY.fullmatch(piece)
        bare = match is not None and not match["unit"]
        values.append(parse(f"{piece} {unit}" if bare and unit else piece, dimension, signed=signed))
    if values != sorted(values):
        raise QuantityError(
            "file.wrong-order", f"{quoted(text)} does not rise", "write the least first and the most last"
        )
    return values


def parse_range(text: str, dimension: Dimension, *, signed: bool = False) -> tuple[float, float]:
    """Return the low and the high end of "5..35 degC"; a single value is a range of no width."""
    tidied = tidy(text)
    if ".." not in tidied:
        if between := re.fullmatch(rf"({UNSIGNED}) ?(?:-|to|\u2013) ?({UNSIGNED} ?[^0-9]*)", tidied):
            raise _unreadable(text, "is not a range", f'write "{between[1]}..{between[2]}"')
        value = parse(text, dimension, signed=signed)
        return value, value
    values = _parts(tidied, "..", text, dimension, signed)
    if len(values) != 2:
        raise _unreadable(text, "is not a range", "a range has two ends")
    return values[0], values[1]


def parse_spread(text: str, dimension: Dimension, *, signed: bool = False) -> Spread:
    """Return the least, typical and most of "2.9/3.2/3.6 V", "2.9..3.6 V" (typical half-way) or "3.2 V"."""
    tidied = tidy(text)
    # a slash before a digit parts values; one before a letter belongs to a unit
    if re.search(r"/ ?[0-9.]", tidied) and ".." not in tidied and not MEASURES[dimension].fractions:
        values = _parts(re.sub(r" ?/ ?(?=[0-9.+-])", "|", tidied), "|", text, dimension, signed)
        if len(values) != 3:
            raise _unreadable(text, "is not a spread", "write least/typical/most, or least..most")
        return Spread(*values)
    low, high = parse_range(text, dimension, signed=signed)
    return Spread(low, (low + high) / 2, high)


_COUNT = rf"({UNSIGNED}) ?(?:cycles?|times|turns?)"
_SERVICE = r"(.+?) for (.+)"


def parse_cycles(text: str) -> float:
    """Return the number of cycles of "5000 cycles" or of "10 /day for 10 years" (rate times time)."""
    tidied = tidy(text)
    if count := re.fullmatch(_COUNT, tidied):
        cycles = float(count[1])
    elif service := re.fullmatch(_SERVICE, tidied):
        cycles = parse(service[1], Dimension.RATE) * parse(service[2], Dimension.TIME)
    else:
        raise _unreadable(text, "is not a number of cycles", 'write "5000 cycles" or "10 /day for 10 years"')
    if not cycles <= 1e12:  # ten thousand a second for three years
        raise QuantityError(
            "file.absurd",
            f"{quoted(text)} is implausible (a typing mistake?)",
            "no post turns more than 1e12 times",
        )
    return cycles
