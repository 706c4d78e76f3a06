"""What to do about volts lost on the way and supplies that are too small."""

from __future__ import annotations

from math import ceil

from postcheck import catalogue
from postcheck.build.naming import back_line
from postcheck.checks.shown import amps
from postcheck.plain import quoted
from postcheck.survey import Survey
from postcheck.survey.figures import RunFigures

__all__ = ["remedy_for_drop", "remedy_for_rating", "worst_run"]

# Ratings that small adaptors and converters are sold in, A.
RATINGS = (0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)


def worst_run(survey: Survey, circuit: str) -> RunFigures | None:
    """The run of a circuit's own lines on which most volts are lost."""
    lines = {circuit, back_line(survey.build, circuit)}
    runs = [run for run in survey.electrics.runs.values() if run.part.line in lines and run.drop > 0.0]
    return max(runs, key=lambda run: run.drop, default=None)


def remedy_for_drop(survey: Survey, circuit: str, lost: float, allowed: float) -> str | None:
    """More conductors, or a thicker wire, for the run that loses most: its drop must fall by what is too much.

    The drop of a run goes with its resistance; the current grows a little with the volts gained, so a tenth is added.
    """
    run = worst_run(survey, circuit)
    if run is None:
        return None
    left = run.drop - (lost - allowed)
    if left <= 0.1 * run.drop:
        return f"Move the supply or a converter nearer: {quoted(run.part.name)} alone cannot be made thick enough."
    factor = 1.1 * run.drop / left
    count = ceil(run.part.conductors * factor - 1e-9)
    words = f"Lay {count} conductors side by side as {quoted(run.part.name)}"
    if run.part.wire is None:
        return f"{words}."
    per_metre = run.part.wire.ohms_per_metre / factor
    family = run.part.wire.name.rpartition("-")[0]
    thicker = [
        wire
        for wire in (catalogue.wire(name) for name in catalogue.wires() if name.startswith(f"{family}-"))
        if wire.ohms_per_metre <= per_metre
    ]
    if family and thicker:
        return f"{words}, or use {max(thicker, key=lambda wire: wire.ohms_per_metre).name} for it."
    return f"{words}."


def remedy_for_rating(highest: float, share: float) -> str | None:
    """The next rating sold that `highest` loads to no more than `share`."""
    rating = next((rating for rating in RATINGS if highest <= share * rating), None)
    return None if rating is None else f"Use one rated {amps(rating)} or more."
