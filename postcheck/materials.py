"""What has to be cut and what is needed for a build: plain frozen records, SI numbers, for the plan and for the sheet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["Item", "ItemKind", "Materials", "Piece", "Sleeved"]

ItemKind = Literal[
    "wire",
    "cable",
    "resistor",
    "lamp",
    "strip",
    "load",
    "diode",
    "sleeve",
    "fuse",
    "plug",
    "switch",
    "supply",
    "board",
]


@dataclass(frozen=True, slots=True)
class Piece:
    """A conductor to cut, or `count` of them alike; `number` is its place in the list. Lengths in m.

    `kind`: run, lead or link (between two lamps of a chain); `leg`: supply or return, of a lead. `start`, `end`: the places
    at its ends. `wire` and `colour` are empty where the file does not say them; `label` is written on its flag. `laid`: from
    joint to joint, a spare coil included; None where the file says neither a length nor a way. `ends`: what the joints take,
    with new ends later. `length`: what it is cut to, None as with `laid`. `cable`: the sheathed cable that it lies in, and
    is cut with.
    """

    number: int
    kind: Literal["run", "lead", "link"]
    name: str
    leg: str
    start: str
    end: str
    wire: str
    colour: str
    label: str
    laid: float | None
    ends: float
    length: float | None
    count: int = 1
    cable: str = ""


@dataclass(frozen=True, slots=True)
class Sleeved:
    """What sleeves of one size go over: the joint of `line` at `place`, that inside the run `run`, or `count` resistors of `power`, as it is written.

    Of a joint of several lines `line` is the first, as on the hub map. `loose`: the sleeve does not shrink down onto it.
    """

    place: str = ""
    line: str = ""
    run: str = ""
    power: str = ""
    count: int = 1
    loose: bool = False


@dataclass(frozen=True, slots=True)
class Item:
    """Something that a build needs: `needed` of it, in m where `unit` says so, else pieces; `have` of that is on the shelf.

    `what` says it in words. Beside them, where they apply: `ohms`, `watts`, `size` (of a chip) and `tolerance` of a
    resistor, `amps`, `across` (the size of a sleeve as it is sold, m). `unmeasured`: pieces of a wire of which no length is
    said, and which are not in `needed`. `over`: what sleeves go over, one for each of its `count`.
    """

    kind: ItemKind
    what: str
    colour: str
    needed: float
    unit: Literal["m", ""] = ""
    have: float = 0.0
    ohms: float | None = None
    watts: float | None = None
    amps: float | None = None
    size: str = ""
    tolerance: float | None = None
    across: float | None = None
    unmeasured: int = 0
    over: tuple[Sleeved, ...] = ()

    @property
    def loose(self) -> bool:
        """Whether one of the sleeves does not shrink down onto what it is for."""
        return any(one.loose for one in self.over)

    @property
    def buy(self) -> float:
        """What is still to be bought."""
        return round(max(0.0, self.needed - self.have), 9)


@dataclass(frozen=True, slots=True)
class Materials:
    """What is cut, by wire and the longest first, and what is needed. `waste`: the share that wire is bought longer by.

    `joint`: what one joint takes of a conductor, m; `anew`: that with two new ends, m.
    """

    pieces: tuple[Piece, ...]
    items: tuple[Item, ...]
    waste: float
    joint: float
    anew: float
