"""The commands by when a builder needs them, and the module of each in this room."""

from __future__ import annotations

GROUPS: dict[str, dict[str, str]] = {
    "Describe a build": {"start": "start", "guide": "guide", "catalogue": "look_up"},
    "Check it": {
        "check": "check",
        "explain": "look_up",
        "mend": "mend",
        "compare": "compare",
        "vary": "vary",
    },
    "Plan it": {"plan": "plan", "post": "post", "ask": "ask"},
    "At the bench": {"which": "which", "record": "record", "sheet": "sheet"},
    "Afterwards": {"reach": "reach"},
    "For programs": {"schema": "schema", "completion": "completion"},
}
"""Commands with their modules, under the headings of the first page."""

MODULES = {name: module for group in GROUPS.values() for name, module in group.items()}
"""The module of each command."""
