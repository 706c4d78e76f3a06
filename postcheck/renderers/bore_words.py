"""A bore in words: what the pictures say beside them, and the whole of it where nothing can be drawn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import atan2, hypot, pi

from postcheck.colours import letters
from postcheck.pictured import BoreCircle, BorePicture
from postcheck.renderers.figures import show
from postcheck.renderers.words import counted, safe, what_if_words

_LEGS = {"supply": "supply leg of", "return": "return leg of", "link": "link of"}
_NAME = 60
_COLOUR = 24


def render(pictures: Sequence[BorePicture]) -> str:
    """The bores in words, a line for each thing in them with its place by the clock."""
    return "\n\n".join("\n".join(_one(picture)) for picture in pictures) + "\n"


def _one(picture: BorePicture) -> Iterator[str]:
    yield f"{heading(picture)} {source(picture)}"
    if picture.what_if:
        yield what_if_words(picture.what_if)
    yield from facts(picture)
    if not picture.circles:
        return
    rows = [
        (
            str(circle.number),
            colour_words(circle),
            across(circle),
            where(circle, picture),
            what(circle),
        )
        for circle in picture.circles
    ]
    table = [("No", "Colour", "Across", "Where", "What"), *rows]
    wide = [max(len(row[column]) for row in table) for column in range(4)]
    for row in table:
        yield "  ".join([row[0].rjust(wide[0]), *(row[n].ljust(wide[n]) for n in (1, 2, 3)), row[4]])


def title(picture: BorePicture) -> str:
    """`Post`, or the passage by its name."""
    return "Post" if picture.passage == "post" else f"Passage '{safe(picture.passage, _NAME)}'"


def heading(picture: BorePicture) -> str:
    """The bore and the verdict in one sentence."""
    bore = f"{title(picture)}, {show(picture.bore, 'm')} bore:"
    if not picture.circles:
        return f"{bore} nothing lies in it." if not picture.unknown else f"{bore} not judged."
    things = counted(len(picture.circles), "conductor")
    if picture.verdict == "fits" and picture.unknown:
        return f"{bore} {things} drawn, not all is known."
    if picture.verdict == "fits":
        one, worst = len(picture.circles) == 1, worst_open(picture)
        if worst:
            return f"{bore} {things} {'fits as it lies' if one else 'fit as they lie'}, but the check {_SAYS[worst]}."
        return f"{bore} {things}, {'it fits' if one else 'all fit'}."
    if picture.verdict == "cannot fit":
        return f"{bore} {things} {'does not go in' if len(picture.circles) == 1 else 'cannot fit, however they are laid'}."
    return f"{bore} no way was found to lay the {things} in it."


_SAYS = {"stop": "says stop", "caution": "has a caution"}


def worst_open(picture: BorePicture) -> str:
    """Stop or caution, whichever is the worst that the check found in the passage and nobody waived; else nothing."""
    found = {finding.severity for finding in picture.findings if finding.accepted is None}
    return next((severity for severity in ("stop", "caution") if severity in found), "")


def judged(picture: BorePicture) -> Iterator[str]:
    """What the check says of the passage: plugs, joints, threading, turning; the same sentences."""
    for finding in picture.findings:
        waived = f", waived ({safe(finding.accepted, 200)})" if finding.accepted is not None else ""
        yield f"{finding.severity.capitalize()}{waived}: {safe(finding.says, 600)}"
    for question in picture.not_judged:
        yield f"Not judged: '{safe(question.subject, _NAME)}', {safe(question.what, 300)}; missing: {safe(question.missing, 300)}."


def source(picture: BorePicture) -> str:
    """The build's name and file."""
    file = safe(picture.file, 4096)
    return f"{safe(picture.build, 80)} ({file})" if picture.build.strip() else file


def facts(picture: BorePicture) -> Iterator[str]:
    """What there is to know beside the drawing, a sentence each; what the check says comes first."""
    yield from judged(picture)
    if picture.circles:
        yield (
            f"Fill: {show(picture.fill, 'share')} of the bore's area; "
            f"the handbook limit is {show(picture.fill_limit, 'share')}."
        )
        yield f"Slimmest bundle found: {show(picture.smallest_bore, 'm')} across."
    if picture.unknown:
        names = ", ".join(f"'{safe(name, _NAME)}'" for name in picture.unknown)
        yield f"Not drawn, for the wire is not known: {names}. So what would still fit is not known either."
    elif picture.verdict != "fits":
        yield f"Drawn is that bundle; the dashed circle is the bore of {show(picture.bore, 'm')}."
    elif picture.spare:
        yield _room(picture.spare, picture.spare_easy or 0.0, alone=not picture.circles)
    elif picture.spare is not None:
        yield "No further wire was found to fit."


def _room(spare: float, easy: float, *, alone: bool) -> str:
    fits = f"A wire of up to {show(spare, 'm')} would fit"
    if not alone:
        fits = f"A further wire of up to {show(spare, 'm')} would still fit"
    if easy <= 0.0:
        return f"{fits}, but would leave less room to pull, or more fill, than is usual."
    if easy < spare:
        return f"{fits}; up to {show(easy, 'm')} with the usual room to pull and within the fill limit."
    return f"{fits}, with the usual room to pull and within the fill limit."


def what(circle: BoreCircle, most: int = _NAME) -> str:
    """What a circle is: its name, its part in a lead, its wire, what a cable holds."""
    name = f"'{safe(circle.name, most)}'"
    if circle.kind == "cable":
        name = f"{'flat ' if circle.flat is not None else ''}cable {name}"
        held = ", ".join(f"'{safe(each, most)}'" for each in circle.holds)
        return name + (f" with {held} in it" if held else "")
    said = f"{_LEGS.get(circle.leg, 'lead of')} {name}" if circle.kind == "lead" else name
    return f"{said}, {safe(circle.wire, _NAME)}" if circle.wire else said


def across(circle: BoreCircle) -> str:
    """Its diameter; width and thickness of a flat cable."""
    if circle.flat is None:
        return show(circle.diameter, "m")
    return " x ".join(show(length, "m") for length in sorted(circle.flat, reverse=True))


def colour_words(circle: BoreCircle) -> str:
    """Letters and words of its colour: `RD red`; the words alone where no letters are theirs; "" for a plain cable."""
    if not circle.colour:
        return "" if circle.kind == "cable" else "colour not said"
    return f"{letters(circle.colour)} {safe(circle.colour, _COLOUR)}".strip()


def where(circle: BoreCircle, picture: BorePicture) -> str:
    """Its place as on a clock face: `0.36 mm off at 3 o'clock`."""
    off = hypot(circle.x, circle.y)
    if off < 0.01 * max(picture.bore, picture.smallest_bore):
        return "in the middle"
    hour = round((pi / 2.0 - atan2(circle.y, circle.x)) / (pi / 6.0)) % 12 or 12
    return f"{show(float(f'{off:.2g}'), 'm')} off at {hour} o'clock"


def scale_length(span: float) -> float:
    """The longest of 1, 2, 5, 10 and so on that is no more than a quarter of the span, m."""
    most, length = span / 4.0, 1e-6
    for step in (2.0, 2.5, 2.0) * 8:
        if length * step > most * (1.0 + 1e-9):
            break
        length *= step
    return length
