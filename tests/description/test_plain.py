import re
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from postcheck.plain import harmless, nearest, quoted

# Classes of the Unicode Character Database (UAX #44), as carried by Python's unicodedata: controls, surrogates,
# line and paragraph separators, and the direction controls of UAX #9.
STEERING = {"LRE", "RLE", "PDF", "LRO", "RLO", "LRI", "RLI", "FSI", "PDI"}
NASTY = [
    "\x1b[31mred\x1b[0m",
    "\x1b]8;;http://example.org\x07link\x1b]8;;\x07",
    "\x9b31m",
    "a\n::error::b",
    "a\r\nb",
    "tail \u202ekcab",
    "\u2066\u2067\u2068\u2069\u061c\u200e\u200f",
    "zero\u200bwidth\u200d\ufeff\u2060",
    "\ud800 alone",
    "\u2028\u2029\x85",
    "\x00\x7f\xad",
    "\U000e0041\U000e007f",
    "[/x] [red] :warning:",
    "\ufffe\uffff\ufdd0\U0010ffff",
]


# The Unicode Standard, 23.7: U+FDD0 to U+FDEF and the last two code points of each plane are noncharacters, 66 in all.
NONCHARACTERS = {*range(0xFDD0, 0xFDF0), *(code for code in range(0x110000) if code & 0xFFFE == 0xFFFE)}


def is_harmful(character: str) -> bool:
    return (
        unicodedata.category(character) in {"Cc", "Cs", "Zl", "Zp"}
        or unicodedata.bidirectional(character) in STEERING
        or ord(character) in NONCHARACTERS
    )


@pytest.mark.parametrize("text", NASTY)
def test_nothing_that_steers_a_terminal_is_left(text: str) -> None:
    shown = harmless(text)

    assert not any(is_harmful(character) for character in shown)
    assert shown.encode("utf-8")  # no lone surrogate is left
    assert len(shown) <= 200


def test_every_harmful_character_of_unicode_is_escaped_and_the_letters_stay() -> None:
    assert not [
        code for code in range(0x110000) if is_harmful(chr(code)) and harmless(chr(code)) == chr(code)
    ]
    assert len(NONCHARACTERS) == 66
    for text in ("Über Ωhm ²°µ — 灯 🛳", "[/x] {y} %z", "back\\slash"):
        assert harmless(text) == text


def test_escapes_are_visible() -> None:
    assert harmless("a\x1b\n\u202e\U000e0041") == "a\\x1b\\n\\u202e\\U000e0041"
    assert quoted("12\tV") == "'12\\tV'"


@given(st.text(st.characters(exclude_categories=()), max_size=300), st.integers(5, 100))
def test_any_text_comes_out_short_and_harmless(text: str, most: int) -> None:
    shown = harmless(text, most)

    assert len(shown) <= most
    assert not any(is_harmful(character) for character in shown)
    if len(text) > most:
        assert shown.endswith("...")
    assert not re.search(r"\\x.?\.\.\.$", shown) or "\\x" in text  # no escape is cut in two


def test_a_huge_text_costs_no_more_than_what_is_shown() -> None:
    assert harmless("\x1b" * 10_000_000, 20) == "\\x1b\\x1b\\x1b\\x1b..."


def test_nearest_name() -> None:
    names = ["colour", "length", "on_share", "mm"]

    assert nearest("color", names) == "colour"
    assert nearest("On-Share", names) == "on_share"
    assert nearest("zzz", names) is None
    assert nearest("", names) is None
    assert nearest("c" * 100_000, names) is None
