"""What a supply gives, worked out by hand: volts and ohms at each corner, what it may give for good, what a short of it draws."""

from __future__ import annotations

from math import inf

import pytest

import postcheck
from postcheck.description.models import Build
from postcheck.survey.network.supplies import (
    cell_of,
    converter_volts,
    efficiency_of,
    gives_up,
    in_a_short,
    most_volts,
    prospective,
    rated_current,
    source_of,
    stops_above_empty,
    typical_volts,
)

HEAD = '[place.base]\naccess = "open"\n[supply.main]\nplace = "base"\n'
FED = '[supply.fed]\nkind = "converter"\nfrom = "main"\nplace = "base"\n'
ALKALINE = 'kind = "battery"\nchemistry = "alkaline"\nsize = "aa"\ncells = 3\n'
ION = 'kind = "battery"\nchemistry = "li-ion"\nsize = "10440"\ncells = 2\n'
LIPO = 'kind = "battery"\nchemistry = "lipo"\ncells = 2\n'
PLAIN = 'kind = "battery"\nvolts = "9 V"\n'
ADAPTOR = 'kind = "adaptor"\nvolts = "12 V"\n'


def build(main: str, fed: str | None = None) -> Build:
    more = "" if fed is None else FED + fed
    return postcheck.loads('format = 1\n[build]\nname = "Tender"\n' + HEAD + main + more)


# each low, typical, high V; ohm
@pytest.mark.parametrize(
    ("main", "volts", "ohms"),
    [
        # 5 % where nothing is said, and with no regulation no resistance is invented
        (ADAPTOR, (11.4, 12.0, 12.6), 0.0),
        (ADAPTOR + 'tolerance = "2 %"\nresistance = "0.7 ohm"', (11.76, 12.0, 12.24), 0.7),
        (ADAPTOR + 'tolerance = "0 %"\nresistance = "0.7 ohm"', (12.0, 12.0, 12.0), 0.7),
        # 10 % of 12 V more unloaded: 13.2 V, and 1.2 V lost at 0.4 A
        (ADAPTOR + 'tolerance = "0 %"\nregulation = "10 %"\nrated = "400 mA"', (13.2, 13.2, 13.2), 3.0),
        (ADAPTOR + 'tolerance = "10 %"\nregulation = "10 %"\nrated = "400 mA"', (11.88, 13.2, 14.52), 3.0),
        # of which the rated current is not known
        (ADAPTOR + 'tolerance = "0 %"\nregulation = "10 %"', (12.0, 12.0, 12.0), 0.0),
        # 17 V with nothing connected, 12 V at 0.5 A: 5 V over 0.5 A
        (ADAPTOR + 'tolerance = "0 %"\nunloaded = "17 V"\nrated = "500 mA"', (17.0, 17.0, 17.0), 10.0),
        (ADAPTOR + 'tolerance = "0 %"\nunloaded = "17 V"', (12.0, 12.0, 12.0), 0.0),
        # an unloaded voltage was measured, a regulation printed
        (
            ADAPTOR + 'tolerance = "0 %"\nunloaded = "17 V"\nregulation = "10 %"\nrated = "500 mA"',
            (17.0, 17.0, 17.0),
            10.0,
        ),
        ('kind = "usb"', (4.75, 5.0, 5.25), 0.0),
        ('kind = "usb"\nresistance = "0.3 ohm"', (4.75, 5.0, 5.25), 0.3),
        # three of 0.9, 1.5 and 1.6 V, 0.2 ohm each
        (ALKALINE, (2.7, 4.5, 4.8), 0.6),
        (ALKALINE + 'cut_off = "3.3 V"', (3.3, 4.5, 4.8), 0.6),
        (ALKALINE + 'cut_off = "4.6 V"', (4.5, 4.5, 4.8), 0.6),
        (ALKALINE + 'resistance = "0.33 ohm"', (2.7, 4.5, 4.8), 0.33),
        # two of 3.0, 3.7 and 4.2 V, 0.25 ohm each; of a pouch 0.1 ohm
        (ION, (6.0, 7.4, 8.4), 0.5),
        (LIPO, (6.0, 7.4, 8.4), 0.2),
        # the block's 2 ohm are those of all its six cells
        ('kind = "battery"\nchemistry = "alkaline"\nsize = "9v"', (5.4, 9.0, 9.6), 2.0),
        (PLAIN, (9.0, 9.0, 9.0), 0.0),
        (PLAIN + 'cut_off = "7 V"\nresistance = "1.3 ohm"', (7.0, 9.0, 9.0), 1.3),
    ],
)
def test_the_volts_of_a_supply_with_nothing_connected_and_its_ohms(
    main: str, volts: tuple[float, float, float], ohms: float
) -> None:
    supply = build(main).supply["main"]
    found = [source_of(supply, corner) for corner in (-1, 0, 1)]
    assert [each for each, _ in found] == pytest.approx(volts, rel=1e-12)
    assert [each for _, each in found] == pytest.approx([ohms] * 3, rel=1e-12, abs=1e-15)


@pytest.mark.parametrize(
    ("main", "called", "most"),
    [
        (ADAPTOR, 12.0, 12.6),
        (ADAPTOR + 'tolerance = "0 %"\nunloaded = "17 V"', 12.0, 17.0),
        (ADAPTOR + 'tolerance = "10 %"\nunloaded = "17 V"\nrated = "500 mA"', 12.0, 18.7),
        ('kind = "usb"', 5.0, 5.25),
        (ALKALINE, 4.5, 4.8),
        (PLAIN, 9.0, 9.0),
        ('kind = "adaptor"', 0.0, 0.0),
    ],
)
def test_what_a_supply_is_called_by_and_the_most_that_it_puts_on_anything(
    main: str, called: float, most: float
) -> None:
    supply = build(main).supply["main"]
    assert typical_volts(supply) == pytest.approx(called, rel=1e-12)
    assert most_volts(supply) == pytest.approx(most, rel=1e-12)


# for good; into a short for sure and at most, A
@pytest.mark.parametrize(
    ("main", "rated", "sure", "most"),
    [
        (ADAPTOR, None, inf, inf),
        (ADAPTOR + 'rated = "700 mA"', 0.7, 0.7, 1.4),
        (ADAPTOR + 'rated = "700 mA"\ncurrent_limit = "900 mA"', 0.7, 0.9, 0.9),
        (ADAPTOR + 'current_limit = "900 mA"', None, 0.9, 0.9),
        # USB owes half an ampere; it may be a charger of three
        ('kind = "usb"', 0.5, 0.5, 3.0),
        ('kind = "usb"\nrated = "900 mA"', 0.9, 0.9, 1.8),
        (ALKALINE, 0.5, inf, inf),
        (ALKALINE + 'rated = "200 mA"', 0.2, inf, inf),
        (ALKALINE + 'current_limit = "1.2 A"', 0.5, 1.2, 1.2),
        (ION, 0.32, inf, inf),
        # a board trips at 2 to 5 A, or at two to five times what the cells may give
        (ION + "protected = true", 0.32, 2.0, 5.0),
        (LIPO + "protected = true", None, 2.0, 5.0),
        (LIPO + 'protected = true\nrated = "1.4 A"', 1.4, 2.8, 7.0),
        # of a pouch of 1.2 Ah: once its capacity an hour
        (LIPO + 'protected = true\ncapacity = "1200 mAh"', 1.2, 2.4, 6.0),
        (LIPO + 'protected = false\ncapacity = "1200 mAh"', 1.2, inf, inf),
        (LIPO + 'protected = true\ncapacity = "1200 mAh"\ncurrent_limit = "1.7 A"', 1.2, 1.7, 1.7),
        (PLAIN, None, inf, inf),
        (PLAIN + 'rated = "300 mA"', 0.3, inf, inf),
    ],
)
def test_what_a_supply_may_give_for_good_and_where_it_gives_up(
    main: str, rated: float | None, sure: float, most: float
) -> None:
    supply = build(main).supply["main"]
    assert rated_current(supply) == (None if rated is None else pytest.approx(rated, rel=1e-12))
    assert gives_up(supply) == pytest.approx((sure, most), rel=1e-12)


# V low and typical and ohm in a short that lasts; the most at first, A
@pytest.mark.parametrize(
    ("main", "short", "first"),
    [
        (ADAPTOR, (11.4, 12.0, 0.0), inf),
        # a tenth more volts over 0.7 ohm are 18.9 A; it may give 1.4 A
        (ADAPTOR + 'tolerance = "10 %"\nresistance = "0.7 ohm"', (10.8, 12.0, 0.7), 13.2 / 0.7),
        (
            ADAPTOR + 'tolerance = "10 %"\nresistance = "0.7 ohm"\nrated = "700 mA"',
            (10.8, 12.0, 0.7),
            1.4,
        ),
        # an alkaline cell sags to half as much again; fresh it has 4.8 V behind 0.6 ohm
        (ALKALINE, (2.7, 4.5, 0.9), 8.0),
        (ALKALINE + 'resistance = "0.4 ohm"', (2.7, 4.5, 0.4), 12.0),
        ('kind = "battery"\nchemistry = "zinc-carbon"\nsize = "aa"\ncells = 2', (1.8, 3.0, 1.5), 3.2),
        ('kind = "battery"\nchemistry = "nimh"\nsize = "aaa"\ncells = 2', (2.0, 2.4, 0.16), 2.8 / 0.16),
        (ION, (6.0, 7.4, 0.5), 16.8),
        (LIPO + "protected = true", (6.0, 7.4, 0.2), 5.0),
        (PLAIN + 'resistance = "1.5 ohm"', (9.0, 9.0, 1.5), 6.0),
    ],
)
def test_what_drives_a_short(main: str, short: tuple[float, float, float], first: float) -> None:
    supply = build(main).supply["main"]
    assert in_a_short(supply) == pytest.approx(short, rel=1e-12, abs=1e-15)
    assert prospective(supply) == pytest.approx(first, rel=1e-12)


@pytest.mark.parametrize(
    ("fed", "volts", "efficiency", "least"),
    [
        ('volts = "5 V"', (4.75, 5.0, 5.25), 0.85, (0.0475, 0.05, 0.0525)),
        (
            'volts = "5 V"\ntolerance = "2 %"\nefficiency = "90 %"\nleast_input = "7 V"',
            (4.9, 5.0, 5.1),
            0.9,
            (7.0, 7.0, 7.0),
        ),
    ],
)
def test_a_converter_gives_its_volts_from_a_least_input_on(
    fed: str, volts: tuple[float, ...], efficiency: float, least: tuple[float, ...]
) -> None:
    supply = build(ADAPTOR, fed).supply["fed"]
    found = [converter_volts(supply, corner) for corner in (-1, 0, 1)]
    assert [row[0] for row in found] == pytest.approx(volts, rel=1e-12)
    assert [row[1] for row in found] == [efficiency] * 3
    assert [row[2] for row in found] == pytest.approx(least, rel=1e-12)
    # it holds its volts in a short, without a resistance, until it gives up
    assert in_a_short(supply) == pytest.approx((volts[0], 5.0, 0.0), rel=1e-12)
    assert prospective(supply) == inf


def test_a_converter_gives_up_by_its_rating() -> None:
    supply = build(ADAPTOR, 'volts = "5 V"\nrated = "600 mA"').supply["fed"]
    assert gives_up(supply) == pytest.approx((0.6, 1.2))
    assert prospective(supply) == pytest.approx(1.2)


# a switching one: what it is said, or 85 %. A linear one: its volts over those that it is given, each at its own corner
@pytest.mark.parametrize(
    ("fed", "corners", "share"),
    [
        ('volts = "5 V"', (0, None), 0.85),
        ('volts = "5 V"\nefficiency = "70 %"', (1, -1), 0.7),
        ('volts = "5 V"\nlinear = true', (0, None), 5.0 / 12.0),
        ('volts = "5 V"\nlinear = true', (1, None), 5.25 / 12.6),
        ('volts = "5 V"\nlinear = true', (1, -1), 5.25 / 11.4),
        ('volts = "5 V"\nlinear = true\ntolerance = "0 %"', (-1, 1), 5.0 / 12.6),
        ('volts = "12 V"\nlinear = true', (1, -1), 1.0),
    ],
)
def test_what_a_converter_passes_on_of_its_power(
    fed: str, corners: tuple[int, int | None], share: float
) -> None:
    made = build(ADAPTOR, fed)
    assert efficiency_of(made.supply["fed"], made.supply["main"], *corners) == pytest.approx(share, rel=1e-12)


def test_a_linear_one_is_taken_as_it_usually_is_where_nothing_is_said() -> None:
    made = build(ADAPTOR, 'volts = "5 V"\nlinear = true\ntolerance = "0 %"')
    assert efficiency_of(made.supply["fed"], made.supply["main"]) == pytest.approx(5.0 / 12.0, rel=1e-12)
    # from a cell that is nearly empty, and from one of which nobody knows the volts
    cell = build(ALKALINE.replace("3", "1"), 'volts = "0.5 V"\nlinear = true\ntolerance = "0 %"')
    assert efficiency_of(cell.supply["fed"], cell.supply["main"], -1) == pytest.approx(0.5 / 0.9, rel=1e-12)
    unsaid = build('kind = "adaptor"\n', 'volts = "5 V"\nlinear = true')
    assert efficiency_of(unsaid.supply["fed"], unsaid.supply["main"]) == 1.0


# two li-ion cells are empty at 6 V
@pytest.mark.parametrize(
    ("main", "least", "stops"),
    [(ION, "5.9 V", False), (ION, "6.1 V", True), (ADAPTOR, "13 V", False), (PLAIN, "9.1 V", True)],
)
def test_a_converter_stops_above_an_empty_battery(main: str, least: str, stops: bool) -> None:
    made = build(main, f'volts = "5 V"\nleast_input = "{least}"')
    assert stops_above_empty(made, "main") is stops
    assert not stops_above_empty(made, "fed")
    assert not stops_above_empty(build(main, 'volts = "5 V"'), "main")
    # of one that says nothing nobody knows, not even from a cell that is empty at 0.9 V
    assert not stops_above_empty(build(ALKALINE.replace("3", "1"), 'volts = "5 V"'), "main")
    # it stops with the battery that feeds it, not with another one
    other = f'volts = "5 V"\nleast_input = "{least}"\n[supply.spare]\nplace = "base"\n{PLAIN}'
    assert not stops_above_empty(build(main, other), "spare")


# mAh count 3.6 C each, of one cell; the maker's own figures go with his capacity alone
@pytest.mark.parametrize(
    ("main", "volts", "ohms", "coulombs", "amps", "rates"),
    [
        (ALKALINE, (1.6, 1.5, 1.25, 0.9), 0.2, 9000.0, 0.5, ((0.025, 10800.0), (1.0, 3600.0))),
        (ALKALINE + 'capacity = "1500 mAh"', (1.6, 1.5, 1.25, 0.9), 0.2, 5400.0, 0.5, None),
        (ION + 'cut_off = "6.5 V"\nrated = "150 mA"', (4.2, 3.7, 3.7, 3.25), 0.25, 1152.0, 0.15, None),
        (ION + 'resistance = "0.9 ohm"', (4.2, 3.7, 3.7, 3.0), 0.45, 1152.0, 0.32, None),
        (LIPO, (4.2, 3.7, 3.7, 3.0), 0.1, None, None, None),
        (PLAIN + 'cut_off = "7 V"\nresistance = "2 ohm"', (9.0, 9.0, 9.0, 7.0), 2.0, None, None, None),
        (PLAIN + 'cells = 6\ncut_off = "7.2 V"\nresistance = "2.1 ohm"', (1.5, 1.5, 1.5, 1.2), 0.35, None, None, None),
        (PLAIN + 'cells = 6\nrated = "0.4 A"\ncapacity = "500 mAh"', (1.5, 1.5, 1.5, 1.5), 0.0, 1800.0, 0.4, None),
    ],
)  # fmt: skip
def test_what_is_known_of_one_cell(
    main: str,
    volts: tuple[float, ...],
    ohms: float,
    coulombs: float | None,
    amps: float | None,
    rates: tuple[tuple[float, float], tuple[float, float]] | None,
) -> None:
    cell = cell_of(build(main).supply["main"])
    assert cell is not None
    assert (cell.full, cell.nominal, cell.half, cell.empty) == pytest.approx(volts, rel=1e-12)
    assert cell.ohms == pytest.approx(ohms, rel=1e-12, abs=1e-15)
    assert cell.capacity == (None if coulombs is None else pytest.approx(coulombs, rel=1e-12))
    assert cell.most_current == (None if amps is None else pytest.approx(amps, rel=1e-12))
    assert (cell.at_rates[:1] + cell.at_rates[-1:] if cell.at_rates else None) == rates
    assert cell.lithium is ("li-ion" in main or "lipo" in main)
    assert cell_of(build(ADAPTOR).supply["main"]) is None


@pytest.mark.parametrize(
    ("inputs", "above"),
    [
        (("2 V",), False),
        (("2.7 V",), False),
        (("2.8 V",), True),
        (("2 V", "2.8 V"), True),
        (("2.8 V", "2 V"), True),
    ],
)
def test_a_converter_that_needs_more_than_empty_cells_have(inputs: tuple[str, ...], above: bool) -> None:
    """Three alkaline cells are empty at 2.7 V."""
    from postcheck.survey.network.supplies import stops_above_empty  # noqa: PLC0415

    text = 'format = 1\n[build]\nname = "Tender"\n[place.base]\naccess = "open"\n[supply.main]\nkind = "battery"\nchemistry = "alkaline"\nsize = "aa"\ncells = 3\nplace = "base"\n'
    for n, least in enumerate(inputs):
        text += f'[supply.c{n}]\nkind = "converter"\nfrom = "main"\nvolts = "5 V"\nplace = "base"\nleast_input = "{least}"\n'
    assert stops_above_empty(postcheck.loads(text), "main") is above


def test_what_a_linear_converter_wastes_hangs_on_its_own_source() -> None:
    """5 V of 12.6 V at the highest; of 11.4 V where its source alone is low."""
    from postcheck.physics.network import Converter  # noqa: PLC0415
    from postcheck.survey.network.elements import Corner, dc_converter  # noqa: PLC0415

    text = 'format = 1\n[build]\nname = "Tender"\n[place.base]\naccess = "open"\n[supply.main]\nkind = "adaptor"\nvolts = "12 V"\ntolerance = "5 %"\nplace = "base"\n'
    text += '[supply.five]\nkind = "converter"\nfrom = "main"\nvolts = "5 V"\ntolerance = "0 %"\nlinear = true\nplace = "base"\n'
    supplies = postcheck.loads(text).supply
    make = dc_converter("five", 0, 1, 2, 3, supplies["five"], supplies["main"], 0.0)
    for low, volts in ((set(), 12.6), ({"main"}, 11.4), ({"five"}, 12.6)):
        element = make(Corner(supply=1, low=frozenset(low)), {})
        assert isinstance(element, Converter)
        assert element.efficiency == pytest.approx(5.0 / volts)
