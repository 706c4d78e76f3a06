"""Resistors in series, a trimmer at both of its ends, and a switch on the way, against ngspice."""

from __future__ import annotations

from pathlib import Path

import pytest

from postcheck.survey.network.dice import curve_of
from tests.checks.test_lamps import own_kind, string
from tests.outside.spice import operating_point
from tests.survey.small import adaptor, survey

VT = 1.380649e-23 * 298.15 / 1.602176634e-19
SWITCH = 'on_off = {{ rated = "1 A", contact = "{} ohm" }}'


def lit(folder: Path, ohms: float, contact: float) -> float:
    """The current (A) of a die of `own_kind` in ngspice: 12 V, both runs and legs as the survey has them, and so many ohms."""
    small = survey(lamps=string("own", "1k 1/4 W"), extra=own_kind())
    (lamp,) = small.parts.lamps
    usual = sum(small.build.build.air) / 2
    wires = sum(run.ohms(usual) for run in small.parts.runs)
    wires += lamp.supply_leg.ohms(usual) + lamp.return_leg.ohms(usual)
    # how a curve is laid through the points of a data sheet has tests of its own
    curve = curve_of(lamp.dice[0]).at()
    deck = f"* lamp\nV1 1 0 12\nR1 1 2 {wires + contact + ohms}\nD1 2 0 LED\n"
    deck += f".model LED D(IS={curve.saturation!r} N={curve.slope / VT!r} RS={curve.ohm!r})\n.end"
    return -operating_point(deck, folder)["i(v1)"]


@pytest.mark.parametrize("contact", [0.0, 33.0])
def test_currents_are_those_of_ngspice(contact: float, tmp_path: Path) -> None:
    circuit = SWITCH.format(contact) if contact else ""

    def lamp(resistor: str):  # type: ignore[no-untyped-def]
        small = survey(lamps=string("own", resistor), extra=own_kind(), circuit=circuit, supply=adaptor())
        return small.electrics.lamps["bow lamp"]

    assert lamp("470 + 330").nominal == pytest.approx(lit(tmp_path, 800.0, contact), rel=1e-5)
    turned = lamp("470 + trimmer 1k")
    assert turned.nominal == pytest.approx(lit(tmp_path, 470.0, contact), rel=1e-5)
    assert turned.turned == pytest.approx(
        (lit(tmp_path, 470.0, contact), lit(tmp_path, 1470.0, contact)), rel=1e-5
    )
    assert lamp("470 + trimmer 1k set 300").nominal == pytest.approx(lit(tmp_path, 770.0, contact), rel=1e-5)
