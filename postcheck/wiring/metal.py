"""The metal of a post or spar as a conductor: it lies in a passage, and it is one line."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.models import Build
from postcheck.description.naming import passages_of, run_names
from postcheck.description.problems import Problem
from postcheck.plain import quoted
from postcheck.wiring.nets import Nets


def metal_problems(build: Build) -> Iterator[Problem]:
    """Runs that take a passage's metal for two lines at once, or that name no passage whose metal it could be."""
    at, names, passages = Nets(build).at, run_names(build), passages_of(build)
    carried: dict[str, tuple[str, str]] = {}
    for index, run in enumerate(build.run):
        if not run.body or run.line is None:
            continue
        ends = set(run.ends)
        through = run.through or [name for name, of in passages.items() if {of.start, of.end} == ends]
        if not through:
            yield Problem(
                "file.invalid", ("run", index, "body"),
                f"no post or passage joins {quoted(run.ends[0])} and {quoted(run.ends[1])}, so there is no metal to conduct",
                'name it: through = ["post"]', "key",
            )  # fmt: skip
        for passage in through:
            line, other = at(run.line, run.ends[0]), carried.setdefault(passage, (run.line, names[index]))
            if at(other[0], run.ends[0]) != line:
                yield Problem(
                    "file.invalid", ("run", index, "body"),
                    f"the metal of {quoted(passage)} is line {quoted(other[0])} already ({quoted(other[1])}); as {quoted(run.line)} too it would be a dead short",
                    "give one of them a wire", "key",
                )  # fmt: skip
