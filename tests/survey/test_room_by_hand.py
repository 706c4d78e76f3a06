"""What still goes through a bore, and what passes the wires that lie there: round wires of whole millimetres, by hand."""

from __future__ import annotations

from typing import Any

import pytest

import postcheck
from postcheck.checking import pictures
from postcheck.description.naming import passages_of
from postcheck.physics import bundle
from postcheck.survey import Survey
from postcheck.survey.post.figures import Threading

HEAD = """
format = 1
[build]
name = "Tender"
[wire.one]
strand = "0.4 mm"
outside = "1 mm"
[wire.three]
strand = "0.4 mm"
outside = "3 mm"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
[circuit.lights]
supply = "main"
[circuit.aft]
supply = "main"
[place.base]
access = "open"
[place.hull]
access = "open"
[post]
from = "base"
to = "hull"
bore = "5 mm"
{post}
"""
SPARE = '[[run]]\nname = "s{n}"\nspare = true\nwire = "{wire}"\nends = ["base", "hull"]\nlength = "300 mm"\n'
RUN = '[[run]]\nname = "{name}"\nline = "{line}"\nwire = "one"\nends = ["base", "hull"]\nlength = "300 mm"\n{more}\n'
SHORT, LONG = 'length = "160 mm"', 'length = "500 mm"'


def build(text: str, post: str = SHORT) -> Any:
    return postcheck.loads(HEAD.format(post=post) + text)


# a quarter more than the bundle, 8 % for one; 53, 31 and 40 % of the area; hundredths of a millimetre, down
@pytest.mark.parametrize(
    ("post", "wires", "most", "easy"),
    [
        # one alone is pushed through a short bore, with 8 % to spare: 5 / 1.08
        (SHORT, (), 5.0, 4.62),
        (LONG, (), 5.0, 3.64),
        (SHORT + '\nbends = "10 deg"', (), 5.0, 3.64),
        # beside 1 mm there are 4; of 31 % of 25 mm2 6.75 are left
        (SHORT, ("one",), 4.0, 2.59),
        # beside 3 mm there are 2, and no area at all
        (SHORT, ("three",), 2.0, 0.0),
        # 40 % less two: 8, and 2.82 beside 1 are 3.82 of the 4 that leave a quarter
        (SHORT, ("one", "one"), None, 2.82),
        # two of 3 mm do not go into 5
        (SHORT, ("three", "three"), 0.0, 0.0),
    ],
)
def test_the_widest_wire_that_still_goes_in(
    post: str, wires: tuple[str, ...], most: float | None, easy: float
) -> None:
    made = build("".join(SPARE.format(n=n, wire=wire) for n, wire in enumerate(wires)), post)
    (picture,) = pictures(made, passages_of(made))
    assert picture.spare is not None
    assert picture.spare_easy is not None
    if most is not None:
        assert picture.spare * 1e3 == pytest.approx(most, abs=1e-9)
    else:
        assert 0.97 * 4.0 <= picture.spare * 1e3 <= 4.0
    assert picture.spare_easy * 1e3 == pytest.approx(easy, abs=1e-9)
    assert [(circle.number, circle.name, circle.wire) for circle in picture.circles] == [
        (n + 1, f"s{n}", wire) for n, wire in enumerate(wires)
    ]


def test_a_cable_is_drawn_with_what_is_in_it() -> None:
    cable = '[cable.cord]\noutside = "3 mm"\n' + "".join(
        SPARE.format(n=n, wire="one") + 'cable = "cord"\n' for n in range(2)
    )
    made = build(cable + SPARE.format(n=9, wire="one") + 'colour = " red "\n')
    (picture,) = pictures(made, passages_of(made))
    found = {
        circle.name: (circle.kind, circle.wire, circle.colour, circle.holds) for circle in picture.circles
    }
    assert found == {"s9": ("run", "one", "red", ()), "cord": ("cable", "", "", ("s0", "s1"))}
    assert (picture.passage, picture.bore, picture.build, picture.verdict) == (
        "post",
        0.005,
        "Tender",
        "fits",
    )


# -- what passes


WIRES = RUN.format(name="feed", line="lights", more="") + RUN.format(name="back", line="main-", more="")
PLUG = '[[plug]]\nname = "{name}"\nat = "hull"\npins = ["{line}"]\ndiameter = "{mm} mm"\nthrough = ["post"]\n'


def threading(text: str, post: str = "") -> Threading | None:
    return Survey(build(WIRES + text, f"{SHORT}\n{post}")).passages["post"].threading


@pytest.mark.parametrize(
    ("mm", "verdict", "tight", "free"),
    [
        # 3 % is left to draw it: 5 / 1.03 less 1 is 3.854 beside the other wire, and 4 without
        ("3.85", bundle.FITS, False, True),
        # first, with nothing in its way, up to 4.854
        ("3.86", bundle.FITS, False, False),
        ("4.85", bundle.FITS, False, False),
        ("4.86", bundle.FITS, True, False),
        ("5", bundle.FITS, True, False),
    ],
)
def test_a_plug_goes_before_the_wire_that_is_not_its_own(
    mm: str, verdict: str, tight: bool, free: bool
) -> None:
    made = threading(PLUG.format(name="mast", line="lights", mm=mm))
    assert made is not None
    assert (made.way, made.verdict, made.rest) == ("one by one", verdict, True)
    assert ((made.tight is not None), made.easy) == (tight, not tight)
    if not tight:
        assert made.free is free
    (thing,) = made.things
    assert (thing.name, thing.kind, thing.wires, thing.called) == ("mast", "plug", (0.001,), "'mast'")
    assert made.stuck is None


def test_a_plug_wider_than_the_bore_is_another_matter() -> None:
    assert threading(PLUG.format(name="mast", line="lights", mm="5.1")) is None
    assert threading("") is None


@pytest.mark.parametrize(
    ("mm", "verdict", "tight"), [("3.85", bundle.FITS, False), ("3.9", bundle.FITS, True), ("4.1", bundle.CANNOT, False)]
)  # fmt: skip
def test_joints_apart_pass_the_wires_of_all_others(mm: str, verdict: str, tight: bool) -> None:
    """Drawn through together each joint has the wire of the other beside it; what has none would pass as well."""
    joints = "".join(
        SPARE.format(n=n, wire="one") + f'joint = "{wide} mm"\n' for n, wide in ((0, mm), (1, "1.2"))
    )
    text = HEAD.format(post=f"{SHORT}\nstaggered = true") + joints
    made = Survey(postcheck.loads(text)).passages["post"].threading
    assert made is not None
    assert (made.way, made.verdict, made.rest) == ("apart", verdict, False)
    assert (made.tight is not None) is tight
    if tight:
        assert made.tight is not None
        assert made.tight.name == "s0"
    stuck = [(thing.name, thing.verdict, thing.room) for thing in made.things]
    if verdict == bundle.CANNOT:
        assert stuck[0][:2] == ("s0", bundle.CANNOT)
        assert stuck[0][2] == pytest.approx(0.005 / 1.03 - 0.001, abs=0.005 / 2**8)
        assert made.stuck is not None
        assert made.stuck.name == "s0"
    else:
        assert [row[2] for row in stuck] == [None, None]
    assert stuck[1][:2] == ("s1", bundle.FITS)


@pytest.mark.parametrize(
    ("one", "two", "verdict"),
    [("2.4", "2.4", bundle.FITS), ("2.4", "2.7", bundle.CANNOT), ("3.5", "1.4", bundle.FITS)],
)
def test_joints_side_by_side_need_room_together(one: str, two: str, verdict: str) -> None:
    joints = "".join(
        SPARE.format(n=n, wire="one") + f'joint = "{wide} mm"\n' for n, wide in enumerate((one, two))
    )
    text = HEAD.format(post=f"{SHORT}\nstaggered = false") + joints
    made = Survey(postcheck.loads(text)).passages["post"].threading
    assert made is not None
    assert (made.way, made.verdict, made.rest) == ("abreast", verdict, False)
    assert {thing.verdict for thing in made.things} == {verdict}
