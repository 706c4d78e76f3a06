"""Plugs: keyed, soldered on later, or with runs of their own through the bore."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.models import Run
from postcheck.remedies.opposites.by_words import by_words, set_here
from postcheck.remedies.proposal import Change, Proposer, set_to, taken_out
from postcheck.remedies.table_spec import more
from postcheck.report import Finding, Subject
from postcheck.survey import Survey

# What a run needs beyond its bore to be joined at both ends, m.
ENDS = 0.03


def _unplugged(_: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """The plug fitted when the conductors are through: it need not pass."""
    yield (set_to((*finding.path[:2], "through"), ()),)


def _through_bore(survey: Survey, finding: Finding) -> Iterator[tuple[Change, ...]]:
    """A run of each line through the passage, as long as its bore and both ends, and the plug at the side of the supply."""
    lines, passage = finding.parts.get("lines"), finding.parts.get("passage")
    plug = survey.build.plug[int(finding.path[1])]
    if not isinstance(lines, tuple) or not isinstance(passage, Subject) or plug.ends is None:
        return
    bore = survey.passages[passage.name].passage
    laid = {"length": bore.length + ENDS}
    runs = (Run(line=line.name, ends=plug.ends).model_copy(update=laid) for line in lines)
    yield (
        set_to((*finding.path[:2], "at"), plug.ends[0]),
        taken_out((*finding.path[:2], "ends")),
        *map(more, runs),
    )


OPPOSITES: dict[str, Proposer] = {
    "plug.crossed": set_here(True),
    "plug.part-way": set_here(False),
    "plug.bare-pins": set_here("model"),
    "passage.plug": by_words(_unplugged),
    "passage.plug-alone": by_words(_through_bore),
}
