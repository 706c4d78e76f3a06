"""The command: draws mutants, tries them, reports what survived."""

from __future__ import annotations

import argparse
import hashlib
import os
import random
import shutil
import subprocess
import sys
import tempfile
import tomllib
from collections import Counter
from itertools import islice
from pathlib import Path

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
    "tests/trade", "tests/test_builds.py", "tests/test_readme.py", "tests/test_bench_safety.py",
)  # fmt: skip


def main() -> int:
    """Returns 0 if all was tried, whatever survived."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutants.run", description=__doc__)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--count", type=int, default=50)
    parser.add_argument("--rooms", default=",".join(ROOMS))
    parser.add_argument(
        "--bound", type=float, default=10.0, help="processor seconds of tests a mutant (default 10)"
    )
    parser.add_argument(
        "--again", action="store_true", help="try what survives once more in a process of its own"
    )
    parser.add_argument(
        "--copy", type=Path, help="where the tree is copied to (default: below the temporary folder)"
    )
    parser.add_argument("--record", nargs="*", metavar="TEST", help="record anew which test runs which line; of these tests only, "
                        "beside what was recorded")  # fmt: skip
    arguments = parser.parse_args()
    copy = arguments.copy or Path(tempfile.gettempdir()) / f"postcheck-mutants-{os.getuid()}"
    if os.environ.get("MUTANTS_COPY") != str(copy):
        os.nice(10)
        return _in_copy(copy)
    from tests.mutants.recorder import LINES, record  # noqa: PLC0415 - the copy's own

    if arguments.record is not None or not (copy / LINES).exists():
        return record(copy, list(ROOMS), arguments.record or list(TESTS), more=bool(arguments.record))
    return _try(copy, arguments)


def _in_copy(copy: Path) -> int:
    """Goes on in a copy of the tree, in processes that import from there; what was recorded stays valid for equal sources."""
    copy.mkdir(parents=True, exist_ok=True)
    for name in COPIED:
        there = copy / name
        if there.is_dir():
            shutil.rmtree(there)
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, there, ignore=shutil.ignore_patterns("__pycache__"))
        elif (ROOT / name).exists():
            shutil.copy2(ROOT / name, there)
    kept = copy / "mutants.sources"
    sources = _digest(copy)
    command = [sys.executable, "-B", "-m", "tests.mutants.run", *sys.argv[1:]]
    environment = {
        **os.environ,
        "MUTANTS_COPY": str(copy),
        "PYTHONPATH": str(copy),
        "PYTHONDONTWRITEBYTECODE": "1",
    }
    if "--record" not in sys.argv and (not kept.exists() or kept.read_text() != sources):
        print("recording which test runs which line", flush=True)
        subprocess.run([*command, "--record"], cwd=copy, env=environment, check=False)
    kept.write_text(sources)
    return subprocess.run(command, cwd=copy, env=environment, check=False).returncode


def _digest(copy: Path) -> str:
    """Of all sources that mutants are drawn from, and of the names of the tests."""
    digest = hashlib.sha256()
    for path in sorted((copy / "postcheck").rglob("*.py")):
        digest.update(path.read_bytes())
    return digest.hexdigest()


def _try(copy: Path, arguments: argparse.Namespace) -> int:
    import pytest  # noqa: PLC0415

    from tests.mutants.changes import Change, all_of, tells  # noqa: PLC0415
    from tests.mutants.recorder import Lines  # noqa: PLC0415
    from tests.mutants.runner import QUIET, Outcome, Runner, Settled  # noqa: PLC0415

    dice = random.Random(arguments.seed)
    paths = [
        path
        for room in arguments.rooms.split(",")
        for path in sorted((copy / "postcheck" / room).rglob("*.py"))
        if not any(words in str(path) for words in WORDS)
    ]
    changes = [change for path in paths for change in all_of(copy, path)]
    dice.shuffle(changes)
    drawn = list(islice((change for change in changes if tells(copy, change)), arguments.count))
    known = {(row["path"], row["line"].strip(), row["old"], row["new"]) for row in _equivalent()}
    counted: Counter[str] = Counter()

    def told(change: Change, outcome: Outcome) -> None:
        equal = outcome not in {"killed", "timeout"} and (
            (change.path, change.whole_line.strip(), change.old, change.new) in known
        )
        counted["equivalent" if equal else outcome] += 1
        done = sum(counted.values())
        print(
            f"{done:4} {'equivalent' if equal else outcome:10} {change.described()}",
            file=sys.__stdout__,
            flush=True,
        )

    runner = Runner(copy, Lines(copy), drawn, arguments.bound, told, again=arguments.again)
    pytest.main([*QUIET, "-s", *TESTS], plugins=[runner, Settled()])
    total = sum(counted.values()) - counted["equivalent"]
    killed = counted["killed"] + counted["timeout"]
    print(
        f"of {len(changes)} possible {sum(counted.values())} drawn: {counted['killed']} killed, {counted['timeout']} timeout, "
        f"{counted['survived']} survived, {counted['not run']} not run by any recorded test, "
        f"{counted['equivalent']} equivalent; {killed / max(total, 1):.1%} of {total} caught"
    )
    return 0


def _equivalent() -> list[dict[str, str]]:
    rows: list[dict[str, str]] = tomllib.loads((HERE / "equivalent.toml").read_text()).get("mutant", [])
    return rows


if __name__ == "__main__":
    sys.exit(main())
