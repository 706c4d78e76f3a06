"""What is said of a value that cannot stand where it does."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

from postcheck.description.problems import QuantityError
from postcheck.plain import nearest, quoted

_NEEDED = {
    "string": "a text in quotes",
    "int": "a whole number",
    "float": "a number",
    "bool": "true or false, without quotes",
    "list": "a list in [ ]",
    "tuple": "a list in [ ]",
    "dict": "a table",
    "model": "a table",
    "date": "a date without quotes",
    "datetime": "a date and time, without quotes",
}


def words(kind: str, context: Mapping[str, Any], value: object, key: str) -> tuple[str, str, str | None]:
    """Check, words and hint for one refused value: `kind` and `context` as the validation library gives them, `key` its key."""
    if kind == "quantity":
        return context["check"], context["says"], context["hint"]
    if kind in {"value_error", "assertion_error"}:
        cause = context.get("error")
        if isinstance(cause, QuantityError):
            return cause.check, cause.says, cause.hint
        return "file.invalid", str(cause) if cause is not None and str(cause) else "this is not right", None
    shown = _shown(value)
    if kind in {"literal_error", "enum"}:
        choices = re.findall(r"'([^']*)'", str(context.get("expected", "")))
        if not choices:
            return (
                "file.choice",
                f"'{key}' cannot be {shown}",
                f"write {context.get('expected', 'another value')}",
            )
        hint = _choice(key, value, choices)
        return "file.choice", f"'{key}' cannot be {shown}" if key else f"{shown} cannot be chosen", hint
    if kind == "finite_number":
        return "file.not-finite", f"{shown} is no size of a real thing", "write a number"
    if length := _length(kind, context, key):
        return length
    return _size_or_type(kind, context, value, shown)


def _choice(key: str, value: object, choices: list[str]) -> str:
    """What to write where something else can be chosen: the same by our word for it, the nearest, or any of them."""
    from postcheck.description.meant import by_another_name, kind_of_supply  # noqa: PLC0415

    any_of_them = either(choices)
    if not isinstance(value, str):
        return f"write {any_of_them}"
    if key == "kind" and "usb" in choices and (two := kind_of_supply(value)):
        return f"write {two}"
    if ours := by_another_name(value, choices, value=True):
        return (
            f'write {key} = "{ours}"; it is {any_of_them}' if key else f'write "{ours}"; it is {any_of_them}'
        )
    near = nearest(value, choices)
    return f'did you mean "{near}"? It is {any_of_them}' if near else f"write {any_of_them}"


def _size_or_type(
    kind: str, context: Mapping[str, Any], value: object, shown: str
) -> tuple[str, str, str | None]:
    if bound := re.fullmatch(r"(greater|less)_than(_equal)?", kind):
        limit = next(iter(context.values()))
        word = (
            ("at least" if bound[2] else "above")
            if bound[1] == "greater"
            else ("at most" if bound[2] else "below")
        )
        return "file.out-of-range", f"{shown} is out of range", f"it must be {word} {limit}"
    if needed := _NEEDED.get(re.sub(r"_(type|parsing|attributes_type|from_.*)$", "", kind)):
        return "file.wrong-type", f"this is {_kind(value)}", f"{needed} is needed"
    return "file.invalid", f"{shown} is not right here", None


def _length(kind: str, context: Mapping[str, Any], key: str) -> tuple[str, str, str | None] | None:
    if kind == "string_too_long":
        most = context["max_length"]
        return "file.too-long", f"this text is longer than {most} characters", "say it more briefly"
    if kind in {"string_too_short", "too_short"}:
        least = context["min_length"]
        what = f"the list has fewer than {least}" if least > 1 else "the list is empty"
        what = "the text is empty" if kind == "string_too_short" else what
        return "file.out-of-range", what, f"at least {least} needed"
    if kind == "too_long" and key == "ends":
        return (
            "file.out-of-range",
            "a run joins two places",
            "write a [[run]] of its own to each further place",
        )
    if kind == "too_long":
        return "file.out-of-range", f"the list has more than {context['max_length']}", "leave some out"
    return None


def _shown(value: object) -> str:
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float) and abs(value) < 1e15:
        return f"{value:.12g}"
    return _kind(value)


def _kind(value: object) -> str:
    if isinstance(value, str):
        return f"the text {quoted(value, 40)}" if value else "an empty text"
    if isinstance(value, bool):
        return "true or false"
    if isinstance(value, int | float):
        return "a number"
    if isinstance(value, list | tuple):
        return "a list"
    return "a table" if isinstance(value, Mapping) else "a date or time"


def either(choices: Iterable[str]) -> str:
    """Words to choose from, in quotes: "one", "two" or "three"."""
    *most, last = [f'"{choice}"' for choice in choices]
    return f"{', '.join(most)} or {last}" if most else last
