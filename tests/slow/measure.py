"""What judging the files of `files.py` costs: CPU seconds and the peak of memory, each in a process of its own.

    python -m tests.slow.measure [NAME ...]

CPU time, as other work on the machine would lengthen any other. A bound of time and memory ends what goes past it.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import NamedTuple

from tests.slow.files import FILES

_SECONDS = int(os.environ.get("SLOW_SECONDS", "60"))
_KILOBYTES = 3 << 20


class Cost(NamedTuple):
    """CPU seconds, peak megabytes, the exit code (negative: the signal), the last line that was printed, bytes of the file."""

    seconds: float
    megabytes: float
    code: int
    said: str
    size: int


def measured(
    command: list[str], text: str, seconds: int = _SECONDS, kilobytes: int = _KILOBYTES, nice: int = 0
) -> Cost:
    """A command over the text of a build."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "build.post.toml"
        path.write_text(text, encoding="utf-8")
        verb, *options = command
        words = [sys.executable, "-m", "postcheck", verb, str(path), *options]
        if verb == "compare":
            words.insert(4, str(path))
        if verb == "sheet":
            words += ["--output", str(Path(folder) / "sheet.html")]
        with (Path(folder) / "out").open("wb") as out:
            bounded = f'ulimit -t {seconds} && ulimit -v {kilobytes} && exec nice -n {nice} "$@"'
            child = subprocess.Popen(["sh", "-c", bounded, "sh", *words], stdout=out, stderr=out)
            _, status, used = os.wait4(child.pid, 0)
            child.returncode = os.waitstatus_to_exitcode(status)
        said = (Path(folder) / "out").read_text(encoding="utf-8", errors="replace").strip().splitlines()
        size = path.stat().st_size
    last = said[-1][:70] if said else ""
    return Cost(used.ru_utime + used.ru_stime, used.ru_maxrss / 1024.0, child.returncode, last, size)


def row(name: str, cost: Cost) -> str:
    """A line of the table."""
    ended = f"exit {cost.code} {cost.said}" if cost.code >= 0 else f"ended by signal {-cost.code}"
    return f"{name:26} {cost.size / 1e3:6.1f} kB {cost.seconds:7.2f} s {cost.megabytes:6.0f} MB  {ended}"


def main() -> None:
    """Print a table of the files named, or of all."""
    for name in sys.argv[1:] or FILES:
        command, written = FILES[name]
        print(row(name, measured(command.split(), written())), flush=True)


if __name__ == "__main__":
    main()
