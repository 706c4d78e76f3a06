"""Circuits: what is joined with the wrong ones, what is lost on the way, and what a broken return does."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from postcheck.checks.fact import Fact, Within, first_broken, limited, of_rating
from postcheck.checks.known import bare_on, filament, known_lamps
from postcheck.checks.misconnections import (
    HARMS,
    MISCONNECTION_LIMITS,
    UNSOLVED,
    UNTRIED,
    compared,
    harm,
    harmed,
    hurt,
    worst,
)
from postcheck.checks.record import Check
from postcheck.checks.unbuilt import circuit_to_type, idle_runs
from postcheck.checks.wording import Wording
from postcheck.description.naming import passages_of
from postcheck.limits import above, below
from postcheck.report import Figure, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.dice import is_destroyed
from postcheck.survey.network.electrics import PUSHED
from postcheck.survey.network.figures import LampFigures
from postcheck.wiring.parts import LampPart

# Of what is lost on the way the share that makes a lead what most of it is lost in.
MOSTLY = 0.5

# -- joined with the wrong ones


def _steady_on_flasher(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    found: set[str] = set()
    for part in survey.parts.every:
        if (
            isinstance(part, LampPart)
            and part.behaviour == "steady"
            and survey.build.circuit[part.circuit].behaviour in _GOES
            and part.entry not in found
        ):
            found.add(part.entry)
            yield Fact(
                "stop",
                Subject("lamp", part.entry),
                (*part.path[:2], "behaviour"),
                "lamp",
                parts={"circuit": Subject("circuit", part.circuit)},
                words={"goes": _GOES[survey.build.circuit[part.circuit].behaviour]},
            )
    for part in survey.parts.lamps:
        if part.behaviour == "steady" and part.flashes is not None and part.entry not in found:
            yield Fact("stop", Subject("lamp", part.entry), (*part.path[:2], "behaviour"), "by itself")
    for index, join in enumerate(survey.build.join):
        subject, path = Subject("join", join.place), ("join", index, "lines")
        circuits = [line for line in join.lines if line in survey.build.circuit]
        if (unlike := _unlike(survey, circuits)) is not None:
            yield Fact(
                "stop",
                subject,
                path,
                f"joined, {survey.build.circuit[unlike[0]].behaviour}",
                parts={"flashing": Subject("circuit", unlike[0]), "steady": Subject("circuit", unlike[1])},
            )
            continue
        for name in circuits:
            pole = f"{survey.wiring.drivers[name].supply}{'+' if survey.build.circuit[name].switched == 'positive' else '-'}"
            if pole in join.lines and _is_switched(survey, name):
                both = {"circuit": Subject("circuit", name), "pole": Subject("line", pole)}
                yield Fact("stop", subject, path, "on a pole", parts=both)
                break


# What light that comes and goes by itself does.
_GOES = {"flash": "flashes", "fade": "fades"}

# Of joined lines the one that an output switches, and what the other is not: a dimmer chops its line, too.
_JOINED = {
    "flash": ("flashing", "to flash"),
    "fade": ("fading", "to fade"),
    "dim": ("dimmed", "to be dimmed"),
}


def _unlike(survey: Survey, circuits: Sequence[str]) -> tuple[str, str] | None:
    """Of circuits that are joined one that flashes, fades or is dimmed, and one that is not to."""
    for behaviour in _JOINED:
        does = [name for name in circuits if survey.build.circuit[name].behaviour == behaviour]
        other = [name for name in circuits if survey.build.circuit[name].behaviour != behaviour]
        if does and other:
            return does[0], other[0]
    return None


def _is_switched(survey: Survey, name: str) -> bool:
    circuit = survey.build.circuit[name]
    return circuit.behaviour != "steady" or circuit.output is not None or circuit.board is not None


def _joined_outputs(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for index, join in enumerate(survey.build.join):
        driven = [line for line in join.lines if line in survey.build.circuit and _drives(survey, line)]
        if len(driven) < 2 or _unlike(survey, driven) is not None:
            continue
        yield Fact(
            "stop",
            Subject("join", join.place),
            ("join", index, "lines"),
            parts={"circuits": tuple(Subject("circuit", name) for name in driven)},
        )


def _drives(survey: Survey, name: str) -> bool:
    circuit = survey.build.circuit[name]
    return circuit.output is not None or circuit.board is not None


_OUTPUT = 'output = "100 mA, 0.2 V drop"'


def _unswitched(survey: Survey) -> Iterator[NotJudged]:
    for name, circuit in survey.build.circuit.items():
        if circuit.behaviour != "steady" and not _drives(survey, name):
            has_table = survey.build.implied.get(name) in (None, "supply")
            yield NotJudged(
                name,
                {"flash": "what makes it flash", "fade": "what makes it fade"}.get(
                    circuit.behaviour, "what dims it"
                ),
                f"its output, such as {_OUTPUT}, or its board and channel",
                vital=True,
                lines=(*([] if has_table else circuit_to_type(survey.build, name)), _OUTPUT),
                under=("circuit", name) if has_table else (),
            )


# -- with nothing on it


def _empty(survey: Survey) -> Iterator[Fact]:
    """Circuits with nothing on them, with their runs, and boards that drive none; not in half a build."""
    build, wiring, parts = survey.build, survey.wiring, survey.parts
    if wiring.unbuilt or parts.apart or build.implied or not parts.every:
        return
    used = {part.circuit for part in parts.every} | {run.line for run in idle_runs(wiring)}
    # joined to another line, it may feed what is on that one
    used |= {run.part.line for run in survey.electrics.runs.values() if above(run.highest, PUSHED)}
    # what was left out is closed out for good
    weight: Severity = "caution" if survey.stage == "closing" else "note"
    for name in build.circuit:
        runs = [run for run in parts.runs if run.line in (name, f"{name}-return")]
        if name not in used and not (runs and all(run.spare for run in runs)):
            solved = not survey.electrics.failed
            laid = tuple(Subject("run", run.name) for run in runs if solved and not run.spare)
            yield Fact(
                weight, Subject("circuit", name), ("circuit", name), "laid" if laid else "",
                parts={"runs": laid} if laid else {},
            )  # fmt: skip
    # what makes the data of pixels feeds nothing: it sits beside them, or where a run with data ends
    data = {end for run in build.run if run.carries == "data" for end in run.ends}
    data |= {place for part in parts.loads if part.pixels for place in part.warms}
    for name, board in build.board.items():
        if board.place not in data and not any(circuit.board == name for circuit in build.circuit.values()):
            yield Fact("note", Subject("board", name), ("board", name), "board")


# -- lost on the way


def _drop(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    most, light = survey.limits["drop.lamp-share"], limited(survey.limits["drop.light"])
    worst_of: dict[str, list[tuple[float, LampFigures, float, str, Within]]] = {}
    for lamp in known_lamps(survey):
        circuit = lamp.part.circuit
        supply = survey.electrics.supplies.get(survey.wiring.drivers[circuit].supply or "")
        if supply is None or supply.volts <= 0.0 or survey.wiring.drivers[circuit].steady is not None:
            continue
        if is_destroyed(lamp, survey.limits):  # what it draws while it burns out is no drop
            continue
        if lamp.part.wanted_range is not None:
            least, greatest = lamp.part.wanted_range
            if not below(
                lamp.nominal, least * (1.0 - survey.limits.value("lamp.wanted") * (least == greatest))
            ):
                continue
        subject = Subject("circuit", circuit)
        steps = {
            "volts": Within(subject, lamp.loss, of_rating(most, supply.volts, "V")),
            "light": Within(subject, lamp.light_lost, light),
        }
        if filament(lamp):  # its light falls much faster than its volts, so only the light counts
            del steps["volts"]
        yield from steps.values()
        if (case := first_broken(steps)) is not None:
            worst_of.setdefault(circuit, []).append((lamp.light_lost, lamp, supply.volts, case, steps[case]))
    for circuit, lamps in worst_of.items():
        lost, lamp, of, case, within = max(lamps, key=lambda row: row[0])
        yield Fact(
            "caution",
            within.subject,
            ("circuit", circuit),
            case,
            "own lead" if _in_own_lead(lamp) else "shared",
            figures={
                "lost": Figure(lamp.loss, "V"),
                "supply": Figure(of, "V"),
                "share": Figure(lamp.loss / of, "share"),
                "dimmer": Figure(lost, "share"),
                "current": Figure(lamp.nominal, "A"),
                **({"others": Figure(len(lamps) - 1, "")} if len(lamps) > 1 else {}),
            },
            parts={"lamp": Subject("lamp", lamp.name)},
            limit=within.limit,
            because_of=bare_on(survey, set(survey.build.circuit)),
        )


def _in_own_lead(lamp: LampFigures) -> bool:
    """Whether most of what is lost on the way to a string is lost where nothing but its own current flows."""
    shared = lamp.part.parallel > 1 and lamp.part.share != "nothing"
    return not shared and above(lamp.lead_drop, MOSTLY * lamp.loss)


# -- a return that breaks


def _broken_pole(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    found, passages = set(), passages_of(survey.build)
    moving = {name for name, passage in passages.items() if passage.turn or passage.fold}
    for kind, missing in (("unsolved", UNSOLVED), ("untried", UNTRIED)):
        for name in dict.fromkeys(fault.plug for fault in survey.electrics.pole_faults if fault.kind == kind):
            yield NotJudged(name, "what happens if it breaks", missing)
    for fault in sorted(survey.electrics.pole_faults, key=lambda fault: -worst(survey, fault)):
        yield from compared(survey, fault).values()
        if fault.plug in found or not hurt(survey, fault):
            continue
        found.add(fault.plug)
        case, figures, limit = harm(survey, fault)
        run = next(part for part in survey.parts.runs if part.name == fault.plug)
        yield Fact(
            # the wire that is bent most breaks
            "caution" if moving.intersection(run.through) and run.conductors == 1 else "note",
            Subject("run", fault.plug),
            run.path,
            case,
            figures={"reverse": Figure(fault.reverse, "V"), **figures},
            parts={"harmed": harmed(fault)},
            limit=limit,
        )


_DROP = "{lost:apart} of {supply:apart} ({share:apart}) is lost on the way to {lamp}. It gets {current}, and gives {dimmer:apart} less light than with nothing lost."
_MISSING = {
    "shared": "What is lost in the wires is missing at the lamps, and it changes with every other lamp that is on.",
    "own lead": "Most of that is lost in its own lead, and is missing at its LEDs.",
}
_SWITCHED_ALONG = (
    "What is joined on the switched side is switched together: either both flash (or fade) or neither does."
)
_DIMMED_ALONG = "What is joined on the switched side is switched together: either both get the dimmer's pulses or neither does."
_PUSHED = "Supplies that share one return push current through each other's lamps when it comes apart."
_OWN_RETURN = "Give each supply a return of its own, or lay a second run of this one ([[run]])."

_LEFT_BEHIND = "A misspelt name, or a lamp that was moved elsewhere, leaves this behind."

CHECKS: tuple[Check, ...] = (
    Check(
        "line.broken-pole", "caution", "run", "a shared return whose break sends another supply's volts backwards through lamps",
        "A joint that fails should leave lamps dark, not destroyed.", "volts and currents of every part with the run left out of the network",
        MISCONNECTION_LIMITS, "the network solved without the run; data sheets' reverse test voltage", _broken_pole,
        wording={case: Wording("If {subject} breaks, " + says, _PUSHED, _OWN_RETURN) for case, says in HARMS.items()},
    ),
    Check(
        "circuit.steady-on-flasher", "stop", "lamp", "a steady light or line joined to a line that flashes, fades or is dimmed",
        "What is joined on the switched side is switched together.", "lines joined, and what each does", (),
        "Kirchhoff's laws", _steady_on_flasher,
        wording={
            "lamp": Wording(
                "{subject} is to shine steadily. It is connected to {circuit}, which {goes}.", _SWITCHED_ALONG,
                "Give it a line of its own from the supply. Only the return may be shared.",
            ),
            "by itself": Wording(
                "{subject} is to shine steadily. Its kind flashes by itself.", "A chip in it switches it, whatever feeds it.", "Use a plain LED."
            ),
            **{
                f"joined, {behaviour}": Wording(
                    f"At {{subject}} the {line} line {{flashing}} is joined to {{steady}}, which is not {other}.",
                    _DIMMED_ALONG if behaviour == "dim" else _SWITCHED_ALONG,
                    "Keep the two lines apart all the way to the base. Only their returns may be joined.",
                )
                for behaviour, (line, other) in _JOINED.items()
            },
            "on a pole": Wording(
                "At {subject} the switched line {circuit} is joined to the pole {pole}: it is always on.", _SWITCHED_ALONG,
                "Take one of the two lines out of this joint.",
            ),
        },
    ),
    Check(
        "circuit.unswitched", "note", "circuit", "a flashing, fading or dimmed circuit that nothing switches", "It would shine steadily.",
        "an output or a board is given", (), "what the file says", _unswitched, asks=True,
    ),
    Check(
        "circuit.empty", "caution", "circuit", "a circuit or a board with nothing on it", "A misspelt name leaves this behind.",
        "what names it; a board beside pixels, or where a run with `carries` data ends, may make their data", (), "what the file says", _empty,
        wording={
            "": Wording("Nothing is on {subject}.", _LEFT_BEHIND, "Put on it what belongs there, or take it out of the file."),
            "laid": Wording(
                "Nothing is on {subject}, and nothing flows in {runs:4}.", _LEFT_BEHIND,
                "Put on it what belongs there, take it out, or write spare = true of its runs.",
            ),
            "board": Wording("No circuit is on the board {subject}.", _LEFT_BEHIND, "Name it as the board of a circuit, or take it out of the file."),
        },
    ),
    Check(
        "circuit.joined-outputs", "stop", "join", "two outputs joined", "Each feeds the other's lamps, and no limit protects.",
        "lines of one joint with an output of their own", (), "Kirchhoff's laws", _joined_outputs,
        wording={
            "": Wording(
                "At {subject} the outputs of {circuits} are joined together.",
                "Each output then feeds the other's lamps, one may push current back into the other, and neither limit protects anything.",
                "Keep the lines apart, or drive all their lamps from one output that is rated for them.",
            )
        },
    ),
    Check(
        "line.drop", "caution", "circuit", "too much lost on the way to a lamp", "What is lost in the wires is missing at the lamps.",
        "volts lost in the wires between supply or output and LEDs, leads too; 1 - I / I with none lost, of a filament to the power of 3.4 / 0.55",
        ("drop.lamp-share", "drop.light", "lamp.wanted", "lamp.destroyed", "lamp.filament.destroyed"),
        "Ohm's law; the limit of volts by ABYC E-11, 11.14.2.6", _drop,
        wording={
            case: Wording(f"{_DROP}[ {{others:other lamp of this circuit loses|other lamps of this circuit lose}} too much, too.]", _MISSING)
            for case in ("volts", "light")
        },
    ),
)  # fmt: skip
