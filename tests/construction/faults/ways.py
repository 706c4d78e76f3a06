"""Slips on the way up: bores, turns, edges, lengths, plugs, switches, thin copper."""

from __future__ import annotations

from typing import Any

from tests.construction.faults.record import Asked, Found, NotHere, Sort, first, sort
from tests.construction.handbook import WIRES
from tests.construction.model import Model


def millimetres(text: str) -> float:
    """Of a text like "5 mm"."""
    return float(text.split(maxsplit=1)[0])


def lines(model: Model) -> list[dict[str, Any]]:
    """Runs from the base that carry a line."""
    return [row for row in model.tables["run"] if "line" in row and "base" in row["ends"]]


@sort(
    "wires for another circuit or three in a bore without room",
    "post",
    "hub",
    "no cable",
    "no flat",
    "no turn",
)
def crowded(model: Model) -> Found:
    wire = WIRES[model.wire]
    room = millimetres(model.tables["post"]["bore"])
    many = int((room / wire.outside) ** 2) + 1
    for number in range(many):
        model.tables["run"].append(
            {
                "name": f"extra {number}",
                "spare": True,
                "ends": ["base", model.hub],
                "length": lines(model)[0]["length"],
                "label": f"x{number}",
                "colour": "grey",
            }
        )
    return Found("passage.cannot-fit", "post")


@sort("the bore of a thinner tube", "post", "hub", "no cable", "no flat", "no turn")
def thin_tube(model: Model) -> Found:
    rows = len([row for row in model.tables["run"] if "base" in row["ends"]])
    if rows < 3:
        raise NotHere
    # less than the circle round two of them
    model.tables["post"]["bore"] = f"{1.9 * WIRES[model.wire].outside:.2f} mm"
    return Found("passage.cannot-fit", "post")


@sort("a sheath as wide as the tube", "post", "hub", "cable")
def sheath(model: Model) -> Found:
    model.tables["cable"]["sheath"]["outside"] = model.tables["post"]["bore"]
    return Found("passage.tight", "post")


@sort("a flat cable wider than the tube", "post", "hub", "flat")
def ribbon(model: Model) -> Found:
    wide = millimetres(model.tables["post"]["bore"]) + 1
    model.tables["cable"]["ribbon"]["flat"] = f"{wide:g} x {WIRES[model.wire].outside + 0.1:.1f} mm"
    return Found("passage.cannot-fit", "post")


@sort("a lamp too thick for its arm", "arm", "hub")
def thick_lamp(model: Model) -> Found:
    wide = millimetres(model.tables["passage"]["arm"]["bore"]) + 0.5
    body = model.tables["passage"]["arm"]["to"]
    row = first([row for row in model.tables["lamp"] if row["place"] == body and "lead" in row])
    row["lead"]["joint"] = f"{wide:g} mm"
    return Found("passage.widest", "arm")


@sort("wire whose insulation is for fewer volts", "12 V", "hub", "no closing")
def thin_insulation(model: Model) -> Found:
    wire = {"strands": 7, "strand": "0.16 mm", "outside": f"{WIRES[model.wire].outside:g} mm", "volts": "6 V"}
    model.tables.setdefault("wire", {})["bell"] = wire
    row = first([row for row in lines(model) if "cable" not in row and not row.get("body") and "name" in row])
    row["wire"] = "bell"
    return Found("wire.volts", row["name"])


@sort("a plug that has to be threaded and does not pass", "post", "plug", "hub")
def thick_plug(model: Model) -> Found:
    model.tables["plug"][0] |= {
        "diameter": f"{millimetres(model.tables['post']['bore']) + 2:g} mm",
        "through": ["post"],
    }
    return Found("passage.plug", "foot plug")


@sort("a post that turns and has no stop", "post", "hub", "turn")
def no_stop(model: Model) -> Found:
    model.tables["post"] |= {"turn": "720 deg", "stop": False}
    return Found("passage.loops", "post")


@sort("a post of a few millimetres that turns all day", "post", "hub", "turn")
def tired(model: Model) -> Found:
    model.tables["post"] |= {"free": "6 mm", "turn": "180 deg", "cycles": "50 /day for 10 years"}
    model.tables["post"].pop("slack")
    return Found("passage.strain", "post")


@sort("solid wire in a post that turns", "post", "hub", "turn")
def solid(model: Model) -> Found:
    model.tables["wire"] = {"bell": {"strands": 1, "strand": "0.6 mm", "outside": "1.0 mm"}}
    wide = 3 * len(model.tables["run"])
    model.tables["post"]["bore"] = f"{wide} mm"
    model.tables["usual"]["run"] = "bell"
    return Found("passage.solid", "post")


@sort("winding wire in a post that turns", "post", "hub", "turn")
def winding(model: Model) -> Found:
    model.tables["usual"]["run"] = "enamel-0.25"
    return Found("passage.enamelled", "post")


@sort("strands soldered solid where they turn", "post", "hub", "turn")
def soldered(model: Model) -> Found:
    model.tables["post"]["soldered_inside"] = True
    return Found("passage.soldered", "post")


@sort("a joint inside a post that turns", "post", "hub", "turn")
def joint_inside(model: Model) -> Found:
    model.tables["post"]["joints_inside"] = True
    return Found("passage.joint-inside", "post")


@sort("a joint right at the grip", "post", "hub", "turn")
def grip(model: Model) -> Found:
    model.tables["post"]["to_joint"] = "2 mm"
    return Found("passage.grip", "post")


@sort("a sharp edge where wires turn", "post", "hub", "turn")
def edge(model: Model) -> Found:
    model.tables["post"]["edges"] = "sharp"
    return Found("passage.edge", "post")


@sort("wires bent round a nail", "post", "hub", "turn")
def bend(model: Model) -> Found:
    model.tables["post"] |= {"bend_radius": "0.5 mm", "bend_held": False}
    return Found("passage.bend", "post")


@sort("no slack where a wide bundle turns", "post", "hub", "turn", "12 V")
def taut(model: Model) -> Found:
    if len(model.tables["run"]) < 4:
        raise NotHere
    model.tables["post"] |= {"slack": "0 mm", "turn": "180 deg", "free": "25 mm"}
    return Found("passage.slack", "post")


@sort("a run shorter than its post", "post", "hub", "no cable", "no flat", "no metal")
def short_run(model: Model) -> Found:
    row = lines(model)[0]
    row["length"] = f"{model.way - 20} mm"
    return Found("passage.run-short", row["name"])


@sort(
    "a run without a millimetre to end it anew", "post", "hub", "no cable", "no flat", "no turn", "no metal"
)
def no_end(model: Model) -> Found:
    row = lines(model)[0]
    row["length"] = f"{model.way + 4} mm"
    return Found("run.no-spare", row["name"])


@sort("a run shorter than the way that was measured", "hub", "no post", "no metal")
def short_way(model: Model) -> Found:
    row = lines(model)[0]
    model.tables["way"] = [
        {"from": "base", "to": model.hub, "length": f"{millimetres(row['length']) + 60:g} mm"}
    ]
    return Found("way.short", row["name"])


@sort("a run forgotten", "hub", "no plug", "no join", "no switch", "no metal")
def forgotten(model: Model) -> Asked:
    row = first([row for row in lines(model) if row["line"] == "main-"])
    model.tables["run"].remove(row)
    return Asked("main-", "")


@sort("a plug that goes in either way", "plug", "hub", "12 V")
def crossed(model: Model) -> Found:
    model.tables["plug"][0]["keyed"] = False
    return Found("plug.crossed", "foot plug")


@sort("a plug of a few milliamperes", "plug", "hub")
def weak_plug(model: Model) -> Found:
    load = max(
        sum(part.amps for part in model.parts if part.circuit == name) for name in model.tables["circuit"]
    )
    model.tables["plug"][0]["rated"] = f"{500 * load:.1f} mA"
    return Found("plug.overload", "foot plug")


@sort("live pins that can be touched", "plug", "hub")
def bare(model: Model) -> Found:
    model.tables["plug"][0]["bare_pins"] = "supply"
    return Found("plug.bare-pins", "foot plug")


@sort("a switch of a few milliamperes", "switch")
def weak_switch(model: Model) -> Found:
    # a lamp of several colours is counted whole on the circuit of its first one
    whole = [part for part in model.parts if part.sort != "colours"]
    name = first(
        [
            name
            for name, said in model.tables["circuit"].items()
            if "on_off" in said and any(part.circuit == name for part in whole)
        ]
    )
    load = sum(part.amps for part in whole if part.circuit == name)
    model.tables["circuit"][name]["on_off"] = f"{500 * load:.1f} mA at base"
    return Found("switch.overload", name)


@sort("a switch sealed in", "hub", "no plug", "no join", "no closing", "no switch")
def sealed_switch(model: Model) -> Found:
    name = first([name for name, said in model.tables["circuit"].items() if said == {"supply": "main"}])
    model.tables["place"][model.hub]["access"] = "sealed"
    model.tables["circuit"][name]["on_off"] = f"2 A at {model.hub}"
    return Found("switch.sealed", name)


@sort("the hub with its joints sealed", "hub", "no closing")
def sealed_hub(model: Model) -> Found:
    model.tables["place"][model.hub]["access"] = "sealed"
    if sum("lead" in part.entry for part in model.parts) < 2:
        raise NotHere
    return Found("access.sealed", model.hub)


@sort(
    "the metal of the post as the positive",
    "post",
    "hub",
    "adaptor",
    "no cable",
    "no flat",
    "no turn",
    "no plug",
    "no metal",
)
def live_metal(model: Model) -> Found:
    row = first(
        [row for row in lines(model) if row["line"] != "main-" and not row["line"].endswith("-return")]
    )
    row["body"], row["ohms"] = True, "20 mohm"
    for key in ("length", "colour", "label"):
        row.pop(key, None)
    return Found("metal.live", row["name"])


@sort("a return of a hair for a flasher", "flasher", "hub", "adaptor", "no post", "no plug", "no metal")
def hair(model: Model) -> Found:
    # 22 ohm; what that costs when it flashes, against the volts on a steady lamp's resistor
    flash = 22 * sum(part.amps for part in model.parts if part.circuit == "strobe")
    steady = [part for part in model.of("led") if model.tables["circuit"][part.circuit] == {"supply": "main"}]
    if model.tables["circuit"]["strobe"].get("own_return") or not any(
        flash > 0.06 * part.ohms * part.amps / part.parallel for part in steady
    ):
        raise NotHere
    row = first([row for row in lines(model) if row["line"] == "main-"])
    row |= {"wire": "enamel-0.063", "length": "4 m"}
    return Found("circuit.step", "strobe")


@sort("a feed of a hair, metres long", "hub", "no post", "no plug", "5 V", "no join", "no metal")
def drop(model: Model) -> Found:
    takes = {
        name: sum(part.amps for part in model.parts if part.circuit == name)
        for name in model.tables["circuit"]
        if name not in ("drive", "horn")
    }
    circuit = max(takes, key=lambda name: takes[name])
    said = model.tables["circuit"][circuit]
    if "behaviour" in said or sum(part.amps for part in model.parts if part.circuit == circuit) < 0.03:
        raise NotHere
    row = first([row for row in lines(model) if row["line"] == circuit])
    row |= {"wire": "enamel-0.063", "length": "6 m"}
    return Found("line.drop", circuit)


@sort("ends that nothing tells apart", "hub", "no join", "no metal")
def alike(model: Model) -> Found:
    rows = [row for row in lines(model) if row["line"] != "main-"]
    if len(rows) < 2:
        raise NotHere
    for row in rows[:2]:
        row.pop("label")
        row["colour"] = "white"
    return Found("ends.alike", f"base|{model.hub}")  # told once, at whichever is heavier


@sort("a negative laid in the colour of a feed", "hub", "no metal", "no closing")
def both_poles(model: Model) -> Found:
    rows = [
        row
        for row in lines(model)
        if not row["line"].startswith("main") and not row["line"].endswith("-return")
    ]
    negative = first([row for row in lines(model) if row["line"] == "main-"])
    negative["colour"] = first(rows)["colour"]
    negative.pop("label")
    first(rows).pop("label")
    return Found("colour.both-poles", first(rows)["colour"])


@sort("a reserve in the colours of a feed", "hub", "spare", "no metal")
def reserve(model: Model) -> Found:
    row = first([row for row in model.tables["run"] if row.get("spare")])
    feed = lines(model)[0]
    row["colour"] = feed["colour"]
    row.pop("label")
    feed.pop("label")
    return Found("ends.spare", "reserve")


@sort("a switch for fewer volts", "switch", "12 V")
def switch_volts(model: Model) -> Found:
    name = first(
        [
            name
            for name, said in model.tables["circuit"].items()
            if "on_off" in said and said["supply"] == "main"
        ]
    )
    model.tables["circuit"][name]["on_off"] = {"rated": "2 A", "volts": "6 V", "place": "base"}
    return Found("switch.volts", name)


@sort("the metal of a post that turns as the only negative", "post", "hub", "turn", "no plug", "no metal")
def slides(model: Model) -> Found:
    row = first([row for row in lines(model) if row["line"] == "main-"])
    for key in ("length", "colour", "label"):
        del row[key]
    row |= {"body": True, "ohms": "10 mohm"}
    return Found("metal.slides", row["name"])


@sort("thin wire drawn round many bends", "post", "hub", "no turn", "no cable", "no flat")
def drawn(model: Model) -> Found:
    model.tables["post"]["bends"] = "720 deg"
    return Found("passage.pull", "post")


@sort("a hinge on a few millimetres of wire", "post", "hub", "no turn", "no cable", "no flat", "no metal")
def hinge(model: Model) -> Found:
    model.tables["post"] |= {
        "length": "10 mm",
        "free": "8 mm",
        "fold": "170 deg",
        "cycles": "20 /day for 10 years",
        "to_joint": "25 mm",
        "edges": "bushed",
    }
    return Found("passage.fold", "post")


@sort("more slack than the run has", "post", "hub", "turn", "no plug")
def no_such_slack(model: Model) -> Found:
    model.tables["post"]["slack"] = "900 mm"
    return Found("passage.lengths", "post")


@sort("a lead shorter than its way", "no closing", "no plug")
def lead_way(model: Model) -> Found:
    part = first([part for part in model.of("led") if "lead" in part.entry and "places" not in part.entry])
    model.tables["way"] = [
        {
            "from": part.entry["place"],
            "to": model.hub,
            "length": f"{millimetres(part.entry['lead']['length']) + 70:g} mm",
        }
    ]
    return Found("way.short", part.name)


@sort("feed and return of one lead swapped", "no negative", "no closing")
def swapped(model: Model) -> Found:
    rows = [part for part in model.parts if "lead" in part.entry]
    if len(rows) < 4:
        raise NotHere
    rows[0].entry["lead"]["colours"] = ["black", "red"]
    return Found("colour.both-poles", "black")


SORTS = tuple(value for value in globals().values() if isinstance(value, Sort))
