"""What tells unmarked leads apart: volts, colours, and where they light."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from math import log2

from postcheck.identification import Across, Alike, Told
from postcheck.identifying.colours import alike
from postcheck.identifying.meter import Meter
from postcheck.survey.bench.identities import Hypothesis, Identity


class Apart:
    """The unmarked leads of a place, in pairs."""

    def __init__(self, meter: Meter, unmarked: Sequence[Identity]) -> None:
        self.meter: Meter = meter
        self.unmarked: Sequence[Identity] = unmarked

    def _by_volts(self, one: Identity, other: Identity) -> bool:
        pairs = [(a, b) for a in _sound(one) for b in _sound(other)]

        def ways(a: Hypothesis, b: Hypothesis) -> bool:
            if a.more is not None and b.more is not None and self.meter.apart(a.more, b.more):
                return True
            return self.meter.apart(_lower(a), _lower(b)) or self.meter.apart(_higher(a), _higher(b))

        return all(ways(a, b) for a, b in pairs)

    def _by_colour(self, one: Identity, other: Identity) -> bool:
        a, b = (self._shown(each) for each in (one, other))
        return bool(a and b) and not any(alike(x, y) and alike(y, x) for x in a for y in b)

    def _shown(self, one: Identity) -> tuple[str, ...]:
        """The colours that are surely seen at some setting."""
        at = [
            each for each in (one.expected.first, one.expected.turned, one.expected.more) if each is not None
        ]
        return one.expected.colours if max(each.amps_least for each in at) >= self.meter.lights else ()

    def _by_place(self, one: Identity, other: Identity) -> bool:
        return not set(one.expected.places) & set(other.expected.places)

    def told(self) -> Told:
        """How many pairs each kind of reading tells apart, with those before it."""
        pairs = volts = colour = place = 0
        for one, other in combinations(self.unmarked, 2):
            by_volts = self._by_volts(one, other)
            by_colour = by_volts or self._by_colour(one, other)
            pairs += 1
            volts += by_volts
            colour += by_colour
            place += by_colour or self._by_place(one, other)
        return Told(pairs, volts, colour, place)

    def like_lamps(self) -> Iterator[Alike]:
        """Leads of the same lamp: neither volts nor colour can ever tell them apart."""
        sorts: dict[object, list[Identity]] = {}
        for one in self.unmarked:
            sorts.setdefault(one.sort, []).append(one)
        for group in sorts.values():
            if len(group) > 1:
                places = all(self._by_place(a, b) for a, b in combinations(group, 2))
                yield Alike(tuple(one.expected.name for one in group), places)

    def bits(self, left: Sequence[int], step: str) -> float:
        """How much a step is expected to tell of these, each as probable as the others: at least, for what overlaps is not told."""
        test = {
            "volts": self._by_volts,
            "more volts": self._by_volts,
            "colour": self._by_colour,
            "place": self._by_place,
        }[step]
        one = [self.unmarked[to] for to in left]
        if len(one) < 2:
            return 0.0
        total = 0.0
        for each in one:
            same = sum(not test(each, other) for other in one if other is not each) + 1
            total += log2(len(one) / same)
        return total / len(one)


def _sound(one: Identity) -> list[Hypothesis]:
    return [each for each in one.hypotheses if each.condition == "sound"]


def _lower(one: Hypothesis) -> Across:
    """The reading of the way round that reads less: which way that is nobody knows before."""
    return min(one.first, one.turned, key=lambda at: at.usual)


def _higher(one: Hypothesis) -> Across:
    return max(one.first, one.turned, key=lambda at: at.usual)
