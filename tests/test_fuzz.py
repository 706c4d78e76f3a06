"""Builds that are cut, crossed and bent at random: whatever comes of them is a verdict, never a crash."""

from __future__ import annotations

import contextlib
import io
import json
import re
from pathlib import Path
from typing import NoReturn

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from postcheck.cli import main

HERE = Path(__file__).parent
TEXTS = [
    path.read_text()
    for path in sorted(
        [
            *(HERE.parent / "example_builds").glob("*.post.toml"),
            *(HERE / "builds" / "sound").glob("*.post.toml"),
        ]
    )
]
LINES = sorted({line for text in TEXTS for line in text.splitlines() if "=" in line})
VALUES = [
    '"0 V"', '"12 V"', '"5 V"', '"1000 V"', '"1e-9 V"', '"-5 V"', '"1 mA"', '"0 A"', '"100 A"', '"1e-12 A"', '"0 ohm"',
    '"1e-6 ohm"', '"1e12 ohm"', '"1 mm"', '"0 mm"', '"1 um"', '"100 m"', '"100 %"', '"0 %"', '"99.99999 %"', '"1000 /min"',
    '"1 mW"', '"0 W"', "0", "1", "-1", "200", "1e400", "true", "false", '""', "[]", "{}", "nan", "1979-05-27", '"base"', '"main"',
    '"main-"', '"main+"', '"negative"', '"flash"', '"dim"', '"battery"', '"converter"', '"usb"', '["base", "hull"]',
]  # fmt: skip
EXTRA = [
    "series = 50", "parallel = 9", "backwards = true", "own_return = true", 'switched = "negative"', 'behaviour = "flash"',
    'output = "20 mA constant, compliance 1 V"', 'output = "100 mA, drop 0.2 V"', "one_resistor = true", "spare = true",
    'kind = "converter"\nfrom = "main"', 'regulation = "50 %"', 'unloaded = "18 V"', 'resistance = "50 ohm"', "conductors = 9",
    'turn = "3600 deg"', 'wanted = "1 mA"', 'shares_negative_with = "main"', "body = true", "cells = 30",
    '[[join]]\nplace = "hull"\nlines = ["main+", "main-"]', '[[limit]]\nname = "plug.load"\nvalue = "0 %"\nreason = "x"',
    '[[load]]\nname = "m"\ncircuit = "lights"\nplace = "hull"\ntypical = "1 A"\nstarting = "20 A"\nkind = "motor"',
    '[[plug]]\nname = "p"\nends = ["base", "hull"]\npins = ["main-", "lights"]\nkeyed = false\npart_way = true',
    '[supply.s2]\nkind = "battery"\nplace = "hull"\nchemistry = "lipo"\ncells = 3\nprotected = false',
]  # fmt: skip
SIGNS = [
    "",
    '"',
    "'",
    "\x7f",
    "é",
    "\u202e",
    "0",
    "9",
    "-",
    "[",
    "]",
    "{",
    "}",
    "\\",
    "#",
    "=",
    ".",
    ",",
    " ",
    "\t",
    "\r",
]
WAYS = ["lose", "double", "line", "extra", "block", "sign", *["value", "same key", "number"] * 3]
NUMBERS = ["0", "1", "1000", "0.001", "1e9", "1e-9", "99999"]


@st.composite
def mutants(draw: st.DrawFn) -> str:
    """A sound build with one to three lines lost, doubled, moved, exchanged or bent."""
    lines = draw(st.sampled_from(TEXTS)).splitlines()
    for _ in range(draw(st.integers(1, 3))):
        at = draw(st.integers(0, max(0, len(lines) - 1)))
        line = lines[at] if lines else ""
        what = draw(st.sampled_from(WAYS))
        if what == "lose":
            del lines[at : at + 1]
        elif what == "double":
            lines.insert(at, line)
        elif what == "line":
            lines.insert(at, draw(st.sampled_from(LINES)))
        elif what == "extra":
            lines.insert(at, draw(st.sampled_from(EXTRA)))
        elif what == "block":
            headers = [number for number, text in enumerate(lines) if text.startswith("[")]
            if headers:
                start = draw(st.sampled_from(headers))
                end = next((number for number in headers if number > start), len(lines))
                lines[start:end] = draw(st.sampled_from([[], lines[start:end] * 2]))
        elif what == "sign":
            where = draw(st.integers(0, len(line)))
            lines[at : at + 1] = [line[:where] + draw(st.sampled_from(SIGNS)) + line[where + 1 :]]
        elif "=" in line:
            key = line.split("=")[0]
            if what == "value":
                # mostly one of the same unit, which the file may bear
                alike = [value for value in VALUES if value.split()[-1] == line.split()[-1]]
                lines[at] = f"{key}= {draw(st.sampled_from(alike * 3 + VALUES))}"
            elif what == "same key":
                alike = [other for other in LINES if other.split("=")[0].strip() == key.strip()]
                lines[at] = draw(st.sampled_from(alike or [line]))
            elif numbers := list(re.finditer(r"[0-9]+(?:\.[0-9]+)?", line)):
                number = draw(st.sampled_from(numbers))
                lines[at] = line[: number.start()] + draw(st.sampled_from(NUMBERS)) + line[number.end() :]
    return "\n".join(lines) + "\n"


def no_constant(name: str) -> NoReturn:
    raise ValueError(f"{name} in JSON")


@given(text=mutants(), arguments=st.sampled_from([[], ["--fail-on", "caution"], ["--for", "closing"]]))
@settings(
    max_examples=300,
    derandomize=True,  # the same builds on every machine
    database=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
def test_every_mutant_gets_a_verdict_with_its_lines(text: str, arguments: list[str], tmp_path: Path) -> None:
    path = tmp_path / "mutant.post.toml"
    path.write_text(text, encoding="utf-8", newline="")
    out, told = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(told):
        code = main(["check", "--format", "json", *arguments, str(path)])

    assert (code in (0, 1, 2), told.getvalue()) == (True, "")
    (file,) = json.loads(out.getvalue(), parse_constant=no_constant)["files"]
    assert (code == 2) == (file["verdict"] == "unreadable")
    lines = text.split("\n")
    for finding in file["findings"]:
        if finding["where"] is None:  # of a file that is no text there is no line to tell
            assert code == 2
            continue
        line, column = finding["where"]["line"], finding["where"]["column"]
        assert 1 <= line <= len(lines)
        assert 1 <= column <= len(lines[line - 1]) + 1
