"""Trimmers: what a lamp gets however they are turned, and whether a hand gets at them."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within
from postcheck.checks.known import turns
from postcheck.checks.lamps import broken_of, over_steps
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.report import Figure, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.network.dice import destroyed
from postcheck.survey.network.figures import LampFigures
from postcheck.survey.network.pulses import pulse_of
from postcheck.wiring.resistors import spec_of


def _turned_down(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for lamp in survey.electrics.lamps.values():
        if lamp.turned is None or lamp.part.backwards:
            continue
        most, kept = pulse_of(survey.build, lamp)[2], not turns(lamp.part)
        least = _at_zero(lamp)
        steps = over_steps(survey, least, most)
        yield from steps.values()
        if (over := broken_of(steps)) is None:
            continue
        gone = destroyed(lamp.part.dice, least.nominal, survey.limits)
        spec = spec_of(lamp.part)
        assert spec is not None  # it has a trimmer
        figures = {"trimmer": Figure(spec.trimmers[0].ohms, "ohm"), "rated": Figure(most, "A")}
        if kept and not gone:
            figures["now"] = Figure(lamp.nominal, "A")
        if not gone:
            figures |= {"nominal": Figure(least.nominal, "A"), "highest": Figure(least.highest, "A")}
        yield Fact(
            # set as it is, it is within its rating: it is more than a caution only if a slip of the screwdriver does lasting harm
            "stop" if gone else "caution" if kept else over.severity,
            Subject("lamp", lamp.name), lamp.part.resistor_path, "destroys" if gone else "too much",
            figures=figures, limit=over.within.limit,
        )  # fmt: skip


def _at_zero(lamp: LampFigures) -> LampFigures:
    """A lamp with its trimmer turned to zero; where it is set otherwise, its tolerances in the same proportion."""
    if turns(lamp.part) or lamp.turned is None or lamp.nominal <= 0.0:
        return lamp
    nominal, up = lamp.turned[0], lamp.turned[0] / lamp.nominal
    return lamp._replace(nominal=nominal, likely_highest=lamp.likely_highest * up, highest=lamp.highest * up)


def _sealed(survey: Survey) -> Iterator[Fact]:
    """Trimmers that are not set and will be out of reach."""
    for part in survey.parts.lamps:
        spec = spec_of(part)
        if spec is None or not turns(part):
            continue
        place = spec.place or part.place
        if survey.build.place[place].access == "sealed":
            yield Fact(
                "caution", Subject("lamp", part.name), part.resistor_path,
                parts={"place": Subject("place", place)}, figures={"trimmer": Figure(spec.trimmers[0].ohms, "ohm")},
            )  # fmt: skip


_WIRE = "A trimmer turned to zero is a piece of wire. It gets there by a slip of the screwdriver."

CHECKS: tuple[Check, ...] = (
    Check(
        "trimmer.turned-down", "stop", "lamp", "too much current once a trimmer is turned to zero",
        "A trimmer can be turned to zero, by a slip of the screwdriver too. What is left in series then sets the current.",
        "I at the trimmer's end / rated, as lamp.over-rating; set to more, a stop only where it destroys the lamp",
        ("lamp.current.stop", "lamp.current.nominal", "lamp.current.caution", "lamp.filament.caution", "lamp.filament.stop",
         "lamp.destroyed", "lamp.filament.destroyed"),
        "the lamp's data sheet; a fixed resistor beside a trimmer is common practice", _turned_down,
        wording={
            "destroys": Wording(
                "With its trimmer of {trimmer} turned to zero {subject} gets far more than its rating of {rated} and burns out.",
                _WIRE,
                "Put a fixed resistor in series with it that alone keeps the lamp within its rating.",
            ),
            "too much": Wording(
                "With its trimmer of {trimmer} turned to zero {subject} gets {nominal}, up to {highest} with every tolerance against it.[ As it is set it gets {now}.] Its rating is {rated}.",
                _WIRE,
                "Put a larger fixed resistor in series with it.",
            ),
        },
    ),
    Check(
        "trimmer.sealed", "caution", "lamp", "a trimmer that nobody can turn",
        "A trimmer is there to be set with the lamp lit. Sealed in it stays as it happened to be.",
        "place of the trimmer is sealed, and the file does not say what it is set to", (), "common practice", _sealed,
        wording={
            "": Wording(
                "The trimmer of {subject}, {trimmer}, will be sealed into {place}, and the file does not say what it is set to.",
                "Nobody can set it there, and it stays as it happens to be turned.",
                "Set it before {place} is closed and write what it measures, as `set` of the trimmer, or move it to a place that opens.",
            )
        },
    ),
)  # fmt: skip
