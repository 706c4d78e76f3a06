"""Where several passages join the same two places: which of them a conductor goes through is not guessed."""

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from postcheck.description.consumers import entries
from postcheck.description.models import Build, Passage, Run
from postcheck.description.naming import passages_of, run_names

# What a conductor has beyond a passage at each of its ends, m, where no [[way]] says how far it goes: common practice.
END = 0.05


class Passages:
    """Which passages a conductor goes through: the one between its two places, and those that list it by its name.

    Where several lie between two places, a conductor has to say which it goes through.
    """

    def __init__(self, build: Build) -> None:
        self._between = {ends: names for ends, names in _between(build).items() if not _open(ends, names)}
        # a way through passages gives the lengths beyond those that join no two of its ends
        self._along = {
            frozenset((way.start, way.end)): tuple(way.through) for way in build.way if way.through
        }
        self._named: dict[str, list[str]] = {}
        for name, passage in passages_of(build).items():
            for other in passage.through:
                self._named.setdefault(other, []).append(name)

    def of_run(self, run: Run, name: str) -> tuple[str, ...]:
        """Those of a run; the metal of a post lies in none unless it says so."""
        through = run.through if run.through is not None else () if run.body else self._ends(run.ends)
        return tuple(dict.fromkeys((*through, *self._named.get(name, ()))))

    def of_leg(self, names: Iterable[str], start: str, to: str) -> tuple[str, ...]:
        """Those of a wire of a lead, by any of the names that it may be listed by."""
        listed = (passage for name in names for passage in self._named.get(name, ()))
        return tuple(dict.fromkeys((*self._ends((start, to)), *listed)))

    def _ends(self, ends: Iterable[str]) -> tuple[str, ...]:
        pair = frozenset(ends)
        return self._between.get(pair) or self._along.get(pair, ())


def way_lengths(build: Build) -> dict[frozenset[str], float]:
    """The length of a wire between two places, m, by the ways of the file; of several the shortest."""
    found: dict[frozenset[str], float] = {}
    for way in build.way:
        ends = frozenset((way.start, way.end))
        found[ends] = min(way.length, found.get(ends, way.length))
    return found


def _between(build: Build) -> dict[frozenset[str], tuple[str, ...]]:
    found: dict[frozenset[str], tuple[str, ...]] = {}
    for name, passage in passages_of(build).items():
        ends = frozenset((passage.start, passage.end))
        found[ends] = (*found.get(ends, ()), name)
    return found


def _open(ends: frozenset[str], names: tuple[str, ...]) -> bool:
    return len(names) > 1 and len(ends) > 1


class Undecided(NamedTuple):
    """Passages that join the same two places, and the conductors between these that are given to none of them."""

    ends: tuple[str, str]
    passages: tuple[str, ...]
    conductors: tuple[str, ...]


class _Conductor(NamedTuple):
    """A run or a leg of a lead: what it is called in words, the names it may be listed by, its two ends."""

    says: str
    names: tuple[str, ...]
    ends: frozenset[str]


def undecided(build: Build) -> Iterator[Undecided]:
    """What lies between two places that several passages join, and is given to none of them."""
    passages = passages_of(build)
    for ends, names in _between(build).items():
        if not _open(ends, names):
            continue
        listed = {each for name in names for each in passages[name].through}
        silent = [one.says for one in _conductors(build) if one.ends == ends and not listed & {*one.names}]
        if silent:
            first = passages[names[0]]
            yield Undecided((first.start, first.end), names, tuple(dict.fromkeys(silent)))


def in_a_row(build: Build) -> Iterator[Undecided]:
    """Conductors between places that no passage joins but several in a row do, and that are given to none of them."""
    passages = passages_of(build)
    steps: dict[str, dict[str, str]] = {}
    for name, passage in passages.items():
        steps.setdefault(passage.start, {}).setdefault(passage.end, name)
        steps.setdefault(passage.end, {}).setdefault(passage.start, name)
    listed = {name for passage in passages.values() for name in passage.through}
    found: dict[tuple[str, ...], tuple[tuple[str, str], list[str]]] = {}
    for one in _conductors(build):
        if len(one.ends) != 2 or listed & {*one.names}:
            continue
        start, end = sorted(one.ends, key=list(build.place).index)
        way = _way(steps, start, end)
        if len(way) > 1:
            found.setdefault(way, ((start, end), []))[1].append(one.says)
    for way, (ends, conductors) in found.items():
        yield Undecided(ends, way, tuple(dict.fromkeys(conductors)))


def _way(steps: Mapping[str, Mapping[str, str]], start: str, end: str) -> tuple[str, ...]:
    """The fewest passages in a row from one place to another; none where they do not lead there."""
    ways: dict[str, tuple[str, ...]] = {start: ()}
    waiting = [start]
    for place in waiting:
        for other, name in steps.get(place, {}).items():
            if other not in ways:
                ways[other] = (*ways[place], name)
                waiting.append(other)
    return ways.get(end, ())


def _conductors(build: Build) -> Iterator[_Conductor]:
    for run, name in zip(build.run, run_names(build), strict=True):
        if run.through is None and not run.body:
            yield _Conductor(name, (name,), frozenset(run.ends))
    for entry in entries(build):
        lead, places, says = entry.said.lead, entry.places, f"lead of {entry.name}"
        names = (*entry.colours, entry.name)
        if lead is not None:
            for start, leg in ((places[0], lead.feed), (places[-1], lead.back)):
                to = (leg.to if leg is not None else None) or lead.to or start
                yield _Conductor(says, names, frozenset((start, to)))
        for start, end, _ in zip(places, places[1:], entry.links, strict=False):
            yield _Conductor(says, names, frozenset((start, end)))


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


def through_passage(passage: Passage) -> float:
    """What a conductor through a passage is cut to, m: all that lies inside, and an end on either side."""
    inside = max(passage.length, (passage.free or 0.0) + (passage.to_joint or 0.0)) + (passage.slack or 0.0)
    return inside + 2.0 * max(END, (passage.to_joint or 0.0) + END / 2.0)
