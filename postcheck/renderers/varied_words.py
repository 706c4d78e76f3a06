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


def place_words(variation: Variation, point: Point) -> str:
    """The values at which a point was judged."""
    return ", ".join(value_words(axis, at) for axis, at in zip(variation.axes, point.at, strict=True))


def heading(variation: Variation) -> str:
    """Which keys were varied, and how far."""
    return "; ".join(map(_span, variation.axes)) + "."


def _span(axis: Axis) -> str:
    key = safe(axis.key, 200)
    if not axis.numbers:
        return f"{key}: {counted(len(axis.values), 'value')}"
    series = f" in values of {axis.series}" if axis.series else ""
    return f"{key} from {value_words(axis, 0)} to {value_words(axis, len(axis.values) - 1)}{series}"


def source(variation: Variation) -> str:
    """Which build it is."""
    file = safe(variation.file, 4096)
    name = f"{safe(variation.name, 80)} ({file})" if variation.name.strip() else file
    stage = f"for {variation.stage}, " if variation.stage else ""
    return f"{name}; judged {stage or 'at '}{counted(len(variation.points), 'value' if len(variation.axes) == 1 else 'pair')}"


def sentences(variation: Variation) -> Iterator[str]:
    """The turning points of a range; of other values how many come to what."""
    if variation.what_if:
        yield what_if_words(variation.what_if)
    if variation.stopped:
        yield "Stopped before its end: this is only what had been judged by then."
    axis = variation.axes[0]
    if variation.segments:
        yield _turning(variation, axis)
        if _open_turn(variation):
            yield "Where a turn is told by two values, more lies between them that was not judged."
        if (looked := _looked(variation, axis)) is not None:
            yield looked
    else:
        yield _counts(variation)
        if any(axis.unit and not axis.series for axis in variation.axes):
            yield "Between these values nothing was judged."
    if (own := own_words(variation)) is not None:
        yield own


def _looked(variation: Variation, axis: Axis) -> str | None:
    """How closely it was looked, and how exact the turns are."""
    if variation.gap is None:
        return None
    if variation.gap == 0.0:
        return "Every value of it was judged." if axis.series or not axis.unit else None
    exact = "" if axis.series or not axis.unit or _open_turn(variation) else ", and each turn to three digits"
    if axis.series or not axis.unit or not axis.by_ratio:
        apart = f"{variation.gap:.3g}{f' {axis.unit}' if axis.unit else ''}"
    else:
        apart = f"{(variation.gap - 1.0) * 100.0:.2g} %"
    return f"Judged at least every {apart}{exact}; what comes and goes within less is not seen."


def _open_turn(variation: Variation) -> bool:
    """Whether some turn of the verdict was not followed up to the end."""
    return any(not turn.close and turn_counts(variation, turn.below) for turn in variation.turns)


def turn_counts(variation: Variation, below: int) -> bool:
    """Whether the verdict turns above a point."""
    return variation.points[below].verdict != variation.points[below + 1].verdict


def _turning(variation: Variation, axis: Axis) -> str:
    if len(variation.segments) == 1:
        only = variation.segments[0].verdict
        return f"From one end to the other {_IS[only]}{_reason(variation.points[0])}."
    close = {turn.above: turn.close for turn in variation.turns}
    said = []
    for number, segment in enumerate(variation.segments):
        first, last = value_words(axis, segment.first), value_words(axis, segment.last)
        if number == 0:
            words = f"up to {last}"
        else:
            up = " up" if number == len(variation.segments) - 1 else ""
            below = (
                ""
                if close.get(segment.first, True)
                else f", or from a value above {value_words(axis, segment.first - 1)},"
            )
            words = f"from {first}{up}{below}"
        # what is nearest to the turn is what is in the way
        point = variation.points[segment.last if number < len(variation.segments) - 1 else segment.first]
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


def _counts(variation: Variation) -> str:
    verdicts = [point.verdict for point in variation.points]
    said = [f"{verdicts.count(one)} {_NAMES.get(one, one)}" for one in LETTERS if one in verdicts]
    clear = [
        value_words(variation.axes[0], point.at[0])
        for point in variation.points
        if point.verdict == "clear" and len(variation.axes) == 1
    ]
    named = (
        f"; clear: {', '.join(clear[:8])}{' and more' if len(clear) > 8 else ''}"
        if 0 < len(clear) < len(verdicts)
        else ""
    )
    return f"Of {counted(len(verdicts), 'judgement')}: {', '.join(said)}{named}."


def own_words(variation: Variation) -> str | None:
    """What the file's own values come to, where they were judged."""
    said = [
        f"{safe(axis.key, 100)} = {safe(axis.was, 60)}" for axis in variation.axes if axis.was is not None
    ]
    place = own_place(variation)
    if not said:
        return None
    verdict = next((point.verdict for point in variation.points if point.at == place), None)
    return f"The file has {', '.join(said)}{'' if verdict is None else f': {_IS[verdict]}'}."


def own_place(variation: Variation) -> tuple[int | None, ...]:
    """Which value of each axis is the file's."""
    return tuple(axis.own for axis in variation.axes)


def turns(variation: Variation) -> Iterator[str]:
    """What comes and goes at each turn, the first ones."""
    axis = variation.axes[0]
    listed = [turn for turn in variation.turns if turn.new or turn.gone or turn.other]
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


def rows(variation: Variation) -> Iterator[tuple[str, Point]]:
    """The rows of the table: each value of a list; of a range its ends, the file's own, and both sides of each turn."""
    axis = variation.axes[0]
    if variation.segments and len(variation.points) > _ALL:
        # where a note comes or goes is told in a sentence
        weighty = [
            turn
            for turn in variation.turns
            if _weighty(variation, turn.below) != _weighty(variation, turn.above)
        ]
        if len(weighty) > _TURNS:
            weighty = [turn for turn in variation.turns if turn_counts(variation, turn.below)]
        turned = {at for turn in weighty for at in (turn.below, turn.above)}
        kept = {0, len(variation.points) - 1, *turned}
    else:
        kept = set(range(len(variation.points)))
    if axis.own is not None:
        kept.add(axis.own)
    for index in sorted(kept):
        own = ", as in the file" if index == axis.own else ""
        yield f"{value_words(axis, index)}{own}", variation.points[index]


def _weighty(variation: Variation, index: int) -> tuple[object, ...]:
    point = variation.points[index]
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


def margin_words(variation: Variation) -> str:
    """What the curve shows."""
    return f"How much of its limit {safe(variation.margin, 60)} uses up ({safe(variation.margin_line, 100)}); at 100 % it is at the limit"


def used_words(point: Point) -> str:
    """The share of the limit that is used up."""
    if point.used is None:
        return ""
    return show(point.used, "share") if point.used <= _BEYOND else f"> {show(_BEYOND, 'share')}"


def legend(variation: Variation) -> str:
    """What the letters of the verdicts mean, those that are there."""
    there = {point.verdict for point in variation.points}
    return ", ".join(f"{sign} {_NAMES.get(one, one)}" for one, sign in LETTERS.items() if one in there)


def firsts(variation: Variation) -> Iterator[str]:
    """Of a map the first pair of each verdict that something is in the way of, and what that is; the heaviest verdict first."""
    for verdict in ("stop", "incomplete", "unreadable", "caution"):
        point = next((point for point in variation.points if point.verdict == verdict), None)
        if point is not None:
            name = "No build" if verdict == "unreadable" else f"First {verdict}"
            yield f"{name}, at {place_words(variation, point)}: {first_words(point)}"


def places_of(axis: Axis) -> list[float]:
    """Where each value lies between the first, at 0, and the last, at 1."""
    if not axis.numbers:
        return [index / max(len(axis.values) - 1, 1) for index in range(len(axis.values))]
    scale = [log(number) for number in axis.numbers] if axis.by_ratio else list(axis.numbers)
    return [(one - scale[0]) / (scale[-1] - scale[0]) for one in scale]


def top_used(variation: Variation) -> float:
    """How high a curve of the margin is drawn, as a share of the limit: what is more than twice the limit leaves it."""
    return max(1.2, min(max(point.used or 0.0 for point in variation.points), _TWICE) * 1.05)
