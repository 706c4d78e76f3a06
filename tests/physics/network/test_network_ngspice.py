"""Whole circuits against ngspice (an independent circuit simulator), each written out by our own generator."""

from __future__ import annotations

from pathlib import Path

import netlists as nl
import pytest

from postcheck.physics.network import Circuit, ConstantPower, Converter, Resistance, Source, String, solve

COUNT = 60
SWEEP = ".dc vlam 0 1 0.05"


def compare(circuit: Circuit, reference: list[float], label: object) -> None:
    solution = solve(circuit)
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


def test_random_circuits_of_every_element_agree(tmp_path: Path) -> None:
    circuits = [nl.random_circuit(seed) for seed in range(COUNT)]
    results = nl.run(tmp_path, [(nl.netlist(c, SWEEP), nl.vectors(c)) for c in circuits])
    for seed, (circuit, result) in enumerate(zip(circuits, results, strict=True)):
        compare(circuit, result, seed)
    kinds = {type(e).__name__ for c in circuits for e in c.elements}
    assert len(kinds) == 9


def feed(volts: float, ohms: float, *rest: object) -> Circuit:
    nodes = 1 + max(max(getattr(e, "a", 0), getattr(e, "b", 0), getattr(e, "out_plus", 0)) for e in rest)
    return Circuit(max(3, nodes), (Source(1, 0, volts), Resistance(1, 2, ohms), *rest))  # type: ignore[arg-type]


@pytest.mark.parametrize("share", [0.5, 0.9, 0.99, 0.9999])
def test_constant_power_near_its_nose_follows_the_branch_that_starts(tmp_path: Path, share: float) -> None:
    # the nose of V^2 - E V + P R = 0 lies at P = E^2 / 4 R
    power = 12.0**2 / (4 * 10.0)
    circuit = feed(12.0, 10.0, ConstantPower(2, 0, share * power, 2.5))
    text = nl.netlist(circuit, ".dc vlam 0 1 0.001")
    compare(circuit, nl.run(tmp_path, [(text, nl.vectors(circuit))])[0], share)
    upper = (12.0 + (144.0 - 40.0 * share * power) ** 0.5) / 2
    assert solve(circuit).volts[2] == pytest.approx(upper, rel=1e-9)


def test_converter_lighting_lamps_against_a_supply_ramped_from_zero(tmp_path: Path) -> None:
    lamps = tuple(String(3, 0, 47.0, (nl.WHITE,)) for _ in range(5))
    circuit = feed(6.0, 4.0, Converter(2, 0, 3, 0, 5.0, 0.85, 3.0, 0.05), *lamps)
    # off below its least voltage: the input is ramped from nothing, the power taken only above 3 V
    text = nl.netlist(circuit, ".dc ve0 0 6 0.01", power="(v(n2)>3.0 ? 1 : 0)")
    text = text.replace("ve3x e", "ve3x e")  # the output stands from the start, unloaded lamps need it
    compare(circuit, nl.run(tmp_path, [(text, nl.vectors(circuit))])[0], "ramp")


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
    text = nl.netlist(circuit, ".dc vlam 0 1 0.01")
    compare(circuit, nl.run(tmp_path, [(text, nl.vectors(circuit))])[0], "chain")
