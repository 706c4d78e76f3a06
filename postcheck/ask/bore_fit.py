"""Does this bundle go through this bore."""

from __future__ import annotations

from collections.abc import Iterable

from postcheck.answered import Answer
from postcheck.ask.bundle import listed_things, survey_of_post
from postcheck.ask.small import found, limited
from postcheck.ask.words import quantity, things
from postcheck.checks.passages import CHECKS
from postcheck.checks.shown import millimetres, percent, shown_apart
from postcheck.description.units import Dimension
from postcheck.physics import bundle
from postcheck.report import Effort, Figure
from postcheck.survey.post.bores import wide_bore

# Long enough to thread and short enough for the hand; the length of a bore changes no arrangement.
_LENGTH = "100 mm"
_NAMES = ("passage.cannot-fit", "passage.tight", "passage.full", "passage.jam")


def bore(across: str, what: Iterable[str], effort: Effort = "quick") -> Answer:
    """Whether these wires go through a bore this wide, by the arrangement and the limits that `check` goes by."""
    quantity(across, Dimension.LENGTH, "the bore")
    listed = things(what)
    survey = survey_of_post({"bore": across, "length": _LENGTH}, listed, effort)
    figures = survey.passages["post"]
    findings = found(survey, CHECKS, _NAMES)
    wide, does = wide_bore(figures, survey.limits), figures.verdict == bundle.FITS
    they = listed_things(listed)
    single = len(figures.members) == 1
    verb, pronoun = ("is", "it") if single else ("are", "they")
    slim, hole = millimetres(figures.smallest_bore), millimetres(figures.passage.bore)
    if figures.verdict == bundle.CANNOT:
        says = "No"
        # what does not go through by less than the usual digits show is given those that show it
        slim, hole = shown_apart((Figure(figures.smallest_bore, "m"), Figure(figures.passage.bore, "m")))
        reason = f"{they} {verb} {slim} across at the slimmest found, and no arrangement can be as slim as {hole}; a bore of {millimetres(wide)} would do"
        limit = findings["passage.cannot-fit"].limit
    else:
        says = (
            "No arrangement was found that does"
            if not does
            else "Barely"
            if "passage.tight" in findings
            else "Yes"
        )
        reason = f"{they} {verb} {slim} across at the slimmest in a bore of {hole}, and fill{'s' if single else ''} {percent(figures.fill)} of it"
        if says != "Yes":
            reason += f"; with room to pull {pronoun} {'wants' if single else 'want'} {millimetres(wide)}"
        limit = limited(survey, "passage.room.one" if single else "passage.room")
    return Answer(
        "bore", does and "passage.tight" not in findings, says, reason,
        {
            "bore": Figure(figures.passage.bore, "m"),
            "bundle": Figure(figures.smallest_bore, "m"),
            "fill": Figure(figures.fill, ""),
            "conductors": Figure(float(len(figures.members)), ""),
            "roomy": Figure(wide, "m"),
        },
        limit,
        _caution(findings.keys(), figures.fill_limit) if does else None,
    )  # fmt: skip


def _caution(names: Iterable[str], most: float) -> str | None:
    names = set(names)
    if "passage.jam" in names:
        return "Three alike may wedge side by side in a bore about three times as wide as one: pull them together, gently twisted."
    if "passage.full" in names:
        return f"Handbooks fill no more than {percent(most)}: by hand through a short straight bore it goes, past bends it sticks."
    return None
