"""Slips at supplies: the wrong one, too small a one, in the wrong place; batteries; fuses."""

from __future__ import annotations

from tests.construction.faults.lamps import over
from tests.construction.faults.record import Asked, Found, NotHere, Sort, first, sort
from tests.construction.handbook import DICE
from tests.construction.model import Model
from tests.construction.supplies import amps


def load(model: Model) -> float:
    """What all takes, A."""
    return sum(part.amps for part in model.parts)


def main(model: Model) -> dict[str, object]:
    """The main supply's table."""
    said: dict[str, object] = model.tables["supply"]["main"]
    return said


@sort("the 12 V adaptor of the drawer on a 5 V model", "adaptor 5", "no board", "no motor")
def drawer(model: Model) -> Found:
    # seven more volts on the same resistor
    part = first(
        [
            part
            for part in model.of("led")
            if part.amps / part.parallel + 6 / part.ohms > 1.7 * DICE[part.entry["kind"]].rated
        ]
    )
    main(model)["volts"] = "12 V"
    return Found(over(model, part), part.name)


@sort("an adaptor that is too small", "adaptor")
def small(model: Model) -> Found:
    main(model)["rated"] = f"{850 * load(model):.1f} mA"
    return Found("supply.overload", "main")


@sort(
    "the mains adaptor inside the model",
    "adaptor",
    "hub",
    "no socket",
    "no plug",
    "no switch",
    "no converter",
    "no board",
)
def mains(model: Model) -> Found:
    main(model)["place"] = model.hub
    return Found("supply.mains-inside", "main")


@sort("an old adaptor that gives twice its volts", "adaptor 12", "inside")
def unregulated(model: Model) -> Found:
    main(model)["unloaded"] = "26 V"
    return Found("lamp.over-rating", "hatch lamp")


@sort("an adaptor of 72 V", "adaptor 12")
def dangerous(model: Model) -> Found:
    main(model)["volts"] = "72 V"
    return Found("scope.volts", "main")


@sort("a type C socket without its resistors", "usb-c")
def type_c(model: Model) -> Found:
    main(model)["cc_resistors"] = False
    return Found("supply.type-c", "main")


@sort("a power bank that goes to sleep", "bank")
def asleep(model: Model) -> Found:
    main(model)["switches_off_below"] = f"{1500 * load(model):.0f} mA"
    return Found("supply.switches-off", "main")


@sort("a lithium pack without its board", "lipo")
def unprotected(model: Model) -> Found:
    main(model)["protected"] = False
    return Found("battery.unprotected", "main")


@sort("a lithium pack of which nobody knows whether it has its board", "lipo")
def perhaps(model: Model) -> Asked:
    del main(model)["protected"]
    return Asked("main", "")


@sort("a lithium pack sealed in", "lipo", "no closing")
def lithium_sealed(model: Model) -> Found:
    model.tables["place"]["base"] = {"access": "sealed", "material": "abs", "surface": "900 cm2"}
    return Found("battery.lithium-sealed", "main")


@sort("cells that are soon empty", "alkaline")
def short_lived(model: Model) -> Found:
    main(model)["runs_for"] = "900 h"
    return Found("battery.too-short", "main")


@sort("a pack of a tenth of its capacity", "lipo")
def small_pack(model: Model) -> Found:
    main(model)["capacity"] = "60 mAh"
    return Found("battery.too-short", "main")


@sort("four cells side by side instead of in a row", "alkaline", "no board")
def few_cells(model: Model) -> Found:
    main(model)["cells"] = 1
    return Found("lamp.dim", first([part for part in model.of("led") if "wanted" not in part.entry]).name)


@sort("a pack of which nobody knows what it holds", "lipo")
def no_capacity(model: Model) -> Asked:
    if load(model) < 0.08:
        raise NotHere
    del main(model)["capacity"]
    return Asked("main", "whether its cells may give")


@sort("coin cells for a whole model", "lipo")
def coins(model: Model) -> Found:
    said = main(model)
    for key in ("capacity", "protected"):
        del said[key]
    said |= {"chemistry": "lithium-coin", "size": "cr2032", "cells": 2}
    return Found("battery.overload", "main")


@sort("a lead-acid block in a closed body", "alkaline", "no closing")
def gas(model: Model) -> Found:
    main(model).update(chemistry="lead-acid", size="12v-1.2ah", cells=6)
    model.tables["place"]["base"] = {"access": "cover", "material": "abs", "surface": "900 cm2"}
    return Found("battery.gas", "main")


@sort("a converter that is too small", "converter")
def converter(model: Model) -> Found:
    amps = sum(part.amps for part in model.parts if part.circuit == "signal")
    model.tables["supply"]["five"]["rated"] = f"{850 * amps:.1f} mA"
    return Found("converter.overload", "five")


@sort("a converter that needs more than it is fed", "converter")
def hungry(model: Model) -> Found:
    model.tables["supply"]["five"]["least_input"] = "15 V"
    return Found("converter.no-start", "five")


@sort("positive poles of two supplies joined", "adaptor 12", "hub", "no converter", "no join", "no negative")
def conflict(model: Model) -> Found:
    model.tables["supply"]["second"] = {
        "kind": "adaptor",
        "place": "base",
        "volts": "5 V",
        "rated": "1 A",
        "fuse": "250 mA",
        "shares_negative_with": "main",
    }
    for line in ("main+", "second+"):
        model.tables["run"].append(
            {
                "name": f"{line} run",
                "line": line,
                "ends": ["base", model.hub],
                "length": f"{model.way + 200} mm",
                "label": line,
            }
        )
    model.tables["join"] = [{"place": model.hub, "lines": ["main+", "second+"]}]
    return Found("supply.backfeed", "second")


@sort(
    "the poles of one supply joined at the hub",
    "adaptor",
    "hub",
    "no join",
    "no plug",
    "no negative",
    "no metal",
)
def shorted(model: Model) -> Found:
    model.tables["run"].append(
        {
            "name": "positive",
            "line": "main+",
            "ends": ["base", model.hub],
            "length": f"{model.way + 200} mm",
            "label": "main+",
        }
    )
    if not any(row.get("line") == "main-" for row in model.tables["run"]):
        raise NotHere
    model.tables["join"] = [{"place": model.hub, "lines": ["main+", "main-"]}]
    return Found("supply.conflict", "main")


@sort("a fuse that the load opens", "adaptor")
def fuse_small(model: Model) -> Found:
    main(model)["fuse"] = f"{850 * load(model):.1f} mA"
    return Found("fuse.too-small", "main")


@sort("a fuse that no short opens, before fine wires", "hub", "adaptor")
def fuse_large(model: Model) -> Found:
    main(model)["fuse"] = "10 A"
    main(model)["rated"] = "10 A"
    return Found("wire.hurt-before-fuse", "main")


@sort("no fuse, and fine wires on a strong supply", "hub", "adaptor")
def no_fuse(model: Model) -> Found:
    del main(model)["fuse"]
    main(model)["rated"] = "10 A"
    return Found("fuse.absent", "main")


@sort("no fuse at a pack", "nimh", "hub")
def pack_bare(model: Model) -> Found:
    del main(model)["fuse"]
    return Found("fuse.absent", "main")


@sort("a glass fuse at a lead-acid block", "adaptor 12", "hub", "no board", "no converter")
def glass(model: Model) -> Found:
    said = main(model)
    fuse = str(said["fuse"]).split(" slow")[0]
    said.clear()
    said.update(
        kind="battery", place="base", chemistry="lead-acid", size="12v-7ah", cells=6, fuse=f"{fuse} glass"
    )
    return Found("fuse.breaking", "main")


@sort("the rating of the supply left out", "adaptor")
def no_plate(model: Model) -> Asked:
    del main(model)["rated"]
    del main(model)["fuse"]
    return Asked("main", "")


@sort("an adaptor of 24 V in the same size of socket", "adaptor 12", "socket")
def wrong_adaptor(model: Model) -> Found:
    model.tables["supply"]["second"] = {
        "kind": "adaptor", "place": "base", "volts": "24 V", "rated": "1 A", "fuse": "250 mA", "socket": "5.5/2.1 mm, centre positive",
    }  # fmt: skip
    return Found("supply.wrong-adaptor", "main")


@sort("an adaptor with its poles the other way in the same size of socket", "adaptor 12", "socket")
def polarity(model: Model) -> Found:
    model.tables["supply"]["second"] = {
        "kind": "adaptor", "place": "base", "volts": "12 V", "rated": "1 A", "fuse": "250 mA", "socket": "5.5/2.1 mm, centre negative",
    }  # fmt: skip
    return Found("supply.polarity", "main|second")


@sort("a pack in a hot body", "alkaline", "no closing")
def hot_pack(model: Model) -> Found:
    model.tables["place"]["base"] = {
        "access": "cover",
        "material": "brass",
        "painted": True,
        "surface": "100 cm2",
        "heat": "1.4 W",
    }
    return Found("battery.hot", "main")


@sort("a coin cell that a child gets at", "alkaline")
def coin(model: Model) -> Found:
    main(model).update(chemistry="lithium-coin", size="cr2032", cells=2)
    return Found("battery.coin", "main")


@sort("a fuse that opens as the motor starts", "motor", "no bulb")
def at_start(model: Model) -> Found:
    motor = first([row for row in model.tables["load"] if row["kind"] == "motor"])
    motor["starting"] = f"{3.5 * amps(str(main(model)['fuse'])):.2f} A"
    main(model)["current_limit"] = "10 A"
    return Found("fuse.opens-at-start", "main")


SORTS = tuple(value for value in globals().values() if isinstance(value, Sort))
