"""The README's Python, run as it stands: each block prints what the block below it shows."""

from __future__ import annotations

import contextlib
import io
import os
import re
import shutil
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parent.parent
README = ROOT / "README.md"
BLOCK = re.compile(r"```python\n(.*?)```\n(?:\n```text\n(.*?)```\n)?", re.DOTALL)
CODE = [found[1] for found in BLOCK.finditer(README.read_text(encoding="utf-8"))]


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


def test_the_examples_print_what_is_shown(bench: Path) -> None:
    """POSTCHECK_UPDATE_GOLDEN=1 puts what they print into the README."""
    readme = README.read_text(encoding="utf-8")
    names: dict[str, Any] = {"__name__": "example"}
    for found in BLOCK.finditer(readme):
        out = io.StringIO()
        with contextlib.redirect_stdout(out):
            exec(compile(found[1], "README.md", "exec"), names)
        told = "".join(f"{line}\n".replace(" \n", "\n") for line in out.getvalue().splitlines())
        if os.environ.get("POSTCHECK_UPDATE_GOLDEN"):
            shown = f"```python\n{found[1]}```\n" + (f"\n```text\n{told}```\n" if told else "")
            README.write_text(README.read_text(encoding="utf-8").replace(found[0], shown), encoding="utf-8")
        else:
            assert told == (found[2] or "")
    assert len(CODE) == 7
    assert (bench / "models.sarif").read_text().startswith("{")
