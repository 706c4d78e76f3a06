"""Lines that a screen gives to type are the same TOML when they are copied from it, however narrow it is."""

from __future__ import annotations

from dataclasses import replace

import pytest
import tomli

from postcheck.comparison import compare
from postcheck.renderers import compared as changes
from postcheck.renderers import terminal
from postcheck.report import FileReport, Finding, NotJudged, Report, Subject

TYPED = (
    '# unless the lead of \'windows\' goes to "bilge", as others do, and not to "cabin"; else:',
    "[[run]]",
    'line = "main-"',
    'ends = ["a place at the far end of the base", "the forward cabin"]  # the other end may be a bilge',
    'colour = "red # 2"  # "signal" red of the chart that lies in the second drawer',
    'length = "100 mm"  # as you measure it',
)
(RUN,) = tomli.loads("\n".join(TYPED))["run"]
FINDING = Finding(
    "a.b", "stop", Subject("lamp", "a"), "Says so.", "Why.", remedy="Add to the file:", lines=TYPED
)
QUESTION = NotJudged("a", "what it gets", "a run", lines=TYPED)


@pytest.mark.parametrize("width", [24, 40, 80, 120])
@pytest.mark.parametrize("ascii_only", [False, True])
def test_what_is_given_to_type_is_never_wrapped_into_something_else(width: int, ascii_only: bool) -> None:
    files = (
        FileReport("f", "stop", (FINDING,)),
        FileReport("g", "incomplete", not_judged=(QUESTION, replace(QUESTION, subject="b"))),
    )
    for file, count in zip(files, (1, 2), strict=True):
        screen = terminal.render(Report((file,)), width=width, colour=False, ascii=ascii_only)
        lines = screen.split("\n")
        first = next(number for number, line in enumerate(lines) if line.lstrip().startswith("# unless"))
        last = max(number for number, line in enumerate(lines) if "length = " in line)
        assert tomli.loads("\n".join(lines[first : last + 1]))["run"] == [RUN] * count
        wide = [line for line in lines if len(line) > width]
        assert all(" = " in line for line in wide)


@pytest.mark.parametrize("width", [24, 80])
def test_nor_in_a_comparison(width: int) -> None:
    before, after = FileReport("f", "clear"), FileReport("f", "stop", (FINDING,))
    lines = changes.render(compare(Report((before,)), Report((after,))), width).split("\n")
    first = next(number for number, line in enumerate(lines) if line.lstrip().startswith("# unless"))
    last = max(number for number, line in enumerate(lines) if "length = " in line)
    assert tomli.loads("\n".join(lines[first : last + 1]))["run"] == [RUN]
