"""Supplies, converters, boards and circuits of a random build: whatever drives its lamps.

Laws, as file format and reference have them: rated volts are those at rated load, so that a stated regulation or an unloaded
voltage is a resistance; a converter takes P_out / efficiency and what it takes idle; an output loses its drop; a constant
current is one from its compliance up and a resistance below.
"""

from __future__ import annotations

from typing import NamedTuple

from tests.outside.whole_builds.deck import Point
from tests.outside.whole_builds.drafts import Circuit, Draft, Line

__all__ = ["circuits", "converter_heat", "sources"]

LEAST_COMPLIANCE = 0.5  # V, of a constant-current output that states none
EFFICIENCY = 0.85  # of a converter that states none (README)
NEGATIVE_SHARED = 0.6


class Source(NamedTuple):
    """A supply or converter: what it is called by in V, its place, and how its current is read."""

    name: str
    volts: float
    place: str
    probe: str
    fed_by: str | None = None
    efficiency: float = 1.0
    idle_watts: float = 0.0
    at_home: bool = True  # no conductor between it and the supply that all comes from


def sources(draft: Draft) -> list[Source]:
    """All supplies of a build, the converters last."""
    found = [_supply(draft, "main", "base", draft.rng.choice([5.0, 9.0, 12.0, 15.0]))]
    draft.deck.tie("main- at base", "ground")
    if draft.may("second supply", 0.25):
        place = draft.rng.choice(draft.homes)
        found.append(_supply(draft, "aux", place, draft.rng.choice([5.0, 9.0])))
    for number in range(2):
        if draft.may("converter", 0.35) and (number == 0 or draft.rng.random() < 0.5):
            found.append(_converter(draft, f"low{number}", draft.rng.choice(found)))
    return found


def _supply(draft: Draft, name: str, place: str, volts: float) -> Source:
    rng = draft.rng
    kind = rng.choice(["adaptor", "regulated", "unloaded", "resisting", "battery", "cells", "usb"])
    ohms, emf, keys = 0.0, volts, {"kind": "adaptor", "volts": f"{volts:g} V", "rated": "2 A"}
    if kind == "usb":
        volts = emf = 5.0
        keys = {"kind": "usb", "rated": "2 A"}
    elif kind == "battery":
        ohms = rng.choice([0.3, 1.0])
        keys = {"kind": "battery", "volts": f"{volts:g} V", "cells": 6, "resistance": f"{ohms} ohm"}
    elif kind == "cells":  # 1.5 V and 0.2 ohm a cell, as the catalogue's batteries have it
        cells = {5.0: 4, 9.0: 6, 12.0: 8, 15.0: 10}[volts]
        ohms, volts = 0.2 * cells, 1.5 * cells
        emf, keys = volts, {"kind": "battery", "chemistry": "alkaline", "size": "aa", "cells": cells}
    elif kind == "regulated":
        ohms, emf = 0.05 * volts / 2, 1.05 * volts
        keys["regulation"] = "5 %"
    elif kind == "unloaded":
        ohms, emf = 3 / 2, volts + 3
        keys["unloaded"] = f"{emf:g} V"
    elif kind == "resisting":
        ohms = 0.4
        keys["resistance"] = "0.4 ohm"
    draft.covers.add(kind)
    draft.lines |= {f"{name}+": Line(place, 1.0), f"{name}-": Line(place, 1.0)}
    if name != "main":
        if draft.rng.random() < NEGATIVE_SHARED:
            keys["shares_negative_with"] = "main"
            _one_negative(draft, name, "main", place)
        else:
            draft.deck.tie(f"{name}- at {place}", "ground")  # a system of its own: no current goes this way
    draft.table(f"[supply.{name}]", place=place, **keys)
    plus, minus = draft.node(f"{name}+", place), draft.node(f"{name}-", place)
    inner = draft.deck.fresh()
    probe = draft.deck.source(inner, minus, emf)
    if ohms:
        draft.deck.card("R", (inner, plus), f"{ohms:.17g}")
    else:
        draft.deck.tie(inner, plus)
    draft.compare("supplies", name, "nominal", lambda point: -point.amps(probe))
    return Source(name, volts, place, probe)


def _one_negative(draft: Draft, name: str, other: str, place: str) -> None:
    """Two names for one line: under one of them it has conductors; or under both, and they meet at the second's place."""
    root = draft.alias.get(f"{other}-", f"{other}-")
    if draft.may("two negatives", 0.4):
        draft.deck.tie(draft.node(f"{name}-", place), draft.node(root, place))
        draft.twins[f"{name}-"] = root
    else:
        draft.alias[f"{name}-"] = root


def _converter(draft: Draft, name: str, fed: Source) -> Source:
    rng, deck = draft.rng, draft.deck
    place = rng.choice(draft.homes)
    volts = rng.choice([v for v in (3.3, 5.0, 9.0, 18.0) if v != fed.volts])
    efficiency, idle = rng.choice([None, 0.9, 0.78]), rng.choice([None, 0.004])
    isolated = draft.may("isolated", 0.2)
    if (
        f"{fed.name}-" in draft.twins
        and not isolated
        and not draft.may("converter beside two negatives", 1.0)
    ):
        isolated = True
    draft.table(
        f"[supply.{name}]", kind="converter", place=place, from_=fed.name, volts=f"{volts:g} V", rated="2 A",
        efficiency=f"{efficiency * 100:g} %" if efficiency else None, idle=f"{idle * 1e3:g} mA" if idle else None,
        least_input="1.5 V", isolated=True if isolated else None,
    )  # fmt: skip
    draft.lines |= {f"{name}+": Line(place, 1.0), f"{name}-": Line(place, 1.0)}
    if isolated:
        draft.deck.tie(f"{name}- at {place}", "ground")
    else:
        _one_negative(draft, name, fed.name, place)
    plus, minus = draft.node(f"{name}+", place), draft.node(f"{name}-", place)
    probe = deck.source(plus, minus, volts)
    taken, into = deck.probe(draft.node(f"{fed.name}+", place))
    back = draft.node(f"{fed.name}-", place)
    idle_watts = (idle or 0.0) * fed.volts
    watts = f"(max(0, -I({probe}))*{volts / (efficiency or EFFICIENCY):.17g} + {idle_watts:.17g})"
    # constant power down to its least input, and a resistance below, so that the way up from nothing is smooth
    deck.card("B", (into, back), f"I={{{watts}*V(%0,%1)/max(V(%0,%1)*V(%0,%1), 2.25)}}")
    draft.compare("supplies", name, "nominal", lambda point: -point.amps(probe))
    draft.compare("supplies", name, "input", lambda point: point.amps(taken))
    draft.inputs.append(lambda point: point.volts(into, back) / fed.volts)
    return Source(
        name,
        volts,
        place,
        probe,
        fed.name,
        efficiency or EFFICIENCY,
        idle_watts,
        fed.at_home and place == fed.place,
    )


def converter_heat(
    draft: Draft, found: list[Source], driven: list[Circuit], supplies: dict[str, str]
) -> None:
    """What converters lose, averaged over time: their load with everything on, less what their flashers leave out."""

    def left_out(source: Source) -> str:
        terms = [
            f"{draft.flowing(circuit.name)}*{1 - circuit.share:.17g}"
            for circuit in driven
            if supplies[circuit.name] == source.name and circuit.share < 1.0
        ]
        for other in found:
            if other.fed_by == source.name:
                terms.append(f"({left_out(other)})*{other.volts / (other.efficiency * source.volts):.17g}")
        return "+".join([*terms, "0"])

    for source in found:
        if source.fed_by is not None:
            lost = source.volts * (1 / source.efficiency - 1)
            average = f"max(0, -I({source.probe}) - ({left_out(source)}))"
            draft.deck.heat(source.place, f"{average}*{lost:.17g} + {source.idle_watts:.17g}")


def circuits(draft: Draft, found: list[Source]) -> tuple[list[Circuit], dict[str, str]]:
    """Circuits, some on boards; and the supply of each."""
    boards = _boards(draft, found)
    driven, supplies = [], {}
    for number in range(draft.rng.randint(2, 5)):
        board = (
            draft.rng.choice(list(boards)) if boards and (number == 1 or draft.rng.random() < 0.4) else None
        )
        source = boards[board][0] if board else draft.rng.choice(found)
        driven.append(
            _circuit(
                draft, f"c{number}", source, board, boards, plain=number == 0 and "colours" in draft.sure
            )
        )
        supplies[f"c{number}"] = source.name
    return driven, supplies


Boards = dict[str, tuple[Source, str, dict[str, float], list[str]]]


def _boards(draft: Draft, found: list[Source]) -> Boards:
    boards: Boards = {}
    for number in range(2):
        if not draft.may("board", 0.4) or (number and draft.rng.random() < 0.5):
            continue
        name, source, place = f"board{number}", draft.rng.choice(found), draft.rng.choice(draft.homes)
        sort = draft.rng.choice(["plain", "drop", "steady"])
        if sort == "steady" and "steady" not in draft.features:
            sort = "drop"
        given = {"plain": {}, "drop": {"drop": 0.25}, "steady": {"steady": 0.012, "compliance": 0.8}}[sort]
        idle = draft.rng.choice([None, 0.003, 0.015])
        draft.table(
            f"[board.{name}]", place=place, supply=source.name, channels=8, limit="1 A",
            idle=f"{idle * 1e3:g} mA" if idle else None, **_output(given),
            least_volts=draft.rng.choice([None, "2.5 V"]),
        )  # fmt: skip
        if idle:  # far above any knee
            plus, minus = draft.node(f"{source.name}+", place), draft.node(f"{source.name}-", place)
            draft.deck.ramp(plus, minus, idle, 1.0, place, 1.0)
        boards[name] = (source, place, given, [])
        draft.compare("boards", name, "nominal", lambda point, own=boards[name][3]: _sum(draft, point, own))
    return boards


def _sum(draft: Draft, point: Point, circuits: list[str]) -> float:
    return sum(abs(point.amps(probe)) for name in circuits for probe in draft.probes.get(name, ()))


def _output(given: dict[str, float]) -> dict[str, str]:
    return {key: f"{value * 1e3:g} mA" if key == "steady" else f"{value} V" for key, value in given.items()}


def _circuit(
    draft: Draft, name: str, source: Source, board: str | None, boards: Boards, *, plain: bool
) -> Circuit:
    rng, deck = draft.rng, draft.deck
    place = boards[board][1] if board else source.place
    negative = draft.may("negative", 0.25)
    # what flashes keeps its conductors to itself: of one that is shared no average is stated
    flashes = place == source.place and source.at_home and not plain and draft.may("flash", 0.25)
    own = not plain and draft.may("own return", 1.0 if flashes else 0.25)
    given: dict[str, float] = boards[board][2] if board else {}
    if board is None:
        sort = rng.choice(["direct", "direct", "drop", "drop" if plain else "steady"])
        if sort == "drop":
            given = {"drop": rng.choice([0.1, 0.7])}
        elif sort == "steady" and draft.may("steady", 1.0):
            given = {"steady": rng.choice([0.008, 0.015]), "compliance": rng.choice([0.5, 1.2])}
    share = rng.choice([0.1, 0.5, 0.8]) if flashes else 1.0
    draft.table(
        f"[circuit.{name}]", supply=None if board else source.name, board=board,
        channel=len(boards[board][3]) + 1 if board else None, switched="negative" if negative else None,
        own_return=own or None, output=_output(given) if given and not board else None,
        behaviour="flash" if flashes else None, rate="40 /min" if flashes else None,
        on_share=f"{share * 100:g} %" if flashes and share != 0.5 else None,
    )  # fmt: skip
    if board:
        boards[board][3].append(name)
    pole, other = (f"{source.name}{sign}" for sign in ("-+" if negative else "+-"))
    back = f"{name}-return" if own else draft.alias.get(other, other)
    draft.lines[name] = Line(place, share)
    here, line = draft.node(pole, place), draft.node(name, place)
    if own:
        draft.lines[back] = Line(place, share)
        deck.tie(draft.node(other, place), draft.node(back, place))
    a, b = (line, here) if negative else (here, line)
    steady, knee = given.get("steady"), max(given.get("compliance", 0.0), LEAST_COMPLIANCE)
    draft.compare("circuits", name, "nominal", lambda point: _sum(draft, point, [name]))
    if given:
        draft.compare("circuits", name, "drop", lambda point: point.volts(a, b))
    if steady is not None:
        draft.compare("circuits", name, "spare", lambda point: point.volts(a, b) - knee)
    if steady is not None:
        draft.covers.add("steady")
        deck.ramp(a, b, steady, knee, place, share)
    elif given.get("drop"):
        draft.covers.add("drop")
        drop = deck.source(a, b, given["drop"])
        deck.heat(place, f"{share * given['drop']:.17g}*I({drop})")
    else:
        deck.tie(here, line)
    if own and not flashes and draft.may("join", 0.3):
        draft.joins.append((back, draft.alias.get(other, other)))
    if not given and not own and not flashes:
        draft.direct.setdefault((pole, place), []).append(name)
    return Circuit(name, back, place, negative, source.volts - given.get("drop", 0.0), share, steady)
