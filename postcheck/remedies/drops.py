"""What to do about volts lost on the way: thicker wire of the same sort, more conductors, a return of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence, Set
from math import ceil, floor, log10
from typing import NamedTuple

from postcheck.description.models import Run
from postcheck.description.naming import run_names
from postcheck.description.printing import format_quantity
from postcheck.description.problems import Path
from postcheck.description.units import Dimension
from postcheck.plain import enumerated, quoted
from postcheck.remedies.lead_spec import changed_lead
from postcheck.remedies.proposal import Change, Proposal, Proposer, in_words_of, of_another, quantity, set_to
from postcheck.remedies.ratings import VOLTS, cells_of, larger_sizes
from postcheck.remedies.resistor import as_bright
from postcheck.remedies.subjects import strip_part
from postcheck.remedies.table_spec import more
from postcheck.remedies.wires import thicker_wire, thicker_wires
from postcheck.report import Figure, Finding, Subject
from postcheck.survey import Survey
from postcheck.survey.heat.conductors import UsedWire
from postcheck.survey.network.figures import LampFigures, RunFigures
from postcheck.survey.network.supplies import source_of
from postcheck.wiring.data import WireData
from postcheck.wiring.parts import RunPart

# The current grows with the volts gained.
MARGIN = 1.25
MUCH = 3.0
# A run that loses less than this share of the worst one is left as it is.
SMALL = 0.3
# What is too hot, or too long and thin, is tried from this share of its resistance down.
HALF = 0.5
THICKER = (0.5, 0.25, 0.12, 0.06)
# What a regulated supply loses from no load to full, as a share: makers' sheets (from memory).
REGULATED = 0.02
# Runs that are told by name.
NAMED = 3
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
        pieces = sorted([*pieces, leads], key=lambda piece: -piece.drop)
        pieces = [piece for piece in pieces if piece.drop >= SMALL * pieces[0].drop]
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
        counted = (
            {}
            if leads is None or leads not in group or leads.lamps <= NAMED
            else {"leads": Figure(leads.lamps, "")}
        )
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


def _thicker(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """For a lamp that loses too many volts on its way."""
    lost, circuit = finding.figures["lost"].value, finding.subject.name
    allowed = lost * _fraction_of(finding, "dimmer" if finding.case == "light" else "lost")
    nets = {circuit, survey.wiring.drivers[circuit].return_net}
    lamps = [
        lamp
        for lamp in survey.electrics.lamps.values()
        if lamp.part.circuit == circuit and lamp.lead_drop > 0.0
    ]
    lamps.sort(key=lambda lamp: -lamp.lead_drop)
    yield from eased(
        survey, lossy_runs(survey, nets), lost, allowed, lost,
        [lamp for lamp in lamps if lamp.lead_drop >= SMALL * lamps[0].lead_drop],
    )  # fmt: skip


def _fraction_of(finding: Finding, figure: str) -> float:
    """How much of a figure its limit leaves; light goes with the volts lost, nearly."""
    return 0.0 if finding.limit is None else finding.limit.value / finding.figures[figure].value


def _steadier(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """For steady lamps that jump with a flasher: less resistance in what they share, or a return of its own."""
    subject, step = finding.subject, finding.figures["step"].value
    if subject.kind == "circuit":
        yield from parted(survey, finding, subject.name, step)
        return
    # a lamp that flashes by itself shares its circuit's line with others, too
    circuit = survey.parts.named[subject.name].circuit
    yield from parted(survey, finding, circuit, step, {circuit})


def parted(
    survey: Survey, finding: Finding, flasher: str, step: float, also: Set[str] = frozenset()
) -> Iterator[Proposal]:
    """Less resistance in what the lamps share with a circuit (`also`: lines beside the poles), or a return of its own for it."""
    name = survey.wiring.drivers[flasher].supply
    allowed = finding.limit.value if finding.limit is not None else 0.0
    poles = {f"{name}+", f"{name}-", *also}
    tied = [{f"{one}-", f"{supply.shares_negative_with}-"} for one, supply in survey.build.supply.items()]
    for lines in (*tied, *(set(join.lines) for join in survey.build.join)):
        if poles & lines:
            poles |= lines
    shared = lossy_runs(survey, poles)
    drops = sum(run.drop for run in shared) + _inside(survey, name)
    easier = list(eased(survey, shared, step, allowed, drops))
    yield from easier[:2]
    if not also:
        yield from own_return(survey, flasher)
    yield from stiffer(survey, name, allowed / step)
    yield from easier[2:]


def _inside(survey: Survey, name: str | None) -> float:
    """What a supply's own resistance takes of its volts with everything on, V."""
    figures = survey.electrics.supplies.get(name or "")
    return 0.0 if figures is None else figures.nominal * source_of(survey.build.supply[figures.name], 0)[1]


def stiffer(survey: Survey, name: str | None, fraction: float) -> Iterator[Proposal]:
    """A supply that holds its volts: what its own resistance does to all that it feeds comes down to `fraction` of it."""
    supply = survey.build.supply.get(name or "")
    if name is None or supply is None:
        return
    if (supply.regulation or 0.0) > REGULATED:
        shown = format_quantity(REGULATED, Dimension.SHARE)
        yield Proposal(
            f"Use a regulated supply, one that loses no more than {shown} from no load to full.",
            (quantity(("supply", name, "regulation"), REGULATED, Dimension.SHARE),),
        )
    if supply.resistance and fraction > 0.0:
        inside = "cells that all together have" if supply.kind == "battery" else "a supply that has"
        for margin in (MARGIN, MUCH):  # with the volts what is cold or starts takes more, too
            ohms = rounded_down(supply.resistance * fraction / margin)
            shown = format_quantity(ohms, Dimension.RESISTANCE)
            yield Proposal(
                f"Use {inside} no more than {shown} inside.",
                (quantity(("supply", name, "resistance"), ohms, Dimension.RESISTANCE),),
            )
    elif supply.chemistry is not None and supply.size is not None:
        for size in larger_sizes(supply.chemistry, supply.size):
            yield cells_of(name, size)


def rounded_down(ohms: float) -> float:
    """To two figures."""
    step = 10.0 ** (floor(log10(ohms)) - 1)
    return float(f"{floor(ohms / step + 1e-9) * step:.2g}")


def own_return(survey: Survey, flasher: str) -> Iterator[Proposal]:
    """A second conductor beside every run of the shared pole, for this circuit alone."""
    net, own = survey.wiring.drivers[flasher].return_net, f"{flasher}-return"
    beside = conductors_beside(survey, net, own, flasher)
    if survey.build.circuit[flasher].own_return or beside is None:
        return
    names, changes = beside
    yield Proposal(
        f"Give {quoted(flasher)} a return of its own: own_return = true, and for the line {quoted(own)} one more conductor "
        f"beside {names}.",
        (set_to(("circuit", flasher, "own_return"), True), *changes),
    )


def conductors_beside(
    survey: Survey, net: str, line: str, called: str
) -> tuple[str, tuple[Change, ...]] | None:
    """One more conductor for a new line beside every run of another, with the names of these; None where that is more than runs."""
    build = survey.build
    beside = [(number, run) for number, run in enumerate(build.run) if run.line == net and not run.spare]
    touched = any(net in plug.pins for plug in build.plug) or any(net in join.lines for join in build.join)
    if not beside or touched or any(run.cable for _, run in beside):
        return None
    names = run_names(build)
    new = [
        (beside_metal(survey, run) if run.body else run).model_copy(
            update={"line": line, "name": f"{run.name} {called}" if run.name else None}
        )
        for _, run in beside
    ]
    # beside one of its colour, its flag tells which is which
    flagged = [run.model_copy(update={"label": line}) if run.colour or run.label else run for run in new]
    flag = f", with a flag {quoted(line)} on it" if any(run.label for run in flagged) else ""
    named = " and ".join(quoted(names[number]) for number, _ in beside)
    return f"{named}{flag}", tuple(map(more, flagged))


def beside_metal(survey: Survey, metal: Run) -> Run:
    """A wire of the usual sort beside the metal that carries a line, as long as the longest between the same places."""
    ends = set(metal.ends)
    longest = max(run.length or 0.0 for run in survey.build.run if set(run.ends) == ends)
    return metal.model_copy(
        update={"body": False, "ohms": None, "name": None, "length": longest or metal.length, "colour": None}
    )


def _beside_metal(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """A wire beside metal that slides."""
    metal = survey.build.run[int(finding.path[1])]
    wire = beside_metal(survey, metal)
    if wire.length:
        yield from in_words_of(finding, more(wire))


def _cooler(survey: Survey, _: Finding) -> Iterator[Proposal]:
    """Thicker wire for what is too hot in use."""
    limit = survey.limits.value("wire.insulation")
    yield from _thicker_above(survey, lambda used: limit * used.wire.insulation_celsius)


def _cooler_beside(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Thicker wire for all runs that are hotter than what touches one of them withstands."""
    if finding.limit is not None:
        most = finding.limit.value
        yield from _thicker_above(survey, lambda _: most)


def _thicker_above(survey: Survey, most: Callable[[UsedWire], float]) -> Iterator[Proposal]:
    """Thicker wire for all runs that are hotter in use than what `most` says of each, degC."""
    hot = {used.path for used in survey.in_use.wires if used.celsius is None or used.celsius > most(used)}
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
        told = ", ".join(
            f"{name} for {enumerated(of) if len(of) <= NAMED else f'{len(of)} runs'}"
            for name, of in by_wire.items()
        )
        changes = tuple(set_to((*run.path, "wire"), name) for run, name in zip(runs, names, strict=True))
        counts = {
            f"runs_of_{name}": Figure(float(len(of)), "") for name, of in by_wire.items() if len(of) > NAMED
        }
        yield Proposal(f"Use {told}.", changes, figures=counts)


def _as_its_fellows(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Thicker wire for the leads of the lamps that get less."""
    also = finding.parts.get("also")
    names = (
        [finding.subject.name, *(other.name for other in also)]
        if isinstance(also, tuple)
        else [finding.subject.name]
    )
    if finding.case == "whites:whites":
        other = finding.parts["other"]
        brighter = next(
            part for part in survey.parts.lamps if isinstance(other, Subject) and part.name == other.name
        )
        yield from as_bright(survey, brighter, 1.0 + finding.figures["difference"].value)
        return
    parts = [part for part in survey.parts.lamps if part.name in names]
    wire = parts[0].supply_leg.wire if parts else None
    if wire is None:
        return
    for name in thicker_wires(survey, wire, HALF * wire.ohms_per_metre):
        changes = [changed_lead(part, wire=name) for part in parts]
        known = tuple(change for change in changes if change is not None)
        if len(known) == len(changes):
            whose = " and ".join(quoted(part.name) for part in parts)
            yield Proposal(f"Use {name} for the lead of {whose}.", known)


def _to_strip(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """For a strip that loses volts on its way."""
    part = strip_part(survey, finding.subject.name)
    if part is None or finding.limit is None or not (finding.case or "").startswith("before"):
        return
    lost = finding.figures["missing"].value
    runs = lossy_runs(survey, {part.circuit, survey.wiring.drivers[part.circuit].return_net})
    light = finding.limit.name == "drop.light"
    yield from eased(survey, runs, lost, lost * _fraction_of(finding, "dimmer" if light else "lost"), lost)


def _load(survey: Survey, finding: Finding) -> Iterator[Proposal]:
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


DROPS: dict[str, Proposer] = {
    "line.drop": _thicker,
    "circuit.step": _steadier,
    "load.low-volts": _load,
    "strip.dim": _to_strip,
    "lamp.unequal": _as_its_fellows,
    "wire.hot": _cooler,
    "wire.hot-beside": _cooler_beside,
    "metal.slides": _beside_metal,
}
