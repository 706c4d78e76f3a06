"""Thinner wire of the same sort, for what does not fit."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.limits import above
from postcheck.physics import bundle, fill
from postcheck.plain import quoted
from postcheck.remedies.proposal import Proposal, set_to
from postcheck.remedies.wires import known_wires, sort_of
from postcheck.survey import Survey
from postcheck.survey.post.bores import is_pushed, room_wanted
from postcheck.survey.post.figures import Member, PassageFigures
from postcheck.wiring.data import WireData

# Sizes offered for trial, the thickest that fits first.
OFFERED = 2
# Up to so many runs are listed by name.
NAMED = 2


def slimmer(survey: Survey, figures: PassageFigures) -> Iterator[Proposal]:
    """The thickest sizes with which the bundle has its room: runs thicker than that get that wire, all others stay.

    Whether the volts still arrive is for the trial to show.
    """
    runs = [member for member in figures.members if member.kind == "run" and member.wire is not None]
    sorts = {sort_of(member.wire.name) for member in runs if member.wire is not None}
    if len(sorts) != 1:
        return
    alike = sorted(
        (row for row in known_wires(survey) if sort_of(row.name) in sorts and row.strands > 1),
        key=lambda row: -row.max_diameter,
    )
    offered = 0
    for row in alike:
        changed = [member for member in runs if _thicker(member, row)]
        if not changed or offered == OFFERED or not _fits(survey, figures, row):
            continue
        offered += 1
        by_name = {member.name: member for member in changed}
        who = " and ".join(quoted(name) for name in by_name) if len(by_name) <= NAMED else "all of its runs"
        if len(by_name) > NAMED and len(changed) < len(runs):
            who = "the thicker ones of its runs"
        yield Proposal(
            f"Or use {row.name} for {who}: it fits, and the volts still arrive.",
            tuple(set_to((*member.path, "wire"), row.name) for member in by_name.values()),
            spotless=True,
        )


def _thicker(member: Member, row: WireData) -> bool:
    return member.kind == "run" and member.wire is not None and member.wire.max_diameter > row.max_diameter


def _fits(survey: Survey, figures: PassageFigures, row: WireData) -> bool:
    diameters = [row.max_diameter if _thicker(member, row) else member.diameter for member in figures.members]
    bore, limits = figures.passage.bore, survey.limits
    room = room_wanted(len(diameters), limits).value
    pushed = is_pushed(figures.passage, len(diameters), limits)
    if not pushed and above(fill.fill(diameters, bore), figures.fill_limit):
        return False
    return bundle.pack(diameters, bore / room).verdict == bundle.FITS
