import pytest

from postcheck.physics.tubes import TUBES, tube_with_bore


# EN 12449 lists outside diameter and wall; 5 x 0.5 has a bore of 4 mm, 8 x 1 of 6 mm
@pytest.mark.parametrize(
    ("least", "outside", "bore"),
    [(3.9, 5, 4.0), (4.0, 5, 4.0), (1.9, 3, 2.0), (3.1, 5, 3.5), (5.2, 8, 6.0), (21.1, 25, 23.0)],
)
def test_the_next_tube(least: float, outside: float, bore: float) -> None:
    tube = tube_with_bore(least * 1e-3)
    assert tube is not None
    assert (tube.outside * 1e3, tube.bore * 1e3) == (pytest.approx(outside), pytest.approx(bore))


def test_none_is_slimmer_that_would_do() -> None:
    for tenths in range(5, 260):
        tube = tube_with_bore(tenths * 1e-4)
        assert tube is not None
        assert tube.bore >= tenths * 1e-4 - 1e-9
        assert not [other for other in TUBES if tenths * 1e-4 <= other.bore < tube.bore - 1e-9]
    assert tube_with_bore(0.1) is None


def test_the_sizes_that_are_sold() -> None:
    """EN 12449 (from memory): each outside diameter in three walls."""
    outside = sorted({round(tube.outside * 1e3, 6) for tube in TUBES})
    assert outside == [2, 3, 4, 5, 6, 8, 10, 12, 14, 15, 16, 18, 20, 22, 25, 28]
    for size in outside:
        walls = [tube.wall * 1e3 for tube in TUBES if round(tube.outside * 1e3, 6) == size]
        assert walls == pytest.approx([0.5, 0.75, 1.0])
    assert len(TUBES) == 48
