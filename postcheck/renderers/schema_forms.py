"""The forms that the schemas of what is written as JSON are made of."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

Schema = dict[str, Any]


def whole_schema(name: str, what: str, /, **keys: Schema) -> Schema:
    """A schema of a document with its version and form."""
    return {
        "$schema": "http://json-schema.org/draft-07/schema#",
        "$id": f"urn:postcheck:schema:{name}:1",
        "title": f"postcheck {name}",
        **table(
            what,
            postcheck=text("The version that wrote it.", "0.1.0"),
            format={"const": 1, "type": "integer", "description": "Version of this form.", "examples": [1]},
            **keys,
        ),
    }


def table(what: str, /, **keys: Schema) -> Schema:
    """A table that has all of these keys, and perhaps others."""
    return {"type": "object", "description": what, "properties": keys, "required": list(keys)}


def several(what: str, item: Schema) -> Schema:
    """A list."""
    return {"type": "array", "description": what, "items": item}


def by_name(what: str, item: Schema) -> Schema:
    """A table of names, each with the same."""
    return {"type": "object", "description": what, "additionalProperties": item}


def row(figures: dict[str, Schema]) -> Schema:
    """Figures, and perhaps others."""
    return {
        "type": "object",
        "properties": figures,
        "additionalProperties": {"type": ["number", "string", "null"]},
    }


def text(what: str, example: str) -> Schema:
    """A text."""
    return {"type": "string", "description": what, "examples": [example]}


def anything(what: str, example: str) -> Schema:
    """A value of a build file, a date as text."""
    kinds = ["string", "number", "boolean", "array", "object", "null"]
    return {"type": kinds, "description": what, "examples": [example]}


def whole(what: str, example: int) -> Schema:
    """A number from 1 up."""
    return {"type": "integer", "minimum": 1, "description": what, "examples": [example]}


def number(what: str, example: float | None = 0.02) -> Schema:
    """A number."""
    return {"type": "number", "description": what, **({} if example is None else {"examples": [example]})}


def flag(what: str) -> Schema:
    """Yes or no."""
    return {"type": "boolean", "examples": [True], "description": what}


def count(what: str) -> Schema:
    """A number from 0 up."""
    return {"type": "integer", "minimum": 0, "examples": [38], "description": what}


def choice(what: str, words: Iterable[str], example: str) -> Schema:
    """One of some words."""
    return {"type": "string", "enum": list(words), "description": what, "examples": [example]}


def or_null(schema: Schema) -> Schema:
    """The same, or null."""
    return {**schema, "type": [schema["type"], "null"]}
