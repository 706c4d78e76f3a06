"""What the hand does at the bench: leads that the full supply destroys, because their resistor sits elsewhere."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from postcheck.checks.record import Check
from postcheck.checks.shown import amps, listed, volts
from postcheck.description.quantities import Dimension, format_quantity
from postcheck.plain import quoted
from postcheck.report import Figure, Finding, Limited, NotJudged, Subject
from postcheck.survey import Survey

if TYPE_CHECKING:
    from postcheck.survey.bench.figures import BenchFigures, Touch
    from postcheck.survey.bench.test_points import TapEnd
    from postcheck.wiring.parts import LampPart

__all__ = ["CHECKS"]


def _bare(survey: Survey) -> Iterator[Finding | NotJudged]:
    lamps = {lamp.name: lamp for lamp in survey.parts.lamps}
    if not any(map(_elsewhere, lamps.values())):
        return
    for (kind, name), tap in survey.bench.leads.items():
        if kind != "lamp" or tap.guard != "behind":
            continue
        known = survey.bench.figures(tap)
        if known is None or known.touch.outcome not in ("destroyed", "too much"):
            continue
        lamp, touch = lamps[name], known.touch
        seat = lamp.resistor.place if lamp.resistor is not None else ""
        held = listed(_bare_at(survey, tap.circuit, name, tap.places))
        fate = "destroyed" if touch.outcome == "destroyed" else f"harmed; {amps(touch.rated)} is its rating"
        limit = survey.limits["lamp.destroyed" if touch.outcome == "destroyed" else "lamp.current.caution"]
        yield Finding(
            "lead.bare", "caution", Subject("lamp", name),
            f"the lead of {quoted(name)} ends bare at {held}{_colours(tap.plus, tap.minus)}, for its resistor sits at {quoted(seat)}: the full supply on it there, {volts(touch.volts)}, drives up to {amps(touch.amps)}{_of_it(touch)}, and the lamp is {fate}.",
            "It happens at the bench, with a live lead in the other hand, and the lamp is often glued in by then.",
            (*lamp.path, "resistor"),
            remedy=f"Put the resistor with the lamp, or at {listed(tap.places)} before its joint. Until then {_test(known)}.",
            figures={
                "volts": Figure(touch.volts, "V"),
                "current": Figure(touch.worst_amps, "A"),
                "rated": Figure(touch.rated, "A"),
                **_setting(known),
            },
            limit=Limited(limit.value * touch.rated, "A", limit.source),
        )  # fmt: skip


def _elsewhere(lamp: LampPart) -> bool:
    """Whether its resistor sits neither with it nor where its lead ends: rare, and else there is nothing to work out."""
    ends = (lamp.place, *lamp.places, lamp.feed.to, lamp.back.to)
    return lamp.resistor is not None and lamp.resistor.place not in ends


def _bare_at(survey: Survey, circuit: str, lamp: str, joints: tuple[str, ...]) -> tuple[str, ...]:
    """The places where nothing protects it: its joints, and where its line goes on towards the resistor."""
    lines = (tap.plus.place for tap in survey.bench.along.get(circuit, ()) if (lamp, "behind") in tap.guards)
    return tuple(dict.fromkeys((*joints, *lines)))


def _of_it(touch: Touch) -> str:
    """Of several strings, what the worst gets: that is what its rating is of."""
    return f" ({amps(touch.worst_amps)} through one string)" if touch.worst_amps < 0.999 * touch.amps else ""


def _colours(plus: TapEnd, minus: TapEnd) -> str:
    if plus.colour is None or minus.colour is None:
        return ""
    return f" ({quoted(plus.colour)} to +, {quoted(minus.colour)} to -)"


def _test(known: BenchFigures) -> str:
    """How it is tested without harm."""
    if known.setting is None:
        return "keep the supply away from it"
    way = f"test it at {volts(known.setting.volts)} with the limit at {amps(known.setting.limit)}"
    if known.tester is not None:
        ohms = format_quantity(known.tester.ohms, Dimension.RESISTANCE)
        way += f", or with {volts(known.tester.volts)} through {ohms}"
    return way


def _setting(known: BenchFigures) -> dict[str, Figure]:
    figures = {}
    if known.setting is not None:
        figures["bench_volts"] = Figure(known.setting.volts, "V")
        figures["bench_limit"] = Figure(known.setting.limit, "A")
    if known.tester is not None:
        figures["bench_resistor"] = Figure(known.tester.ohms, "ohm")
    return figures


CHECKS: tuple[Check, ...] = (
    Check(
        name="lead.bare",
        severity="caution",
        subject="lamp",
        line="a lead whose resistor sits elsewhere, so that the full supply destroys its lamp",
        why="It happens at the bench, with a live lead in the other hand, and the lamp is often glued in by then. A lead whose resistor is put on at its own joint is bare until then, as the trade builds: the bench card of `postcheck sheet` warns of it.",
        formula="I of what hangs on the lead without its resistor, at the highest voltage of its supply, just after touching; at most what the supply can give",
        limits=("lamp.destroyed", "lamp.current.caution", "bench.current"),
        source="Kirchhoff's laws and Shockley's; that resistors stay with their lamps or at the hub is common practice",
        judge=_bare,
    ),
)
