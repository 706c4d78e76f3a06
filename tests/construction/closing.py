"""The records of a careful builder before the glue: every sealed lamp measured and run for a day, every spare conductor tried."""

from __future__ import annotations

from datetime import date
from typing import Any

from tests.construction.lights import volts_on
from tests.construction.model import Model

DAY = date(2026, 11, 20)


def prove(model: Model) -> None:
    """Readings as they come by Ohm's law and typical data."""
    proofs: list[dict[str, Any]] = []
    for part in model.parts:
        places = {part.entry["place"], *part.entry.get("places", ())}
        if all(model.tables["place"][place]["access"] != "sealed" for place in places):
            continue
        volts = volts_on(model, part.circuit)[1]
        reading = {"subject": part.name, "done": "lit on the bench", "volts": f"{volts:g} V"}
        proofs.append(reading | {"current": f"{part.amps * 1000:.3g} mA", "hours": "24 h", "polarity": True, "date": DAY})
    # what is soldered to its line inside is reached by a reading of the whole circuit alone
    inside = [part for part in model.parts if part.entry["place"] in model.lined]
    for circuit in dict.fromkeys(part.circuit for part in inside if model.tables["place"][part.entry["place"]]["access"] == "sealed"):
        amps = sum(part.amps for part in model.parts if part.circuit == circuit)
        volts = volts_on(model, circuit)[1]
        proofs.append({"subject": f"circuit {circuit}", "volts": f"{volts:g} V", "current": f"{amps * 1000:.3g} mA", "hours": "24 h", "date": DAY})
    for row in model.tables.get("run", ()):
        if row.get("spare"):
            proofs.append({"subject": row["name"], "continuity": True, "date": DAY})
    if proofs:
        model.tables["proof"] = proofs
