"""A lead with something changed, and how it is written in the file."""

from __future__ import annotations

import contextlib
from typing import Any

from postcheck.description import oneline
from postcheck.description.models import Lead
from postcheck.description.models.leads import Leg
from postcheck.description.problems import QuantityError
from postcheck.description.toml_text import in_toml
from postcheck.remedies.proposal import Change
from postcheck.remedies.table_spec import table_of
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


def lead_toml(lead: Lead) -> str:
    """In one line where that reads back as the same lead, else as a table."""
    return in_toml(lead_written(lead))


def lead_written(lead: Lead) -> str | dict[str, Any]:
    """The text of its one-line form where that reads back as the same lead, else its table."""
    table = table_of(lead)
    if "length" in table and table.keys() <= _ONE_LINE:
        wire = f" of {lead.wire}" if lead.wire else ""
        to = f" to {lead.to}" if lead.to else ""
        colours = f", {'/'.join(lead.colours)}" if lead.colours else ""
        line = f"{table['length']}{wire}{to}{colours}"
        with contextlib.suppress(QuantityError):
            if oneline.lead(line) == table:
                return line
    return table
