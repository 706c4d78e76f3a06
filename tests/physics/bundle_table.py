"""Tables of gap, success and time of the packing: `python -m tests.physics.bundle_table [quick|long | random N SEED]`.

Gap is to the best known radius, times are CPU time of this process, nothing kept from case to case. With `random` it
packs N random bundles instead, checks every certificate by exact rational arithmetic and that no bound lies above an
arrangement found, and seeks the smallest enclosing circle for one in ten of those that "cannot fit", at length for one in 200.
"""

import sys
import time

from postcheck.physics import bundle
from tests.physics.bundle_cases import MIXED, RECORDS, RISING, holds_exactly, random_bundles


def timed(*arguments):
    bundle._first.cache_clear()
    bundle._for_goal.cache_clear()
    bundle._searched.cache_clear()
    bundle._free.cache_clear()
    start = time.process_time()
    packing = bundle.pack(*arguments)
    return packing, 1e3 * (time.process_time() - start)


def gaps(title: str, cases, effort: str) -> None:
    print(f"{title}: gap to the best known, %, and ms of CPU ({effort})")
    found = []
    for count, wires, best in cases:
        packing, ms = timed(wires, None, effort)
        found.append((100 * (packing.diameter / best - 1), ms))
        print(f"{count:4d} {found[-1][0]:9.4f} {ms:8.0f}")
    print(
        f"     at most 0.1 %: {sum(g <= 0.1 for g, _ in found)} of {len(found)},"
        f" 0.5 %: {sum(g <= 0.5 for g, _ in found)}, 1 %: {sum(g <= 1.0 for g, _ in found)};"
        f" mean {sum(ms for _, ms in found) / len(found):.0f} ms, most {max(ms for _, ms in found):.0f} ms\n"
    )


def success(effort: str) -> None:
    print(f"forty mixed bundles, bore above the best of a long run ({effort})")
    print(
        "above   fits  in time   up to 20 wires: mean, most ms    up to 40: mean, most ms   late or not found"
    )
    for above in (0.5, 1, 2, 5, 10, 25):
        rows = []
        for case in MIXED:
            packing, ms = timed(case["wires"], case["best"] * (1 + above / 100), effort)
            rows.append((len(case["wires"]), packing.verdict == "fits", ms))
        limit = [fits and ms <= (100 if n <= 20 else 500) for n, fits, ms in rows]
        few, many = [ms for n, _, ms in rows if n <= 20], [ms for n, _, ms in rows if n > 20]
        late = [
            f"{n}: {ms:.0f}{'' if fits else ' -'}"
            for (n, fits, ms), ok in zip(rows, limit, strict=True)
            if not ok
        ]
        print(
            f"{above:4} %  {sum(f for _, f, _ in rows):3d}    {sum(limit):3d}   "
            f"{sum(few) / len(few):15.1f} {max(few):7.1f}  {sum(many) / len(many):20.1f} {max(many):7.1f}   {', '.join(late)}"
        )
    print()


def special() -> None:
    thick = [2.0] + [0.3] * 20
    cases = [
        ("one", [1.0], 1.0),
        ("two", [1.0, 0.7], 1.7),
        ("twelve in 40 % fill", [0.9] * 4 + [0.6] * 8, (sum([0.81] * 4 + [0.36] * 8) / 0.40) ** 0.5),
        ("twelve in 60 % fill", [0.9] * 4 + [0.6] * 8, (sum([0.81] * 4 + [0.36] * 8) / 0.60) ** 0.5),
        ("one thick, twenty thin", thick, None),
        ("the same in 2.8", thick, 2.8),
        ("100 equal", [1.0] * 100, None),
        ("100 equal in 15", [1.0] * 100, 15.0),
        ("202 mixed", [1.0] * 100 + [0.6] * 102, None),
        ("202 mixed, 60 % fill", [1.0] * 100 + [0.6] * 102, (136.72 / 0.60) ** 0.5),
        ("200 all different", [0.5 + 0.005 * k for k in range(200)], None),
        ("500 equal", [1.0] * 500, None),
        ("500 equal, 60 % fill", [1.0] * 500, (500 / 0.60) ** 0.5),
    ]
    print("special cases: verdict, bundle diameter over the bound, ms")
    for name, wires, bore in cases:
        packing, ms = timed(wires, bore)
        print(f"{name:24} {packing.verdict:10} {packing.diameter / packing.bound:8.4f} {ms:8.1f}")


def certificates(number: int, seed: int) -> int:
    """Pack random bundles and check what is said of them."""
    wrong = refused = 0
    verdicts: dict[str, int] = {}
    for wires, bore in random_bundles(number, seed):
        packing = bundle.pack(wires, bore)
        verdicts[packing.verdict] = verdicts.get(packing.verdict, 0) + 1
        wrong += not holds_exactly(packing.centres, wires, packing.diameter)
        wrong += packing.bound > packing.diameter
        wrong += (packing.verdict == "fits") != (packing.diameter <= bore * (1 + 1e-9))
        if packing.verdict == "cannot fit":
            refused += 1
            if refused % 10 == 0:
                slim = bundle.pack(wires, None, "quick" if refused % 200 else "long")
                wrong += slim.diameter <= bore or not holds_exactly(slim.centres, wires, slim.diameter)
    print(f"{number} random bundles, seed {seed}: {verdicts}, wrong: {wrong}")
    return wrong


def main(arguments: list[str]) -> int:
    if "random" in arguments:
        return min(certificates(int(arguments[1]), int(arguments[2])), 1)
    effort = "long" if "long" in arguments else "quick"
    success(effort)
    gaps("equal circles", ((n, [2.0] * n, 2 * ratio) for n, ratio in RECORDS.items()), effort)
    gaps("radii 1 to n", ((n, [2.0 * k for k in range(1, n + 1)], 2 * r) for n, r in RISING.items()), effort)
    special()
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
