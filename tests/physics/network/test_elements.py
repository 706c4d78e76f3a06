"""What an element may be: just within and just without."""

from __future__ import annotations

from collections.abc import Callable
from math import inf, nan

import pytest

from postcheck.physics.network import (
    FILAMENT_EXPONENT,
    ConstantPower,
    Converter,
    Demand,
    Diode,
    Drop,
    Element,
    Filament,
    Resistance,
    Source,
    SteadyCurrent,
    String,
)

LED = Diode(1e-20, 0.05)
ABOVE: list[tuple[str, Callable[[float], Element | Diode]]] = [
    ("ohms", lambda v: Resistance(0, 1, v)),
    ("saturation", lambda v: Diode(v, 0.05)),
    ("slope", lambda v: Diode(1e-20, v)),
    ("volts", lambda v: Filament(0, 1, v, 0.1)),
    ("amps", lambda v: Filament(0, 1, 6.0, v)),
    ("exponent", lambda v: Filament(0, 1, 6.0, 0.1, v)),
    ("amps", lambda v: SteadyCurrent(0, 1, v, 1.0)),
    ("compliance", lambda v: SteadyCurrent(0, 1, 1.0, v)),
    ("amps", lambda v: Demand(0, 1, v, 1.0)),
    ("least_volts", lambda v: Demand(0, 1, 1.0, v)),
    ("watts", lambda v: ConstantPower(0, 1, v, 1.0)),
    ("least_volts", lambda v: ConstantPower(0, 1, 1.0, v)),
    ("volts", lambda v: Converter(0, 1, 2, 3, v, 0.8, 3.0)),
    ("least_volts", lambda v: Converter(0, 1, 2, 3, 5.0, 0.8, v)),
]
FROM_ZERO: list[tuple[str, Callable[[float], Element | Diode]]] = [
    ("ohms", lambda v: Source(0, 1, 5.0, v)),
    ("volts", lambda v: Drop(0, 1, v)),
    ("ohms", lambda v: Drop(0, 1, 0.3, v)),
    ("ohm", lambda v: Diode(1e-20, 0.05, v)),
    ("ohms", lambda v: String(0, 1, v, (LED,))),
    ("ohms", lambda v: Filament(0, 1, 6.0, 0.1, 0.5, v)),
    ("idle_watts", lambda v: Converter(0, 1, 2, 3, 5.0, 0.8, 3.0, v)),
    ("ohms", lambda v: Converter(0, 1, 2, 3, 5.0, 0.8, 3.0, 0.0, v)),
]


@pytest.mark.parametrize(("name", "make"), ABOVE)
def test_what_is_above_zero(name: str, make: Callable[[float], Element | Diode]) -> None:
    for value in (1e-12, 1.0, 2.0):
        assert getattr(make(value), name) == value
    for wrong in (0.0, -1e-12, inf, nan):
        with pytest.raises(ValueError, match=f"{name} must be above zero"):
            make(wrong)


@pytest.mark.parametrize(("name", "make"), FROM_ZERO)
def test_what_may_be_nothing(name: str, make: Callable[[float], Element | Diode]) -> None:
    for value in (0.0, 1e-12, 2.0):
        assert getattr(make(value), name) == value
    for wrong in (-1e-12, inf, nan):
        with pytest.raises(ValueError, match=f"{name} must not be below zero"):
            make(wrong)


def test_an_efficiency_is_above_nothing_and_one_at_most() -> None:
    for share in (1e-9, 0.5, 1.0):
        assert Converter(0, 1, 2, 3, 5.0, share, 3.0).efficiency == share
    for wrong in (0.0, -0.1, 1.0 + 1e-9, nan):
        with pytest.raises(ValueError, match="efficiency"):
            Converter(0, 1, 2, 3, 5.0, wrong, 3.0)


def test_a_source_may_have_any_finite_volts() -> None:
    assert [Source(0, 1, volts).volts for volts in (-5.0, 0.0, 5.0)] == [-5.0, 0.0, 5.0]
    for wrong in (inf, -inf, nan):
        with pytest.raises(ValueError, match="finite"):
            Source(0, 1, wrong)


@pytest.mark.parametrize(
    ("heat", "most", "sound"),
    [
        (0.0, inf, True),
        (0.0, -1.0, True),  # nothing warms: not read
        (1.0, 0.1, True),
        (1.0, inf, True),
        (1.0, 0.0, False),
        (1.0, -0.1, False),
        # one whose volts rise as it warms: 1 + heat times most is above nothing
        (-5.0, 0.1, True),
        (-9.99, 0.1, True),
        (-10.0, 0.1, False),
        (-0.5, 3.0, False),
        (-0.3, 3.0, True),
        (-0.3, inf, False),
    ],
)
def test_heat_is_counted_up_to_a_current_at_which_its_law_still_holds(
    heat: float, most: float, sound: bool
) -> None:
    dice = (LED, Diode(1e-20, 0.05, heat=heat))
    if sound:
        assert String(0, 1, 5.0, dice, most).most == most
    else:
        with pytest.raises(ValueError, match=r"most|heat"):
            String(0, 1, 5.0, dice, most)


def test_a_string_has_a_diode() -> None:
    with pytest.raises(ValueError, match="at least one diode"):
        String(0, 1, 5.0, ())
    for wrong in (inf, nan):
        with pytest.raises(ValueError, match="finite"):
            Diode(1e-20, 0.05, shift=wrong)
        with pytest.raises(ValueError, match="finite"):
            Diode(1e-20, 0.05, heat=wrong)


def test_what_is_meant_where_nothing_is_said() -> None:
    assert Source(0, 1, 5.0).ohms == 0.0
    assert (Drop(0, 1).volts, Drop(0, 1).ohms) == (0.0, 0.0)
    assert (LED.ohm, LED.shift, LED.heat) == (0.0, 0.0, 0.0)
    lamp = Filament(0, 1, 6.0, 0.1)
    assert (lamp.exponent, lamp.ohms, FILAMENT_EXPONENT) == (0.55, 0.0, 0.55)
    converter = Converter(0, 1, 2, 3, 5.0, 0.8, 3.0)
    assert (converter.idle_watts, converter.ohms) == (0.0, 0.0)
