"""The tables of checks as the rules of a SARIF log: faces may not look into them."""

from __future__ import annotations

from postcheck.build.problems import FILE_CHECKS
from postcheck.checks.table import CHECKS
from postcheck.faces import explain
from postcheck.faces.sarif import Rule
from postcheck.limits import Limits

__all__ = ["rules"]


def rules() -> list[Rule]:
    """A rule for each check, in the order in which they run, and for each thing that can be wrong with a file."""
    limits = Limits()
    found = []
    for check in CHECKS:
        judged_by = [limits[name] for name in check.limits]
        found.append(
            Rule(
                check.name, check.severity, check.line, check.why,
                explain.render_check(check, judged_by), explain.render_markdown(check, judged_by),
            )
        )  # fmt: skip
    for name, says in FILE_CHECKS.items():
        found.append(Rule(name, "stop", says, says, f"{name}\n{says}\n", f"{says}\n"))
    return found
