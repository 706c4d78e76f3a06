"""A TOML document written out again from what a reader made of it: inline tables all the way."""

from __future__ import annotations

import json
from typing import Any

__all__ = ["dumped"]


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{json.dumps(key)} = {_value(item)}" for key, item in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(_value, value)) + "]"
    if isinstance(value, str):
        return json.dumps(value)
    return str(value)


def dumped(whole: dict[str, Any]) -> str:
    return "".join(f"{json.dumps(key)} = {_value(value)}\n" for key, value in whole.items())
