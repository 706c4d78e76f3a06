"""How what was typed is written rightly: the hint that goes with a refused value, made of that value."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, NamedTuple, get_args, get_origin

from postcheck.description.keys import LISTS, choices_of, example_of, fields_at, kinds_at, models_in, named_at
from postcheck.description.problems import Path
from postcheck.description.quantities import AS_MEASURED, with_unit
from postcheck.description.toml_text import in_toml, key_in_toml
from postcheck.description.units import MEASURES
from postcheck.plain import harmless

if TYPE_CHECKING:
    from pydantic import BaseModel
    from pydantic.fields import FieldInfo

_UNITS = "|".join(
    rf"{re.escape(unit)}(?![A-Za-z])" for measure in MEASURES.values() for unit in measure.units
)
# What is refused for its form: the key's own example helps.
_BY_EXAMPLE = {
    "file.wrong-type",
    "file.not-a-quantity",
    "file.no-unit",
    "file.unknown-unit",
    "file.wrong-dimension",
}


class Refused(NamedTuple):
    """A value that was refused: by which check, its path in the document, what of the location follows that, itself."""

    check: str
    path: Path
    rest: Path
    value: object


def rewritten(
    refused: Refused, hint: str | None, bare: str, model: type[BaseModel] | None, *, by_example: bool
) -> str | None:
    """The hint, better where what was typed can be written rightly, or the key has an example of its own.

    `bare` is the number without a unit, where that is what is wrong; `by_example`: the key's example may help.
    """
    check, path, rest, value = refused
    return (
        _bracket(path, value, check, model)
        or _as_a_list(path, value, hint)
        or _as_a_table(path, value, hint, model)
        or _measured(bare, value, path, rest, hint, model)
        or (_with_example(hint, path, check, model) if by_example and check in _BY_EXAMPLE else hint)
    )


def _bracket(path: Path, value: object, check: str, model: type[BaseModel] | None) -> str | None:
    """How the header of a table is written, where it has the wrong brackets."""
    if check != "file.wrong-type" or not all(isinstance(part, str) for part in path) or len(path) > 2:
        return None
    name = ".".join(map(str, path))
    kinds = kinds_at(model, path)
    inner = [kind for kind in kinds if get_origin(kind) in LISTS and models_in(get_args(kind)[0])]
    if isinstance(value, Mapping) and inner:
        first = next(iter(value), None)
        tables = first is not None and all(isinstance(table, Mapping) for table in value.values())
        below = f", and below it name = {in_toml(str(first))}" if tables else ""
        return f"write [[{name}]], in double brackets: there may be several{below}"
    if isinstance(value, list | tuple) and all(isinstance(item, Mapping) for item in value):
        if name == "wire" and any({"line", "ends"} & item.keys() for item in value):
            return "write [[run]] for what joins two places; a [wire.NAME] says what sort of wire there is"
        if named_at(model, path):
            own = value[0].get("name") if value else None
            named = key_in_toml(own) if isinstance(own, str) and own else "NAME"
            return f"write [{name}.{named}], in single brackets, with a name of its own" + (
                " and no `name` below it" if named != "NAME" else ""
            )
        if fields_at(model, path):
            return f"write [{name}], in single brackets"
    return None


def _as_a_list(path: Path, value: object, hint: str | None) -> str | None:
    """How a text that names several things is written as a list."""
    if not isinstance(value, str) or "a list in [ ]" not in (hint or ""):
        return None
    parts = [part for part in re.split(r" *, *| +(?:to|and) +| *[\u2013>]+ *| - ", value.strip()) if part]
    return f"write {path[-1]} = {in_toml(parts)}" if len(parts) > 1 else None


def _as_a_table(path: Path, value: object, hint: str | None, model: type[BaseModel] | None) -> str | None:
    """How a thing with a name is described that is given in one text: [place] and base = "open"."""
    if len(path) != 2 or not isinstance(value, str) or "a table is needed" not in (hint or ""):
        return None
    if not named_at(model, path[:1]):
        return None
    fields = next(iter(fields_at(model, path)), {})
    key = next((key for key, field in fields.items() if field.is_required()), None)
    if key is None:
        return None
    choices = choices_of(fields[key].annotation)
    example = value if value in choices else choices[0] if choices else example_of(fields[key])
    return f"write [{path[0]}.{key_in_toml(str(path[1]))}] and below it {key} = {in_toml(example)}"


def _measured(
    bare: str, value: object, path: Path, rest: Path, hint: str | None, model: type[BaseModel] | None
) -> str | None:
    """What to write for a number without a unit: what was typed, with the unit that the key's own example has."""
    above = _fields_above((*path, *rest), model)
    example = next((field.examples[0] for field in above if field.examples), None)
    while isinstance(example, list) and example:
        example = example[0]
    if not bare or not hint or ' %"' in hint:
        return None
    write = f"write {path[-1]} = " if path and isinstance(path[-1], str) else "write "
    if not isinstance(example, str):  # the unit of its kind, then
        return write + hint.removeprefix("write ") if hint.startswith('write "') and not rest else None
    if not isinstance(value, str) or re.fullmatch(r"[-+0-9./ ]+", value):
        text = with_unit(value.strip() if isinstance(value, str) else bare, example)
    elif right := with_unit(bare, example):  # it is one number of several in the text
        text = re.sub(
            rf"(?<![0-9.]){re.escape(bare)}(?! ?(?:{_UNITS}))(?![0-9.])",
            right,
            " ".join(value.split()),
            count=1,
        )
    else:
        return None
    return text and f'{write}"{harmless(text, 60)}", {AS_MEASURED}'


def _with_example(hint: str | None, path: Path, check: str, model: type[BaseModel] | None) -> str | None:
    """The hint with the example of the key's own, or that of the list or table it stands in."""
    for length in range(len(path), 0, -1):
        key = path[length - 1]
        field = next(
            (fields[str(key)] for fields in fields_at(model, path[: length - 1]) if str(key) in fields), None
        )
        if field is None:
            continue
        if not field.examples:
            return hint
        if hint and check == "file.wrong-type" and hint.startswith('write "'):
            return f"write {key} = {hint.removeprefix('write ')}"  # it is known already what to write
        own = f"such as {key} = {in_toml(field.examples[0])}"
        if hint and (general := re.search(r'such as "[^"]*"$', hint)):
            hint = hint[: general.start()] + own
        elif check == "file.wrong-type":
            hint = f"{hint or 'another value is needed'}, {own}"
        if check in {"file.wrong-type", "file.not-a-quantity"} and field.description:
            hint = f"{hint} ({field.description[0].lower()}{field.description[1:].rstrip('.')})"
        return hint
    return hint


def _fields_above(path: Path, model: type[BaseModel] | None) -> Iterator[FieldInfo]:
    """The fields at a path, then those of the tables around it."""
    for length in range(len(path), 0, -1):
        for fields in fields_at(model, path[: length - 1]):
            if str(path[length - 1]) in fields:
                yield fields[str(path[length - 1])]
