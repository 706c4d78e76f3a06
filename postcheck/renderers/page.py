"""A page of styled lines for a terminal. Rich is loaded here and nowhere else.

Every text is a `Text` object, so that a name from the file is never read as markup.
"""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from postcheck.renderers.streams import ascii_words
from postcheck.renderers.words import obeyed, parted

if TYPE_CHECKING:
    from rich.text import Text

NARROWEST = 24
"""Columns that a page has at least."""


class Page:
    """Lines of styled text, wrapped as they come."""

    def __init__(self, width: int, *, colour: bool, plain: bool, many_colours: bool = False) -> None:
        from rich.console import Console  # noqa: PLC0415 - costs 40 ms, which a hook must not pay
        from rich.text import Text  # noqa: PLC0415

        self.width = width
        self.colour = colour
        self._plain = plain
        self._new = Text
        self._out = io.StringIO()
        # an empty environment: what to do about colour was decided by the caller, of its own stream
        self._console = Console(
            file=self._out, width=width, force_terminal=colour, no_color=not colour,
            color_system=("256" if many_colours else "standard") if colour else None, highlight=False, markup=False, emoji=False,
            legacy_windows=False, _environ={},
        )  # fmt: skip
        self._lines: list[Text] = []

    def __len__(self) -> int:
        return len(self._lines)

    def gap(self) -> None:
        """An empty line, never two."""
        if self._lines and self._lines[-1].plain:
            self._lines.append(self._new())

    def styled(self, *pieces: tuple[str, str]) -> Text:
        """Text of several (words, style)."""
        text = self._new()
        for words, style in pieces:
            text.append(ascii_words(words, "ascii") if self._plain else words, style)
        return text

    def say(self, words: str | Text, style: str = "", indent: int = 0, hang: int = 0) -> None:
        """Wrapped words; lines after the first stand further in by `hang`."""
        body = self.styled((words, style)) if isinstance(words, str) else words
        for index, line in enumerate(self.wrapped(body, self.width - indent - hang)):
            line.pad_left(indent + (hang if index else 0))
            self._lines.append(line)

    def typed(self, line: str, indent: int) -> None:
        """A line of a file, which stays one when it is copied: a comment is broken into comments, a value never."""
        if not line:
            self.gap()
            return
        if indent + len(line) > self.width and not line.startswith("#"):
            line, mark, comment = line.rpartition("  # ")
            if mark and '"' not in comment:
                self.typed(f"# {comment}", indent)
            else:
                line += mark + comment
        if not line.startswith("#"):
            self.put(self.styled((" " * max(0, min(indent, self.width - len(line))) + line, "")))
            return
        for part in self.wrapped(self.styled((line.removeprefix("#").lstrip(), "")), self.width - indent - 2):
            self.put(self.styled((" " * indent + "# ", "")).append_text(part))

    def wrapped(self, body: Text, width: int) -> list[Text]:
        """The lines of a text of which none is wider than so many columns; one at least."""
        lines = list(body.wrap(self._console, width, overflow="fold")) or [self._new()]
        for line in lines:
            line.rstrip()
        if any(obeyed(line.plain) for line in lines):
            return self.wrapped(self.styled((parted(body.plain), "")), width)
        return lines

    def put(self, line: Text) -> None:
        """A line as it is."""
        self._lines.append(line)

    def text(self) -> str:
        """Everything so far as one string."""
        for line in self._lines:
            self._console.print(line, soft_wrap=True)
        return self._out.getvalue()
