"""No value for a part whose test record shows that it is built otherwise than it is described: that comes first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from postcheck.description.consumers import CONSUMERS
from postcheck.description.problems import Path
from postcheck.report import Finding, Subject
from postcheck.survey import Survey

# What would explain a current, by the parts that a finding names for it, and leaves the values of such a part unknown.
_OTHER_VALUES = ("bridged", "past", "misfit", "unstated", "forward")


def after_records(
    survey: Survey, findings: Iterable[Finding], offered: Mapping[str, Iterable[Path]]
) -> Iterator[Finding]:
    """The findings; where a remedy gives a value to what is not built as described, it is to settle the record instead.

    `offered`: the paths that the remedy of a finding, by its name, changes.
    """
    findings = list(findings)
    doubtful = {entry: found.id for found in findings for entry in _otherwise(survey, found)}
    for finding in findings:
        paths = (*offered.get(finding.id, ()), *(edit.path for edit in finding.edits or ()))
        record = next((doubtful[path[:2]] for path in paths if path[:2] in doubtful), None)
        if record is None:
            yield finding
            continue
        says = (
            f"Settle its test record first ({record}): "
            "what is built is not what is described, so no value can be worked out."
        )
        yield replace(finding, remedy=says, edits=None, lines=(), remedy_figures={})


def _otherwise(survey: Survey, finding: Finding) -> Iterator[Path]:
    """The paths of the entries of what a wrong current shows to be built otherwise."""
    if finding.check != "proof.current" or finding.accepted is not None or finding.because_of is not None:
        return
    roles = [role for name in _OTHER_VALUES for role in (name, f"other_{name}")]
    if "not explained" in (finding.case or ""):
        roles.append("thing")
    for role in roles:
        of = finding.parts.get(role, ())
        for subject in (of,) if isinstance(of, Subject) else of:
            if subject.kind in CONSUMERS and subject.name in survey.parts.named:
                yield survey.parts.named[subject.name].path[:2]
