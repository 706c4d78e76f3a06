"""What goes from the base to the hub and on: runs, their bore, plugs, cables, arms."""

from __future__ import annotations

from math import pi
from typing import Any

from tests.construction.handbook import WIRES, bore, strain
from tests.construction.model import Model

# Far apart in any light.
COLOURS = ("white", "yellow", "green", "blue")


def feeds(model: Model) -> list[tuple[str, str]]:
    """The lines that have to go up, with a colour: a feed a circuit, the returns black."""
    lines: list[tuple[str, str]] = []
    for number, (name, said) in enumerate(model.tables["circuit"].items()):
        lines.append(
            (name, "violet" if said.get("switched") == "negative" else COLOURS[number % len(COLOURS)])
        )
        if said.get("own_return"):
            lines.append((f"{name}-return", "black"))
    if any(not said.get("own_return") for said in model.tables["circuit"].values()):
        lines.append(("main-", "black"))
    if any(said.get("switched") == "negative" for said in model.tables["circuit"].values()):
        lines.append(("main+", "red"))
    return lines


def lay(model: Model) -> None:
    """A run a line, flagged, and with spare length at both ends."""
    spare = int((model.tables["place"][model.hub].get("opening") or "0 mm").split()[0])
    length = model.way + spare + 10 * model.chance.randint(12, 20)
    rows = [
        {
            "name": f"{line} run",
            "line": line,
            "ends": ["base", model.hub],
            "length": f"{length} mm",
            "colour": colour,
            "label": line,
        }
        for line, colour in feeds(model)
    ]
    if model.may("spare", 0.25):
        rows.append(
            {
                "name": "reserve",
                "spare": True,
                "ends": ["base", model.hub],
                "length": f"{length} mm",
                "colour": "grey",
                "label": "spare",
            }
        )
    model.tables["run"] = rows


def through_metal(model: Model) -> None:
    """The metal of the post as the negative, and no wire: it stands still, and the positive is never on it."""
    row = next(row for row in model.tables["run"] if row.get("line") == "main-")
    for key in ("length", "colour", "label"):
        del row[key]
    row |= {"body": True, "ohms": "10 mohm"}


def onward(model: Model) -> None:
    """Lines that go on from the hub to a body, through a spar, where its lamps are soldered straight to them."""
    for body in model.lined:
        circuits = {part.circuit for part in model.parts if part.entry["place"] == body}
        lines = [
            (line, colour) for line, colour in feeds(model)
            if line in circuits or any(line == _back(model, circuit) for circuit in circuits)
        ]  # fmt: skip
        if not lines:
            continue
        model.has.add("spar")
        spare = int((model.tables["place"][model.hub].get("opening") or "0 mm").split()[0])
        length = model.tables["ways"][body]
        model.tables["run"] += [
            {
                "name": f"{line} {body} run", "line": line, "ends": [model.hub, body], "length": f"{length + spare + 100} mm",
                "colour": colour, "label": f"{line} {body}",
            }
            for line, colour in lines
        ]  # fmt: skip
        across = [WIRES[model.wire].outside] * len(lines)
        model.tables["passage"] = {
            "spar": {
                "from": model.hub,
                "to": body,
                "length": f"{length} mm",
                "bore": f"{bore(across):g} mm",
                "edges": "rounded",
            }
        }


def _back(model: Model, circuit: str) -> str:
    """The line by which a circuit's current goes back."""
    if model.tables["circuit"][circuit].get("switched") == "negative":
        return "main+"
    return f"{circuit}-return" if model.tables["circuit"][circuit].get("own_return") else "main-"


def post(model: Model) -> None:
    """The bore that the runs have room in; where it turns, stranded wire with slack, grips and a stop."""
    chance, wire = model.chance, WIRES[model.wire]
    said: dict[str, Any] = {
        "from": "base",
        "to": model.hub,
        "length": f"{model.way} mm",
        "edges": chance.choice(["bushed", "rounded"]),
    }
    up = [row for row in model.tables["run"] if "base" in row["ends"]]
    across = [wire.outside] * len(up)
    if "main-" in [row.get("line") for row in up] and "plug" not in model.wants and model.may("metal", 0.15):
        through_metal(model)
        across = across[1:]
        model.wants |= {"no turn", "no cable", "no flat", "no plug"}
        said["edges"] = "bushed"
    if model.may("cable", 0.15) and "turn" not in model.wants:
        thick = round(1.2 * bore(across), 1)
        model.tables["cable"] = {"sheath": {"outside": f"{thick:g} mm"}}
        across = [thick]
    elif model.may("flat", 0.12) and "turn" not in model.wants:
        wide = round(len(across) * wire.outside + 0.4, 1)
        model.tables["cable"] = {"ribbon": {"flat": f"{wide:g} x {wire.outside + 0.1:.1f} mm"}}
        across = [wide]
    for name in model.tables.get("cable", ()):
        for row in up:
            row["cable"] = name
    said["bore"] = f"{bore(across):g} mm"
    if "cable" not in model.tables and model.may("turn", 0.35):
        degrees = chance.choice([45, 60, 90])
        # no more than a third of what 10 000 turns stand, by the more cautious of two fatigue laws
        if 2 * strain(wire, 2 * degrees * pi / 180, model.way) < 0.0018:
            said |= {
                "turn": f"{degrees} deg", "stop": True, "slack": "2 mm", "cycles": "2 /day for 10 years",
                "to_joint": "25 mm", "bend_radius": "20 mm", "bend_held": True, "edges": "bushed",
            }  # fmt: skip
        else:
            model.has.discard("turn")
    model.tables["post"] = said


def plug(model: Model) -> None:
    """A keyed plug between the runs and the hub, its bare pins on the side that is dead when it is apart."""
    load = sum(max(part.most, part.starting) for part in model.parts)
    model.tables["plug"] = [
        {
            "name": "foot plug", "at": model.hub, "pins": [line for line, _ in feeds(model)],
            "rated": f"{max(0.5, round(2 * load + 0.5)):g} A", "contact": "20 mohm", "keyed": True, "bare_pins": "model",
        }
    ]  # fmt: skip


def arms(model: Model) -> None:
    """A tube for the leads of one body, each with the lamp or joint that has to pass."""
    if model.lined:
        return
    chained = {place for row in model.tables.get("lamp", ()) for place in row.get("places", ())}
    body = next((body for body in model.bodies if body not in chained and body not in model.lined), None)
    leads = [row for row in model.tables.get("lamp", ()) if row["place"] == body and "lead" in row]
    if not leads or not model.may("arm", 0.4):
        model.has.discard("arm")
        return
    for row in leads:
        row["lead"]["joint"] = "1.2 mm"
    outside = WIRES[model.lead].outside
    legs = 0
    for row in leads:
        many = row.get("parallel", 1)
        legs += {"return": many + 1}.get(row.get("strings_share", ""), 2)
    long = int(model.tables["ways"][body]) - 20
    model.tables["passage"] = {
        "arm": {
            "from": model.hub, "to": body, "length": f"{long} mm", "edges": "bushed",
            # each joint beside all that is in already
            "bore": f"{max(bore([outside] * legs), round(2 * (bore([outside] * legs) / 1.4 + 1.3)) / 2):g} mm",
        }
    }  # fmt: skip
