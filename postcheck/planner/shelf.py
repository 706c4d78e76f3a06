"""What is on the builder's shelf, and what he has said of a lead: a plan takes nothing else."""

from __future__ import annotations

from collections.abc import Sequence

from postcheck.description.models import Build, Lead, ResistorSpec
from postcheck.limits import below
from postcheck.planner.strings import powers
from postcheck.remedies.proposal import Change


def on_the_shelf(wish: Build, changes: Sequence[Change]) -> tuple[Change, ...] | None:
    """The changes, with resistors of the next power that is kept; None where a wire among them is not there."""
    stock, kept = wish.stock, list[Change]()
    wires = {*(stock.wires or ()), wish.usual.run} if stock.wires is not None else None
    leads = {*(stock.leads or ()), wish.usual.lead} if stock.leads is not None else None
    for change in changes:
        value = change.value
        if change.path[-1] == "wire" and wires is not None and value not in wires:
            return None
        if isinstance(value, Lead) and not _keeps(wish, change):
            return None
        if (
            isinstance(value, Lead)
            and leads is not None
            and value.wire is not None
            and value.wire not in leads
        ):
            return None
        if isinstance(value, ResistorSpec) and value.power is not None:
            power = next((one for one in powers(wish) if not below(one, value.power)), None)
            if power is None:
                return None
            kept.append(change._replace(value=value.model_copy(update={"power": power})))
        else:
            kept.append(change)
    return tuple(kept)


def _keeps(wish: Build, change: Change) -> bool:
    """Whether another lead leaves all as it is that the file says of it."""
    said = getattr(wish, str(change.path[0]))[int(change.path[1])].lead
    if said is None:
        return True
    return all(
        getattr(change.value, key) == value
        for key in type(said).model_fields
        if (value := getattr(said, key)) not in (None, False)
    )
