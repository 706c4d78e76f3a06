"""The hot case of a motor, running and held fast, against what it touches."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within, first_broken, limited
from postcheck.checks.record import DANGER, Check
from postcheck.checks.wording import Wording, open_question
from postcheck.report import Figure, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.heat.motors import MotorHeat, Warm


def _hot(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for motor in survey.motors:
        steps: dict[str, tuple[Warm, Within]] = {}
        known = motor.measured and motor.said
        if known and motor.held is not None:
            burns = Within(
                Subject("load", motor.name), motor.held.celsius, limited(survey.limits["motor.held"])
            )
            steps["burns out"] = motor.held, burns
        if motor.measured and motor.running is not None:
            steps["running"] = motor.running, _touches(survey, motor, motor.running)
        if known and motor.held is not None:
            steps["held"] = motor.held, _touches(survey, motor, motor.held)
        yield from (within for _, within in steps.values())
        case = first_broken({case: within for case, (_, within) in steps.items()})
        if case is not None:
            yield _told(motor, *steps[case], case)
        if not known:
            yield from _asked(survey, motor)


def _touches(survey: Survey, motor: MotorHeat, warm: Warm) -> Within:
    spot = survey.limits["heat.spot"]
    return Within(
        Subject("load", motor.name), warm.celsius, Limited(warm.withstands, "degC", spot.source, spot.name)
    )


def _told(motor: MotorHeat, warm: Warm, within: Within, case: str) -> Fact:
    burns = case == "burns out"
    return Fact(
        "stop" if burns else "caution", within.subject, motor.path, case,
        figures={
            "watts": Figure(warm.watts, "W"), "hottest": Figure(warm.celsius, "degC"),
            **({} if case == "running" else {"current": Figure(warm.current, "A")}),
        },
        parts={"place": Subject("place", motor.place)},
        words={"material": motor.material or "unknown plastic"},
        limit=within.limit,
        because_of=f"place.too-hot:{motor.place}" if case == "running" else None,
        firm=DANGER if burns else "",
    )  # fmt: skip


_CASE, _TAKES = (
    'its outside surface, such as case = "13 cm2"',
    'what it takes then, such as starting = "90 mA"',
)


def _asked(survey: Survey, motor: MotorHeat) -> Iterator[NotJudged]:
    """What is not known of a motor that could be too hot for what it touches, were it small."""
    figures, parts = {}, {"place": Subject("place", motor.place)}
    if (held := motor.held) is not None and held.celsius > held.withstands:
        missing = " and ".join(([] if motor.measured else [_CASE]) + ([] if motor.said else [_TAKES]))
        figures = {"hottest": Figure(held.celsius, "degC"), "current": Figure(held.current, "A")}
        yield open_question(
            motor.name, "how hot its case gets in {place} while its shaft is held fast: {hottest} at {current} for one as small as they come",
            f"{missing}; or never_stalls = true, where a clutch slips or a cut-out of its own stops it",
            vital=held.celsius > survey.limits.value("motor.held"), figures=figures, parts=parts,
        )  # fmt: skip
    elif (
        (running := motor.running) is not None and not motor.measured and running.celsius > running.withstands
    ):
        figures = {"hottest": Figure(running.celsius, "degC"), "watts": Figure(running.watts, "W")}
        yield open_question(
            motor.name, "how hot its case gets in {place} from {watts}: {hottest} for one as small as they come",
            f"{_CASE}; or held_off = true, where it touches no wall",
            figures=figures, parts=parts,
        )  # fmt: skip


_CLUTCH = "Use one whose clutch slips, or that a cut-out of its own stops, and write never_stalls = true."
_HELD = "{subject} takes {current} while its shaft is held fast, and turns {watts} into heat. Its case in {place} gets to {hottest:apart}."

CHECKS: tuple[Check, ...] = (
    Check(
        "motor.hot", "stop", "load", "a motor too hot for what it touches",
        "Held fast, a motor turns all that it takes into heat, some five times what it takes running.",
        "warmest air + volts x current / (loss per area x its outside surface), running and held fast, less where a limit or fuse sees to it",
        ("heat.case", "heat.spot", "motor.held", "heat.unknown-material", "heat.per-area"),
        "Newton's law of cooling; Churchill and Chu 1975; IEC 60335-1, 19.7", _hot,
        held="what burns a motor out",
        wording={
            "running": Wording(
                "{subject} turns {watts} into heat. Its case in {place} gets to {hottest:apart}. A spot of {material} withstands {limit:apart}.",
                "What it touches sags.", "Hold it in metal, clear of the walls, and write held_off = true.",
            ),
            "held": Wording(_HELD + " A spot of {material} withstands {limit:apart}.", "What it touches sags before anybody notices that it stands still.", _CLUTCH),
            "burns out": Wording(
                _HELD + " Its winding, hotter still, withstands {limit:apart} at most.",
                "A motor that stands still under power burns out, and can set fire to a closed model.", _CLUTCH,
            ),
        },
    ),
)  # fmt: skip
