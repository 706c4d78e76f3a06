"""What the words of a check come to in the file: a value that is the opposite of the fault, to be proven as any other.

The words stay those of the check; what is added is that they were tried, and what is to be typed.
"""

from __future__ import annotations

from postcheck.remedies.opposites import conductors, flags, lamps, lines, plugs, rates, supplies
from postcheck.remedies.proposal import Proposer

APART = lines.APART
"""Those of supplies that are joined, to be tried before all else."""

OPPOSITES: dict[str, Proposer] = {
    **supplies.OPPOSITES,
    **lines.OPPOSITES,
    **plugs.OPPOSITES,
    **rates.OPPOSITES,
    **lamps.OPPOSITES,
    **conductors.OPPOSITES,
    **flags.OPPOSITES,
}
"""Those with a plain opposite."""
