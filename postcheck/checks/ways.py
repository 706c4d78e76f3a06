"""Ways: whether what is laid along one is long enough for it."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor

from postcheck.checks.fact import Fact, Within
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.description.problems import Path
from postcheck.report import Figure, Limited, Subject
from postcheck.survey import Survey
from postcheck.wiring.through import way_lengths


def _short(survey: Survey) -> Iterator[Fact | Within]:
    """Every run and leg of a lead against the way between its ends; of each lead only the leg that lacks most."""
    ways = way_lengths(survey.build) if survey.build.way else {}
    worst: dict[Subject, tuple[Within, Fact]] = {}
    for subject, conductor, path, ends, length in _conductors(survey):
        way = ways.get(frozenset(ends))
        if way is None or length <= 0.0:
            continue
        least = Limited(way, "m", "the length of the way, in the build file")
        yield (within := Within(subject, length, least, least=True))
        lacks = way - length
        if within.kept or (subject in worst and worst[subject][1].figures["lacks"].value >= lacks):
            continue
        places = tuple(Subject("place", place) for place in ends)
        figures = {
            "length": Figure(floor(length * 1e4 + 1e-6) / 1e4, "m"),
            "way": Figure(way, "m"),
            "lacks": Figure(lacks, "m"),
        }
        fact = Fact(
            "caution", subject, path, figures=figures, limit=least,
            parts={"conductor": conductor, "from": places[0], "to": places[1]},
        )  # fmt: skip
        worst[subject] = within, fact
    yield from (fact for _, fact in worst.values())


def _conductors(survey: Survey) -> Iterator[tuple[Subject, Subject, Path, tuple[str, str], float]]:
    """Conductors: kind, name, path in the file, the two places, length (m)."""
    for run in survey.parts.runs:
        subject = Subject("run", run.name)
        yield subject, subject, (*run.path, "length"), run.ends, run.length
    for wire in survey.wiring.fine_wires:
        if wire.leg != "link":
            kind = survey.parts.named[wire.name].kind
            lead = Subject("lead", wire.entry)
            yield (
                Subject(kind, wire.entry),
                lead,
                (*wire.path[:2], "lead"),
                (wire.start, wire.to),
                wire.data.length,
            )


CHECKS: tuple[Check, ...] = (
    Check(
        "way.short", "caution", "run", "a conductor is shorter than its way", "It does not reach, or is pulled tight where it should lie loose.",
        "length against the way between its two places", (), "the build file", _short,
        wording={
            "": Wording(
                "{conductor} is {length:tenths} long. The way from {from} to {to} is {way:tenths}.",
                "It does not reach, or is pulled tight round every corner.",
                "Take {way:tenths} or more.",
            )
        },
    ),
)  # fmt: skip
