"""How unevenly strings share a constant-current output, by Kirchhoff's laws.

Between one string at its least forward voltage and another at its usual one lie dV, the sum over its dice. Each takes its resistor's
volts besides, so that the currents differ by dV / (R + r), where r is what the dice themselves take more with more current: OptoSupply's
0603 white is described by 2.9, 3.2 and 3.6 V at 20 mA, and takes at most some 25 ohm a die more between 5 and 20 mA.
"""

from __future__ import annotations

from pathlib import Path

import pytest

import postcheck
from postcheck.limits import Limits
from postcheck.survey import Survey
from postcheck.survey.network.figures import UnevenStrings

SOUND = Path(__file__).parents[1] / "builds" / "sound" / "strings-that-each-stand-the-output.post.toml"


def uneven(ohms: str, more: str = "") -> UnevenStrings | None:
    """Two strings of three on 18 mA at 24 V, each behind so many ohms."""
    text = SOUND.read_text().replace('"12 V"', '"24 V"').replace('"150 ohm 1/4 W"', f'"{ohms} 1/2 W"')
    text = text.replace("parallel = 2", f"parallel = 2\n{more}")
    return Survey(postcheck.loads(text), Limits({})).electrics.uneven_strings.get("halls")


@pytest.mark.parametrize("ohms", [100.0, 330.0, 680.0])
def test_what_strings_differ_by_falls_with_their_resistors(ohms: float) -> None:
    found = uneven(f"{ohms:g} ohm")
    assert found is not None
    assert found.greatest + found.least == pytest.approx(18e-3, rel=1e-6)
    apart = 3 * (3.2 - 2.9)
    assert apart / (ohms + 3 * 25.0) <= found.greatest - found.least <= apart / ohms


def test_of_lamps_that_are_matched_nothing_is_told() -> None:
    assert uneven("10 ohm", "matched = true") is None


def test_each_output_shares_by_itself() -> None:
    """A second one with a string alone changes nothing of the first, and has nobody to share with."""
    second = '[circuit.mast]\nsupply = "main"\noutput = { steady = "5 mA" }\n[[lamp]]\nname = "mast"\nkind = "smd-0603-white"\ncircuit = "mast"\nplace = "base"\n'
    text = SOUND.read_text()
    alone = Survey(postcheck.loads(text), Limits({})).electrics.uneven_strings
    beside = Survey(postcheck.loads(text + second), Limits({})).electrics.uneven_strings
    assert beside.keys() == alone.keys() == {"halls"}
    assert (beside["halls"].strings, beside["halls"].nominal) == (
        2,
        pytest.approx(alone["halls"].nominal, rel=1e-6),
    )


def test_one_lamp_that_is_matched_does_not_even_out_another() -> None:
    other = '[[lamp]]\nname = "other"\ncircuit = "halls"\nkind = "smd-0603-white"\nplace = "hull"\nresistor = "150 ohm 1/4 W"\nlead = "150 mm"\nseries = 3\n'
    first = SOUND.read_text().replace("parallel = 2", "matched = true")
    for more, told in (("", {"halls"}), ("matched = true\n", set())):
        made = Survey(postcheck.loads(first + other + more), Limits({}))
        assert made.electrics.uneven_strings.keys() == told
