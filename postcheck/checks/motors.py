"""The hot case of a motor, running and held fast, against what it touches."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from postcheck.checks.fact import Fact, Within, first_broken, limited
from postcheck.checks.record import DANGER, Check
from postcheck.checks.shown import rounded_up, shown
from postcheck.checks.wording import Wording, open_question
from postcheck.limits import above
from postcheck.report import Figure, Limited, NotJudged, Subject
from postcheck.survey import Survey

if TYPE_CHECKING:
    from postcheck.survey.heat.motors import MotorHeat, Warm


def _hot(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for motor in survey.motors:
        steps: dict[str, tuple[Warm, Within]] = {}
        held = motor.held if motor.said else None
        if motor.measured and held is not None:
            steps["burns out"] = held, _within(motor, held.celsius, limited(survey.limits["motor.held"]))
        if motor.measured and motor.running is not None:
            steps["running"] = motor.running, _touches(survey, motor, motor.running)
        if motor.measured and motor.touches and held is not None:
            steps["held"] = held, _touches(survey, motor, held)
        if not motor.touches and motor.walls is not None and held is not None:
            steps["air"] = held, _within(motor, held.air, Limited(motor.walls[0], "degC", motor.walls[1]))
        yield from (within for _, within in steps.values())
        case = first_broken({case: within for case, (_, within) in steps.items()})
        if case is not None:
            yield _hot_case(motor, *steps[case], case)
        if not (motor.measured and motor.said):
            yield from _asked(survey, motor)


def _within(motor: MotorHeat, celsius: float, limit: Limited) -> Within:
    return Within(Subject("load", motor.name), celsius, limit)


def _touches(survey: Survey, motor: MotorHeat, warm: Warm) -> Within:
    spot = survey.limits["heat.spot"]
    return _within(motor, warm.celsius, Limited(warm.withstands, "degC", spot.source, spot.name))


def _hot_case(motor: MotorHeat, warm: Warm, within: Within, case: str) -> Fact:
    burns = case == "burns out"
    return Fact(
        "stop" if burns else "caution", within.subject, motor.path, case,
        figures={
            "watts": Figure(warm.watts, "W"), "hottest": Figure(within.value, "degC"),
            **({} if case == "running" else {"current": Figure(warm.current, "A")}),
            **({"enough": Figure(rounded_up(warm.least), "m2")} if case == "running" and warm.least else {}),
        },
        parts={"place": Subject("place", motor.place)},
        words={"material": motor.material or "unknown plastic"},
        limit=within.limit,
        because_of=f"place.too-hot:{motor.place}" if case == "running" else None,
        firm=DANGER if burns else "",
    )  # fmt: skip


def _asked(survey: Survey, motor: MotorHeat) -> Iterator[NotJudged]:
    """One question for all that is unknown of a motor that could be too hot for what it touches or for itself."""
    burns = survey.limits.value("motor.held")
    held = motor.held
    if held is not None:
        cool = not above(held.celsius, min(burns, held.withstands) if motor.touches else burns)
        if cool and (
            motor.said or motor.touches or motor.walls is None or not above(held.air, motor.walls[0])
        ):
            held = None
    running = motor.running
    if running is not None and (motor.measured or not above(running.celsius, running.withstands)):
        running = None
    if (asked := held or running) is None:
        return
    least = (
        max((one.least for one in (held, running) if one is not None and one.least is not None), default=None)
        if motor.touches
        else None
    )
    figures = {"hottest": Figure(asked.celsius, "degC"), "case": Figure(motor.case, "m2")}
    figures |= {} if least is None else {"least": Figure(rounded_up(least), "m2")}
    enough = f"; {shown(figures['least'])} is enough for the wall" if least is not None else ""
    missing = [] if motor.measured else [f"its surface, such as {_CASE}[ ({{least}} is enough for the wall)]"]
    missing += [_SAYS_TAKES] if held is not None and not motor.said else []
    lines = [] if motor.measured else [f'case = "{shown(figures["case"])}"  # as you measure it{enough}']
    if held is not None and not motor.said:
        lines.append(f'starting = "{shown(Figure(held.current, "A"))}"  # held fast, by its sheet')
    lines += ["# never_stalls = true"] if held is not None else []
    lines += ["# held_off = true"] if running is not None else []
    besides = ["; or never_stalls = true (a clutch or cut-out)"] if held is not None else []
    besides += ["; or held_off = true (it touches no wall)"] if running is not None else []
    yield open_question(
        motor.name, _HELD_FAST if held is not None else _WHILE_RUNNING,
        " and ".join(missing) + "".join(besides),
        # in the open, with nothing known to be near it, it is only a note
        vital=held is not None and above(held.celsius, burns) and (motor.walls is not None or motor.material is not None),
        figures=figures | ({"current": Figure(held.current, "A")} if held is not None else {"watts": Figure(asked.watts, "W")}),
        parts={"place": Subject("place", motor.place)}, lines=lines, under=motor.path,
    )  # fmt: skip


_CASE = 'case = "{case}"'
_HELD_FAST = "how hot its case gets in {place}, shaft held fast: {hottest} at {current} with {case} outside"
_WHILE_RUNNING = "how hot its case gets in {place} from {watts}: {hottest} with {case} outside"
_SAYS_TAKES = 'what it then takes, such as starting = "{current}"'


_CLUTCH = "Use one whose clutch slips, or that a cut-out of its own stops, and write never_stalls = true."
_HELD = "{subject} takes {current} while its shaft is held fast, and turns {watts} into heat. Its case in {place} gets to {hottest:apart}."

CHECKS: tuple[Check, ...] = (
    Check(
        "motor.hot", "stop", "load", "a motor too hot for what it touches",
        "Held fast, a motor turns all that it takes into heat, some five times what it takes running.",
        "warmest air + volts x current / (loss per area x its outside surface), running and held fast, less where a limit or fuse sees to it",
        ("heat.case", "heat.spot", "motor.held", "motor.fuse", "heat.unknown-material", "heat.per-area"),
        "Newton's law of cooling; Churchill and Chu 1975; IEC 60335-1, 19.7", _hot,
        held="what burns a motor out",
        wording={
            "running": Wording(
                "{subject} turns {watts} into heat. Its case in {place} gets to {hottest:apart}. A spot of {material} withstands {limit:apart}.",
                "What it touches sags.", "Hold it in metal, clear of the walls, and write held_off = true.[ A case of {enough} outside would be cool enough to touch them.]",
            ),
            "held": Wording(_HELD + " A spot of {material} withstands {limit:apart}.", "What it touches sags before anybody notices that it stands still.", _CLUTCH),
            "air": Wording(
                "{subject} takes {current} while its shaft is held fast, and turns {watts} into heat. The air in {place} gets to {hottest:apart}. A wall of {material} withstands {limit:apart}.",
                "The walls sag before anybody notices that it stands still.", _CLUTCH,
            ),
            "burns out": Wording(
                _HELD + " Its winding, hotter still, withstands {limit:apart} at most.",
                "A motor that stands still under power burns out, and can set fire to a closed model.", _CLUTCH,
            ),
        },
    ),
)  # fmt: skip
