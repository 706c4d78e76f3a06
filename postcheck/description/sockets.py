"""What is written of a socket: its size, and the pole at its centre."""

from __future__ import annotations

import re

_CENTRE = re.compile(
    r"[,;( ]*\b(?:(?:centre|center|tip)[ -]*(?:is )?(?P<after>positive|negative|plus|minus|[+-])"
    r"|(?P<ahead>positive|negative) (?:centre|center|tip)\b)\)?",
    re.IGNORECASE,
)
_BARREL = re.compile(r"\bbarrel\b|\b\d(?:\.\d+)? ?(?:mm)? ?[/x×] ?\d(?:\.\d+)?\b", re.IGNORECASE)


def centre_of(socket: str | None) -> str:
    """The pole at the centre, "positive" or "negative"; empty where the text does not say."""
    found = _CENTRE.search(socket or "")
    if found is None:
        return ""
    return (
        "positive"
        if (found["after"] or found["ahead"]).casefold() in ("positive", "plus", "+")
        else "negative"
    )


def size_of(socket: str) -> str:
    """The text without the pole: sockets of one size take each other's plugs."""
    return " ".join(_CENTRE.sub(" ", socket).split()).strip(" ,;")


def is_barrel(socket: str) -> bool:
    """Whether it is one whose plug comes with either pole at its centre."""
    return bool(_BARREL.search(socket))
