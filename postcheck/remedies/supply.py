"""What to do about volts lost on the way and supplies that are too small."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from postcheck import catalogue
from postcheck.build.naming import back_line
from postcheck.build.quantities import Dimension, format_quantity
from postcheck.plain import quoted
from postcheck.remedies.proposal import Change, Proposal, Proposer
from postcheck.report import Finding
from postcheck.survey import Survey
from postcheck.survey.figures import RunFigures

__all__ = ["PROPOSERS", "lossy_runs", "rating_for"]

# Ratings that small adaptors and converters are sold in, A.
RATINGS = (0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)
# The current grows with the volts gained.
MARGIN = 1.25
# A run that loses less than this share of the worst one is left as it is.
SMALL = 0.3
# Sizes proposed one after the other differ in resistance by at least this.
STEP = 0.85
# Each conductor more in a post is a burden: beyond this many nobody would lay them.
MOST_SIDE_BY_SIDE = 4


def lossy_runs(survey: Survey, circuit: str) -> list[RunFigures]:
    """The runs of a circuit's own lines that lose most, worst first; those that lose little are left out."""
    lines = {circuit, back_line(survey.build, circuit)}
    runs = [run for run in survey.electrics.runs.values() if run.part.line in lines and run.drop > 0.0]
    runs.sort(key=lambda run: -run.drop)
    return [run for run in runs if run.drop >= SMALL * runs[0].drop]


def rating_for(highest: float, share: float) -> str | None:
    """In words, the next rating sold that `highest` (A) loads to no more than `share`; None above all of them."""
    rating = next((rating for rating in RATINGS if highest <= share * rating), None)
    return None if rating is None else f"Use one rated {format_quantity(rating, Dimension.CURRENT)} or more."


def _thicker(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """A thicker wire of the same make, or more conductors, for the run that loses most, or else for all that do.

    Their drop has to fall by what is too much in all; it goes with the resistance.
    """
    lost, allowed = finding.figures["lost"].value, finding.limit.value if finding.limit is not None else 0.0
    runs = lossy_runs(survey, finding.subject.name)
    for group, sizes in ((runs[:1], 1), (runs, 2)):
        drop = sum(run.drop for run in group)
        left = drop - (lost - allowed)
        if left <= 0.0:
            continue
        factor = MARGIN * drop / left
        wire = group[0].part.wire
        named = " and ".join(quoted(run.part.name) for run in group)
        for name in (
            _of_same_make(wire.name, wire.ohms_per_metre / factor)[:sizes] if wire is not None else ()
        ):
            changes = tuple(Change((*run.part.path, "wire"), name, f'"{name}"') for run in group)
            yield Proposal(f"Use {name} for {named}.", changes)
    count = ceil(factor - 1e-9) if runs and left > 0.0 else MOST_SIDE_BY_SIDE + 1
    if count <= MOST_SIDE_BY_SIDE:
        more = [(run.part, run.part.conductors * count) for run in runs]
        changes = tuple(Change((*part.path, "conductors"), number, str(number)) for part, number in more)
        yield Proposal(f"Lay {count} conductors side by side for each one of {named}.", changes)


def _of_same_make(name: str, ohms_per_metre: float) -> list[str]:
    """Wires of the same make from this resistance down in clear steps, the slimmest first.

    A name has the make, then the size, then perhaps a variant: enamel-0.20-g2.
    """
    make, _, size = name.partition("-")
    variant = size.partition("-")[2]
    names = [other for other in catalogue.names("wire") if other.partition("-")[0] == make]
    alike = [other for other in names if other.partition("-")[2].partition("-")[2] == variant]
    chosen: list[str] = []
    for wire in sorted(map(catalogue.wire, alike), key=lambda wire: -wire.ohms_per_metre):
        if wire.ohms_per_metre <= ohms_per_metre:
            chosen.append(wire.name)
            ohms_per_metre = STEP * wire.ohms_per_metre
    return chosen


PROPOSERS: dict[str, Proposer] = {"line.drop": _thicker}
