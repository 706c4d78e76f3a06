"""Two editors' own tools on the schema files: every sound build is taken, seeded mistakes are found, and the language
server completes and explains a half-written file.

Outside truth: taplo and tombi, the TOML tools of two editor extensions, each with a reader and a validator of its own.
Neither asks the network here.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import postcheck
from postcheck import catalogue
from postcheck.colours import COLOURS
from postcheck.description.models import Lamp
from tests.outside.language_client import Client, language_server
from tests.schemas import EXAMPLES, ROOT, SEEDED, SHOWN, SOUND, STARTER

SCHEMA = ROOT / "schemas" / "build.schema.json"


def tool(name: str) -> str:
    """A program of a wheel beside this Python. It missing is an error, never a skip."""
    program = shutil.which(name, path=os.pathsep.join((str(Path(sys.executable).parent), os.environ["PATH"])))
    if program is None:
        raise RuntimeError(f"{name} is needed to look at the schemas: pip install {name}")
    return program


def run(*command: str, folder: Path) -> subprocess.CompletedProcess[str]:
    # a proxy that nobody listens to: what asks the network fails
    nowhere = {f"{kind}_PROXY": "http://127.0.0.1:9" for kind in ("HTTP", "HTTPS", "ALL")}
    return subprocess.run(
        command,
        cwd=folder,
        capture_output=True,
        text=True,
        env={**os.environ, **nowhere},
        timeout=120,
        check=False,
    )


def taplo(folder: Path, *names: str) -> subprocess.CompletedProcess[str]:
    return run(tool("taplo"), "check", "--no-auto-config", "--schema", SCHEMA.as_uri(), *names, folder=folder)


def tombi(folder: Path, *names: str) -> subprocess.CompletedProcess[str]:
    # its settings as we show them keep it from asking
    offline = () if (folder / "tombi.toml").exists() else ("--offline",)
    return run(tool("tombi"), "lint", *offline, *names, folder=folder)


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    """A folder with the schema, which both tools' own settings name for build files."""
    shutil.copy(SCHEMA, tmp_path / "build.schema.json")
    (tmp_path / "tombi.toml").write_text(TOMBI, encoding="utf-8")
    (tmp_path / ".taplo.toml").write_text(TAPLO, encoding="utf-8")
    return tmp_path


TOMBI = """[schema]
catalog = { paths = [] } # no list of schemas is fetched

[[schemas]]
path = "build.schema.json"
include = ["*.post.toml"]
"""
TAPLO = """[[rule]]
include = ["*.post.toml"]
[rule.schema]
path = "build.schema.json"
"""


def test_the_guide_says_these_settings() -> None:
    page = postcheck.guide("editor")
    for name, text in (("tombi.toml", TOMBI), (".taplo.toml", TAPLO)):
        assert f"```toml\n# {name}\n{text}```" in page
    assert "\n#:schema ./build.schema.json\n" in page


def sound(folder: Path) -> list[str]:
    """Copies of all sound builds there are."""
    texts = {path.name: path.read_text(encoding="utf-8") for path in (*EXAMPLES, *SOUND, STARTER)}
    texts |= {name.replace(".md", ""): text for name, text in SHOWN.items()}
    for name, text in texts.items():
        (folder / f"{name.removesuffix('.post.toml')}.post.toml").write_text(text, encoding="utf-8")
    return sorted(path.name for path in folder.glob("*.post.toml"))


def test_both_take_every_sound_build(bench: Path) -> None:
    names = sound(bench)
    assert len(names) >= 70
    by_taplo, by_tombi = taplo(bench, *names), tombi(bench, *names)
    assert (by_taplo.returncode, "error" in by_taplo.stderr) == (0, False), by_taplo.stderr
    assert (by_tombi.returncode, "Error" in by_tombi.stderr) == (0, False), by_tombi.stderr
    assert f"{len(names)} files linted successfully" in by_tombi.stdout + by_tombi.stderr


# Where one slip breaks two rules: a key that is unknown stands for one that is needed, a number is neither text nor table.
TWICE = {
    "inner name of a key": {"taplo", "tombi"},
    "resistor table with a slip": {"taplo", "tombi"},
    "format as text": {"taplo"},
    "resistor as number": {"tombi"},
}


@pytest.mark.parametrize("name", SEEDED)
def test_both_find_a_seeded_mistake_and_tell_it_once(name: str, bench: Path) -> None:
    """Taplo says what is wrong with a table at each of its lines: once means one sentence."""
    (bench / "slip.post.toml").write_text(SEEDED[name], encoding="utf-8")
    for editor, begins in (("taplo", "error: "), ("tombi", "Error: ")):
        found = {"taplo": taplo, "tombi": tombi}[editor](bench, "slip.post.toml")
        assert found.returncode == 1
        assert "slip.post.toml:" in found.stderr
        lines = re.sub(r"\x1b\[[0-9;]*m", "", found.stderr).splitlines()
        told = {line.strip() for line in lines if line.strip().startswith(begins)}
        assert len(told) == (2 if editor in TWICE.get(name, ()) else 1), told


def test_a_line_in_the_file_or_a_setting_names_the_schema(tmp_path: Path) -> None:
    """The three ways that the guide names; a fourth file, in a bare folder, nobody objects to."""
    slip = SEEDED["text without unit"]
    for way, line, settings in (
        ("line", "#:schema ./build.schema.json\n\n", {}),
        ("settings", "", {"tombi.toml": TOMBI, ".taplo.toml": TAPLO}),
        ("nothing", "", {}),
    ):
        folder = tmp_path / way
        folder.mkdir()
        shutil.copy(SCHEMA, folder / "build.schema.json")
        (folder / "slip.post.toml").write_text(line + slip, encoding="utf-8")
        for name, text in settings.items():
            (folder / name).write_text(text, encoding="utf-8")
        codes = (
            run(tool("taplo"), "check", "slip.post.toml", folder=folder).returncode,
            tombi(folder, "slip.post.toml").returncode,
        )
        assert (way, codes) == (way, (0, 0) if way == "nothing" else (1, 1))


HALF = """#:schema ./build.schema.json

format = 1

[build]
name = "Harbour tender, 1:50"

[supply.main]
kind = @

[[lamp]]
circuit  = "running"
resistor = "1k5 at hub"

""".replace("@", "")


def half(server: Client) -> str:
    return server.open("half.post.toml", HALF)


def spot(server: Client, uri: str, line: str, after: int) -> dict[str, Any]:
    return server.at(uri, HALF.split("\n").index(line), after)


def labels(answer: Any) -> list[str]:
    items = answer["items"] if isinstance(answer, dict) else answer
    return [item["label"] for item in items]


@pytest.fixture
def server(bench: Path) -> Any:
    (bench / "tombi.toml").unlink()  # the line in the file says it
    with language_server([tool("tombi"), "lsp", "--offline"], bench) as client:
        yield client


def test_an_editor_that_knows_toml_1_1_takes_what_the_reader_takes(bench: Path) -> None:
    text = SEEDED["resistor table with a slip"].replace(
        '{ ohm = "1k5" }', '{\n  ohms = "1k5",\n  place = "keel",\n}'
    )
    assert postcheck.loads(text)
    (bench / "new.post.toml").write_text(text, encoding="utf-8")
    assert tombi(bench, "new.post.toml").returncode == 0


def test_completion_offers_the_keys_of_a_lamp_that_are_not_there_yet(server: Client) -> None:
    uri = half(server)
    line = HALF.split("\n").index('resistor = "1k5 at hub"') + 1
    offered = labels(server.ask("textDocument/completion", server.at(uri, line, 0)))
    assert set(offered) == Lamp.model_fields.keys() - {"circuit", "resistor"}


def test_completion_offers_what_can_be_chosen(server: Client) -> None:
    offered = labels(server.ask("textDocument/completion", spot(server, half(server), "kind = ", 7)))
    assert {'"adaptor"', '"battery"', '"usb"', '"converter"'} <= set(offered)


def test_completion_offers_the_catalogue(server: Client) -> None:
    """Kinds of lamps, wires, materials and colours, between quotation marks that are there already."""
    text = 'format = 1\n[build]\nname = "x"\n[place.keel]\nmaterial = ""\n[usual]\nlead = ""\n[[run]]\ncolour = ""\n[[lamp]]\nkind = ""\n'
    uri = server.open("rows.post.toml", "#:schema ./build.schema.json\n\n" + text)
    for line, row, count in (
        ('material = ""', "styrene", len(catalogue.names("plastic"))),
        ('lead = ""', "enamel-0.10", len(catalogue.names("wire"))),
        ('colour = ""', "white", len(COLOURS)),
        ('kind = ""', "smd-0402-red", len(catalogue.names("lamp"))),
    ):
        at = server.at(uri, text.split("\n").index(line) + 2, len(line) - 1)
        offered = labels(server.ask("textDocument/completion", at))
        assert (line, f'"{row}"' in offered, len(offered)) == (line, True, count)


def test_hover_tells_what_a_key_means_with_its_example(server: Client) -> None:
    answer = server.ask("textDocument/hover", spot(server, half(server), 'resistor = "1k5 at hub"', 3))
    told = answer["contents"]["value"]
    assert "The resistor of each string: with the lamp, or where its lead ends." in told
    assert "1k5 1/4 W at keel" in told


def test_a_mistake_is_underlined_where_it_stands(server: Client) -> None:
    text = HALF.replace("kind = ", 'kind = "adapter"')
    found = server.diagnosed(server.open("slip.post.toml", text))
    line = text.split("\n").index('kind = "adapter"')
    assert [note["range"]["start"] for note in found if "adapter" in note["message"]] == [
        {"line": line, "character": 7}
    ]
