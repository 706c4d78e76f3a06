"""A build over a range as JSON, in the shape that other programs rely on."""

from __future__ import annotations

from typing import Any

from postcheck.renderers.figures import number
from postcheck.renderers.json_renderer import question_json, what_if_json
from postcheck.renderers.json_text import json_text
from postcheck.variation import Axis, Point, Turn, Variation


def render(variation: Variation, version: str) -> str:
    """All points and turns as JSON text in ASCII that ends in a line break; numbers of a key are in its `unit`."""
    return json_text(
        version,
        file=variation.file,
        name=variation.name,
        stage=variation.stage or None,
        stopped=variation.stopped,
        what_if=[what_if_json(one) for one in variation.what_if],
        keys=[_axis(axis) for axis in variation.axes],
        margin={"check": variation.margin, "line": variation.margin_line} if variation.margin else None,
        points=[_point(variation, point) for point in variation.points],
        gap=None
        if variation.gap is None
        else {"value": number(variation.gap), "by_ratio": variation.axes[0].by_ratio},
        turns=[_turn(variation, turn) for turn in variation.turns],
    )


def _axis(axis: Axis) -> dict[str, Any]:
    return {
        "key": axis.key,
        "unit": axis.unit if axis.numbers else None,
        "values": list(axis.values),
        "series": axis.series or None,
        "was": axis.was,
    }


def _point(variation: Variation, point: Point) -> dict[str, Any]:
    return {
        "values": [axis.values[at] for axis, at in zip(variation.axes, point.at, strict=True)],
        "numbers": [
            axis.numbers[at] if axis.numbers else None
            for axis, at in zip(variation.axes, point.at, strict=True)
        ],
        "as_in_file": all(axis.own == at for axis, at in zip(variation.axes, point.at, strict=True)),
        "verdict": point.verdict,
        "findings": [{"id": one.id, "severity": one.severity, "says": one.says} for one in point.findings],
        "vital": point.vital,
        "asks": None if point.asks is None else question_json(point.asks),
        "used": number(point.used),
    }


def _turn(variation: Variation, turn: Turn) -> dict[str, Any]:
    (axis,) = variation.axes
    below, above = variation.points[turn.below], variation.points[turn.above]
    return {
        "below": axis.values[turn.below],
        "above": axis.values[turn.above],
        "verdict_below": below.verdict,
        "verdict_above": above.verdict,
        "new": list(turn.new),
        "gone": list(turn.gone),
        "other_weight": list(turn.other),
        "close": turn.close,
    }
