"""Text that Markdown leaves as it is."""

from __future__ import annotations

import re

# What Markdown would take for markup, wherever it stands; HTML, which it lets through, is closed off as well.
_MARKUP = re.compile(r"([\\`*_\[\]|~]|^[#+>=-]|#(?=\s*$))")
# GitHub's dialect makes links of bare addresses. One of mail it finds in the finished text, so that no escape of a sign
# stops it; a comment, which nobody sees, does, and stops names of users too.
_LINK = re.compile(r"(?<=:)(?=//)|(?<=www)(?=\.)", re.IGNORECASE)
_MAIL = re.compile(r"@(?=\w)")


def plain(text: str) -> str:
    """Text in which nothing is taken for markup."""
    text = text.replace("\u00a0", " ").replace("&", "&amp;").replace("<", "&lt;")
    text = re.sub(r"^(\d+)([.)])(?=\s|$)", r"\1\\\2", _MARKUP.sub(r"\\\1", text))
    text = _MAIL.sub("@<!-- -->", _LINK.sub(r"\\", text))
    return re.sub("^ ", "&#32;", text)  # four blanks would make a block of code
