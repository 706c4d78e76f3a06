"""How well and how fast wirings are planned, in figures: `python -m tests.planner.measure NAME [FIRST LAST] [FOLDER]`.

Each NAME is a set of wishes by seed; a line is printed for each wish that has no plan, and the figures at the end. Seconds
are of the processor, and of the clock in brackets. What is not planned as it could be is kept in FOLDER.
"""

from __future__ import annotations

import random
import sys
from collections import Counter
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from statistics import median
from time import perf_counter, process_time
from typing import Any, NamedTuple

import postcheck
from postcheck.description.models import Build
from postcheck.planned import Planned
from postcheck.planner import plan, planning
from postcheck.planner.cost import conductors
from postcheck.planner.planning import found, survey_of
from postcheck.reading.loading import built
from tests.planner.brute_force import BOUNDS, best, wish
from tests.planner.made import made, unmade
from tests.planner.wishes import random_wish, toml

SECONDS = planning.MOST_SECONDS
# Wirings of a small model that are shown to the judge.
MOST = 400
# A folder for wishes that were not planned as well as they could be; None keeps none.
KEEP: Path | None = None


class Timed(NamedTuple):
    """A plan with the seconds that it took."""

    planned: Planned
    processor: float
    clock: float


def timed(text: str) -> Timed:
    """The plan for a file."""
    build = postcheck.loads(text)
    began = process_time(), perf_counter()
    planned = plan(build, seconds=SECONDS)
    return Timed(planned, process_time() - began[0], perf_counter() - began[1])


def some_wish(seed: int) -> dict[str, Any]:
    """A wish of up to 5 circuits and 16 LEDs in up to 4 bodies, on up to 3 passages."""
    chance = random.Random(seed)
    circuits, leds = chance.randint(1, 5), chance.randint(1, 16)
    return random_wish(
        seed, circuits=circuits, leds=leds, bodies=chance.randint(1, 4), passages=chance.randint(1, 3)
    )


def nine_circuits(seed: int) -> dict[str, Any]:
    """A sound build of 9 circuits and 40 LEDs in 20 entries, without its wiring."""
    return unmade(made(seed)[0])


def two_arms(seed: int) -> dict[str, Any]:
    """The same of 61 LEDs, most of them behind an arm that begins where the post ends."""
    return unmade(made(seed, leds=61, arms=2)[0])


def measured(wish: Callable[[int], dict[str, Any]], seeds: Sequence[int]) -> None:
    """Plans wishes, reads what was written and judges it."""
    rows, clear = [], 0
    for seed in seeds:
        row = timed(toml(wish(seed)))
        rows.append(row)
        if row.planned.text is None:
            print(
                f"{seed}: no plan in {row.processor:.1f} s{', broken off' if row.planned.partly else ''}: {'; '.join(_reasons(row.planned))}",
                flush=True,
            )
        else:
            verdict = postcheck.check(postcheck.loads(row.planned.text), stage="wiring", remedies=False).files[0].verdict  # fmt: skip
            clear += verdict == "clear"
            if verdict != "clear":
                print(f"{seed}: planned, and {verdict} when read again", flush=True)
    slow = sorted(zip(rows, seeds, strict=True), key=lambda row: -row[0].processor)[:5]
    print("slowest:", ", ".join(f"{seed} ({row.processor:.1f} s)" for row, seed in slow))
    with_plan = [row for row in rows if row.planned.text is not None]
    print(f"{len(rows)} wishes, {len(with_plan)} planned, {clear} clear when read again")
    for name, some in (("all", rows), ("planned", with_plan)):
        if some:
            own, clock = [row.processor for row in some], [row.clock for row in some]
            print(
                f"{name}: median {median(own):.2f} s ({median(clock):.2f}), worst {max(own):.2f} s ({max(clock):.2f})"
            )


def _reasons(planned: Planned) -> list[str]:
    return [
        *(one.says for one in planned.blocks),
        *(str(one) for one in planned.asks),
        *(str(one) for one in planned.missing),
    ]


def cost(build: Build | None) -> tuple[int, int] | None:
    """Conductors through the post and runs that are not of the usual wire."""
    if build is None:
        return None
    return conductors(build)["post"], sum(run.wire not in (None, build.usual.run) for run in build.run)


def compared(by: str, seeds: Sequence[int]) -> None:
    """Plans small models and looks through all their wirings: who finds the cheaper one."""
    counts: Counter[str] = Counter()
    slowest = 0.0
    for seed in seeds:
        tables = wish(seed, by=by)
        began = process_time()
        planned = found(survey_of(built(tables)), SECONDS)
        slowest = max(slowest, process_time() - began)
        truth = best(tables, MOST)
        mine, theirs = cost(planned.build), truth.best and truth.best[:2]
        if mine == theirs and (mine is not None or not truth.unsure):
            counts["equal" if mine is not None else "no wiring, and both say so"] += 1
            if truth.unsure:
                counts["equal, but for what nobody decided"] += 1
            continue
        outcome = (
            "undecided" if theirs is None and truth.unsure
            else "no plan, and there is a wiring" if mine is None
            else "the plan is better" if theirs is None or mine < theirs
            else "the plan is worse"
        )  # fmt: skip
        counts[outcome] += 1
        print(f"{by} {seed}: {outcome}: plan {mine}, all wirings {theirs}, {truth.unsure} unsure, {truth.judged} judged{', broken off' if planned.partly else ''}", flush=True)  # fmt: skip
        for one in planned.blocks if mine is None else ():
            print(f"    {one.says}", flush=True)
        if truth.best is not None and KEEP is not None:
            (KEEP / f"{by}-{seed}-wish.post.toml").write_text(toml(tables), encoding="utf-8")
            (KEEP / f"{by}-{seed}-wiring.post.toml").write_text(toml(truth.best.tables), encoding="utf-8")
    print(f"{by}: {len(seeds)} models: {dict(counts)}; a plan takes {slowest:.1f} s at most")


SETS: dict[str, tuple[Callable[[Sequence[int]], None], int]] = {
    "wishes": (lambda seeds: measured(some_wish, seeds), 1000),
    "made": (lambda seeds: measured(nine_circuits, seeds), 100),
    "arms": (lambda seeds: measured(two_arms, seeds), 12),
    **{by: (partial(compared, by), 50 if by != "copper" else 100) for by in BOUNDS},
}


def main(words: Sequence[str]) -> None:
    """Measures the set that is named, all of it or from one seed up to another."""
    global KEEP  # noqa: PLW0603 - a choice of the command line
    name, *ends = words
    run, usual = SETS[name]
    if len(ends) % 2:
        KEEP = Path(ends.pop())
    first, last = map(int, ends) if ends else (0, usual)
    run(range(first, last))


if __name__ == "__main__":
    main(sys.argv[1:])
