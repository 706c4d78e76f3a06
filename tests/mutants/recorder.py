"""A plugin of pytest: which test runs which line, and how long it takes (processor seconds).

What was recorded stays: a test is run again only if its file has changed, and the lines of a source that has changed are carried
over to where they are now.
"""

from __future__ import annotations

import ast
import gc
import hashlib
import json
import re
import signal
import sqlite3
import time
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import _lru_cache_wrapper
from heapq import heapify, heappop, heappush
from pathlib import Path

import coverage
import pytest
from coverage.numbits import numbits_to_nums, nums_to_numbits

from tests.mutants.changes import Change, given

LINES, TESTS = "mutants.coverage", "mutants.tests.jsonl"
CORPUS = ("test_builds.py", "test_proposals.py")
MOST_LINES = 1024  # of a file
NEVER = 10_000
LAYERS = 4
LONGEST = 10.0  # processor seconds: a test that takes longer would never be chosen, and is broken off


@dataclass(frozen=True)
class Test:
    """A test as it was recorded: how long it took, the build of the corpus it is about, what its file was."""

    seconds: float
    build: str
    digest: str


def build_of(item: pytest.Item) -> str:
    """The build of the corpus that a test is about, or nothing."""
    call = getattr(item, "callspec", None)
    path = call.params.get("path") if call is not None else None
    return path.name if isinstance(path, Path) else ""


def recorded(root: Path) -> dict[str, Test]:
    """All tests recorded so far, by name; of one recorded twice the last."""
    try:
        rows = (root / TESTS).read_text().splitlines()
    except FileNotFoundError:
        return {}
    return {name: Test(*rest) for name, *rest in map(json.loads, rows)}


class Recorder:
    def __init__(self, root: Path, rooms: list[str]) -> None:
        self.root = root
        self.coverage = coverage.Coverage(
            data_file=str(root / LINES),
            config_file=False,
            include=[f"{root}/postcheck/{room}/*" for room in rooms],
        )
        self.coverage.set_option("run:relative_files", value=True)  # a copy of a copy has its recording too
        self.before = recorded(root)
        if self.before:
            self.coverage.load()
        self.digests: dict[Path, str] = {}

    def digest(self, path: Path) -> str:
        if path not in self.digests:
            self.digests[path] = hashlib.sha256(path.read_bytes()).hexdigest()[:16]
        return self.digests[path]

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Of the corpus what is expected of each build and proposed for it is enough: the rest would take longer than it tells."""
        items[:] = [
            item
            for item in items
            if (not build_of(item) or item.path.name in CORPUS)
            and (item.nodeid not in self.before or self.before[item.nodeid].digest != self.digest(item.path))
        ]

    def pytest_collection_finish(self) -> None:
        """What tests keep of one another would hide what each of them runs."""
        self.caches = [
            thing
            for thing in gc.get_objects()
            if isinstance(thing, _lru_cache_wrapper) and str(thing.__module__).startswith("tests")
        ]

    @pytest.hookimpl(hookwrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        for cached in self.caches:
            cached.cache_clear()
        self.coverage.switch_context(item.nodeid)
        begun = time.process_time()
        signal.setitimer(signal.ITIMER_PROF, LONGEST)
        yield
        signal.setitimer(signal.ITIMER_PROF, 0.0)
        seconds = round(time.process_time() - begun, 4)
        self.coverage.switch_context("")
        with (self.root / TESTS).open("a") as file:
            file.write(json.dumps([item.nodeid, seconds, build_of(item), self.digest(item.path)]) + "\n")

    def pytest_sessionfinish(self) -> None:
        self.coverage.stop()
        self.coverage.save()


def record(root: Path, rooms: list[str], tests: list[str]) -> None:
    """Records what is not recorded yet. To be called before anything of the package is imported."""
    from tests.mutants.runner import QUIET, Settled  # noqa: PLC0415

    def stop(*_: object) -> None:
        raise TimeoutError

    signal.signal(signal.SIGPROF, stop)
    recorder = Recorder(root, rooms)
    recorder.coverage.start()
    pytest.main([option for option in QUIET if option != "-x"] + tests, plugins=[recorder, Settled()])


def carry_over(root: Path, path: str, old: str, new: str) -> None:
    """The lines recorded of a source that was `old` become those of `new`; what is written anew takes those it replaces."""
    to: dict[int, set[int]] = {}
    rows = SequenceMatcher(None, old.splitlines(), new.splitlines(), autojunk=False)
    for kind, begin, end, there, beyond in rows.get_opcodes():
        for at in range(begin, end):
            if kind == "equal":
                to[at + 1] = {there + at - begin + 1}
            else:
                to[at + 1] = {*range(there + 1, beyond + 1)}
    with sqlite3.connect(root / LINES) as base:
        kept = base.execute(
            "select l.rowid, l.numbits from line_bits l join file f on f.id = l.file_id where f.path = ?",
            (path,),
        ).fetchall()
        base.executemany(
            "update line_bits set numbits = ? where rowid = ?",
            [
                (nums_to_numbits(set().union(*(to.get(n, ()) for n in numbits_to_nums(bits)))), row)
                for row, bits in kept
            ],
        )


class Lines:
    """What was recorded."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.base = sqlite3.connect(root / LINES)
        self.known = recorded(root)
        self.kin: dict[str, list[str]] = {}
        for test in self.known:
            self.kin.setdefault(self._family(test), []).append(test)
        ran = self._ran()
        self.breadth = {test: lines.bit_count() for test, lines in ran.items()}
        self.differ = list(self._cover({test: ran[test] for test in self._whole()}))

    def _family(self, test: str) -> str:
        return self.known[test].build or test.split("::", maxsplit=1)[0]

    def _ran(self) -> dict[str, int]:
        """The lines of each test, a bit each."""
        ran: dict[str, int] = dict.fromkeys(self.known, 0)
        rows = self.base.execute(
            "select c.context, l.file_id, l.numbits from line_bits l join context c on c.id = l.context_id"
        )
        for test, file, bits in rows:
            if test in ran:
                ran[test] |= int.from_bytes(bits, "little") << (file * MOST_LINES)
        return ran

    def _whole(self) -> Iterator[str]:
        """The tests of builds of the corpus by all that is said of them, word by word."""
        return (name for name, test in self.known.items() if test.build and "test_builds.py::test_a_" in name)

    def _cover(self, ran: Mapping[str, int]) -> Iterator[str]:
        """Tests that together run all lines that any of these runs, each of which adds the most new ones for its time."""
        seen = 0
        heap = [(-lines.bit_count() / (self.known[test].seconds + 0.02), test) for test, lines in ran.items()]
        heapify(heap)
        while heap:
            _, test = heappop(heap)
            new = (ran[test] & ~seen).bit_count()
            worth = -new / (self.known[test].seconds + 0.02)
            if heap and worth > heap[0][0]:
                if new:
                    heappush(heap, (worth, test))
            elif new:
                seen |= ran[test]
                yield test

    def _of_file(self, path: str) -> dict[str, int]:
        """The lines of a file that each test runs, a bit each."""
        rows = self.base.execute(
            "select c.context, l.numbits from line_bits l join file f on f.id = l.file_id "
            "join context c on c.id = l.context_id where f.path = ?",
            (path,),
        )
        return {test: int.from_bytes(bits, "little") for test, bits in rows if test in self.known}

    def _running(self, path: str, wanted: Iterable[int]) -> set[str]:
        """The tests that run any of these lines of a file."""
        mask = sum(1 << line for line in wanted)
        return {test for test, lines in self._of_file(path).items() if lines & mask}

    def by_import(self, change: Change) -> bool:
        """Whether no test runs its statement: imports alone do."""
        return not self._running(change.path, range(change.lines[0], change.lines[1] + 1))

    def _direct(self, change: Change) -> set[str]:
        """The tests that run its statement; of a value outside of functions, those that run a line with its name, or name it."""
        found = self._running(change.path, range(change.lines[0], change.lines[1] + 1))
        if change.inside:
            return found
        named = re.compile(rf"\b(?:{'|'.join(self._following(change)) or '(?!)'})\b")
        for path in (self.root / "postcheck").rglob("*.py"):
            lines = [at for at, row in enumerate(path.read_text().splitlines(), 1) if named.search(row)]
            if lines:
                found |= self._running(str(path.relative_to(self.root)), lines)
        naming = {
            str(path.relative_to(self.root))
            for path in (self.root / "tests").rglob("test_*.py")
            if named.search(path.read_text())
        }
        return found | {test for test in self.known if test.split("::", maxsplit=1)[0] in naming}

    def _following(self, change: Change) -> set[str]:
        """The names that a change outside of functions gives values to, and those that are worked out from them in its file."""
        names = {*change.names}
        for statement in ast.parse((self.root / change.path).read_text()).body:
            if isinstance(statement, ast.Assign | ast.AnnAssign) and names:
                mentions = {part.id for part in ast.walk(statement) if isinstance(part, ast.Name)}
                names.update(given(statement) if mentions & names else ())
        return names

    def tests(self, change: Change, bound: float, killers: Sequence[str] = ()) -> list[str]:
        """The tests of a change, within so many seconds in all.

        A fifth of the time for such `killers` as run it, and those of its room that run the fewest other lines; a fifth for
        a cover of its file, and once more without these, so that each branch beside it is run; the rest for builds that
        differ the most, and then one of each file after the other, quickest first. A test that is handed what an earlier one
        computed (of the same build of the corpus, or from a cache of its file) runs none of the lines itself, so such
        neighbours follow. A line that is run by an import alone has those tests that run its file.
        """
        beside = self._of_file(change.path)
        direct = self._direct(change) or set(beside)
        # what a model says of its keys, and no function runs, stands in its schema
        models = not change.inside and change.path.startswith("postcheck/description/models/")
        schemas = [test for test in self.known if models and "test_schema.py::test_the_file_is_what" in test]
        kin = {test for family in {self._family(test) for test in direct} for test in self.kin[family]}
        room = f"tests/{Path(change.path).parts[1]}/"
        near = sorted((test for test in direct if test.startswith(room)), key=self.breadth.__getitem__)
        left = {test: beside[test] for test in sorted(direct & beside.keys())}
        layers: list[str] = []
        for _ in range(LAYERS):
            layers += (layer := list(self._cover(left)))
            left = {test: lines for test, lines in left.items() if test not in layer}
        files: Counter[str] = Counter()
        ranked: list[tuple[int, float, str]] = []
        for test in sorted(kin, key=lambda test: (test not in direct, self.known[test].seconds, test)):
            files[self._family(test)] += 1
            turn = files[self._family(test)] if test in direct else NEVER
            ranked.append((turn, self.known[test].seconds, test))
        killers = [*schemas, *(test for test in killers if test in direct)]
        first = self._within([*killers, *near], bound / 5.0)
        second = self._within(layers, bound / 5.0)
        differ = (test for test in self.differ if test in direct)
        return list(self._within([*first, *second, *differ, *(test for *_, test in sorted(ranked))], bound))

    def _within(self, tests: Iterable[str], bound: float) -> Iterator[str]:
        """Such as take so many seconds in all, none twice."""
        spent = 0.0
        for test in dict.fromkeys(tests):
            if spent + self.known[test].seconds <= bound:
                spent += self.known[test].seconds
                yield test
