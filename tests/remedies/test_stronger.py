"""What is rated too low gets the next rating that is sold; what has the wrong volts, or too few, the next that there are."""

from __future__ import annotations

import pytest

from postcheck.limits import Limits
from postcheck.report import Subject
from postcheck.survey import Survey
from tests.survey.small import adaptor, lamp, survey

from .offers import found, given, offers, where

BOARD = """
[board.driver]
place = "base"
supply = "main"
limit = "100 mA"
[circuit.channel]
board = "driver"
[[run]]
line = "channel"
ends = ["base", "hull"]
length = "300 mm"
"""
FIVE = '[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\n[circuit.low]\nsupply = "five"\n'


@pytest.fixture(scope="module")
def driven() -> Survey:
    return survey(extra=BOARD, circuit='output = "100 mA, 0.2 V drop"')


# 80 % for continuous load (NFPA 70 210.19(A)(1)): 1.2 A on 1.5 A
@pytest.mark.parametrize("check", ["supply.overload", "converter.overload"])
@pytest.mark.parametrize(("highest", "rated"), [(1.2, "1.5 A"), (1.21, "2 A"), (8.0, "10 A"), (8.01, None)])
def test_a_supply_is_loaded_to_four_fifths(driven, check, highest, rated):
    finding = given(check, ("supply", "main"), figures={"highest": highest})
    assert offers(driven, finding) == (
        [] if rated is None else [(f"Use one rated for {rated} or more.", f'supply.main.rated = "{rated}"')]
    )


def test_without_its_load_nothing_is_offered(driven):
    for check, subject in (
        ("supply.overload", ("supply", "main")),
        ("output.overload", ("circuit", "lights")),
        ("board.overload", ("board", "driver")),
    ):
        assert offers(driven, given(check, subject)) == []


def test_a_stated_limit_of_a_supply_goes_with_its_rating():
    limited = survey(supply=adaptor() + '\ncurrent_limit = "1.2 A"')
    assert offers(limited, given("supply.overload", ("supply", "main"), figures={"highest": 1.3})) == [
        ("Use one rated for 2 A or more.", 'supply.main.rated = "2 A"', 'supply.main.current_limit = "2 A"')
    ]


def test_a_start_wants_the_whole_rating():
    # of the start, which is soon over, all of the rating. The quick fuse then is the least that carries 7 mA and is sold for it
    made = survey()
    assert offers(made, given("supply.no-start", ("supply", "main"), figures={"starting": 1.5}))[:1] == [
        ("Use one rated for 1.5 A or more.", 'supply.main.rated = "1.5 A"')
    ]
    assert offers(made, given("supply.no-start", ("supply", "main"), figures={"starting": 1.51}))[:2] == [
        ("Use one rated for 2 A or more.", 'supply.main.rated = "2 A"'),
        (
            "Use one rated for 2 A or more. Then fit a quick fuse of 100 mA.",
            'supply.main.rated = "2 A"',
            'supply.main.fuse = "100 mA"',
        ),
    ]
    assert offers(made, given("supply.no-start", ("supply", "main"), figures={"starting": 10.1})) == []


# in 1, 1.5, 2, 3, 5 from 10 mA to 5 A
@pytest.mark.parametrize(
    ("highest", "rated"), [(0.1, "100 mA"), (0.101, "150 mA"), (2.1, "3 A"), (5.01, None)]
)
def test_outputs_and_boards_come_in_steps(driven, highest, rated):
    def of(check: str, kind: str, name: str) -> list[tuple[str, ...]]:
        return offers(driven, given(check, (kind, name), figures={"highest": highest}))

    assert of("output.overload", "circuit", "lights") == (
        [] if rated is None else
        [(f"Use an output rated for {rated}.", f'circuit.lights.output = "{rated}, drop 200 mV"')]
    )  # fmt: skip
    assert of("board.overload", "board", "driver") == (
        [] if rated is None else
        [(f"Use a board whose outputs together are rated for {rated}.", f'board.driver.total = "{rated}"')]
    )  # fmt: skip
    assert of("board.overload", "circuit", "channel") == (
        [] if rated is None else
        [(f"Use a board with outputs rated for {rated} each, or an amplifier behind 'driver'.", f'board.driver.limit = "{rated}"')]
    )  # fmt: skip


def test_an_output_that_the_file_does_not_give_is_none_to_change(driven):
    assert offers(survey(), given("output.overload", ("circuit", "lights"), figures={"highest": 0.2})) == []
    assert (
        offers(driven, given("output.cold-filaments", ("circuit", "channel"), figures={"starting": 0.2}))
        == []
    )


def test_an_output_for_cold_filaments(driven):
    def of(starting: float) -> list[tuple[str, ...]]:
        return offers(
            driven, given("output.cold-filaments", ("circuit", "lights"), figures={"starting": starting})
        )

    assert of(0.31) == [
        ("Use an output rated for 500 mA, or LEDs.", 'circuit.lights.output = "500 mA, drop 200 mV"')
    ]
    assert of(0.3)[0][0] == "Use an output rated for 300 mA, or LEDs."
    assert of(5.1) == []


# Volts that boards and loads are made for: ..., 9, 12, 15, ..., 30 V
@pytest.mark.parametrize(
    ("highest", "most"), [(12.6, "15 V"), (15.0, "15 V"), (15.1, "18 V"), (29.0, "30 V"), (30.1, None)]
)
def test_a_board_that_withstands_the_volts(driven, highest, most):
    figures = {"highest": highest, "lowest": 11.4}
    board = given("board.wrong-volts", ("board", "driver"), figures=figures, limit=12.5)
    load = given("load.over-volts", ("load", "winch"), ("load", 3, "highest"), figures=figures, limit=12.5)
    says = f"Use one that withstands {most} or more."
    assert offers(driven, board) == ([] if most is None else [(says, f'board.driver.most_volts = "{most}"')])
    assert where(offers(driven, load)) == ([] if most is None else [(says, "load.3.highest")])


@pytest.mark.parametrize(
    ("lowest", "works"), [(11.4, "9 V"), (12.0, "12 V"), (0.9, "900 mV"), (0.89, None), (None, None)]
)
@pytest.mark.parametrize(("case", "limit"), [("low", 12.0), ("too low at worst", 12.0), (None, 12.6)])
def test_a_board_that_works_from_the_volts(driven, lowest, works, case, limit):
    figures = {"highest": 12.6} | ({} if lowest is None else {"lowest": lowest})
    finding = given("board.wrong-volts", ("board", "driver"), figures=figures, limit=limit, case=case)
    assert offers(driven, finding) == (
        [] if works is None else [(f"Use one that works from {works}.", f'board.driver.least_volts = "{works}"')]
    )  # fmt: skip


def test_volts_without_a_limit_tell_nothing(driven):
    figures = {"highest": 12.6, "lowest": 11.4}
    assert offers(driven, given("board.wrong-volts", ("board", "driver"), figures=figures)) == []
    assert offers(driven, given("board.wrong-volts", ("board", "driver"), limit=12.0)) == []


# a twentieth is spare: 12.7 V leave 12.065, 12.6 V 11.97
@pytest.mark.parametrize(
    ("volts", "works"), [(12.7, ["12 V", "9 V"]), (12.6, ["9 V", "7 V"]), (1.0, ["900 mV"]), (None, [])]
)
@pytest.mark.parametrize("weak", [True, False])
def test_a_converter_works_from_less_or_gets_more(volts, works, weak):
    made = survey(extra=FIVE)
    finding = given(
        "converter.no-start",
        ("supply", "five"),
        figures={} if volts is None else {"given": volts},
        parts={"source": Subject("supply", "main")},
        case="too weak:adaptor" if weak else None,
    )
    # the next adaptors above 12 V; more volts are no cure for too few amperes
    assert offers(made, finding) == (
        []
        if weak
        else [
            *((f"Use a converter that works from {one}, or a source of more volts.", f'supply.five.least_input = "{one}"') for one in works),
            ("Use an adaptor of 15 V for 'main'.", 'supply.main.volts = "15 V"'),
            ("Use an adaptor of 18 V for 'main'.", 'supply.main.volts = "18 V"'),
        ]
    )  # fmt: skip


def test_the_next_adaptor_is_above_the_one_there_is():
    finding = given("converter.no-start", ("supply", "five"), parts={"source": Subject("supply", "main")})
    for volts, above in (("11.9 V", ["12 V", "15 V"]), ("18 V", ["24 V"]), ("24 V", [])):
        made = survey(extra=FIVE, supply=adaptor().replace("12 V", volts))
        assert [edit for _, edit in offers(made, finding)] == [f'supply.main.volts = "{one}"' for one in above]  # fmt: skip


@pytest.mark.parametrize("case", [None, "too weak"])
def test_a_cell_or_two_more_for_a_converter(case):
    cells = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 4\n'
    made = survey(supply=cells, extra=FIVE)
    finding = given(
        "converter.no-start", ("supply", "five"), parts={"source": Subject("supply", "main")}, case=case
    )
    assert offers(made, finding) == [
        ("Use 5 cells for 'main'.", "supply.main.cells = 5"),
        ("Use 6 cells for 'main'.", "supply.main.cells = 6"),
    ]
    # who the source is has to be told
    assert offers(made, given("converter.no-start", ("supply", "five"), case=case)) == []


# what it takes all the time counts, where some of it is dark; the step below it
@pytest.mark.parametrize(
    ("figures", "step"),
    [({"dark": 0.012, "average": 0.03}, "10 mA"), ({"average": 0.03}, "30 mA"), ({"average": 0.0299}, "20 mA"), ({"average": 0.0099}, None), ({}, None)],
)  # fmt: skip
def test_a_bank_that_stays_on(driven, figures, step):
    assert offers(driven, given("supply.switches-off", ("supply", "main"), figures=figures)) == (
        [] if step is None else
        [(f"Use a plain USB supply, or a bank that stays on at {step}.", f'supply.main.switches_off_below = "{step}"')]
    )  # fmt: skip


# 7.56 mA at most: (12.6 V - 1.8 V) / (1.5 kohm - 5 %), see test_plugs.py
@pytest.mark.parametrize(
    ("rated", "pins", "shared", "each", "count"),
    [
        ("6 mA", '["lights", "main-"]', "'lights' and 'main-'", " each", 2),
        ("3 mA", '["lights", "main-"]', "'lights' and 'main-'", " each", 3),
        # the negative has two pins already, which share
        ("6 mA", '["main-", "lights", "main-"]', "'lights'", "", 2),
    ],
)
def test_a_plug_with_stronger_pins_or_more_of_them(rated, pins, shared, each, count):
    plug = f'[[plug]]\nname = "foot"\nat = "hull"\npins = {pins}\nkeyed = true\nrated = "{rated}"\n'
    made = survey(extra=plug, lamps=lamp())
    assert offers(made, found(made, "plug.overload")) == [
        (f"Use a plug with pins rated for 10 mA, or share {shared} between {count} pins{each}.", 'plug.0.rated = "10 mA"')
    ]  # fmt: skip


def stricter(made: Survey, **limits: float) -> Survey:
    changes = {name.replace("_", "."): (value, "long life") for name, value in limits.items()}
    return Survey(made.build, Limits(changes))


def test_a_limit_that_the_file_changes_counts(driven):
    # 1.21 A to 60 %: 2.02 A; 0.16 A to half: 320 mA; 7.56 mA to 60 %: 12.6 mA, and 6 mA a pin
    made = stricter(driven, supply_load_caution=0.6, output_load=0.5)
    assert offers(made, given("supply.overload", ("supply", "main"), figures={"highest": 1.21})) == [
        ("Use one rated for 2.5 A or more.", 'supply.main.rated = "2.5 A"')
    ]
    assert offers(made, given("output.cold-filaments", ("circuit", "lights"), figures={"starting": 0.16})) == [
        ("Use an output rated for 500 mA, or LEDs.", 'circuit.lights.output = "500 mA, drop 200 mV"')
    ]  # fmt: skip
    plug = '[[plug]]\nname = "foot"\nat = "hull"\npins = ["lights", "main-"]\nkeyed = true\nrated = "10 mA"\n'
    pins = stricter(survey(extra=plug), plug_load=0.6)
    assert offers(pins, found(pins, "plug.overload")) == [
        ("Use a plug with pins rated for 15 mA, or share 'lights' and 'main-' between 2 pins each.", 'plug.0.rated = "15 mA"')
    ]  # fmt: skip


# common practice: what adaptors are sold with, and what boards, loads and converters are made for
@pytest.mark.parametrize(
    ("volts", "above"),
    [("2.9 V", "3 V"), ("3 V", "4.5 V"), ("4.5 V", "5 V"), ("5 V", "6 V"), ("6 V", "7.5 V"), ("7.5 V", "9 V"), ("9 V", "12 V"), ("12 V", "15 V"),
     ("15 V", "18 V"), ("18 V", "24 V")],
)  # fmt: skip
def test_volts_of_adaptors(volts, above):
    made = survey(extra=FIVE, supply=adaptor().replace("12 V", volts))
    finding = given("converter.no-start", ("supply", "five"), parts={"source": Subject("supply", "main")})
    assert offers(made, finding)[0] == (f"Use an adaptor of {above} for 'main'.", f'supply.main.volts = "{above}"')  # fmt: skip


MADE_FOR = (0.9, 1.8, 2.5, 3.0, 4.0, 4.5, 5.0, 6.0, 7.0, 9.0, 12.0, 15.0, 18.0, 24.0, 30.0)


@pytest.mark.parametrize(("below", "volts"), list(zip((0.0, *MADE_FOR), MADE_FOR, strict=False)))
def test_volts_of_boards(driven, below, volts):
    shown = f"{volts:g} V" if volts >= 1.0 else f"{volts * 1e3:g} mV"
    for lowest, works in ((volts, shown), (volts - 0.01, None)):
        finding = given("board.wrong-volts", ("board", "driver"), figures={"highest": 12.6, "lowest": lowest}, limit=13.0)  # fmt: skip
        found = offers(driven, finding)
        assert (found[0][1] == f'board.driver.least_volts = "{shown}"' if found else False) is (
            works == shown
        )
    finding = given("load.over-volts", ("load", "winch"), ("load", 0, "highest"), figures={"highest": below + 0.01}, limit=below)  # fmt: skip
    assert where(offers(driven, finding)) == [(f"Use one that withstands {shown} or more.", "load.0.highest")]  # fmt: skip
