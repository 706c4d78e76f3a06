"""What a stream can show: colour or none, and which characters."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, TextIO

# What our own bars and the signs of build files need beyond ASCII.
_NEEDED = "\u2588\u2592\u2591\u03a9\u00b0\u00b5\u00b2\u00d7\u2192\u2013"

_WORDS = str.maketrans({
    "Ω": "ohm", "\u2126": "ohm", "°": "deg", "º": "deg", "µ": "u", "μ": "u", "²": "2", "³": "3",
    "×": "x", "÷": "/", "±": "+/-", "≥": ">=", "≤": "<=", "≈": "~", "→": "->", "←": "<-",
    "–": "-", "—": "-", "‐": "-", "‑": "-", "−": "-", "·": "-", "•": "-", "…": "...",
    "‘": "'", "’": "'", "“": '"', "”": '"', "„": '"', "′": "'", "″": '"', "¼": "1/4", "½": "1/2", "¾": "3/4",
    "\u00a0": " ", "\u2009": " ", "\u202f": " ", "█": "#", "▒": "=", "░": "-",
})  # fmt: skip


def colour_wanted(
    stream: TextIO, environ: Mapping[str, str], option: Literal["auto", "always", "never"] = "auto"
) -> bool:
    """The option wins, then NO_COLOR, then FORCE_COLOR, then a dumb terminal, then whether it is a terminal at all.

    Each variable counts where it is not empty; FORCE_COLOR=0 means no.
    """
    if option != "auto":
        return option == "always"
    if environ.get("NO_COLOR"):
        return False
    if environ.get("FORCE_COLOR"):
        return environ["FORCE_COLOR"] != "0"
    return environ.get("TERM") != "dumb" and stream.isatty()


def encodable(stream: TextIO, needed: str = _NEEDED) -> bool:
    """Whether the stream can show these signs (those of the terminal view); text kept in memory takes everything."""
    if getattr(stream, "encoding", None) is None:
        return True
    try:
        needed.encode(stream.encoding)
    except (UnicodeEncodeError, LookupError):
        return False
    return True


def ascii_words(text: str, encoding: str | None = None) -> str:
    """The text with symbols as words: ohm for the sign, -> for an arrow.

    With `encoding`, what it lacks even then (letters in names) becomes a visible escape.
    """
    text = text.translate(_WORDS)
    return text if encoding is None else text.encode(encoding, "backslashreplace").decode(encoding)
