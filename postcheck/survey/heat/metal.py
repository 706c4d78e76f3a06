"""The bare metal of a post or spar as a conductor: what touches it shorts its pole, and where it turns it slides."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from postcheck.description.naming import passages_between, passages_of
from postcheck.description.problems import Path
from postcheck.survey.network.supplies import prospective
from postcheck.wiring import Wiring
from postcheck.wiring.graph import Graph, Node
from postcheck.wiring.parts import RunPart


class BareMetal(NamedTuple):
    """Metal that carries a line. `moves`: the passage of it that turns or folds with nothing beside it, or None.

    `supply`: whose positive pole it is, or None. `short`: the most that a short of it draws, A, infinite where nothing known
    limits it. `fuse`: A, of the fuse ahead of it; `limited`: whether a fuse or a limit of the supply's own is ahead of it.
    """

    name: str
    path: Path
    line: str
    passage: str
    moves: str | None
    supply: str | None = None
    short: float = 0.0
    fuse: float | None = None
    limited: bool = False


def bare_metal(wiring: Wiring) -> tuple[BareMetal, ...]:
    """Every post or spar whose metal is part of the network."""
    return tuple(_metal(wiring, run) for run in wiring.parts.runs if run.body and run.live)


def _metal(wiring: Wiring, run: RunPart) -> BareMetal:
    passages = passages_of(wiring.build)
    through = run.through or passages_between(wiring.build, run.ends)
    ends = tuple(wiring.ahead(run.line, place) for place in run.ends)
    moving = [name for name in through if passages[name].turn > 0.0 or passages[name].fold > 0.0]
    metal = BareMetal(run.name, run.path, run.line, through[0] if through else "", None)
    if moving and not _beside(wiring, run):
        metal = metal._replace(moves=moving[0])
    return max(
        _shorts(wiring, metal, ends), key=lambda found: (not found.limited, found.short), default=metal
    )


def _beside(wiring: Wiring, run: RunPart) -> bool:
    """Whether a wire, a plug or the other way round a loop joins the ends of it as well."""
    own = [edge for edge in wiring.edges if edge.kind == "body" and edge.name == run.name]
    graph = Graph(edge for edge in wiring.edges if edge.kind not in ("body", "channel"))
    return all(graph.joined(edge.a, edge.b) for edge in own)


def _shorts(wiring: Wiring, metal: BareMetal, ends: tuple[Node, ...]) -> Iterator[BareMetal]:
    """For every supply whose positive pole reaches it, what a short there draws."""
    graph = Graph(
        edge
        for edge in wiring.edges
        if edge.kind != "channel"
        or (wiring.drivers[edge.name].steady is None and wiring.drivers[edge.name].positive)
    )
    for name, supply in wiring.build.supply.items():
        pole, fuse = wiring.pole(name, "+"), supply.fuse
        if not graph.joined(pole, ends[0]):  # it joins both
            continue
        if fuse is not None and fuse.place not in (None, supply.place):
            at = [node for node in graph.nodes if node.place == fuse.place]
            if any(end in graph.reached((pole,), avoiding=at) for end in ends):
                fuse = None
        yield metal._replace(
            supply=name,
            short=prospective(supply),
            fuse=None if fuse is None else fuse.rated,
            limited=fuse is not None or supply.current_limit is not None,
        )
