"""Colours of wires: one colour on both sides, and words that are no colour."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, limited
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.colours import COLOURS, letters, misspelt, spelt
from postcheck.plain import harmless
from postcheck.report import Figure, Subject
from postcheck.survey import Survey
from postcheck.survey.bench.ends import ConductorEnd
from postcheck.wiring.parts import LampPart, StripPart


def owner_of(end: ConductorEnd) -> tuple[str, str]:
    """What it belongs to, by kind and name: a lead's legs to one."""
    return end.kind, end.name


def colour_of(end: ConductorEnd) -> str:
    """The colour as a word; as the file words it where it is more than a plain one."""
    return COLOURS.get(spelt(end.colour), harmless(end.colour, 40))


def conductor_of(end: ConductorEnd) -> Subject:
    """The conductor that ends here: a leg of a lead, or a run."""
    return Subject(f"{end.leg} leg" if end.leg else end.kind, end.name)


# -- one colour on both sides


def _channels(survey: Survey) -> dict[str, set[str]]:
    """The colours of light of colour lamps and strips switched in the negative: a red wire there names the channel."""
    found: dict[str, set[str]] = {}
    dice = [
        (part.circuit, chain)
        for part in survey.parts.every
        if isinstance(part, StripPart) or (isinstance(part, LampPart) and part.colour)
        for chain in part.strings
    ]
    for circuit, of in dice:
        if survey.build.circuit[circuit].switched == "negative":
            found.setdefault(circuit, set()).update(letters(die.colour) for die in of)
    return found


def _both_poles(survey: Survey) -> Iterator[Fact]:
    limit = survey.limits["colour.majority"]
    sides: dict[str, tuple[dict[object, ConductorEnd], dict[object, ConductorEnd]]] = {}
    undyed, channels = _one_coloured(survey), _channels(survey)
    for end in survey.ends:
        if not end.positive and end.letters in channels.get(end.net, ()):
            continue
        if end.letters and end.positive is not None and owner_of(end) not in undyed:
            positive, negative = sides.setdefault(spelt(end.colour), ({}, {}))
            # a run is one conductor, though its line may have another name at each end
            conductor = (owner_of(end), end.leg, end.net if end.leg else "")
            (positive if end.positive else negative).setdefault(conductor, end)
    for positive, negative in sides.values():
        plus, minus = list(positive.values()), list(negative.values())
        few, many = (plus, minus) if len(plus) < len(minus) else (minus, plus)
        rule = len(many) >= limit.value * len(few)
        odd = [end for end in few if not end.own_label]
        if not odd or (not rule and all(end.own_label for end in many)):
            continue
        usual, other = ("positive", "negative") if many is plus else ("negative", "positive")
        yield Fact(
            "caution",
            Subject("colour", colour_of(few[0])),
            odd[0].path if odd[0].kind != "run" else (*odd[0].path, "colour"),
            usual if rule else "no rule",
            figures={usual: Figure(float(len(many)), ""), other: Figure(float(len(few)), "")},
            parts={"odd": tuple(map(conductor_of, odd))}
            if rule
            else {"plus": tuple(map(conductor_of, plus)), "minus": tuple(map(conductor_of, minus))},
            words={"colour": colour_of(few[0])},
            limit=limited(limit) if rule else None,
        )


def _one_coloured(survey: Survey) -> set[tuple[str, str]]:
    """Leads with both legs in one colour, as grain lamps have: their colour does not tell the side."""
    colours: dict[tuple[str, str], list[str]] = {}
    for end in survey.ends:
        if end.kind != "run":
            colours.setdefault(owner_of(end), []).append(spelt(end.colour))
    return {owner for owner, of in colours.items() if len(of) > 1 and len(set(of)) == 1}


# -- a misspelt colour


def _misspelt(survey: Survey) -> Iterator[Fact]:
    """Once for each spelling: what stands there is taken as a colour of its own."""
    seen: set[str] = set()
    for end in survey.ends:
        slip = misspelt(end.colour) if end.colour else None
        if slip is None or slip[0] in seen:
            continue
        seen.add(slip[0])
        word, known = slip
        yield Fact(
            "note",
            Subject("colour", harmless(word, 40)),
            end.path if end.kind != "run" else (*end.path, "colour"),
            parts={"end": conductor_of(end), "written": Subject("colour", end.colour)},
            words={"known": known},
        )


_BY_COLOUR = (
    "Who joins by colour swaps the poles there: a lamp stays dark or is destroyed, or a supply is shorted."
)
_FLAGGED = "or flag each of them with its side and write it in (label)."
CHECKS: tuple[Check, ...] = (
    Check(
        "colour.misspelt", "note", "colour", "a colour looks misspelt",
        "A word that is no colour counts as one of its own, and ends that look the same are then not found.",
        "a word that is no colour, one letter away from one; other words are free", (), "judgement", _misspelt,
        wording={
            "": Wording(
                "The colour of {end} is {written}, which is no known colour.",
                "A word that is no colour counts as one of its own, and ends that look the same are then not found.",
                "Write {known}, if that is meant.",
            )
        },
    ),
    Check(
        "colour.both-poles", "caution", "colour", "a colour is on the positive side here and on the negative one there",
        "Who joins by colour swaps the poles.",
        "conductors of each colour on either side; a rule where one side has so many times the other; leads of one colour and flagged odd ones left out",
        ("colour.majority",), "common practice: one colour, one side; the side is the real one, whichever is switched", _both_poles,
        wording={
            "positive": Wording(
                "{colour} marks the positive side in this build ({positive:conductor}). It is also the colour of {odd}, on the negative side.",
                _BY_COLOUR, f"Take another colour there, {_FLAGGED}",
            ),
            "negative": Wording(
                "{colour} marks the negative side in this build ({negative:conductor}). It is also the colour of {odd}, on the positive side.",
                _BY_COLOUR, f"Take another colour there, {_FLAGGED}",
            ),
            "no rule": Wording(
                "{colour} is on both sides in this build: positive in {plus}, negative in {minus}.",
                _BY_COLOUR, f"Take another colour for one of the sides, {_FLAGGED}",
            ),
        },
    ),
)  # fmt: skip
