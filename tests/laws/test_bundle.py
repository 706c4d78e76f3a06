"""Laws of the bundle: what one conductor more can do to it."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from postcheck.physics.bundle import FITS, pack, smallest_possible
from tests.laws.random_tables import law

# What the search promises of mixed wires at quick effort: "usually within 1 %" of the best.
TOLERANCE = 0.01
wires = st.lists(st.sampled_from([0.12, 0.2, 0.38, 0.5, 0.64, 0.8, 1.0, 1.3, 2.4]), min_size=1, max_size=6)


@law(25)
@given(wires, st.floats(0.1, 2.5))
def test_a_conductor_more_never_makes_a_bundle_slimmer(diameters: list[float], more: float) -> None:
    before, after = pack(diameters), pack([*diameters, more])
    assert after.diameter >= before.diameter * (1 - TOLERANCE)
    assert after.bound >= before.bound * (1 - 1e-9)
    assert smallest_possible(diameters) <= before.diameter * (1 + 1e-9)
    # what is left in of a bundle that fits is a proof for the smaller one
    bore = after.diameter
    if pack([*diameters, more], bore).verdict == FITS:
        assert pack(diameters, bore * (1 + TOLERANCE)).verdict == FITS
