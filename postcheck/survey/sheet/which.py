"""Unmarked leads: the settings at which they are told apart, and what each reads."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.sheet import WhichPlace
from postcheck.survey import Survey
from postcheck.survey.bench.identities import Identities


def which_places(survey: Survey) -> tuple[WhichPlace, ...]:
    """Every place where several leads end without a flag, in the order of the file."""
    return tuple(_places(survey))


def _places(survey: Survey) -> Iterator[WhichPlace]:
    for place in survey.build.place:
        leads = Identities(survey.bench, place, survey.limits)
        if sum(not (one.label or "").strip() for one in leads.test_points) < 2:
            continue
        unmarked = tuple(one.expected for one in leads.all if not one.expected.label.strip())
        yield WhichPlace(place, leads.first, leads.more, unmarked, leads.apart)
