"""Which wiring of a harbour tug a plan likes best, by its own order of aims: against what a hand builds for it."""

from __future__ import annotations

from typing import Any

import pytest

import postcheck
from postcheck.limits import Limits
from postcheck.planned import Planned, PlannedLamp
from postcheck.planner import plan
from postcheck.planner.cost import cost_of
from postcheck.reading.loading import built
from tests.planner.wishes import toml


def _tug(windows: int, *more: dict[str, Any], house: str = "60 cm2") -> dict[str, Any]:
    """Windows in a sealed house, behind a hub in the keel; more lamps on a mast from there."""
    cabin = {"name": "windows", "circuit": "cabin", "kind": "smd-0603-warm-white", "place": "house"}
    tables = {
        "format": 1,
        "build": {"name": "Harbour tug", "stage": "wiring"},
        "stock": {"series": "E12"},
        "supply": {"main": {"kind": "adaptor", "place": "base", "volts": "12 V"}},
        "place": {
            "base": {"access": "open"},
            "keel": {"access": "cover", "material": "abs", "surface": "200 cm2"},
            "house": {"access": "sealed", "material": "styrene", "surface": house},
        },
        "post": {"from": "base", "to": "keel", "bore": "4 mm", "length": "120 mm", "edges": "bushed"},
        "way": [{"from": "house", "to": "keel", "length": "130 mm"}],
        "circuit": {"cabin": {"supply": "main"}},
        "lamp": [cabin | {"count": windows}, *more],
    }  # fmt: skip
    if more:
        tables["place"]["top"] = {"access": "sealed", "material": "styrene", "surface": "12 cm2"}
        tables["passage"] = {
            "mast": {"from": "keel", "to": "top", "bore": "2 mm", "length": "90 mm", "edges": "bushed"}
        }
        tables["way"].append({"from": "top", "to": "keel", "length": "150 mm"})
        tables["circuit"] |= {"nav": {"supply": "main"}, "beacon": dict(_FLASHER)}
    return tables


_FLASHER = {
    "supply": "main",
    "behaviour": "flash",
    "rate": "40 /min",
    "on_share": "15 %",
    "output": "100 mA, 0.2 V drop",
}
_PORT = {"name": "port", "circuit": "nav", "kind": "smd-0603-red", "place": "house", "wanted": "3..6 mA"}
_MASTHEAD = {"name": "masthead", "circuit": "nav", "kind": "smd-0402-white", "place": "top", "count": 2}
_BLINKER = {"name": "blinker", "circuit": "beacon", "kind": "smd-0402-amber", "place": "top"}


def _planned(tables: dict[str, Any], aims: tuple[str, ...] = ()) -> tuple[Planned, dict[str, PlannedLamp]]:
    planned = plan(postcheck.loads(toml(tables)), aims=aims, seconds=60.0)
    assert planned.text is not None
    assert postcheck.check(postcheck.loads(planned.text), stage="wiring").files[0].verdict == "clear"
    return planned, {lamp.name: lamp for lamp in planned.lamps}


@pytest.mark.parametrize(("parallel", "shared", "ends"), [(1, "", 1), (11, "", 11), (11, "one resistor", 1)])
def test_each_end_of_a_lead_without_its_resistor_is_one_that_a_bench_supply_can_harm(
    parallel: int, shared: str, ends: int
) -> None:
    """Eleven lamps with a resistor each at the hub have eleven bare ends there, in however many entries a file has them."""
    tables = _tug(1)
    (lamp,) = tables["lamp"]
    del lamp["count"]
    lamp |= {"parallel": parallel, "lead": "130 mm to keel", "resistor": "820 ohm 1/4 W at keel"}
    lamp |= {"one_resistor": True} if shared else {"strings_share": "return"} if parallel > 1 else {}
    assert cost_of(built(tables), ("post",), {}, Limits()).bare == ends


@pytest.mark.parametrize(
    ("count", "house", "layout", "amps"),
    [
        (7, "40 cm2", [(3, 1), (2, 2)], 33.8e-3),
        (11, "60 cm2", [(3, 3), (2, 1)], 46.6e-3),
        (13, "60 cm2", [(3, 3), (2, 2)], 48.4e-3),
        (17, "60 cm2", [(3, 5), (2, 1)], 51.2e-3),
    ],
)
def test_resistors_out_of_a_warm_place_are_no_reason_for_single_lamps(
    count: int, house: str, layout: list[tuple[int, int]], amps: float
) -> None:
    """By hand: of 12 V three windows of 2.95 V leave 3.15 V, 270 ohm for 11.7 mA, and two 6.1 V, 560 ohm for 10.9 mA.

    Eleven: 3 x 11.8 + 11 = 46.5 mA, of which the resistors take 0.18 W in the keel; single lamps of 820 ohm have 11 mA each
    and 1.1 W of heat there. Thirteen and seventeen have less light, as much as the house stands.
    """
    planned, lamps = _planned(_tug(count, house=house))
    assert [(lamp.series, lamp.parallel) for lamp in lamps.values()] == layout
    assert {lamp.seat for lamp in lamps.values()} == {"keel"}
    assert planned.supplies[0][1] == pytest.approx(amps, rel=0.01)


def test_a_wiring_that_a_draft_dims_too_much_is_made_bright_before_it_is_left_for_another() -> None:
    """Thirteen windows beside a mast: their drafts are single lamps with 9 mA, and threes and twos with 7.5 mA and less.

    As the checks allow it, threes have 330 ohm and 10 mA, for half the current of single lamps in all (130 mA). The values by hand
    and by `check`.
    """
    planned, lamps = _planned(_tug(13, _PORT, _MASTHEAD, _BLINKER))
    assert (lamps["windows"].series, lamps["windows 2"].series) == (3, 2)
    assert lamps["windows"].resistor == "330 ohm 1/4 W"
    assert planned.supplies[0][1] < 65e-3


def test_light_is_not_left_for_one_value_of_resistor_fewer() -> None:
    """Both lamps on the mast had the 2.2 kohm of 'port'. By `check` the mast stands 1.5 kohm for two, a clear step more, and no 1.2 kohm.

    Then neither of the two goes further, and both say why.
    """
    from postcheck.renderers.plan import render  # noqa: PLC0415

    planned, lamps = _planned(_tug(3, _PORT, _MASTHEAD, _BLINKER))
    ohms = {name: lamp.resistor for name, lamp in lamps.items() if name != "windows"}
    assert ohms == {"port": "2.2 kohm 1/4 W", "masthead": "1.5 kohm 1/4 W", "blinker": "2.2 kohm 1/4 W"}
    told = [line for line in render(planned).splitlines() if line.startswith(("'masthead'", "'blinker'"))]
    assert len(told) == 2
    assert all(line.endswith("of what was planned: place 'top' allows no more.") for line in told)
    assert planned.text is not None
    for less in (planned.text.replace("1.5 kohm", "1.2 kohm"), planned.text.replace("1.5 kohm", "1 kohm")):
        found = postcheck.check(postcheck.loads(less), stage="wiring").files[0].findings
        assert [one.id for one in found if one.severity != "note"] == ["place.too-hot:top"]


def test_lamps_that_look_alike_do_not_lose_that_for_one_kind_of_resistor_fewer() -> None:
    """Twos of 680 ohm beside threes of 270 ohm have 9.1 and 11.7 mA: told as unequal; 560 ohm gives them 10.9 mA."""
    planned, lamps = _planned(_tug(7, _PORT, _MASTHEAD, _BLINKER), ("light",))
    assert lamps["windows 2"].resistor == "560 ohm 1/4 W"
    assert planned.text is not None
    found = postcheck.check(postcheck.loads(planned.text), stage="wiring").files[0].findings
    assert "lamp.unequal" not in {one.check for one in found}


def test_a_resistor_that_its_place_stands_sits_with_its_lamp_and_like_ones_sit_alike() -> None:
    """What 64 cm2 stand is found by `check`: the 45 mW of 'port' beside the windows, and no resistors of theirs, some 190 mW."""
    planned, lamps = _planned(_tug(11, _PORT, _MASTHEAD, house="64 cm2"))
    seats = {name: lamp.seat for name, lamp in lamps.items()}
    assert seats == {"windows": "keel", "windows 2": "keel", "port": "house", "masthead": "keel"}
    _, smaller = _planned(_tug(11, _PORT, _MASTHEAD, house="60 cm2"))
    assert {lamp.seat for lamp in smaller.values()} == {"keel"}
    assert planned.text is not None
    inside = planned.text.replace('"270 ohm 1/4 W at keel"', '"270 ohm 1/4 W"')
    assert inside != planned.text
    found = postcheck.check(postcheck.loads(inside), stage="wiring").files[0].findings
    assert "place.too-hot:house" in {one.id for one in found}


def test_how_to_have_strings_planned_anew_is_told_and_works() -> None:
    """Eleven single lamps stay as they are, for that costs no more conductors; as told, less heat is found for a `count`."""
    from postcheck.renderers.plan import render  # noqa: PLC0415

    tables = _tug(1)
    (lamp,) = tables["lamp"]
    del lamp["count"]
    lamp |= {"parallel": 11, "strings_share": "return", "lead": "130 mm to keel"}
    single, _ = _planned(tables)
    assert single.text is not None
    stays = plan(postcheck.loads(single.text), anew=True, seconds=60.0)
    assert stays.stays
    assert "unless the file gives `count` instead of `series` and `parallel`" in render(stays)
    counted = single.text.replace("parallel = 11", "count = 11").replace('strings_share = "return"\n', "")
    better = plan(postcheck.loads(counted), anew=True, aims=("heat",), seconds=60.0)
    assert [(one.series, one.parallel) for one in better.lamps] == [(3, 3), (2, 1)]
