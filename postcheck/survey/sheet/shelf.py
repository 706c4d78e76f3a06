"""What of all that a build needs is on the shelf."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from postcheck.colours import letters
from postcheck.description.called import fuse_words
from postcheck.description.models import Build, Held, ResistorSpec
from postcheck.limits import above, below
from postcheck.materials import Item


def taken_off(build: Build, items: tuple[Item, ...]) -> Iterator[Item]:
    """Each need, with how much of it is in stock.

    What serves for several is given out once, of a colour first where it has one, and no more power than has to be.
    """
    left = {number: held.count or held.length or 0.0 for number, held in enumerate(build.stock.have)}
    found = dict.fromkeys(items, 0.0)
    by_fit = sorted(
        ((held.colour is None, _over(build, held, item), number, item) for item in items
         for number, held in enumerate(build.stock.have) if _serves(build, held, item)),
        key=lambda one: one[:3],
    )  # fmt: skip
    for _, _, number, item in by_fit:
        taken = min(left[number], item.needed - found[item])
        left[number] = round(left[number] - taken, 9)
        found[item] = round(found[item] + taken, 9)
    yield from (replace(item, have=have) for item, have in found.items())


def _serves(build: Build, held: Held, item: Item) -> bool:
    """Whether something on the shelf will do: a resistor of more power will, and one of a closer tolerance."""
    match item.kind:
        case "wire":
            return held.wire == item.what and (
                held.colour is None or same_colour(held.colour) == same_colour(item.colour)
            )
        case "resistor":
            return held.resistor is not None and _resistor_serves(build, held.resistor, item)
        case "lamp":
            return held.lamp == item.what
        case "strip":
            return held.strip == item.what
        case "sleeve":
            return (
                held.sleeve is not None and item.across is not None and abs(held.sleeve - item.across) < 1e-5
            )
        case "fuse":
            return held.fuse is not None and item.what in (
                fuse_words(held.fuse),
                fuse_words(held.fuse.model_copy(update={"body": None})),
            )
        case _:
            return False


def _resistor_serves(build: Build, held: ResistorSpec, item: Item) -> bool:
    usual = build.usual.resistor
    if held.trimmer != item.what.startswith("trimmer "):
        return False
    if item.ohms is None or abs(held.ohms - item.ohms) > 1e-9 * item.ohms or held.size != (item.size or None):
        return False
    tolerance = held.tolerance if held.tolerance is not None or usual is None else usual.tolerance
    watts = _watts(build, held)
    enough = bool(item.size) or item.watts is None or (watts is not None and not below(watts, item.watts))
    close = item.tolerance is None or (tolerance is not None and not above(tolerance, item.tolerance))
    return enough and close


def _watts(build: Build, held: ResistorSpec) -> float | None:
    usual = build.usual.resistor
    return held.power if held.power is not None or usual is None else usual.power


def _over(build: Build, held: Held, item: Item) -> float:
    """How much more power it is made for than is asked."""
    watts = _watts(build, held.resistor) if held.resistor is not None else None
    return (watts or 0.0) - (item.watts or 0.0)


def same_colour(colour: str) -> str:
    """What is the same for all ways to write a colour."""
    return letters(colour) or colour.strip().casefold()
