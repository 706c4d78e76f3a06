"""Questions of the bench that need no file, each a module: words to numbers, a small build in memory, one answer.

An answer is read off the survey of that build, so it is the one that `check` gives for the same numbers. Quantities are text
with a unit, as on the command line: `drop("260 mm", "ptfe-28", "120 mA")`. Mistake where a question cannot be answered.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from postcheck.answered import Answer
    from postcheck.ask.battery_life import battery
    from postcheck.ask.bore_fit import bore
    from postcheck.ask.fuse_choice import fuse
    from postcheck.ask.mistake import Mistake
    from postcheck.ask.resistor_choice import resistor
    from postcheck.ask.turn_limit import turn
    from postcheck.ask.wire_drop import drop

__all__ = ["Answer", "Mistake", "battery", "bore", "drop", "fuse", "resistor", "turn"]

# Imported on first use: a question loads what its own answer needs.
_HOMES = {
    "Answer": "postcheck.answered",
    "Mistake": "postcheck.ask.mistake",
    "battery": "postcheck.ask.battery_life",
    "bore": "postcheck.ask.bore_fit",
    "drop": "postcheck.ask.wire_drop",
    "fuse": "postcheck.ask.fuse_choice",
    "resistor": "postcheck.ask.resistor_choice",
    "turn": "postcheck.ask.turn_limit",
}

if not TYPE_CHECKING:  # to a type checker it would say that every name is there

    def __getattr__(name: str) -> Any:
        from importlib import import_module  # noqa: PLC0415 - see _HOMES

        if name not in _HOMES:
            raise AttributeError(f"module 'postcheck.ask' has no attribute {name!r}")
        return getattr(import_module(_HOMES[name]), name)
