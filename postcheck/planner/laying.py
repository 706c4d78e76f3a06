"""Runs for the lines of a draft: from where each begins to all that it feeds or brings back."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from postcheck.description.consumers import Entry, entries
from postcheck.description.models import Build, Lead, Leg, Run
from postcheck.description.naming import passages_between
from postcheck.description.toml_text import in_toml
from postcheck.planner.routes import Routes, Stretch
from postcheck.survey.sheet.cut import cut
from postcheck.wiring.graph import Edge, Graph, Node
from postcheck.wiring.nets import drivers_of


class Missing(NamedTuple):
    """What a plan cannot make up: of which part, what it is, and the lines that would say it, of which table, in words."""

    subject: str
    what: str
    lines: tuple[str, ...]
    table: str = ""


class DraftError(Exception):
    """A build says too little for any wiring to be drafted."""

    def __init__(self, missing: Iterable[Missing]) -> None:
        super().__init__("the build does not say enough for a plan")
        self.missing: tuple[Missing, ...] = tuple(missing)


def circuits_of(entry: Entry) -> Iterator[str]:
    """The circuits that something is on: one, or one a colour."""
    dice = getattr(entry.said, "dice", None)
    yield from (die.circuit for die in dice.values()) if dice else (entry.said.circuit or "",)


def way_to_type(start: str, end: str) -> tuple[str, ...]:
    """The table of a way, with a length in its place."""
    return (
        "[[way]]",
        f"from = {in_toml(start)}",
        f"to = {in_toml(end)}",
        'length = "100 mm"  # as you measure it',
    )


class Laying:
    """Lays the lines of a wish."""

    def __init__(self, wish: Build, routes: Routes) -> None:
        self.wish: Build = wish
        self.routes: Routes = routes

    def runs(self, build: Build) -> Iterator[Run]:
        """A run for each line and each piece of its path, but for those that the file has."""
        has = {(run.line, frozenset(run.ends)) for run in build.run if not run.spare}
        pins = {plug.name: plug.pins for plug in build.plug}
        crossed: dict[Stretch, None] = {}
        joined = _joined_already(build)
        for line, (start, ends) in self._lines(build).items():
            there = joined.reached([Node(line, start)])
            try:
                pieces = self.routes.laid(start, [end for end in ends if Node(line, end) not in there])
            except KeyError as place:
                raise DraftError((self._no_path(line, start, str(place.args[0])),)) from None
            for piece in pieces:
                if piece.plug:
                    if line not in pins[piece.plug]:
                        raise DraftError(
                            (Missing(piece.plug, f"a pin for line {line}", (), "the line in its `pins`"),)
                        )
                    continue
                crossed[piece] = None
                if (line, frozenset((piece.start, piece.end))) not in has:
                    yield self._run(line, piece)
        for piece in crossed:
            if piece.through:
                between = {piece.start, piece.end}
                laid = sum(run.conductors for run in build.run if run.spare and set(run.ends) == between)
                for _ in range(self.wish.stock.spares - laid):
                    yield self._run(None, piece)

    def _no_path(self, line: str, start: str, end: str) -> Missing:
        return Missing(
            line, f"how far it is from {start} to {end}",
            way_to_type(end, self.routes.side_of(end, start)),
        )  # fmt: skip

    def _run(self, line: str | None, piece: Stretch) -> Run:
        ends = (piece.start, piece.end)
        return Run.model_construct(
            line=line,
            ends=ends,
            length=cut(piece.length),
            spare=line is None,
            through=None if passages_between(self.wish, ends) == piece.through else piece.through,
        )

    def _lines(self, build: Build) -> dict[str, tuple[str, tuple[str, ...]]]:
        """Each line with the place where it begins and those that it has to come to."""
        found: dict[str, tuple[str, dict[str, None]]] = {}

        def comes(line: str, start: str, to: str) -> None:
            if start != to:
                found.setdefault(line, (start, {}))[1][to] = None

        drivers = drivers_of(build)
        for entry in entries(build):
            lead, places = entry.said.lead, entry.places
            for circuit in circuits_of(entry):
                driver = drivers[circuit]
                home = driver.place or ""
                supply_joint = _joint(lead, lead.feed if lead else None) or places[0]
                return_joint = _joint(lead, lead.back if lead else None) or places[-1]
                comes(circuit, home, supply_joint)
                if driver.own_return:
                    comes(driver.return_net, home, return_joint)
                    comes(driver.other_pole, self._home(driver.other_pole), home)
                else:
                    pole = self._root(driver.other_pole)
                    comes(pole, self._home(pole), return_joint)
                switched = self._root(driver.pole)
                comes(switched, self._home(switched), home)
        for board in build.board.values():
            for sign in "+-":
                pole = self._root(f"{board.supply}{sign}")
                comes(pole, self._home(pole), board.place)
        for supply in build.supply.values():
            if supply.kind == "converter" and supply.fed_by is not None:
                for sign in "+-":
                    pole = self._root(f"{supply.fed_by}{sign}")
                    comes(pole, self._home(pole), supply.place)
        return {line: (start, tuple(ends)) for line, (start, ends) in found.items()}

    def _root(self, pole: str) -> str:
        """The pole that a negative is one with: that of the supply which a converter is fed by."""
        supply = self.wish.supply[pole[:-1]]
        if pole.endswith("-"):
            other = supply.shares_negative_with
            if supply.kind == "converter" and not supply.isolated:
                other = other or supply.fed_by
            if other is not None:
                return self._root(f"{other}-")
        return pole

    def _home(self, pole: str) -> str:
        return self.wish.supply[pole[:-1]].place


def _joint(lead: Lead | None, leg: Leg | None) -> str | None:
    """Where a leg of a lead ends, None where neither it nor the lead says so."""
    return (leg.to if leg else None) or (lead.to if lead else None)


def _joined_already(build: Build) -> Graph:
    """What runs, plugs, joints and plain switches of the file join: lines at places."""
    edges = [
        Edge("conductor", "", number, *(Node(run.line, end) for end in run.ends))
        for number, run in enumerate(build.run)
        if run.line is not None and not run.spare
    ]
    for plug in build.plug:
        if plug.ends is not None:
            edges += [
                Edge("pin", plug.name, 0, *(Node(line, end) for end in plug.ends)) for line in plug.pins
            ]
    for join in build.join:
        first, *others = (Node(line, join.place) for line in join.lines)
        edges += [Edge("joint", join.place, 0, first, other) for other in others]
    for driver in drivers_of(build).values():
        if driver.lossless and not driver.driven and driver.place is not None:
            edges.append(
                Edge(
                    "channel",
                    driver.circuit,
                    0,
                    Node(driver.pole, driver.place),
                    Node(driver.circuit, driver.place),
                )
            )
    return Graph(edges)
