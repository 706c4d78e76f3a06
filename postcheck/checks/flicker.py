"""What the eye sees of switching: steps of steady lamps, flashes a second, the frequency of dimming."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within, first_broken, limited
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.report import Figure, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import Step

# A flasher of up to this rate is judged as slow: the eye is most sensitive at 8 to 10 Hz.
SLOW = 3.0


def _step(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    seen: dict[str | None, list[Step]] = {}
    for step in survey.electrics.steps:
        limit = survey.limits["step.fast" if (step.rate or 0.0) > SLOW else "step.slow"]
        yield (within := Within(Subject("lamp", step.lamp), abs(step.share), limited(limit)))
        if not within.kept:
            seen.setdefault(step.flasher, []).append(step)
    together = seen.pop(None, [])
    if together and not seen:  # no single flasher is too much: then it is all of them at once
        seen[None] = together
    for flasher, steps in seen.items():
        worst = max(steps, key=lambda step: abs(step.share))
        limit = survey.limits["step.fast" if (worst.rate or 0.0) > SLOW else "step.slow"]
        flashers = _flashers(survey) if flasher is None else [flasher]
        yield Fact(
            "caution",
            Subject("circuit", flashers[0]),
            ("circuit", flashers[0]),
            f"{'one' if flasher is not None else 'all'} {'less' if worst.share < 0.0 else 'more'}",
            figures={
                "step": Figure(abs(worst.share), "share"),
                "lamps": Figure(len(steps), ""),
                **({"others": Figure(len(steps) - 1, "")} if len(steps) > 1 else {}),
            },
            parts={
                "lamp": Subject("lamp", worst.lamp),
                "flashers": tuple(Subject("circuit", name) for name in flashers),
            },
            limit=limited(limit),
        )


def _flashers(survey: Survey) -> list[str]:
    return [name for name, circuit in survey.build.circuit.items() if circuit.behaviour == "flash"]


def _rate(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
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
            continue
        yield (within := Within(Subject("circuit", name), circuit.rate, limited(limit)))
        if not within.kept:
            yield Fact(
                "caution",
                within.subject,
                ("circuit", name, "rate"),
                figures={"rate": Figure(circuit.rate, "Hz")},
                limit=within.limit,
            )


def _averaged(survey: Survey, circuit: str) -> bool:
    """Whether an average over time counts: on a battery or power bank, or with heat in closed places."""
    build = survey.build
    supply = build.supply.get(survey.wiring.drivers[circuit].supply or "")
    if supply is not None and (supply.kind == "battery" or supply.port == "power-bank"):
        return True
    parts = [part for part in survey.parts.all if part.circuit == circuit]
    places = {place for part in parts for place in part.places}
    places |= {part.resistor.place for part in parts if part.resistor is not None}
    return any(build.place[place].access != "open" for place in places)


def _dimming(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    quick, visible = limited(survey.limits["dim.frequency"]), limited(survey.limits["dim.visible"])
    for name, circuit in survey.build.circuit.items():
        if circuit.behaviour != "dim":
            continue
        if circuit.frequency is None:
            yield NotJudged(
                name, "whether its dimming is seen to flicker", 'its frequency, such as frequency = "2 kHz"'
            )
            continue
        subject = Subject("circuit", name)
        steps: dict[tuple[Severity, str], Within] = {
            ("caution", "seen"): Within(subject, circuit.frequency, visible, least=True),
            ("note", "in motion"): Within(subject, circuit.frequency, quick, least=True),
        }
        yield from steps.values()
        if (broken := first_broken(steps)) is None:
            continue
        severity, case = broken
        yield Fact(
            severity,
            subject,
            ("circuit", name, "frequency"),
            case,
            figures={"frequency": Figure(circuit.frequency, "Hz")},
            limit=steps[broken].limit,
        )


_JUMP = "The eye sees a steady light jump by a few per cent. It comes from all that the two share: feed, return, the supply's own resistance."

CHECKS: tuple[Check, ...] = (
    Check(
        "circuit.step", "caution", "circuit", "steady lamps that jump when a flasher comes on", "The eye sees a few per cent.",
        "(I on - I off) / I off, each flasher alone and all at once; to first order I_f R_c / (R + n r_d + R_c) / I", ("step.slow", "step.fast"),
        "temporal contrast thresholds of de Lange and Kelly (from memory)", _step,
        wording={
            f"{who} {how}": Wording(f"{when}, {{lamp}} gets {{step}} {how} current[, and {{others:other}} with it].", _JUMP)
            for who, when in (("one", "Each time {subject} comes on"), ("all", "When {flashers} come on together"))
            for how in ("less", "more")
        },
    ),
    Check(
        "flash.rate", "caution", "circuit", "flashes faster than may be shown without a warning",
        "Flashes faster than three a second can bring on seizures.", "flashes a second", ("flash.rate",),
        "WCAG 2.2 success criterion 2.3.1", _rate,
        wording={
            "": Wording(
                "{subject} flashes at {rate:apart}. Above {limit:apart} it needs a warning sign.",
                "Flashes faster than three a second can bring on seizures in people with photosensitive epilepsy, large and red ones most."
                " A few small lamps are below the area that counts, a lit hall or bay is not. Where the public sees it, put up a notice and follow local rules.",
                "Flash at {limit} or slower.",
            )
        },
    ),
    Check(
        "dim.frequency", "caution", "circuit", "dimming slow enough to be seen", "Moving eyes and cameras see it.",
        "frequency of the dimming", ("dim.frequency", "dim.visible"), "IEEE 1789-2015 (from memory)", _dimming,
        wording={
            "seen": Wording("{subject} is dimmed at {frequency:apart}. From {limit:apart} nobody sees it flicker.", "The lamps are seen to flicker."),
            "in motion": Wording(
                "{subject} is dimmed at {frequency:apart}. From {limit:apart} it needs no thought.",
                "The eye sees single points of light when it moves past them, and cameras see bands.",
            ),
        },
    ),
)  # fmt: skip
