"""The report as JSON, in the shape that other programs rely on."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any, cast

from postcheck.renderers.figures import number
from postcheck.renderers.json_text import json_text
from postcheck.report import (
    ChangedLimit,
    Figure,
    FileReport,
    Finding,
    NotJudged,
    Report,
    Subject,
    WhatIf,
    Where,
)


def render(report: Report, version: str) -> str:
    """The whole report as JSON text in ASCII that ends in a line break; every number finite, in SI.

    A figure that is no finite number is null, in a finding it is left out.
    """
    return json_text(version, files=[_file(file) for file in report.files])


def _file(file: FileReport) -> dict[str, Any]:
    sections = cast("Mapping[str, Mapping[str, Mapping[str, float | str | None]]]", file.figures)
    return {
        "file": file.file,
        "verdict": file.verdict,
        "stage": file.stage or None,
        "findings": [finding_json(finding) for finding in file.findings],
        "not_judged": [question_json(question) for question in file.not_judged],
        "limits": [limit_json(limit) for limit in file.limits],
        "what_if": [what_if_json(one) for one in file.what_if],
        "nothing_to_judge": list(file.nothing_to_judge),
        "figures": {
            section: {name: _row(row) for name, row in rows.items()} for section, rows in sections.items()
        },
    }


def _row(row: Mapping[str, float | str | None]) -> dict[str, float | str | None]:
    return {name: value if isinstance(value, str) else number(value) for name, value in row.items()}


def question_json(question: NotJudged) -> dict[str, Any]:
    """What could not be judged, as JSON."""
    return {
        "subject": question.subject,
        "what": question.what,
        "missing": question.missing,
        "vital": question.vital,
        "plannable": question.plannable,
        "lines": list(question.lines),
        "under": list(question.under),
        "where": where_json(question.where),
    }


def limit_json(limit: ChangedLimit) -> dict[str, Any]:
    """A limit that the file changes, as JSON."""
    return {
        "name": limit.name,
        "value": limit.value,
        "was": limit.was,
        "unit": limit.unit,
        "reason": limit.reason,
        "hides": list(limit.hides),
    }


def what_if_json(one: WhatIf) -> dict[str, Any]:
    """A key that was judged with another value than the file's, as JSON."""
    return {
        "key": one.key,
        "value": _plain(one.value),
        "was": _plain(one.was),
        "where": where_json(one.where),
    }


def _plain(toml: str | None) -> Any:
    """A value of TOML as one of JSON, a date as text; what another program made, and is no TOML, as it is."""
    import tomli  # noqa: PLC0415 - for the few reports that have any

    try:
        value = None if toml is None else tomli.loads(f"value = {toml}")["value"]
    except tomli.TOMLDecodeError:
        return toml
    return json.loads(json.dumps(value, default=str))


def where_json(where: Where | None) -> dict[str, Any] | None:
    """A position in a build file, as JSON."""
    return None if where is None else {"path": where.path, "line": where.line, "column": where.column}


def _figures(figures: Mapping[str, Figure]) -> dict[str, Any]:
    return {
        name: {"value": figure.value, "unit": figure.unit}
        for name, figure in figures.items()
        if number(figure.value) is not None
    }


def _subject(subject: Subject) -> dict[str, str]:
    return {"kind": subject.kind, "name": subject.name}


def finding_json(finding: Finding) -> dict[str, Any]:
    """One finding as JSON."""
    limit = finding.limit
    return {
        "id": finding.id,
        "check": finding.check,
        "severity": finding.severity,
        "subject": _subject(finding.subject),
        "says": finding.says,
        "why": finding.why,
        "remedy": finding.remedy if not finding.lines else "\n".join((finding.remedy or "", *finding.lines)),
        "edits": None
        if finding.edits is None
        else [
            {"path": list(edit.path), "value": _plain(edit.value), "toml": edit.value}
            for edit in finding.edits
        ],
        "where": where_json(finding.where),
        "figures": _figures(finding.figures),
        "limit": None
        if limit is None or number(limit.value) is None
        else {
            "value": limit.value,
            "unit": limit.unit,
            "source": limit.source,
            "name": limit.name or None,
        },
        "because_of": finding.because_of,
        "accepted": finding.accepted,
        "parts": {
            role: _subject(part) if isinstance(part, Subject) else [_subject(one) for one in part]
            for role, part in finding.parts.items()
        },
        "remedy_figures": _figures(finding.remedy_figures),
    }
