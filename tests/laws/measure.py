"""`python -m tests.laws.measure N`: every law on N times as many builds as the suite has, others each time."""

from __future__ import annotations

import os
import sys

import pytest

from tests.laws.random_tables import MORE

if __name__ == "__main__":
    os.environ[MORE] = sys.argv[1]
    sys.exit(pytest.main(["-q", "-n", "0", "--durations=0", "tests/laws", *sys.argv[2:]]))
