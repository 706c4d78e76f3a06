"""Proven lower bounds on the radius of a circle that holds given circles (radii in falling order), each with a name.

The plane density bounds for unequal circles (Florian 1960, Blind 1969) are not among them: they hold for the whole
plane, not for a round wall, which its circles may fill further (one as wide as the wall fills all of it, where the
plane allows 0.9069), so they prove nothing of a bore.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import permutations
from math import pi, sqrt

__all__ = ["BEST_KNOWN", "RATIOS", "equal_ratio", "gap_radius", "held", "lower", "three"]

RATIOS = {
    1: 1.0,
    2: 2.0,
    3: 1.0 + 2.0 / sqrt(3.0),
    4: 1.0 + sqrt(2.0),
    5: 1.0 + sqrt(2.0 * (1.0 + 1.0 / sqrt(5.0))),
    6: 3.0,
    7: 3.0,
    8: 3.304764870962,
    9: 1.0 + sqrt(2.0 * (2.0 + sqrt(2.0))),
    10: 3.813025631398,
    11: 3.923804400163,
    12: 4.029601930116,
    13: 2.0 + sqrt(5.0),
    14: 4.328428554860,
    19: 1.0 + sqrt(2.0) + sqrt(6.0),
}
"""Least container radius for k unit circles, proven: Graham 1968, Pirl 1969, Melissen 1994, Fodor 1999 to 2003,
Ekanayake and LaFountain (14); values from the record table kept by E. Specht."""

BEST_KNOWN = {
    15: 4.521356964706,
    16: 4.615425594873,
    17: 4.792033748310,
    18: 4.863703305156,
    20: 5.122320736991,
    21: 5.252317475010,
    22: 5.439718959072,
    23: 5.545204222574,
    24: 5.651661091765,
    25: 5.752824330857,
    26: 5.828176536942,
    27: 5.906397847394,
    28: 6.014938097371,
    29: 6.138597903978,
    30: 6.197741070879,
    31: 6.291502622129,
    32: 6.429462970950,
    33: 6.486703123560,
    34: 6.610957090001,
    35: 6.697171091790,
    36: 6.746753793424,
    37: 6.758770483143,
}
"""The same for more, not proven: the best that anybody has found (Graham, Lubachevsky, Nurmela, Ostergard, Discrete
Mathematics 181, 1998; the same record table). No bound: only where a search need not go on."""

_ROUNDING = 1e-12


def equal_ratio(count: int) -> float:
    """Container radius that k unit circles need at least.

    The proven best where there is one; else the greater of the last proven one below k and the bound of Oler (1961)
    and Groemer (1960): with y = (R - 1)/2, k <= 2/sqrt(3) pi y**2 + pi y + 1.
    """
    if count in RATIOS:
        # the printed values have twelve decimals: take off the last
        return RATIOS[count] * (1.0 - _ROUNDING)
    last = RATIOS[19] if count > 19 else RATIOS[14]
    square = 2.0 / sqrt(3.0) * pi
    y = (sqrt(pi * pi + 4.0 * square * (count - 1)) - pi) / (2.0 * square)
    return max(last, 1.0 + 2.0 * y) * (1.0 - _ROUNDING)


def held(ratio: float) -> int:
    """How many unit circles surely fit in a circle of this radius: known arrangements, not always the most."""
    return max([count for count, least in RATIOS.items() if ratio >= least * (1.0 + _ROUNDING)], default=0)


def gap_radius(first: float, second: float) -> float:
    """Largest circle beside two touching ones that lie across their common container: r1 r2 (r1 + r2)/(r1**2 + r1 r2 + r2**2)."""
    return first * second * (first + second) / (first * first + first * second + second * second)


def three(radii: Sequence[float]) -> float:
    """Least container radius for the three largest, in falling order: Descartes' circle theorem, outer solution."""
    first, second, third = radii[0], radii[1], radii[2]
    if third <= gap_radius(first, second):
        return first + second
    a, b, c = 1.0 / first, 1.0 / second, 1.0 / third
    return -1.0 / (a + b + c - 2.0 * sqrt(a * b + b * c + c * a))


def lower(radii: Sequence[float]) -> tuple[float, str]:
    """Greatest of the lower bounds for these radii, in falling order, and its name."""
    found = [(radii[0], "the thickest wire alone")]
    if len(radii) > 1:
        found.append((radii[0] + radii[1], "the two thickest side by side"))
    if len(radii) > 2:
        found.append((three(radii) * (1.0 - _ROUNDING), "the circle round the three thickest (Descartes)"))
    area = sqrt(_squares(radii)) * (1.0 - _ROUNDING)
    found.append((area, "area: the wires' sections together"))
    best, name = max(found)
    shrunk, count = _shrunk(radii)
    if shrunk > best:
        by = "proven best" if count in RATIOS else "Oler and Groemer"
        best, name = shrunk, f"equal circles: at least {count} as thick as one of the wires ({by})"
    for count in (4, 5):  # of six none is wider than by their number: 3 of the thinnest
        if len(radii) >= count:
            ring = _ring(radii[:count], best)
            if ring > best:
                best, name = ring, f"the {count} thickest in a ring: none has room in the middle"
    return best, name


def _squares(radii: Sequence[float]) -> float:
    """Area over pi."""
    total = 0.0
    for radius in radii:  # not `sum`, whose rounding differs between versions of Python
        total += radius * radius
    return total


def _shrunk(radii: Sequence[float]) -> tuple[float, int]:
    """Best bound by equal circles, and their number.

    For each radius r of the bundle: every circle as wide or wider is replaced by as many circles of r as surely fit
    in it (one, if shrunk), which leaves that many equal circles in the same container.
    """
    best, number = 0.0, 0
    for place, radius in enumerate(radii):
        if place + 1 < len(radii) and radii[place + 1] == radius:
            continue
        count = 0
        last, each = 0.0, 0
        for larger in radii[: place + 1]:
            if larger != last:
                last, each = larger, max(held(larger / radius), 1)
            count += each
        bound = radius * equal_ratio(count)
        if bound > best:
            best, number = bound, count
    return best, number


def _ring(radii: Sequence[float], known: float) -> float:
    """Container radius below which these few circles cannot all lie round the middle, or `known` if that is no less.

    Below three times the smallest, R <= ri + rj + min(ri, rj) for every pair; then two centres are seen from the
    middle under the least angle when both circles touch the wall: cos = (a**2 + b**2 - d**2)/(2 a b), with a = R - ri,
    b = R - rj, d = ri + rj (the cosine grows with a as long as b**2 <= a**2 + d**2, and b <= d). If the angles of
    every cyclic order add up to more than a full turn, R is too small; and so is every R below it.
    """
    low, high = known, 3.0 * radii[-1] * (1.0 - _ROUNDING)
    if high <= low or not _turns_past(radii, low):
        return known
    for _ in range(40):
        middle = 0.5 * (low + high)
        if _turns_past(radii, middle):
            low = middle
        else:
            high = middle
    return low * (1.0 - _ROUNDING)


def _turns_past(radii: Sequence[float], radius: float) -> bool:
    """Whether in every cyclic order the least angles between neighbours add up to more than a full turn."""
    count = len(radii)
    turns = {}
    for i in range(count):
        for j in range(i):
            a, b, d = radius - radii[i], radius - radii[j], radii[i] + radii[j]
            cosine = (a * a + b * b - d * d) / (2.0 * a * b)
            if cosine <= -1.0:
                return True  # the two alone are too wide
            turns[i, j] = turns[j, i] = cosine, sqrt(max(0.0, 1.0 - cosine * cosine))
    seen = set()
    for rest in permutations(range(1, count)):
        if rest[0] > rest[-1]:
            continue  # the same ring seen from behind
        sizes = tuple(radii[k] for k in rest)
        if sizes in seen:
            continue
        seen.add(sizes)
        if not _past_full_turn([turns[i, j] for i, j in zip((0, *rest), (*rest, 0), strict=True)]):
            return False
    return True


def _past_full_turn(turns: Sequence[tuple[float, float]]) -> bool:
    """Whether angles below half a turn, given by cosine and sine, add up to more than a full turn.

    The direction is turned step by step; half turns are counted where it passes the axis.
    """
    x, y, halves = 1.0, 0.0, 0
    for cosine, sine in turns:
        x, y = x * cosine - y * sine, x * sine + y * cosine
        # kept in the upper half plane: past the axis is a half turn more
        if y < 0.0 or (y == 0.0 and x < 0.0):
            x, y, halves = -x, -y, halves + 1
    return halves > 2 or (halves == 2 and y > _ROUNDING)
