"""A resistor as the file has it: of a lamp, a new one, and how either is written."""

from __future__ import annotations

import contextlib
from typing import Any

from postcheck.description import oneline
from postcheck.description.called import ohms_words, power_words, resistor_words
from postcheck.description.models import Build, ResistorSpec, SeriesResistor
from postcheck.description.printing import format_quantity
from postcheck.description.problems import QuantityError
from postcheck.description.toml_text import in_toml
from postcheck.description.units import Dimension
from postcheck.plain import quoted
from postcheck.remedies.proposal import Change
from postcheck.wiring.parts import LampPart
from postcheck.wiring.resistors import usual_resistor

# What a shop sells if only a value is asked for, W: common practice.
_SOLD = 0.25


def resistor_called(spec: ResistorSpec) -> str:
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
    values = _values(spec) | {
        "plus": [_values(piece) for piece in spec.plus] or None,
        "place": spec.place,
        "side": spec.side if spec.side == "back" else None,
    }
    return in_toml({key: value for key, value in values.items() if value is not None})


def _values(spec: SeriesResistor) -> dict[str, object]:
    values = {
        "ohms": format_quantity(spec.ohms, Dimension.RESISTANCE),
        "power": None if spec.power is None else power_words(spec.power),
        "size": spec.size,
        "tolerance": None if spec.tolerance is None else format_quantity(spec.tolerance, Dimension.SHARE),
        "trimmer": spec.trimmer or None,
        "set": None if spec.set is None else format_quantity(spec.set, Dimension.RESISTANCE),
    }
    return {key: value for key, value in values.items() if value is not None}


def with_ohms(spec: ResistorSpec, ohms: float) -> ResistorSpec:
    """A resistor with another value: several become one.

    A trimmer stays, turned where it is set and reaches so far, else with a fixed one before it.
    """
    trimmers = spec.trimmers
    fixed = sum(piece.ohms for piece in spec.pieces if not piece.trimmer)
    if len(trimmers) == 1 and trimmers[0].set is not None and 0.0 <= ohms - fixed <= trimmers[0].ohms:
        turned = {"set": ohms - fixed}
        if spec.trimmer:
            return spec.model_copy(update=turned)
        return spec.model_copy(
            update={"plus": tuple(p.model_copy(update=turned) if p.trimmer else p for p in spec.plus)}
        )
    return with_fixed(spec, ohms, None if spec.trimmer else spec.power, 0.0)


def with_fixed(spec: ResistorSpec, ohms: float, power: float | None, whole: float) -> ResistorSpec:
    """A resistor of these ohms and watts with the trimmers of another in series, the first set to what `whole` leaves."""
    trimmers = [SeriesResistor.model_construct(**{key: getattr(piece, key) for key in SeriesResistor.model_fields}) for piece in spec.trimmers]  # fmt: skip
    left = whole - ohms
    plus = tuple(
        one.model_copy(
            update={
                "set": max(0.0, min(left, one.ohms))
                if one.set is not None and number == 0 and whole
                else None
            }
        )
        for number, one in enumerate(trimmers)
    )
    sized = power is None and not spec.trimmer
    own = {"size": spec.size if sized else None, "tolerance": None if spec.trimmer else spec.tolerance}
    return spec.model_copy(
        update={"ohms": ohms, "power": power, "trimmer": False, "set": None, "plus": plus, **own}
    )


def changed_resistor(part: LampPart, spec: ResistorSpec, **values: Any) -> Change:
    """Another resistor for a lamp: `spec` with other values."""
    new = spec.model_copy(update=values)
    return Change(part.resistor_path, new, resistor_toml(new))


def value_words(build: Build, spec: ResistorSpec, old: ResistorSpec) -> str:
    """Its value, and its power or size where that is not the build's usual one, or another than the old one's."""
    value, usual = ohms_words(spec), build.usual.resistor
    if spec.power is not None and (
        spec.power != (usual_resistor(usual)[0] or _SOLD) or spec.power != old.power
    ):
        return f"{value} {power_words(spec.power)}"
    sized = spec.power is None and spec.size is not None and (usual is None or spec.size != usual.size)
    return f"{value} {spec.size}" if sized else value


def instead(build: Build, spec: ResistorSpec, old: ResistorSpec) -> str:
    """A resistor instead of the one that is there, in words."""
    return f"{value_words(build, spec, old)} instead of {ohms_words(old)}"


def new_spec(value: float, power: float | None, place: str | None) -> ResistorSpec:
    """A resistor (ohm, W) for a lamp that has none."""
    return ResistorSpec.model_construct(
        ohms=value,
        power=power,
        size=None,
        tolerance=None,
        trimmer=False,
        set=None,
        plus=(),
        place=place,
        side="feed",
    )


def joint_of(part: LampPart) -> str | None:
    """Where a first resistor sits: at the joint of the lamp's lead, or with the lamp (None)."""
    at_joint = part.supply_leg.to not in part.places and not shares_lead(part)
    return part.supply_leg.to if at_joint else None


def shares_lead(part: LampPart) -> bool:
    """Whether the file says that the strings share their lead, so that each string's own resistor sits with it."""
    return getattr(part.said, "strings_share", None) == "lead"
