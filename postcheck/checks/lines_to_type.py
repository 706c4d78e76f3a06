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
    from postcheck.survey.bench.test_points import Tap
    from postcheck.survey.closing.coverage import Needed

__all__ = ["MEND_FIRST", "lines_to_type"]

MEND_FIRST = "# "
"""A line that says why something is not to be tested as it is begins so."""


def lines_to_type(survey: Survey, missing: Iterable[Needed]) -> Iterator[str]:
    """The lines to add to the file, one proof for each test that is asked for."""
    asked: dict[tuple[str, str], bool] = {}  # and whether somebody has to look besides
    for one in missing:
        asked[one.ask] = asked.get(one.ask, False) or one.unseen
    for number, ((kind, name), unseen) in enumerate(asked.items()):
        if number:
            yield ""
        tap = _tap(survey, kind, name)
        if tap is not None and (never := _never(survey, tap)):
            yield never
            continue
        yield "[[proof]]"
        yield f"subject = {_in_toml(subject_of(survey.build, kind, name))}"
        yield from _to_measure(survey, kind, name, tap)
        if unseen:
            yield 'done    = "..."        # that all of it was seen to light: one that is dark hardly shows in the current'
        yield f"date    = {survey.today.isoformat()}"


def _tap(survey: Survey, kind: str, name: str) -> Tap | None:
    if kind == "circuit":
        from postcheck.survey.closing.coverage import origin_tap  # noqa: PLC0415 - only where something is to be closed

        return origin_tap(survey.wiring, survey.bench, name)
    return survey.bench.lead(kind, name)


def _safe(survey: Survey, tap: Tap) -> Setting | None:
    """The setting that cannot hurt a bare lamp, where it is tried at that."""
    known = survey.bench.figures(tap) if tap.guard == "none" else None
    return known.setting if known is not None and known.setting is not None and known.setting.held else None


def _never(survey: Survey, tap: Tap) -> str:
    """Why a test at the usual volts is not asked for: it would harm a lamp, or light none."""
    usual = survey.bench.usual_volts(tap)
    if usual is None or not tap.guards or _safe(survey, tap) is not None or _backwards(survey, tap):
        return ""
    about = f"{MEND_FIRST}{shown_parts([Subject(tap.kind, tap.name)], KIND)} is not tested before it is mended: at {volts(usual)}"
    if (over := survey.bench.over(tap, usual)) is not None:
        name, most, rated = over
        return f"{about} {quoted(name)} takes {amps(most)}, and {amps(rated)} is its rating"
    band = survey.bench.expected(tap, usual, guarded=True)
    if band is not None and band.most < survey.limits.value("bench.lights"):
        return f"{about} nothing lights"
    return ""


def _backwards(survey: Survey, tap: Tap) -> bool:
    """Whether it is the lead of a lamp that is wired the wrong way round on purpose, and stays dark at the bench."""
    return tap.kind == "lamp" and any(lamp.name == tap.name and lamp.backwards for lamp in survey.parts.lamps)


def _to_measure(survey: Survey, kind: str, name: str, tap: Tap | None) -> Iterator[str]:
    if kind in ("run", "plug"):
        yield "continuity = true      # from end to end"
        return
    if kind in ("board", "supply"):
        yield 'done    = "..."        # what it drove, and how it was seen to work'
        return
    if tap is not None and _backwards(survey, tap):
        yield 'done    = "..."        # how it was lit: it is wired the wrong way round on purpose'
        return
    if tap is not None and kind == "circuit" and tap.plus.place != survey.wiring.drivers[name].place:
        yield f"at      = {_in_toml(tap.plus.place)}"
    yield from _current(survey, tap)
    if kind in ("lamp", "circuit"):
        yield f'hours   = "{survey.limits.value("closing.run") / 3600.0:g} h"'


def _current(survey: Survey, tap: Tap | None) -> Iterator[str]:
    usual = survey.bench.usual_volts(tap) if tap is not None else None
    if tap is None or usual is None:
        yield 'volts   = "..."'
        yield 'current = "..."'
        return
    if (safe := _safe(survey, tap)) is not None:
        yield f'volts   = "{volts(safe.volts)}"'
        yield f'limit   = "{amps(safe.limit)}"      # set on the bench supply'
        yield f'current = "..."        # {amps(safe.expected.usual)}'
        return
    band = survey.bench.expected(tap, usual, guarded=True)
    through = _through(survey, tap)
    yield f'volts   = "{volts(usual)}"{f"       # {through}" if through else ""}'
    yield 'current = "..."' + (
        f"        # {amps(band.usual)}, from {amps(band.least)} to {amps(band.most)}" if band else ""
    )


def _through(survey: Survey, tap: Tap) -> str:
    """The words for the resistors that the lead of a lamp does not hold, and that are needed at the bench."""
    if tap.kind != "lamp" or tap.guard not in ("here", "behind"):
        return ""
    lamp = next(lamp for lamp in survey.parts.lamps if lamp.name == tap.name)
    if lamp.resistor is None:
        return ""
    each = "each string through its own" if own_resistors(survey, tap) else "through its"
    return f"{each} {ohms(lamp.resistor.ohms)}"


def _in_toml(text: str) -> str:
    """A name as it is typed in a file; what cannot be seen is escaped as TOML 1.0 knows it, which has no two-digit escape."""
    escaped = "".join(f"\\{one}" if one in '\\"' else harmless(one).replace("\\x", "\\u00") for one in text)
    return f'"{escaped}"'
