"""Hot parts against what they sit on, in open places too."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within
from postcheck.checks.heat import BEYOND, SAFE
from postcheck.checks.record import MELTS, Check
from postcheck.checks.wording import Wording, open_question
from postcheck.limits import above
from postcheck.report import Figure, Limited, NotJudged, Subject
from postcheck.survey import Survey


def _hot(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    source, room = survey.limits["heat.spot"], survey.build.build.air[1]
    reported: set[tuple[str, str]] = set()
    for spot in sorted(survey.hot_spots, key=lambda one: (one.stuck, one.stands - one.celsius)):
        # air that is too hot for the walls has its own finding: a part that would be well without it is not reported
        in_heat = above(spot.air, spot.stands - source.value)
        if in_heat and (above(spot.air, BEYOND) or not above(room + spot.celsius - spot.air, spot.stands)):
            continue
        subject = Subject(spot.kind, spot.name)
        yield (
            within := Within(subject, spot.celsius, Limited(spot.stands, "degC", source.source, source.name))
        )
        if within.kept or (spot.kind, spot.name) in reported:
            continue
        reported.add((spot.kind, spot.name))
        figures = {"hottest": Figure(spot.celsius, "degC")}
        parts = {"place": Subject("place", spot.place)}
        if spot.material is None and above(spot.celsius, BEYOND):
            continue  # whatever it touches: what makes it so hot has a stop of its own
        if spot.material is None:
            yield open_question(
                spot.name, f"whether what its {_WHAT[spot.kind]} touches in {{place}} withstands {{hottest}}",
                'what that is, such as material = "brass" of its place, or held_off = true of the lamp where it touches nothing',
                vital=survey.build.place[spot.place].access != "open", figures=figures, parts=parts,
                lines=('material = "brass"',), under=("place", spot.place),
            )  # fmt: skip
            continue
        if spot.kind == "resistor":
            lamp = survey.electrics.lamps[spot.name]
            lit = lamp.spot[0] * (1.0 if spot.stuck else lamp.duty_cycle)
            # the rise beside it goes with its heat
            may = SAFE * lit * max(spot.stands - spot.air, 0.0) / (spot.celsius - spot.air)
            figures |= {"dissipates": Figure(lit, "W")} | ({"may": Figure(may, "W")} if may > 0.0 else {})
        yield Fact(
            "caution", subject, spot.path, {"lamp": "stuck glass", "resistor": "stuck"}[spot.kind] if spot.stuck else spot.kind,
            figures=figures,
            parts={**parts, **({"circuit": Subject("circuit", survey.parts.named[spot.name].circuit)} if spot.stuck else {})},
            words={"material": spot.material},
            limit=within.limit,
            because_of=f"place.too-hot:{spot.place}" if in_heat else f"lamp.over-rating:{spot.name}",
            firm=MELTS,
        )  # fmt: skip


_WHAT = {"lamp": "glass", "resistor": "resistor"}
_STUCK = "With {circuit} on for good, as when a flasher sticks and in a steady test,"
_TOUCHES = "The spot that it touches sags, and paint blisters."
_OFF = "Hold it off the wall, and write held_off = true"
_BESIDE = "the wall beside it in {place} to {hottest:apart} with {dissipates}. A spot of {material} withstands {limit:apart}."
_LARGER = f"{_OFF}, or use one with a larger body.[ As it is it may dissipate {{may}}.]"

CHECKS: tuple[Check, ...] = (
    Check(
        "part.hot-spot", "caution", "lamp", "a hot part melts what it sits on",
        "Glass of filament lamps and loaded resistors are hotter than kit plastic withstands.",
        "warmest air + rise of the glass (by watts, from its free-air figure) or half a resistor's own rise, as it is meant and on for good, against the material + a spot's allowance",
        ("heat.spot", "heat.unknown-material", "heat.rise"), "the material's limit for long; glass of small bulbs by the catalogue", _hot,
        held="any finding",
        wording={
            "lamp": Wording("The glass of {subject} in {place} gets to {hottest:apart}. A spot of {material} withstands {limit:apart}.", _TOUCHES, f"{_OFF}, or use an LED."),
            "resistor": Wording(f"{{subject}} gets {_BESIDE}", _TOUCHES, _LARGER),
            "stuck": Wording(f"{_STUCK} {{subject}} gets {_BESIDE}", _TOUCHES, _LARGER),
            "stuck glass": Wording(f"{_STUCK} the glass of {{subject}} in {{place}} gets to {{hottest:apart}}. A spot of {{material}} withstands {{limit:apart}}.", _TOUCHES, f"{_OFF}, or use an LED."),
        },
    ),
)  # fmt: skip
