"""The fuse for a supply: one that carries the load, opens on a far short, and before any conductor is hurt."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from postcheck.description.frozen import FrozenDict
from postcheck.description.models import FuseSpec
from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.physics.fuse import FuseBody, FuseKind, next_fuse
from postcheck.remedies.drops import thickened
from postcheck.remedies.proposal import Change, Proposal, Proposer
from postcheck.remedies.supply import rating_for
from postcheck.report import Finding
from postcheck.survey import Survey
from postcheck.survey.heat.fuses import protecting_fuse, protects_at_supply, with_fuse
from postcheck.survey.network.supplies import gives_up

# Ratings of slow fuses that are tried.
RATINGS_TRIED = 3


def _protecting(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The fuse that is there, moved to the supply; else the least that carries the load and protects."""
    name = finding.subject.name
    has, load = survey.build.supply[name].fuse, survey.electrics.supplies.get(name)
    moved = has is not None and has.place not in (None, survey.build.supply[name].place)
    if has is not None and moved and protects_at_supply(survey.wiring, survey.limits, survey.in_use, name):
        yield _fused(
            survey, name, has.rated, has.kind, "Put the fuse at the supply, ahead of every conductor."
        )
    if load is None:
        return
    kinds = dict.fromkeys((has.kind if has is not None and has.kind != "resettable" else "quick", "quick"))
    if gives_up(survey.build.supply[name])[0] < load.highest:
        yield from _with_supply(survey, name, load.highest, kinds)
        return
    found = False
    for kind in kinds:
        rated = protecting_fuse(
            survey.wiring, survey.limits, survey.in_use, name, load.highest, kind, _body(has, kind)
        )
        if rated is not None:
            found = True
            yield _fused(
                survey,
                name,
                rated,
                kind,
                f"Fit {_a(kind, rated)} at the supply: it carries the load and protects every conductor.",
            )
    if not found:
        yield from _thicker(survey, name, load.highest)


def _with_supply(survey: Survey, name: str, load: float, kinds: Iterable[FuseKind]) -> Iterator[Proposal]:
    """Where the supply does not carry the load either: the fuse for it once the supply does."""
    has = survey.build.supply[name].fuse
    rating = rating_for(load, survey.limits.value("supply.load.caution"))
    if has is None or rating is None or survey.build.supply[name].current_limit is not None:
        return
    stronger = Change(("supply", name, "rated"), rating, f'"{_amps(rating)}"')
    said = survey.build.supply[name].model_copy(update={"rated": rating})
    other = survey.again(
        survey.build.model_copy(update={"supply": FrozenDict({**survey.build.supply, name: said})})
    )
    for kind in kinds:
        rated = protecting_fuse(other.wiring, other.limits, other.in_use, name, load, kind, _body(has, kind))
        if rated is not None:
            fused = _fused(survey, name, rated, kind, "")
            says = f"Fit {_a(kind, rated)}, once the supply is rated for {_amps(rating)} or more."
            yield Proposal(says, (stronger, *fused.changes), alone=True)


def _body(has: FuseSpec | None, kind: FuseKind) -> FuseBody | None:
    """The body of the fuse that is there, for one of a kind that has any."""
    return has.body if has is not None and kind in ("quick", "slow") else None


def _a(kind: FuseKind, rated: float) -> str:
    """A fuse in words: "a quick fuse of 500 mA"."""
    return f"{'a fuse by UL 248-14' if kind == 'UL' else f'a {kind} fuse'} of {_amps(rated)}"


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
    """For a motor's start: the same rating slow, then the next ones."""
    name = finding.subject.name
    has = survey.build.supply[name].fuse
    if has is None or has.place is not None or has.body is not None:
        return
    rated: float | None = has.rated
    for _ in range(RATINGS_TRIED):
        if rated is None:
            return
        if has.kind == "quick" or rated > has.rated:
            says = f"Fit a slow fuse of {_amps(rated)}: it lets the motor start and protects every conductor."
            yield _fused(survey, name, rated, "slow", says)
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


def _fused(survey: Survey, name: str, rated: float, kind: FuseKind, says: str) -> Proposal:
    """Another fuse at the supply, of the body that is there."""
    body = _body(survey.build.supply[name].fuse, kind)
    spec = with_fuse(survey.build, name, rated, kind, body).supply[name].fuse
    written = " ".join(filter(None, (_amps(rated), "" if kind == "quick" and body is None else kind, body)))
    return Proposal(says, (Change(("supply", name, "fuse"), spec, f'"{written}"'),))


def _amps(current: float) -> str:
    return format_quantity(current, Dimension.CURRENT)


FUSES: dict[str, Proposer] = {
    "fuse.too-small": _protecting,
    "fuse.absent": _protecting,
    "wire.hurt-before-fuse": _protecting,
    "fuse.never-opens": _protecting,
    "fuse.breaking": _ceramic,
    "fuse.opens-at-start": _slower,
}
