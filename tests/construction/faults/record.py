"""The shape of a seeded fault."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple, TypeVar

from tests.construction.model import Model


class NotHere(Exception):
    """This build has nothing of which the fault could be made."""


class Found(NamedTuple):
    """What has to be found: a finding of this check (or one of these) on this subject.

    `note`: what harms nothing and may be meant is worth a note, and no more.
    """

    check: str
    subject: str
    note: bool = False


class Asked(NamedTuple):
    """What has to be asked, so that the build is not clear: the subject, and words of what could not be judged."""

    subject: str
    words: str


T = TypeVar("T")
Make = Callable[[Model], Found | Asked]


class Sort(NamedTuple):
    """A slip of builders: its name, what a build needs for it, and the change, which says what has to be found."""

    name: str
    wants: frozenset[str]
    make: Make


def sort(name: str, *wants: str) -> Callable[[Make], Sort]:
    """A sort of fault, made of its function."""
    return lambda make: Sort(name, frozenset(wants), make)


def first(rows: list[T]) -> T:
    """The first of them, if there is one."""
    if not rows:
        raise NotHere
    return rows[0]
