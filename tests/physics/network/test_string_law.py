"""The law of a string the other way round: from a current its volts, by adding up what each part has at that current."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import exp, expm1, inf, log, log1p

import pytest
from scipy.optimize import brentq, minimize_scalar

from postcheck.physics.network import Diode, String
from postcheck.physics.network import strings as module
from postcheck.physics.network.laws import Places
from postcheck.physics.network.strings import (
    StringTable,
    Tangent,
    behind,
    forward_voltage,
    string_constants,
    string_law,
)

FINE = Diode(1e-20, 0.05, 2.0, 0.1)
COARSE = Diode(3e-17, 0.045, 1.5, -0.2)
TWIN = Diode(1e-20, 0.055, 0.5)  # of the same saturation, another slope
BARE = Diode(4e-15, 0.03)
# of germanium: next to its saturation current a resistor has as much as the die
OLD = Diode(2e-5, 0.04, 5.0)
WORN = Diode(5e-5, 0.03, 1.0, 0.05)
LEAK = 1e-15  # S across each diode

COLD = [
    String(0, 1, 0.0, (FINE,)),
    String(0, 1, 150.0, (FINE,) * 3),
    String(0, 1, 1e5, (BARE,)),
    String(0, 1, 33.0, (FINE, COARSE)),
    String(0, 1, 47.0, (COARSE, FINE, FINE, TWIN)),
    String(0, 1, 10.0, (FINE, TWIN)),
    String(0, 1, 0.0, (BARE, FINE, COARSE)),
    String(0, 1, 2000.0, (OLD,)),
    String(0, 1, 900.0, (OLD, WORN, WORN)),
]  # fmt: skip


def volts_of(string: String, through: float) -> float:
    """V at so many A through the diodes, all cold: every part for itself."""
    each = (d.slope * log1p(through / d.saturation) + d.ohm * through + d.shift for d in string.diodes)
    return string.ohms * through + sum(each)


def slope_of(string: String, through: float) -> float:
    """A/V there, by the sum of the parts' resistances."""
    return 1.0 / (string.ohms + sum(d.ohm + d.slope / (d.saturation + through) for d in string.diodes))


def least_of(string: String) -> float:
    return min(diode.saturation for diode in string.diodes)


@pytest.mark.parametrize("string", COLD)
@pytest.mark.parametrize("u", [-60.0, -3.0, -0.01, 1e-6, 0.7, 12.0, 40.0, 47.0])
def test_at_its_volts_a_string_takes_the_current_that_they_were_added_up_from(
    string: String, u: float
) -> None:
    through = least_of(string) * expm1(u)
    if (
        u == -60.0
    ):  # next to the saturation current no float tells the two apart: the volts of one kind by the exponent
        if len(set(string.diodes)) > 1:
            return
        volts = sum(d.slope * u + d.shift + d.ohm * through for d in string.diodes) + string.ohms * through
    else:
        volts = volts_of(string, through)
    leak = LEAK / len(string.diodes)
    constants = string_constants(string)
    for guess in (inf, 650.0, u + 0.5, u, -2.0, 20.0):
        amps, slope, at = string_law(volts, constants, guess)
        assert at == pytest.approx(u, rel=1e-9, abs=1e-9)
        assert amps == pytest.approx(through + leak * volts, rel=1e-7, abs=1e-30)
        rise = 0.0 if u == -60.0 else slope_of(string, through)
        assert slope == pytest.approx(rise + leak, rel=1e-7, abs=1e-28)


@pytest.mark.parametrize("string", COLD)
def test_no_volts_over_those_of_the_air_round_it_no_current_through_it(string: String) -> None:
    shift = sum(diode.shift for diode in string.diodes)
    amps, slope, u = string_law(shift, string_constants(string))
    assert u == pytest.approx(0.0, abs=1e-12)
    assert amps == pytest.approx(LEAK / len(string.diodes) * shift, rel=1e-6, abs=1e-24)
    assert slope == pytest.approx(slope_of(string, 0.0) + LEAK / len(string.diodes), rel=1e-9)


def test_a_thousand_volts_on_a_resistor_and_a_diode_are_the_resistors() -> None:
    """The diode's share grows with the logarithm alone."""
    string = String(0, 1, 100.0, (FINE,))
    through = 9.9
    amps, slope, _ = string_law(volts_of(string, through), string_constants(string))
    assert amps == pytest.approx(through + LEAK * volts_of(string, through), rel=1e-9)
    assert slope == pytest.approx(slope_of(string, through), rel=1e-9)


def test_above_the_steepest_exponent_a_bare_diode_is_a_straight_line_from_the_point_that_it_had_there() -> (
    None
):
    edge = 4e-15 * exp(600.0)
    string = String(0, 1, 0.0, (BARE,))
    assert string_law(0.03 * 599.0, string_constants(string))[0] == pytest.approx(edge / exp(1.0), rel=1e-9)
    amps, slope, u = string_law(0.03 * 650.0, string_constants(string))
    assert (amps, slope, u) == (
        pytest.approx(51.0 * edge, rel=1e-9),
        pytest.approx(edge / 0.03, rel=1e-9),
        pytest.approx(650.0),
    )
    # in a table the same, from whatever it was before
    table = StringTable(*wired(1), [string])
    for volts in (0.03 * 700.0, 0.03 * 650.0, 1.1, 0.03 * 650.0):
        evaluated(table, [volts])
        assert table.amps[0] == pytest.approx(string_law(volts, string_constants(string))[0], rel=1e-9)


def test_equal_dice_are_added_up_and_unlike_ones_kept_apart() -> None:
    """By hand: one FINE has 2 ohm, 0.1 V, 0.05 V an exponent; COARSE 1.5 ohm, -0.2 V, 0.045 V and 3,000 times the saturation."""
    warm = replace(FINE, heat=0.4)
    ohms, shift, slope, saturation, leak, rest, heat = string_constants(
        String(0, 1, 7.0, (warm,) * 3, most=0.2)
    )
    assert (ohms, shift, slope, saturation) == pytest.approx((13.0, 0.3, 0.15, 1e-20), rel=1e-12)
    assert leak == pytest.approx(1e-15 / 3.0, rel=1e-12)
    assert (rest, heat) == ((), (7.0, 6.0, 0.4, 0.2, None))
    ohms, shift, slope, saturation, leak, rest, heat = string_constants(
        String(0, 1, 7.0, (COARSE, warm, TWIN, COARSE), most=0.3)
    )
    assert (ohms, shift, slope, saturation) == pytest.approx((12.5, -0.3, 0.105, 1e-20), rel=1e-12)
    assert leak == pytest.approx(2.5e-16, rel=1e-12)
    assert [pair for one in rest for pair in one] == pytest.approx([0.09, 1.0 / 3000.0], rel=1e-12)
    assert heat is not None
    assert heat[:2] == (7.0, 5.5)
    assert heat[3:] == (0.3, ((3e-17, 0.045, 1.5, -0.2, 0.0), (1e-20, 0.05, 2.0, 0.1, 0.4),
                              (1e-20, 0.055, 0.5, 0.0, 0.0), (3e-17, 0.045, 1.5, -0.2, 0.0)))  # fmt: skip
    assert string_constants(String(0, 1, 7.0, (FINE, TWIN)))[5:] == ((), None)


def test_behind_more_resistance_it_is_a_string_of_more_resistance_without_a_leak() -> None:
    for string in (*COLD, String(0, 1, 5.0, (replace(FINE, heat=0.3),) * 2, most=0.1)):
        more = string_constants(replace(string, ohms=string.ohms + 12.0))
        assert behind(string_constants(string), 12.0) == (*more[:4], 0.0, *more[5:])


@pytest.mark.parametrize("amps", [1e-3, 0.02, 0.05])
def test_the_forward_voltage_of_a_warm_die_by_hand(amps: float) -> None:
    """V = V0 / (1 + heat I) up to `most`; above it the heat of `most` and no more."""
    warm = replace(FINE, heat=0.8)

    def cold(at: float) -> float:
        return 0.05 * log1p(at / 1e-20) + 2.0 * at + 0.1

    assert forward_voltage(FINE, amps) == pytest.approx(cold(amps), rel=1e-12)
    assert forward_voltage(warm, amps) == pytest.approx(cold(amps) / (1.0 + 0.8 * amps), rel=1e-12)
    held = cold(0.03) - cold(0.03) / 1.024
    expected = cold(amps) / (1.0 + 0.8 * amps) if amps < 0.03 else cold(amps) - held
    assert forward_voltage(warm, amps, 0.03) == pytest.approx(expected, rel=1e-12)
    assert forward_voltage(replace(OLD, heat=2.0), -1e-5) == forward_voltage(OLD, -1e-5)
    assert forward_voltage(OLD, -1e-5) == pytest.approx(0.04 * log(0.5) - 5e-5, rel=1e-9)


# Strings whose law bends down where they warm, and up again for their resistance.
WARM = replace(FINE, ohm=1.0, heat=2.2)
ODD = replace(COARSE, ohm=1.0, heat=1.8)
BENT = [
    String(0, 1, 3.0, (WARM, WARM), most=0.9),
    String(0, 1, 2.0, (WARM, ODD), most=0.9),
]
MILD = String(0, 1, 15.0, (replace(FINE, heat=0.5),) * 2, most=0.1)


def warm_volts(string: String, amps: float) -> float:
    return string.ohms * amps + sum(
        (d.slope * log1p(amps / d.saturation) + d.ohm * amps + d.shift) / (1.0 + d.heat * amps)
        for d in string.diodes
    )


def crest(string: String) -> tuple[float, float]:
    """(A, V) of the first highest point of its law, by SciPy."""
    found = minimize_scalar(
        lambda i: -warm_volts(string, i), bounds=(1e-3, 0.15), method="bounded", options={"xatol": 1e-12}
    )
    return float(found.x), float(-found.fun)


@pytest.mark.parametrize("string", BENT)
def test_over_the_crest_a_string_runs_on_to_where_its_resistance_holds_it(string: String) -> None:
    at, top = crest(string)
    assert 0.02 < at < 0.04
    constants = string_constants(string)
    # below the crest it is held on this side of it
    volts = top - 0.01
    exact = brentq(lambda i: warm_volts(string, i) - volts, 1e-9, at, xtol=1e-16)
    amps, slope, u = string_law(volts, constants)
    assert amps == pytest.approx(exact, rel=1e-9)
    assert u == pytest.approx(log1p(exact / least_of(string)), rel=1e-9)
    step = 1e-6
    assert slope == pytest.approx(
        2.0 * step / (warm_volts(string, exact + step) - warm_volts(string, exact - step)), rel=1e-5
    )
    # above it on the other, beyond the dip
    volts = top + 0.01
    exact = brentq(lambda i: warm_volts(string, i) - volts, 2.0 * at, 0.9, xtol=1e-16)
    assert exact > 3.0 * at
    for guess in (inf, u, 60.0):
        amps, slope, u = string_law(volts, constants, guess)
        assert amps == pytest.approx(exact, rel=1e-9)
        assert slope == pytest.approx(
            2.0 * step / (warm_volts(string, exact + step) - warm_volts(string, exact - step)), rel=1e-5
        )
        assert u == inf


@pytest.mark.parametrize("short", [0.999, 0.992, 0.9999])
@pytest.mark.parametrize("string", BENT)
def test_it_may_be_held_just_below_the_most_that_is_counted(string: String, short: float) -> None:
    volts = crest(string)[1] + 0.01
    exact = brentq(lambda i: warm_volts(string, i) - volts, 0.1, 2.0, xtol=1e-16)
    ends = replace(string, most=exact / short)
    assert string_law(volts, string_constants(ends))[0] == pytest.approx(exact, rel=1e-9)


@pytest.mark.parametrize("string", BENT)
def test_beyond_the_most_that_is_counted_it_warms_no_more(string: String) -> None:
    volts = crest(string)[1] + 0.01
    ends = replace(string, most=0.3)
    cooled = volts_of(string, 0.3) - warm_volts(string, 0.3)
    exact = brentq(lambda i: volts_of(string, i) - cooled - volts, 0.3, 5.0, xtol=1e-16)
    amps, slope, u = string_law(volts, string_constants(ends))
    assert amps == pytest.approx(exact, rel=1e-9)
    assert slope == pytest.approx(slope_of(string, exact), rel=1e-9)
    assert u == inf


@pytest.mark.parametrize("string", BENT)
def test_what_has_run_away_is_not_followed_from_cold_at_more_volts(
    string: String, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By its cold law and the heat of the most that is counted; below its crest it is held as ever."""
    ends, top = replace(string, most=0.3), crest(string)[1]
    cooled = volts_of(string, 0.3) - warm_volts(string, 0.3)
    table = StringTable(*wired(1), [ends])
    evaluated(table, [top + 0.01])
    with monkeypatch.context() as patched:
        patched.setattr(module, "_warm_law", None)
        for volts in (top + 0.5, top + 0.2, top + 0.01):
            exact = brentq(lambda i, at=volts: volts_of(string, i) - cooled - at, 0.3, 50.0, xtol=1e-16)
            evaluated(table, [volts])
            assert table.amps[0] == pytest.approx(exact, rel=1e-9)
            assert table.slopes[0] == pytest.approx(slope_of(string, exact), rel=1e-9)
            assert table.u[0] == inf
    evaluated(table, [top - 0.01])
    assert table.amps[0] == pytest.approx(string_law(top - 0.01, string_constants(ends))[0], rel=1e-9)
    assert table.u[0] < inf


@pytest.mark.parametrize("string", [*BENT, MILD])
@pytest.mark.parametrize("amps", [1e-4, 3e-3, 0.02, 0.07])
def test_a_tangent_has_the_volts_and_the_slope_of_what_is_warm(string: String, amps: float) -> None:
    tangent = Tangent.at(string, amps)
    cold = tangent.string
    assert all(diode.heat == 0.0 for diode in cold.diodes)
    assert volts_of(cold, amps) == pytest.approx(warm_volts(string, amps), rel=1e-12)
    step = 1e-5 * amps
    warm = (warm_volts(string, amps + step) - warm_volts(string, amps - step)) / (2.0 * step)
    dark = sum(diode.slope / (diode.saturation + amps) for diode in string.diodes)
    # where it bends down further than its resistance goes, that is taken to nothing and no further
    assert 1.0 / slope_of(cold, amps) == pytest.approx(max(warm, dark), rel=1e-5)
    assert cold.ohms >= 0.0
    assert all(diode.ohm >= 0.0 for diode in cold.diodes)
    # of its own resistance as much is left as there is in all
    left = {new.ohm / old.ohm for new, old in zip(cold.diodes, string.diodes, strict=True)}
    assert len(left) == 1 or max(left) == pytest.approx(min(left))
    assert cold.ohms == 0.0 or left == {1.0}
    assert tangent.amps == amps
    assert tangent.shift == pytest.approx(warm_volts(string, amps) - volts_of(string, amps), rel=1e-9)
    assert tangent.agrees(string, amps)
    assert not tangent.agrees(string, amps * 1.05)
    assert not tangent.agrees(string, amps * 0.95)
    if warm > dark:  # as far as it lies along the law
        assert tangent.agrees(string, amps * (1.0 + 1e-8))


@pytest.mark.parametrize("string", [*BENT, MILD])
def test_heat_and_current_agree_to_a_hundredth_of_a_billionth_of_the_volts(string: String) -> None:
    amps = 0.02
    tangent = Tangent.at(string, amps)
    volts = warm_volts(string, amps)

    def off(moved: float) -> float:
        at = amps + moved
        return abs(warm_volts(string, at) - volts_of(string, at) - tangent.shift - tangent.slope * moved)

    for share, agrees in ((0.9, True), (1.1, False)):
        moved = brentq(lambda d, s=share: off(d) - s * 1e-11 * volts, 1e-12, 1e-4, xtol=1e-18)
        assert tangent.agrees(string, amps + moved) == agrees


def test_a_tangent_may_take_part_of_the_resistance_in_the_dice() -> None:
    """By hand: at 0.1 A two dice of 1 ohm and 0.05 V: 5 ohm, where it is cold and bare, of which the 2 are to be halved."""
    diode = Diode(1e-20, 0.05, 1.0, 0.1, 0.0)
    amps = 0.1
    cold = 0.05 * log1p(amps / 1e-20) + 0.2
    rise = 0.05 / amps + 1.0
    # (rise - heat V) / (1 + heat I) = dark + half an ohm
    heat = brentq(lambda h: (rise - h * cold / (1.0 + h * amps)) / (1.0 + h * amps) - (0.5 + 0.5), 0.0, 9.0)
    warm = replace(diode, heat=heat)
    string = String(0, 1, 0.0, (warm, warm), most=1.0)
    tangent = Tangent.at(string, amps)
    assert tangent.string.ohms == 0.0
    assert [one.ohm for one in tangent.string.diodes] == pytest.approx([0.5, 0.5], rel=1e-9)
    assert tangent.slope == pytest.approx(-1.0, rel=1e-9)
    assert volts_of(tangent.string, amps) == pytest.approx(warm_volts(string, amps), rel=1e-12)
    behind_some = Tangent.at(replace(string, ohms=0.4), amps).string
    assert behind_some.ohms == 0.0
    assert [one.ohm for one in behind_some.diodes] == pytest.approx([0.7, 0.7], rel=1e-9)
    behind_more = Tangent.at(replace(string, ohms=1.5), amps).string
    assert behind_more.ohms == pytest.approx(0.5, rel=1e-9)
    assert [one.ohm for one in behind_more.diodes] == [1.0, 1.0]


def test_dice_without_resistance_have_none_to_give() -> None:
    bare = String(0, 1, 0.0, (replace(WARM, ohm=0.0),) * 2, most=0.9)
    tangent = Tangent.at(bare, 0.1)
    assert (tangent.string.ohms, tangent.slope) == (0.0, 0.0)
    assert [diode.ohm for diode in tangent.string.diodes] == [0.0, 0.0]
    little = String(0, 1, 0.2, (replace(WARM, ohm=0.3, heat=0.1),), most=0.9)
    tangent = Tangent.at(little, 0.15)
    assert tangent.string.ohms == 0.0
    assert 0.0 < tangent.string.diodes[0].ohm < 0.3
    assert tangent.string.diodes[0].ohm == pytest.approx(0.5 + tangent.slope, rel=1e-9)


def test_a_dark_string_has_no_heat_to_agree_on() -> None:
    string = BENT[0]
    for amps in (0.0, -1e-25):
        tangent = Tangent.at(string, amps)
        assert (tangent.amps, tangent.shift, tangent.slope) == (0.0, 0.0, 0.0)
        assert tangent.string == replace(
            string, diodes=tuple(replace(d, heat=0.0) for d in string.diodes), most=inf
        )
        assert tangent.agrees(string, 0.0)
        assert tangent.agrees(string, -1e-24)
        assert not tangent.agrees(string, 0.02)
    assert not Tangent.at(string, 0.02).agrees(string, 0.0)
    assert not Tangent.at(string, 0.02).agrees(string, -1e-25)


def wired(count: int) -> tuple[Places, list[float]]:
    """So many branches, each from an unknown of its own to earth, which is the last."""
    places = Places()
    for number in range(count):
        places.element.append(number)
        places.a.append(number)
        places.b.append(count)
        places.p.append(number)
        places.q.append(count)
        places.edge.append(number)
    return places, [0.0] * count


def evaluated(table: StringTable, volts: Sequence[float]) -> tuple[list[float], list[float]]:
    into, conductance = [0.0] * (len(volts) + 1), [0.0] * len(volts)
    table.evaluate([v + 0.7 for v in volts] + [0.7], into, conductance)
    return into, conductance


TABLE = [COLD[1], COLD[2], COLD[3], COLD[0], MILD, String(0, 1, 330.0, (WARM, ODD), most=0.1), COLD[7], COLD[8],
         String(0, 1, 400.0, (replace(OLD, heat=3.0),), most=0.1)]  # fmt: skip


def test_a_table_has_the_currents_and_slopes_of_each_string_by_itself() -> None:
    strings = [*TABLE, TABLE[0]]
    places, offset = wired(10)
    offset[1] = 0.25
    table = StringTable(places, offset, strings)
    for step in range(-40, 120):
        volts = [0.02 * step * (1.0 + 0.1 * k) + max(0.04 * step, 0.0) for k in range(9)]
        volts = [*volts, volts[0]]
        into, conductance = evaluated(table, volts)
        for k, string in enumerate(strings):
            amps, slope, _ = string_law(volts[k] + offset[k], string_constants(string))
            assert table.amps[k] == pytest.approx(amps, rel=1e-9, abs=1e-19)
            assert table.slopes[k] == conductance[k] == pytest.approx(slope, rel=1e-6, abs=1e-28)
            assert into[k] == -table.amps[k]
        assert into[10] == pytest.approx(sum(table.amps), rel=1e-12)
    assert table.volts([1.0] * 10 + [0.5]) == pytest.approx([0.5, 0.75, *[0.5] * 8])


def test_a_warm_string_next_to_its_saturation_current() -> None:
    """The die of germanium again, by adding up."""
    string = TABLE[8]
    for through in (1e-6, 1.5e-5, 4e-5, 3e-4, 5e-3):
        step = 1e-4 * through
        rise = (warm_volts(string, through + step) - warm_volts(string, through - step)) / (2.0 * step)
        amps, slope, u = string_law(warm_volts(string, through), string_constants(string))
        assert amps == pytest.approx(through, rel=1e-9)
        assert slope == pytest.approx(1.0 / rise, rel=1e-6)
        assert u == pytest.approx(log1p(through / 2e-5), rel=1e-9)


@pytest.mark.parametrize(
    ("string", "volts", "guess", "most"),
    [(COLD[1], 12.0, inf, 7), (COLD[1], 12.0, 44.0, 7), (COLD[4], 12.0, inf, 8), (COLD[4], 12.0, 44.0, 7),
     (COLD[0], 2.4, inf, 9), (COLD[2], -9.0, inf, 5), (MILD, 5.0, inf, 15), (COLD[8], 3.0, inf, 6)],
)  # fmt: skip
def test_so_many_steps_of_newtons_method_and_no_more(
    string: String, volts: float, guess: float, most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    steps = []

    def counted(u: float) -> float:
        steps.append(u)
        return expm1(u)

    monkeypatch.setattr(module, "expm1", counted)
    string_law(volts, string_constants(string), guess)
    assert len(steps) <= most


def test_strings_that_are_one_element_are_reckoned_once(monkeypatch: pytest.MonkeyPatch) -> None:
    one, other = COLD[3], COLD[4]
    table = StringTable(*wired(5), [one, other, one, one, other])
    assert (table.firsts, table.which) == ([0, 1], [0, 1, 0, 0, 1])
    reckoned = []
    law = string_law

    def counted(volts: float, constants: module.Constants, guess: float = inf) -> tuple[float, float, float]:
        reckoned.append(volts)
        return law(volts, constants, guess)

    monkeypatch.setattr(module, "string_law", counted)
    evaluated(table, [6.0, 9.0, 6.0, 6.0, 9.0])
    assert reckoned == [6.0, 9.0]
    assert table.amps[0] == table.amps[2] == table.amps[3] != table.amps[1] == table.amps[4]


@pytest.mark.parametrize("string", [COLD[1], MILD])
def test_where_little_has_moved_the_next_current_is_found_from_the_last(
    string: String, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Newton's method from next to the root: within six steps, and without the long way round."""
    table = StringTable(*wired(1), [string])
    volts = warm_volts(string, 0.012)
    evaluated(table, [volts])
    monkeypatch.setattr(module, "string_law", None)
    for moved in (0.05, 0.11, 0.03, 0.0301, 0.0):
        evaluated(table, [volts + moved])
        exact = brentq(lambda i, at=volts + moved: warm_volts(string, i) - at, 1e-3, 0.09, xtol=1e-17)
        assert table.amps[0] == pytest.approx(
            exact + LEAK / len(string.diodes) * (volts + moved), rel=1e-10, abs=1e-15
        )


def test_a_table_tells_whether_a_string_is_held() -> None:
    at, top = crest(BENT[0])
    table = StringTable(*wired(1), [BENT[0]])
    for volts, unheld in (
        (top - 0.3, False),
        (top - 0.01, False),
        (top + 0.01, True),
        (top - 0.3, False),
    ):
        evaluated(table, [volts])
        assert table.unheld == unheld
        assert (table.u[0] == inf) == unheld
    # next to the crest its slope is over a thousand times its current, in 1/V
    step = 1e-7
    for times, unheld in ((100.0, False), (950.0, False), (1050.0, True), (1e4, True)):
        near = brentq(lambda i, n=times: (
            warm_volts(BENT[0], i + step) - warm_volts(BENT[0], i - step)) / (2.0 * step) - 1.0 / (n * i), 1e-3, at)  # fmt: skip
        evaluated(table, [warm_volts(BENT[0], near)])
        assert table.unheld == unheld
    both = StringTable(*wired(2), [MILD, BENT[0]])
    evaluated(both, [3.0, top + 0.01])
    assert both.unheld
    # one that folds at less than a milliampere
    hot = String(0, 1, 3.0, (replace(FINE, heat=60.0),), most=0.01)
    near = minimize_scalar(lambda i: -warm_volts(hot, i), bounds=(1e-5, 5e-3), method="bounded", options={"xatol": 1e-14}).x  # fmt: skip
    assert near < 1e-3
    table = StringTable(*wired(1), [hot])
    evaluated(table, [warm_volts(hot, near * (1.0 - 1e-3))])
    assert table.unheld
    cold = StringTable(*wired(1), [COLD[0]])
    assert not cold.unheld
    for volts in (-9.0, 0.0, 3.0):
        evaluated(cold, [volts])
        assert not cold.unheld
    dark = StringTable(*wired(1), [BENT[0]])
    for volts in (-2.0, 0.2, 1.0):
        evaluated(dark, [volts])
        assert not dark.unheld
