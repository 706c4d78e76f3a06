"""The schemas as an independent validator sees them."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime, time
from pathlib import Path
from typing import Any

import tomli
from jsonschema import Draft7Validator

from postcheck.description.schema import build_schema, workshop_schema
from tests.pages import blocks

ROOT = Path(__file__).parent.parent
EXAMPLES = sorted((ROOT / "example_builds").glob("*.post.toml"))
SOUND = sorted((ROOT / "tests" / "builds" / "sound").glob("*.post.toml"))
FAULTY = sorted((ROOT / "tests" / "builds" / "faulty").glob("*.post.toml"))
STARTER = ROOT / "postcheck" / "description" / "starter.toml"
SHOWN = {f"{block.page} {number}": block.text for number, block in enumerate(blocks("toml", "format = 1\n"))}

BUILD = Draft7Validator(build_schema(), format_checker=Draft7Validator.FORMAT_CHECKER)
WORKSHOP = Draft7Validator(workshop_schema(), format_checker=Draft7Validator.FORMAT_CHECKER)


def refused(text: str, validator: Draft7Validator = BUILD) -> list[str]:
    """What the schema has against a TOML text."""
    return [error.message for error in validator.iter_errors(as_json(tomli.loads(text)))]


def as_json(value: Any) -> Any:
    """A document as an editor gives it to a schema: dates and times are texts."""
    if isinstance(value, Mapping):
        return {key: as_json(item) for key, item in value.items()}
    if isinstance(value, list):
        return [as_json(item) for item in value]
    return value.isoformat() if isinstance(value, date | datetime | time) else value


BASE = EXAMPLES[0].read_text(encoding="utf-8")


def changed(old: str, new: str) -> str:
    """The example with one piece changed."""
    assert old in BASE, old
    return BASE.replace(old, new, 1)


def with_more(lines: str) -> str:
    """The example with lines at its end."""
    return f"{BASE}\n{lines}\n"


# One mistake each, of those that an editor can show while the file is written.
SEEDED = {
    "unknown key": changed('cycles = "10', 'cycels = "10'),
    "unknown table": with_more("[lamps]"),
    "key of another table": changed('cycles = "10 /day', 'bore_hole = "10 /day'),
    "inner name of a key": changed('from   = "base"', 'start  = "base"'),
    "missing key": changed('place     = "base"\n', ""),
    "missing format": changed("format = 1\n", ""),
    "later format": changed("format = 1", "format = 2"),
    "format as text": changed("format = 1", 'format = "1"'),
    "wrong choice": changed('"flash"', '"blink"'),
    "choice in capitals": changed('"sealed"', '"Sealed"'),
    "number without unit": changed('"12 V"', "12"),
    "text without unit": changed('"12 V"', '"12"'),
    "unit of something else": changed('length = "160 mm"', 'length = "160 mA"'),
    "unit nobody knows": changed('"12 V"', '"12 Vlt"'),
    "decimal comma": changed('"0.2 V"', '"0,2 V"'),
    "below zero": changed('length = "160 mm"', 'length = "-160 mm"'),
    "range for one value": changed('"12 V"', '"9..12 V"'),
    "fraction of a volt": changed('"12 V"', '"1/4 V"'),
    "range with a dash": changed('"5..35 degC"', '"5-35 degC"'),
    "share without per cent": changed('"12 %"', '"0.12"'),
    "cycles without a word": changed('"10 /day for 10 years"', '"36500"'),
    "count of nought": changed("series   = 3", "series   = 0"),
    "count far too large": changed("channel   = 1", "channel   = 5000"),
    "count as text": changed("series   = 3", 'series   = "3"'),
    "half a lamp": changed("series   = 3", "series   = 1.5"),
    "yes for true": changed("stop   = true", 'stop   = "yes"'),
    "one end": changed('ends   = ["base", "keel"]', 'ends   = ["base"]'),
    "ends as text": changed('ends   = ["base", "keel"]', 'ends   = "base, keel"'),
    "empty name": changed('name     = "nose lamp"', 'name     = ""'),
    "single brackets": BASE.replace("[[run]]", "[run]", 1).split("[[run]]")[0],
    "double brackets": changed("[post]", "[[post]]"),
    "resistor without unit": changed('"1k5 at keel"', '"1500 at keel"'),
    "resistor in words": changed('"1k5 at keel"', '"one k five at keel"'),
    "resistor as number": changed('"1k5 at keel"', "1500"),
    "resistor with a lamp's piece": changed('"1k5 at keel"', '"1k5 20 mA at keel"'),
    "resistor table with a slip": changed('"1k5 at keel"', '{ ohm = "1k5" }'),
    "lead without unit": changed('"340 mm to keel, yellow/black"', '"340 to keel, yellow/black"'),
    "lead with a current": changed('"340 mm to keel, yellow/black"', '"340 mA to keel"'),
    "lead table with a slip": changed('label = "beacon"', 'lable = "beacon"'),
    "fuse without unit": changed('"500 mA"', '"500"'),
    "fuse of no kind": changed('"500 mA"', '"500 mA lazy"'),
    "output in ohms": changed('board     = "flasher"\nchannel   = 1', 'supply = "main"\noutput = "100 ohm"'),
    "usual resistor in volts": changed('"1/4 W 5 %"', '"12 V"'),
    "date as text": with_more('[[proof]]\nsubject = "nose lamp"\ndate = "some day"'),
    "date as time": with_more('[[proof]]\nsubject = "nose lamp"\ndate = 10:30:00'),
    "joint without unit": with_more('[[run]]\nends = ["base", "keel"]\njoint = "2.2"'),
}
