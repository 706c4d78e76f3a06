"""What is beyond this program: voltages that can hurt."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.record import Check
from postcheck.checks.shown import volts
from postcheck.plain import quoted
from postcheck.report import Figure, Finding, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.network.supplies import source_of, typical_volts

__all__ = ["CHECKS"]

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
