"""The report as SARIF 2.1.0 (OASIS), the format that code scanning reads."""

from __future__ import annotations

import json
import os
import re
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from hashlib import sha256
from typing import Any, NamedTuple
from urllib.parse import quote

from postcheck.renderers.ci import details
from postcheck.renderers.words import limit_change, safe, what_if_words
from postcheck.report import FileReport, Finding, NotJudged, Report, Subject, Typed, Where

_SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
_LEVELS = {"stop": "error", "caution": "warning", "note": "note"}


class Help(NamedTuple):
    """A check as a rule with its help: its name, the heaviest it gives, one line, why it is asked, and its help."""

    name: str
    severity: str
    line: str
    why: str
    text: str
    markdown: str


_OPEN = "Something vital is not known, so that the build is not called clear. Say in the file what is missing, and check again."
NOT_JUDGED = Help("not-judged", "caution", "something vital that could not be judged", _OPEN, _OPEN, _OPEN)
"""The rule of what could not be judged: a result of the kind `open`, which is no finding."""


def render(
    report: Report, version: str, rules: Sequence[Help], *, code: int = 0, named: Callable[[str], str] = str
) -> str:
    """The report as one run in ASCII that ends in a line break. `code` is the exit code; `named` makes a path relative.

    Every file is an artifact, one without findings too. Fingerprints are made of the finding's name and its file.
    """
    rules = [*rules, NOT_JUDGED]
    places = {rule.name: place for place, rule in enumerate(rules)}
    uris = [_uri(named(file.file)) for file in report.files]
    files = [
        _File(file, {"uri": uri, "index": index}, places, lambda path: _uri(named(path)))
        for index, (file, uri) in enumerate(zip(report.files, uris, strict=True))
    ]
    run = {
        "tool": {
            "driver": {
                "name": "postcheck",
                "version": version,
                "semanticVersion": version,
                "rules": [_rule(rule) for rule in rules],
            }
        },
        "columnKind": "unicodeCodePoints",
        "invocations": [
            {
                "executionSuccessful": code in {0, 1},
                "exitCode": code,
                "toolExecutionNotifications": [note for file in files for note in file.notes()],
            }
        ],
        "artifacts": [{"location": {"uri": uri}, "roles": ["analysisTarget"]} for uri in uris],
        "results": [result for file in files for result in file.results()],
    }
    whole = {"$schema": _SCHEMA, "version": "2.1.0", "runs": [run]}
    # ASCII, so that no stream needs another spelling
    return json.dumps(whole, indent=2, allow_nan=False) + "\n"


def _rule(rule: Help) -> dict[str, Any]:
    return {
        "id": rule.name,
        "shortDescription": {"text": f"{rule.line[0].upper()}{rule.line[1:].rstrip('.')}."},
        "fullDescription": {"text": rule.why},
        "help": {"text": rule.text, "markdown": rule.markdown},
        "defaultConfiguration": {"level": _LEVELS[rule.severity]},
    }


class _File:
    """What is told of one file; `artifact` is its place in the log, `uri` that of another file."""

    def __init__(
        self, file: FileReport, artifact: dict[str, Any], places: dict[str, int], uri: Callable[[str], str]
    ) -> None:
        self.uri = uri
        self.file = file
        self.artifact = artifact
        self.places = places
        self.causes = {finding.id: finding for finding in file.findings}
        self.seen: Counter[str] = Counter()

    def results(self) -> Iterator[dict[str, Any]]:
        """A result for each finding, and for each vital thing that was not judged."""
        for finding in self.file.findings:
            yield self.result(finding)
        for question in self.file.not_judged:
            if question.vital:
                yield {
                    **self.rule(NOT_JUDGED.name),
                    "kind": "open",
                    "level": "none",
                    "message": {"text": _question(question)},
                    "locations": [self.location(question.where, Subject("", question.subject))],
                    "partialFingerprints": self.fingerprint(
                        f"{NOT_JUDGED.name}:{question.subject}:{question.what}"
                    ),
                    "suppressions": [],
                }

    def notes(self) -> Iterator[dict[str, Any]]:
        """The limits that the file changes; what was not judged and is not vital."""
        for limit in self.file.limits:
            yield {
                "level": "warning" if limit.hides else "note",
                "message": {"text": _text(limit_change(limit))},
                "locations": [self.location(limit.where, Subject("limit", limit.name))],
            }
        for one in self.file.what_if:
            yield {
                "level": "note",
                "message": {"text": _text(what_if_words([one]))},
                "locations": [self.location(one.where, Subject("", one.key))],
            }
        for question in self.file.not_judged:
            if not question.vital:
                yield {
                    "level": "note",
                    "message": {"text": _question(question)},
                    "locations": [self.location(question.where, Subject("", question.subject))],
                }

    def result(self, finding: Finding) -> dict[str, Any]:
        cause = self.causes.get(finding.because_of or "")
        lines = [safe(finding.says), *details(finding)]
        more: dict[str, Any] = {}
        if cause is not None:
            lines.append(f"It follows from: {safe(cause.says)}")
            related = self.location(cause.where, cause.subject)
            more["relatedLocations"] = [{**related, "message": {"text": _text(safe(cause.says))}}]
        if fixes := self.fixes(finding):
            more["fixes"] = fixes
        # SARIF 2.1.0, 3.27.23: all results of a run say whether they are suppressed, or none does
        accepted = finding.accepted
        suppressions = [{"kind": "inSource", "status": "accepted", "justification": safe(accepted or "")}]
        return {
            **self.rule(finding.check),
            "level": _LEVELS[finding.severity],
            "message": {"text": _text("\n".join(lines))},
            "locations": [self.location(finding.where, finding.subject)],
            **more,
            "partialFingerprints": self.fingerprint(finding.id),
            "suppressions": suppressions if accepted is not None else [],
        }

    def rule(self, name: str) -> dict[str, Any]:
        index = self.places.get(name)
        return {"ruleId": safe(name)} if index is None else {"ruleId": name, "ruleIndex": index}

    def location(self, where: Where | None, subject: Subject) -> dict[str, Any]:
        physical: dict[str, Any] = {"artifactLocation": self.artifact}
        if where is not None and where.path != self.file.file:
            physical["artifactLocation"] = {"uri": self.uri(where.path)}
        if where is not None:
            physical["region"] = {"startLine": where.line, "startColumn": where.column}
        name = safe(subject.name)
        logical = {"name": name, "fullyQualifiedName": f"{subject.kind}.{name}" if subject.kind else name}
        return {"physicalLocation": physical, "logicalLocations": [logical]}

    def fingerprint(self, name: str) -> dict[str, str]:
        """What stays the same while lines move; the second of one name in a file is another."""
        self.seen[name] += 1
        identity = "\0".join((name, self.artifact["uri"], str(self.seen[name])))
        return {"finding/v1": sha256(identity.encode("utf-8", "surrogatepass")).hexdigest()[:32]}

    def fixes(self, finding: Finding) -> list[dict[str, Any]]:
        """The remedy as edits, where each of them is one in this very file."""
        replacements = [_replacement(edit.typed) for edit in finding.edits or () if edit.typed is not None]
        if not replacements or len(replacements) != len(finding.edits or ()):
            return []
        change = {"artifactLocation": self.artifact, "replacements": replacements}
        return [{"description": {"text": _text(safe(finding.remedy or ""))}, "artifactChanges": [change]}]


def _replacement(typed: Typed) -> dict[str, Any]:
    region = {
        "startLine": typed.line,
        "startColumn": typed.column,
        "endLine": typed.end_line,
        "endColumn": typed.end_column,
    }
    return {"deletedRegion": region, "insertedContent": {"text": typed.text}}


def _question(question: NotJudged) -> str:
    missing = f"Missing: {safe(question.missing)}"
    typed = "".join(f"\n{safe(line)}" for line in question.lines)
    return _text(f"Not judged of '{safe(question.subject)}': {safe(question.what)}.\n{missing}{typed}")


def _text(text: str) -> str:
    """Text in which no reader sees a link or a placeholder (SARIF 2.1.0, 3.11.5 and 3.11.6)."""
    return re.sub(r"\{(?=\d+\})", "{ ", re.sub(r"\](?=\()", "] ", text))


def _uri(path: str) -> str:
    """A path with forward slashes as a URI reference (RFC 3986)."""
    escaped = quote(os.fsencode(path), safe="/")
    if path.startswith("/"):
        return f"file://{escaped}"
    drive = re.match(r"[A-Za-z]:/", path)
    return f"file:///{drive[0]}{quote(os.fsencode(path[3:]), safe='/')}" if drive else escaped
