"""What is known already when a thick spot is to pass, and orders of many groups, in figures by hand."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi, sqrt

import pytest

from postcheck.physics import bundle, threading
from postcheck.physics.bundle import CANNOT, FITS, NOT_FOUND
from postcheck.physics.threading import Group, Thick, _bulge, _by_halves, _Passing, _slimmer


class Asked:
    """Stands for `passes`: what is asked, and an answer by the width of the thick spot."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, cannot: float, fits: float) -> None:
        self.asked: list[tuple[Thick, tuple[float, ...]]] = []
        self.cannot, self.fits = cannot, fits
        monkeypatch.setattr(threading, "passes", self)

    def __call__(self, thick: Thick, beside: Sequence[float], bore: float) -> bundle.Verdict:
        self.asked.append((thick, tuple(beside)))
        return FITS if thick.across <= self.fits else CANNOT if thick.across >= self.cannot else NOT_FOUND


def test_what_is_slimmer_lies_within_what_fits(monkeypatch: pytest.MonkeyPatch) -> None:
    passes = Asked(monkeypatch, cannot=4.0, fits=2.0)
    passing = _Passing(5.0)
    assert passing.verdict(Thick(2.0), [0.5, 1.0]) == FITS
    assert passes.asked == [(Thick(2.0), (1.0, 0.5))]  # falling, so that order makes no difference
    for thick, beside in ((2.0, [1.0, 0.5]), (1.9, [0.5, 1.0]), (2.0, [1.0]), (0.9, [2.0, 0.5]), (1.5, [])):
        assert passing.verdict(Thick(thick), beside) == FITS
    assert len(passes.asked) == 1
    assert passing.verdict(Thick(1.0), [1.0, 1.0]) == FITS  # one part of it is thicker: asked
    assert passing.verdict(Thick(0.1), [0.1, 0.1, 0.1]) == FITS  # one more: asked
    assert len(passes.asked) == 3


def test_what_is_no_slimmer_than_what_cannot_fit_cannot_either(monkeypatch: pytest.MonkeyPatch) -> None:
    passes = Asked(monkeypatch, cannot=4.0, fits=2.0)
    passing = _Passing(5.0)
    assert passing.verdict(Thick(4.0), [1.0]) == CANNOT
    assert passing.verdict(Thick(4.0), [1.0, 0.1]) == CANNOT
    assert passing.verdict(Thick(4.5), [1.0]) == CANNOT
    assert passing.verdict(Thick(1.0), [4.0]) == CANNOT
    assert len(passes.asked) == 1
    assert passing.verdict(Thick(3.9), [1.2]) == NOT_FOUND
    assert len(passes.asked) == 2


def test_what_is_no_slimmer_than_what_was_not_found_is_proven_or_not_found(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    passes = Asked(monkeypatch, cannot=9.0, fits=2.0)
    passing = _Passing(5.0)
    assert passing.verdict(Thick(3.0), [1.9]) == NOT_FOUND
    # two need the sum of their diameters
    assert passing.verdict(Thick(3.05), [1.9]) == NOT_FOUND
    assert passing.verdict(Thick(3.0), [2.0]) == NOT_FOUND  # just 5
    assert passing.verdict(Thick(3.2), [1.9]) == CANNOT
    assert len(passes.asked) == 1


def test_flat_ones_are_compared_with_flat_ones(monkeypatch: pytest.MonkeyPatch) -> None:
    passes = Asked(monkeypatch, cannot=4.4, fits=2.0)
    passing = _Passing(5.0)
    assert passing.verdict(Thick(3.0, 1.0), [0.7]) == NOT_FOUND
    assert passing.verdict(Thick(3.2, 1.0), [0.7]) == NOT_FOUND
    assert passing.verdict(Thick(3.0, 1.0), [0.7, 0.7]) == NOT_FOUND
    # by its diagonal: 4 by 3.1 is 5.06
    assert passing.verdict(Thick(4.0, 3.1), [0.7]) == CANNOT
    assert len(passes.asked) == 1
    assert passing.verdict(Thick(3.0), [0.7]) == NOT_FOUND
    assert passing.verdict(Thick(2.0, 0.9), [0.7]) == FITS
    assert len(passes.asked) == 3


@pytest.mark.parametrize(
    ("one", "other", "within"),
    [
        ((Thick(2.0), (1.0, 0.5)), (Thick(2.0), (1.0, 0.5)), True),
        ((Thick(1.0), (2.0, 0.5)), (Thick(2.0), (1.0, 0.5)), True),
        ((Thick(1.0), (1.5,)), (Thick(2.0), (1.0, 0.5)), True),
        ((Thick(1.2), (1.5,)), (Thick(2.0), (1.0, 0.5)), False),
        ((Thick(2.1), ()), (Thick(2.0), (1.0,)), False),
        ((Thick(0.1), (0.1, 0.1)), (Thick(2.0), (1.0,)), False),
        ((Thick(2.0, 1.0), (0.5,)), (Thick(2.0, 1.0), (0.5,)), True),
        ((Thick(1.9, 1.0), (0.5,)), (Thick(2.0, 1.1), (0.5, 0.5)), True),
        ((Thick(2.1, 1.0), (0.5,)), (Thick(2.0, 1.1), (0.5,)), False),
        ((Thick(1.9, 1.2), (0.5,)), (Thick(2.0, 1.1), (0.5,)), False),
        ((Thick(1.9, 1.0), (0.6,)), (Thick(2.0, 1.1), (0.5,)), False),
        ((Thick(1.9, 1.0), (0.5,)), (Thick(2.0), (0.5,)), False),
        ((Thick(1.9), (0.5,)), (Thick(2.0, 1.0), (0.5,)), False),
    ],
)
def test_what_lies_within_what(
    one: tuple[Thick, tuple[float, ...]], other: tuple[Thick, tuple[float, ...]], within: bool
) -> None:
    assert _slimmer(*one, *other) == within


def test_halves_and_their_halves() -> None:
    assert list(_by_halves([0, 1, 2, 3, 4, 5, 6])) == [3, 1, 0, 2, 5, 4, 6]
    assert list(_by_halves([7, 8])) == [8, 7]
    assert list(_by_halves([])) == []


def test_of_many_spaced_alike_few_are_asked_about(monkeypatch: pytest.MonkeyPatch) -> None:
    """15 that differ by the thick spot alone, the middle one fits and the next does not: what is slimmer or thicker is known."""
    passes = Asked(monkeypatch, cannot=9.0, fits=1.75)
    groups = [Group(Thick(1.0 + 0.125 * k), (0.0001,)) for k in range(15)]
    expected = tuple(FITS if 1.0 + 0.125 * k <= 1.75 else NOT_FOUND for k in range(15))
    assert threading.spaced(groups, 5.0) == expected
    assert len(passes.asked) <= 4
    assert len(passes.asked[0][1]) == 14
    # one that does not pass beside all others ends the question, and the thickest is asked first
    passes.asked.clear()
    assert not threading.all_pass(groups, 5.0, [0.3])
    assert passes.asked == [(Thick(2.75), (0.3, *[0.0001] * 14))]
    assert threading.all_pass(groups[:5], 5.0)


def test_which_wires_are_in_the_way() -> None:
    groups = [
        Group(Thick(1.0), (0.5, 0.4)),
        Group(Thick(1.0), (0.3,), frozenset({0})),
        Group(Thick(1.0), (0.2,)),
    ]
    assert threading.in_the_way(groups, 0, [0, 1, 2]) == [0.3, 0.2]
    assert threading.in_the_way(groups, 1, [0, 1, 2]) == [0.2]
    assert threading.in_the_way(groups, 2, [0, 1]) == [0.5, 0.4, 0.3]
    assert threading.in_the_way(groups, 2, [2]) == []


def test_bulges_by_area() -> None:
    assert _bulge(Group(Thick(2.0), (1.0, 0.5))) == pytest.approx(4.0 - 1.25)
    # the round one of the area of 3 by 2: its diameter squared is 24 / pi
    assert _bulge(Group(Thick(3.0, 2.0), (1.0,))) == pytest.approx(24.0 / pi - 1.0)


# By area 3.0 on three of 1.4 (bulge 3.12) goes last, before 2.1 on one of 1.0 (bulge 3.41): past that 1.0 it needs 4.0. The other
# way round 2.1 goes past three of 1.4, which have room in 3.95.
PAIR = [Group(Thick(3.0), (1.4, 1.4, 1.4)), Group(Thick(2.1), (1.0,))]


def tiny(count: int) -> list[Group]:
    return [Group(Thick(0.02), (0.02,))] * count


def test_up_to_ten_groups_the_order_is_sought_and_from_eleven_on_made_by_the_rule() -> None:
    assert bundle.smallest_possible([3.0, 1.0]) == 4.0
    assert bundle.goes_in([2.1, 1.4, 1.4, 1.4], 3.95) == FITS
    found = threading.one_by_one([*PAIR, *tiny(8)], 3.95)
    assert (found.verdict, set(found.verdicts)) == (FITS, {FITS})
    assert found.first_to_last[:2] == (0, 1)
    found = threading.one_by_one([*PAIR, *tiny(9)], 3.95)
    assert found.first_to_last[:2] == (1, 0)
    assert found.verdicts[:2] == (FITS, CANNOT)
    assert found.verdict == NOT_FOUND  # for there may be another order
    # but for what does not go through the empty bore
    too_wide = Group(Thick(4.0), (1.0,))
    assert threading.one_by_one([*PAIR, *tiny(8), too_wide], 3.95).verdict == CANNOT


@pytest.mark.parametrize(
    ("widths", "verdict"),
    [((1.0, 1.0), FITS), ((1.0, 3.0), NOT_FOUND), ((3.0, 1.0), NOT_FOUND), ((3.0, 3.0), NOT_FOUND), ((1.0, 4.5), CANNOT),
     ((4.5, 1.0), CANNOT), ((3.0, 4.5), CANNOT), ((4.5, 3.0), CANNOT), ((4.5, 4.5), CANNOT), ((1.0, 3.0, 1.0), NOT_FOUND)],
)  # fmt: skip
def test_the_whole_is_as_its_worst_group(
    widths: tuple[float, ...], verdict: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    Asked(monkeypatch, cannot=4.0, fits=2.0)
    found = threading.one_by_one([Group(Thick(width), (0.0001,)) for width in widths], 5.0)
    assert found.verdict == verdict
    # whatever passes goes last, so the worst are the first
    ranks = [[CANNOT, NOT_FOUND, FITS].index(one) for one in found.verdicts]
    assert ranks == sorted(ranks)
    assert len(ranks) == len(widths)


def test_alike_ones_go_in_the_order_in_which_they_stand() -> None:
    found = threading.one_by_one([Group(Thick(1.0), (0.5,))] * 4, 5.0)
    assert found == threading.Order((0, 1, 2, 3), FITS, (FITS,) * 4)


def test_none_of_two_can_go_last() -> None:
    # 2.0 past 1.9 and 1.9 past 2.0 both need 3.9
    both = [Group(Thick(2.0), (2.0,)), Group(Thick(1.9), (1.9,))]
    assert threading.one_by_one(both, 3.89).verdict == CANNOT
    assert threading.one_by_one(both, 3.91).verdict == FITS


def test_room_beside_is_halved_so_many_times() -> None:
    # beside 0.74 in 5.0 there is 4.26: 2.5, 3.75, 4.375 is too much, 4.0625, 4.21875
    told = [threading.room_beside([0.74], 5.0, steps) for steps in (1, 2, 3, 4, 5)]
    assert told == [2.5, 3.75, 3.75, 4.0625, 4.21875]
    assert threading.room_beside([4.9], 5.0, 3) == 0.0
    assert threading.room_beside([0.74], 5.0) == 218 * 5.0 / 256  # eight times where nothing is said
    with pytest.raises(ValueError, match="at least one step, not 0"):
        threading.room_beside([0.74], 5.0, 0)


def test_alone_by_its_diagonal() -> None:
    assert threading.alone(Thick(5.0), 5.0)
    assert not threading.alone(Thick(5.0001), 5.0)
    assert threading.alone(Thick(4.0, 3.0), 5.0)
    assert not threading.alone(Thick(4.0, 3.001), 5.0)
    assert Thick(4.0, 3.0).round == 5.0
    with pytest.raises(ValueError, match="thin"):
        threading.alone(Thick(4.0, -1.0), 5.0)


def test_abreast_beside_wires() -> None:
    # 2 and 2 and 1 beside each other: 2 + 2 across, the third in the gap up to 2/3 of 2
    assert threading.abreast([Thick(2.0), Thick(2.0)], [1.3], 4.0) == FITS
    assert threading.abreast([Thick(2.0), Thick(2.0)], [1.4], 4.0) == CANNOT
    assert threading.abreast([Thick(2.0)], [2.1], 4.0) == CANNOT
    # a flat one of 2 by 1 in its circle of 2.236, beside a round one of the rest
    least = sqrt(5.0) + 1.9
    assert threading.abreast([Thick(2.0, 1.0), Thick(1.9)], [], least + 1e-6) == FITS
    # two flat ones of 3 by 0.2 with a round one of 4.5: 4.5 and the circles inside, 0.2 and 0.2, fit, and so does the area
    assert threading.abreast([Thick(3.0, 0.2), Thick(3.0, 0.2), Thick(4.5)], [], 5.0) == NOT_FOUND
    assert threading.abreast([Thick(3.0, 0.2), Thick(3.0, 0.2), Thick(4.9)], [], 5.0) == CANNOT
    # by area: 20.25 + 4/pi 0.6 n is over 25 from seven on; their circles inside, seven of 0.2, still fit
    assert threading.abreast([Thick(3.0, 0.2)] * 6 + [Thick(4.5)], [], 5.0) == NOT_FOUND
    assert threading.abreast([Thick(3.0, 0.2)] * 7 + [Thick(4.5)], [], 5.0) == CANNOT
