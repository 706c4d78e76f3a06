"""Letters of colours by the standard, and one spelling for what people write."""

from __future__ import annotations

import pytest

from postcheck.colours import COLOURS, DAYLIGHT, is_light, letters, misspelt, spelt
from postcheck.renderers.wire_colours import PAINTS


# IEC 60757 table 1, by the identical text of IEC 757:1983
@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("black", "BK"), ("brown", "BN"), ("red", "RD"), ("orange", "OG"), ("yellow", "YE"), ("green", "GN"), ("blue", "BU"),
        ("violet", "VT"), ("grey", "GY"), ("white", "WH"), ("pink", "PK"), ("turquoise", "TQ"), ("gold", "GD"), ("silver", "SR"),
        ("green-and-yellow", "GNYE"), ("GNYE", "GNYE"), ("RDBU", "RDBU"), ("rd", "RD"), ("White/Red stripe", "WHRD"),
        ("light blue", "BU"), ("purple", "VT"), ("gray", "GY"), ("natural", ""), ("", ""), ("white/white", "WH"),
    ],
)  # fmt: skip
def test_colours_have_the_letters_of_the_standard(words: str, code: str) -> None:
    assert letters(words) == code


def test_every_colour_has_its_paint() -> None:
    assert list(PAINTS) == list(COLOURS)
    assert set(COLOURS) - set(DAYLIGHT) == {"GD", "SR"}


@pytest.mark.parametrize(
    "ways",
    [
        ("red", "RD", "Red ", "red wire"),
        ("white/red", "WHRD", "white with a red stripe", "WH-RD"),
        ("light blue", "blue, light", "Light BU"),
        ("grey", "gray"),
        ("bare copper", "Bare  copper"),
    ],
)
def test_ways_of_writing_one_colour(ways: tuple[str, ...]) -> None:
    assert len({spelt(way) for way in ways}) == 1


@pytest.mark.parametrize(
    "ways",
    [
        (
            "red",
            "white/red",
            "red/white",
            "dark red",
            "red, 2 knots",
            "red, 1 knot",
            "red and black",
            "copper",
        ),
        ("blue", "light blue", "turquoise"),
        ("white/red/blue", "white/red"),
    ],
)
def test_what_is_written_otherwise_is_another_colour(ways: tuple[str, ...]) -> None:
    assert len({spelt(way) for way in ways}) == len(ways)


@pytest.mark.parametrize(
    ("words", "known"),
    [
        ("bleu", "blue"), ("gren", "green"), ("yelow", "yellow"), ("blakc", "black"), ("Whiite/red", "white"),
        ("orenge", "orange"), ("viollet stripe", "violet"),
    ],
)  # fmt: skip
def test_a_slip_is_seen(words: str, known: str) -> None:
    slip = misspelt(words)
    assert slip is not None
    assert slip[1] == known


@pytest.mark.parametrize(
    "words",
    [
        *COLOURS.values(), *COLOURS, "gray", "clear", "copper", "enamel", "bare copper", "tinned", "natural", "light blue", "dark red",
        "silvery", "lack", "red, 2 knots", "red, pin 2", "white with a red stripe", "beige", "cream", "tan", "steel", "transparent",
        "lacquer", "olive", "lime", "rose", "magenta", "bluish", "", "\u6a59",
    ],
)  # fmt: skip
def test_a_free_word_is_no_slip(words: str) -> None:
    assert misspelt(words) is None


@pytest.mark.parametrize(
    "said", ["warm white", "Warm-White", "UV", "3000 K", "385 nm", "ice blue", "red/green"]
)
def test_light_is_known_by_a_word_or_a_figure(said: str) -> None:
    assert is_light(said)


@pytest.mark.parametrize("said", ["zzz", "ultravoilet", "whte", ""])
def test_what_is_no_light_is_none(said: str) -> None:
    assert not is_light(said)
