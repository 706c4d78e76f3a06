"""What a misconnection (a plug put in wrongly, a broken return) does to one part, as the data of a finding."""

from math import inf
from typing import NamedTuple

from postcheck.checks.fact import Within, first_broken
from postcheck.description.consumers import CONSUMERS
from postcheck.limits import LimitName, above
from postcheck.report import Figure, Limited, Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import PlugFault

MISCONNECTION_LIMITS: tuple[LimitName, ...] = (
    "lamp.reverse",
    "electronics.reverse",
    "lamp.current.stop",
    "lamp.filament.stop",
)
"""The limits by which a misconnection is judged."""
# What would help where a misconnection was not tried.
UNSOLVED = "wiring whose currents can be found then, too"
UNTRIED = "a file with fewer parts: the whole build is worked out for each, and more would take too long"

HARMS = {
    "reversed": "{harmed} gets {reverse:apart} the wrong way round.[ It withstands {withstands:apart} in that direction.]",
    "die reversed": "one die of {harmed} gets up to {reverse:apart} the wrong way round. It withstands {withstands:apart} in that direction.",
    "too many volts": "{harmed} gets {volts:apart}. It withstands {withstands:apart}.",
    "too much current": "{harmed} gets {current:apart}. Its rating is {rated:apart}.",
}
"""What is said of each sort of harm, as the second half of a sentence."""
# The limit of a filament lamp is in volts; near its rating I ~ V**0.55.
_FILAMENT_EXPONENT = 0.55
# What a part gets when all is connected right is another finding: a misconnection has to add this share.
_WORSE = 1.1
# Within this share of a limit a value is at it.
AT = 1e-3


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


def _most_current(survey: Survey, fault: PlugFault) -> Limited:
    """The most current that a lamp or strip withstands, A."""
    limit = survey.limits["lamp.current.stop"]
    most = limit.value * fault.rated
    lamp = survey.electrics.lamps.get(fault.part) if fault.kind == "lamp" else None
    if lamp is not None and lamp.part.dice[0].filament_volts is not None:
        limit = survey.limits["lamp.filament.stop"]
        most = limit.value**_FILAMENT_EXPONENT * fault.rated
    return Limited(most, "A", limit.source, limit.name)


def _usual_current(survey: Survey, fault: PlugFault) -> float:
    """The current that a lamp or strip gets as it should be, A."""
    if fault.kind == "lamp" and fault.part in survey.electrics.lamps:
        return survey.electrics.lamps[fault.part].highest
    if fault.kind == "strip" and fault.part in survey.electrics.strips:
        return survey.electrics.strips[fault.part].segment_highest
    return 0.0


def _most_volts(survey: Survey, fault: PlugFault) -> tuple[float, float]:
    """The most volts that a board or load withstands (infinite where unknown), and those it gets when connected right."""
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


def compared(survey: Survey, fault: PlugFault) -> dict[str, Within]:
    """What a part gets against what it withstands, by the case of `HARMS` that more of it is."""
    most, usual = _most_volts(survey, fault)
    rows = (
        (
            "die reversed" if fault.dice > 1 else "reversed",
            fault.reverse,
            _reverse_rating(survey, fault),
            fault.reverse > 0.0,
        ),
        (
            "too many volts",
            fault.volts,
            Limited(most, "V", "what it withstands, as the file gives it"),
            most < inf and above(fault.volts, _WORSE * usual),
        ),
        (
            "too much current",
            fault.current,
            _most_current(survey, fault),
            fault.rated > 0.0 and above(fault.current, _WORSE * _usual_current(survey, fault)),
        ),
    )
    part = harmed(fault)
    return {case: Within(part, gets, limit, slack=AT) for case, gets, limit, counts in rows if counts}


def worst(survey: Survey, fault: PlugFault) -> float:
    """How far beyond what it withstands a part is: above 1 it is lost."""
    return max((within.used for within in compared(survey, fault).values()), default=0.0)


def hurt(survey: Survey, fault: PlugFault) -> bool:
    """Whether the part is lost."""
    return first_broken(compared(survey, fault)) is not None


def harmed(fault: PlugFault) -> Subject:
    """The part that a misconnection is about."""
    return Subject("supply" if fault.kind in ("converter", "short") else fault.kind, fault.part)


def harm(survey: Survey, fault: PlugFault) -> Harm:
    """What happens to a part that is hurt."""
    case, over = next((case, within) for case, within in compared(survey, fault).items() if not within.kept)
    gets, withstands = Figure(over.value, over.limit.unit), Figure(over.limit.value, over.limit.unit)
    if case == "too much current":
        figures = {"current": gets, "rated": Figure(fault.rated, "A")}
    elif case == "too many volts":
        figures = {"volts": gets, "withstands": withstands}
    else:
        figures = {"reverse": gets}
        # where the file does not say what electronics withstand, it is a guess and not shown
        if not over.limit.name or fault.dice:
            figures["withstands"] = withstands
    return Harm(case, figures, over.limit)
