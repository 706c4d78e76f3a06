"""What a builder says, as frozen models: SI inside, names still names.

Every key carries its meaning for editors. Nothing is computed here beyond the one-line forms, which
are rewritten to their table forms before anything looks at them.
"""

from postcheck.description.models.base import Table
from postcheck.description.models.circuits import Board, Circuit, Output
from postcheck.description.models.kinds import Held, LampKind, Stock, StripKind, WireKind
from postcheck.description.models.lamps import DICE_EXAMPLE, MOST_SEGMENTS, Die, DiodeSpec, Lamp, Load, Strip
from postcheck.description.models.leads import (
    JointSize,
    Lead,
    Leg,
    ResistorSpec,
    SeriesResistor,
    UsualResistor,
)
from postcheck.description.models.places import Cable, Passage, Place
from postcheck.description.models.records import Accept, LimitChange, Proof
from postcheck.description.models.runs import Join, Plug, Run, Way
from postcheck.description.models.supplies import FuseSpec, Instead, Supply
from postcheck.description.models.switches import SwitchSpec
from postcheck.description.models.whole import SEVERAL, Build, BuildSection, Usual, Workshop

__all__ = [
    "DICE_EXAMPLE",
    "MOST_SEGMENTS",
    "SEVERAL",
    "Accept",
    "Board",
    "Build",
    "BuildSection",
    "Cable",
    "Circuit",
    "Die",
    "DiodeSpec",
    "FuseSpec",
    "Held",
    "Instead",
    "Join",
    "JointSize",
    "Lamp",
    "LampKind",
    "Lead",
    "Leg",
    "LimitChange",
    "Load",
    "Output",
    "Passage",
    "Place",
    "Plug",
    "Proof",
    "ResistorSpec",
    "Run",
    "SeriesResistor",
    "Stock",
    "Strip",
    "StripKind",
    "Supply",
    "SwitchSpec",
    "Table",
    "Usual",
    "UsualResistor",
    "Way",
    "WireKind",
    "Workshop",
]
