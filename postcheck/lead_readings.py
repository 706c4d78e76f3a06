"""Readings of leads at the bench as they are typed: `lead 1: 2.07, lead 2: 4.99 / dark whole, lead 3: 2.76 white in nose`."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

from postcheck.plain import nearest, quoted

__all__ = ["LeadReading", "ReadingError", "Way", "read"]

DARK = frozenset({"dark", "none", "nothing"})
LIT = frozenset({"lit", "lights", "on"})
WHOLE = frozenset({"whole"})
# What meters show beyond their range.
_OVERLOAD = frozenset({"ol", "o.l", "overload"})
# what may be typed at once, and read
MOST = 20_000
_VOLTS = re.compile(r"(?P<number>[0-9]+(?:\.[0-9]*)?|\.[0-9]+) ?(?:(?P<unit>mV|V|v|volts?)(?![^\W_]))?")
_SEPARATORS = re.compile(r"[,;\n]")
# A comma within a number: none of three digits behind it, which may be thousands; and no name of a next lead follows.
_COMMA = re.compile(r"(?<![0-9.,])([0-9]+),([0-9]+)(?![0-9.])(?![^,;\n:]*:)(?![^,;\n]* is )")
_MINUS = re.compile(r"[-\u2212] ?\.?[0-9]")
_HIGHEST = 60.0
# A meter of two thousand counts shows hundredths where these volts are read.
_DIGIT = 0.01


class ReadingError(ValueError):
    """A reading that cannot be taken, with how it is written instead."""


@dataclass(frozen=True, slots=True)
class Way:
    """What was read one way round: volts, and what was seen: a colour, "lit", "dark" or nothing. `digit`: the last one typed, V."""

    volts: float | None = None
    seen: str = ""
    digit: float = _DIGIT

    @property
    def said(self) -> bool:
        """Whether anything was."""
        return self.volts is not None or bool(self.seen)


@dataclass(frozen=True, slots=True)
class LeadReading:
    """All that was read of a lead. `turned`: the other way round; `more`: at setting B; `whole`: its continuity is proven.

    `more_digit`: the last digit of that, V. `place`: where it lights; `known`: the lead of the file that it is. `text`: as it
    was typed.
    """

    lead: str
    first: Way = Way()
    turned: Way = Way()
    more: float | None = None
    more_digit: float = _DIGIT
    whole: bool = False
    place: str = ""
    known: str = ""
    text: str = ""

    @property
    def ways(self) -> tuple[tuple[Way, Way], ...]:
        """What it may say of both ways round: where only one has a light, that may be of either, wherever it was typed."""
        one, other = self.first, self.turned
        seen = one.seen or other.seen
        if not (one.said and other.said) or (one.seen and other.seen) or seen in ("", "dark"):
            return ((one, other),)
        return (
            (replace(one, seen=seen), replace(other, seen="")),
            (replace(one, seen=""), replace(other, seen=seen)),
        )


def read(
    readings: str | Mapping[str, str],
    *,
    colours: Collection[str],
    places: Collection[str],
    leads: Collection[str],
) -> tuple[LeadReading, ...]:
    """The readings of a text, in the order in which the leads are first named; ReadingError where one cannot be taken.

    LEAD: VOLTS [COLOUR or dark] [/ the same, turned round] [whole] [B VOLTS] [in PLACE], or LEAD is NAME; a comma, a
    semicolon or a new line parts them. What names no lead goes with the one before; `again` forgets what was read of it.
    `leads`: those of the file. A decimal comma is taken as in `postcheck record`: where it can be nothing else.
    """
    words = _Words(colours, places, leads)
    if not isinstance(readings, str):
        readings = "\n".join(f"{lead}: {said}" for lead, said in readings.items())
    if len(readings) > MOST:
        raise ReadingError(f"readings may have {MOST} letters, not {len(readings)}")
    found: dict[str, LeadReading] = {}
    last = ""
    readings = "\n".join(line.partition("#")[0] for line in readings.split("\n"))
    for piece in _SEPARATORS.split(_COMMA.sub(_point, readings)):
        text = " ".join(piece.split())
        if not text:
            continue
        lead, said = _parted(text)
        if lead:
            last = lead
        elif not last:
            raise ReadingError(f"{quoted(text)} names no lead; write it as in 'lead 1: 2.07'")
        key = last.casefold().removeprefix("lead ").strip()  # "lead 1" and "1" are one
        before = found.get(key, LeadReading(last))
        if said.casefold().split()[:1] == ["again"]:
            before, said = LeadReading(before.lead), said[5:].strip()
        after = words.of(before, said)
        found[key] = replace(after, text=f"{before.text}, {said}" if before.text else said)
    return tuple(found.values())


def _parted(text: str) -> tuple[str, str]:
    """The lead and what is said of it."""
    lead, colon, said = text.partition(":")
    if colon:
        return lead.strip(), said.strip()
    lead, is_, name = text.partition(" is ")
    return (lead.strip(), f"is {name.strip()}") if is_ else ("", text)


class _Words:
    def __init__(self, colours: Collection[str], places: Collection[str], leads: Collection[str]) -> None:
        self.colours = {_plain(colour): colour for colour in colours if colour}
        self.places = {place.casefold(): place for place in places}
        self.leads = {lead.casefold(): lead for lead in leads}

    def of(self, before: LeadReading, said: str) -> LeadReading:
        if said.casefold().startswith("is "):
            return replace(before, known=self._known(said[3:].strip()))
        one, slash, other = said.partition("/")
        after, first = self._way(before, one)
        if first.said:
            if slash or not before.first.said:
                after = replace(after, first=first)
            elif first.volts is None and before.first.seen in ("", "lit"):
                after = replace(after, first=replace(before.first, seen=first.seen))
            elif first.volts is None and before.turned.said and before.turned.seen in ("", "lit"):
                after = replace(after, turned=replace(before.turned, seen=first.seen))
            else:
                raise ReadingError(
                    f"{quoted(before.lead)} was read already: put what it reads turned round behind a slash, as in 2.07 / 4.99"
                )
        if slash:
            after, turned = self._way(after, other)
            if not turned.said:
                raise ReadingError(
                    f"behind the slash of {quoted(before.lead)} stands nothing; write volts or dark"
                )
            after = replace(after, turned=turned)
        return after

    def _way(self, lead: LeadReading, text: str) -> tuple[LeadReading, Way]:
        found = Way()
        rest = text.strip()
        while rest:
            low = rest.casefold()
            word = low.split()[0]
            if volts := _VOLTS.match(rest):
                if found.volts is not None:
                    raise ReadingError(
                        f"{quoted(lead.lead)}: {quoted(text)} has two readings; put a slash between one way round and the "
                        "other, as in 2.07 / 4.99"
                    )
                found = replace(found, volts=_volts(volts, lead.lead), digit=_digit(volts))
                rest = rest[volts.end() :].strip()
            elif low.startswith("b") and (volts := _VOLTS.match(rest[1:].lstrip())):
                lead = replace(lead, more=_volts(volts, lead.lead), more_digit=_digit(volts))
                rest = rest[1:].lstrip()[volts.end() :].strip()
            elif word in WHOLE:
                lead, rest = replace(lead, whole=True), rest[len(word) :].strip()
            elif word in ("in", "at") and (place := _first(self.places, low[2:].lstrip())):
                lead = replace(lead, place=self.places[place])
                rest = rest[2:].lstrip()[len(place) :].strip()
            elif word in DARK or word in LIT:
                found = self._seen(lead, found, "dark" if word in DARK else "lit")
                rest = rest[len(word) :].strip()
            elif colour := _first(self.colours, _plain(low)):
                found = self._seen(lead, found, self.colours[colour])
                rest = rest[len(colour) :].strip()
            else:
                raise ReadingError(self._unknown(lead.lead, rest, word))
        return lead, found

    @staticmethod
    def _seen(lead: LeadReading, found: Way, seen: str) -> Way:
        if found.seen in ("", "lit", seen) or (seen == "lit" and found.seen != "dark"):
            return found if seen == "lit" and found.seen else replace(found, seen=seen)
        raise ReadingError(
            f"{quoted(lead.lead)}: {found.seen} and {seen} are not seen at once; put a slash between one way round and the other"
        )

    def _unknown(self, lead: str, rest: str, word: str) -> str:
        if word in ("in", "at"):
            near = nearest(rest.split(None, 1)[-1], list(self.places.values()))
            hint = f"; did you mean {quoted(near)}?" if near else ""
            return (
                f"{quoted(lead)}: no lamp of these leads sits {word} {quoted(rest.split(None, 1)[-1])}{hint}"
            )
        if _MINUS.match(word):
            return f"{quoted(lead)}: a minus says only that the meter's probes are the other way round; type the volts without it"
        if word in _OVERLOAD:
            return (
                f"{quoted(lead)}: {rest.split(maxsplit=1)[0]} is no volts: the meter is set to ohms or diodes, or its range is too "
                "small. Set it to 20 V DC, and read again"
            )
        if place := _first(self.places, rest.casefold()):
            return f"{quoted(lead)}: if it lights there, write in {self.places[place]}"
        near = nearest(word, [*self.colours, *DARK, *LIT, *WHOLE])
        hint = f"did you mean {quoted(near)}?" if near else "write volts, a colour, dark, whole, or in PLACE"
        return f"{quoted(lead)}: {quoted(rest)} is no reading; {hint}"

    def _known(self, name: str) -> str:
        found = self.leads.get(name.strip("'\"").casefold())
        if found is None:
            near = nearest(name, list(self.leads.values()))
            hint = f"; did you mean {quoted(near)}?" if near else ""
            raise ReadingError(f"no unmarked lead that ends here is called {quoted(name)}{hint}")
        return found


def _volts(match: re.Match[str], lead: str) -> float:
    volts = float(match["number"]) * (1e-3 if match["unit"] == "mV" else 1.0)
    if volts > _HIGHEST:
        raise ReadingError(
            f"{quoted(lead)} cannot read {quoted(match[0].strip())}: write volts, as in 2.07 or 2070 mV"
        )
    return volts


def _digit(match: re.Match[str]) -> float:
    """The last digit that was typed, V, and no finer than a meter shows; of a whole number the unit itself."""
    step: float = 10.0 ** -len(match["number"].partition(".")[2]) * (1e-3 if match["unit"] == "mV" else 1.0)
    return max(step, _DIGIT)


def _point(match: re.Match[str]) -> str:
    """A decimal comma as a point."""
    before, after = match[1], match[2]
    if len(after) == 3 and before.strip("0"):
        raise ReadingError(
            f"{quoted(match[0])} has a comma in the number; write {quoted(f'{before}.{after}')} or {quoted(before + after)}, whichever is meant"
        )
    return f"{before}.{after}"


def _plain(text: str) -> str:
    return text.casefold().replace("-", " ")


def _first(known: Collection[str], text: str) -> str:
    """The longest of the known words with which a text begins."""
    begins = (one for one in known if text.startswith(one) and not text[len(one) : len(one) + 1].isalnum())
    return max(begins, key=len, default="")
