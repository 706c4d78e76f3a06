"""The test records that are still to be made, as they are typed in the file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from postcheck.checks.shown import KIND, amps, ohms, shown, shown_parts, volts
from postcheck.description.subjects import subject_of
from postcheck.plain import harmless, quoted
from postcheck.report import Figure, Subject
from postcheck.survey import Survey

if TYPE_CHECKING:
    from postcheck.survey.closing.asked import Asked
    from postcheck.survey.closing.figures import Needed
    from postcheck.survey.closing.refused import Never

MEND_FIRST = "# "
"""A line that says why something is not to be tested as it is begins so."""


def lines_to_type(survey: Survey, missing: Iterable[Needed]) -> Iterator[str]:
    """The lines to add to the file, one test record for each test that is asked for."""
    from postcheck.survey.closing.asked import asked  # noqa: PLC0415 - only where something is to be closed

    for number, test in enumerate(asked(survey, missing)):
        if number:
            yield ""
        if test.never is not None:
            yield f"{MEND_FIRST}{mend_first(test.kind, test.name, test.never)}"
            continue
        subject = f"subject = {in_toml(subject_of(survey.kinds_by_name, test.kind, test.name))}"
        yield from ("[[proof]]", subject)
        yield from _to_measure(test._replace(hours=None) if test.heats else test)
        if test.unseen:
            yield 'done    = "..."        # that all of it was seen to light: one that is dark hardly shows in the current'
        date = f"date    = {survey.today.isoformat()}"
        yield date
        if test.heats and test.hours is not None:
            yield from ("", "[[proof]]", subject)
            yield f'hours   = "{test.hours / 3600.0:g} h"        # as it is lit in the model: held on for hours it gets {quoted(test.heats)} too hot'
            yield date


def mend_first(kind: str, name: str, never: Never) -> str:
    """Why a thing is not tested as it is."""
    thing = shown_parts([Subject(kind, name)], KIND)
    if never.why == "scope":
        return f"{thing} is not tested here: {why_never(never)}. Leave it to someone licensed for it"
    return f"{thing} is not tested before it is mended: {why_never(never)}"


def why_never(never: Never) -> str:
    """What a bench supply would do to it."""
    about = quoted(never.name)
    if never.why != "scope":
        return _harm(never, about)
    puts = (
        f"{about} puts out {volts(never.value)}"
        if never.name
        else f"there are {volts(never.value)} in its wiring"
    )
    return f"{puts}, and nothing above {volts(never.limit)} is judged safe"


def _harm(never: Never, about: str) -> str:
    at = f"at {volts(never.volts)}"
    if never.why == "dark":
        return f"{at} nothing lights"
    if never.why == "eyes":
        return f"the light of {about} burns eyes and skin"
    if never.why == "load":
        return f"{about} gets {volts(never.value)}, and is made for {volts(never.limit)} at most"
    if never.why == "wire":
        gets = f"gets to {shown(Figure(never.value, 'degC'))}" if never.value else "melts"
        return f"{at} run {about} {gets}, and its insulation withstands {shown(Figure(never.limit, 'degC'))}"
    takes, rating = amps(never.value), f"{amps(never.limit)} is its rating"
    if never.why == "traces":
        return f"{at} {takes} flows through the traces of {about}, and {amps(never.limit)} is their rating"
    who = {"strip": "each LED of ", "shared": "one string of "}.get(never.why, "")
    return f"{at} {who}{about} takes {takes}, and {rating}"


def _to_measure(test: Asked) -> Iterator[str]:
    if test.measures == "continuity":
        yield "continuity = true      # from end to end"
        return
    if test.measures == "work":
        how = (
            "how it was lit: it is wired the wrong way round on purpose"
            if test.test_point is not None
            else "that all of it lit on its own output, which sets its current: no bench supply"
            if test.kind in ("circuit", "lamp")
            else "what it drove, and how it was seen to work"
        )
        yield f'done    = "..."        # {how}'
        if test.hours is not None:
            yield f'hours   = "{test.hours / 3600.0:g} h"'
        return
    if test.at is not None:
        yield f"at      = {in_toml(test.at)}"
    yield from _current(test)
    if test.hours is not None:
        white = "        # with its data on and every pixel white" if test.white and not test.heats else ""
        yield f'hours   = "{test.hours / 3600.0:g} h"{white}'


def _current(test: Asked) -> Iterator[str]:
    setting = test.setting
    if setting is None:
        yield 'volts   = "..."'
        yield 'current = "..."'
        return
    band = setting.expected
    if setting.held:
        yield f'volts   = "{volts(setting.volts)}"'
        yield f'limit   = "{amps(setting.limit)}"      # set on the bench supply'
        yield f'current = "..."        # {amps(band.usual)}'
        return
    through = ", ".join(
        filter(None, (_through(test), "no more: it stands its current in pulses only" if test.less else ""))
    )
    yield f'volts   = "{volts(setting.volts)}"{f"       # {through}" if through else ""}'
    yield f'current = "..."        # {amps(band.usual)}, from {amps(band.least)} to {amps(band.most)}'


def _through(test: Asked) -> str:
    """The words for the resistors that the lead of a lamp does not hold, and that are needed at the bench."""
    if test.ohms is None:
        return ""
    return f"{'each string through its own' if test.each else 'through its'} {ohms(test.ohms)}"


def in_toml(text: str) -> str:
    """A name as it is typed in a file; what cannot be seen is escaped as TOML 1.0 knows it, which has no two-digit escape."""
    escaped = "".join(f"\\{one}" if one in '\\"' else harmless(one).replace("\\x", "\\u00") for one in text)
    return f'"{escaped}"'
