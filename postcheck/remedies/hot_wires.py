"""What to do about conductors that are too hot in use: thicker wire of the same sort."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from postcheck.limits import above
from postcheck.plain import enumerated, quoted
from postcheck.remedies.proposal import NAMED, Proposal, set_to
from postcheck.remedies.wires import thicker_wire
from postcheck.report import Figure, Finding
from postcheck.survey import Survey
from postcheck.survey.heat.conductors import UsedWire
from postcheck.wiring.parts import RunPart

# Tried from this share of its resistance down.
THICKER = (0.5, 0.25, 0.12, 0.06)


def cooler(survey: Survey, _: Finding) -> Iterator[Proposal]:
    """Thicker wire for what is too hot in use."""
    limit = survey.limits.value("wire.insulation")
    yield from _thicker_above(survey, lambda used: limit * used.wire.insulation_celsius)


def cooler_beside(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Thicker wire for all runs that are hotter than what touches one of them withstands."""
    if finding.limit is not None:
        most = finding.limit.value
        yield from _thicker_above(survey, lambda _: most)


def _thicker_above(survey: Survey, most: Callable[[UsedWire], float]) -> Iterator[Proposal]:
    """Thicker wire for all runs that are hotter in use than what `most` says of each, degC."""
    hot = {
        used.path for used in survey.in_use.wires if used.celsius is None or above(used.celsius, most(used))
    }
    yield from thickened(
        survey, [run for run in survey.parts.runs if run.path in hot and run.wire is not None]
    )


def thickened(survey: Survey, runs: Sequence[RunPart]) -> Iterator[Proposal]:
    """Wires of half, a quarter ... of their resistance for some runs."""
    for fraction in THICKER:
        names = [name for run in runs if (name := thicker_wire(survey, run.wire, fraction)) is not None]
        if not runs or len(names) < len(runs):
            return
        by_wire: dict[str, list[str]] = {}
        for run, name in zip(runs, names, strict=True):
            by_wire.setdefault(name, []).append(quoted(run.name))
        listed = ", ".join(
            f"{name} for {enumerated(of) if len(of) <= NAMED else f'{len(of)} runs'}"
            for name, of in by_wire.items()
        )
        changes = tuple(set_to((*run.path, "wire"), name) for run, name in zip(runs, names, strict=True))
        counts = {
            f"runs_of_{name}": Figure(float(len(of)), "") for name, of in by_wire.items() if len(of) > NAMED
        }
        yield Proposal(f"Use {listed}.", changes, figures=counts)
