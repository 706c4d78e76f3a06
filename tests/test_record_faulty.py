"""`postcheck record` on builds with faults: nothing breaks, nothing is lost, and nothing is powered that the checks stop."""

from __future__ import annotations

import builtins
import re
import shutil
import sys
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

import postcheck
from postcheck.cli import main

FAULTY = Path(__file__).parent / "builds" / "faulty"
DAY = date(2026, 11, 25)
# Every tenth, and those of which something must not be powered.
NOT_POWERED = [
    "scope-volts", "scope-volts-inverter", "load-over-volts", "strip-wrong-volts", "strip-over-through", "lamp-shared-resistor", "lamp-eyes-short-wave",
    "wire-hot", "lamp-no-resistor", "closing-mend-first",
]  # fmt: skip
SAMPLE = sorted(
    {*sorted(FAULTY.glob("*.post.toml"))[::10], *(FAULTY / f"{name}.post.toml" for name in NOT_POWERED)}
)
COMMENT = "# The hatch is glued on Friday.\n"
GARBAGE = (
    "", "12 V V", "\udcff\udcfe", "\N{SAILBOAT}", "1e999", "-3", "nan", "twelve", "limit", "help", "9" * 5000, "[[proof]]", '"""', "13 mm", "\x1b[2J",
)  # fmt: skip
SETTING = re.compile(r"Set the limit to [0-9.]+ [um]?A, then the volts to ([0-9.]+) (m?)V")


def typical(said: str) -> str:
    found = re.search(r"It should show (?:the limit, )?([0-9.]+ [num]?A)", said)
    return found[1] if found else "skip"


def answers(mode: str, prompt: str, said: str, tried: int) -> str:
    if mode == "garbage":
        return GARBAGE[tried] if tried < len(GARBAGE) else "skip"
    if mode == "dark":
        return "dark" if prompt == "mA: " else "no" if "no" in prompt else "skip"
    if mode == "typical":
        if prompt.startswith("Hours"):
            return "24"
        return typical(said) if prompt == "mA: " else "12" if prompt == "V: " else "yes"
    return mode


class Builder:
    """Who sits at the terminal: types an answer to each prompt, and keeps what the screen said."""

    encoding, errors = "utf-8", "surrogateescape"

    def __init__(self, mode: str, capsys: pytest.CaptureFixture[str]) -> None:
        self.mode, self.capsys, self.screen, self.shown = mode, capsys, "", ""
        self.tried = 0

    def isatty(self) -> bool:
        return True

    def readline(self) -> str:
        raise AssertionError("a terminal is read by input()")

    def input(self, prompt: str) -> str:
        said = self.capsys.readouterr().out
        self.screen += said
        fresh = re.search(r"test [0-9]+ of [0-9]+", said) is not None
        if fresh:
            self.shown = said
        if prompt.startswith("back"):
            return "stop"
        self.tried = self.tried + 1 if self.mode == "garbage" and not fresh else 0
        return answers(self.mode, prompt, self.shown, self.tried)


def comments(text: str) -> Iterator[str]:
    return (line.strip() for line in text.splitlines() if line.lstrip().startswith("#"))


@pytest.mark.parametrize("mode", ["skip", "typical", "dark", "garbage", "back"])
@pytest.mark.parametrize("build", SAMPLE, ids=lambda path: path.name.split(".")[0])
def test_whatever_is_typed_the_file_stays_a_build_with_its_comments(
    build: Path,
    mode: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    file = Path(shutil.copy(build, tmp_path))
    before = COMMENT + file.read_text(encoding="utf-8")
    file.write_text(before, encoding="utf-8")
    try:
        places = list(postcheck.load(file).place)
    except postcheck.BuildError:
        assert main(["record", str(file)]) == 2
        assert file.read_text(encoding="utf-8") == before
        return
    who = Builder("stop" if mode == "back" else mode, capsys)
    typed = iter(["back", "skip", "back", "12", "0.1", "back", "stop"]) if mode == "back" else None
    monkeypatch.setattr(sys, "stdin", who)
    monkeypatch.setattr(builtins, "input", lambda prompt: next(typed, "stop") if typed else who.input(prompt))
    options = [word for place in places for word in ("--closing", place)]
    assert main(["record", *options, "--today", DAY.isoformat(), str(file)]) in (0, 1)
    told = capsys.readouterr()
    assert not told.err
    text = file.read_text(encoding="utf-8")
    postcheck.load(file)
    assert list(comments(text))[: len(list(comments(before)))] == list(comments(before))
    if mode == "skip":
        assert text == before
    if mode == "garbage":  # what was seen may be said in any words; no figure comes of them
        assert re.findall("current|continuity|hours", text) == re.findall("current|continuity|hours", before)
    screen = who.screen + told.out
    assert "\\udc" not in screen
    # the limit comes first wherever volts are asked for, and none are more than is judged
    assert len(SETTING.findall(screen)) == screen.count("the volts to ")
    assert all(float(volts) * (1e-3 if milli else 1.0) <= 60.0 for volts, milli in SETTING.findall(screen))


NEVER = {
    "scope.volts", "load.over-volts", "strip.wrong-volts", "strip.over-through", "lamp.shared-resistor", "lamp.eyes", "wire.hot",
}  # fmt: skip


@pytest.mark.parametrize("file", SAMPLE, ids=lambda path: path.name.split(".")[0])
def test_nothing_has_a_setting_that_a_check_stops(file: Path) -> None:
    try:
        build = postcheck.load(file)
    except postcheck.BuildError:
        return
    findings = postcheck.check(build, remedies=False, today=DAY).files[0].findings
    stops = {
        (one.subject.kind, one.subject.name): one
        for one in findings
        if one.severity == "stop" and one.check in NEVER
    }
    bare = {one.subject.name: one for one in findings if one.check == "lamp.no-resistor"}
    lines = {run.name: run.line for run in build.run}
    for test in postcheck.bench_tests(build, closing=list(build.place), today=DAY):
        supply = build.circuit[test.name].supply if test.kind == "circuit" else None
        behind = {
            (test.kind, test.name),
            *((one.kind, one.name) for one in test.proves),
            ("supply", supply or ""),
        }
        behind = {one for one in behind if one[0] != "run" or lines.get(one[1]) == test.name}
        if stopped := behind & stops.keys():
            assert test.volts is None or test.measures == "continuity", (test, stopped)
            assert test.mend_first or test.measures in ("continuity", "work"), (test, stopped)
        if test.limit is not None:
            for _, name in behind:
                assert name not in bare or test.limit <= bare[name].figures["rated"].value


def test_the_sample_holds_what_must_not_be_powered() -> None:
    said = ""
    for name in NOT_POWERED:
        build = postcheck.load(FAULTY / f"{name}.post.toml")
        said += "\n".join(
            test.mend_first for test in postcheck.bench_tests(build, closing=list(build.place), today=DAY)
        )
    for words in (
        "there are 75.6 V in its wiring, and nothing above 60 V is judged safe", "puts out 180 V", "'screw' gets 12 V, and is made for 6 V at most",
        "each LED of 'deck", "flows through the traces", "one string of 'side windows' takes 32 mA, and 20 mA is its rating", "burns eyes and skin",
        "its insulation withstands",
    ):  # fmt: skip
        assert words in said, words
