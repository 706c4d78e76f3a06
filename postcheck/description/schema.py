"""The editor's view of a build file: a JSON Schema (draft-07) made from the models.

Editors know no newer draft. TOML knows no null, so no branch and no default is null; a date is a text with the
format of a date, which is how editors see one.
"""

from __future__ import annotations

from typing import Any

from postcheck import catalogue
from postcheck.colours import COLOURS
from postcheck.description import models, oneline
from postcheck.description.fields import WORDS
from postcheck.description.models import Build, Table, Workshop
from postcheck.description.names import REFERENCES
from postcheck.description.patterns import pattern
from postcheck.description.printing import format_quantity
from postcheck.description.quantities import MOST_CHARACTERS
from postcheck.description.units import Dimension

Schema = dict[str, Any]


def build_schema() -> Schema:
    """The schema of a build file."""
    return _schema(Build, "build", "A build of postcheck: the lighting of a display model before the glue.")


def workshop_schema() -> Schema:
    """The schema of a file of one's own wires, lamps, stock and limits, which builds name under `use`."""
    return _schema(Workshop, "workshop", "A workshop file of postcheck: what several builds share.")


def described(model: type[Table]) -> tuple[Schema, Schema]:
    """What a model says of itself: its own table, and all that it is made of, tables and texts, by the names that `$ref` gives."""
    plain = _Plain()
    whole = plain.table(model)
    tables: Schema = {}
    while plain.tables - tables.keys():
        for key in plain.tables - tables.keys():
            tables[key] = plain.table(getattr(models, key))
    return whole, {key: tables[key] for key in sorted(tables)} | {
        key: _text(key) for key in sorted(plain.texts)
    }


def _schema(model: type[Table], name: str, description: str) -> Schema:
    whole, definitions = described(model)
    _offer(definitions)
    return {
        "$schema": "http://json-schema.org/draft-07/schema#",
        "$id": f"urn:postcheck:schema:{name}:1",
        "title": f"postcheck {name}",
        # the reader takes TOML 1.1; without this word an editor that knows both refuses what is new in it
        "x-tombi-toml-version": "v1.1.0",
        **_in_place(whole, definitions),
        "description": description,
    }


def _offer(tables: Schema) -> None:
    """Let an editor offer the rows of the catalogue, behind the examples, where a key names one; the file may have its own."""
    rows = {
        "wire": catalogue.names("wire"),
        "kind of lamp": catalogue.names("lamp"),
        "kind of strip": catalogue.names("strip"),
        "resistor size": catalogue.names("resistor"),
        "cell chemistry": catalogue.names("battery"),
    }
    words = {"material": catalogue.names("plastic"), **dict.fromkeys(("colour", "colours"), COLOURS.values())}
    named = {
        model.__name__: {
            model.model_fields[key].alias or key: rows.get(what, ()) for key, what in keys.items()
        }
        for model, keys in REFERENCES.items()
    }
    for name, table in tables.items():
        for key, offered in (words | named.get(name, {})).items():
            if offered and (node := table.get("properties", {}).get(key)) is not None:
                node = node.get("items", node)
                node["examples"] = list(dict.fromkeys((*node.get("examples", ()), *offered)))


def _in_place(node: Any, definitions: Schema) -> Any:
    """The same with each definition where it is used, and what may be a text or a table as one schema.

    Of a choice an editor tells a mistake once for each branch, or only that nothing fits.
    """
    if isinstance(node, list):
        return [_in_place(item, definitions) for item in node]
    if not isinstance(node, dict):
        return node
    node = {key: _in_place(value, definitions) for key, value in node.items()}
    if "$ref" in node:
        return {**_in_place(definitions[node.pop("$ref")], definitions), **node}
    if "anyOf" in node:
        text, table = node.pop("anyOf")
        assert (text["type"], table["type"]) == ("string", "object"), "nothing else can be chosen from"
        return {**table, **text, **node, "type": ["string", "object"]}
    return node


class _Plain:
    """What the library makes of a model, in the words of draft-07; the texts and tables it speaks of are noted."""

    def __init__(self) -> None:
        self.texts: set[str] = set()
        self.tables: set[str] = set()

    def table(self, model: type[Table]) -> Schema:
        """A table with its keys; titles, which only say the keys again, are left out."""
        made = model.model_json_schema(by_alias=True)
        keys = {key: self.value(value) for key, value in made["properties"].items()}
        for key in made.get("required", ()):
            keys[key].pop("default", None)  # pydantic 2.10 shows one that the key never had
        return {**{word: made[word] for word in made if word != "title"}, "properties": keys}

    def value(self, made: Schema) -> Schema:
        """What may stand at a key or in a list."""
        node = {word: value for word, value in _alone(made).items() if word != "title"}
        default = _default(node)
        if text := node.pop("text", None):
            del node["type"]
            node["$ref"] = self._noted(text)
        if table := node.pop("table", None):
            del node["type"]
            node["$ref"] = table
            self.tables.add(table)
        for word in ("items", "additionalProperties"):
            if isinstance(node.get(word), dict):
                node[word] = self.value(node[word])
        if "anyOf" in node:
            node["anyOf"] = [self.value(branch) for branch in node["anyOf"]]
        if node.get("type") == "boolean":
            node.setdefault("examples", [True, False])
        node.pop("default", None)
        return node if default is None else {**node, "default": default}

    def _noted(self, text: str) -> str:
        key = text.replace(" ", "-")
        self.texts.add(key)
        return key


def _alone(made: Schema) -> Schema:
    """The same without null; what is then alone stands there itself, under the key's own words."""
    if "anyOf" not in made:
        return made
    branches = [inner for branch in made["anyOf"] for inner in branch.get("anyOf", [branch])]
    branches = [branch for branch in branches if branch != {"type": "null"}]
    if len(branches) > 1:
        return {**made, "anyOf": branches}
    return {**branches[0], **{word: value for word, value in made.items() if word != "anyOf"}}


def _default(node: Schema) -> Any:
    """The default as it is written in a file; None where there is none to show."""
    value, text = node.get("default"), node.get("text")
    if value is None or text is None:
        return value if value != [] else None  # any list may be left out
    if text == "temperature range":
        low, high = (format_quantity(end, Dimension.TEMPERATURE) for end in value)
        return f"{low.removesuffix(' degC')}..{high}"
    return format_quantity(value, Dimension(text.removeprefix("signed ")))


def _text(key: str) -> Schema:
    """A text of which only the pattern is known here."""
    text = key.replace("-", " ")
    grammar = getattr(oneline, text, None)
    if grammar is not None:
        what, longest = (grammar.__doc__ or "").partition("\n")[0], oneline.MOST_IN_A_LINE
    else:
        what, longest = WORDS[text], MOST_CHARACTERS
    return {"type": "string", "description": what, "maxLength": longest, "pattern": pattern(text)}
