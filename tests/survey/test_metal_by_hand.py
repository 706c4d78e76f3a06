"""Metal that carries a line: what a short of it draws, what stands before it, and what bends it, by Ohm's law and by eye."""

from __future__ import annotations

from math import inf

import pytest

import postcheck
from postcheck.survey.heat.metal import BareMetal, bare_metal
from postcheck.wiring import resolve

TEXT = """
format = 1
[build]
name = "Tender"
[usual]
run = "ptfe-28"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
tolerance = "5 %"
resistance = "0.5 ohm"
{main}
[place]
base = {{ access = "open" }}
hull = {{ access = "open" }}
bow = {{ access = "open" }}
[post]
from = "base"
to = "hull"
bore = "5 mm"
length = "160 mm"
{post}
[circuit.lights]
supply = "main"
{circuit}
"""
BODY = '[[run]]\nname = "{name}"\nline = "{line}"\nends = ["{a}", "{b}"]\nbody = true\nohms = "10 mohm"\n'
RUN = '[[run]]\nline = "{line}"\nends = ["{a}", "{b}"]\nlength = "300 mm"\n'


def metal(line: str, *more: str, main: str = 'rated = "1 A"', post: str = "", circuit: str = "") -> BareMetal:
    text = TEXT.format(main=main, post=post, circuit=circuit)
    text += BODY.format(name="tube", line=line, a="base", b="hull") + "".join(more)
    (found,) = bare_metal(resolve(postcheck.loads(text)))
    return found


def test_the_negative_in_it_is_nobodys_short() -> None:
    found = metal("main-")
    assert found == ("tube", ("run", 0), "main-", "post", None, None, 0.0, None, False)


@pytest.mark.parametrize(
    ("main", "short", "fuse", "limited"),
    [
        # 12.6 V behind half an ohm; twice its rating at the most, or the limit that the file states
        ("", 25.2, None, False),
        ('rated = "20 A"', 25.2, None, False),
        ('rated = "1 A"', 2.0, None, False),
        ('rated = "1 A"\ncurrent_limit = "1.5 A"', 1.5, None, True),
        ('rated = "1 A"\nfuse = "500 mA"', 2.0, 0.5, True),
    ],
)
@pytest.mark.parametrize("line", ["main+", "lights"])
def test_a_short_of_the_positive_in_it(
    line: str, main: str, short: float, fuse: float | None, limited: bool
) -> None:
    found = metal(line, main=main)
    assert (found.supply, found.fuse, found.limited) == ("main", fuse, limited)
    assert found.short == pytest.approx(short)


def test_without_any_ohms_nothing_limits_it() -> None:
    text = TEXT.replace('resistance = "0.5 ohm"\n', "").format(main="", post="", circuit="")
    text += BODY.format(name="tube", line="main+", a="base", b="hull")
    (found,) = bare_metal(resolve(postcheck.loads(text)))
    assert found.short == inf


@pytest.mark.parametrize(
    ("circuit", "supply"),
    [
        ('output = "100 mA, 0.2 V drop"', "main"),
        # a constant current gives no more into a short, and a line that is switched in the negative is a negative one
        ('output = { steady = "10 mA" }', None),
        ('switched = "negative"', None),
    ],
)
def test_what_lies_between_a_pole_and_a_line_in_it(circuit: str, supply: str | None) -> None:
    assert metal("lights", circuit=circuit).supply == supply


@pytest.mark.parametrize(
    ("fuse", "rated"),
    [
        ("500 mA at base", 0.5),
        # one that sits at its far end has the near end of it ahead
        ("500 mA at hull", None),
    ],
)
def test_a_fuse_counts_that_is_ahead_of_both_its_ends(fuse: str, rated: float | None) -> None:
    found = metal("main+", main=f'rated = "1 A"\nfuse = "{fuse}"')
    assert (found.fuse, found.limited) == (rated, rated is not None)


@pytest.mark.parametrize(
    ("post", "beside", "moves"),
    [
        ("", False, None),
        ('turn = "90 deg"', False, "post"),
        ('fold = "90 deg"', False, "post"),
        # with a wire beside it nothing has to flow through the bearing
        ('turn = "90 deg"', True, None),
        ('fold = "90 deg"', True, None),
    ],
)
def test_what_turns_or_folds_with_nothing_beside_it(post: str, beside: bool, moves: str | None) -> None:
    runs = [RUN.format(line="main-", a="base", b="hull")] if beside else []
    assert metal("main-", *runs, post=post).moves == moves


def test_a_wire_that_joins_one_of_its_ends_to_elsewhere_is_not_beside_it() -> None:
    runs = [RUN.format(line="main-", a="hull", b="bow")]
    assert metal("main-", *runs, post='turn = "90 deg"').moves == "post"
    around = [*runs, RUN.format(line="main-", a="base", b="bow")]
    assert metal("main-", *around, post='turn = "90 deg"').moves is None


def test_of_two_supplies_the_one_that_nothing_limits_counts() -> None:
    """Joined by the same metal: 2 A behind a fuse, or 3 A without."""
    aux = '[supply.aux]\nkind = "adaptor"\nplace = "base"\nvolts = "12 V"\nrated = "{}"\nshares_negative_with = "main"\n'
    join = '[[join]]\nplace = "base"\nlines = ["main+", "aux+"]\n'
    for rated, most in (("1.5 A", 3.0), ("500 mA", 1.0)):
        found = metal("main+", aux.format(rated), join, main='rated = "1 A"\nfuse = "500 mA"')
        assert (found.supply, found.short, found.limited) == ("aux", pytest.approx(most), False)
    for rated, name in (("1.5 A", "aux"), ("500 mA", "main")):
        found = metal("main+", aux.format(rated), join)
        assert found.supply == name
