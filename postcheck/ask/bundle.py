"""The passage of a small build with the things asked about lying in it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from postcheck.ask.small import survey_of
from postcheck.ask.words import Thing
from postcheck.checks.shown import count_of
from postcheck.report import Effort
from postcheck.survey import Survey


def survey_of_post(post: Mapping[str, Any], things: Iterable[Thing], effort: Effort = "quick") -> Survey:
    """The survey of a build with this post and these things in it: wires as spare runs, what is only measured as cables."""
    runs: list[dict[str, Any]] = []
    cables: dict[str, Any] = {}
    for thing in things:
        if thing.wire is not None:
            runs.append(
                {"name": thing.wire.name, "wire": thing.wire.name, "conductors": thing.pieces, "spare": True}
            )
            continue
        for _ in range(thing.pieces):
            name = f"{thing.written} {len(cables) + 1}"
            cables[name] = {"outside": thing.written}
            runs.append({"name": name, "cable": name, "spare": True})
    ends = ["here", "there"]
    return survey_of(
        {
            "post": {"from": ends[0], "to": ends[1], **post},
            "run": [{**run, "ends": ends} for run in runs],
            "cable": cables,
        },
        effort,
    )


def listed_things(things: Sequence[Thing]) -> str:
    """What they are, in few words: "3 ptfe-28 and one of 1.2 mm", "6 conductors"."""
    if len(things) == 1:
        return _one(things[0])
    if len(things) == 2:
        return f"{_one(things[0])} and {_one(things[1])}"
    return count_of(sum(thing.pieces for thing in things), "conductor")


def _one(thing: Thing) -> str:
    count = "one" if thing.pieces == 1 else str(thing.pieces)
    return f"{count} of {thing.written}" if thing.wire is None else f"{count} {thing.written}"
