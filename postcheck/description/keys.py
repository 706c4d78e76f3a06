"""What may stand at a path of a build file: read off the types of the models."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Annotated, Any, get_args, get_origin

from pydantic import BaseModel

from postcheck.description.fields import one_line
from postcheck.description.frozen import FrozenDict
from postcheck.description.problems import Path

if TYPE_CHECKING:
    from pydantic.fields import FieldInfo

__all__ = [
    "LISTS",
    "TABLES",
    "choices_of",
    "example_of",
    "fields_at",
    "form_at",
    "keys_at",
    "kinds_at",
    "marks_of",
    "models_in",
    "named_at",
]

# What a field may be made of.
LISTS, TABLES = {list, tuple}, {dict, FrozenDict}


def kinds_at(model: type[BaseModel] | None, path: Path) -> list[Any]:
    """The types that may stand at `path`; none where the path is not one of the model's."""
    here: list[Any] = [model] if model is not None else []
    for part in path:
        here = [inner for kind in here for inner in _inside(kind, part)]
    return here


def fields_at(model: type[BaseModel] | None, path: Path) -> list[dict[str, FieldInfo]]:
    """Return the fields, by the key they bear in a file, of every model that may stand at `path`."""
    return [_keys(found) for kind in kinds_at(model, path) for found in models_in(kind)]


def named_at(model: type[BaseModel] | None, path: Path) -> bool:
    """Whether tables stand at `path`, each with a name of its own."""
    return not TABLES.isdisjoint(map(get_origin, kinds_at(model, path)))


def keys_at(model: type[BaseModel] | None, path: Path) -> list[str]:
    """The keys that the table at `path` may have, by the alphabet."""
    return sorted({key for fields in fields_at(model, path) for key in fields})


def models_in(kind: Any) -> list[type[BaseModel]]:
    """The models that a type may be, those in its lists and tables left out."""
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        return [kind]
    if get_origin(kind) in LISTS | TABLES:
        return []
    return [model for argument in get_args(kind) for model in models_in(argument)]


def form_at(model: type[BaseModel], path: Path) -> one_line | None:
    """The one-line form in which the table at `path`, or in the list there, may be written; None where it has none."""
    key = next((part for part in reversed(path) if isinstance(part, str)), "")
    above = path[: len(path) - 1 - path[::-1].index(key)] if key else ()
    for fields in fields_at(model, above):
        if key in fields:
            marks = (*fields[key].metadata, *marks_of(fields[key].annotation))
            return next((mark for mark in marks if isinstance(mark, one_line)), None)
    return None


def marks_of(kind: Any) -> Iterator[Any]:
    """What is noted beside a type, and beside those that it is made of."""
    arguments = get_args(kind)
    if get_origin(kind) is Annotated:
        yield from arguments[1:]
        arguments = arguments[:1]
    for argument in arguments:
        yield from marks_of(argument)


def choices_of(kind: Any) -> list[str]:
    """The words that may be chosen where a type lists them; none where it does not."""
    arguments = get_args(kind)
    if all(isinstance(argument, str) for argument in arguments):
        return list(arguments)
    return [choice for argument in arguments for choice in choices_of(argument)]


def example_of(field: FieldInfo) -> object:
    """An example of the field's own, or of its type; None where there is none."""
    schemas = [getattr(mark, "json_schema", None) for mark in field.metadata]
    examples = [
        *(field.examples or []),
        *(e for schema in schemas if schema for e in schema.get("examples", ())),
    ]
    return next(iter(examples), None)


def _keys(model: type[BaseModel]) -> dict[str, FieldInfo]:
    return {field.alias or name: field for name, field in model.model_fields.items()}


def _inside(kind: Any, part: str | int) -> list[Any]:
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        field = _keys(kind).get(str(part))
        return [field.annotation] if field is not None else []
    origin, arguments = get_origin(kind), get_args(kind)
    if origin in TABLES:
        return [arguments[1]] if isinstance(part, str) else []
    if origin in LISTS:
        return [arguments[0]] if isinstance(part, int) else []
    # what is noted beside a type in `Annotated` is made of no types
    return [inner for argument in arguments for inner in _inside(argument, part)]
