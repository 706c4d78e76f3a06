"""Ends at one place that cannot be told apart."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations
from typing import NamedTuple

from postcheck.checks.colours import colour_of, conductor_of, owner_of
from postcheck.checks.fact import Fact, Within, limited
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.colours import COLOURS, spelt
from postcheck.plain import harmless
from postcheck.report import Figure, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.bench.ends import ConductorEnd


class _Look(NamedTuple):
    """What a hand sees of an end: the colour in one spelling, the wire, the sheath it comes out of."""

    colour: str
    wire: str
    cable: str


def _by_place(survey: Survey) -> Iterator[tuple[str, dict[_Look, list[ConductorEnd]]]]:
    """The ends that something is to be joined to, by place and look; not in a place that is being sealed."""
    places: dict[str, dict[_Look, list[ConductorEnd]]] = {}
    for end in survey.ends:
        place = survey.build.place.get(end.place)
        shut = end.place in survey.closing and place is not None and place.access == "sealed"
        if end.net and end.colour and end.wire and not shut:
            look = _Look(spelt(end.colour), end.wire, end.cable)
            places.setdefault(end.place, {}).setdefault(look, []).append(end)
    yield from places.items()


def _nets(ends: Iterable[ConductorEnd]) -> dict[tuple[str, str], frozenset[str]]:
    """The lines of each owner among some ends."""
    nets: dict[tuple[str, str], set[str]] = {}
    for end in ends:
        nets.setdefault(owner_of(end), set()).add(end.net)
    return {owner: frozenset(of) for owner, of in nets.items()}


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
        _Clash(look, tuple(ends), frozenset(map(owner_of, ends)))
        for look, all_ends in looks.items()
        for ends in _by_label(all_ends)
        if len(set(_nets(ends).values())) > 1
    ]
    return sorted(found, key=lambda clash: (len(clash.poles) == 1, -len(clash.ends)))


def _uncoloured(survey: Survey) -> Iterator[NotJudged]:
    """Places at which ends of several lines have no colour and no flag in the file."""
    lines: dict[str, set[str]] = {}
    for end in survey.ends:
        place = survey.build.place.get(end.place)
        shut = end.place in survey.closing and place is not None and place.access == "sealed"
        if end.net and not end.colour and not end.asked and not end.label and not shut:
            lines.setdefault(end.place, set()).add(end.net)
    for name, found in lines.items():
        if len(found) > 1:
            yield NotJudged(
                name,
                "whether ends of different lines look alike",
                'the colours of what ends there, such as colour = "red" of a run and "90 mm to hull, red/black" of a lead',
            )


def _alike(survey: Survey) -> Iterator[Fact]:
    places = {place: clashes for place, looks in _by_place(survey) if (clashes := _clashes(looks))}
    heaviest = sorted(places, key=lambda place: -sum(len(clash.ends) for clash in places[place]))
    reported: dict[str, list[str]] = {}  # the same conductors may look alike at their other ends too
    for place in heaviest:
        first = next((other for other in reported if _covers(places[other], places[place])), None)
        if first is None:
            reported[place] = []
        else:
            reported[first].append(place)
    for place, others in reported.items():
        yield _alike_at(survey, place, places[place], others)


def _covers(clashes: Sequence[_Clash], others: Sequence[_Clash]) -> bool:
    return all(
        any(clash.look == other.look and other.owners <= clash.owners for clash in clashes)
        for other in others
    )


# Lines at a place that are named; of each, one end.
_NAMED = ("first", "second", "third")


def _alike_at(survey: Survey, place: str, clashes: Sequence[_Clash], others: Sequence[str]) -> Fact:
    worst, *more = clashes
    by_net: dict[str, list[ConductorEnd]] = {}
    for end in worst.ends:
        by_net.setdefault(end.net, []).append(end)
    parts: dict[str, Subject | tuple[Subject, ...]] = {}
    for role, (net, ends) in zip(_NAMED, by_net.items(), strict=False):
        parts |= {role: tuple(map(conductor_of, ends)), f"{role}_line": Subject("line", net)}
    if others:
        parts["also_at"] = tuple(Subject("place", other) for other in others)
    fewest = min(by_net.values(), key=len)[0]
    parts["recoloured"] = Subject("line", fewest.net)
    further = len(by_net) - len(_NAMED)
    poles_only = all(map(_two_poles, clashes))
    return Fact(
        "caution",
        Subject("place", place),
        fewest.path,
        reason=_what_then(survey, clashes),
        figures={
            "ends": Figure(float(sum(len(clash.ends) for clash in clashes)), ""),
            "alike": Figure(float(len(worst.ends)), ""),
            **({"further": Figure(float(further), "")} if further > 0 else {}),
        },
        parts=parts,
        words={
            "colour": colour_of(worst.ends[0]),
            "wire": harmless(worst.look.wire, 40),
            **({"more": _several([colour_of(clash.ends[0]) for clash in more])} if more else {}),
        },
        because_of=f"colour.both-poles:{colour_of(worst.ends[0])}" if poles_only else None,
    )


def _two_poles(clash: _Clash) -> bool:
    """Whether it is only that one colour is on both sides: one line on each."""
    return sorted(str(positive) for _, positive in {(end.net, end.positive) for end in clash.ends}) == [
        "False",
        "True",
    ]


def _what_then(survey: Survey, clashes: Sequence[_Clash]) -> str:
    """What comes of taking one for another: the worst of it."""
    if any({True, False} <= clash.poles for clash in clashes):
        return "poles"
    circuits = survey.build.circuit
    nets = {end.net for clash in clashes for end in clash.ends}
    if any(None in clash.poles for clash in clashes):
        return "signals"
    if not nets & set(circuits):
        return "returns"
    flashing = {circuits[net].behaviour == "flash" for net in nets if net in circuits}
    return "flashing" if len(flashing) > 1 else "switched"


# -- what is laid in reserve


def _spare(survey: Survey) -> Iterator[Fact]:
    """Spare conductors, those of one look together, by the places where something in use looks the same."""
    spare = {run.name for run in survey.parts.runs if run.spare}
    found: dict[tuple[_Look, str], dict[str, list[ConductorEnd]]] = {}
    for end in survey.ends:
        if end.kind == "run" and end.name in spare and end.colour and end.wire:
            look = _Look(spelt(end.colour), end.wire, end.cable)
            found.setdefault((look, end.label.casefold()), {}).setdefault(end.place, []).append(end)
    used = dict(_by_place(survey))
    for (look, label), places in found.items():
        alike = {
            place: same
            for place in places
            if (same := [end for end in used.get(place, {}).get(look, ()) if end.label.casefold() == label])
        }
        if not alike:
            continue
        laid = [end for place in alike for end in places[place]]
        others = dict.fromkeys(conductor_of(end) for same in alike.values() for end in same)
        yield Fact(
            "caution",
            conductor_of(laid[0]),
            laid[0].path,
            parts={
                "spares": tuple(dict.fromkeys(map(conductor_of, laid))),
                "others": tuple(others),
                "places": tuple(Subject("place", place) for place in alike),
            },
            words={"colour": colour_of(laid[0]), "wire": harmless(look.wire, 40)},
        )


# -- both legs of a lead


def _same_legs(survey: Survey) -> Iterator[Fact]:
    either_way = {
        ("lamp", part.entry) for part in survey.parts.every if part.dice and part.dice[0].kind == "filament"
    }
    for place, looks in _by_place(survey):
        found: dict[tuple[str, str], ConductorEnd] = {}
        for ends in looks.values():
            for same in _by_label(ends):
                mixed = {owner for owner, nets in _nets(same).items() if len(nets) > 1} - either_way
                for end in same:
                    if owner_of(end) in mixed:
                        found.setdefault(owner_of(end), end)
        if not found:
            continue
        first = next(iter(found.values()))
        yield Fact(
            "caution",
            Subject("place", place),
            first.path,
            "one" if len(found) == 1 else "several",
            figures={"leads": Figure(float(len(found)), "")},
            parts={"owners": tuple(Subject(kind, name) for kind, name in found)},
            words={"colour": colour_of(first)},
        )


# -- colours too alike in poor light


def _to_choose(one: ConductorEnd, other: ConductorEnd) -> bool:
    """Whether a hand has to tell two ends apart, and no flag does it."""
    return one.net != other.net and one.label.casefold() == other.label.casefold()


def _kinds(ends: Iterable[ConductorEnd]) -> list[ConductorEnd]:
    """The first end of each line and flag: of a hundred on one line all choices are the same."""
    kinds: dict[tuple[str, str], ConductorEnd] = {}
    for end in ends:
        kinds.setdefault((end.net, end.label), end)
    return list(kinds.values())


_Pair = tuple[float, ConductorEnd, ConductorEnd]
"""How different two ends look, and which they are."""


def _poor_light(survey: Survey) -> Iterator[Fact | Within]:
    limit = limited(survey.limits["colour.poor-light"])
    reported: dict[frozenset[frozenset[str]], list[tuple[str, list[_Pair]]]] = {}
    for place, looks in _by_place(survey):
        plain = [(look, _kinds(ends)) for look, ends in looks.items() if look.colour in COLOURS]
        pairs: list[_Pair] = []
        for (look, ends), (other, others) in combinations(plain, 2):
            if (look.wire, look.cable) != (other.wire, other.cable):
                continue
            apart = survey.poor_light.get((look.colour, other.colour))
            two = next(((a, b) for a in ends for b in others if _to_choose(a, b)), None)
            if apart is None or two is None:
                continue
            yield (within := Within(Subject("place", place), apart, limit, least=True))
            if not within.kept:
                pairs.append((apart, *two))
        if pairs:
            colours = frozenset(frozenset((spelt(a.colour), spelt(b.colour))) for _, a, b in pairs)
            reported.setdefault(colours, []).append((place, sorted(pairs, key=lambda row: row[0])))
    for (place, found), *elsewhere in reported.values():
        apart, one, other_end = found[0]
        more = [f"{colour_of(a)} and {colour_of(b)}" for _, a, b in found[1:]]
        yield Fact(
            "note",
            Subject("place", place),
            one.path,
            figures={"difference": Figure(apart, "")},
            parts={
                "one": conductor_of(one),
                "other": conductor_of(other_end),
                **({"also_at": tuple(Subject("place", name) for name, _ in elsewhere)} if elsewhere else {}),
            },
            words={
                "colour": colour_of(one),
                "other_colour": colour_of(other_end),
                **({"more": _some(more)} if more else {}),
            },
            limit=limit,
        )


_PAIRS = 3
"""So many further pairs of colours are named; the colours of a whole hub would fill a page."""


def _some(pairs: Sequence[str]) -> str:
    """The first of further pairs, and how many more there are."""
    known = list(dict.fromkeys(pairs))
    left = len(known) - _PAIRS
    if left <= 0:
        return _several(known)
    return f"{', '.join(known[:_PAIRS])} and {left} {'pair' if left == 1 else 'pairs'} more"


def _several(words: Sequence[str]) -> str:
    known = list(dict.fromkeys(words))
    return known[0] if len(known) == 1 else f"{', '.join(known[:-1])} and {known[-1]}"


_REVERSED = "An LED the wrong way round stays dark, and is destroyed above its reverse voltage. Electronics fail sooner."
_BANDED = 'Put a flag on the supply leg and write it in: lead = { feed = { label = "+" } }.'

_PRACTICE = "common practice: flag both ends of whatever looks like its neighbour"


CHECKS: tuple[Check, ...] = (
    Check(
        "ends.alike", "caution", "place", "ends of one colour and wire go to different lines",
        "Taken for each other they join what must stay apart.",
        "at each place: same colour, same wire, different line, and no label or the same one", (), _PRACTICE, _alike,
        wording={
            "": Wording(
                "{alike:end} of {colour} {wire} at {subject} go to different lines, and nothing tells them apart: {first:1} to {first_line}, {second:1} to {second_line}[, {third:1} to {third_line}][ and {further} more].[ The same holds for {more}.][ So it is at {also_at}.]",
                {
                    "poles": "Taken for each other they put a lamp the wrong way round, or short a supply.",
                    "signals": "Taken for each other they put the supply's voltage on what carries signals.",
                    "returns": "Taken for each other, currents return by the wrong path, or by none.",
                    "flashing": "Taken for each other, what should shine steadily flashes, and it shows when all is closed.",
                    "switched": "Taken for each other, lamps are switched with the wrong ones, and it shows when all is closed.",
                },
                'Flag those of all lines but one and write it in (label = "..."), or give {recoloured} another colour.',
            )
        },
    ),
    Check(
        "ends.spare", "caution", "run", "a spare conductor looks like one in use", "Joined at one end and missed at the other, a line is open.",
        "at each place: a spare of the same colour and wire as what carries a line, and no label or the same one", (), _PRACTICE, _spare,
        wording={
            "": Wording(
                "{spares:4} in reserve and {others:4} in use look the same at {places:4}: {colour} {wire}, and nothing tells them apart.",
                "Taken for each other at one end only, a line is open, and a bare end elsewhere is live.",
                'Flag what is spare and write it in: label = "spare".',
            )
        },
    ),
    Check(
        "ends.uncoloured", "note", "place", "ends of several lines without a colour",
        "What the file does not say nobody compares.", "ends of more than one line at a place with neither colour nor label", (),
        "the build file", _uncoloured, asks=True,
    ),
    Check(
        "lead.same-legs", "caution", "place", "both legs of a lead look the same",
        "An LED the wrong way round stays dark or is destroyed.",
        "both legs at one place with the same colour and wire, and no label on one of them; filament lamps take either way",
        (), "common practice: a band on the supply leg", _same_legs,
        wording={
            "one": Wording("The legs of {owners} are both {colour} at {subject}. Nothing shows which is the supply leg.", _REVERSED, _BANDED),
            "several": Wording("The legs of {owners} look the same at {subject}. Nothing shows which are the supply legs.", _REVERSED, _BANDED),
        },
    ),
    Check(
        "ends.poor-light", "note", "place", "two colours look alike in poor light",
        "Under a warm lamp and in a thin wire little is left of a colour but dark and light.",
        "CIEDE2000 of the two RAL colours with part of their lightness and chroma; same wire, different line, no label",
        ("colour.poor-light", "colour.poor-light.lightness", "colour.poor-light.chroma"),
        "ISO/CIE 11664-6; colours of IEC 60304; what poor light leaves is judgement", _poor_light,
        wording={
            "": Wording(
                "{colour} ({one}) and {other_colour} ({other}) look much alike in poor light. At {subject} they go to different lines.[ So do {more}.][ So it is at {also_at}.]",
                "Under a warm lamp and in a thin wire little is left of a colour but dark and light.",
                "Join them in daylight, or flag one of them and write it in (label).",
            )
        },
    ),
)  # fmt: skip
