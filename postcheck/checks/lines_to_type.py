"""The test records that are still to be made, as they are typed in the file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from postcheck.checks.measured import own_resistors
from postcheck.checks.shown import KIND, amps, ohms, shown_parts, volts
from postcheck.description.subjects import subject_of
from postcheck.plain import harmless, quoted
from postcheck.report import Subject
from postcheck.survey import Survey

if TYPE_CHECKING:
    from postcheck.survey.bench.figures import Setting
    from postcheck.survey.bench.test_points import TestPoint
    from postcheck.survey.closing.figures import Needed

MEND_FIRST = "# "
"""A line that says why something is not to be tested as it is begins so."""


def lines_to_type(survey: Survey, missing: Iterable[Needed]) -> Iterator[str]:
    """The lines to add to the file, one test record for each test that is asked for."""
    asked: dict[tuple[str, str], bool] = {}  # and whether somebody has to look besides
    for one in missing:
        asked[one.ask] = asked.get(one.ask, False) or one.unseen
    for number, ((kind, name), unseen) in enumerate(asked.items()):
        if number:
            yield ""
        test_point = _test_point(survey, kind, name)
        if test_point is not None and (never := _never(survey, test_point)):
            yield never
            continue
        yield "[[proof]]"
        yield f"subject = {in_toml(subject_of(survey.build, kind, name))}"
        yield from _to_measure(survey, kind, name, test_point)
        if unseen:
            yield 'done    = "..."        # that all of it was seen to light: one that is dark hardly shows in the current'
        yield f"date    = {survey.today.isoformat()}"


def _test_point(survey: Survey, kind: str, name: str) -> TestPoint | None:
    if kind == "circuit":
        from postcheck.survey.closing.current_paths import origin_test_point  # noqa: PLC0415 - only where something is to be closed

        return origin_test_point(survey.wiring, survey.bench, name)
    return survey.bench.lead(kind, name)


def _safe(survey: Survey, test_point: TestPoint) -> Setting | None:
    """The setting that cannot hurt a bare lamp, where it is tried at that."""
    known = survey.bench.figures(test_point) if test_point.resistor_position == "none" else None
    return known.setting if known is not None and known.setting is not None and known.setting.held else None


def _never(survey: Survey, test_point: TestPoint) -> str:
    """Why a test at the usual volts is not asked for: it would harm a lamp, or light none."""
    usual = survey.bench.usual_volts(test_point)
    if (
        usual is None
        or not test_point.resistor_positions
        or _safe(survey, test_point) is not None
        or _backwards(survey, test_point)
    ):
        return ""
    about = f"{MEND_FIRST}{shown_parts([Subject(test_point.kind, test_point.name)], KIND)} is not tested before it is mended: at {volts(usual)}"
    if (over := survey.bench.over(test_point, usual)) is not None:
        name, most, rated = over
        return f"{about} {quoted(name)} takes {amps(most)}, and {amps(rated)} is its rating"
    band = survey.bench.expected(test_point, usual, with_resistors=True)
    if band is not None and band.most < survey.limits.value("bench.lights"):
        return f"{about} nothing lights"
    return ""


def _backwards(survey: Survey, test_point: TestPoint) -> bool:
    """Whether it is the lead of a lamp that is wired the wrong way round on purpose, and stays dark at the bench."""
    return test_point.kind == "lamp" and any(
        lamp.name == test_point.name and lamp.backwards for lamp in survey.parts.lamps
    )


def _to_measure(survey: Survey, kind: str, name: str, test_point: TestPoint | None) -> Iterator[str]:
    if kind in ("run", "plug"):
        yield "continuity = true      # from end to end"
        return
    if kind in ("board", "supply"):
        yield 'done    = "..."        # what it drove, and how it was seen to work'
        return
    if test_point is not None and _backwards(survey, test_point):
        yield 'done    = "..."        # how it was lit: it is wired the wrong way round on purpose'
        return
    if (
        test_point is not None
        and kind == "circuit"
        and test_point.plus.place != survey.wiring.drivers[name].place
    ):
        yield f"at      = {in_toml(test_point.plus.place)}"
    yield from _current(survey, test_point)
    if kind in ("lamp", "circuit"):
        yield f'hours   = "{survey.limits.value("closing.run") / 3600.0:g} h"'


def _current(survey: Survey, test_point: TestPoint | None) -> Iterator[str]:
    usual = survey.bench.usual_volts(test_point) if test_point is not None else None
    if test_point is None or usual is None:
        yield 'volts   = "..."'
        yield 'current = "..."'
        return
    if (safe := _safe(survey, test_point)) is not None:
        yield f'volts   = "{volts(safe.volts)}"'
        yield f'limit   = "{amps(safe.limit)}"      # set on the bench supply'
        yield f'current = "..."        # {amps(safe.expected.usual)}'
        return
    band = survey.bench.expected(test_point, usual, with_resistors=True)
    through = _through(survey, test_point)
    yield f'volts   = "{volts(usual)}"{f"       # {through}" if through else ""}'
    yield 'current = "..."' + (
        f"        # {amps(band.usual)}, from {amps(band.least)} to {amps(band.most)}" if band else ""
    )


def _through(survey: Survey, test_point: TestPoint) -> str:
    """The words for the resistors that the lead of a lamp does not hold, and that are needed at the bench."""
    if test_point.kind != "lamp" or test_point.resistor_position not in ("here", "behind"):
        return ""
    # of one string, or of all of them
    lamp = next(lamp for lamp in survey.parts.lamps if lamp.name in dict(test_point.resistor_positions))
    if lamp.resistor is None:
        return ""
    several = test_point.string is None and own_resistors(survey, test_point)
    each = "each string through its own" if several else "through its"
    return f"{each} {ohms(lamp.resistor.ohms)}"


def in_toml(text: str) -> str:
    """A name as it is typed in a file; what cannot be seen is escaped as TOML 1.0 knows it, which has no two-digit escape."""
    escaped = "".join(f"\\{one}" if one in '\\"' else harmless(one).replace("\\x", "\\u00") for one in text)
    return f'"{escaped}"'
