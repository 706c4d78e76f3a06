"""What bears a name in a build, and where: all of a small one, listed by hand."""

from __future__ import annotations

import postcheck
from postcheck.description.consumers import entries, lamp_names, strip_names
from postcheck.description.naming import complete, line_names, run_names
from postcheck.description.subjects import kinds_by_name, paths_by_name, subject_of, subjects

BUILD = postcheck.loads("""
format = 1
[build]
name = "Ferry"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
rated = "2 A"
[post]
from = "base"
to = "hull"
bore = "6 mm"
length = "160 mm"
[passage.arm]
from = "hull"
to = "bow"
bore = "3 mm"
length = "60 mm"
[board.driver]
place = "base"
supply = "main"
[place.base]
access = "open"
[place.hull]
access = "cover"
[place.bow]
access = "open"
[circuit.deck]
supply = "main"
own_return = true
[circuit.arm]
board = "driver"
[[lamp]]
name = "signal"
kind = "smd-0603-rgb"
place = "bow"
parallel = 2
dice = { red = { circuit = "arm", resistor = "1k5" }, green = { circuit = "deck", resistor = "1k" }, blue = { circuit = "arm", resistor = "1k" } }
[[lamp]]
circuit = "deck"
kind = "smd-0603-red"
place = "hull"
resistor = "1k5"
[[lamp]]
circuit = "deck"
kind = "smd-0603-red"
place = "hull"
resistor = "1k5"
[[strip]]
circuit = "deck"
kind = "strip-12v-white-30"
place = "hull"
length = "50 mm"
[[load]]
name = "deck"
circuit = "deck"
kind = "sound"
place = "hull"
typical = "10 mA"
[[run]]
line = "deck"
ends = ["base", "hull"]
length = "300 mm"
[[run]]
line = "clock"
carries = "data"
ends = ["base", "hull"]
length = "300 mm"
[[run]]
name = "reserve"
spare = true
ends = ["base", "hull"]
length = "300 mm"
[[plug]]
name = "coupling"
at = "hull"
pins = ["deck", "main-"]
""")
OWN = [
    ("lamp", "signal"), ("lamp", "signal red"), ("lamp", "signal green"), ("lamp", "signal blue"), ("lamp", "deck lamp at hull"), ("lamp", "deck lamp at hull 2"),
    ("strip", "deck strip at hull"), ("load", "deck"), ("circuit", "deck"), ("circuit", "arm"), ("run", "deck base-hull"), ("run", "clock base-hull"),
    ("run", "reserve"), ("plug", "coupling"), ("board", "driver"), ("passage", "post"), ("passage", "arm"), ("supply", "main"),
    ("lamp", "signal red 1"), ("lamp", "signal red 2"), ("lamp", "signal green 1"), ("lamp", "signal green 2"), ("lamp", "signal blue 1"), ("lamp", "signal blue 2"),
]  # fmt: skip
SECOND = {("circuit", "deck"), ("passage", "arm")}  # after a load and a circuit of the same name


def test_everything_that_can_be_proven():
    short = {name: (kind, name) for kind, name in OWN if (kind, name) not in SECOND}
    assert subjects(BUILD) == short | {f"{kind} {name}": (kind, name) for kind, name in OWN}
    assert kinds_by_name(BUILD) == {name: kind for name, (kind, _) in short.items()}
    for kind, name in OWN:
        called = subject_of(kinds_by_name(BUILD), kind, name)
        assert called == (f"{kind} {name}" if (kind, name) in SECOND else name)
        assert subjects(BUILD)[called] == (kind, name)
    assert subject_of(kinds_by_name(BUILD), "run", "of none") == "of none"


def test_where_each_name_stands():
    dice = {f"signal {colour}{number}": ("lamp", 0, "dice", colour) for colour in ("red", "green", "blue") for number in ("", " 1", " 2")}  # fmt: skip
    ones = {"deck lamp at hull": ("lamp", 1), "deck lamp at hull 2": ("lamp", 2), "deck strip at hull": ("strip", 0), "deck": ("load", 0)}  # fmt: skip
    paths = paths_by_name(BUILD)
    del paths[""]  # the line of a spare
    assert paths == {
        "signal": ("lamp", 0), "signal 1": ("lamp", 0), "signal 2": ("lamp", 0), **dice,
        **{f"{name} 1": path for name, path in ones.items()}, **ones,
        "post": ("post",), "arm": ("passage", "arm"), "deck base-hull": ("run", 0), "clock base-hull": ("run", 1), "reserve": ("run", 2), "coupling": ("plug", 0),
        "driver": ("board", "driver"), "main": ("supply", "main"), "base": ("place", "base"), "hull": ("place", "hull"), "bow": ("place", "bow"),
        "main+": ("supply", "main"), "main-": ("supply", "main"), "deck-return": ("circuit", "deck"), "arm-return": ("circuit", "arm"), "clock": ("run", 1),
    }  # fmt: skip


def test_what_takes_current():
    assert [(entry.kind, entry.path, entry.name, entry.places, entry.parallel, len(entry.colours), entry.links) for entry in entries(BUILD)] == [
        ("lamp", ("lamp", 0), "signal", ("bow",), 2, 3, ()), ("lamp", ("lamp", 1), "deck lamp at hull", ("hull",), 1, 0, ()), ("lamp", ("lamp", 2), "deck lamp at hull 2", ("hull",), 1, 0, ()),
        ("strip", ("strip", 0), "deck strip at hull", ("hull",), 1, 0, ()), ("load", ("load", 0), "deck", ("hull",), 1, 0, ()),
    ]  # fmt: skip
    assert lamp_names(BUILD) == ("signal", "deck lamp at hull", "deck lamp at hull 2")
    assert strip_names(BUILD) == ("deck strip at hull",)


def test_runs_and_lines():
    assert run_names(BUILD) == ("deck base-hull", "clock base-hull", "reserve")
    assert line_names(BUILD) == ("main+", "main-", "deck", "deck-return", "arm", "clock")


def test_names_that_are_made_are_numbered_past_those_that_are_given():
    assert complete([(None, "a"), ("a 2", "a"), (None, "a"), (None, "b"), (None, "a"), ("b 2", "x"), (None, "b"), ("c", "c"), (None, "c")]) == (
        "a", "a 2", "a 3", "b", "a 4", "b 2", "b 3", "c", "c 2",
    )  # fmt: skip
