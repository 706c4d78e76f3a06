"""An answer of `postcheck ask`: one line, a second one for a caution; or JSON."""

from __future__ import annotations

from postcheck.answered import Answer
from postcheck.renderers.words import safe


def render(answer: Answer) -> str:
    """The answer with its reason, and a caution indented below it."""
    lines = [f"{answer.says}: {answer.reason}."]
    if answer.caution is not None:
        lines.append(f"    {answer.caution}")
    return "".join(f"{safe(line)}\n" for line in lines)


def render_json(answer: Answer, version: str) -> str:
    """The answer as JSON text in ASCII that ends in a line break: SI numbers, figures and limit as in a finding."""
    from postcheck.renderers.figures import number  # noqa: PLC0415
    from postcheck.renderers.json_text import json_text  # noqa: PLC0415 - only where it is asked for

    limit = answer.limit
    return json_text(
        version,
        question=answer.question,
        ok=answer.ok,
        says=answer.says,
        reason=answer.reason,
        caution=answer.caution,
        figures={name: one for name, one in answer.figures.items() if number(one.value) is not None},
        limit=None
        if limit is None or number(limit.value) is None
        else {"value": limit.value, "unit": limit.unit, "source": limit.source},
    )
