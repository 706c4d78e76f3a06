"""How much text, and how many entries, each key takes: as the format says it, at its bound and one beyond."""

from __future__ import annotations

import pytest

import postcheck
from postcheck.description.problems import BuildError

HEAD = 'format = 1\n[build]\nname = "Launch"\n[place.base]\naccess = "open"\n'
SUPPLY = '[supply.main]\nkind = "adaptor"\nplace = "base"\nvolts = "12 V"\n'
LAMP = '[[lamp]]\nkind = "smd-0603-red"\nplace = "base"\n'
RUN = '[[run]]\nends = ["base", "base"]\nline = "a"\n'
PROOF = '[[proof]]\nsubject = "main"\n'

TEXTS = [
    (SUPPLY, "socket", 60),
    (LAMP, "name", 120),
    (RUN, "colour", 60),
    (RUN, "label", 120),
    (LAMP + "[lamp.lead.feed]\n", "colour", 60),
    (LAMP + "[lamp.lead.feed]\n", "label", 120),
    (LAMP + "[lamp.lead]\n", "label", 120),
    ("[[proof]]\n", "subject", 200),
    (PROOF, "done", 300),
    ("[[accept]]\n", "finding", 400),
    ("[[accept]]\n", "reason", 1000),
    ("[[limit]]\n", "name", 100),
    ("[[limit]]\n", "value", 60),
    ("[[limit]]\n", "reason", 1000),
    ("[lamp_kind.x]\n", "source", 300),
    ("[wire.x]\n", "source", 300),
    ("[strip_kind.x]\n", "source", 300),
    ("[strip_kind.x]\n", "kind", 120),
    ("[[lamp]]\n", "kind", 120),
]


def said(text: str) -> str:
    try:
        postcheck.loads(text)
    except BuildError as error:
        return str(error)
    return ""


@pytest.mark.parametrize(("table", "key", "most"), TEXTS)
def test_the_longest_text_of_a_key(table: str, key: str, most: int) -> None:
    words = f"longer than {most} characters"
    assert words not in said(f'{HEAD}{table}{key} = "{"x" * most}"\n')
    assert words in said(f'{HEAD}{table}{key} = "{"x" * (most + 1)}"\n')


LISTS = [
    ("[stock]\n", "wires", '"ptfe-28"', 200),
    ("[stock]\n", "leads", '"ptfe-30"', 200),
    ("[stock]\n", "powers", '"1/4 W"', 50),
    ("[stock]\n", "fuses", '"1 A"', 100),
    ("[stock]\n", "colours", '"red"', 50),
    ("[stock]\n", "have", '"1 x smd-0603-white"', 5000),
    (SUPPLY, "instead", '"usb"', 20),
    (LAMP, "leads", '"120 mm"', 1000),
    (RUN, "through", '"post"', 50),
    ('[[join]]\nplace = "base"\n', "lines", '"a"', 100),
]


@pytest.mark.parametrize(("table", "key", "entry", "most"), LISTS)
def test_the_most_entries_of_a_list(table: str, key: str, entry: str, most: int) -> None:
    told = [said(f"{HEAD}{table}{key} = [{', '.join([entry] * count)}]\n") for count in (most, most + 1)]
    assert [f"has more than {most};" in one for one in told] == [False, True]
