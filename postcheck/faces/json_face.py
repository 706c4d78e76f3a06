"""The report as JSON, in the shape that other programs rely on."""

from __future__ import annotations

import json
from typing import Any

from postcheck.report import FileReport, Finding, Report

__all__ = ["render"]


def render(report: Report, version: str) -> str:
    """The whole report as JSON text that ends in a line break; every number finite, in SI."""
    whole = {"postcheck": version, "format": 1, "files": [_file(file) for file in report.files]}
    text = json.dumps(whole, indent=2, ensure_ascii=False, allow_nan=False)
    # a lone surrogate from a name cannot be written as UTF-8: escape it as JSON itself does
    return "".join(c if not 0xD800 <= ord(c) < 0xE000 else f"\\u{ord(c):04x}" for c in text) + "\n"


def _file(file: FileReport) -> dict[str, Any]:
    return {
        "file": file.file,
        "verdict": file.verdict,
        "findings": [_finding(finding) for finding in file.findings],
        "not_judged": [
            {
                "subject": question.subject,
                "what": question.what,
                "missing": question.missing,
                "vital": question.vital,
            }
            for question in file.not_judged
        ],
        "figures": {
            section: {name: dict(row) for name, row in rows.items()} for section, rows in file.figures.items()
        },
    }


def _finding(finding: Finding) -> dict[str, Any]:
    where, limit = finding.where, finding.limit
    return {
        "id": finding.id,
        "check": finding.check,
        "severity": finding.severity,
        "subject": {"kind": finding.subject.kind, "name": finding.subject.name},
        "says": finding.says,
        "why": finding.why,
        "remedy": finding.remedy,
        "edits": None
        if finding.edits is None
        else [{"path": list(edit.path), "value": edit.value} for edit in finding.edits],
        "where": None if where is None else {"path": where.path, "line": where.line, "column": where.column},
        "figures": {
            name: {"value": figure.value, "unit": figure.unit} for name, figure in finding.figures.items()
        },
        "limit": None
        if limit is None
        else {"value": limit.value, "unit": limit.unit, "source": limit.source},
        "because_of": finding.because_of,
        "accepted": finding.accepted,
    }
