"""The fuse for a supply: one that carries the load, opens on a far short, and before any conductor is hurt."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.physics.fuse import FuseKind, next_fuse
from postcheck.remedies.drops import thickened
from postcheck.remedies.proposal import Change, Proposal, Proposer
from postcheck.report import Finding
from postcheck.survey import Survey
from postcheck.survey.heat.fuses import protecting_fuse, protects_at_supply, with_fuse

# Ratings of slow fuses that are tried.
RATINGS_TRIED = 3


def _protecting(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The fuse that is there, moved to the supply; else the least that carries the load and protects."""
    name = finding.subject.name
    has, load = survey.build.supply[name].fuse, survey.electrics.supplies.get(name)
    moved = has is not None and has.place not in (None, survey.build.supply[name].place)
    if has is not None and moved and protects_at_supply(survey.wiring, survey.limits, survey.in_use, name):
        kind = "" if has.kind == "quick" else f" {has.kind}"
        yield _fused(
            survey, name, has.rated, has.kind, "Put the fuse at the supply, ahead of every conductor.", kind
        )
    if load is None:
        return
    rated = protecting_fuse(survey.wiring, survey.limits, survey.in_use, name, load.highest)
    if rated is not None:
        says = f"Fit a quick fuse of {_amps(rated)} at the supply: it carries the load and protects every conductor."
        yield _fused(survey, name, rated, "quick", says)
    else:
        yield from _thicker(survey, name, load.highest)


def _thicker(survey: Survey, name: str, load: float) -> Iterator[Proposal]:
    """Where no fuse carries the load and protects: thicker wire for what a short hurts, with the fuse that then does."""
    hurt = {fault.path for fault in survey.faults if fault.supply == name and fault.most.hurt}
    runs = [run for run in survey.parts.runs if run.path in hurt]
    for proposal, build in thickened(survey, runs):
        other = survey.again(build)
        rated = protecting_fuse(other.wiring, other.limits, other.in_use, name, load)
        if rated is not None:
            fused = _fused(other, name, rated, "quick", "")
            words = f"{proposal.says.removesuffix('.')}, with a quick fuse of {_amps(rated)} at the supply: no fuse protects them as they are."
            yield proposal._replace(says=words, changes=(*proposal.changes, *fused.changes))
            return


def _slower(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """For a motor's start, or cold bulbs: the same rating slow, then the next ones."""
    name = finding.subject.name
    has = survey.build.supply[name].fuse
    if has is None or has.place is not None or has.body is not None:
        return
    rated: float | None = has.rated
    for _ in range(RATINGS_TRIED):
        if rated is None:
            return
        if finding.check == "fuse.cold-filaments" and has.kind == "quick" and rated > has.rated:
            says = f"Fit a quick fuse of {_amps(rated)}: cold bulbs do not wear it, and it protects every conductor."
            yield _fused(survey, name, rated, "quick", says)
        if has.kind == "quick" or rated > has.rated:
            what = "the motor start" if finding.check == "fuse.opens-at-start" else "cold bulbs warm up"
            says = f"Fit a slow fuse of {_amps(rated)}: it lets {what} and protects every conductor."
            yield _fused(survey, name, rated, "slow", says, " slow")
        rated = next_fuse(rated * 1.01)


def _ceramic(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The same fuse in ceramic, where it is of a kind that is made so."""
    name = finding.subject.name
    has = survey.build.supply[name].fuse
    if has is not None and has.kind in ("quick", "slow"):
        spec = has.model_copy(update={"body": "ceramic"})
        written = f'"{_amps(has.rated)} {has.kind} ceramic"' if has.place is None else None
        says = f"Use a ceramic fuse: {has.kind}, {_amps(has.rated)}, high breaking capacity (H)."
        yield Proposal(says, (Change(("supply", name, "fuse"), spec, written),))


def _fused(survey: Survey, name: str, rated: float, kind: FuseKind, says: str, written: str = "") -> Proposal:
    spec = with_fuse(survey.build, name, rated, kind).supply[name].fuse
    return Proposal(says, (Change(("supply", name, "fuse"), spec, f'"{_amps(rated)}{written}"'),))


def _amps(current: float) -> str:
    return format_quantity(current, Dimension.CURRENT)


FUSES: dict[str, Proposer] = {
    "fuse.too-small": _protecting,
    "fuse.absent": _protecting,
    "wire.hurt-before-fuse": _protecting,
    "fuse.never-opens": _protecting,
    "fuse.breaking": _ceramic,
    "fuse.opens-at-start": _slower,
    "fuse.cold-filaments": _slower,
}
