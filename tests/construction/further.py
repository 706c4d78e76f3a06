"""What fewer models have: a sound board, a constant-current output, lamps of one bin, a circuit switched in the negative, metal."""

from __future__ import annotations

from typing import Any

from tests.construction import lights
from tests.construction.handbook import DICE, e12_above, least_amps, most_amps, string_amps
from tests.construction.model import Model, Part


def sound_board(model: Model) -> None:
    """On a circuit of its own, with volts to spare both ways."""
    usual = model.source.usual
    typical = model.chance.choice([0.01, 0.02, 0.04])
    model.tables["circuit"]["horn"] = {"supply": "main"} | (
        {"own_return": True} if model.hub != "base" else {}
    )
    model.tables.setdefault("load", []).append({
        "name": "fog horn", "kind": "sound", "circuit": "horn", "place": model.hub, "typical": f"{typical * 1000:g} mA", "most": f"{typical * 1500:g} mA",
        "lowest": f"{0.55 * usual:.1f} V", "highest": f"{1.5 * usual:.1f} V", "reverse": "20 V",
    })  # fmt: skip
    model.warm(model.hub, 1.5 * typical * model.source.most)
    model.parts.append(Part(model.tables["load"][-1], "sound", "horn", typical, 1.5 * typical, 0.8 * typical))


def constant(model: Model) -> None:
    """A string on a driver that gives a third of its rating; 1 V to spare for the driver."""
    chance = model.chance
    kind = chance.choice(["smd-0603-red", "smd-0603-white", "led-3mm-green"])
    die = DICE[kind]
    series = int((model.source.least - 1.5) / die.most)
    if series < 1:
        model.has.discard("constant")
        return
    amps = chance.choice([0.006, 0.008, 0.01])
    model.tables["circuit"]["hall"] = {
        "supply": "main",
        "output": f"{amps * 1000:g} mA constant, compliance 1 V",
    }
    place = lights.home(model)
    entry: dict[str, Any] = {"name": "hall string", "circuit": "hall", "kind": kind, "place": place}
    if series > 1:
        entry["series"] = series
    lead = lights.joined(model, place, "hall string")
    if lead is not None:
        entry["lead"] = lead
    model.warm(place, series * die.most * amps)
    model.tables.setdefault("lamp", []).append(entry)
    model.parts.append(Part(entry, "constant", "hall", amps, amps, amps, series))


def matched(model: Model, circuit: str) -> None:
    """Two lamps of one bin behind one resistor: each takes all of it where the other is dark."""
    volts, die = lights.volts_on(model, circuit), DICE["smd-0805-warm-white"]
    if volts[1] - die.usual < 0.25 * volts[1] or model.source.stiff:
        model.has.discard("matched")
        return
    aim = 0.008
    ohms = e12_above((volts[1] - die.volts(aim / 2)) / aim)
    place = lights.home(model)
    most = most_amps(volts[2], die, 1, ohms)
    if most > 0.9 * die.rated:
        model.has.discard("matched")
        return
    entry: dict[str, Any] = {
        "name": "window pair", "circuit": circuit, "kind": "smd-0805-warm-white", "place": place, "parallel": 2, "one_resistor": True, "matched": True,
    }  # fmt: skip
    lead = lights.joined(model, place, "window pair")
    if lead is not None:
        entry |= {"lead": lead, "strings_share": "lead"}
    where = model.hub if lead is not None else place
    entry["resistor"] = f"{ohms:g} ohm {lights.power(model, most**2 * ohms, where)} at {where}"
    model.warm(where, most**2 * ohms)
    model.warm(place, most * die.most)
    model.tables.setdefault("lamp", []).append(entry)
    model.parts.append(
        Part(
            entry,
            "matched",
            circuit,
            string_amps(volts[1] + 0.03, die, 1, ohms),
            most,
            least_amps(volts[0], die, 1, ohms),
        )
    )


def negative(model: Model, circuit: str) -> None:
    """Its lamps are switched in the negative: their common wire is the positive, which goes up too."""
    model.tables["circuit"][circuit]["switched"] = "negative"
    for part in model.parts:
        if part.circuit == circuit and "lead" in part.entry:
            part.entry["lead"]["colours"] = ["violet", "red"]


def dim_on_purpose(model: Model, part: Part) -> None:
    """A glow that is wanted as it is."""
    part.entry["wanted"] = f"{part.amps / part.parallel * 1000:.1f} mA"
