"""Loops of ideal sources, floating parts, wrong input: what has no answer is said, never guessed."""

from __future__ import annotations

import pytest

from postcheck.physics.network import (
    Circuit,
    Diode,
    Drop,
    Network,
    Resistance,
    Source,
    SteadyCurrent,
    String,
    fit_diode,
    ports,
    solve,
)

RED = fit_diode(2.0, 5e-3, 2.1, 20e-3)


def test_two_ideal_supplies_that_disagree() -> None:
    found = solve(Circuit(3, (Source(1, 0, 12.0), Source(2, 0, 5.0), Drop(1, 2), Source(1, 2, 0.0))))
    assert not found.converged
    assert found.conflict == (0, 1, 3)
    assert "disagree" in found.reason
    assert found.volts == (None, None, None)
    assert found.amps == ()
    with pytest.raises(ValueError, match="no solution"):
        ports(found)


def test_two_equal_ideal_supplies_in_parallel_share_what_nothing_decides() -> None:
    found = solve(Circuit(2, (Source(1, 0, 12.0), Source(1, 0, 12.0), Resistance(1, 0, 10.0))))
    assert not found.converged
    assert found.conflict == (0, 1)
    assert "nothing decides" in found.reason


def test_a_source_shorted_by_a_tie_and_one_on_a_single_node() -> None:
    assert solve(Circuit(2, (Source(1, 0, 12.0), Source(1, 0, 0.0)))).conflict == (0, 1)
    assert solve(Circuit(2, (Source(1, 1, 12.0), Resistance(0, 1, 1.0)))).conflict == (0,)


def test_zero_volt_ties_in_a_loop_keep_the_voltages_and_say_that_the_split_is_open() -> None:
    ties = (Source(1, 2, 0.0), Source(2, 3, 0.0), Source(1, 3, 0.0))
    found = solve(Circuit(4, (Source(1, 0, 12.0), *ties, Resistance(3, 0, 12.0))))
    assert found.converged
    assert found.undetermined == (1, 2, 3)
    assert found.volts[3] == 12.0
    # as equal resistances would: 1 A over one against two in series (delivered out of plus: negative here)
    assert [-a for a in found.amps[1:4]] == pytest.approx([1 / 3, 1 / 3, 2 / 3], rel=1e-12)
    assert found.amps[0] == pytest.approx(1.0, rel=1e-12)


def test_outputs_in_parallel_share_alike() -> None:
    parts = (Source(1, 0, 12.0), *(Drop(1, 2, 0.2) for _ in range(4)), Resistance(2, 0, 11.8))
    found = solve(Circuit(3, parts))
    assert found.converged
    assert found.amps[1:5] == pytest.approx([0.25] * 4, rel=1e-12)
    assert found.undetermined == (1, 2, 3, 4)


def test_outputs_of_different_drop_in_parallel_the_lesser_takes_all() -> None:
    found = solve(Circuit(3, (Source(1, 0, 12.0), Drop(1, 2, 0.7), Drop(1, 2, 0.2), Resistance(2, 0, 11.8))))
    assert found.amps[1:3] == pytest.approx([0.0, 1.0], abs=1e-12)
    assert found.off == (1,)
    assert not found.undetermined


def test_many_outputs_of_many_supplies_settle_whichever_way() -> None:
    volts = [5.0 + 0.37 * ((k * 7) % 11) for k in range(24)]
    parts: list[object] = [Source(k + 2, 0, v) for k, v in enumerate(volts)]
    parts += [Drop(k + 2, 1, 0.1 * (k % 3)) for k in range(24)]
    parts.append(Resistance(1, 0, 50.0))
    found = solve(Circuit(26, tuple(parts)))  # type: ignore[arg-type]
    highest = max(v - 0.1 * (k % 3) for k, v in enumerate(volts))
    assert found.converged
    assert found.volts[1] == pytest.approx(highest, rel=1e-12)


def test_floating_parts_carry_nothing_and_are_named() -> None:
    found = solve(
        Circuit(
            6, (Source(1, 0, 5.0), Resistance(1, 0, 10.0), Resistance(2, 3, 1.0), String(3, 4, 10.0, (RED,)))
        )
    )
    assert found.converged
    assert found.floating == (2, 3, 4, 5)
    assert found.amps[2:] == (0.0, 0.0)
    with pytest.raises(ValueError, match="floats"):
        found.across(1, 3)
    assert found.across(1, 0) == 5.0
    assert [p.open_volts for p in found.ports()] == [0.0]


def test_two_islands_each_measured_from_its_own_first_minus() -> None:
    found = solve(
        Circuit(4, (Source(1, 0, 5.0), Source(3, 2, 9.0), Resistance(1, 0, 5.0), Resistance(3, 2, 9.0)))
    )
    assert found.volts == (0.0, 5.0, 0.0, 9.0)
    assert found.amps == pytest.approx((1.0, 1.0, 1.0, 1.0), rel=1e-14)


def test_nothing_to_solve() -> None:
    assert solve(Circuit(0, ())).converged
    assert solve(Circuit(2, (Resistance(0, 1, 1.0),))).floating == (0, 1)


def test_a_broken_pole_leaves_the_lamps_dark() -> None:
    lamps = [String(2, 3, 100.0, (RED, RED)) for _ in range(50)]
    found = solve(Circuit(4, (Source(1, 0, 12.0), Resistance(1, 2, 0.01), *lamps)))
    assert found.converged
    assert max(map(abs, found.amps)) < 1e-12


def test_constant_currents_in_series_the_smaller_rules() -> None:
    parts = (Source(1, 0, 5.0), SteadyCurrent(1, 2, 0.02, 0.5), SteadyCurrent(2, 0, 0.015, 0.5))
    found = solve(Circuit(3, parts))
    assert found.amps[1:] == pytest.approx((0.015, 0.015), rel=1e-9)
    assert found.volts[2] == pytest.approx(5.0 - 0.375, rel=1e-9)


def test_extreme_values_do_not_overflow() -> None:
    wild = Diode(1e-30, 0.03)
    for volts in (1e-6, 1.0, 60.0, 1e4, -1e4):
        found = solve(
            Circuit(3, (Source(1, 0, volts), Resistance(1, 2, 1e-6), String(2, 0, 0.0, (wild, RED))))
        )
        assert found.converged, (volts, found.reason)


@pytest.mark.parametrize(
    "make",
    [
        lambda: Resistance(0, 1, 0.0),
        lambda: Resistance(0, 1, float("nan")),
        lambda: Drop(0, 1, -1.0),
        lambda: Source(0, 1, float("inf")),
        lambda: String(0, 1, 1.0, ()),
        lambda: Diode(0.0, 0.05),
    ],
)
def test_values_that_mean_nothing_are_refused(make: object) -> None:
    with pytest.raises(ValueError, match=r"."):
        make()  # type: ignore[operator]


def test_a_node_outside_and_a_wrong_number_of_elements_are_refused() -> None:
    with pytest.raises(ValueError, match="outside"):
        Network(Circuit(2, (Resistance(0, 2, 1.0),)))
    with pytest.raises(ValueError, match="as many"):
        Network(Circuit(2, (Resistance(0, 1, 1.0),))).solve(())
