"""Unmarked leads told apart, in words for the bench and as JSON."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, isfinite

from postcheck.identification import Across, Alike, Fit, Found, Identification, LeadExpected, Setting
from postcheck.plain import enumerated, quoted
from postcheck.renderers.figures import show
from postcheck.renderers.words import counted, folded, safe

__all__ = ["again", "found", "render", "render_json"]

_NAME, _LIGHT, _WHERE = 22, 12, 16
FIRST_RULES = (
    "Unplug the model's own supply, and never use it for this.",
    "Set the current limit first, {limit} or the least that it has; then the volts, with the ends apart. Measure them "
    "before the first lead is touched.",
    "Touch the wire itself, on the lamp's side of a resistor at its end. Read the volts across the lead, see whether it "
    "lights, then turn it round.",
    "Dark both ways is no reason to turn up the volts: prove first that the lead is whole.",
)
_APART = {
    "backwards": "nobody says what it withstands backwards (`reverse`)",
    "little": "it withstands too little backwards",
    "forwards": "it withstands too few volts",
}


def render(identification: Identification, width: int | None = None) -> str:
    """The settings, what each lead reads, how they are told apart; then what the readings tell. Folded to a width."""
    if not identification.expected and identification.marked:
        return _text(list(_all_marked(identification)), width)
    count = (
        f"{counted(len(identification.expected), 'unmarked lead')} at"
        if identification.first is not None
        else "Leads at"
    )
    rows = [f"{count} {identification.place}: {identification.build}", ""]
    rows += _settings(identification)
    rows += _table(identification)
    rows += ["", *_tells_apart(identification)]
    if identification.found or identification.next is not None:
        rows += ["", *_found(identification)]
    return _text(rows, width)


def found(identification: Identification, width: int | None = None) -> str:
    """What the readings tell so far, and what is done next."""
    return _text(list(_found(identification)), width)


def again(why: str, width: int | None = None) -> str:
    """Why a reading is asked again."""
    return _text([f"  {why}"], width)


def _text(rows: list[str], width: int | None) -> str:
    lines: list[str] = []
    for row in map(safe, rows):
        stands = len(row) - len(row.lstrip())
        if width is None or len(row) <= width:
            lines.append(row.rstrip())
        else:
            lines += [" " * stands + line for line in folded(row.strip(), width - stands, 2)]
    return "".join(f"{line}\n" for line in lines)


def _all_marked(identification: Identification) -> Iterator[str]:
    yield f"All leads at {identification.place} are marked, so none has to be measured: {identification.build}"
    yield ""
    yield from _marked(identification)
    yield ""
    yield 'Where a flag is lost, ask as if it were not there: --with \'lamp."NAME".lead.label=""\', or of a strip or load.'


# -- before anything is read


def first_words(setting: Setting) -> str:
    """Setting A in a sentence."""
    return (
        f"Setting A: {show(setting.volts, 'V')}, never above, through {show(setting.ohms, 'ohm')} in the bench lead. "
        "It harms none of them, either way round, whichever it is."
    )


def why_first(setting: Setting) -> str:
    """Why it harms none."""
    said = f"Into a short {show(setting.forward, 'A')} flow at most"
    if isfinite(setting.rated):
        said += f"; {quoted(setting.delicate)} is rated for {show(setting.rated, 'A')}"
    if isfinite(setting.reverse):
        said += f". Backwards {quoted(setting.weakest)} withstands {show(setting.reverse, 'V')}"
    return said + ". That holds for a lead without its resistor, a shorted LED and a broken string too."


def more_words(setting: Setting) -> tuple[str, str]:
    """Setting B in two sentences."""
    return (
        f"Setting B: {show(setting.volts, 'V')} through {show(setting.ohms, 'ohm')}, only for leads that stayed dark both "
        "ways and whose continuity is proven, and only the right way round: plus on the leg that its colour says.",
        f"Backwards it is more than an LED is tested at; the resistor keeps the heat below {show(setting.watts, 'W')}.",
    )


def rules(setting: Setting) -> tuple[str, ...]:
    """What is done at the bench, in order."""
    limit = show(ceil(setting.forward * 1e3 - 1e-9) * 1e-3, "A")
    return tuple(rule.format(limit=limit) for rule in FIRST_RULES)


def apart_words(apart: tuple[tuple[str, str], ...]) -> Iterator[str]:
    """What nothing is put on."""
    for name, why in apart:
        yield f"Put nothing on a lead that may be {quoted(name)}: {_APART[why]}. Find and mark it first."


def _settings(identification: Identification) -> Iterator[str]:
    yield from apart_words(identification.apart)
    if identification.first is None:
        yield "There is no setting that harms none of them: mark them by following each lead to its lamp."
        return
    yield first_words(identification.first)
    yield f"  {why_first(identification.first)}"
    yield from (f"  {rule}" for rule in rules(identification.first))
    if identification.more is not None:
        first, second = more_words(identification.more)
        yield first
        yield f"  {second}"
    elif any(dark(one, identification.first) for one in identification.expected):
        yield "There is no setting B: the colours of the legs do not say which is plus, and backwards it could harm."
    if identification.bin is not None:
        yield (
            f"Taken for granted: the LEDs of a kind are of one bin, {show(identification.bin, 'V')} wide, about the typical volts of "
            "their data sheets. Measure a known one of each kind first."
        )
    yield ""


def dark(one: LeadExpected, first: Setting) -> bool:
    """Whether it stays dark at setting A with usual parts."""
    return one.first.usual >= first.volts - 1e-4 * first.ohms and one.turned.usual >= first.volts * 0.99


def reads(at: Across) -> str:
    """A reading with its band, but of a lead through which nothing flows: that shows what the supply is set to."""
    if at.most - at.least < 0.02 or at.most - at.usual < 0.005:
        return f"{at.usual:.2f} V"
    return f"{at.usual:.2f} V ({at.least:.2f} to {at.most:.2f})"


def _table(identification: Identification) -> Iterator[str]:
    if not identification.expected or identification.first is None:
        return
    rows = [("lead", "reads at A", "turned", "light", "where")]
    for one in identification.expected:
        rows.append(
            (
                _cut(one.name, _NAME), reads(one.first), f"{one.turned.usual:.2f} V",
                _cut(", ".join(one.colours), _LIGHT), _cut(", ".join(one.places), _WHERE),
            )
        )  # fmt: skip
        if one.more is not None:
            rows.append(("", f"at B {reads(one.more)}", "", "", ""))
    wide = [max(len(row[at]) for row in rows) for at in range(5)]
    for row in rows:
        yield "  " + "  ".join(cell.ljust(size) for cell, size in zip(row, wide, strict=True)).rstrip()


def _cut(text: str, most: int) -> str:
    return text if len(text) <= most else f"{text[: most - 3]}..."


def _tells_apart(identification: Identification) -> Iterator[str]:
    yield from told_apart_words(identification)
    yield from _marked(identification)


def _marked(identification: Identification) -> Iterator[str]:
    for name, label in identification.marked:
        yield f"{quoted(name)} is marked {quoted(label)}."


def told_apart_words(identification: Identification) -> Iterator[str]:
    """How many are told apart by what, and which are alike."""
    pairs = identification.told
    if pairs.pairs:
        yield (
            f"Of {counted(pairs.pairs, 'pair')} of leads {pairs.volts} are told apart by the meter alone, {pairs.colour} with "
            f"the colour seen, {pairs.place} with where it lights."
        )
    yield from map(_alike, identification.alike)


def _alike(group: Alike) -> str:
    names = _names(group.names)
    if group.place:
        return f"{names} are the same lamp: only where it lights tells them apart."
    return f"{names} are the same lamp, and not even where it lights tells all of them apart: look for the lamp itself."


def _names(names: tuple[str, ...], joined: str = "and") -> str:
    return enumerated([*map(quoted, names)], joined, most=5)


# -- what was read


def _found(identification: Identification) -> Iterator[str]:
    for one in identification.found:
        yield f"{quoted(one.lead)} ({one.reading}): {_says(identification, one)}"
    if identification.found:
        if identification.done:
            yield "All are told apart. Mark each lead now."
        elif identification.faults:
            yield f"{counted(identification.faults, 'fault')} at least; a name is sure if it holds with one more."
    if identification.next is not None:
        yield f"Next: {_next(identification)}"
    elif identification.found and not identification.done:
        yield "Next: no reading tells more. Follow the leads that are left to their lamps by hand."


def _says(identification: Identification, one: Found) -> str:
    if one.known:
        return f"taken for {quoted(one.left[0])}" + _fault(one)
    if one.lead in identification.unexplained:
        return "none of the leads that end here reads that. Read it again; then look for a joint to another lead."
    head = (
        f"is {quoted(one.left[0])}, sure"
        if one.sure
        else f"{_names(one.left, 'or')}"
        if len(one.left) < len(identification.expected)
        else "may be any of them"
    )
    return head + _fault(one)


def _fault(one: Found) -> str:
    if one.dark and not one.faulty:
        return ". Dark both ways: too many LEDs for setting A, or broken. Leave the volts as they are"
    if not one.faulty:
        return ""
    ways = list(dict.fromkeys(_wrong(fit) for fit in one.fits))
    words = ". Fault: " + ", or ".join(ways)
    return words + (". Leave the volts as they are" if one.dark else "")


def _wrong(fit: Fit) -> str:
    wrong = {
        "sound": "", "no resistor": "its resistor is missing", "shorted": "an LED in it is shorted, or its legs touch",
        "open": "it is broken: a leg, a joint or an LED",
    }[fit.condition]  # fmt: skip
    return " and ".join(part for part in (wrong, "its legs are swapped" if fit.swapped else "") if part)


def _next(identification: Identification) -> str:
    step = identification.next
    assert step is not None
    lead = f" {quoted(step.lead)}" if step.lead else " a lead that was not read yet"
    more = (
        f"{show(identification.more.volts, 'V')} through {show(identification.more.ohms, 'ohm')}"
        if identification.more is not None
        else ""
    )
    return {
        "volts": f"read{lead} at setting A.",
        "turn": f"turn{lead} round at setting A; type what it reads then behind a slash, as in {step.lead}: / 5.",
        "colour": f"see in what colour{lead} lights.",
        "place": f"see where{lead} lights.",
        "whole": f"prove that{lead} is whole, each leg from end to end up to its lamp; then type whole.",
        "more volts": f"read{lead} at setting B, {more}, the right way round.",
    }[step.step]


# -- for other programs


def render_json(identification: Identification, version: str) -> str:
    """The whole as JSON text in ASCII that ends in a line break: SI numbers, null for what has no bound."""
    from postcheck.renderers.json_text import json_text, plain  # noqa: PLC0415 - only where it is asked for

    whole = plain(identification)
    whole["apart"] = [{"name": name, "why": why} for name, why in identification.apart]
    whole["marked"] = [{"name": name, "label": label} for name, label in identification.marked]
    for row, one in zip(whole["found"], identification.found, strict=True):
        row["faulty"] = one.faulty
    return json_text(version, **whole, done=identification.done)
