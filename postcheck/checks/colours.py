"""Colours of wires: ends at one place that cannot be told apart, and one colour on both sides."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations
from typing import NamedTuple

from postcheck.checks.fact import limited
from postcheck.checks.record import Check
from postcheck.checks.shown import count_of, listed
from postcheck.colours import COLOURS, letters, misspelt, spelt
from postcheck.plain import harmless, quoted
from postcheck.report import Figure, Finding, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.bench.ends import ConductorEnd

__all__ = ["CHECKS"]

_PRACTICE = "common practice: flag both ends of whatever looks like its neighbour"


class _Look(NamedTuple):
    """What a hand sees of an end: the colour in one spelling, the wire, the sheath it comes out of."""

    colour: str
    wire: str
    cable: str


def _owner(end: ConductorEnd) -> tuple[str, str]:
    return end.kind, end.name


def _by_place(survey: Survey) -> Iterator[tuple[str, dict[_Look, list[ConductorEnd]]]]:
    """The ends that something is to be joined to, by place and look; nobody joins anything in what is being sealed."""
    places: dict[str, dict[_Look, list[ConductorEnd]]] = {}
    for end in survey.ends:
        place = survey.build.place.get(end.place)
        shut = end.place in survey.closing and place is not None and place.access == "sealed"
        if end.line and end.colour and end.wire and not shut:
            look = _Look(spelt(end.colour), end.wire, end.cable)
            places.setdefault(end.place, {}).setdefault(look, []).append(end)
    yield from places.items()


def _lines(ends: Iterable[ConductorEnd]) -> dict[tuple[str, str], frozenset[str]]:
    """The lines of each owner among some ends."""
    lines: dict[tuple[str, str], set[str]] = {}
    for end in ends:
        lines.setdefault(_owner(end), set()).add(end.line)
    return {owner: frozenset(of) for owner, of in lines.items()}


def _by_label(ends: Iterable[ConductorEnd]) -> Iterator[list[ConductorEnd]]:
    """Ends with the same flag, or with none: a flag tells them from all others."""
    flags: dict[str, list[ConductorEnd]] = {}
    for end in ends:
        flags.setdefault(end.label.casefold(), []).append(end)
    yield from flags.values()


# -- one colour, one wire, several lines


class _Clash(NamedTuple):
    """Ends that look the same and are to go to different lines."""

    look: _Look
    ends: tuple[ConductorEnd, ...]
    owners: frozenset[tuple[str, str]]

    @property
    def poles(self) -> set[bool | None]:
        return {end.positive for end in self.ends}


def _clashes(looks: dict[_Look, list[ConductorEnd]]) -> list[_Clash]:
    """Of one lead alone both legs may look the same: that is another matter, and all leads of the same lines share it."""
    found = [
        _Clash(look, tuple(ends), frozenset(map(_owner, ends)))
        for look, all_ends in looks.items()
        for ends in _by_label(all_ends)
        if len(set(_lines(ends).values())) > 1
    ]
    return sorted(found, key=lambda clash: (len(clash.poles) == 1, -len(clash.ends)))


def _alike(survey: Survey) -> Iterator[Finding | NotJudged]:
    places = {place: clashes for place, looks in _by_place(survey) if (clashes := _clashes(looks))}
    heaviest = sorted(places, key=lambda place: -sum(len(clash.ends) for clash in places[place]))
    told: dict[str, list[str]] = {}  # the same conductors may run into the same fault at their other ends
    for place in heaviest:
        first = next((other for other in told if _covers(places[other], places[place])), None)
        if first is None:
            told[place] = []
        else:
            told[first].append(place)
    for place, others in told.items():
        yield _alike_at(survey, place, places[place], others)


def _covers(clashes: Sequence[_Clash], others: Sequence[_Clash]) -> bool:
    return all(
        any(clash.look == other.look and other.owners <= clash.owners for clash in clashes)
        for other in others
    )


def _alike_at(survey: Survey, place: str, clashes: Sequence[_Clash], others: Sequence[str]) -> Finding:
    worst, *more = clashes
    by_line: dict[str, list[ConductorEnd]] = {}
    for end in worst.ends:
        by_line.setdefault(end.line, []).append(end)
    shown = ", ".join(
        f"{listed([end.name for end in ends], 1)} to {quoted(line)}"
        for line, ends in list(by_line.items())[:3]
    )
    rest = f" and {len(by_line) - 3} more" if len(by_line) > 3 else ""
    also = f" The same holds for {_several([_name(clash.ends[0]) for clash in more])}." if more else ""
    there = f" So it is at {listed(others)}." if others else ""
    fewest = min(by_line.values(), key=len)[0]
    poles_only = all(map(_two_poles, clashes))
    return Finding(
        "ends.alike", "caution", Subject("place", place),
        f"at {quoted(place)} {count_of(len(worst.ends), 'end')} of {_name(worst.ends[0])} {harmless(worst.look.wire, 40)} go to different lines, and nothing tells them apart: {shown}{rest}.{also}{there}",
        _what_then(survey, clashes),
        fewest.path,
        remedy=f"Flag those of all lines but one and write it in (label = \"...\"), or give {quoted(fewest.line)} another colour.",
        figures={"ends": Figure(float(sum(len(clash.ends) for clash in clashes)), "")},
        because_of=f"colour.both-poles:{_name(worst.ends[0])}" if poles_only else None,
    )  # fmt: skip


def _two_poles(clash: _Clash) -> bool:
    """Whether it is only that one colour is on both sides: one line on each."""
    return sorted(str(positive) for _, positive in {(end.line, end.positive) for end in clash.ends}) == [
        "False",
        "True",
    ]


def _what_then(survey: Survey, clashes: Sequence[_Clash]) -> str:
    if any({True, False} <= clash.poles for clash in clashes):
        return "Taken for each other they put a lamp the wrong way round, or short a supply."
    circuits = survey.build.circuit
    lines = {end.line for clash in clashes for end in clash.ends}
    if any(None in clash.poles for clash in clashes):
        return "Taken for each other they put the supply's voltage on what carries signals."
    if not lines & set(circuits):
        return "Taken for each other, currents come back by the wrong way, or by none."
    if len({circuits[line].behaviour == "flash" for line in lines if line in circuits}) > 1:
        return "Taken for each other, what should shine steadily flashes, and it shows when all is closed."
    return "Taken for each other, lamps are switched with the wrong ones, and it shows when all is closed."


# -- both legs of a lead


def _same_legs(survey: Survey) -> Iterator[Finding | NotJudged]:
    either_way = {
        ("lamp", lamp.entry) for lamp in survey.parts.lamps if lamp.dice and lamp.dice[0].kind == "filament"
    }
    for place, looks in _by_place(survey):
        found: dict[tuple[str, str], ConductorEnd] = {}
        for ends in looks.values():
            for same in _by_label(ends):
                mixed = {owner for owner, lines in _lines(same).items() if len(lines) > 1} - either_way
                for end in same:
                    if _owner(end) in mixed:
                        found.setdefault(_owner(end), end)
        if not found:
            continue
        first, names = next(iter(found.values())), [name for _, name in found]
        yield Finding(
            "lead.same-legs", "caution", Subject("place", place),
            f"the legs of {listed(names)} are both {_name(first)} at {quoted(place)}: nothing says which of them feeds."
            if len(found) == 1
            else f"at {quoted(place)} the legs of {listed(names)} look the same: nothing says which of them feeds.",
            "An LED the wrong way round stays dark, and dies above its reverse voltage; electronics die sooner.",
            first.path,
            remedy="Put a band or a flag on the feed leg and write it in: a colour of its own (\"red banded/red\"), or lead = { feed = { label = \"+\" } }.",
            figures={"leads": Figure(float(len(found)), "")},
        )  # fmt: skip


# -- colours too alike in poor light


def _to_choose(one: ConductorEnd, other: ConductorEnd) -> bool:
    """Whether a hand has to tell two ends apart, and no flag does it."""
    return one.line != other.line and one.label.casefold() == other.label.casefold()


def _kinds(ends: Iterable[ConductorEnd]) -> list[ConductorEnd]:
    """The first end of each line and flag: of a hundred on one line all choices are the same."""
    kinds: dict[tuple[str, str], ConductorEnd] = {}
    for end in ends:
        kinds.setdefault((end.line, end.label), end)
    return list(kinds.values())


def _poor_light(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["colour.poor-light"]
    for place, looks in _by_place(survey):
        plain = [(look, _kinds(ends)) for look, ends in looks.items() if look.colour in COLOURS]
        pairs: list[tuple[float, ConductorEnd, ConductorEnd]] = []
        for (look, ends), (other, others) in combinations(plain, 2):
            if (look.wire, look.cable) != (other.wire, other.cable):
                continue
            apart = survey.poor_light.get((look.colour, other.colour))
            two = next(((a, b) for a in ends for b in others if _to_choose(a, b)), None)
            if apart is not None and apart < limit.value and two is not None:
                pairs.append((apart, *two))
        if not pairs:
            continue
        pairs.sort(key=lambda row: row[0])
        apart, one, other_end = pairs[0]
        more = [f"{_name(a)} and {_name(b)}" for _, a, b in pairs[1:]]
        yield Finding(
            "ends.poor-light", "note", Subject("place", place),
            f"at {quoted(place)} {_name(one)} ({_called(one)}) and {_name(other_end)} ({_called(other_end)}) go to different lines and look much alike in poor light."
            + (f" So do {_several(more)}." if more else ""),
            "Under a warm lamp and in a thin wire little is left of a colour but dark and light.",
            one.path,
            remedy="Join them in daylight, or flag one of them and write it in (label).",
            figures={"difference": Figure(apart, "")},
            limit=limited(limit),
        )  # fmt: skip


# -- one colour on both sides


def _channels(survey: Survey) -> dict[str, set[str]]:
    """The colours of light of colour lamps and strips switched in the negative: a red wire there names the channel."""
    found: dict[str, set[str]] = {}
    dice = [(lamp.circuit, lamp.dice) for lamp in survey.parts.lamps if lamp.colour]
    dice += [(strip.circuit, chain) for strip in survey.parts.strips for chain, _ in strip.chains]
    for circuit, of in dice:
        if survey.build.circuit[circuit].switched == "negative":
            found.setdefault(circuit, set()).update(letters(die.colour) for die in of)
    return found


def _both_poles(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["colour.majority"]
    sides: dict[str, tuple[dict[object, ConductorEnd], dict[object, ConductorEnd]]] = {}
    undyed, channels = _one_coloured(survey), _channels(survey)
    for end in survey.ends:
        if not end.positive and end.letters in channels.get(end.line, ()):
            continue
        if end.letters and end.positive is not None and _owner(end) not in undyed:
            positive, negative = sides.setdefault(spelt(end.colour), ({}, {}))
            # a run is one conductor, though its line may have another name at each end
            conductor = (_owner(end), end.leg, end.line if end.leg else "")
            (positive if end.positive else negative).setdefault(conductor, end)
    for positive, negative in sides.values():
        plus, minus = list(positive.values()), list(negative.values())
        if not (plus and minus):
            continue
        few, many = (plus, minus) if len(plus) < len(minus) else (minus, plus)
        rule = len(many) >= limit.value * len(few)
        odd = [end for end in few if not end.own_label]
        if not odd or (not rule and all(end.own_label for end in many)):
            continue
        colour = _name(few[0])
        usual, other = ("positive", "negative") if many is plus else ("negative", "positive")
        yield Finding(
            "colour.both-poles", "caution", Subject("colour", colour),
            f"{colour} is on the {usual} side in this build ({count_of(len(many), 'conductor')}), but on the {other} one in {_each(odd)}."
            if rule
            else f"{colour} is on both sides in this build: positive in {_each(plus)}, negative in {_each(minus)}.",
            "Who joins by colour swaps the poles there: a lamp stays dark or dies, a supply is shorted.",
            odd[0].path if odd[0].kind != "run" else (*odd[0].path, "colour"),
            remedy=f"Take another colour {'there' if rule else 'for one of the sides'}, or flag each of them with its side and write it in (label).",
            figures={usual: Figure(float(len(many)), ""), other: Figure(float(len(few)), "")},
            limit=limited(limit) if rule else None,
        )  # fmt: skip


def _one_coloured(survey: Survey) -> set[tuple[str, str]]:
    """Leads with both legs in one colour, as those of grain lamps: their colour says nothing of the side."""
    colours: dict[tuple[str, str], list[str]] = {}
    for end in survey.ends:
        if end.kind != "run":
            colours.setdefault(_owner(end), []).append(spelt(end.colour))
    return {owner for owner, of in colours.items() if len(of) > 1 and len(set(of)) == 1}


# -- a slip of the pen


def _misspelt(survey: Survey) -> Iterator[Finding | NotJudged]:
    """Once for each spelling: what stands there is taken as a colour of its own."""
    told: set[str] = set()
    for end in survey.ends:
        slip = misspelt(end.colour) if end.colour else None
        if slip is None or slip[0] in told:
            continue
        told.add(slip[0])
        word, known = slip
        yield Finding(
            "colour.misspelt", "note", Subject("colour", harmless(word, 40)),
            f"The colour of {_each([end])} is {quoted(end.colour)}; did you mean {quoted(known)}?",
            "A word that is no colour is held for one of its own: ends that look the same are then not told.",
            end.path if end.kind != "run" else (*end.path, "colour"),
            remedy=f"Write {known}, if that is meant.",
        )  # fmt: skip


# -- words


def _name(end: ConductorEnd) -> str:
    """The colour as a word; as the file words it where it is more than a plain one."""
    return COLOURS.get(spelt(end.colour), harmless(end.colour, 40))


def _called(end: ConductorEnd) -> str:
    return f"{end.leg} leg of {quoted(end.name)}" if end.leg else quoted(end.name)


def _each(ends: Sequence[ConductorEnd]) -> str:
    names = [_called(end) if not end.leg else f"the {_called(end)}" for end in ends[:3]]
    return ", ".join(names) + (f" and {len(ends) - 3} more" if len(ends) > 3 else "")


def _several(words: Sequence[str]) -> str:
    known = list(dict.fromkeys(words))
    return known[0] if len(known) == 1 else f"{', '.join(known[:-1])} and {known[-1]}"


CHECKS: tuple[Check, ...] = (
    Check(
        "colour.misspelt", "note", "colour", "a colour looks misspelt",
        "A word that is no colour is held for one of its own, and ends that look the same are not told.",
        "a word that is no colour, one letter away from one; other words are free", (), "judgement", _misspelt,
    ),
    Check(
        "colour.both-poles", "caution", "colour", "a colour is on the positive side here and on the negative one there",
        "Who joins by colour swaps the poles.",
        "conductors of each colour on either side; a rule where one side has so many times the other; leads of one colour and flagged odd ones left out",
        ("colour.majority",), "common practice: one colour, one side; the side is the real one, whichever is switched", _both_poles,
    ),
    Check(
        "ends.alike", "caution", "place", "ends of one colour and wire go to different lines",
        "Taken for each other they join what must stay apart.",
        "at each place: same colour, same wire, different line, and no label or the same one", (), _PRACTICE, _alike,
    ),
    Check(
        "lead.same-legs", "caution", "place", "both legs of a lead look the same",
        "An LED the wrong way round stays dark or dies.",
        "both legs at one place with the same colour and wire, and no label on one of them; filament lamps take either way",
        (), "common practice: a band on the feed leg", _same_legs,
    ),
    Check(
        "ends.poor-light", "note", "place", "two colours look alike in poor light",
        "Under a warm lamp and in a thin wire little is left of a colour but dark and light.",
        "CIEDE2000 of the two RAL colours with part of their lightness and chroma; same wire, different line, no label",
        ("colour.poor-light", "colour.poor-light.lightness", "colour.poor-light.chroma"),
        "ISO/CIE 11664-6; colours of IEC 60304; what poor light leaves is judgement", _poor_light,
    ),
)  # fmt: skip
