"""Where a new entry or table stands in a file: behind the last of its own kind and owner."""

from __future__ import annotations

from postcheck.description.adding import Replacement, entry, table
from postcheck.description.positions import locate
from postcheck.description.spreading import spread


def put(text: str, new: Replacement | None) -> str:
    assert new is not None
    return text[: new.start] + new.text + text[new.end :]


def test_an_entry_of_a_list_in_a_table_comes_behind_the_last_of_that_list() -> None:
    text = "[[a.b]]\nx = 1\n\n[[a.b]]\nx = 2\n\n[[a.c]]\nx = 3\n\n[[a.c]]\nx = 4\n\n[[a.c]]\nx = 5\n"
    assert put(text, entry(text, locate(text), ("a", "b"), "{ x = 9 }")) == text.replace(
        "x = 2\n", "x = 2\n\n[[a.b]]\nx = 9\n"
    )


def test_a_table_comes_behind_its_sisters_and_not_behind_those_of_another() -> None:
    text = "[a.b.c]\nx = 1\n\n[a.d.c]\nx = 2\n"
    assert put(text, table(text, locate(text), ("a", "b", "e"), "{ x = 9 }")) == text.replace(
        "x = 1\n", "x = 1\n\n[a.b.e]\nx = 9\n"
    )


def test_of_what_stands_in_one_line_one_key_goes_and_the_others_stay() -> None:
    text = '[[lamp]]\nresistor = "470 ohm 1/4 W"\n'
    (change,) = spread(text, locate(text), ("lamp", 0, "resistor", "power"), None) or ()
    path, new = change
    assert path == ("lamp", 0, "resistor")
    assert new is not None
    assert "470 ohm" in new
    assert "1/4 W" not in new
