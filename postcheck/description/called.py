"""Resistors and fuses in the one-line forms of the file: "1k5 1/4 W 5 % at keel", "500 mA slow"."""

from __future__ import annotations

from postcheck.description.models import FuseSpec, ResistorSpec, SeriesResistor
from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension

# Powers as the trade calls them, W.
POWERS = (0.0625, 0.1, 0.125, 0.25, 0.5, 1.0, 2.0, 3.0, 5.0)
POWER_WORDS = ("1/16 W", "1/10 W", "1/8 W", "1/4 W", "1/2 W", "1 W", "2 W", "3 W", "5 W")


def resistor_words(spec: ResistorSpec) -> str:
    """A resistor, or several in series, in the one-line form of the file."""
    text = " + ".join(map(piece_words, spec.pieces))
    return f"{text} at {spec.place}" if spec.place is not None else text


def ohms_words(spec: ResistorSpec) -> str:
    """The values alone of a resistor, or of several in series."""
    return " + ".join(_valued(piece) + _setting(piece) for piece in spec.pieces)


def piece_words(spec: SeriesResistor) -> str:
    """One resistor or trimmer of those in series."""
    text = _valued(spec)
    if spec.power is not None:
        text += f" {power_words(spec.power)}"
    elif spec.size is not None:
        text += f" {spec.size}"
    if spec.tolerance is not None:
        text += f" {format_quantity(spec.tolerance, Dimension.SHARE)}"
    return text + _setting(spec)


def _valued(spec: SeriesResistor) -> str:
    return "trimmer " * spec.trimmer + format_quantity(spec.ohms, Dimension.RESISTANCE)


def _setting(spec: SeriesResistor) -> str:
    return "" if spec.set is None else f" set {format_quantity(spec.set, Dimension.RESISTANCE)}"


def power_words(watts: float) -> str:
    """A power as resistors are sold by it."""
    return dict(zip(POWERS, POWER_WORDS, strict=True)).get(watts) or format_quantity(watts, Dimension.POWER)


def fuse_words(fuse: FuseSpec) -> str:
    """A fuse in the one-line form of the file."""
    words = [format_quantity(fuse.rated, Dimension.CURRENT)]
    words += [fuse.kind] if fuse.kind != "quick" else []
    words += [fuse.body] if fuse.body is not None else []
    return " ".join(words)
