"""What to do about volts lost on the way: thicker wire of the same sort, more conductors, or what works from fewer volts."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from math import ceil
from typing import NamedTuple, TypeVar

from postcheck.description.printing import format_quantity
from postcheck.description.problems import Path
from postcheck.description.units import Dimension
from postcheck.limits import below
from postcheck.plain import enumerated, quoted
from postcheck.remedies.lead_spec import changed_lead
from postcheck.remedies.proposal import NAMED, Change, Proposal, of_another, quantity, set_to
from postcheck.remedies.ratings import made_for
from postcheck.remedies.subjects import strip_part
from postcheck.remedies.wires import thicker_wires
from postcheck.report import Figure, Finding
from postcheck.survey import Survey
from postcheck.survey.network.figures import LampFigures, RunFigures
from postcheck.survey.network.supplies import source_of
from postcheck.wiring.data import WireData

# The current grows with the volts gained.
MARGIN = 1.25
# A run that loses less than this share of the worst one is left as it is.
SMALL = 0.3
# Each conductor more in a post is a burden: beyond this many nobody would lay them.
MOST_SIDE_BY_SIDE = 4

T = TypeVar("T")


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
    return _worst(runs, lambda run: run.drop)


def _worst(some: Iterable[T], drop: Callable[[T], float]) -> list[T]:
    """Those that lose most, worst first; those that lose little are left out."""
    ranked = sorted(some, key=drop, reverse=True)
    return [one for one in ranked if not below(drop(one), SMALL * drop(ranked[0]))]


class _Copper(NamedTuple):
    """A run, or leads of one wire: what they are called, the volts that are lost in them, what gives them another wire."""

    names: tuple[str, ...]
    wire: WireData
    drop: float
    rewired: Callable[[str], tuple[Change, ...]]
    lamps: int = 0


def _run(figures: RunFigures, wire: WireData) -> _Copper:
    part = figures.part
    return _Copper(
        (quoted(part.name),), wire, figures.drop, lambda name: (set_to((*part.path, "wire"), name),)
    )


def _leads(lamps: Sequence[LampFigures]) -> _Copper | None:
    """The leads of some lamps, as far as the file has them and they are of the first one's wire."""
    wire = lamps[0].part.supply_leg.wire
    alike = {lamp.part.path[:2]: lamp.part for lamp in lamps if lamp.part.supply_leg.wire == wire}
    if wire is None or any(changed_lead(part, wire=wire.name) is None for part in alike.values()):
        return None
    names = [quoted(part.entry) for part in alike.values()]
    whose = enumerated(names) if len(names) <= NAMED else f"{len(names)} lamps"
    called = f"the lead{'s' if len(names) > 1 else ''} of {whose}"

    def rewired(name: str) -> tuple[Change, ...]:
        changes = (changed_lead(part, wire=name) for part in alike.values())
        return tuple(change for change in changes if change is not None)

    return _Copper((called,), wire, max(lamp.lead_drop for lamp in lamps), rewired, len(names))


def eased(
    survey: Survey,
    runs: Sequence[RunFigures],
    lost: float,
    allowed: float,
    of: float,
    lamps: Sequence[LampFigures] = (),
) -> Iterator[Proposal]:
    """Thicker wire, or more conductors, for the run that loses most, or else for all that do; the leads of `lamps` are as a run.

    `lost` has to come down to `allowed`; `of` is what is lost together with the drops of the runs, which go with their
    resistance.
    """
    leads = _leads(lamps) if lamps else None
    pieces = [_run(run, run.part.wire) for run in runs if run.part.wire is not None]
    if leads is not None:
        pieces = _worst([*pieces, leads], lambda piece: piece.drop)
    factor, named = 0.0, ""
    thicker: list[Proposal] = []
    for group, sizes in ((pieces[:1], 1), (pieces, 2)) if len(pieces) > 1 else ((pieces, 3),):
        fraction = sum(piece.drop for piece in group) / of if of > 0.0 else 0.0
        left = fraction - (1.0 - allowed / lost)
        if left <= 0.0:
            continue
        factor = MARGIN * fraction / left
        named = " and ".join(name for piece in group for name in piece.names)
        lists = [thicker_wires(survey, piece.wire, piece.wire.ohms_per_metre / factor) for piece in group]
        many = sum(piece.lamps for piece in group)
        counted = {"leads": Figure(many, "")} if many > NAMED else {}
        choices = [
            Proposal(
                f"Use {_listed(group, choice)}.",
                tuple(
                    change
                    for piece, name in zip(group, choice, strict=True)
                    for change in piece.rewired(name)
                ),
                figures=counted,
            )
            for choice in zip(*lists, strict=False)
        ]
        yield from choices[:sizes]
        thicker += choices[sizes:]
    count = ceil(factor - 1e-9)
    if 1 < count <= MOST_SIDE_BY_SIDE and leads not in pieces:
        more = [(run.part, run.part.conductors * count) for run in runs]
        changes = tuple(set_to((*part.path, "conductors"), number) for part, number in more)
        yield Proposal(f"Lay {count} conductors side by side for each one of {named}.", changes)
    yield from thicker


def _listed(group: Sequence[_Copper], choice: Sequence[str]) -> str:
    named: dict[str, list[str]] = {}
    for piece, name in zip(group, choice, strict=True):
        named.setdefault(name, []).extend(piece.names)
    return ", ".join(
        f"{name} for {' and '.join(names) if len(names) < 3 else ', '.join(names)}"
        for name, names in named.items()
    )


def on_the_way(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """For a lamp that loses too many volts on its way."""
    lost, circuit = finding.figures["lost"].value, finding.subject.name
    allowed = lost * _fraction_of(finding, "dimmer" if finding.case == "light" else "lost")
    nets = {circuit, survey.wiring.drivers[circuit].return_net}
    lamps = (lamp for lamp in survey.electrics.lamps.values() if lamp.part.circuit == circuit)
    worst = _worst(lamps, lambda lamp: lamp.lead_drop)
    yield from eased(survey, lossy_runs(survey, nets), lost, allowed, lost, worst)


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
    works = made_for(got)
    if works is not None:
        shown = format_quantity(works, Dimension.VOLTAGE)
        least = quantity(path, works, Dimension.VOLTAGE)
        yield Proposal(
            f"Use one that works from {shown}{otherwise}.",
            (of_another(least) if path[0] == "load" else least,),
            figures={"works": Figure(works, "V")},
        )
