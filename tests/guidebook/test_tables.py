"""The pages of tables hold every key of the models, with an example that the reader takes."""

from __future__ import annotations

import re
from typing import Any

import pytest
import tomli
from pydantic import TypeAdapter

import postcheck
from postcheck.checks.table import CHECKS
from postcheck.description.models import Build, Table
from postcheck.description.names import REFERENCES
from postcheck.guidebook.tables import TABLES
from postcheck.guidebook.topics import CHECKED, PARTS, belonging, topic_of
from tests.models import keys_of, models_in, tables

MODELS = {model.__name__: model for model in tables(Build)}
PAGES = {topic: postcheck.guide(topic) for topic in (*TABLES, *PARTS) if topic != "use"}
ENTRY = re.compile(r"^- `([a-z_]+)`: (.+)\n  (.+)$", re.MULTILINE)


def model_of(topic: str) -> type[Table]:
    if topic in PARTS:
        return MODELS[PARTS[topic].model]
    return next(models_in(Build.model_fields[topic].annotation))


def told(topic: str) -> list[tuple[type[Table], str]]:
    """Each table on a page with the text of its keys: its own, then those of tables within."""
    own, *within = re.split(r"^## .*, as a table$", PAGES[topic], flags=re.MULTILINE)
    model = model_of(topic)
    apart = {part.model for part in PARTS.values()}
    inner = [
        one
        for field in model.model_fields.values()
        for one in models_in(field.annotation)
        if one.__name__ not in apart
    ]
    return list(zip([model, *dict.fromkeys(inner)], [own, *within], strict=True))


ENTRIES = [
    (topic, model, *found.groups())
    for topic in PAGES
    for model, text in told(topic)
    for found in ENTRY.finditer(text)
]


def test_every_key_of_every_table_is_on_its_page() -> None:
    for topic in PAGES:
        for model, _ in told(topic):
            found = [key for at, of, key, _, _ in ENTRIES if (at, of) == (topic, model)]
            assert sorted(found) == sorted(keys_of(model)), topic


def test_every_model_has_a_page() -> None:
    assert {model for topic in PAGES for model, _ in told(topic)} == set(MODELS.values())


@pytest.mark.parametrize(
    ("topic", "model", "key", "what", "how"), ENTRIES, ids=[f"{one[0]}-{one[2]}" for one in ENTRIES]
)
def test_an_example_of_a_key_is_read(topic: str, model: type[Table], key: str, what: str, how: str) -> None:
    field = next(field for name, field in model.model_fields.items() if (field.alias or name) == key)
    assert what.endswith("."), what
    examples = re.findall(rf"`({key} = .+?)`(?= or|: )", how)
    assert examples
    kind: TypeAdapter[Any] = TypeAdapter(field.rebuild_annotation())
    for example in examples:
        kind.validate_python(tomli.loads(example)[key])


@pytest.mark.parametrize("topic", PAGES)
def test_what_has_to_be_there_is_told_apart(topic: str) -> None:
    own = told(topic)[0][1]
    head = own.partition("## May be said")[0].partition("## Has to be there")[2]
    needed = [
        field.alias or name for name, field in model_of(topic).model_fields.items() if field.is_required()
    ]
    assert [found[1] for found in ENTRY.finditer(head)] == needed


@pytest.mark.parametrize("topic", PAGES)
def test_the_example_of_a_table_is_read(topic: str) -> None:
    for text in re.findall(r"```toml\n(.*?)```", PAGES[topic], re.DOTALL):
        data = tomli.loads(text)
        for key, value in data.items():
            owner = Build if topic in TABLES else owner_of(key)
            kind: TypeAdapter[Any] = TypeAdapter(owner.model_fields[key].rebuild_annotation())
            kind.validate_python(value)


def owner_of(key: str) -> type[Table]:
    return next(model for model in MODELS.values() if key in model.model_fields and model.__name__ != "Usual")


def test_a_default_is_that_of_the_model() -> None:
    assert "`1` if not said" in next(
        how for topic, _, key, _, how in ENTRIES if (topic, key) == ("lamp", "series")
    )
    assert '`"5..35 degC"` if not said' in PAGES["build"]
    assert "`[ohms" not in PAGES["lamp"]


def test_every_check_is_on_a_page_and_leads_back() -> None:
    names = [check.name for check in CHECKS]
    for name in names:
        topic = topic_of(name.partition(".")[0])
        assert topic is not None, name
        assert f"- `{name}`: " in PAGES[topic]
    for topic in CHECKED:
        assert belonging(topic, names)
        for name in belonging(topic, names):
            assert f"- `{name}`: " in PAGES[topic]


def test_what_a_key_may_name_is_told() -> None:
    for model, keys in REFERENCES.items():
        for key, what in keys.items():
            name = model.model_fields[key].alias or key
            told = [how for _, of, at, _, how in ENTRIES if (of, at) == (model, name)]
            assert (
                not what or what == "part" or all("text." not in how and "a name." not in how for how in told)
            )


def test_the_page_of_use_has_what_a_shared_file_may_say() -> None:
    page = postcheck.guide("use")
    for key in postcheck.description.models.Workshop.model_fields:
        assert re.search(rf"`\[*{key}(\.NAME)?\]*`: ", page), key
