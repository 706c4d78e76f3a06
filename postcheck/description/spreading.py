"""A value for what stands in several pieces of a TOML text: key by key, so that the pieces and their comments stay."""

from __future__ import annotations

import contextlib
from collections.abc import Mapping
from typing import Any, TypeAlias

import tomli
from pydantic import ValidationError

from postcheck.description.adding import MORE
from postcheck.description.keys import form_at, kinds_at, models_in
from postcheck.description.models import Build
from postcheck.description.positions import Span, is_header
from postcheck.description.problems import Path, QuantityError
from postcheck.description.toml_text import in_toml

__all__ = ["spread"]

Pieces: TypeAlias = "list[tuple[Path, str | None]]"


def spread(text: str, spans: Mapping[Path, Span], path: Path, value: str | None) -> Pieces | None:
    """The changes of single keys that give `path` the value, written as TOML, or take it out (None).

    None where it is one change: the path stands in one piece, or not at all.
    """
    span = spans.get(path)
    if span is None:
        return _within(text, spans, path, value)
    if span.key_start == span.value_start and isinstance(path[-1], str):
        dotted = True
    elif value is None or not _in_pieces(text, path, span):
        return None
    else:
        dotted = False
    old = _value(tomli.loads(text), path)
    if value is None:
        return [*(((*path, key), None) for key in old), (path, None)] if dotted else None
    new = _table(path, tomli.loads(f"x = {value}")["x"])
    if isinstance(old, list) and isinstance(new, list):
        return _list(path, old, new)
    return _keys(path, old, new) if isinstance(old, dict) and isinstance(new, dict) else None


def _in_pieces(text: str, path: Path, span: Span) -> bool:
    """Whether a table has a header, or a table or list is written over several lines."""
    if is_header(text, span):
        return not text.startswith("[[", span.value_start) or isinstance(path[-1], int)
    return text[span.value_start] in "[{" and "\n" in text[span.value_start : span.value_end]


def _keys(path: Path, old: Mapping[str, Any], new: Mapping[str, Any]) -> Pieces:
    same = _alike(path, old, new)
    added = [
        ((*path, key), in_toml(value))
        for key, value in new.items()
        if key not in same and old.get(key) != value
    ]
    return [*added, *(((*path, key), None) for key in old if key not in new)]


def _list(path: Path, old: list[Any], new: list[Any]) -> Pieces:
    pieces: Pieces = [
        ((*path, index), in_toml(then))
        for index, (now, then) in enumerate(zip(old, new, strict=False))
        if now != then
    ]
    pieces += [((*path, index), None) for index in reversed(range(len(new), len(old)))]
    return pieces + [((*path, MORE), in_toml(then)) for then in new[len(old) :]]


def _alike(path: Path, old: Mapping[str, Any], new: Mapping[str, Any]) -> set[str]:
    """The keys that say the same in both, however it is written."""
    for model in (model for kind in kinds_at(Build, path) for model in models_in(kind)):
        with contextlib.suppress(ValidationError):
            before, after = model.model_validate(dict(old)), model.model_validate(dict(new))
            names = {field.alias or name: name for name, field in model.model_fields.items()}
            return {
                key for key in old.keys() & new.keys() & names.keys()
                if getattr(before, names[key]) == getattr(after, names[key])
            }  # fmt: skip
    return set()


def _within(text: str, spans: Mapping[Path, Span], path: Path, value: str | None) -> Pieces | None:
    """A key of what is written in one line: in that line, else the line as a table."""
    span = spans.get(path[:-1])
    if span is None or text[span.value_start] not in "\"'" or span.key_start == span.value_start:
        return None
    line = _value(tomli.loads(text), path[:-1])
    table = _table(path[:-1], line)
    if not isinstance(table, dict):
        return None
    key = str(path[-1])
    was, now = table.get(key), None if value is None else tomli.loads(f"x = {value}")["x"]
    new = {**table, key: now} if now is not None else {one: table[one] for one in table if one != key}
    if isinstance(was, str) and isinstance(now, str) and line.count(was) == 1:
        shorter = line.replace(was, now)
        with contextlib.suppress(QuantityError):
            if _table(path[:-1], shorter) == new:
                return [(path[:-1], in_toml(shorter, literal=text[span.value_start] == "'"))]
    return [(path[:-1], in_toml(new))] if new else None


def _table(path: Path, value: object) -> object:
    """What a one-line form stands for; any other value as it is."""
    if not isinstance(value, str) or (form := form_at(Build, path)) is None:
        return value
    try:
        return form.form(value)
    except QuantityError:
        return value


def _value(tables: Any, path: Path) -> Any:
    for step in path:
        tables = tables[step]
    return tables
