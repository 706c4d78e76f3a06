"""Conductors that are too hot in normal use."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within, first_broken, limited, of_rating
from postcheck.checks.protection import FIRE, heated
from postcheck.checks.record import DANGER, MELTS, Check
from postcheck.checks.wording import Wording
from postcheck.limits import above, below
from postcheck.physics import copper
from postcheck.report import Figure, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.heat.conductors import UsedWire

# Warmth from neighbouring conductors below this, K, is not mentioned.
_WORTH_TELLING = 5.0


def _hot(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    limit = survey.limits["wire.insulation"]
    found: set[tuple[str, str]] = set()
    first: dict[str, Subject] = {}  # the first hot one of a bore; the others are hot for the same reason
    for used in survey.in_use.wires:
        # a lamp's lead carries no more than the lamp withstands; a lamp without a resistor has its own finding
        if used.name in survey.electrics.lamps and used.kind == "lead":
            continue
        withstands = of_rating(limit, used.wire.insulation_celsius, "degC")
        gets = copper.MELTING if used.celsius is None else used.celsius
        yield (within := Within(Subject(used.kind, used.name), gets, withstands))
        if within.kept or (used.kind, used.name) in found:
            continue
        found.add((used.kind, used.name))
        cause = next((first[passage] for passage in used.passages if passage in first), None)
        for passage in used.passages:
            first.setdefault(passage, Subject(used.kind, used.name))
        beside = survey.in_use.company(used.passages, used.key)
        molten = None if below(beside, copper.MELTING) else cause  # beyond that it is no meaningful figure
        yield Fact(
            "stop",
            within.subject,
            used.path,
            "molten" if molten else "",
            figures={"current": Figure(used.current, "A")}
            if molten
            else {
                "current": Figure(used.current, "A"),
                **heated(used.celsius),
                **({"beside": Figure(beside, "K")} if _WORTH_TELLING <= beside < copper.MELTING else {}),
            },
            parts={"other": molten} if molten else {},
            words={"wire": used.wire.name},
            limit=withstands,
            because_of=None if cause is None else f"wire.hot:{cause.name}",
        )


def _beside(survey: Survey) -> Iterator[Fact | Within]:
    """Conductors that are well themselves, against the insulation beside them and what they lie on at their ends."""
    insulation, spot = survey.limits["wire.insulation"], survey.limits["heat.spot"]
    weakest: dict[str, list[UsedWire]] = {}  # in each passage, those with the weakest insulation first
    for used in sorted(survey.in_use.wires, key=lambda one: one.wire.insulation_celsius):
        for passage in used.passages:
            weakest.setdefault(passage, []).append(used)
    reported: set[Subject] = set()
    for used in survey.in_use.wires:
        subject, celsius = Subject(used.kind, used.name), used.celsius
        if celsius is None or above(celsius, used.wire.insulation_celsius * insulation.value):
            continue  # wire.hot
        steps: dict[tuple[str, Subject, str], Within] = {}
        for passage in used.passages:
            other = next((one for one in weakest[passage] if one.key != used.key), None)
            if other is not None:
                most = of_rating(insulation, other.wire.insulation_celsius, "degC")
                key = ("neighbour", Subject(other.kind, other.name), other.wire.name)
                steps[key] = Within(subject, celsius, most)
        run = survey.electrics.runs.get(used.name) if used.kind == "run" else None
        ends = (
            {place: survey.spots[place] for place in run.part.ends if place in survey.spots}
            if run is not None
            else {}
        )
        # the weakest first: that one is reported
        for place, (material, stands) in sorted(ends.items(), key=lambda end: end[1][1]):
            most = Limited(stands, "degC", spot.source, spot.name)
            steps["place", Subject("place", place), material] = Within(subject, celsius, most)
        yield from steps.values()
        broken = first_broken(steps)
        if broken is None or subject in reported:
            continue
        reported.add(subject)
        case, what, sort = broken
        yield Fact(
            "stop" if case == "neighbour" else "caution", subject, used.path, case,
            figures={"current": Figure(used.current, "A"), "hottest": Figure(celsius, "degC")},
            parts={"what": what}, words={"wire": used.wire.name, "sort": sort}, limit=steps[broken].limit,
            firm=DANGER if case == "neighbour" else MELTS,
        )  # fmt: skip


def _touched(survey: Survey) -> Iterator[Fact | Within]:
    """Runs that end in an open place, where they may be touched; one whose own insulation is too hot follows from that."""
    limit, insulation = limited(survey.limits["wire.touch"]), survey.limits["wire.insulation"].value
    for used in survey.in_use.wires:
        run = survey.electrics.runs.get(used.name) if used.kind == "run" else None
        if run is None or ("run", used.name) in survey.beyond.fates:
            continue
        place = next((end for end in run.part.ends if survey.build.place[end].access == "open"), None)
        if place is None or used.celsius is None:
            continue
        yield (within := Within(Subject("run", used.name), used.celsius, limit))
        if not within.kept:
            yield Fact(
                "caution", within.subject, used.path,
                figures={"current": Figure(used.current, "A"), "hottest": Figure(used.celsius, "degC")},
                parts={"place": Subject("place", place)}, words={"wire": used.wire.name}, limit=limit,
                because_of=f"wire.hot:{used.name}" if above(used.celsius, used.wire.insulation_celsius * insulation) else None,
            )  # fmt: skip


_THICKER = "Use thicker wire, or lay more conductors side by side."

CHECKS: tuple[Check, ...] = (
    Check(
        "wire.hot", "stop", "run", "a conductor is too hot in normal use",
        "Its insulation softens with nothing wrong.",
        "heat made I2R'(T) against heat lost to still air (Morgan) or across a bore, with all others in it", ("wire.insulation",),
        "Morgan 1975, checked against Preece; IEC 60364-5-54 annex A", _hot, dangerous=True,
        wording={
            "": Wording(
                "{subject} ({wire}) carries up to {current} in use[ and gets to {hottest:apart}][ and melts ({melts:apart})]. "
                "[{beside} of that comes from what lies beside it. ]Its insulation withstands {limit:apart}.",
                f"It is too hot with nothing wrong at all. {FIRE}", _THICKER,
            ),
            "molten": Wording(
                "{subject} ({wire}) carries up to {current} in use, and {other} beside it melts. Its insulation withstands {limit:apart}.",
                f"What melts takes with it all that lies in the same bore. {FIRE}", _THICKER,
            ),
        },
    ),
    Check(
        "wire.hot-beside", "stop", "run", "a conductor that is too hot for what it touches",
        "It is well itself, and melts the insulation beside it or marks the plastic that it lies on.",
        "its temperature in use, as for wire.hot, against the insulation of each conductor in the same passage (a stop) and the material at both ends (a caution)",
        ("wire.insulation", "heat.spot"), "Morgan 1975, checked against Preece; the insulation's rating; the material's limit for long", _beside,
        held="any finding",
        wording={
            "neighbour": Wording(
                "{subject} ({wire}) carries up to {current} in use and gets to {hottest:apart}. {what} beside it ({sort}) withstands {limit:apart}.",
                f"It is well itself, and melts the insulation beside it. {FIRE}", _THICKER,
            ),
            "place": Wording(
                "{subject} ({wire}) carries up to {current} in use and gets to {hottest:apart}. A spot of {sort} in {what} withstands {limit:apart}.",
                "It is well itself, and sinks into the plastic that it lies on.", _THICKER,
            ),
        },
    ),
    Check(
        "wire.hot-touched", "caution", "run", "a conductor within reach that burns who touches it", "It burns fingers.",
        "its temperature in use, as for wire.hot, of a run that ends in an open place", ("wire.touch", "wire.insulation"),
        "IEC 62368-1 table 38, TS1", _touched,
        wording={
            "": Wording(
                "{subject} ({wire}) carries up to {current} in use and gets to {hottest:apart}, within reach in {place}. What is touched should stay below {limit:apart}.",
                "It burns the finger that finds it.", _THICKER,
            ),
        },
    ),
)  # fmt: skip
