"""The Python of README and guide, run as it stands: each block prints what the block below it shows."""

from __future__ import annotations

import contextlib
import io
import os
import re
import shutil
from pathlib import Path
from typing import Any

import pytest

from tests.pages import PAGES, ROOT, replaced

BLOCK = re.compile(r"```python\n(.*?)```\n(?:\n```text\n(.*?)```\n)?", re.DOTALL)
TOLD = {page.name: list(BLOCK.finditer(page.read_text(encoding="utf-8"))) for page in PAGES}
CODE = {page: [one[1] for one in found] for page, found in TOLD.items() if found}
"""The Python of each page, which goes on from block to block."""


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with an example, and two more builds: one with a mistake, one with a fault."""
    airship = ROOT / "example_builds" / "mail_airship.post.toml"
    shutil.copy(airship, tmp_path)
    (tmp_path / "models").mkdir()
    text = airship.read_text(encoding="utf-8")
    nose = text.index('name     = "nose lamp"')
    (tmp_path / "models" / "bright.post.toml").write_text(
        text[:nose] + text[nose:].replace("1k at keel", "390 ohm at keel", 1), encoding="utf-8"
    )
    (tmp_path / "models" / "ferry.post.toml").write_text(
        'format = 1\n\n[build]\nname = "Ferry"\nair = "20"\n', encoding="utf-8"
    )
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("page", CODE)
def test_the_examples_print_what_is_shown(page: str, bench: Path) -> None:
    """POSTCHECK_UPDATE_GOLDEN=1 puts what they print into the page."""
    names: dict[str, Any] = {"__name__": "example"}
    for found in TOLD[page]:
        out = io.StringIO()
        with contextlib.redirect_stdout(out):
            exec(compile(found[1], page, "exec"), names)
        told = "".join(f"{line}\n".replace(" \n", "\n") for line in out.getvalue().splitlines())
        if os.environ.get("POSTCHECK_UPDATE_GOLDEN"):
            shown = f"```python\n{found[1]}```\n" + (f"\n```text\n{told}```\n" if told else "")
            replaced(next(one for one in PAGES if one.name == page), found[0], shown)
        else:
            assert told == (found[2] or "")
    if page == "python.md":
        assert (bench / "models.sarif").read_text().startswith("{")


def test_the_python_of_all_pages_is_known() -> None:
    assert {page: len(code) for page, code in CODE.items()} == {
        "README.md": 1,
        "python.md": 7,
        "record.md": 1,
    }
