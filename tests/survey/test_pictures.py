"""What is drawn is what is there, and a further wire that is promised really goes in."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot, sqrt
from typing import Any

import pytest

import postcheck
from postcheck.checking import pictures
from postcheck.description.naming import passages_of
from postcheck.physics import bundle
from postcheck.pictured import BorePicture

HEAD = """
format = 1
[build]
name = "Tender"
[usual]
lead = "enamel-0.10"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
[place]
base = { access = "open" }
hull = { access = "open" }
[post]
from = "base"
to = "hull"
bore = "BORE mm"
length = "100 mm"
"""


def drawn(bore: float, *wires: float, more: str = "") -> BorePicture:
    text = HEAD.replace("BORE", str(bore)) + more
    for number, wire in enumerate(wires):
        text += f'[wire.w{number}]\nstrands = 7\nstrand = "0.01 mm"\noutside = "{wire} mm"\n'
        text += f'[[run]]\nname = "r{number}"\nspare = true\nwire = "w{number}"\nends = ["base", "hull"]\nlength = "200 mm"\ncolour = "red"\n'
    build = postcheck.loads(text)
    (picture,) = pictures(build, passages_of(build))
    return picture


def test_everything_is_drawn_where_it_lies() -> None:
    picture = drawn(6.0, 1.0, 0.8, 0.8, 0.5)
    assert [(circle.number, circle.name, circle.colour) for circle in picture.circles] == [
        (n + 1, f"r{n}", "red") for n in range(4)
    ]
    for here in picture.circles:
        assert hypot(here.x, here.y) + here.diameter / 2 <= picture.smallest_bore / 2 * (1 + 1e-9)
        for there in picture.circles[: here.number - 1]:
            assert hypot(here.x - there.x, here.y - there.y) >= (here.diameter + there.diameter) / 2 * (
                1 - 1e-9
            )


# one wire beside another; two halves of the bore and the circle in the gap between them by Descartes' theorem, a third
# of the bore; three equal wires that touch, 2.1547 wires across, and the fourth of four equal wires, 2.4142 across
@pytest.mark.parametrize(
    ("bore", "wires", "most"),
    [
        (5.0, (2.0,), 3.0),
        (2.0, (1.0, 1.0), 2.0 / 3.0),
        (1.0 + sqrt(2.0), (1.0, 1.0, 1.0), 1.0),
        (3.0, (1.0,) * 6, 1.0),
        (4.0, (), 4.0),
    ],
)
def test_the_widest_further_wire(bore: float, wires: tuple[float, ...], most: float) -> None:
    picture = drawn(bore, *wires)
    assert picture.spare is not None
    assert 0.97 * most - 0.01 <= picture.spare * 1e3 <= most * (1.0 + 1e-6)
    assert bundle.pack([*wires, picture.spare * 1e3], bore).verdict == bundle.FITS


def test_a_further_wire_within_the_usual_room_and_fill() -> None:
    picture = drawn(5.0, 0.74, 0.74, 0.74, 0.74, 0.74)
    assert picture.spare is not None
    assert picture.spare_easy is not None
    assert picture.spare_easy < picture.spare
    # NFPA 70 chapter 9 table 1: 40 % for more than two; FAA AC 43.13-1B, 11-249: a quarter more than the bundle
    easy = picture.spare_easy * 1e3
    assert 5 * 0.74**2 + easy**2 <= 0.40 * 25.0
    assert bundle.pack([0.74] * 5 + [easy], 5.0 / 1.25).verdict == bundle.FITS
    assert 5 * 0.74**2 + (easy + 0.02) ** 2 > 0.40 * 25.0


# the survey of a post costs up to two packings; the drawing waits for a few quick ones more, fewer where each is long
@pytest.mark.parametrize(("wires", "bore", "most"), [(30, 6.2, 6), (90, 10.4, 4), (170, 14.1, 3)])
def test_a_further_wire_is_not_sought_for_long(
    wires: int, bore: float, most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    tried = []
    packed = bundle.pack

    def noted(diameters: Sequence[float], *rest: Any, **named: Any) -> bundle.Packing:
        if len(diameters) == wires + 1:
            tried.append(rest[1:])
        return packed(diameters, *rest, **named)

    monkeypatch.setattr(bundle, "pack", noted)
    runs = f'[[run]]\nname = "many"\nspare = true\nwire = "ptfe-28"\nends = ["base", "hull"]\nlength = "200 mm"\nconductors = {wires}\n'
    picture = drawn(bore, more=runs)
    assert len(picture.circles) == wires
    assert picture.spare is not None
    assert picture.spare >= bore / 1e3 - picture.smallest_bore - 1e-5
    assert 0 < len(tried) <= most + 1
    assert set(tried) == {(bundle.LIGHT,)}


def test_a_bore_that_is_too_slim_holds_nothing_more() -> None:
    picture = drawn(1.5, 1.0, 1.0)
    assert (picture.verdict, picture.spare, picture.spare_easy) == ("cannot fit", 0.0, 0.0)
    assert picture.smallest_bore == pytest.approx(0.002)


def test_beside_something_unknown_nothing_is_promised() -> None:
    picture = drawn(
        5.0, 1.0, more='[[run]]\nname = "mystery"\nline = "main-"\nends = ["base", "hull"]\nohms = "1 ohm"\n'
    )
    assert picture.unknown == ("mystery",)
    assert (picture.spare, picture.spare_easy) == (None, None)


def test_a_cable_names_what_it_holds() -> None:
    more = '[cable.ribbon]\noutside = "2 mm"\n' + "".join(
        f'[[run]]\nname = "core {n}"\nspare = true\nends = ["base", "hull"]\nlength = "200 mm"\ncable = "ribbon"\nwire = "ptfe-30"\n'
        for n in (1, 2)
    )
    (cable,) = drawn(5.0, more=more).circles
    assert (cable.kind, cable.name, cable.holds, cable.wire) == ("cable", "ribbon", ("core 1", "core 2"), "")


def test_colours_of_leads_and_links_are_kept() -> None:
    more = """
[circuit.deck]
supply = "main"
[[lamp]]
name = "rail"
circuit = "deck"
kind = "smd-0402-red"
place = "hull"
resistor = "1k at base"
lead = "200 mm to base, red/black"
"""
    circles = drawn(5.0, more=more).circles
    assert [(circle.leg, circle.colour, circle.wire) for circle in circles] == [
        ("supply", "red", "enamel-0.10"), ("return", "black", "enamel-0.10"),
    ]  # fmt: skip
