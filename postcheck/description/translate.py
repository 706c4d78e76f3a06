"""What the models refuse, in our own words: the text of the validation library never reaches a user."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, Any, get_args, get_origin

from postcheck.description.keys import LISTS, TABLES, fields_at, kinds_at, models_in
from postcheck.description.problems import MOST_GUESSES, MOST_PROBLEMS, Path, Problem, QuantityError
from postcheck.description.quantities import AS_MEASURED, with_unit
from postcheck.description.toml_text import in_toml, key_in_toml
from postcheck.description.units import MEASURES
from postcheck.plain import harmless, nearest, quoted

if TYPE_CHECKING:
    from pydantic import BaseModel, ValidationError
    from pydantic.fields import FieldInfo
    from pydantic_core import ErrorDetails

_NEEDED = {
    "string": "a text in quotes",
    "int": "a whole number",
    "float": "a number",
    "bool": "true or false, without quotes",
    "list": "a list in [ ]",
    "tuple": "a list in [ ]",
    "dict": "a table",
    "model": "a table",
    "date": "a date without quotes",
    "datetime": "a date and time, without quotes",
}


_LONGEST = 1000
"""What a hint may hold of the file is made harmless, and not cut."""


def problems_from(
    error: ValidationError, data: Mapping[str, Any], model: type[BaseModel] | None = None
) -> list[Problem]:
    """Return one problem for each of the first MOST_PROBLEMS things wrong with `data`, the parsed document.

    `model` is the model that refused it; with it, unknown and missing keys come with a guess or an example.
    """
    details = [
        one for one in error.errors(include_url=False, include_input=False) if not _left_short(one, data)
    ][:MOST_PROBLEMS]
    found = [
        _problem(detail, data, model, guess=number < MOST_GUESSES) for number, detail in enumerate(details)
    ]
    return _merged(_once(found, model))


def _left_short(detail: ErrorDetails, data: Mapping[str, Any]) -> bool:
    """Whether a list is told to be too short only because what stands in it is wrong, and is told as well."""
    value = _existing(detail["loc"], data)[2]
    return detail["type"] == "too_short" and len(value) >= detail["ctx"]["min_length"]  # type: ignore[arg-type]


def _once(problems: list[Problem], model: type[BaseModel] | None) -> list[Problem]:
    """The problems without keys that are missing only because they bear another name, and of two names for one key the first.

    Nor is anything missing in a table that has a name which it cannot have.
    """
    named = {
        problem.path[:-1]
        for problem in problems
        if problem.check == "file.unknown-key" and problem.hint == _one_table(problem.path)
    }
    problems = [one for one in problems if one.check != "file.missing" or one.path[:-1] not in named]
    unknown = [problem for problem in problems if problem.check == "file.unknown-key" and problem.path]
    if not unknown:
        return problems
    missing = {problem.path for problem in problems if problem.check == "file.missing"}
    meant: dict[Path, Path] = {}
    again: set[Path] = set()
    for problem in unknown[:MOST_GUESSES]:
        ours = (*problem.path[:-1], _meant(problem.path, model) or "")
        if ours in missing and meant.setdefault(ours, problem.path) != problem.path:
            again.add(problem.path)
    return [
        problem
        for problem in problems
        if not (problem.check == "file.missing" and problem.path in meant) and problem.path not in again
    ]


def _known_at(path: Path, model: type[BaseModel] | None) -> list[str]:
    return sorted({name for fields in fields_at(model, path) for name in fields})


def _meant(path: Path, model: type[BaseModel] | None) -> str | None:
    """The key that an unknown one was meant to be."""
    from postcheck.description.meant import probably_meant  # noqa: PLC0415 - only where there is a mistake

    return probably_meant(str(path[-1]), _known_at(path[:-1], model))


def _problem(
    detail: ErrorDetails, data: Mapping[str, Any], model: type[BaseModel] | None, *, guess: bool
) -> Problem:
    kind, context = detail["type"], detail.get("ctx", {})
    path, rest, value = _existing(detail["loc"], data)
    if kind == "missing":
        return _missing(path, str(rest[-1]) if rest else "", data, model)
    if kind == "extra_forbidden":
        return _unknown(path, data, model, guess=guess)
    if (unnamed := _unnamed(path, value, model)) is not None:
        return unnamed
    on_key = bool(rest) and rest[-1] == "[key]"
    check, says, hint = _words(kind, context, value, str(path[-1]) if path else "")
    if bracket := _bracket(path, value, check, model):
        hint = bracket
    elif listed := _as_a_list(path, value, hint) or _as_a_table(path, value, hint, model):
        hint = listed
    elif unitless := _measured(context.get("bare", ""), value, path, rest, hint, model):
        hint = unitless
    elif not on_key and check in _BY_EXAMPLE:
        hint = _with_example(hint, path, check, model)
    return Problem(check, path, says, hint and harmless(hint, _LONGEST), on="key" if on_key else "value")


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


def _measured(
    bare: str, value: object, path: Path, rest: Path, hint: str | None, model: type[BaseModel] | None
) -> str | None:
    """What to write for a number without a unit: what was typed, with the unit that the key's own example has."""
    own = (*path, *(part for part in rest[-1:] if isinstance(part, str)))
    example = next((field.examples[0] for field in _fields_above(own, model) if field.examples), None)
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
    return text and f'{write}"{quoted(text)[1:-1]}", {AS_MEASURED}'


def _fields_above(path: Path, model: type[BaseModel] | None) -> Iterator[FieldInfo]:
    """The fields at a path, then those of the tables around it."""
    for length in range(len(path), 0, -1):
        for fields in fields_at(model, path[: length - 1]):
            if str(path[length - 1]) in fields:
                yield fields[str(path[length - 1])]


def _bracket(path: Path, value: object, check: str, model: type[BaseModel] | None) -> str | None:
    """How the header of a table is written, where it has the wrong brackets."""
    if check != "file.wrong-type" or not all(isinstance(part, str) for part in path) or len(path) > 2:
        return None
    name = ".".join(map(str, path))
    kinds = [
        field.annotation
        for fields in fields_at(model, path[:-1])
        for key, field in fields.items()
        if key == path[-1]
    ]
    inner = [kind for kind in kinds if get_origin(kind) in LISTS and models_in(get_args(kind)[0])]
    if isinstance(value, Mapping) and inner:
        first = next(iter(value), None)
        tables = first is not None and all(isinstance(table, Mapping) for table in value.values())
        below = f", and below it name = {in_toml(str(first))}" if tables else ""
        return f"write [[{name}]], in double brackets: there may be several{below}"
    if isinstance(value, list | tuple) and all(isinstance(item, Mapping) for item in value):
        if name == "wire" and any({"line", "ends"} & item.keys() for item in value):
            return "write [[run]] for what joins two places; a [wire.NAME] says what sort of wire there is"
        if any(get_origin(kind) in TABLES for kind in kinds):
            own = value[0].get("name") if value else None
            named = key_in_toml(own) if isinstance(own, str) and own else "NAME"
            return f"write [{name}.{named}], in single brackets, with a name of its own" + (
                " and no `name` below it" if named != "NAME" else ""
            )
        if any(map(models_in, kinds)) or len(path) > 1:
            return f"write [{name}], in single brackets"
    return None


def _unnamed(path: Path, value: object, model: type[BaseModel] | None) -> Problem | None:
    """A table that stands for several, and has no name of its own: its keys are taken for names."""
    kinds = kinds_at(model, path[:-1]) if len(path) == 2 else []
    if isinstance(value, Mapping | list) or not any(get_origin(kind) in TABLES for kind in kinds):
        return None
    table, named = str(path[0]), set(_known_at((*path[:1], "NAME"), model))
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


def _as_a_table(path: Path, value: object, hint: str | None, model: type[BaseModel] | None) -> str | None:
    """How a thing with a name is described that is given in one text: [place] and base = "open"."""
    if len(path) != 2 or not isinstance(value, str) or "a table is needed" not in (hint or ""):
        return None
    if not any(get_origin(kind) in TABLES for kind in kinds_at(model, path[:1])):
        return None
    fields = next(iter(fields_at(model, path)), {})
    key = next((key for key, field in fields.items() if field.is_required()), None)
    if key is None:
        return None
    choices = _choices(fields[key].annotation)
    example = value if value in choices else choices[0] if choices else _example(fields[key])
    return f"write [{path[0]}.{key_in_toml(str(path[1]))}] and below it {key} = {in_toml(example)}"


def _as_a_list(path: Path, value: object, hint: str | None) -> str | None:
    """How a text that names several things is written as a list."""
    if not isinstance(value, str) or "a list in [ ]" not in (hint or ""):
        return None
    parts = [part for part in re.split(r" *, *| +(?:to|and) +| *[\u2013>]+ *| - ", value.strip()) if part]
    return f"write {path[-1]} = {in_toml(parts)}" if len(parts) > 1 else None


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


def _holds(data: object, part: str | int) -> bool:
    if isinstance(data, list | tuple):
        return isinstance(part, int) and part < len(data)
    return isinstance(data, Mapping) and part in data


def _existing(loc: Path, data: Any) -> tuple[Path, Path, object]:
    """Part a location into the path that stands in the document, what follows it, and the value there.

    Names of the branches of a union, which stand in no document, are stepped over.
    """
    path: Path = ()
    for position, part in enumerate(loc):
        if _holds(data, part):
            data = data[part]
        elif position + 1 < len(loc) and isinstance(part, str) and isinstance(data, Mapping | list | tuple):
            continue
        else:
            return path, loc[position:], data
        path = (*path, part)
    return path, (), data


def _subject(path: Path, data: Any) -> str:
    """Name the table at `path` as a person would: "lamp 'tail beacon'", "place 'car'", "the file"."""
    names: list[str] = []
    for part in path:
        data = data[part]
        if isinstance(part, int):
            own = data.get("name") if isinstance(data, Mapping) else None
            names[-1] += f" {quoted(own, 40)}" if isinstance(own, str) and own else f" number {part + 1}"
        elif (
            names and len(names) == 1 and " " not in names[0] and isinstance(data, Mapping) and len(path) == 2
        ):
            names[-1] += f" {quoted(part, 40)}"
        else:
            names.append(
                quoted(part, 40)[1:-1] if re.fullmatch(r"[A-Za-z_-]{1,40}", part) else quoted(part, 40)
            )
    return ", ".join(names) if names else "the file"


def _missing(path: Path, key: str, data: Mapping[str, Any], model: type[BaseModel] | None) -> Problem:
    field = next((fields[key] for fields in fields_at(model, path) if key in fields), None)
    header = "" if path else f"[{key}]"
    if field is not None and header and models_in(field.annotation):
        whole = _example(field)
        first = next(iter(whole.items()), None) if isinstance(whole, Mapping) else None
        hint = f"add {header}" + (f" and below it {first[0]} = {in_toml(first[1])}" if first else "")
    elif key == "format" and not path:
        hint = "add format = 1 at the top"
    elif field is not None and (example := _example(field)):
        hint = f"add {key} = {in_toml(example)}" + (
            "" if isinstance(example, int) and key == "format" else " or what holds here"
        )
    elif field is not None and (choices := _choices(field.annotation)):
        hint = f"add {key} = {_either(choices)}"
    else:
        hint = field.description if field is not None and field.description else "add it"
        hint = f"add it: {hint[0].lower()}{hint[1:].rstrip('.')}" if hint != "add it" else hint
    return Problem("file.missing", (*path, key), f"{_subject(path, data)} has no '{key}'", hint)


def _one_table(path: Path) -> str:
    """How the header of a table is written of which there is one alone."""
    other = (
        f", or [passage.{key_in_toml(str(path[-1]))}] for another way through" if path[0] == "post" else ""
    )
    return f"write [{path[0]}]{other}"


def _unknown(path: Path, data: Mapping[str, Any], model: type[BaseModel] | None, *, guess: bool) -> Problem:
    *_, key = path or ("",)
    if (
        len(path) == 2
        and isinstance(_value_at(path, data), Mapping)
        and any(map(models_in, kinds_at(model, path[:1])))
        and not _meant(path, model)
    ):
        name = f"{path[0]}.{key_in_toml(str(key))}"
        says = f"[{harmless(name, 60)}] has a name of its own, and there is one [{path[0]}] alone"
        return Problem("file.unknown-key", path, says, harmless(_one_table(path), _LONGEST), on="key")
    known = _known_at(path[:-1], model)
    hint = None
    if guess and (header := _header(path, data, model)):
        hint = header
    elif len(path) == 1 and key in _known_at(("build",), model) and key not in ("build", "format"):
        hint = "it goes below the header of its table, such as [build]"
    elif guess and (near := _meant(path, model)):
        hint = f"did you mean '{near}'?"
        table = _value_at(path[:-1], data)
        if near == "ends" and isinstance(table, Mapping) and {"from", "to"} <= table.keys():
            hint = f"write ends = {in_toml([table['from'], table['to']])}"
    elif known:
        hint = f"the keys here are {', '.join(known[:30])}" + (" and more" if len(known) > 30 else "")
    says = f"{_subject(path[:-1], data)} knows no key {quoted(str(key), 40)}"
    return Problem("file.unknown-key", path, says, hint and harmless(hint, _LONGEST), on="key")


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


def _header(path: Path, data: Mapping[str, Any], model: type[BaseModel] | None) -> str | None:
    """The header to write, where a table bears another name, or a name with a dot in it."""
    value = _value_at(path, data)
    several = isinstance(value, list | tuple) and all(isinstance(item, Mapping) for item in value)
    if not (isinstance(value, Mapping) or several):
        return None
    if len(path) == 3 and any(get_origin(kind) in TABLES for kind in kinds_at(model, path[:1])):
        name = f"{path[1]}.{path[2]}"
        return f"a name with a dot stands in quotes: write [{path[0]}.{in_toml(name)}]"
    if len(path) != 1:
        return None
    table, dash, name = str(path[0]).partition("-")
    ours = table if dash and table in _known_at((), model) else _meant(path, model)
    if ours is None:
        return None
    if ours in _lists(model):
        return f"did you mean '{ours}'? Write [[{ours}]], in double brackets, for each of them"
    if not any(get_origin(kind) in TABLES for kind in kinds_at(model, (ours,))):
        return f"did you mean '{ours}'? Write [{ours}]"
    if table != ours:
        inner = next(iter(value), None) if isinstance(value, Mapping) else None
        name = (
            str(inner)
            if inner is not None and isinstance(value, Mapping) and isinstance(value[inner], Mapping)
            else ""
        )
    return f"did you mean '{ours}'? Write [{ours}.{key_in_toml(name) if name else 'NAME'}]"


def _words(kind: str, context: Mapping[str, Any], value: object, key: str) -> tuple[str, str, str | None]:
    """Return check, words and hint for one refused value."""
    if kind == "quantity":
        return context["check"], context["says"], context["hint"]
    if kind in {"value_error", "assertion_error"}:
        cause = context.get("error")
        if isinstance(cause, QuantityError):
            return cause.check, cause.says, cause.hint
        return "file.invalid", str(cause) if cause is not None and str(cause) else "this is not right", None
    shown = _shown(value)
    if kind in {"literal_error", "enum"}:
        choices = re.findall(r"'([^']*)'", str(context.get("expected", "")))
        if not choices:
            return (
                "file.choice",
                f"'{key}' cannot be {shown}",
                f"write {context.get('expected', 'another value')}",
            )
        hint = _choice(key, value, choices)
        return "file.choice", f"'{key}' cannot be {shown}" if key else f"{shown} cannot be chosen", hint
    if kind == "finite_number":
        return "file.not-finite", f"{shown} is no size of a real thing", "write a number"
    if length := _length(kind, context, key):
        return length
    return _size_or_type(kind, context, value, shown)


def _choice(key: str, value: object, choices: list[str]) -> str:
    """What to write where something else can be chosen: the same by our word for it, the nearest, or any of them."""
    from postcheck.description.meant import by_another_name, kind_of_supply  # noqa: PLC0415

    either = _either(choices)
    if not isinstance(value, str):
        return f"write {either}"
    if key == "kind" and "usb" in choices and (two := kind_of_supply(value)):
        return f"write {two}"
    if ours := by_another_name(value, choices, value=True):
        return f'write {key} = "{ours}"; it is {either}' if key else f'write "{ours}"; it is {either}'
    near = nearest(value, choices)
    return f'did you mean "{near}"? It is {either}' if near else f"write {either}"


def _size_or_type(
    kind: str, context: Mapping[str, Any], value: object, shown: str
) -> tuple[str, str, str | None]:
    if bound := re.fullmatch(r"(greater|less)_than(_equal)?", kind):
        limit = next(iter(context.values()))
        word = (
            ("at least" if bound[2] else "above")
            if bound[1] == "greater"
            else ("at most" if bound[2] else "below")
        )
        return "file.out-of-range", f"{shown} is out of range", f"it must be {word} {limit}"
    if needed := _NEEDED.get(re.sub(r"_(type|parsing|attributes_type|from_.*)$", "", kind)):
        return "file.wrong-type", f"this is {_kind(value)}", f"{needed} is needed"
    return "file.invalid", f"{shown} is not right here", None


def _length(kind: str, context: Mapping[str, Any], key: str) -> tuple[str, str, str | None] | None:
    if kind == "string_too_long":
        most = context["max_length"]
        return "file.too-long", f"this text is longer than {most} characters", "say it more briefly"
    if kind in {"string_too_short", "too_short"}:
        least = context["min_length"]
        what = f"the list has fewer than {least}" if least > 1 else "the list is empty"
        what = "the text is empty" if kind == "string_too_short" else what
        return "file.out-of-range", what, f"at least {least} needed"
    if kind == "too_long" and key == "ends":
        return (
            "file.out-of-range",
            "a run joins two places",
            "write a [[run]] of its own to each further place",
        )
    if kind == "too_long":
        return "file.out-of-range", f"the list has more than {context['max_length']}", "leave some out"
    return None


def _shown(value: object) -> str:
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float) and abs(value) < 1e15:
        return f"{value:.12g}"
    return _kind(value)


def _kind(value: object) -> str:
    if isinstance(value, str):
        return f"the text {quoted(value, 40)}" if value else "an empty text"
    if isinstance(value, bool):
        return "true or false"
    if isinstance(value, int | float):
        return "a number"
    if isinstance(value, list | tuple):
        return "a list"
    return "a table" if isinstance(value, Mapping) else "a date or time"


def _either(choices: Iterable[str]) -> str:
    *most, last = [f'"{choice}"' for choice in choices]
    return f"{', '.join(most)} or {last}" if most else last


def _merged(problems: list[Problem]) -> list[Problem]:
    """Join what several branches of a union say about one value: a list or a text is needed."""
    by_place: dict[Path, list[Problem]] = {}
    for problem in problems:
        by_place.setdefault(problem.path, []).append(problem)
    merged: list[Problem] = []
    for same in by_place.values():
        telling = [problem for problem in same if problem.check != "file.wrong-type"]
        wrong = [problem for problem in same if problem.check == "file.wrong-type"]
        merged += dict.fromkeys(telling)
        if wrong and not telling:
            needed = dict.fromkeys((problem.hint or "").removesuffix(" is needed") for problem in wrong)
            hint = f"{' or '.join(needed)} is needed" if len(needed) > 1 else wrong[0].hint
            merged.append(Problem(wrong[0].check, wrong[0].path, wrong[0].says, hint, on=wrong[0].on))
    return merged


def _choices(kind: Any) -> list[str]:
    arguments = get_args(kind)
    if arguments and all(isinstance(argument, str) for argument in arguments):
        return list(arguments)
    return [choice for argument in arguments for choice in _choices(argument)]


def _example(field: FieldInfo) -> object:
    """Return an example of the field's own, or of its type."""
    schemas = [getattr(mark, "json_schema", None) for mark in field.metadata]
    examples = [
        *(field.examples or []),
        *(e for schema in schemas if schema for e in schema.get("examples", ())),
    ]
    return next(iter(examples), None)
