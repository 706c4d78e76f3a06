"""What is written of a socket: its size, and the pole at its centre."""

from __future__ import annotations

import re

_CENTRE = (  # compiled when it is first used, as few builds have a socket
    r"(?i)[,;( ]*\b(?:(?:centre|center|tip)[ -]*(?:is )?(?P<after>positive|negative|plus|minus|[+-])"
    r"|(?P<ahead>positive|negative) (?:centre|center|tip)\b)\)?"
)
_BARREL = r"(?i)\bbarrel\b|\b\d(?:\.\d+)? ?(?:mm)? ?[/x×] ?\d(?:\.\d+)?\b"


def centre_of(socket: str | None) -> str:
    """The pole at the centre, "positive" or "negative"; empty where the text does not say."""
    found = re.search(_CENTRE, socket) if socket else None
    if found is None:
        return ""
    return (
        "positive"
        if (found["after"] or found["ahead"]).casefold() in ("positive", "plus", "+")
        else "negative"
    )


def size_of(socket: str) -> str:
    """The text without the pole: sockets of one size take each other's plugs."""
    return " ".join(re.sub(_CENTRE, " ", socket).split()).strip(" ,;")


def is_barrel(socket: str) -> bool:
    """Whether it is one whose plug comes with either pole at its centre."""
    return bool(re.search(_BARREL, socket))
