"""Which cells are offered for those that give too much, or too little for too long: by the sizes of alkaline cells.

What they may give for good: AAA 0.25 A, AA 0.5, C 1, D 1.5; what they hold: AAA 1.2 Ah, AA 2.5, C 7, D 14.
"""

from __future__ import annotations

import pytest

from postcheck.remedies.table import proposals
from tests.survey.small import lamp, survey

from .offers import given, offers

MAIN = ("supply", "main")


def cells(size: str = "aaa", more: str = "") -> str:
    return f'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "{size}"\ncells = 8\n{more}'


# of NiMH AAA 0.8 A, AA 2 A, C 4 A; as many as there were, of 1.2 V instead of 1.5
@pytest.mark.parametrize(
    ("size", "load", "alkaline", "nimh"),
    [
        ("aaa", 0.5, ["aa", "c", "d"], ["", "aa", "c"]), ("aaa", 0.51, ["c", "d"], ["", "aa", "c"]), ("aa", 0.6, ["c", "d"], ["", "aaa", "c"]),
        ("aaa", 1.5, ["d"], ["aa", "c"]), ("aaa", 1.51, [], ["aa", "c"]), ("d", 2.1, [], ["c"]), ("d", 10.1, [], []),
    ],
)  # fmt: skip
def test_cells_that_give_more(size, load, alkaline, nimh):
    made = survey(supply=cells(size, 'fuse = "500 mA"\nrated = "100 mA"'))
    found = offers(made, given("battery.overload", MAIN, figures={"load": load}))
    other = 'supply.main.chemistry = "nimh"'
    assert [edits[:-1] for _, *edits in found] == [
        *([f'supply.main.size = "{one}"'] for one in alkaline),
        *([other, f'supply.main.size = "{one}"'] if one else [other] for one in nimh),
    ]
    # what was stated of the old ones goes, and nothing is put in its place
    assert {edits[-1] for _, *edits in found} <= {"supply.main.rated -"}


def of_size(chemistry: str, size: str, count: int) -> list[list[str]]:
    text = f'kind = "battery"\nplace = "base"\nchemistry = "{chemistry}"\nsize = "{size}"\ncells = {count}\n'
    found = offers(survey(supply=text), given("battery.overload", MAIN, figures={"load": 0.01}))
    return [edits for _, *edits in found]


def test_the_size_that_is_there_is_not_offered_again():
    found = of_size("alkaline", "aa", 8)
    assert 'supply.main.size = "c"' in {edit for edits in found for edit in edits}
    for edits in found:
        own = not any("chemistry" in edit for edit in edits)
        assert not own or any("size" in edit and '"aa"' not in edit for edit in edits)


def test_no_lithium_cell_takes_the_place_of_another_nor_a_cell_of_other_volts():
    # 3.2 V for 3.7 V, and 2 V for 1.5 V
    for chemistry, size, count in (("li-ion", "18650", 3), ("lifepo4", "18650", 3), ("alkaline", "9v", 6)):
        others = {edit for edits in of_size(chemistry, size, count) for edit in edits if "chemistry" in edit}
        assert not others & {f'supply.main.chemistry = "{one}"' for one in ("li-ion", "lifepo4", "lead-acid")}


def test_cells_of_no_size_are_rated_for_the_whole_load():
    found = offers(
        survey(supply=pouch('rated = "500 mA"')), given("battery.overload", MAIN, figures={"load": 1.2})
    )
    assert found[-1] == ("Use cells that may give 1.5 A for long.", 'supply.main.rated = "1.5 A"')


def test_of_cells_that_nobody_names_nothing_is_known():
    made = survey(supply='kind = "battery"\nplace = "base"\nvolts = "12 V"')
    assert offers(made, given("battery.overload", MAIN, figures={"load": 1.0})) == []
    assert offers(made, given("battery.too-short", MAIN)) == []


def pouch(more: str) -> str:
    return f'kind = "battery"\nplace = "base"\nchemistry = "lipo"\ncells = 3\nprotected = true\n{more}'


# a tenth of an ampere hour is 360 C, as cells are sold
@pytest.mark.parametrize(
    ("needed", "shown"), [(9000.0, "2.5 Ah"), (9000.1, "2.6 Ah"), (360.0, "100 mAh"), (1000.0, "300 mAh")]
)
def test_cells_that_hold_more(needed, shown):
    stated = survey(supply=pouch('capacity = "2000 mAh"\nruns_for = "9 h"'))
    found = offers(stated, given("battery.too-short", MAIN, figures={"needed": needed}))
    assert found[0] == (f"Use cells of {shown} or more.", f'supply.main.capacity = "{shown}"')
    # a size of the catalogue holds what it holds
    sizes = survey(supply=cells("aaa", 'runs_for = "9 h"'), lamps=lamp())
    found = offers(sizes, given("battery.too-short", MAIN, figures={"needed": needed}))
    assert found
    assert not any("capacity" in edit for _, *edits in found for edit in edits)


def test_lamps_that_go_dim_before_it_is_empty_need_more():
    made = survey(supply=pouch('capacity = "2000 mAh"\nruns_for = "9 h"'))
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


# six cells of 1.5 V in the block: 3 V more over the current of the lamp, in the next larger holder
@pytest.mark.parametrize("check", ["battery.stops-early", "battery.dim-early"])
def test_a_block_gives_way_to_single_cells_in_a_holder(check):
    block = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "9v"\nvolts = "9 V"\ncapacity = "500 mAh"\nfuse = "500 mA"'
    build = survey(supply=block)
    offered = offers(build, given(check, ("supply", "main"), remedy="Use a battery of more volts."))
    assert [row[0].partition(",")[0] for row in offered] == [
        "Use 8 AAA cells in a holder",
        "Use 8 AA cells in a holder",
    ]
    for row, size in zip(offered, ("aaa", "aa"), strict=True):
        assert row[1:3] == (f'supply.main.size = "{size}"', "supply.main.cells = 8")
        assert {"supply.main.capacity", "supply.main.volts"} <= {edit.partition(" ")[0] for edit in row}
        assert any(edit.startswith("lamp.0.resistor = ") for edit in row)
    # two blocks are more than the largest holder has
    two = survey(supply=block.replace('volts = "9 V"', "cells = 12"))
    assert offers(two, given(check, ("supply", "main"), remedy="Use a battery of more volts.")) == []


# at 0.5 A an alkaline AA gives 4950 C of its 9000 (makers' curves, as the catalogue cites them), of which three quarters are counted on
@pytest.mark.parametrize(
    ("wanted", "dims", "offered"),
    [
        (7400.0, None, ["aa", "c", "d", "nimh aa", "nimh c"]),
        (7440.0, None, ["c", "d", "nimh aa", "nimh c"]),
        # lamps that fade half way want twice 4933 C: AA of either chemistry come after what holds that
        (7400.0, 500.0, ["c", "d", "nimh c", "aa", "nimh aa"]),
        # 25200 C of C, 50400 of D
        (37790.0, None, ["c", "d"]), (37810.0, None, ["d"]), (75610.0, None, []),
    ],
)  # fmt: skip
def test_cells_that_last_by_what_they_give_at_the_load(wanted, dims, offered):
    made = survey(supply=cells("aaa"))
    battery = made.batteries["main"]._replace(
        average=0.5, highest=0.5, wanted=wanted, seconds=1000.0, dim_seconds=dims
    )
    made.__dict__["batteries"] = {"main": battery}
    found = offers(made, given("battery.too-short", MAIN, figures={"needed": 1.0}))
    told = [
        " ".join(edit.split('"')[1] for edit in edits if "size" in edit or "chemistry" in edit)
        for _, *edits in found
    ]
    assert told == offered


def test_a_larger_coin_cell_where_the_file_says_no_capacity():
    """CR2032 hold 846 C, CR2450 1980; the next two sizes are looked at."""
    coin = 'kind = "battery"\nplace = "base"\nchemistry = "lithium-coin"\nsize = "{}"\ncells = 4\n{}'
    sizes = {
        (size, more): [
            edit.split('"')[1]
            for _, *edits in offers(
                survey(supply=coin.format(size, more)),
                given("battery.too-short", MAIN, figures={"needed": 800.0}),
            )
            for edit in edits
            if "size" in edit and "cr" in edit
        ]
        for size in ("cr2025", "cr2032")
        for more in ("", 'capacity = "100 mAh"')
    }
    assert sizes == {
        ("cr2025", ""): ["cr2032"], ("cr2032", ""): ["cr2450"],
        ("cr2025", 'capacity = "100 mAh"'): [], ("cr2032", 'capacity = "100 mAh"'): [],
    }  # fmt: skip


def test_one_cell_more_is_told_alone():
    made = survey(supply=cells("aa"))
    found = [*proposals(made, given("battery.dim-early", MAIN))]
    assert found
    assert all(proposal.alone for proposal in found)
    assert [change.value for change in found[0].changes] == [9]


def test_cells_of_the_same_size_come_first_and_then_those_of_the_same_sort():
    """Zinc-carbon AAA give 50 mA and AA 100 mA; alkaline of the same 1.5 V, by what they hold: N 2880 C, AA 9000, C, D; NiMH of 1.2 V last."""
    made = survey(supply=cells("aaa", 'fuse = "500 mA"').replace("alkaline", "zinc-carbon"), lamps="")
    found = offers(made, given("battery.overload", MAIN, figures={"load": 0.08}))
    assert [says.removeprefix("Use ") for says, *_ in found] == [
        "alkaline cells of the same size.", "AA cells.", "alkaline N cells.", "alkaline AA cells.", "alkaline C cells.", "alkaline D cells.",
        "nimh cells of the same size.", "nimh AA cells.", "nimh C cells.",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("needed", "then"), [(540.0, ["cr2025"]), (540.1, ["cr2032"]), (846.0, ["cr2032"]), (846.1, [])]
)
def test_of_larger_coin_cells_the_next_two(needed, then):
    """CR2016 hold 324 C, CR2025 540, CR2032 846, CR2450 1980."""
    coin = survey(
        supply='kind = "battery"\nplace = "base"\nchemistry = "lithium-coin"\nsize = "cr2016"\ncells = 4'
    )
    found = offers(coin, given("battery.too-short", MAIN, figures={"needed": needed}))
    sizes = [edit.split('"')[1] for _, *edits in found for edit in edits if ".size" in edit]
    assert [size for size in sizes if size.startswith("cr")] == then


# alkaline AAA hold 4320 C, AA 9000
@pytest.mark.parametrize(
    ("needed", "sizes"), [(4320.0, ["aaa", "aa"]), (4321.0, ["aa"]), (9000.0, ["aa"]), (9001.0, [])]
)
def test_cells_in_place_of_coin_cells_hold_what_is_needed(needed, sizes):
    coin = survey(
        supply='kind = "battery"\nplace = "base"\nchemistry = "lithium-coin"\nsize = "cr2032"\ncells = 4',
        lamps="",
    )
    found = offers(coin, given("battery.too-short", MAIN, figures={"needed": needed}))
    assert [edit.split('"')[1] for _, *edits in found for edit in edits if '.size = "a' in edit] == sizes


@pytest.mark.parametrize(("highest", "exchanged"), [(0.02, False), (0.021, True)])
def test_coin_cells_that_give_more_than_their_most_are_exchanged_and_not_doubled(highest, exchanged):
    coin = survey(
        supply='kind = "battery"\nplace = "base"\nchemistry = "lithium-coin"\nsize = "cr2032"\ncells = 4',
        lamps="",
    )
    coin.__dict__["batteries"] = {"main": coin.batteries["main"]._replace(highest=highest, most=0.02)}
    found = offers(coin, given("battery.dim-early", MAIN))
    assert [says for says, *_ in found] == (
        ["Use 8 alkaline AAA cells instead.", "Use 8 alkaline AA cells instead."]
        if exchanged
        else ["Mend it."]
    )
