"""The fine wires of lamps, strips and loads, one by one, and where conductors lie."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from postcheck.description.models import Build
from postcheck.description.naming import passages_of
from postcheck.wiring.parts import LegPart, LoadPart, Parts, Path, StripPart

__all__ = ["legs_of", "lies", "through_by_name"]


def through_by_name(build: Build) -> dict[str, list[str]]:
    """The passages that list a lead, lamp or run by its name."""
    named: dict[str, list[str]] = {}
    for name, passage in passages_of(build).items():
        for other in passage.through:
            named.setdefault(other, []).append(name)
    return named


def legs_of(parts: Parts) -> Iterator[tuple[str, str, Path, str, str, LegPart]]:
    """All fine wires of lamps, strips and loads: part, its entry's name, path, leg, the place it starts at, the leg.

    The back leg that the colours of a lamp share is given once. A link of a chain goes from lamp to lamp.
    """
    shared: set[str] = set()
    for lamp in parts.lamps:
        path = lamp.path[:2]
        yield from [(lamp.name, lamp.entry, path, "feed", lamp.places[0], lamp.feed)] * lamp.feeds
        if lamp.shares_back is None or lamp.shares_back not in shared:
            yield from [(lamp.name, lamp.entry, path, "back", lamp.places[-1], lamp.back)] * lamp.backs
        if lamp.shares_back is not None:
            if lamp.shares_back in shared:
                continue
            shared.add(lamp.shares_back)
        for number, link in enumerate(lamp.links):
            ends = lamp.places[number : number + 2]
            if len(ends) == 2:
                yield (
                    lamp.name,
                    lamp.entry,
                    path,
                    "link",
                    ends[0],
                    LegPart(link.length, link.wire, ends[1], link.colour),
                )
    others: tuple[StripPart | LoadPart, ...] = (*parts.strips, *parts.loads)
    for part in others:
        yield part.name, part.name, part.path, "feed", part.place, part.feed
        yield part.name, part.name, part.path, "back", part.place, part.back


def lies(
    ends: Iterable[str], length: float, through: Iterable[str], long: Mapping[str, float]
) -> dict[str, float]:
    """How much of a conductor lies in each place, as shares of its length (m).

    What lies in a passage lies in no place: as much of it as the passages are `long`, m by name. Half of the rest lies at
    each of its ends; which way slack is laid nobody knows.
    """
    inside = min(sum(long[name] for name in through), length)
    share = 1.0 - inside / length if length > 0.0 else 1.0
    ends = tuple(ends)
    found: dict[str, float] = {}
    for end in ends:
        found[end] = found.get(end, 0.0) + share / len(ends)
    return found
