"""Colours of light as people see and name them."""

from __future__ import annotations

SEEN = frozenset(
    {
        "red", "orange", "amber", "yellow", "yellow-green", "green", "blue", "uv", "violet", "pink", "white", "warm-white",
    }
)  # fmt: skip
# Colours that two people name alike, in daylight and through paint.
_TAKEN_FOR = (
    frozenset({"amber", "orange", "yellow"}),
    frozenset({"yellow", "yellow-green"}),
    frozenset({"green", "yellow-green"}),
    frozenset({"red", "orange", "pink"}),
    frozenset({"blue", "uv"}),
)


def alike(seen: str, other: str) -> bool:
    """Whether one colour may be taken for the other."""
    if seen == "violet":
        seen = "uv"
    if (seen, other) == ("white", "warm-white"):
        return True  # white is what people call both
    return seen == other or other not in SEEN or any({seen, other} <= colours for colours in _TAKEN_FOR)
