"""Which findings have a remedy to try."""

from __future__ import annotations

from postcheck.remedies import resistor, strip, supply
from postcheck.remedies.proposal import Proposer

__all__ = ["PROPOSERS"]

PROPOSERS: dict[str, Proposer] = {**resistor.PROPOSERS, **strip.PROPOSERS, **supply.PROPOSERS}
