"""What README and guide show of Python type-checks in strict mode by mypy and by Pyright, and what is wrong does not.

Basedpyright is Pyright with its Node.js from PyPI; in `strict` it reports what Pyright does.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import postcheck
from tests.pages import ROOT
from tests.test_python_api import CODE

WRONG = {
    "a build is not a path": 'postcheck.check("airship.post.toml")',
    "a stage is one of three": 'postcheck.check(build, stage="gluing")',
    "a format is one of five": 'postcheck.render(postcheck.check(build), "pdf")',
    "a section is spelt out": 'postcheck.check(build).files[0].figures["lamp"]',
    "a figure is spelt out": 'postcheck.check(build).files[0].figures["runs"]["a"]["amps"]',
    "a current may not be known": 'postcheck.check(build).files[0].figures["lamps"]["a"]["nominal"] * 2',
    "a finding is not changed": 'postcheck.check(build).files[0].findings[0].says = "well"',
    "wires are numbers": 'pack(["0.74"])',
    "a private name is none of the package": "postcheck.judge",
    "a list of a build is not changed": "build.lamp.append(build.lamp[0])",
    "a limit is spelt out": 'postcheck.Survey(build).limits["lamp.currant"]',
    "a limit's value is asked by its name": 'postcheck.Survey(build).limits.value("lamp.currant")',
    "a what-if is of keys with values": 'postcheck.what_if(build, ["post.bore"])',
    "a table of a build is not changed": 'build.place["attic"] = build.place["keel"]',
}  # fmt: skip
HEAD = 'import postcheck\nfrom postcheck.physics.bundle import pack\n\nbuild = postcheck.loads("")\nprint(pack([1.0]))\n'


@pytest.fixture(scope="module")
def usage(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """All Python of README and guide, a file a page, and one mistake a line."""
    folder = tmp_path_factory.mktemp("usage")
    for page, code in CODE.items():
        (folder / right(page)).write_text("\n".join(code), encoding="utf-8")
    (folder / "wrong.py").write_text(HEAD + "".join(f"{line}\n" for line in WRONG.values()), encoding="utf-8")
    return folder


def right(page: str) -> str:
    return f"right_{page.removesuffix('.md').lower()}.py"


def wrong_lines() -> list[int]:
    return list(range(HEAD.count("\n") + 1, HEAD.count("\n") + 1 + len(WRONG)))


def pyright(*words: str | Path) -> Any:
    done = subprocess.run(
        [sys.executable, "-m", "basedpyright", "--outputjson", "--pythonpath", sys.executable, *map(str, words)],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode in {0, 1}, done.stderr
    return json.loads(done.stdout)


def test_mypy_takes_what_is_right_and_refuses_what_is_wrong(usage: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "mypy", "--strict", "--no-error-summary", "--no-pretty", *(usage / right(page) for page in CODE), usage / "wrong.py"],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    errors = [line.split(":", 2) for line in done.stdout.splitlines() if ": error:" in line]
    assert [line for file, *line in errors if not file.endswith("wrong.py")] == [], done.stdout
    assert sorted({int(line) for _, line, _ in errors}) == wrong_lines(), done.stdout


def test_pyright_takes_what_is_right_and_refuses_what_is_wrong(usage: Path) -> None:
    (usage / "pyrightconfig.json").write_text(
        json.dumps(
            {
                "typeCheckingMode": "strict",
                "include": [*map(right, CODE), "wrong.py"],
                "extraPaths": [str(ROOT)],
            }
        )
    )
    told = pyright("--project", usage)
    found = [one for one in told["generalDiagnostics"] if one["severity"] == "error"]
    assert [one["message"] for one in found if not one["file"].endswith("wrong.py")] == []
    assert sorted({one["range"]["start"]["line"] + 1 for one in found}) == wrong_lines()


def test_every_public_name_has_a_type_that_needs_no_guessing() -> None:
    """Pyright's own count of a library's types: what is in `__all__`, and all that it leads to."""
    told = pyright("--verifytypes", "postcheck", "--ignoreexternal")
    whole = told["typeCompleteness"]
    assert whole["pyTypedPath"] is not None
    names = {symbol["name"] for symbol in whole["symbols"]}
    assert {f"postcheck.{name}" for name in postcheck.__all__ if name != "__version__"} <= names
    assert len(names) > 3000
    unknown = [symbol["name"] for symbol in whole["symbols"] if not symbol["isTypeKnown"]]
    assert unknown == []
    assert whole["completenessScore"] == 1
