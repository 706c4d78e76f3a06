"""In which order tests run, and what the summary tells beside them: on which interpreters the installed package ran."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from hypothesis import HealthCheck, settings

if TYPE_CHECKING:
    import pytest

HERE = Path(__file__).parent
# Rooms and files whose tests start other programs: they take longest, and nobody should wait for them at the end.
LONG = {"install", "outside", "test_cli.py", "test_completion.py", "test_watch.py"}


# How long an example takes is the machine's business, and what else it does.
settings.register_profile("any machine", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("any machine")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The long ones come first; tests of one build of the corpus stand together, so that a process judges it once."""
    items.sort(key=_turn)


def _turn(item: pytest.Item) -> tuple[int, str]:
    if item.path.is_relative_to(HERE) and item.path.relative_to(HERE).parts[0] in LONG:
        return 0, ""
    call = getattr(item, "callspec", None)
    path = call.params.get("path") if call is not None else None
    return (2, path.name) if isinstance(path, Path) else (1, "")


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """A version that is declared and that nothing here runs is not skipped in silence."""
    ran = [
        version
        for report in terminalreporter.getreports("passed")
        for name, version in report.user_properties
        if name == "interpreter"
    ]
    if not ran:
        return
    from tests.install.interpreters import at_hand, declared, minor  # noqa: PLC0415 - asks every interpreter

    missing = sorted(set(declared()) - {minor(version) for version in at_hand()})
    terminalreporter.section("interpreters")
    terminalreporter.line(f"the wheel was installed and run on Python {', '.join(sorted(ran))}")
    if missing:
        terminalreporter.line(f"declared, and not to be had here: Python {', '.join(missing)}", yellow=True)
