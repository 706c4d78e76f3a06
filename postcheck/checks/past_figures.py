"""Findings whose figures would be those of a dead short, or of a lamp that is destroyed before they are reached: worded without.

Where supplies are joined that do not keep up what flows between them, there are none: the one on the joint has all there is to say.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Any

from postcheck.checks.no_figures import feeding
from postcheck.plain import quoted
from postcheck.report import Finding, Subject
from postcheck.survey import Survey

_SAYS: Mapping[str, str] = MappingProxyType({
    "battery.empty": "{} does not last as long as it has to.",
    "battery.fades": "{} does not keep its light for long.",
    "battery.overload": "{} gives more than its cells are rated for.",
    "board.overload": "{} is asked for more than the board is rated for.",
    "converter.overload": "{} gives more than its rating.",
    "fuse.too-small": "The fuse of {} carries more than it may for long.",
    "output.overload": "The output of {} gives more than its rating.",
    "part.hot-spot": "{} gets the wall beside it too hot.",
    "place.too-hot": "The air in {} gets too hot for its walls.",
    "plug.overload": "A pin of {} carries more than it is rated for.",
    "resistor.overloaded": "The resistor of {} gets more than its rating.",
    "supply.overload": "{} gives more than its rating.",
    "wire.hot": "{} gets too hot for its insulation.",
    "wire.hot-beside": "{} gets too hot for what lies beside it.",
    "wire.hurt-before-fuse": "A short hurts a wire of {} before its fuse is sure to open.",
})  # fmt: skip


_WHY = {
    "lamp": "What it would draw if it lived is no current of the build. That lamp comes first.",
    "supply": "What flows through a dead short is for wires and fuse alone to say. The short comes first.",
}
_FOR = {"lamp": "{} is destroyed at once", "supply": "the poles of {} are joined"}


def without_figures(survey: Survey, findings: Iterable[Finding]) -> Iterator[Finding]:
    """The findings; those that depend on a destroyed lamp, or on a supply with joined poles, say so and give no figures.

    What such a lamp would draw, were it to live, is no current of the build: neither its supply's load nor any heat of it.
    """
    findings = list(findings)
    if not survey.beyond.fates:
        yield from findings
        return
    for finding in findings:
        if _fought(survey, finding):
            continue
        name = _lamp(survey, finding)
        kind = "lamp" if name is not None else "supply"
        name = name or _shorted(survey, finding)
        if name is None:
            yield finding
            continue
        says = _SAYS[finding.check].format(quoted(finding.subject.name, 200))
        follows: dict[str, Any] = {"remedy": None, "edits": None, "lines": (), "remedy_figures": {}}
        yield replace(
            finding,
            says=f"{says} No figure is given, for {_FOR[kind].format(quoted(name, 200))}.",
            why=_WHY[kind],
            figures={},
            parts={kind: Subject(kind, name)},
            words={},
            **({} if finding.check == "place.too-hot" else follows),
        )


def _fought(survey: Survey, finding: Finding) -> bool:
    """Whether a finding hangs on what one supply would push into another and does not keep up: that is reported there."""
    if not survey.beyond.pushed or finding.check not in (*_SAYS, "line.drop"):
        return False
    kind = "line" if finding.subject.kind == "circuit" else finding.subject.kind
    return survey.beyond.fates.get((kind, finding.subject.name)) == "supplies joined"


def _shorted(survey: Survey, finding: Finding) -> str | None:
    """The supply with joined poles that a finding's figures depend on."""
    if finding.check not in _SAYS or not finding.figures or not survey.electrics.shorted:
        return None
    return next((name for name in survey.electrics.shorted if name in feeding(survey, finding.subject)), None)


def _lamp(survey: Survey, finding: Finding) -> str | None:
    """The destroyed lamp that a finding's figures depend on, if it is not that lamp's own finding."""
    if finding.check not in _SAYS or not finding.figures or "bare lamp" in (finding.case or ""):
        return None
    kind, name, beyond = finding.subject.kind, finding.subject.name, survey.beyond
    if kind == "place":
        return beyond.places.get(name)
    if kind == "circuit":
        return beyond.circuits.get(name)
    if finding.check in ("part.hot-spot", "resistor.overloaded"):
        part = survey.parts.named.get(name)
        if part is None:
            return None
        if name in beyond.lamps:
            return name
        if finding.check == "resistor.overloaded":
            return None
        places = (part.place, part.resistor.place if part.resistor else "")
        return next((beyond.places[place] for place in places if place in beyond.places), None)
    if kind in ("board", "plug") and (kind, name) not in beyond.fates:
        return None
    return next(
        (beyond.supplies[one] for one in feeding(survey, finding.subject) if one in beyond.supplies), None
    )
