"""A flat pack, as of wires soldered side by side, in a round bore: what finds room beside it.

The pack is a rectangle of `across` by `thin` with its long faces level; all lengths in one unit.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot, pi, sqrt
from typing import NamedTuple

from postcheck.physics import bundle, given

__all__ = ["Laid", "free_circle", "goes_past", "laid"]

_HAIR = 1e-9
# Heights of the pack in the bore that are tried.
_HEIGHTS = 16
# Ways of sharing the wires that are packed, after those in rows.
_HEAPS = 3


def free_circle(across: float, thin: float, bore: float) -> float:
    """Diameter of the largest circle beside the pack when it is pushed to one side; below 0: it does not go in.

    Its outer corners touch the bore at sqrt(R2 - w2/4) from the middle, its inner face lies a thickness nearer; what is
    left across is R + sqrt(R2 - w2/4) - t. It may lie on its edge instead: the better of the two.
    """
    given.above(across=across, thin=thin, bore=bore)
    radius = bore / 2.0
    if hypot(across, thin) > bore * (1.0 + _HAIR):
        return -1.0
    return max(radius + _reach(width, radius) - height for width, height in ((across, thin), (thin, across)))


class Laid(NamedTuple):
    """An arrangement: the pack `width` by `height`, its upper face `upper` above the middle, and (diameter, x, y) a wire."""

    width: float
    height: float
    upper: float
    wires: tuple[tuple[float, float, float], ...]


def goes_past(across: float, thin: float, beside: Sequence[float], bore: float) -> bundle.Verdict:
    """Whether the pack and these wires lie in the bore together, as a verdict of `bundle`.

    It cannot where one wire is thicker than the largest circle beside it, or the areas are more than the bore's. It fits
    where `laid` finds a way, or the wires fit beside the circle round it.
    """
    given.above(across=across, thin=thin, bore=bore)
    given.each_above("wires beside it", beside)
    if cannot_pass(across, thin, beside, bore):
        return bundle.CANNOT
    if not beside or laid(across, thin, beside, bore) is not None:
        return bundle.FITS
    if bundle.goes_in([*beside, hypot(across, thin)], bore) == bundle.FITS:
        return bundle.FITS
    return bundle.NOT_FOUND


def cannot_pass(across: float, thin: float, beside: Sequence[float], bore: float) -> bool:
    """Whether it is proven that pack and wires do not lie in the bore together: see `goes_past`."""
    free = free_circle(across, thin, bore)
    area = 4.0 / pi * across * thin + sum(d * d for d in beside)
    return (
        free < 0.0
        or (bool(beside) and max(beside) > free * (1.0 + _HAIR))
        or (bool(beside) and area > bore * bore * (1.0 + _HAIR))
    )


def laid(across: float, thin: float, beside: Sequence[float], bore: float) -> Laid | None:
    """A way to lay wires on the two sides of the pack: in a row along each face, else heaped; None if none was found."""
    given.above(across=across, thin=thin, bore=bore)
    given.each_above("wires beside it", beside)
    wires = sorted(beside, reverse=True)
    if hypot(across, thin) > bore * (1.0 + _HAIR):
        return None
    for width, height in ((across, thin), (thin, across)):
        found = _in_rows(width, height, wires, bore)
        if found is not None:
            return found
    for width, height in ((across, thin), (thin, across)):
        found = _in_heaps(width, height, wires, bore)
        if found is not None:
            return found
    return None


def _in_rows(width: float, height: float, wires: Sequence[float], bore: float) -> Laid | None:
    radius = bore / 2.0
    reach = _reach(width, radius)
    for step in range(_HEIGHTS + 1):
        # the upper face, from as low as it goes to as high
        upper = height - reach + (2.0 * reach - height) * step / _HEIGHTS
        for above, below in _shared(wires):
            over = _row(above, upper, radius)
            under = None if over is None else _row(below, height - upper, radius)
            if over is not None and under is not None:
                return Laid(width, height, upper, (*over, *((d, x, -y) for d, x, y in under)))
    return None


def _in_heaps(width: float, height: float, wires: Sequence[float], bore: float) -> Laid | None:
    radius = bore / 2.0
    least = radius - _reach(width, radius)
    tried = 0
    for above, below in _shared(wires):
        bounds = [max(least, bundle.smallest_possible(side)) for side in (above, below)]
        if sum(bounds) > (bore - height) * (1.0 + _HAIR) or tried == _HEAPS:
            continue
        tried += 1
        few, many = sorted((above, below), key=len)
        one = bundle.pack(few)
        room = bore - height - max(least, one.diameter)
        other = bundle.laid_in(many, room) if room > 0.0 else None
        if other is None or max(least, other.diameter) > room:
            continue
        over, under = (one, other) if few is above else (other, one)
        up = max(least, over.diameter)
        upper = radius - up
        middle, low = radius - over.diameter / 2.0, -radius + under.diameter / 2.0
        heaps = [(d, x, y + middle) for d, (x, y) in zip(above, over.centres, strict=True)]
        heaps += [(d, x, y + low) for d, (x, y) in zip(below, under.centres, strict=True)]
        return Laid(width, height, upper, tuple(heaps))
    return None


def _reach(width: float, radius: float) -> float:
    """How far from the middle a face of this width may lie."""
    return sqrt(max(0.0, radius * radius - width * width / 4.0))


def _shared(wires: Sequence[float]) -> Iterator[tuple[Sequence[float], Sequence[float]]]:
    """Ways of sharing wires between the two sides: thick ones apart from thin ones, and by turns."""
    for count in range(len(wires) + 1):
        yield wires[:count], wires[count:]
    yield wires[::2], wires[1::2]


def _row(wires: Sequence[float], face: float, radius: float) -> list[tuple[float, float, float]] | None:
    """Wires in one row on the face, the thick ones in the middle.

    Two circles on one line are sqrt(d1 d2) apart where they touch; a circle on the face touches the wall at
    sqrt((R - d/2)2 - (face + d/2)2) to each side.
    """
    placed: list[tuple[float, float, float]] = []
    for d in (*sorted(wires[1::2]), *wires[::2]):
        square = (radius - d / 2.0) ** 2 - (face + d / 2.0) ** 2
        if square < 0.0:
            return None
        wall = sqrt(square)
        x = max([-wall, *(at + sqrt(d * other) for other, at, _ in placed)])
        if x > wall:
            return None
        placed.append((d, x, face + d / 2.0))
    return placed
