"""What the printed sheet is given: plain frozen records, part by part, SI numbers; a renderer only words and draws them."""

from __future__ import annotations

from dataclasses import dataclass

from postcheck.expected import Expected
from postcheck.identification import LeadExpected, Setting
from postcheck.materials import Materials
from postcheck.pictured import BorePicture
from postcheck.report import ChangedLimit, Verdict, WhatIf

__all__ = [
    "PARTS",
    "BenchPlace",
    "BenchRow",
    "Budget",
    "CircuitPath",
    "ClientCard",
    "ClientPassage",
    "ClientPlace",
    "ClientSupply",
    "ClosingItem",
    "ClosingPlace",
    "HubEnd",
    "HubPlace",
    "Joint",
    "PathPoint",
    "Share",
    "Sheet",
    "WhichPlace",
]

PARTS = {
    "hub": "the hub map: every joint with its colours",
    "bench": "the bench card: how each lead is tested",
    "which": "unmarked leads: the setting that harms none of them, and what each reads",
    "post": "the post and every other passage, drawn to scale",
    "volts": "each circuit's voltage on its way to the farthest lamp",
    "supply": "the supply budget",
    "cut": "every conductor and lead with its length to cut",
    "buy": "what is needed, and what of it is to be bought",
    "closing": "what is tested before a place is closed, with boxes to tick",
    "client": "the client's card",
}
"""The parts of a sheet, in the order in which they are printed."""


@dataclass(frozen=True, slots=True)
class HubEnd:
    """One conductor's end at a joint. `kind`: run, lead, lamp (no lead of its own), plug, switch, supply, board or strip.

    `leg`: supply or return of a lead, and what else is joined here: a pole, a pin or input, the far end. `goes_to`: the
    place at its other end. `ohms`: of the resistor that sits in it here. `comes`: the supply lies behind it, not what it
    feeds. `fuse`: of a supply's pole, A.
    """

    kind: str
    name: str
    leg: str = ""
    colour: str = ""
    wire: str = ""
    goes_to: str = ""
    count: int = 1
    ohms: float | None = None
    label: str = ""
    comes: bool = False
    fuse: float | None = None


@dataclass(frozen=True, slots=True)
class Joint:
    """All that is joined at one place; `line` names it, with the circuits that begin there, `first` by the first of them alone. `side`: "+", "-" or "" where that is not known."""

    line: str
    side: str
    ends: tuple[HubEnd, ...]
    first: str = ""


@dataclass(frozen=True, slots=True)
class HubPlace:
    """The joints of a place, in the order of the file's lines. `loose`: ends that are joined to nothing there."""

    name: str
    access: str
    joints: tuple[Joint, ...]
    loose: tuple[HubEnd, ...] = ()


@dataclass(frozen=True, slots=True)
class BenchRow:
    """How one pair of ends is tested. Volts, amperes and ohms.

    `kind`: lamp, strip, load or circuit. `resistor_position`: where the resistor sits seen from here (ahead, here, behind,
    none), and `seat` and `ohms` which. `touch_*`: the full supply at its highest; `fate`: lights, dark, too much, destroyed,
    unknown. `backwards`: dark, may destroy, shorts (a motor's diode), the same, unknown, with `stood` the volts its LEDs are
    tested at. `volts`, `limit`: the setting; `held`: the limit holds the current. `through`: the resistor with which the
    full supply may touch instead, and `through_power`, as it is sold. `finished`: what flows at the usual volts once its
    resistor is in; `strings`: of how many with a resistor each. `starting`: the most while a motor starts. `pulsed`: it
    flashes or is dimmed in the model; the setting is for holding it on. `by_itself`: a chip flashes it on the bench too.
    """

    kind: str
    name: str
    plus_colour: str
    minus_colour: str
    resistor_position: str
    fate: str
    contact_volts: float
    contact_amps: float
    backwards: str
    supply_volts: float
    seat: str = ""
    ohms: float | None = None
    stood: float | None = None
    volts: float | None = None
    limit: float | None = None
    held: bool = False
    expected: Expected | None = None
    through: float | None = None
    through_power: str = ""
    through_expected: Expected | None = None
    finished: Expected | None = None
    label: str = ""
    lights: int = 0
    strings: int = 1
    starting: float | None = None
    pulsed: bool = False
    by_itself: bool = False


@dataclass(frozen=True, slots=True)
class BenchPlace:
    """The bench card of one place: single leads first, then what is joined.

    `as_at`: circuits that are tested here as at a place before, which is named behind each; `as_lead`: as the one lead
    that is joined to them here.
    """

    name: str
    access: str
    leads: tuple[BenchRow, ...]
    lines: tuple[BenchRow, ...]
    unknown: tuple[str, ...] = ()
    as_at: tuple[tuple[str, str], ...] = ()
    as_lead: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class WhichPlace:
    """The unmarked leads that end at a place: the settings at which they are told apart, and what each reads.

    `first` is None where no setting harms none of them; `apart`: leads on which nothing is put, with the reason.
    """

    name: str
    first: Setting | None
    more: Setting | None
    expected: tuple[LeadExpected, ...]
    apart: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class PathPoint:
    """A point on the way to a lamp: its name, metres of conductor from the supply, volts between the two lines there."""

    name: str
    metres: float
    volts: float


@dataclass(frozen=True, slots=True)
class CircuitPath:
    """One circuit's way from its supply to the lamp that gets the fewest volts; `takes`: what that lamp's dice take, V.

    `alike`: further circuits with the same figures.
    """

    circuit: str
    supply: str
    lamp: str
    points: tuple[PathPoint, ...]
    takes: float | None
    current: float
    alike: tuple[str, ...] = ()

    @property
    def lost(self) -> float:
        """The volts that are lost on the way."""
        return self.points[0].volts - self.points[-1].volts

    @property
    def lost_share(self) -> float | None:
        """That as a share of the volts at its beginning; None where there are none."""
        first = self.points[0].volts
        return self.lost / first if first > 0.0 else None


@dataclass(frozen=True, slots=True)
class Share:
    """What one circuit, board or converter takes of a supply, A."""

    name: str
    kind: str
    nominal: float
    highest: float


@dataclass(frozen=True, slots=True)
class Budget:
    """A supply's load, A: all on with usual parts, at most, over time; its rating and fuse. `most_share`: of the rating that may be used; `coin`: a coin cell."""

    name: str
    kind: str
    volts: float
    nominal: float
    highest: float
    average: float
    rated: float | None
    fuse: float | None
    most_share: float
    shares: tuple[Share, ...]
    lasts: float | None = None
    coin: bool = False

    @property
    def free(self) -> float | None:
        """The share of the rating that is free at the most load; None where there is no rating."""
        return max(1.0 - self.highest / self.rated, 0.0) if self.rated else None


@dataclass(frozen=True, slots=True)
class ClosingItem:
    """One test before a place is closed. `kind`: lamp, strip, load, circuit, run, plug, board or supply.

    `volts` at the bench through `ohms` (None: nothing is put before it; one for each of its `strings`), with the supply's
    `limit`; `expected` A; `hours`: how long it runs, h, `as_lit` in the model where it would get too hot held on, or
    else with all pixels `white`. `proves`: all in the place that it proves, as (kind, name). `done`: each of them is proven,
    has run so long, and nothing speaks against it; `measured` A and `on` (a date) are what its latest test record says,
    `why_not` what is wrong or missing there.
    """

    kind: str
    subject: str
    proves: tuple[tuple[str, str], ...]
    done: bool
    volts: float | None = None
    limit: float | None = None
    ohms: float | None = None
    expected: Expected | None = None
    hours: float | None = None
    measured: float | None = None
    on: str = ""
    why_not: str = ""
    strings: int = 1
    as_lit: bool = False
    white: bool = False


@dataclass(frozen=True, slots=True)
class ClosingPlace:
    """What is out of reach once a place is closed. `cut`: all in it that then needs cutting to reach, as (kind, name)."""

    name: str
    access: str
    items: tuple[ClosingItem, ...]
    cut: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class ClientSupply:
    """What the client plugs in or puts in. `lithium`: of a kind that a short can set on fire; `lasts` in s.

    `sealed`: no hand gets at it; `coin`: small enough to be swallowed; `gas`: it gives off hydrogen. `unpoled`: its plug
    comes with either pole at the centre, and the file does not say which.
    """

    kind: str
    volts: float
    rated: float | None
    place: str
    socket: str = ""
    cells: int = 0
    chemistry: str = ""
    size: str = ""
    lithium: bool = False
    lasts: float | None = None
    sealed: bool = False
    coin: bool = False
    gas: bool = False
    unpoled: bool = False


@dataclass(frozen=True, slots=True)
class ClientPassage:
    """How far a passage may be turned each way, rad; None: it is not made to turn.

    `stop`: whether something stops it there, None where nobody says.
    """

    name: str
    turn: float | None
    stop: bool | None


@dataclass(frozen=True, slots=True)
class ClientPlace:
    """What is where: lamps and other things at a place, each with how it behaves."""

    name: str
    access: str
    things: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class ClientCard:
    """What the client needs to know in ten years. `air` in degC; `flashes`: whether anything does, `fast`: all their flashes a second, if they are too many, Hz.

    `flicker`: the slowest dimming that can bring on a seizure, Hz. `ultraviolet`: whether a lamp is. `lit`: whether it has
    lamps at all.
    """

    supplies: tuple[ClientSupply, ...]
    passages: tuple[ClientPassage, ...]
    places: tuple[ClientPlace, ...]
    air: tuple[float, float]
    flashes: bool
    fast: float | None
    hottest: float | None
    note: str = ""
    flicker: float | None = None
    ultraviolet: bool = False
    lit: bool = True


@dataclass(frozen=True, slots=True)
class Sheet:
    """Everything that a sheet prints; a part that was not asked for is empty. `today`: as YYYY-MM-DD.

    `waived`: what was found and waived, each with the reason; `limits`: those that the build changes; `what_if`: the keys
    with other values than in the file. `own_legs`: the lamps whose strings are taken to bring both legs each, as the file
    does not say what they share.
    """

    build: str
    file: str
    today: str
    stage: str
    verdict: Verdict
    stops: tuple[str, ...]
    parts: tuple[str, ...]
    waived: tuple[tuple[str, str], ...] = ()
    limits: tuple[ChangedLimit, ...] = ()
    what_if: tuple[WhatIf, ...] = ()
    hub: tuple[HubPlace, ...] = ()
    own_legs: tuple[str, ...] = ()
    bench: tuple[BenchPlace, ...] = ()
    which: tuple[WhichPlace, ...] = ()
    bores: tuple[BorePicture, ...] = ()
    paths: tuple[CircuitPath, ...] = ()
    supplies: tuple[Budget, ...] = ()
    closing: tuple[ClosingPlace, ...] = ()
    client: ClientCard | None = None
    materials: Materials | None = None
