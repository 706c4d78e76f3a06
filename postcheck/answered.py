"""What is answered to a question of the bench: a plain frozen record."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from postcheck.report import Figure, Limited

__all__ = ["Answer"]


@dataclass(frozen=True, slots=True)
class Answer:
    """What is answered to a question of the bench: `says` and `reason` make one sentence, `caution` one below it.

    `ok`: whether what was asked for does, or something does that is named.
    """

    question: str
    ok: bool
    says: str
    reason: str
    figures: Mapping[str, Figure] = field(default_factory=dict)
    limit: Limited | None = None
    caution: str | None = None
