"""What a message gives to type is the builder's own value put right, and typed as printed it cures."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import postcheck

TENDER = (Path(__file__).parent.parent / "data" / "pilot_tender.post.toml").read_text(encoding="utf-8")
QUANTITY = re.compile(r'^(?P<key>\w+) *= "(?P<number>[0-9]+) (?P<unit>[^ "]+)"$', re.MULTILINE)
WITH_UNITS = list({found[0]: found for found in QUANTITY.finditer(TENDER)}.values())


def problem(text: str) -> postcheck.Problem:
    """The one thing that is wrong with a text."""
    with pytest.raises(postcheck.BuildError) as caught:
        postcheck.loads(text)
    (one,) = caught.value.problems
    return one


def to_write(hint: str | None) -> str:
    """The value, in its quotes or brackets, that a message says is to be written."""
    found = re.match(r"write (?:\w+ = )?(?P<value>\"[^\"]*\"|\[[^\]]*\])", hint or "")
    assert found, hint
    return found["value"]


@pytest.mark.parametrize("found", WITH_UNITS, ids=[found[0] for found in WITH_UNITS])
@pytest.mark.parametrize("quotes", ["", '"'])
def test_a_number_without_its_unit_is_given_back_with_it(found: re.Match[str], quotes: str) -> None:
    bare = f"{found['key']} = {quotes}{found['number']}{quotes}"
    wrong = problem(TENDER.replace(found[0], bare, 1))
    right = f"{found['key']} = {to_write(wrong.hint)}"
    assert right == f'{found["key"]} = "{found["number"]} {found["unit"]}"'
    assert postcheck.loads(TENDER.replace(found[0], right, 1)) == postcheck.loads(TENDER)


@pytest.mark.parametrize(
    ("sound", "typed", "right"),
    [
        ('"5..30 degC"', '"5..30"', '"5..30 degC"'),
        ('"250 mA"', '"250 slow"', '"250 mA slow"'),
        ('"250 mA"', "1", '"1 A"'),
        ('"100 mA, drop 0.2 V"', '"100 mA, drop 0.2"', '"100 mA, drop 0.2 V"'),
        ('"100 mA, drop 0.2 V"', "100", '"100 mA"'),
        ('"680 ohm 1/4 W at bilge"', "680", '"680 ohm"'),
        ('"680 ohm 1/4 W at bilge"', '"680 at bilge"', '"680 ohm at bilge"'),
        ('"680 ohm 1/4 W at bilge"', '"680 1/4 W at bilge"', '"680 ohm 1/4 W at bilge"'),
    ],
)
def test_so_is_one_in_a_line_with_more(sound: str, typed: str, right: str) -> None:
    assert to_write(problem(TENDER.replace(sound, typed)).hint) == right
    postcheck.loads(TENDER.replace(sound, right))


@pytest.mark.parametrize(
    ("without", "asked"),
    [
        ("180 ohm at bilge", "180 ohm 1/4 W at bilge"),
        ("180 ohm 5 % at bilge", "180 ohm 1/4 W 5 % at bilge"),
        ("100 ohm + 80 ohm 1/4 W at bilge", "100 ohm 1/4 W + 80 ohm 1/4 W at bilge"),
        ("180 + trimmer 1k set 50 at bilge", "180 ohm 1/4 W + trimmer 1 kohm 1/2 W set 50 ohm at bilge"),
    ],
)
def test_a_resistor_whose_power_is_missing_is_shown_with_one(without: str, asked: str) -> None:
    def missing(resistor: str) -> list[str]:
        text = TENDER.replace("330 ohm 1/4 W at bilge", resistor)
        (file,) = postcheck.check(postcheck.loads(text), remedies=False).files
        return [
            one.missing for one in file.not_judged if "power of" in one.missing or "its power" in one.missing
        ]

    questions = missing(without)
    assert questions
    assert all(one.endswith(f'such as resistor = "{asked}"') for one in questions)
    assert missing(asked) == []
