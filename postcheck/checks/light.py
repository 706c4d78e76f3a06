"""Light that can hurt eyes: ultraviolet, and strong blue."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within, limited
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.report import Figure, Subject
from postcheck.survey import Survey
from postcheck.survey.light import colour_words, ultraviolet


def _eyes(survey: Survey) -> Iterator[Fact | Within]:
    """One finding for all lamps of each sort."""
    if lamps := ultraviolet(survey.parts):
        yield _fact(survey, "ultraviolet", lamps)
    limit = survey.limits["light.blue"]
    strong = []
    for lamp in survey.electrics.lamps.values():
        if "blue" in colour_words(*(die.colour for die in lamp.part.dice)):
            within = Within(Subject("lamp", lamp.name), lamp.nominal, limited(limit), slack=-1e-9)
            yield within
            if not within.kept:
                strong.append(lamp)
    if strong:
        most = max(lamp.nominal for lamp in strong)
        yield _fact(survey, "blue", tuple(Subject("lamp", lamp.name) for lamp in strong), most)


def _fact(survey: Survey, case: str, lamps: tuple[Subject, ...], amps: float | None = None) -> Fact:
    part = next(part for part in survey.parts.all if part.name == lamps[0].name)
    return Fact(
        "note",
        lamps[0],
        (*part.path, "kind"),
        case,
        figures={} if amps is None else {"current": Figure(amps, "A")},
        parts={"lamps": lamps},
        limit=None if amps is None else limited(survey.limits["light.blue"]),
    )


_SHADE = "Aim it at what it is to light and shade it, so that nobody looks into it."

CHECKS: tuple[Check, ...] = (
    Check(
        "lamp.eyes", "note", "lamp", "light that can hurt eyes", "Ultraviolet and strong blue hurt eyes, and the eye hardly sees the ultraviolet.",
        "the colour of LEDs; of blue ones the current too", ("light.blue",),
        "IEC 62471: near ultraviolet from 315 to 400 nm, lens; blue light, retina. What a lamp is by it is on its maker's sheet", _eyes,
        wording={
            "ultraviolet": Wording(
                "Ultraviolet light comes from {lamps}.", "The eye hardly sees it, so it does not turn away, and its lens is hurt over time.", _SHADE
            ),
            "blue": Wording(
                "Strong blue light comes from {lamps}, at up to {current:apart}. From {limit:apart} up it may hurt an eye that looks into it.",
                "Strong blue light hurts the retina, of children most.", _SHADE,
            ),
        },
    ),
)  # fmt: skip
