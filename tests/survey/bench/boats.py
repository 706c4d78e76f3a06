"""A boat with a base, a hub, a mast on the hub and a car up there, for the tests of the bench."""

from __future__ import annotations

import postcheck
from postcheck.survey import Survey

__all__ = ["boat", "lamp", "run"]

HEAD = """
format = 1
[build]
name = "Lightship"
[usual]
lead = "enamel-0.10"
run = "ptfe-28"
[place]
base = {{ access = "open" }}
hub = {{ access = "cover" }}
mast = {{ access = "cover" }}
car = {{ access = "sealed" }}
[supply.main]
place = "base"
{supply}
[circuit.a]
supply = "main"
{circuit}
"""
ADAPTOR = 'kind = "adaptor"\nvolts = "12 V"\ntolerance = "5 %"\nrated = "10 A"'


def run(line: str, start: str = "base", end: str = "hub") -> str:
    return f'[[run]]\nline = "{line}"\nends = ["{start}", "{end}"]\nlength = "200 mm"\n'


def lamp(
    resistor: str | None = "1k", *, kind: str = "smd-0603-red", name: str = "lamp", circuit: str = "a",
    lead: str = '"150 mm to hub, red/black"', more: str = "",
) -> str:  # fmt: skip
    at = f'resistor = "{resistor}"\n' if resistor and not resistor.startswith("{") else ""
    if resistor and resistor.startswith("{"):
        at = f"resistor = {resistor}\n"
    return f'[[lamp]]\nname = "{name}"\ncircuit = "{circuit}"\nkind = "{kind}"\nplace = "car"\nlead = {lead}\n{at}{more}\n'


def boat(
    *parts: str, supply: str = ADAPTOR, circuit: str = "", lines: tuple[str, ...] = ("a", "main-")
) -> Survey:
    text = HEAD.format(supply=supply, circuit=circuit) + "\n".join([*parts, *(run(line) for line in lines)])
    return Survey(postcheck.loads(text))
