"""What the eye sees of switching: steps of steady lamps, flashes a second, the frequency of dimming."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import limited
from postcheck.checks.record import Check
from postcheck.checks.shown import count_of, hertz, listed, percent
from postcheck.description.naming import supply_of
from postcheck.plain import quoted
from postcheck.report import Figure, Finding, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import Step

__all__ = ["CHECKS"]

# A flasher of up to this rate is judged as slow: the eye is most sensitive at 8 to 10 Hz.
SLOW = 3.0


def _step(survey: Survey) -> Iterator[Finding | NotJudged]:
    seen: dict[str | None, list[Step]] = {}
    for step in survey.electrics.steps:
        limit = survey.limits["step.fast" if (step.rate or 0.0) > SLOW else "step.slow"]
        if abs(step.share) > limit.value:
            seen.setdefault(step.flasher, []).append(step)
    together = seen.pop(None, [])
    if together and not seen:  # no single flasher is too much: then it is all of them at once
        seen[None] = together
    for flasher, steps in seen.items():
        worst = max(steps, key=lambda step: abs(step.share))
        limit = survey.limits["step.fast" if (worst.rate or 0.0) > SLOW else "step.slow"]
        others = f", and {count_of(len(steps) - 1, 'other')} with it" if len(steps) > 1 else ""
        yield Finding(
            "circuit.step",
            "caution",
            Subject("circuit", _flashers(survey)[0] if flasher is None else flasher),
            f"{f'Each time {quoted(flasher)} comes on' if flasher else f'When {listed(_flashers(survey))} come on together'}, {quoted(worst.lamp)} gets {percent(abs(worst.share))} {'less' if worst.share < 0 else 'more'} current{others}.",
            "The eye sees a steady light jump by a few per cent. Everything that the two share makes it: feed, return, the supply's own resistance.",
            ("circuit", _flashers(survey)[0] if flasher is None else flasher),
            figures={"step": Figure(abs(worst.share), ""), "lamps": Figure(float(len(steps)), "")},
            limit=limited(limit),
        )


def _flashers(survey: Survey) -> list[str]:
    return [name for name, circuit in survey.build.circuit.items() if circuit.behaviour == "flash"]


def _rate(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["flash.rate"]
    for name, circuit in survey.build.circuit.items():
        if circuit.behaviour != "flash":
            continue
        if circuit.on_share is None and _averaged(survey, name):
            yield NotJudged(
                name,
                "how much of the time it is lit, and so its heat and what it takes from a battery; half is taken",
                'its share, such as on_share = "12 %"',
            )
        if circuit.rate is None:
            yield NotJudged(
                name,
                "whether its flashes are too fast to be shown without a warning",
                'its rate, such as rate = "60 /min"',
            )
        elif circuit.rate > limit.value * (1.0 + 1e-9):
            yield Finding(
                "flash.rate",
                "caution",
                Subject("circuit", name),
                f"{quoted(name)} flashes {hertz(circuit.rate)}; more than {hertz(limit.value)} needs a warning sign.",
                "Flashes faster than three a second can bring on seizures in people with photosensitive epilepsy, large and red ones most."
                " A few small lamps are below the area that counts, a lit hall or bay is not. Where the public sees it, put up a notice and follow local rules.",
                ("circuit", name, "rate"),
                remedy=f"Flash at {hertz(limit.value)} or slower.",
                figures={"rate": Figure(circuit.rate, "Hz")},
                limit=limited(limit),
            )  # fmt: skip


def _averaged(survey: Survey, circuit: str) -> bool:
    """Whether an average over time counts: on a battery or power bank, or with heat in closed places."""
    build = survey.build
    supply = build.supply.get(supply_of(build, build.circuit[circuit]) or "")
    if supply is not None and (supply.kind == "battery" or supply.port == "power-bank"):
        return True
    lamps = [lamp for lamp in survey.parts.lamps if lamp.circuit == circuit]
    places = {place for lamp in lamps for place in lamp.places}
    places |= {lamp.resistor.place for lamp in lamps if lamp.resistor is not None}
    places |= {strip.place for strip in survey.parts.strips if strip.circuit == circuit}
    places |= {load.place for load in survey.parts.loads if load.circuit == circuit}
    return any(build.place[place].access != "open" for place in places)


def _dimming(survey: Survey) -> Iterator[Finding | NotJudged]:
    quick, visible = survey.limits["dim.frequency"], survey.limits["dim.visible"]
    for name, circuit in survey.build.circuit.items():
        if circuit.behaviour != "dim":
            continue
        if circuit.frequency is None:
            yield NotJudged(
                name, "whether its dimming is seen to flicker", 'its frequency, such as frequency = "2 kHz"'
            )
            continue
        if circuit.frequency >= quick.value * (1.0 - 1e-9):
            continue
        seen = circuit.frequency < visible.value
        limit = visible if seen else quick
        yield Finding(
            "dim.frequency",
            "caution" if seen else "note",
            Subject("circuit", name),
            f"{quoted(name)} is dimmed at {hertz(circuit.frequency)}; from {hertz(limit.value)} "
            + ("nobody sees it flicker." if seen else "it needs no thought."),
            "The lamps are seen to flicker." if seen
            else "The eye sees single points of light when it moves past them, and cameras see bands.",
            ("circuit", name, "frequency"),
            figures={"frequency": Figure(circuit.frequency, "Hz")},
            limit=Limited(limit.value, limit.unit, limit.source),
        )  # fmt: skip


CHECKS: tuple[Check, ...] = (
    Check(
        "circuit.step", "caution", "circuit", "steady lamps that jump when a flasher comes on", "The eye sees a few per cent.",
        "(I on - I off) / I off, each flasher alone and all at once; to first order I_f R_c / (R + n r_d + R_c) / I", ("step.slow", "step.fast"),
        "temporal contrast thresholds of de Lange and Kelly (from memory)", _step,
    ),
    Check(
        "flash.rate", "caution", "circuit", "flashes faster than may be shown without a warning",
        "Flashes faster than three a second can bring on seizures.", "flashes a second", ("flash.rate",),
        "WCAG 2.2 success criterion 2.3.1", _rate,
    ),
    Check(
        "dim.frequency", "caution", "circuit", "dimming slow enough to be seen", "Moving eyes and cameras see it.",
        "frequency of the dimming", ("dim.frequency", "dim.visible"), "IEEE 1789-2015 (from memory)", _dimming,
    ),
)  # fmt: skip
