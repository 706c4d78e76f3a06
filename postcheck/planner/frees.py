"""What would free a wish that has no plan: changes of the wish itself, each tried."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import zip_longest

from postcheck import catalogue
from postcheck.description.models import Build
from postcheck.description.naming import passages_of
from postcheck.description.problems import Path
from postcheck.description.toml_text import key_in_toml
from postcheck.physics import bundle
from postcheck.plain import quoted
from postcheck.planned import Freed
from postcheck.planner.relaxing import ANEW, BOTH, KEPT, Changes, Near, Series, relaxations
from postcheck.planner.search import roots_of
from postcheck.remedies.proposal import Change
from postcheck.report import Finding
from postcheck.survey import Survey
from postcheck.wiring.data import wire_data

# So many are told at most: the most local ones.
MOST_FREED = 3
# Values of a series are tried so many steps beyond the one that the figures ask for, and so many downwards from one that frees.
BEYOND, DOWN = (0, 1, 3, 6), 4

Works = Callable[[Changes], bool]
"""Whether there is a plan with some changes of the wish. False, too, where no time is left to see."""


def frees(
    wish: Build, after: Survey, blocks: Sequence[Finding], thin: Build, passes: Works, planned: Works
) -> tuple[Freed, ...]:
    """Changes with which a plan is found, each by itself; where none is, of several findings one for each of them together.

    `after`: the best wiring that does not pass, `thin`: that of the thinnest wire. `passes`: whether that wiring itself does
    with some changes, which is soon seen; `planned`: whether another is found.
    """
    roots = sorted(roots_of(blocks), key=lambda one: one.severity != "stop")
    rows = [list(relaxations(Near(wish, after, one, thin))) for one in roots]
    ordered: dict[frozenset[Path], Series] = {}
    for series in (one for some in zip_longest(*rows) for one in some if one is not None):
        ordered.setdefault(frozenset(change.path for change in series.steps[0]), series)
    found: dict[frozenset[Path], int] = {}
    # what is soon seen first; last what the best wiring does not pass with, which another one seldom does
    rounds = ((passes, KEPT, BEYOND), (planned, ANEW, BEYOND), (planned, BOTH, BEYOND[:1]))
    for works, by, beyond in rounds:
        for key, series in ordered.items():
            if key in found or len(found) == MOST_FREED or not (series.by == by or (by == KEPT <= series.by)):
                continue
            number = next((at for at in _from_first(series, beyond) if works(series.steps[at])), None)
            if number is not None:
                found[key] = number
    freed = [_least(ordered[key], found[key], passes, planned) for key in ordered if key in found]
    firsts = [some[0] for some in rows if some]
    if not freed and len(firsts) > 1:
        together = _together(firsts)
        freed = [together] if passes(together) or planned(together) else []
    return tuple(Freed(_says(wish, changes)) for changes in freed)


def _from_first(series: Series, beyond: Sequence[int]) -> list[int]:
    last = len(series.steps) - 1
    return sorted({min(series.first + further, last) for further in beyond})


def _least(series: Series, number: int, passes: Works, planned: Works) -> Changes:
    """The least change with which there is a plan, downwards from one with which there is, as far as it can be tried."""
    for less in range(number - 1, max(number - DOWN, 0) - 1, -1):
        changes = series.steps[less]
        if not ((series.by >= KEPT and passes(changes)) or (series.by >= ANEW and planned(changes))):
            break
        number = less
    return series.steps[number]


def _together(some: Sequence[Series]) -> Changes:
    found: dict[object, Change] = {}
    for series in some:
        for change in series.steps[series.first]:
            found.setdefault(change.path, change)
    return tuple(found.values())


def _says(wish: Build, changes: Changes) -> str:
    values = [
        f"{key_in_toml(str(change.path[-1]))} = {change.written}{_where(wish, change)}" for change in changes
    ]
    if (
        len(changes) > 1
        and len({(change.path[0], change.path[-1], change.written) for change in changes}) == 1
    ):
        first = changes[0]
        names = [_where(wish, change) for change in changes]
        values = [f"{key_in_toml(str(first.path[-1]))} = {first.written}{' and'.join(names)}"]
    return f"With {' and '.join(values)} there is a plan."


def _where(wish: Build, change: Change) -> str:
    """The table of a value; of a list its entry by name."""
    path = change.path
    if isinstance(path[1], int):
        return f" for {quoted(getattr(wish, str(path[0]))[path[1]].name)}"
    return f" in [{'.'.join(key_in_toml(str(step)) for step in path[:-1])}]"


def never_fits(wish: Build, least: dict[str, int]) -> frozenset[str]:
    """The passages through which even the fewest conductors do not go, all of the thinnest wire there is: proven."""
    stock = wish.stock
    names = (
        [*stock.wires, *stock.leads]
        if stock.wires and stock.leads
        else [*catalogue.names("wire"), *wish.wire]
    )
    thinnest = min(wire_data(wish, name).max_diameter for name in names)
    return frozenset(
        name
        for name, passage in passages_of(wish).items()
        if least.get(name) and bundle.pack([thinnest] * least[name], passage.bore).verdict == bundle.CANNOT
    )
