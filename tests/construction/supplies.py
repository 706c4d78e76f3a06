"""Where the power comes from: chosen first by its volts, rated and fused last, when all that it feeds is known."""

from __future__ import annotations

from random import Random
from typing import Any

from tests.construction.handbook import FUSES, PLATES
from tests.construction.model import Model, Source

# What each is called, its own keys, least, usual and most volts, and ohms inside. Cells full as they come, and half used, by
# their makers' curves; an adaptor and USB within 5 %.
SOURCES: dict[str, tuple[dict[str, Any], float, float, float, float]] = {
    "adaptor 12": ({"kind": "adaptor", "volts": "12 V", "tolerance": "5 %"}, 11.4, 12, 12.6, 0.0),
    "adaptor 9": ({"kind": "adaptor", "volts": "9 V", "tolerance": "5 %"}, 8.55, 9, 9.45, 0.0),
    "adaptor 6": ({"kind": "adaptor", "volts": "6 V"}, 5.7, 6, 6.3, 0.0),
    "adaptor 5": ({"kind": "adaptor", "volts": "5 V"}, 4.75, 5, 5.25, 0.0),
    "usb": ({"kind": "usb", "port": "plain"}, 4.75, 5, 5.25, 0.0),
    "usb-c": ({"kind": "usb", "port": "type-c", "cc_resistors": True}, 4.75, 5, 5.25, 0.0),
    "bank": ({"kind": "usb", "port": "power-bank"}, 4.75, 5, 5.25, 0.0),
    "alkaline": ({"kind": "battery", "chemistry": "alkaline", "size": "aa", "cells": 4}, 4.6, 5.6, 6.4, 0.8),
    "nimh": ({"kind": "battery", "chemistry": "nimh", "size": "aa", "cells": 4}, 4.2, 4.8, 5.6, 0.2),
    "one lipo": ({"kind": "battery", "chemistry": "li-ion", "size": "18650", "cells": 1, "protected": True}, 3.3, 3.7, 4.2, 0.1),
    "block": ({"kind": "battery", "chemistry": "alkaline", "size": "9v"}, 6.6, 8.0, 9.6, 2.0),
    "lipo": ({"kind": "battery", "chemistry": "lipo", "cells": 2, "capacity": "2000 mAh", "protected": True}, 6.6, 7.4, 8.4, 0.2),
}  # fmt: skip
ODDS = (6, 3, 1, 3, 2, 2, 2, 2, 1, 1, 1, 2)
MAH = {"one lipo": 2500.0, "block": 550.0, "alkaline": 2000.0, "nimh": 2000.0, "lipo": 2000.0}


def chosen(chance: Random, wants: frozenset[str]) -> tuple[str, Source, dict[str, Any]]:
    """A kind of source, by what is wanted of it."""
    wanted = [name for name in SOURCES if name in wants]
    kind = wanted[0] if wanted else chance.choices(list(SOURCES), ODDS)[0]
    said, least, usual, most, ohms = SOURCES[kind]
    return kind, Source("main", least, usual, most, ohms, kind in MAH), dict(said)


def finish(model: Model, kind: str, said: dict[str, Any]) -> bool:
    """Rates and fuses it. A fuse carries 1.25 times the load, and the source surely opens it: its plate is 2.2 times that."""
    idle = 0.02 if "board" in model.has else 0.0
    load = sum(part.most for part in model.parts) + idle
    peak = load + sum(part.starting - part.most for part in model.of("motor"))
    slow = bool(model.of("bulb", "motor"))
    fuse = next((one for one in FUSES if one >= max(1.25 * load, 1.1 * peak if slow else 0.0)), None)
    if fuse is None:
        return False
    if kind in MAH:
        if load > {"block": 0.025}.get(kind, 0.15):
            return False
        said["fuse"] = f"{fuse * 1000:g} mA {'slow' if slow else 'quick'} ceramic"
        said["runs_for"] = f"{int(0.6 * 0.75 * MAH[kind] / (load * 1000))} h"
        if said["runs_for"] == "0 h":
            return False
        if kind == "block":
            said["fuse"] = f"{fuse * 1000:g} mA"
    elif kind == "usb":
        if fuse > 0.2:
            return False
        said["fuse"] = f"{fuse * 1000:g} mA" + (" slow" if slow else "")
    else:
        rated = next((one for one in PLATES if one >= max(2.2 * fuse, 1.3 * load, 1.1 * peak)), None)
        if rated is None:
            return False
        said["rated"] = f"{rated:g} A"
        said["fuse"] = f"{fuse * 1000:g} mA" + (" slow" if slow else "")
        if kind == "bank":
            steady = sum(
                part.least
                for part in model.parts
                if model.tables["circuit"][part.circuit].get("behaviour", "steady") == "steady"
            )
            if steady < 0.012:
                return False
            said["switches_off_below"] = f"{int(steady / 1.5 * 1000)} mA"
    model.tables["supply"]["main"] |= said
    return True


def amps(text: str) -> float:
    """A of a text like "500 mA slow"."""
    number, unit = text.split()[:2]
    return float(number) / (1000 if unit == "mA" else 1)
