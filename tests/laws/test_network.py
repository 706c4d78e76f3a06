"""Laws of the network: what more ohms, thicker wires and tighter tolerances can do, and what they cannot."""

from __future__ import annotations

import copy
import math
from typing import Any

from hypothesis import assume, given
from hypothesis import strategies as st

from postcheck.physics.network import (
    Converter,
    Demand,
    Drop,
    Filament,
    Resistance,
    Source,
    SteadyCurrent,
    String,
)
from postcheck.reading.loading import built
from postcheck.survey.network.elements import REFERENCE, Corner
from postcheck.survey.network.states import States
from postcheck.wiring import resolve
from tests.laws.random_tables import (
    Tables,
    builds,
    changed,
    figures,
    law,
    resisted,
    with_ohms,
)
from tests.outside import random_corners

HAIR = 1e-8  # relative, of what two solutions may differ by


@law(60)
@given(builds(), st.data())
def test_more_series_resistance_never_raises_a_lamps_own_current(tables: Tables, data: st.DataObject) -> None:
    assume(resisted(tables))
    number = data.draw(st.sampled_from(resisted(tables)), label="lamp")
    times = data.draw(st.sampled_from([1.01, 1.2, 2.0, 10.0]), label="times")
    name = tables["lamp"][number]["name"]
    before = figures(tables)["lamps"].get(name)
    after = figures(with_ohms(tables, number, lambda ohms: ohms * times))["lamps"].get(name)
    assume(before is not None)
    for key in ("lowest", "nominal", "highest", "alone"):
        assert after[key] <= before[key] * (1 + HAIR), (key, before[key], after[key])


@law(60)
@given(builds("builds", "corners", "warm"), st.data())
def test_a_thicker_wire_never_raises_its_own_drop_where_there_is_one_lamp(
    tables: Tables, data: st.DataObject
) -> None:
    one = copy.deepcopy(tables)
    one.pop("strip", None)
    one.pop("load", None)
    one["lamp"] = [data.draw(st.sampled_from(tables.get("lamp") or [None]), label="lamp")]
    assume(one["lamp"][0] is not None)
    runs = [number for number, run in enumerate(one.get("run", ())) if "ohms" not in run]
    assume(runs)
    for number, run in enumerate(one["run"]):
        run["name"] = f"run {number}"
    number = data.draw(st.sampled_from(runs), label="run")
    one.setdefault("wire", {})["any"] = {
        "strand": "0.1 mm",
        "outside": "0.5 mm",
        "ohms_per_metre": "3 ohm/m",
    }
    thin = changed(one, "run", number, "wire", to="any")
    thick = changed(thin, "wire", "any", "ohms_per_metre", to=f"{data.draw(st.floats(0.01, 2.99)):g} ohm/m")
    before, after = (figures(each)["runs"].get(f"run {number}") for each in (thin, thick))
    assume(before is not None)
    assert after["drop"] <= before["drop"] * (1 + HAIR) + 1e-12, (before, after)


@law(60)
@given(builds("corners"), st.data())
def test_a_tighter_tolerance_never_widens_a_band(tables: Tables, data: st.DataObject) -> None:
    share = data.draw(st.sampled_from([0.0, 0.3, 0.9]), label="share")
    tight = copy.deepcopy(tables)
    for part in (tight["supply"]["main"], *(tight["lamp"][number]["resistor"] for number in resisted(tight))):
        part["tolerance"] = f"{float(part['tolerance'].removesuffix(' %')) * share!r} %"
    _within(figures(tight), figures(tables))


@law(80)
@given(builds("corners"), st.data())
def test_a_band_contains_every_corner_that_is_sampled(tables: Tables, data: st.DataObject) -> None:
    """Each part with a value of its own within its tolerance, and no tolerance left."""

    # towards most or least current in all parts, or each part by itself
    lean = data.draw(st.sampled_from([1, 1, -1, -1, 0]), label="lean")

    def within(middle: float, percent: str, sign: int) -> float:
        own = sign * lean or data.draw(st.sampled_from([-1.0, -0.5, 0.0, 0.7, 1.0]))
        return middle * (1 + own * float(percent.removesuffix(" %")) / 100)

    sample = copy.deepcopy(tables)
    supply = sample["supply"]["main"]
    volts = float(supply["volts"].removesuffix(" V"))
    supply |= {"volts": f"{within(volts, supply['tolerance'], 1)!r} V", "tolerance": "0 %"}
    for number in resisted(tables):
        tolerance = tables["lamp"][number]["resistor"]["tolerance"]
        sample = with_ohms(sample, number, lambda ohms, of=tolerance: within(ohms, of, -1))  # type: ignore[misc]
        sample["lamp"][number]["resistor"]["tolerance"] = "0 %"
        # its own kind, with forward volts of its own
        kind = tables["lamp"][number]["kind"]
        least, typical, most, low, _ = random_corners.KINDS[kind]
        own = {1: least, -1: most}.get(lean) or data.draw(st.sampled_from([least, typical, most]))
        sample["lamp_kind"][f"own{number}"] = tables["lamp_kind"][kind] | {
            "forward": f"{own!r}/{own!r}/{own!r} V", "low_forward": f"{low + own - typical!r} V",
        }  # fmt: skip
        sample["lamp"][number]["kind"] = f"own{number}"
    _within(figures(sample), figures(tables))


def _within(inner: Any, outer: Any) -> None:
    for name, band in outer["lamps"].items():
        own = inner["lamps"][name]
        assert own["lowest"] >= band["lowest"] * (1 - 1e-6), (name, own, band)
        assert own["highest"] <= band["highest"] * (1 + 1e-6), (name, own, band)
        assert own["alone"] <= band["alone"] * (1 + 1e-6), (name, own, band)


CORNERS = (REFERENCE, Corner(1, 1, 1, 1, 35.0, 35.0), Corner(-1, -1, -1, -1, 5.0, 5.0, most=True))


@law(60)
@given(builds(), st.sampled_from(CORNERS))
def test_power_in_is_power_out(tables: Tables, corner: Corner) -> None:
    """What the sources' EMFs give is what all the rest takes, each by its own law from its own current."""
    states = States(resolve(built(tables)))
    solved = states.solved(states.everything, corner)
    assume(solved is not None)
    assert solved is not None
    solution = solved.solution
    given_, taken = [], []
    for number, element in enumerate(solved.elements):
        amps = solution.amps[number]
        match element:
            case Source():
                given_.append(element.volts * amps)
                taken.append(element.ohms * amps**2)
            case Resistance():
                taken.append(element.ohms * amps**2)
            case Drop():
                taken.append(element.volts * amps + element.ohms * amps**2)
            case String():
                taken.append(amps * (element.ohms * amps + sum(_die(die, amps) for die in element.diodes)))
            case Filament():
                whole = element.volts * (abs(amps) / element.amps) ** (1 / element.exponent)
                least = element.volts * 1e-3
                cold = element.amps * 1e-3**element.exponent / least
                taken.append(
                    element.ohms * amps**2 + (whole * abs(amps) if whole > least else amps**2 / cold)
                )
            case Converter():
                given_.append(element.volts * amps)
                taken.append(element.ohms * amps**2)
                taken.append(solution.input_amps[number] * solution.across(element.in_plus, element.in_minus))
            case Demand() | SteadyCurrent():
                taken.append(amps * solution.across(element.a, element.b))
            case _:
                raise AssertionError(element)
    scale = sum(map(abs, given_))
    assert abs(math.fsum(given_) - math.fsum(taken)) <= 1e-9 * scale + 1e-15, (sum(given_), sum(taken))


def _die(die: Any, amps: float) -> float:
    cold = die.slope * math.log1p(amps / die.saturation) + amps * die.ohm + die.shift
    return float(cold / (1 + die.heat * amps) if amps > 0 else cold)
