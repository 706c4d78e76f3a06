"""A lead with something changed, and how it is written in the file."""

from __future__ import annotations

from typing import Any

from postcheck.description.models import Lead
from postcheck.description.models.leads import Leg
from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.remedies.proposal import Change
from postcheck.wiring.parts import Part

_ONE_LINE = {"length", "wire", "to", "colours"}


def changed_lead(part: Part, **values: Any) -> Change | None:
    """The lead of a part with other values; None where the file has no lead for it."""
    lead = part.lead
    if not isinstance(lead, Lead):
        return None
    new = lead.model_copy(update=values)
    return Change((*part.path[:2], "lead"), new, lead_toml(new))


def flagged(part: Part, leg: str, label: str) -> Change | None:
    """A flag on one leg of a part's lead."""
    lead = part.lead
    own = getattr(lead, leg, None)
    leg_with = Leg(label=label) if own is None else own.model_copy(update={"label": label})
    return changed_lead(part, **{leg: leg_with})


def lead_toml(lead: Lead) -> str | None:
    """As a table, or in one line where that does; None for one with keys that are seldom."""
    said = {
        key: value for key in type(lead).model_fields if (value := getattr(lead, key)) not in (None, False)
    }
    if said.keys() <= _ONE_LINE and lead.length is not None:
        wire = f" of {lead.wire}" if lead.wire else ""
        to = f" to {lead.to}" if lead.to else ""
        colours = f", {'/'.join(lead.colours)}" if lead.colours else ""
        return f'"{_length(lead.length)}{wire}{to}{colours}"'
    pairs = {}
    for key, value in said.items():
        if key in ("length", "spare"):
            pairs[key] = f'"{_length(value)}"'
        elif key in ("wire", "to", "label"):
            pairs[key] = f'"{value}"'
        elif key in ("wires", "colours"):
            pairs[key] = "[" + ", ".join(f'"{one}"' for one in value) + "]"
        elif key in ("feed", "back"):
            pairs[key] = _leg(value)
        elif value is True:
            pairs[key] = "true"
        else:
            return None
    return "{ " + ", ".join(f"{key} = {value}" for key, value in pairs.items()) + " }"


def _leg(leg: Leg) -> str:
    said = {key: value for key in type(leg).model_fields if (value := getattr(leg, key)) is not None}
    return (
        "{ "
        + ", ".join(
            f'{key} = "{_length(value) if key == "length" else value}"' for key, value in said.items()
        )
        + " }"
    )


def _length(metres: float) -> str:
    return format_quantity(metres, Dimension.LENGTH, 6)
