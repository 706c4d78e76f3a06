"""What is connected to a supply that gives nothing to judge by: listed under that supply's own finding."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from postcheck.description.consumers import CONSUMERS
from postcheck.report import Finding, Subject
from postcheck.survey import Survey

# These look at lengths, bores, lines and names, not at what a supply drives.
_NOT_ELECTRIC = ("passage.", "run.", "metal.slides", "lead.", "battery.", "scope.")
_NO_FIGURES = frozenset(
    {
        "circuit.joined-outputs", "circuit.steady-on-flasher", "dim.frequency", "flash.rate", "resistor.not-in-series",
        "strip.not-at-mark", "supply.no-rating", "supply.type-c",
    }
)  # fmt: skip


def folded(survey: Survey, findings: Iterable[Finding]) -> Iterator[Finding]:
    """The findings, with all that follow from a supply beyond the scope listed under it, without a remedy.

    So is what is connected to a supply whose poles are joined, or to a converter that does not start.
    """
    findings = list(findings)
    beyond = {
        finding.subject.name: finding.id
        for finding in findings
        if finding.check == "scope.volts" and finding.subject.kind == "supply"
    }
    # a supply that is shorted, or does not start, gives no figures to judge by either
    for name in (*survey.electrics.shorted, *(name for name, _ in survey.electrics.no_start)):
        check = "supply.conflict" if name in survey.electrics.shorted else "converter.no-start"
        if name in survey.build.supply:
            beyond.setdefault(name, f"{check}:{name}")
    causes = set(beyond.values())
    for finding in findings:
        electric = not finding.check.startswith(_NOT_ELECTRIC) and finding.check not in _NO_FIGURES
        cause = None
        if beyond and electric and finding.id not in causes:
            cause = next((beyond[name] for name in feeding(survey, finding.subject) if name in beyond), None)
        yield finding if cause is None else replace(finding, because_of=cause, remedy=None, edits=None)


def feeding(survey: Survey, subject: Subject) -> set[str]:
    """The supplies that a subject is connected to."""
    build, parts = survey.build, survey.parts
    if subject.kind == "network":
        return set(build.supply)
    names = {subject.name} if subject.kind == "supply" else set()
    lines = {subject.name} if subject.kind == "circuit" else set()
    if subject.kind == "board" and subject.name in build.board:
        names.add(build.board[subject.name].supply)
    if subject.kind == "place":
        lines |= {
            part.circuit
            for part in parts.all
            if subject.name in (part.place, part.resistor.place if part.resistor else "")
        }
    elif subject.kind in CONSUMERS:
        lines |= {part.circuit for part in parts.all if subject.name in (part.name, part.entry)}
    lines |= {run.line for run in parts.runs if subject.kind == "run" and run.name == subject.name}
    lines |= {
        line
        for plug in build.plug
        if subject.kind == "plug" and plug.name == subject.name
        for line in plug.pins
    }
    lines |= {
        line
        for join in build.join
        if subject.kind == "join" and join.place == subject.name
        for line in join.lines
    }
    poles = survey.wiring.poles
    names |= {poles[line][0] for line in lines if line in poles}
    return names | {build.supply[name].fed_by or "" for name in names}
