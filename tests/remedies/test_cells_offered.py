"""Which cells are offered for those that give too much, or too little for too long: by the sizes of alkaline cells.

What they may give for good: AAA 0.25 A, AA 0.5, C 1, D 1.5; what they hold: AAA 1.2 Ah, AA 2.5, C 7, D 14.
"""

from __future__ import annotations

import pytest

from tests.survey.small import lamp, survey

from .offers import given, offers

MAIN = ("supply", "main")


def cells(size: str = "aaa", more: str = "") -> str:
    return f'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "{size}"\ncells = 8\n{more}'


@pytest.mark.parametrize(
    ("size", "load", "sizes", "rated"),
    [
        ("aaa", 0.5, ["aa", "c", "d"], "500 mA"), ("aaa", 0.51, ["c", "d"], "1 A"), ("aa", 0.4, ["c", "d"], "500 mA"), ("aaa", 1.5, ["d"], "1.5 A"), ("aaa", 1.51, [], "2 A"),
        ("d", 2.1, [], "2.5 A"), ("d", 10.1, [], None),
    ],
)  # fmt: skip
def test_cells_that_give_more(size, load, sizes, rated):
    made = survey(supply=cells(size))
    assert offers(made, given("battery.overload", MAIN, figures={"load": load})) == [
        *((f"Use {one.upper()} cells.", f'supply.main.size = "{one}"') for one in sizes),
        *((f"Use cells that may give {one} for long.", f'supply.main.rated = "{one}"') for one in [rated] if one),
    ]  # fmt: skip


def test_of_cells_that_nobody_names_nothing_is_known():
    made = survey(supply='kind = "battery"\nplace = "base"\nvolts = "12 V"')
    assert offers(made, given("battery.overload", MAIN, figures={"load": 1.0})) == []
    assert offers(made, given("battery.too-short", MAIN)) == []


# a tenth of an ampere hour is 360 C, as cells are sold
@pytest.mark.parametrize(
    ("needed", "shown"), [(9000.0, "2.5 Ah"), (9000.1, "2.6 Ah"), (360.0, "100 mAh"), (1000.0, "300 mAh")]
)
def test_cells_that_hold_more(needed, shown):
    stated = survey(supply=cells("aa", 'capacity = "2000 mAh"\nruns_for = "9 h"'))
    found = offers(stated, given("battery.too-short", MAIN, figures={"needed": needed}))
    assert found[0] == (f"Use cells of {shown} or more.", f'supply.main.capacity = "{shown}"')
    # where the file states none, the next two sizes first
    sizes = survey(supply=cells("aaa", 'runs_for = "9 h"'), lamps=lamp())
    found = offers(sizes, given("battery.too-short", MAIN, figures={"needed": needed}))
    assert [edit for _, edit in found[:3]] == [
        'supply.main.size = "aa"',
        'supply.main.size = "c"',
        f'supply.main.capacity = "{shown}"',
    ]
    assert len(offers(sizes, given("battery.too-short", MAIN))) == 2


def test_lamps_that_go_dim_before_it_is_empty_need_more():
    made = survey(supply=cells("aa", 'capacity = "2000 mAh"\nruns_for = "9 h"'))
    battery = made.batteries["main"]._replace(dim_seconds=3600.0, wanted=7200.0, holds=5000.0)
    made.__dict__["batteries"] = {"main": battery}
    # 5000 C x 7200 / 3600 are 2.78 Ah
    assert [edit for _, edit in offers(made, given("battery.too-short", MAIN, figures={"needed": 7200.0}))] == [
        'supply.main.capacity = "2 Ah"', 'supply.main.capacity = "2.8 Ah"',
    ]  # fmt: skip
    assert [edit for _, edit in offers(made, given("battery.too-short", MAIN, figures={"needed": 36000.0}))] == [
        'supply.main.capacity = "10 Ah"', 'supply.main.capacity = "10 Ah"',
    ]  # fmt: skip


def test_a_cut_off_below_which_nothing_is_left():
    # 0.9 V a cell
    finding = given("battery.too-short", MAIN, case="empty from the start:cut_off")
    assert offers(survey(supply=cells()), finding) == [
        ("Use more cells, or set the cut-off to 7.2 V.", 'supply.main.cut_off = "7.2 V"')
    ]
    assert offers(survey(supply='kind = "battery"\nplace = "base"\nvolts = "12 V"'), finding) == []
