"""Returns of two supplies that share their negative: Kirchhoff's current law by hand."""

import pytest

from .small import lamp, survey

FIVE = (
    '[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\n'
    '[circuit.horn]\nsupply = "five"\n'
    '[[load]]\nname = "horn"\ncircuit = "horn"\nplace = "hull"\ntypical = "80 mA"\n'
    '[[run]]\nname = "horn feed"\nline = "horn"\nends = ["base", "hull"]\nlength = "200 mm"\n'
)
RETURN = '[[run]]\nname = "five return"\nline = "five-"\nends = ["base", "hull"]\nlength = "200 mm"\n'


def test_a_return_of_its_own_carries_its_own_current():
    made = survey(lamps=lamp(at=""), extra=FIVE + RETURN).electrics
    lit = made.lamps["bow lamp"].nominal
    assert made.runs["five return"].current == pytest.approx(0.080, rel=1e-9)
    assert made.runs["negative"].current == pytest.approx(lit, rel=1e-9)


def test_one_return_serves_both():
    made = survey(lamps=lamp(at=""), extra=FIVE).electrics
    lit = made.lamps["bow lamp"].nominal
    assert made.runs["negative"].current == pytest.approx(0.080 + lit, rel=1e-9)


def test_returns_joined_at_the_far_end_share():
    join = '[[join]]\nplace = "hull"\nlines = ["five-", "main-"]\n'
    made = survey(lamps=lamp(at=""), extra=FIVE + RETURN + join).electrics
    both = made.runs["five return"].current + made.runs["negative"].current
    assert both == pytest.approx(0.080 + made.lamps["bow lamp"].nominal, rel=1e-9)
    # equal wires of 200 and 300 mm: currents as 3 to 2
    assert made.runs["five return"].current == pytest.approx(0.6 * both, rel=1e-6)
