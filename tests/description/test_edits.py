"""What an editor types for a remedy: read back by tomli, which knows nothing of our positions."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import tomli

from postcheck.description.edits import replacement
from postcheck.description.positions import locate
from postcheck.report import Edit
from tests.write_expected import found, report

FAULTY = sorted((Path(__file__).parent.parent / "builds" / "faulty").glob("*.post.toml"))


def edited(text: str, path: tuple[str | int, ...], value: str) -> str | None:
    put = replacement(text, locate(text), path, value)
    return None if put is None else text[: put.start] + put.text + text[put.end :]


@pytest.mark.parametrize(
    ("text", "path", "after"),
    [
        ("[a]\nb = 1 # c\n", ("a", "b"), "[a]\nb = 2 # c\n"),
        ("[a] # c\nd = 1\n", ("a", "b"), "[a] # c\nb = 2\nd = 1\n"),
        ("[a]", ("a", "b"), "[a]\nb = 2"),
        ("[a]\r\nd = 1\r\n", ("a", "b"), "[a]\r\nb = 2\r\nd = 1\r\n"),
        ("[ a . c ]\n", ("a", "c", "b"), "[ a . c ]\nb = 2\n"),
        ("[[a]]\nx = 1\n[[ a ]]\nx = 1\n", ("a", 1, "b"), "[[a]]\nx = 1\n[[ a ]]\nb = 2\nx = 1\n"),
        ("a = { x = 1 }\n", ("a", "b"), "a = { b = 2, x = 1 }\n"),
        ("a = {}\n", ("a", "b"), "a = { b = 2 }\n"),
        ("a = [{ x = 1 }]\n", ("a", 0, "b"), "a = [{ b = 2, x = 1 }]\n"),
        ("a = [1, 1]\n", ("a", 1), "a = [1, 2]\n"),
        ("a.b = { x = 1, y = [\n] } # c\n", ("a", "b"), "a.b = 2 # c\n"),
        ('"a" = """\n1\n"""\n', ("a",), '"a" = 2\n'),
    ],
)
def test_the_value_is_set_and_nothing_else(text: str, path: tuple[str | int, ...], after: str) -> None:
    assert edited(text, path, "2") == after
    read: Any = tomli.loads(after)
    for step in path:
        read = read[step]
    assert read == 2


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ("[a.b]\nx = 1\n", ("a", "b")),  # spread over a table of its own
        ("[[a.b]]\nx = 1\n", ("a", "b")),
        ("[a]\nb.x = 1\n", ("a", "b")),  # over dotted keys
        ("[a.x]\ny = 1\n", ("a", "b")),  # its table has no header to stand below
        ("a.x = 1\n", ("a", "b")),
        ("[c]\n", ("a", "b")),  # its table is in another file
        ("[a]\n", ("a", "+")),
    ],
)
def test_what_a_value_in_its_place_would_not_do_is_left_alone(text: str, path: tuple[str | int, ...]) -> None:
    assert edited(text, path, "2") is None


def put_in(text: str, edits: tuple[Edit, ...]) -> str:
    """The text with the edits, by lines and columns as an editor would."""
    lines = text.splitlines(keepends=True)
    starts = [0]
    for line in lines:
        starts.append(starts[-1] + len(line))
    spots = []
    for edit in edits:
        assert edit.typed is not None
        start = starts[edit.typed.line - 1] + edit.typed.column - 1
        end = starts[edit.typed.end_line - 1] + edit.typed.end_column - 1
        spots.append((start, end, edit.typed.text))
    for start, end, new in sorted(spots, reverse=True):
        text = text[:start] + new + text[end:]
    return text


def test_what_is_typed_cures() -> None:
    """A remedy was proven on the model of the build; here it is proven on the file itself."""
    cured = 0
    for path in FAULTY:
        text = path.read_bytes().decode("utf-8-sig")
        for finding in report(path).findings:
            if not finding.edits:
                continue
            assert finding.id not in found(put_in(text, finding.edits), path), path.name
            cured += 1
    assert cured > 50
