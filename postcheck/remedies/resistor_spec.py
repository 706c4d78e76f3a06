"""A resistor as the file has it: of a lamp, a new one, and how either is written."""

from __future__ import annotations

import contextlib

from postcheck.description import oneline
from postcheck.description.called import power_words, resistor_words
from postcheck.description.models import ResistorSpec
from postcheck.description.printing import format_quantity
from postcheck.description.problems import QuantityError
from postcheck.description.toml_text import in_toml
from postcheck.description.units import Dimension
from postcheck.plain import quoted
from postcheck.remedies.proposal import Change
from postcheck.wiring.parts import LampPart


def called(spec: ResistorSpec) -> str:
    """A resistor as a sentence has it: its place is quoted."""
    plain = resistor_words(spec.model_copy(update={"place": None}))
    return plain if spec.place is None else f"{plain} at {quoted(spec.place)}"


def resistor_toml(spec: ResistorSpec) -> str:
    """As it is typed: in one line where that reads back as the same resistor, else as a table."""
    line = resistor_words(spec)
    if spec.side == "feed":
        with contextlib.suppress(QuantityError):
            read = oneline.resistor(line)
            if (read.get("place"), read.get("size")) == (spec.place, None if spec.power else spec.size):
                return in_toml(line)
    values = {
        "ohms": format_quantity(spec.ohms, Dimension.RESISTANCE),
        "power": None if spec.power is None else power_words(spec.power),
        "size": spec.size,
        "tolerance": None if spec.tolerance is None else format_quantity(spec.tolerance, Dimension.SHARE),
        "place": spec.place,
        "side": spec.side if spec.side == "back" else None,
    }
    return in_toml({key: value for key, value in values.items() if value is not None})


def spec_of(part: LampPart) -> ResistorSpec | None:
    """The resistor of a lamp, or of one of its colours, as the file has it."""
    lamp = part.said
    if len(part.path) > 2 and lamp.dice is not None:
        return lamp.dice[str(part.path[3])].resistor
    return lamp.resistor


def change(part: LampPart, spec: ResistorSpec) -> Change:
    """Another resistor for a lamp."""
    return Change(part.resistor_path, spec, resistor_toml(spec))


def shown(spec: ResistorSpec, old: ResistorSpec) -> str:
    """Its value, and its power where that is not the old one's."""
    value = format_quantity(spec.ohms, Dimension.RESISTANCE)
    return value if spec.power is None or spec.power == old.power else f"{value} {power_words(spec.power)}"


def new_spec(value: float, power: float | None, place: str | None) -> ResistorSpec:
    """A resistor (ohm, W) for a lamp that has none."""
    return ResistorSpec.model_construct(
        ohms=value, power=power, size=None, tolerance=None, place=place, side="feed"
    )
