"""Motors, sound boards, pixels and the rest: do they get the volts they work at, for as long as they need them, and their data."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from postcheck.checks.fact import Fact, Within, first_broken, of_rating
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording, open_question
from postcheck.description.models import Build
from postcheck.report import Figure, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import LoadFigures

_GIVEN = "what the load works at, as the file gives it"
# Volts within this share of a bound are at it.
AT = 1e-3
_LOW: dict[Severity, str] = {"stop": "always", "caution": "supply low"}


def _battery(survey: Survey, load: LoadFigures) -> bool:
    name = survey.wiring.drivers[load.part.circuit].supply
    return name is not None and survey.build.supply[name].kind == "battery"


def _low_volts(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, load in survey.electrics.loads.items():
        lowest = load.part.lowest
        if lowest is None:
            continue
        subject, limit = Subject(load.part.kind, name), Limited(lowest, "V", _GIVEN)
        steps: dict[Severity, Within] = {"stop": Within(subject, load.volts, limit, least=True, slack=AT)}
        if not _battery(survey, load):
            steps["caution"] = Within(subject, load.lowest_volts, limit, least=True, slack=AT)
        yield from steps.values()
        if (severity := first_broken(steps)) is None:
            continue
        yield Fact(
            severity,
            subject,
            (*load.part.path, "lowest"),
            _LOW[severity],
            figures={
                "volts": Figure(max(load.volts, 0.0), "V"),
                "lowest": Figure(max(load.lowest_volts, 0.0), "V"),
                "needs": Figure(lowest, "V"),
            },
            limit=limit,
        )


def _over_volts(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, load in survey.electrics.loads.items():
        most = load.part.highest
        supply = survey.electrics.supplies.get(survey.wiring.drivers[load.part.circuit].supply or "")
        if supply is None or supply.volts <= 0.0:
            continue
        if most is None and load.volts <= 0.0:
            continue
        if most is None:
            yield open_question(
                name, "whether it withstands {volts}",
                'the highest voltage that it is made for, by its sheet, such as highest = "6 V"',
                figures={"volts": Figure(load.volts, "V")}, lines=('highest = "6 V"  # by its sheet',), under=load.part.path,
            )  # fmt: skip
            continue
        high = load.volts * supply.highest_volts / supply.volts
        subject, made = Subject(load.part.kind, name), Limited(most, "V", _GIVEN)
        # a motor stands a little more for good, so the tolerance of a supply of its own volts is not reported
        rise = of_rating(survey.limits["motor.volts"], most, "V") if load.part.motor else made
        steps: dict[Severity, Within] = {
            "stop": Within(subject, load.volts, made, slack=AT),
            "caution": Within(subject, high, rise, slack=AT),
        }
        yield from steps.values()
        if (severity := first_broken(steps)) is None:
            continue
        yield Fact(
            severity,
            subject,
            (*load.part.path, "highest"),
            figures={
                "volts": Figure(load.volts, "V"),
                "highest": Figure(high, "V"),
                "stands": Figure(most, "V"),
            },
            limit=steps[severity].limit,
        )


def _restarts(survey: Survey) -> Iterator[Fact]:
    """Loads with logic of their own whose circuit switches them off, or takes their volts away, again and again."""
    for part in survey.parts.loads:
        circuit = survey.build.circuit[part.circuit]
        kind = "pixels" if part.pixels else "sound" if part.sound else ""
        steady = circuit.behaviour == "steady" or circuit.on_share == 1.0 or circuit.least_share == 1.0
        if steady or not kind:
            continue
        yield Fact(
            "caution", Subject("load", part.name), part.path, kind,
            parts={"circuit": Subject("circuit", part.circuit)}, words={"does": _DOES[circuit.behaviour]},
        )  # fmt: skip


def _no_data(survey: Survey) -> Iterator[NotJudged]:
    """Pixels to which no conductor in the file brings data, and beside which nothing sits that could make them.

    Once for places that runs with data join: these have them from what makes them there, or from where no pixels are.
    """
    build, asked = survey.build, set[str]()
    pixels = {place for part in survey.parts.loads if part.pixels for place in part.warms}
    makes = {board.place for board in build.board.values()} | {
        load.place for load in build.load if load.kind in ("sound", "other")
    }
    for part in survey.parts.loads:
        if not part.pixels or part.place in asked:
            continue
        joined = _joined_by_data(build, part.warms)
        if joined & makes or joined - pixels:
            continue
        from postcheck.checks.lines_to_type import in_toml  # noqa: PLC0415 - a sound build types nothing

        asked |= joined
        into = [
            run
            for run in survey.parts.runs
            if run.live and not run.body and len(joined.intersection(run.ends)) == 1
        ]
        beside = min(into, key=lambda run: pixels.issuperset(run.ends), default=None)
        to = part.place if beside is None else next(end for end in beside.ends if end in joined)
        yield open_question(
            part.name,
            "whether its data get to it, and how much of a bore they take: without them it stays dark, and no conductor in the file brings them",
            'a [[run]] to {place} with carries = "data"; where what makes them sits beside it, that as a [[load]]',
            vital=survey.closes(part.place),
            parts={"place": Subject("place", to)},
            lines=()
            if beside is None or not beside.said.length
            else (
                "[[run]]", f"name = {in_toml(f'data of {part.name}')}", f"ends = [{', '.join(map(in_toml, beside.ends))}]", f'length = "{beside.said.length * 1e3:g} mm"',
                'carries = "data"',
            ),
        )  # fmt: skip


def _joined_by_data(build: Build, places: Iterable[str]) -> set[str]:
    """Places and all that runs with data join to them, one after another."""
    joined, runs = set(places), [set(run.ends) for run in build.run if run.carries == "data"]
    while more := set().union(*(ends for ends in runs if ends & joined)) - joined:
        joined |= more
    return joined


_DOES = {"dim": "is dimmed", "flash": "flashes", "fade": "fades up and down"}
_STALLS = "Below its least voltage a motor stalls and a sound board resets, over and over."

CHECKS: tuple[Check, ...] = (
    Check(
        "load.low-volts", "stop", "load", "a load with less than its least voltage", "It stalls or resets.",
        "volts at its terminals, typical and lowest", (), "the load's data", _low_volts,
        wording={
            "always": Wording("{subject} gets {volts:apart}. It needs {needs:apart}.", _STALLS),
            "supply low": Wording(
                "{subject} gets {volts:apart} ({lowest:apart} with a low supply and everything on). It needs {needs:apart}.", _STALLS
            ),
        },
    ),
    Check(
        "load.over-volts", "stop", "load", "a load with more than its highest voltage", "Too much voltage burns it out.",
        "volts at its terminals with the supply at its highest; of a motor over motor.volts of what it is made for", ("motor.volts",), "the load's data", _over_volts, dangerous=True,
        wording={
            "": Wording(
                "{subject} gets {volts:apart} ({highest:apart} at the supply's highest). It is rated for {stands:apart}.",
                "Too much voltage burns out a motor slowly and a board at once.",
            )
        },
    ),
    Check(
        "load.restarts", "caution", "load", "pixels or a sound board on a circuit that is dimmed, fades or flashes",
        "Its logic begins anew each time that it gets its volts.", "what its circuit does; a motor and other electronics are not judged by it", (),
        "logic is reset below its least voltage; pixels then forget their colours until their data come again (makers' sheets, from memory)", _restarts,
        wording={
            kind: Wording("{subject} is fed by {circuit}, which {does}.", why, remedy)
            for kind, why, remedy in (
                (
                    "pixels", "Each time it goes dark its chips forget what to show until their data come again, and in short pulses, or with fewer volts, they show nothing or the wrong thing.",
                    "Put it on a circuit that stays on, and let its data make it brighter or darker.",
                ),
                (
                    "sound", "Each time it goes dark its board begins anew, and in short pulses, or with fewer volts, it never gets to play.",
                    "Put it on a circuit that stays on, and start its sounds by its own inputs.",
                ),
            )
        },
    ),
    Check(
        "load.no-data", "note", "load", "pixels that no conductor brings data to", "Without its data a strip of pixels stays dark.",
        "a run with `carries` data ends where they are or where their lead ends, or a board or other electronics sit there", (), "what the file says", _no_data, asks=True,
    ),
)  # fmt: skip
