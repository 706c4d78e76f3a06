"""A build judged over a range of one key, finer where the outcome turns; or over two keys, as a map."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from postcheck.checks.table import CHECKS
from postcheck.description.models import Build
from postcheck.description.problems import QuantityError
from postcheck.description.ranges import values_of
from postcheck.plain import nearest, quoted
from postcheck.reading.what_if import key_steps
from postcheck.report import Effort, Stage
from postcheck.taken import takes
from postcheck.variation import Variation
from postcheck.varying.keys import MOST_A_SIDE, Key, Varied
from postcheck.varying.sweep import SECONDS, MarginError, Progress, Sweep
from postcheck.wiring.doors import takes_build

__all__ = ["MOST_A_SIDE", "SECONDS", "MarginError", "Varied", "varied"]

_MOST_KEYS = 2


def vary(
    build: Build, values: Mapping[str, str], *, stage: Stage | None = None, today: date | None = None, effort: Effort = "quick",
    margin: str | None = None, seconds: float = SECONDS,
) -> Variation:  # fmt: skip
    """The build over the values of one key, or of two: `{"post.bore": "1.6 mm..4 mm"}`, as `postcheck vary` takes them.

    The rest is as `varied` says it. ValueError for a key or values that cannot be read (QuantityError), for other than one or two
    keys, and where nothing is compared by `margin` (MarginError); BuildError where a key is not known or no value makes a build.
    """
    takes_build("vary", build)
    takes("vary", values, Mapping)
    if not seconds >= 0.0:
        raise ValueError(f"seconds is a number from 0 up; not {seconds!r}")
    if not 1 <= len(values) <= _MOST_KEYS:
        raise ValueError(f"one key or two can be varied at once, not {len(values)}")
    keys = [Varied(key_steps(key), values_of(text)) for key, text in values.items()]
    return varied(build, keys, stage=stage, today=today, effort=effort, margin=margin, seconds=seconds)


def varied(
    build: Build, keys: Sequence[Varied], *, stage: Stage | None = None, today: date | None = None, effort: Effort = "quick",
    margin: str | None = None, seconds: float = SECONDS, progress: Progress = lambda _: None,
) -> Variation:  # fmt: skip
    """The build over the values of one key, or of two. `margin`: the check of which the margin is told, else one that turns.

    `seconds` of computing go at most into looking closer, once a coarse grid is judged; turns of the verdict are followed up for
    half as long again. `progress` is told after each judgement how many there have been. KeyboardInterrupt ends it with what there is, told as
    such; before two values are judged, or a row of a map, it is raised. Raises BuildError where a key is not known or no value makes
    a build, QuantityError for too many values, MarginError.
    """
    if margin is not None and margin not in (known := [check.name for check in CHECKS]):
        near = nearest(margin, known)
        hint = f"did you mean {quoted(near)}?" if near else "`postcheck explain` lists them"
        raise MarginError(f"there is no check {quoted(margin)}; {hint}")
    asked = [Key(build, one, len(keys)) for one in keys]
    if len({one.path for one in asked}) < len(asked):
        raise QuantityError("file.invalid", f"{asked[0].key} is named twice", "a map is of two keys")
    sweep = Sweep(build, asked, (stage, today, effort), progress, seconds)
    return sweep.variation(sweep.one() if len(keys) == 1 else sweep.two(), margin)
