"""The editor schema takes what the reader takes, and sees most of what it refuses.

Outside truth: jsonschema, an independent validator of draft-07, and the metaschema that it brings.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

import pytest
import tomli
from hypothesis import HealthCheck, given, settings
from jsonschema import Draft7Validator
from pydantic import TypeAdapter, ValidationError

import postcheck
from postcheck.cli import main
from postcheck.cli.schema import SCHEMAS, text_of
from postcheck.description import oneline
from postcheck.description.models import Build, Workshop
from postcheck.description.patterns import pattern
from postcheck.description.problems import BuildError, QuantityError
from postcheck.description.quantities import parse, parse_cycles, parse_range, parse_spread
from postcheck.description.schema import build_schema, workshop_schema
from postcheck.description.units import MEASURES, Dimension
from tests.models import tables
from tests.schemas import EXAMPLES, FAULTY, ROOT, SEEDED, SHOWN, SOUND, STARTER, WORKSHOP, refused
from tests.test_fuzz import mutants


@pytest.mark.parametrize("name", SCHEMAS)
def test_the_file_is_what_the_models_make_and_what_is_printed(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """`python -m postcheck schema NAME > schemas/NAME.schema.json` writes it anew."""
    assert main(["schema", name]) == 0
    printed = capsys.readouterr().out
    assert printed == text_of(name)
    assert (ROOT / "schemas" / f"{name}.schema.json").read_text(encoding="ascii") == printed


@pytest.mark.parametrize("schema", [build_schema(), workshop_schema()], ids=["build", "workshop"])
def test_it_is_draft_07_without_null_and_every_reference_is_met(schema: dict[str, Any]) -> None:
    Draft7Validator.check_schema(schema)
    for node in nodes(schema):
        assert not node.keys() & {"$defs", "prefixItems", "unevaluatedProperties", "text", "title"} - (
            {"title"} if node is schema else set()
        )
        assert node.get("type") != "null"
        assert node.get("default", "") is not None
        assert not node.keys() & {"$ref", "allOf", "anyOf", "oneOf", "definitions"}  # see `_in_place`


@pytest.mark.parametrize("schema", [build_schema(), workshop_schema()], ids=["build", "workshop"])
def test_every_key_is_described_and_has_an_example_that_holds(schema: dict[str, Any]) -> None:
    keys = 0
    for node in nodes(schema):
        for key, value in node.get("properties", {}).items():
            examples = list(value.get("examples", []))
            examples += value.get("enum", [value["const"]] if "const" in value else [])  # all there is
            assert (key, value.get("description", "")) != (key, "")
            assert (key, examples) != (key, [])
            check = Draft7Validator(value)
            assert [
                (key, error.message) for example in examples for error in check.iter_errors(example)
            ] == []
            keys += 1
    assert keys >= 40


def test_the_reader_takes_every_example_of_a_key() -> None:
    seen = 0
    for model in (Build, Workshop, *tables(Build)):
        for field in model.model_fields.values():
            kind: TypeAdapter[Any] = TypeAdapter(field.rebuild_annotation())
            for example in field.examples or []:
                kind.validate_python(example)
                seen += 1
    assert seen >= 150


SEVERAL = [*EXAMPLES, *SOUND, *FAULTY, STARTER]


def test_the_corpus_is_there() -> None:
    assert (len(EXAMPLES) >= 3, len(SOUND) >= 60, len(FAULTY) >= 60, len(SHOWN)) == (True, True, True, 3)


@pytest.mark.parametrize("path", SEVERAL, ids=lambda path: path.name)
def test_every_build_that_loads_is_taken(path: Path) -> None:
    postcheck.load(path)
    assert refused(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("text", SHOWN.values(), ids=SHOWN)
def test_the_builds_that_pages_show_are_taken(text: str) -> None:
    assert refused(text) == []


SHARED_LIBRARY = """format = 1
use = ["lamps.toml"]
[stock]
series = "E24"
[wire.fine]
strand = "0.05 mm"
outside = "0.4 mm"
[[limit]]
name = "step.slow"
value = "5 %"
reason = "a working boat may wink"
"""


def test_a_workshop_file_is_taken_and_its_slips_are_seen() -> None:
    Workshop.model_validate(tomli.loads(SHARED_LIBRARY))
    assert refused(SHARED_LIBRARY, WORKSHOP) == []
    for old, new in (("E24", "E23"), ("0.05 mm", "0.05"), ("strand ", "strnad "), ("format = 1", "[build]")):
        text = SHARED_LIBRARY.replace(old, new, 1)
        with pytest.raises(ValidationError):
            Workshop.model_validate(tomli.loads(text))
        assert refused(text, WORKSHOP) != []


@pytest.mark.parametrize("text", SEEDED.values(), ids=SEEDED)
def test_a_seeded_mistake_is_seen_by_reader_and_schema(text: str) -> None:
    with pytest.raises(BuildError):
        postcheck.loads(text)
    assert refused(text) != []


@given(text=mutants())
@settings(
    max_examples=150,
    derandomize=True,
    database=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
def test_what_loads_of_bent_builds_is_taken(text: str) -> None:
    try:
        postcheck.loads(text)
    except BuildError:
        return
    assert refused(text) == []


NUMBERS = [
    "1",
    "12",
    "0.5",
    ".5",
    "5.",
    "1e3",
    "2.5E-1",
    "+3",
    "-3",
    "- 3",
    "\u22123",
    "1/4",
    "1 1/2",
    "1-1/2",
    "1/ 4",
    "0",
]
UNITS = sorted({unit for measure in MEASURES.values() for unit in measure.units})
PIECES = ["", " ", "  ", "\u00a0", "\u202f", "\t"]
READERS: dict[str, Any] = {
    **{dimension.value: lambda text, d=dimension: parse(text, d) for dimension in Dimension},
    **{
        f"signed {dimension.value}": lambda text, d=dimension: parse(text, d, signed=True)
        for dimension in (Dimension.VOLTAGE, Dimension.CURRENT, Dimension.VOLTAGE_PER_KELVIN)
    },
}
SIGNS = {
    "u": "\u00b5\u03bc",
    "ohm": "\u03a9\u2126",
    "deg": "\u00b0\u00ba",
    "2": "\u00b2",
    '"': "\u2033\u201d",
    "^2": "\u00b2",
}


def typed(dice: Random) -> str:
    """A number and a unit of whatever kind, as people type them; or a resistor's code."""
    if dice.random() < 0.15:
        front, letter, back = (
            dice.choice(["", "4", "150"]),
            dice.choice("RrkKM"),
            dice.choice(["", "7", "47"]),
        )
        return front + letter + back + dice.choice(["", "", "J", "K", " ohm"])
    unit = dice.choice(UNITS)
    for plain, signs in SIGNS.items():
        whole_word = plain in {"u", "deg"} and not re.match(r"u[mAVWs]$|deg[CF]?$", unit)
        if plain in unit and not whole_word and dice.random() < 0.5:
            unit = unit.replace(plain, dice.choice(signs), 1)
    if unit.startswith("/") and dice.random() < 0.5:
        unit = "per " + unit[1:]
    return dice.choice(PIECES) + dice.choice(NUMBERS) + dice.choice(PIECES) + unit + dice.choice(PIECES)


def test_a_quantity_that_is_read_has_the_pattern() -> None:
    dice = Random(1)
    read = 0
    for _ in range(2500):
        text = typed(dice)
        for kind, reader in READERS.items():
            if taken(reader, text):
                read += 1
                assert (kind, text, matches(kind, text)) == (kind, text, True)
    assert read > 1000


def test_a_unit_has_the_patterns_of_its_dimensions_alone() -> None:
    for unit in {unit for measure in MEASURES.values() for unit in measure.units}:
        for dimension, measure in MEASURES.items():
            found = matches(dimension.value, f"3 {unit}")
            assert (unit, dimension, found) == (unit, dimension, unit in measure.units)


FORMS: dict[str, Any] = {
    "temperature range": lambda text: parse_range(text, Dimension.TEMPERATURE),
    "voltage spread": lambda text: parse_spread(text, Dimension.VOLTAGE),
    "current range": lambda text: parse_range(text, Dimension.CURRENT),
    "voltage range": lambda text: parse_range(text, Dimension.VOLTAGE),
    "cycles": parse_cycles,
}
LINES = {
    "resistor": ("lamp", '{circuit="a", kind="b", place="c", resistor=%s}'),
    "lead": ("lamp", '{circuit="a", kind="b", place="c", lead=%s}'),
    "joint": ("run", '{ends=["a", "b"], joint=%s}'),
    "output": ("circuit", "{x={output=%s}}"),
    "fuse": ("supply", '{x={kind="usb", place="b", fuse=%s}}'),
    "usual_resistor": ("usual", "{resistor=%s}"),
    "held": ("stock", "{have=[%s]}"),
    "diode": ("load", '{name="a", circuit="a", place="c", typical="1 A", diode=%s}'),
    "switch": ("circuit", "{x={on_off=%s}}"),
    "source": ("supply", '{x={kind="usb", place="b", instead=[%s]}}'),
}
WORDS = [
    "1k5", "150 ohm", "4K7J", "1/4 W", "0.5W", "250 mW", "0805", "1210", "5 %", "+/-1 %", "\u00b15%", "at keel", "at", "220 mm",
    '8"', "1 1/2 in", "of ptfe-30", "of a / b", "to keel", "to", ", red/black", ", red", ",", "100 mA", "20mA", "drop 0.2 V",
    "0.2 V drop", "constant", "steady", "compliance 1.5 V", "1.5 V compliance", "quick", "slow", "fast", "resettable", "2.2 mm",
    "4 x 0.8 mm", "4 mm x 0.8 mm", "\u00d7", "x", "12 V", "5..35 degC", "-5..35 \u00b0C", "2.9/3.2/3.6 V", "2.9..3.6 V",
    "10..30 mA", "5000 cycles", "10 /day for 10 years", "3 per hour for 2 weeks", "12 turns", "1", "0.8", "k", "ohm", "mm",
    "3 x", "5 m of ptfe-28", "usb", "adaptor", "usb C", "+", "trimmer", "set", "set to 300", "1N4001", "board", "DC",
]  # fmt: skip


def read_line(kind: str, text: str) -> None:
    if kind in FORMS and kind not in LINES:
        FORMS[kind](text)
        return
    table, form = LINES[kind]
    value = tomli.loads(f"v = {form % json.dumps(text, ensure_ascii=False)}")["v"]
    field_of(table).validate_python([value] if table in {"lamp", "run", "load"} else value)


@cache
def field_of(table: str) -> TypeAdapter[Any]:
    return TypeAdapter(Build.model_fields[table].rebuild_annotation())


def test_a_line_that_is_read_has_the_pattern() -> None:
    dice = Random(1)
    read: Counter[str] = Counter()
    for kind in (*FORMS, *LINES):
        for _ in range(2500):
            text = " ".join(dice.choices(WORDS, k=dice.randint(1, 4)))
            if taken(lambda text, kind=kind: read_line(kind, text), text):
                read[kind] += 1
                assert (kind, text, matches(kind, text)) == (kind, text, True)
    assert min(read[kind] for kind in (*FORMS, *LINES)) >= 10


def test_the_lines_are_those_that_the_models_know() -> None:
    marks = {name for name in oneline.__all__ if name.islower()} - {"wire"}
    assert set(LINES) == marks


def taken(reader: Any, text: str) -> bool:
    try:
        reader(text)
    except (QuantityError, ValidationError):
        return False
    return True


def matches(kind: str, text: str) -> bool:
    return compiled(kind).search(text) is not None


@cache
def compiled(kind: str) -> re.Pattern[str]:
    return re.compile(pattern(kind))


def nodes(schema: Any) -> Iterator[dict[str, Any]]:
    """Every schema within a schema; what stands in examples is none."""
    if isinstance(schema, list):
        for item in schema:
            yield from nodes(item)
    if not isinstance(schema, dict):
        return
    yield schema
    for word, value in schema.items():
        if word in {"properties", "definitions"}:
            for inner in value.values():
                yield from nodes(inner)
        elif word not in {"examples", "enum", "const", "default"}:
            yield from nodes(value)


@pytest.mark.parametrize("key", ["wires", "leads", "powers", "fuses", "colours"])
def test_a_shelf_with_nothing_on_it_is_refused(key: str) -> None:
    slip = SHARED_LIBRARY.replace('series = "E24"', f"{key} = []")
    assert refused(slip, WORKSHOP) != []
    with pytest.raises(postcheck.BuildError, match="the list is empty") as told:
        postcheck.loads(f'format = 1\n[build]\nname = "Tender"\n[stock]\n{key} = []\n')
    assert str(told.value).count("the list is empty") == 1
