"""What a build over a range comes to, in sentences that all its renderers share."""

from __future__ import annotations

from collections.abc import Iterator
from math import log

from postcheck.renderers.figures import show
from postcheck.renderers.order import OpenQuestion
from postcheck.renderers.words import counted, question_words, safe, what_if_words
from postcheck.report import Verdict
from postcheck.variation import Axis, Point, Variation

LETTERS: dict[Verdict, str] = {
    "clear": ".",
    "caution": "c",
    "stop": "S",
    "incomplete": "?",
    "unreadable": "x",
}
"""How a verdict is written where there is room for one sign."""

_IS: dict[Verdict, str] = {
    "clear": "it is clear",
    "caution": "it is a caution",
    "stop": "it is a stop",
    "incomplete": "it is incomplete",
    "unreadable": "it is no build",
}
_NAMES: dict[Verdict, str] = {"unreadable": "no build"}
_TURNS = 8
_ALL = 12  # of no more points all have a row
_TWICE = 2.0
_BEYOND = 10.0  # times its limit: how far something is beyond says nothing any more


def value_words(axis: Axis, index: int) -> str:
    """A value of an axis, as it may be shown."""
    return safe(axis.values[index], 60) or '""'


def heading(told: Variation) -> str:
    """Which keys were varied, and how far."""
    return "; ".join(map(_span, told.axes)) + "."


def _span(axis: Axis) -> str:
    key = safe(axis.key, 200)
    if not axis.numbers:
        return f"{key}: {counted(len(axis.values), 'value')}"
    series = f" in values of {axis.series}" if axis.series else ""
    return f"{key} from {value_words(axis, 0)} to {value_words(axis, len(axis.values) - 1)}{series}"


def source(told: Variation) -> str:
    """Which build it is."""
    file = safe(told.file, 4096)
    name = f"{safe(told.name, 80)} ({file})" if told.name.strip() else file
    stage = f"for {told.stage}, " if told.stage else ""
    return f"{name}; judged {stage or 'at '}{counted(len(told.points), 'value' if len(told.axes) == 1 else 'pair')}"


def sentences(told: Variation) -> Iterator[str]:
    """The turning points of a range; of other values how many come to what."""
    if told.what_if:
        yield what_if_words(told.what_if)
    if told.stopped:
        yield "Stopped before its end: this is only what had been judged by then."
    axis = told.axes[0]
    if told.segments:
        yield _turning(told, axis)
        if _open_turn(told):
            yield "Where a turn is told by two values, more lies between them that was not judged."
        if (looked := _looked(told, axis)) is not None:
            yield looked
    else:
        yield _counts(told)
        if any(axis.unit and not axis.series for axis in told.axes):
            yield "Between these values nothing was judged."
    if (own := own_words(told)) is not None:
        yield own


def _looked(told: Variation, axis: Axis) -> str | None:
    """How closely it was looked, and how exact the turns are."""
    if told.gap is None:
        return None
    if told.gap == 0.0:
        return "Every value of it was judged." if axis.series or not axis.unit else None
    exact = "" if axis.series or not axis.unit or _open_turn(told) else ", and each turn to three digits"
    if axis.series or not axis.unit or not axis.by_ratio:
        apart = f"{told.gap:.3g}{f' {axis.unit}' if axis.unit else ''}"
    else:
        apart = f"{(told.gap - 1.0) * 100.0:.2g} %"
    return f"Judged at least every {apart}{exact}; what comes and goes within less is not seen."


def _open_turn(told: Variation) -> bool:
    """Whether some turn of the verdict was not followed up to the end."""
    return any(not turn.close and turn_counts(told, turn.below) for turn in told.turns)


def turn_counts(told: Variation, below: int) -> bool:
    """Whether the verdict turns above a point."""
    return told.points[below].verdict != told.points[below + 1].verdict


def _turning(told: Variation, axis: Axis) -> str:
    if len(told.segments) == 1:
        only = told.segments[0].verdict
        return f"From one end to the other {_IS[only]}{_reason(told.points[0])}."
    close = {turn.above: turn.close for turn in told.turns}
    said = []
    for number, segment in enumerate(told.segments):
        first, last = value_words(axis, segment.first), value_words(axis, segment.last)
        if number == 0:
            words = f"up to {last}"
        else:
            up = " up" if number == len(told.segments) - 1 else ""
            below = (
                ""
                if close.get(segment.first, True)
                else f", or from a value above {value_words(axis, segment.first - 1)},"
            )
            words = f"from {first}{up}{below}"
        # what is nearest to the turn is what is in the way
        point = told.points[segment.last if number < len(told.segments) - 1 else segment.first]
        said.append(f"{words} {_IS[segment.verdict]}{_reason(point)}")
    whole = "; ".join(said)
    return whole[0].upper() + whole[1:] + "."


def _reason(point: Point) -> str:
    if point.verdict == "incomplete":
        return f" ({counted(point.vital, 'vital thing')} not known)"
    if point.verdict == "clear" or not point.findings:
        return ""
    first = point.findings[0]
    return f" ({safe(first.says, 200)})" if point.verdict == "unreadable" else f" ({safe(first.id, 100)})"


def _counts(told: Variation) -> str:
    verdicts = [point.verdict for point in told.points]
    said = [f"{verdicts.count(one)} {_NAMES.get(one, one)}" for one in LETTERS if one in verdicts]
    clear = [
        value_words(told.axes[0], point.at[0])
        for point in told.points
        if point.verdict == "clear" and len(told.axes) == 1
    ]
    named = (
        f"; clear: {', '.join(clear[:8])}{' and more' if len(clear) > 8 else ''}"
        if 0 < len(clear) < len(verdicts)
        else ""
    )
    return f"Of {counted(len(verdicts), 'judgement')}: {', '.join(said)}{named}."


def own_words(told: Variation) -> str | None:
    """What the file's own values come to, where they were judged."""
    said = [f"{safe(axis.key, 100)} = {safe(axis.was, 60)}" for axis in told.axes if axis.was is not None]
    place = own_place(told)
    if not said:
        return None
    verdict = next((point.verdict for point in told.points if point.at == place), None)
    return f"The file has {', '.join(said)}{'' if verdict is None else f': {_IS[verdict]}'}."


def own_place(told: Variation) -> tuple[int | None, ...]:
    """Which value of each axis is the file's."""
    return tuple(axis.own for axis in told.axes)


def turns(told: Variation) -> Iterator[str]:
    """What comes and goes at each turn, the first ones."""
    axis = told.axes[0]
    listed = [turn for turn in told.turns if turn.new or turn.gone or turn.other]
    for turn in listed[:_TURNS]:
        said = [
            f"{what} {', '.join(safe(name, 100) for name in names)}"
            for what, names in (("new:", turn.new), ("gone:", turn.gone), ("another weight:", turn.other))
            if names
        ]
        at = value_words(axis, turn.above)
        at = f"From {at} up" if turn.close else f"Between {value_words(axis, turn.below)} and {at}"
        yield f"{at}: {'; '.join(said)}."
    if len(listed) > _TURNS:
        yield f"{counted(len(listed) - _TURNS, 'turn')} more; --format json lists them."


def rows(told: Variation) -> Iterator[tuple[str, Point]]:
    """The rows of the table: each value of a list; of a range its ends, the file's own, and both sides of each turn."""
    axis = told.axes[0]
    if told.segments and len(told.points) > _ALL:
        # where a note comes or goes is told in a sentence
        weighty = [turn for turn in told.turns if _weighty(told, turn.below) != _weighty(told, turn.above)]
        if len(weighty) > _TURNS:
            weighty = [turn for turn in told.turns if turn_counts(told, turn.below)]
        turned = {at for turn in weighty for at in (turn.below, turn.above)}
        kept = {0, len(told.points) - 1, *turned}
    else:
        kept = set(range(len(told.points)))
    if axis.own is not None:
        kept.add(axis.own)
    for index in sorted(kept):
        own = ", as in the file" if index == axis.own else ""
        yield f"{value_words(axis, index)}{own}", told.points[index]


def _weighty(told: Variation, index: int) -> tuple[object, ...]:
    point = told.points[index]
    return point.verdict, tuple(
        sorted((one.id, one.severity) for one in point.findings if one.severity != "note")
    )


def first_words(point: Point) -> str:
    """What is in the way at a point, and how much more there is: the first finding; where it is incomplete, what is not known."""
    if point.verdict == "incomplete":
        things = f"{counted(point.vital, 'vital thing')} not known"
        if (asks := point.asks) is None:
            return things
        return (
            f"{things}. {question_words(OpenQuestion((asks.subject,), asks.what, asks.missing, asks.vital))}"
        )
    if not point.findings:
        return ""
    more = len(point.findings) - 1
    return safe(point.findings[0].says) + (f" ({more} more)" if more else "")


def margin_words(told: Variation) -> str:
    """What the curve shows."""
    return f"How much of its limit {safe(told.margin, 60)} uses up ({safe(told.margin_line, 100)}); at 100 % it is at the limit"


def used_words(point: Point) -> str:
    """The share of the limit that is used up."""
    if point.used is None:
        return ""
    return show(point.used, "share") if point.used <= _BEYOND else f"> {show(_BEYOND, 'share')}"


def legend(told: Variation) -> str:
    """What the letters of the verdicts mean, those that are there."""
    there = {point.verdict for point in told.points}
    return ", ".join(f"{sign} {_NAMES.get(one, one)}" for one, sign in LETTERS.items() if one in there)


def firsts(told: Variation) -> Iterator[str]:
    """Of a map the first pair of each verdict that something is in the way of, and what that is; the heaviest verdict first."""
    for verdict in ("stop", "incomplete", "unreadable", "caution"):
        point = next((point for point in told.points if point.verdict == verdict), None)
        if point is not None:
            at = ", ".join(value_words(axis, at) for axis, at in zip(told.axes, point.at, strict=True))
            name = "No build" if verdict == "unreadable" else f"First {verdict}"
            yield f"{name}, at {at}: {first_words(point)}"


def places_of(axis: Axis) -> list[float]:
    """Where each value lies between the first, at 0, and the last, at 1."""
    if not axis.numbers:
        return [index / max(len(axis.values) - 1, 1) for index in range(len(axis.values))]
    scale = [log(number) for number in axis.numbers] if axis.by_ratio else list(axis.numbers)
    return [(one - scale[0]) / (scale[-1] - scale[0]) for one in scale]


def top_used(told: Variation) -> float:
    """How high a curve of the margin is drawn, as a share of the limit: what is more than twice the limit leaves it."""
    return max(1.2, min(max(point.used or 0.0 for point in told.points), _TWICE) * 1.05)
