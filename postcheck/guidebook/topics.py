"""What the guide has a page on: the topics with a line each, and which checks belong to which of them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple


class Prose(NamedTuple):
    """A topic that is written: its line in the list, and the files that its page is made of."""

    line: str
    files: tuple[str, ...]


class Part(NamedTuple):
    """Something that stands in tables, in one line or as a table of its own: its model, and what the example names."""

    model: str
    shows: tuple[str, ...]


PROSE = {
    "install": Prose("installing it for good, with pip, pipx or uv", ("install",)),
    "file": Prose("a build file: quantities, short forms, half a build, every table in one example", ("file",)),
    "check": Prose("judging builds: the report, exit codes, several files, while you write", ("check",)),
    "planning": Prose("from lamps and places to a wiring, a better wiring, remedies put into the file", ("planning",)),
    "closing": Prose(
        "before the glue: tests and their record, which lead is which, the sheet, a repair later",
        ("closing", "record", "which", "sheet", "reach"),
    ),
    "record": Prose("readings of the bench, asked for one by one and written down", ("record",)),
    "which": Prose("unmarked leads told apart, without harm", ("which",)),
    "sheet": Prose("the sheet for the wall, what to cut and what to buy", ("sheet",)),
    "reach": Prose("a part that fails later: how it is got at, and whether it is this one", ("reach",)),
    "ask": Prose("six questions of the bench that need no file", ("ask",)),
    "compare": Prose("what if, over a range of values, what has changed", ("with", "vary", "compare")),
    "ci": Prose("hooks, and what CI is given", ("ci",)),
    "editor": Prose("keys and words offered in an editor", ("editor",)),
    "completion": Prose("commands and names completed in a shell", ("completion",)),
    "python": Prose("all of it from Python, and checks of your own", ("python",)),
    "words": Prose("the words of the trade and of the reports", ("words",)),
    "judged": Prose("what is judged and what is not, and safety", ("judged",)),
}  # fmt: skip
"""Topics of prose, in the order in which they are listed."""

ALSO = {"plan": "planning", "mend": "planning", "vary": "compare", "start": "check", "explain": "judged"}
"""Commands whose topic has another name."""

PARTS = {
    "lead": Part("Lead", ("length", "to", "colours")),
    "resistor": Part("ResistorSpec", ("ohms", "power", "place")),
    "fuse": Part("FuseSpec", ("rated", "kind")),
    "on_off": Part("SwitchSpec", ("rated", "place")),
    "diode": Part("DiodeSpec", ("kind",)),
    "output": Part("Output", ("limit", "drop")),
    "dice": Part("Die", ("circuit", "resistor")),
    "joint": Part("JointSize", ("across", "thin")),
    "have": Part("Held", ("count", "lamp")),
    "instead": Part("Instead", ("kind", "volts", "rated")),
}
"""What stands in tables and has a page of its own; what else does is told on the page of its table."""

CHECKED = {
    "supply": ("supply", "battery", "converter", "fuse", "switch", "scope"),
    "post": ("passage", "metal"),
    "passage": ("passage",),
    "place": ("place", "access", "closing"),
    "board": ("board", "output"),
    "circuit": ("circuit", "switch", "dim", "flash", "line", "network"),
    "lamp": ("lamp", "lead", "resistor", "part"),
    "strip": ("strip",),
    "load": ("load", "motor", "diode"),
    "run": ("run", "wire", "line", "ends", "colour", "metal"),
    "way": ("way",),
    "join": ("circuit.joined-outputs", "circuit.steady-on-flasher", "supply.conflict", "supply.backfeed"),
    "cable": ("passage.cannot-fit", "passage.full"),
    "plug": ("plug", "passage.plug", "passage.plug-alone"),
    "wire": ("wire",),
    "stock": ("resistor.not-in-series",),
    "proof": ("proof", "closing"),
    "accept": ("accept",),
    "lead": ("lead", "ends", "colour"),
    "resistor": ("resistor", "trimmer", "part"),
    "fuse": ("fuse",),
    "output": ("output",),
}
"""The checks of a topic: all whose name begins with a word, or one by its whole name."""


def belonging(topic: str, checks: Iterable[str]) -> list[str]:
    """The names of the checks of a topic; of any other word those whose names begin with it."""
    words = CHECKED.get(topic, (topic,))
    return [name for name in checks if name in words or name.partition(".")[0] in words]


def topic_of(word: str) -> str | None:
    """The topic at which a first word of check names is at home; None where there is none."""
    if word in CHECKED or word == "file":
        return word
    return next((topic for topic, words in CHECKED.items() if word in words), None)
