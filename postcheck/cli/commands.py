"""The commands by when a builder needs them; each has a module of its name in this room."""

from __future__ import annotations

GROUPS: dict[str, tuple[str, ...]] = {
    "Describe a build": ("start", "guide", "catalogue"),
    "Check it": ("check", "explain", "mend", "compare", "vary"),
    "Plan it": ("plan", "post", "ask"),
    "At the bench": ("which", "record", "sheet"),
    "Afterwards": ("reach",),
    "For programs": ("schema", "completion"),
}
"""Commands under the headings of the first page."""

COMMANDS = tuple(name for group in GROUPS.values() for name in group)
"""All of them."""
