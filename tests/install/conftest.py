"""What the tests of installing share: a checkout of its own, the wheel and sdist built from it, a home that goes."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

import pytest
from uv import find_uv_bin

from tests.install import checkout as git
from tests.install.checkout import run

# A day that no build takes by itself: what is stamped with it was made reproducible by our word.
EPOCH = "1750000000"


@dataclass(frozen=True)
class Built:
    """What a packager hands on."""

    wheel: Path
    sdist: Path


@pytest.fixture(scope="session")
def caches(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Downloads, kept for one run of the tests: all workers share them, as pip and uv let them."""
    base = tmp_path_factory.getbasetemp()
    folder = (base.parent if "PYTEST_XDIST_WORKER" in os.environ else base) / "downloads"
    folder.mkdir(exist_ok=True)
    return folder


@pytest.fixture(scope="session")
def environment(tmp_path_factory: pytest.TempPathFactory, caches: Path) -> dict[str, str]:
    """An environment whose home is a folder of this run."""
    return git.away_from_home(tmp_path_factory.mktemp("home"), caches)


@pytest.fixture(scope="session")
def checkout(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What git tracks, in a folder of its own; nobody may write to it."""
    return git.copied(tmp_path_factory.mktemp("checkout"))


@pytest.fixture(scope="session")
def built(checkout: Path, tmp_path_factory: pytest.TempPathFactory, environment: dict[str, str]) -> Built:
    """Wheel and sdist, each made from the checkout."""
    return both(checkout, tmp_path_factory.mktemp("dist"), environment)


def both(source: Path, into: Path, environment: dict[str, str]) -> Built:
    """Wheel and sdist of a source."""
    return Built(made(source, into, environment, "wheel"), made(source, into, environment, "sdist"))


def made(source: Path, into: Path, environment: dict[str, str], kind: str) -> Path:
    """What the build back end makes of a source, in an environment of its own: a wheel or an sdist."""
    folder = into / kind
    folder.mkdir()
    run(
        find_uv_bin(), "build", "--quiet", f"--{kind}", "--out-dir", folder, source,
        here=into, env=environment | {"SOURCE_DATE_EPOCH": EPOCH},
    )  # fmt: skip
    (file,) = folder.glob("postcheck-*")
    return file
