"""A remedy before it is proven: what to say, and what to change in the build."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

from postcheck.report import Finding
from postcheck.survey import Survey

__all__ = ["Change", "Proposal", "Proposer"]


class Change(NamedTuple):
    """One value of the build: its document path, the new SI value, and how it is written in the file."""

    path: tuple[str | int, ...]
    value: Any
    written: str


class Proposal(NamedTuple):
    """A remedy to be proven: what to say, and what to change."""

    says: str
    changes: tuple[Change, ...]


Proposer = Callable[[Survey, Finding], Iterator[Proposal]]
