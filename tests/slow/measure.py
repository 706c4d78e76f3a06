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

from tests.slow.files import FILES

_SECONDS = int(os.environ.get("SLOW_SECONDS", "60"))
_KILOBYTES = 3 << 20


def measured(name: str) -> tuple[float, float, str, int]:
    """CPU seconds, peak megabytes, how it ended, and the size of the file in bytes."""
    command, written = FILES[name]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "build.post.toml"
        path.write_text(written(), encoding="utf-8")
        with (Path(folder) / "out").open("wb") as out:
            words = [sys.executable, "-m", "postcheck", *command.split(), str(path)]
            if command == "sheet":
                words += ["--output", str(Path(folder) / "sheet.html")]
            bounded = f'ulimit -t {_SECONDS} -v {_KILOBYTES}; exec "$@"'
            child = subprocess.Popen(["sh", "-c", bounded, "sh", *words], stdout=out, stderr=out)
            _, status, used = os.wait4(child.pid, 0)
            child.returncode = os.waitstatus_to_exitcode(status)
        said = (Path(folder) / "out").read_text(encoding="utf-8", errors="replace").strip().splitlines()
        size = path.stat().st_size
    last = said[-1][:70] if said else ""
    ended = (
        f"exit {child.returncode} {last}" if child.returncode >= 0 else f"ended by signal {-child.returncode}"
    )
    return used.ru_utime + used.ru_stime, used.ru_maxrss / 1024.0, ended, size


def main() -> None:
    """Print a table of the files named, or of all."""
    for name in sys.argv[1:] or FILES:
        seconds, megabytes, ended, size = measured(name)
        print(f"{name:26} {size / 1e3:6.1f} kB {seconds:7.2f} s {megabytes:6.0f} MB  {ended}", flush=True)


if __name__ == "__main__":
    main()
