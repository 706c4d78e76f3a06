"""Usual free-wheeling diodes, by what is printed on them."""

from __future__ import annotations

from typing import Final, NamedTuple

from postcheck.description.models import DiodeSpec


class DiodeData(NamedTuple):
    """Average forward current in A, reverse voltage in V, current of one surge in A; None where nobody says."""

    rated: float
    reverse: float | None = None
    surge: float | None = None


# Types registered with JEDEC, as their makers' sheets have them: average current, repetitive reverse voltage, one half wave
# of 60 Hz (of the 1N4148 and 1N914 one second). From memory.
DIODES: Final = {
    **{f"1N400{number}": DiodeData(1.0, volts, 30.0) for number, volts in enumerate((50.0, 100.0, 200.0, 400.0, 600.0, 800.0, 1000.0), 1)},
    **{f"1N540{number}": DiodeData(3.0, volts, 200.0) for number, volts in ((0, 50.0), (1, 100.0), (2, 200.0), (4, 400.0), (6, 600.0), (7, 800.0), (8, 1000.0))},
    **{f"1N581{number}": DiodeData(1.0, volts, 25.0) for number, volts in ((7, 20.0), (8, 30.0), (9, 40.0))},
    "1N4148": DiodeData(0.2, 75.0, 1.0),
    "1N914": DiodeData(0.2, 75.0, 1.0),
}  # fmt: skip
IN_BOARD: Final = "board"
"""What a file says where the board that switches the motor takes its kick itself."""


def diode_data(spec: DiodeSpec) -> DiodeData | None:
    """What a diode stands, what the file says first; None of one in the board."""
    if spec.kind == IN_BOARD:
        return None
    known = DIODES.get((spec.kind or "").upper())
    rated = spec.rated if spec.rated is not None else known.rated if known is not None else 0.0
    reverse = spec.volts if spec.volts is not None else known.reverse if known is not None else None
    return DiodeData(rated, reverse, known.surge if known is not None else None)
