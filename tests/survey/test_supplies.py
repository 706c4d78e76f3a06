"""The volts of supplies, typical and highest, by hand from what the file says."""

from __future__ import annotations

import pytest

from .small import survey


@pytest.mark.parametrize(("tolerance", "highest"), [("2 %", 5.1), ("4 %", 5.2), ("10 %", 5.5)])
def test_a_converter_gives_its_volts_and_at_most_its_tolerance_more(tolerance: str, highest: float) -> None:
    five = f'[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\ntolerance = "{tolerance}"\n'
    supplies = survey(extra=five).electrics.supplies
    assert (supplies["five"].volts, supplies["five"].highest_volts) == pytest.approx((5.0, highest))
    # 12 V and 5 % of it
    assert (supplies["main"].volts, supplies["main"].highest_volts) == pytest.approx((12.0, 12.6))
