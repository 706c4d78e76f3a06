"""What postcheck costs, beside what is aimed at: `python -m tests.speed.measure [start | remedies | large]`.

Times are CPU time of the processes measured, for the machine may be busy with other things; of things to be compared the
best of several runs, taken in turns. Figures differ by some 5 % from one run to the next.
"""

from __future__ import annotations

import compileall
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import postcheck
from postcheck.physics.network import solve
from tests.speed import large

ROOT = Path(__file__).parent.parent.parent
TENDER = ROOT / "example_builds" / "tender.post.toml"
POSTCHECK = str(Path(sys.executable).with_name("postcheck"))
RUNS = 15
MODEL = """
from pydantic import BaseModel
class Lamp(BaseModel):
    name: str
    amps: float
Lamp(name="nose", amps=0.02)
"""
NETWORK = """
import sys
from tests.speed.large import circuit
from postcheck.physics.network import solve
solve(circuit(int(sys.argv[1])))
"""


def cost(*words: str) -> tuple[float, float]:
    """CPU time of a whole process, s, and the most memory it had, MB."""
    process = subprocess.Popen(words, stdout=subprocess.DEVNULL, cwd=ROOT)
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode not in (0, 1):
        raise RuntimeError(f"{words} ended with {process.returncode}")
    return used.ru_utime + used.ru_stime, used.ru_maxrss / 1024


def best(*commands: tuple[str, ...], runs: int = RUNS) -> list[float]:
    """The least CPU time of each command, s, the commands run in turns."""
    rounds = [[cost(*words)[0] for words in commands] for _ in range(runs)]
    return [min(times) for times in zip(*rounds, strict=True)]


def row(what: str, aim: str, measured: str) -> None:
    print(f"{what:58} {aim:>22} {measured:>34}", flush=True)


def start() -> None:
    # without the bytecode a run compiles every module: that of an installed package is there
    compileall.compile_dir(str(ROOT / "postcheck"), quiet=1)
    with tempfile.TemporaryDirectory() as folder:
        files = [shutil.copy(TENDER, Path(folder) / f"tender {number}.post.toml") for number in range(11)]
        model, one, eleven = best(
            (sys.executable, "-c", MODEL),
            (POSTCHECK, "check", str(files[0])),
            (POSTCHECK, "check", *map(str, files)),
        )
    row(
        "a check over one pydantic model, whole processes",
        "1.5",
        f"{one / model:.2f} ({1e3 * one:.0f} over {1e3 * model:.0f} ms)",
    )
    row("each further file", "3 ms", f"{1e3 * (eleven - one) / 10:.1f} ms")


def remedies() -> None:
    builds = [
        postcheck.load(path) for path in sorted((ROOT / "tests" / "builds" / "faulty").glob("*.post.toml"))
    ]

    def spent(**how: bool) -> float:
        began = time.process_time()
        for build in builds:
            postcheck.check(build, **how)
        return time.process_time() - began

    spent(remedies=True)  # imports, and what is kept from build to build
    without, with_them = (min(spent(remedies=wanted) for _ in range(2)) for wanted in (False, True))
    row(
        f"remedies over the same without, {len(builds)} faulty builds",
        "2",
        f"{with_them / without:.2f} ({with_them:.1f} over {without:.1f} s)",
    )


def large_builds() -> None:
    with tempfile.TemporaryDirectory() as folder:
        deck = Path(folder) / "thousand.cir"
        deck.write_text(large.deck(1000))
        log = subprocess.run(["ngspice", "-b", str(deck)], capture_output=True, text=True, check=False).stdout
        found = re.search(r"v\(a1\)-v\(c0\) = (\S+)", log)
        if found is None:
            raise RuntimeError("ngspice found no operating point")
        circuit = large.circuit(1000)
        theirs = float(found[1]) / (large.OHMS + 2 * large.LEAD * large.PER_METRE)
        ours = solve(circuit).amps[-1000]
        if abs(ours / theirs - 1.0) > 1e-3:  # its usual tolerance
            raise RuntimeError(f"the two do not solve the same network: {ours} and {theirs} A")
        (spice,) = best(("ngspice", "-b", str(deck)))
        solved = min(timed(lambda: solve(circuit)) for _ in range(RUNS))
        row(
            "1,000 lamps, one state, against ngspice",
            "no slower",
            f"{1e3 * solved:.0f} over {1e3 * spice:.0f} ms",
        )
        seconds, megabytes = cost(sys.executable, "-c", NETWORK, "10000")
        row("10,000 lamps, one state, whole process", "3 s, 150 MB", f"{seconds:.2f} s, {megabytes:.0f} MB")
        for lamps in (1000, 10_000):
            path = Path(folder) / f"{lamps}.post.toml"
            path.write_text(large.build(lamps))
            seconds, megabytes = cost(POSTCHECK, "check", str(path))
            row(f"{lamps:,} lamps, whole check", "", f"{seconds:.2f} s, {megabytes:.0f} MB")


def timed(what: Callable[[], object]) -> float:
    began = time.process_time()
    what()
    return time.process_time() - began


PARTS = {"start": start, "remedies": remedies, "large": large_builds}


def main(names: list[str]) -> None:
    row("", "aim", "measured")
    for name in names or PARTS:
        PARTS[name]()


if __name__ == "__main__":
    main(sys.argv[1:])
