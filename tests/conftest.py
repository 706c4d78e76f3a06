"""What the summary of a run tells beside its tests: on which interpreters the installed package ran."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pytest


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
