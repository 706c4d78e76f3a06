"""What has no figures that mean anything, because a lamp in it or on it is destroyed at once."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from postcheck.survey.network.dice import destroyed

if TYPE_CHECKING:
    from postcheck.survey import Survey


class Beyond(NamedTuple):
    """By name, with the first lamp that is destroyed there: supplies with all that feeds them, and places. `lamps`: all of them."""

    lamps: tuple[str, ...]
    supplies: dict[str, str]
    places: dict[str, str]


def beyond_figures(survey: Survey) -> Beyond:
    """The lamps that are destroyed by what they get, the supplies that they are on, and the places that they, their resistors and leads warm."""
    found = Beyond(
        tuple(
            name
            for name, lamp in survey.electrics.lamps.items()
            if not lamp.part.backwards and destroyed(lamp.part.dice, lamp.nominal, survey.limits)
        ),
        {},
        {},
    )
    for name in found.lamps:
        part = survey.electrics.lamps[name].part
        source = survey.wiring.drivers[part.circuit].supply
        while source is not None and source not in found.supplies:
            found.supplies[source] = name
            source = survey.build.supply[source].fed_by
        for place in (
            part.place,
            *part.places,
            part.supply_leg.to,
            part.return_leg.to,
            part.resistor and part.resistor.place,
        ):
            if place:
                found.places.setdefault(place, name)
    return found
