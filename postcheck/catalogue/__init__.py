"""Wires, lamps, strips, resistors, fuses, materials and cells of the trade, each row with its source."""

from __future__ import annotations

from postcheck.catalogue.load import (
    KINDS,
    chemistry,
    fuse_rating,
    fuse_ratings,
    lamp,
    names,
    plastic,
    resistor_size,
    rows,
    strip,
    wire,
)
from postcheck.catalogue.rows import (
    CellSize,
    Chain,
    Chemistry,
    Die,
    FilamentLamp,
    FuseRating,
    LedLamp,
    Plastic,
    ResistorSize,
    Row,
    Strip,
    UnknownRow,
    Wire,
)

__all__ = [
    "KINDS",
    "CellSize",
    "Chain",
    "Chemistry",
    "Die",
    "FilamentLamp",
    "FuseRating",
    "LedLamp",
    "Plastic",
    "ResistorSize",
    "Row",
    "Strip",
    "UnknownRow",
    "Wire",
    "chemistry",
    "fuse_rating",
    "fuse_ratings",
    "lamp",
    "names",
    "plastic",
    "resistor_size",
    "rows",
    "strip",
    "wire",
]
