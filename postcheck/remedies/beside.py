"""A conductor more beside those that are there: for a line of its own, or for metal that slides."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.models import Run
from postcheck.description.naming import run_names
from postcheck.plain import quoted
from postcheck.remedies.proposal import Change, Proposal, in_words_of
from postcheck.remedies.table_spec import more
from postcheck.report import Finding
from postcheck.survey import Survey


def conductors_beside(
    survey: Survey, net: str, line: str, called: str
) -> tuple[str, tuple[Change, ...]] | None:
    """One more conductor for a new line beside every run of another, with the names of those runs; None where plugs, joins or cables would have to change too."""
    build = survey.build
    beside = [(number, run) for number, run in enumerate(build.run) if run.line == net and not run.spare]
    touched = any(net in plug.pins for plug in build.plug) or any(net in join.lines for join in build.join)
    if not beside or touched or any(run.cable for _, run in beside):
        return None
    names = run_names(build)
    new = [
        (beside_metal(survey, run) if run.body else run).model_copy(
            update={"line": line, "name": f"{run.name} {called}" if run.name else None}
        )
        for _, run in beside
    ]
    # beside one of its colour, its flag tells which is which
    flagged = [run.model_copy(update={"label": line}) if run.colour or run.label else run for run in new]
    flag = f", with a flag {quoted(line)} on it" if any(run.label for run in flagged) else ""
    named = " and ".join(quoted(names[number]) for number, _ in beside)
    return f"{named}{flag}", tuple(map(more, flagged))


def beside_metal(survey: Survey, metal: Run) -> Run:
    """A wire of the usual sort beside the metal that carries a line, as long as the longest between the same places."""
    ends = set(metal.ends)
    longest = max(run.length or 0.0 for run in survey.build.run if set(run.ends) == ends)
    return metal.model_copy(
        update={"body": False, "ohms": None, "name": None, "length": longest or metal.length, "colour": None}
    )


def sliding_metal(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """A wire beside metal that slides."""
    metal = survey.build.run[int(finding.path[1])]
    wire = beside_metal(survey, metal)
    if wire.length:
        yield from in_words_of(finding, more(wire))
