"""What to do about volts lost on the way: thicker wire of the same sort, more conductors, or what works from fewer volts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil

from postcheck.description.printing import format_quantity
from postcheck.description.problems import Path
from postcheck.description.units import Dimension
from postcheck.plain import quoted
from postcheck.remedies.proposal import Proposal, of_another, quantity, set_to
from postcheck.remedies.ratings import VOLTS
from postcheck.remedies.subjects import strip_part
from postcheck.remedies.wires import thicker_wires
from postcheck.report import Figure, Finding
from postcheck.survey import Survey
from postcheck.survey.network.figures import RunFigures
from postcheck.survey.network.supplies import source_of

# The current grows with the volts gained.
MARGIN = 1.25
# A run that loses less than this share of the worst one is left as it is.
SMALL = 0.3
# Each conductor more in a post is a burden: beyond this many nobody would lay them.
MOST_SIDE_BY_SIDE = 4


def lossy_runs(survey: Survey, nets: set[str]) -> list[RunFigures]:
    """The runs of some lines that lose most, worst first; those that lose little, or were measured, are left out."""
    runs = [
        run
        for run in survey.electrics.runs.values()
        if run.part.line in nets
        and run.drop > 0.0
        and run.part.wire is not None
        and run.part.measured is None
    ]
    runs.sort(key=lambda run: -run.drop)
    return [run for run in runs if run.drop >= SMALL * runs[0].drop]


def eased(
    survey: Survey, runs: Sequence[RunFigures], lost: float, allowed: float, of: float
) -> Iterator[Proposal]:
    """Thicker wire, or more conductors, for the run that loses most, or else for all that do.

    `lost` has to come down to `allowed`; `of` is what is lost together with the drops of the runs, which go with their
    resistance.
    """
    factor, named = 0.0, ""
    thicker: list[Proposal] = []
    for group, sizes in ((runs[:1], 1), (runs, 2)) if len(runs) > 1 else ((runs, 3),):
        fraction = sum(run.drop for run in group) / of if of > 0.0 else 0.0
        left = fraction - (1.0 - allowed / lost)
        if left <= 0.0:
            continue
        factor = MARGIN * fraction / left
        named = " and ".join(quoted(run.part.name) for run in group)
        lists = [
            thicker_wires(survey, run.part.wire, run.part.wire.ohms_per_metre / factor)
            for run in group
            if run.part.wire is not None
        ]
        choices = [
            Proposal(
                f"Use {_listed(group, choice)}.",
                tuple(
                    set_to((*run.part.path, "wire"), name) for run, name in zip(group, choice, strict=True)
                ),
            )
            for choice in zip(*lists, strict=False)
        ]
        yield from choices[:sizes]
        thicker += choices[sizes:]
    count = ceil(factor - 1e-9)
    if 1 < count <= MOST_SIDE_BY_SIDE:
        more = [(run.part, run.part.conductors * count) for run in runs]
        changes = tuple(set_to((*part.path, "conductors"), number) for part, number in more)
        yield Proposal(f"Lay {count} conductors side by side for each one of {named}.", changes)
    yield from thicker


def _listed(group: Sequence[RunFigures], choice: Sequence[str]) -> str:
    runs: dict[str, list[str]] = {}
    for run, name in zip(group, choice, strict=True):
        runs.setdefault(name, []).append(quoted(run.part.name))
    return ", ".join(
        f"{name} for {' and '.join(names) if len(names) < 3 else ', '.join(names)}"
        for name, names in runs.items()
    )


def on_the_way(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """For a lamp that loses too many volts on its way."""
    lost, circuit = finding.figures["lost"].value, finding.subject.name
    allowed = lost * _fraction_of(finding, "dimmer" if finding.case == "light" else "lost")
    yield from eased(
        survey, lossy_runs(survey, {circuit, survey.wiring.drivers[circuit].return_net}), lost, allowed, lost
    )


def _fraction_of(finding: Finding, figure: str) -> float:
    """How much of a figure its limit leaves; light goes with the volts lost, nearly."""
    return 0.0 if finding.limit is None else finding.limit.value / finding.figures[figure].value


def to_strip(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """For a strip that loses volts on its way."""
    part = strip_part(survey, finding.subject.name)
    if part is None or finding.limit is None or not (finding.case or "").startswith("before"):
        return
    lost = finding.figures["missing"].value
    runs = lossy_runs(survey, {part.circuit, survey.wiring.drivers[part.circuit].return_net})
    light = finding.limit.name == "drop.light"
    yield from eased(survey, runs, lost, lost * _fraction_of(finding, "dimmer" if light else "lost"), lost)


def to_load(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """For a load that gets too few volts in use."""
    load = survey.electrics.loads[finding.subject.name]
    circuit = load.part.circuit
    name = survey.wiring.drivers[circuit].supply or ""
    supply = survey.electrics.supplies.get(name)
    if supply is None or survey.build.supply[name].kind == "converter":
        return
    # A battery runs down, and is judged for that by itself.
    battery = survey.build.supply[name].kind == "battery"
    volts = source_of(survey.build.supply[name], 0 if battery else -1)[0]
    got = finding.figures["volts" if battery else "lowest"].value
    lost, allowed = volts - got, volts - finding.figures["needs"].value
    runs = lossy_runs(survey, {circuit, survey.wiring.drivers[circuit].return_net})
    if allowed > 0.0 and lost > allowed:
        yield from eased(survey, runs, lost, allowed, supply.volts - load.volts)
    else:
        yield from works_from((*load.part.path[:2], "lowest"), got, ", or a supply of more volts")


def works_from(path: Path, got: float, otherwise: str = "") -> Iterator[Proposal]:
    """A load, board or converter that works from the volts (V) that it gets."""
    works = next((volts for volts in reversed(VOLTS) if volts <= got), None)
    if works is not None:
        shown = format_quantity(works, Dimension.VOLTAGE)
        least = quantity(path, works, Dimension.VOLTAGE)
        yield Proposal(
            f"Use one that works from {shown}{otherwise}.",
            (of_another(least) if path[0] == "load" else least,),
            figures={"works": Figure(works, "V")},
        )
