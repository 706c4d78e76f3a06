"""The limits that a check declares are those that it reads, itself or in the section of the survey that it asks for."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import postcheck
from postcheck.checks.record import Check
from postcheck.checks.table import CHECKS
from postcheck.description.limits import limit_changes
from postcheck.description.models import Build
from postcheck.limits import Limit, Limits
from postcheck.survey import Survey

ROOT = Path(__file__).parents[2]
BUILDS = [*sorted((ROOT / "tests" / "builds").glob("*/*.post.toml")), *sorted((ROOT / "example_builds").glob("*.post.toml"))]  # fmt: skip


class Noting(Limits):
    """Limits that note which of them is read."""

    def __init__(self, build: Build) -> None:
        super().__init__(limit_changes(build)[0])
        self.read: set[str] = set()

    def __getitem__(self, name: str) -> Limit:
        self.read.add(name)
        return super().__getitem__(name)

    def __contains__(self, name: object) -> bool:
        return name in set(self)

    def value(self, name: str) -> float:
        return self[name].value


def whole(survey: Survey, checks: tuple[Check, ...]) -> None:
    for check in checks:
        for _ in check.results(survey):
            pass


def read_by_itself(builds: Iterator[Build]) -> dict[str, set[str]]:
    """What each check reads while it judges a survey whose sections are all there already."""
    found: dict[str, set[str]] = {check.name: set() for check in CHECKS}
    for build in builds:
        limits = Noting(build)
        survey = Survey(build, limits)
        whole(survey, CHECKS)
        for check in CHECKS:
            limits.read.clear()
            whole(survey, (check,))
            found[check.name] |= limits.read
    return found


def test_the_declared_limits_are_those_that_are_read() -> None:
    builds = [postcheck.load(path) for path in BUILDS]
    wrong: dict[str, tuple[set[str], set[str]]] = {}
    for name, read in read_by_itself(iter(builds)).items():
        (check,) = (check for check in CHECKS if check.name == name)
        unread = set(check.limits) - read
        for build in builds:
            if not unread:
                break
            limits = Noting(build)
            whole(Survey(build, limits), (check,))
            unread -= limits.read
        undeclared = read - set(check.limits)
        if unread or undeclared:
            wrong[name] = (unread, undeclared)
    assert wrong == {}
