"""Where the lines of a text begin and end."""

from __future__ import annotations

import re

__all__ = ["ending", "line_above", "line_end", "line_start", "next_line"]

_END = re.compile(r"\r?\n|\Z")


def line_start(text: str, offset: int) -> int:
    """Where the line begins that holds `offset`."""
    return text.rfind("\n", None, offset) + 1


def line_end(text: str, offset: int) -> int:
    """Where it ends, before its line break."""
    return next(_END.finditer(text, offset)).start()


def next_line(text: str, offset: int) -> int:
    """Where the next one begins, or the text ends."""
    return next(_END.finditer(text, offset)).end()


def line_above(text: str, start: int) -> str:
    """The line above the one that begins at `start`, with its line break; nothing above the first."""
    return text[line_start(text, start - 1) : start] if start else ""


def ending(text: str) -> str:
    """How the lines of a text are ended."""
    return "\r\n" if "\r\n" in text else "\n"
