"""How a part that fails later is got at, and what it does to the others if it is left as it is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from postcheck.checks.judge import Judgement, judge
from postcheck.checks.lines_to_type import why_never
from postcheck.description.consumers import entries
from postcheck.description.limits import limit_changes
from postcheck.description.models import Build
from postcheck.description.subjects import subjects
from postcheck.limits import Limits
from postcheck.plain import named_few, no_such, quoted
from postcheck.repair import Left, Repair
from postcheck.report import SEVERITIES, Finding, rank
from postcheck.survey import Survey
from postcheck.survey.left import SEEN, changed, without
from postcheck.survey.repair import forbidding, namesakes, parts_of, repair, repairable
from postcheck.taken import takes
from postcheck.wiring.doors import takes_build

__all__ = ["reach"]


def reach(build: Build, part: str) -> Repair:
    """How a part is got at that fails later, how it is told apart at the bench, and what would do instead.

    `part`: a lamp, strip, load, board, supply or plug by its name, or "joint NAME" or "resistor NAME" of a lamp, strip or
    load. ValueError, with the name that was probably meant, where there is none.
    """
    takes_build("reach", build)
    takes("reach", part, str)
    known = repairable(build)
    if part not in known:
        if (other := subjects(build).get(part)) is not None:
            raise ValueError(_no_part(build, *other))
        raise ValueError(no_such("part", part, known))
    survey = Survey(build, Limits(limit_changes(build)[0]))
    found = replace(repair(survey, *known[part]), namesakes=namesakes(build, part))
    if not found.readings and (never := forbidding(survey, *known[part])) is not None:
        found = replace(found, forbids=why_never(never))
    if not found.spots:
        raise ValueError(f"{quoted(found.name)} has no {found.kind}")
    return _left_failed(survey, found)


# Checks, and families of them, for which a failed part changes nothing: its wires stay where they are, and so does a socket.
_STAYS = frozenset(
    ["accept", "access", "closing", "colour", "ends", "lead", "passage", "proof", "run", "supply.polarity", "supply.wrong-adaptor", "way"]
)  # fmt: skip


def _left_failed(survey: Survey, found: Repair) -> Repair:
    """The repair with what the part does to the others if it is left as it is: by the survey of the build without it."""
    parts, _ = parts_of(survey, found.kind, found.name)
    build = without(survey.build, parts, string=found.kind not in ("board", "supply", "plug"))
    if build is None or not parts:
        return found
    # by the stage of the finished model's wiring: what closing asks for is another matter
    whole, gone = (Survey(one, survey.limits, "wiring") for one in (survey.build, build))
    others = tuple(changed(whole.electrics, gone.electrics))
    worse = tuple(_worse(judge(whole), judge(gone)))
    names = {one.id for one in worse}
    lefts = (Left(one.id, one.severity, one.says) for one in worse if one.because_of not in names)
    return replace(found, changed=others, left=tuple(lefts))


def _worse(whole: Judgement, gone: Judgement) -> Iterator[Finding]:
    """What is found once a part is gone, and not as gravely, or not as far beyond its limit, while all is whole."""
    before = {one.id: rank(one) for one in whole.findings}
    for one in gone.findings:
        if (
            one.severity == "note"
            or one.accepted is not None
            or _STAYS & {one.check, one.check.split(".")[0]}
        ):
            continue
        was = before.get(one.id, len(SEVERITIES))
        then, now = whole.compared.get(one.check), gone.compared.get(one.check)
        further = then and now and now.subject == one.subject and now.used > SEEN * then.used
        if rank(one) < was or (rank(one) == was and further):
            yield one


def _no_part(build: Build, kind: str, name: str) -> str:
    """That something is no part, and what to ask for instead."""
    on = [entry.name for entry in entries(build) if kind == "circuit" and entry.said.circuit == name]
    instead = (
        f"on it {'is' if len(on) == 1 else 'are'} {named_few(on)}"
        if on
        else "ask for a lamp, strip, load, board, supply or plug"
    )
    return f"{quoted(name)} is a {kind}, and no part that is got at; {instead}"
