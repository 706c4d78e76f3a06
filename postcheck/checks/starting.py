"""The moment of switching on: motors that ask for more, filaments that are cold."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import limited
from postcheck.checks.record import Check
from postcheck.checks.shown import amps, volts
from postcheck.description.naming import supply_of
from postcheck.physics.fuse import surely_open_by
from postcheck.plain import quoted
from postcheck.report import Figure, Finding, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import LoadFigures, SupplyFigures

__all__ = ["CHECKS"]

_GIVEN = "what the load works at, as the file gives it"
# Volts within this share of a bound are at it.
AT = 1e-3
# A fuse that is sure to be open within this many seconds opens before a motor has run up; judgement.
RUN_UP = 0.5


def _no_start(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name, load in survey.electrics.loads.items():
        lowest, start = load.part.lowest, load.start_volts
        if lowest is None or start is None or start >= lowest * (1.0 - AT) or not load.part.starting:
            continue
        yield Finding(
            "load.no-start", "stop", Subject("load", name),
            f"{quoted(name)} gets {volts(max(start, 0.0))} while it starts and needs {volts(lowest)}.",
            "A load that asks for more while it starts than its way can carry never gets to run; it hums, or resets for ever.",
            (*load.part.path, "starting"),
            figures={"start": Figure(start, "V"), "needs": Figure(lowest, "V"), "starting": Figure(load.part.starting, "A")},
            limit=Limited(lowest, "V", _GIVEN), because_of=f"load.low-volts:{name}",
        )  # fmt: skip


def _starters(survey: Survey, supply: str) -> list[LoadFigures]:
    """The loads with a starting current that a supply feeds, itself or through converters; the largest first."""
    fed = {supply}
    for (
        name,
        said,
    ) in survey.build.supply.items():  # converters come after what feeds them or are found next time round
        if said.fed_by in fed:
            fed.add(name)
    found = [
        load
        for load in survey.electrics.loads.values()
        if load.part.starting and supply_of(survey.build, survey.build.circuit[load.part.circuit]) in fed
    ]
    return sorted(found, key=lambda load: -(load.part.starting or 0.0))


def _supply_start(survey: Survey) -> Iterator[Finding | NotJudged]:
    gives_up = survey.limits["supply.start"]
    for name, figures in survey.electrics.supplies.items():
        said, starters = survey.build.supply[name], _starters(survey, name)
        if not starters or figures.starting <= figures.nominal * (1.0 + AT):
            continue
        asks = (
            f"{quoted(starters[0].part.name)} takes {amps(starters[0].part.starting or 0.0)} while it starts"
        )
        most = said.current_limit
        if most is None and said.kind != "battery" and figures.rated:
            most = figures.rated * gives_up.value
        if most is not None and figures.starting > most * (1.0 + AT):
            yield _stalls(
                name, figures, asks, most, stated=said.current_limit is not None, limit=limited(gives_up)
            )
        elif (
            most is not None
            and said.current_limit is None
            and figures.rated
            and figures.starting > figures.rated * (1.0 + AT)
        ):
            yield NotJudged(
                name,
                f"whether it lets {quoted(starters[0].part.name)} start: {amps(figures.starting)} for a moment on a rating of {amps(figures.rated)}",
                'the current at which it gives up, such as current_limit = "1.3 A"',
            )


def _stalls(
    name: str, figures: SupplyFigures, asks: str, most: float, *, stated: bool, limit: Limited
) -> Finding:
    gives = (
        f"gives up at {amps(most)}"
        if stated
        else f"is rated {amps(figures.rated or 0.0)} and gives up at {amps(most)} at the latest"
    )
    return Finding(
        "supply.no-start", "stop", Subject("supply", name),
        f"{asks}, so {quoted(name)} has to give {amps(figures.starting)} with what else is on; it {gives}.",
        "A supply beyond its limit lets its voltage fall or switches off, and the motor never gets to run.",
        figures.path,
        figures={"starting": Figure(figures.starting, "A"), "gives": Figure(most, "A")},
        limit=Limited(most, "A", "current_limit in the build file" if stated else limit.source),
        because_of=f"supply.overload:{name}",
    )  # fmt: skip


def _fuse_start(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name, figures in survey.electrics.supplies.items():
        fuse, starters = survey.build.supply[name].fuse, _starters(survey, name)
        if fuse is None or not starters or figures.starting <= figures.nominal * (1.0 + AT):
            continue
        opens = surely_open_by(fuse.rated, figures.starting, fuse.kind)
        if opens > RUN_UP:
            continue
        yield Finding(
            "fuse.opens-at-start", "caution", Subject("supply", name),
            f"{amps(figures.starting)} flow while {quoted(starters[0].part.name)} starts; the {fuse.kind} fuse of {amps(fuse.rated)} is open within {opens * 1e3:.0f} ms of that.",
            "The fuse goes each time the motor runs up, with nothing wrong.",
            ("supply", name, "fuse"),
            figures={"starting": Figure(figures.starting, "A"), "rated": Figure(fuse.rated, "A"), "opens": Figure(opens, "s")},
            limit=Limited(RUN_UP, "s", "a small motor runs up within half a second; judgement"),
            because_of=f"supply.no-start:{name}",
        )  # fmt: skip


CHECKS: tuple[Check, ...] = (
    Check(
        "load.no-start", "stop", "load", "a load that does not start", "It never gets to run.",
        "volts at its terminals with its starting current and a low supply", (), "the load's data", _no_start,
    ),
    Check(
        "supply.no-start", "stop", "supply", "a supply that cannot start a motor", "It gives up before the motor runs.",
        "load with starting currents and cold filaments against current_limit, or the most that small supplies give",
        ("supply.start",), "the supply's data; makers' sheets of small adaptors (from memory)", _supply_start,
    ),
    Check(
        "fuse.opens-at-start", "caution", "supply", "a fuse that opens while a motor starts", "It goes with nothing wrong.",
        "time by which the fuse is sure to be open at the starting load", (), "IEC 60127-2 time-current gates", _fuse_start,
    ),
)  # fmt: skip
