"""What is wrong with a question."""

from __future__ import annotations


class Mistake(Exception):  # noqa: N818 - it is one of whoever asks
    """A question that cannot be answered; its text says what is wrong and what to write instead."""
