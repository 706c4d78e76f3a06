"""What a resistor has to stand, and the power sold for it.

It is the least that stands the stacked worst, lit for good; none is asked for where the usual one will do.
"""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.called import POWER_WORDS, POWERS
from postcheck.description.models import ResistorSpec, SeriesResistor
from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.limits import above, below
from postcheck.remedies.proposal import Change, Proposal, Proposer
from postcheck.remedies.resistor_spec import changed_resistor
from postcheck.remedies.subjects import lamp_figures
from postcheck.report import Figure, Finding
from postcheck.survey import Survey
from postcheck.survey.network.figures import LampFigures
from postcheck.survey.network.resistor_choice import body_for, most_load, sold
from postcheck.survey.network.supplies import open_volts
from postcheck.wiring.parts import LampPart, ResistorPart
from postcheck.wiring.resistors import spec_of, usual_resistor

# What small trimmers are sold with at most, W, and their tracks, ohm (from memory).
_LARGEST_TRIMMER = 0.5
_TRACKS = tuple(step * decade for decade in (1e1, 1e2, 1e3, 1e4, 1e5, 1e6) for step in (1.0, 2.0, 5.0))


def supplied(survey: Survey, part: LampPart) -> tuple[float, float]:
    """What the supply of a lamp usually gives, and at most, V."""
    supply = survey.build.supply[survey.wiring.drivers[part.circuit].supply or ""]
    usual, most = (open_volts(supply, corner) for corner in (0, 1))
    return usual, most


def load_of(survey: Survey, part: LampPart, current: float, ohms: float, tolerance: float) -> float:
    """What a resistor before `current` A a string dissipates at its highest, W.

    With the supply high, the forward voltage and the resistor at their least, and held on, as when a flasher sticks.
    """
    if part.shared_resistor:
        return (current * part.parallel) ** 2 * ohms
    usual, most = supplied(survey, part)
    over = current * ohms + most - usual + sum(die.forward[1] - die.forward[0] for die in part.dice)
    return (over / (1.0 - tolerance)) ** 2 / ohms


def power_for(survey: Survey, watts: float) -> float | None:
    """The power (W) that a new resistor needs: none where the build's usual one will do, else the least sold."""
    power, usual = body_for(watts, survey.limits), usual_resistor(survey.build.usual.resistor)[0]
    enough = usual is not None and not above(watts, most_load(survey.limits) * usual)
    return None if power is None or enough else power[0]


def _more_power(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The least power sold that stands the heat well."""
    lamp = lamp_figures(survey, finding)
    spec = spec_of(lamp.part) if lamp is not None else None
    watts = finding.figures["highest"].value
    power = body_for(watts, survey.limits)
    if lamp is None or spec is None or power is None:
        return
    resistor: ResistorPart | None = lamp.part.resistor
    if resistor is not None and resistor.pieces:
        yield from _more_power_of_one(survey, lamp, spec)
    elif resistor is not None and (resistor.power or 0.0) < power[0]:
        yield Proposal(
            f"Use one of {power[1]}: it is then loaded to {100.0 * watts / power[0]:.0f} % at most.",
            (changed_resistor(lamp.part, spec, power=power[0], size=None),),
            figures={"load": Figure(float(f"{watts / power[0]:.2f}"), "share")},
        )


def _more_power_of_one(survey: Survey, lamp: LampFigures, spec: ResistorSpec) -> Iterator[Proposal]:
    """Of several in series the power of each that is too small."""
    resistor = lamp.part.resistor
    assert resistor is not None
    amps = lamp.nominal * lamp.part.parallel if lamp.part.shared_resistor else lamp.highest
    most = most_load(survey.limits)
    powers = [
        body_for(amps**2 * piece.ohms, survey.limits)
        if piece.track is None and above(amps**2 * piece.ohms, most * (piece.power or 0.0))
        else None
        for piece in resistor.pieces
    ]
    yield from _of_power(lamp, spec, powers)


def _stronger_track(survey: Survey, finding: Finding) -> Iterator[Proposal]:
    """The least power sold with which the whole track of a trimmer stands the current; else a track that is short enough."""
    lamp = lamp_figures(survey, finding)
    spec = spec_of(lamp.part) if lamp is not None else None
    if lamp is None or spec is None:
        return
    watts = finding.figures["highest"].value
    power = next((row for row in zip(POWERS, POWER_WORDS, strict=True) if not above(watts, row[0])), None)
    if power is not None and power[0] <= _LARGEST_TRIMMER:
        yield from _of_power(lamp, spec, [power if piece.trimmer else None for piece in spec.pieces])
        return
    pieces = [_shorter(piece, watts) if piece.trimmer else piece for piece in spec.pieces]
    if None in pieces:
        return
    first, *plus = (piece for piece in pieces if piece is not None)
    new = spec.model_copy(update={"ohms": first.ohms, "plus": tuple(plus)})
    ohms = next(
        format_quantity(piece.ohms, Dimension.RESISTANCE) for piece in (first, *plus) if piece.trimmer
    )
    yield Proposal(
        f"Use a trimmer of {ohms}: its whole track stands that.", (changed_resistor(lamp.part, new),)
    )


def _shorter(trimmer: SeriesResistor, watts: float) -> SeriesResistor | None:
    """A trimmer of the same power whose whole track stands the current, where it reaches what it is set to. `watts`: what this one's would have."""
    most = (trimmer.power or 0.0) * trimmer.ohms / watts
    track = max((track for track in _TRACKS if not above(track, most)), default=None)
    enough = track is not None and not below(track, trimmer.set or 0.0)
    return trimmer.model_copy(update={"ohms": track}) if enough else None


def _of_power(
    lamp: LampFigures, spec: ResistorSpec, powers: list[tuple[float, str] | None]
) -> Iterator[Proposal]:
    """Resistors in series with more power where it is given."""
    stronger: list[SeriesResistor] = []
    words: list[str] = []
    for own, power in zip(spec.pieces, powers, strict=True):
        if power is None or own.power is None or own.power >= power[0]:
            stronger.append(own)
            continue
        stronger.append(own.model_copy(update={"power": power[0], "size": None}))
        what = "a trimmer" if own.trimmer else f"the {format_quantity(own.ohms, Dimension.RESISTANCE)}"
        words.append(f"{power[1]} for {what}")
    if words:
        first = stronger[0]
        new = spec.model_copy(update={"power": first.power, "size": first.size, "plus": tuple(stronger[1:])})
        yield Proposal(f"Use {' and '.join(words)}.", (changed_resistor(lamp.part, new),))


def larger_body(lamp: LampFigures) -> Iterator[tuple[str, Change]]:
    """The powers sold above that of a lamp's resistor, in words, with the change that each of them is."""
    spec, resistor = spec_of(lamp.part), lamp.part.resistor
    if spec is None or resistor is None or not resistor.power or resistor.pieces:
        return
    for power, words in sold():
        if power > resistor.power:
            yield words, changed_resistor(lamp.part, spec, power=power, size=None)


RATINGS: dict[str, Proposer] = {"resistor.overloaded": _more_power, "trimmer.overloaded": _stronger_track}
