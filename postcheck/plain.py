"""Make text from a file safe to show.

TOML strings and file names can carry anything: escape sequences that repaint a terminal, line breaks that
start a new command in a CI log, marks that reverse the reading order. Every text-like renderer passes names
through `harmless` before they are shown.
"""

from __future__ import annotations

__all__ = ["enumerated", "first_few", "harmless", "named_few", "nearest", "no_such", "quoted"]

import re
from collections.abc import Collection, Iterable, Sequence

# C0, DEL and C1 controls, soft hyphen, combining grapheme joiner, Arabic letter mark, Hangul and Khmer fillers, Mongolian selectors,
# zero-width characters and direction marks, variation selectors, controls of hieroglyphs, shorthand and music, line and paragraph separators, direction embeddings and isolates,
# invisible operators, byte order mark, interlinear marks, lone surrogates, tags, and what Unicode keeps free of
# characters: the last two of each plane and 32 among the Arabic forms.
_NONE = "\ufdd0-\ufdef" + "".join(
    f"{chr(plane + 0xFFFE)}{chr(plane + 0xFFFF)}" for plane in range(0, 0x110000, 0x10000)
)
_HARMFUL = (
    "[\x00-\x1f\x7f-\x9f\xad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180b-\u180f\u200b-\u200f\u2028-\u202e"
    f"\u2060-\u206f\u3164\ufe00-\ufe0f\ufeff\uffa0\ufff0-\ufffb\ud800-\udfff\U00013430-\U0001345f\U0001bca0-\U0001bca3\U0001d173-\U0001d17a"
    f"\U000e0000-\U000e0fff{_NONE}]"
)
_SHORT = {"\n": "\\n", "\r": "\\r", "\t": "\\t"}
_MORE = "..."


def _escape(character: str) -> str:
    if character in _SHORT:
        return _SHORT[character]
    code = ord(character)
    if code <= 0xFF:
        return f"\\x{code:02x}"
    return f"\\u{code:04x}" if code <= 0xFFFF else f"\\U{code:08x}"


def harmless(text: str, most: int = 200) -> str:
    """Return `text` with every invisible or steering character as a visible escape, at most `most` long.

    Text that is too long is cut and ends in "...". The work grows with `most`, not with the text.
    """
    if len(text) <= most and text.isascii() and text.isprintable():
        return text
    pieces: list[str] = []
    room = most
    for character in text[: most + 1]:
        piece = _escape(character) if re.match(_HARMFUL, character) else character
        room -= len(piece)
        if room < 0:
            break
        pieces.append(piece)
    else:
        return "".join(pieces)
    while pieces and sum(map(len, pieces)) > most - len(_MORE):
        pieces.pop()
    return ("".join(pieces) + _MORE)[:most]


def quoted(text: str, most: int = 60) -> str:
    """Return `text` made harmless and in single quotes, for use inside a sentence."""
    return f"'{harmless(text, most)}'"


def enumerated(words: Sequence[str], last: str = "and", most: int | None = None) -> str:
    """Return words one after the other: `a`, `a and b`, `a, b and c`; of more than `most` the first, as in `a, b and 2 more`."""
    if most is not None and len(words) > most:
        words = [*words[:most], f"{len(words) - most} more"]
    return f" {last} ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))


def first_few(words: Sequence[str], most: int, between: str = ", ") -> str:
    """Return the first words of a list that goes on: `a, b`, or `a, b and 2 more`."""
    more = f" and {len(words) - most} more" if len(words) > most else ""
    return between.join(words[:most]) + more


def named_few(names: Iterable[str]) -> str:
    """The first eight names in quotes, and how many more there are; "none at all" where there is none."""
    return first_few([*map(quoted, names)], 8) or "none at all"


def no_such(kind: str, name: str, known: Collection[str]) -> str:
    """That there is no thing of a kind with this name, and which was probably meant, or which there are."""
    near = nearest(name, known)
    hint = f"did you mean {quoted(near)}?" if near else f"it has {named_few(known)}"
    return f"there is no {kind} {quoted(name)}; {hint}"


def nearest(word: str, names: Iterable[str], alike: float = 0.6) -> str | None:
    """Return the name that `word` was probably meant to be, or None; `alike`: the least likeness, 1 for the same.

    Capitals, and dashes against underscores or spaces, do not count as a difference.
    """
    if not 0 < len(word) <= 60:  # the comparison is quadratic, and nobody mistypes a whole paragraph
        return None
    from difflib import get_close_matches  # noqa: PLC0415 - only needed when something is wrong

    folded: dict[str, str] = {}
    for name in names:
        folded.setdefault(_fold(name), name)
    near = get_close_matches(_fold(word), folded, n=1, cutoff=alike)
    return folded[near[0]] if near else None


def _fold(name: str) -> str:
    return name.casefold().replace("-", "_").replace(" ", "_")
