"""The sentences of a sheet, for a page and for a build log alike."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi

from postcheck.faces.figures import show
from postcheck.faces.words import safe
from postcheck.sheet import (
    BenchRow,
    Budget,
    ClientCard,
    ClientSupply,
    HubEnd,
    Sheet,
    Span,
    Way,
)

__all__ = [
    "ACCESS",
    "BENCH_RULES",
    "COLOUR_RULE",
    "GUARDS",
    "HEADINGS",
    "asked",
    "backwards",
    "bench_name",
    "budget",
    "cautions",
    "colours",
    "current",
    "do_not",
    "finished",
    "hub_name",
    "plugs_in",
    "resistor",
    "setting",
    "text",
    "through",
    "touch",
    "verdict",
    "way",
]

HEADINGS = {
    "hub": "Hub map",
    "bench": "Bench card",
    "post": "Post and passages",
    "volts": "Voltage on the way",
    "supply": "Supply budget",
    "closing": "Before it is closed",
    "client": "About your model",
}
ACCESS = {"open": "open", "cover": "behind a cover", "sealed": "sealed for good"}
COLOUR_RULE = "Letters on the wires are those of IEC 60757: BK black, BN brown, RD red, OG orange, YE yellow, GN green, BU blue, VT violet, GY grey, WH white, PK pink, TQ turquoise."
BENCH_RULES = (
    "Set volts and limit before the lead is touched: leave the ends apart for the volts, then short the supply's own leads and turn the limit up.",
    "Where a resistor is named under \"or with the full supply\", solder it into the bench lead: then a slip does no harm.",
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


def text(name: str, most: int = _NAME) -> str:
    """A name of the file, made harmless."""
    return safe(name, most)


def verdict(sheet: Sheet) -> str:
    """How the build was judged on the day of the sheet."""
    return f"judged {sheet.today} for {sheet.stage}: {_VERDICTS[sheet.verdict]}"


def current(span: Span) -> str:
    """A current as the meter may show it."""
    low, high = show(span.least, "A"), show(span.most, "A")
    if low == high:
        return low
    number, unit = low.rsplit(" ", 1)
    return f"{number if unit == high.rsplit(' ', 1)[-1] else low} to {high}"


# -- hub


def hub_name(end: HubEnd) -> str:
    """Which conductor it is and where it goes."""
    name = text(end.name)
    said = {
        "run": f"{name}, from {text(end.goes_to)}",
        "lead": f"{name} ({text(end.goes_to)})" if end.goes_to else name,
        "lamp": f"{name}, soldered here",
        "plug": f"plug {name}, {end.leg}",
        "supply": f"supply {name} {end.leg}".rstrip(),
        "board": f"board {name}",
        "strip": f"strip {name}" + (f", {end.leg}" if end.leg == "far end" else ""),
    }.get(end.kind, f"{end.kind} {name}")
    if end.count > 1:
        said = f"{end.count} x {said}"
    return f'{said}, marked "{text(end.label)}"' if end.label else said


# -- bench


def bench_name(row: BenchRow) -> str:
    """What is tested."""
    if row.kind == "circuit":
        return f"all of '{text(row.name)}' ({row.lights} {'thing' if row.lights == 1 else 'things'})"
    return text(row.name)


def colours(row: BenchRow) -> tuple[str, str]:
    """The colours of the plus and the minus end, in words; empty where nobody said."""
    return text(row.plus_colour, 24), text(row.minus_colour, 24)


GUARDS = {"ahead": "in the way", "here": "at this end", "behind": "elsewhere", "none": "none"}


def resistor(row: BenchRow) -> str:
    """Where the resistor sits, seen from this end."""
    ohms = f"{show(row.ohms, 'ohm')} " if row.ohms is not None else ""
    if row.guard == "ahead":
        return f"{ohms}in the lead" if row.kind != "circuit" else "with the lamps"
    if row.guard == "here":
        return f"{ohms}at this end: bare until it is on"
    if row.guard == "behind":
        return f"{ohms}at {text(row.seat, 40)}: THIS END IS BARE"
    return "none: THIS END IS BARE" if row.guard == "none" else "has none"


def touch(row: BenchRow) -> str:
    """What the full supply does, the right way round."""
    amps = show(row.touch_amps, "A")
    return {
        "lights": f"stands it: up to {amps}" if row.kind != "load" else f"as in use: up to {amps}",
        "dark": "stays dark",
        "too much": f"TOO MUCH: up to {amps}",
        "destroyed": f"DESTROYED: up to {amps}",
        "unknown": "not known",
    }[row.fate]


def backwards(row: BenchRow) -> str:
    """What the full supply does the wrong way round."""
    if row.backwards == "may destroy":
        return f"wrong way round: MAY BE DESTROYED, tested to {show(row.stood, 'V')}"
    return "wrong way round: " + {
        "dark": "stays dark",
        "the same": "no harm",
        "unknown": "not known",
    }.get(row.backwards, "not known")


def setting(row: BenchRow) -> str:
    """How the bench supply is set, and what to expect then."""
    if row.volts is None or row.limit is None or row.expected is None:
        return "not known"
    set_to = f"{show(row.volts, 'V')}, limit {show(row.limit, 'A')}"
    if not row.held:
        return f"{set_to}: {current(row.expected)}"
    reads = current(row.expected)
    return f"{set_to}: {reads}, held by the limit" if reads == show(row.limit, "A") else f"{set_to}: {reads}"


def through(row: BenchRow) -> str:
    """The full supply through a resistor in the bench lead."""
    if row.through is None or row.through_expected is None:
        return ""
    return (
        f"{show(row.supply_volts, 'V')} through {show(row.through, 'ohm')}: {current(row.through_expected)}"
    )


def finished(row: BenchRow) -> str:
    """What flows once its resistor is in."""
    if row.finished is None:
        return ""
    return f"with its resistor, {show(row.supply_volts, 'V')}: {current(row.finished)}"


# -- volts and supply


def way(given: Way) -> Iterator[str]:
    """A circuit's way in sentences."""
    first, last = given.points[0], given.points[-1]
    lost = first.volts - last.volts
    yield (
        f"{show(first.volts, 'V')} at the supply, {show(last.volts, 'V')} at '{text(given.lamp)}': {show(lost, 'V')} ({show(lost / first.volts, 'share')}) is lost on the way."
        if first.volts > 0.0
        else ""
    )
    if given.takes is not None:
        yield f"Its dice take {show(given.takes, 'V')}, and its resistor, if it has one, the rest, at {show(given.current, 'A')}."


def budget(given: Budget) -> Iterator[str]:
    """A supply's load in sentences."""
    yield f"All on: {show(given.nominal, 'A')}, at most {show(given.highest, 'A')}; over time {show(given.average, 'A')}."
    if given.rated:
        free = 1.0 - given.highest / given.rated
        yield f"Rated {show(given.rated, 'A')}: {show(max(free, 0.0), 'share')} free at most load; {show(1.0 - given.room, 'share')} is wanted."
    else:
        yield "Its rating is not known."
    if given.fuse is not None:
        yield f"Fuse: {show(given.fuse, 'A')}."
    if given.lasts is not None:
        yield f"It lasts about {show(given.lasts, 's')}."


# -- client


def plugs_in(supply: ClientSupply) -> str:
    """What belongs into the model's socket or holder."""
    where = f", at {text(supply.place, 60)}"
    if supply.kind == "battery":
        cells = f"{supply.cells} x " if supply.cells > 1 else ""
        kind = " ".join(word for word in (text(supply.size, 20).upper(), text(supply.chemistry, 30)) if word)
        lasts = f"; it lasts about {show(supply.lasts, 's')} of light" if supply.lasts is not None else ""
        return f"Battery: {cells}{kind or 'cells'}, {show(supply.volts, 'V')}{where}{lasts}."
    kind = {"usb": "USB supply", "adaptor": "plug-in supply"}.get(supply.kind, supply.kind)
    rated = f", {show(supply.rated, 'A')} or more" if supply.rated is not None else ""
    socket = f", socket {text(supply.socket, 40)}" if supply.socket else ""
    return f"A {kind} of {show(supply.volts, 'V')} direct current{rated}{socket}{where}."


def do_not(card: ClientCard) -> Iterator[str]:
    """What the client must not do."""
    for supply in card.supplies:
        if supply.kind == "adaptor":
            yield f"Do not plug in a supply of more than {show(supply.volts, 'V')}, nor one with alternating current: the lamps would be destroyed, and they cannot be replaced."
        elif supply.kind == "battery":
            yield "Do not put cells in the wrong way round, and do not mix old and new ones."
    for passage in card.passages:
        name = "the model on its post" if passage.name == "post" else f"'{text(passage.name, 60)}'"
        if passage.turn is None:
            yield f"Do not turn {name}: wires run through it."
        else:
            way = "it stops by itself" if passage.stop else "nothing stops it"
            yield f"Do not turn {name} further than {passage.turn * 180.0 / pi:.0f} degrees each way; {way}."
    if any(place.access == "sealed" for place in card.places):
        yield "Do not open what is glued: its lamps are meant to last as they are."


def cautions(card: ClientCard) -> Iterator[str]:
    """The usual cautions, and those of this model."""
    yield f"For dry rooms of {card.air[0]:.0f} to {card.air[1]:.0f} degC. Keep it out of the sun; unplug it when nobody watches over it, and before anyone works on it."
    if card.hottest is not None and card.hottest > card.air[1]:
        yield f"It warms itself: up to {card.hottest:.0f} degC inside on the warmest day. Do not cover it."
    if any(supply.kind == "adaptor" for supply in card.supplies):
        yield "Use a plug-in supply that is approved for your country. Repairs to anything on the mains belong in licensed hands, by local rules."
    if any(supply.lithium for supply in card.supplies):
        yield "Lithium cells can burn: charge them with the charger made for them, on something that does not burn, and never when they are swollen or hurt."
    fast = [rate for _, rate in card.flashes if rate is not None and rate > 3.0]
    if fast:
        yield f"Its lights flash up to {max(fast):.0f} times a second: this can trigger a seizure in people with photosensitive epilepsy."
    elif card.flashes:
        yield "Some of its lights flash; warn visitors who are sensitive to that."


def asked(sheet: Sheet) -> Iterator[str]:
    """What stands on the sheet where the build has stops."""
    if sheet.stops:
        yield f"This build has {len(sheet.stops)} open {'stop' if len(sheet.stops) == 1 else 'stops'}. The sheet shows it as it is described, not as it should be built."
        for stop in sheet.stops[:3]:
            yield text(stop, 300)
