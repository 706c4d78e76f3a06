"""Before the glue: whether what a place will hide is proven, has run, and leaves no caution open."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from postcheck.checks.proofs import called, own_resistors
from postcheck.checks.record import Check
from postcheck.checks.shown import amps, count_of, listed, ohms, span, volts
from postcheck.description.subjects import subject_of
from postcheck.plain import harmless, quoted
from postcheck.report import Figure, Finding, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.bench.whereabouts import places_of

if TYPE_CHECKING:
    from postcheck.survey.bench.figures import Setting
    from postcheck.survey.bench.test_points import Tap
    from postcheck.survey.closing.coverage import Closing, Needed

__all__ = ["CHECKS", "open_cautions"]

_KINDS = ("lamp", "strip", "load", "resistor", "joint", "join", "run", "plug", "board", "supply")
_NEVER = "# "  # a line that says why something is not to be tested begins so
_MANY = {"join": "joins of lines", "supply": "supplies"}
_ONE = {"join": "join of lines"}


def _unproven(survey: Survey) -> Iterator[Finding | NotJudged]:
    weighed = {accept.finding for accept in survey.build.accept}
    for closing in survey.closing.values():
        # what the builder lives with untested is told by itself; the rest of its place together
        alone: dict[str, list[Needed]] = {}
        for one in closing.unproven:
            named = f"{one.name} in {closing.place}"
            alone.setdefault(named if f"closing.unproven:{named}" in weighed else "", []).append(one)
        for named, missing in alone.items():
            about = Subject(missing[0].kind, named) if named else Subject("place", closing.place)
            yield _lacks(survey, closing, about, missing)


_LATER = {
    "sealed": "What is sealed in is reached by cutting only. A test now takes minutes; afterwards it costs the paint.",
    "cover": "A test now takes minutes; afterwards it takes the cover off, and whatever else is in the way by then.",
    "open": "A test now takes minutes; what shows only when all stands together takes an evening to find.",
}


def _lacks(survey: Survey, closing: Closing, about: Subject, missing: list[Needed]) -> Finding:
    whole = about.kind == "place"
    lines = tuple(_entries(survey, missing))
    ready = f"{quoted(closing.place)} is not ready to be closed: nothing" if whole else "nothing"
    return Finding(
        "closing.unproven", "stop", about,
        f"{ready} proves {_counted(missing)}{'' if whole else f' in {quoted(closing.place)}'}.",
        _LATER[survey.build.place[closing.place].access],
        ("place", closing.place),
        remedy=_to_do(lines),
        lines=lines,
        figures={"needed": Figure(len(closing.needed), ""), "unproven": Figure(len(missing), "")},
        firm=f"what cannot be tested is accepted one by one, as in closing.unproven:{missing[0].name} in {closing.place}"
        if whole else "",
    )  # fmt: skip


def _to_do(lines: tuple[str, ...]) -> str:
    """What to do about what is untested; some of it is not to be tested as it is."""
    tests, first = "[[proof]]" in lines, any(line.startswith(_NEVER) for line in lines)
    if first and not tests:
        return (
            "Mend first what is named below; then test it, write down what the meter shows, and check again."
        )
    test = "Test these, write down what the meter shows, and check again."
    return f"{test} What is not to be tested as it is comes first: mend it." if first else test


def _counted(missing: Iterable[Needed]) -> str:
    """As in: 2 lamps ('bow', 'stern') and 1 run ('feed')."""
    by_kind: dict[str, list[str]] = {}
    for one in missing:
        by_kind.setdefault(one.kind, []).append(one.name)
    told = []
    for kind in _KINDS:
        if names := by_kind.get(kind):
            of = "of " if kind in ("resistor", "joint") else ""
            told.append(
                f"{count_of(len(names), _ONE.get(kind, kind), _MANY.get(kind))} ({of}{listed(names)})"
            )
    return told[0] if len(told) == 1 else f"{', '.join(told[:-1])} and {told[-1]}"


def _entries(survey: Survey, missing: Iterable[Needed]) -> Iterator[str]:
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
    about = f"{_NEVER}{called(tap.kind, tap.name)} is not tested before it is mended: at {volts(usual)}"
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


def _short_run(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["closing.run"]
    for closing in survey.closing.values():
        short = [(name, seconds) for name, seconds in closing.ran if seconds < limit.value * (1.0 - 1e-9)]
        if not short:
            continue
        longest = max(seconds for _, seconds in short)
        ran = f"has run for {span(longest)} at most" if longest else "has not run yet"
        if len(short) > 1:
            ran = f"have run for {span(longest)} at most" if longest else "have not run yet"
        yield Finding(
            "closing.short-run", "caution", Subject("place", closing.place),
            f"{listed([name for name, _ in short])} in {quoted(closing.place)} {ran}; {span(limit.value)} are usual before a lamp is closed in.",
            "Bad joints and weak lamps fail in their first hours.",
            ("place", closing.place),
            remedy=f"Let them run for {span(limit.value)}, with the place as closed as it will be, and write it down as hours.",
            figures={"longest": Figure(longest, "s")},
            limit=Limited(limit.value, limit.unit, limit.source),
        )  # fmt: skip


def open_cautions(survey: Survey, findings: Iterable[Finding]) -> Iterator[Finding]:
    """Cautions that are neither mended nor accepted when something is about to be closed. Judged last of all.

    Where places are named, those count that are in one of them or go through it; the others can still be mended after.
    """
    if not survey.closing:
        return
    cautions = [finding for finding in findings if finding.severity == "caution" and finding.accepted is None]
    here = [finding.id for finding in cautions if _concerns(survey, finding)]
    elsewhere = [finding.id for finding in cautions if finding.id not in here]
    if not cautions:
        return
    about, path = Subject("build", survey.build.build.name), ("build", "stage")
    rest = (
        f"{count_of(len(elsewhere), 'caution')} elsewhere {'is' if len(elsewhere) == 1 else 'are'} still open"
    )
    figures = {"open": Figure(len(here), ""), "elsewhere": Figure(len(elsewhere), "")}
    if not here:
        yield Finding(
            "closing.open", "note", about, f"{rest}: {listed(elsewhere, 8)}.",
            f"{'It does' if len(elsewhere) == 1 else 'They do'} not touch {listed(list(survey.closing))}, and can be mended afterwards.",
            path, figures=figures,
        )  # fmt: skip
        return
    yield Finding(
        "closing.open", "stop", about,
        f"{count_of(len(here), 'caution')} {'is' if len(here) == 1 else 'are'} neither mended nor accepted: {listed(here, 8)}{f'; {rest}' if elsewhere else ''}.",
        "What is easily mended now is not once it is closed; what is left as it is should be left on purpose.",
        path,
        remedy="Mend them, or accept each one by its name with a reason ([[accept]]).",
        figures=figures,
        firm="each caution is accepted by its own name, not all at once",
    )  # fmt: skip


def _concerns(survey: Survey, finding: Finding) -> bool:
    """Whether a caution has to be settled before the named places are closed; where none is named, before any is."""
    if not survey.named_closing:
        return True
    path = ("place", finding.subject.name) if finding.subject.kind == "place" else finding.path
    places = places_of(survey.build, survey.parts, path)
    return places is None or not places.isdisjoint(survey.closing)


CHECKS: tuple[Check, ...] = (
    Check(
        name="closing.unproven",
        severity="stop",
        subject="place",
        line="a place that is about to be closed holds what no proof covers",
        why="What is sealed in is reached by cutting only, and what is covered costs an evening.",
        formula="each lamp: a measured current within its band, its own or one of its circuit that would be less without it; strips, loads, boards and supplies: that, or a proof that they work; resistors, joints, runs and pins: a current that goes through them, or continuity",
        limits=("proof.meter",),
        source="common practice: everything is tested before it is closed in",
        judge=_unproven,
    ),
    Check(
        name="closing.short-run",
        severity="caution",
        subject="place",
        line="a lamp that is about to be closed in has hardly run",
        why="Bad joints and weak lamps fail in their first hours.",
        formula="the longest of the latest runs of it, its circuit, and, where a current shows that it hangs there, its board or supply",
        limits=("closing.run",),
        source="common practice: burning-in",
        judge=_short_run,
    ),
    Check(
        name="closing.open",
        severity="stop",
        subject="build",
        line="something is about to be closed while a caution is open",
        why="What is left as it is should be left on purpose.",
        formula="cautions that are not accepted: where a place is named to be closed, of what is in it or goes through it; at the stage closing, all",
        limits=(),
        source="common practice",
        judge=None,
    ),
)
