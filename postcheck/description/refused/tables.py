"""Keys and tables that are missing, unknown, or bear another name."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, get_args, get_origin

from postcheck.description.keys import (
    LISTS,
    choices_of,
    example_of,
    fields_at,
    keys_at,
    models_in,
    named_at,
)
from postcheck.description.problems import Path, Problem
from postcheck.description.refused.values import either
from postcheck.description.toml_text import in_toml, key_in_toml
from postcheck.plain import harmless, quoted

if TYPE_CHECKING:
    from pydantic import BaseModel

LONGEST = 1000
"""What a hint may hold of the file is made harmless, and not cut."""


def missing(path: Path, key: str, data: Mapping[str, Any], model: type[BaseModel] | None) -> Problem:
    """What is said where the table at `path` lacks a key, with what to add."""
    field = next((fields[key] for fields in fields_at(model, path) if key in fields), None)
    header = "" if path else f"[{key}]"
    if field is not None and header and models_in(field.annotation):
        whole = example_of(field)
        first = next(iter(whole.items()), None) if isinstance(whole, Mapping) else None
        hint = f"add {header}" + (f" and below it {first[0]} = {in_toml(first[1])}" if first else "")
    elif key == "format":
        hint = "add format = 1 at the top"
    elif field is not None and (example := example_of(field)):
        hint = f"add {key} = {in_toml(example)} or what holds here"
    elif field is not None and (choices := choices_of(field.annotation)):
        hint = f"add {key} = {either(choices)}"
    else:
        hint = field.description if field is not None and field.description else "add it"
        hint = f"add it: {hint[0].lower()}{hint[1:].rstrip('.')}" if hint != "add it" else hint
    return Problem("file.missing", (*path, key), f"{_subject(path, data)} has no '{key}'", hint)


def unknown(path: Path, data: Mapping[str, Any], model: type[BaseModel] | None, *, guess: bool) -> Problem:
    """What is said of a key or table at `path` that is not known; `guess`: with what it was meant to be."""
    key = path[-1]
    if (
        len(path) == 2
        and isinstance(_value_at(path, data), Mapping)
        and fields_at(model, path[:1])
        and not meant(path, model)
    ):
        name = f"{path[0]}.{key_in_toml(str(key))}"
        says = f"[{harmless(name, 60)}] has a name of its own, and there is one [{path[0]}] alone"
        return Problem("file.unknown-key", path, says, harmless(one_table(path), LONGEST), on="key")
    known = keys_at(model, path[:-1])
    hint = None
    if guess and (header := _header(path, data, model)):
        hint = header
    elif len(path) == 1 and key in keys_at(model, ("build",)) and key not in ("build", "format"):
        hint = "it goes below the header of its table, such as [build]"
    elif guess and (near := meant(path, model)):
        hint = f"did you mean '{near}'?"
        table = _value_at(path[:-1], data)
        if near == "ends" and isinstance(table, Mapping) and {"from", "to"} <= table.keys():
            hint = f"write ends = {in_toml([table['from'], table['to']])}"
    elif known:
        hint = f"the keys here are {', '.join(known[:30])}" + (" and more" if len(known) > 30 else "")
    says = f"{_subject(path[:-1], data)} knows no key {quoted(str(key), 40)}"
    return Problem("file.unknown-key", path, says, hint and harmless(hint, LONGEST), on="key")


def unnamed(path: Path, value: object, model: type[BaseModel] | None) -> Problem | None:
    """A table that stands for several, and has no name of its own: its keys are taken for names."""
    if len(path) != 2 or isinstance(value, Mapping | list) or not named_at(model, path[:1]):
        return None
    table, named = str(path[0]), set(keys_at(model, (*path[:1], "NAME")))
    if path[1] not in named:
        return None
    example = next(
        (field.examples for fields in fields_at(model, ()) for key, field in fields.items() if key == table),
        None,
    )
    name = next(iter(example[0]), "NAME") if example and isinstance(example[0], Mapping) else "NAME"
    return Problem(
        "file.wrong-type",
        path[:1],
        f"[{table}] has no name of its own",
        f"write [{table}.{name}], or another name after the dot",
    )


def one_table(path: Path) -> str:
    """How the header of a table is written of which there is one alone."""
    other = (
        f", or [passage.{key_in_toml(str(path[-1]))}] for another way through" if path[0] == "post" else ""
    )
    return f"write [{path[0]}]{other}"


def meant(path: Path, model: type[BaseModel] | None) -> str | None:
    """The key that an unknown one was meant to be."""
    from postcheck.description.meant import probably_meant  # noqa: PLC0415 - only where there is a mistake

    return probably_meant(str(path[-1]), keys_at(model, path[:-1]))


def _header(path: Path, data: Mapping[str, Any], model: type[BaseModel] | None) -> str | None:
    """The header to write, where a table bears another name, or a name with a dot in it."""
    value = _value_at(path, data)
    several = isinstance(value, list | tuple) and all(isinstance(item, Mapping) for item in value)
    if not (isinstance(value, Mapping) or several):
        return None
    if len(path) == 3 and named_at(model, path[:1]):
        name = f"{path[1]}.{path[2]}"
        return f"a name with a dot stands in quotes: write [{path[0]}.{in_toml(name)}]"
    if len(path) != 1:
        return None
    table, _, name = str(path[0]).partition("-")
    known = keys_at(model, ())
    whole = str(path[0]).replace("-", "_")
    ours = next((one for one in (whole, table) if one in known), None) or meant(path, model)
    if ours is None:
        return None
    if ours in _lists(model):
        return f"did you mean '{ours}'? Write [[{ours}]], in double brackets, for each of them"
    if not named_at(model, (ours,)):
        return f"did you mean '{ours}'? Write [{ours}]"
    if table != ours:
        inner = next(iter(value), None) if isinstance(value, Mapping) else None
        name = (
            str(inner)
            if inner is not None and isinstance(value, Mapping) and isinstance(value[inner], Mapping)
            else ""
        )
    return f"did you mean '{ours}'? Write [{ours}.{key_in_toml(name) if name else 'NAME'}]"


def _lists(model: type[BaseModel] | None) -> list[str]:
    """The tables that are written in double brackets."""
    return [
        key
        for fields in fields_at(model, ())
        for key, field in fields.items()
        if get_origin(field.annotation) in LISTS and models_in(get_args(field.annotation)[0])
    ]


def _value_at(path: Path, data: Any) -> object:
    for part in path:
        data = data[part]
    return data


def _subject(path: Path, data: Any) -> str:
    """Name the table at `path` as a person would: "lamp 'tail beacon'", "place 'car'", "the file"."""
    names: list[str] = []
    for part in path:
        data = data[part]
        if isinstance(part, int):
            own = data.get("name") if isinstance(data, Mapping) else None
            names[-1] += f" {quoted(own, 40)}" if isinstance(own, str) and own else f" number {part + 1}"
        elif names and isinstance(data, Mapping) and len(path) == 2:
            names[-1] += f" {quoted(part, 40)}"
        else:
            names.append(part if re.fullmatch(r"[A-Za-z_-]{1,40}", part) else quoted(part, 40))
    return ", ".join(names) if names else "the file"
