"""`python -m postcheck`."""

from postcheck.cli import run

run()
