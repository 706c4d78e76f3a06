"""An answer of `postcheck ask`: one line, a second one for a caution; or JSON."""

from __future__ import annotations

from postcheck.renderers.words import safe
from postcheck.report import Answer


def render(answer: Answer) -> str:
    """The answer with its reason, and a caution indented below it."""
    lines = [f"{answer.says}: {answer.reason}."]
    if answer.caution is not None:
        lines.append(f"    {answer.caution}")
    return "".join(f"{safe(line)}\n" for line in lines)


def render_json(answer: Answer, version: str) -> str:
    """The answer as JSON text in ASCII that ends in a line break: SI numbers, figures and limit as in a finding."""
    import json  # noqa: PLC0415 - only where it is asked for

    from postcheck.renderers.figures import number  # noqa: PLC0415

    limit = answer.limit
    whole = {
        "postcheck": version,
        "format": 1,
        "question": answer.question,
        "ok": answer.ok,
        "says": answer.says,
        "reason": answer.reason,
        "caution": answer.caution,
        "figures": {
            name: {"value": figure.value, "unit": figure.unit}
            for name, figure in answer.figures.items()
            if number(figure.value) is not None
        },
        "limit": None
        if limit is None or number(limit.value) is None
        else {"value": limit.value, "unit": limit.unit, "source": limit.source},
    }
    return json.dumps(whole, indent=2, allow_nan=False) + "\n"
