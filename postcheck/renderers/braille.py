"""Cells of eight dots, two wide and four high (Unicode 2800 to 28FF), in which a terminal can draw."""

from __future__ import annotations

__all__ = ["BITS", "DOTS", "cell"]

DOTS = "\u2800\u28ff"
"""What a stream must be able to show, or a drawing is told in other signs."""

BITS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
"""The bit of each dot of a cell, by row and column."""


def cell(bits: int) -> str:
    """The cell with these dots."""
    return chr(0x2800 + bits)
