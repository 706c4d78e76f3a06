"""The sentences of a sheet, for a page and for a build log alike."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from postcheck.expected import Expected
from postcheck.plain import first_few
from postcheck.renderers import figures
from postcheck.renderers.words import counted, limit_change, safe, what_if_words
from postcheck.sheet import (
    BenchPlace,
    BenchRow,
    Budget,
    CircuitPath,
    ClosingItem,
    ClosingPlace,
    HubEnd,
    Sheet,
)

HEADINGS = {
    "hub": "Hub map",
    "bench": "Bench card",
    "which": "Unmarked leads",
    "post": "Post and passages",
    "volts": "Voltage on the way",
    "supply": "Supply budget",
    "cut": "To cut",
    "buy": "To buy",
    "closing": "Before it is closed",
    "client": "About your model",
}
_NO_POWER, _LIMIT = "No power while soldering.", "Set the limit first, then touch."
_FIRST = {
    "hub": (_NO_POWER,),
    "bench": (_LIMIT, _NO_POWER),
    "which": (_LIMIT, "Never touch with the model's own supply."),
    "closing": (_LIMIT,),
}
COIN = "Coin cells kill children: one that is swallowed burns through within hours."
ACCESS = {"open": "open", "cover": "behind a cover", "sealed": "sealed for good"}
COLOUR_RULE = "The sleeve on a wire shows its colour, a ring on it the second one, and the word beside it says which. A dashed sleeve: the file says no colour."
BENCH_RULES = (
    "Set volts and limit before the lead is touched: leave the ends apart for the volts, then short the supply's own leads and turn the limit up.",
    'Solder the resistor of the column "Full supply through" into the bench lead: then a slip of the hand does no harm. Volts there are the usual ones of the supply.',
    "What flashes or is dimmed in the model is held on here: its setting gives it no more than it stands for good.",
    "Currents are for parts within their tolerances at room temperature; the supply's own tolerance is left out.",
)  # fmt: skip
_VERDICTS = {
    "clear": "clear",
    "incomplete": "incomplete: something vital is not known",
    "caution": "cautions open: think again before going on",
    "stop": "STOP: do not close anything yet",
    "unreadable": "unreadable",
}
_NAME = 120
LEAST_SHOWN = 0.5e-6  # A, a microamp is the last digit of a good bench meter


def show(value: float | None, unit: str) -> str:
    """A figure whose number and unit stay on one line. A current that no bench meter shows is none."""
    if unit == "A" and value is not None and abs(value) < LEAST_SHOWN:
        return "none"
    return figures.show(value, unit).replace(" ", "\u00a0")


def text(name: str, most: int = _NAME) -> str:
    """A name of the file, made harmless."""
    return safe(name, most)


def verdict(sheet: Sheet) -> str:
    """How the build was judged on the day of the sheet."""
    tried = f", with {counted(len(sheet.what_if), 'what-if')}" if sheet.what_if else ""
    return f"judged {sheet.today} for {sheet.stage}{tried}: {_VERDICTS[sheet.verdict]}"


def current(span: Expected) -> str:
    """A current as the meter may show it."""
    low, high = show(span.least, "A"), show(span.most, "A")
    if low == high:
        return low
    if "none" in (low, high):
        return f"{low} to {high}"
    number, unit = low.rsplit("\u00a0", 1)
    return f"{number if unit == high.rsplit(chr(0xA0), 1)[-1] else low} to {high}"


def first(sheet: Sheet, parts: list[str]) -> str:
    """What a page with these parts says at its head, for each may hang alone: where volts are applied, where joints are made."""
    empty = {part for part, of in (("closing", sheet.closing), ("which", sheet.which)) if not of}
    said = (one for part in parts if part not in empty for one in _FIRST.get(part, ()))
    return " ".join(dict.fromkeys(said))


# -- hub


def own_legs(sheet: Sheet) -> Iterator[str]:
    """What is taken of strings side by side, as the file does not say it."""
    if sheet.own_legs:
        names = first_few([f"'{text(name)}'" for name in sheet.own_legs], 8)
        yield f"Each string of {names} brings both of its wires: the file does not say that they share one (strings_share)."


def hub_name(end: HubEnd) -> str:
    """Which conductor it is and where it goes."""
    name = text(end.name)
    said = {
        "run": f"{name}, {'from' if end.comes else 'to'} {text(end.goes_to)}",
        "lead": f"{name} ({text(end.goes_to)})" if end.goes_to else name,
        "lamp": f"{name}, soldered here",
        "plug": f"plug {name}, {end.leg}, {'from' if end.comes else 'to'} {text(end.goes_to)}",
        "switch": f"switch of {name}",
        "supply": f"supply {name} {end.leg}".rstrip() + (f", fuse {show(end.fuse, 'A')}" if end.fuse else ""),
        "board": f"board {name}, {end.leg}",
        "strip": f"strip {name}" + (f", {end.leg}" if end.leg == "far end" else ""),
    }.get(end.kind, f"{end.kind} {name}")
    if end.count > 1:
        said = f"{end.count} wires: {said}"
    return f'{said}, marked "{text(end.label)}"' if end.label else said


# -- bench


def bench_name(row: BenchRow) -> str:
    """What is tested."""
    if row.kind == "circuit":
        lights = "" if row.lights <= 1 else "both " if row.lights == 2 else f"all {row.lights} "
        return f"circuit '{text(row.name)}', {lights}joined"
    return text(row.name)


def colours(row: BenchRow) -> tuple[str, str]:
    """The colours of the plus and the minus end, in words; empty where nobody said."""
    return text(row.plus_colour, 24), text(row.minus_colour, 24)


def as_at(place: BenchPlace) -> Iterator[str]:
    """The circuits that are tested here as at another place, and so have no row of their own."""
    found: dict[str, list[str]] = {}
    for circuit, before in place.as_at:
        found.setdefault(before, []).append(f"'{text(circuit)}'")
    for before, circuits in found.items():
        yield f"Tested as at '{text(before)}', with all joined: circuit {', '.join(circuits)}."


def as_lead(place: BenchPlace) -> Iterator[str]:
    """The circuits that are, once joined there, tested as the one lead that is joined to them."""
    for circuit, lead in place.as_lead:
        yield f"Circuit '{text(circuit)}', joined, is tested as '{text(lead)}'."


def resistor(row: BenchRow) -> str:
    """Where the resistor sits, seen from this end."""
    each = f"{row.strings} x " if row.strings > 1 else ""
    ohms = f"{each}{show(row.ohms, 'ohm')}, " if row.ohms is not None else ""
    if row.resistor_position == "ahead":
        if row.kind == "circuit":
            return "with the lamps"
        return f"{ohms}in the lead" if row.ohms is not None else "inside the lamp"
    if row.resistor_position == "here":
        return f"{ohms}{'go' if each else 'goes'} here: bare until {'they are' if each else 'it is'} on"
    if row.resistor_position == "behind":
        return f"{ohms}at {text(row.seat, 40)}: this end is bare"
    return "none: this end is bare" if row.resistor_position == "none" else "has none"


def contact_test(row: BenchRow) -> tuple[str, str]:
    """What the full supply does, the right way round: the outcome, and the figures."""
    driven = f"{show(row.contact_amps, 'A')} at {show(row.contact_volts, 'V')}"
    outcome = {
        "lights": "stands it",
        "dark": "stays dark",
        "too much": "too much",
        "destroyed": "destroyed",
        "unknown": "not known",
    }[row.fate]
    return outcome, driven if row.fate not in ("dark", "unknown") else ""


def backwards(row: BenchRow) -> tuple[str, str]:
    """What the full supply does the wrong way round."""
    if row.backwards == "may destroy":
        return "may be destroyed", f"tested to {show(row.stood, 'V')}"
    if row.backwards == "shorts":
        return "a short", "through the motor's diode"
    return {"dark": "stays dark", "the same": "no harm"}.get(row.backwards, "not known"), ""


def setting(row: BenchRow) -> tuple[str, str]:
    """How the bench supply is set, and what it shows then."""
    if row.volts is None or row.limit is None or row.expected is None:
        return "not known", ""
    reads = current(row.expected)
    held = row.held and reads == show(row.limit, "A")
    if row.starting is not None:
        reads += f", {show(row.starting, 'A')} to start"
    steady = "; stands it held on" if row.pulsed else ""
    steady += " while it is lit: it flashes, and a meter shows less" if row.by_itself else ""
    return (
        f"{show(row.volts, 'V')}, limit {show(row.limit, 'A')}",
        f"shows {'the limit' if held else reads}{steady}",
    )


def through(row: BenchRow) -> Iterator[str]:
    """What the full supply drives through a resistor in the bench lead, and through the one that belongs there."""
    if row.through is not None and row.through_expected is not None:
        yield f"{show(row.through, 'ohm')} {row.through_power} or more: {current(row.through_expected)}"
    if row.finished is not None:
        whose = "each string's own" if row.strings > 1 else "its own"
        own = f"{whose} {show(row.ohms, 'ohm')}" if row.ohms is not None else whose
        yield f"{own}: {current(row.finished)}"


def not_worked_out(place: BenchPlace, most: int | None = None) -> Iterator[str]:
    """The leads of a place that have no row, and why; `most` of them by name."""
    if place.unknown:
        names = ", ".join(text(name, 40) for name in place.unknown[:most])
        yield f"Not worked out, for the voltage of their supply is not known, or more than is judged here: {names}."


# -- volts and supply


def circuit_path(given: CircuitPath) -> Iterator[str]:
    """A circuit's way in sentences."""
    if given.alike:
        yield f"The same for each: {', '.join(text(name) for name in (given.circuit, *given.alike))}."
    fraction = f" ({show(given.lost_share, 'share')})" if given.lost_share is not None else ""
    yield f"{show(given.lost, 'V')}{fraction} of {show(given.points[0].volts, 'V')} is lost on the way to '{text(given.lamp)}'."
    if given.takes is not None:
        yield f"The lamp itself takes {show(given.takes, 'V')} at {show(given.current, 'A')}; the rest falls on its lead, and on a resistor that is not inside it."


def path_row(given: CircuitPath) -> tuple[str, str, str, str, str]:
    """A circuit's way as a row: circuit, lamp, volts at its beginning, volts lost, volts that the lamp's dice take."""
    return (
        ", ".join(text(name) for name in (given.circuit, *given.alike)), text(given.lamp), show(given.points[0].volts, "V"),
        show(given.lost, "V"), show(given.takes, "V") if given.takes is not None else "not known",
    )  # fmt: skip


def budget(given: Budget) -> Iterator[str]:
    """A supply's load in sentences."""
    yield f"All on: {show(given.nominal, 'A')}, at most {show(given.highest, 'A')}; over time {show(given.average, 'A')}."
    if given.free is not None:
        most = f"; up to {show(given.most_share, 'share')} may be used" if given.most_share < 1.0 else ""
        yield f"Rated {show(given.rated, 'A')}: {show(given.free, 'share')} free at most load{most}."
    else:
        yield "Its rating is not known."
    if given.fuse is not None:
        yield f"Fuse: {show(given.fuse, 'A')}."
    if given.lasts is not None:
        yield f"It lasts about {show(given.lasts, 's')}."
    if given.coin:
        yield f"{COIN} What holds it opens with a tool only, or by two movements at once."


# -- closing


def long_run(places: tuple[ClosingPlace, ...]) -> Iterator[str]:
    """What is minded when something is left on for hours."""
    hours = max((item.hours or 0.0 for place in places for item in place.items), default=0.0)
    if hours:
        yield f"Before it is left on for {hours:g} h: set the current limit, lay it on a plate that does not burn (a tile, a sheet of steel), and watch over it. Switch it off when you leave the room; the hours add up."


_NEVER = {
    "over its rating": "its current is too high: mend that first",
    "over its volts": "its volts are too high: mend that first",
    "nothing lights": "nothing would light: mend that first",
    "hot wire": "a wire would get too hot: mend that first",
    "burns eyes": "its light burns eyes and skin: mend that first",
    "not judged": "beyond the volts that are judged here: leave it to someone licensed for it",
}


def how_tested(item: ClosingItem) -> str:
    """How a thing is tested before it is closed in."""
    if item.kind in ("run", "plug"):
        return "continuity from end to end"
    if item.why_not in _NEVER:
        return _NEVER[item.why_not]
    if item.volts is None or item.expected is None:
        return "see it work"
    limit = f", limit {show(item.limit, 'A')}" if item.limit is not None else ""
    whose = "each string's own" if item.strings > 1 else "its"
    ohms = f" through {whose} {show(item.ohms, 'ohm')}" if item.ohms is not None else ""
    white = "left on with every pixel white for" if item.white else "left on for"
    on = "minutes only, then as it is lit in the model for" if item.as_lit else white
    hours = f", {on} {item.hours:g}\u00a0h" if item.hours is not None else ""
    return f"{show(item.volts, 'V')}{ohms}{limit}: {current(item.expected)}{hours}"


def what_proves(item: ClosingItem) -> str:
    """What else in the place the test proves."""
    others = [thing for thing in item.proves if thing != (item.kind, item.subject)]
    return f"proves {_by_kind(others, 4)}" if others else ""


def tested_already(item: ClosingItem) -> str:
    """What its latest test record says, and what is still wrong with it."""
    said = [show(item.measured, "A") if item.measured is not None else "proven" if item.done else "", item.on]
    if item.why_not not in ("", "not tested"):
        said.append(f"- {item.why_not}" if any(said) else item.why_not)
    return " ".join(part for part in said if part)


NOTHING_CLOSED = "Nothing in this build is closed for good."
_MOST_CUT = 16


def cut_open(place: ClosingPlace) -> Iterator[str]:
    """What of a place needs cutting to reach."""
    if place.cut:
        yield f"Once closed it needs cutting to reach: {_by_kind(place.cut, _MOST_CUT)}."


def _by_kind(things: Iterable[tuple[str, str]], most: int) -> str:
    """Names behind their kind, so many of each; lamps have names that say what they are."""
    names: dict[str, list[str]] = {}
    for kind, name in things:
        names.setdefault(kind, []).append(text(name, 40))
    return "; ".join(
        f"{'' if kind == 'lamp' else f'{kind} '}{first_few(these, most)}" for kind, these in names.items()
    )


# -- of the whole build


def left_so(sheet: Sheet) -> Iterator[str]:
    """What was found and waived, and the limits that the build changes."""
    for says, reason in sheet.waived:
        yield f"Waived: {text(says, 300)} Reason: {text(reason, 300)}"
    for limit in sheet.limits:
        yield f"Changed limit: {text(limit_change(limit), 600)}"


def asked(sheet: Sheet) -> Iterator[str]:
    """What stands ahead of a sheet: that it is not of the file as it is, and the stops of the build."""
    if sheet.what_if:
        yield f"{what_if_words(sheet.what_if)} It is not what the file says."
    if sheet.stops:
        yield f"This build has {len(sheet.stops)} open {'stop' if len(sheet.stops) == 1 else 'stops'}. The sheet shows it as it is described, not as it should be built."
        for stop in sheet.stops[:3]:
            yield text(stop, 300)
