"""How a part that fails later is got at: plain frozen records, SI numbers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from postcheck.expected import Expected
from postcheck.materials import Piece
from postcheck.report import Severity

__all__ = ["Feed", "Left", "Reading", "Repair", "Spot"]


@dataclass(frozen=True, slots=True)
class Spot:
    """Something of the part at a place. `reach`: open, behind a cover, or only by cutting something open.

    `opens_with`: what the cover takes, and `opening`: how far it must come out, m; where the file says so.
    """

    kind: str
    name: str
    place: str
    reach: Literal["open", "cover", "cut"]
    opens_with: str = ""
    opening: float | None = None


@dataclass(frozen=True, slots=True)
class Reading:
    """What a bench supply shows at a place in reach. `kind`: lead (its own, taken off its joint) or line (of its circuit, with `others` strings and the like on it).

    `returns`: of a line, the one that it is measured against. `limit` (A) of the bench supply, set before its `volts`.
    `whole`: the current if nothing is wrong; `dark`: with the part failed open, None where that is not worked out. `tells`:
    these two do not overlap. `like`: others whose failing would show the same.
    """

    place: str
    reach: Literal["open", "cover", "cut"]
    kind: Literal["lead", "line"]
    name: str
    plus_colour: str
    minus_colour: str
    label: str
    volts: float
    limit: float
    whole: Expected
    dark: Expected | None
    tells: bool
    others: int = 0
    like: tuple[str, ...] = ()
    returns: str = ""


@dataclass(frozen=True, slots=True)
class Feed:
    """A line that the part lives on, and the one that it goes back on. `kind` and `name`: the board or supply that feeds it; empty where the file has none."""

    line: str
    returns: str
    kind: Literal["board", "supply", ""]
    name: str


@dataclass(frozen=True, slots=True)
class Left:
    """What is found of the model with the part left as it is, and not, or less gravely, with it whole: the finding's name, and what it says."""

    id: str
    severity: Severity
    says: str


@dataclass(frozen=True, slots=True)
class Repair:
    """A part: where it is got at, how to be sure that it is this one, what would do instead.

    `new_lead`: the pieces of one, where a hand gets at the part's own end. `spares`: spare runs, each with the runs of its
    lines that lie beside. `goes_dark`: what is dark with it, with how many LEDs (1 of anything else). `changed`: what of the
    others then gets another current: name, before, after, A. `left`: what is found of the model then. `feeds`: the lines
    that matter to it. `namesakes`: what else of the build bears its name, as kind and the words to ask for it, which are
    empty where it cannot be asked for. `forbids`: why nothing in reach is put on a bench supply, where something there is.
    """

    kind: str
    name: str
    spots: tuple[Spot, ...]
    readings: tuple[Reading, ...]
    new_lead: tuple[Piece, ...]
    spares: tuple[tuple[str, tuple[str, ...]], ...]
    goes_dark: tuple[tuple[str, int], ...]
    changed: tuple[tuple[str, float, float], ...] = ()
    feeds: tuple[Feed, ...] = ()
    namesakes: tuple[tuple[str, str], ...] = ()
    forbids: str = ""
    left: tuple[Left, ...] = ()
