"""Which test record proves what: by what was said of a thing, or by a current that would be another without it."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.survey.bench.test_points import TestPoint
from postcheck.survey.closing.access import Reached
from postcheck.survey.closing.current_paths import behind, origin_test_point
from postcheck.survey.closing.currents import Currents
from postcheck.survey.test_records.readings import Known, Reading
from postcheck.survey.test_records.records import TestRecords
from postcheck.wiring import Wiring
from postcheck.wiring.parts import LampPart, Part

# What records that a thing was tried.
_TRIED = ("done", "hours", "current", "polarity", "continuity")


class Tested:
    """What the valid test records prove; each method gives the position of a test record, or None.

    `good`: the readings that show something, by circuit, with where they were taken. `proven`: a conductor, pin or joint of
    lines, and the test record whose current goes through it; `proven_joints`: the same for a part at the place of its joint.
    """

    def __init__(self, wiring: Wiring, currents: Currents, test_records: TestRecords) -> None:
        self.wiring: Wiring = wiring
        self.currents: Currents = currents
        self.test_records: TestRecords = test_records
        self.named: dict[str, LampPart] = {lamp.entry: lamp for lamp in wiring.parts.lamps}
        self.good: dict[str, list[tuple[Reading, TestPoint]]] = {}
        self.proven: dict[tuple[str, ...], int] = {}
        self.proven_joints: dict[tuple[str, str], int] = {}
        for reading in test_records.readings:
            if reading.fits and reading.test_point is not None:
                # of several, a current that lights none of them, or that the supply limited, shows nothing
                if reading.test_point.kind == "circuit" and (reading.held or reading.amps < currents.lights):
                    continue
                for circuit in reading.test_point.circuits:
                    self.good.setdefault(circuit, []).append((reading, reading.test_point))
        for circuit, pairs in self.good.items():
            for reading, test_point in pairs:
                if test_point.kind == "circuit" and test_point.circuit == circuit:
                    seen = reading.record.done is not None
                    self._mark(reading.position, test_point, None if seen else reading)
        for circuit in wiring.drivers:
            by = self._on_its_output("circuit", circuit)
            begins = origin_test_point(wiring, currents.bench, circuit) if by is not None else None
            if by is not None and begins is not None:
                self._mark(by, begins)

    def _on_its_output(self, kind: str, name: str) -> int | None:
        """The test record that what a constant-current output drives was seen to light on that, with no bench supply."""
        part = self.named.get(name) if kind == "lamp" else None
        driver = self.wiring.drivers.get(part.circuit if part is not None else name)
        by = self.tried(kind, name) if driver is not None and driver.steady is not None else None
        record = self.wiring.build.proof[by] if by is not None else None
        return by if record is not None and record.done is not None and record.volts is None else None

    def _mark(self, by: int, test_point: TestPoint, reading: Reading | None = None) -> None:
        """Mark as proven what a circuit's current goes through between a test point and what is connected to it.

        `reading`: a current, which proves a thing as far as it would be another without what lies behind it: where many are
        connected one of them does not show. None where somebody saw the circuit light.
        """
        things, joints = behind(self.wiring, test_point, self.currents.connected(test_point))
        shown: dict[frozenset[str], bool] = {}

        def goes(names: frozenset[str]) -> bool:
            if names not in shown:
                shown[names] = reading is None or self.currents.would_be_missed(reading, test_point, *names)
            return shown[names]

        for thing, names in things.items():
            if goes(names):
                self.proven.setdefault(thing, by)
        for name, joint in joints:
            if reading is None or self.currents.would_be_missed(reading, test_point, name, string=True):
                self.proven_joints.setdefault((name, joint), by)

    def lit(self, part: Part) -> int | None:
        """Its own reading; or one of its circuit that would be less if it were dark.

        Of a lamp that is wired backwards, that it was tried: at the bench as in the model no current shows it.
        """
        if isinstance(part, LampPart) and part.backwards:
            return self.tried("lamp", part.entry)
        return self.shows(part)

    def shows(self, part: Part, *, through: bool = False) -> int | None:
        """A current that would be another if one of its strings were dark, or that of each string by itself.

        `through`: one that came through its resistors. What lights on its own output has all its current through them.
        """
        for kind, name in (("circuit", part.circuit), ("lamp", part.entry)):
            if (by := self._on_its_output(kind, name)) is not None:
                return by
        for reading, test_point in self.good.get(part.circuit, ()):
            if through and (not reading.through or reading.held or part.name not in test_point.lamps):
                continue
            if test_point.kind == "circuit":
                if self.currents.would_be_missed(reading, test_point, part.name, string=True):
                    return reading.position
            elif test_point.name == part.name and self._burns(reading, part.parallel):
                return reading.position
        strings = self.read_strings(part, through=through) if isinstance(part, LampPart) else {}
        return max(strings.values()) if len(strings) == part.parallel > 1 else None

    def read_strings(self, lamp: LampPart, *, through: bool = False) -> dict[int, int]:
        """Each string with a good reading of its own, and that reading."""
        return {
            test_point.string: reading.position
            for reading, test_point in self.good.get(lamp.circuit, ())
            if test_point.string is not None
            and lamp.name in test_point.lamps
            and self._burns(reading, 1)
            and (reading.through or not through)
        }

    def _burns(self, reading: Reading, strings: int) -> bool:
        """Whether a current of a lead that fits its band is enough to show that all of it lights.

        What the supply's limit held may be a short, and of several strings one may be dark where that would not show.
        """
        if reading.coarse == "open" or ((reading.held or reading.coarse) and not self._seen(reading)):
            return False
        return reading.amps >= self.currents.lights * strings

    def _seen(self, reading: Reading) -> bool:
        """Whether somebody looked: a test record of it says what was done, that it ran, or that it is the right way round."""
        return any(
            "done" in known.said
            or "hours" in known.said
            or ("polarity" in known.said and not self._spoilt(known, "polarity"))
            for known in self.test_records.of(reading.kind, reading.name)
        )

    def tried(self, kind: str, name: str) -> int | None:
        """A test record of the thing itself that says that it was tried, with nothing found wrong."""
        dark = {
            reading.position
            for reading in self._own(kind, name)
            if reading.fits and reading.amps < self.currents.lights
        }
        for known in self.test_records.of(kind, name):
            bad = any(self._spoilt(known, key) for key in ("polarity", "continuity"))
            if bad or any(reading.fits is False for reading in self._own(kind, name)):
                return None
            for key in _TRIED:
                by = known.said.get(key)
                # a current that lights nothing proves nothing, however long it flowed
                if by is not None and (key == "done" or by not in dark):
                    return by
        return None

    def drives(self, board: str) -> int | None:
        """A test record of a board; where none is about it, a reading that one of its circuits lights."""
        if any(True for _ in self.test_records.of("board", board)):
            return self.tried("board", board)
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
            self.test_records.whole(position)
            if key == "continuity"
            else self.wiring.build.proof[position].polarity
        )
        return held is False

    def whole(self, kind: str, name: str) -> int | None:
        """A test record of its own that it goes from end to end."""
        for known in self.test_records.of(kind, name):
            if "continuity" in known.said and self.test_records.whole(known.said["continuity"]):
                return known.said["continuity"]
        return None

    def mated(self, one: Reached) -> int | None:
        """Each pin proven by a current through it, or the plug tried by itself."""
        by = self.whole("plug", one.name)
        pins = [
            self.proven.get(("plug", one.name, str(pin))) for pin in range(len(self.wiring.pins[one.name]))
        ]
        return pins[0] if by is None and None not in pins else by

    def ran(self, lamp: LampPart) -> float:
        """The longest recorded burn-in of the lamp or its circuit, s; board and supply count only if a reading shows them connected."""
        driver = self.wiring.drivers[lamp.circuit]
        subjects = [("lamp", lamp.name), ("lamp", lamp.entry), ("circuit", lamp.circuit)]
        if any(
            test_point.kind == "circuit" and self.currents.would_be_missed(reading, test_point, lamp.name)
            for reading, test_point in self.good.get(lamp.circuit, ())
        ):
            subjects += [("board", driver.board or ""), ("supply", driver.supply or "")]
        hours = (
            self.wiring.build.proof[known.said["hours"]].hours
            for kind, name in subjects
            for known in self.test_records.of(kind, name)
            if "hours" in known.said
        )
        return max((one for one in hours if one is not None), default=0.0)
