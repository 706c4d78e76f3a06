"""The records of a careful builder before the glue: every sealed lamp measured and run for a day, every spare conductor tried."""

from __future__ import annotations

from datetime import date
from typing import Any

from tests.construction.handbook import DICE, string_amps
from tests.construction.lights import volts_on
from tests.construction.model import Model, Part

DAY = date(2026, 11, 20)


def _as_made(model: Model, part: Part, volts: float) -> float:
    """A lamp as it is made: forward volts in the middle half of its sheet, a resistor within 4 %, a bulb within 8 %."""
    chance = model.chance
    if part.sort != "led":
        return part.amps * (
            1 + chance.uniform(-1, 1) * {"bulb": 0.08, "inside": 0.08, "chip": 0.08}.get(part.sort, 0.0)
        )
    die, luck = DICE[part.entry["kind"]], chance.uniform(-0.5, 0.5)
    shift = luck * (die.most - die.usual if luck > 0 else die.usual - die.least)
    return part.parallel * string_amps(
        volts - part.series * shift, die, part.series, part.ohms * (1 + chance.uniform(-0.04, 0.04))
    )


def _at_the_bench(part: Part) -> dict[str, Any]:
    """What else is written down: the way round, and of a bare string the limit that held its current."""
    return {"limit": f"{part.amps * 1000:g} mA"} if part.sort == "constant" else {"polarity": True}


def prove(model: Model) -> None:
    """Readings as they come by Ohm's law, of parts as they are made."""
    proofs: list[dict[str, Any]] = []
    for part in model.parts:
        places = {part.entry["place"], *part.entry.get("places", ())}
        if all(model.tables["place"][place]["access"] != "sealed" for place in places):
            continue
        volts = volts_on(model, part.circuit)[1]
        reading = {"subject": part.name, "done": "lit on the bench", "volts": f"{volts:g} V"}
        proofs.append(
            reading
            | {"current": f"{_as_made(model, part, volts) * 1000:.3g} mA", "hours": "24 h", "date": DAY}
            | _at_the_bench(part)
        )
    # what is soldered to its line inside is reached by a reading of the whole circuit alone
    inside = [part for part in model.parts if part.entry["place"] in model.lined]
    for circuit in dict.fromkeys(
        part.circuit for part in inside if model.tables["place"][part.entry["place"]]["access"] == "sealed"
    ):
        amps = sum(part.amps for part in model.parts if part.circuit == circuit)
        volts = volts_on(model, circuit)[1]
        proofs.append(
            {
                "subject": f"circuit {circuit}",
                "volts": f"{volts:g} V",
                "current": f"{amps * 1000:.3g} mA",
                "hours": "24 h",
                "date": DAY,
            }
        )
    for row in model.tables.get("run", ()):
        if row.get("spare"):
            proofs.append({"subject": row["name"], "continuity": True, "date": DAY})
    if proofs:
        model.tables["proof"] = proofs
