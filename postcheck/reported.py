"""The figures that every report carries, in the shape that other programs rely on: names, types, units, meaning.

Numbers are SI. A section is empty where a build has nothing of the kind, or could not be read; `closing` is there only where
something is to be closed.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple, NotRequired, TypedDict, get_type_hints

__all__ = [
    "Figures",
    "Meant",
    "ReportedClosing",
    "ReportedLamp",
    "ReportedPassage",
    "ReportedPlace",
    "ReportedRun",
    "ReportedSupply",
    "meanings",
    "no_figures",
]


class Meant(NamedTuple):
    """What a figure means, and its unit: empty for a text or a plain number, "share" for a part of the whole."""

    says: str
    unit: str = ""


class ReportedLamp(TypedDict):
    """Current through one string of a lamp."""

    nominal: Annotated[float | None, Meant("current with all on and typical parts", "A")]
    lowest: Annotated[float | None, Meant("least current", "A")]
    highest: Annotated[float | None, Meant("most current", "A")]
    corners: NotRequired[
        Annotated[
            Literal["tried"],
            Meant(
                '"tried" where lowest and highest are the worst of the corners tried; else they are proven'
            ),
        ]
    ]
    fate: NotRequired[
        Annotated[Literal["destroyed"], Meant('"destroyed" where no current can be told, and all are null')]
    ]


class ReportedSupply(TypedDict):
    """What a supply gives."""

    nominal: Annotated[float, Meant("current with all on and typical parts", "A")]
    highest: Annotated[float, Meant("most current", "A")]
    headroom: Annotated[float | None, Meant("what is free of its rating at the most current", "share")]
    rated: Annotated[float | None, Meant("its rating", "A")]
    lasts: NotRequired[Annotated[float | None, Meant("how long a battery lasts", "s")]]


class ReportedRun(TypedDict):
    """What a run carries."""

    current: Annotated[float, Meant("current with all on and typical parts", "A")]
    drop: Annotated[float, Meant("voltage lost on it then", "V")]


class ReportedPassage(TypedDict):
    """What lies in a bore; from `cycles` on, of one that turns."""

    fill: Annotated[float, Meant("what is filled of the bore's area", "share")]
    smallest_bore: Annotated[float, Meant("the slimmest bundle found", "m")]
    verdict: Annotated[str, Meant("whether all goes through: fits, cannot fit, or not found")]
    bore: Annotated[float, Meant("its bore", "m")]
    cycles: NotRequired[Annotated[float, Meant("how often it is to turn")]]
    life_least: NotRequired[
        Annotated[float | None, Meant("turns that the weakest wire stands, low end of the band")]
    ]
    life_most: NotRequired[
        Annotated[float | None, Meant("turns that the weakest wire stands, high end of the band")]
    ]
    turn_borne: NotRequired[Annotated[float, Meant("turn each way with which every wire would live", "rad")]]
    slack_needed: NotRequired[
        Annotated[float, Meant("slack that the outermost wire needs for its turn", "m")]
    ]


class ReportedPlace(TypedDict):
    """How warm a closed place gets."""

    heat: Annotated[float, Meant("heat given off in it", "W")]
    rise: Annotated[float | None, Meant("its air above that round the model", "K")]


_Held = Annotated[int, Meant("so many of the kind will be reached by cutting only")]


class ReportedClosing(TypedDict):
    """A place that is to be closed: what has to be proven, what is, and what will be reached by cutting only."""

    needed: Annotated[int, Meant("parts that have to be proven")]
    proven: Annotated[int, Meant("parts of these that are")]
    lamp: _Held
    strip: _Held
    load: _Held
    resistor: _Held
    joint: _Held
    join: _Held
    conductor: _Held
    plug: _Held
    board: _Held
    supply: _Held


class Figures(TypedDict):
    """The figures of one build, by section and name: `figures["lamps"]["nose lamp"]["nominal"]`, in A.

    What each means, and its unit, `postcheck schema report` tells, and `meanings()` in this module.
    """

    lamps: Mapping[str, ReportedLamp]
    supplies: Mapping[str, ReportedSupply]
    runs: Mapping[str, ReportedRun]
    passages: Mapping[str, ReportedPassage]
    places: Mapping[str, ReportedPlace]
    closing: NotRequired[Mapping[str, ReportedClosing]]


ROWS: Mapping[str, type[Any]] = {
    "lamps": ReportedLamp,
    "supplies": ReportedSupply,
    "runs": ReportedRun,
    "passages": ReportedPassage,
    "places": ReportedPlace,
    "closing": ReportedClosing,
}


def no_figures() -> Figures:
    """The figures of a file that is no build."""
    return {"lamps": {}, "supplies": {}, "runs": {}, "passages": {}, "places": {}}


def meanings() -> dict[str, dict[str, Meant]]:
    """What each figure means, by section and figure, in the order of the report."""
    return {
        section: {name: _meant(hint) for name, hint in get_type_hints(row, include_extras=True).items()}
        for section, row in ROWS.items()
    }


def _meant(hint: Any) -> Meant:
    """What is said of a figure, behind its type; one that need not be there is wrapped once more."""
    while not hasattr(hint, "__metadata__"):
        (hint,) = hint.__args__
    meant: Meant = hint.__metadata__[0]
    return meant
