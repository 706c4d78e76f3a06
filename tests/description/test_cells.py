"""How many cells a battery has.

The pairs of volts and cells are the nominal voltages of IEC 60086-2 (1.5 V a cell, the 6LR61 block six of them) and
those that packs are sold by (from memory).
"""

from __future__ import annotations

import pytest

import postcheck
from postcheck.description.cells import cells_in
from postcheck.description.problems import BuildError, Problem
from postcheck.survey.network.supplies import source_of, typical_volts

BUILD = """format = 1
[build]
name = "Lantern"
[place.base]
access = "open"
[supply.cells]
kind = "battery"
place = "base"
"""


def problem(battery: str) -> Problem:
    with pytest.raises(BuildError) as caught:
        postcheck.loads(BUILD + battery)
    (only,) = caught.value.problems
    return only


@pytest.mark.parametrize(
    ("battery", "cells"),
    [
        ('chemistry = "alkaline"\nvolts = "9 V"', 6),
        ('chemistry = "alkaline"\nsize = "aa"\nvolts = "6 V"', 4),
        ('chemistry = "alkaline"\nsize = "9 V"', 6),
        ('chemistry = "alkaline"\nsize = "PP3"\nvolts = "9 V"', 6),
        ('chemistry = "alkaline"\nsize = "6LR61"\ncells = 12\nvolts = "18 V"', 12),
        ('chemistry = "nimh"\nsize = "9v"\nvolts = "9 V"', 7),
        ('chemistry = "lipo"\nvolts = "7.4 V"', 2),
        ('chemistry = "lipo"\nvolts = "11.1 V"', 3),
        ('chemistry = "lipo"\nvolts = "8.4 V"', 2),
        ('chemistry = "li-ion"\nvolts = "3.6 V"', 1),
        ('chemistry = "lifepo4"\nvolts = "12 V"', 4),
        ('chemistry = "lead-acid"\nvolts = "12 V"', 6),
        ('chemistry = "lipo"\nsize = "502030"\ncells = 1', 1),
        ('volts = "9 V"', 1),
    ],
)
def test_cells_are_counted_held_by_a_block_or_made_up_of_volts(battery: str, cells: int) -> None:
    supply = postcheck.loads(BUILD + battery).supply["cells"]
    assert cells_in(supply) == cells


def test_a_battery_by_its_volts_has_the_resistance_of_all_its_cells() -> None:
    by_volts, counted = (
        postcheck.loads(f'{BUILD}chemistry = "alkaline"\nsize = "aa"\n{said}').supply["cells"]
        for said in ('volts = "6 V"', "cells = 4")
    )
    assert typical_volts(by_volts) == 6.0
    assert [source_of(by_volts, corner) for corner in (-1, 0, 1)] == [
        source_of(counted, corner) for corner in (-1, 0, 1)
    ]


@pytest.mark.parametrize(
    ("battery", "check", "says", "hint"),
    [
        ('chemistry = "lipo"\ncells = 1\nvolts = "7.4 V"', "file.invalid", "1 lipo cell makes 3.7 V, not 7.4 V", "cells = 2"),
        ('chemistry = "alkaline"\nvolts = "5 V"', "file.invalid", "5 V is no whole number of alkaline cells", "3 make 4.5 V, 4 make 6 V"),
        ('chemistry = "alkaline"\nsize = "9 V"\ncells = 1', "file.out-of-range", "'9v' has 6 cells, and cells = 1", "cells = 6"),
        ('chemistry = "alkaline"\nsize = "9 V"\nvolts = "12 V"', "file.invalid", "6 alkaline cells make 9 V, not 12 V", "leave `volts` out"),
        ('chemistry = "alkaline"\nsize = "aaaa"\ncells = 1', "file.unknown-name", "no size 'aaaa' of alkaline cell", "did you mean 'aaa'?"),
        ('chemistry = "alkaline"\nsize = "aa"', "file.missing", "needs `cells`", "1.5 V"),
        ('size = "9v"\nvolts = "9 V"', "file.missing", "without its `chemistry`", "alkaline"),
        ("", "file.missing", "needs `chemistry` and `cells`, or `volts`", "alkaline"),
    ],
)  # fmt: skip
def test_what_contradicts_itself_is_told_with_both_numbers(
    battery: str, check: str, says: str, hint: str
) -> None:
    found = problem(battery)
    assert found.check == check
    assert says in found.says
    assert hint in (found.hint or "")


@pytest.mark.parametrize(
    ("chemistry", "volts", "cells"),
    [
        # up to its full volts a cell may be named by those: 4.2 V of a lithium one
        ("lipo", "4.2 V", 1), ("lipo", "12.6 V", 3), ("lipo", "12.63 V", None), ("lipo", "8.4 V", 2),
        # within 7 % of what it usually has: 3.2 V of LiFePO4, of which four are sold as 12 V; 1.5 V of alkaline
        ("lifepo4", "12 V", 4), ("alkaline", "4.8 V", 3), ("alkaline", "4.81 V", 3), ("alkaline", "4.83 V", None), ("alkaline", "4.19 V", 3), ("alkaline", "4.17 V", None),
    ],
)  # fmt: skip
def test_by_which_volts_cells_may_be_called(chemistry: str, volts: str, cells: int | None) -> None:
    battery = f'chemistry = "{chemistry}"\nvolts = "{volts}"'
    if cells is None:
        assert "is no whole number" in problem(battery).says
    else:
        assert cells_in(postcheck.loads(BUILD + battery).supply["cells"]) == cells


@pytest.mark.parametrize(
    ("battery", "says", "hint"),
    [
        ('chemistry = "alkaline"\ncells = 2\nvolts = "6 V"', "2 alkaline cells make 3 V, not 6 V", "write cells = 4, or leave `volts` out"),
        ('chemistry = "alkaline"\nsize = "aa"\ncells = 2\nvolts = "6 V"', "2 alkaline cells make 3 V, not 6 V", "write cells = 4, or leave `volts` out"),
        # blocks of six are not counted one by one
        ('chemistry = "alkaline"\nsize = "9v"\ncells = 12\nvolts = "9 V"', "12 alkaline cells make 18 V, not 9 V", "leave `volts` out"),
        ('chemistry = "alkaline"\ncells = 2\nvolts = "5 V"', "2 alkaline cells make 3 V, not 5 V", "leave `volts` out"),
    ],
)  # fmt: skip
def test_volts_that_so_many_cells_do_not_make(battery: str, says: str, hint: str) -> None:
    found = problem(battery)
    assert (found.says, found.hint, found.path) == (says, hint, ("supply", "cells", "volts"))


@pytest.mark.parametrize(
    ("volts", "hint"),
    [
        ("1 V", "1 makes 1.5 V, 2 make 3 V; write `cells`"),
        ("2.2 V", "1 makes 1.5 V, 2 make 3 V; write `cells`"),
        ("3.5 V", "2 make 3 V, 3 make 4.5 V; write `cells`"),
    ],
)
def test_volts_between_two_counts_of_cells(volts: str, hint: str) -> None:
    found = problem(f'chemistry = "alkaline"\nvolts = "{volts}"')
    assert (found.says, found.hint) == (f"{volts} is no whole number of alkaline cells", hint)
