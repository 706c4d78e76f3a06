"""What a check finds, as data: who, which numbers, by which limit. Its sentences are made of it in `wording.py`."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple, TypeVar

from postcheck.limits import DUST, Limit, above, below
from postcheck.report import Figure, Limited, Severity, Subject

_Key = TypeVar("_Key")


class Fact(NamedTuple):
    """One judgement of a check before it is a sentence.

    `case`: which of the check's wordings it is; empty where there is one. `reason`: which of its reasons, where the wording has
    several. `figures`: every number that a sentence of it
    shows, SI with its unit. `parts`: every other part that a sentence names, by its role. `words`: text that is neither
    number nor part, such as the name of a wire. `firm`: why it cannot be waived; of a stop, where the check does not say so.
    `lines`: what belongs into the file for the remedy, as it is typed there.
    """

    severity: Severity
    subject: Subject
    path: tuple[str | int, ...] = ()
    case: str = ""
    reason: str = ""
    figures: Mapping[str, Figure] = MappingProxyType({})
    parts: Mapping[str, Subject | tuple[Subject, ...]] = MappingProxyType({})
    words: Mapping[str, str] = MappingProxyType({})
    limit: Limited | None = None
    because_of: str | None = None
    lines: tuple[str, ...] = ()
    firm: str = ""


class Within(NamedTuple):
    """What a check compares: `value` of a subject, in the unit of `limit`, is at most that, or with `least` at least.

    A check yields it whether it is kept or not, and a fact beside it where it is not. `slack`: the share of the limit by which
    it may be missed and still counts as met.
    """

    subject: Subject
    value: float
    limit: Limited
    least: bool = False
    slack: float = DUST

    @property
    def kept(self) -> bool:
        """Whether the value is within the limit."""
        missed = below if self.least else above
        return not missed(self.value, self.limit.value, self.slack)

    @property
    def used(self) -> float:
        """How much of the limit is used up, as a share: 1 is at the limit."""
        part, whole = self.value, self.limit.value
        if self.least:
            part, whole = whole, part
        return max(part / whole, 0.0) if whole > 0.0 else 0.0


def first_broken(steps: Mapping[_Key, Within]) -> _Key | None:
    """The key of the first of several comparisons that is not kept, such as the severity that it has then."""
    return next((key for key, within in steps.items() if not within.kept), None)


def limited(limit: Limit) -> Limited:
    """A limit as a finding carries it; a share says so."""
    unit = limit.unit or ("share" if limit.dimension == "share" else "")
    return Limited(limit.value, unit, limit.source, limit.name)


def of_rating(limit: Limit, rated: float, unit: str) -> Limited:
    """A limit that is a share of a rating, as the value it comes to."""
    return Limited(limit.value * rated, unit, limit.source, limit.name)
