"""Before the glue: whether what a place will hide is proven, has run, and leaves no caution open."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from postcheck.checks.fact import Fact, Within, limited
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.description.consumers import CONSUMERS
from postcheck.report import Figure, Finding, Subject
from postcheck.survey import Survey

if TYPE_CHECKING:
    from postcheck.survey.closing.figures import Closing, Needed


def _unproven(survey: Survey) -> Iterator[Fact]:
    waived = {accept.finding for accept in survey.build.accept}
    for closing in survey.closing.values():
        # each part that is accepted untested has a finding of its own; the rest of its place has one together
        alone: dict[str, list[Needed]] = {}
        for one in closing.unproven:
            named = f"{one.name} in {closing.place}"
            alone.setdefault(named if f"closing.unproven:{named}" in waived else "", []).append(one)
        for named, missing in alone.items():
            about = Subject(missing[0].kind, named) if named else Subject("place", closing.place)
            yield _lacks(survey, closing, about, missing)


def _lacks(survey: Survey, closing: Closing, about: Subject, missing: list[Needed]) -> Fact:
    from postcheck.checks.lines_to_type import MEND_FIRST, lines_to_type  # noqa: PLC0415 - most lack nothing

    by_kind: dict[str, list[Subject]] = {}
    for one in missing:
        by_kind.setdefault(one.kind, []).append(Subject(one.kind, one.name))
    lines = tuple(lines_to_type(survey, missing))
    tests, first = "[[proof]]" in lines, any(line.startswith(MEND_FIRST) for line in lines)
    return Fact(
        "stop",
        about,
        ("place", closing.place),
        "tests, mend first" if tests and first else "mend first" if first else "tests",
        survey.build.place[closing.place].access,
        figures={
            "needed": Figure(float(len(closing.needed)), ""),
            "unproven": Figure(float(len(missing)), ""),
            **{f"{kind}_count": Figure(float(len(parts)), "") for kind, parts in by_kind.items()},
        },
        parts={
            "place": Subject("place", closing.place),
            **{kind: tuple(parts) for kind, parts in by_kind.items()},
        },
        lines=lines,
        firm=f"what cannot be tested is waived one by one, as in closing.unproven:{missing[0].name} in {closing.place}"
        if about.kind == "place"
        else "",
    )


def _short_run(survey: Survey) -> Iterator[Fact | Within]:
    limit = survey.limits["closing.run"]
    for closing in survey.closing.values():
        ran = [
            Within(Subject("lamp", name), seconds, limited(limit), least=True)
            for name, seconds in closing.ran
        ]
        yield from ran
        short = [within for within in ran if not within.kept]
        if not short:
            continue
        longest = max(within.value for within in short)
        yield Fact(
            "caution",
            Subject("place", closing.place),
            ("place", closing.place),
            "short" if longest else "not yet",
            figures={"longest": Figure(longest, "s"), "short": Figure(float(len(short)), "")},
            parts={"lamps": tuple(within.subject for within in short)},
            limit=limited(limit),
        )


def open_cautions(survey: Survey, findings: Iterable[Finding]) -> Iterator[Finding]:
    """Cautions that are neither mended nor waived when something is about to be closed. Judged last of all.

    Where places are named, those count that are in one of them or go through it; the others can still be mended after.
    """
    if not survey.closing:
        return
    cautions = [finding for finding in findings if finding.severity == "caution" and finding.accepted is None]
    here = [finding.id for finding in cautions if _concerns(survey, finding)]
    elsewhere = [finding.id for finding in cautions if finding.id not in here]
    if not cautions:
        return
    figures = {"open": Figure(float(len(here)), ""), "elsewhere": Figure(float(len(elsewhere)), "")}
    parts = {"cautions": tuple(Subject("finding", name) for name in here or elsewhere)}
    if here and elsewhere:
        figures["further"] = figures["elsewhere"]
    if not here:
        parts["closing"] = tuple(Subject("place", name) for name in survey.closing)
    (check,) = (check for check in CHECKS if check.judge is None)
    yield check.finding(
        Fact(
            "stop" if here else "note",
            Subject("build", survey.build.build.name),
            ("build", "stage"),
            "here" if here else "elsewhere",
            figures=figures,
            parts=parts,
            firm="each caution is waived by its own name, not all at once" if here else "",
        )
    )


def _concerns(survey: Survey, finding: Finding) -> bool:
    """Whether a caution has to be settled before the named places are closed; where none is named, before any is."""
    if not survey.named_closing:
        return True
    from postcheck.survey.bench.whereabouts import places_of  # noqa: PLC0415 - most runs close nothing

    places = places_of(survey.wiring, finding.subject.kind, finding.subject.name)
    return places is None or not places.isdisjoint(survey.closing)


_KINDS = (*CONSUMERS, "resistor", "joint", "join", "run", "plug", "board", "supply")
_NOUNS = {"join": ("join of lines", "joins of lines"), "supply": ("supply", "supplies")}


def _counted() -> str:
    """What is unproven, kind by kind."""
    pieces = []
    for kind in _KINDS:
        one, many = _NOUNS.get(kind, (kind, f"{kind}s"))
        pieces.append(f"[ {{{kind}_count:{one} is|{many} are}} unproven: {{{kind}}}.]")
    return "".join(pieces)


_LATER = {
    "sealed": "What is sealed in is reached by cutting only. A test now takes minutes. Afterwards it costs the paint.",
    "cover": "A test now takes minutes. Afterwards it takes the cover off, and whatever else is in the way by then.",
    "open": "A test now takes minutes. What shows only when all stands together takes an evening to find.",
}
_TEST = "Test these, write down what the meter shows, and check again."
_TO_DO = {
    "tests": _TEST,
    "mend first": "Mend first what is named below. Then test it, write down what the meter shows, and check again.",
    "tests, mend first": f"{_TEST} Before that, mend what is not to be tested as it is.",
}
_EARLY = "Bad joints and weak lamps fail in their first hours."
_RUN = "Let them run for {limit}, with the place as closed as it will be, and write it down as hours."

CHECKS: tuple[Check, ...] = (
    Check(
        name="closing.unproven",
        severity="stop",
        subject="place",
        line="a place that is about to be closed holds what no test record covers",
        why="What is sealed in is reached by cutting only, and what is covered costs an evening.",
        formula="each lamp: a measured current within its band, its own or one of its circuit that would be less without it; strips, loads, boards and supplies: that, or a test record that they work; resistors, joints, runs and pins: a current that goes through them, or continuity",
        limits=("proof.meter", "bench.lights", "lamp.current.stop", "closing.run", "volts.scope"),
        source="common practice: everything is tested before it is closed in",
        judge=_unproven,
        wording={
            case: Wording(f"{{place}} is not ready to be closed.{_counted()}", _LATER, remedy)
            for case, remedy in _TO_DO.items()
        },
    ),
    Check(
        name="closing.short-run",
        severity="caution",
        subject="place",
        line="a lamp that is about to be closed in has hardly run",
        why="Bad joints and weak lamps fail in their first hours.",
        formula="the longest recorded run of the lamp or its circuit; its board and supply count only where a current shows it connected there",
        limits=("closing.run",),
        source="common practice: burning-in",
        judge=_short_run,
        wording={
            "short": Wording(
                "{short:lamp has|lamps have} run for at most {longest} in {subject}: {lamps}. {limit} are usual before a lamp is closed in.",
                _EARLY,
                _RUN,
            ),
            "not yet": Wording(
                "{short:lamp has|lamps have} not run yet in {subject}: {lamps}. {limit} are usual before a lamp is closed in.",
                _EARLY,
                _RUN,
            ),
        },
    ),
    Check(
        name="closing.open",
        severity="stop",
        subject="build",
        line="something is about to be closed while a caution is open",
        why="What is left as it is should be left on purpose.",
        formula="cautions that are not waived: where a place is named to be closed, of what is in it or goes through it; at the stage closing, all",
        limits=(),
        source="common practice",
        judge=None,
        wording={
            "here": Wording(
                "{open:caution is|cautions are} neither mended nor waived: {cautions:8}.[ {further:caution elsewhere is|cautions elsewhere are} still open.]",
                "What is easily mended now is not once it is closed. What is left as it is should be left on purpose.",
                "Mend them, or waive each one by its name with a reason ([[accept]]).",
            ),
            "elsewhere": Wording(
                "{elsewhere:caution elsewhere is|cautions elsewhere are} still open: {cautions:8}.",
                "None of them touches {closing}, and they can be mended afterwards.",
            ),
        },
    ),
)
