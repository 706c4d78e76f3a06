"""Colours of wires: the words that people write, letters by IEC 60757, and how each looks in daylight."""

from __future__ import annotations

import re
from functools import lru_cache

__all__ = ["COLOURS", "DAYLIGHT", "is_light", "letters", "misspelt", "spelt"]

# IEC 60757, in the order of its table.
COLOURS: dict[str, str] = {
    "BK": "black", "BN": "brown", "RD": "red", "OG": "orange", "YE": "yellow", "GN": "green", "BU": "blue",
    "VT": "violet", "GY": "grey", "WH": "white", "PK": "pink", "TQ": "turquoise", "GD": "gold", "SR": "silver",
}  # fmt: skip
"""The word for each pair of letters."""

_LETTERS = {
    **{word: code for code, word in COLOURS.items()},
    "gray": "GY", "purple": "VT", "amber": "OG", "golden": "GD", "cyan": "TQ", "teal": "TQ",
}  # fmt: skip

DAYLIGHT: dict[str, tuple[int, int, int]] = {
    "BK": (14, 14, 16), "BN": (126, 75, 39), "RD": (167, 41, 32), "OG": (246, 120, 40), "YE": (238, 201, 0),
    "GN": (79, 154, 59), "BU": (34, 113, 179), "VT": (131, 99, 157), "GY": (122, 136, 142), "WH": (233, 229, 206),
    "PK": (216, 160, 166), "TQ": (126, 186, 181),
}  # fmt: skip
"""How insulation in each colour looks, sRGB.

The RAL colours that cable makers use for IEC 60304: 9005, 8003, 3000, 2003, 1021, 6018, 5015, 4005, 7000, 1013, 3015,
6027; numbers and sRGB values from memory, printed values differ by some units. Gold and silver have none.
"""

# Words for the light of LEDs, beside the colours of wires; figures (3000 K, 385 nm) say it as well.
_LIGHT = frozenset(
    [
        "red",
        "green",
        "blue",
        "yellow",
        "orange",
        "amber",
        "gold",
        "golden",
        "white",
        "warm",
        "cool",
        "cold",
        "neutral",
        "daylight",
        "pink",
        "rose",
        "magenta",
        "purple",
        "violet",
        "cyan",
        "turquoise",
        "teal",
        "aqua",
        "lime",
        "mint",
        "ice",
        "lemon",
        "candle",
        "uv",
        "uva",
        "uvb",
        "uvc",
        "ultraviolet",
        "blacklight",
        "ir",
        "infrared",
        "rgb",
        "rgbw",
    ]
)


def is_light(colour: str) -> bool:
    """Whether a word or figure in it says what light an LED gives."""
    return any(map(str.isdigit, colour)) or not _LIGHT.isdisjoint(re.split("[^a-z]+", colour.casefold()))


# What may stand beside a colour and tells nothing: "white with red stripe" is WHRD.
_FILLERS = frozenset(
    [
        "a",
        "an",
        "and",
        "colored",
        "coloured",
        "insulation",
        "on",
        "stripe",
        "striped",
        "tracer",
        "with",
        "wire",
    ]
)


@lru_cache(maxsize=512)
def letters(colour: str) -> str:
    """The letters of a colour in words or letters, two at most: "red" is RD, "white/red" WHRD, "GNYE" itself.

    Words that tell a shade ("light blue") are passed over; "" where no colour is meant that has letters.
    """
    return "".join(_read(colour)[0][:2])


@lru_cache(maxsize=512)
def spelt(colour: str) -> str:
    """One spelling for every way of writing the same colour: letters, and in small what they do not say ("BU light").

    A colour without letters is itself in small.
    """
    codes, more = _read(colour)
    shades = sorted(set(more) - _FILLERS)
    return " ".join(("".join(codes), *shades)) if codes else " ".join(colour.casefold().split())


# Shorter ones lie too near to other words.
_LEAST_LETTERS = 4


@lru_cache(maxsize=512)
def misspelt(colour: str) -> tuple[str, str] | None:
    """The first word of a text that is one slip away from a colour and none itself, and that colour: "bleu", "blue".

    A slip is a letter too many, too few, another one, or two exchanged, behind the first. Free words ("clear", "copper",
    "enamel", "silvery") are none.
    """
    for word in _read(colour)[1]:
        if len(word) >= _LEAST_LETTERS and word not in _FILLERS:
            for known in _LETTERS:
                if (
                    len(known) >= _LEAST_LETTERS
                    and word not in (f"{known}y", f"{known}s")
                    and _one_slip(word, known)
                ):
                    return word, known
    return None


def _one_slip(word: str, known: str) -> bool:
    if word[0] != known[0] or abs(len(word) - len(known)) > 1:
        return False
    at = next(
        (n for n, (a, b) in enumerate(zip(word, known, strict=False)) if a != b), min(len(word), len(known))
    )
    ours, theirs = word[at:], known[at:]
    return (
        ours[1:] == theirs  # one too many
        or ours == theirs[1:]
        or ours[1:] == theirs[1:]
        or (ours[1::-1] == theirs[:2] and ours[2:] == theirs[2:])
    )


def _read(colour: str) -> tuple[list[str], list[str]]:
    """The letters of a text, each once, and the words that are no colours."""
    found: list[str] = []
    more: list[str] = []
    for word in re.findall(r"[^\W\d_]+|\d+", colour):
        upper = word.upper()
        parts = [upper[:2], upper[2:]] if len(upper) == 4 else [upper]
        if all(part in COLOURS for part in parts):
            found += parts
        elif word.lower() in _LETTERS:
            found.append(_LETTERS[word.lower()])
        else:
            more.append(word.casefold())
    return list(dict.fromkeys(found)), more
