"""What a short file can ask for a thousandfold: so much in all as can be worked out while somebody waits."""

from collections.abc import Iterator
from math import ceil

from postcheck import catalogue
from postcheck.description.models import Build, Strip
from postcheck.description.naming import run_names
from postcheck.description.problems import Path, Problem
from postcheck.plain import quoted

# In one file. No model has as many; each is what takes some ten seconds, as measured (`tests/slow/`).
MOST_STRINGS = 3_000
MOST_SEGMENTS = 1_500
MOST_CONDUCTORS = 5_000
MOST_CONVERTERS = 30

_Counted = Iterator[tuple[Path, str, int]]


def size_problems(build: Build) -> Iterator[Problem]:
    """The first entry of each kind with which there are too many in all."""
    for counted, most, what in (
        (_strings(build), MOST_STRINGS, "strings side by side"),
        (_segments(build), MOST_SEGMENTS, "segments of strips with a measured trace"),
        (_conductors(build), MOST_CONDUCTORS, "conductors of runs"),
        (_converters(build), MOST_CONVERTERS, "converters"),
    ):
        total = 0
        for path, name, count in counted:
            total += count
            if total > most:
                yield Problem(
                    "file.out-of-range",
                    path,
                    f"with {quoted(name)} there are {total} {what} in this file; at most {most} are worked out, for more takes too long",
                    "is it a typing mistake? otherwise describe the model in several files",
                )
                break


def _strings(build: Build) -> _Counted:
    for index, lamp in enumerate(build.lamp):
        if lamp.parallel > 1:  # of single ones a file needs a table each
            count = lamp.parallel * max(1, len(lamp.dice or ()))
            yield ("lamp", index, "parallel"), lamp.name or lamp.kind, count


def _segments(build: Build) -> _Counted:
    for index, strip in enumerate(build.strip):
        if strip.trace is None:
            continue  # all its segments are side by side
        name = strip.name or strip.kind
        if strip.segments is not None:
            yield ("strip", index, "segments"), name, strip.segments
        elif strip.length is not None and (segment := segment_of(build, strip)) is not None:
            yield ("strip", index, "length"), name, ceil(strip.length / segment)


def segment_of(build: Build, strip: Strip) -> float | None:
    """Length of a segment of a strip, m; None where its kind is unknown."""
    if (own := build.strip_kind.get(strip.kind)) is not None:
        return own.segment
    try:
        return catalogue.strip(strip.kind).segment_length
    except catalogue.UnknownRow:
        return None


def _conductors(build: Build) -> _Counted:
    for index, (run, name) in enumerate(zip(build.run, run_names(build), strict=True)):
        yield ("run", index, "conductors"), name, run.conductors


def _converters(build: Build) -> _Counted:
    for name, supply in build.supply.items():
        if supply.kind == "converter":
            yield ("supply", name, "kind"), name, 1
