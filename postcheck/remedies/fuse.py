"""The fuse for a supply: one that carries the load, opens on a far short, and before any conductor is hurt."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from postcheck.description.models import FuseSpec
from postcheck.description.units import Dimension
from postcheck.limits import below
from postcheck.physics.fuse import FuseBody, FuseKind, may_open_in, next_fuse
from postcheck.plain import quoted
from postcheck.remedies.hot_wires import THICKER, thickened
from postcheck.remedies.lead_spec import changed_lead
from postcheck.remedies.proposal import Change, Proposal, Proposer, changed, quantity, set_to
from postcheck.remedies.ratings import amps, rating_for
from postcheck.remedies.wires import thicker_wire
from postcheck.report import Finding
from postcheck.survey import Survey
from postcheck.survey.heat.fuses import LOADS, USUAL_LEAST, protecting_fuse, protects_at_supply, with_fuse
from postcheck.survey.network.supplies import gives_up

# Ratings of slow fuses that are tried.
RATINGS_TRIED = 2
# Ratings for a motor that is held fast: from what carries the load up to what lets it start and still opens in time.
HELD_TRIED = 4
# The most conductors that one remedy makes thicker.
MOST_HURT = 2


def _protecting(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The fuse that is there, moved to the supply; else the least that carries the load and protects."""
    name = finding.subject.name
    has, load = survey.build.supply[name].fuse, survey.electrics.supplies.get(name)
    moved = has is not None and has.place not in (None, survey.build.supply[name].place)
    if has is not None and moved and protects_at_supply(survey.shorts, name):
        yield _fused(
            survey, name, has.rated, has.kind, "Put the fuse at the supply, ahead of every conductor."
        )
    if load is None:
        return
    found = False
    for kind in _kinds(has):
        rated = _of_kind(survey, name, load.highest, kind)
        if rated is not None:
            found = True
            says = (
                f"Fit {_called(kind, rated)} at the supply: it carries the load and protects every conductor."
            )
            yield _fused(survey, name, rated, kind, says)
    if not found:
        yield from _thicker(survey, name, load.highest)


def _for_load(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The fuse for what the supply carries; where that is more than it is rated for, once it is rated for it."""
    name = finding.subject.name
    supply, highest = survey.build.supply[name], finding.figures["load"].value
    rating = rating_for(highest, survey.limits.value("supply.load.caution"))
    if not below(gives_up(supply)[0], highest) or supply.current_limit is not None or rating is None:
        yield from _protecting(survey, finding)
        yield from _carrying(survey, name, highest)
        return
    stronger = quantity(("supply", name, "rated"), rating, Dimension.CURRENT)
    for both in with_its_fuse(survey, name, Proposal("", (stronger,), alone=True)):
        fuse = both.changes[-1].value
        yield both._replace(
            says=f"Fit {_called(fuse.kind, fuse.rated)}, once the supply is rated for {amps(rating)} or more."
        )


def _carrying(survey: Survey, name: str, highest: float) -> Iterator[Proposal]:
    """The least fuse that carries a load (A), where the supply itself keeps a short from harm and no fuse has to."""
    has = survey.build.supply[name].fuse
    for kind in _kinds(has):
        rated = next_fuse(max(highest / survey.limits.value(LOADS.get(kind, "fuse.load")), USUAL_LEAST))
        if rated is not None:
            yield _fused(survey, name, rated, kind, f"Fit {_called(kind, rated)}: it carries the load.")


def _kinds(has: FuseSpec | None) -> Iterable[FuseKind]:
    """The kinds to try: that of the fuse that is there, then a quick one. What a resettable one does only its maker knows."""
    return dict.fromkeys((has.kind if has is not None and has.kind != "resettable" else "quick", "quick"))


def _body(has: FuseSpec | None, kind: FuseKind) -> FuseBody | None:
    """The body of the fuse that is there, for one of a kind that has any."""
    return has.body if has is not None and kind in ("quick", "slow") else None


def _of_kind(survey: Survey, name: str, load: float, kind: FuseKind) -> float | None:
    """The rating (A) of a fuse of a kind, with the body that is there, that carries a load (A) and protects.

    One so small that it dims lamps is offered as a quick one only.
    """
    body = _body(survey.build.supply[name].fuse, kind)
    rated = protecting_fuse(survey.shorts, name, load, kind, body)
    return None if rated is not None and rated < USUAL_LEAST and kind != "quick" else rated


def _called(kind: FuseKind, rated: float) -> str:
    """A fuse in words: a quick fuse of 500 mA."""
    return f"{'a UL fuse' if kind == 'UL' else f'a {kind} fuse'} of {amps(rated)}"


def _thicker(survey: Survey, name: str, load: float) -> Iterator[Proposal]:
    """Where no fuse carries the load and protects: thicker wire for what a short hurts, with the fuse that then does."""
    hurt = {fault.path for fault in survey.faults if fault.supply == name and fault.most.hurt}
    runs = [run for run in survey.parts.runs if run.path in hurt]
    for proposal in thickened(survey, runs):
        other = survey.again(changed(survey.build, proposal.changes))
        rated = protecting_fuse(other.shorts, name, load)
        if rated is not None:
            fused = _fused(other, name, rated, "quick", "")
            words = f"{proposal.says.removesuffix('.')}, with a quick fuse of {amps(rated)} at the supply: no fuse protects them as they are."
            yield proposal._replace(says=words, changes=(*proposal.changes, *fused.changes))
            return
        if not any(fault.most.hurt for fault in other.faults if fault.supply == name):
            words = f"{proposal.says.removesuffix('.')}: that withstands all that {quoted(name)} gives."
            yield proposal._replace(says=words)
            return


def sturdier(survey: Survey, name: str, proposal: Proposal) -> Iterator[Proposal]:
    """The proposal with thicker wire for what a short then hurts: runs, and leads of lamps."""
    other = survey.again(changed(survey.build, proposal.changes))
    hurt = {fault.path for fault in other.faults if fault.supply == name and fault.most.hurt}
    if not hurt or len(hurt) > MOST_HURT:
        return
    runs = {run.path: run for run in survey.parts.runs}
    lamps = {part.path[:2]: part for part in survey.parts.lamps}
    for fraction in THICKER:
        words, changes = [], []
        for path in sorted(hurt, key=str):
            run, lamp = runs.get(path), lamps.get(path[:2])
            wire = run.wire if run is not None else lamp.supply_leg.wire if lamp is not None else None
            thicker = thicker_wire(survey, wire, fraction)
            change = None
            if run is not None and thicker:
                change = set_to((*run.path, "wire"), thicker)
                words.append(f"{thicker} for {quoted(run.name)}")
            elif lamp is not None and thicker:
                change = changed_lead(lamp, wire=thicker)
                words.append(f"{thicker} for the lead of {quoted(lamp.name)}")
            if change is not None:
                changes.append(change)
        if len(changes) < len(hurt):
            return
        more = tuple(changes)
        after = survey.again(changed(survey.build, (*proposal.changes, *more)))
        if not any(fault.most.hurt for fault in after.faults if fault.supply == name):
            yield proposal._replace(
                says=f"{proposal.says} Use {' and '.join(words)} as well: a short would overheat what is there now.",
                changes=(*proposal.changes, *more),
            )
            return


def with_its_fuse(survey: Survey, name: str, proposal: Proposal) -> Iterator[Proposal]:
    """The proposal with the fuse that the supply then needs, where it has one that is another."""
    other = survey.again(changed(survey.build, proposal.changes))
    has, load = survey.build.supply[name].fuse, other.electrics.supplies.get(name)
    if has is None or load is None:
        return
    for kind in _kinds(has):
        rated = _of_kind(other, name, load.highest, kind)
        if rated is not None and (rated, kind) != (has.rated, has.kind):
            fused = _fused(other, name, rated, kind, "")
            words = f"{proposal.says} Then fit {_called(kind, rated)}."
            yield proposal._replace(says=words, changes=(*proposal.changes, *fused.changes))


def with_a_first_fuse(survey: Survey, name: str, proposal: Proposal) -> Proposal:
    """The proposal, with a fuse at the supply where it has none and a short then overheats a conductor."""
    if survey.build.supply[name].fuse is not None:
        return proposal
    other = survey.again(changed(survey.build, proposal.changes))
    load = other.electrics.supplies.get(name)
    if load is None or not any(fault.hurt for fault in other.faults if fault.supply == name):
        return proposal
    rated = _of_kind(other, name, load.highest, "quick")
    if rated is None:
        return proposal
    fused = _fused(other, name, rated, "quick", "")
    words = f"{proposal.says} Fit {_called('quick', rated)} at the supply: they give far more into a short."
    return proposal._replace(says=words, changes=(*proposal.changes, *fused.changes))


def _slower(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """For a motor's start, or cold bulbs: the same rating slow, then the next ones, from the first that carries the start."""
    name = finding.subject.name
    has = survey.build.supply[name].fuse
    if has is None or has.place is not None or has.body is not None:
        return
    starting, rated = finding.figures.get("starting"), next_fuse(has.rated)
    if starting is not None and finding.limit is not None:
        holds = survey.limits.value("fuse.holds")
        while rated and may_open_in(rated, starting.value, "slow", holds=holds) < finding.limit.value:
            rated = next_fuse(rated * 1.01)
    slow: list[Proposal] = []
    what = "the motor start" if finding.check == "fuse.opens-at-start" else "cold bulbs warm up"
    for _ in range(RATINGS_TRIED):
        if rated is None:
            return
        if finding.check == "fuse.cold-filaments" and has.kind == "quick" and rated > has.rated:
            says = f"Fit a quick fuse of {amps(rated)}: cold bulbs do not wear it, and it protects every conductor."
            yield _fused(survey, name, rated, "quick", says)
        if has.kind == "quick" or rated > has.rated:
            says = f"Fit a slow fuse of {amps(rated)}: it lets {what} and protects every conductor."
            slow.append(_fused(survey, name, rated, "slow", says))
        rated = next_fuse(rated * 1.01)
    yield from slow
    if slow:
        says = f"Fit a slow fuse of {amps(slow[0].changes[0].value.rated)}: it lets {what}."
        yield from sturdier(survey, name, slow[0]._replace(says=says))
    if finding.check == "fuse.opens-at-start":
        for other in slow:  # a stalled motor opens a slow glass fuse sooner
            rating = other.changes[0].value.rated
            says = f"Fit a slow fuse of {amps(rating)} in glass: it lets {what}, and opens in time if the motor is held fast."
            yield _fused(survey, name, rating, "slow", says, "glass")


def _opening(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """A slow fuse of glass that carries the load, and opens while a motor is held fast: for glass IEC 60127-2 says by when."""
    held, load = finding.figures.get("current"), survey.electrics.loads.get(finding.subject.name)
    name = survey.wiring.drivers[load.part.circuit].supply if load is not None else None
    supply = survey.electrics.supplies.get(name or "")
    if held is None or name is None or supply is None:
        return
    has = survey.build.supply[name].fuse
    if has is not None and has.place is not None:
        return
    rated = next_fuse(max(supply.highest / survey.limits.value("fuse.load"), USUAL_LEAST))
    for _ in range(HELD_TRIED):
        if rated is None or not below(rated, held.value):
            return
        says = f"Fit a slow fuse of {amps(rated)} in glass: it lets the motor start, and opens in time if it is held fast."
        yield _fused(survey, name, rated, "slow", says, "glass")
        rated = next_fuse(rated * 1.01)


def _ceramic(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The same fuse in ceramic, where it is of a kind that is made so."""
    name = finding.subject.name
    has = survey.build.supply[name].fuse
    if has is not None and has.kind in ("quick", "slow"):
        spec = has.model_copy(update={"body": "ceramic"})
        written = f'"{amps(has.rated)} {has.kind} ceramic"' if has.place is None else None
        says = f"Use a ceramic fuse: {has.kind}, {amps(has.rated)}, high breaking capacity (H)."
        yield Proposal(says, (Change(("supply", name, "fuse"), spec, written),))


def _fused(
    survey: Survey, name: str, rated: float, kind: FuseKind, says: str, body: FuseBody | None = None
) -> Proposal:
    """Another fuse at the supply, with a body, else with the one that is there."""
    body = body or _body(survey.build.supply[name].fuse, kind)
    spec = with_fuse(survey.build, name, rated, kind, body).supply[name].fuse
    written = " ".join(filter(None, (amps(rated), "" if kind == "quick" and body is None else kind, body)))
    return Proposal(says, (Change(("supply", name, "fuse"), spec, f'"{written}"'),))


FUSES: dict[str, Proposer] = {
    "fuse.too-small": _for_load,
    "fuse.absent": _protecting,
    "wire.hurt-before-fuse": _protecting,
    "fuse.never-opens": _protecting,
    "fuse.breaking": _ceramic,
    "fuse.opens-at-start": _slower,
    "fuse.cold-filaments": _slower,
}

MOTORS: dict[str, Proposer] = {"motor.hot": _opening}
"""For a motor that is held fast; tried ahead of another motor."""
