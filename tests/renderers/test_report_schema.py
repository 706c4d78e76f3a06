"""Every report as JSON is what its schema says, and bears no key that the schema does not name.

Outside truth: jsonschema, an independent validator of draft-07, and the metaschema that it brings.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft7Validator

import postcheck
from postcheck.cli import main
from postcheck.renderers.report_schema import report_schema
from postcheck.report import Report
from tests.schemas import EXAMPLES, FAULTY, SEEDED, SOUND
from tests.write_expected import report

UNREADABLE = {
    "empty": b"",
    "comments": b"# nothing yet\n",
    "no toml": b"format = \n",
    "no text": b"\xff\xfe\x00",
    "latin-1": "format = 1 # é\n".encode("latin-1"),
    "twice": b"format = 1\nformat = 1\n",
    "too deep": b"x = " + b"[" * 3000,
}


def closed(schema: Any) -> Any:
    """The schema with no room for a key or a section that it does not name; the counts of a closing are by kind."""
    if isinstance(schema, list):
        return [closed(item) for item in schema]
    if not isinstance(schema, dict):
        return schema
    inner = {word: closed(value) for word, value in schema.items()}
    return (
        {**inner, "additionalProperties": False}
        if "properties" in inner and "needed" not in inner["properties"]
        else inner
    )


STRICT = Draft7Validator(closed(report_schema()))


def written(files: Iterable[Path], capsys: pytest.CaptureFixture[str], *options: str) -> Any:
    main(["check", "--format", "json", *options, *map(str, files)])
    return json.loads(capsys.readouterr().out)


def against(report: Any) -> list[str]:
    return [f"{list(error.absolute_path)}: {error.message}" for error in STRICT.iter_errors(report)]


def test_it_is_draft_07() -> None:
    Draft7Validator.check_schema(report_schema())


@pytest.mark.parametrize("path", [*EXAMPLES, *SOUND, *FAULTY], ids=lambda path: path.name)
def test_a_report_of_a_build_holds(path: Path) -> None:
    whole = json.loads(postcheck.render(Report((report(path),)), "json"))
    assert against(whole) == []
    assert len(whole["files"]) == 1


def test_a_report_of_what_is_to_be_closed_holds(capsys: pytest.CaptureFixture[str]) -> None:
    report = written(EXAMPLES, capsys, "--for", "closing")
    assert against(report) == []
    assert any("closing" in file["figures"] for file in report["files"])


def test_a_report_of_unreadable_files_holds(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    files = [tmp_path / "missing.post.toml"]
    for name, data in UNREADABLE.items():
        files.append(tmp_path / f"{name}.post.toml")
        files[-1].write_bytes(data)
    for name, text in SEEDED.items():
        files.append(tmp_path / f"seeded {name}.post.toml")
        files[-1].write_text(text, encoding="utf-8")
    report = written(files, capsys)
    assert against(report) == []
    assert {file["verdict"] for file in report["files"]} == {"unreadable"}
    assert len(report["files"]) == len(files) >= 50


def test_another_key_or_kind_would_be_seen(capsys: pytest.CaptureFixture[str]) -> None:
    report = written(FAULTY[:1], capsys)
    finding = report["files"][0]["findings"][0]
    for key, value in (
        ("severity", "fatal"),
        ("says", None),
        ("where", {"line": 1}),
        ("hint", "x"),
        ("limit", 3),
    ):
        bent = json.loads(json.dumps(report))
        bent["files"][0]["findings"][0] = {**finding, key: value}
        assert against(bent) != []


def test_each_figure_has_its_type_and_unit_and_every_report_keeps_to_them() -> None:
    """The unit stands beside the type, for programs; a number is never said to be a text."""
    sections = report_schema()["properties"]["files"]["items"]["properties"]["figures"]["properties"]
    lamp = sections["lamps"]["additionalProperties"]["properties"]
    assert (lamp["nominal"]["type"], lamp["nominal"]["unit"]) == (["number", "null"], "A")
    assert (lamp["fate"]["type"], "unit" in lamp["fate"]) == ("string", False)
    assert sections["closing"]["additionalProperties"]["properties"]["needed"]["type"] == "integer"
    assert sections["supplies"]["additionalProperties"]["properties"]["headroom"]["unit"] == "share"
