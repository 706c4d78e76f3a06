"""Battery life and dimming against published examples and the exact solution of the network."""

import pytest

from .small import lamp, survey

PACK = 'kind = "battery"\nplace = "base"\nchemistry = "{c}"\n{more}'


def _pack(c, more, **rest):
    return survey(supply=PACK.format(c=c, more=more), **rest)


def _load(amps):
    return f'[[load]]\nname = "load"\ncircuit = "lights"\nplace = "hull"\ntypical = "{amps}"\n'


# Worked: 3 AA alkaline, 2450 mAh at 100 mA by makers' curves: 0.75 x 2450 / 100 = 18.4 h; 1000 mAh lithium, 60 mA: 12.5 h
def test_runtimes_worked_by_hand():
    three = _pack("alkaline", 'size = "aa"\ncells = 3', lamps="", extra=_load("100 mA")).batteries["main"]
    assert three.seconds / 3600 == pytest.approx(18.375, rel=1e-3)
    lipo = _pack(
        "lipo", 'cells = 1\ncapacity = "1000 mAh"\nprotected = true', lamps="", extra=_load("60 mA")
    ).batteries["main"]
    assert lipo.seconds / 3600 == pytest.approx(12.5, rel=1e-3)


def test_the_average_counts_flashers_by_their_share():
    steady = _pack("alkaline", 'size = "aa"\ncells = 3', lamps="", extra=_load("100 mA"))
    flash = _pack(
        "alkaline",
        'size = "aa"\ncells = 3',
        lamps="",
        extra=_load("100 mA"),
        circuit='behaviour = "flash"\non_share = "10 %"\nrate = "60 /min"',
    )
    assert flash.batteries["main"].average == pytest.approx(0.1 * steady.batteries["main"].average)


def test_without_a_capacity_nobody_knows_how_long():
    unknown = _pack("lipo", "cells = 1\nprotected = true", lamps="", extra=_load("60 mA")).batteries["main"]
    assert unknown.seconds is None


# The closed form against the network itself: an adaptor of exactly that voltage must drive the lamp at half the
# current that one of the full battery's voltage does, the dice cold as their data sheets have them.
@pytest.mark.parametrize("kind", ["smd-0402-red", "smd-0603-white"])
def test_the_dim_voltage_against_the_network(kind):
    bulb = lamp(at=" at hull").replace("1k5", "100 ohm").replace("smd-0402-red", kind)
    row = _pack("alkaline", 'size = "aa"\ncells = 3', lamps=bulb).batteries["main"]
    ((name, level, left),) = row.dim
    assert name == "bow lamp"
    assert left == pytest.approx((level / 3 - 0.9) / 0.7)  # straight, for half is gone in the middle

    def current(volts):
        fixed = f'kind = "adaptor"\nplace = "base"\nvolts = "{volts:.4f} V"\ntolerance = "0 %"\nrated = "1 A"\nresistance = "0.6 ohm"'
        return survey(supply=fixed, lamps=bulb).electrics.lamps["bow lamp"].nominal

    assert current(level) / current(row.full_volts) == pytest.approx(0.5, abs=0.08)


# A CR2032's own 10 to 40 ohm keeps its short under 0.3 A (cell makers' sheets); a lithium-ion cell gives tens of ampere
def test_only_cells_that_a_short_can_set_on_fire_count_as_lithium():
    assert (
        not _pack("lithium-coin", 'size = "cr2032"\ncells = 1', lamps="", extra=_load("1 mA"))
        .batteries["main"]
        .lithium
    )
    assert _pack("lipo", "cells = 1", lamps="", extra=_load("1 mA")).batteries["main"].lithium
    assert (
        not _pack("alkaline", 'size = "aa"\ncells = 3', lamps="", extra=_load("1 mA"))
        .batteries["main"]
        .lithium
    )


# a board on the battery stops at its least volts as they are; one on another supply does not stop with it
def test_a_board_stops_with_the_battery_that_feeds_it():
    other = '[supply.aft]\nkind = "adaptor"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\n'
    board = '[board.{name}]\nplace = "base"\nsupply = "{supply}"\nidle = "5 mA"\nleast_volts = "3.5 V"\n'
    boards = board.format(name="flasher", supply="main") + board.format(name="sound", supply="aft")
    made = _pack("alkaline", 'size = "aa"\ncells = 3', extra=other + boards)
    assert made.batteries["main"].stops == (("flasher", 3.5),)
