"""Hot parts against what they sit on, in open places too."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within
from postcheck.checks.record import MELTS, Check
from postcheck.checks.wording import Wording, open_question
from postcheck.report import Figure, Limited, NotJudged, Subject
from postcheck.survey import Survey


def _hot(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    source = survey.limits["heat.spot"]
    told: set[tuple[str, str]] = set()
    for spot in sorted(survey.hot_spots, key=lambda one: one.stands - one.celsius):
        subject = Subject(spot.kind, spot.name)
        yield (
            within := Within(subject, spot.celsius, Limited(spot.stands, "degC", source.source, source.name))
        )
        if within.kept or (spot.kind, spot.name) in told:
            continue
        told.add((spot.kind, spot.name))
        if spot.material is None:
            yield open_question(
                spot.name, "whether what its glass touches in {place} withstands {hottest}",
                'what that is, such as material = "brass" of its place, or held_off = true of the lamp where it touches nothing',
                vital=True, figures={"hottest": Figure(spot.celsius, "degC")}, parts={"place": Subject("place", spot.place)},
            )  # fmt: skip
        else:
            yield Fact(
                "caution", subject, spot.path, spot.kind,
                figures={"hottest": Figure(spot.celsius, "degC")},
                parts={"place": Subject("place", spot.place)},
                words={"material": spot.material},
                limit=within.limit,
                because_of=f"lamp.over-rating:{spot.name}",
                firm=MELTS,
            )  # fmt: skip


_TOUCHES = "The spot that it touches sags, and paint blisters."
_OFF = "Hold it off the wall, and write held_off = true"

CHECKS: tuple[Check, ...] = (
    Check(
        "part.hot-spot", "caution", "lamp", "a hot part melts what it sits on",
        "Glass of filament lamps and loaded resistors are hotter than kit plastic withstands.",
        "warmest air + rise of the glass (by watts, from its free-air figure) or half a resistor's own rise, against the material + a spot's allowance",
        ("heat.spot", "heat.unknown-material"), "the material's limit for long; glass of small bulbs by the catalogue", _hot,
        wording={
            "lamp": Wording("The glass of {subject} in {place} gets to {hottest:apart}. A spot of {material} withstands {limit:apart}.", _TOUCHES, f"{_OFF}, or use an LED."),
            "resistor": Wording(
                "{subject} gets the wall beside it in {place} to {hottest:apart}. A spot of {material} withstands {limit:apart}.", _TOUCHES,
                f"{_OFF}, or use one with a larger body.",
            ),
        },
    ),
)  # fmt: skip
