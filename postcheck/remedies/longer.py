"""Longer conductors, where a passage done right takes more of them than there is."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from postcheck.description.models import Lead, Passage
from postcheck.description.problems import Path
from postcheck.limits import Limits, below
from postcheck.remedies.lead_spec import changed_lead
from postcheck.remedies.proposal import Change, Proposal, Proposer, in_words_of, length
from postcheck.report import Finding, Subject
from postcheck.survey import Survey
from postcheck.survey.post.figures import Member, PassageFigures
from postcheck.survey.post.passages import ConductorPath, opened_by, paths_through
from postcheck.wiring.through import way_lengths

# The keys of a lead's table for its legs.
_KEYS = {"supply": "feed", "return": "back"}


def slack_wanted(figures: PassageFigures) -> float:
    """The spare length that the outermost wire needs, m, rounded up to a millimetre."""
    return ceil(figures.slack_needed * 1e3 - 1e-6) / 1e3


def grip_wanted(figures: PassageFigures) -> float:
    """The way (m, to a millimetre up) from the last grip to a joint out of harm."""
    return ceil(figures.grip * 1e3 - 1e-6) / 1e3


def with_length(survey: Survey, figures: PassageFigures, proposal: Proposal) -> Iterator[Proposal]:
    """A proposal for a passage; and the same with conductors as long as it takes, where some are too short for it.

    That length is one for all that is to be done about slack and grip there, with enough at the ends to end them anew:
    nobody lays wires twice.
    """
    yield proposal
    given = {str(change.path[-1]): change.value for change in proposal.changes}
    passage = figures.passage.model_copy(update={**_due(figures, survey.limits), **given})
    wanted = {
        path: _wanted(survey, path, figures.name, passage)
        for path in paths_through(survey.passages)
        if figures.name in path.through and not path.short
    }
    short = [path for path, length in wanted.items() if below(path.long, length)]
    fixed = [path for path in short if _fixed(survey, path.member)]
    short = [path for path in short if path not in fixed]
    if not short or any(path.lacks(passage) for path in fixed):
        return
    needed = max(ceil(wanted[path] * 1e3 - 1e-6) for path in short) / 1e3
    shown = f"{round(needed * 1e3)} mm"
    changes: dict[Path, Change] = {}
    for conductor in short:
        for path, written in _lengths(survey, conductor.member, needed):
            changes.setdefault(path, Change(path, needed, f'"{shown}"' if written else None))
    yield proposal._replace(
        says=f"{proposal.says.removesuffix('.')}, and take conductors of {shown} or more.",
        changes=(*proposal.changes, *changes.values()),
    )


def _wanted(survey: Survey, path: ConductorPath, name: str, passage: Passage) -> float:
    """The length (m) that a conductor takes with a passage as given, and so that a run can be ended anew."""
    taken = sum(path.taken(passage).values())
    if path.member.kind == "lead":
        return taken
    others = (survey.passages[other].passage for other in path.through if other != name)
    slack = sum(each.slack or 0.0 for each in (passage, *others))
    opened = sum(opened_by(survey.build, path.member).values())
    return max(taken, path.length + slack + opened + 2.0 * survey.limits.value("run.anew"))


def _long_enough(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """A conductor as long as it takes, in the words of the check."""
    named = finding.parts.get("conductor", finding.subject)
    enough = finding.figures["enough"].value
    changes: dict[Path, Change] = {}
    for conductor in paths_through(survey.passages):
        if isinstance(named, Subject) and conductor.member.name == named.name:
            for path, written in _lengths(survey, conductor.member, enough):
                change = length(path, enough)
                changes.setdefault(path, change if written else change._replace(written=None))
    if changes:
        yield from in_words_of(finding, *changes.values())


def _due(figures: PassageFigures, limits: Limits) -> dict[str, float]:
    """What the checks of slack and of the grip ask of a passage besides."""
    due: dict[str, float] = {}
    stretch = limits.value("twist.stretch")
    if any(strain.axial > stretch for strain in figures.strains):
        due["slack"] = slack_wanted(figures)
    away = figures.passage.to_joint
    if figures.passage.turn > 0.0 and away is not None and below(away, figures.grip):
        due["to_joint"] = grip_wanted(figures)
    return due


def _fixed(survey: Survey, member: Member) -> bool:
    """Whether a conductor is painted over or trapped, and cannot be replaced."""
    if member.kind == "cable":
        return any(run.cable == member.name and run.fixed for run in survey.build.run)
    if member.kind == "run":
        return any(run.path == member.path and run.said.fixed for run in survey.parts.runs)
    lead = _lead(survey, member)
    return lead is not None and lead.fixed


def _lead(survey: Survey, member: Member) -> Lead | None:
    """The lead that a leg belongs to, as the file has it."""
    return next(part.lead for part in survey.parts.every if part.path[:2] == member.path[:2])


def _lengths(survey: Survey, member: Member, needed: float) -> Iterator[tuple[Path, bool]]:
    """Where the file says how long a conductor is, and whether there is a value to put another in its place.

    A lead may be written in one line. The leads between the lamps of a chain are as long as they are.
    """
    if member.kind == "run":
        yield (*member.path, "length"), True
    elif member.kind == "cable":
        for run in survey.parts.runs:
            if run.cable == member.name and 0.0 < run.length < needed:
                yield (*run.path, "length"), True
    elif member.leg in _KEYS:
        lead = _lead(survey, member)
        key = _KEYS[member.leg]
        own = getattr(lead, key)
        of_leg = (key,) if own is not None and own.length is not None else ()
        yield (*member.path, "lead", *of_leg, "length"), False


def _as_long_as_its_way(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """A run, or each leg of a lead that is too short, as long as the way that it lies along."""
    ways = way_lengths(survey.build)
    changes: dict[Path, Change] = {}
    for run in survey.parts.runs if finding.subject.kind == "run" else ():
        if run.name == finding.subject.name:
            changes[run.path] = length((*run.path, "length"), ways[frozenset(run.ends)])
    for wire in survey.wiring.wires_of.get(finding.subject.name, ()) if not changes else ():
        way = ways.get(frozenset((wire.start, wire.to)))
        part, key = survey.parts.named[wire.name], _KEYS.get(wire.leg, "")
        if way is None or not key or not below(wire.data.length, way) or part.path[:2] in changes:
            continue
        own = getattr(part.lead, key)
        if own is not None and own.length is not None:
            change = changed_lead(part, **{key: own.model_copy(update={"length": way})})
        else:
            change = changed_lead(part, length=way)
        if change is not None:
            several = getattr(part.said, "leads", None) is not None  # the file has one length for each
            changes[part.path[:2]] = change._replace(written=None) if several else change
    if changes:
        yield from in_words_of(finding, *changes.values())


LONGER: dict[str, Proposer] = {
    "passage.run-short": _long_enough,
    "run.no-spare": _long_enough,
    "way.short": _as_long_as_its_way,
}
