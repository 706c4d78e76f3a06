"""Options that several commands have in common."""

from __future__ import annotations

import argparse


def effort(command: argparse.ArgumentParser) -> None:
    """How hard a bore is packed."""
    command.add_argument(
        "--effort",
        choices=("quick", "long"),
        default="quick",
        help="long tries far harder to pack a bore",
    )


def judgement(command: argparse.ArgumentParser) -> None:
    """How a build is judged, and from which weight up that makes the exit code 1."""
    command.add_argument(
        "--fail-on",
        choices=("stop", "caution"),
        default="stop",
        help="exit 1 from this weight up (default: stop)",
    )
    command.add_argument(
        "--for",
        dest="stage",
        choices=("planning", "wiring", "closing"),
        help="the stage to judge for, instead of the file's",
    )
    effort(command)
    command.add_argument(
        "--today", metavar="DATE", help="the day that counts for proofs and acceptances, such as 2026-11-25"
    )
