"""Area fill against the National Electrical Code's own tables."""

import pytest

from postcheck.physics import fill

# NFPA 70 annex C, EMT with THHN; areas in in2 of chapter 9 tables 4 and 5 (entries from memory): 40 % of the tube,
# then how many of 14, 12, 10, 8 AWG
WIRES = (0.0097, 0.0133, 0.0211, 0.0366)
TUBES = [(0.122, (12, 9, 5, 3)), (0.213, (22, 16, 10, 6)), (0.346, (35, 26, 16, 9))]


@pytest.mark.parametrize(("allowed", "counts"), TUBES)
def test_annex_c(allowed: float, counts: tuple[int, ...]) -> None:
    # among them 3/4 in: 21.96 and 5.82 round up by note 7, while 1 in: 35.67 does not
    assert tuple(fill.conduit_count(allowed / 0.4, wire) for wire in WIRES) == counts


def test_limits_by_count() -> None:
    # NFPA 70 chapter 9 table 1
    assert [fill.fill_limit(n) for n in (1, 2, 3, 4, 50)] == [0.53, 0.31, 0.40, 0.40, 0.40]
    with pytest.raises(ValueError, match="at least one"):
        fill.fill_limit(0)


@pytest.mark.parametrize(
    ("count", "ratio"),
    # bore over wire at the limit of NFPA 70 chapter 9 table 1, worked: sqrt(n / limit)
    [(1, 1.374), (2, 2.540), (3, 2.739), (4, 3.162), (7, 4.183)],
)
def test_smallest_bore(count: int, ratio: float) -> None:
    bore = fill.smallest_bore_by_fill([0.8] * count)
    assert bore == pytest.approx(0.8 * ratio, rel=3e-4)
    assert fill.fill([0.8] * count, bore) == pytest.approx(fill.fill_limit(count))


def test_fill_is_a_share_of_area() -> None:
    # seven in a bore of three: 7/9 (geometry)
    assert fill.fill([1.0] * 7, 3.0) == pytest.approx(7 / 9)
    assert fill.fill([], 3.0) == 0.0
    with pytest.raises(ValueError, match="wider than nothing"):
        fill.fill([1.0], 0.0)
    assert fill.smallest_bore_by_fill([]) == 0.0


def test_jam() -> None:
    # NFPA 70 chapter 9 table 1, informational note 2: three conductors, 2.8 to 3.2
    assert fill.jams(fill.jam_ratio(3.0, 1.0), 3)
    assert not fill.jams(fill.jam_ratio(3.0, 1.0), 4)
    assert [fill.jams(r, 3) for r in (2.79, 2.8, 3.2, 3.21)] == [False, True, True, False]
    assert fill.jam_ratio(3.0, 1.0, bend=1.05) == pytest.approx(3.15)


def test_rules() -> None:
    # FAA AC 43.13-1B, 11-249: a quarter larger
    assert fill.bore_for_bundle(4.0) == 5.0
    # the 1.2 rule is below what three equal wires need, 2.1547 (geometry)
    assert fill.rule_of_thumb_diameter([1.0] * 3) == pytest.approx(2.078, abs=1e-3)
