"""What has to be proven before a place is closed, and what to test for it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from postcheck.description.consumers import CONSUMERS
from postcheck.survey.bench.bench import Bench
from postcheck.survey.closing.access import Reached
from postcheck.survey.closing.current_paths import behind, origin_test_point
from postcheck.survey.closing.currents import Currents
from postcheck.survey.closing.figures import Closing, Needed
from postcheck.survey.closing.tested import Tested
from postcheck.survey.test_records.records import TestRecords
from postcheck.wiring import Wiring
from postcheck.wiring.parts import LampPart, Part


def closings(
    wiring: Wiring, bench: Bench, test_records: TestRecords, access: Iterable[Reached], places: Iterable[str]
) -> dict[str, Closing]:
    """The closing of each of these places."""
    held: dict[str, list[Reached]] = {place: [] for place in places}
    for one in access:
        if one.place in held:
            held[one.place].append(one)
    covered = _Coverage(wiring, bench, test_records) if held else None
    return covered.closings(held) if covered else {}


class _Coverage:
    """What is needed of each place, with the test record that proves it."""

    def __init__(self, wiring: Wiring, bench: Bench, test_records: TestRecords) -> None:
        self.wiring, self.bench = wiring, bench
        self.build, self.parts = wiring.build, wiring.parts
        self.currents = Currents(wiring.parts, bench, test_records.limits)
        self.tested = Tested(wiring, self.currents, test_records)
        self.parts_at = {(part.name, part.path): part for part in self.parts.all}
        self.named: dict[tuple[str, str], Part] = {(part.kind, part.name): part for part in self.parts.all}
        self.colours: dict[str, list[LampPart]] = {}
        for lamp in self.parts.lamps:
            self.colours.setdefault(lamp.entry, []).append(lamp)
        # the circuit that a line belongs to, as its supply side or its return
        drivers = wiring.drivers
        self.of_net = {driver.return_net: name for name, driver in reversed(drivers.items())} | dict(
            zip(drivers, drivers, strict=True)
        )
        self.first: str = next(iter(drivers), "")
        self.shows: dict[object, bool] = {}  # of each sort of thing on a circuit, whether it would be missed
        self.joints: set[str] = set()  # circuits that are asked for by joints, in any of the places
        self.asked: set[str] = set()
        self.paths: dict[str, set[tuple[str, ...]]] = {}

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
        ran = tuple((lamp.name, self.tested.ran(lamp)) for lamp in lamps if lamp.name in proven)
        held = tuple(one for one in inside if one.reach == "cut")
        return Closing(place, tuple(dict.fromkeys(needed)), ran, held)

    # -- as few tests as will do

    def _planned(self, needed: list[Needed]) -> Iterator[Needed]:
        """The same, with lamps, strips and loads asked for by their circuit where its current shows each of them.

        A circuit is worth a test of its own for several of them, or where its joints ask for one anyhow.
        """
        connected = [
            (one, self.named[one.kind, one.lamp or one.name])
            for one in needed
            if one.kind in CONSUMERS and (one.kind, one.lamp or one.name) in self.named
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
            elif (
                one.kind == "resistor"
                and lamp in own
                and self.currents.lamps[one.name].circuit not in self.joints
            ):
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
        if one.by is None and any(other.plus.place == test_point.plus.place for _, other in self.tested.good.get(part.circuit, ())
                                  if other.kind == "circuit"):  # fmt: skip
            return False  # it was measured there, and that was not enough
        if isinstance(part, LampPart):
            resistor = part.resistor and part.resistor[:2]
            sort: object = (part.circuit, part.dice, part.parallel, part.backwards, resistor)
        else:
            sort = (part.circuit, part.name, part.path)
        if sort not in self.shows:
            self.shows[sort] = self.currents.shown(test_point, volts, frozenset((part.name,)), string=True)
        return self.shows[sort]

    # -- what is in the place

    def _inside(self, inside: Iterable[Reached]) -> Iterator[Needed]:
        apart = {part.name: part for part in self.parts.apart}
        for one in inside:
            for part in self.parts.apart:
                if (part.kind, part.entry) == (one.kind, one.name):  # what is unknown is proven by no test
                    yield Needed(part.kind, part.name, (part.kind, part.name), None)
            if one.name in apart:
                continue
            if one.kind == "lamp":
                for lamp in self.colours.get(one.name, ()):
                    yield from self._strings(lamp)
            elif one.kind in CONSUMERS:
                yield self._works(one)
            elif one.kind == "resistor":
                lamp = self.currents.lamps[one.name]
                # through its resistor; without it the current would be another
                by = self.tested.shows(lamp, through=True)
                yield Needed("resistor", one.name, self._ask_resistor(lamp, by), by)
            elif one.kind == "joint":
                part = self._part(one)
                joint = Needed(
                    "joint",
                    one.name,
                    ("circuit", part.circuit),
                    self.tested.proven_joints.get((one.name, one.place)),
                )
                yield joint._replace(unseen=joint.by is None and not self._would_show(joint, part))
            elif one.kind == "join":
                link = ("join", str(one.number))
                own = next((self.of_net[net] for net in one.lines if net in self.of_net), self.first)
                ask, by = self._ask(link, ("", "")), self.tested.proven.get(link)
                unseen = ask == ("", "") and by is None
                yield Needed("join", one.name, ("circuit", own) if ask == ("", "") else ask, by, unseen)
            elif one.kind == "plug":
                yield Needed("plug", one.name, ("plug", one.name), self.tested.mated(one))
            elif one.kind == "board":
                yield Needed("board", one.name, ("board", one.name), self.tested.drives(one.name))
            elif one.kind == "supply":
                yield Needed("supply", one.name, ("supply", one.name), self.tested.tried("supply", one.name))

    def _strings(self, lamp: LampPart) -> Iterator[Needed]:
        """A lamp, or each of its strings where the current of all together would not show a dark one.

        Where these share a lead, somebody has to look.
        """
        by = self.tested.lit(lamp)
        whole = Needed("lamp", lamp.name, ("lamp", lamp.name), by, lamp=lamp.name)
        if by is not None or lamp.parallel == 1 or not self.currents.hides(lamp):
            yield whole
            return
        strings = self.bench.strings(lamp)
        if not strings:
            yield whole._replace(unseen=True)
        read = self.tested.read_strings(lamp)
        for string, name in enumerate(strings):
            yield Needed("lamp", name, ("lamp", name), read.get(string), lamp=lamp.name)

    def _works(self, one: Reached) -> Needed:
        by = self.tested.lit(self._part(one))
        return Needed(
            one.kind,
            one.name,
            (one.kind, one.name),
            self.tested.tried(one.kind, one.name) if by is None else by,
        )

    def _runs(self, place: str) -> Iterator[Needed]:
        for run in self.parts.runs:
            if place not in run.ends:
                continue
            by = self.tested.whole("run", run.name)
            if by is None and run.live:
                by = self.tested.proven.get(("run", run.name))
            yield Needed("run", run.name, self._ask(("run", run.name), ("run", run.name)), by)

    def _ask(self, by: tuple[str, ...], itself: tuple[str, str]) -> tuple[str, str]:
        """The circuit whose test goes through a conductor, one that is asked for already before others; else itself."""
        circuits = [name for name in self.build.circuit if by in self._goes_through(name)]
        asked = next((name for name in circuits if name in self.asked), circuits[0] if circuits else None)
        return itself if asked is None else ("circuit", asked)

    def _goes_through(self, circuit: str) -> set[tuple[str, ...]]:
        """All that the current of a circuit goes through from where it begins, and that it would show."""
        if circuit not in self.paths:
            test_point = origin_test_point(self.wiring, self.bench, circuit)
            volts = self.bench.usual_volts(test_point) if test_point is not None else None
            self.paths[circuit] = set()
            if test_point is not None and volts is not None:
                things, _ = behind(self.wiring, test_point, self.currents.connected(test_point))
                shown = {
                    names: self.currents.shown(test_point, volts, names) for names in set(things.values())
                }
                self.paths[circuit] = {by for by, names in things.items() if shown[names]}
        return self.paths[circuit]

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
