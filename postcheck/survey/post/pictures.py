"""A passage as it is drawn: every circle with its number, and how wide a further wire could be."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor, sqrt

from postcheck.limits import Limits
from postcheck.physics import bundle
from postcheck.pictured import BoreCircle, BorePicture
from postcheck.survey.post.bores import is_pushed, most_fill, room_wanted
from postcheck.survey.post.figures import Member, PassageFigures
from postcheck.wiring import Wiring

# A further wire is sought in hundredths of a millimetre: finer than wires are made.
_STEPS = 100_000  # in a metre
# Arrangements tried at most while it is sought, by the number of wires up to which: each halves what is left between
# "fits" and "cannot", and one that is not found costs the whole of the packer's work, if only that of its light effort.
_TRIES = {40: 6, 80: 5, 160: 4}
_FEWEST = 3
_CLOSE = 0.02  # relative; no need to know it more closely


def bore_picture(wiring: Wiring, figures: PassageFigures, limits: Limits) -> BorePicture:
    """A passage with what lies in it, in the smallest circle that was found."""
    spare, easy = _spares(figures, limits)
    return BorePicture(
        build=wiring.build.build.name,
        file=wiring.build.file,
        passage=figures.name,
        bore=figures.passage.bore,
        verdict=figures.verdict,
        smallest_bore=figures.smallest_bore,
        fill=figures.fill,
        fill_limit=figures.fill_limit,
        circles=tuple(
            BoreCircle(
                number=number,
                name=member.name,
                kind=member.kind,
                diameter=member.diameter,
                x=x,
                y=y,
                leg=member.leg,
                wire=member.wire.name if member.wire is not None and member.kind != "cable" else "",
                colour=(member.colour or "").strip(),
                holds=tuple(_in_cable(wiring, figures.name, member)),
                flat=(member.flat[1], member.flat[0])
                if member.flat is not None and figures.upright
                else member.flat,
            )
            for number, (member, (x, y)) in enumerate(
                zip(figures.members, figures.centres, strict=True), start=1
            )
        ),
        spare=spare,
        spare_easy=easy,
        unknown=figures.unknown,
    )


def _in_cable(wiring: Wiring, passage: str, member: Member) -> Iterator[str]:
    if member.kind != "cable":
        return
    for run in wiring.parts.runs:
        if run.cable == member.name and passage in run.through:
            yield run.name


def _spares(figures: PassageFigures, limits: Limits) -> tuple[float | None, float | None]:
    """The widest further wire (m) that still goes in, and the widest with the usual room and fill; 0 for none.

    None where something of unknown size goes through as well, and beside flat cables.
    """
    if figures.unknown:
        return None, None
    if figures.verdict != bundle.FITS:
        return 0.0, 0.0
    if any(member.flat for member in figures.members):
        return None, None
    bore, smallest = figures.passage.bore, figures.smallest_bore
    wires = [member.diameter for member in figures.members]
    most = _spare(wires, smallest, bore)
    room = room_wanted(len(wires) + 1, limits).value
    pushed = is_pushed(figures.passage, figures.counted + 1, limits)
    fraction = 1.0 if pushed else most_fill(figures.counted + 1, limits).value
    left = fraction * bore * bore - sum(d * d for d in wires)
    easy = min(most, _whole_steps(sqrt(max(0.0, left))) / _STEPS)
    if easy > 0.0 and bundle.pack([*wires, easy], bore / room, bundle.LIGHT).verdict != bundle.FITS:
        easy = min(easy, _spare(wires, smallest, bore / room))
    return most, easy


def _spare(wires: list[float], smallest: float, bore: float) -> float:
    """The widest circle (m, in whole steps) that `pack` still lays into the bore with the others.

    Sought by halving between two sure things: beside the bundle as it lies there is room for bore - bundle, and no
    arrangement beats `smallest_possible`.
    """
    low = max(0, _whole_steps(bore - smallest))
    high = _whole_steps(bore) + 1
    sure = low
    while high - sure > 1:
        middle = (sure + high) // 2
        if bundle.smallest_possible([*wires, middle / _STEPS]) <= bore * (1.0 + 1e-9):
            sure = middle
        else:
            high = middle
    for _ in range(next((tries for most, tries in _TRIES.items() if len(wires) <= most), _FEWEST)):
        if high - low <= max(1.0, _CLOSE * high):
            break
        middle = (low + high) // 2
        if bundle.pack([*wires, middle / _STEPS], bore, bundle.LIGHT).verdict == bundle.FITS:
            low = middle
        else:
            high = middle
    return low / _STEPS


def _whole_steps(length: float) -> int:
    return floor(length * _STEPS + 1e-6)
