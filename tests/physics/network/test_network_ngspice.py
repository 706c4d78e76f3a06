"""Whole circuits against ngspice (an independent circuit simulator), each written out by our own generator."""

from __future__ import annotations

from pathlib import Path

import netlists as nl
import pytest

from postcheck.physics.network import (
    Circuit,
    ConstantPower,
    Converter,
    Drop,
    Resistance,
    Solution,
    Source,
    String,
    solve,
)

COUNT = 60
SWEEP = ".dc vlam 0 1 0.25"


def compare(circuit: Circuit, solution: Solution, reference: list[float] | None, label: object) -> None:
    assert reference is not None, (label, "ngspice found no solution")
    assert solution.converged, (label, solution.reason)
    assert not solution.will_not_start, label
    mine = list(solution.amps)
    mine += [solution.input_amps[k] for k, e in enumerate(circuit.elements) if isinstance(e, Converter)]
    currents = len(mine)
    mine += [v if v is not None else float("nan") for v in solution.volts[1:]]
    assert len(mine) == len(reference)
    for n, (ours, theirs) in enumerate(zip(mine, reference, strict=True)):
        floor = 1e-9 if n < currents else 1e-6
        assert ours == pytest.approx(theirs, rel=1e-6, abs=floor), (label, n, currents, circuit)
    volts = [0.0, *reference[currents:]]
    for k, e in enumerate(circuit.elements):  # see netlists.py: ngspice confirms which ideal drops conduct
        if isinstance(e, Drop):
            if k in solution.off:
                assert volts[e.a] - volts[e.b] <= e.volts + 1e-9
            else:
                assert reference[k] >= -1e-9


def against_ngspice(
    circuit: Circuit, folder: Path, sweep: str, end: float = 1.0, power: str = "v(lam)"
) -> Solution:
    solution = solve(circuit)
    text = nl.netlist(circuit, sweep, power, solution.off)
    compare(circuit, solution, nl.run(folder, [(text, nl.vectors(circuit))], end)[0], sweep)
    return solution


def test_random_circuits_of_every_element_agree(tmp_path: Path) -> None:
    circuits = [nl.random_circuit(seed) for seed in range(COUNT)]
    solutions = [solve(circuit) for circuit in circuits]
    jobs = [
        (nl.netlist(c, SWEEP, opened=s.off), nl.vectors(c)) for c, s in zip(circuits, solutions, strict=True)
    ]
    results = nl.run(tmp_path, jobs)
    for seed, (circuit, solution, result) in enumerate(zip(circuits, solutions, results, strict=True)):
        compare(circuit, solution, result, seed)
    assert len({type(e) for c in circuits for e in c.elements}) == 9
    assert sum(bool(s.off) for s in solutions) >= 5, "drops that stay open must occur"


def feed(volts: float, ohms: float, *rest: object) -> Circuit:
    nodes = 1 + max(max(getattr(e, "a", 0), getattr(e, "b", 0), getattr(e, "out_plus", 0)) for e in rest)
    return Circuit(max(3, nodes), (Source(1, 0, volts), Resistance(1, 2, ohms), *rest))  # type: ignore[arg-type]


@pytest.mark.parametrize("share", [0.5, 0.9, 0.99, 0.9999])
def test_constant_power_near_its_nose_follows_the_branch_that_starts(tmp_path: Path, share: float) -> None:
    # the nose of V^2 - E V + P R = 0 lies at P = E^2 / 4 R
    watts = share * 12.0**2 / (4 * 10.0)
    circuit = feed(12.0, 10.0, ConstantPower(2, 0, watts, 2.5))
    solution = against_ngspice(circuit, tmp_path, ".dc vlam 0 1 0.0005")
    assert solution.volts[2] == pytest.approx((12.0 + (144.0 - 40.0 * watts) ** 0.5) / 2, rel=1e-9)


def test_converter_lighting_lamps_against_a_supply_ramped_from_zero(tmp_path: Path) -> None:
    lamps = tuple(String(3, 0, 47.0, (nl.WHITE,)) for _ in range(5))
    circuit = feed(6.0, 4.0, Converter(2, 0, 3, 0, 5.0, 0.85, 3.0, 0.05), *lamps)
    # off below its least voltage of 3 V, taken up over the next half volt so that ngspice can follow
    power = "min(1,max(0,(v(n2)-3.0)*2))"
    against_ngspice(circuit, tmp_path, ".dc ve0 0 6 0.01", 6.0, power)


def test_two_converters_in_a_chain_sharing_a_return_with_resistance(tmp_path: Path) -> None:
    circuit = Circuit(
        7,
        (
            Source(1, 0, 12.0, 0.5),
            Resistance(1, 2, 2.0),
            Resistance(3, 0, 1.5),
            Converter(2, 3, 4, 3, 5.0, 0.9, 6.0, 0.03),
            Resistance(4, 5, 1.0),
            Converter(5, 3, 6, 0, 3.3, 0.8, 3.0, 0.01, 0.1),
            Resistance(6, 3, 22.0),
            String(4, 3, 100.0, (nl.WHITE,)),
        ),
    )
    against_ngspice(circuit, tmp_path, ".dc vlam 0 1 0.01")


def test_outputs_of_two_supplies_joined_one_way_and_a_reversed_supply(tmp_path: Path) -> None:
    lamps = [String(3, 0, 150.0, (nl.RED, nl.WHITE)), String(0, 3, 100.0, (nl.RED,))]
    both = Circuit(4, (Source(1, 0, 12.0), Source(2, 0, 5.0), Drop(1, 3, 0.3), Drop(2, 3, 0.3), *lamps))
    assert against_ngspice(both, tmp_path, SWEEP).off == (3,)
    swapped = Circuit(4, (Source(0, 1, 12.0), Source(2, 0, 5.0), Drop(1, 3, 0.3), Drop(2, 3, 0.3), *lamps))
    text = nl.netlist(swapped, SWEEP, opened=solve(swapped).off)
    assert solve(swapped).off == (2,)
    [result] = nl.run(tmp_path, [(text, nl.vectors(swapped))])
    # the earth of our solution is the minus of the first source, node 1 here
    solution = solve(swapped)
    assert result is not None
    assert solution.amps == pytest.approx(result[: len(solution.amps)], rel=1e-6, abs=1e-9)


@pytest.mark.parametrize("seed", range(3))
def test_a_dozen_lamps_in_a_long_string_of_forty_volts(tmp_path: Path, seed: int) -> None:
    diodes = tuple((nl.WHITE, nl.RED, nl.GREEN)[(seed + k) % 3] for k in range(12))
    circuit = feed(40.0, 1.0, String(2, 0, 150.0 * (seed + 1), diodes), String(0, 2, 0.0, diodes))
    against_ngspice(circuit, tmp_path, SWEEP)
