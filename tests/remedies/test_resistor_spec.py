"""Another value for a resistor that is several, or turned: by hand what each of its pieces then is."""

from __future__ import annotations

import pytest

import postcheck
from postcheck.description import oneline
from postcheck.description.models import ResistorSpec
from postcheck.remedies.resistor_spec import resistor_toml, value_words, with_ohms


def spec(text: str) -> ResistorSpec:
    return ResistorSpec.model_validate(oneline.resistor(text))


@pytest.mark.parametrize(
    ("text", "ohms", "then"),
    [
        ("470 ohm 1/4 W at keel", 560.0, "560 ohm 1/4 W at keel"),
        ("470 ohm 0805 at keel", 560.0, "560 ohm 0805 at keel"),
        # a trimmer that is set is turned as far as it goes
        ("trimmer 1k set to 300", 500.0, "trimmer 1k set to 500"),
        ("trimmer 1k set to 300", 1000.0, "trimmer 1k set to 1k"),
        ("470 ohm 1/4 W + trimmer 1k set to 300", 900.0, "470 ohm 1/4 W + trimmer 1k set to 430"),
        ("470 ohm 1/4 W + trimmer 1k set to 300", 470.0, "470 ohm 1/4 W + trimmer 1k set to 0"),
        # and where it does not reach it stays, behind a fixed one
        ("trimmer 1k set to 300", 1200.0, "1200 ohm + trimmer 1k set to 0"),
        ("470 ohm 1/4 W + trimmer 1k set to 300", 1500.0, "1500 ohm 1/4 W + trimmer 1k set to 0"),
        ("470 ohm 1/4 W + trimmer 1k set to 300", 400.0, "400 ohm 1/4 W + trimmer 1k set to 0"),
        # several fixed ones become one
        ("470 ohm 1/4 W + 330 ohm 1/4 W", 900.0, "900 ohm 1/4 W"),
    ],
)
def test_a_resistor_of_another_value(text: str, ohms: float, then: str) -> None:
    other = with_ohms(spec(text), ohms)
    assert [(piece.ohms, piece.trimmer) for piece in other.pieces] == [
        (piece.ohms, piece.trimmer) for piece in spec(then).pieces
    ], resistor_toml(other)
    assert [piece.power for piece in other.pieces] == [piece.power for piece in spec(then).pieces]
    assert other.place == spec(text).place
    # a trimmer behind a fixed one is turned by hand: nobody knows its setting yet
    if other.ohms != spec(text).ohms and not other.trimmer:
        assert [piece.set for piece in other.trimmers] == [None] * len(other.trimmers)
    if "1500" not in then and "1200" not in then and "400 ohm" not in then:
        assert other == spec(then)


@pytest.mark.parametrize(
    ("usual", "old", "new", "shown"),
    [
        # without a usual one a quarter of a watt is what a shop gives to who asks for a value
        ("", "470 ohm 1/4 W", "560 ohm 1/4 W", "560 ohm"),
        ("", "470 ohm", "560 ohm", "560 ohm"),
        ("", "470 ohm 10 W", "560 ohm 10 W", "560 ohm 10 W"),
        ("", "470 ohm 1/8 W", "560 ohm 1/8 W", "560 ohm 1/8 W"),
        ("", "470 ohm", "560 ohm 1/2 W", "560 ohm 1/2 W"),
        ("", "470 ohm 0805", "560 ohm 0805", "560 ohm 0805"),
        ("1/2 W", "470 ohm", "560 ohm", "560 ohm"),
        ("1/2 W", "470 ohm 1/2 W", "560 ohm 1/2 W", "560 ohm"),
        ("1/2 W", "470 ohm 1/4 W", "560 ohm 1/4 W", "560 ohm 1/4 W"),
        ("1/2 W", "470 ohm 1/4 W", "560 ohm 1/2 W", "560 ohm 1/2 W"),
        ("0805", "470 ohm 0805", "560 ohm 0805", "560 ohm"),
    ],
)
def test_a_power_is_named_unless_it_is_the_usual_one(usual: str, old: str, new: str, shown: str) -> None:
    text = 'format = 1\n[build]\nname = "Tender"\n' + (f'[usual]\nresistor = "{usual}"\n' if usual else "")
    build = postcheck.loads(text, "usual.post.toml")
    assert value_words(build, spec(new), spec(old)) == shown
