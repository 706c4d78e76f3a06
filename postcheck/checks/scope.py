"""Too many volts: for a person, which is beyond this program, and for the insulation of a wire."""

from __future__ import annotations

from collections.abc import Iterator
from operator import itemgetter

from postcheck.checks.cells import inside
from postcheck.checks.fact import Fact, Within, limited
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.description.problems import Path
from postcheck.limits import above
from postcheck.report import Figure, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.network.supplies import most_volts
from postcheck.wiring.data import WireData


def _volts(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    limit = limited(survey.limits["volts.scope"])

    def judged(
        subject: Subject, path: tuple[str | int, ...], case: str, volts: float
    ) -> Iterator[Fact | Within]:
        yield (within := Within(subject, volts, limit))
        if not within.kept:
            yield Fact("stop", subject, path, case, figures={"voltage": Figure(volts, "V")}, limit=limit)

    over = False
    for name, supply in survey.build.supply.items():
        most = most_volts(supply)
        over = over or above(most, limit.value)
        yield from judged(Subject("supply", name), ("supply", name), "supply", most)
    first = next(iter(survey.build.supply), "")
    if first and not over:
        yield from judged(Subject("supply", first), ("supply", first), "stacked", survey.electrics.widest)
    for index, load in enumerate(survey.build.load):
        if load.open_volts is not None:
            yield from judged(
                Subject("load", load.name), ("load", index, "open_volts"), "load", load.open_volts
            )
        elif load.kind == "inverter":
            yield NotJudged(
                load.name,
                "whether what it puts out can hurt: sheets that glow take up to twice the volts that are safe to touch",
                'what it puts out with nothing connected, such as open_volts = "30 V"',
                vital=True,
            )


def _mains_inside(survey: Survey) -> Iterator[Fact]:
    """Adaptors in a body. One with a socket stays outside, and only the socket sits there."""
    for name, supply in survey.build.supply.items():
        place = survey.build.place.get(supply.place)
        if supply.kind != "adaptor" or supply.socket is not None or place is None or place.access == "open":
            continue
        line = 'socket = "5.5/2.1 mm, centre positive"'
        yield inside(survey, name, line, "mains inside a model can kill or start a fire")


# A conductor: its path, its wire, if it is known, the supply whose volts are on it, or "", and the passages it goes through.
_Conductor = tuple[Subject, Path, WireData | None, str, tuple[str, ...]]


def _insulation(survey: Survey) -> Iterator[Fact | Within]:
    """Each sort of wire against the most volts between one of it and its return, or anything in the same passage."""
    known, supplies = survey.wiring.known_supplies, survey.build.supply
    most = {name: most_volts(supply) for name, supply in supplies.items() if name in known}
    conductors = tuple(_conductors(survey))
    highest: dict[str, tuple[float, str]] = {}  # in each passage, and whose
    for _, _, _, supply, through in conductors:
        for passage in through if supply in most else ():
            highest[passage] = max(highest.get(passage, (0.0, "")), (most[supply], supply))
    worst: dict[str, tuple[float, Within, Fact]] = {}
    for subject, path, wire, supply, through in conductors:
        if wire is None or wire.insulation_volts is None:
            continue
        # its own first, where they are the same
        own = [(most[supply], supply)] if supply in most else []
        beside = [highest[passage] for passage in through if passage in highest]
        gets, whose = max([*own, *beside], key=itemgetter(0), default=(0.0, ""))
        if gets <= worst.get(wire.name, (0.0,))[0]:
            continue
        limit = Limited(wire.insulation_volts, "V", wire.source)
        fact = Fact(
            "caution", subject, path, "own" if whose == supply else "beside",
            figures={"gets": Figure(gets, "V")}, parts={"supply": Subject("supply", whose)}, words={"wire": wire.name}, limit=limit,
        )  # fmt: skip
        worst[wire.name] = gets, Within(subject, gets, limit), fact
    for _, within, fact in worst.values():
        yield within
        if not within.kept:
            yield fact


def _conductors(survey: Survey) -> Iterator[_Conductor]:
    """All runs, and the fine wires of leads."""
    wiring = survey.wiring
    for run in survey.parts.runs:
        supply, _ = wiring.poles.get(run.line, ("", "")) if run.live else ("", "")
        yield Subject("run", run.name), run.path, None if run.body else run.wire, supply, run.through
    for fine in wiring.fine_wires:
        circuit = survey.parts.named[fine.name].circuit
        yield (
            Subject("lead", fine.name),
            fine.path,
            fine.data.wire,
            wiring.drivers[circuit].supply or "",
            fine.through,
        )


_MAINS = "It brings mains into the model, where it gets hot without air, and where a repair touches it. That is for licensed practice."
_OUTSIDE = "Keep it outside, with a socket in the wall of {place}. If it is outside already, name the socket:"
_WHY = (
    "Above it a touch can injure, and fine wires and painted joints insulate nothing. "
    "Nothing here is judged safe; that is for licensed practice."
)
_REMEDY = "Have this part made or inspected by someone licensed for it, by the code of your country; keep the model's own wiring below it."
_BEYOND = "This program judges nothing above {limit:apart}."

_GIVES_WAY = "Where it is pressed, nicked or warm it gives way, and what lies beside it is joined to it."
_BETTER = "Use wire that is rated for {gets} or more, wherever this sort is used."

CHECKS: tuple[Check, ...] = (
    Check(
        name="scope.volts",
        severity="stop",
        subject="supply",
        line="a voltage that can hurt",
        why="Above 60 V DC a touch can injure. Mains and high voltage belong to licensed practice, not to a program.",
        formula="highest open voltage of a supply, or of what a booster or inverter puts out",
        limits=("volts.scope",),
        source="IEC 60598-1, 8.2.3: bare up to 60 V DC",
        judge=_volts,
        dangerous=True,
        wording={
            "supply": Wording(f"{{subject}} can give {{voltage:apart}}. {_BEYOND}", _WHY, _REMEDY),
            "stacked": Wording(
                f"The supplies are stacked: between two points of the wiring there are {{voltage:apart}}. {_BEYOND}",
                _WHY,
                _REMEDY,
            ),
            "load": Wording(
                f"{{subject}} puts out up to {{voltage:apart}} with nothing connected. {_BEYOND}",
                _WHY,
                _REMEDY,
            ),
        },
    ),
    Check(
        name="wire.volts",
        severity="caution",
        subject="run",
        line="a wire on more volts than its insulation is rated for",
        why="Insulation that is too thin for its volts gives way where it is pressed or nicked.",
        formula="highest open voltage of its own supply, and of any whose conductors lie in the same passage, against what its insulation is rated for; each sort of wire once; not the kick of a motor, which lasts microseconds",
        limits=(),
        source="the wire's data; IEC 60364-5-52, 521.6: circuits in one conduit are all insulated for the highest voltage present (from memory)",
        judge=_insulation,
        wording={
            "own": Wording(
                "{subject} ({wire}) has up to {gets:apart} of {supply} on it. Its insulation is rated for {limit:apart}.",
                _GIVES_WAY,
                _BETTER,
            ),
            "beside": Wording(
                "{subject} ({wire}) lies in one passage with wires of {supply}, which has up to {gets:apart}. Its insulation is rated for {limit:apart}.",
                _GIVES_WAY,
                _BETTER,
            ),
        },
    ),
    Check(
        name="supply.mains-inside",
        severity="stop",
        subject="supply",
        line="a mains adaptor inside a closed body",
        why="Mains in a model can kill or start a fire, and an adaptor without air overheats.",
        formula="an adaptor without a socket, whose place is not open",
        limits=(),
        source="common practice, and makers' sheets: adaptors stay outside, in free air; defers to local codes",
        judge=_mains_inside,
        held="any finding",
        wording={
            "sealed": Wording("{subject} is a mains adaptor sealed into {place}.", _MAINS, _OUTSIDE),
            "cover": Wording(
                "{subject} is a mains adaptor inside {place}, behind its cover.", _MAINS, _OUTSIDE
            ),
        },
    ),
)
