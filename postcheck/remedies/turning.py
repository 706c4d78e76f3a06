"""What to do about a passage whose turning tires, strains or bends its wires."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil, degrees, floor, radians

from postcheck.description.printing import format_quantity
from postcheck.description.toml_text import in_toml
from postcheck.description.units import Dimension
from postcheck.limits import above, below
from postcheck.plain import quoted
from postcheck.remedies.longer import grip_wanted, slack_wanted, with_length
from postcheck.remedies.proposal import (
    Change,
    Proposal,
    Proposer,
    changed,
    in_mm,
    length,
    lower_first,
    quantity,
    set_to,
)
from postcheck.remedies.wires import LEAST_COPPER, known_wires
from postcheck.report import Figure, Finding
from postcheck.survey import Survey
from postcheck.survey.post.bores import free_length, turn_borne
from postcheck.survey.post.figures import PassageFigures
from postcheck.survey.post.pulling import bend_lived
from postcheck.survey.post.turning import free_of, short_lived
from postcheck.wiring.data import WireData, wire_data

# Wires with conductors this close in area (as a fraction) count as equal.
ALIKE = 0.15
# A stop that leaves less than this fraction of the allowed turn is no remedy.
LEFT = 0.5


def _slack(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The spare length that the outermost wire needs."""
    figures = survey.passages[finding.subject.name]
    slack = slack_wanted(figures)
    shown = in_mm(slack)
    straight = f"with {'the post' if figures.name == 'post' else quoted(figures.name)} straight"
    yield from with_length(
        survey,
        figures,
        Proposal(
            f"Leave at least {shown} of slack in every wire, {straight}.",
            (length((*figures.path, "slack"), slack),),
        ),
    )


def _stopped(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """A stop, at the longest turn that throws no loop: such that every wire lives, with more free length if need be."""
    figures = survey.passages[finding.subject.name]
    most = survey.limits.value("twist.turn.caution")
    if not above(figures.passage.turn, most):
        shown = format_quantity(figures.passage.turn, Dimension.ANGLE)
        yield Proposal(
            f"Fit a stop that ends its turn at {shown} each way.",
            (set_to((*figures.path, "stop"), True),),
        )
        return
    borne = most if figures.turn_borne is None else min(most, figures.turn_borne)
    lived = radians(floor(degrees(borne) + 1e-6))
    if not below(lived, LEFT * most):
        yield _stop_at(figures, lived)
    yield from _less_turn_longer(figures, most)
    # if the wires do not last in any case, another finding says so
    yield _stop_at(figures, most)


def _stop_at(figures: PassageFigures, turn: float, free: float | None = None) -> Proposal:
    """A stop, and more free length if that is needed with it."""
    shown = format_quantity(turn, Dimension.ANGLE)
    more, changes = "", _ends(figures, turn)
    if free is not None:
        apart = f"{round(free * 1e3)} mm"
        changes = (*changes, Change((*figures.path, "free"), free, in_toml(apart)))
        more = f", with {apart} of free length between the grips"
    return Proposal(f"Fit a stop that ends its turn at {shown} each way{more}.", changes)


def _ends(figures: PassageFigures, turn: float) -> tuple[Change, ...]:
    """A stop at a turn (rad)."""
    return quantity((*figures.path, "turn"), turn, Dimension.ANGLE), set_to((*figures.path, "stop"), True)


def _less_turn_longer(figures: PassageFigures, most: float) -> Iterator[Proposal]:
    """A stop at the longest turn, up to `most` (rad), that the wires survive if the length of the passage is used."""
    turn = min(figures.passage.turn, most)
    free = free_length(figures, figures.cycles, turn)
    if free is None:
        longest = turn_borne(figures, figures.cycles, figures.passage.length)
        if longest is None or below(longest, LEFT * turn):
            return
        turn, free = longest, free_length(figures, figures.cycles, longest)
    if free is not None and above(free, free_of(figures.passage)):
        yield _stop_at(figures, turn, free)


def _bent(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The radius advised for the widest wire, at which the most strained one lasts, rounded up to half a millimetre.

    Gripped ahead of the bend the wires twist and do not bend: then what is advised at rest is enough.
    """
    figures = survey.passages[finding.subject.name]
    bend, radius = figures.end_bend, figures.passage.bend_radius
    if bend is None or radius is None:
        return
    width, limits = bend.member.diameter, survey.limits
    tires = bend.moves is not False and below(bend.cycles_to_failure[0], figures.cycles)
    least = limits.value("bend.rest" if bend.moves is False else "bend.moving") * width
    lived = bend_lived(bend, figures.passage.turn, figures.cycles) if tires else 0.0
    held = _held(figures, max(radius, _half_millimetre(limits.value("bend.rest") * width))) if tires else None
    # A bend longer than the passage itself cannot be made at its end.
    if not above(lived, max(least, figures.passage.length)):
        who, why = (bend.tired, "lasts") if above(lived, least) else (bend.member, "is not creased")
        most = _half_millimetre(max(least, lived))
        shown = in_mm(most)
        yield Proposal(
            f"Bend the wires to an inside radius of {shown} or more: then {who.called} {why}.",
            (length((*figures.path, "bend_radius"), most),),
            instead=() if held is None else (held._replace(says=f"Or {lower_first(held.says)}"),),
        )
    if held is not None:
        yield held


def _held(figures: PassageFigures, radius: float) -> Proposal:
    shown = f"{radius * 1e3:.4g} mm"
    changes = [set_to((*figures.path, "bend_held"), True)]
    more, sizes = "", {}
    if above(radius, figures.passage.bend_radius or 0.0):
        sizes = {"held_radius": Figure(radius, "m")}
        changes.append(Change((*figures.path, "bend_radius"), radius, f'"{shown}"'))
        more = f", with an inside radius of {shown} there"
    return Proposal(
        f"Grip the wires between the bore and the bend{more}: then they twist, and the bend lies still (bend_held).",
        tuple(changes),
        figures=sizes,
    )


def _half_millimetre(length: float) -> float:
    """A length (m), to half a millimetre up."""
    return ceil(length * 2e3 - 1e-6) / 2e3


def _clear_of_grip(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    figures = survey.passages[finding.subject.name]
    away = grip_wanted(figures)
    shown = in_mm(away)
    yield from with_length(
        survey,
        figures,
        Proposal(
            f"Leave at least {shown} from the last grip to the first joint.",
            (length((*figures.path, "to_joint"), away),),
        ),
    )


def _longer_lived(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Strands that are free to slide, more free length where the passage has it, finer strands, or less turn."""
    figures = survey.passages[finding.subject.name]
    if figures.passage.soldered_inside:
        yield Proposal(
            "Let the solder end ahead of the last grip, or take a length that was not tinned: strands that are soldered twist as one thick wire.",
            (set_to((*figures.path, "soldered_inside"), False),),
        )
    length = free_length(figures, figures.cycles)
    if length is None and figures.folding is not None:  # across a hinge wires are free beyond its ends, too
        length = figures.folding.needed
    if length is not None:
        shown = f"{round(length * 1e3)} mm"
        longer = Proposal(
            f"Leave {shown} of free length between the grips.",
            (Change((*figures.path, "free"), length, f'"{shown}"'),),
        )
        yield from with_length(survey, figures, longer)
    finer = _finer(survey, finding.subject.name)
    if finer is not None and _lives(survey, figures, finer.changes, figures.passage.turn):
        yield finer
    most = survey.limits.value("twist.turn.caution")
    yield from _less_turn(figures, most, "")
    yield from _less_turn_longer(figures, most)
    if finer is not None:
        other = survey.again(changed(survey.build, finer.changes))
        for proposal in _less_turn(other.passages[figures.name], most, finer.says):
            yield proposal._replace(changes=(*finer.changes, *proposal.changes))
    yield from _finest(survey, figures, most)


def _less_turn(figures: PassageFigures, most: float, first: str) -> Iterator[Proposal]:
    """A stop at the turn that its wires bear, where that leaves enough of it, or of the most (rad) that throws no loop."""
    turn = turn_borne(figures, figures.cycles)
    if turn is not None:
        turn = min(turn, most)
    if turn is None or below(turn, LEFT * min(figures.passage.turn, most)):
        return
    shown = format_quantity(turn, Dimension.ANGLE)
    yield Proposal(
        f"{first.removesuffix('.') + ', and let' if first else 'Let'} a stop end its turn at {shown} each way.",
        _ends(figures, turn),
    )


def _finer(survey: Survey, name: str) -> Proposal | None:
    """Wire with as much copper in finer strands, for the runs that do not live long enough."""
    figures = survey.passages[name]
    free, turn = free_of(figures.passage), figures.passage.turn
    tired = [figures.members[number] for number in short_lived(figures, figures.cycles, free, turn)]
    runs = {member.name: member for member in tired if member.kind == "run"}
    changes: list[Change] = []
    words: dict[str, list[str]] = {}
    for run, member in runs.items():
        finer = _fine(survey, member.wire) if member.wire is not None else []
        if finer:
            changes.append(set_to((*member.path, "wire"), finer[0]))
            words.setdefault(finer[0], []).append(quoted(run))
    if not runs or len(changes) < len({member.name for member in tired}):
        return None
    named = ", ".join(f"{wire} for {' and '.join(names)}" for wire, names in words.items())
    return Proposal(f"Use {named}: finer strands.", tuple(changes))


def _lives(survey: Survey, figures: PassageFigures, changes: Sequence[Change], turn: float) -> bool:
    """Whether all of a passage live long enough with other wires, turned so far each way (rad)."""
    rows = {change.path[:2]: wire_data(survey.build, str(change.value)) for change in changes}
    members = tuple(
        member
        if (row := rows.get(member.path[:2])) is None
        else member._replace(wire=row, diameter=row.max_diameter)
        for member in figures.members
    )
    return not short_lived(figures._replace(members=members), figures.cycles, free_of(figures.passage), turn)


def _finest(survey: Survey, figures: PassageFigures, most: float) -> Iterator[Proposal]:
    """The thickest stranded wire with which all runs of a passage live, though it has less copper; else with half of the turn."""
    free, turn = free_of(figures.passage), figures.passage.turn
    tired = [figures.members[number] for number in short_lived(figures, figures.cycles, free, turn)]
    runs = {member.name: member for member in tired if member.kind == "run"}
    if len(runs) < len({member.name for member in tired}):
        return
    rows = [
        row for row in known_wires(survey) if row.strands > 1 and not below(row.conductor_area, LEAST_COPPER)
    ]
    rows.sort(key=lambda row: (-row.conductor_area, row.max_diameter))
    shortest = radians(ceil(degrees(LEFT * min(turn, most)) - 1e-6))
    for turned in dict.fromkeys((turn, shortest)):
        for row in rows:
            changes = tuple(set_to((*member.path, "wire"), row.name) for member in runs.values())
            if not _lives(survey, figures, changes, turned):
                continue
            says = f"Use {row.name} for {' and '.join(map(quoted, runs))}: finer strands"
            if turned == turn:
                yield Proposal(f"{says}.", changes)
                return
            stop = _stop_at(figures, turned)
            yield Proposal(f"{says}. {stop.says}", (*changes, *stop.changes))
            return


def _fine(survey: Survey, wire: WireData) -> list[str]:
    """Stranded wires of about the same conductor, the finest strands first."""
    alike = [
        row
        for row in known_wires(survey)
        if row.strands > 1
        and row.strand_diameter < wire.strand_diameter
        and not above(abs(row.conductor_area / wire.conductor_area - 1.0), ALIKE)
    ]
    return [row.name for row in sorted(alike, key=lambda row: (row.strand_diameter, row.max_diameter))]


TURNING: dict[str, Proposer] = {
    "passage.slack": _slack,
    "passage.strain": _longer_lived,
    "passage.loops": _stopped,
    "passage.bend": _bent,
    "passage.grip": _clear_of_grip,
}
