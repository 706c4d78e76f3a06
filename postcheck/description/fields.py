"""Field types of the build models: text with a unit on the outside, an SI float on the inside.

A bare number in a file is refused by all of them; defaults in a model are SI floats and are not checked.
"""

from __future__ import annotations

from collections.abc import Callable
from math import pi, radians
from typing import Annotated, Any, Literal, TypeVar

from pydantic import (
    AfterValidator,
    BeforeValidator,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    ValidationInfo,
    WithJsonSchema,
)
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from postcheck.description import quantities
from postcheck.description.oneline import ALONE
from postcheck.description.printing import article
from postcheck.description.problems import QuantityError
from postcheck.description.quantities import (
    parse_cycles,
    parse_range,
    parse_resistor,
    parse_spread,
    read,
    text_of,
)
from postcheck.description.units import MEASURES, Dimension
from postcheck.plain import harmless


def refuse(error: QuantityError) -> PydanticCustomError:
    """Return `error` in the form that comes out of a pydantic model with its check and words intact."""
    return PydanticCustomError(
        "quantity",
        "{says}",
        {"check": error.check, "says": error.says, "hint": error.hint, "bare": error.bare},
    )


_Made = TypeVar("_Made")
MOST_KEPT = 2048
"""Texts of each kind of field whose value is kept: a large file says the same of many lamps."""


def _once(reader: Callable[[str], _Made]) -> Callable[[str], _Made]:
    """The reader, of each text asked once. What it makes is frozen, so that all who say the same can have it."""
    known: dict[str, _Made] = {}

    def read(text: str) -> _Made:
        try:
            return known[text]
        except KeyError:
            made = reader(text)
        if len(known) >= MOST_KEPT:
            known.clear()
        known[text] = made
        return made

    return read


class _before:  # noqa: N801 - stands in annotations beside the types of pydantic
    """Marks a value that `reader` makes of what the file says.

    As BeforeValidator, but for pydantic's look at the reader's signature, which would be a tenth of a start.
    """

    __slots__ = ("_of_text", "_reader")

    def __init__(self, reader: Callable[[object], Any]) -> None:
        self._reader = reader
        self._of_text = _once(reader)

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Put the reader before the type's own rules."""
        return core_schema.no_info_before_validator_function(self._read, handler(source))

    def _read(self, value: object) -> Any:
        try:
            return self._of_text(value) if type(value) is str else self._reader(value)
        except QuantityError as error:
            raise refuse(error) from None


class one_line:  # noqa: N801 - stands in annotations beside the types of pydantic
    """Marks a table that may also be written in one line; `form` rewrites the line to the table."""

    __slots__ = ("form",)

    def __init__(self, form: Callable[[str], dict[str, Any]]) -> None:
        self.form: Callable[[str], dict[str, Any]] = form

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Put the rewriting before the table's own rules."""
        known: dict[str, Any] = {}

        def read(value: object, validated: Callable[[object], Any]) -> Any:
            if type(value) is not str:
                return validated(self._rewrite(value))
            if value not in known:
                if len(known) >= MOST_KEPT:
                    known.clear()
                known[value] = validated(self._rewrite(value))
            return known[value]

        return core_schema.no_info_wrap_validator_function(read, handler(source))

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """In the editor schema it is a text or a table."""
        return {"anyOf": [{"type": "string", "text": self.form.__name__}, handler(core)]}

    def _rewrite(self, value: object) -> object:
        if isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < 1e9:
            number = f"{value:.12g}"
            right = quantities.measured(number, ALONE.get(self.form.__name__, ""))
            raise refuse(
                QuantityError(
                    "file.wrong-type",
                    f"{number} stands without quotes and unit",
                    right or "write a text in quotes, with its unit",
                )
            )
        if isinstance(value, int | float | list | tuple):
            what = "a list" if isinstance(value, list | tuple) else "no text and no table"
            raise refuse(
                QuantityError("file.wrong-type", f"this is {what}", "write a text in quotes, or a table")
            )
        if not isinstance(value, str):
            return value
        try:
            return self.form(value)
        except QuantityError as error:
            raise refuse(error) from None


WORDS: dict[str, str] = {}
"""What each kind of text is, in a sentence."""


def _schema(text: str, what: str, *examples: str) -> WithJsonSchema:
    # `text` names the pattern that the editor schema puts there; to make all of them at each start would be a waste
    WORDS[text] = what
    return WithJsonSchema({"type": "string", "description": what, "examples": list(examples), "text": text})


def _one(dimension: Dimension, *, signed: bool = False) -> tuple[_before, WithJsonSchema]:
    what = f"{article(dimension).capitalize()} with its unit."
    return (
        _before(lambda value: read(value, dimension, signed=signed)),
        _schema(f"{'signed ' * signed}{dimension.value}", what, MEASURES[dimension].example),
    )


_D = Dimension

Length = Annotated[float, *_one(_D.LENGTH)]
Area = Annotated[float, *_one(_D.AREA)]
Voltage = Annotated[float, *_one(_D.VOLTAGE)]
Current = Annotated[float, *_one(_D.CURRENT)]
Resistance = Annotated[float, *_one(_D.RESISTANCE)]
Power = Annotated[float, *_one(_D.POWER)]
Angle = Annotated[float, *_one(_D.ANGLE)]
Rate = Annotated[float, *_one(_D.RATE)]
Share = Annotated[float, *_one(_D.SHARE)]
Time = Annotated[float, *_one(_D.TIME)]
Charge = Annotated[float, *_one(_D.CHARGE)]
Energy = Annotated[float, *_one(_D.ENERGY)]
SignedCelsius = Annotated[float, *_one(_D.TEMPERATURE)]
OhmsPerMetre = Annotated[float, *_one(_D.RESISTANCE_PER_LENGTH)]
SignedVoltage = Annotated[float, *_one(_D.VOLTAGE, signed=True)]

CelsiusRange = Annotated[
    tuple[float, float],
    _before(lambda value: parse_range(text_of(value, _D.TEMPERATURE, "5..35 degC"), _D.TEMPERATURE)),
    _schema("temperature range", "A temperature, or a range of temperatures.", "5..35 degC", "20 degC"),
]
CurrentRange = Annotated[
    tuple[float, float],
    _before(lambda value: parse_range(text_of(value, _D.CURRENT, "8 mA"), _D.CURRENT)),
    _schema("current range", "A current, or a range of currents.", "8 mA", "3..8 mA"),
]
VoltageRange = Annotated[
    tuple[float, float],
    _before(lambda value: parse_range(text_of(value, _D.VOLTAGE, "3.5..14 V"), _D.VOLTAGE)),
    _schema("voltage range", "A range of voltages.", "3.5..14 V"),
]
Spread = Annotated[
    quantities.Spread,
    _before(lambda value: parse_spread(text_of(value, _D.VOLTAGE, "2.9..3.6 V"), _D.VOLTAGE)),
    _schema(
        "voltage spread",
        "A voltage; least..most; or least/typical/most.",
        "3.2 V",
        "2.9..3.6 V",
        "2.9/3.2/3.6 V",
    ),
]
Cycles = Annotated[
    float,
    _before(lambda value: parse_cycles(text_of(value, _D.RATE, "5000 cycles"))),
    _schema("cycles", "How often, in all.", "10 /day for 10 years", "5000 cycles"),
]
Ohms = Annotated[
    float,
    _before(lambda value: parse_resistor(text_of(value, _D.RESISTANCE))[0]),
    _schema(
        "marked resistance",
        "A resistance, with or without the letter of its tolerance (IEC 60062).",
        "4k7",
        "470 ohm",
        "4K7J",
    ),
]


def _right_way_round(value: object) -> bool:
    if isinstance(value, bool):
        return value
    raise QuantityError(
        "file.wrong-type",
        "it is neither true nor false",
        "write it without quotes",
    )


def _end_to_end(value: object) -> bool | float:
    if isinstance(value, bool):
        return value
    hint = 'write true, false or what the meter showed, such as "0.3 ohm"'
    if not isinstance(value, str):
        raise QuantityError("file.wrong-type", "it is neither true nor false, nor a resistance", hint)
    try:
        return read(value, _D.RESISTANCE)
    except QuantityError as error:
        raise QuantityError(error.check, error.says, hint) from None


Polarity = Annotated[
    bool,
    _before(_right_way_round),
    WithJsonSchema({"type": "boolean", "description": "true: the right way round; false: found reversed."}),
]
Continuity = Annotated[
    bool | float,
    _before(_end_to_end),
    WithJsonSchema(
        {
            "type": ["boolean", "string"],
            "description": "true: from end to end; false: open; or the resistance that the meter showed.",
            "examples": ["0.3 ohm", True],
        }
    ),
]


_Number = TypeVar("_Number", float, quantities.Spread)


def _above_zero(value: _Number, info: ValidationInfo) -> _Number:
    least, what = (value, "") if isinstance(value, float) else (value.least, "the least of ")
    if least <= 0.0:
        raise refuse(
            QuantityError(
                "file.out-of-range", f"{what}'{info.field_name}' is zero", "it must be above zero here"
            )
        )
    return value


def _below_whole(value: float, info: ValidationInfo) -> float:
    if value >= 1.0:
        raise refuse(
            QuantityError("file.out-of-range", f"'{info.field_name}' is 100 %", "it must be below 100 % here")
        )
    return value


Positive: AfterValidator = AfterValidator(_above_zero)
"""Beside a quantity of which nothing at all makes no sense, and by which others are divided."""
BelowWhole: AfterValidator = AfterValidator(_below_whole)
"""Beside a share of which the whole makes no sense."""


def _visible(value: str, info: ValidationInfo) -> str:
    # a single one is enough, and what cannot be seen is shown as an escape
    if value and not any(harmless(one) == one and not one.isspace() for one in value):
        raise refuse(
            QuantityError(
                "file.out-of-range", f"'{info.field_name}' has nothing that can be seen", "say it in words"
            )
        )
    return value


Visible: AfterValidator = AfterValidator(_visible)
"""Beside a text that has to say something."""


def _thin(value: float, info: ValidationInfo) -> float:
    if value > 0.05:
        raise refuse(
            QuantityError(
                "file.absurd", f"'{info.field_name}' is more than 50 mm", "no wire here is so thick"
            )
        )
    return value


Thin: AfterValidator = AfterValidator(_thin)
"""Beside the diameter of a wire."""


# Three full turns in all: beyond that no tube of a display model goes. Judgement.
_MOST_BENDS = radians(1080.0)


def _all_bends(value: float, info: ValidationInfo) -> float:
    if value > _MOST_BENDS * (1.0 + 1e-9):
        raise refuse(
            QuantityError(
                "file.absurd",
                f"'{info.field_name}' is more than 1080 deg",
                "no tube on a display model bends through more than three full turns in all",
            )
        )
    return value


AllBends: AfterValidator = AfterValidator(_all_bends)
"""Beside all bends of a passage, added up."""


def _half_turn(value: float, info: ValidationInfo) -> float:
    if value > pi * (1.0 + 1e-9):
        raise refuse(
            QuantityError(
                "file.absurd",
                f"'{info.field_name}' is more than 180 deg",
                "no hinge folds further than onto itself",
            )
        )
    return value


HalfTurn: AfterValidator = AfterValidator(_half_turn)
"""Beside how far a hinge folds."""


def _version(value: object) -> object:
    # 1.0 and true are equal to 1 in Python, and so to the library behind; thousands of digits are slow to print
    if isinstance(value, bool | float) or (isinstance(value, int) and abs(value) >= 10**15):
        shown = str(value).lower() if isinstance(value, bool | float) else "a number of that size"
        raise refuse(QuantityError("file.choice", f"'format' cannot be {shown}", "write 1"))
    return value


Version = Annotated[Literal[1], BeforeValidator(_version)]
