"""The graph of the wiring against a reading of the same files by other code, on a thousand random wirings.

Outside truth: random_wirings.py, which writes the files and finds by growing sets of points who is joined to whom; and NumPy's
matrices of reach and distance on random graphs. What the graph is asked is named here once.
"""

from __future__ import annotations

import itertools
import random
from collections import Counter
from collections.abc import Collection, Iterator

import numpy as np
import pytest

import postcheck
from postcheck.wiring import resolve
from postcheck.wiring.graph import Edge, Graph, Node
from postcheck.wiring.resolved import Wiring
from tests.wiring.random_wirings import Piece, Point, Wired, distance, grown, make

WIRINGS, BLOCKS = 1000, 10
# Wirings to begin with; of them so many are whole, and the others must be refused or asked about.
SEEDS = 2400
OWN_KIND = {"joint": ("joint", "own return")}  # kind of edge -> kinds of pieces, where they differ


def node_of(wiring: Wiring, point: Point) -> Node:
    if point.end == "ahead":
        return wiring.ahead(point.line, point.place)
    if point.end:
        [near] = {
            edge.b
            for edge in wiring.edges
            if (edge.kind, edge.name, edge.a.net) == ("leg", point.end, point.line)
        }
        return near
    return wiring.node(point.line, point.place)


def edge_of(wiring: Wiring, piece: Piece) -> Edge:
    """The edge of a piece, by kind, name, number and ends."""
    ends = {node_of(wiring, piece.a), node_of(wiring, piece.b)}
    [edge] = {
        edge
        for edge in wiring.edges
        if piece.kind in OWN_KIND.get(edge.kind, (edge.kind,))
        and (edge.name, edge.number, {edge.a, edge.b}) == (piece.name, piece.number, ends)
    }
    return edge


def without_loops(pieces: Collection[Piece]) -> bool:
    """Whether nothing is left once whatever hangs by one piece alone is taken off; side by side is one, but for traces."""
    single = {(frozenset((piece.a, piece.b)), piece if piece.kind == "trace" else None) for piece in pieces}
    left = [ends for ends, _ in single if len(ends) == 2]
    while True:
        degree = Counter(point for ends in left for point in ends)
        kept = [ends for ends in left if all(degree[point] > 1 for point in ends)]
        if len(kept) == len(left):
            return not left
        left = kept


def wirings(block: int) -> Iterator[tuple[Wired, Wiring]]:
    """Of a part of the seeds those that are whole.

    Of the others some are refused, and some are half built: there, and nowhere else, something is still to be laid or idle.
    """
    for seed in range(block, SEEDS, BLOCKS):
        wired = make(seed)
        try:
            wiring = resolve(postcheck.loads("\n".join(wired.toml)))
        except postcheck.BuildError:
            assert wired.refused(), seed
            continue
        assert not wired.refused(), seed
        if wired.half():
            assert wiring.unbuilt or idle(wiring), seed
            assert all(leg.joint in wiring.live for one in wiring.consumers for leg in one.legs), seed
            continue
        assert not wiring.unbuilt, seed
        assert not idle(wiring), seed
        yield wired, wiring


def idle(wiring: Wiring) -> bool:
    """Whether a run joins nothing to a supply."""
    return any(edge.kind == "conductor" and edge.a not in wiring.live for edge in wiring.edges)


@pytest.mark.parametrize("block", range(BLOCKS))
def test_all_answers_are_those_of_the_file(block: int) -> None:
    rng, read = random.Random(block), 0
    for wired, wiring in wirings(block):
        read += 1
        fed = wired.pieces()
        wires = [piece for piece in fed if piece.kind != "channel"]
        points = {wired.at(line, place) for line in wired.lines for place in wired.places}
        points |= {point for piece in fed for point in (piece.a, piece.b)}
        nodes = {point: node_of(wiring, point) for point in points}
        assert len(set(nodes.values())) == len(points)
        sources = wired.sources()
        assert set(wiring.sources) == {nodes[point] for point in sources}
        for pieces, graph in ((wires, wiring.wires), (fed, wiring.fed)):
            ends = {point for piece in pieces for point in (piece.a, piece.b)} | sources
            assert set(graph.nodes) == {nodes[point] for point in ends}
            assert len(graph.edges) == len(pieces)
            assert graph.is_tree == without_loops(pieces)
            live = grown(sources, pieces)
            assert graph.reached(wiring.sources) == {nodes[point] for point in live}
            for a in points:
                group = grown({a}, pieces)
                assert graph.reached({nodes[a]}) == {nodes[point] for point in group}
                assert {point for point in points if graph.joined(nodes[a], nodes[point])} == group
            for piece in pieces:
                left = [other for other in pieces if other != piece]  # a joint may name one net twice
                lost = live - grown(sources, left)
                found = graph.behind(edge_of(wiring, piece), wiring.sources)
                assert found == {nodes[point] for point in lost}
            for _ in range(4):
                a, b, by = (rng.choice(sorted(points)) for _ in range(3))
                check_path(graph.path(nodes[a], nodes[b]), nodes[a], nodes[b], distance(a, b, pieces))
                passes = b in grown({a}, pieces) and (by in (a, b) or b not in grown({a}, pieces, past={by}))
                assert graph.all_pass(nodes[a], nodes[b], {nodes[by]}) == passes
    assert read >= WIRINGS // BLOCKS


def check_path(path: tuple[Edge, ...] | None, a: Node, b: Node, far: int | None) -> None:
    assert (None if path is None else len(path)) == far
    for edge in path or ():
        a = edge.other(a)
    assert path is None or a == b


def test_the_wirings_are_of_every_sort() -> None:
    kinds: Counter[str] = Counter()
    for seed in range(0, SEEDS, 3):
        wired = make(seed)
        if not (wired.refused() or wired.half()):
            pieces = wired.pieces()
            kinds.update({piece.kind for piece in pieces})
            kinds["looped"] += not without_loops(pieces)
            kinds["ahead"] += any(
                "ahead" in (piece.a.end, piece.b.end) for piece in pieces if piece.kind != "pin"
            )
            kinds["board"] += any(head.startswith("[board.") for head in wired.toml)
            kinds["apart"] += any(
                line in wired.parent for piece in pieces for line in (piece.a.line, piece.b.line)
            )
            kinds["one negative"] += bool(wired.parent)
    sorts = ["conductor", "pin", "joint", "own return", "leg", "trace", "channel"]
    least = {
        sort: kinds[sort]
        for sort in (*sorts, "looped", "ahead", "board", "apart", "one negative")
        if kinds[sort] < 15
    }
    assert least == {}


@pytest.mark.parametrize("seed", range(100))
def test_a_graph_against_matrices(seed: int) -> None:
    rng = random.Random(seed)
    nodes = [Node("net", f"place {number}") for number in range(rng.randint(1, 9))]
    kinds = rng.choice([("conductor",), ("conductor", "trace", "pin")])
    edges = [
        Edge(rng.choice(kinds), "edge", number, *(rng.choice(nodes) for _ in range(2)))
        for number in range(rng.randint(0, 12))
    ]
    lengths = {edge: rng.choice([0.0, 1.0, 2.5]) for edge in edges}
    graph = Graph(edges, nodes)
    far, steps = (
        shortest(nodes, edges, lengths if weighed else dict.fromkeys(edges, 1.0)) for weighed in (True, False)
    )
    for (i, a), (j, b) in itertools.product(enumerate(nodes), repeat=2):
        joined = bool(np.isfinite(steps[i, j]))
        assert graph.joined(a, b) == joined
        assert (graph.root(a) == graph.root(b)) == joined
        check_path(graph.path(a, b), a, b, int(steps[i, j]) if joined else None)
        weighed = graph.path(a, b, lengths.__getitem__)
        assert (sum(lengths[edge] for edge in weighed) if weighed is not None else np.inf) == far[i, j]
        assert graph.distances(a, lengths.__getitem__).get(b, np.inf) == far[i, j]
    for edge in edges:
        sources = rng.sample(nodes, rng.randint(1, len(nodes)))
        left = shortest(nodes, [other for other in edges if other != edge], dict.fromkeys(edges, 1.0))
        at = [nodes.index(source) for source in sources]
        lost = {
            node
            for j, node in enumerate(nodes)
            if np.isfinite(steps[at, j]).any() and np.isinf(left[at, j]).all()
        }
        assert graph.behind(edge, sources) == lost


def shortest(nodes: list[Node], edges: list[Edge], lengths: dict[Edge, float]) -> np.ndarray:
    """The least sum of lengths between all nodes, by Floyd and Warshall."""
    far = np.full((len(nodes), len(nodes)), np.inf)
    np.fill_diagonal(far, 0.0)
    for edge in edges:
        i, j = nodes.index(edge.a), nodes.index(edge.b)
        far[i, j] = far[j, i] = min(far[i, j], lengths[edge])
    for k in range(len(nodes)):
        far = np.minimum(far, far[:, [k]] + far[[k], :])
    return far


def test_a_build_is_resolved_once_as_long_as_somebody_holds_it() -> None:
    text = 'format = 1\n[build]\nname = "Tender"\n[place.base]\naccess = "open"\n'
    one, other = postcheck.loads(text), postcheck.loads(text)
    made = resolve(one)
    assert resolve(one) is made
    assert resolve(other) is not made
    assert resolve(other).build is other
