"""What is told of a build judged over a range of one key, or of two: plain frozen records."""

from __future__ import annotations

from dataclasses import dataclass

from postcheck.report import NotJudged, Severity, Verdict, WhatIf

__all__ = ["Axis", "Found", "Point", "Segment", "Turn", "Variation"]


@dataclass(frozen=True, slots=True)
class Axis:
    """A key that was varied. `values`: all that were judged, in order, as they stand in a file without quotes.

    `numbers`: the same in `unit`; empty where they are words. `by_ratio`: they are set apart by their ratio, not their
    difference; `series`: they are those of a series of preferred values. `was`: the file's own value as TOML, None where it
    has none; `own`: which of `values` it is, if one.
    """

    key: str
    values: tuple[str, ...]
    numbers: tuple[float, ...] = ()
    unit: str = ""
    by_ratio: bool = False
    series: str = ""
    was: str | None = None
    own: int | None = None


@dataclass(frozen=True, slots=True)
class Found:
    """A finding that is not accepted, or what is wrong where there is no build: then its id is that of a check of files."""

    id: str
    severity: Severity
    says: str


@dataclass(frozen=True, slots=True)
class Point:
    """One judgement. `at`: which value of each axis. `used`: the share of the limit of the variation's margin; None if not compared.

    `first` begins with what is told first: causes, the heaviest ahead. `vital`: how many vital things are not known; `asks`:
    the first of them.
    """

    at: tuple[int, ...]
    verdict: Verdict
    findings: tuple[Found, ...] = ()
    used: float | None = None
    vital: int = 0
    asks: NotJudged | None = None


@dataclass(frozen=True, slots=True)
class Turn:
    """Between two neighbouring points the verdict or the findings are others. Ids: `new`, `gone`, and `other` in weight, upwards.

    `close`: nothing lies between them to three digits.
    """

    below: int
    above: int
    new: tuple[str, ...]
    gone: tuple[str, ...]
    other: tuple[str, ...]
    close: bool


@dataclass(frozen=True, slots=True)
class Segment:
    """Neighbouring points of one verdict, from the first to the last."""

    first: int
    last: int
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class Variation:
    """A build over one key or two. `points`: in the order of the values; of two keys row by row, the first key's values down.

    `turns` and `segments` are those of one key of which the values have an order. `margin`: the check whose comparison
    `used` tells of, empty where none was made; `margin_line`: what it looks at. `what_if`: the other keys that have other
    values than in the file. `gap`: of one range, how far apart at most neighbouring points of one outcome lie with values
    between them that were not judged: their difference, `by_ratio` their ratio; 0 where none was left out.
    """

    file: str
    name: str
    stage: str
    axes: tuple[Axis, ...]
    points: tuple[Point, ...]
    turns: tuple[Turn, ...] = ()
    segments: tuple[Segment, ...] = ()
    margin: str = ""
    margin_line: str = ""
    what_if: tuple[WhatIf, ...] = ()
    gap: float | None = None
    stopped: bool = False
