"""Lamps that flash by themselves: whether the chip inside has its volts, and the time to flash."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within, first_broken
from postcheck.checks.known import known_lamps, rises
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording, open_question
from postcheck.report import Figure, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.averages import on_time


def _chip(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    """Whether the chip in a lamp that flashes by itself has the volts that it works on."""
    for lamp in known_lamps(survey):
        if lamp.part.flashes is None:
            continue
        works, subject = lamp.part.dice[0].works, Subject("lamp", lamp.name)
        if works is None:
            yield NotJudged(
                lamp.name,
                "whether the chip in it flashes, and withstands its volts",
                'the volts it works on, such as works = "3.5..14 V" of its [lamp_kind]',
            )
            continue
        source = "the volts on which its chip works, by its data sheet or the file"
        most = lamp.die_volts * rises(survey, lamp)
        steps: dict[tuple[Severity, str], Within] = {
            ("stop", "too many"): Within(subject, most, Limited(works[1], "V", source)),
            ("caution", "too few"): Within(
                subject, lamp.die_volts, Limited(works[0], "V", source), least=True
            ),
        }
        yield from steps.values()
        if (broken := first_broken(steps)) is None:
            continue
        severity, case = broken
        yield Fact(
            severity, subject, lamp.part.path, case,
            figures={"gets": Figure(most if case == "too many" else lamp.die_volts, "V")},
            limit=steps[broken].limit, because_of=f"lamp.over-rating:{lamp.name}" if case == "too many" else None,
        )  # fmt: skip


def _restarts(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    """Whether the circuit of a lamp that flashes by itself leaves its chip the time to: it begins anew whenever that comes on."""
    whole = survey.limits["flash.whole"]
    for part in survey.parts.lamps:
        circuit = survey.build.circuit[part.circuit]
        if part.flashes is None or circuit.behaviour == "steady" or circuit.on_share == 1.0:
            continue
        subject, on = Subject("lamp", part.name), on_time(survey.build, part.circuit)
        parts = {"circuit": Subject("circuit", part.circuit)}
        if circuit.behaviour == "flash" and on is None:
            yield open_question(
                part.circuit,
                "whether {lamp} gets to flash by itself while it is on",
                'its rate, such as rate = "6 /min"',
                parts={"lamp": subject},
            )
            continue
        limit = Limited(whole.value / part.flashes, "s", whole.source, whole.name)
        figures: dict[str, Figure] = {}
        if on is not None:
            yield (within := Within(subject, on, limit, least=True))
            if within.kept:
                continue
            figures = {"on": Figure(on, "s"), "period": Figure(1.0 / part.flashes, "s")}
        yield Fact(
            "caution", subject, part.path, circuit.behaviour,
            figures=figures, parts=parts, limit=limit if figures else None,
        )  # fmt: skip


_ANEW = "Its chip begins anew each time it gets its volts."
_DIMMED = f"{_ANEW} In short pulses it never gets to flash, and with fewer volts it stops."
_STEADY = "Put it on a circuit that stays on, or use a plain LED."

CHECKS: tuple[Check, ...] = (
    Check(
        "lamp.chip", "stop", "lamp", "a lamp that flashes by itself on other volts than its chip works on",
        "Its chip flashes it between two voltages only.", "volts across one lamp of the string, at most with the supply at its highest", (), "the lamp's data sheet", _chip,
        wording={
            "too many": Wording(
                "Each chip of {subject} gets up to {gets:apart}. It withstands {limit:apart}.", "Above that the chip inside is destroyed, and the lamp with it.",
            ),
            "too few": Wording(
                "Each chip of {subject} gets {gets:apart}. It flashes from {limit:apart} on.", "Below that it may shine steadily, or stay dark.",
            ),
        },
    ),
    Check(
        "lamp.chip-restarts", "caution", "lamp", "a lamp that flashes by itself on a circuit that is dimmed, fades or flashes",
        "Its chip flashes only while its circuit stays on.", "the time for which its circuit is on at a stretch, against that of whole flashes of its own",
        ("flash.whole",), "a chip that flashes an LED is an oscillator without memory: it begins anew at each switching on (from memory of makers' sheets)",
        _restarts,
        wording={
            "flash": Wording(
                "{subject} flashes by itself, once in {period}. {circuit} is on for {on:apart} at a stretch. From {limit:apart} on its own flashes are seen.",
                f"{_ANEW} Cut off so soon, it shows the flashes of its circuit alone.",
                _STEADY,
            ),
            "dim": Wording("{subject} flashes by itself[, once in {period}]. {circuit} is dimmed[ by pulses of {on}].", _DIMMED, _STEADY),
            "fade": Wording("{subject} flashes by itself. {circuit} fades up and down.", _DIMMED, _STEADY),
        },
    ),
)  # fmt: skip
