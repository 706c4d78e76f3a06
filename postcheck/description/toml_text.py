"""Values and keys as they are written in a TOML file."""

from __future__ import annotations

import re
from collections.abc import Mapping

__all__ = ["in_toml", "key_in_toml"]


def in_toml(value: object, *, literal: bool = False) -> str:
    """A value as it is written in a file; `literal`: with single quotes, where the text can stand in them."""
    if isinstance(value, Mapping):
        inside = ", ".join(
            f"{key_in_toml(key)} = {in_toml(item, literal=literal)}" for key, item in value.items()
        )
        return f"{{ {inside} }}" if inside else "{}"
    if isinstance(value, list | tuple):
        return f"[{', '.join(in_toml(item, literal=literal) for item in value)}]"
    if isinstance(value, bool):
        return str(value).lower()
    if not isinstance(value, str):
        return str(value)
    return f"'{value}'" if literal and not re.search(r"['\x00-\x1f\x7f]", value) else _quoted(value)


def key_in_toml(key: str) -> str:
    """One step of a dotted key as it is written in a file."""
    return key if re.fullmatch(r"[A-Za-z0-9_-]+", key) else _quoted(key)


def _quoted(text: str) -> str:
    # a basic string of TOML 1.0: quotes, backslashes and control characters are escaped
    escaped = re.sub(r'["\\]', r"\\\g<0>", text)
    return '"' + re.sub(r"[\x00-\x1f\x7f]", lambda sign: f"\\u{ord(sign[0]):04x}", escaped) + '"'
