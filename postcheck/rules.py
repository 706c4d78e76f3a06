"""The tables of checks with their help, as a SARIF log has them: renderers may not look into them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache

from postcheck.checks.table import CHECKS
from postcheck.description.problems import FILE_CHECKS
from postcheck.limits import Limit, Limits
from postcheck.plain import nearest, quoted
from postcheck.renderers import explain as explained
from postcheck.renderers.sarif import Help
from postcheck.report import Rule
from postcheck.taken import takes

__all__ = ["explain", "rules"]


def rules(own: Iterable[Rule] = ()) -> list[Help]:
    """A rule for each check, in the order in which they run, those of a project last; and for each thing that can be wrong with a file."""
    ours, of_files = _always()
    return [*ours, *(_help(rule, ()) for rule in {rule.name: rule for rule in own}.values()), *of_files]


@lru_cache(maxsize=1)
def _always() -> tuple[tuple[Help, ...], tuple[Help, ...]]:
    """Of postcheck's own checks, and of files."""
    limits = Limits()
    return (
        tuple(_help(check.rule, [limits[name] for name in check.limits]) for check in CHECKS),
        tuple(
            Help(name, "stop", says, says, f"{name}\n{says}\n", f"{says}\n")
            for name, says in FILE_CHECKS.items()
        ),
    )


def explain(check: str) -> str:
    """What a check looks at, why, by which formula and limits, and where they come from, as Markdown.

    `check`: its name, such as "lamp.no-resistor", or the id of one of its findings. ValueError, with the name that was
    probably meant, where there is none.
    """
    takes("explain", check, str)
    name = check.partition(":")[0]
    known = {rule.name: rule for rule in rules()}
    if name not in known:
        near = nearest(name, known)
        raise ValueError(
            f"there is no check {quoted(name)}" + (f"; did you mean {quoted(near)}?" if near else "")
        )
    return known[name].markdown


def _help(rule: Rule, judged_by: Sequence[Limit]) -> Help:
    text, markdown = explained.render_check(rule, judged_by), explained.render_markdown(rule, judged_by)
    return Help(rule.name, rule.severity, rule.line, rule.why, text, markdown)
