"""What a stream can show: colour or none, and which characters."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TextIO

__all__ = ["ascii_words", "colour_wanted", "encodable"]

_WORDS = {
    "Ω": "ohm", "°": "deg", "µ": "u", "μ": "u", "→": "->", "–": "-", "—": "-", "²": "2", "×": "x", "≥": ">=",
    "≤": "<=", "…": "...", "█": "#", "░": ".", "▓": "+", "·": "-", "•": "-", "±": "+/-",
}  # fmt: skip


def colour_wanted(stream: TextIO, environ: Mapping[str, str]) -> bool:
    """NO_COLOR wins, then FORCE_COLOR, then a dumb terminal, then whether it is a terminal at all."""
    if environ.get("NO_COLOR"):
        return False
    if environ.get("FORCE_COLOR"):
        return environ["FORCE_COLOR"] != "0"
    return environ.get("TERM") != "dumb" and stream.isatty()


def encodable(stream: TextIO) -> bool:
    """Whether the stream can show what the terminal view uses beyond ASCII."""
    try:
        "Ω°µ█░".encode(stream.encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True


def ascii_words(text: str) -> str:
    """The text with symbols as words: ohm for the sign, -> for an arrow."""
    return "".join(_WORDS.get(character, character) for character in text)
