"""What is said of a value that cannot be: word by word, and what is told beside it of the rest of the file."""

from __future__ import annotations

import pytest

import postcheck
from postcheck.description.problems import BuildError, Problem
from postcheck.description.refused.values import words

HEAD = (
    'format = 1\n[build]\nname = "Launch"\n[place.base]\naccess = "open"\n'
    '[supply.main]\nkind = "adaptor"\nplace = "base"\nvolts = "12 V"\n[circuit.a]\nsupply = "main"\n'
)
LAMP = '[[lamp]]\nkind = "smd-0603-red"\nplace = "base"\n'
NEEDED = 'a voltage is needed, such as volts = "12 V"'


def said(text: str) -> list[Problem]:
    with pytest.raises(BuildError) as refused:
        postcheck.loads(HEAD + text)
    return list(refused.value.problems)


@pytest.mark.parametrize(
    ("value", "check", "says", "hint"),
    [
        ('"-5 V"', "file.negative", "'-5 V' is negative", "a voltage cannot be below zero here"),
        ('"5000 kV"', "file.absurd", "'5000 kV' is implausible (a typing mistake?)", "nothing in a display model is above 1000 V"),
        ('"nan V"', "file.not-finite", "'nan V' is no size of a real thing", 'a voltage is needed, such as "12 V"'),
        ('"1,5 V"', "file.decimal-comma", "'1,5 V' has a comma in the number", 'write "1.5 V"'),
        ('"1,500 V"', "file.decimal-comma", "'1,500 V' has a comma in the number", 'write "1.500 V" or "1500 V", whichever is meant'),
        ('""', "file.not-a-quantity", "'' is not a number with a unit", f"{NEEDED} (rated output voltage)"),
        ('"xx"', "file.not-a-quantity", "'xx' is not a number with a unit", f"{NEEDED} (rated output voltage)"),
        ('"~5 V"', "file.not-a-quantity", "'~5 V' does not begin with its number", 'write "5 V" (rated output voltage)'),
        ('"5 A"', "file.wrong-dimension", "'5 A' is a current", NEEDED),
        ('"5 foo"', "file.unknown-unit", "the unit in '5 foo' is not known", NEEDED),
        ('"5 Volt."', "file.unknown-unit", "the unit in '5 Volt.' is not known", 'write "5 Volt"'),
        ("5", "file.no-unit", "the number 5 has no unit", 'write volts = "5 V", in the unit that you measured it in'),
        ("5.5", "file.no-unit", "the number 5.5 has no unit", 'write volts = "5.5 V", in the unit that you measured it in'),
        ('"5000"', "file.no-unit", "'5000' has no unit", 'write volts = "5000 mV", in the unit that you measured it in'),
        ("true", "file.wrong-type", "this is true or false", f"{NEEDED} (rated output voltage)"),
        ("[5]", "file.wrong-type", "this is a list", None),
        ("inf", "file.not-finite", "inf is no size of a real thing", 'write it as "12 V"'),
    ],
)  # fmt: skip
def test_a_voltage_that_is_none(value: str, check: str, says: str, hint: str | None) -> None:
    (one,) = said(f'[supply.b]\nkind = "adaptor"\nplace = "base"\nvolts = {value}\n')
    assert (one.check, one.path, one.says) == (check, ("supply", "b", "volts"), says)
    if hint is not None:
        assert one.hint == hint


@pytest.mark.parametrize(
    ("text", "path", "check", "says", "hint"),
    [
        ("series = 0\n", ("series",), "file.out-of-range", "0 is out of range", "it must be at least 1"),
        ("series = 201\n", ("series",), "file.out-of-range", "201 is out of range", "it must be at most 200"),
        ('series = "x"\n', ("series",), "file.wrong-type", "this is the text 'x'",
         "a whole number is needed, such as series = 3 (lamps one after the other in a string)"),
        ('matched = "yes"\n', ("matched",), "file.wrong-type", "this is the text 'yes'", "true or false, without quotes is needed"),
    ],
)  # fmt: skip
def test_a_count_and_a_choice_of_a_lamp(
    text: str, path: tuple[str, ...], check: str, says: str, hint: str
) -> None:
    (one,) = said(LAMP + text)
    assert (one.check, one.path, one.says, one.hint) == (check, ("lamp", 0, *path), says, hint)


def test_other_tables_are_read_all_the_same() -> None:
    """Of one lamp that cannot be read nothing more is told, nor what a record that may be about it is about."""
    bad = LAMP.replace('place = "base"', "place = 5")
    found = said(
        bad + LAMP.replace('place = "base"', 'place = "bsae"')
        + '[[run]]\nline = "b"\nends = ["base", "bsae"]\n[[proof]]\nsubject = "lampx"\n'
    )  # fmt: skip
    assert [(one.check, one.path, one.says) for one in found] == [
        ("file.wrong-type", ("lamp", 0, "place"), "this is a number"),
        ("file.unknown-name", ("lamp", 1, "place"), "there is no place 'bsae'"),
        ("file.unknown-name", ("run", 0, "line"), "there is no line 'b'"),
        ("file.unknown-name", ("run", 0, "ends", 1), "there is no place 'bsae'"),
    ]


def test_what_a_table_that_cannot_be_read_would_have_named_is_not_missed() -> None:
    bad = '[place.hull]\naccess = "opne"\n[circuit.b]\nsupply = "mian"\nsteady = "x"\n'
    found = said(
        bad
        + LAMP.replace('"base"', '"hull"')
        + '[[run]]\nline = "b"\nends = ["base", "hull"]\n[[run]]\nline = "c"\nends = ["base", "hull"]\n'
    )
    assert [one.path for one in found] == [
        ("place", "hull", "access"),
        ("circuit", "b", "steady"),
        ("run", 1, "line"),
    ]


def test_a_record_of_something_that_is_not_there_is_told_where_all_else_can_be_read() -> None:
    (one,) = said('[place.hull]\naccess = "opne"\n[[proof]]\nsubject = "lampx"\n')[1:]
    assert (one.check, one.path) == ("file.unknown-name", ("proof", 0, "subject"))


@pytest.mark.parametrize(
    ("value", "says", "hint"),
    [
        (
            "470",
            "470 stands without quotes and unit",
            'write resistor = "470 ohm", in the unit that you measured it in',
        ),
        (
            "999999999",
            "999999999 stands without quotes and unit",
            'write resistor = "999999999 ohm", in the unit that you measured it in',
        ),
        (
            "1000000000",
            "this is no text and no table",
            'write a text in quotes, or a table, such as resistor = "1k5 1/4 W at keel"',
        ),
        (
            "true",
            "this is no text and no table",
            'write a text in quotes, or a table, such as resistor = "1k5 1/4 W at keel"',
        ),
        (
            "[1]",
            "this is a list",
            'write a text in quotes, or a table, such as resistor = "1k5 1/4 W at keel"',
        ),
    ],
)
def test_a_resistor_that_is_none(value: str, says: str, hint: str) -> None:
    (one,) = said(f"{LAMP}resistor = {value}\n")
    assert (one.path, one.says) == (("lamp", 0, "resistor"), says)
    assert str(one.hint).startswith(hint)


def test_what_refuses_a_value_without_a_word_is_told_as_not_right() -> None:
    for context in ({}, {"error": None}, {"error": ValueError("")}):
        assert words("value_error", context, 1, "volts") == ("file.invalid", "this is not right", None)
    assert words("value_error", {"error": ValueError("too long")}, 1, "volts")[1] == "too long"


def test_one_of_a_list_is_told_with_the_key_of_the_list_and_its_example() -> None:
    (one,) = said(f'{LAMP}circuit = "a"\nleads = ["12 to 14"]\n')
    assert (one.path, one.says) == (("lamp", 0, "leads", 0), "'12 to 14' is not one number")
    assert one.hint == (
        'a length is needed, such as leads = ["120 mm", "140 mm"] (how long the lead of each of them is)'
    )
