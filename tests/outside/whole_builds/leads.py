"""Leads and strings of a random build: what lies between a joint and the dice."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from tests.outside.whole_builds.drafts import WIRES, Circuit, Draft

__all__ = ["Ends", "Lead", "Seat", "at_joints", "joints", "lead_to", "legs", "string"]

Wires = tuple[tuple[str, str], ...]


class Seat(NamedTuple):
    """A resistor: its ohms, the place that it warms."""

    ohms: float
    place: str


class Lead(NamedTuple):
    """A lead as the file has it, where its joints are; of each leg the ohms at 20 degC and the metres."""

    said: dict[str, Any] | str | None
    joint: str
    ohms: tuple[float, float]
    metres: tuple[float, float]


def lead_to(draft: Draft, place: str, chance: float = 0.5) -> Lead:
    """A lead to some place, each leg of a wire and length of its own or both alike."""
    if not draft.may("lead", chance):
        return Lead(None, place, (0.0, 0.0), (0.0, 0.0))
    rng = draft.rng
    joint = rng.choice(draft.places)
    if rng.random() < 0.4:
        legs = [(rng.choice([90, 150, 310]), rng.choice(list(WIRES))) for _ in range(2)]
        said: Any = {"to": joint}
        for side, (length, wire) in zip(("feed", "back"), legs, strict=True):
            said[side] = {"length": f"{length} mm", "wire": wire}
    else:
        legs = [(rng.choice([90, 150, 310]), rng.choice(list(WIRES)))] * 2
        said = f"{legs[0][0]} mm of {legs[0][1]} to {joint}"
    feed, back = (WIRES[wire] * length / 1e3 for length, wire in legs)
    return Lead(said, joint, (feed, back), (legs[0][0] / 1e3, legs[1][0] / 1e3))


class Ends(NamedTuple):
    """The ends of a string on its feed side and its back side, and the legs that it has: from node to node."""

    feed: str
    back: str
    wires: Wires


def joints(draft: Draft, circuit: Circuit, lead: Lead, first: str, last: str) -> Ends:
    """What a lead reaches at its lamp's end; `first`, `last`: where its legs end."""
    return legs(draft, circuit, lead, (first, last), 1, "lead", None)[0]


def legs(
    draft: Draft, circuit: Circuit, lead: Lead, seats: tuple[str, str], strings: int, share: str, ahead: Seat | None
) -> list[Ends]:  # fmt: skip
    """The ends of each string, whose leads share nothing, the return or the whole lead; `ahead`: one resistor for all.

    That resistor is at the joint, or at the end of the leg that all have.
    """
    joint = (lead.joint, lead.joint) if lead.said is not None else seats
    begin, back = draft.node(circuit.name, joint[0]), draft.node(circuit.back, joint[1])

    def leg(start: str, side: int) -> str:
        if lead.said is None:
            return start
        end = draft.deck.fresh()
        places = (seats[side], lead.joint)
        draft.conductor(start, end, lead.ohms[side], places, circuit.share, lead.metres[side])
        return end

    def behind(start: str) -> str:
        if ahead is None:
            return start
        end = draft.deck.fresh()
        draft.deck.resistor(start, end, ahead.ohms, (ahead.place,), circuit.share)
        return end

    if share == "lead":
        feed, end = leg(begin, 0), leg(back, 1)
        return [Ends(behind(feed), end, ((begin, feed), (end, back)))] * strings
    begin = behind(begin)
    ends = [leg(back, 1)] * strings if share == "return" else [leg(back, 1) for _ in range(strings)]
    feeds = [leg(begin, 0) for _ in range(strings)]
    return [Ends(f, e, ((begin, f), (e, back))) for f, e in zip(feeds, ends, strict=True)]


def at_joints(
    draft: Draft, circuit: Circuit, label: str, lead: Lead, seats: tuple[str, str], wires: Wires
) -> None:
    """The volts between a lamp's joints, and what of them is lost in its wires."""
    if lead.said is not None:
        seats = (lead.joint, lead.joint)
    feed, back = draft.node(circuit.name, seats[0]), draft.node(circuit.back, seats[1])
    draft.compare("lamps", label, "joints", lambda point: abs(point.volts(feed, back)))
    draft.compare("lamps", label, "lead_drop", lambda point: sum(abs(point.volts(a, b)) for a, b in wires))


def string(
    draft: Draft, circuit: Circuit, feed: str, back: str, dice: Sequence[tuple[str, str]], seat: Seat | None,
    links: Sequence[tuple[float, float]] = (),
) -> tuple[str, Wires]:  # fmt: skip
    """The probe of one string between the two sides, and its links.

    `dice`: kind and place of each from the feed on, `links` (ohms at 20 degC, m) between.
    """
    wires = []
    deck, share = draft.deck, circuit.share
    dice, links = list(dice), list(links) or [(0.0, 0.0)] * (len(dice) - 1)
    if circuit.negative:
        feed, back, dice, links = back, feed, dice[::-1], links[::-1]
    probe, at = deck.probe(feed)
    draft.probes.setdefault(circuit.name, []).append(probe)
    if seat is not None:
        behind = deck.fresh()
        deck.resistor(at, behind, seat.ohms, (seat.place,), share)
        at = behind
    for number, (kind, place) in enumerate(dice):
        last = number == len(dice) - 1
        end = back if last else deck.fresh()
        deck.die(at, end, kind, place, probe, share)
        at = end
        if not last and links[number][0]:
            at, (ohms, metres) = deck.fresh(), links[number]
            draft.conductor(end, at, ohms, (place, dice[number + 1][1]), share, metres)
            wires.append((end, at))
    return probe, tuple(wires)
