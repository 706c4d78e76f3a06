"""Lamps, strips and loads of a random build, each as a table of the file and as cards between its joints."""

from __future__ import annotations

from tests.outside.whole_builds.drafts import OWN, RGB, WIRES, Circuit, Draft
from tests.outside.whole_builds.leads import Seat, at_joints, joints, lead_to, legs, string

__all__ = ["colours", "consumers"]

FILAMENTS = {"wheat": (12.0, 0.06), "rice": (5.0, 0.04)}
FORMS = ["single", "series", "parallel", "shared", "chain", "filament", "strip", "load"]
AIMED = (0.004, 0.007, 0.011, 0.016)  # A


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


def _ohms(draft: Draft, spare: float, strings: int = 1) -> float:
    """A resistor that leaves about the aimed current, of two digits."""
    return max(10.0, float(f"{spare / strings / draft.rng.choice(AIMED):.2g}"))


def _kind(draft: Draft, circuit: Circuit, most: int) -> tuple[str, int]:
    """A kind of LED, and how many in series the circuit's volts carry."""
    kinds = [kind for kind in OWN if OWN[kind][1] + 0.3 < circuit.volts]
    kind = draft.rng.choice(kinds)
    return kind, max(1, min(most, int((circuit.volts - 0.6) / OWN[kind][1])))


def _led(draft: Draft, circuit: Circuit, label: str, form: str) -> None:
    rng = draft.rng
    kind, most = _kind(draft, circuit, 4)
    series = rng.randint(min(2, most), most) if form in ("series", "chain") else rng.randint(1, most)
    strings = rng.randint(2, 3) if form in ("parallel", "shared") else 1
    if form == "chain":
        seats = [rng.choice(draft.places) for _ in range(series)]
        wires = [(rng.choice([20, 120, 300]), rng.choice(list(WIRES))) for _ in range(series - 1)]
    else:
        seats, wires = [rng.choice(draft.places)] * series, []
    lead = lead_to(draft, seats[0])
    seat = None
    if circuit.steady is None or rng.random() < 0.2:
        spare = circuit.volts - series * OWN[kind][1] if circuit.steady is None else 0.5
        where = lead.joint if rng.random() < 0.5 else seats[0]
        seat = Seat(_ohms(draft, spare, strings if form == "shared" else 1), where)
    away = seat is not None and seat.place not in seats
    share = None
    if strings > 1 and lead.said is not None:
        # one resistor beside the strings is at the end of the whole lead, one each at the joint is ahead of a leg each
        kinds = ["lead"] if form == "shared" and seat and not away else ["nothing", "return", "lead"]
        share = rng.choice(kinds[:2] if form == "parallel" and away else kinds)
        draft.covers.add(f"sharing {share}")
    draft.table(
        "[[lamp]]", name=label, circuit=circuit.name, kind=kind, place=seats[0], series=series,
        parallel=strings if strings > 1 else None, one_resistor=True if form == "shared" else None,
        places=seats if form == "chain" else None, strings_share=share, lead=lead.said,
        links=[f"{length} mm of {wire}" for length, wire in wires] if wires else None,
        resistor=None if seat is None else {
            "ohms": f"{seat.ohms:g} ohm", "power": "1/2 W", "place": seat.place,
            "side": rng.choice([None, "feed"] if away else [None, "feed", "back"]),
        },
    )  # fmt: skip
    ends = (seats[0], seats[-1])
    sides = legs(draft, circuit, lead, ends, strings, share or "lead", seat if form == "shared" else None)
    dice, links = (
        [(kind, place) for place in seats],
        [(WIRES[wire] * length / 1e3, length / 1e3) for length, wire in wires],
    )
    own = None if form == "shared" else seat
    laid = [string(draft, circuit, side.feed, side.back, dice, own, links) for side in sides]
    probes = [probe for probe, _ in laid]
    draft.compare("lamps", label, "nominal", lambda point: point.amps(probes[0]))
    at_joints(draft, circuit, label, lead, ends, (*sides[0].wires, *laid[0][1]))
    for number, probe in enumerate(probes, 1):
        if strings > 1:
            draft.compare("strings", f"{label} {number}", "nominal", lambda point, own=probe: point.amps(own))
    if seat is not None:
        through, ohms = strings if form == "shared" else 1, seat.ohms
        draft.compare("lamps", label, "resistor", lambda point: (through * point.amps(probes[0])) ** 2 * ohms)


def _filament(draft: Draft, circuit: Circuit, label: str) -> None:
    deck = draft.deck
    name = "wheat" if circuit.volts >= 8.0 else "rice"
    volts, amps = FILAMENTS[name]
    if f"[lamp_kind.{name}]" not in draft.toml:
        draft.table(f"[lamp_kind.{name}]", kind="filament", volts=f"{volts:g} V", rated=f"{amps * 1e3:g} mA")
    place = draft.rng.choice(draft.places)
    lead = lead_to(draft, place)
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
    feed, back, wires = joints(draft, circuit, lead, place, place)
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
    draft.compare("lamps", label, "nominal", lambda point: point.amps(probe))
    at_joints(draft, circuit, label, lead, (place, place), wires)
    if seat is not None:
        draft.compare("lamps", label, "resistor", lambda point: point.amps(probe) ** 2 * seat.ohms)


def _load(draft: Draft, circuit: Circuit, label: str) -> None:
    place, amps = draft.rng.choice(draft.places), draft.rng.choice([0.01, 0.03, 0.08])
    lowest = draft.rng.choice([None, 2.0, 20.0])  # the last is a motor that gets too little
    lead = lead_to(draft, place)
    draft.table(
        "[[load]]", name=label, circuit=circuit.name, place=place, typical=f"{amps * 1e3:g} mA", lead=lead.said,
        lowest=f"{lowest:g} V" if lowest else None,
    )  # fmt: skip
    feed, back, _ = joints(draft, circuit, lead, place, place)
    if circuit.negative:
        feed, back = back, feed
    probe = draft.deck.ramp(feed, back, amps, lowest or 1.0, place, circuit.share)
    draft.probes.setdefault(circuit.name, []).append(probe)
    draft.compare("loads", label, "volts", lambda point: point.volts(feed, back))


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
    lead = lead_to(draft, place, 0.3)
    far = None
    own = circuit.back == f"{circuit.name}-return"
    if circuit.back not in draft.twins and draft.may("far end", 0.3):
        far = rng.choice([p for p in draft.places if p not in (place, lead.joint, circuit.origin)] or [None])
    draft.table(
        f"[strip_kind.kind-{label.replace(' ', '-')}]", volts=f"{circuit.volts:g} V", segment="50 mm", series=series,
        ohms=f"{ohms:g} ohm", kind=kind, strings=chains,
    )  # fmt: skip
    draft.table(
        "[[strip]]", name=label, circuit=circuit.name, kind=f"kind-{label.replace(' ', '-')}", place=place,
        segments=segments, trace=f"{trace} ohm/m" if trace else None, far_end=far, lead=lead.said,
    )  # fmt: skip
    sides = list(joints(draft, circuit, lead, place, place)[:2])
    ends, probes = [], []
    for _ in range(segments):
        if trace:
            for side in range(2):
                on = deck.fresh()
                deck.conductor(sides[side], on, trace * 0.05, (place,), circuit.share)
                sides[side] = on
        ends.append(tuple(sides))
        for _ in range(chains):
            probes.append(string(draft, circuit, *sides, [(kind, place)] * series, Seat(ohms, place))[0])
    if far is not None:
        for line, side in zip((circuit.name, circuit.back), sides, strict=True):
            deck.tie(draft.node(line, far), side)
        draft.fed.setdefault(circuit.name, {})[far] = lead.joint
        if own:
            draft.fed.setdefault(circuit.back, {})[far] = lead.joint
        else:
            draft.covers.add("loop")
            draft.tangled.add(circuit.back)
        if circuit.steady is None and len(draft.lines) < 12:
            _behind(draft, circuit, f"{label} behind", far)
    draft.compare("strips", label, "nominal", lambda point: sum(abs(point.amps(probe)) for probe in probes))
    for number, pads in enumerate(ends, 1):
        lit = probes[(number - 1) * chains : number * chains]
        draft.compare("segments", f"{label} {number}", "volts", lambda point, of=pads: abs(point.volts(*of)))
        draft.compare(
            "segments",
            f"{label} {number}",
            "current",
            lambda point, of=lit: sum(abs(point.amps(one)) for one in of),
        )
    draft.compare("strips", label, "first_volts", lambda point: abs(point.volts(*ends[0])))
    draft.compare("strips", label, "last_volts", lambda point: abs(point.volts(*ends[-1])))
    draft.compare("strips", label, "first_current", lambda point: abs(point.amps(probes[0])))
    draft.compare("strips", label, "last_current", lambda point: abs(point.amps(probes[-1])))


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
    probe, _ = string(draft, circuit, feed, back, [(kind, place)], seat)
    draft.compare("lamps", label, "nominal", lambda point: point.amps(probe))


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
        name, lead = f"sign {back_line} {negative}", lead_to(draft, place, 0.7)
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
        common = back = draft.node(back_line, lead.joint)
        if lead.said is not None:
            end = deck.fresh()
            draft.conductor(back, end, lead.ohms[1], (place, lead.joint), 1.0, lead.metres[1])
            back = end
        for (colour, circuit), seat in zip(fitting, seats, strict=True):
            joint = feed = draft.node(circuit.name, lead.joint)
            if lead.said is not None:
                end = deck.fresh()
                draft.conductor(feed, end, lead.ohms[0], (place, lead.joint), 1.0, lead.metres[0])
                feed = end
            probe, _ = string(draft, circuit, feed, back, [(f"{kind}-{colour}", place)], seat)
            label, wires = f"{name} {colour}", ((joint, feed), (back, common))
            draft.compare("lamps", label, "nominal", lambda point, own=probe: point.amps(own))
            at_joints(draft, circuit, label, lead, (place, place), wires)
