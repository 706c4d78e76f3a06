"""postcheck: checks the lighting of a display model before it is glued shut."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from postcheck.build.loading import load, loads
    from postcheck.build.models import Build
    from postcheck.build.problems import BuildError
    from postcheck.checking import check
    from postcheck.report import Report

__all__ = ["Build", "BuildError", "Report", "__version__", "check", "load", "loads"]

__version__ = "0.1.0"

# Imported on first use: a hook that only asks for the version must not wait for the models.
_HOMES = {
    "load": "postcheck.build.loading",
    "loads": "postcheck.build.loading",
    "Build": "postcheck.build.models",
    "BuildError": "postcheck.build.problems",
    "check": "postcheck.checking",
    "Report": "postcheck.report",
}


def __getattr__(name: str) -> Any:
    home = _HOMES.get(name)
    if home is None:
        raise AttributeError(f"module 'postcheck' has no attribute {name!r}")
    from importlib import import_module  # noqa: PLC0415 - see _HOMES

    return getattr(import_module(home), name)


def __dir__() -> list[str]:
    return sorted(__all__)
