"""How long does this battery last."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from postcheck import catalogue
from postcheck.answered import Answer
from postcheck.ask.mistake import Mistake
from postcheck.ask.small import SUPPLY, found, limited, survey_of
from postcheck.ask.words import counted, quantity
from postcheck.checks.cells import CHECKS, may_give
from postcheck.checks.shown import amps, percent, span, volts
from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.plain import nearest, quoted
from postcheck.report import Figure, Limited
from postcheck.survey import Survey
from postcheck.survey.heat.figures import BatteryFigures
from postcheck.survey.network.supplies import cell_of

_LITHIUM = (
    "Lithium: protected cells only, a proper charger, never charged or sealed inside the model; "
    "their maker's rules and local ones come first."
)
# s; what alkaline and lithium coin cells keep for at most in a drawer, and no chemistry longer: makers' sheets, from memory
_KEEPS = 10.0 * 365.25 * 86400.0
_COIN = "Keep coin cells from children: a swallowed one burns."


class _Cells(NamedTuple):
    """What is asked about: so many `pieces` of a size, each of them a cell or a block of several."""

    chemistry: catalogue.Chemistry
    size: str | None
    pieces: int
    cells: int

    @property
    def shown(self) -> str:
        """What it is called in an answer."""
        return f"{self.pieces} {self.chemistry.name}{f' {self.size}' if self.size else ''}"

    def verb(self, one: str, many: str) -> str:
        """The verb that goes with it."""
        return one if self.pieces == 1 else many


def battery(
    what: str,
    current: str,
    *,
    cells: int | None = None,
    capacity: str | None = None,
    lasting: str | None = None,
    lowest: str | None = None,
    cut_off: str | None = None,
    rated: str | None = None,
) -> Answer:
    """How long cells feed a steady current: a share of their capacity, or until a load has too few volts."""
    flows = quantity(current, Dimension.CURRENT, "--current")
    for text, dimension, option in (
        (capacity, Dimension.CHARGE, "--capacity"), (lasting, Dimension.TIME, "--lasting"),
        (lowest, Dimension.VOLTAGE, "--lowest"), (cut_off, Dimension.VOLTAGE, "--cut-off"),
        (rated, Dimension.CURRENT, "--rated"),
    ):  # fmt: skip
        if text is not None:
            quantity(text, dimension, option)
    what, capacity = _with_capacity(what, capacity)
    kind = _cells(what, cells)
    said: dict[str, Any] = {"kind": "battery", "place": "here", "chemistry": kind.chemistry.name}
    more = {
        "size": kind.size,
        "cells": kind.cells,
        "capacity": capacity,
        "cut_off": cut_off,
        "rated": rated,
        "runs_for": lasting,
    }
    load: dict[str, Any] = {"name": "load", "circuit": "lights", "place": "here", "typical": current}
    survey = survey_of(
        {
            "supply": {SUPPLY: said | {key: value for key, value in more.items() if value is not None}},
            "circuit": {"lights": {"supply": SUPPLY}},
            "load": [load if lowest is None else {**load, "lowest": lowest}],
        }
    )
    return _answer(survey, kind, flows)


def _answer(survey: Survey, kind: _Cells, flows: float) -> Answer:
    figures, cell = survey.batteries[SUPPLY], cell_of(survey.build.supply[SUPPLY])
    who, verb = kind.shown, kind.verb
    if cell is None or cell.capacity is None:
        raise Mistake(
            f'how much {who} {verb("holds", "hold")} is not known; write --capacity, such as "1000 mAh"'
        )
    held = cell.capacity if figures.holds is None else figures.holds
    full, empty = figures.full_volts, figures.empty_volts

    def answer(ok: bool, says: str, reason: str, limit: Limited | None = None, **more: Figure) -> Answer:
        shown = {
            "current": Figure(flows, "A"),
            "capacity": Figure(held, "C"),
            "full": Figure(full, "V"),
            "empty": Figure(empty, "V"),
            **more,
        }
        caution = " ".join(_cautions(kind, figures, flows)) or None
        return Answer("battery", ok, says, reason, shown, limit or limited(survey, "battery.derate"), caution)

    if figures.most is not None and found(survey, CHECKS, ("battery.overload",)):
        reason = f"{amps(flows)} is more than {who} may give, {amps(figures.most)}"
        if figures.hourly is not None:
            reason += f" ({figures.hourly:g}C; if the label or sheet of yours says more, write --rated)"
        over = Limited(figures.most, "A", may_give(figures))
        return answer(False, "No", reason, over, most=Figure(figures.most, "A"))
    seconds, ends = _ends(figures)
    if seconds is None:
        raise Mistake(f"{amps(flows)} is too little to tell how long it lasts")
    if figures.stops and figures.stops[0][1] > figures.usual_volts:
        reason = f"{who} {verb('gives', 'give')} {volts(figures.usual_volts)}, and the load wants {volts(figures.stops[0][1])} of it"
        return answer(False, "It does not start", reason)
    if empty >= full:
        reason = f"{who} {verb('gives', 'give')} {volts(full)} fresh, and {verb('counts', 'count')} as empty at {volts(empty)}"
        return answer(False, "Empty from the start", reason)
    says = f"About {span(seconds)}"
    if seconds > _KEEPS:
        seconds, says = _KEEPS, f"Longer than {verb('it keeps', 'they keep')}"
        ends = f"no cell keeps longer than about {span(_KEEPS)}, and many far shorter"
    derate = percent(survey.limits.value("battery.derate"))
    reason = f"{who} {verb('holds', 'hold')} {format_quantity(held, Dimension.CHARGE)}, {derate} of it counted on, at {amps(flows)}; {ends}"
    if figures.wanted is None:
        return answer(True, says, reason, lasts=Figure(seconds, "s"))
    enough = seconds >= figures.wanted
    says = f"{'Yes' if enough else 'No'}, {says[0].lower()}{says[1:]}"
    return answer(enough, says, reason, lasts=Figure(seconds, "s"), wanted=Figure(figures.wanted, "s"))


def _cautions(kind: _Cells, figures: BatteryFigures, flows: float) -> Iterator[str]:
    if figures.known_to is not None and flows > figures.known_to:
        yield f"At most: what such cells hold is published up to {amps(figures.known_to)} only."
    if kind.chemistry.name == "lithium-coin":
        yield _COIN
    elif kind.chemistry.lithium:
        yield _LITHIUM


def _ends(figures: BatteryFigures) -> tuple[float | None, str]:
    """When it ends (s) and by what: empty, or too few volts for what is connected to it."""
    if figures.stops and figures.stops_seconds is not None and figures.seconds is not None:
        level = figures.stops[0][1]
        if level > figures.empty_volts and figures.stops_seconds < figures.seconds:
            return figures.stops_seconds, f"then it is down to {volts(level)}, and the load has too few"
    return figures.seconds, f"it counts as empty at {volts(figures.empty_volts)}"


def _with_capacity(text: str, capacity: str | None) -> tuple[str, str | None]:
    """What is asked about, and the capacity, which may stand among its words: "2 lipo 500 mAh"."""
    said = re.search(r"(?<![\w.,])[0-9.,]+[ -]?m?Ah\b", text, re.IGNORECASE)
    if said is None:
        return text, capacity
    if capacity is not None:
        raise Mistake(f"{quoted(text)} gives the capacity, and so does --capacity; write it once")
    rest = f"{text[: said.start()]} {text[said.end() :]}"
    return " ".join(rest.split()), said[0].replace("-", " ")


def _cells(text: str, cells: int | None) -> _Cells:
    """Chemistry, size and count of "4 alkaline aa", "alkaline-AA", "cr2032" or "lipo"; a size that only one chemistry has names it."""
    # a block is called by its volts: 9 V of them are no nine
    count, name = counted(re.sub(r"\b([0-9]+) V\b", r"\1v", text))
    if cells is not None and count > 1:
        raise Mistake(f"{quoted(text)} counts the cells, and so does --cells; write it once")
    plain = re.sub(r"[ ,]+", "-", name.strip().lower())
    rows = [row for row in catalogue.rows("battery") if isinstance(row, catalogue.Chemistry)]
    chemistry = max(
        (row for row in rows if plain == row.name or plain.startswith(f"{row.name}-")),
        key=lambda row: len(row.name),
        default=None,
    )
    if chemistry is not None:
        size: str | None = plain[len(chemistry.name) + 1 :] or None
    else:
        chemistry, size = _made_in(plain, rows, text), plain
    block = chemistry.find(size) if size is not None else None
    if size is not None and block is None and chemistry.sizes:
        sizes = ", ".join(other.name for other in chemistry.sizes)
        raise Mistake(
            f"there is no {chemistry.name} cell of size {quoted(size)}; there is {sizes}, or write {chemistry.name} alone with --capacity"
        )
    pieces = cells if cells is not None else count
    if not 1 <= pieces <= 1000:
        raise Mistake(f"{pieces} cells; from 1 to 1000 make sense here")
    if block is None:
        return _Cells(chemistry, size, pieces, pieces)
    return _Cells(chemistry, block.name, pieces, pieces * block.cells)


def _made_in(size: str, rows: Sequence[catalogue.Chemistry], text: str) -> catalogue.Chemistry:
    """The only chemistry that has a size. Mistake where none or several have it."""
    having = [row for row in rows if row.find(size) is not None]
    if len(having) > 1:
        listed = " or ".join(f"{row.name}-{size}" for row in having)
        raise Mistake(f"{quoted(text)} is made in several kinds; write {listed}")
    if having:
        return having[0]
    known = [*(row.name for row in rows), *(f"{row.name}-{each.name}" for row in rows for each in row.sizes)]
    near = nearest(size, known)
    hint = f"did you mean {quoted(near)}?" if near else "`postcheck catalogue battery` lists them"
    raise Mistake(f"there is no battery {quoted(text)} in the catalogue; {hint}")
