"""The editor's view of a build file: a JSON Schema (draft-07) made from the models.

Editors know no newer draft. TOML knows no null, so no branch and no default is null; a date is a text with the
format of a date, which is how editors see one.
"""

from __future__ import annotations

from typing import Any

from postcheck.description import oneline
from postcheck.description.fields import WORDS
from postcheck.description.models import Build, Table, Workshop
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


def _schema(model: type[Table], name: str, description: str) -> Schema:
    made = model.model_json_schema(by_alias=True, ref_template="#/definitions/{model}")
    plain = _Plain()
    tables = {key: plain.table(table) for key, table in made.pop("$defs").items()}
    whole = plain.table(made)
    return {
        "$schema": "http://json-schema.org/draft-07/schema#",
        "$id": f"urn:postcheck:schema:{name}:1",
        "title": f"postcheck {name}",
        # the reader takes TOML 1.1; without this word an editor that knows both refuses what is new in it
        "x-tombi-toml-version": "v1.1.0",
        **whole,
        "description": description,
        "definitions": {**tables, **{key: _text(key) for key in sorted(plain.texts)}},
    }


class _Plain:
    """What the library makes of a model, in the words of draft-07; the texts it speaks of are noted."""

    def __init__(self) -> None:
        self.texts: set[str] = set()

    def table(self, made: Schema) -> Schema:
        """A table with its keys; titles, which only say the keys again, are left out."""
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
            node["allOf"] = [{"$ref": f"#/definitions/{self._noted(text)}"}]
        for word in ("items", "additionalProperties"):
            if isinstance(node.get(word), dict):
                node[word] = self.value(node[word])
        if "anyOf" in node:
            node["anyOf"] = [self.value(branch) for branch in node["anyOf"]]
            _hand_down(node)
        if "$ref" in node and len(node) > 1:  # what stands beside a reference does not count in draft-07
            # any of one, not all of one: tombi shows the example of a table in `allOf` at each of its keys
            node["anyOf"] = [{"$ref": node.pop("$ref")}]
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


def _hand_down(node: Schema) -> None:
    """Give the examples to the branch whose form they have: an editor offers them where they can be typed."""
    examples = node.pop("examples", [])
    text, *_ = node["anyOf"]
    if examples:
        node["anyOf"][0] = {"examples": examples, **text}


def _default(node: Schema) -> Any:
    """The default as it is written in a file; None where there is none to show."""
    value, text = node.get("default"), node.get("text")
    if value is None or text is None:
        return value
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
