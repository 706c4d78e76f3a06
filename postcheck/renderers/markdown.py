"""Text that Markdown leaves as it is."""

from __future__ import annotations

import re

# What Markdown would take for markup, wherever it stands; HTML, which it lets through, is closed off as well.
_MARKUP = re.compile(r"([\\`*_\[\]|~]|^[#+>=-])")


def plain(text: str) -> str:
    """Text in which nothing is taken for markup."""
    text = text.replace("&", "&amp;").replace("<", "&lt;")
    text = re.sub(r"^(\d+)([.)])(?=\s)", r"\1\\\2", _MARKUP.sub(r"\\\1", text))
    return text.replace("\u00a0", " ")
