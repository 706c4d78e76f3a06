"""What flows between supplies that are joined, by hand: the volts apart at their worst over all that lies between."""

from __future__ import annotations

import pytest

import postcheck
from postcheck.survey import Survey

COLD = 1.0 - 15.0 * 0.00393  # of wires in 5 degC, against 20 degC (IEC 60028)
INSIDE, WIRES = 0.2, 2.0 + 1.0

TEXT = """
format = 1
[build]
name = "Tender"
air = "5..35 degC"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
tolerance = "5 %"
rated = "1 A"
resistance = "0.1 ohm"
[supply.aux]
place = "base"
shares_negative_with = "main"
resistance = "0.1 ohm"
{aux}
[place.base]
access = "open"
[place.hull]
access = "open"
[circuit.deck]
supply = "main"
[[load]]
name = "horn"
kind = "sound"
circuit = "deck"
place = "hull"
typical = "50 mA"
most = "80 mA"
[[run]]
name = "feed"
line = "deck"
ends = ["base", "hull"]
ohms = "2 ohm"
[[run]]
name = "aux feed"
line = "aux+"
ends = ["base", "hull"]
ohms = "1 ohm"
[[run]]
name = "back"
line = "main-"
ends = ["base", "hull"]
ohms = "0.5 ohm"
[[join]]
place = "hull"
lines = ["deck", "aux+"]
"""
NINE = 'kind = "adaptor"\nvolts = "9 V"\ntolerance = "10 %"\nrated = "1 A"'
CELLS = 'kind = "battery"\nchemistry = "li-ion"\nsize = "18650"\ncells = 3\nprotected = true'
TWELVE = 'kind = "adaptor"\nvolts = "12 V"\ntolerance = "10 %"\nrated = "1 A"'


def near(value: float) -> object:
    return pytest.approx(value, rel=1e-6)


@pytest.mark.parametrize(
    ("aux", "low"),
    # cells of 3.7 V are full at 4.2 V each, as much as the adaptor has at its highest, and empty at 3.0 V
    [(NINE, 9.0 * 0.9), (CELLS, 3 * 3.0)],
    ids=["adaptor", "cells"],
)
def test_a_supply_is_pushed_most_while_it_is_low_and_the_other_high(aux: str, low: float) -> None:
    made = Survey(postcheck.loads(TEXT.format(aux=aux)))
    push = (12.6 - low) / (INSIDE + COLD * WIRES)
    assert made.electrics.supplies["aux"].reverse == near(push)
    assert made.electrics.runs["aux feed"].highest == near(push)
    # with the horn on, 80 mA of which come by either way as their resistances have it
    shared = 0.08 * (0.1 + COLD * 1.0) / (INSIDE + COLD * WIRES)
    assert made.electrics.runs["feed"].highest == near(push + shared)
    assert made.electrics.supplies["main"].highest == near(push + shared)
    # what nothing flows back through warms nothing
    assert made.electrics.runs["back"].highest == near(0.08)


def test_adaptors_of_the_same_volts_do_not_take_what_the_other_has_more() -> None:
    """A regulated one that is pushed stops giving: the check tells of it, and no wire carries anything for it."""
    twelve = Survey(postcheck.loads(TEXT.format(aux=TWELVE.replace("10 %", "5 %"))))
    assert twelve.electrics.joined == (("main", "aux"),)
    assert twelve.electrics.supplies["aux"].reverse == 0.0
    assert twelve.electrics.runs["aux feed"].highest < 0.08


@pytest.mark.parametrize(("push", "pushed"), [(0.9e-4, False), (1.05e-4, True)])
def test_less_than_a_tenth_of_a_milliamp_is_no_supply_pushed_by_another(push: float, pushed: bool) -> None:
    """That is rounding. A supply that is pushed by more is pushed by all that lies between one at its lowest and one at its highest."""
    apart = push / 1.05 * (INSIDE + WIRES)
    text = TEXT.replace('"50 mA"\nmost = "80 mA"', '"1 uA"\nmost = "1 uA"').replace("5..35", "20..20")
    aux = TWELVE.replace('"12 V"', f'"{12.0 - apart:.9f} V"').replace("10 %", "5 %")
    made = Survey(postcheck.loads(text.format(aux=aux)))
    most = (12.6 - 0.95 * (12.0 - apart)) / (INSIDE + WIRES)
    assert made.electrics.supplies["aux"].reverse == pytest.approx(most if pushed else push, rel=0.02)


def test_a_switch_carries_what_one_supply_pushes_into_the_other() -> None:
    """As the feed behind it does; its contact lies between them too."""
    text = TEXT.format(aux=NINE).replace(
        '[circuit.deck]\nsupply = "main"',
        '[circuit.deck]\nsupply = "main"\non_off = { rated = "5 A", contact = "0.1 ohm" }',
    )
    made = Survey(postcheck.loads(text)).electrics
    # 12.6 V against 8.1 through 2 + 1 ohm of cold wire, 0.2 inside and the contact; the horn's 80 mA besides, so some more
    assert made.switches["deck"].highest == near(made.runs["feed"].highest)
    assert made.switches["deck"].highest > (12.6 - 9.0 * 0.9) / (3.0 * COLD + 0.3)
