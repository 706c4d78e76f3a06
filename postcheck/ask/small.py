"""The small build behind a question, and what the checks say of it."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import Any

from postcheck.ask.mistake import Mistake
from postcheck.checks.record import Check
from postcheck.description.models import Build
from postcheck.description.printing import format_quantity
from postcheck.description.problems import BuildError
from postcheck.description.units import Dimension
from postcheck.limits import LimitName, Limits
from postcheck.reading.loading import built
from postcheck.report import Effort, Finding, Limited
from postcheck.survey import Survey
from postcheck.survey.network.supplies import source_of

SUPPLY = "supply"
"""The name of the only supply of a small build."""

_PLACES = {"here": {"access": "open"}, "there": {"access": "open"}}


def survey_of(tables: Mapping[str, Any], effort: Effort = "quick") -> Survey:
    """The survey of a build with these tables and the places `here` and `there`; Mistake where a file would be refused."""
    try:
        build = built({"format": 1, "build": {"name": "a question"}, "place": _PLACES, **tables})
    except BuildError as error:
        raise Mistake(str(error.problems[0])) from None
    limits = Limits()
    _within_scope(build, limits)
    return Survey(build, limits, effort=effort)


def fed_through(
    wire: str | None, length: str, current: str, on: str, starting: str | None = None
) -> dict[str, Any]:
    """The tables of a load on a supply, through so much of a wire there and as much back; beside the supply without a wire."""
    load = {
        "name": "load",
        "circuit": "lights",
        "place": "here" if wire is None else "there",
        "typical": current,
    }
    tables: dict[str, Any] = {
        "supply": {SUPPLY: {"kind": "adaptor", "place": "here", "volts": on}},
        "circuit": {"lights": {"supply": SUPPLY}},
        "load": [load if starting is None else {**load, "starting": starting}],
    }
    if wire is not None:
        run = {"ends": ["here", "there"], "length": length, "wire": wire}
        tables["run"] = [
            {**run, "name": "there", "line": "lights"},
            {**run, "name": "back", "line": f"{SUPPLY}-"},
        ]
    return tables


def _within_scope(build: Build, limits: Limits) -> None:
    most = limits.value("volts.scope")
    for supply in build.supply.values():
        volts = source_of(supply, 1)[0]
        if volts > most:
            raise Mistake(
                f"the supply can stand at {format_quantity(volts, Dimension.VOLTAGE)}; above "
                f"{format_quantity(most, Dimension.VOLTAGE)} DC, and on mains, nothing is judged here: "
                "that is for licensed people"
            )


def found(survey: Survey, checks: Iterable[Check], names: Collection[str]) -> dict[str, Finding]:
    """What the checks of these names find, by the name of the check."""
    results = (result for check in checks if check.name in names for result in check.results(survey))
    return {result.check: result for result in results if isinstance(result, Finding)}


def never_arrives(survey: Survey, current: float, way: str, supplied: float) -> tuple[float, str]:
    """The volts that a current takes along the only wire there and back, cold, and how to say that they are too many."""
    takes = 2.0 * current * survey.parts.runs[0].ohms(20.0)
    amps, needs, has = (
        format_quantity(current, Dimension.CURRENT),
        *(format_quantity(volts, Dimension.VOLTAGE) for volts in (takes, supplied)),
    )
    return takes, f"{amps} through {way} there and as much back would take {needs}, more than {has}"


def limited(survey: Survey, name: LimitName) -> Limited:
    """A limit as an answer carries it."""
    limit = survey.limits[name]
    return Limited(limit.value, limit.unit, limit.source)
