"""What is written of a socket: its size, the pole at its centre, and which plugs go into it."""

import re
from typing import NamedTuple

_CENTRE = (  # compiled when it is first used, as few builds have a socket
    r"(?i)[,;( ]*\b(?:(?:centre|center|tip)[ -]*(?:is )?(?P<after>positive|negative|plus|minus|[+-])"
    r"|(?P<ahead>positive|negative) (?:centre|center|tip)\b)\)?"
)
_DIAMETERS = r"\b(\d(?:\.\d+)?) ?(?:mm)? ?[/x×] ?(\d(?:\.\d+)?)(?: ?mm)?\b"
_BARREL = rf"(?i)\bbarrel\b|{_DIAMETERS}"
# mm. Sizes that differ by less are one size with two names (3.5/1.3, 3.5/1.35). A bore wider than the pin by no more still
# makes contact: the plug's spring, or its tilt, bridges some tenths (2.5 on a pin of 2.1). Common practice, from memory.
_ALIKE, _LOOSE = 0.11, 0.45


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


def unlike(one: str, other: str) -> bool:
    """Whether two poles at the centre are known to be unlike."""
    return {one, other} == {"positive", "negative"}


def size_of(socket: str) -> str:
    """The text without the pole: sockets of one size take each other's plugs."""
    return " ".join(re.sub(_CENTRE, " ", socket).split()).strip(" ,;")


def is_barrel(socket: str) -> bool:
    """Whether it is one whose plug comes with either pole at its centre."""
    return bool(re.search(_BARREL, socket))


class Size(NamedTuple):
    """Outside diameter and bore of a barrel plug, mm, zero where they are not said, and what else is written of it."""

    outside: float
    bore: float
    rest: str

    def goes_into(self, socket: "Size") -> bool:
        """Whether a plug of this size makes contact in a socket of that: its bore has to go over the pin, and may sit loosely."""
        return (
            self.rest == socket.rest
            and abs(self.outside - socket.outside) < _ALIKE
            and -_ALIKE < self.bore - socket.bore < _LOOSE
        )

    def loose_in(self, socket: "Size") -> bool:
        """Whether a plug that goes in is made for a thicker pin."""
        return self.bore - socket.bore >= _ALIKE


def sized(socket: str) -> Size:
    """The size of a socket or plug; one that is no barrel has what is written of it."""
    size = size_of(socket)
    found = re.search(f"(?i){_DIAMETERS}", size)
    if found is None:
        return Size(0.0, 0.0, size)
    rest = re.sub(r"\bbarrel\b", " ", size.replace(found[0], " ").casefold())
    return Size(float(found[1]), float(found[2]), " ".join(rest.split()).strip(" ,;"))
