"""What to do about a cut length of strip."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from postcheck.build.quantities import Dimension, format_quantity
from postcheck.remedies.proposal import Change, Proposal, Proposer
from postcheck.report import Finding
from postcheck.survey import Survey

__all__ = ["PROPOSERS", "pieces_for", "whole_lengths"]


def whole_lengths(length: float, segment: float) -> tuple[float, float]:
    """The lengths (m) of whole segments just below and just above `length`; the lower is 0 below one segment."""
    if not segment > 0.0:
        raise ValueError("a segment has a length above zero")
    whole = int(length / segment + 1e-6)
    return whole * segment, (whole + 1) * segment


def pieces_for(through: float, stands: float) -> int:
    """How many pieces, each fed by its own leads, bring the current (A) in each down to what it stands."""
    return ceil(through / stands - 1e-9)


def _cut(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Cut at the mark below; where that leaves nothing, at the one above."""
    part = next((part for part in survey.parts.strips if part.name == finding.subject.name), None)
    if part is None:
        return
    for length in whole_lengths(finding.figures["length"].value, part.segment):
        count = round(length / part.segment)
        if count:
            shown = format_quantity(length, Dimension.LENGTH)
            change = Change((*part.path, "length"), length, f'"{shown}"')
            yield Proposal(f"Cut it at {shown}: {count} whole segment{'s' if count > 1 else ''}.", (change,))


PROPOSERS: dict[str, Proposer] = {"strip.not-at-mark": _cut}
