"""How fast circuits flash and are dimmed."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.units import Dimension
from postcheck.plain import enumerated, quoted
from postcheck.remedies.opposites.by_words import as_figured, by_words
from postcheck.remedies.proposal import Change, Proposal, Proposer, quantity
from postcheck.report import Finding
from postcheck.survey import Survey

# So many circuits have their rates listed one by one.
MOST_NAMED = 4


def _slower(_: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """At the limit, to which the words point."""
    if finding.limit is not None and finding.subject.kind == "circuit":
        yield (quantity(finding.path, finding.limit.value, Dimension.RATE),)


def _all_slower(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Each circuit's rate, slowed by the same factor."""
    flashers = finding.parts.get("flashers")
    if not isinstance(flashers, tuple):
        return
    changes, words = [], []
    for flasher in flashers:
        rate = survey.build.circuit[flasher.name].rate if flasher.kind == "circuit" else None
        if rate is None:
            return
        per_minute = int(rate * 60.0 * finding.figures["slower"].value)
        changes.append(Change(("circuit", flasher.name, "rate"), per_minute / 60.0, f'"{per_minute} /min"'))
        words.append(f"{quoted(flasher.name)} at {per_minute} /min")
    says = finding.remedy or ""
    if len(words) <= MOST_NAMED:
        says = f"Flash {enumerated(words)}, or let them flash in step and say so (in_step_with)."
    yield Proposal(says, tuple(changes), alone=True)


OPPOSITES: dict[str, Proposer] = {
    "flash.rate": by_words(_slower),
    "flash.together": _all_slower,
    "dim.frequency": as_figured("unseen", Dimension.RATE),
}
