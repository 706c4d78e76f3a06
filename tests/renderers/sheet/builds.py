"""Sheets to test with: one with a name in every place that a file can put one, and one that is long."""

from __future__ import annotations

from dataclasses import replace

import postcheck
from postcheck.description.models import Build
from postcheck.expected import Expected
from postcheck.materials import Item, Materials, Piece, Sleeved
from postcheck.pictured import BoreCircle, BorePicture
from postcheck.sheet import (
    PARTS,
    BenchPlace,
    BenchRow,
    Budget,
    CircuitPath,
    ClientCard,
    ClientPassage,
    ClientPlace,
    ClientSupply,
    ClosingItem,
    ClosingPlace,
    HubEnd,
    HubPlace,
    Joint,
    PathPoint,
    Share,
    Sheet,
)

BARE = BenchRow(
    kind="lamp", name="stern lamp", plus_colour="yellow", minus_colour="brown", resistor_position="behind", fate="destroyed",
    contact_volts=12.6, contact_amps=0.511, backwards="may destroy", supply_volts=12.0, seat="base", ohms=1000.0, stood=5.0,
    volts=3.2, limit=2e-3, held=True, expected=Expected(2e-3, 2e-3, 2e-3), through=5600.0,
    through_expected=Expected(1.51e-3, 1.65e-3, 1.8e-3), finished=Expected(8.25e-3, 9.04e-3, 9.85e-3), lights=1,
)  # fmt: skip


def hostile_sheet(name: str) -> Sheet:
    """A sheet with this name wherever a name of the file is printed."""
    end = HubEnd("lead", name, "supply", name, name, name, 2, 1500.0, name)
    row = replace(BARE, name=name, plus_colour=name, minus_colour=name, seat=name, label=name)
    circle = BoreCircle(1, name, "run", 0.74e-3, 0.0, 0.0, "", name, name)
    return Sheet(
        build=name, file=name, today="2026-11-25", stage="wiring", verdict="stop", stops=(name, name), parts=tuple(PARTS),
        hub=(HubPlace(name, "cover", (Joint(name, "+", (end, replace(end, kind="run", comes=True))),), (end,)),),
        bench=(BenchPlace(name, "cover", (row,), (replace(row, kind="circuit", resistor_position="ahead", fate="lights"),), (name,)),),
        bores=(BorePicture(name, name, name, 5e-3, "fits", 0.74e-3, 0.02, 0.5, (circle,), 4e-3, 3e-3, (name,)),),
        paths=(CircuitPath(name, name, name, (PathPoint(name, 0.0, 12.0), PathPoint(name, 0.3, 11.9)), 2.1, 6e-3),),
        supplies=(Budget(name, "adaptor", 12.0, 0.05, 0.07, 0.04, 1.0, 0.5, 0.8, (Share(name, "circuit", 0.04, 0.05),), 3600.0),),
        closing=(ClosingPlace(name, "sealed", (ClosingItem("lamp", name, (("lamp", name), ("run", name)), True, 12.0, 0.02, 1e3, Expected(1e-3, 2e-3, 3e-3), 24.0, 2e-3, "2026-11-25"),), (("lamp", name),)),),
        client=ClientCard(
            (ClientSupply("battery", 4.8, None, name, name, 4, name, name, True, 9e4), ClientSupply("adaptor", 12.0, 1.0, name, name)),
            (ClientPassage(name, 1.57, True),), (ClientPlace(name, "sealed", ((name, "steady"),)),), (5.0, 35.0),
            True, 5.0, 46.0, name,
        ),
        materials=Materials(
            (
                Piece(1, "lead", name, "supply", name, name, name, name, name, 0.22, 0.02, 0.24, 2, name),
                Piece(2, "link", name, "", name, name, name, name, name, None, 0.01, None),
            ),
            (Item("wire", name, name, 1.5, "m", 0.5, unmeasured=2), Item("plug", name, "", 1), Item("sleeve", name, "", 3, across=1.2e-3, over=(Sleeved(name, name, loose=True), Sleeved(run=name), Sleeved(power=name)))),
            0.1, 0.005, 0.015,
        ),
    )  # fmt: skip


def long_build(lamps: int) -> Build:
    """A build with so many lamps on one hub."""
    head = """
format = 1
[build]
name = "Harbour ferry with many windows, 1:100"
[usual]
lead = "enamel-0.10"
run = "ptfe-28"
resistor = "1/4 W 5 %"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
rated = "3 A"
[place.base]
access = "open"
[place.hub]
access = "cover"
[place.deck]
access = "sealed"
[circuit.windows]
supply = "main"
"""
    lamp = """
[[lamp]]
name = "window {number} of the long saloon deck"
circuit = "windows"
kind = "smd-0402-warm-white"
place = "deck"
resistor = "1k5 at hub"
lead = "{length} mm to hub, red/black"
"""
    runs = """
[[run]]
line = "windows"
ends = ["base", "hub"]
length = "260 mm"
colour = "white"
[[run]]
line = "main-"
ends = ["base", "hub"]
length = "260 mm"
colour = "black"
"""
    return postcheck.loads(head + "".join(lamp.format(number=n, length=100 + n) for n in range(lamps)) + runs)
