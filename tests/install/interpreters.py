"""The interpreters of this machine: of the versions that we declare, each one that starts."""

from __future__ import annotations

import os
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from uv import find_uv_bin

from tests.install.checkout import ROOT

PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
_CLASSIFIER = "Programming Language :: Python :: 3."


def declared() -> list[str]:
    """The versions of the classifiers, as in 3.11."""
    return [word.rpartition(" ")[2] for word in PROJECT["classifiers"] if word.startswith(_CLASSIFIER)]


def minor(version: str) -> str:
    """3.12 of 3.12.1."""
    return ".".join(version.split(".")[:2])


@cache
def at_hand() -> dict[str, Path]:
    """Version, as in 3.12.1, to interpreter: the one of this run, those that pyenv and uv keep, those on PATH."""
    found: dict[str, Path] = {}
    for folder in _folders():
        for name in declared():
            program = folder / f"python{name}"
            version = _version(program) if program.is_file() else None
            if version is not None and minor(version) == name:
                found.setdefault(version, program)
    return dict(sorted(found.items(), key=lambda item: tuple(map(int, item[0].split(".")))))


def _folders() -> Iterator[Path]:
    yield Path(sys.base_prefix) / "bin"
    kept = (["pyenv", "root"], "versions/*/bin"), ([find_uv_bin(), "python", "dir"], "*/bin")
    for command, pattern in kept:
        root = _told(command)
        if root:
            yield from sorted(Path(root).glob(pattern))
    yield from map(Path, filter(None, os.environ["PATH"].split(os.pathsep)))


def _version(program: Path) -> str | None:
    """The version of a released CPython; None of what is another, or only stands in for one that is switched off."""
    asks = "import sys; v = sys.version_info; print(sys.implementation.name, v[3], '%d.%d.%d' % v[:3])"
    name, _, version = (_told([str(program), "-I", "-c", asks]) or "").rpartition(" ")
    return version if name == "cpython final" else None


def _told(command: list[str]) -> str | None:
    try:
        done = subprocess.run(command, capture_output=True, text=True, check=False)
    except OSError:
        return None
    return done.stdout.strip() if done.returncode == 0 else None
