"""Supplies and batteries: a cover, air, a protection board, another socket or pole."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.sockets import sized
from postcheck.plain import quoted
from postcheck.remedies.opposites.by_words import by_words, set_here
from postcheck.remedies.proposal import Change, Proposal, Proposer, lower_first, set_to
from postcheck.report import Finding
from postcheck.survey import Survey

# Barrel sockets of which neither takes the other's plug: common sizes.
_SOCKETS = ("3.5/1.35 mm", "5.5/2.1 mm")


def _uncovered(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """A cover where there was none; for a lithium battery a protection board as well, where none is stated."""
    supply = survey.build.supply.get(finding.subject.name)
    place = finding.subject.name if supply is None else supply.place
    cover = set_to(("place", place, "access"), "cover")
    if supply is not None and supply.kind == "battery" and supply.protected is not True:
        yield cover, set_to(("supply", finding.subject.name, "protected"), True)
    yield (cover,)


def _covered(_: Survey, finding: Finding) -> Iterator[Proposal]:
    """A cover where there was none, beside what the check names."""
    name = finding.subject.name
    if finding.remedy is not None:
        says = finding.remedy
        if not says.startswith("Leave a cover"):
            says = f"Leave a cover over {quoted(name)}, or {lower_first(says)}"
        yield Proposal(says, (set_to(("place", name, "access"), "cover"),), alone=True)


def _aired(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    yield (set_to(("place", survey.build.supply[finding.subject.name].place, "vented"), True),)


def _typed(finding: Finding, *table: str) -> Iterator[Change]:
    """The lines that the finding shows to be typed, in a table."""
    for line in finding.lines:
        key, _, written = line.partition(" = ")
        yield Change((*table, key), written.strip('"'), written)


def _socketed(_: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    yield from ((change,) for change in _typed(finding, "supply", finding.subject.name))


def _screwed(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    yield (*_typed(finding, "place", survey.build.supply[finding.subject.name].place),)


def _other_socket(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """Another size of socket for the supply of the finding, with its pole as it was."""
    said = survey.build.supply.get(finding.subject.name)
    if said is None or said.socket is None:
        return
    pole = next((f", centre {pole}" for pole in ("positive", "negative") if pole in said.socket), "")
    has = sized(said.socket)
    for size in _SOCKETS:
        if not (sized(size).goes_into(has) or has.goes_into(sized(size))):
            yield (set_to(("supply", finding.subject.name, "socket"), f"{size}{pole}"),)


def _other_pole(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """The adaptor with its pole as the board has it."""
    if finding.subject.kind != "board":
        yield from _other_socket(survey, finding)
        return
    name = survey.build.board[finding.subject.name].supply
    socket = survey.build.supply[name].socket or ""
    for pole, turned in (("positive", "negative"), ("negative", "positive")):
        if pole in socket:
            other = socket.replace(pole, turned)
            yield (set_to(("supply", name, "socket"), other),)
            return


OPPOSITES: dict[str, Proposer] = {
    "supply.type-c": set_here(True),
    "supply.mains-inside": by_words(_socketed),
    "supply.wrong-adaptor": by_words(_other_socket),
    "supply.polarity": by_words(_other_pole),
    "battery.unprotected": set_here(True),
    "battery.lithium-sealed": by_words(_uncovered),
    "battery.coin": by_words(_screwed),
    "battery.gas": by_words(_aired),
    "access.sealed": _covered,
}
