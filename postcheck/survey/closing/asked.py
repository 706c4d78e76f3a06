"""The tests that closing asks for: what is tested, at which setting of the bench, and what a sound one shows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal, NamedTuple

from postcheck.survey.bench.bench import Bench
from postcheck.survey.bench.figures import Setting
from postcheck.survey.bench.test_points import TestPoint, own_resistors
from postcheck.survey.closing.current_paths import origin_test_point
from postcheck.survey.closing.figures import Needed
from postcheck.survey.closing.refused import (
    Never,
    Sections,
    beyond,
    held_on_too_hot,
    loads_at,
    out_of_scope,
    pulses_alone,
    refused,
)

_WORKS = ("board", "supply")
_CONDUCTS = ("run", "plug")
_RUNS = ("lamp", "circuit")


class Asked(NamedTuple):
    """A test of a thing. A, V, ohm, s.

    `measures`: its current, whether it goes from end to end (`continuity`), or that somebody sees it work (`work`), or only
    how long it has run (`hours`). `unseen`: of a current, that somebody has to look besides. `at`: the place, where that is
    not where its circuit begins. `setting`: of the bench supply; None where its volts are not known, or it is `never` tested
    as it is. `ohms`: the resistors to be put in its way, `each` string through its own. `hours`: how long it is left on.
    `less`: at fewer volts than in the model, where it has its current in pulses. `heats`: the place that gets too hot if it
    is held on for so long; then it runs as it is lit in the model. `white`: there are pixels in it,
    which warm it most when all of them are white.
    """

    kind: str
    name: str
    measures: Literal["current", "continuity", "work", "hours"]
    needed: tuple[Needed, ...] = ()
    unseen: bool = False
    test_point: TestPoint | None = None
    at: str | None = None
    setting: Setting | None = None
    ohms: float | None = None
    each: bool = False
    hours: float | None = None
    never: Never | None = None
    less: bool = False
    heats: str = ""
    white: bool = False


def asked(survey: Sections, missing: Iterable[Needed]) -> Iterator[Asked]:
    """One test for each thing that has to be tested, in the order in which they are asked for."""
    tests: dict[tuple[str, str], list[Needed]] = {}
    for one in missing:
        tests.setdefault(one.ask, []).append(one)
    for (kind, name), needed in tests.items():
        yield asked_of(survey, kind, name)._replace(
            needed=tuple(needed), unseen=any(one.unseen for one in needed)
        )


def asked_of(survey: Sections, kind: str, name: str) -> Asked:
    """The test of one thing."""
    bench = survey.bench
    if kind in _CONDUCTS or kind in _WORKS:
        return Asked(kind, name, "continuity" if kind in _CONDUCTS else "work")
    test_point = origin_test_point(bench.wiring, bench, name) if kind == "circuit" else bench.lead(kind, name)
    if test_point is not None and _backwards(bench, test_point):
        return Asked(kind, name, "work", test_point=test_point, never=beyond(survey, test_point))
    bare = Asked(
        kind,
        name,
        "current",
        test_point=test_point,
        hours=bench.limits.value("closing.run") if kind in _RUNS else None,
    )
    if test_point is None:
        return bare._replace(never=out_of_scope(survey, name)) if kind == "circuit" else bare
    if (never := beyond(survey, test_point)) is not None:
        return bare._replace(never=never)
    held, usual = _held(bench, test_point), bench.usual_volts(test_point)
    ohms = _own_ohms(bench, test_point)
    never = refused(survey, test_point, usual) if held is None and usual is not None else None
    steady = bench.wiring.drivers[test_point.circuit].steady is not None
    if steady and never is not None and never.why in ("rating", "shared"):
        # its resistors do not set its current, its output does: a bench supply at these volts would burn it
        return bare._replace(measures="work", test_point=None)
    gentle = None
    if never is not None and never.why == "rating" and pulses_alone(survey, test_point):
        gentle = bench.gentle_setting(test_point)
        never = refused(survey, test_point, gentle.volts) if gentle is not None else never
    return bare._replace(
        at=test_point.plus.place
        if kind == "circuit" and test_point.plus.place != bench.wiring.drivers[name].place
        else None,
        setting=held or (gentle or bench.usual_setting(test_point) if never is None else None),
        ohms=ohms,
        each=ohms is not None and test_point.string is None and own_resistors(bench.wiring.parts, test_point),
        never=never,
        less=gentle is not None and never is None,
        heats=held_on_too_hot(survey, test_point)
        if kind in _RUNS and held is None and gentle is None
        else "",
        white=any(load.pixels and load.stays_at_most for load in loads_at(survey, test_point)),
    )


def _held(bench: Bench, test_point: TestPoint) -> Setting | None:
    """The setting that cannot hurt a bare lamp, where it is tried at that.

    Not of lamps of several sorts: the one with the least volts would take all, and what the meter shows prove nothing.
    """
    behind = {*test_point.lamps}
    sorts = {part.dice for part in bench.wiring.parts.lamps if part.name in behind}
    bare = {position for _, position in test_point.resistor_positions} == {"none"}
    known = bench.figures(test_point) if bare and len(sorts) == 1 else None
    return known.setting if known is not None and known.setting is not None and known.setting.held else None


def _backwards(bench: Bench, test_point: TestPoint) -> bool:
    """Whether it is the lead of a lamp that is wired the wrong way round on purpose, and stays dark at the bench."""
    return test_point.kind == "lamp" and any(
        lamp.name == test_point.name and lamp.backwards for lamp in bench.wiring.parts.lamps
    )


def _own_ohms(bench: Bench, test_point: TestPoint) -> float | None:
    """The resistor that the lead of a lamp does not hold, and that is needed at the bench."""
    if test_point.kind != "lamp" or test_point.resistor_position not in ("here", "behind"):
        return None
    # of one string, or of all of them
    lamp = next(lamp for lamp in bench.wiring.parts.lamps if lamp.name in test_point.lamps)
    return lamp.resistor.ohms if lamp.resistor is not None else None
