"""`python -m tests.laws.measure N`: every law on N times as many builds as the suite has, others each time."""

from __future__ import annotations

import os
import subprocess
import sys

from tests.laws.random_tables import MORE

if __name__ == "__main__":
    command = [sys.executable, "-m", "pytest", "-q", "-n", "0", "--durations=0", "tests/laws", *sys.argv[2:]]
    sys.exit(subprocess.call(command, env={**os.environ, MORE: sys.argv[1]}))
