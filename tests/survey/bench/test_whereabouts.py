"""Where each thing of a build is: as somebody would find it who goes from place to place with the file in his hand."""

from __future__ import annotations

import pytest

from postcheck.survey.bench.whereabouts import places_of
from tests.survey.bench.boats import boat, lamp

MORE = """
[circuit.b]
supply = "main"
own_return = true
[board.winker]
place = "mast"
supply = "main"
[passage.neck]
from = "hub"
to = "mast"
bore = "5 mm"
length = "60 mm"
through = ["pipe", "two"]
[passage.throat]
from = "base"
to = "hub"
bore = "5 mm"
length = "60 mm"
[[run]]
name = "pipe"
line = "b"
ends = ["base", "car"]
length = "300 mm"
[[run]]
name = "home"
line = "b-return"
ends = ["hub", "car"]
length = "300 mm"
[circuit.d]
supply = "main"
[[run]]
line = "d"
ends = ["hub", "mast"]
length = "100 mm"
[[plug]]
name = "coupling"
ends = ["base", "hub"]
pins = ["main+"]
"""
PARTS = (
    lamp("1k at base", name="one"),
    lamp("1k", name="two", circuit="b", lead='"150 mm to hub"'),
    lamp("1k at base", name="many", more='parallel = 2\nstrings_share = "nothing"', lead='"90 mm to base"'),
    MORE,
)


@pytest.mark.parametrize(
    ("kind", "name", "places"),
    [
        # where it sits, where its lead ends, where its resistor is
        ("lamp", "one", {"car", "hub", "base"}),
        ("resistor", "one", {"car", "hub", "base"}),
        ("lead", "one", {"car", "hub", "base"}),
        # its lead goes through the neck as well
        ("lamp", "two", {"car", "hub", "mast"}),
        ("lamp", "many", {"car", "base"}),
        # one of its strings
        ("lamp", "many 2", {"car", "base"}),
        ("lamp", "many 3", None),
        ("lamp", "one 1", None),
        ("load", "nobody", None),
        # its lamps, and where its two lines end
        ("circuit", "b", {"car", "hub", "mast", "base"}),
        ("circuit", "a", {"car", "hub", "base"}),
        ("circuit", "c", None),
        ("circuit", "d", {"base", "hub", "mast"}),
        # both its ends, and those of a passage on its way
        ("run", "pipe", {"base", "car", "hub", "mast"}),
        ("run", "home", {"hub", "car"}),
        ("run", "none", None),
        ("passage", "neck", {"hub", "mast"}),
        ("passage", "throat", {"base", "hub"}),
        ("passage", "none", None),
        ("plug", "coupling", {"base", "hub"}),
        ("plug", "none", None),
        ("place", "mast", {"mast"}),
        ("join", "car", {"car"}),
        ("place", "none", None),
        ("board", "winker", {"mast"}),
        ("board", "none", None),
        ("supply", "main", {"base"}),
        ("supply", "none", None),
        ("build", "Lightship", None),
    ],
)
def test_where_each_thing_is(kind: str, name: str, places: set[str] | None) -> None:
    wiring = boat(*PARTS).wiring
    assert places_of(wiring, kind, name) == places
