"""The models of a build file, one by one."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from postcheck.description.models import Table


def tables(model: type[Table]) -> Iterator[type[Table]]:
    """Every table below a model, once."""
    waiting, seen = [model], {model}
    while waiting:
        for field in waiting.pop().model_fields.values():
            for inner in models_in(field.annotation):
                if inner not in seen:
                    seen.add(inner)
                    waiting.append(inner)
                    yield inner


def models_in(kind: Any) -> Iterator[type[Table]]:
    """The tables that a type is made of."""
    if isinstance(kind, type) and issubclass(kind, Table):
        yield kind
    for argument in getattr(kind, "__args__", ()):
        yield from models_in(argument)


def keys_of(model: type[Table]) -> list[str]:
    """The keys of a table as a file has them."""
    return [field.alias or name for name, field in model.model_fields.items()]
