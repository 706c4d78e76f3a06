"""The command: draws mutants, tries them, reports what survived."""

from __future__ import annotations

import argparse
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile
import tomllib
from collections import Counter
from fnmatch import fnmatchcase
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.mutants.changes import Change

ROOT = Path(__file__).parents[2]
HERE = Path(__file__).parent
ROOMS = ("physics", "wiring", "survey", "checks", "description", "remedies")
WORDS = (
    "checks/wording.py",
    "checks/shown.py",
    "description/hints.py",
    "survey/post/pictures.py",
    "survey/sheet/",
)
COPIED = ("postcheck", "tests", "schemas", "example_builds", "README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", ".ci",
          ".pre-commit-hooks.yaml")  # fmt: skip
# What runs in this process and is about what a build comes to: not the commands, pages, planner, other programs.
TESTS = (
    "tests/physics", "tests/wiring", "tests/survey", "tests/checks", "tests/description", "tests/remedies", "tests/reading",
    "tests/trade", "tests/ask", "tests/laws", "tests/catalogue", "tests/which", "tests/test_builds.py", "tests/test_half_builds.py",
    "tests/test_limits.py", "tests/test_verdict.py", "tests/test_bench_safety.py", "tests/test_own_checks.py", "tests/test_vary.py",
    "tests/test_record.py", "tests/test_record_faulty.py",
)  # fmt: skip


def main() -> int:
    """Returns 0 if all was tried, whatever survived."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutants.run", description=__doc__)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--count", type=int, default=50)
    parser.add_argument("--rooms", default=",".join(ROOMS))
    parser.add_argument(
        "--bound", type=float, default=6.0, help="processor seconds of tests a mutant (default 6)"
    )
    parser.add_argument(
        "--again", action="store_true", help="try what survives once more in a process of its own"
    )
    parser.add_argument(
        "--copy", type=Path, help="where the tree is copied to (default: below the temporary folder)"
    )
    parser.add_argument(
        "--survivors", type=Path, metavar="FILE", help="instead of a draw: what survived by an earlier output"
    )
    parser.add_argument(
        "--record", action="store_true", help="only record which test runs which line, where it is not known"
    )
    arguments = parser.parse_args()
    copy = arguments.copy or Path(tempfile.gettempdir()) / f"postcheck-mutants-{os.getuid()}"
    if os.environ.get("MUTANTS_COPY") != str(copy):
        os.nice(max(0, 5 - os.nice(0)))
        return _in_copy(copy)
    if arguments.record:
        from tests.mutants.recorder import record  # noqa: PLC0415 - the copy's own

        record(copy, list(ROOMS), list(TESTS))
        return 0
    return _try(copy, arguments)


def _in_copy(copy: Path) -> int:
    """Goes on in a copy of the tree, in processes that import from there; what was recorded is carried over."""
    from tests.mutants.recorder import LINES, carry_over  # noqa: PLC0415

    copy.mkdir(parents=True, exist_ok=True)
    before = {path: path.read_text() for path in (copy / "postcheck").rglob("*.py")}
    for name in COPIED:
        there = copy / name
        if there.is_dir():
            shutil.rmtree(there)
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, there, ignore=shutil.ignore_patterns("__pycache__"))
        elif (ROOT / name).exists():
            shutil.copy2(ROOT / name, there)
    if (copy / LINES).exists():
        for path, old in before.items():
            if path.exists() and (new := path.read_text()) != old:
                carry_over(copy, str(path.relative_to(copy)), old, new)
    environment = {
        **os.environ,
        "MUTANTS_COPY": str(copy),
        "PYTHONPATH": str(copy),
        "PYTHONDONTWRITEBYTECODE": "1",
    }
    command = [sys.executable, "-B", "-m", "tests.mutants.run", *sys.argv[1:]]
    if "--record" not in sys.argv:
        subprocess.run([*command, "--record"], cwd=copy, env=environment, check=True)
    return subprocess.run(command, cwd=copy, env=environment, check=False).returncode


def _try(copy: Path, arguments: argparse.Namespace) -> int:
    import pytest  # noqa: PLC0415

    from tests.mutants.changes import all_of, tells  # noqa: PLC0415
    from tests.mutants.recorder import Lines  # noqa: PLC0415
    from tests.mutants.runner import QUIET, Runner, Settled, Tried  # noqa: PLC0415

    dice = random.Random(arguments.seed)
    paths = [
        path
        for room in arguments.rooms.split(",")
        for path in sorted((copy / "postcheck" / room).rglob("*.py"))
        if not any(words in str(path) for words in WORDS)
    ]
    changes = [change for path in paths for change in all_of(copy, path)]
    dice.shuffle(changes)
    if arguments.survivors:
        changes = _survived(changes, arguments.survivors.read_text())
    drawn = list(islice((change for change in changes if tells(copy, change)), arguments.count))
    rows = equivalent()
    counted: Counter[str] = Counter()
    spent = [sum(os.times()[:4])]
    by_room: Counter[tuple[str, str]] = Counter()

    def told(change: Change, tried: Tried) -> None:
        alive = tried.outcome not in {"killed", "timeout"}
        equal = alive and any(_is_it(row, change) for row in rows)
        outcome = "equivalent" if equal else tried.outcome
        counted[outcome] += 1
        by_room[change.path.split("/")[1], outcome] += 1
        tests = tried.by or f"{tried.ran} of {tried.chosen} tests"
        done = sum(counted.values())
        spent.append(sum(os.times()[:4]))
        print(
            f"{done:4} {outcome:10} {spent[-1] - spent[-2]:5.1f} s; {tests}\n{change.described()}",
            file=sys.__stdout__,
            flush=True,
        )

    runner = Runner(copy, Lines(copy), drawn, arguments.bound, told, again=arguments.again)
    pytest.main([*QUIET, "-s", *TESTS], plugins=[runner, Settled()])
    total = sum(counted.values()) - counted["equivalent"]
    killed = counted["killed"] + counted["timeout"]
    print(
        f"{(spent[-1] - spent[0]) / max(len(spent) - 1, 1):.1f} processor seconds each, with what is imported and collected first"
    )
    print(
        f"of {len(changes)} possible {sum(counted.values())} drawn: {dict(counted)}; {killed / max(total, 1):.1%} of {total} caught"
    )
    for room in arguments.rooms.split(","):
        print(
            f"{room:12}",
            ", ".join(f"{n} {outcome}" for (there, outcome), n in sorted(by_room.items()) if there == room),
        )
    return 0


def _survived(changes: list[Change], output: str) -> list[Change]:
    """The changes that an output tells to have survived, wherever their lines are now."""
    rows = re.findall(
        r"^ *\d+ (?:survived|not run) .*\n(\S+?):\d+: (.*(?:\n .*)*)\n    (.*)$", output, re.MULTILINE
    )
    told = {(path, f"{what}\n    {line.strip()}") for path, what, line in rows}
    return [change for change in changes if (change.path, change.described().split(": ", 1)[1]) in told]


def equivalent() -> list[dict[str, str]]:
    """The rows of `equivalent/`: `path` and `reason`, and of a change `line`, `old`, `new` and `number` where they matter."""
    files = sorted((HERE / "equivalent").glob("*.toml"))
    return [row for file in files for row in tomllib.loads(file.read_text())["mutant"]]


def _is_it(row: dict[str, str], change: Change) -> bool:
    """Whether a row of `equivalent/` is about a change; what it leaves out may be anything."""
    return (
        fnmatchcase(change.path, row["path"])
        and row.get("line", change.whole_line).strip() == change.whole_line.strip()
        and row.get("old", change.old) == change.old
        and row.get("new", change.new) == change.new
        and re.fullmatch(row.get("number", ".*"), change.old, re.DOTALL) is not None
    )


if __name__ == "__main__":
    sys.exit(main())
