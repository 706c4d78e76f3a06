"""A plugin of pytest: all is collected once, and each mutant is tried in a fork of that process.

There the code of the changed function, or the value of the changed name, is put in the place of what it was, so nothing is
imported again. A change in the body of a class is tried in a process of its own, with the file changed; so is, on request, what
survived the fork, where a test may have been given what was computed before.
"""

from __future__ import annotations

import ast
import gc
import importlib
import os
import resource
import signal
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import _lru_cache_wrapper
from pathlib import Path
from types import CodeType, FunctionType
from typing import Literal

import pytest

from tests.mutants.changes import Change, given
from tests.mutants.recorder import Lines

Outcome = Literal["killed", "survived", "timeout", "not run"]
QUIET = ["-q", "-n", "0", "-x", "-p", "no:cacheprovider", "--tb=no", "--no-header", "--no-summary", "--disable-warnings"]  # fmt: skip
UNUSABLE = 99
SLOWER = 10  # times the seconds that were recorded, and it hangs
FEW = 40
ALIKE = 12  # tests that killed one before and are tried first


@dataclass(frozen=True)
class Tried:
    """What came of a mutant: the test that failed, if one did, and how many of those that were chosen were run."""

    outcome: Outcome
    by: str = ""
    ran: int = 0
    chosen: int = 0


class Runner:
    def __init__(
        self,
        root: Path,
        lines: Lines,
        changes: list[Change],
        bound: float,
        told: Callable[[Change, Tried], None],
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
        self.killers: Counter[str] = Counter()
        self.last: dict[str, list[str]] = {}
        self.sound: set[str] = set()
        self.unsound: set[str] = set()

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        self.items = {item.nodeid: item for item in session.items}
        for path in {
            change.path for change in self.changes
        }:  # what is imported late would come without its change
            importlib.import_module(_module(path))
        functions: dict[str, list[FunctionType]] = {}
        for thing in gc.get_objects():
            if isinstance(thing, FunctionType) and "/postcheck/" in thing.__code__.co_filename:
                functions.setdefault(thing.__code__.co_filename, []).append(thing)
            elif isinstance(thing, _lru_cache_wrapper):
                thing.cache_clear()
        self.functions = functions
        gc.collect()
        gc.freeze()
        signal.signal(
            signal.SIGTERM, lambda *_: sys.exit(1)
        )  # a file that was changed is put back whatever ends this
        for change in self.changes:
            tried = self._tried(change)
            if tried.by:
                self.killers[tried.by] += 1
                self.last.setdefault(change.path, []).insert(0, tried.by)
            self.told(change, tried)
        return True

    def _tests(self, change: Change) -> list[str]:
        killers = [*self.last.get(change.path, []), *(test for test, _ in self.killers.most_common(ALIKE))]
        chosen = self.lines.tests(change, self.bound, killers)
        return [test for test in chosen if test in self.items and test not in self.unsound]

    def _tried(self, change: Change) -> Tried:
        tests = self._tests(change)
        if not tests:
            return Tried("not run")
        tried = self._forked(change, tests)
        if tried is not None and tried.by and not self._holds(tried.by):
            return self._tried(change)
        # what was made of it as modules were imported is as it was
        once = not change.inside or self.lines.by_import(change)
        if tried is not None and not (tried.outcome == "survived" and (self.again or once)):
            return tried
        return self._anew(change, tests)

    def _holds(self, test: str) -> bool:
        """Whether a test passes by itself and without a change; one that does not would kill every mutant."""
        if test not in self.sound:
            tried = self._forked(None, [test])
            passes = tried is not None and tried.outcome == "survived"
            (self.sound if passes else self.unsound).add(test)
        return test in self.sound

    def _forked(self, change: Change | None, tests: list[str]) -> Tried | None:
        sys.stdout.flush()
        reading, writing = os.pipe()
        child = os.fork()
        if child == 0:
            status = UNUSABLE
            try:
                resource.setrlimit(resource.RLIMIT_AS, (4 << 30, 4 << 30))
                null = os.open(os.devnull, os.O_RDWR)
                for stream in (1, 2):
                    os.dup2(null, stream)
                if change is None or self._put_in(change):
                    status = self._fails(tests, writing)
            except (
                BaseException
            ):  # the fork must not go on as its parent; what went wrong shows in a process of its own
                status = UNUSABLE
            os._exit(status)
        os.close(writing)
        with os.fdopen(reading, "rb") as pipe:
            ran = len(pipe.read())
        _, status = os.waitpid(child, 0)
        by = tests[ran - 1] if ran else ""
        if os.WIFSIGNALED(status):
            slow = os.WTERMSIG(status) in {signal.SIGXCPU, signal.SIGKILL}
            return Tried("timeout" if slow else "killed", by, ran, len(tests))
        code = os.WEXITSTATUS(status)
        if code == UNUSABLE:
            return None
        return Tried("killed", by, ran, len(tests)) if code else Tried("survived", "", ran, len(tests))

    def _put_in(self, change: Change) -> bool:
        file = self.root / change.path
        text = change.made_in(file.read_text())
        if not change.inside:
            return self._give_anew(change, ast.parse(text))
        found: dict[tuple[str, int], CodeType] = {}
        _gather(compile(text, str(file), "exec"), found)
        for function in self.functions.get(str(file), []):
            new = found.get((function.__code__.co_qualname, function.__code__.co_firstlineno))
            if new is None or len(new.co_freevars) != len(function.__code__.co_freevars):
                return False
            function.__code__ = new
        return True

    def _give_anew(self, change: Change, tree: ast.Module) -> bool:
        """Values of a module, and defaults of its functions, with all that follows from them in it; False where it is in a class."""
        module = sys.modules[_module(change.path)]
        space = dict(vars(module))
        names: set[str] = set()
        for statement in tree.body:
            own = statement.lineno <= change.line <= (statement.end_lineno or 0)
            mentions = {part.id for part in ast.walk(statement) if isinstance(part, ast.Name)}
            if own and isinstance(statement, ast.FunctionDef) and not statement.decorator_list:
                exec(compile(ast.Module([statement], []), change.path, "exec"), space)
                old, new = vars(module)[statement.name], space[statement.name]
                old.__defaults__, old.__kwdefaults__ = new.__defaults__, new.__kwdefaults__
                return True
            if isinstance(statement, ast.Assign | ast.AnnAssign) and (own or mentions & names):
                exec(compile(ast.Module([statement], []), change.path, "exec"), space)
                names.update(given(statement))
            elif own:
                return False
        for name in names:
            for other in [m for m in sys.modules.values() if m.__name__.startswith(("postcheck", "tests"))]:
                if vars(other).get(name) is vars(module)[name] and other is not module:
                    setattr(other, name, space[name])
            setattr(module, name, space[name])
        return True

    def _fails(self, tests: list[str], told: int) -> int:
        items = [self.items[test] for test in tests]
        failed: list[pytest.TestReport] = []

        class Watch:
            def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
                if report.failed:
                    failed.append(report)

        items[0].config.pluginmanager.register(Watch())
        for item, following in zip(items, [*items[1:], None], strict=True):
            now = time.process_time()  # of a fork it counts from nothing
            if now > self.bound:
                break
            os.write(told, b".")
            limit = int(now + SLOWER * self.lines.known[item.nodeid].seconds) + 4
            resource.setrlimit(resource.RLIMIT_CPU, (limit, resource.getrlimit(resource.RLIMIT_CPU)[1]))
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
            if failed:
                return 1
        return 0

    def _anew(self, change: Change, tests: list[str]) -> Tried:
        """With the file changed, in processes of their own: first few tests, for what these import and collect is the most of it."""
        file = self.root / change.path
        text = file.read_text()
        names = self.root / "mutants.tests"
        limit = int(3 * self.bound) + 20
        outcome: Outcome = "survived"
        try:
            file.write_text(change.made_in(text))
            for some in filter(None, (tests[:FEW], tests[FEW:])):
                names.write_text("\n".join(some))
                done = subprocess.run(
                    [sys.executable, "-B", "-c", "import tests.mutants.runner as r, sys; sys.exit(r.run_named())"],
                    cwd=self.root, check=False, capture_output=True,
                    preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_CPU, (limit, limit + 1)),
                )  # fmt: skip
                if done.returncode:
                    slow = done.returncode in {-signal.SIGXCPU, -signal.SIGKILL}
                    outcome = "timeout" if slow else "killed"
                    break
        finally:
            file.write_text(text)
        return Tried(outcome, "", len(tests), len(tests))


def _module(path: str) -> str:
    return path.removesuffix(".py").removesuffix("/__init__").replace("/", ".")


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
