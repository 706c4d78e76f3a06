"""Outputs and boards whose motors ask for more while they start, or are held fast."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within, first_broken, of_rating
from postcheck.checks.record import DANGER, Check
from postcheck.checks.wording import Wording, open_question
from postcheck.limits import above
from postcheck.report import Figure, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import Surge


def _starts(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    build, electrics = survey.build, survey.electrics
    for name, figures in electrics.circuits.items():
        said, driver = build.circuit[name], survey.wiring.drivers[name]
        destroyed = ("circuit", name) in survey.beyond.fates
        if figures.surge is None or driver.steady is not None or driver.limit is None or destroyed:
            continue
        own = said.output is not None and said.output.limit is not None
        fact = Fact(
            "stop", Subject("circuit", name), ("circuit", name, "output" if own else "board"),
            because_of=f"{'output' if own else 'board'}.overload:{name}", firm=DANGER,
        )  # fmt: skip
        yield from _judged(survey, fact, figures.surge, driver.limit)
    for name, surge in electrics.board_surges.items():
        total = build.board[name].total
        if total is not None and ("board", name) not in survey.beyond.fates:
            # what all outputs take together they may never take at once
            ahead = f"output.starts:{survey.parts.named[surge.load].circuit}"
            if above(electrics.boards[name][0], total):
                ahead = f"board.overload:{name}"
            fact = Fact("stop", Subject("board", name), ("board", name, "total"), because_of=ahead)
            yield from _judged(survey, fact, surge, total)


def _judged(survey: Survey, fact: Fact, surge: Surge, most: float) -> Iterator[Fact | Within | NotJudged]:
    rated = of_rating(survey.limits["output.load"], most, "A")
    moment = of_rating(survey.limits["output.start"], most, "A")
    held, stalls = max(
        ((amps, name) for name, amps in surge.held.items() if name in survey.held_for_good), default=(0.0, "")
    )
    steps: dict[tuple[Severity, str], Within] = {
        ("stop", "held"): Within(fact.subject, held, rated),
        ("stop", "starts"): Within(fact.subject, surge.motors, moment),
        ("caution", "starts"): Within(fact.subject, surge.starting, rated),
    }
    yield from steps.values()
    broken = first_broken(steps)
    which = "all" if fact.subject.kind == "board" else ""
    if broken is None:
        if surge.asks and above(surge.unknown, rated.value):
            yield open_question(
                surge.asks[0],
                f"whether {_WHOSE[which]} gives what it takes while it starts: {{starting}} on a rating of {{rated}}, if that is five times",
                'its starting current, such as starting = "200 mA"',
                vital=above(surge.unknown, moment.value),
                figures={"starting": Figure(surge.unknown, "A"), "rated": Figure(most, "A")},
                parts={"driver": fact.subject},
            )  # fmt: skip
        return
    severity, case = broken
    load = Subject("load", stalls if case == "held" else surge.load)
    motor = any(part.motor for part in survey.parts.loads if part.name == load.name)
    yield fact._replace(
        severity=severity,
        case=f"{case}, {which}" if which else case,
        reason="motor" if motor else "other",
        figures={"current": Figure(held if case == "held" else surge.starting, "A"), "rated": Figure(most, "A")},
        parts={"load": load},
        limit=steps[broken].limit,
        firm=fact.firm if severity == "stop" else "",
    )  # fmt: skip


_WHOSE = {"": "the output of {driver}", "all": "{driver}"}
_OFF = "It switches off, and what starts never runs, or gets hot and fails, usually in the state that is worst: always on, or dark."
_FAILS = {
    "motor": f"A motor takes up to half a second to run up, far longer than the milliseconds for which an output stands more than its rating. {_OFF}",
    "other": f"Nobody says how long that lasts, and an output stands more than its rating for milliseconds. {_OFF}",
}
_STANDS = (
    "An output that gives more than its rating for good gets hot and fails, usually in the state that is worst: always on, or dark. "
    "Where a clutch or cut-out sees to it that the motor is never held fast, write never_stalls = true."
)
_RELAY = "Use an output rated for it, or a relay or transistor behind it that is."
_ONE, _ALL = (
    "the output of {subject} gives {current:apart}. It is rated for {rated:apart}.",
    "all outputs of {subject} together give {current:apart}. They are rated for {rated:apart}.",
)

CHECKS: tuple[Check, ...] = (
    Check(
        "output.starts", "stop", "circuit", "an output or board with less than a motor on it takes as it starts, or while it is held fast",
        "An overloaded driver fails.",
        "current with the starting currents of its loads / limit: beyond it a caution, beyond output.start a stop where motors ask for it; with a motor held fast for good a stop",
        ("output.load", "output.start", "motor.fuse"), "the output's rating, and the starting currents of the file", _starts,
        held="a stop of one output",
        wording={
            "starts": Wording("While {load} starts, " + _ONE, _FAILS, _RELAY),
            "held": Wording("While {load} is held fast, " + _ONE, _STANDS, _RELAY),
            "starts, all": Wording("While {load} starts, " + _ALL, _FAILS, _RELAY),
            "held, all": Wording("While {load} is held fast, " + _ALL, _STANDS, _RELAY),
        },
    ),
)  # fmt: skip
