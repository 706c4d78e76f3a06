"""Another battery: whichever of its remedies is followed, all that was found of it goes."""

from __future__ import annotations

from pathlib import Path

import pytest

import postcheck
from postcheck.catalogue import CellSize, Chemistry, rows
from postcheck.mending import Mending
from postcheck.report import Finding
from postcheck.survey import Survey
from tests.remedies.test_proven import edited

from .offers import given, offers

SOUND = Path(__file__).parent.parent / "builds" / "sound" / "coin-cell-behind-a-screw.post.toml"


def on_a_coin(kind: str, ohms: int, hours: int, more: str = "") -> str:
    text = SOUND.read_text(encoding="utf-8").replace('wanted = "1.7 mA"\n', "")
    text = text.replace("smd-0603-red", kind).replace("620 ohm", f"{ohms} ohm")
    wanted = f'runs_for = "{hours} h"\n' if hours else ""
    return text.replace("cells = 1\n", f"cells = 1\n{wanted}{more}")


def found(text: str) -> dict[str, Finding]:
    return {finding.id: finding for finding in postcheck.check(postcheck.loads(text)).files[0].findings}


@pytest.mark.parametrize(
    ("kind", "ohms", "hours", "checks", "says"),
    [
        # a white of some 3 V fades on two AAA: three of them, with the resistor for 1.5 V more
        ("led-3mm-white", 47, 40, {"lamp.dim", "battery.dim-early", "battery.overload"}, "Use 3 alkaline AAA cells instead, with"),
        ("led-3mm-red", 47, 20, {"battery.too-short", "battery.overload"}, "Use 2 alkaline AAA cells instead."),
        ("led-3mm-red", 47, 40, {"battery.too-short", "battery.overload"}, "Use 2 alkaline AA cells instead."),
        ("led-3mm-red", 47, 0, {"battery.overload"}, "Use 2 alkaline AAA cells instead."),
    ],
)  # fmt: skip
def test_all_findings_of_a_coin_cell_have_one_remedy_and_it_serves_all(
    kind: str, ohms: int, hours: int, checks: set[str], says: str
) -> None:
    text = on_a_coin(kind, ohms, hours)
    before = {name: one for name, one in found(text).items() if one.severity != "note"}
    assert {one.check for one in before.values()} == checks
    before.pop("lamp.dim:cabin lamp", None)  # no resistor cures it, and it goes with the cells
    assert {one.remedy for one in before.values()} == {next(iter(before.values())).remedy}
    for finding in before.values():
        assert (finding.remedy or "").startswith(says)
        assert finding.because_of is None
        assert not found(edited(text, finding.edits or ()))


def test_where_no_cells_serve_all_none_are_named() -> None:
    """2.3 Ah are more than two AAA hold, though these carry the load."""
    before = found(on_a_coin("led-3mm-red", 47, 100))
    assert set(before) == {"battery.too-short:main", "battery.overload:main"}
    assert not any("AA" in (one.remedy or "") for one in before.values())


def test_what_was_measured_of_the_old_cells_goes_with_them() -> None:
    more = 'capacity = "200 mAh"\nresistance = "20 ohm"\nrated = "2 mA"\n'
    before = found(on_a_coin("led-3mm-red", 220, 0, more))["battery.overload:main"]
    assert {edit.path[-1] for edit in before.edits or () if edit.value is None} == {
        "capacity",
        "resistance",
        "rated",
    }


def test_a_bare_lamp_gets_its_resistor_with_the_cells_that_would_destroy_it() -> None:
    """Three AAA give 4.5 V: a blue of 3.2 V is left 1.3 V, and takes some 13 mA through 100 ohm."""
    path = SOUND.parent.parent / "faulty" / "lamp-no-resistor-coin-cell.post.toml"
    finding = found(path.read_text(encoding="utf-8"))["battery.overload:main"]
    assert "3 alkaline AAA cells" in (finding.remedy or "")
    assert "100 ohm" in (finding.remedy or "")
    assert "quick fuse" in (finding.remedy or "")


@pytest.mark.parametrize("kind", ["led-3mm-red", "led-3mm-white", "led-3mm-yellow"])
@pytest.mark.parametrize("ohms", [10, 47, 220])
@pytest.mark.parametrize("hours", [0, 20, 100])
def test_followed_one_after_the_other_none_undoes_another(kind: str, ohms: int, hours: int) -> None:
    text = on_a_coin(kind, ohms, hours)
    before = found(text)
    for finding in before.values():
        if finding.edits and finding.severity != "note":
            after = found(edited(text, finding.edits))
            assert finding.id not in after
            assert {name for name, one in after.items() if one.severity != "note"} <= before.keys()
    whole = text
    for finding in before.values():
        if finding.edits and finding.severity != "note":
            whole = edited(whole, finding.edits)
    cured = {name for name, one in before.items() if one.edits and one.severity != "note"}
    assert not cured & found(whole).keys()


def test_no_cells_are_offered_with_which_a_lamp_burns_that_is_over_its_rating_already() -> None:
    """Through 10 ohm a coin cell's own 15 ohm keep a red to 40 mA; two AAA would give it 92 mA."""
    text = on_a_coin("led-3mm-red", 10, 5)
    for finding in found(text).values():
        if finding.edits:
            after = postcheck.check(postcheck.loads(edited(text, finding.edits))).files[0]
            assert after.figures["lamps"]["cabin lamp"]["nominal"] < 1.25 * 0.0401


def cell(chemistry: str, size: str, cells: int, more: str = "") -> str:
    return f"""
format = 1
build = {{ name = "Buoy" }}
supply.main = {{ kind = "battery", place = "float", chemistry = "{chemistry}", size = "{size}", cells = {cells}{more} }}
place.float = {{ access = "cover", opens_with = "tool" }}
circuit.light = {{ supply = "main" }}
"""


BULB = '[[lamp]]\nname = "top"\ncircuit = "light"\nplace = "float"\nheld_off = true\nkind = "rice-'
LED = '[[lamp]]\nname = "top"\ncircuit = "light"\nplace = "float"\nkind = "led-3mm-'
TAKERS = {
    "a bulb": f'{BULB}3v"\n',
    "a bulb of half its volts": f'{BULB}1.5v"\nresistor = "22 ohm"\n',
    "bulbs in series": f'{BULB}3v"\nseries = 2\n',
    "bulbs in series behind a resistor": f'{BULB}3v"\nseries = 2\nresistor = "100 ohm"\n',
    "bulbs that share a resistor": f'{BULB}1.5v"\nparallel = 3\none_resistor = true\nresistor = "22 ohm"\n',
    "a bare LED": f'{LED}blue"\n',
    "LEDs in series": f'{LED}white"\nseries = 2\nresistor = "100 ohm"\n',
    "an LED of a constant current": 'output = "20 mA constant 1 V compliance"\n' + f'{LED}red"\n',
    "a strip": '[[strip]]\nname = "top"\ncircuit = "light"\nplace = "float"\nkind = "strip-5v-white-60"\nlength = "100 mm"\n',
    "a load": '[[load]]\nname = "top"\ncircuit = "light"\nplace = "float"\ntypical = "4 mA"\nlowest = "2.5 V"\nhighest = "7 V"\n',
    "a motor": '[[load]]\nname = "top"\ncircuit = "light"\nplace = "float"\nkind = "motor"\ntypical = "40 mA"\nstarting = "90 mA"\nlowest = "1 V"\nhighest = "7 V"\ncase = "20 cm2"\n',
}  # fmt: skip


def on_cells(taker: str, chemistry: str, size: str, cells: int, more: str = "") -> str:
    text = cell(chemistry, size, cells, more)
    if taker.startswith("output"):
        text = text.replace('supply = "main" }', f'supply = "main", {taker.partition(chr(10))[0]} }}')
        taker = taker.partition("\n")[2]
    return text + taker


@pytest.mark.parametrize("runs", ["", ', runs_for = "30 h"'])
@pytest.mark.parametrize(
    ("chemistry", "size", "cells"),
    [("lithium-coin", "cr2032", 1), ("lithium-coin", "cr2016", 2), ("alkaline", "lr44", 2)],
)
@pytest.mark.parametrize("taker", TAKERS)
def test_whatever_hangs_on_a_coin_cell_each_remedy_cures(
    taker: str, chemistry: str, size: str, cells: int, runs: str
) -> None:
    text = on_cells(TAKERS[taker], chemistry, size, cells, runs)
    mending = Mending(postcheck.loads(text))
    assert mending.report.findings
    while (step := mending.next()) is not None:
        assert mending.take(step), step.finding.remedy


def test_a_bulb_in_the_place_of_cells_gets_what_is_above_its_volts() -> None:
    """Three AAA give 4.5 V: of a bulb of 1.5 V and 15 mA 3 V are left, which is 200 ohm, and 220 ohm in E12."""
    finding = found(on_cells(f'{BULB}1.5v"\nresistor = "22 ohm"\n', "alkaline", "lr44", 1))[
        "battery.overload:main"
    ]
    changed = {edit.path: edit.value for edit in finding.edits or ()}
    assert changed["supply", "main", "cells"] == "1"
    assert not any(path[0] == "lamp" for path in changed)  # 1.5 V are its own
    two = found(on_cells(f'{BULB}1.5v"\nresistor = "68 ohm"\n', "lithium-coin", "cr2032", 1))
    says = two["battery.overload:main"].remedy or ""
    assert says.startswith("Use 3 alkaline AAA cells instead, with 220 ohm")


def test_a_lamp_that_is_dark_now_gets_a_resistor_for_its_light() -> None:
    """Two whites of 3.2 V are dark on 3 V; what a few picoamperes ask for of 1.5 V more is no resistor."""
    for chemistry, size, cells in (("lithium-coin", "cr2032", 1), ("alkaline", "aaa", 4)):
        for finding in found(on_cells(TAKERS["LEDs in series"], chemistry, size, cells)).values():
            assert "Gohm" not in (finding.remedy or "")
            assert "Mohm" not in (finding.remedy or "")


# Every size that the catalogue has, but coin cells: what they hold and may give is theirs.
SIZES = [
    (chemistry.name, size)
    for chemistry in rows("battery")
    if isinstance(chemistry, Chemistry)
    for size in chemistry.sizes
    if not size.coin
]


@pytest.mark.parametrize(("chemistry", "size"), SIZES, ids=[f"{name} {size.name}" for name, size in SIZES])
@pytest.mark.parametrize("much", [0.9, 1.5])
@pytest.mark.parametrize("long", [1.4, 6.0])
def test_no_remedy_writes_what_no_cell_of_the_size_holds_or_gives(
    chemistry: str, size: CellSize, much: float, long: float
) -> None:
    amps = much * (size.most_current or 0.0)
    hours = long * (size.capacity or 0.0) / 3600.0 / amps
    count = size.cells if size.cells > 1 else 3
    load = (
        TAKERS["a load"]
        .replace("4 mA", f"{amps * 1e3:.3f} mA")
        .replace("2.5 V", "0.5 V")
        .replace("7 V", "30 V")
    )
    more = f', protected = true, runs_for = "{hours:.3f} h"'
    before = found(on_cells(load, chemistry, size.name, count, more))
    assert "battery.too-short:main" in before
    assert ("battery.overload:main" in before) == (much > 1.0)
    for finding in before.values():
        assert not any(edit.path[-1] in ("capacity", "rated") and edit.value for edit in finding.edits or ())


def test_where_the_size_is_not_of_the_catalogue_its_capacity_and_rating_are_to_be_bought() -> None:
    text = on_cells(
        TAKERS["a load"].replace("4 mA", "200 mA"),
        "lipo",
        "big",
        1,
        ', capacity = "300 mAh", rated = "100 mA", protected = true, runs_for = "4 h"',
    )
    before = found(text.replace(', size = "big"', ""))
    assert {edit.path[-1] for one in before.values() for edit in one.edits or ()} >= {"capacity", "rated"}


def test_one_more_cell_is_offered_first_only_where_a_lamp_fades() -> None:
    build = postcheck.loads(on_a_coin("led-3mm-white", 47, 40))
    for dim, first in ((True, "Use 3 alkaline"), (False, "Use 2 alkaline")):
        made = Survey(build)
        battery = made.batteries["main"]
        assert battery.dim
        made.__dict__["batteries"] = {"main": battery if dim else battery._replace(dim=())}
        offered = offers(made, given("battery.overload", ("supply", "main"), figures={"load": 0.01}))
        assert offered[0][0].startswith(first)
