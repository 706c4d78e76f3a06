"""How much room a line of text takes, on the safe side: fonts differ from one reader's machine to the next."""

from __future__ import annotations

import re
from collections.abc import Iterator


def cut(words: str, size: float, width: float) -> str:
    """A line that ends in dots where it would be wider than `width`."""
    if long(words, size) <= width:
        return words
    while words and long(words, size) + size > width:
        words = words[:-1]
    return words.rstrip() + "…"


def long(words: str, size: float) -> float:
    """How long a line is, in the unit of its size; East Asian letters are as wide as they are high."""
    return size * sum(
        1.05
        if ord(sign) > 0x1100
        else 0.33
        if sign in " \u00a0.,:;'il|()[]!"
        else 0.9
        if sign in "mwMW%@"
        else 0.74
        if sign.isupper()
        else 0.6
        for sign in words
    )


def folded(words: str, size: float, width: float) -> Iterator[str]:
    """Lines of at most `width`, broken between words; a number and its unit stay together."""
    line = ""
    for word in re.sub(r"(?<=\d) (?=mm\b|%)", "\u00a0", words).split(" "):
        if line and long(f"{line} {word}", size) > width:
            yield line
            line = word
        else:
            line = f"{line} {word}".strip()
    yield line


def wrapped(words: str, size: float, width: float) -> Iterator[str]:
    """Lines of at most `width` with all of the words: one that is too long for a line is broken anywhere."""
    for line in folded(words, size, width):
        rest = line
        while long(rest, size) > width and len(rest) > 1:
            most = next(n for n in range(len(rest) - 1, 0, -1) if n == 1 or long(rest[:n], size) <= width)
            yield rest[:most]
            rest = rest[most:]
        yield rest
