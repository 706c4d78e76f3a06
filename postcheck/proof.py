"""A remedy is offered only if applying it to the build makes its finding go and brings no new one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from itertools import islice
from typing import Any

from pydantic import BaseModel

from postcheck.build.models import Build
from postcheck.checks.judge import judge
from postcheck.remedies.proposal import Change, Proposal, Proposer
from postcheck.report import SEVERITIES, Edit, Finding
from postcheck.survey import Survey

__all__ = ["changed", "with_remedies"]

Path = tuple[str | int, ...]

# A proof is a whole survey of the changed build. Above so many lamps it would take too long for a hook.
MOST_LAMPS = 400
# Proofs for one build, and proposals tried for one finding.
MOST_PROOFS = 24
MOST_TRIES = 4


def changed(build: Build, changes: Iterable[Change]) -> Build:
    """A copy of a build with some values changed; the file's own is left as it is."""
    for change in changes:
        build = _set(build, change.path, change.value)
    return build


def _set(part: Any, path: Path, value: Any) -> Any:
    if not path:
        return value
    key, rest = path[0], path[1:]
    if isinstance(part, BaseModel):
        names = {field.alias or name: name for name, field in type(part).model_fields.items()}
        name = names.get(str(key), str(key))
        return part.model_copy(update={name: _set(getattr(part, name), rest, value)})
    if isinstance(part, list) and isinstance(key, int):
        return [*part[:key], _set(part[key], rest, value), *part[key + 1 :]]
    return {**part, key: _set(part[key], rest, value)}


def with_remedies(
    survey: Survey, findings: tuple[Finding, ...], proposers: Mapping[str, Proposer]
) -> tuple[Finding, ...]:
    """The findings, each with the first of its proposals that is proven; the others as they were."""
    if len(survey.build.lamp) > MOST_LAMPS:
        return findings
    before = {finding.id: SEVERITIES.index(finding.severity) for finding in findings}
    left = MOST_PROOFS
    done = []
    for found in findings:
        finding = found
        proposer = proposers.get(finding.check)
        if proposer is not None and finding.remedy is None and finding.because_of is None:
            for proposal in islice(proposer(survey, finding), min(MOST_TRIES, left)):
                left -= 1
                if _holds(survey, finding, proposal, before):
                    edits = tuple(Edit(change.path, change.written) for change in proposal.changes)
                    finding = replace(finding, remedy=proposal.says, edits=edits)
                    break
        done.append(finding)
    return tuple(done)


def _holds(survey: Survey, finding: Finding, proposal: Proposal, before: Mapping[str, int]) -> bool:
    trial = Survey(changed(survey.build, proposal.changes), survey.limits, survey.stage)
    after, _, _ = judge(trial)
    return all(
        other.id != finding.id
        and (
            other.severity == "note"
            or SEVERITIES.index(other.severity) >= before.get(other.id, len(SEVERITIES))
        )
        for other in after
    )
