"""A plugin of pytest: all is collected once, and each mutant is tried in a fork of that process.

There the code of the changed function is put in the place of what it was, so nothing is imported again. A change outside
functions is tried in a process of its own, with the file changed; so is, on request, what survived the fork, where a test may
have been given what was computed before.
"""

from __future__ import annotations

import gc
import os
import resource
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import _lru_cache_wrapper
from pathlib import Path
from types import CodeType, FunctionType
from typing import Literal

import pytest

from tests.mutants.changes import Change
from tests.mutants.recorder import Lines

Outcome = Literal["killed", "survived", "timeout", "not run"]
QUIET = [
    "-q",
    "-n",
    "0",
    "-x",
    "-p",
    "no:cacheprovider",
    "--tb=no",
    "--no-header",
    "--no-summary",
    "--disable-warnings",
]
UNUSABLE = 99


class Runner:
    def __init__(
        self,
        root: Path,
        lines: Lines,
        changes: list[Change],
        bound: float,
        told: Callable[[Change, Outcome], None],
        *,
        again: bool = False,
    ) -> None:
        self.root, self.lines, self.changes, self.bound, self.told, self.again = (
            root,
            lines,
            changes,
            bound,
            told,
            again,
        )

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        self.items = {item.nodeid: item for item in session.items}
        functions: dict[str, list[FunctionType]] = {}
        for thing in gc.get_objects():
            if isinstance(thing, FunctionType) and "/postcheck/" in thing.__code__.co_filename:
                functions.setdefault(thing.__code__.co_filename, []).append(thing)
            elif isinstance(thing, _lru_cache_wrapper) and str(thing.__module__).startswith("postcheck"):
                thing.cache_clear()
        self.functions = functions
        gc.collect()
        gc.freeze()
        self._hold_without_a_change()
        signal.signal(
            signal.SIGTERM, lambda *_: sys.exit(1)
        )  # a file that was changed is put back whatever ends this
        for change in self.changes:
            self.told(change, self._tried(change))
        return True

    def _hold_without_a_change(self) -> None:
        """RuntimeError where tests fail of themselves, for these would kill every mutant: tried with those of the first."""
        for change in self.changes:
            if tests := self._tests(change):
                same = replace(change, new=change.old)
                if self._forked(same, tests, int(10 * self.bound)) != "survived":
                    raise RuntimeError(f"the tests of {change.path}:{change.line} fail without a change")
                return

    def _tests(self, change: Change) -> list[str]:
        return [
            test for test in self.lines.tests(change.path, change.lines, self.bound) if test in self.items
        ]

    def _tried(self, change: Change) -> Outcome:
        tests = self._tests(change)
        if not tests:
            return "not run"
        limit = int(3 * self.bound) + 20
        if change.inside:
            outcome = self._forked(change, tests, limit)
            if outcome is not None and not (outcome == "survived" and self.again):
                return outcome
        return self._anew(change, tests, limit)

    def _forked(self, change: Change, tests: list[str], limit: int) -> Outcome | None:
        sys.stdout.flush()
        child = os.fork()
        if child == 0:
            status = UNUSABLE
            try:
                resource.setrlimit(resource.RLIMIT_CPU, (limit, limit + 1))
                resource.setrlimit(resource.RLIMIT_AS, (4 << 30, 4 << 30))
                null = os.open(os.devnull, os.O_RDWR)
                for stream in (1, 2):
                    os.dup2(null, stream)
                if self._put_in(change):
                    status = self._fails(tests)
            except (
                BaseException
            ):  # the fork must not go on as its parent; what went wrong shows in a process of its own
                status = UNUSABLE
            os._exit(status)
        _, status = os.waitpid(child, 0)
        if os.WIFSIGNALED(status):
            return "timeout" if os.WTERMSIG(status) in {signal.SIGXCPU, signal.SIGKILL} else "killed"
        code = os.WEXITSTATUS(status)
        return None if code == UNUSABLE else "killed" if code else "survived"

    def _put_in(self, change: Change) -> bool:
        file = self.root / change.path
        found: dict[tuple[str, int], CodeType] = {}
        _gather(compile(change.made_in(file.read_text()), str(file), "exec"), found)
        for function in self.functions.get(str(file), []):
            new = found.get((function.__code__.co_qualname, function.__code__.co_firstlineno))
            if new is None or len(new.co_freevars) != len(function.__code__.co_freevars):
                return False
            function.__code__ = new
        return True

    def _fails(self, tests: list[str]) -> int:
        items = [self.items[test] for test in tests]
        failed: list[pytest.TestReport] = []

        class Watch:
            def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
                if report.failed:
                    failed.append(report)

        items[0].config.pluginmanager.register(Watch())
        for item, following in zip(items, [*items[1:], None], strict=True):
            if time.process_time() > self.bound:  # of a fork it counts from nothing
                break
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
            if failed:
                return 1
        return 0

    def _anew(self, change: Change, tests: list[str], limit: int) -> Outcome:
        file = self.root / change.path
        text = file.read_text()
        names = self.root / "mutants.tests"
        names.write_text(
            "\n".join(tests[:40])
        )  # what a process of its own imports and collects is the most of it
        try:
            file.write_text(change.made_in(text))
            done = subprocess.run(
                [sys.executable, "-B", "-c", "import tests.mutants.runner as r, sys; sys.exit(r.run_named())"],
                cwd=self.root, check=False, capture_output=True,
                preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_CPU, (limit, limit + 1)),
            )  # fmt: skip
        finally:
            file.write_text(text)
        if done.returncode in {-signal.SIGXCPU, -signal.SIGKILL}:
            return "timeout"
        return "killed" if done.returncode else "survived"


def _gather(code: CodeType, into: dict[tuple[str, int], CodeType]) -> None:
    for constant in code.co_consts:
        if isinstance(constant, CodeType):
            into[constant.co_qualname, constant.co_firstlineno] = constant
            _gather(constant, into)


class Settled:
    """Random tests draw the same examples each time, so that what kills a mutant is the mutant."""

    @pytest.hookimpl(tryfirst=True)
    def pytest_configure(self) -> None:
        from hypothesis import settings  # noqa: PLC0415

        settings.register_profile("mutants", derandomize=True, deadline=None, database=None)
        settings.load_profile("mutants")


class Named:
    """Only these tests, in this order."""

    def __init__(self, names: list[str]) -> None:
        self.names = {name: at for at, name in enumerate(names)}

    @pytest.hookimpl(hookwrapper=True, trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> Iterator[None]:
        yield
        items[:] = sorted((i for i in items if i.nodeid in self.names), key=lambda i: self.names[i.nodeid])


def run_named() -> int:
    """Runs the tests that `_anew` wrote down."""
    names = Path("mutants.tests").read_text().split("\n")
    files = sorted({name.split("::")[0] for name in names})
    return int(pytest.main([*QUIET, *files], plugins=[Named(names), Settled()]))
