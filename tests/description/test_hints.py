"""What is refused is shown as it should be written, with the key's own example."""

from __future__ import annotations

from typing import get_args, get_origin

import pytest
from pydantic import BaseModel

import postcheck
from postcheck.description.models import SEVERAL, Build
from postcheck.description.problems import BuildError, Problem

HEAD = 'format = 1\n[build]\nname = "Ferry"\n'
BASE = '[supply.main]\nkind = "adaptor"\nplace = "base"\nvolts = "12 V"\n[place.base]\naccess = "open"\n'
LAMP = '[circuit.red]\nsupply = "main"\n[[lamp]]\nname = "rgb"\nkind = "smd-5050-rgb"\nplace = "base"\n'
DICE = 'dice = { red = { circuit = "red", resistor = "470 ohm" }, green = { circuit = "green", resistor = "330 ohm" } }'


def problems(text: str) -> tuple[Problem, ...]:
    with pytest.raises(BuildError) as caught:
        postcheck.loads(HEAD + text)
    return caught.value.problems


@pytest.mark.parametrize("unit", ["V AC", "VAC", "V ac", "V~", "V AC "])
def test_alternating_current_is_not_read_as_direct(unit: str) -> None:
    (only,) = problems(BASE.replace("12 V", f"12 {unit}"))
    assert "only direct current is judged" in only.says
    assert "adaptor that gives DC" in (only.hint or "")
    assert "12 V DC" not in (only.hint or "")


def test_the_tables_with_double_brackets_are_those_of_the_model() -> None:
    lists = {
        name
        for name, field in Build.model_fields.items()
        if get_origin(field.annotation) is tuple
        and isinstance(get_args(field.annotation)[0], type)
        and issubclass(get_args(field.annotation)[0], BaseModel)
    }
    assert lists == SEVERAL


@pytest.mark.parametrize("name", sorted(SEVERAL))
@pytest.mark.parametrize("times", [1, 2])
def test_single_brackets_where_double_ones_belong(name: str, times: int) -> None:
    (only,) = problems(f'[{name}]\nname = "x"\n' * times)
    assert f"write [[{name}]], in double brackets" in (only.hint or "")


@pytest.mark.parametrize(
    ("header", "right"),
    [("[[place]]", "[place.NAME]"), ("[[supply.main]]", "[supply.main]"), ("[[post]]", "[post]")],
)
def test_double_brackets_where_single_ones_belong(header: str, right: str) -> None:
    (only,) = problems(f"{header}\n")
    assert f"write {right}, in single brackets" in (only.hint or "")


@pytest.mark.parametrize(
    "said", ['dice = "red"', 'dice = ["red", "green"]', 'dice = { red = "1k" }', "dice = {}", 'circuit = "red"\ndice = {}',
             'circuit = "red"\nresistor = "1k"\ndice = { red = { circuit = "red" } }', 'resistor = "1k"\ndice = { red = { circuit = "red" } }'],
)  # fmt: skip
def test_what_is_wrong_with_dice_shows_the_whole_form_once(said: str) -> None:
    (only,) = problems(BASE + LAMP + said)
    assert (only.hint or "").count(DICE) == 1


def test_a_lamp_of_one_colour_has_no_dice() -> None:
    own = '[lamp_kind.old-stock]\nforward = "2 V"\nat = "20 mA"\nrated = "20 mA"\n'
    (only,) = problems(
        own
        + BASE
        + LAMP.replace("smd-5050-rgb", "old-stock")
        + 'dice = { red = { circuit = "red", resistor = "1k" } }'
    )
    assert only.path == ("lamp", 0, "dice")
    assert "one colour only" in only.says


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("[cable.ribbon]\n", 'add outside = "3 mm"'),
        ('[[strip]]\ncircuit = "a"\nkind = "b"\nplace = "c"\nfar_end = true\n', 'such as far_end = "bow"'),
        (BASE.replace('"12 V"', '"12 V"\nregulation = "unregulated"'), 'such as regulation = "5 %"'),
        ('[[run]]\nline = "a"\n', 'add ends = ["base", "keel"]'),
    ],
)
def test_hints_give_the_keys_own_example(text: str, hint: str) -> None:
    (only,) = problems(text)
    assert hint in (only.hint or "")


@pytest.mark.parametrize("key", ["bore", "length", "free"])
def test_a_passage_of_nothing_is_refused_where_it_stands(key: str) -> None:
    sizes = {"bore": "5 mm", "length": "160 mm", "free": "90 mm", key: "0 mm"}
    post = "".join(f'{name} = "{size}"\n' for name, size in sizes.items())
    (only,) = problems(BASE + '[place.hull]\naccess = "open"\n[post]\nfrom = "base"\nto = "hull"\n' + post)
    assert (only.check, only.path) == ("file.out-of-range", ("post", key))


@pytest.mark.parametrize("port", ["a", "A", "type-a", "usb-a"])
def test_a_port_of_type_a_is_the_plain_one(port: str) -> None:
    (only,) = problems(BASE.replace('"adaptor"', f'"usb"\nport = "{port}"').replace('volts = "12 V"\n', ""))
    assert 'write port = "plain"' in (only.hint or "")


def test_a_colour_that_a_lamp_does_not_have() -> None:
    (only,) = problems(BASE + LAMP + 'dice = { violet = { circuit = "red", resistor = "1k" } }')
    assert only.says == "there is no colour of 'smd-5050-rgb': 'violet'"
    assert only.hint is not None
    assert all(colour in only.hint for colour in ("red", "green", "blue"))
    assert only.path == ("lamp", 0, "dice", "violet")


@pytest.mark.parametrize(
    ("header", "right"),
    [
        ("[supply-main]\nkind = 'usb'", "[supply.main]"),
        ("[suply]\nkind = 'usb'", "[supply.NAME]"),
        ("[suply.main]\nkind = 'usb'", "[supply.main]"),
    ],
)
def test_a_table_of_another_name_with_the_name_that_it_has(header: str, right: str) -> None:
    found = [problem for problem in problems(f"{header}\n") if problem.check == "file.unknown-key"]
    assert [problem.hint for problem in found] == [f"did you mean 'supply'? Write {right}"]


def test_a_blank_at_the_end_of_a_name_is_no_new_name() -> None:
    (only, *_) = problems(BASE + LAMP.replace('place = "base"', 'place = "base "') + DICE)
    assert only.says == "there is no place 'base '"
    assert only.hint == "did you mean 'base'?"
    assert only.lines == ()
