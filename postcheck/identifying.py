"""Unmarked leads told apart, reading by reading: which lead of the file each may be, and what is measured next.

All leads are taken together: each lead of the file is one at the bench. Of all ways to hand the names out, those count that
need no more than `SLACK` faults more than the fewest: a lead is known for sure where it has the same name in all of these.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from itertools import combinations
from math import inf, log2

from postcheck.description.limits import limit_changes
from postcheck.description.models import Build
from postcheck.identification import (
    Across,
    Alike,
    Fit,
    Found,
    Identification,
    LeadExpected,
    Next,
    Told,
)
from postcheck.lead_readings import LeadReading, ReadingError, Way, read
from postcheck.limits import Limits
from postcheck.plain import nearest, quoted
from postcheck.survey import Survey
from postcheck.survey.bench.identities import Hypothesis, Identities, Identity
from postcheck.taken import takes

__all__ = ["MOST_BIN", "ReadingError", "which"]

SLACK = 1
"""A name is sure only if it holds with so many faults more than the readings need."""
# Nothing that is looked for explains it: less probable than two faults in one lead.
_UNEXPLAINED = 3
_IMPOSSIBLE = 10_000
# What `bench.digits` is of, V.
_DIGIT = 0.01
MOST_BIN = 1.0
# Colours that two people name alike, in daylight and through paint.
_TAKEN_FOR = (
    frozenset({"amber", "orange", "yellow"}),
    frozenset({"yellow", "yellow-green"}),
    frozenset({"green", "yellow-green"}),
    frozenset({"red", "orange", "pink"}),
    frozenset({"blue", "uv"}),
)
# What a step costs at the bench, beside a reading.
_EFFORT = {"volts": 1.0, "turn": 1.0, "colour": 1.0, "place": 1.5, "whole": 4.0, "more volts": 4.0}


def which(
    build: Build, place: str, readings: str | Mapping[str, str] = "", *, bin_volts: float | None = None
) -> Identification:
    """How the unmarked leads that end at a place are told apart, and what the readings tell.

    `readings`: a text, as in "lead 1: 2.07, lead 2: 4.99 / dark", or what was read of each lead by its name at the bench.
    `bin_volts`: that the LEDs of a kind are of one bin of forward voltage, so wide (V), about the typical one.

    ReadingError (a ValueError) for a place without leads, and for a reading that cannot be taken.
    """
    return Identifier(build, place, bin_volts).told(readings)


class Identifier:
    """The leads of one place, surveyed once; `told` any number of times, with more and more readings."""

    def __init__(self, build: Build, place: str, bin_volts: float | None = None) -> None:
        takes("which", build, Build)
        takes("which", place, str)
        if place not in build.place:
            near = nearest(place, list(build.place))
            raise ReadingError(
                f"the build has no place {quoted(place)}"
                + (f"; did you mean {quoted(near)}?" if near else "")
            )
        if bin_volts is not None and not 0.0 < bin_volts <= MOST_BIN:
            raise ReadingError("a bin of forward voltage is above 0 V and no wider than 1 V, as in 70 mV")
        self.build: Build = build
        self.place: str = place
        self.limits: Limits = Limits(limit_changes(build)[0])
        survey = Survey(build, self.limits)
        self.identities: Identities = Identities(survey.bench, place, self.limits, bin_volts)
        if not self.identities.test_points:
            having = dict.fromkeys(
                one.places[0] for one in survey.bench.leads.values() if len(one.places) == 1
            )
            raise ReadingError(
                f"no lead ends at {quoted(place)}"
                + (f"; leads end at {', '.join(map(quoted, list(having)[:5]))}" if having else "")
            )

    @cached_property
    def unmarked(self) -> tuple[Identity, ...]:
        """The leads that have no flag; what is marked is known."""
        return tuple(one for one in self.identities.all if not one.expected.label.strip())

    @cached_property
    def bare(self) -> Identification:
        """What is known before anything is read."""
        build, names = self.build, [one.expected for one in self.unmarked]
        return Identification(
            build.file,
            build.build.name,
            self.place,
            self.identities.first,
            self.identities.more,
            tuple(names),
            tuple(self._alike()),
            self._told(),
            self.identities.apart,
            tuple(
                (one.name, one.label)
                for one in (known.expected for known in self.identities.all)
                if one.label.strip()
            ),
            self.identities.bin_volts,
            self.identities.legs_told,
        )

    def told(self, readings: str | Mapping[str, str]) -> Identification:
        """What these readings tell."""
        taken = read(
            readings,
            colours=_SEEN,
            places={place for one in self.unmarked for place in one.expected.places},
            leads=[one.expected.name for one in self.unmarked],
        )
        bare = self.bare
        if not self.unmarked or bare.first is None:
            if taken:
                raise ReadingError(
                    f"no setting harms none of the leads at {quoted(self.place)}: nothing is read there"
                )
            return bare
        if len(taken) > len(self.unmarked):
            raise ReadingError(
                f"{len(self.unmarked)} unmarked leads end at {quoted(self.place)}, and {len(taken)} are named"
            )
        for one in taken:
            if one.more is not None and not one.whole:
                raise ReadingError(
                    f"{quoted(one.lead)}: setting B is for a lead whose continuity is proven; write whole once it is"
                )
            if one.more is not None and bare.more is None:
                raise ReadingError(f"{quoted(one.lead)}: there is no setting B for these leads")
            self._as_set(one, bare)
        return self._solved(bare, taken) if taken else replace(bare, next=self._next((), {}, ()))

    def _as_set(self, one: LeadReading, bare: Identification) -> None:
        """ReadingError for volts above the setting, and for whole volts, which no meter shows, but none and those that are set."""
        assert bare.first is not None
        settings = {"A": bare.first, "B": bare.more}
        for volts, digit, name in (
            (one.first.volts, one.first.digit, "A"), (one.turned.volts, one.turned.digit, "A"), (one.more, one.more_digit, "B"),
        ):  # fmt: skip
            setting = settings[name]
            if volts is None or setting is None:
                continue
            most = self._shows(Across(0.0, 0.0, setting.volts, 0.0, 0.0), _DIGIT)[1] + digit / 2.0
            if volts > most and volts != setting.volts:
                raise ReadingError(
                    f"{quoted(one.lead)} reads {volts:.4g} V, more than setting {name} has, {setting.volts:g} V: take the lead "
                    "off, set the volts with the ends apart and measure them; then read it again"
                )
            if digit >= 1.0 and volts not in (0.0, setting.volts):
                raise ReadingError(
                    f"{quoted(one.lead)}: type all that the meter shows, with its decimals, as in {volts:.2f}"
                )

    # -- which lead may be which

    def _solved(self, bare: Identification, taken: Sequence[LeadReading]) -> Identification:
        rows = [self._row(one) for one in taken]
        costs = [[min((cost for cost, _ in fits), default=_UNEXPLAINED) for fits in row] for row in rows]
        for one, row in zip(taken, costs, strict=True):
            if one.known:
                row[:] = [
                    cost if identity.expected.name == one.known else _IMPOSSIBLE
                    for cost, identity in zip(row, self.unmarked, strict=True)
                ]
        names = [one.known for one in taken if one.known]
        if twice := next((name for name in names if names.count(name) > 1), None):
            raise ReadingError(f"two leads cannot both be {quoted(twice)}")
        whole = costs + [[0] * len(self.unmarked) for _ in range(len(self.unmarked) - len(taken))]
        least, forced = cheapest(whole)
        found, left_of = [], {}
        for at, one in enumerate(taken):
            may = [to for to, cost in enumerate(forced[at]) if cost <= least + SLACK]
            left_of[one.lead] = may
            best = [to for to, cost in enumerate(forced[at]) if cost <= least]
            fits = [(cost, fit) for to in best for cost, fit in rows[at][to] if cost == costs[at][to]]
            found.append(
                Found(
                    one.lead,
                    one.text,
                    tuple(self.unmarked[to].expected.name for to in may),
                    len(may) == 1 and not one.known,
                    tuple(dict.fromkeys(fit for _, fit in fits)),
                    self._dark(one),
                    bool(one.known),
                )
            )
        unexplained = tuple(
            one.lead for one, row in zip(taken, rows, strict=True) if not any(fits for fits in row)
        )
        faults = least - _UNEXPLAINED * len(unexplained)
        done = replace(bare, found=tuple(found), faults=faults, unexplained=unexplained)
        return replace(done, next=None if done.done else self._next(taken, left_of, found))

    def _row(self, one: LeadReading) -> list[list[tuple[int, Fit]]]:
        return [list(self._fits(one, identity)) for identity in self.unmarked]

    def _fits(self, one: LeadReading, identity: Identity) -> Iterator[tuple[int, Fit]]:
        """What of a lead would explain a reading, with the number of faults in it."""
        expected = identity.expected
        for hypothesis in identity.hypotheses:
            for swapped in (False, True):
                if not self._explains(one, expected, hypothesis, swapped=swapped):
                    continue
                told = swapped and self.identities.legs_told and not _symmetric(hypothesis)
                if swapped and _symmetric(hypothesis):
                    continue
                cost = int(hypothesis.condition != "sound") + int(told)
                yield cost, Fit(expected.name, hypothesis.condition, told)

    def _explains(
        self, one: LeadReading, expected: LeadExpected, hypothesis: Hypothesis, *, swapped: bool
    ) -> bool:
        ways = (hypothesis.turned, hypothesis.first) if swapped else (hypothesis.first, hypothesis.turned)
        if not any(
            all(self._reads(way, at, expected) for way, at in zip(said, ways, strict=True))
            for said in one.ways
        ):
            return False
        lit = [*ways, hypothesis.more] if one.more is not None and hypothesis.more is not None else ways
        if one.place and (one.place not in expected.places or max(at.amps_most for at in lit) < self._lights):
            return False
        if one.more is None:
            return True
        return (
            not swapped
            and hypothesis.more is not None
            and self._within(one.more, one.more_digit, hypothesis.more)
        )

    def _reads(self, way: Way, at: Across, expected: LeadExpected) -> bool:
        if way.volts is not None and not self._within(way.volts, way.digit, at):
            return False
        if way.seen == "dark":
            # what is sealed in, by day, is taken for dark up to a good deal more than is seen in a dim room
            return at.amps_least <= max(self._lights, self._dim)
        if way.seen:
            if at.amps_most < self._lights / 2.0:
                return False
            return (
                way.seen == "lit"
                or not expected.colours
                or any(alike(way.seen, one) for one in expected.colours)
            )
        return True

    @cached_property
    def _lights(self) -> float:
        return self.limits.value("bench.lights")

    @cached_property
    def _dim(self) -> float:
        first = self.identities.first
        return self.limits.value("lamp.dim.far") * (
            first.rated if first is not None and first.rated < inf else 0.0
        )

    def _within(self, volts: float, digit: float, at: Across) -> bool:
        # whole volts are taken for none and for all that is set alone, and mean just that
        least, most = self._shows(at, digit if digit < 1.0 else _DIGIT)
        return least <= volts <= most

    def _shows(self, at: Across, digit: float = _DIGIT) -> tuple[float, float]:
        """The least and the most that a meter may show of it, V, whose last digit is so many volts."""
        meter, digits = self.limits.value("bench.meter"), self.limits.value("bench.digits") * digit / _DIGIT
        return at.least * (1.0 - meter) - digits, at.most * (1.0 + meter) + digits

    def _dark(self, one: LeadReading) -> bool:
        first = self.identities.first
        assert first is not None
        if one.more is not None:
            return False
        # what the resistor keeps is what flows, whatever is seen
        most = first.volts - max(self._lights, self._dim) * first.ohms
        return all(
            way.seen == "dark" or (way.volts is not None and way.volts >= most and way.seen in ("", "dark"))
            for way in (one.first, one.turned)
        )

    # -- what tells them apart

    def _apart(self, one: Across, other: Across) -> bool:
        """Whether a meter shows two leads differently, whatever parts they have."""
        (low, high), (least, most) = self._shows(one), self._shows(other)
        return high < least or most < low

    def _by_volts(self, one: Identity, other: Identity) -> bool:
        pairs = [(a, b) for a in _sound(one) for b in _sound(other)]

        def ways(a: Hypothesis, b: Hypothesis) -> bool:
            if a.more is not None and b.more is not None and self._apart(a.more, b.more):
                return True
            return self._apart(_lower(a), _lower(b)) or self._apart(_higher(a), _higher(b))

        return all(ways(a, b) for a, b in pairs)

    def _by_colour(self, one: Identity, other: Identity) -> bool:
        a, b = (self._shown(each) for each in (one, other))
        return bool(a and b) and not any(alike(x, y) and alike(y, x) for x in a for y in b)

    def _shown(self, one: Identity) -> tuple[str, ...]:
        """The colours that are surely seen at some setting."""
        at = [
            each for each in (one.expected.first, one.expected.turned, one.expected.more) if each is not None
        ]
        return one.expected.colours if max(each.amps_least for each in at) >= self._lights else ()

    def _by_place(self, one: Identity, other: Identity) -> bool:
        return not set(one.expected.places) & set(other.expected.places)

    def _told(self) -> Told:
        pairs = volts = colour = place = 0
        for one, other in combinations(self.unmarked, 2):
            by_volts = self._by_volts(one, other)
            by_colour = by_volts or self._by_colour(one, other)
            pairs += 1
            volts += by_volts
            colour += by_colour
            place += by_colour or self._by_place(one, other)
        return Told(pairs, volts, colour, place)

    def _alike(self) -> Iterator[Alike]:
        """Leads of the same lamp: neither volts nor colour can ever tell them apart."""
        sorts: dict[object, list[Identity]] = {}
        for one in self.unmarked:
            sorts.setdefault(one.sort, []).append(one)
        for group in sorts.values():
            if len(group) > 1:
                places = all(self._by_place(a, b) for a, b in combinations(group, 2))
                yield Alike(tuple(one.expected.name for one in group), places)

    # -- what is measured next

    def _next(
        self, taken: Sequence[LeadReading], left: Mapping[str, Sequence[int]], found: Sequence[Found]
    ) -> Next | None:
        """The step that tells most for its effort; of a lead that was not read yet, its volts."""
        steps: list[tuple[float, int, Next]] = []
        if len(taken) < len(self.unmarked):
            bits = self._bits(range(len(self.unmarked)), "volts")
            steps.append((bits / _EFFORT["volts"], 0, Next("volts", "", bits)))
        for at, (one, known) in enumerate(zip(taken, found, strict=True), start=1):
            if known.sure or known.known:
                continue
            may = left[one.lead]
            if (
                not one.turned.said
                and (one.first.volts is not None or one.first.seen)
                and self._seems_dark(one.first)
            ):
                steps.append(
                    (10.0, at, Next("turn", one.lead, 1.0))
                )  # a diode conducts one way: nothing is known before
                continue
            if known.dark:
                if not any(self._long(to) for to in may):
                    continue  # nothing lights it: no reading helps
                if self.identities.more is None:
                    continue  # legs that are whole say nothing of the LEDs between them
                if not one.whole:
                    steps.append((1.0 / _EFFORT["whole"], at, Next("whole", one.lead, 1.0)))
                elif one.more is None:
                    bits = self._bits(may, "more volts")
                    steps.append((bits / _EFFORT["more volts"], at, Next("more volts", one.lead, bits)))
                continue
            if known.fits and not any(self._can_light(fit) for fit in known.fits):
                continue
            if one.first.volts is None and one.turned.volts is None:
                bits = self._bits(may, "volts")
                steps.append((bits, at, Next("volts", one.lead, bits)))
            if not {one.first.seen, one.turned.seen} - {"", "dark", "lit"}:
                bits = self._bits(may, "colour")
                steps.append((bits / _EFFORT["colour"], at, Next("colour", one.lead, bits)))
            if not one.place:
                bits = self._bits(may, "place")
                steps.append((bits / _EFFORT["place"], at, Next("place", one.lead, bits)))
        best = max(steps, key=lambda step: (step[0], -step[1]), default=None)
        return best[2] if best is not None and best[0] > 0.0 else None

    def _can_light(self, fit: Fit) -> bool:
        (identity,) = (one for one in self.unmarked if one.expected.name == fit.name)
        return any(
            max(each.first.amps_most, each.turned.amps_most) >= self._lights
            for each in identity.hypotheses
            if each.condition == fit.condition
        )

    def _seems_dark(self, way: Way) -> bool:
        first = self.identities.first
        assert first is not None
        return way.seen == "dark" or (
            way.seen == "" and way.volts is not None and way.volts >= first.volts - self._lights * first.ohms
        )

    def _long(self, to: int) -> bool:
        return (
            self.unmarked[to].expected.more is not None
            or self.unmarked[to].expected.first.amps_most < self._lights
        )

    def _bits(self, left: Sequence[int], step: str) -> float:
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


_SEEN = frozenset(
    {
        "red", "orange", "amber", "yellow", "yellow-green", "green", "blue", "uv", "violet", "pink", "white", "warm-white",
    }
)  # fmt: skip


def alike(seen: str, other: str) -> bool:
    """Whether one colour may be taken for the other."""
    if seen == "violet":
        seen = "uv"
    if (seen, other) == ("white", "warm-white"):
        return True  # white is what people call both
    return seen == other or other not in _SEEN or any({seen, other} <= colours for colours in _TAKEN_FOR)


def _sound(one: Identity) -> list[Hypothesis]:
    return [each for each in one.hypotheses if each.condition == "sound"]


def _symmetric(one: Hypothesis) -> bool:
    """Whether it reads the same either way round."""
    return one.first == one.turned


def _lower(one: Hypothesis) -> Across:
    """The reading of the way round that reads less: which way that is nobody knows before."""
    return min(one.first, one.turned, key=lambda at: at.usual)


def _higher(one: Hypothesis) -> Across:
    return max(one.first, one.turned, key=lambda at: at.usual)


def cheapest(costs: Sequence[Sequence[int]]) -> tuple[int, list[list[int]]]:
    """The least cost of handing out as many names as there are leads, one each; and the least with each name forced.

    By shortest augmenting paths (Jonker and Volgenant 1987) for the best; then by the shortest cycles through each
    exchange of names (Floyd 1962): to force name j on lead i, i takes it from who has it, who takes another's, and so on.
    """
    size = len(costs)
    has = _assigned(costs)
    holder = {name: lead for lead, name in enumerate(has)}
    least = sum(costs[lead][name] for lead, name in enumerate(has))
    far = [[0 if i == k else costs[i][has[k]] - costs[i][has[i]] for k in range(size)] for i in range(size)]
    direct = [row[:] for row in far]
    for middle in range(size):
        through = far[middle]
        for row in far:
            to = row[middle]
            for end in range(size):
                row[end] = min(row[end], to + through[end])
    forced = [
        [least + direct[i][holder[name]] + far[holder[name]][i] for name in range(size)] for i in range(size)
    ]
    return least, forced


def _assigned(costs: Sequence[Sequence[int]]) -> list[int]:
    """Which name each lead has in the cheapest way."""
    size = len(costs)
    row_price, name_price = [0] * (size + 1), [0] * (size + 1)
    row_of, before = [0] * (size + 1), [0] * (size + 1)
    for row in range(1, size + 1):
        row_of[0], at = row, 0
        slack: list[float] = [inf] * (size + 1)
        used = [False] * (size + 1)
        while row_of[at]:
            used[at] = True
            lead, step, nxt = row_of[at], inf, 0
            for name in range(1, size + 1):
                if used[name]:
                    continue
                now = costs[lead - 1][name - 1] - row_price[lead] - name_price[name]
                if now < slack[name]:
                    slack[name], before[name] = now, at
                if slack[name] < step:
                    step, nxt = slack[name], name
            for name in range(size + 1):
                if used[name]:
                    row_price[row_of[name]] += int(step)
                    name_price[name] -= int(step)
                else:
                    slack[name] -= step
            at = nxt
        while at:
            row_of[at], at = row_of[before[at]], before[at]
    has = [0] * size
    for name in range(1, size + 1):
        has[row_of[name] - 1] = name - 1
    return has
