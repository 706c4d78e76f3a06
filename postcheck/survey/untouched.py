"""Which sections of a survey a change of the build leaves as they are: a trial of a remedy need not compute them again."""

from __future__ import annotations

from collections.abc import Iterable

# Neither currents nor heat depend on passages.
_CURRENTS = frozenset({"electrics", "places", "spots", "hot_spots", "batteries"})
# Neither currents, nor how warm conductors get in normal use, depend on the fuse.
_IN_USE = _CURRENTS | {"passages", "in_use"}
# How colours look depends on the limits alone.
_ALWAYS = frozenset({"poor_light"})


def untouched(changed: Iterable[tuple[str | int, ...]]) -> frozenset[str]:
    """The names of the sections that read nothing at any of these paths."""
    kept = _IN_USE
    for path in changed:
        kept &= _left_by(path)
    return kept | _ALWAYS


def _left_by(path: tuple[str | int, ...]) -> frozenset[str]:
    if path[0] in ("post", "passage"):
        return _CURRENTS
    if path[0] == "supply" and path[2:3] == ("fuse",):
        return _IN_USE
    return frozenset()
