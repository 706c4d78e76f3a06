"""An answer is what `check` gives for a file with the same numbers: each question against such a file."""

from __future__ import annotations

from typing import Any

import pytest

import postcheck
from postcheck.ask import battery, bore, drop, fuse, resistor, turn
from postcheck.report import FileReport
from postcheck.survey import Survey

HEAD = """
format = 1
[build]
name = "Harbour tender"
[supply.main]
{supply}
place = "base"
[place.base]
access = "open"
[place.bow]
access = "open"
[circuit.lights]
supply = "main"
"""
ADAPTOR = 'kind = "adaptor"\nvolts = "12 V"\nrated = "{rated}"\nfuse = "{fuse}"'
WAY = """
[[run]]
name = "feed"
line = "lights"
ends = ["base", "bow"]
length = "260 mm"
wire = "{wire}"
[[run]]
name = "negative"
line = "main-"
ends = ["base", "bow"]
length = "260 mm"
wire = "{wire}"
"""
LOAD = '[[load]]\nname = "sound"\ncircuit = "lights"\nplace = "{place}"\ntypical = "{current}"\n'


def adaptor(rated: str = "3 A", fuse: str = "500 mA") -> str:
    return HEAD.format(supply=ADAPTOR.format(rated=rated, fuse=fuse))


def checked(text: str) -> FileReport:
    return postcheck.check(postcheck.loads(text)).files[0]


def found(file: FileReport, check: str) -> bool:
    return any(finding.check == check for finding in file.findings)


@pytest.mark.parametrize("across", ["5 mm", "2.6 mm", "2.2 mm", "1.9 mm"])
def test_bore(across: str) -> None:
    post = f'[post]\nfrom = "base"\nto = "bow"\nbore = "{across}"\nlength = "100 mm"\n'
    runs = (
        '[[run]]\nspare = true\nends = ["base", "bow"]\nwire = "ptfe-28"\nconductors = 3\n'
        '[[run]]\nspare = true\nends = ["base", "bow"]\nwire = "enamel-0.10"\nconductors = 2\n'
        '[cable.ribbon]\noutside = "1.2 mm"\n'
        '[[run]]\nspare = true\nends = ["base", "bow"]\ncable = "ribbon"\n'
    )
    file = checked(adaptor() + post + runs)
    figures = file.figures["passages"]["post"]
    answer = bore(across, ["3 ptfe-28", "2 enamel-0.10", "1.2 mm"])
    assert answer.figures["bundle"].value == figures["smallest_bore"]
    assert answer.figures["fill"].value == figures["fill"]
    assert answer.ok == (not found(file, "passage.tight") and not found(file, "passage.cannot-fit"))
    assert answer.says.startswith("No") == (figures["verdict"] != "fits")


@pytest.mark.parametrize(
    ("what", "on", "more", "said"),
    [
        ("smd-0402-red", "12 V", {}, 'kind = "smd-0402-red"\nseries = 1'),
        ("3 smd-0603-white", "12 V", {}, 'kind = "smd-0603-white"\nseries = 3'),
        ("smd-0603-white", "5 V", {"current": "8 mA"}, 'kind = "smd-0603-white"\nwanted = "8 mA"'),
        ("wheat-6v", "9 V", {}, 'kind = "wheat-6v"'),
    ],
)
def test_resistor(what: str, on: str, more: dict[str, Any], said: str) -> None:
    answer = resistor(what, on, **more)
    ohms = answer.figures["ohms"].value
    lamp = f'[[lamp]]\nname = "bow"\ncircuit = "lights"\nplace = "bow"\nlead = "0 mm to base"\nresistor = "{ohms:g} ohm"\n{said}\n'
    text = adaptor().replace('volts = "12 V"', f'volts = "{on}"') + '[usual]\nlead = "ptfe-28"\n' + lamp
    figures = checked(text).figures["lamps"]["bow"]
    for name in ("nominal", "highest"):
        assert answer.figures[name].value == pytest.approx(figures[name], rel=1e-9)
    if what != "wheat-6v":
        assert answer.figures["lowest"].value == pytest.approx(figures["lowest"], rel=1e-9)
    # and with the power that was named nothing is found about it
    power = f"{ohms:g} ohm {answer.figures['body'].value:g} W"
    file = checked(text.replace(f"{ohms:g} ohm", power))
    assert [finding.id for finding in file.findings if finding.check.startswith(("lamp.", "resistor."))] == []


def test_the_next_value_down_would_not_do() -> None:
    answer = resistor("3 smd-0603-white", "12 V")
    assert answer.figures["ohms"].value == 270.0
    lamp = '[[lamp]]\nname = "bow"\ncircuit = "lights"\nplace = "base"\nkind = "smd-0603-white"\nseries = 3\nresistor = "220 ohm"\n'
    figures = checked(adaptor() + lamp).figures["lamps"]["bow"]
    highest = figures["highest"]
    assert isinstance(highest, float)
    assert highest > answer.figures["rated"].value >= answer.figures["highest"].value


def test_a_lower_value_that_is_named_passes() -> None:
    caution = resistor("3 smd-0603-white", "12 V").caution or ""
    assert "180 ohm gives" in caution
    lamp = '[[lamp]]\nname = "bow"\ncircuit = "lights"\nplace = "base"\nkind = "smd-0603-white"\nseries = 3\nresistor = "180 ohm 1/4 W"\n'
    file = checked(adaptor() + lamp)
    assert [finding.id for finding in file.findings if finding.check.startswith("lamp.")] == []
    nominal, highest = (float(file.figures["lamps"]["bow"][name] or 0.0) for name in ("nominal", "highest"))
    assert f"gives {1e3 * nominal:.3g} mA" in caution
    assert f"come to {1e3 * highest:.3g} mA" in caution


def test_drop() -> None:
    answer = drop("260 mm", "ptfe-28", "120 mA", "12 V")
    runs = checked(
        adaptor() + WAY.format(wire="ptfe-28") + LOAD.format(place="bow", current="120 mA")
    ).figures["runs"]
    assert answer.figures["lost"].value == pytest.approx(
        float(runs["feed"]["drop"] or 0) + float(runs["negative"]["drop"] or 0), rel=1e-9
    )
    assert answer.figures["lost"].value == pytest.approx(
        drop("260 mm", "ptfe-28", "120 mA").figures["lost"].value, rel=1e-9
    )


@pytest.mark.parametrize(
    ("wire", "length"), [("ptfe-28", "160 mm"), ("ptfe-24", "40 mm"), ("pvc-24-solid", "60 mm")]
)
def test_turn(wire: str, length: str) -> None:
    answer = turn(length, [f"5 {wire}"], "10 /day for 10 years", "12 mm")
    whole = answer.figures["turn"].value
    post = '[post]\nfrom = "base"\nto = "bow"\nbore = "12 mm"\nlength = "{length}"\nturn = "{turn} rad"\nstop = true\ncycles = "10 /day for 10 years"\n'
    run = f'[[run]]\nspare = true\nends = ["base", "bow"]\nwire = "{wire}"\nconductors = 5\n'
    lives = checked(adaptor() + post.format(length=length, turn=repr(whole)) + run)
    assert not found(lives, "passage.strain")
    more = whole + 0.0175
    breaks = checked(adaptor() + post.format(length=length, turn=repr(more)) + run)
    assert found(breaks, "passage.strain") or found(breaks, "passage.loops")
    # without a bore the wires lie as close, and it comes to the same
    assert turn(length, [f"5 {wire}"], "10 /day for 10 years").figures["turn"].value == pytest.approx(whole)


@pytest.mark.parametrize(
    ("current", "wire"), [("340 mA", "ptfe-28"), ("20 mA", "enamel-0.10"), ("850 mA", "ptfe-30")]
)
def test_fuse(current: str, wire: str) -> None:
    answer = fuse(current, wire, "12 V", "260 mm")
    rated = answer.figures["fuse"].value
    text = WAY.format(wire=wire) + LOAD.format(place="bow", current=current)
    file = checked(adaptor(fuse=f"{rated!r} A") + text)
    assert [finding.id for finding in file.findings if finding.check.startswith(("fuse.", "wire."))] == []
    smaller = checked(adaptor(fuse=f"{rated * 0.79!r} A") + text)  # the one before it in R10
    assert found(smaller, "fuse.too-small") or rated <= 0.1


def test_no_fuse_does_both_where_the_check_finds_none() -> None:
    answer = fuse("2 A", "enamel-0.10", "12 V", "260 mm")
    assert not answer.ok
    assert "enamel-0." in answer.reason.rpartition(";")[2]
    file = checked(
        adaptor(rated="20 A", fuse="2.5 A")
        + WAY.format(wire="enamel-0.10")
        + LOAD.format(place="bow", current="2 A")
    )
    assert found(file, "wire.hot") or found(file, "wire.hurt-before-fuse") or found(file, "fuse.never-opens")


@pytest.mark.parametrize(
    ("what", "supply", "more"),
    [
        ("4 alkaline-aa", 'chemistry = "alkaline"\nsize = "aa"\ncells = 4', {}),
        ("alkaline-9v", 'chemistry = "alkaline"\nsize = "9v"', {"lowest": "7.5 V"}),
        ("cr2032", 'chemistry = "lithium-coin"\nsize = "cr2032"\ncells = 1', {}),
        ("lipo", 'chemistry = "lipo"\ncells = 1\ncapacity = "500 mAh"', {"capacity": "500 mAh"}),
    ],
)
def test_battery(what: str, supply: str, more: dict[str, str]) -> None:
    current = "2 mA" if what == "cr2032" else "20 mA"
    answer = battery(what, current, **more)
    load = LOAD.format(place="base", current=current) + (
        f'lowest = "{more["lowest"]}"\n' if "lowest" in more else ""
    )
    survey = Survey(postcheck.loads(HEAD.format(supply=f'kind = "battery"\n{supply}') + load))
    figures = survey.batteries["main"]
    assert answer.figures["lasts"].value == (figures.stops_seconds if "lowest" in more else figures.seconds)
    assert answer.figures["empty"].value == figures.empty_volts
    assert (answer.caution is not None) == (what in ("cr2032", "lipo"))


def test_too_much_for_a_coin_cell_is_a_no_as_it_is_a_stop() -> None:
    answer = battery("cr2032", "5 mA")
    file = checked(
        HEAD.format(supply='kind = "battery"\nchemistry = "lithium-coin"\nsize = "cr2032"\ncells = 1')
        + LOAD.format(place="base", current="5 mA")
    )
    assert (answer.ok, answer.says) == (False, "No")
    assert found(file, "battery.overload")
