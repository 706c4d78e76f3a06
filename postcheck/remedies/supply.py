"""Ratings that are too small: the next one that is sold, of a supply, an output, a board or a plug."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.plain import quoted
from postcheck.remedies.proposal import Change, Proposal, Proposer
from postcheck.report import Figure, Finding
from postcheck.survey import Survey

# Ratings that small adaptors and converters are sold in, A.
SOLD = (0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)
# Steps in which outputs and contacts are rated, A: common practice.
STEPS = tuple(step * decade for decade in (0.01, 0.1, 1.0) for step in (1.0, 1.5, 2.0, 3.0, 5.0))


def rating_for(highest: float, fraction: float) -> float | None:
    """The next rating sold (A) that `highest` (A) loads to no more than `share`; None above all of them."""
    return next((rating for rating in SOLD if highest <= fraction * rating), None)


def _amps(current: float) -> str:
    return format_quantity(current, Dimension.CURRENT)


def _stronger(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The next rating of a supply, unless a short then does harm that it could not do before."""
    name = finding.subject.name
    supply = survey.build.supply[name]
    if "highest" not in finding.figures:
        return
    highest = finding.figures["highest"].value
    rating = rating_for(highest, survey.limits.value("supply.load.caution"))
    if rating is None:
        return
    changes = [Change(("supply", name, "rated"), rating, f'"{_amps(rating)}"')]
    if supply.current_limit is not None:
        changes.append(Change(("supply", name, "current_limit"), rating, f'"{_amps(rating)}"'))
    yield Proposal(f"Use one rated for {_amps(rating)} or more.", tuple(changes))


def _next(current: float) -> float | None:
    return next((step for step in STEPS if current <= step * (1.0 + 1e-9)), None)


def _stronger_output(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """An output, or a board, that is rated for the load."""
    step = _next(finding.figures["highest"].value) if "highest" in finding.figures else None
    if step is None:
        return
    name = finding.subject.name
    if finding.check == "output.overload":
        path: tuple[str | int, ...] = ("circuit", name, "output", "limit")
        # an output may be written in one line, so the file is not changed for it
        yield Proposal(
            f"Use an output rated for {_amps(step)}.",
            (Change(path, step, None),),
            figures={"rated": Figure(step, "A")},
        )
    elif finding.subject.kind == "board":
        path = ("board", name, "total")
        yield Proposal(
            f"Use a board whose outputs together are rated for {_amps(step)}.",
            (Change(path, step, f'"{_amps(step)}"'),),
        )
    else:
        board = survey.build.circuit[name].board or ""
        path = ("board", board, "limit")
        says = (
            f"Use a board with outputs rated for {_amps(step)} each, or an amplifier behind {quoted(board)}."
        )
        yield Proposal(says, (Change(path, step, f'"{_amps(step)}"'),))


def _stronger_pins(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    position = int(survey.electrics.plugs[finding.subject.name].position)
    current = finding.figures["current"].value
    rated = survey.build.plug[position].rated
    step = _next(current / survey.limits.value("plug.load"))
    if step is not None and rated:
        pins = -(-current // (rated * survey.limits.value("plug.load")))
        yield Proposal(
            f"Use a plug with pins rated for {_amps(step)}, or share the line between {pins:.0f} pins.",
            (Change(("plug", position, "rated"), step, f'"{_amps(step)}"'),),
            figures={"pins": Figure(pins, "")},
        )


RATINGS: dict[str, Proposer] = {
    "supply.overload": _stronger,
    "converter.overload": _stronger,
    "output.overload": _stronger_output,
    "board.overload": _stronger_output,
    "plug.overload": _stronger_pins,
}
