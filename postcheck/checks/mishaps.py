"""What a mishap (a plug put in wrongly, a broken return) does to one part, and how to say it."""

from __future__ import annotations

from math import inf

from postcheck.checks.shown import amps, volts
from postcheck.description.naming import supply_of
from postcheck.limits import LimitName
from postcheck.plain import quoted
from postcheck.report import Limited
from postcheck.survey import Survey
from postcheck.survey.network.figures import PlugFault

__all__ = ["MISHAP_LIMITS", "harm", "hurt", "stood", "worst"]

MISHAP_LIMITS: tuple[LimitName, ...] = (
    "lamp.reverse",
    "electronics.reverse",
    "lamp.current.stop",
    "lamp.filament.stop",
)
"""The limits by which a mishap is judged."""
# Of a filament lamp the limit is one of volts; it follows I ~ V**0.55 near its rating.
_FILAMENT_EXPONENT = 0.55
# What a part gets with everything as it should be is another finding's matter: a mishap has to add this much.
_WORSE = 1.1


def stood(survey: Survey, fault: PlugFault) -> Limited:
    """The reverse voltage that a part is known, or taken, to stand."""
    if fault.reverse_stood is not None:
        return Limited(fault.reverse_stood, "V", "what it stands, by its data or the file")
    limit = survey.limits["lamp.reverse" if fault.kind in ("lamp", "strip") else "electronics.reverse"]
    return Limited(limit.value, limit.unit, limit.source)


def _backwards(survey: Survey, fault: PlugFault) -> float:
    """Reverse voltage as a share of what it stands."""
    return fault.reverse / max(stood(survey, fault).value, 1e-9)


def _current(survey: Survey, fault: PlugFault) -> float:
    """Current as a share of the most it stands; 0 where it is no more than it always gets."""
    usual, most = 0.0, survey.limits.value("lamp.current.stop") * fault.rated
    if fault.kind == "lamp" and fault.part in survey.electrics.lamps:
        lamp = survey.electrics.lamps[fault.part]
        usual = lamp.highest
        if lamp.part.dice[0].filament_volts is not None:
            most = survey.limits.value("lamp.filament.stop") ** _FILAMENT_EXPONENT * fault.rated
    elif fault.kind == "strip" and fault.part in survey.electrics.strips:
        usual = survey.electrics.strips[fault.part].segment_highest
    return fault.current / most if most > 0.0 and fault.current > _WORSE * usual else 0.0


def _most_volts(survey: Survey, fault: PlugFault) -> tuple[float, float]:
    """The most volts that a board or load stands (infinite where nobody says), and those it gets as it should be."""
    if fault.kind == "board":
        board = survey.build.board[fault.part]
        most, source, share = board.most_volts, board.supply, 1.0
    elif fault.kind == "load" and fault.part in survey.electrics.loads:
        load = survey.electrics.loads[fault.part]
        said = survey.build.load[int(load.part.path[1])]
        source = supply_of(survey.build, survey.build.circuit[said.circuit]) or ""
        gives = survey.electrics.supplies.get(source)
        most, share = (
            said.highest,
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
    """How far beyond what it stands a part is: above 1 it is lost."""
    return max(_backwards(survey, fault), _current(survey, fault), _volts(survey, fault))


def hurt(survey: Survey, fault: PlugFault) -> bool:
    """Whether the part is lost."""
    return worst(survey, fault) > 1.0 + 1e-3


def harm(survey: Survey, fault: PlugFault) -> str:
    """What happens to a part that is hurt, as half a sentence."""
    name, limit = quoted(fault.part), stood(survey, fault).value
    if _backwards(survey, fault) > 1.0:
        if fault.kind not in ("lamp", "strip"):
            return f"{name} is fed {volts(fault.reverse)} the wrong way round" + (
                f", and stands {volts(limit)}" if fault.reverse_stood is not None else ""
            )
        who = f"one die of {name} may take up to" if fault.string else f"{name} gets"
        return f"{who} {volts(fault.reverse)} the wrong way round and is tested at {volts(limit)}"
    if _volts(survey, fault) > 1.0:
        return f"{name} gets {volts(fault.volts)} and stands {volts(_most_volts(survey, fault)[0])}"
    return f"{name} gets {amps(fault.current)} and stands {amps(fault.rated)}"
