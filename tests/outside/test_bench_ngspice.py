"""The bench against ngspice: what a supply drives through every lead and line that it is put on.

Outside truth: ngspice (Debian package), as in test_ngspice.py; the cards are written by random_leads.py from the same
random choices as the build files. Where postcheck warms lamps, SciPy's root finder does so by itself.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from scipy.optimize import brentq

import postcheck
from postcheck.survey import Survey
from postcheck.survey.bench.rig import BENCH, EASIEST, HARDEST
from postcheck.wiring.data import DieData
from tests.outside.random_builds import SLOPE
from tests.outside.random_leads import COLOURS, FORMS, RATED, SEATS, Builds, Connected, Strings, deck, make
from tests.outside.spice import operating_points

BUILDS = 10
RELATIVE, AMPS = 1e-6, 1e-9
CORNERS = {0: BENCH, 1: EASIEST, -1: HARDEST}


@cache
def case(seed: int) -> tuple[Builds, Survey]:
    builds = make(seed)
    return builds, Survey(postcheck.loads(builds.toml, f"leads-{seed}"))


def deviation(ours: float, theirs: float) -> float:
    return max(0.0, abs(ours - theirs) - AMPS) / max(abs(theirs), AMPS)


def warms(connected: Connected) -> bool:
    return any((strings.colour or "").startswith("rgb") for strings in connected.strings)


def compare(
    seed: int, volts: float, ohms: float, corner: int, folder: Path
) -> list[tuple[Connected, list[float]]]:
    """Every current out of the supply and through every string; what ngspice found of each string."""
    builds, survey = case(seed)
    test_points = survey.bench.leads | survey.bench.lines
    connected = [
        one for one in (*builds.leads.values(), *builds.lines.values()) if corner != 1 or not warms(one)
    ]
    points = operating_points([deck(one, volts, ohms, corner) for one in connected], folder)
    found = []
    for one, spice in zip(connected, points, strict=True):
        flow = survey.bench.rig(test_points[one.key], with_resistors=False).flow(volts, CORNERS[corner], ohms)
        assert flow is not None, one
        names = [strings.name for strings in one.strings for _ in range(strings.parallel)]
        amps = through(one, spice)
        assert [name for name, _ in flow.strings] == names
        worst = max(deviation(ours, true) for (_, ours), true in zip(flow.strings, amps, strict=True))
        assert max(worst, deviation(flow.amps, sum(amps))) <= RELATIVE, one
        found.append((one, amps))
    return found


def through(one: Connected, spice: dict[str, float]) -> list[float]:
    return [
        spice[f"i(vp{position}_{number})"]
        for position, strings in enumerate(one.strings)
        for number in range(strings.parallel)
    ]


@pytest.mark.parametrize("seed", range(BUILDS))
def test_every_lead_and_line_agrees_with_ngspice(seed: int, tmp_path: Path) -> None:
    builds, survey = case(seed)
    assert set(builds.leads) == set(survey.bench.leads)
    assert set(builds.lines) <= set(survey.bench.lines)
    assert compare(seed, builds.volts, 0.0, 0, tmp_path)
    assert compare(seed, builds.volts, 0.3, -1, tmp_path)


@pytest.mark.parametrize("seed", range(BUILDS))
def test_the_full_supply_agrees_with_ngspice(seed: int, tmp_path: Path) -> None:
    """The highest volts through the supply's own resistance; where it gives no more, that current and no volts.

    Of strings with leads of their own one is touched alone.
    """
    builds, survey = case(seed)
    test_points = survey.bench.leads | survey.bench.lines
    assert compare(seed, builds.highest, builds.ohms, 1, tmp_path)
    apart = {lamp.name for lamp in survey.parts.lamps if survey.bench.strings(lamp)}
    touched = [
        replace(one, strings=[strings._replace(parallel=1) for strings in one.strings])
        if one.key[0] == "lamp" and one.key[1] in apart
        else one
        for one in (*builds.leads.values(), *builds.lines.values())
        if not warms(one)
    ]
    points = operating_points([deck(one, builds.highest, builds.ohms, 1) for one in touched], tmp_path)
    found = [(one, through(one, spice)) for one, spice in zip(touched, points, strict=True)]
    over = [one for one, amps in found if sum(amps) > builds.gives]
    assert bool(over) == (builds.supply == "limited")
    held = operating_points([deck(one, 0.0, 0.0, 1, builds.gives) for one in over], tmp_path)
    limited = {one.key: through(one, spice) for one, spice in zip(over, held, strict=True)}
    for one, amps in found:
        known = survey.bench.figures(test_points[one.key])
        assert known is not None
        true = limited.get(one.key, amps)
        contact_test = known.contact_test
        assert contact_test.volts == pytest.approx(builds.highest, rel=1e-12)
        assert deviation(contact_test.amps, sum(true)) <= RELATIVE, one
        if all(strings.colour for strings in one.strings):  # all of one rating: the worst gets most
            most = max(true)
            assert deviation(contact_test.worst_amps, most) <= RELATIVE, one
            assert contact_test.rated == pytest.approx(RATED, rel=1e-12)
            fate = "destroyed" if most > 5 * RATED else "too much" if most > 1.5 * RATED else "lights"
            assert contact_test.outcome == (fate if most > 1e-4 else "dark")


def test_the_leads_are_of_every_sort() -> None:
    leads = [one for seed in range(BUILDS) for one in case(seed)[0].leads.values()]
    lines = [one for seed in range(BUILDS) for one in case(seed)[0].lines.values()]
    assert len(leads) >= 130
    assert len(lines) >= 200
    sorts = {one.sort for one in leads}
    assert {sort.split()[0] for sort in sorts} == set(FORMS)
    assert {sort.split()[1] for sort in sorts} == set(SEATS)
    assert sum("negative" in sort for sort in sorts) >= 10
    assert len(sorts) >= 35
    assert {case(seed)[0].supply for seed in range(BUILDS)} >= {"battery", "converter", "usb", "limited"}


def settled(strings: Strings, volts: float, lamp: DieData) -> float:
    """Shockley's law shifted by the junction's rise, and the rise by the current that flows: the first pair on the way from cold.

    A lamp that gets more than twice its rating cold would be destroyed before it warms. Above five times its rating, where
    it surely is, no further heat counts.
    """
    ohms = strings.feed + strings.back + strings.chip * (1 - strings.tolerance)
    least, typical, _, low = COLOURS[strings.colour or ""]
    series = ((typical - low) - SLOPE * math.log(4)) / 0.015
    saturation = 0.005 / math.expm1((low - 0.005 * series) / SLOPE)

    def cold(amps: float) -> float:
        return SLOPE * math.log1p(amps / saturation) + amps * series + least - typical

    def warm(amps: float) -> float:
        counted = min(amps, max(5 * lamp.rated, lamp.pulse or 0.0))
        rise = brentq(
            lambda rise: lamp.kelvin_per_watt * counted * (cold(counted) + lamp.volts_per_kelvin * rise) - rise,
            0.0, 1e4, xtol=1e-12,
        )  # fmt: skip
        return cold(amps) + lamp.volts_per_kelvin * rise + amps * ohms - volts

    start = brentq(lambda amps: cold(amps) + amps * ohms - volts, 0.0, 100.0, xtol=1e-16)
    if start > 2 * lamp.rated:
        return start
    before = start
    while warm(before * 1.01) < 0.0:
        before *= 1.01
    return brentq(warm, before, before * 1.01, xtol=1e-16)


@pytest.mark.parametrize("seed", range(4))
def test_a_lamp_that_warms_itself_agrees_with_scipy(seed: int) -> None:
    builds, survey = case(seed)
    compared = 0
    for one in builds.leads.values():
        if warms(one):
            lamp = next(lamp for lamp in survey.parts.lamps if lamp.name == one.key[1])
            for volts in (COLOURS[one.strings[0].colour or ""][0] + 0.1, builds.volts):
                flow = survey.bench.rig(survey.bench.leads[one.key], with_resistors=False).flow(
                    volts, EASIEST
                )
                assert flow is not None
                assert deviation(flow.amps, settled(one.strings[0], volts, lamp.dice[0])) <= RELATIVE
                compared += 1
    assert compared >= 6
