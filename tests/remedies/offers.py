"""What is offered for a finding, proven or not: the words, then each change as it is typed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from postcheck.checks.judge import judge
from postcheck.remedies.proposal import Proposal
from postcheck.remedies.table import proposals
from postcheck.report import Figure, Finding, Limited, Subject
from postcheck.survey import Survey


def found(survey: Survey, check: str) -> Finding:
    """The one finding of a check."""
    (finding,) = [finding for finding in judge(survey).findings if finding.check == check]
    return finding


def given(
    check: str,
    subject: tuple[str, str],
    path: tuple[str | int, ...] = (),
    *,
    figures: Mapping[str, float] | None = None,
    limit: float | None = None,
    limit_name: str = "",
    case: str | None = None,
    remedy: str | None = "Mend it.",
    parts: Mapping[str, Subject | tuple[Subject, ...]] | None = None,
    words: Mapping[str, str] | None = None,
    lines: tuple[str, ...] = (),
) -> Finding:
    """A finding with figures of our own."""
    return Finding(
        check, "stop", Subject(*subject), "", "", path, remedy, case=case, lines=lines, parts=parts or {}, words=words or {},
        limit=None if limit is None else Limited(limit, "", "", limit_name),
        figures={name: Figure(value, "") for name, value in (figures or {}).items()},
    )  # fmt: skip


def offers(survey: Survey, finding: Finding) -> list[tuple[str, ...]]:
    """All that is proposed for a finding."""
    return typed(proposals(survey, finding))


def typed(some: Iterable[Proposal]) -> list[tuple[str, ...]]:
    """Each proposal as its words and its edits: `supply.main.rated = "1.5 A"`; what goes is `-`, what is not written `?`."""
    return [
        (
            proposal.says,
            *(
                f"{'.'.join(map(str, change.path))} {f'= {change.written}' if change.written else '-' if change.written is not None else '?'}"
                for change in proposal.changes
            ),
        )
        for proposal in some
    ]


def where(some: Iterable[tuple[str, ...]]) -> list[tuple[str, ...]]:
    """The words, and where they change something, whatever is typed there."""
    return [(says, *(edit.split(" ", 1)[0] for edit in edits)) for says, *edits in some]
