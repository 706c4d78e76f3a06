"""Whether a resistor can sit where it is said to: topology, worked by hand."""

from __future__ import annotations

import pytest

import postcheck
from postcheck.description.problems import BuildError, Problem

BUILD = """format = 1
[build]
name = "Ferry"
[usual]
run = "ptfe-28"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
rated = "1 A"
[place]
base = { access = "open" }
hub = { access = "open" }
mast = { access = "open" }
bow = { access = "open" }
[circuit.deck]
supply = "main"
[circuit.cabin]
supply = "main"
"""
RUNS = "".join(
    f'[[run]]\nline = "{line}"\nends = ["base", "hub"]\nlength = "200 mm"\n'
    for line in ("deck", "cabin", "main-")
)


def lamp(name: str, resistor: str, more: str = "", circuit: str = "deck") -> str:
    return f'[[lamp]]\nname = "{name}"\ncircuit = "{circuit}"\nkind = "smd-0603-red"\nplace = "mast"\nlead = "100 mm of ptfe-30 to hub"\nresistor = {resistor}\n{more}\n'


def problems(text: str) -> tuple[Problem, ...]:
    try:
        postcheck.loads(text)
    except BuildError as error:
        return error.problems
    return ()


@pytest.mark.parametrize(
    "lamps",
    [
        lamp("one", '"1k5 at mast"'),  # with the lamp
        lamp("one", '"1k5 at hub"') + lamp("two", '"1k5 at hub"'),  # where its lead ends
        lamp("one", '"1k5 at base"'),  # in the line, which it has to itself
        lamp("one", '"1k5 at base"') + lamp("two", '"1k5 at base"', circuit="cabin"),
        lamp("one", '"470 ohm at base"', "parallel = 2\none_resistor = true"),
    ],
)
def test_a_resistor_sits_with_its_lamp_at_its_joint_or_in_a_line_of_its_own(lamps: str) -> None:
    assert problems(BUILD + lamps + RUNS) == ()


@pytest.mark.parametrize(
    ("lamps", "says"),
    [
        (lamp("one", '"1k5 at base"') + lamp("two", '"1k5 at hub"'), "of 'one' sits at 'base'"),
        (lamp("one", '"1k5 at base"') + lamp("two", '"1k5 at base"'), "of 'one', 'two' sit at 'base'"),
        (lamp("one", '"1k5 at base"', "parallel = 2"), "for several strings"),
        (lamp("one", '"1k5 at bow"'), "'deck' does not go through there to 'hub'"),
        # the negative is everybody's
        (lamp("one", '{ ohms = "1k5", place = "base", side = "back" }') + lamp("two", '"1k5"', circuit="cabin"), "line 'main-' is all"),
    ],
)  # fmt: skip
def test_a_resistor_elsewhere_is_told_once(lamps: str, says: str) -> None:
    (only,) = problems(BUILD + lamps + RUNS)
    assert only.check == "file.unreached"
    assert says in only.says
    assert only.about == "one"


def test_a_side_branch_is_not_on_the_way() -> None:
    branch = '[[run]]\nline = "deck"\nends = ["base", "bow"]\nlength = "90 mm"\n'
    (only,) = problems(BUILD + lamp("one", '"1k5 at bow"') + RUNS + branch)
    assert "does not go through there" in only.says


def test_a_resistor_may_sit_where_a_lead_comes_out_of_the_post() -> None:
    post = '[post]\nfrom = "bow"\nto = "mast"\nbore = "5 mm"\nlength = "50 mm"\nthrough = ["one"]\n'
    assert problems(BUILD + post + lamp("one", '"1k5 at bow"') + lamp("two", '"1k5 at hub"') + RUNS) == ()


@pytest.mark.parametrize(
    ("names", "says"),
    [("abc", "of 'a', 'b', 'c' sit"), ("abcd", "of 'a', 'b', 'c' and 1 more sit"), ("abcde", "of 'a', 'b', 'c' and 2 more sit")],
)  # fmt: skip
def test_the_first_three_are_named(names: str, says: str) -> None:
    (only,) = problems(BUILD + "".join(lamp(name, '"1k5 at bow"') for name in names) + RUNS)
    assert says in only.says


def test_a_lamp_of_several_strings_is_named_once() -> None:
    (only,) = problems(BUILD + lamp("one", '"1k5 at bow"', "parallel = 3") + RUNS)
    assert "the resistor of 'one' sits at 'bow'" in only.says
    assert only.hint == "put it with the lamp or at 'hub'"
