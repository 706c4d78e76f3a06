"""How well unmarked leads are told apart, in figures: `python -m tests.which.measure [FIRST LAST]`, seeds of random hubs.

Outside truth: ngspice solves each lead in each condition; nothing of postcheck makes a reading or judges harm.
"""

from __future__ import annotations

import random
import sys
import tempfile
from collections import Counter
from pathlib import Path

import postcheck
from postcheck.identification import Identification
from postcheck.identifying import Identifier
from tests.outside.spice import operating_points
from tests.which.hubs import METER, Hub, currents, make, on_bench, possible

# The bench lead's resistor is a 5 % part.
TOLERANCE = 0.05
SEEN, SURELY = 1e-4, 1e-3  # A: an LED that takes less is not seen; that takes more surely is


def harm(hub: Hub, identifier: Identifier, folder: Path) -> tuple[int, float, float]:
    """How many cases at setting A: each lead, in each condition, both ways round; the worst shares of rating and of reverse volts."""
    first = identifier.bare.first
    assert first is not None
    cases = [
        (strings, sign, cards)
        for strings in hub.leads.values()
        for condition in possible(strings)
        for sign in (1, -1)
        if (cards := on_bench(strings, condition, sign * first.volts, first.ohms * (1 - TOLERANCE), 1))
    ]
    worst_amps = worst_volts = 0.0
    for (strings, _, _), point in zip(
        cases, operating_points([cards for _, _, cards in cases], folder), strict=True
    ):
        rated = hub.rated if strings.colour is not None else 0.06
        worst_amps = max([worst_amps, *(abs(amps) / rated for amps in currents(point))])
        if strings.colour is not None and point["v(t)"] < 0:
            worst_volts = max(worst_volts, -point["v(t)"] / hub.reverse)  # one LED of a string may take all
    return (
        len(cases) + sum(not one for one in cases),
        worst_amps,
        max(worst_volts, first.volts / hub.reverse if first.reverse < 1e9 else 0.0),
    )


def readings(
    hub: Hub, identifier: Identifier, seed: int, folder: Path
) -> tuple[dict[str, str], list[dict[str, str]], int]:
    """Who each lead at the bench is; its readings by volts, with colours, with places, and at setting B; how many are faulty."""
    rng = random.Random(seed)
    first, more = identifier.bare.first, identifier.bare.more
    assert first is not None
    names = list(hub.leads)
    rng.shuffle(names)
    faulty = set(rng.sample(names, min(rng.choice([0, 0, 0, 1, 1, 2, 3]), len(names))))
    truth, told = {}, [{}, {}, {}, {}]  # type: ignore[var-annotated]
    for number, name in enumerate(names, start=1):
        strings = hub.leads[name]
        condition, swapped = "sound", False
        if name in faulty:
            condition = rng.choice([one for one in possible(strings) if one != "sound"] + ["swapped"])
            swapped = condition == "swapped" and strings.colour is not None
            condition = "sound" if condition == "swapped" else condition
        corner, factor = rng.choice([-1, 0, 1]), rng.choice([0.96, 1.0, 1.04])
        meter = 1.0 + rng.uniform(-METER, METER)
        volts, seen, lit = [], [], False
        for sign in (-1, 1) if swapped else (1, -1):
            reads, amps = _one(strings, condition, sign * first.volts, first.ohms * factor, corner, folder)
            volts.append(f"{reads * meter:.2f}")
            glows = strings.colour is None
            seen.append("dark" if amps < SEEN or glows else str(strings.colour) if amps >= SURELY else "")
            lit = lit or (amps >= SURELY and not glows)
        lead = f"lead {number}"
        truth[lead] = name
        place = f" in {hub.places[name]}" if lit else ""
        told[0][lead] = " / ".join(volts)
        told[1][lead] = " / ".join(f"{v} {s}" for v, s in zip(volts, seen, strict=True))
        told[2][lead] = told[1][lead] + place
        told[3][lead] = told[2][lead]
        dark = all(float(v) > first.volts - SEEN * first.ohms for v in volts)
        if more is not None and dark and condition == "sound" and not swapped and strings.colour is not None:
            reads, _ = _one(strings, condition, more.volts, more.ohms * factor, corner, folder)
            told[3][lead] += f" whole B {reads * meter:.2f}"
    return truth, told, len(faulty)


def _one(strings, condition, volts, ohms, corner, folder):  # type: ignore[no-untyped-def]
    """Volts across, and A through the brightest string."""
    cards = on_bench(strings, condition, volts, ohms, corner)
    if cards is None:
        return abs(volts), 0.0
    (point,) = operating_points([cards], folder)
    return abs(point["v(t)"]), max((amps for amps in currents(point)), default=0.0)


def right(told: Identification, truth: dict[str, str]) -> tuple[int, list[str]]:
    """How many are sure; those of them that are wrong."""
    sure = [one for one in told.found if one.sure]
    return len(sure), [
        f"{one.lead}: {one.left[0]}, not {truth[one.lead]}" for one in sure if one.left[0] != truth[one.lead]
    ]


def main() -> None:
    """Print the figures."""
    first, last = map(int, sys.argv[1:3]) if len(sys.argv) > 2 else (0, 200)
    count: Counter[str] = Counter()
    worst_amps = worst_volts = 0.0
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(first, last):
            hub = make(seed)
            identifier = Identifier(postcheck.loads(hub.toml, f"hub-{seed}"), "hub")
            cases, amps, volts = harm(hub, identifier, Path(folder))
            worst_amps, worst_volts = max(worst_amps, amps), max(worst_volts, volts)
            truth, told, faulty = readings(hub, identifier, seed, Path(folder))
            apart = identifier.bare.told
            count.update(hubs=1, leads=len(truth), cases=cases, faulty=faulty, pairs=apart.pairs)
            count.update(by_volts=apart.volts, with_colour=apart.colour, with_place=apart.place)
            for stage, read in zip(("volts", "colour", "place", "B"), told, strict=True):
                sure, wrong = right(identifier.told(read), truth)
                count.update({f"sure by {stage}": sure, f"wrong by {stage}": len(wrong)})
                for one in wrong:
                    print(f"seed {seed}, {stage}: {one} ({faulty} faulty)")
    print(f"most of a rating: {worst_amps:.3f}; most of a reverse voltage: {worst_volts:.3f}")
    for name, number in count.items():
        print(f"{name}: {number}")


if __name__ == "__main__":
    main()
