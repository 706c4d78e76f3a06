"""What is beyond this program: voltages that can hurt."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.cells import inside
from postcheck.checks.fact import Fact, Within, limited
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.limits import above
from postcheck.report import Figure, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.network.supplies import most_volts


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


_MAINS = "It brings mains into the model, where it gets hot without air, and where a repair touches it. That is for licensed practice."
_OUTSIDE = "Keep it outside, with a socket in the wall of {place}. If it is outside already, name the socket:"
_WHY = (
    "Above it a touch can injure, and fine wires and painted joints insulate nothing. "
    "Nothing here is judged safe; that is for licensed practice."
)
_REMEDY = "Have this part made or inspected by someone licensed for it, by the code of your country; keep the model's own wiring below it."
_BEYOND = "This program judges nothing above {limit:apart}."

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
