"""Runs, plugs and joints of a random build: every line from where it begins to wherever it is wanted."""

from __future__ import annotations

from typing import Any

from tests.outside.whole_builds.drafts import WIRES, Draft

__all__ = ["conductors"]

Edge = tuple[str, str]
NO_CURRENT = 1e-9  # A


def conductors(draft: Draft) -> None:
    """Joints first, for they want lines at places; then each line a tree of runs and pins, sometimes with a loop."""
    _joins(draft)
    pair, at = draft.pair, draft.at
    pins: list[tuple[str, Edge]] = []
    parted: list[str] = []
    body = [draft.spar] if draft.spar is not None and "body" in draft.features else []
    for line in list(draft.wanted):
        if line not in draft.lines:
            raise AssertionError(line)
        edges, looped = _tree(draft, line, pair, at)
        if at is not None and not looped and line not in draft.tangled and _parts(draft, line, at, edges):
            parted.append(line)
        for edge in edges:
            if pair is not None and set(edge) == set(pair):
                pins.append((line, edge))
            else:
                _run(draft, line, edge, body, at if line in parted else None)
        for edge in looped:
            _run(draft, line, edge, body)
    draft.covers -= {"plug"} if not pins else set()
    draft.covers -= {"plug at"} if not parted else set()
    if pair is not None and pins:
        _plug(draft, [line for line, _ in pins], pair, ends=list(pair))
    elif at is not None and parted:
        _plug(draft, parted, (at, f"{at}, supply side"), at=at)


def _tree(draft: Draft, line: str, pair: Edge | None, at: str | None) -> tuple[list[Edge], list[Edge]]:
    """Edges from what is reached to what is not, by way of `at` rather than past it; then those that close loops.

    A place that a strip's far end feeds is reached with the strip's own.
    """
    rng, begun = draft.rng, draft.lines[line]
    reached = [begun.origin]
    fed = draft.fed.get(line, {})
    todo = [place for place in draft.wanted[line] if place != begun.origin and place not in fed]
    todo += [place for place in fed.values() if place not in (*todo, begun.origin)]
    if rng.random() < 0.15:  # on to a place where nothing wants it
        todo += [place for place in draft.places if place not in (*todo, *fed, begun.origin)][:1]
    if (
        line in draft.twins.values() and not todo
    ):  # where it begins it has to have a conductor, or the other is taken for it
        todo = [place for place in draft.places if place != begun.origin][:1]
    rng.shuffle(todo)
    if at is not None and todo and at not in (begun.origin, *fed) and rng.random() < 0.7:
        todo = [*(place for place in todo if place != at), at]
    edges = []
    while todo:
        place = todo.pop()
        start = at if at in reached and rng.random() < 0.5 else rng.choice(reached)
        if pair is not None and place in pair:
            other = pair[1 - pair.index(place)]
            if other in reached:
                start = other
        edges.append((start, place))
        reached.append(place)
    looped = []
    if len(reached) > 1 and draft.may("loop" if begun.share == 1.0 else "flashing loop", 0.15):
        looped = [edge for edge in [tuple(rng.sample(reached, 2))] if pair is None or set(edge) != set(pair)]
    return edges, looped


def _parts(draft: Draft, line: str, at: str, edges: list[Edge]) -> bool:
    """Whether a plug at a place parts a line in two: what comes from where it begins, and all else."""
    beyond = {at}
    for start, end in edges:
        if start in beyond:
            beyond.add(end)
    others = [name for name, root in (*draft.alias.items(), *draft.twins.items()) if root == line]
    behind = [name for name in others if draft.lines[name].origin in beyond]
    # a converter is fed through the plug like anything else; of a supply on the far side it is not plain what it does
    fed = all(name.startswith("low") for name in behind) and (
        not behind or draft.may("plug ahead of converter", 1.0)
    )
    return fed and any(end == at for _, end in edges)


def _run(draft: Draft, line: str, edge: Edge, body: list[Edge], plug_at: str | None = None) -> None:
    """A run from what is reached to what is not; where a plug sits at its far end it comes from the supply's side."""
    rng = draft.rng
    name = f"run {len(draft.toml)}"
    a, b = (f"{line} at {place}" for place in edge)
    if edge[1] == plug_at:
        b += ", supply side"
    conductors, metres, keys = 1, None, {}
    if body and set(edge) == set(body[0]):
        ohms = 0.3
        keys = {"body": True, "ohms": "0.3 ohm"}
        draft.covers.add("body")
        body.clear()
    elif draft.may("measured", 0.2):
        ohms = rng.choice([0.11, 0.47])
        keys = {"ohms": f"{ohms} ohm"}
    else:
        wire, length = rng.choice(list(WIRES)), rng.choice([120, 260, 500])
        ohms, metres = WIRES[wire] * length / 1e3, length / 1e3
        conductors = rng.choice([2, 3]) if draft.may("conductors", 0.15) else 1
        keys = {"wire": wire, "length": f"{length} mm", "conductors": conductors}
    draft.table("[[run]]", name=name, line=line, ends=list(edge), **keys)
    for _ in range(conductors):
        warm = draft.conductor(a, b, ohms, edge, draft.lines[line].share, metres)
    draft.compare("runs", name, "current", lambda point: abs(point.volts(a, b)) / warm)
    draft.compare("runs", name, "drop", lambda point: abs(point.volts(a, b)))
    draft.compare("runs", name, "source", lambda point: _source(point.volts(a, b) / warm, edge))


def _source(amps: float, edge: Edge) -> str | None:
    """Where a current comes from; of next to none nobody can tell."""
    return None if abs(amps) < NO_CURRENT else edge[0] if amps > 0.0 else edge[1]


def _plug(draft: Draft, lines: list[str], sides: Edge, **where: Any) -> None:
    """A plug between two sides, its loss a half on each; of one that sits at a place all of it is there."""
    contact = draft.rng.choice([0.02, 0.05])
    draft.rng.shuffle(lines)
    draft.table("[[plug]]", name="stand plug", **where, pins=lines, contact=f"{contact} ohm", keyed=True)
    places = [place for place in sides if place in draft.places]
    for number, line in enumerate(lines, 1):
        a, b = (f"{line} at {side}" for side in sides)
        draft.deck.resistor(a, b, contact, places, draft.lines[line].share)
        draft.compare(
            "pins",
            f"stand plug {number}",
            "nominal",
            lambda point, a=a, b=b: abs(point.volts(a, b)) / contact,
        )


def _joins(draft: Draft) -> None:
    """Circuits straight from one pole may be joined anywhere; so may a return of its own with the pole that it comes from."""
    pairs = list(draft.joins)
    for group in draft.direct.values():
        if len(group) > 1 and draft.may("join", 0.4):
            pairs.append((group[0], group[1]))
    for lines in pairs:
        place = draft.rng.choice(draft.places)
        draft.tangled.update(lines)
        draft.table("[[join]]", place=place, lines=list(lines))
        draft.deck.tie(draft.node(lines[0], place), draft.node(lines[1], place))
