"""The lamp or strip that a finding is about, where its figures are known."""

from __future__ import annotations

from postcheck.report import Finding
from postcheck.survey import Survey
from postcheck.survey.network.figures import LampFigures
from postcheck.wiring.parts import LampPart, StripPart


def lamp_figures(survey: Survey, finding: Finding) -> LampFigures | None:
    """The currents of its lamp."""
    return survey.electrics.lamps.get(finding.subject.name)


def lamp_part(survey: Survey, name: str) -> LampPart | None:
    """A lamp by its name."""
    return next((part for part in survey.parts.lamps if part.name == name), None)


def strip_part(survey: Survey, name: str) -> StripPart | None:
    """A strip by its name."""
    return next((part for part in survey.parts.strips if part.name == name), None)
