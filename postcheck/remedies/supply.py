"""Ratings that are too small: the next one that is sold, of a supply, an output, a board or a plug."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from postcheck.description.problems import Path
from postcheck.description.units import Dimension
from postcheck.limits import above
from postcheck.plain import quoted
from postcheck.remedies.fuse import sturdier, with_its_fuse
from postcheck.remedies.output_spec import changed_output
from postcheck.remedies.proposal import Proposal, Proposer, of_another, quantity, set_to
from postcheck.remedies.ratings import (
    ADAPTORS,
    STEPS,
    VOLTS,
    amps,
    in_volts,
    made_for,
    next_step,
    rating_for,
)
from postcheck.report import Figure, Finding, Subject
from postcheck.survey import Survey

# A converter has to work from this share of its source's volts: it gives less under load.
SPARE = 0.95


def _stronger(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The next rating of a supply, unless a short then does harm that it could not do before."""
    if "highest" in finding.figures:
        highest = finding.figures["highest"].value
        name, step = finding.subject.name, next_step(highest)
        if finding.path[-1:] == ("current_limit",) and step is not None:
            raised = quantity(("supply", name, "current_limit"), step, Dimension.CURRENT)
            yield Proposal(f"Use one that gives up to {amps(step)}, or set its limit there.", (raised,))
        rating = rating_for(highest, survey.limits.value("supply.load.caution"))
        if rating is not None:
            yield _rated(survey, name, rating)


def _rated(survey: Survey, name: str, rating: float) -> Proposal:
    """A supply of a higher rating (A): its own limit goes with it."""
    limited = survey.build.supply[name].current_limit is not None
    keys = ("rated", "current_limit") if limited else ("rated",)
    changes = tuple(quantity(("supply", name, key), rating, Dimension.CURRENT) for key in keys)
    return Proposal(f"Use one rated for {amps(rating)} or more.", changes)


def _stronger_output(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """An output, or a board, that is rated for the load."""
    takes = finding.figures.get("highest") or finding.figures.get("current")
    step = next_step(takes.value) if takes is not None else None
    if step is None:
        return
    name = finding.subject.name
    if finding.check == "output.overload" or finding.path[-1:] == ("output",):
        output = survey.build.circuit[name].output
        if output is None:
            return
        yield Proposal(
            f"Use an output rated for {amps(step)}.",
            (changed_output(name, output, limit=step),),
            figures={"rated": Figure(step, "A")},
        )
    elif finding.subject.kind == "board":
        path: Path = ("board", name, "total")
        yield Proposal(
            f"Use a board whose outputs together are rated for {amps(step)}.",
            (quantity(path, step, Dimension.CURRENT),),
        )
    else:
        board = survey.build.circuit[name].board or ""
        path = ("board", board, "limit")
        says = (
            f"Use a board with outputs rated for {amps(step)} each, or an amplifier behind {quoted(board)}."
        )
        yield Proposal(says, (quantity(path, step, Dimension.CURRENT),))


def _for_cold(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """An output rated for what cold filaments take."""
    name, output = finding.subject.name, survey.build.circuit[finding.subject.name].output
    step = next_step(finding.figures["starting"].value / survey.limits.value("output.load"))
    if step is not None and output is not None:
        yield Proposal(
            f"Use an output rated for {amps(step)}, or LEDs.",
            (changed_output(name, output, limit=step),),
            figures={"rated": Figure(step, "A")},
        )


def _stronger_pins(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    position = int(survey.electrics.plugs[finding.subject.name].position)
    current = finding.figures["current"].value
    rated = survey.build.plug[position].rated
    step = next_step(current / survey.limits.value("plug.load"))
    if step is not None and rated:
        each = rated * survey.limits.value("plug.load")
        pins = -(-current // each)
        figures = survey.electrics.plugs[finding.subject.name]
        held = (pins for name, pins in figures.held.items() if name in survey.held_for_good)
        most = map(max, zip(figures.highest, *held, strict=True)) if figures.held else figures.highest
        lines = [
            line
            for line, amps in zip(survey.build.plug[position].pins, most, strict=True)
            if above(amps, each)
        ]
        shared = " and ".join(map(quoted, dict.fromkeys(lines)))
        each_of = " each" if len(set(lines)) > 1 else ""
        yield Proposal(
            f"Use a plug with pins rated for {amps(step)}, or share {shared} between {pins:.0f} pins{each_of}.",
            (quantity(("plug", position, "rated"), step, Dimension.CURRENT),),
            figures={"pins": Figure(pins, "")},
        )


def _starting(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The next rating that gives what a motor asks for at its start."""
    name, starting = finding.subject.name, finding.figures["starting"].value
    rating = rating_for(starting, 1.0)
    if rating is not None:
        plain = _rated(survey, name, rating)
        yield plain
        yield from with_its_fuse(survey, name, plain)
        yield from sturdier(survey, name, plain)


def _for_these_volts(_: Survey, finding: Finding) -> Iterator[Proposal]:
    """A board or load that is made for the volts that there are."""
    kind = finding.subject.kind
    path: Path = ("board", finding.subject.name) if kind == "board" else finding.path[:2]
    if "highest" in finding.figures and (limit := finding.limit) is not None:
        highest, lowest = finding.figures["highest"].value, finding.figures.get("lowest")
        high = not (finding.case or "").startswith(("low", "too low")) and above(highest, limit.value)
        rated = next((volts for volts in VOLTS if not above(highest, volts)), None) if high else None
        if high and rated is not None:
            most = quantity((*path, "most_volts" if kind == "board" else "highest"), rated, Dimension.VOLTAGE)
            yield Proposal(
                f"Use one that withstands {in_volts(rated)} or more.",
                (most if kind == "board" else of_another(most),),
                figures={"rated": Figure(rated, "V")},
            )
        works = made_for(lowest.value) if lowest is not None else None
        if not high and works is not None:
            yield Proposal(
                f"Use one that works from {in_volts(works)}.",
                (quantity((*path, "least_volts"), works, Dimension.VOLTAGE),),
            )


def _works_from_less(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """A converter that works from what its source gives, with something to spare; else a source of more volts."""
    given = finding.figures["given"].value if "given" in finding.figures else 0.0
    weak = (finding.case or "").startswith("too weak")
    for volts in [volts for volts in reversed(VOLTS) if volts <= SPARE * given and not weak][:2]:
        yield Proposal(
            f"Use a converter that works from {in_volts(volts)}, or a source of more volts.",
            (quantity(("supply", finding.subject.name, "least_input"), volts, Dimension.VOLTAGE),),
        )
    yield from _more_volts(survey, finding)


def _more_volts(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """For a converter, one or two cells more, or the next adaptors where the source is not short of amperes."""
    source = finding.parts.get("source")
    name = source.name if isinstance(source, Subject) else ""
    supply = survey.build.supply.get(name)
    if supply is None:
        return
    if supply.kind == "battery" and supply.cells is not None:
        for cells in (supply.cells + 1, supply.cells + 2):
            yield Proposal(
                f"Use {cells} cells for {quoted(name)}.",
                (set_to(("supply", name, "cells"), cells),),
            )
    elif supply.kind == "adaptor" and not (finding.case or "").startswith("too weak"):
        higher = (volts for volts in ADAPTORS if above(volts, supply.volts or 0.0))
        for volts in islice(higher, 2):
            yield Proposal(
                f"Use an adaptor of {in_volts(volts)} for {quoted(name)}.",
                (quantity(("supply", name, "volts"), volts, Dimension.VOLTAGE),),
            )


def _stays_on(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """A bank that stays on at the load that there is, at its lowest too."""
    name = finding.subject.name
    loads = [finding.figures[key].value for key in ("dark", "average") if key in finding.figures]
    least = survey.electrics.supplies[name].least_average
    asks = min([*loads, *([] if least is None else [least])], default=0.0)
    step = next((step for step in reversed(STEPS) if step <= asks), None)
    if step is not None:
        yield Proposal(
            f"Use a plain USB supply, or a bank that stays on at {amps(step)}.",
            (quantity(("supply", name, "switches_off_below"), step, Dimension.CURRENT),),
        )


RATINGS: dict[str, Proposer] = {
    "supply.no-start": _starting,
    "board.wrong-volts": _for_these_volts,
    "load.over-volts": _for_these_volts,
    "converter.no-start": _works_from_less,
    "supply.switches-off": _stays_on,
    "supply.overload": _stronger,
    "converter.overload": _stronger,
    "output.overload": _stronger_output,
    "output.cold-filaments": _for_cold,
    "output.starts": _stronger_output,
    "board.overload": _stronger_output,
    "plug.overload": _stronger_pins,
}
