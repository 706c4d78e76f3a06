"""A plugin of pytest: which test runs which line, and how long it takes (processor seconds)."""

from __future__ import annotations

import json
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import coverage
import pytest

LINES, TIMES = "mutants.coverage", "mutants.times.json"


def build_of(item: pytest.Item) -> str:
    """The build of the corpus that a test is about, or nothing."""
    call = getattr(item, "callspec", None)
    path = call.params.get("path") if call is not None else None
    return path.name if isinstance(path, Path) else ""


class Recorder:
    def __init__(self, root: Path, rooms: list[str], *, more: bool) -> None:
        self.root = root
        self.coverage = coverage.Coverage(
            data_file=str(root / LINES),
            config_file=False,
            include=[f"{root}/postcheck/{room}/*" for room in rooms],
        )
        self.times: dict[str, tuple[float, str]] = {}
        if more and (root / TIMES).exists():
            self.coverage.load()
            self.times = json.loads((root / TIMES).read_text())

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Of the corpus what is expected of each build is enough: its other tests would take longer than they tell."""
        items[:] = [item for item in items if not build_of(item) or item.path.name == "test_builds.py"]

    @pytest.hookimpl(hookwrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        self.coverage.switch_context(item.nodeid)
        begun = time.process_time()
        yield
        self.times[item.nodeid] = (time.process_time() - begun, build_of(item))
        self.coverage.switch_context("")

    def pytest_sessionfinish(self) -> None:
        self.coverage.stop()
        self.coverage.save()
        (self.root / TIMES).write_text(json.dumps(self.times))


def record(root: Path, rooms: list[str], tests: list[str], *, more: bool) -> int:
    """To be called before anything of the package is imported. `more`: beside what was recorded before."""
    recorder = Recorder(root, rooms, more=more)
    recorder.coverage.start()
    return int(pytest.main(["-q", "-n", "0", "-p", "no:cacheprovider", *tests], plugins=[recorder]))


class Lines:
    """What was recorded."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.data = coverage.CoverageData(str(root / LINES))
        self.data.read()
        times: dict[str, tuple[float, str]] = json.loads((root / TIMES).read_text())
        self.times = {test: seconds for test, (seconds, _) in times.items()}
        self.builds = {test: build for test, (_, build) in times.items()}
        self.kin: dict[str, list[str]] = {}
        for test in times:
            self.kin.setdefault(self._family(test), []).append(test)
        self._files: dict[str, dict[int, list[str]]] = {}

    def _family(self, test: str) -> str:
        return self.builds[test] or test.split("::", maxsplit=1)[0]

    def tests(self, path: str, lines: tuple[int, int], bound: float) -> list[str]:
        """The tests of these lines: one of each file first, quickest first, within so many seconds in all.

        A test that is handed what an earlier one computed (of the same build of the corpus, or from a cache of its file)
        runs none of the lines itself, so such neighbours follow.
        """
        if path not in self._files:
            self._files[path] = self.data.contexts_by_lineno(str(self.root / path))
        seen = self._files[path]
        here = [test for line in range(lines[0], lines[1] + 1) for test in seen.get(line, [])]
        direct = {test for test in here if test in self.times}
        ranked: list[tuple[int, float, str]] = []
        if here and not direct:  # run by an import alone: then those that run most of the file
            most = Counter(test for tests in seen.values() for test in tests if test in self.times)
            ranked = [(-count, self.times[test], test) for test, count in most.items()]
        kin = {test for family in {self._family(test) for test in direct} for test in self.kin[family]}
        files: Counter[str] = Counter()
        for test in sorted(kin, key=lambda test: (test not in direct, self.times[test], test)):
            file = test.split("::", maxsplit=1)[0]
            files[file] += 1
            ranked.append((files[file], self.times[test], test))
        chosen, spent = [], 0.0
        for _, seconds, test in sorted(ranked):
            if spent + seconds <= bound:
                spent += seconds
                chosen.append(test)
        return chosen
