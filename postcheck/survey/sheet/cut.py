"""The cut list: every conductor and each wire of a lead, and what it is cut to.

That is so long that its ends can be made, twice anew where a hand gets at them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import ceil

from postcheck.description.models import Lead
from postcheck.description.naming import passages_of
from postcheck.materials import Piece
from postcheck.survey import Survey
from postcheck.wiring.consumers import FineWire
from postcheck.wiring.through import way_lengths

# Lengths to cut are whole centimetres: so many a metre.
CENTIMETRES = 100


def cut(length: float) -> float:
    """A length (m) as it is cut: up to the next whole centimetre."""
    return ceil(length * CENTIMETRES - 1e-6) / CENTIMETRES


def pieces(survey: Survey) -> tuple[Piece, ...]:
    """All that is cut, those alike as one: by wire, the longest first; those without a length last."""
    counts: dict[Piece, int] = {}
    for piece in (*_runs(survey), *_leads(survey)):
        counts[piece] = counts.get(piece, 0) + piece.count
    ordered = sorted(counts, key=lambda one: (one.wire == "", one.wire, -(one.length or 0.0)))
    return tuple(replace(one, number=n, count=counts[one]) for n, one in enumerate(ordered, start=1))


def _runs(survey: Survey) -> Iterator[Piece]:
    for run in survey.parts.runs:
        if run.body:
            continue
        laid = _laid(survey, run.ends, run.said.length, 0.0, run.through)
        ends = sum(_end(survey, place) for place in run.ends)
        yield Piece(
            0, "run", run.name, "", *run.ends, run.wire.name if run.wire else "", run.colour or "", run.said.label or "",
            laid, ends, None if laid is None else cut(laid + ends), run.conductors, run.cable or "",
        )  # fmt: skip


def _leads(survey: Survey) -> Iterator[Piece]:
    links: dict[tuple[str, int | None], int] = {}
    for wire in survey.wiring.fine_wires:
        part = survey.parts.named[wire.name]
        lead = part.lead
        if wire.leg == "link":
            number = links.get((wire.name, wire.string), 0)
            links[wire.name, wire.string] = number + 1
            lead = (getattr(part.said, "links", None) or ())[number]
        if lead is not None:
            yield _piece(survey, wire, lead)


def _piece(survey: Survey, wire: FineWire, lead: Lead) -> Piece:
    own = {"supply": lead.feed, "return": lead.back}.get(wire.leg)
    said = own.length if own is not None and own.length is not None else lead.length
    spare = lead.spare if wire.leg != "link" else None
    laid = _laid(survey, (wire.start, wire.to), said, spare or 0.0, wire.through)
    joint = survey.limits.value("joint.takes")
    ends = joint + (
        joint if wire.leg == "link" or spare is not None or not wire.to else _end(survey, wire.to)
    )
    return Piece(
        0, "link" if wire.leg == "link" else "lead", wire.owner, "" if wire.leg == "link" else wire.leg, wire.start, wire.to,
        wire.data.wire.name if wire.data.wire else "", wire.data.colour or "",
        (own.label if own is not None else None) or lead.label or "", laid, ends, None if laid is None else cut(laid + ends),
    )  # fmt: skip


def _laid(
    survey: Survey, ends: tuple[str, str], said: float | None, spare: float, through: tuple[str, ...]
) -> float | None:
    """The length from joint to joint: as the file gives it, but no less than the way; from the way alone, with slack on top."""
    way = way_lengths(survey.build).get(frozenset(ends)) if survey.build.way else None
    if said is not None:
        return max(said, way or 0.0)
    if way is None:
        return None
    passages = passages_of(survey.build)
    return way + spare + sum(passages[name].slack or 0.0 for name in through)


def _end(survey: Survey, name: str) -> float:
    """What the end at a joint there takes: new ends later, where a hand gets at it, and what lets a cover come off."""
    place, limits = survey.build.place[name], survey.limits
    joint = limits.value("joint.takes")
    if place.access == "sealed":
        return joint
    if place.access == "cover" and place.opening is not None:
        return joint + place.opening + limits.value("access.slack")
    return max(joint, limits.value("run.anew"))
