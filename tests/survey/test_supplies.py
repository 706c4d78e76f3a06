"""The volts of supplies, typical and highest, by hand from what the file says."""

from __future__ import annotations

import pytest

from postcheck.survey.network.electrics import _Gauge

from .small import lamp, survey


@pytest.mark.parametrize(("tolerance", "highest"), [("2 %", 5.1), ("4 %", 5.2), ("10 %", 5.5)])
def test_a_converter_gives_its_volts_and_at_most_its_tolerance_more(tolerance: str, highest: float) -> None:
    five = f'[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\ntolerance = "{tolerance}"\n'
    supplies = survey(extra=five).electrics.supplies
    assert (supplies["five"].volts, supplies["five"].highest_volts) == pytest.approx((5.0, highest))
    # 12 V and 5 % of it
    assert (supplies["main"].volts, supplies["main"].highest_volts) == pytest.approx((12.0, 12.6))


def test_the_legs_of_a_lamp_have_the_ohms_of_their_wire_usual_and_worst() -> None:
    """Twice a metre of 0.10 mm: 1/58 ohm mm2/m over 0.00785 mm2, and 2.333 ohm/m at most (IEC 60317-0-1 by makers' tables)."""
    made = survey(lamps=lamp(at="", lead="1000 mm to hull"))
    gauge = _Gauge(made.wiring, made.limits)
    typical, _ = gauge.solved()
    assert typical is not None
    maker, usual = typical.maker(typical.of("lamp", "bow lamp")[0]), gauge.finder.nominal
    assert maker.wire_ohms(usual) == pytest.approx(2.0 / 58.0 / 0.00785398)
    assert maker.wire_ohms(usual._replace(most=True)) == pytest.approx(2.0 * 2.333, rel=1e-4)
    # copper, 0.393 % a kelvin (IEC 60028)
    assert maker.wire_ohms(usual._replace(copper=30.0)) == pytest.approx(1.0393 * 2.0 / 58.0 / 0.00785398)
