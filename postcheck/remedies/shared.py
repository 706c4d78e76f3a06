"""What to do where one thing pulls down the volts of another: less of what they share, a return or a supply of its own.

Flashers against steady lamps, and loads that start against lamps, boards and other loads.
"""

from __future__ import annotations

from collections.abc import Iterator, Set
from itertools import islice
from math import floor, log10

from postcheck.description.printing import format_quantity
from postcheck.description.problems import Path
from postcheck.description.units import Dimension
from postcheck.limits import above, below
from postcheck.plain import quoted
from postcheck.remedies.beside import conductors_beside
from postcheck.remedies.drops import MARGIN, eased, lossy_runs, works_from
from postcheck.remedies.proposal import Change, Proposal, of_another, quantity, set_to
from postcheck.remedies.ratings import cells_of, larger_sizes
from postcheck.report import Figure, Finding
from postcheck.survey import Survey
from postcheck.survey.network.supplies import source_of

# How far below the resistance inside that would do a supply is chosen: with its volts, what is cold or starts takes more.
MARGINS = (MARGIN, 3.0)
# What a regulated supply loses from no load to full, as a share: makers' sheets (from memory).
REGULATED = 0.02
# A motor that takes less than this share of another's current cannot do its work (judgement).
SMALLEST = 1.0 / 3.0


# -- flashers


def steadier(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """For steady lamps that jump with a flasher: less resistance in what they share, or a return of its own."""
    subject, step = finding.subject, finding.figures["step"].value
    if subject.kind == "circuit":
        yield from parted(survey, finding, subject.name, step)
        return
    # a lamp that flashes by itself also shares its circuit's line with others
    circuit = survey.parts.named[subject.name].circuit
    yield from parted(survey, finding, circuit, step, {circuit})


# -- loads that start


def without_dip(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """For a lamp that dips as a load starts: less of what they share, a supply of its own for the load, a smaller load."""
    load = finding.parts["load"]
    if isinstance(load, tuple):
        return
    circuit, dip = survey.electrics.loads[load.name].part.circuit, finding.figures["dip"].value
    lamp = survey.parts.named[finding.subject.name].circuit
    yield from parted(survey, finding, circuit, dip, {circuit} & {lamp})
    if circuit != lamp:
        yield from _own_supply(survey, circuit)
    yield from _smaller(survey, finding, load.name)


def _own_supply(survey: Survey, circuit: str) -> Iterator[Proposal]:
    """Another supply of the same sort for a circuit, with a return of its own; tried, but which one it is the builder says."""
    said, driver = survey.build.circuit[circuit], survey.wiring.drivers[circuit]
    name, own = said.supply, f"{circuit}-supply"
    if name is None or said.own_return or own in survey.build.supply:
        return
    beside = conductors_beside(survey, driver.return_net, f"{own}-", circuit)
    if beside is None or any(run.line == f"{name}+" for run in survey.build.run):
        return
    names, changes = beside
    yield Proposal(
        f"Feed {quoted(circuit)} from a supply of its own, with a return of its own beside {names}.",
        (
            Change(("supply", own), survey.build.supply[name], None),
            Change(("circuit", circuit, "supply"), own, None),
            *changes,
        ),
    )


def _smaller(survey: Survey, finding: Finding, name: str) -> Iterator[Proposal]:
    """A smaller load: what it takes as it starts, and less so in use, goes with its size, and the dip with that."""
    load = survey.build.load[int(survey.electrics.loads[name].part.path[1])]
    starting = finding.figures["starting"].value
    part = 0.0 if finding.limit is None else finding.limit.value / finding.figures["dip"].value / MARGIN
    if load.typical >= starting or below(part, SMALLEST):
        return
    most = rounded_down(starting * part)
    path = survey.electrics.loads[name].part.path[:2]
    smaller = {"starting": most, "typical": load.typical * part}
    yield Proposal(
        f"Use a smaller one for {quoted(name)}, that takes no more than {format_quantity(most, Dimension.CURRENT)} as it starts.",
        tuple(of_another(quantity((*path, key), amps, Dimension.CURRENT)) for key, amps in smaller.items()),
        figures={"most": Figure(most, "A")},
    )


def not_pulled_down(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """Less resistance in what the two share: wire, then the supply itself; else one that works from what is left."""
    name, figures = finding.subject.name, finding.figures
    got, needs = figures["start" if "start" in figures else "lowest"].value, figures["needs"].value
    if finding.subject.kind == "board":
        feed, nets = survey.build.board[name].supply, set[str]()
        before = next((sag.before for sag in survey.electrics.sags if sag.name == name), 0.0)
        path: Path = ("board", name, "least_volts")
    else:
        load = survey.electrics.loads[name]
        driver = survey.wiring.drivers[load.part.circuit]
        feed, nets, before = driver.supply or "", {load.part.circuit, driver.return_net}, load.volts
        path = (*load.part.path[:2], "lowest")
    supply = survey.build.supply.get(feed)
    if supply is not None and supply.kind != "converter":
        volts = _given(survey, feed, finding)
        lost, allowed = volts - got, volts - needs
        runs = lossy_runs(survey, {f"{feed}+", f"{feed}-", *nets})
        if 0.0 < allowed < lost:
            yield from islice(eased(survey, runs, lost, allowed, source_of(supply, 0)[0] - before), 1)
            yield from islice(stiffer(survey, feed, allowed / lost), 2)
    yield from works_from(path, got)


def _given(survey: Survey, feed: str, finding: Finding) -> float:
    """The open volts of a supply in the state that a finding is about."""
    supply = survey.build.supply[feed]
    if finding.case == "half empty":
        return survey.batteries[feed].half_volts
    low = finding.check == "load.no-start" or finding.case == "supply low"
    return source_of(supply, -1 if low else 0)[0]


# -- less of what is shared


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
    if above(supply.regulation or 0.0, REGULATED):
        shown = format_quantity(REGULATED, Dimension.SHARE)
        yield Proposal(
            f"Use a regulated supply, one that loses no more than {shown} from no load to full.",
            (quantity(("supply", name, "regulation"), REGULATED, Dimension.SHARE),),
        )
    if supply.resistance and fraction > 0.0:
        inside = "cells that all together have" if supply.kind == "battery" else "a supply that has"
        for margin in MARGINS:
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
