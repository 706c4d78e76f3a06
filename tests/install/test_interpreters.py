"""The wheel, installed into a fresh environment of each interpreter of this machine, says what the checkout says."""

from __future__ import annotations

import contextlib
import io
import json
import shutil
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from uv import find_uv_bin

from postcheck.cli import main
from tests.install.checkout import ROOT, contents, run
from tests.install.conftest import Built
from tests.install.interpreters import at_hand, declared, minor

BUILD = "tender.post.toml"
COMMANDS = (
    ["--version"],
    ["check", BUILD],
    ["check", "--format", "json", BUILD],
    ["sheet", BUILD, "--today", "2026-11-25", "-o", "sheet.html"],
    ["ask", "bore", "5 mm", "3 ptfe-28"],
    ["catalogue", "wire"],
    ["schema", "build"],
    ["start"],
)

# Every file that is opened for the check goes through an audit hook (PEP 578).
PROGRAM = """
import json, sys
opened = []
sys.addaudithook(lambda event, what: opened.append(str(what[0])) if event == "open" else None)
import postcheck
report = postcheck.check(postcheck.load("tender.post.toml"))
data = [path for path in opened if path.endswith(".toml") and not path.endswith(".post.toml")]
from importlib.resources import files
schemas = {each.name: each.read_text(encoding="utf-8") for each in (files("postcheck") / "schemas").iterdir()}
print(json.dumps({
    "home": postcheck.__file__, "verdict": report.files[0].verdict, "data": data, "schemas": schemas,
    "version": sys.version.split()[0], "typed": (files("postcheck") / "py.typed").is_file(),
}))
"""

# what is printed, command by command, and the folder afterwards
Said = tuple[list[str], dict[str, bytes]]


def models(folder: Path) -> Path:
    """A folder with one build, and nothing else of ours."""
    folder.mkdir()
    shutil.copy(ROOT / "example_builds" / BUILD, folder)
    return folder


def said(program: Path, folder: Path, env: dict[str, str]) -> Said:
    """What each command prints, and the files that it leaves. A warning of the interpreter would be an error."""
    strict = env | {"PYTHONWARNINGS": "error"}
    return [run(program, *command, here=folder, env=strict) for command in COMMANDS], contents(folder)


@pytest.fixture(scope="module")
def of_the_checkout(tmp_path_factory: pytest.TempPathFactory) -> Said:
    folder = models(tmp_path_factory.mktemp("here") / "checkout")
    with contextlib.chdir(folder):
        return [printed(command) for command in COMMANDS], contents(folder)


def printed(command: list[str]) -> str:
    with contextlib.redirect_stdout(io.StringIO()) as told:
        assert main(command) == 0
    return told.getvalue()


@pytest.fixture
def installed(built: Built, tmp_path: Path, environment: dict[str, str]) -> Callable[..., Path]:
    """Installs the wheel for an interpreter; gives the folder of the environment's programs."""

    def install(interpreter: Path, *options: str) -> Path:
        home = tmp_path / "environment"
        for command in (
            ["venv", "--python", interpreter, home],
            ["pip", "install", "--python", home, *options, built.wheel],
            ["pip", "check", "--python", home],
        ):
            run(find_uv_bin(), *command, here=tmp_path, env=environment)
        return home / "bin"

    return install


@pytest.mark.parametrize("version", at_hand())
def test_the_wheel_runs(
    version: str,
    installed: Callable[..., Path],
    of_the_checkout: Said,
    tmp_path: Path,
    environment: dict[str, str],
    record_property: Callable[[str, str], None],
) -> None:
    programs = installed(at_hand()[version])
    assert said(programs / "postcheck", models(tmp_path / "models"), environment) == of_the_checkout
    module = [programs / "python", "-m", "postcheck", "--version"]
    assert run(*module, here=tmp_path, env=environment) == of_the_checkout[0][0]
    told = json.loads(run(programs / "python", "-c", PROGRAM, here=tmp_path / "models", env=environment))
    package = Path(told["home"]).parent
    assert package.is_relative_to(programs.parent)
    assert (told["version"], told["verdict"], told["typed"]) == (version, "clear", True)
    assert told["schemas"] == {
        path.name: path.read_text(encoding="utf-8") for path in (ROOT / "schemas").iterdir()
    }
    data, limits = {Path(path) for path in told["data"]}, package / "limits" / "limits.toml"
    assert limits in data
    assert data > {limits}
    assert [path for path in data - {limits} if not path.is_relative_to(package / "catalogue")] == []
    record_property("interpreter", version)


def test_the_interpreters_are_of_declared_versions_and_this_one_is_among_them() -> None:
    here = ".".join(map(str, sys.version_info[:3]))
    assert {minor(version) for version in at_hand()} <= set(declared())
    assert minor(here) in {minor(version) for version in at_hand()}


def test_the_oldest_packages_that_are_let_in_will_do(
    installed: Callable[..., Path], of_the_checkout: Said, tmp_path: Path, environment: dict[str, str]
) -> None:
    oldest = next(iter(at_hand().values()))
    programs = installed(oldest, "--resolution", "lowest-direct")
    assert said(programs / "postcheck", models(tmp_path / "models"), environment) == of_the_checkout
