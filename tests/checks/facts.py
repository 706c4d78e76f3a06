"""What a check finds as data, over a survey with some figures of our own."""

from __future__ import annotations

from types import ModuleType
from typing import Any

from postcheck.checks.fact import Fact, Within
from postcheck.report import NotJudged
from postcheck.survey import Survey


def with_figures(made: Survey, **electrics: Any) -> Survey:
    """A survey of the same build with other electrical figures."""
    other = Survey(made.build, made.limits)
    other.__dict__["electrics"] = made.electrics._replace(**electrics)
    return other


def with_passage(made: Survey, name: str = "post", **figures: Any) -> Survey:
    """A survey of the same build with other figures of one passage."""
    other = Survey(made.build, made.limits)
    other.__dict__["passages"] = {**made.passages, name: made.passages[name]._replace(**figures)}
    return other


def judged(module: ModuleType, name: str, survey: Survey) -> list[Fact | Within | NotJudged]:
    """All that a check yields."""
    (check,) = [check for check in module.CHECKS if check.name == name]
    assert check.judge is not None
    return list(check.judge(survey))  # type: ignore[arg-type]


def facts(module: ModuleType, name: str, survey: Survey) -> list[Fact]:
    """What it finds."""
    return [one for one in judged(module, name, survey) if isinstance(one, Fact)]


def asked(module: ModuleType, name: str, survey: Survey) -> list[NotJudged]:
    """What it asks."""
    return [one for one in judged(module, name, survey) if isinstance(one, NotJudged)]


def values(fact: Fact) -> dict[str, float]:
    """The figures of a fact, without their units."""
    return {name: figure.value for name, figure in fact.figures.items()}


def units(fact: Fact) -> dict[str, str]:
    """The units of a fact's figures."""
    return {name: figure.unit for name, figure in fact.figures.items()}
