"""What a run does not need it does not import: counted in modules, not in milliseconds."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent


def loaded(*arguments: str) -> set[str]:
    return loaded_by(
        f"from postcheck.cli import main\ntry:\n    main({list(arguments)!r})\nexcept SystemExit:\n    pass\n"
    )


def loaded_by(code: str) -> set[str]:
    code = f"import sys\n{code}\nprint('\\n@@', *sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT)
    return set(done.stdout.rpartition("@@")[2].split())


@pytest.mark.parametrize(
    "arguments",
    [("--help",), ("--version",), ("record", "--help"), ("ask", "--help"), ("ask", "bore", "--help")],
)
def test_help_and_version_load_no_models(arguments: tuple[str, ...]) -> None:
    assert not loaded(*arguments) & {"pydantic", "pydantic_core", "tomli", "rich", "json"}


def test_a_schema_of_the_report_loads_no_models_and_one_of_a_build_no_survey() -> None:
    assert not loaded("schema", "report") & {"pydantic", "tomli", "rich"}
    assert not loaded("schema", "build") & {"rich", "postcheck.survey", "postcheck.checks"}


def test_a_piped_run_loads_no_view_and_a_sound_build_no_remedies() -> None:
    modules = loaded("check", "example_builds/tender.post.toml")
    assert "pydantic" in modules
    assert not modules & {
        "rich", "numpy", "asyncio", "logging", "postcheck.renderers.terminal",
        "postcheck.sheet", "postcheck.survey.bench.bench", "postcheck.survey.closing.coverage", "postcheck.survey.test_records.records",
        "postcheck.renderers.json_renderer", "postcheck.description.schema", "postcheck.description.patterns", "postcheck.description.positions", "postcheck.description.edits", "postcheck.reading.not_toml", "postcheck.remedies.table", "postcheck.trial",
        "postcheck.renderers.sarif", "postcheck.renderers.junit", "postcheck.renderers.github", "postcheck.renderers.explain",
        "postcheck.reading.what_if", "postcheck.cli.watch", "postcheck.cli.watched", "postcheck.cli.changes", "postcheck.cli.screen", "termios",
    }  # fmt: skip


@pytest.mark.parametrize("form", ["sarif", "junit", "github"])
def test_a_report_for_ci_loads_its_own_face_only(form: str) -> None:
    modules = loaded("check", "--format", form, "example_builds/tender.post.toml")
    assert f"postcheck.renderers.{form}" in modules
    others = {
        f"postcheck.renderers.{other}"
        for other in ("sarif", "junit", "github", "json_renderer", "plain_text", "terminal")
    }
    assert not modules & {"rich", "asyncio", "logging", *(others - {f"postcheck.renderers.{form}"})}


def test_a_question_loads_no_more_than_its_own_answer() -> None:
    modules = loaded("ask", "bore", "5 mm", "3 ptfe-28")
    assert "postcheck.ask.bore_fit" in modules
    # pydantic looks for its plugins with importlib.metadata, and that reads JSON from Python 3.13 on
    of_a_model = loaded_by("from pydantic import BaseModel\nclass Model(BaseModel): pass")
    assert not (modules - of_a_model) & {
        "rich", "json", "postcheck.ask.resistor_choice", "postcheck.survey.network.electrics", "postcheck.remedies.table", "postcheck.checks.table",
    }  # fmt: skip


def test_a_command_loads_no_page_and_no_other_command() -> None:
    modules = loaded("check", "example_builds/tender.post.toml")
    ours = {name.removeprefix("postcheck.cli.") for name in modules if name.startswith("postcheck.cli.")}
    assert ours == {"check", "commands", "kinds", "options", "parser", "progress", "talk"}
    early = loaded_by("import postcheck.cli")  # until then a Ctrl-C would show a traceback
    assert not early & {"argparse", "typing", "re", "postcheck.cli.talk"}


def test_the_guide_is_no_matter_of_other_commands_and_its_prose_loads_no_models() -> None:
    assert not {
        module for module in loaded("check", "example_builds/tender.post.toml") if "guidebook" in module
    }
    modules = loaded("guide", "words")
    assert "postcheck.guidebook.book" in modules
    assert not modules & {"pydantic", "tomli", "rich", "subprocess", "postcheck.checks.table"}


def test_completion_is_no_matter_of_other_commands() -> None:
    for arguments in (("check", "example_builds/tender.post.toml"), ("--help",)):
        assert not loaded(*arguments) & {"postcheck.cli.completion.words", "postcheck.cli.completion.bash"}


def test_a_piped_drawing_loads_no_view() -> None:
    modules = loaded("post", "example_builds/tender.post.toml")
    assert "postcheck.survey.post.pictures" in modules
    assert not modules & {"rich", "postcheck.renderers.bore_screen", "postcheck.renderers.bore_svg"}
