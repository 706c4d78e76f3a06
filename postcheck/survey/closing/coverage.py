"""What has to be proven before a place is closed, and which proof does it."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator
from math import sqrt
from typing import NamedTuple

from postcheck.description.models import Build
from postcheck.description.naming import back_line, line_at, origin_of, supply_of
from postcheck.survey.bench.bench import Bench
from postcheck.survey.bench.figures import Band
from postcheck.survey.bench.test_points import Tap
from postcheck.survey.closing.access import Reached
from postcheck.survey.test_records.readings import Known, Reading
from postcheck.survey.test_records.records import Proofs
from postcheck.wiring.parts import LampPart, LoadPart, Parts, StripPart

__all__ = ["Closing", "Needed", "closings", "origin_tap"]

Part = LampPart | StripPart | LoadPart
Point = tuple[str, str]

# Of more lamps on one circuit than this, a dark one is less than the meter and the tolerances hide.
MOST_TOLD_APART = 40
# What takes current, and so shows in that of its circuit.
_LIT = ("lamp", "strip", "load")
# What says that a thing was tried.
_TRIED = ("done", "hours", "current", "polarity", "continuity")


class Needed(NamedTuple):
    """Something that has to be proven. `by`: the proof that does it, by its position in the file, None while none does.

    `ask`: kind and name of what to test for it; of several ways the plainest. `unseen`: the current that is asked for
    would hardly be less without it, so somebody has to look.
    """

    kind: str
    name: str
    ask: tuple[str, str]
    by: int | None = None
    unseen: bool = False


class Closing(NamedTuple):
    """A place that is about to be closed. `ran`: how long each proven lamp in it has run lately, s.

    `held`: all in it that will be reached by cutting only.
    """

    place: str
    needed: tuple[Needed, ...]
    ran: tuple[tuple[str, float], ...]
    held: tuple[Reached, ...]

    @property
    def unproven(self) -> tuple[Needed, ...]:
        """What no proof covers yet."""
        return tuple(one for one in self.needed if one.by is None)


def closings(
    build: Build, parts: Parts, bench: Bench, proofs: Proofs, access: Iterable[Reached], places: Iterable[str]
) -> dict[str, Closing]:
    """The closing of each of these places."""
    held: dict[str, list[Reached]] = {place: [] for place in places}
    for one in access:
        if one.place in held:
            held[one.place].append(one)
    covered = _Covered(build, parts, bench, proofs) if held else None
    return covered.closings(held) if covered else {}


class _Covered:
    """What the proofs that hold go through."""

    def __init__(self, build: Build, parts: Parts, bench: Bench, proofs: Proofs) -> None:
        self.build, self.parts, self.bench, self.proofs = build, parts, bench, proofs
        self.meter, self.lights = (proofs.limits.value(name) for name in ("proof.meter", "bench.lights"))
        self.at = line_at(build)
        self.links = self._links()
        self.lamps = {lamp.name: lamp for lamp in parts.lamps}
        hung: list[Part] = [*parts.lamps, *parts.strips, *parts.loads]
        self.on: dict[str, list[Part]] = {}
        for part in hung:
            self.on.setdefault(part.circuit, []).append(part)
        self.parts_at = {(part.name, part.path): part for part in hung}
        self.colours: dict[str, list[LampPart]] = {}
        for lamp in parts.lamps:
            self.colours.setdefault(lamp.entry, []).append(lamp)
        self.good: dict[str, list[tuple[Reading, Tap]]] = {}
        for reading in proofs.readings:
            if reading.fits and reading.tap is not None:
                # of several, a current that lights none or that the supply's limit held shows nothing
                if reading.tap.kind == "circuit" and (reading.held or reading.amps < self.lights):
                    continue
                for circuit in reading.tap.circuits:
                    self.good.setdefault(circuit, []).append((reading, reading.tap))
        self.named: dict[tuple[str, str], Part] = {(str(part.path[0]), part.name): part for part in hung}
        self.shows: dict[object, bool] = {}  # of each sort of thing on a circuit, whether it would be missed
        self.whole: dict[Tap, Band | None] = {}  # of a circuit with all that hangs there, at its usual volts
        self.joints: set[str] = set()  # circuits that are asked for by joints, in any of the places
        self.asked: set[str] = set()
        self.ways: dict[str, set[tuple[str, ...]]] = {}
        self.walked: dict[
            tuple[str, ...], int
        ] = {}  # a conductor, pin or joint: the proof that goes through it
        self.joined: dict[tuple[str, str], int] = {}  # a part at the place of its joint
        for circuit, pairs in self.good.items():
            for reading, tap in pairs:
                if tap.kind == "circuit" and tap.circuit == circuit:
                    self._walk(reading, tap)

    def closings(self, held: dict[str, list[Reached]]) -> dict[str, Closing]:
        needed = {place: list(self._inside(inside)) for place, inside in held.items()}
        self.joints = {
            one.ask[1]
            for of in needed.values()
            for one in of
            if one.kind in ("joint", "join") and one.ask[0] == "circuit"
        }
        return {place: self._closing(place, held[place], of) for place, of in needed.items()}

    def _closing(self, place: str, inside: list[Reached], inner: list[Needed]) -> Closing:
        needed = list(self._planned(inner))
        self.asked = {
            name for kind, name in (one.ask for one in needed if one.by is None) if kind == "circuit"
        }
        needed += self._runs(place)
        lamps = [lamp for lamp in self.parts.lamps if place in (lamp.place, *lamp.places)]
        proven = {one.name for one in needed if one.kind == "lamp" and one.by is not None}
        ran = tuple((lamp.name, self._ran(lamp)) for lamp in lamps if lamp.name in proven)
        held = tuple(one for one in inside if one.reach == "cut")
        return Closing(place, tuple(dict.fromkeys(needed)), ran, held)

    # -- as few tests as will do

    def _planned(self, needed: list[Needed]) -> Iterator[Needed]:
        """The same, with lamps, strips and loads asked for by their circuit where its current shows each of them.

        A circuit is worth a test of its own for several of them, or where its joints ask for one anyhow.
        """
        hung = [(one, self.named[one.kind, one.name]) for one in needed if one.kind in _LIT]
        shown: set[tuple[str, str]] = set()
        for circuit in dict.fromkeys(part.circuit for _, part in hung):
            mine = [(one, part) for one, part in hung if part.circuit == circuit]
            seen = {(one.kind, one.name) for one, part in mine if self._would_show(one, part)}
            if circuit in self.joints or len(seen) == len(mine) > 1:
                shown |= seen
        own = {(one.kind, one.name) for one, _ in hung}
        for one in needed:
            lamp = ("lamp", one.name)
            if (one.kind, one.name) in shown or (one.kind == "resistor" and lamp in shown):
                kind = "lamp" if one.kind == "resistor" else one.kind
                yield one._replace(ask=("circuit", self.named[kind, one.name].circuit))
            elif one.kind == "resistor" and lamp in own and self.lamps[one.name].circuit not in self.joints:
                yield one._replace(ask=lamp)  # it is tested through its resistor
            else:
                yield one

    def _would_show(self, one: Needed, part: Part) -> bool:
        """Whether the current of its circuit, where that begins, would plainly be less if it were dark.

        Even a rather low one: parts that fall by chance make up for each other, by the root of their number.
        """
        tap = origin_tap(self.build, self.bench, part.circuit)
        volts = self.bench.usual_volts(tap) if tap is not None else None
        if tap is None or volts is None:
            return False
        if one.by is None and any(other.plus.place == tap.plus.place for _, other in self.good.get(part.circuit, ())
                                  if other.kind == "circuit"):  # fmt: skip
            return False  # it was measured there, and that was not enough
        if isinstance(part, LampPart):
            if ("lamp", part.name) not in self.bench.leads:
                return False
            resistor = part.resistor and part.resistor[:2]
            sort: object = (part.circuit, part.dice, part.parallel, part.backwards, resistor)
        else:
            sort = (part.circuit, part.name, part.path)
        if sort not in self.shows:
            self.shows[sort] = self._shown(tap, volts, frozenset((part.name,)))
        return self.shows[sort]

    def _shown(self, tap: Tap, volts: float, names: frozenset[str]) -> bool:
        """Whether a rather low current at these volts would plainly be less without all these."""
        if tap not in self.whole:
            self.whole[tap] = self.bench.expected(tap, volts, guarded=True)
        whole = self.whole[tap]
        by_chance = sqrt(len(self._hung(tap)) or 1)
        return whole is not None and self._missed(
            tap, names, volts, whole.usual - (whole.usual - whole.least) / by_chance
        )

    # -- what is in the place

    def _inside(self, inside: Iterable[Reached]) -> Iterator[Needed]:
        for one in inside:
            if one.kind == "lamp":
                for lamp in self.colours[one.name]:
                    yield Needed("lamp", lamp.name, ("lamp", lamp.name), self._lit(lamp))
            elif one.kind in ("strip", "load"):
                yield self._works(one)
            elif one.kind == "resistor":
                lamp = self.lamps[one.name]
                by = self._through(lamp)
                yield Needed("resistor", one.name, self._ask_resistor(lamp, by), by)
            elif one.kind == "joint":
                part = self._part(one)
                joint = Needed(
                    "joint", one.name, ("circuit", part.circuit), self.joined.get((one.name, one.place))
                )
                yield joint._replace(unseen=joint.by is None and not self._would_show(joint, part))
            elif one.kind == "join":
                lines = self.build.join[int(one.path[1])].lines
                link = ("join", str(one.path[1]))
                first = next(iter(self.build.circuit), "")
                own = next((line for line in lines if line in self.build.circuit), first)
                ask, by = self._ask(link, ("", "")), self.walked.get(link)
                unseen = ask == ("", "") and by is None
                yield Needed("join", one.name, ("circuit", own) if ask == ("", "") else ask, by, unseen)
            elif one.kind == "plug":
                yield Needed("plug", one.name, ("plug", one.name), self._mated(one))
            elif one.kind == "board":
                yield Needed("board", one.name, ("board", one.name), self._drives(one.name))
            elif one.kind == "supply":
                yield Needed("supply", one.name, ("supply", one.name), self._tried("supply", one.name))

    def _runs(self, place: str) -> Iterator[Needed]:
        for run in self.parts.runs:
            if place not in run.ends:
                continue
            by = self._whole("run", run.name)
            if by is None and run.live:
                by = self.walked.get(("run", run.name))
            yield Needed("run", run.name, self._ask(("run", run.name), ("run", run.name)), by)

    def _ask(self, by: tuple[str, ...], itself: tuple[str, str]) -> tuple[str, str]:
        """The circuit whose test goes through a conductor, one that is asked for already before others; else itself."""
        ways = [name for name in self.build.circuit if by in self._goes_through(name)]
        asked = next((name for name in ways if name in self.asked), ways[0] if ways else None)
        return itself if asked is None else ("circuit", asked)

    def _goes_through(self, circuit: str) -> set[tuple[str, ...]]:
        """All that the current of a circuit goes through from where it begins, and that it would show."""
        if circuit not in self.ways:
            tap = origin_tap(self.build, self.bench, circuit)
            volts = self.bench.usual_volts(tap) if tap is not None else None
            self.ways[circuit] = set()
            if tap is not None and volts is not None:
                behind, _ = self._behind(tap)
                shown = {names: self._shown(tap, volts, names) for names in set(behind.values())}
                self.ways[circuit] = {by for by, names in behind.items() if shown[names]}
        return self.ways[circuit]

    def _ask_resistor(self, lamp: LampPart, by: int | None) -> tuple[str, str]:
        """Its circuit, where that would show it; else the lamp, tried through it."""
        itself = ("lamp", lamp.name)
        tap = self.bench.leads.get(itself)
        shown = self._would_show(Needed("resistor", lamp.name, itself, by), lamp)
        return (
            itself if tap is not None and (tap.guard == "ahead" or not shown) else ("circuit", lamp.circuit)
        )

    def _part(self, one: Reached) -> Part:
        return self.parts_at[one.name, one.path]

    # -- what proves it

    def _lit(self, part: Part) -> int | None:
        """Its own reading; or one of its circuit that would be less if it were dark. Without data, that it was tried.

        So too for a lamp that is wired backwards: at the bench as in the model no current shows it.
        """
        if isinstance(part, LampPart) and (part.backwards or ("lamp", part.name) not in self.bench.leads):
            return self._tried("lamp", part.entry)
        for reading, tap in self.good.get(part.circuit, ()):
            if tap.kind == "circuit":
                lit = self._would_be_missed(reading, tap, part.name)
            else:
                lit = tap.name == part.name and self._burns(reading, part)
            if lit:
                return reading.position
        return None

    def _burns(self, reading: Reading, part: Part) -> bool:
        """Whether a fitting current of a lead alone says that it lights; what the supply's limit held may be a short."""
        if reading.held and not self._seen(reading):
            return False
        return reading.amps >= self.lights * (part.parallel if isinstance(part, LampPart) else 1)

    def _seen(self, reading: Reading) -> bool:
        """Whether somebody looked: proofs of the same say what was done, that it ran, or that it is the right way round."""
        return any(
            "done" in known.said
            or "hours" in known.said
            or ("polarity" in known.said and not self._spoilt(known, "polarity"))
            for known in self.proofs.of(reading.kind, reading.name)
        )

    def _would_be_missed(self, reading: Reading, tap: Tap, *names: str) -> bool:
        volts = reading.proof.volts
        return volts is not None and self._missed(
            tap, frozenset(names), volts, reading.amps, guarded=reading.through, ohms=reading.ohms
        )

    def _hung(self, tap: Tap) -> list[Part]:
        """All that hangs on a tap's circuit and on those that are joined to it."""
        return [part for circuit in tap.circuits for part in self.on.get(circuit, ())]

    def _missed(
        self, tap: Tap, names: frozenset[str], volts: float, amps: float,
        *, guarded: bool = True, ohms: float = 0.0,
    ) -> bool:  # fmt: skip
        """Whether a current of what hangs on a tap would be more than any without these, by what lights one of them."""
        most = 0.0
        if any(part.name not in names for part in self._hung(tap)):
            if len(names) == 1 and len(self._hung(tap)) > MOST_TOLD_APART:
                return False
            without = tap._replace(
                guards=tuple(pair for pair in tap.guards if pair[0] not in names),
                others=tuple(other for other in tap.others if other not in names),
            )
            if without.guards or without.others:
                band = self.bench.expected(without, volts, guarded=guarded, ohms=ohms)
                if band is None:
                    return False
                most = band.most * (1.0 + self.meter)
        return amps >= most + self.lights

    def _works(self, one: Reached) -> Needed:
        by = self._lit(self._part(one))
        return Needed(
            one.kind, one.name, (one.kind, one.name), self._tried(one.kind, one.name) if by is None else by
        )

    def _through(self, lamp: LampPart) -> int | None:
        """A reading that came through its resistor, and would be another if it had not."""
        for reading, tap in self.good.get(lamp.circuit, ()):
            if not reading.through or reading.held or lamp.name not in dict(tap.guards):
                continue
            if tap.kind == "circuit":
                shown = self._would_be_missed(reading, tap, lamp.name)
            else:
                shown = self._burns(reading, lamp)
            if shown:
                return reading.position
        return None

    def _tried(self, kind: str, name: str) -> int | None:
        """A proof of its own that says that it was tried, and nothing against it."""
        dark = {
            reading.position
            for reading in self._own(kind, name)
            if reading.fits and reading.amps < self.lights
        }
        for known in self.proofs.of(kind, name):
            bad = any(self._spoilt(known, key) for key in ("polarity", "continuity"))
            if bad or any(reading.fits is False for reading in self._own(kind, name)):
                return None
            for key in _TRIED:
                by = known.said.get(key)
                # a current that lights nothing says nothing, nor for how long it flowed
                if by is not None and (key == "done" or by not in dark):
                    return by
        return None

    def _drives(self, board: str) -> int | None:
        """A proof of a board; where none is about it, a reading that one of its circuits lights."""
        if any(True for _ in self.proofs.of("board", board)):
            return self._tried("board", board)
        for name, circuit in self.build.circuit.items():
            for reading, tap in self.good.get(name, ()) if circuit.board == board else ():
                if tap.kind == "circuit":
                    return reading.position
        return None

    def _own(self, kind: str, name: str) -> Iterator[Reading]:
        return (reading for reading in self.proofs.readings if (reading.kind, reading.name) == (kind, name))

    def _spoilt(self, known: Known, key: str) -> bool:
        if key not in known.said:
            return False
        position = known.said[key]
        held = self.proofs.whole(position) if key == "continuity" else self.build.proof[position].polarity
        return held is False

    def _whole(self, kind: str, name: str) -> int | None:
        """A proof of its own that it goes from end to end."""
        for known in self.proofs.of(kind, name):
            if "continuity" in known.said and self.proofs.whole(known.said["continuity"]):
                return known.said["continuity"]
        return None

    def _mated(self, one: Reached) -> int | None:
        """Each pin walked through, or the plug tried by itself."""
        by = self._whole("plug", one.name)
        plug = self.build.plug[int(one.path[1])]
        walked = [self.walked.get(("plug", one.name, str(pin))) for pin in range(len(plug.pins))]
        return walked[0] if by is None and None not in walked else by

    def _ran(self, lamp: LampPart) -> float:
        """The longest of the latest runs of it, its circuit, board or supply, s; of the two last where a current shows that it hangs on them."""
        circuit = self.build.circuit[lamp.circuit]
        subjects = [("lamp", lamp.name), ("lamp", lamp.entry), ("circuit", lamp.circuit)]
        if any(
            tap.kind == "circuit" and self._would_be_missed(reading, tap, lamp.name)
            for reading, tap in self.good.get(lamp.circuit, ())
        ):
            subjects += [("board", circuit.board or ""), ("supply", supply_of(self.build, circuit) or "")]
        runs = (known.said.get("hours") for kind, name in subjects for known in self.proofs.of(kind, name))
        return max((self.build.proof[at].hours or 0.0 for at in runs if at is not None), default=0.0)

    # -- the way of a current

    def _links(self) -> dict[Point, list[tuple[Point, tuple[str, ...]]]]:
        """From each point of a line, the points that it is joined to, and by what."""
        links: dict[Point, list[tuple[Point, tuple[str, ...]]]] = {}

        def link(a: Point, b: Point, by: tuple[str, ...]) -> None:
            a, b = ((self.at(line, place), place) for line, place in (a, b))
            links.setdefault(a, []).append((b, by))
            links.setdefault(b, []).append((a, by))

        for run in self.parts.runs:
            if run.live:
                link((run.line, run.ends[0]), (run.line, run.ends[1]), ("run", run.name))
        for plug in self.build.plug:
            for pin, line in enumerate(plug.pins):
                link((line, plug.ends[0]), (line, plug.ends[1]), ("plug", plug.name, str(pin)))
        for index, join in enumerate(self.build.join):
            for line in join.lines[1:]:
                link((join.lines[0], join.place), (line, join.place), ("join", str(index)))
        for strip in self.parts.strips:
            if strip.far_end is not None:
                back = back_line(self.build, strip.circuit)
                for line, leg in ((strip.circuit, strip.feed), (back, strip.back)):
                    link((line, leg.to), (line, strip.far_end), ("strip", strip.name))
        return links

    def _walk(self, reading: Reading, tap: Tap) -> None:
        """Mark what a circuit's current goes through between the meter and what hangs on it, as far as it would show that.

        Where many hang there one of them does not show; then what was seen counts.
        """
        behind, joints = self._behind(tap)
        looked = reading.proof.done is not None
        shown: dict[frozenset[str], bool] = {}

        def goes(names: frozenset[str]) -> bool:
            if names not in shown:
                shown[names] = looked or self._would_be_missed(reading, tap, *names)
            return shown[names]

        for by, names in behind.items():
            if goes(names):
                self.walked.setdefault(by, reading.position)
        for name, joint in joints:
            if goes(frozenset((name,))):
                self.joined.setdefault((name, joint), reading.position)

    def _behind(self, tap: Tap) -> tuple[dict[tuple[str, ...], frozenset[str]], list[tuple[str, str]]]:
        """For each thing that a tap's current goes through the names of what hangs behind it; and all joints."""
        behind: dict[tuple[str, ...], set[str]] = {}
        joints: dict[tuple[str, str], None] = {}
        for name, by, joint in self._way(tap):
            joints[name, joint] = None
            if by:
                behind.setdefault(by, set()).add(name)
        return {by: frozenset(names) for by, names in behind.items()}, list(joints)

    def _way(self, tap: Tap) -> Iterator[tuple[str, tuple[str, ...], str]]:
        """Each thing that hangs on a tap, what its current goes through, and its joint.

        Where there are two ways round, one of them is told: a current does not prove the other.
        """
        place = tap.plus.place
        for side in ("feed", "back"):
            start = tap.circuit if side == "feed" else back_line(self.build, tap.circuit)
            came = self._from((self.at(start, place), place))
            for part in self._hung(tap):
                line = part.circuit if side == "feed" else back_line(self.build, part.circuit)
                joint = getattr(part, side).to
                point: Point | None = (self.at(line, joint), joint)
                if point not in came:
                    continue
                while point is not None:
                    point, by = came[point]
                    yield part.name, by, joint

    def _from(self, start: Point) -> dict[Point, tuple[Point | None, tuple[str, ...]]]:
        came: dict[Point, tuple[Point | None, tuple[str, ...]]] = {start: (None, ())}
        waiting = deque([start])
        while waiting:
            point = waiting.popleft()
            for other, by in self.links.get(point, ()):
                if other not in came:
                    came[other] = (point, by)
                    waiting.append(other)
        return came


def origin_tap(build: Build, bench: Bench, circuit: str) -> Tap | None:
    """Where a circuit is measured: its line where it begins, else at the first place where both its lines end."""
    origin = origin_of(build, build.circuit[circuit])
    first = next((tap for (name, _), tap in bench.lines.items() if name == circuit), None)
    return bench.lines.get((circuit, origin or ""), first)
