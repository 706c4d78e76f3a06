"""What to do about a passage that is too narrow, or whose turning tires its wires."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck import catalogue
from postcheck.build.quantities import Dimension, format_quantity
from postcheck.plain import quoted
from postcheck.remedies.proposal import Change, Proposal, Proposer
from postcheck.report import Finding
from postcheck.survey import Survey
from postcheck.survey.bores import free_length, short_lived, turn_borne, wide_bore
from postcheck.survey.parts import WireData, wire_data

__all__ = ["PASSAGES"]

# Another wire of as good as the same conductor: share of its area.
ALIKE = 0.15
# Bores tried from the one worked out, a tenth of a millimetre apart.
BORES = 3


def _wider(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """One bore that clears everything that is said of how full a passage is."""
    passage = survey.passages[finding.subject.name]
    tenths = round(wide_bore(passage, survey.limits) * 1e4)
    for more in range(BORES):
        bore = (tenths + more) / 1e4
        shown = f"{bore * 1e3:g} mm"
        yield Proposal(
            f"A bore of {shown}, or fewer or thinner conductors.",
            (Change((*passage.path, "bore"), bore, f'"{shown}"'),),
            spotless=True,
        )


def _longer_lived(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """More free length where the passage has it, finer strands, or less turn."""
    figures = survey.passages[finding.subject.name]
    length = free_length(figures, figures.cycles)
    if length is not None:
        shown = f"{round(length * 1e3)} mm"
        yield Proposal(
            f"{shown} of free length between the grips.",
            (Change((*figures.path, "free"), length, f'"{shown}"'),),
        )
    yield from _finer(survey, finding.subject.name)
    turn = turn_borne(figures, figures.cycles)
    if turn is not None:
        shown = format_quantity(turn, Dimension.ANGLE)
        yield Proposal(
            f"Let a stop end its turn at {shown} each way, or use finer strands.",
            (
                Change((*figures.path, "turn"), turn, f'"{shown}"'),
                Change((*figures.path, "stop"), True, "true"),
            ),
        )


def _finer(survey: Survey, name: str) -> Iterator[Proposal]:
    """Wire with as much copper in finer strands, for the runs that do not live long enough."""
    figures = survey.passages[name]
    free = figures.passage.free if figures.passage.free is not None else figures.passage.length
    tired = [
        figures.members[number] for number in short_lived(figures, figures.cycles, free, figures.passage.turn)
    ]
    runs = {member.name: member for member in tired if member.kind == "run" and member.wire is not None}
    if not runs or len({member.name for member in tired}) > len(runs):
        return
    kinds = {member.wire.name: member.wire for member in runs.values() if member.wire is not None}
    finer = {kind: _fine(survey, wire) for kind, wire in kinds.items()}
    if not all(finer.values()):
        return
    changes, words = [], []
    for run, member in runs.items():
        wire = finer[member.wire.name][0] if member.wire is not None else ""
        changes.append(Change((*member.path, "wire"), wire, f'"{wire}"'))
        words.append(f"{wire} for {quoted(run)}")
    yield Proposal(f"Use {', '.join(words)}: finer strands.", tuple(changes))


def _fine(survey: Survey, wire: WireData) -> list[str]:
    """Stranded wires of about the same conductor, the finest strands first."""
    names = dict.fromkeys((*(survey.build.stock.wires or ()), *catalogue.names("wire")))
    rows = [wire_data(survey.build, name) for name in names]
    alike = [
        row
        for row in rows
        if row.strands > 1
        and row.strand_diameter < wire.strand_diameter
        and abs(row.conductor_area / wire.conductor_area - 1.0) <= ALIKE
    ]
    return [row.name for row in sorted(alike, key=lambda row: (row.strand_diameter, row.max_diameter))]


PASSAGES: dict[str, Proposer] = {
    "passage.cannot-fit": _wider,
    "passage.tight": _wider,
    "passage.full": _wider,
    "passage.strain": _longer_lived,
}
