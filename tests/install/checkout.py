"""The checkout as git has it, copied elsewhere, and programs that run far from the developer's own settings."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent

# What would let a program see the checkout, the environment that the tests run in, or tools that are installed already.
# The index settings of pip and uv stay: the machine may reach no other.
_OF_THE_DEVELOPER = (
    "GIT_",
    "PYTHON",
    "VIRTUAL_ENV",
    "XDG_",
    "PIPX_",
    "UV_TOOL_",
    "UV_PYTHON",
    "UV_PROJECT",
    "POSTCHECK_",
)


def tracked() -> list[str]:
    """The paths that git would have if all were committed as it stands in the folder, new files too."""
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT, env=without_settings(), capture_output=True, text=True, check=True,
    )  # fmt: skip
    return sorted({path for path in listed.stdout.split("\0") if (ROOT / path).is_file()})


def copied(folder: Path) -> Path:
    """What git tracks, and nothing else, in a folder of its own."""
    for path in tracked():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(ROOT / path, folder / path)
    return folder


def contents(folder: Path) -> dict[str, bytes]:
    """Every file below a folder."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


def without_settings() -> dict[str, str]:
    """This environment, less what the developer has set for Python, git and the installers."""
    return {name: value for name, value in os.environ.items() if not name.startswith(_OF_THE_DEVELOPER)}


def away_from_home(home: Path, caches: Path) -> dict[str, str]:
    """An environment in which all that an installer leaves behind goes below two folders."""
    settings = os.environ.get("XDG_CONFIG_HOME", str(Path.home() / ".config"))
    return (
        without_settings()
        | {
            "HOME": str(home),
            "XDG_CONFIG_HOME": settings,  # where pip and uv are told of the index
            "PIP_CACHE_DIR": str(caches / "pip"),
            "UV_CACHE_DIR": str(caches / "uv"),
            "UV_PYTHON_DOWNLOADS": "never",
            "PIP_DISABLE_PIP_VERSION_CHECK": "1",
            "PIP_NO_COMPILE": "0",  # pip reads it as `compile`: what is imported gets compiled then, all else only takes time
        }
    )


def run(*command: str | Path, here: Path, env: dict[str, str]) -> str:
    """What a program says on its standard output; it must end well."""
    done = subprocess.run(
        list(map(str, command)), cwd=here, env=env, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, f"{command}: {done.returncode}\n{done.stdout}\n{done.stderr}"
    return done.stdout
