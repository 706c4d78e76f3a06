"""The pages that people read, README and guide, and the blocks in them: each is run, and shows what comes of it."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).parent.parent
README = ROOT / "README.md"
GUIDE = sorted((ROOT / "postcheck" / "guidebook" / "pages").glob("*.md"))
PAGES = [README, *GUIDE]
MORE = "...\n"
"""The last line of a screen of which only the beginning is shown."""


class Block(NamedTuple):
    """A fenced block: its page, its language (none for a screen), its text."""

    page: str
    language: str
    text: str


def blocks(language: str, begins: str = "") -> list[Block]:
    """All blocks of a language, in the order of the pages; those that begin with some text."""
    return [block for block in all_blocks() if block.language == language and block.text.startswith(begins)]


def all_blocks() -> Iterator[Block]:
    for page in PAGES:
        for language, text in re.findall(
            r"^```([a-z]*)\n(.*?)^```$", page.read_text(encoding="utf-8"), re.DOTALL | re.MULTILINE
        ):
            yield Block(page.name, language, text)


def screens() -> list[Block]:
    """What is shown of a screen, a command a block but for `ask`."""
    return blocks("", "$ postcheck ")


def shown(command: str, screen: str) -> None:
    """A screen stands as it is printed wherever it is shown; POSTCHECK_UPDATE_GOLDEN=1 writes it there."""
    block = re.compile(rf"(^```\n\$ {re.escape(command)}\n)(.*?)(^```$)", re.DOTALL | re.MULTILINE)
    found = [(page, one[2]) for page in PAGES if (one := block.search(page.read_text(encoding="utf-8")))]
    assert found, command
    for page, told in found:
        now = screen
        if told.endswith(MORE):
            lines = told.count("\n") - 1
            assert lines < screen.count("\n")
            now = "".join(screen.splitlines(keepends=True)[:lines]) + MORE
        if os.environ.get("POSTCHECK_UPDATE_GOLDEN"):
            text = page.read_text(encoding="utf-8")
            page.write_text(
                block.sub(lambda one, now=now: one[1] + now + one[3], text, count=1), encoding="utf-8"
            )
        else:
            assert told == now


def replaced(page: Path, old: str, new: str) -> None:
    """A piece of a page written anew."""
    text = page.read_text(encoding="utf-8")
    assert old in text
    page.write_text(text.replace(old, new, 1), encoding="utf-8")
