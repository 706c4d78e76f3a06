"""The figures that every report carries, in the shape that other programs rely on: names, types, units, meaning.

Numbers are SI. A section is empty where a build has nothing of the kind, or could not be read; `closing` is there only where
something is to be closed.
"""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NamedTuple, NotRequired, TypedDict, get_args, get_type_hints

__all__ = [
    "MOST_SEGMENTS",
    "PARTS",
    "Figures",
    "Meant",
    "ReportedBoard",
    "ReportedCircuit",
    "ReportedClosing",
    "ReportedLamp",
    "ReportedLoad",
    "ReportedMargin",
    "ReportedPassage",
    "ReportedPin",
    "ReportedPlace",
    "ReportedRun",
    "ReportedSegment",
    "ReportedString",
    "ReportedStrip",
    "ReportedSupply",
    "meanings",
    "no_figures",
]


MOST_SEGMENTS = 50
"""Of a strip with more segments than this only the first and the last are told."""


class Meant(NamedTuple):
    """What a figure means, and its unit: empty for a text or a plain number, "share" for a part of the whole.

    `follows`: it moves with another figure, so that a comparison tells that one alone. `kinds`: its types in JSON.
    """

    says: str
    unit: str = ""
    follows: bool = False
    kinds: tuple[str, ...] = ()


Fate = Annotated[
    Literal["lamp destroyed", "poles joined", "supplies joined"],
    Meant(
        '"lamp destroyed" or "poles joined" where it hangs on such a lamp or supply, "supplies joined" where one supply would push more into another than it keeps up: what is null here has no meaning'
    ),
]


class ReportedLamp(TypedDict):
    """Current through one string of a lamp, and what is lost on the way to it."""

    nominal: Annotated[float | None, Meant("current with all on and typical parts", "A")]
    lowest: Annotated[float | None, Meant("least current, with all on", "A")]
    highest: Annotated[
        float | None, Meant("most current, with its own circuit and what is always on alight", "A")
    ]
    alone: Annotated[
        float | None, Meant("most current with nothing else on the lines, never below `highest`", "A", True)
    ]
    joints: Annotated[
        float | None, Meant("volts between its joints, with all on and typical parts", "V", True)
    ]
    lead_drop: Annotated[
        float | None, Meant("volts of these lost in its lead and the wires of its chain", "V", True)
    ]
    resistor: Annotated[float | None, Meant("heat in its resistor while it is lit", "W", True)]
    resistor_highest: Annotated[float | None, Meant("most heat in its resistor while it is lit", "W", True)]
    air: Annotated[float | None, Meant("warmest air taken for any of its LEDs", "degC", True)]
    corners: NotRequired[
        Annotated[
            Literal["tried"],
            Meant(
                '"tried" where lowest and highest are the worst of the corners tried; else they are proven'
            ),
        ]
    ]
    fate: NotRequired[
        Annotated[
            Literal["destroyed", "lamp destroyed", "poles joined", "supplies joined"],
            Meant(
                '"destroyed" where it burns out at once; "lamp destroyed" or "poles joined" where such a lamp or supply leaves what is null here without meaning'
            ),
        ]
    ]


class ReportedString(TypedDict):
    """One string of a lamp that has several."""

    nominal: Annotated[float | None, Meant("current with all on and typical parts", "A", True)]
    fate: NotRequired[Fate]


class ReportedStrip(TypedDict):
    """What a strip takes, and what is left at its two ends."""

    nominal: Annotated[float | None, Meant("current into it with all on and typical parts", "A")]
    highest: Annotated[float | None, Meant("most current into it", "A")]
    through: Annotated[float | None, Meant("most current through its traces", "A", True)]
    first_volts: Annotated[float | None, Meant("volts at its first segment, all on", "V", True)]
    last_volts: Annotated[float | None, Meant("volts at its last segment, all on", "V", True)]
    first_current: Annotated[float | None, Meant("current of a chain of its first segment", "A", True)]
    last_current: Annotated[float | None, Meant("current of a chain of its last segment", "A", True)]
    fate: NotRequired[Fate]


class ReportedSegment(TypedDict):
    """One segment of a strip, counted from its lead; it is called as the strip, with its number."""

    volts: Annotated[float | None, Meant("volts between its pads with all on and typical parts", "V", True)]
    current: Annotated[float | None, Meant("current of all its chains then", "A", True)]
    fate: NotRequired[Fate]


class ReportedLoad(TypedDict):
    """The volts of a load."""

    volts: Annotated[float | None, Meant("volts at its terminals with all on and typical parts", "V")]
    lowest: Annotated[float | None, Meant("least volts at its terminals", "V")]
    starting: Annotated[float | None, Meant("volts while it starts; null where nothing starts", "V", True)]
    fate: NotRequired[Fate]


class ReportedCircuit(TypedDict):
    """What a circuit takes, and what its output or board leaves it."""

    nominal: Annotated[float | None, Meant("current with all on and typical parts", "A", True)]
    highest: Annotated[float | None, Meant("most current", "A", True)]
    drop: NotRequired[Annotated[float | None, Meant("volts lost in its output or board", "V", True)]]
    spare: NotRequired[
        Annotated[
            float | None, Meant("volts that its constant-current output has more than it needs", "V", True)
        ]
    ]
    fate: NotRequired[Fate]


class ReportedBoard(TypedDict):
    """What all outputs of a board give together."""

    nominal: Annotated[float | None, Meant("current with all on and typical parts", "A", True)]
    highest: Annotated[float | None, Meant("most current", "A", True)]
    rated: Annotated[float | None, Meant("what it may give in all", "A", True)]
    fate: NotRequired[Fate]


class ReportedPin(TypedDict):
    """What a pin of a plug carries; it is called as the plug, with its number."""

    nominal: Annotated[float | None, Meant("current with all on and typical parts", "A", True)]
    highest: Annotated[float | None, Meant("most current", "A", True)]
    drop: Annotated[float | None, Meant("voltage lost at its contact with all on", "V")]
    fate: NotRequired[Fate]


class ReportedSupply(TypedDict):
    """What a supply gives."""

    nominal: Annotated[float | None, Meant("current with all on and typical parts", "A")]
    highest: Annotated[float | None, Meant("most current", "A")]
    headroom: Annotated[float | None, Meant("what is free of its rating at the most current", "share")]
    rated: Annotated[float | None, Meant("its rating", "A")]
    lasts: NotRequired[Annotated[float | None, Meant("how long a battery lasts", "s")]]
    dims: NotRequired[
        Annotated[float | None, Meant("when its first lamp is dim, where that is before it is empty", "s")]
    ]
    fate: NotRequired[Fate]
    input: NotRequired[Annotated[float | None, Meant("what a converter takes of its source", "A", True)]]
    input_highest: NotRequired[
        Annotated[float | None, Meant("most that a converter takes of its source", "A", True)]
    ]


class ReportedRun(TypedDict):
    """What a run carries."""

    current: Annotated[float | None, Meant("current with all on and typical parts", "A")]
    drop: Annotated[float | None, Meant("voltage lost on it then", "V")]
    highest: Annotated[float | None, Meant("most current", "A", True)]
    source: Annotated[str, Meant("the place that its current comes from, with all on")]
    fate: NotRequired[Fate]


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

    heat: Annotated[float | None, Meant("heat given off in it", "W")]
    rise: Annotated[float | None, Meant("its air above that round the model", "K")]
    air: Annotated[float | None, Meant("its air in the warmest room", "degC", True)]
    fate: NotRequired[Fate]


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


class ReportedMargin(TypedDict):
    """How near the nearest subject of a check that passes is to the check's limit; both figures in `unit`."""

    kind: Annotated[str, Meant("kind of the nearest subject", follows=True)]
    subject: Annotated[str, Meant("name of the nearest subject", follows=True)]
    value: Annotated[float, Meant("what is compared", follows=True)]
    limit: Annotated[float, Meant("what it is compared with", follows=True)]
    unit: Annotated[
        str, Meant("unit of both; share for a part of the whole, empty for a number", follows=True)
    ]
    limit_name: Annotated[
        str, Meant("name of the limit it follows from; empty for a part's own rating", follows=True)
    ]
    used: Annotated[
        float,
        Meant("how much of the limit is used up, of a least value the inverse: 1 is at it", "share", True),
    ]


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
    strips: Mapping[str, ReportedStrip]
    loads: Mapping[str, ReportedLoad]
    circuits: Mapping[str, ReportedCircuit]
    boards: Mapping[str, ReportedBoard]
    strings: Mapping[str, ReportedString]
    segments: Mapping[str, ReportedSegment]
    pins: Mapping[str, ReportedPin]
    margins: Mapping[str, ReportedMargin]


ROWS: Mapping[str, type[Any]] = {
    "lamps": ReportedLamp,
    "supplies": ReportedSupply,
    "runs": ReportedRun,
    "passages": ReportedPassage,
    "places": ReportedPlace,
    "closing": ReportedClosing,
    "strips": ReportedStrip,
    "loads": ReportedLoad,
    "circuits": ReportedCircuit,
    "boards": ReportedBoard,
    "strings": ReportedString,
    "segments": ReportedSegment,
    "pins": ReportedPin,
    "margins": ReportedMargin,
}

PARTS = frozenset(
    {"lamps", "supplies", "runs", "passages", "places", "strips", "loads", "circuits", "boards"}
)
"""The sections whose names are parts of the model; those of the others are of what a part has several, or of what is done."""


def no_figures() -> Figures:
    """The figures of a file that is no build."""
    return {
        "lamps": {}, "supplies": {}, "runs": {}, "passages": {}, "places": {}, "strips": {}, "loads": {},
        "circuits": {}, "boards": {}, "strings": {}, "segments": {}, "pins": {}, "margins": {},
    }  # fmt: skip


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
    types = get_args(hint.__origin__) or (hint.__origin__,)
    text = any(isinstance(kind, str) or kind is str for kind in types)  # of a literal the words themselves
    return meant._replace(
        kinds=("string",) if text else ("integer",) if types == (int,) else ("number", "null")
    )
