"""Lamps of every sort, each with a current that it stands in every corner."""

from __future__ import annotations

from typing import Any

from tests.construction import handbook
from tests.construction.handbook import DICE, Die, e12_above, least_amps, most_amps, string_amps
from tests.construction.model import Model, Part

POWERS = (("1/8 W", 0.125), ("1/4 W", 0.25), ("1/2 W", 0.5), ("1 W", 1.0))
INSIDE = {
    12.0: ("led-12v-3mm-red", "led-12v-5mm-white", "led-12v-5mm-yellow"),
    5.0: ("led-5v-3mm-red", "led-5v-5mm-white", "led-5v-5mm-green"),
}
TAKES = {12.0: 0.013, 5.0: 0.010}
BULBS = {
    12.0: (("wheat-12v", 0.06), ("rice-12v", 0.05)),
    5.0: (("wheat-6v", 0.06),),
    6.0: (("wheat-6v", 0.06),),
}
FLAGS = ("bow", "stern", "port", "starboard", "mast", "galley", "bridge", "cabin", "hold", "deck", "anchor", "keel", "fin", "nose", "tail", "gondola", "ballast", "ladder", "winch house", "sonar")  # fmt: skip


def power(model: Model, watts: float, place: str) -> str:
    """A rating of which it gets half at most in the open, and a quarter inside: a film part at its rating is some 85 K too warm."""
    times = (
        2
        if model.tables["place"][place]["access"] == "open" and "material" not in model.tables["place"][place]
        else 4
    )
    return next(name for name, rated in POWERS if rated >= times * watts)


def volts_on(model: Model, circuit: str) -> tuple[float, float, float]:
    """Least, usual and most volts that a circuit's lamps are given."""
    said = model.tables["circuit"][circuit]
    if said.get("supply") == "five":
        return 4.9, 5.0, 5.1
    drop = 0.2 if "output" in said or "board" in said else 0.0
    source = model.source
    return source.least - drop, source.usual - drop, source.most - drop


def resistor_for(volts: tuple[float, float, float], die: Die, series: int, aim: float) -> float | None:
    """A preferred value that gives about the aim: never above 0.8 of the rating, never below 0.12, 0.18 of the volts on it."""
    low, usual, high = volts
    if usual - series * die.usual < 0.18 * usual:
        return None
    ohms = e12_above((usual - series * die.volts(aim)) / aim)
    most, least = most_amps(high, die, series, ohms), least_amps(low, die, series, ohms)
    return ohms if most <= 0.8 * die.rated and least >= 0.12 * die.rated else None


def style(model: Model, circuit: str) -> dict[str, Any] | None:
    """A kind of lamp with its string and resistor, the same for all lamps of a circuit, so that they are alike."""
    chance, volts = model.chance, volts_on(model, circuit)
    for _ in range(20):
        kind = chance.choice(list(DICE))
        die = DICE[kind]
        most = int(0.82 * volts[1] / die.usual)
        if most < 1:
            continue
        series = 1 if model.source.stiff else chance.randint(1, min(most, 4))
        aim = chance.uniform(0.2, 0.65) * die.rated
        ohms = resistor_for(volts, die, series, aim)
        if ohms is not None:
            return {"kind": kind, "die": die, "series": series, "ohms": ohms}
    return None


def home(model: Model) -> str:
    """A place for a lamp."""
    return model.chance.choice(model.bodies)


def joined(model: Model, place: str, name: str) -> dict[str, Any] | None:
    """Its lead to the hub, with two colours and a flag; none where it sits at the hub itself."""
    if place == model.hub or place in model.lined:
        return None
    chance = model.chance
    length = model.tables["ways"][place] + 10 * chance.randint(3, 8)
    lead: dict[str, Any] = {
        "length": f"{length} mm",
        "to": model.hub,
        "colours": [chance.choice(["red", "white"]), "black"],
        "label": name,
    }
    opening = model.tables["place"][model.hub].get("opening")
    if opening is not None or chance.random() < 0.3:
        lead["spare"] = f"{int((opening or '0 mm').split()[0]) + 50} mm"
    return lead


def led(model: Model, circuit: str, look: dict[str, Any], name: str, place: str) -> Part:
    """A string, or several side by side, each with its own resistor."""
    chance, die, series, ohms = model.chance, look["die"], look["series"], look["ohms"]
    low, usual, high = volts_on(model, circuit)
    amps, most = string_amps(usual, die, series, ohms), most_amps(high, die, series, ohms)
    entry: dict[str, Any] = {"name": name, "circuit": circuit, "kind": look["kind"], "place": place}
    parallel = chance.randint(2, 3) if model.may("parallel", 0.12) and not look.get("one") else 1
    if series > 1:
        entry["series"] = series
    if parallel > 1:
        entry["parallel"] = parallel
    lead = joined(model, place, name)
    fine = handbook.WIRES[model.lead].enamelled
    at_hub = lead is not None and (fine or chance.random() < 0.7)
    where = model.hub if at_hub else place
    watts = most**2 * ohms
    piece = f"{ohms:g} ohm {power(model, watts, where)}"
    split = look.get("split")
    if split:
        first, second = split
        piece = f"{first:g} ohm {power(model, most**2 * first, where)} + {second:g} ohm {power(model, most**2 * second, where)}"
    entry["resistor"] = f"{piece} at {where}"
    if lead is not None:
        entry["lead"] = lead
        if parallel > 1:
            entry["strings_share"] = "lead"
            if at_hub:  # each string its own resistor at the hub: its feed comes by itself
                entry["strings_share"] = "return"
    model.warm(where, parallel * watts)
    model.warm(place, parallel * series * 1.1 * die.volts(most) * most)
    model.tables.setdefault("lamp", []).append(entry)
    part = Part(
        entry,
        "led",
        circuit,
        parallel * amps,
        parallel * most,
        parallel * least_amps(low, die, series, ohms),
        series,
        parallel,
        ohms,
    )
    model.parts.append(part)
    return part


def as_it_is(model: Model, circuit: str, sort: str, name: str, place: str) -> Part | None:
    """A lamp that needs no resistor: an LED with its own inside, a bulb on its volts, an LED that flashes by itself."""
    chance, usual = model.chance, model.source.usual
    entry: dict[str, Any] = {"name": name, "circuit": circuit, "place": place}
    if sort == "inside" and usual in INSIDE:
        kind, amps = chance.choice(INSIDE[usual]), TAKES[usual]
    elif sort == "bulb" and usual in BULBS:
        kind, rated = chance.choice(BULBS[usual])
        amps = rated * (usual / (6 if kind == "wheat-6v" else 12)) ** 0.55  # the law of lamp makers
        entry["held_off"] = True
    elif sort == "chip" and 5.0 <= usual <= 12.0 and not model.source.stiff:
        kind, amps = chance.choice(["flash-5mm-red", "flash-5mm-yellow"]), 0.03 * usual / 9
    else:
        return None
    entry["kind"] = kind
    lead = joined(model, place, name)
    if lead is not None:
        entry["lead"] = lead
    most = amps * (1.1 if sort == "bulb" else 1.45)
    model.warm(place, most * model.source.most)
    model.tables.setdefault("lamp", []).append(entry)
    part = Part(entry, sort, circuit, amps, most, 0.6 * amps)
    model.parts.append(part)
    return part


def colours(model: Model, circuits: dict[str, str], name: str, place: str) -> Part | None:
    """A lamp of three dice on three circuits, with a resistor each where it sits."""
    entry: dict[str, Any] = {"name": name, "kind": "smd-0603-rgb", "place": place, "dice": {}}
    amps = most = 0.0
    for colour, die in (("red", handbook.RED), ("green", handbook.GREEN), ("blue", handbook.BLUE)):
        volts = volts_on(model, circuits[colour])
        ohms = resistor_for(volts, die, 1, model.chance.uniform(0.005, 0.009))
        if ohms is None:
            return None
        highest = most_amps(volts[2], die, 1, ohms)
        entry["dice"][colour] = {
            "circuit": circuits[colour],
            "resistor": f"{ohms:g} ohm {power(model, highest**2 * ohms, place)}",
        }
        amps, most = amps + string_amps(volts[1], die, 1, ohms), most + highest
    model.warm(place, most * volts[2])
    model.tables.setdefault("lamp", []).append(entry)
    part = Part(entry, "colours", circuits["red"], amps, most, 0.5 * amps)
    model.parts.append(part)
    return part


def strip(model: Model, circuit: str, name: str) -> Part:
    """Some segments of a 12 V strip, at the hub."""
    segments = model.chance.randint(1, 4)
    entry = {
        "name": name,
        "circuit": circuit,
        "kind": model.chance.choice(["strip-12v-white-60", "strip-12v-red-60"]),
        "place": model.hub,
        "trace": "0.4 ohm/m",
    }
    entry |= {"segments": segments} if model.chance.random() < 0.5 else {"length": f"{50 * segments} mm"}
    model.warm(model.hub, segments * 0.022 * model.source.most)
    model.tables.setdefault("strip", []).append(entry)
    part = Part(entry, "strip", circuit, segments * 0.018, segments * 0.025, segments * 0.012)
    model.parts.append(part)
    return part
