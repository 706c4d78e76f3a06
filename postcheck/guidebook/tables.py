"""The pages of the tables of a build file, made from what the models say of themselves: they cannot lag behind."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Any

from postcheck.description.models import Build, Workshop
from postcheck.description.models.base import MOST_IN_A_NAME
from postcheck.description.names import REFERENCES
from postcheck.description.schema import described
from postcheck.description.toml_text import in_toml, key_in_toml
from postcheck.guidebook.topics import PARTS

Schema = Mapping[str, Any]

_NAMES = {
    "place": "the name of a `[place.NAME]`",
    "supply": "the name of a `[supply.NAME]`",
    "board": "the name of a `[board.NAME]`",
    "circuit": "the name of a `[circuit.NAME]`",
    "cable": "the name of a `[cable.NAME]`",
    "passage": "`post`, or the name of a `[passage.NAME]`",
    "line": "a circuit by its name, or a pole such as `main-`",
    "lead or run": "the name of a lamp, strip, load or run",
    "wire": "a `[wire.NAME]`, or one of `postcheck catalogue wire`",
    "kind of lamp": "a `[lamp_kind.NAME]`, or one of `postcheck catalogue lamp`",
    "kind of strip": "a `[strip_kind.NAME]`, or one of `postcheck catalogue strip`",
    "resistor size": "one of `postcheck catalogue resistor`",
    "cell chemistry": "one of `postcheck catalogue battery`",
}
"""What a key may name, by the kind of thing that the reader looks for."""

TABLES = tuple(name for name in Build.model_fields if name != "format")
"""Every table of a build file, and `use`, by its own name and in the order of the models."""

_BY_MODEL = {part.model: name for name, part in PARTS.items()}


def line_of(topic: str) -> str:
    """What a table or part is, in one line."""
    if topic in PARTS:
        return _line(_definition(PARTS[topic].model))
    made = _build()["properties"][topic]
    inner = _models(made)
    # the post is a passage, and `use` a list of names: of both the key says more than what stands there
    return made["description"] if topic in {"post", "use"} or not inner else _line(_definition(inner[0]))


def made_page(topic: str, opening: str, checks: Mapping[str, str]) -> str:
    """The page of a table or part as Markdown; `opening` is prose to begin with, `checks` the line of each check."""
    body = list(_part(topic) if topic in PARTS else _shared() if topic == "use" else _table(topic))
    head = [f"# `{_heading(topic)}`", line_of(topic), *([opening.strip()] if opening.strip() else [])]
    return "\n\n".join([*head, *body, *_checks(topic, checks)]) + "\n"


def tables_list() -> str:
    """Every table with its line, as a list in Markdown."""
    return "\n".join(f"- `{_heading(name)}`: {_small(line_of(name)).removesuffix('.')}" for name in TABLES)


def _heading(topic: str) -> str:
    if topic in PARTS or topic == "use":
        return topic
    made = _build()["properties"][topic]
    if made.get("type") == "array":
        return f"[[{topic}]]"
    return f"[{topic}.NAME]" if "additionalProperties" in made else f"[{topic}]"


def _table(topic: str) -> Iterator[str]:
    made = _build()["properties"][topic]
    yield _fenced(_shown(topic, made["examples"][0]))
    model = _models(made)[0]
    yield from _keys(model)
    yield from _inlined(model)


def _part(topic: str) -> Iterator[str]:
    part = PARTS[topic]
    definition = _definition(part.model)
    where, line = _where(part.model)
    yield f"It stands in {where}."
    if grammar := _grammar(part.model):
        form, rest = _parted(grammar)
        yield f"In one line `{form}`: {rest}"
        yield _fenced(line)
        yield "Or as a table:"
    keys = ", ".join(f"{key} = {in_toml(_example(definition['properties'][key]))}" for key in part.shows)
    table = f"{topic} = {{ {keys} }}"
    if topic in {"have", "instead"}:
        table = f"{topic} = [{{ {keys} }}]"
    if topic == "dice":
        table = f"dice = {{ red = {{ {keys} }} }}"
    yield _fenced(table)
    yield from _keys(part.model)
    yield from _inlined(part.model)


def _shared() -> Iterator[str]:
    """The page of `use`: what a file that builds share may say."""
    yield _fenced(f"use = {in_toml(_build()['properties']['use']['examples'][0])}")
    keys_of = described(Workshop)[0]["properties"]
    keys = [
        f"- `{name if name in {'format', 'use'} else _heading(name)}`: {_small(value['description'])}"
        for name, value in keys_of.items()
    ]
    yield "\n\n".join(("A file that is named there says `format = 1` and any of these:", "\n".join(keys)))


def _keys(model: str) -> Iterator[str]:
    """All keys of a table, those first that have to be there."""
    definition = _definition(model)
    needed = set(definition.get("required", ()))
    for head, wanted in (("Has to be there", True), ("May be said", False)):
        listed = [
            _key(model, name, value)
            for name, value in definition["properties"].items()
            if (name in needed) is wanted
        ]
        if listed:
            yield f"## {head}"
            yield "\n".join(listed)


def _inlined(model: str) -> Iterator[str]:
    """The keys of tables within, where those have no page of their own."""
    seen: dict[str, list[str]] = {}
    for key, value in _definition(model)["properties"].items():
        for inner in _models(value):
            if inner not in _BY_MODEL:
                seen.setdefault(inner, []).append(key)
    for inner, keys in seen.items():
        definition = _definition(inner)
        named = " and ".join(f"`{key}`" for key in keys)
        yield f"## {named}, as a table"
        yield _line(definition)
        yield "\n".join(_key(inner, name, value) for name, value in definition["properties"].items())


def _key(model: str, name: str, value: Schema) -> str:
    """One key: what it is, an example or two, how it is written, and what holds where it is not said."""
    examples = _examples(value)
    shown = " or ".join(f"`{key_in_toml(name)} = {_dated(value, example)}`" for example in examples[:2])
    what = _NAMES.get(_named().get((model, name), ""))
    how = _a_list(value, what) if what and value.get("type") == "array" else what or _written(value)
    default = _default(value)
    written = f"{shown}: {how}" if shown else how
    return f"- `{name}`: {value['description']}\n  {written}{default}."


def _default(value: Schema) -> str:
    default = value.get("default")
    if default is None or default in ({}, []):
        return ""
    return f"; `{in_toml(default)}` if not said"


def _dated(value: Schema, example: Any) -> str:
    return str(example) if value.get("format") == "date" else in_toml(example)


def _examples(value: Schema) -> list[Any]:
    """What a key may be, as it would be typed."""
    for node in (value, *value.get("anyOf", ())):
        if found := node.get("examples"):
            return list(found[:1] if found == [True, False] else found)
    return list(value.get("enum", ()))[:1] or ([value["const"]] if "const" in value else [])


def _example(value: Schema) -> Any:
    return _examples(value)[0]


def _written(value: Schema) -> str:
    """How the value of a key is written, in words."""
    if "enum" in value or "const" in value:
        *most, last = (f"`{in_toml(one)}`" for one in value.get("enum", (value.get("const"),)))
        return f"{', '.join(most)} or {last}" if most else last
    if "anyOf" in value:
        return _one_of(value["anyOf"])
    if "$ref" in value:
        return _referred(value["$ref"])
    if "additionalProperties" in value:
        return f"by name, {_written(value['additionalProperties'])}"
    if value["type"] == "array":
        return _a_list(value)
    return _plain(value)


def _plain(value: Schema) -> str:
    """What is written without a unit."""
    kind = value["type"]
    if kind == "integer":
        return f"a whole number from {value['minimum']} to {value['maximum']}"
    if kind == "boolean":
        return "true or false"
    if isinstance(kind, list):
        return "true, false, or text"
    if value.get("format") == "date":
        return "a date, without quotes"
    return "a name" if value.get("minLength") == 1 and value["maxLength"] == MOST_IN_A_NAME else "text"


def _a_list(value: Schema, each: str | None = None) -> str:
    least, most = value.get("minItems", 0), value["maxItems"]
    size = (
        "two of them"
        if least == most == 2
        else f"at most {most}" + (f", at least {least}" if least > 1 else "")
    )
    return f"a list, {size}; each {each or _written(value['items'])}"


def _one_of(branches: list[Schema]) -> str:
    """What may be said in one line or as a table."""
    line, table = (branch["$ref"] for branch in branches)
    return f"in one line `{_parted(_definition(line)['description'])[0]}`, or {_referred(table)}"


def _referred(name: str) -> str:
    """A table, or a text with a unit."""
    if _is_model(name):
        return f"a table (`postcheck guide {_BY_MODEL[name]}`)" if name in _BY_MODEL else "a table, see below"
    return _small(_definition(name)["description"]).removesuffix(".").removesuffix(" with its unit")


def _is_model(name: str) -> bool:
    return name[0].isupper()


def _where(model: str) -> tuple[str, str]:
    """Where a part stands, in words, and an example of its one-line form."""
    owners = [
        (_heading(topic), owner) for topic in TABLES for owner in _models(_build()["properties"][topic])
    ] + [(name, part.model) for name, part in PARTS.items()]
    places, line = [], ""
    for heading, owner in owners:
        for key, value in _definition(owner)["properties"].items():
            if model in _models(value) and (place := f"`{key}` of `{heading}`") not in places:
                places.append(place)
                if key == _BY_MODEL[model] and not line:
                    line = f"{key} = {in_toml(_example(value))}"
    return ", ".join(places), line


def _references(value: Schema) -> list[str]:
    """The tables and texts that a value may be, or that its list or table holds."""
    found = [value["$ref"]] if "$ref" in value else []
    for inner in (value.get("items"), value.get("additionalProperties"), *value.get("anyOf", ())):
        if isinstance(inner, dict):
            found += _references(inner)
    return found


def _models(value: Schema) -> list[str]:
    return [name for name in _references(value) if _is_model(name)]


def _grammar(model: str) -> str | None:
    """All that is said of a model's one-line form; None where it has none."""
    for definition in _definitions().values():
        for value in definition.get("properties", {}).values():
            line, *table = _references(value) or [""]
            if table == [model] and not _is_model(line):
                return _whole_grammar(line)
    return None


def _whole_grammar(text: str) -> str:
    from postcheck.description import oneline  # noqa: PLC0415 - for the page of a part alone

    return " ".join((getattr(oneline, text.replace("-", "_")).__doc__ or "").split())


def _parted(grammar: str) -> tuple[str, str]:
    """A grammar, which stands in front of its examples, and all that follows it."""
    form, quote, rest = grammar.partition('"')
    return form.rstrip(" :."), quote + rest


def _checks(topic: str, checks: Mapping[str, str]) -> Iterator[str]:
    if checks:
        yield "## Checks"
        yield "\n".join(f"- `{name}`: {line}" for name, line in checks.items())
        yield f"`postcheck explain {topic}` lists them, and `postcheck explain {next(iter(checks))}` says how it is worked out."


def _shown(topic: str, example: Any) -> str:
    """A whole table as it stands in a file."""
    order = list(_definition(_models(_build()["properties"][topic])[0])["properties"])
    if isinstance(example, list):
        return _lines(f"[[{topic}]]", example[0], order)
    if isinstance(next(iter(example.values())), dict):
        return "\n\n".join(_lines(f"[{topic}.{name}]", inner, order) for name, inner in example.items())
    return _lines(f"[{topic}]", example, order)


def _lines(head: str, table: Mapping[str, Any], order: Sequence[str]) -> str:
    """A table with its keys in the order of the model; the schema has them by the alphabet."""
    column = max(len(key) for key in table)
    keys = sorted(table, key=order.index)
    return "\n".join((head, *(f"{key:<{column}} = {in_toml(table[key])}" for key in keys)))


def _fenced(text: str) -> str:
    return f"```toml\n{text}\n```"


def _line(definition: Schema) -> str:
    return " ".join(str(definition["description"]).split())


def _small(text: str) -> str:
    return text[:1].lower() + text[1:]


def _definition(name: str) -> Schema:
    found: Schema = _definitions()[name]
    return found


@cache
def _named() -> dict[tuple[str, str], str]:
    """What each key of each table names, where it names something."""
    return {
        (model.__name__, model.model_fields[key].alias or key): what
        for model, keys in REFERENCES.items()
        for key, what in keys.items()
    }


def _definitions() -> dict[str, Any]:
    return _described()[1]


def _build() -> dict[str, Any]:
    return _described()[0]


@cache
def _described() -> tuple[dict[str, Any], dict[str, Any]]:
    return described(Build)
