"""Slips in closed bodies: heat, motors, strips, and what was tested before they are closed."""

from __future__ import annotations

from datetime import date
from typing import Any

from tests.construction.faults.record import Asked, Found, NotHere, Sort, first, sort
from tests.construction.model import Model
from tests.construction.supplies import amps


def motor_of(model: Model) -> dict[str, Any]:
    """The motor's entry."""
    row: dict[str, Any] = first([row for row in model.tables.get("load", []) if row["kind"] == "motor"])
    return row


def on_a_plain_circuit(model: Model) -> tuple[dict[str, Any], dict[str, Any]]:
    """The motor's entry, and its circuit's, of which nothing but the supply is said."""
    motor = motor_of(model)
    said: dict[str, Any] = model.tables["circuit"][motor["circuit"]]
    if said != {"supply": "main"}:
        raise NotHere
    return motor, said


@sort("a body of a tenth of the size", "12 V", "no closing")
def hot(model: Model) -> Found:
    place = max(
        (name for name, row in model.tables["place"].items() if row["access"] != "open"),
        key=lambda name: model.heat.get(name, 0),
        default=None,
    )
    if place is None or model.heat.get(place, 0) < 0.3 or model.tables["place"][place]["material"] == "brass":
        raise NotHere
    model.tables["place"][place]["surface"] = "6 cm2"
    return Found("place.too-hot", place)


@sort("resin where styrene was meant", "no closing")
def resin(model: Model) -> Found:
    place = max(
        (name for name, row in model.tables["place"].items() if row["access"] != "open"),
        key=lambda name: model.heat.get(name, 0),
        default=None,
    )
    if place is None or model.heat.get(place, 0) < 0.25:
        raise NotHere
    row = model.tables["place"][place]
    row["material"] = "resin"
    row.pop("painted", None)
    row["surface"] = "40 cm2"
    return Found("place.too-hot", place)


@sort("a motor held fast on the deck", "motor", "hub")
def held(model: Model) -> Found:
    motor = motor_of(model)
    if model.tables["place"][model.hub]["material"] == "brass":
        raise NotHere
    for key in ("held_off", "never_stalls"):
        del motor[key]
    motor["case"] = "4 cm2"
    return Found("motor.hot", "screw")


@sort("a motor held fast behind a fuse that carries what it then takes", "motor", "adaptor")
def held_by_its_fuse(model: Model) -> Found:
    # touching nothing: 3 times what it takes running, on all volts, goes into a winding of the size of a thimble
    motor = motor_of(model)
    del motor["never_stalls"]
    motor["case"] = "4 cm2"
    metal = model.tables["place"][model.hub].get("material") == "brass"  # that takes its heat away
    if metal or model.source.least * amps(motor["starting"]) < 1.0:
        raise NotHere
    return Found("motor.hot", "screw")


@sort("an output for a motor that runs, not for one that starts", "motor")
def starts(model: Model) -> Found:
    motor, said = on_a_plain_circuit(model)
    said["output"] = f"{1500 * amps(motor['typical']):.1f} mA, 0.2 V drop"
    return Found("output.starts", motor["circuit"])


@sort("an output that a motor held fast overloads for good", "motor", "adaptor")
def holds(model: Model) -> Found:
    motor, said = on_a_plain_circuit(model)
    del motor["never_stalls"]
    motor["case"] = "400 cm2"  # as cool as can be, so that its output alone is at fault
    said["output"] = f"{2500 * amps(motor['typical']):.1f} mA, 0.2 V drop"
    return Found("output.starts", motor["circuit"])


@sort("a switch that a motor held fast overloads for good", "motor", "adaptor")
def holds_switch(model: Model) -> Found:
    motor, said = on_a_plain_circuit(model)
    del motor["never_stalls"]
    motor["case"] = "400 cm2"
    said["on_off"] = f"{2500 * amps(motor['typical']):.1f} mA at base"
    return Found("switch.overload", motor["circuit"])


@sort("a motor for fewer volts", "motor")
def motor_high(model: Model) -> Found:
    motor_of(model)["highest"] = f"{0.8 * model.source.usual:.1f} V"
    motor_of(model)["lowest"] = "1 V"
    return Found("load.over-volts", "screw")


@sort("a motor for more volts", "motor")
def motor_low(model: Model) -> Found:
    motor_of(model).update(lowest=f"{1.3 * model.source.usual:.1f} V", highest="30 V")
    return Found("load.low-volts", "screw")


@sort("a diode that is too small", "motor")
def diode_small(model: Model) -> Found:
    motor_of(model)["diode"] = "10 mA"
    return Found("diode.too-small", "screw")


@sort("a diode across a motor that is reversed", "motor")
def diode_both(model: Model) -> Found:
    motor_of(model).update(reverses=True, diode="1N4001")
    return Found("diode.both-ways", "screw")


@sort("a supply that cannot start its motor", "motor")
def no_start(model: Model) -> Found:
    motor = motor_of(model)
    motor["starting"] = f"{3 * amps(model.tables['supply']['main']['rated']):.1f} A"
    return Found("supply.no-start", "main")


@sort("a 12 V strip on 5 V", "5 V", "hub")
def strip_low(model: Model) -> Found:
    circuit = first([name for name, said in model.tables["circuit"].items() if said == {"supply": "main"}])
    model.tables["strip"] = [
        {
            "name": "hold strip",
            "circuit": circuit,
            "kind": "strip-12v-white-60",
            "place": model.hub,
            "segments": 1,
            "trace": "0.4 ohm/m",
        }
    ]
    return Found("strip.wrong-volts", "hold strip")


@sort("a 5 V strip on 12 V", "strip")
def strip_high(model: Model) -> Found:
    first(model.tables["strip"])["kind"] = "strip-5v-white-60"
    return Found("strip.wrong-volts", "hold strip")


@sort("a strip cut between its marks", "strip")
def strip_cut(model: Model) -> Found:
    row = first(model.tables["strip"])
    row.pop("segments", None)
    row["length"] = "127 mm"
    return Found("strip.not-at-mark", "hold strip")


@sort("a strip of traces that are too thin for it", "strip")
def strip_through(model: Model) -> Found:
    first(model.tables["strip"])["through"] = "4 mA"
    return Found("strip.over-through", "hold strip")


@sort("a strip of many metres on its thin traces", "strip", "no closing")
def strip_long(model: Model) -> Found:
    row = first(model.tables["strip"])
    row.pop("length", None)
    row |= {"segments": 40, "trace": "1.5 ohm/m"}
    main = model.tables["supply"]["main"]
    main |= {"rated": "5 A", "fuse": "2 A"}
    return Found("strip.dim", "hold strip")


def proof(model: Model) -> dict[str, Any]:
    """A record of a lamp."""
    row: dict[str, Any] = first([row for row in model.tables.get("proof", []) if "current" in row])
    return row


@sort("a lamp closed in without a test", "closing")
def untested(model: Model) -> Found:
    row = proof(model)
    part = first([part for part in model.parts if part.name == row["subject"]])
    circuit = part.entry.get("circuit")
    alone = sum(other.entry.get("circuit") == circuit for other in model.parts) == 1
    if alone and any(one["subject"] == f"circuit {circuit}" for one in model.tables["proof"]):
        raise NotHere  # the test of its circuit is its own
    model.tables["proof"].remove(row)
    if not model.tables["proof"]:
        del model.tables["proof"]
    places = [part.entry["place"], *part.entry.get("places", ())]
    return Found(
        "closing.unproven",
        first([place for place in places if model.tables["place"][place]["access"] == "sealed"]),
    )


@sort("a lamp closed in after a minute", "closing")
def brief(model: Model) -> Found:
    row = proof(model)
    row["hours"] = "1 min"
    part = first([part for part in model.parts if part.name == row["subject"]])
    places = [part.entry["place"], *part.entry.get("places", ())]
    return Found(
        "closing.short-run",
        first([place for place in places if model.tables["place"][place]["access"] == "sealed"]),
    )


@sort("a reading of twice what it should be", "closing")
def twice(model: Model) -> Found:
    row = proof(model)
    row["current"] = f"{2 * float(row['current'].split()[0]):.3g} mA"
    return Found("proof.current", row["subject"])


@sort("a reading of nothing", "closing")
def nothing(model: Model) -> Found:
    row = proof(model)
    row["current"] = "0 mA"
    return Found("proof.current", row["subject"])


@sort("a lamp that was found the wrong way round", "closing")
def polarity(model: Model) -> Found:
    row = proof(model)
    row["polarity"] = False
    return Found("proof.polarity", row["subject"])


@sort("a run that was found open", "hub")
def opened(model: Model) -> Found:
    name = model.tables["run"][0]["name"]
    model.tables.setdefault("proof", []).append({"subject": name, "continuity": False})
    return Found("proof.continuity", name)


@sort("insulation that leaks", "hub")
def leaks(model: Model) -> Found:
    name = model.tables["run"][0]["name"]
    model.tables.setdefault("proof", []).append({"subject": name, "insulation": "20 kohm"})
    return Found("proof.insulation", name)


@sort("a test of next year", "closing")
def future(model: Model) -> Found:
    row = proof(model)
    row["date"] = date(2027, 11, 20)
    return Found("proof.future", row["subject"])


@sort("a caution left open at closing", "closing", "opening", "hub")
def left_open(model: Model) -> Found:
    part = first([part for part in model.parts if "lead" in part.entry])
    part.entry["lead"]["spare"] = "5 mm"
    return Found("closing.open", model.tables["build"]["name"])


@sort("the size of a warm body not said", "closing", "hub")
def surface_unknown(model: Model) -> Asked:
    place = max(
        (name for name, row in model.tables["place"].items() if row["access"] != "open"),
        key=lambda name: model.heat.get(name, 0),
    )
    if model.heat.get(place, 0) < 1.2:
        raise NotHere
    del model.tables["place"][place]["surface"]
    return Asked(place, "")


SORTS = tuple(value for value in globals().values() if isinstance(value, Sort))
