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
from postcheck.survey.figures import PassageFigures
from postcheck.survey.parts import WireData, wire_data

__all__ = ["PASSAGES"]

# Another wire of as good as the same conductor: share of its area.
ALIKE = 0.15
# A stop that leaves less than this share of the turn is no remedy.
LEFT = 0.5
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
    finer = _finer(survey, finding.subject.name)
    if finer is not None:
        yield finer
    yield from _less_turn(figures, "")
    if finer is not None:
        runs = list(survey.build.run)
        for change in finer.changes:
            number = int(change.path[1])
            runs[number] = runs[number].model_copy(update={"wire": change.value})
        other = Survey(survey.build.model_copy(update={"run": runs}), survey.limits, survey.stage)
        for proposal in _less_turn(other.passages[figures.name], finer.says):
            yield proposal._replace(changes=(*finer.changes, *proposal.changes))


def _less_turn(figures: PassageFigures, first: str) -> Iterator[Proposal]:
    """A stop at the turn that its wires bear, where that leaves enough of it."""
    turn = turn_borne(figures, figures.cycles)
    if turn is None or turn < LEFT * figures.passage.turn:
        return
    shown = format_quantity(turn, Dimension.ANGLE)
    yield Proposal(
        f"{first.removesuffix('.') + ', and let' if first else 'Let'} a stop end its turn at {shown} each way.",
        (Change((*figures.path, "turn"), turn, f'"{shown}"'), Change((*figures.path, "stop"), True, "true")),
    )


def _finer(survey: Survey, name: str) -> Proposal | None:
    """Wire with as much copper in finer strands, for the runs that do not live long enough."""
    figures = survey.passages[name]
    free = figures.passage.free if figures.passage.free is not None else figures.passage.length
    tired = [
        figures.members[number] for number in short_lived(figures, figures.cycles, free, figures.passage.turn)
    ]
    runs = {member.name: member for member in tired if member.kind == "run"}
    changes: list[Change] = []
    words: dict[str, list[str]] = {}
    for run, member in runs.items():
        finer = _fine(survey, member.wire) if member.wire is not None else []
        if finer:
            changes.append(Change((*member.path, "wire"), finer[0], f'"{finer[0]}"'))
            words.setdefault(finer[0], []).append(quoted(run))
    if not runs or len(changes) < len({member.name for member in tired}):
        return None
    named = ", ".join(f"{wire} for {', '.join(names)}" for wire, names in words.items())
    return Proposal(f"Use {named}: finer strands.", tuple(changes))


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
