"""Resistors: what the file says of one, and what it is with `[usual]` filled in."""

from __future__ import annotations

from postcheck import catalogue
from postcheck.description.models import ResistorSpec, SeriesResistor, UsualResistor
from postcheck.wiring.parts import LampPart, Piece, ResistorPart

# Of resistors of which the file says nothing: the commonest film parts are 5 % (the E24 series of IEC 60063).
USUAL_RESISTOR_TOLERANCE = 0.05

# Of the whole track of a trimmer: cermet ones come with 10 %, carbon ones with 20 % (makers' sheets, from memory).
USUAL_TRACK_TOLERANCE = 0.2


def spec_of(part: LampPart) -> ResistorSpec | None:
    """The resistor of a lamp, or of one of its colours, as the file has it."""
    lamp = part.said
    if lamp.dice is not None:
        return lamp.dice[str(part.path[3])].resistor
    return lamp.resistor


def usual_resistor(usual: UsualResistor | None) -> tuple[float | None, float]:
    """Power (W, None: not known) and tolerance of a resistor without its own, by `[usual]`."""
    if usual is None:
        return None, USUAL_RESISTOR_TOLERANCE
    power = usual.power
    if power is None and usual.size is not None:
        power = catalogue.resistor_size(usual.size).power
    return power, usual.tolerance if usual.tolerance is not None else USUAL_RESISTOR_TOLERANCE


def resistor_part(
    spec: ResistorSpec | None, place: str, usual: tuple[float | None, float]
) -> ResistorPart | None:
    """A resistor, or several in series, that sits at a place if it does not say another; `usual`: power and tolerance.

    None for a link of zero ohm, which limits nothing, and for a trimmer alone, which may be turned to zero.
    """
    if spec is None or (ohms := spec.whole) == 0.0:
        return None
    power, tolerance = usual
    pieces = tuple(_piece(piece, power) for piece in spec.pieces)
    several = len(pieces) > 1 or pieces[0].track is not None
    spread = sum(
        piece.ohms * (one.tolerance if one.tolerance is not None and not one.trimmer else tolerance)
        for piece, one in zip(pieces, spec.pieces, strict=True)
    )
    return ResistorPart(
        ohms,
        spread / ohms,
        together(pieces) if several else pieces[0].power,
        spec.place or place,
        "supply" if spec.side == "feed" else "return",
        pieces if several else (),
        sum(
            one.ohms * (1.0 + (USUAL_TRACK_TOLERANCE if one.tolerance is None else one.tolerance))
            for one in spec.trimmers
            if one.set is None
        ),
    )


def _piece(spec: SeriesResistor, usual_power: float | None) -> Piece:
    power = spec.power
    if power is None and spec.size is not None:
        power = catalogue.resistor_size(spec.size).power
    if spec.trimmer:  # `[usual]` is about fixed resistors
        return Piece(spec.set or 0.0, power, spec.ohms)
    return Piece(spec.ohms, power if power is not None else usual_power)


def together(pieces: tuple[Piece, ...]) -> float | None:
    """What resistors in series dissipate together when the first of them reaches its rating, W; None where one has no rating."""
    if any(piece.power is None for piece in pieces):
        return None
    return sum(piece.ohms for piece in pieces) * min(
        (piece.power or 0.0) / piece.rated_ohms for piece in pieces if piece.rated_ohms > 0.0
    )
