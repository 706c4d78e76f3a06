"""What has to be proven before a place is closed, and which test record does it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import sqrt
from typing import NamedTuple

from postcheck.description.consumers import CONSUMERS
from postcheck.survey.bench.bench import Bench
from postcheck.survey.bench.figures import Band
from postcheck.survey.bench.test_points import TestPoint
from postcheck.survey.closing.access import Reached
from postcheck.survey.test_records.readings import Known, Reading
from postcheck.survey.test_records.records import TestRecords
from postcheck.wiring import Wiring
from postcheck.wiring.graph import Edge
from postcheck.wiring.parts import LampPart, Part

__all__ = ["Closing", "Needed", "closings", "origin_test_point"]


# Of more lamps on one circuit than this, a dark one is less than the meter and the tolerances hide.
MOST_TOLD_APART = 40
# What says that a thing was tried.
_TRIED = ("done", "hours", "current", "polarity", "continuity")


class Needed(NamedTuple):
    """Something that has to be proven. `by`: the test record that does it, by its position in the file, None while none does.

    `ask`: kind and name of what to test for it; of several ways the plainest. `unseen`: the current that is asked for
    would hardly be less without it, so somebody has to look. `lamp`: the lamp that it is, or is a string of.
    """

    kind: str
    name: str
    ask: tuple[str, str]
    by: int | None = None
    unseen: bool = False
    lamp: str = ""


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
        """What no test record covers yet."""
        return tuple(one for one in self.needed if one.by is None)


def closings(
    wiring: Wiring, bench: Bench, test_records: TestRecords, access: Iterable[Reached], places: Iterable[str]
) -> dict[str, Closing]:
    """The closing of each of these places."""
    held: dict[str, list[Reached]] = {place: [] for place in places}
    for one in access:
        if one.place in held:
            held[one.place].append(one)
    covered = _Covered(wiring, bench, test_records) if held else None
    return covered.closings(held) if covered else {}


class _Covered:
    """What the test records that hold go through."""

    def __init__(self, wiring: Wiring, bench: Bench, test_records: TestRecords) -> None:
        self.wiring, self.bench, self.test_records = wiring, bench, test_records
        self.build, self.parts = wiring.build, wiring.parts
        parts = wiring.parts
        self.meter, self.lights = (
            test_records.limits.value(name) for name in ("proof.meter", "bench.lights")
        )
        self.lamps = {lamp.name: lamp for lamp in parts.lamps}
        self.on: dict[str, list[Part]] = {}
        for part in parts.all:
            self.on.setdefault(part.circuit, []).append(part)
        self.parts_at = {(part.name, part.path): part for part in parts.all}
        self.colours: dict[str, list[LampPart]] = {}
        for lamp in parts.lamps:
            self.colours.setdefault(lamp.entry, []).append(lamp)
        self.good: dict[str, list[tuple[Reading, TestPoint]]] = {}
        for reading in test_records.readings:
            if reading.fits and reading.test_point is not None:
                # of several, a current that lights none or that the supply's limit held shows nothing
                if reading.test_point.kind == "circuit" and (reading.held or reading.amps < self.lights):
                    continue
                for circuit in reading.test_point.circuits:
                    self.good.setdefault(circuit, []).append((reading, reading.test_point))
        self.named: dict[tuple[str, str], Part] = {(part.kind, part.name): part for part in parts.all}
        self.shows: dict[object, bool] = {}  # of each sort of thing on a circuit, whether it would be missed
        # of a circuit with all that is connected there, at its usual volts
        self.whole: dict[TestPoint, Band | None] = {}
        self.joints: set[str] = set()  # circuits that are asked for by joints, in any of the places
        self.asked: set[str] = set()
        self.ways: dict[str, set[tuple[str, ...]]] = {}
        self.walked: dict[
            tuple[str, ...], int
        ] = {}  # a conductor, pin or joint: the test record that goes through it
        self.joined: dict[tuple[str, str], int] = {}  # a part at the place of its joint
        for circuit, pairs in self.good.items():
            for reading, test_point in pairs:
                if test_point.kind == "circuit" and test_point.circuit == circuit:
                    self._walk(reading, test_point)

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
        proven = {one.lamp for one in needed if one.lamp} - {one.lamp for one in needed if one.by is None}
        ran = tuple((lamp.name, self._ran(lamp)) for lamp in lamps if lamp.name in proven)
        held = tuple(one for one in inside if one.reach == "cut")
        return Closing(place, tuple(dict.fromkeys(needed)), ran, held)

    # -- as few tests as will do

    def _planned(self, needed: list[Needed]) -> Iterator[Needed]:
        """The same, with lamps, strips and loads asked for by their circuit where its current shows each of them.

        A circuit is worth a test of its own for several of them, or where its joints ask for one anyhow.
        """
        connected = [
            (one, self.named[one.kind, one.lamp or one.name]) for one in needed if one.kind in CONSUMERS
        ]
        shown: set[tuple[str, str]] = set()
        for circuit in dict.fromkeys(part.circuit for _, part in connected):
            mine = [(one, part) for one, part in connected if part.circuit == circuit]
            seen = {(one.kind, one.name) for one, part in mine if self._would_show(one, part)}
            if circuit in self.joints or len(seen) == len(mine) > 1:
                shown |= seen
        own = {(one.kind, one.lamp or one.name) for one, _ in connected}
        asked = {one.lamp: one.ask for one, _ in reversed(connected) if one.lamp}
        for one in needed:
            lamp = ("lamp", one.name)
            if (one.kind, one.name) in shown or (one.kind == "resistor" and lamp in shown):
                kind = "lamp" if one.kind == "resistor" else one.kind
                yield one._replace(ask=("circuit", self.named[kind, one.lamp or one.name].circuit))
            elif one.kind == "resistor" and lamp in own and self.lamps[one.name].circuit not in self.joints:
                yield one._replace(ask=asked.get(one.name, lamp))  # it is tested through its resistor
            else:
                yield one

    def _would_show(self, one: Needed, part: Part) -> bool:
        """Whether the current of its circuit, where that begins, would plainly be less if it were dark.

        Even a rather low one: parts that fall by chance make up for each other, by the root of their number.
        """
        test_point = origin_test_point(self.wiring, self.bench, part.circuit)
        volts = self.bench.usual_volts(test_point) if test_point is not None else None
        if test_point is None or volts is None:
            return False
        if one.by is None and any(other.plus.place == test_point.plus.place for _, other in self.good.get(part.circuit, ())
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
            self.shows[sort] = self._shown(test_point, volts, frozenset((part.name,)), string=True)
        return self.shows[sort]

    def _shown(
        self, test_point: TestPoint, volts: float, names: frozenset[str], *, string: bool = False
    ) -> bool:
        """Whether a rather low current at these volts would plainly be less without all these."""
        if test_point not in self.whole:
            self.whole[test_point] = self.bench.expected(test_point, volts, with_resistors=True)
        whole = self.whole[test_point]
        by_chance = sqrt(len(self._connected(test_point)) or 1)
        return whole is not None and self._missed(
            test_point, names, volts, whole.usual - (whole.usual - whole.least) / by_chance, string=string
        )

    # -- what is in the place

    def _inside(self, inside: Iterable[Reached]) -> Iterator[Needed]:
        for one in inside:
            if one.kind == "lamp":
                for lamp in self.colours[one.name]:
                    yield from self._strings(lamp)
            elif one.kind in CONSUMERS:
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
                link = ("join", str(one.number))
                first = next(iter(self.build.circuit), "")
                own = next((line for line in one.lines if line in self.build.circuit), first)
                ask, by = self._ask(link, ("", "")), self.walked.get(link)
                unseen = ask == ("", "") and by is None
                yield Needed("join", one.name, ("circuit", own) if ask == ("", "") else ask, by, unseen)
            elif one.kind == "plug":
                yield Needed("plug", one.name, ("plug", one.name), self._mated(one))
            elif one.kind == "board":
                yield Needed("board", one.name, ("board", one.name), self._drives(one.name))
            elif one.kind == "supply":
                yield Needed("supply", one.name, ("supply", one.name), self._tried("supply", one.name))

    def _strings(self, lamp: LampPart) -> Iterator[Needed]:
        """A lamp, or each of its strings where the current of all together would not show a dark one.

        Where these share a lead, somebody has to look.
        """
        by = self._lit(lamp)
        whole = Needed("lamp", lamp.name, ("lamp", lamp.name), by, lamp=lamp.name)
        if by is not None or lamp.parallel == 1 or not self._hides(lamp):
            yield whole
            return
        strings = self.bench.strings(lamp)
        if not strings:
            yield whole._replace(unseen=True)
        read = self._read_strings(lamp)
        for string, name in enumerate(strings):
            yield Needed("lamp", name, ("lamp", name), read.get(string), lamp=lamp.name)

    def _hides(self, lamp: LampPart) -> bool:
        """Whether the usual current of all its strings together may be had with one of them dark, or one LED shorted."""
        test_point = self.bench.leads.get(("lamp", lamp.name))
        volts = self.bench.usual_volts(test_point) if test_point is not None else None
        whole = (
            self.bench.expected(test_point, volts, with_resistors=True)
            if test_point is not None and volts is not None
            else None
        )
        if test_point is None or volts is None or whole is None:
            return False
        first = frozenset({(lamp.name, 0)})
        dark = self.bench.expected(test_point, volts, with_resistors=True, opened=first)
        short = self.bench.expected(test_point, volts, with_resistors=True, shorted=first)
        return any(
            band is not None
            and band.least * (1.0 - self.meter) <= whole.usual <= band.most * (1.0 + self.meter)
            for band in (dark, short)
        )

    def _read_strings(self, lamp: LampPart, *, through: bool = False) -> dict[int, int]:
        """Each string with a good reading of its own, and that reading."""
        return {
            test_point.string: reading.position
            for reading, test_point in self.good.get(lamp.circuit, ())
            if test_point.string is not None
            and lamp.name in dict(test_point.resistor_positions)
            and self._burns(reading, 1)
            and (reading.through or not through)
        }

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
            test_point = origin_test_point(self.wiring, self.bench, circuit)
            volts = self.bench.usual_volts(test_point) if test_point is not None else None
            self.ways[circuit] = set()
            if test_point is not None and volts is not None:
                behind, _ = self._behind(test_point)
                shown = {names: self._shown(test_point, volts, names) for names in set(behind.values())}
                self.ways[circuit] = {by for by, names in behind.items() if shown[names]}
        return self.ways[circuit]

    def _ask_resistor(self, lamp: LampPart, by: int | None) -> tuple[str, str]:
        """Its circuit, where that would show it; else the lamp, tried through it."""
        itself = ("lamp", lamp.name)
        test_point = self.bench.leads.get(itself)
        shown = self._would_show(Needed("resistor", lamp.name, itself, by), lamp)
        return (
            itself
            if test_point is not None and (test_point.resistor_position == "ahead" or not shown)
            else ("circuit", lamp.circuit)
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
        return self._shows(part)

    def _shows(self, part: Part, *, through: bool = False) -> int | None:
        """A current that would be another if one of its strings were dark, or that of each string by itself.

        `through`: one that came through its resistors.
        """
        for reading, test_point in self.good.get(part.circuit, ()):
            if through and (
                not reading.through or reading.held or part.name not in dict(test_point.resistor_positions)
            ):
                continue
            if test_point.kind == "circuit":
                if self._would_be_missed(reading, test_point, part.name, string=True):
                    return reading.position
            elif test_point.name == part.name and self._burns(reading, part.parallel):
                return reading.position
        strings = self._read_strings(part, through=through) if isinstance(part, LampPart) else {}
        return max(strings.values()) if len(strings) == part.parallel > 1 else None

    def _burns(self, reading: Reading, strings: int) -> bool:
        """Whether a fitting current of a lead alone says that all light.

        What the supply's limit held may be a short, and of several strings one may be dark where that would not show.
        """
        if reading.coarse == "open" or ((reading.held or reading.coarse) and not self._seen(reading)):
            return False
        return reading.amps >= self.lights * strings

    def _seen(self, reading: Reading) -> bool:
        """Whether somebody looked: test records of the same say what was done, that it ran, or that it is the right way round."""
        return any(
            "done" in known.said
            or "hours" in known.said
            or ("polarity" in known.said and not self._spoilt(known, "polarity"))
            for known in self.test_records.of(reading.kind, reading.name)
        )

    def _would_be_missed(
        self, reading: Reading, test_point: TestPoint, *names: str, string: bool = False
    ) -> bool:
        volts = reading.record.volts
        return volts is not None and self._missed(
            test_point,
            frozenset(names),
            volts,
            reading.amps,
            with_resistors=reading.through,
            ohms=reading.ohms,
            string=string,
        )

    def _connected(self, test_point: TestPoint) -> list[Part]:
        """All that is connected to a test point's circuit and to those that are joined to it."""
        return [part for circuit in test_point.circuits for part in self.on.get(circuit, ())]

    def _missed(
        self, test_point: TestPoint, names: frozenset[str], volts: float, amps: float,
        *, with_resistors: bool = True, ohms: float = 0.0, string: bool = False,
    ) -> bool:  # fmt: skip
        """Whether a current of what is connected to a test point would be more than any without these, by what lights one of them.

        `string`: without one string of them.
        """
        most = 0.0
        strings = [lamp for name in names if (lamp := self.lamps.get(name)) is not None and lamp.parallel > 1]
        if string and strings and len(self._connected(test_point)) > MOST_TOLD_APART:
            return False
        if string and strings:
            opened = frozenset((lamp.name, 0) for lamp in strings)
            band = self.bench.expected(
                test_point, volts, with_resistors=with_resistors, ohms=ohms, opened=opened
            )
            return band is not None and amps >= band.most * (1.0 + self.meter) + self.lights
        if any(part.name not in names for part in self._connected(test_point)):
            if len(names) == 1 and len(self._connected(test_point)) > MOST_TOLD_APART:
                return False
            without = test_point._replace(
                resistor_positions=tuple(
                    pair for pair in test_point.resistor_positions if pair[0] not in names
                ),
                others=tuple(other for other in test_point.others if other not in names),
            )
            if without.resistor_positions or without.others:
                band = self.bench.expected(without, volts, with_resistors=with_resistors, ohms=ohms)
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
        return self._shows(lamp, through=True)

    def _tried(self, kind: str, name: str) -> int | None:
        """A test record of its own that says that it was tried, and nothing against it."""
        dark = {
            reading.position
            for reading in self._own(kind, name)
            if reading.fits and reading.amps < self.lights
        }
        for known in self.test_records.of(kind, name):
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
        """A test record of a board; where none is about it, a reading that one of its circuits lights."""
        if any(True for _ in self.test_records.of("board", board)):
            return self._tried("board", board)
        for name, driver in self.wiring.drivers.items():
            for reading, test_point in self.good.get(name, ()) if driver.board == board else ():
                if test_point.kind == "circuit":
                    return reading.position
        return None

    def _own(self, kind: str, name: str) -> Iterator[Reading]:
        return (
            reading for reading in self.test_records.readings if (reading.kind, reading.name) == (kind, name)
        )

    def _spoilt(self, known: Known, key: str) -> bool:
        if key not in known.said:
            return False
        position = known.said[key]
        held = (
            self.test_records.whole(position) if key == "continuity" else self.build.proof[position].polarity
        )
        return held is False

    def _whole(self, kind: str, name: str) -> int | None:
        """A test record of its own that it goes from end to end."""
        for known in self.test_records.of(kind, name):
            if "continuity" in known.said and self.test_records.whole(known.said["continuity"]):
                return known.said["continuity"]
        return None

    def _mated(self, one: Reached) -> int | None:
        """Each pin walked through, or the plug tried by itself."""
        by = self._whole("plug", one.name)
        walked = [
            self.walked.get(("plug", one.name, str(pin))) for pin in range(len(self.wiring.pins[one.name]))
        ]
        return walked[0] if by is None and None not in walked else by

    def _ran(self, lamp: LampPart) -> float:
        """The longest of the latest runs of it, its circuit, board or supply, s; of the two last where a current shows that it is connected to them."""
        driver = self.wiring.drivers[lamp.circuit]
        subjects = [("lamp", lamp.name), ("lamp", lamp.entry), ("circuit", lamp.circuit)]
        if any(
            test_point.kind == "circuit" and self._would_be_missed(reading, test_point, lamp.name)
            for reading, test_point in self.good.get(lamp.circuit, ())
        ):
            subjects += [("board", driver.board or ""), ("supply", driver.supply or "")]
        runs = (
            known.said.get("hours") for kind, name in subjects for known in self.test_records.of(kind, name)
        )
        return max((self.build.proof[at].hours or 0.0 for at in runs if at is not None), default=0.0)

    # -- the way of a current

    def _walk(self, reading: Reading, test_point: TestPoint) -> None:
        """Mark what a circuit's current goes through between the meter and what is connected to it, as far as it would show that.

        Where many are connected there one of them does not show; then what was seen counts.
        """
        behind, joints = self._behind(test_point)
        looked = reading.record.done is not None
        shown: dict[frozenset[str], bool] = {}

        def goes(names: frozenset[str]) -> bool:
            if names not in shown:
                shown[names] = looked or self._would_be_missed(reading, test_point, *names)
            return shown[names]

        for by, names in behind.items():
            if goes(names):
                self.walked.setdefault(by, reading.position)
        for name, joint in joints:
            if looked or self._would_be_missed(reading, test_point, name, string=True):
                self.joined.setdefault((name, joint), reading.position)

    def _behind(
        self, test_point: TestPoint
    ) -> tuple[dict[tuple[str, ...], frozenset[str]], list[tuple[str, str]]]:
        """For each thing that a test point's current goes through the names of what is connected behind it; and all joints."""
        behind: dict[tuple[str, ...], set[str]] = {}
        joints: dict[tuple[str, str], None] = {}
        for name, by, joint in self._way(test_point):
            joints[name, joint] = None
            if by:
                behind.setdefault(by, set()).add(name)
        return {by: frozenset(names) for by, names in behind.items()}, list(joints)

    def _way(self, test_point: TestPoint) -> Iterator[tuple[str, tuple[str, ...], str]]:
        """Each thing that is connected to a test point, what its current goes through, and its joint.

        Where there are two ways round, one of them is told: a current does not prove the other.
        """
        place, circuit = test_point.plus.place, self.wiring.drivers[test_point.circuit]
        for side in ("supply", "return"):
            came = self.wiring.wires.paths_from(self.wiring.node(circuit.net(side), place))
            for part in self._connected(test_point):
                line = self.wiring.drivers[part.circuit].net(side)
                joint = part.supply_leg.to if side == "supply" else part.return_leg.to
                node = self.wiring.node(line, joint)
                if node not in came:
                    continue
                while (edge := came[node]) is not None:
                    yield part.name, _thing(edge), joint
                    node = edge.other(node)
                yield part.name, (), joint


def origin_test_point(wiring: Wiring, bench: Bench, circuit: str) -> TestPoint | None:
    """Where a circuit is measured: its line where it begins, else at the first place where both its lines end."""
    origin = wiring.drivers[circuit].place
    first = next((test_point for (name, _), test_point in bench.lines.items() if name == circuit), None)
    return bench.lines.get((circuit, origin or ""), first)


def _thing(edge: Edge) -> tuple[str, ...]:
    """What a current goes through at an edge: kind, name, and the number of a pin; nothing where a return begins."""
    if edge.kind in ("conductor", "body"):
        return ("run", edge.name)
    if edge.kind == "pin":
        return ("plug", edge.name, str(edge.number))
    if edge.kind == "joint":
        return ("join", str(edge.number)) if edge.number >= 0 else ()
    return ("strip", edge.name)
