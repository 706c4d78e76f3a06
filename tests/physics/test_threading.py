"""The order of threading against every order there is, and against Lawler's rule; packs of one shape by hand."""

from __future__ import annotations

import random
from itertools import permutations
from math import sqrt

import pytest

from postcheck.physics import bundle, threading
from postcheck.physics.threading import Group, Thick


def ring(thick: float, *wires: float) -> Group:
    return Group(Thick(thick), wires)


def passes_in(order: tuple[int, ...], groups: list[Group], bore: float) -> bool:
    lying: list[float] = []
    for number in order:
        group = groups[number]
        if bundle.pack([*lying, group.thick.across], bore).verdict != bundle.FITS:
            return False
        lying += group.wires
    return True


# Two circles need the sum of their diameters, however they lie.
@pytest.mark.parametrize(("bore", "verdict"), [(5.34, bundle.FITS), (5.33, bundle.CANNOT)])
def test_two_joints_one_after_the_other(bore: float, verdict: str) -> None:
    assert threading.one_by_one([ring(4.6, 0.74), ring(4.6, 0.74)], bore).verdict == verdict


def test_the_largest_bulge_goes_first_not_the_widest() -> None:
    # the wide one is all wire (3.0 with no bulge); the slim one swells from 0.5 to 2.9. Only the bulge first passes:
    # 2.9 alone, then 3.0 + 0.5 = 3.5; the other way 3.0 + 2.9 = 5.9 is needed.
    order = threading.one_by_one([ring(3.0, 3.0), ring(2.9, 0.5)], 3.6)
    assert order.first_to_last == (1, 0)
    assert order.verdict == bundle.FITS


def test_no_order_is_missed_and_no_proof_is_wrong() -> None:
    chance = random.Random(20260301)
    seen = {bundle.FITS: 0, bundle.CANNOT: 0}
    for _ in range(120):
        groups = [
            ring(
                round(chance.uniform(0.8, 3.6), 2),
                *[round(chance.uniform(0.3, 0.9), 2)] * chance.randint(1, 2),
            )
            for _ in range(chance.randint(2, 4))
        ]
        bore = round(chance.uniform(2.4, 4.2), 2)
        found = threading.one_by_one(groups, bore)
        orders = list(permutations(range(len(groups))))
        some = any(passes_in(order, groups, bore) for order in orders)
        if found.verdict == bundle.FITS:
            assert passes_in(found.first_to_last, groups, bore)
            seen[bundle.FITS] += 1
        else:
            assert not some
        if found.verdict == bundle.CANNOT:
            seen[bundle.CANNOT] += 1
        assert sorted(found.first_to_last) == list(range(len(groups)))
    assert min(seen.values()) >= 15


# Lawler (1973), one machine, largest delivery time first is best: by area, sum of d2 so far + w2 is least.
def test_many_alike_are_ordered_by_the_rule() -> None:
    chance = random.Random(7)
    groups = [ring(round(chance.uniform(1.0, 3.0), 2), round(chance.uniform(0.3, 0.9), 2)) for _ in range(20)]

    def need(order: tuple[int, ...]) -> float:
        so_far, most = 0.0, 0.0
        for number in order:
            most = max(most, so_far + groups[number].thick.across ** 2)
            so_far += sum(d * d for d in groups[number].wires)
        return most

    order = threading.one_by_one(groups, 8.0).first_to_last
    best = need(order)
    for _ in range(500):
        other = list(order)
        chance.shuffle(other)
        assert need(tuple(other)) >= best - 1e-12


def test_spaced_and_abreast() -> None:
    two = [ring(2.6, 0.74), ring(2.6, 0.74)]
    assert threading.spaced(two, 5.0) == (bundle.FITS, bundle.FITS)
    thick = [group.thick for group in two]
    assert threading.abreast(thick, [], 5.2) == bundle.FITS
    assert threading.abreast(thick, [], 5.1) == bundle.CANNOT
    # three equal ones side by side need 1 + 2/sqrt 3 diameters (Graham)
    third = [Thick(2.0)] * 3
    assert threading.abreast(third, [], 2.0 * (1 + 2 / sqrt(3)) + 1e-6) == bundle.FITS
    assert threading.abreast(third, [], 2.0 * (1 + 2 / sqrt(3)) - 1e-6) == bundle.CANNOT


# Two of 3 by 0.5 laid one on the other are a rectangle of 3 by 1, which its diagonal bounds: hypot(3, 1) = 3.1623.
@pytest.mark.parametrize(("bore", "verdict"), [(3.163, bundle.FITS), (3.162, bundle.NOT_FOUND)])
def test_flat_packs_lie_one_on_the_other(bore: float, verdict: str) -> None:
    assert threading.abreast([Thick(3.0, 0.5), Thick(3.0, 0.5)], [], bore) == verdict


# Edge to edge two of 1 by 0.9 are 2 by 0.9, hypot 2.193; one on the other 1 by 1.8, hypot 2.059.
def test_flat_packs_of_two_sizes() -> None:
    assert threading.abreast([Thick(1.0, 0.9)] * 2, [], 2.06) == bundle.FITS
    # hypot(2, 0.4) = 2.0396, however each is given
    for one in (Thick(1.0, 0.1), Thick(0.1, 1.0)):
        assert threading.abreast([one, Thick(2.0, 0.3)], [], 2.04) == bundle.FITS
    # a third of 2 by 0.3: hypot(2, 0.7) = 2.119; the chord leaves R + sqrt(R2 - 1) - 0.7 = 0.712 beside it
    three = [Thick(1.0, 0.1), Thick(2.0, 0.3), Thick(2.0, 0.3)]
    assert threading.abreast(three, [], 2.12) == bundle.FITS
    assert threading.abreast([*three, Thick(0.71)], [], 2.12) == bundle.FITS
    assert threading.abreast([*three, Thick(0.72)], [], 2.12) == bundle.NOT_FOUND
    assert threading.abreast(three, [0.71], 2.12) == bundle.FITS


def test_flat_packs_side_by_side_are_said_to_be_impossible_only_where_they_are() -> None:
    flat = [Thick(3.0, 0.5), Thick(3.0, 0.5)]
    assert threading.abreast(flat, [], 2.9) == bundle.CANNOT  # wider than the bore
    assert threading.abreast(flat[:1], [], 3.2) == bundle.FITS
    # by area: four of 3 by 2 are 24, the bore of 5 is 19.6, though each goes in alone
    assert threading.abreast([Thick(3.0, 2.0)] * 4, [], 5.0) == bundle.CANNOT
    # circles inside: two of 2.6 side by side need 5.2
    assert threading.abreast([Thick(2.7, 2.6)] * 2, [], 5.1) == bundle.CANNOT


def test_room_beside() -> None:
    # beside one wire d there is D - d
    assert threading.room_beside([0.74], 5.0) == pytest.approx(4.26, abs=5.0 / 2**8)
    assert threading.room_beside([0.74], 5.0) <= 4.26 + 1e-9
    assert threading.room_beside([], 5.0) == 5.0
    # beside two equal ones of half the bore: the third of Descartes' circles, 2/3 of D/2
    assert threading.room_beside([1.0, 1.0], 2.0) == pytest.approx(2 / 3, abs=0.01)


def test_what_is_wider_than_the_bore_never_passes() -> None:
    assert threading.one_by_one([ring(5.1, 0.7), ring(1.0, 0.7)], 5.0).verdict == bundle.CANNOT
    assert threading.one_by_one([Group(Thick(4.5, 2.3), (0.7,))], 5.0).verdict == bundle.CANNOT
    assert threading.one_by_one([Group(Thick(4.4, 2.3), (0.7,))], 5.0).verdict == bundle.FITS
    assert threading.one_by_one([], 5.0) == threading.Order((), bundle.FITS, ())
