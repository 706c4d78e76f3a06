"""Runs one check by name over a survey."""

from __future__ import annotations

from types import ModuleType

from postcheck.report import Finding, NotJudged
from postcheck.survey import Survey


def run(module: ModuleType, name: str, survey: Survey) -> tuple[list[Finding], list[NotJudged]]:
    (check,) = [check for check in module.CHECKS if check.name == name]
    results = list(check.results(survey))
    findings = [result for result in results if isinstance(result, Finding)]
    order = ("note", "caution", "stop")
    assert all(finding.check == name for finding in findings)
    assert all(order.index(finding.severity) <= order.index(check.severity) for finding in findings)
    assert all(limit in survey.limits for limit in check.limits)
    return findings, [result for result in results if isinstance(result, NotJudged)]


def severities(survey: Survey, *modules: ModuleType) -> dict[str, str]:
    """What all the checks of some modules find, by the name of the check."""
    checks = [(module, check.name) for module in modules for check in module.CHECKS]
    return {
        finding.check: finding.severity for module, name in checks for finding in run(module, name, survey)[0]
    }
