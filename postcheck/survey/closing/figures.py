"""What is known of a place that is about to be closed."""

from __future__ import annotations

from typing import NamedTuple

from postcheck.survey.closing.access import Reached


class Needed(NamedTuple):
    """Something that has to be proven. `by`: the test record that does it, by its position in the file, None while none does.

    `ask`: kind and name of what to test for it; of several ways the plainest. `unseen`: the current that is asked for
    would hardly be less without it, so somebody has to look. `lamp`: the lamp that it is, or is a string of.
    """

    kind: str
    name: str
    ask: tuple[str, str]
    by: int | None = None
    unseen: bool = False
    lamp: str = ""


class Closing(NamedTuple):
    """A place that is about to be closed. `ran`: how long each proven lamp in it has run lately, s.

    `held`: all in it that will be reached by cutting only.
    """

    place: str
    needed: tuple[Needed, ...]
    ran: tuple[tuple[str, float], ...]
    held: tuple[Reached, ...]

    @property
    def unproven(self) -> tuple[Needed, ...]:
        """What no test record covers yet."""
        return tuple(one for one in self.needed if one.by is None)
