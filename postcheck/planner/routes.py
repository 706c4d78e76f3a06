"""How conductors get from place to place: passages and ways, the shortest path, where a joint can be made."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from heapq import heappop, heappush
from typing import NamedTuple

from postcheck.description.models import Build
from postcheck.description.naming import passages_between, passages_of
from postcheck.wiring.through import through_passage


class Stretch(NamedTuple):
    """From one place to the next: how long a conductor is for it (m), and the passages that it goes through.

    `plug`: the one that joins the two places by itself; no conductor is laid there.
    """

    start: str
    end: str
    length: float
    through: tuple[str, ...]
    plug: str = ""

    def turned(self) -> Stretch:
        """The same, seen from its other end."""
        return self._replace(start=self.end, end=self.start)


class Routes:
    """The passages and ways of a build, as a graph of its places. `laid`: what is known from a wiring that gives way."""

    def __init__(self, build: Build, laid: Iterable[Stretch] = ()) -> None:
        self.build: Build = build
        self.at: dict[str, list[Stretch]] = {name: [] for name in build.place}
        for stretch in _stretches(build, laid):
            self.at[stretch.start].append(stretch)
            self.at[stretch.end].append(stretch.turned())

    def reachable(self, place: str) -> bool:
        """Whether a hand gets at a joint there once the model is finished."""
        return self.build.place[place].access != "sealed"

    def path(self, start: str, end: str) -> tuple[Stretch, ...] | None:
        """The shortest path, None where nothing leads there."""
        return self.paths(start).get(end)

    def paths(self, start: str) -> dict[str, tuple[Stretch, ...]]:
        """The shortest path from a place to each that can be got to, nearest first."""
        found: dict[str, tuple[Stretch, ...]] = {}
        queue: list[tuple[float, int, str, tuple[Stretch, ...]]] = [(0.0, 0, start, ())]
        count = 0
        while queue:
            far, _, place, path = heappop(queue)
            if place in found:
                continue
            found[place] = path
            for stretch in self.at[place]:
                if stretch.end not in found:
                    count += 1
                    heappush(queue, (far + stretch.length, count, stretch.end, (*path, stretch)))
        return found

    def joint(self, place: str) -> tuple[str, tuple[Stretch, ...]] | None:
        """The nearest place where the lead of something at `place` can be joined in reach, and the path to it."""
        return next(((end, path) for end, path in self.paths(place).items() if self.reachable(end)), None)

    def side_of(self, place: str, home: str) -> str:
        """Where a way from `place`, to which nothing leads yet, is asked to: on the model's side of the post, as seen from `home`.

        The nearest place beyond a passage where a hand gets at a joint, or else from which there is a way to one;
        without a passage `home` itself.
        """
        from_home = self.paths(home) if home in self.at else {}
        beyond = [end for end, path in from_home.items() if end != place and any(one.through for one in path)]
        elsewhere = [end for end in (home, *self.at) if end != place and end in self.at]
        jointed = [end for end in (*beyond, *elsewhere) if self.joint(end) is not None]
        return next(filter(self.reachable, beyond), (*jointed, *elsewhere, "hub")[0])

    def laid(self, start: str, ends: Iterable[str]) -> tuple[Stretch, ...]:
        """What has to be laid for a line from `start` to all of `ends`: pieces from one place where it is joined to the next.

        Joints are made at these places and where a hand gets at them; elsewhere a conductor goes through in one piece.
        KeyError for an end that nothing leads to.
        """
        paths, ends = self.paths(start), tuple(ends)
        found: dict[Stretch, None] = {}
        for end in ends:
            piece: list[Stretch] = []
            for stretch in paths[end]:
                if stretch.plug:
                    found |= dict.fromkeys([*([whole(piece)] if piece else []), stretch])
                    piece = []
                    continue
                piece.append(stretch)
                if stretch.end in ends or self.reachable(stretch.end):
                    found[whole(piece)] = None
                    piece = []
        return tuple(found)


def whole(path: Iterable[Stretch]) -> Stretch:
    """A path as one piece."""
    path = tuple(path)
    through = tuple(name for stretch in path for name in stretch.through)
    return Stretch(path[0].start, path[-1].end, sum(stretch.length for stretch in path), through)


def _stretches(build: Build, laid: Iterable[Stretch]) -> Iterator[Stretch]:
    """Each way, what was laid where there is none, and each passage that neither tells the length of."""
    stated = {frozenset((way.start, way.end)) for way in build.way}
    passages = passages_of(build)
    for way in build.way:
        through = way.through or passages_between(build, (way.start, way.end))
        yield Stretch(way.start, way.end, way.length, through)
    known = [one for one in laid if frozenset((one.start, one.end)) not in stated]
    yield from known
    stated |= {frozenset((one.start, one.end)) for one in known}
    for name, passage in passages.items():
        if frozenset((passage.start, passage.end)) not in stated:
            yield Stretch(passage.start, passage.end, through_passage(passage), (name,))
    stated |= {frozenset((one.start, one.end)) for one in passages.values()}
    for run in build.run:
        ends = frozenset(run.ends)
        if run.length and run.carries == "power" and not run.spare and ends not in stated:
            stated.add(ends)  # what is laid there already shows how far it is
            yield Stretch(run.ends[0], run.ends[1], run.length, tuple(run.through or ()))
    for plug in build.plug:
        if plug.ends is not None:
            yield Stretch(plug.ends[0], plug.ends[1], 0.0, (), plug.name)
