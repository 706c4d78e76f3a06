"""What is beyond this program, voltages that can hurt, and what is not told beside a supply without meaning."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from postcheck.build.naming import supply_of
from postcheck.checks.record import Check
from postcheck.checks.shown import volts
from postcheck.plain import quoted
from postcheck.report import Figure, Finding, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.parts import LampPart, LoadPart, StripPart
from postcheck.survey.supplies import source_of, typical_volts

__all__ = ["CHECKS", "folded"]

_REMEDY = "Have this part made or inspected by someone licensed for it, by the code of your country; keep the model's own wiring below it."


def _volts(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["volts.scope"]
    limited = Limited(limit.value, limit.unit, limit.source)
    why = (
        "Above it a touch can injure, and fine wires and painted joints insulate nothing. "
        "Nothing here is judged safe; that is for licensed practice."
    )
    for name, supply in survey.build.supply.items():
        most = max(source_of(supply, 1)[0], typical_volts(supply), supply.unloaded or 0.0)
        if most > limit.value:
            yield Finding(
                "scope.volts", "stop", Subject("supply", name),
                f"{quoted(name)} can stand at {volts(most)}; this program judges nothing above {volts(limit.value)}.",
                why, ("supply", name), remedy=_REMEDY, figures={"voltage": Figure(most, "V")}, limit=limited,
            )  # fmt: skip
    over = any(
        max(source_of(s, 1)[0], typical_volts(s), s.unloaded or 0.0) > limit.value
        for s in survey.build.supply.values()
    )
    if not over and survey.electrics.widest > limit.value:
        first = next(iter(survey.build.supply))
        yield Finding(
            "scope.volts", "stop", Subject("supply", first),
            f"The supplies lie one on top of another: {volts(survey.electrics.widest)} stand between two points of the wiring; this program judges nothing above {volts(limit.value)}.",
            why, ("supply", first), remedy=_REMEDY, figures={"voltage": Figure(survey.electrics.widest, "V")}, limit=limited,
        )  # fmt: skip
    for index, load in enumerate(survey.build.load):
        most = load.open_volts or 0.0
        if most > limit.value:
            yield Finding(
                "scope.volts", "stop", Subject("load", load.name),
                f"{quoted(load.name)} puts out up to {volts(most)} with nothing connected; this program judges nothing above {volts(limit.value)}.",
                why, ("load", index, "open_volts"), remedy=_REMEDY, figures={"voltage": Figure(most, "V")}, limit=limited,
            )  # fmt: skip


# These look at lengths, bores, lines and names, not at what a supply drives.
_NOT_ELECTRIC = ("passage.", "lead.", "battery.", "scope.")
_NO_FIGURES = frozenset(
    {
        "circuit.joined-outputs", "circuit.steady-on-flasher", "dim.frequency", "flash.rate", "resistor.not-in-series",
        "strip.not-at-mark", "supply.no-rating", "supply.type-c",
    }
)  # fmt: skip


def folded(survey: Survey, findings: Iterable[Finding]) -> Iterator[Finding]:
    """The findings, with all that was worked out from a supply beyond the scope told under that and without a remedy.

    So is what hangs on a supply whose poles are joined, or on a converter that does not start.
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
            cause = next((beyond[name] for name in _feeding(survey, finding.subject) if name in beyond), None)
        yield finding if cause is None else replace(finding, because_of=cause, remedy=None, edits=None)


def _feeding(survey: Survey, subject: Subject) -> set[str]:
    """The supplies that a subject hangs on."""
    build, parts = survey.build, survey.parts
    if subject.kind == "network":
        return set(build.supply)
    names = {subject.name} if subject.kind == "supply" else set()
    lines = {subject.name} if subject.kind == "circuit" else set()
    if subject.kind == "board" and subject.name in build.board:
        names.add(build.board[subject.name].supply)
    hung: list[LampPart | StripPart | LoadPart] = [*parts.lamps, *parts.strips, *parts.loads]
    if subject.kind == "place":
        lines |= {part.circuit for part in hung if part.place == subject.name}
        lines |= {
            lamp.circuit for lamp in parts.lamps if lamp.resistor and lamp.resistor.place == subject.name
        }
    elif subject.kind in ("lamp", "strip", "load"):
        lines |= {part.circuit for part in hung if subject.name in (part.name, getattr(part, "entry", ""))}
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
    for line in lines:
        circuit = build.circuit.get(line.removesuffix("-return"))
        source = supply_of(build, circuit) if circuit is not None else line[:-1]
        names |= {source} if source in build.supply else set()
    return names | {build.supply[name].fed_by or "" for name in names}


CHECKS: tuple[Check, ...] = (
    Check(
        name="scope.volts",
        severity="stop",
        subject="supply",
        line="a voltage that can hurt",
        why="Above 60 V DC a touch can injure. Mains and high voltage belong to licensed practice, not to a program.",
        formula="highest open voltage of a supply, or of what a booster or inverter puts out",
        limits=("volts.scope",),
        source="IEC 62368-1 ES1, 60 V DC (from memory)",
        judge=_volts,
        dangerous=True,
    ),
)
