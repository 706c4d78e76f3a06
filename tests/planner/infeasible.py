"""Wishes that are made infeasible in one known way each: the cause, the checks that may name it, and the keys that mend it."""

from __future__ import annotations

from typing import Any, NamedTuple


class Cause(NamedTuple):
    """`checks`: the findings that name it; `keys`: what, made otherwise, takes it away."""

    name: str
    checks: tuple[str, ...]
    keys: tuple[str, ...]


CAUSES = (
    Cause("bore", ("passage.cannot-fit", "passage.tight", "passage.full"), ("bore",)),
    Cause("thick wire", ("passage.cannot-fit", "passage.tight", "passage.full"), ("wires", "bore")),
    Cause("hot body", ("place.too-hot",), ("surface", "wanted")),
    Cause("weak adaptor", ("supply.overload",), ("rated", "wanted")),
    Cause("weak board", ("board.overload",), ("limit", "wanted")),
    Cause("small resistors", ("resistor.overloaded",), ("powers", "wanted", "volts")),
    Cause("turn", ("passage.strain", "passage.loops"), ("turn",)),
    Cause("fast flash", ("flash.rate",), ("rate",)),
    Cause("sealed board", ("access.sealed",), ("place", "access")),
    Cause("long show", ("battery.too-short",), ("runs_for", "wanted", "capacity", "size")),
)


def tender(seed: int) -> dict[str, Any]:
    """A harbour tender with windows in a sealed wheelhouse, a tail light and a flashing mast light: it has a plan."""
    white = ("smd-0603-warm-white", "smd-0603-white", "smd-0402-warm-white")[seed % 3]
    return {
        "format": 1,
        "build": {"name": f"Harbour tender {seed}", "stage": "planning", "air": "10..28 degC"},
        "supply": {"main": {"kind": "adaptor", "place": "stand", "volts": ("12 V", "9 V", "12 V")[seed % 3]}},
        "board": {"flasher": {"place": "stand", "supply": "main", "limit": "100 mA", "drop": "0.2 V"}},
        "place": {
            "stand": {"access": "open"},
            "hull": {"access": "cover", "material": "abs", "surface": f"{120 + 30 * seed} cm2"},
            "wheelhouse": {"access": "sealed", "material": "styrene", "surface": f"{60 + 10 * seed} cm2"},
        },
        "post": {"from": "stand", "to": "hull", "bore": "3 mm", "length": f"{140 + 20 * seed} mm", "edges": "bushed"},
        "way": [{"from": "wheelhouse", "to": "hull", "length": f"{110 + 15 * seed} mm"}],
        "circuit": {
            "cabin": {"supply": "main", "behaviour": "steady"},
            "stern": {"supply": "main", "behaviour": "steady"},
            "mast": {"board": "flasher", "behaviour": "flash", "rate": "40 /min", "on_share": "15 %"},
        },
        "lamp": [
            {"name": "windows", "circuit": "cabin", "kind": white, "place": "wheelhouse", "count": 4 + 2 * seed},
            {"name": "stern light", "circuit": "stern", "kind": "smd-0603-white", "place": "hull", "wanted": "5 mA"},
            {"name": "mast light", "circuit": "mast", "kind": "smd-0805-yellow", "place": "hull", "wanted": "8 mA"},
        ],
    }  # fmt: skip


def infeasible(cause: str, seed: int) -> dict[str, Any]:
    """The tender with one thing that cannot be."""
    tables = tender(seed)
    post, windows, stern, mast = tables["post"], *tables["lamp"]
    match cause:
        case "bore":
            post["bore"] = ("0.2 mm", "0.3 mm", "0.35 mm")[seed % 3]
        case "thick wire":
            post["bore"] = ("1.2 mm", "1 mm", "1.3 mm")[seed % 3]
            tables["stock"] = {"wires": ["ptfe-28"]}
        case "hot body":
            tables["place"]["wheelhouse"]["surface"] = ("8 cm2", "10 cm2", "12 cm2")[seed % 3]
            windows["wanted"] = "10 mA"
        case "weak adaptor":
            tables["supply"]["main"]["rated"] = ("15 mA", "20 mA", "25 mA")[seed % 3]
            windows["wanted"] = "8 mA"
        case "weak board":
            tables["board"]["flasher"]["limit"] = ("4 mA", "5 mA", "3 mA")[seed % 3]
        case "small resistors":
            tables["supply"]["main"]["volts"] = "24 V"
            tables["stock"] = {"powers": [("1/16 W", "1/10 W", "1/16 W")[seed % 3]]}
            stern["wanted"] = ("10 mA", "12 mA", "8 mA")[seed % 3]
        case "turn":
            post |= {
                "turn": ("540 deg", "720 deg", "400 deg")[seed % 3],
                "stop": True,
                "cycles": "50 /day for 10 years",
            }
        case "fast flash":
            tables["circuit"]["mast"]["rate"] = ("5 /s", "6 /s", "4 /s")[seed % 3]
        case "sealed board":
            tables["board"]["flasher"]["place"] = "wheelhouse"
        case "long show":
            tables["supply"]["main"] = {
                "kind": "battery", "place": "stand", "chemistry": "alkaline", "size": "9 V", "runs_for": ("24 h", "30 h", "20 h")[seed % 3],
            }  # fmt: skip
            windows["wanted"] = "5 mA"
        case _:
            raise ValueError(cause)
    assert mast
    return tables
