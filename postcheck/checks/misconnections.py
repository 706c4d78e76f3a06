"""What a misconnection (a plug put in wrongly, a broken return) does to one part, as the data of a finding."""

from __future__ import annotations

from math import inf
from typing import NamedTuple

from postcheck.description.consumers import CONSUMERS
from postcheck.limits import LimitName
from postcheck.report import Figure, Limited, Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import PlugFault

__all__ = ["HARMS", "MISCONNECTION_LIMITS", "Harm", "harm", "harmed", "hurt", "worst"]

MISCONNECTION_LIMITS: tuple[LimitName, ...] = (
    "lamp.reverse",
    "electronics.reverse",
    "lamp.current.stop",
    "lamp.filament.stop",
)
"""The limits by which a misconnection is judged."""
HARMS = {
    "reversed": "{harmed} gets {reverse:apart} the wrong way round.[ It withstands {withstands:apart} in that direction.]",
    "die reversed": "one die of {harmed} gets up to {reverse:apart} the wrong way round. It withstands {withstands:apart} in that direction.",
    "too many volts": "{harmed} gets {volts:apart}. It withstands {withstands:apart}.",
    "too much current": "{harmed} gets {current:apart}. Its rating is {rated:apart}.",
}
"""What is said of each sort of harm, as the second half of a sentence."""
# Of a filament lamp the limit is one of volts; it follows I ~ V**0.55 near its rating.
_FILAMENT_EXPONENT = 0.55
# What a part gets with everything as it should be is another finding's matter: a misconnection has to add this much.
_WORSE = 1.1


class Harm(NamedTuple):
    """What happens to a part that is lost: which of `HARMS`, its figures, and the limit that it is beyond."""

    case: str
    figures: dict[str, Figure]
    limit: Limited


def _reverse_rating(survey: Survey, fault: PlugFault) -> Limited:
    """The reverse voltage that a part is known, or taken, to withstand."""
    if fault.reverse_stood is not None:
        return Limited(fault.reverse_stood, "V", "what it withstands, by its data or the file")
    limit = survey.limits["lamp.reverse" if fault.dice else "electronics.reverse"]
    return Limited(limit.value, limit.unit, limit.source, limit.name)


def _backwards(survey: Survey, fault: PlugFault) -> float:
    """Reverse voltage as a share of what it withstands."""
    return fault.reverse / max(_reverse_rating(survey, fault).value, 1e-9)


def _most_current(survey: Survey, fault: PlugFault) -> Limited:
    """The most current that a lamp or strip withstands, A."""
    limit = survey.limits["lamp.current.stop"]
    most = limit.value * fault.rated
    lamp = survey.electrics.lamps.get(fault.part) if fault.kind == "lamp" else None
    if lamp is not None and lamp.part.dice[0].filament_volts is not None:
        limit = survey.limits["lamp.filament.stop"]
        most = limit.value**_FILAMENT_EXPONENT * fault.rated
    return Limited(most, "A", limit.source, limit.name)


def _current(survey: Survey, fault: PlugFault) -> float:
    """Current as a share of the most it withstands; 0 where it is no more than it always gets."""
    usual, most = 0.0, _most_current(survey, fault).value
    if fault.kind == "lamp" and fault.part in survey.electrics.lamps:
        usual = survey.electrics.lamps[fault.part].highest
    elif fault.kind == "strip" and fault.part in survey.electrics.strips:
        usual = survey.electrics.strips[fault.part].segment_highest
    return fault.current / most if most > 0.0 and fault.current > _WORSE * usual else 0.0


def _most_volts(survey: Survey, fault: PlugFault) -> tuple[float, float]:
    """The most volts that a board or load withstands (infinite where nobody says), and those it gets as it should be."""
    if fault.kind == "board":
        board = survey.build.board[fault.part]
        most, source, share = board.most_volts, board.supply, 1.0
    elif fault.kind in CONSUMERS and (load := survey.electrics.loads.get(fault.part)) is not None:
        source = survey.wiring.drivers[load.part.circuit].supply or ""
        gives = survey.electrics.supplies.get(source)
        most, share = (
            load.part.highest,
            load.volts / gives.volts if gives is not None and gives.volts > 0.0 else 1.0,
        )
    else:
        return inf, 0.0
    supply = survey.electrics.supplies.get(source)
    return most if most is not None else inf, supply.highest_volts * share if supply is not None else 0.0


def _volts(survey: Survey, fault: PlugFault) -> float:
    most, usual = _most_volts(survey, fault)
    return fault.volts / most if fault.volts > _WORSE * usual else 0.0


def worst(survey: Survey, fault: PlugFault) -> float:
    """How far beyond what it withstands a part is: above 1 it is lost."""
    return max(_backwards(survey, fault), _current(survey, fault), _volts(survey, fault))


def hurt(survey: Survey, fault: PlugFault) -> bool:
    """Whether the part is lost."""
    return worst(survey, fault) > 1.0 + 1e-3


def harmed(fault: PlugFault) -> Subject:
    """The part that a misconnection is about."""
    return Subject("supply" if fault.kind in ("converter", "short") else fault.kind, fault.part)


def harm(survey: Survey, fault: PlugFault) -> Harm:
    """What happens to a part that is hurt."""
    if _backwards(survey, fault) > 1.0:
        limit = _reverse_rating(survey, fault)
        figures = {"reverse": Figure(fault.reverse, "V")}
        # what electronics withstand where nobody says it is a guess, and no figure of theirs
        if not limit.name or fault.dice:
            figures["withstands"] = Figure(limit.value, "V")
        return Harm("die reversed" if fault.dice > 1 else "reversed", figures, limit)
    if _volts(survey, fault) > 1.0:
        most = _most_volts(survey, fault)[0]
        figures = {"volts": Figure(fault.volts, "V"), "withstands": Figure(most, "V")}
        return Harm("too many volts", figures, Limited(most, "V", "what it withstands, as the file gives it"))
    figures = {"current": Figure(fault.current, "A"), "rated": Figure(fault.rated, "A")}
    return Harm("too much current", figures, _most_current(survey, fault))
