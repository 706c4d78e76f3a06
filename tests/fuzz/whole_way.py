"""A text all the way: read, judged, drawn, and put through every renderer. What is raised but BuildError is a defect."""

from __future__ import annotations

import json
import re
from typing import Any, NoReturn
from unittest.mock import patch
from xml.etree import ElementTree

import cmarkgfm
from rich.cells import cell_len

import postcheck
from postcheck import Build, BuildError, checking
from postcheck.checking import pictures, sheet_of, unreadable
from postcheck.renderers import bore_screen
from postcheck.sheet import PARTS
from postcheck.survey import Survey
from tests.renderers.hostile import FORBIDDEN

WIDTH, WIDE = 60, 80


def text_of(data: bytes) -> str | bytes:
    """The text of bytes, lone surrogates included: a program can hand such a text over, a file cannot hold it."""
    try:
        return data.decode("utf-8", "surrogatepass")
    except UnicodeDecodeError:
        return data


def read(text: str | bytes) -> Build | None:
    """The build, or None for a text that is refused in words."""
    return _read(text)[0]


def _read(text: str | bytes) -> tuple[Build | None, BuildError | None]:
    try:
        return postcheck.loads(text), None
    except BuildError as error:
        problems = error.problems
        assert problems
        lines = [*(text if isinstance(text, str) else text.decode("utf-8", "replace")).split("\n"), ""]
        for problem in problems:
            assert not FORBIDDEN.search(problem.says + (problem.hint or "")), problem
            assert problem.line is None or 1 <= problem.line <= len(lines), problem
        return None, error


class _OneSurvey:
    """The survey that was made last, given again for the same build: what asks for one does so five times a text."""

    def __init__(self) -> None:
        self._of: tuple[Build, Survey] | None = None

    def __call__(self, build: Build, *given: Any, **named: Any) -> Survey:
        if self._of is None or self._of[0] is not build:
            self._of = build, Survey(build, *given, **named)
        return self._of[1]


def whole(text: str | bytes) -> None:
    """The text read, and all that comes of it rendered in every form."""
    build, error = _read(text)
    if error is not None:
        shown(postcheck.Report((unreadable(error),)))
    if build is None:
        return
    with patch.object(checking, "Survey", _OneSurvey()):
        _judged_and_drawn(build)


def _judged_and_drawn(build: Build) -> None:
    shown(postcheck.check(build, remedies=False))
    drawn = pictures(build)
    for page in (postcheck.render(drawn), *_parsed(postcheck.render(drawn, "svg"))):
        assert not FORBIDDEN.search(page)
    for width in (WIDTH, WIDE):  # the legend below the drawing, and beside it
        screen = bore_screen.render(drawn, width=width, colour=False)
        assert all(cell_len(line) <= width for line in screen.split("\n")), screen
    sheet = sheet_of(build)
    page, marked = postcheck.render(sheet, "html"), postcheck.render(sheet, "markdown")
    assert not FORBIDDEN.search(page + marked)
    assert not re.search(
        "<(?:a|img|pre|code|del|h[4-6])\\b", cmarkgfm.github_flavored_markdown_to_html(marked)
    ), marked
    for part in ("cut", "buy"):
        assert part in PARTS
        postcheck.render(sheet_of(build, [part]), "csv")


def shown(report: postcheck.Report) -> None:
    """A report in every form."""
    for told in (
        postcheck.render(report),
        postcheck.render(report, width=WIDTH),
        postcheck.render(report, "github"),
    ):
        assert not FORBIDDEN.search(told), told
    screen = postcheck.render(report, width=WIDTH, ascii=True)
    # what is to be typed stays one line, however long its name is in ASCII
    assert all(len(line) <= WIDTH or re.match(r" *(?:\[|\w+ = )", line) for line in screen.split("\n")), (
        screen
    )
    for form in ("json", "sarif"):
        json.loads(postcheck.render(report, form), parse_constant=_no_constant)  # type: ignore[call-overload]
    _parsed(postcheck.render(report, "junit"))


def _parsed(text: str) -> tuple[str]:
    ElementTree.fromstring(text)
    return (text,)


def _no_constant(name: str) -> NoReturn:
    raise ValueError(f"{name} in JSON")
