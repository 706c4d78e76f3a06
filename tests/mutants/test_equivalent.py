"""What is said to be no different for any test is said of code that is there."""

from __future__ import annotations

from fnmatch import filter as matching

import pytest

from tests.mutants.run import ROOT, equivalent

LINES = {
    str(path.relative_to(ROOT)): {line.strip() for line in path.read_text().splitlines()}
    for path in (ROOT / "postcheck").rglob("*.py")
}


@pytest.mark.parametrize("row", equivalent(), ids=lambda row: f"{row['path']}: {row.get('line', '')}")
def test_a_row_names_a_line_that_is_there_and_a_reason(row: dict[str, str]) -> None:
    files = matching(LINES, row["path"])
    assert files
    assert "line" not in row or any(row["line"].strip() in LINES[file] for file in files)
    assert row["reason"]
