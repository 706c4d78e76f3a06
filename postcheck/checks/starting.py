"""The moment of switching on: motors that ask for more, filaments that are cold."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf

from postcheck.checks.fact import Fact, Within, first_broken, limited, of_rating
from postcheck.checks.flicker import FOR_EXAMPLE
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording, open_question
from postcheck.description.models import FuseSpec
from postcheck.limits import above, below
from postcheck.physics.fuse import cold_filaments, least_melting, may_open_in
from postcheck.report import Figure, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import LoadFigures, Sag
from postcheck.survey.network.supplies import gives_up, with_converters
from postcheck.wiring.parts import MOTOR_STARTS

_GIVEN = "what the load works at, as the file gives it"
_RUNS_FOR = "runs_for in the build file"
_WORKS_AT = "what it works at, as the file gives it"
# Volts within this share of a bound are at it.
AT = 1e-3
# How long a motor takes to run up: a fuse that may open sooner may open each time.
_RUN_UP = Limited(0.5, "s", "a small motor runs up within half a second; judgement")


def _no_start(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, load in survey.electrics.loads.items():
        lowest, start = load.part.lowest, load.start_volts
        if lowest is None or start is None or not load.part.starting:
            continue
        subject, needs = Subject(load.part.kind, name), Limited(lowest, "V", _GIVEN)
        steps: dict[tuple[Severity, str], Within] = {
            ("stop", ""): Within(subject, start, needs, least=True, slack=AT)
        }
        battery = survey.batteries.get(survey.wiring.drivers[load.part.circuit].supply or "")
        more: dict[str, Figure] = {}
        if battery is not None:
            usual = load.start_usual if load.start_usual is not None else start
            left, after = battery.starts.get(name, (0.0, None))
            steps = {
                ("stop", "half empty"): Within(
                    subject, usual - battery.usual_volts + battery.half_volts, needs, least=True, slack=AT
                ),
                ("note" if battery.wanted is None else "caution", "nearly empty"): Within(
                    subject, start, needs, least=True, slack=AT
                ),
            }
            if battery.wanted is not None and after is not None:
                lasts = Limited(battery.wanted, "s", _RUNS_FOR)
                steps["caution", "nearly empty"] = Within(subject, after, lasts, least=True)
                more = {"after": Figure(after, "s"), "wanted": Figure(battery.wanted, "s")}
            more |= {"left": Figure(left, "share")}
        yield from steps.values()
        if (broken := first_broken(steps)) is None:
            continue
        severity, case = broken
        yield Fact(
            severity,
            subject,
            (*load.part.path, "starting"),
            case,
            figures={
                "start": Figure(max(steps[broken].value if case == "half empty" else start, 0.0), "V"),
                "needs": Figure(lowest, "V"),
                "starting": Figure(load.part.starting, "A"),
                **more,
            },
            limit=steps[broken].limit,
            because_of=f"load.low-volts:{name}",
        )


def _resets(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    """Each load and board by the other load that leaves it least; one whose start is given before one whose is not."""
    by_part: dict[tuple[str, str], list[Sag]] = {}
    for sag in survey.electrics.sags:
        by_part.setdefault((sag.kind, sag.name), []).append(sag)
    for (kind, name), sags in by_part.items():
        subject, needs = Subject(kind, name), Limited(sags[0].needs, "V", _WORKS_AT)
        if below(sags[0].before, needs.value, AT):
            continue  # it is too low even when nothing starts
        for given in (True, False):
            of = [sag for sag in sags if sag.given == given]
            if not of:
                continue
            sag = min(of, key=lambda sag: sag.volts)
            path, steps = _sagging(survey, sag, needs)
            severity = first_broken(steps)
            other = survey.parts.named[sag.load]
            if severity is not None and not given:
                yield open_question(
                    sag.load,
                    "whether {part} gets its {needs} as it starts; {volts} are left if it takes {starting}, as motors do",
                    f'its starting current, such as starting = "{FOR_EXAMPLE}"',
                    figures={"needs": Figure(needs.value, "V"), "volts": Figure(max(sag.volts, 0.0), "V"), "starting": Figure(sag.starting, "A")},
                    parts={"part": subject},
                )  # fmt: skip
                continue
            yield from steps.values()
            if severity is None:
                continue
            yield Fact(
                severity[0],
                subject,
                path,
                severity[1],
                figures={
                    "volts": Figure(max(sag.volts, 0.0), "V"),
                    "lowest": Figure(max(steps[severity].value, 0.0), "V"),
                    "needs": Figure(needs.value, "V"),
                    "starting": Figure(sag.starting, "A"),
                },
                parts={"load": Subject(other.kind, sag.load)},
                limit=needs,
                because_of=f"load.no-start:{sag.load}",
            )
            break


def _sagging(
    survey: Survey, sag: Sag, needs: Limited
) -> tuple[tuple[str | int, ...], dict[tuple[Severity, str], Within]]:
    """Where a part's least voltage stands, and what it gets against that: usually, and with a low or half empty supply."""
    subject, other = Subject(sag.kind, sag.name), survey.parts.named[sag.load]
    if sag.kind == "board":
        supply, circuit = survey.build.board[sag.name].supply, None
        path: tuple[str | int, ...] = ("board", sag.name, "least_volts")
    else:
        part = survey.parts.named[sag.name]
        supply, circuit = survey.wiring.drivers[part.circuit].supply or "", part.circuit
        path = (*part.path, "lowest")
    # what is switched on with it starts again once it runs
    together = circuit == other.circuit
    steps: dict[tuple[Severity, str], Within] = {
        ("caution", "together") if together else ("stop", "always"): Within(
            subject, sag.volts, needs, least=True, slack=AT
        )
    }
    battery, dip = survey.batteries.get(supply), sag.before - sag.volts
    if battery is None and not below(sag.lowest_volts + dip, needs.value):
        steps["caution", "supply low"] = Within(subject, sag.lowest_volts, needs, least=True, slack=AT)
    elif battery is not None and not below(
        sag.before - (fallen := battery.usual_volts - battery.half_volts), needs.value
    ):
        steps["caution", "half empty"] = Within(subject, sag.volts - fallen, needs, least=True, slack=AT)
    return path, steps


def _starters(survey: Survey, supply: str) -> list[LoadFigures]:
    """The loads with a starting current that a supply feeds; the largest first."""
    found = [load for load in _fed(survey, supply) if load.part.starting]
    return sorted(found, key=_asks, reverse=True)


def _asks(load: LoadFigures) -> float:
    """The starting current of one that has one, A."""
    return load.part.starting or 0.0


def _fed(survey: Survey, supply: str) -> list[LoadFigures]:
    """The loads that a supply feeds, itself or through converters."""
    fed = with_converters(survey.build, supply)
    return [
        load
        for load in survey.electrics.loads.values()
        if survey.wiring.drivers[load.part.circuit].supply in fed
    ]


def _supply_start(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    starts = survey.limits["supply.start"]
    for name, figures in survey.electrics.supplies.items():
        said, starters = survey.build.supply[name], _starters(survey, name)
        if not starters or not above(figures.starting, figures.nominal, AT):
            continue
        if said.current_limit is not None:
            most = Limited(said.current_limit, "A", "current_limit in the build file")
        elif said.kind != "battery" and figures.rated:
            most = of_rating(starts, figures.rated, "A")
        else:
            continue
        yield (within := Within(Subject("supply", name), figures.starting, most, slack=AT))
        if not within.kept:
            yield Fact(
                "stop",
                within.subject,
                figures.path,
                "stated" if said.current_limit is not None else "at the latest",
                figures={
                    "starting": Figure(figures.starting, "A"),
                    "gives": Figure(most.value, "A"),
                    "asks": Figure(_asks(starters[0]), "A"),
                    **({"rated": Figure(figures.rated, "A")} if figures.rated else {}),
                },
                parts={"load": Subject(starters[0].part.kind, starters[0].part.name)},
                limit=most,
                because_of=f"supply.overload:{name}",
            )
        elif said.current_limit is None and figures.rated and above(figures.starting, figures.rated, AT):
            yield open_question(
                name,
                "whether it lets {load} start: {starting} for a moment on a rating of {rated}",
                'the current at which it gives up, such as current_limit = "1.3 A"',
                figures={"starting": Figure(figures.starting, "A"), "rated": Figure(figures.rated, "A")},
                parts={"load": Subject(starters[0].part.kind, starters[0].part.name)},
            )


def _motors(survey: Survey, supply: str) -> float:
    """What motors and others take more while they start than in use, A."""
    return sum(max(_asks(load) - load.part.typical, 0.0) for load in _starters(survey, supply))


def _fuse_start(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, figures in survey.electrics.supplies.items():
        fuse, starters = survey.build.supply[name].fuse, _starters(survey, name)
        if fuse is None:
            continue
        yield from _unknown_start(survey, name, figures.nominal, fuse)
        if not starters or not above(figures.starting, figures.nominal, AT):
            continue
        # cold filaments are warm long before a motor has run up
        flows = min(figures.starting, figures.nominal + _motors(survey, name))
        opens = may_open_in(fuse.rated, flows, fuse.kind, fuse.body, survey.limits.value("fuse.holds"))
        if opens == inf:
            continue
        yield (within := Within(Subject("supply", name), opens, _RUN_UP, least=True))
        if within.kept:
            continue
        yield Fact(
            "caution",
            within.subject,
            ("supply", name, "fuse"),
            figures={
                "starting": Figure(flows, "A"),
                "rated": Figure(fuse.rated, "A"),
                "opens": Figure(opens, "s"),
            },
            parts={"load": Subject(starters[0].part.kind, starters[0].part.name)},
            words={"fuse": fuse.kind},
            limit=_RUN_UP,
            because_of=f"supply.no-start:{name}",
        )


def _unknown_start(survey: Survey, supply: str, running: float, fuse: FuseSpec) -> Iterator[NotJudged]:
    """Motors of which nobody says what they take as they start, where a fuse may not hold what motors usually do."""
    for load in _fed(survey, supply):
        surge = load.part.surge(MOTOR_STARTS)
        if load.part.starting is not None or surge <= 0.0:
            continue
        opens = may_open_in(
            fuse.rated, running + surge, fuse.kind, fuse.body, survey.limits.value("fuse.holds")
        )
        if below(opens, _RUN_UP.value):
            yield open_question(
                load.part.name,
                "whether the {rated} fuse of {supply} holds while it starts: it may open within {opens} if that takes {starting}, as motors do",
                'its starting current, such as starting = "{starting}"',
                figures={
                    "rated": Figure(fuse.rated, "A"),
                    "opens": Figure(opens, "s"),
                    "starting": Figure(load.part.most + surge, "A"),
                },
                parts={"supply": Subject("supply", supply)},
            )


def _fuse_cold(survey: Survey) -> Iterator[Fact | Within]:
    """Cold bulbs: milliseconds, in which only the I2t counts."""
    limit = survey.limits["fuse.pulse"]
    for name, figures in survey.electrics.supplies.items():
        said = survey.build.supply[name]
        peak = min(figures.starting - _motors(survey, name), gives_up(said)[1])
        if said.fuse is None or not above(peak, figures.nominal, AT):
            continue
        fuse = said.fuse
        melts = least_melting(fuse.rated, fuse.kind, fuse.body)
        pulse = cold_filaments(figures.nominal, peak) / melts
        steps: dict[Severity, Within] = {
            "caution": Within(
                Subject("supply", name),
                pulse,
                Limited(1.0, "share", "IEC 60127-2: its least time at its last gate"),
            ),
            "note": Within(Subject("supply", name), pulse, limited(limit)),
        }
        yield from steps.values()
        if (severity := first_broken(steps)) is not None:
            yield Fact(
                severity, Subject("supply", name), ("supply", name, "fuse"), "opens" if severity == "caution" else "ages",
                figures={"peak": Figure(peak, "A"), "rated": Figure(fuse.rated, "A"), "pulse": Figure(pulse, "share")},
                words={"kind": fuse.kind}, limit=steps[severity].limit, because_of=f"fuse.too-small:{name}",
            )  # fmt: skip


_EACH_TIME = "Each time {load} starts,"
_RESETS = (
    "Below its least voltage a sound board or controller resets, and a motor stalls. {load} takes {starting} while it starts; "
    "what that costs in feed, return and the supply's own resistance is missing here."
)
_STARTS = "{load} takes {asks} while it starts. With what else is on, {subject} has to give {starting:apart}."
_STALLED = "A supply beyond its limit lets its voltage fall or switches off, and the motor never gets to run."

_STARTS_ON_LESS = "Use one that starts on fewer volts, a source of more volts or larger cells, or shorter and thicker wire to it."
_FED_APART = "Give {load} a supply of its own, or a stronger one to both, or use one that works from fewer volts for {subject}."
_HUMS = "A load that asks for more while it starts than its wires can carry never gets to run: it hums, or resets over and over."

CHECKS: tuple[Check, ...] = (
    Check(
        "load.no-start", "stop", "load", "a load that does not start", "It never gets to run.",
        "volts at its terminals with its starting current and a low supply (an empty battery), all else on, against its least: below it a stop; on a battery with half of its charge gone, and when nearly empty a caution before it has lasted as long as it is to, a note where nobody says how long that is", (), "the load's data", _no_start,
        wording={
            "half empty": Wording(
                "Once half of the battery's charge is gone {subject} gets {start:apart} while it starts. It needs {needs:apart}.", _HUMS, _STARTS_ON_LESS
            ),
            "nearly empty": Wording(
                "Once {left} of its charge is left the battery no longer starts {subject}, which takes {starting} and needs {needs:apart}: empty it leaves it {start:apart}."
                "[ That is after {after:h}.][ It is to last {wanted:h}.]",
                _HUMS, _STARTS_ON_LESS,
            ),
            "": Wording(
                "{subject} gets {start:apart} while it starts. It needs {needs:apart}.",
                _HUMS, _STARTS_ON_LESS,
            )
        },
    ),
    Check(
        "load.resets", "stop", "load", "a load or board that another one pulls below its least voltage as it starts", "It resets or stalls each time.",
        "volts at its terminals, or between the poles at a board, while the other one takes its starting current and all else runs: a stop, but a caution where "
        "both come on together; a caution with a low supply, or with half of a battery's charge gone",
        (), "Kirchhoff's laws with the starting current in place of the usual one; the data of the load or board", _resets,
        wording={
            "always": Wording(f"{_EACH_TIME} {{subject}} gets {{volts:apart}}. It needs {{needs:apart}}.", _RESETS, _FED_APART),
            "together": Wording(
                "{subject} comes on together with {load}, and gets {volts:apart} while that starts. It needs {needs:apart}.", _RESETS, _FED_APART,
            ),
            "supply low": Wording(
                f"{_EACH_TIME} {{subject}} gets {{volts:apart}} ({{lowest:apart}} with a low supply). It needs {{needs:apart}}.", _RESETS, _FED_APART
            ),
            "half empty": Wording(
                f"{_EACH_TIME} {{subject}} gets {{volts:apart}} ({{lowest:apart}} once half of the battery's charge is gone). It needs {{needs:apart}}.", _RESETS, _FED_APART
            ),
        },
    ),
    Check(
        "supply.no-start", "stop", "supply", "a supply that cannot start a motor", "It gives up before the motor runs.",
        "load with starting currents and cold filaments against current_limit, or the most that small supplies give",
        ("supply.start",), "the supply's data; makers' sheets of small adaptors (from memory)", _supply_start,
        wording={
            "stated": Wording(f"{_STARTS} It gives up at {{gives:apart}}.", _STALLED),
            "at the latest": Wording(f"{_STARTS} It is rated for {{rated}} and gives up at {{gives:apart}} at the latest.", _STALLED),
        },
    ),
    Check(
        "fuse.opens-at-start", "caution", "supply", "a fuse that opens while a motor starts", "It opens with nothing wrong.",
        "least time in which such a fuse may open at the starting load", ("fuse.holds",), "IEC 60127-2 time-current gates", _fuse_start,
        wording={
            "": Wording(
                "While {load} starts, {starting} flows. The {fuse} fuse of {rated} may open within {opens} of that.",
                "The fuse opens each time the motor runs up, with nothing wrong.",
            )
        },
    ),
    Check(
        "fuse.cold-filaments", "caution", "supply", "a fuse that cold bulbs open or age",
        "A cold filament takes ten times its current for some milliseconds.",
        "I2t from the cold peak down to the settled current against the least that melts such a fuse", ("fuse.pulse",),
        "a driver maker's note (twice the current after 3 to 5 ms); IEC 60127-2, least times; a fuse maker's guide to pulses", _fuse_cold,
        wording={
            case: Wording(
                "Switched on cold, the bulbs of {subject} take {peak}: up to {pulse:apart} of what may melt a {kind} fuse of {rated}." + more, why,
            )
            for case, more, why in (
                ("opens", "", "It may open each time, with nothing wrong."),
                ("ages", " {limit:apart} is the most for ten thousand times.", "Each time wears the link a little, and one day it opens with nothing wrong."),
            )
        },
    ),
)  # fmt: skip
