"""A small geared motor with everything that is asked of one, on conductors of its own."""

from __future__ import annotations

from typing import Any

from tests.construction.lights import volts_on
from tests.construction.model import Model, Part


def motor(model: Model, circuit: str) -> Part:
    """In metal, with a clutch, a diode, and volts to spare both ways."""
    chance, usual = model.chance, volts_on(model, circuit)[1]
    typical = chance.choice([0.03, 0.04, 0.05])
    entry: dict[str, Any] = {
        "name": "screw", "kind": "motor", "circuit": circuit, "place": model.hub,
        "typical": f"{typical * 1000:g} mA", "most": f"{typical * 1300:g} mA", "starting": f"{typical * 3000:g} mA",
        "lowest": f"{0.5 * usual:.1f} V", "highest": f"{1.6 * usual:.1f} V", "case": "24 cm2", "held_off": True,
        "never_stalls": True, "diode": chance.choice(["1N4001", "1 A"]),
    }  # fmt: skip
    model.warm(model.hub, 1.3 * typical * model.source.most)
    model.tables.setdefault("load", []).append(entry)
    part = Part(entry, "motor", circuit, typical, 1.3 * typical, starting=3 * typical)
    model.parts.append(part)
    return part
