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
    return set(printed(f"import sys\n{code}\nprint('\\n@@', *sys.modules)"))


def printed(code: str) -> list[str]:
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT)
    return done.stdout.rpartition("@@")[2].split()


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
        "postcheck.sheet", "postcheck.pictured", "postcheck.answered", "postcheck.survey.bench.bench", "postcheck.survey.closing.coverage", "postcheck.survey.test_records.records",
        "postcheck.renderers.json_renderer", "postcheck.description.schema", "postcheck.description.patterns", "postcheck.description.positions", "postcheck.description.edits", "postcheck.reading.not_toml",
        "postcheck.description.refused", "postcheck.description.pruned", "postcheck.description.keys", "postcheck.physics.bundle.search", "postcheck.physics.bundle.relax", "postcheck.remedies.table", "postcheck.trial",
        "postcheck.renderers.sarif", "postcheck.renderers.junit", "postcheck.renderers.github", "postcheck.renderers.explain",
        "postcheck.survey.heat.batteries", "postcheck.survey.heat.motors", "postcheck.survey.heat.metal", "postcheck.physics.flat_cable",
        "postcheck.checks.lines_to_type", "postcheck.survey.network.resistor_choice",
        "postcheck.reading.what_if", "postcheck.cli.watch", "postcheck.cli.watched", "postcheck.cli.changes", "postcheck.cli.screen", "termios",
    }  # fmt: skip


def test_what_a_check_loads_does_not_grow_unseen() -> None:
    # who needs more raises the number; `python -m tests.speed.measure start` says what it costs
    ours = {
        name for name in loaded("check", "example_builds/tender.post.toml") if name.startswith("postcheck")
    }
    assert len(ours) <= 230


def in_a_check(what: str) -> list[str]:
    """What is printed of a list that says something of `classes` and `modules`, those of ours once a sound build has been checked."""
    return printed(f"""import re, sys, typing
from postcheck.cli import main
main(["check", "example_builds/tender.post.toml"])
modules = [module for name, module in sys.modules.items() if name.startswith("postcheck")]
classes = {{
    one for module in modules for one in vars(module).values()
    if isinstance(one, type) and one.__module__.startswith("postcheck")
}}
print("@@", *({what}))""")


def test_named_tuples_have_types_and_no_texts_to_be_compiled() -> None:
    # a module with many of them does without `from __future__ import annotations`
    texts = in_a_check(
        "f'{one.__name__}.{name}' for one in classes if hasattr(one, '_fields')"
        " for name, of in one.__annotations__.items() if isinstance(of, typing.ForwardRef)"
    )
    assert len(texts) <= 161


def test_few_data_classes_are_made() -> None:
    # each of their methods is compiled by itself: a third of a millisecond a class, a named tuple a fifth of that
    assert len(in_a_check("one.__name__ for one in classes if hasattr(one, '__dataclass_fields__')")) <= 28


def test_models_have_types_and_no_texts_to_be_compiled() -> None:
    models = "one for one in classes if hasattr(one, 'model_fields')"
    assert len(in_a_check(f"one.__name__ for one in ({models})")) > 30
    assert not in_a_check(
        f"f'{{one.__name__}}.{{name}}' for one in ({models})"
        " for name, of in vars(one).get('__annotations__', {}).items() if isinstance(of, str)"
    )


def test_a_table_that_a_build_has_not_gets_no_validator() -> None:
    made = in_a_check(
        "one.__name__ for one in classes if vars(one).get('__pydantic_complete__') and one.__name__ != 'Table'"
    )
    assert {"Build", "Lamp", "Lead", "Run"} <= {*made}
    assert not {*made} & {
        "Board",
        "Strip",
        "Load",
        "Plug",
        "Way",
        "Proof",
        "Accept",
        "WireKind",
        "LampKind",
        "Stock",
    }


def test_few_patterns_are_compiled_before_they_are_used() -> None:
    assert (
        len(
            in_a_check(
                "name for module in modules for name, of in vars(module).items() if isinstance(of, re.Pattern)"
            )
        )
        <= 14
    )


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
    assert ours == {"check", "commands", "folders", "kinds", "options", "parser", "progress", "talk"}
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
