"""What an output, a board or a pin has to give while a motor starts, or is held fast, by Kirchhoff's current law.

Peak currents of small transistors are about twice those for good: BC547 0.2 and 0.1 A, BC337 1 and 0.5 A; sheets, from memory.
"""

from __future__ import annotations

from pathlib import Path

import pytest

import postcheck
from postcheck.limits import Limits
from postcheck.report import FileReport
from postcheck.survey import Survey
from postcheck.survey.network.states import States

BUILDS = Path(__file__).parent.parent / "builds"


def judged(name: str, *changes: tuple[str, str]) -> FileReport:
    """A build with some of its text replaced."""
    text = (BUILDS / f"{name}.post.toml").read_text()
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return postcheck.check(postcheck.loads(text)).files[0]


def severities(report: FileReport, check: str) -> list[str]:
    return [finding.severity for finding in report.findings if finding.check == check]


@pytest.mark.parametrize(
    ("limit", "found"),
    # 0.3 A at the start: up to the rating nothing, up to twice the rating a caution
    [("300 mA", []), ("299 mA", ["caution"]), ("150 mA", ["caution"]), ("149 mA", ["stop"])],
)
def test_an_output_stands_twice_its_rating_for_a_moment_at_the_most(limit: str, found: list[str]) -> None:
    assert severities(judged("faulty/output-starts", ('"120 mA, ', f'"{limit}, ')), "output.starts") == found


@pytest.mark.parametrize(("limit", "found"), [("190 mA", []), ("189 mA", ["stop"])])
def test_what_is_held_fast_counts_for_good(limit: str, found: list[str]) -> None:
    report = judged("faulty/output-starts-held", ('"130 mA, ', f'"{limit}, '))
    assert severities(report, "output.starts") == found


def test_electronics_charge_up_for_a_moment_however_much_they_take() -> None:
    report = judged("faulty/output-starts-electronics", ('"350 mA"', '"990 mA"'))
    assert severities(report, "output.starts") == ["caution"]


def test_a_fuse_that_soon_opens_ends_it() -> None:
    # 0.9 A opens a quick fuse of 250 mA within seconds, and one of 1 A never (IEC 60127-2: 2.1 times, half an hour at most)
    name = "faulty/plug-overload-held"
    assert severities(judged(name), "plug.overload") == ["stop"]
    assert severities(judged(name, ('"1.25 A slow"', '"250 mA"')), "plug.overload") == []


def test_a_board_gives_the_sum_of_what_starts_and_what_is_lit() -> None:
    # 4 strings at (12 - 0.2 - 1.9 to 2.1) V / 680 ohm beside the motor's 0.4 A
    (finding,) = judged("faulty/output-starts-board").findings
    assert finding.figures["current"].value == pytest.approx(0.4 + 4 * 9.8 / 680, rel=0.01)
    assert finding.subject.name == "flasher"


def test_a_constant_current_output_gives_no_more_than_that() -> None:
    report = judged(
        "faulty/output-starts", ('"120 mA, 0.2 V drop"', '{ steady = "90 mA", compliance = "1 V", limit = "120 mA" }')
    )  # fmt: skip
    assert severities(report, "output.starts") == []


@pytest.mark.parametrize(("soon", "held"), [(83.0, set()), (82.8, {"screw"})])
def test_a_fuse_ends_it_where_it_is_sure_to_open_so_soon(soon: float, held: set[str]) -> None:
    # 0.5 A and 5.16 mA of the lamp through a slow glass fuse of 200 mA, which is open within 120 s at 2.1 times its rating
    # (IEC 60127-2, sheet 3) and, with no heat lost, by the square of the current at more: 120 s (0.42 / 0.50516)**2 = 82.95 s
    build = postcheck.load(BUILDS / "sound" / "motor-held-fast-opens-its-fuse.post.toml")
    assert Survey(build, Limits({"motor.fuse": (soon, "a winding of thin wire")})).held_for_good == held


@pytest.mark.parametrize(("soon", "held"), [(84.8, set()), (84.5, {"screw"})])
def test_where_the_build_has_no_solution_the_motor_alone_opens_the_fuse(
    soon: float, held: set[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    # 120 s (0.42 / 0.5)**2 = 84.67 s: nobody knows what the lamp takes
    monkeypatch.setattr(States, "solved", lambda *_: None)
    build = postcheck.load(BUILDS / "sound" / "motor-held-fast-opens-its-fuse.post.toml")
    assert Survey(build, Limits({"motor.fuse": (soon, "a winding of thin wire")})).held_for_good == held
