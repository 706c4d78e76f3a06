"""Light that can hurt eyes: ultraviolet, and strong blue."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from postcheck.checks.fact import Fact, Within, limited
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.report import Figure, Limited, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.light import EYE, beam_of, colour_words, short_wave, ultraviolet, ultraviolet_at_eye


def _eyes(survey: Survey) -> Iterator[Fact | Within]:
    """One finding for all lamps of each sort."""
    yield from _ultraviolet(survey)
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
        yield _fact(
            survey, "note", "blue", tuple(Subject("lamp", lamp.name) for lamp in strong),
            {"current": Figure(most, "A")}, limited(limit),
        )  # fmt: skip


def _ultraviolet(survey: Survey) -> Iterator[Fact | Within]:
    burning = short_wave(survey.parts)
    if burning:
        yield _fact(survey, "stop", "short-wave", burning)
    limit, near = limited(survey.limits["light.ultraviolet"]), []
    strong: dict[Subject, float] = {}
    for lamp in ultraviolet(survey.parts):
        if lamp in burning:
            continue
        lit = survey.electrics.lamps.get(lamp.name) if lamp.kind == "lamp" else None
        if lit is not None:
            within = Within(lamp, ultraviolet_at_eye(lit, survey.limits), limit)
            yield within
            if not within.kept:
                strong[lamp] = within.value
                continue
        near.append(lamp)
    if strong:
        worst = max(strong, key=lambda lamp: strong[lamp])
        beam = beam_of(survey.electrics.lamps[worst.name], survey.limits)
        figures = {
            "most": Figure(strong[worst], "W/m2"),
            "distance": Figure(EYE, "m"),
            **({} if beam is None else {"beam": Figure(beam, "rad")}),
        }
        yield _fact(survey, "caution", "strong ultraviolet", tuple(strong), figures, limit)
    if near:
        yield _fact(survey, "note", "ultraviolet", tuple(near))


def _fact(
    survey: Survey,
    severity: Severity,
    case: str,
    lamps: tuple[Subject, ...],
    figures: Mapping[str, Figure] = MappingProxyType({}),
    limit: Limited | None = None,
) -> Fact:
    part = next(part for part in survey.parts.all if part.name == lamps[0].name)
    return Fact(
        severity, lamps[0], (*part.path, "kind"), case, figures=figures, parts={"lamps": lamps}, limit=limit
    )


_SHADE = "Aim it at what it is to light and shade it, so that nobody looks into it."

CHECKS: tuple[Check, ...] = (
    Check(
        "lamp.eyes", "stop", "lamp", "light that can hurt eyes", "Ultraviolet and strong blue hurt eyes, and the eye hardly sees the ultraviolet.",
        "the colour of LEDs; of blue ones the current too; of near ultraviolet ones power x share / (pi d2) at 200 mm, with a lens over its beam; a stop below 315 nm",
        ("light.blue", "light.ultraviolet", "light.ultraviolet.share", "light.ultraviolet.beam"),
        "IEC 62471: ultraviolet below 315 nm, skin and cornea; from 315 to 400 nm, lens; blue light, retina. What a lamp is by it is on its maker's sheet", _eyes,
        wording={
            "short-wave": Wording(
                "Short-wave ultraviolet light (UV-B or UV-C) comes from {lamps}.", "That burns eyes and skin within minutes, and nobody sees or feels it at first. Children look closest.",
                "Take a near ultraviolet lamp (UV-A), which makes colours glow as well.",
            ),
            "strong ultraviolet": Wording(
                "Ultraviolet light of up to {most:apart} falls on an eye {distance} from {lamps}[, gathered into a beam of {beam}]. Up to {limit:apart} counts as harmless.",
                "The eye hardly sees it, so it does not turn away. Its lens is hurt, of children most, who look closest.",
                "Take a weaker lamp, or shade it so that nobody can look into it, and waive this with that as the reason.",
            ),
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
