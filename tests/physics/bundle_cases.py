"""What packings are measured against: published records, long runs, and an exact checker of our own."""

import json
from fractions import Fraction
from pathlib import Path
from random import Random

# Container over circle radius for equal circles: the public record table kept by E. Specht; 1 to 14 and 19 proven
# (Graham, Pirl, Melissen, Fodor, Ekanayake and LaFountain), the rest best known (Graham, Lubachevsky, Nurmela,
# Ostergard 1998)
RECORDS = {
    1: 1.0, 2: 2.0, 3: 2.154700538379, 4: 2.414213562373, 5: 2.701301616704, 6: 3.0, 7: 3.0, 8: 3.304764870962,
    9: 3.613125929752, 10: 3.813025631398, 11: 3.923804400163, 12: 4.029601930116, 13: 4.236067977499,
    14: 4.328428554860, 15: 4.521356964706, 16: 4.615425594873, 17: 4.792033748310, 18: 4.863703305156,
    19: 4.863703305156, 20: 5.122320736991, 21: 5.252317475010, 22: 5.439718959072, 23: 5.545204222574,
    24: 5.651661091765, 25: 5.752824330857, 26: 5.828176536942, 27: 5.906397847394, 28: 6.014938097371,
    29: 6.138597903978, 30: 6.197741070879, 31: 6.291502622129, 32: 6.429462970950, 33: 6.486703123560,
    34: 6.610957090001, 35: 6.697171091790, 36: 6.746753793424, 37: 6.758770483143, 61: 8.661297575540,
}  # fmt: skip
PROVEN = {*range(1, 15), 19}
# Radii 1, 2, ... n: best known container radius, a public contest of 2005 and later papers (Huang, Li, Li, Xu 2006;
# Grosso, Jamali, Locatelli, Schoen 2010), from memory
RISING = {
    5: 9.001398, 6: 11.057040, 7: 13.462111, 8: 16.221747, 9: 19.233194, 10: 22.000193, 11: 24.960634,
    12: 28.371389, 13: 31.545867, 14: 35.095647, 15: 38.837996, 16: 42.458116, 18: 50.119763, 19: 54.240294,
    20: 58.400567,
}  # fmt: skip

MIXED = json.loads((Path(__file__).parent / "data" / "mixed_bundles.json").read_text("utf-8"))["bundles"]


def holds_exactly(centres, wires, diameter) -> bool:
    """No two wires overlap and the circle holds all: rational arithmetic, nothing allowed for rounding."""
    points = [(Fraction(x), Fraction(y), Fraction(d) / 2) for (x, y), d in zip(centres, wires, strict=True)]
    whole = Fraction(diameter) / 2
    for i, (x, y, r) in enumerate(points):
        if r > whole or x * x + y * y > (whole - r) ** 2:
            return False
        for a, b, s in points[:i]:
            if (x - a) ** 2 + (y - b) ** 2 < (r + s) ** 2:
                return False
    return True


def random_bundles(number: int, seed: int = 1):
    """Bundles of all sorts with a bore that may or may not do: (wires, bore or None)."""
    dice = Random(seed)
    for _ in range(number):
        count = dice.choice([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 15, 20, 25])
        sizes = [round(dice.uniform(0.06, 1.9), dice.choice([2, 3, 15])) for _ in range(dice.randint(1, 5))]
        wires = [dice.choice(sizes) for _ in range(count)]
        area = sum(d * d for d in wires) ** 0.5
        yield wires, max(*wires, area * dice.uniform(1.0, 1.7))
