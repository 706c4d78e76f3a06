"""Lamps, strips and loads of a random build, each as a table of the file and as cards between its joints."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from tests.outside.whole_builds.drafts import OWN, RGB, WIRES, Circuit, Draft

__all__ = ["colours", "consumers"]

FILAMENTS = {"wheat": (12.0, 0.06), "rice": (5.0, 0.04)}
FORMS = ["single", "series", "parallel", "shared", "chain", "filament", "strip", "load"]
AIMED = (0.004, 0.007, 0.011, 0.016)  # A


class Seat(NamedTuple):
    """A resistor: its ohms, the place that it warms."""

    ohms: float
    place: str


class Lead(NamedTuple):
    """A lead as the file has it, where its joints are, and what each leg has at 20 degC."""

    said: dict[str, Any] | str | None
    joint: str
    ohms: tuple[float, float]


def consumers(draft: Draft, circuit: Circuit) -> None:
    """One to three things on a circuit."""
    for number in range(1 if circuit.steady else draft.rng.randint(1, 3)):
        label = f"{circuit.name} {number}"
        forms = FORMS[:5] if circuit.steady else FORMS
        form = draft.rng.choice([form for form in forms if form == "single" or form in draft.features])
        if number == 0 and not circuit.steady and "strip" in draft.sure & draft.features - draft.covers:
            form = "strip"
        draft.covers.add(form)
        if form == "strip":
            _strip(draft, circuit, label)
        elif form == "load":
            _load(draft, circuit, label)
        elif form == "filament":
            _filament(draft, circuit, label)
        else:
            _led(draft, circuit, label, form)


def _lead(draft: Draft, place: str, chance: float = 0.5) -> Lead:
    """A lead to some place, each leg of a wire and length of its own or both alike."""
    if not draft.may("lead", chance):
        return Lead(None, place, (0.0, 0.0))
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
    return Lead(said, joint, (feed, back))


def _joints(draft: Draft, circuit: Circuit, lead: Lead, first: str, last: str) -> tuple[str, str]:
    """What a lead reaches at its lamp's end: the feed side and the back side. `first`, `last`: where its legs end."""
    if lead.said is None:
        return draft.node(circuit.name, first), draft.node(circuit.back, last)
    ends = []
    for line, place, ohms in ((circuit.name, first, lead.ohms[0]), (circuit.back, last, lead.ohms[1])):
        end = draft.deck.fresh()
        draft.deck.conductor(draft.node(line, lead.joint), end, ohms, (place, lead.joint), circuit.share)
        ends.append(end)
    return ends[0], ends[1]


def _leg(draft: Draft, circuit: Circuit, lead: Lead, side: int, place: str, joint: str) -> str:
    """The lamp's end of one leg, from a joint; the joint itself where there is no lead."""
    if lead.said is None:
        return joint
    end = draft.deck.fresh()
    draft.deck.conductor(joint, end, lead.ohms[side], (place, lead.joint), circuit.share)
    return end


def _string(
    draft: Draft, circuit: Circuit, feed: str, back: str, dice: Sequence[tuple[str, str]], seat: Seat | None,
    links: Sequence[float] = (),
) -> str:  # fmt: skip
    """One string between the two sides; `dice`: kind and place of each from the feed on, `links` at 20 degC between."""
    deck, share = draft.deck, circuit.share
    dice, links = list(dice), list(links) or [0.0] * (len(dice) - 1)
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
        if not last and links[number]:
            at = deck.fresh()
            deck.conductor(end, at, links[number], (place, dice[number + 1][1]), share)
    return probe


def _ohms(draft: Draft, spare: float, strings: int = 1) -> float:
    """A resistor that leaves about the aimed current, of two digits."""
    return max(10.0, float(f"{spare / strings / draft.rng.choice(AIMED):.2g}"))


def _kind(draft: Draft, circuit: Circuit, most: int) -> tuple[str, int]:
    """A kind of LED, and how many in series the circuit's volts carry."""
    kinds = [kind for kind in OWN if OWN[kind][1] + 0.3 < circuit.volts]
    kind = draft.rng.choice(kinds)
    return kind, max(1, min(most, int((circuit.volts - 0.6) / OWN[kind][1])))


def _led(draft: Draft, circuit: Circuit, label: str, form: str) -> None:
    rng, deck = draft.rng, draft.deck
    kind, most = _kind(draft, circuit, 4)
    series = rng.randint(min(2, most), most) if form in ("series", "chain") else rng.randint(1, most)
    strings = rng.randint(2, 3) if form in ("parallel", "shared") else 1
    if form == "chain":
        seats = [rng.choice(draft.places) for _ in range(series)]
        wires = [(rng.choice([20, 120, 300]), rng.choice(list(WIRES))) for _ in range(series - 1)]
    else:
        seats, wires = [rng.choice(draft.places)] * series, []
    lead = _lead(draft, seats[0], 0.5 if strings == 1 or "parallel lead" in draft.features else 0.0)
    if strings > 1 and lead.said is not None:
        draft.covers.add("parallel lead")
    seat = None
    if circuit.steady is None or rng.random() < 0.2:
        spare = circuit.volts - series * OWN[kind][1]
        together = strings if form == "shared" else 1
        where = seats[0]
        if lead.said is not None and (strings == 1 or form == "shared") and rng.random() < 0.5:
            where = lead.joint
        seat = Seat(_ohms(draft, spare if circuit.steady is None else 0.5, together), where)
    sharing = None
    if strings > 1 and lead.said is not None:  # strings on one resistor beside them have one lead
        sharing = (
            "lead"
            if form == "shared" and (seat is None or seat.place == seats[0])
            else rng.choice(["nothing", "return", "lead"])
        )
        draft.covers.add(f"strings share {sharing}")
    draft.table(
        "[[lamp]]", name=label, circuit=circuit.name, kind=kind, place=seats[0], series=series, strings_share=sharing,
        parallel=strings if strings > 1 else None, one_resistor=True if form == "shared" else None,
        places=seats if form == "chain" else None,
        links=[f"{length} mm of {wire}" for length, wire in wires] if wires else None, lead=lead.said,
        resistor=None if seat is None else {
            "ohms": f"{seat.ohms:g} ohm", "power": "1/2 W", "place": seat.place,
            "side": rng.choice([None, "feed"] if seat.place == lead.joint != seats[0] else [None, "feed", "back"]),
        },
    )  # fmt: skip
    ohms = seat.ohms if seat else 0.0
    joint = draft.node(circuit.name, lead.joint if lead.said is not None else seats[0])
    if (
        form == "shared" and seat is not None and sharing not in (None, "lead")
    ):  # at the joint, ahead of their legs
        behind = deck.fresh()
        deck.resistor(joint, behind, seat.ohms, (seat.place,), circuit.share)
        joint, seat = behind, None
    feeds = [
        _leg(draft, circuit, lead, 0, seats[0], joint)
        for _ in range(strings if sharing in ("nothing", "return") else 1)
    ]
    backs = [
        _leg(
            draft,
            circuit,
            lead,
            1,
            seats[-1],
            draft.node(circuit.back, lead.joint if lead.said is not None else seats[-1]),
        )
        for _ in range(strings if sharing == "nothing" else 1)
    ]
    if form == "shared" and seat is not None:
        behind = deck.fresh()
        deck.resistor(feeds[0], behind, seat.ohms, (seat.place,), circuit.share)
        feeds, seat = [behind], None
    dice = [(kind, place) for place in seats]
    links = [WIRES[wire] * length / 1e3 for length, wire in wires]
    probes = [
        _string(draft, circuit, feeds[number % len(feeds)], backs[number % len(backs)], dice, seat, links)
        for number in range(strings)
    ]
    draft.compare("lamp", label, lambda point: point.amps(probes[0]))
    _at_joints(draft, circuit, label, lead, (seats[0], seats[-1]))
    if ohms:
        through = strings if form == "shared" else 1
        draft.compare("resistor", label, lambda point: (through * point.amps(probes[0])) ** 2 * ohms)


def _at_joints(draft: Draft, circuit: Circuit, label: str, lead: Lead, ends: tuple[str, str]) -> None:
    """The volts between a lamp's joints."""
    if lead.said is not None:
        ends = (lead.joint, lead.joint)
    feed, back = draft.node(circuit.name, ends[0]), draft.node(circuit.back, ends[1])
    draft.compare("joint volts", label, lambda point: abs(point.volts(feed, back)))


def _filament(draft: Draft, circuit: Circuit, label: str) -> None:
    deck = draft.deck
    name = "wheat" if circuit.volts >= 8.0 else "rice"
    volts, amps = FILAMENTS[name]
    if f"[lamp_kind.{name}]" not in draft.toml:
        draft.table(f"[lamp_kind.{name}]", kind="filament", volts=f"{volts:g} V", rated=f"{amps * 1e3:g} mA")
    place = draft.rng.choice(draft.places)
    lead = _lead(draft, place)
    seat = (
        Seat(draft.rng.choice([22.0, 68.0]), place)
        if circuit.volts > volts or draft.rng.random() < 0.3
        else None
    )
    resistor = f"{seat.ohms:g} ohm 1 W" if seat else None
    draft.table(
        "[[lamp]]",
        name=label,
        circuit=circuit.name,
        kind=name,
        place=place,
        lead=lead.said,
        resistor=resistor,
    )
    feed, back = _joints(draft, circuit, lead, place, place)
    if circuit.negative:
        feed, back = back, feed
    probe, at = deck.probe(feed)
    if seat is not None:
        behind = deck.fresh()
        deck.resistor(at, behind, seat.ohms, (place,), circuit.share)
        at = behind
    # I = rated (V / volts)^0.55, and a resistance below a thousandth of its volts: common practice for filaments
    deck.card(
        "B", (at, back), f"I={{{amps / volts:.17g}*V(%0,%1)*pow(max(abs(V(%0,%1))/{volts}, 1e-3), -0.45)}}"
    )
    deck.heat(place, f"{circuit.share:.17g}*I({probe})*V(%2,%3)", at, back)
    draft.probes.setdefault(circuit.name, []).append(probe)
    draft.compare("lamp", label, lambda point: point.amps(probe))
    _at_joints(draft, circuit, label, lead, (place, place))


def _load(draft: Draft, circuit: Circuit, label: str) -> None:
    place, amps = draft.rng.choice(draft.places), draft.rng.choice([0.01, 0.03, 0.08])
    lowest = draft.rng.choice([None, 2.0, 20.0])  # the last is a motor that gets too little
    lead = _lead(draft, place)
    draft.table(
        "[[load]]", name=label, circuit=circuit.name, place=place, typical=f"{amps * 1e3:g} mA", lead=lead.said,
        lowest=f"{lowest:g} V" if lowest else None,
    )  # fmt: skip
    feed, back = _joints(draft, circuit, lead, place, place)
    if circuit.negative:
        feed, back = back, feed
    probe = draft.deck.ramp(feed, back, amps, lowest or 1.0, place, circuit.share)
    draft.probes.setdefault(circuit.name, []).append(probe)
    draft.compare("load", label, lambda point: point.volts(feed, back))


def _strip(draft: Draft, circuit: Circuit, label: str) -> None:
    rng, deck = draft.rng, draft.deck
    kind, series = _kind(draft, circuit, 3)
    segments, chains = rng.randint(1, 4), rng.choice([1, 1, 2])
    ohms = _ohms(draft, circuit.volts - series * OWN[kind][1])
    traced = deck.air == 20.0 or "warm traces" in draft.features
    trace = rng.choice([0.8, 3.0]) if traced and rng.random() < 0.8 else None
    if trace and deck.air != 20.0:
        draft.covers.add("warm traces")
    place = rng.choice(draft.places)
    lead = _lead(draft, place, 0.3)
    far = None
    if len(draft.places) > 1 and circuit.back not in draft.twins and draft.may("far end", 0.3):
        far = rng.choice([p for p in draft.places if p not in (place, lead.joint, circuit.origin)] or [None])
    draft.table(
        f"[strip_kind.kind-{label.replace(' ', '-')}]", volts=f"{circuit.volts:g} V", segment="50 mm", series=series,
        ohms=f"{ohms:g} ohm", kind=kind, strings=chains,
    )  # fmt: skip
    draft.table(
        "[[strip]]", name=label, circuit=circuit.name, kind=f"kind-{label.replace(' ', '-')}", place=place,
        segments=segments, trace=f"{trace} ohm/m" if trace else None, far_end=far, lead=lead.said,
    )  # fmt: skip
    sides = list(_joints(draft, circuit, lead, place, place))
    ends, probes = [], []
    for _ in range(segments):
        if trace:
            for side in range(2):
                on = deck.fresh()
                deck.conductor(sides[side], on, trace * 0.05, (place,), circuit.share)
                sides[side] = on
        ends.append(tuple(sides))
        for _ in range(chains):
            probes.append(_string(draft, circuit, *sides, [(kind, place)] * series, Seat(ohms, place)))
    if far is not None:
        for line, side in zip((circuit.name, circuit.back), sides, strict=True):
            deck.tie(draft.node(line, far), side)
        draft.fed.setdefault(circuit.name, {})[far] = lead.joint
        if circuit.back == f"{circuit.name}-return":
            draft.fed.setdefault(circuit.back, {})[far] = lead.joint
        else:
            draft.covers.add("loop")
            draft.tangled.add(circuit.back)
        if circuit.steady is None and len(draft.lines) < 12:
            _behind(draft, circuit, f"{label} behind", far)
    draft.compare("strip", label, lambda point: sum(abs(point.amps(probe)) for probe in probes))
    draft.compare("first segment", label, lambda point: abs(point.volts(*ends[0])))
    draft.compare("last segment", label, lambda point: abs(point.volts(*ends[-1])))


def _behind(draft: Draft, circuit: Circuit, label: str, place: str) -> None:
    """A lamp at the place that a strip's far end feeds."""
    kind, _ = _kind(draft, circuit, 1)
    seat = Seat(_ohms(draft, circuit.volts - OWN[kind][1]), place)
    draft.table(
        "[[lamp]]",
        name=label,
        circuit=circuit.name,
        kind=kind,
        place=place,
        resistor=f"{seat.ohms:g} ohm 1 W",
    )
    feed, back = draft.node(circuit.name, place), draft.node(circuit.back, place)
    probe = _string(draft, circuit, feed, back, [(kind, place)], seat)
    draft.compare("lamp", label, lambda point: point.amps(probe))


def colours(draft: Draft, driven: list[Circuit]) -> None:
    """Colour LEDs whose dice are on different circuits, with one leg for all of them on the side that is not switched."""
    groups: dict[tuple[str, bool], list[Circuit]] = {}
    for circuit in driven:
        if circuit.steady is None and circuit.share == 1.0 and circuit.back != f"{circuit.name}-return":
            groups.setdefault((circuit.back, circuit.negative), []).append(circuit)
    for (back_line, negative), group in groups.items():
        if not draft.may("colours", 0.5):
            continue
        rng, deck = draft.rng, draft.deck
        kind, place = rng.choice(list(RGB)), rng.choice(draft.places)
        fitting = [
            (colour, circuit)
            for colour, circuit in zip(RGB[kind], rng.sample(group * 3, 3), strict=True)
            if circuit.volts > RGB[kind][colour][0] + 0.4
        ]
        if not fitting:
            continue
        name, lead = f"sign {back_line} {negative}", _lead(draft, place, 0.7)
        seats = [
            Seat(_ohms(draft, circuit.volts - RGB[kind][colour][0]), rng.choice([place, lead.joint]))
            for colour, circuit in fitting
        ]
        draft.table(
            "[[lamp]]", name=name, kind=kind, place=place, lead=lead.said,
            dice={
                colour: {"circuit": circuit.name, "resistor": f"{seat.ohms:g} ohm 1/2 W at {seat.place}"}
                for (colour, circuit), seat in zip(fitting, seats, strict=True)
            },
        )  # fmt: skip
        back = draft.node(back_line, lead.joint)
        if lead.said is not None:
            end = deck.fresh()
            deck.conductor(back, end, lead.ohms[1], (place, lead.joint), 1.0)
            back = end
        for (colour, circuit), seat in zip(fitting, seats, strict=True):
            feed = draft.node(circuit.name, lead.joint)
            if lead.said is not None:
                end = deck.fresh()
                deck.conductor(feed, end, lead.ohms[0], (place, lead.joint), 1.0)
                feed = end
            probe = _string(draft, circuit, feed, back, [(f"{kind}-{colour}", place)], seat)
            draft.compare("lamp", f"{name} {colour}", lambda point, probe=probe: point.amps(probe))
