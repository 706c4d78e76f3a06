"""A document for other programs, as JSON text."""

from __future__ import annotations

import json
import re
from dataclasses import fields, is_dataclass
from math import isfinite
from typing import Any

_HALF = re.compile("[\ud800-\udfff]")


def json_text(version: str, /, **keys: Any) -> str:
    """Return a document with its version and form as JSON text in ASCII that ends in a line break; see `plain`."""
    # ASCII, so that no stream needs another spelling: a replaced sign would change a name, or break the document
    whole = {"postcheck": version, "format": 1, **keys}
    return json.dumps(plain(whole), indent=2, allow_nan=False) + "\n"


def plain(value: Any) -> Any:
    """Return a value as JSON has it: records as tables with the same names as in Python, null for what is no finite number.

    Half a surrogate pair (an undecodable byte of a file name), which strict readers refuse, becomes a visible escape, in
    keys too.
    """
    if isinstance(value, str):
        return _HALF.sub(lambda half: f"\\u{ord(half[0]):04x}", value)
    if isinstance(value, float):
        return value if isfinite(value) else None
    if isinstance(value, dict):
        return {plain(key): plain(item) for key, item in value.items()}
    if hasattr(value, "_asdict"):
        return plain(value._asdict())
    if isinstance(value, tuple | list):
        return [plain(item) for item in value]
    if is_dataclass(value):
        return {field.name: plain(getattr(value, field.name)) for field in fields(value)}
    return value
