"""What a wish leaves to be understood, filled in once: circuits that no table describes, supplies where there is only one, lamps by count.

All that comes after sees ordinary circuits and lamps; what was taken for granted stays known, and is asked about.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Literal

from postcheck.description.consumers import entries
from postcheck.description.frozen import FrozenDict
from postcheck.description.models import Build, Circuit, Lamp, Lead
from postcheck.description.naming import complete
from postcheck.description.problems import Path, Problem
from postcheck.plain import nearest, quoted

Implied = Literal["switch", "name", "supply", "nothing"]
"""How a circuit was understood: by a switch, by its name alone, with a table that names no supply, or not at all: what is on
it says nothing of a circuit."""


def wish_problems(build: Build) -> Iterator[Problem]:
    """Lamps that are said to be joined in two ways at once, and counts that do not agree."""
    for index, lamp in enumerate(build.lamp):
        path: Path = ("lamp", index)
        if lamp.switch is not None and lamp.circuit is not None:
            says = f"a lamp is on circuit {quoted(lamp.circuit)} or behind switch {quoted(lamp.switch)}, and both are given"
            yield Problem("file.invalid", (*path, "switch"), says, "leave one of them out", "key")
        if lamp.count is not None:
            joined = [
                key
                for key in ("series", "parallel", "one_resistor", "strings_share")
                if key in lamp.model_fields_set
            ]
            if joined:
                says = f"`count` leaves open how {lamp.count} lamps are joined, and `{joined[0]}` says how"
                yield Problem("file.invalid", (*path, "count"), says, "leave one of them out", "key")
            if lamp.keep:
                says = f"`count` leaves open how {lamp.count} lamps are joined, and `keep` says that they are"
                yield Problem("file.invalid", (*path, "keep"), says, "leave one of them out", "key")
        if lamp.leads is not None:
            yield from _leads(lamp, lamp.leads, path)
    yield from _behaviours(build)


def _leads(lamp: Lamp, leads: tuple[float, ...], path: Path) -> Iterator[Problem]:
    if lamp.count is None:
        yield Problem("file.missing", path, "`leads` needs `count`", f"such as count = {len(leads)}", "key")
    elif len(leads) != lamp.count:
        says = f"{lamp.count} lamps have {lamp.count} leads, not {len(leads)}"
        yield Problem("file.out-of-range", (*path, "leads"), says)
    if lamp.lead is not None and lamp.lead.length is not None:
        says = "`lead` says how long it is, and `leads` how long each is"
        yield Problem("file.invalid", (*path, "leads"), says, "leave one of the lengths out", "key")


def _behaviours(build: Build) -> Iterator[Problem]:
    """A circuit of the name that a switch makes, whose table says something else."""
    for (switch, behaviour), name in _by_switch(build).items():
        circuit = build.circuit.get(name)
        if circuit is not None and behaviour not in (None, circuit.behaviour):
            index = next(
                i for i, lamp in enumerate(build.lamp) if (lamp.switch, lamp.behaviour) == (switch, behaviour)
            )
            says = f"what is behind switch {quoted(switch)} and is to {_VERBS[behaviour or '']} would be circuit {quoted(name)}, whose behaviour is {quoted(circuit.behaviour)}"
            yield Problem(
                "file.invalid", ("lamp", index, "switch"), says, "give that circuit another name", "key"
            )


_VERBS = {"steady": "shine steadily", "flash": "flash", "dim": "be dimmed"}


def _by_switch(build: Build) -> dict[tuple[str, str | None], str]:
    """The circuit of each switch and behaviour that lamps name.

    It bears the name of the switch where only one behaviour is behind that, or where a table of that name agrees.
    """
    behind: dict[str, dict[str | None, None]] = {}
    for lamp in build.lamp:
        if lamp.switch is not None and lamp.circuit is None:
            behind.setdefault(lamp.switch, {})[lamp.behaviour] = None
    found: dict[tuple[str, str | None], str] = {}
    for switch, behaviours in behind.items():
        table = build.circuit.get(switch)
        usual = table.behaviour if table is not None else "steady"
        several = len({behaviour or usual for behaviour in behaviours}) > 1
        for behaviour in behaviours:
            does = behaviour or usual
            own = does == usual if table is not None else not several
            found[switch, behaviour] = switch if own else f"{switch} {does}"
    return found


def filled_in(build: Build) -> Build:
    """The build with an ordinary circuit for all that takes current; its `implied` tells of each how it was understood.

    With several supplies, or none, a circuit that names none has none.
    """
    only = next(iter(build.supply)) if len(build.supply) == 1 else None
    circuits: dict[str, Circuit] = dict(build.circuit)
    implied: dict[str, Implied] = {}

    def imply(name: str, how: Implied, behaviour: str = "steady") -> str:
        if name not in circuits:
            fed = only if how != "nothing" else None
            circuits[name] = Circuit.model_construct(supply=fed, behaviour=behaviour)
            implied[name] = how
        return name

    lamps = tuple(_counted(lamp) for lamp in build.lamp)
    switched = _by_switch(build)
    made = iter(complete((lamp.name, f"lamp at {lamp.place}") for lamp in lamps))
    whole: list[Lamp] = []
    for lamp, name in zip(lamps, made, strict=True):
        more: dict[str, Any] = {}
        if lamp.circuit is None and lamp.dice is None:
            if lamp.switch is not None:
                circuit = imply(switched[lamp.switch, lamp.behaviour], "switch", lamp.behaviour or "steady")
            else:
                circuit, more = imply(f"circuit of {name}", "nothing"), {"name": name}
            more["circuit"] = circuit
        whole.append(lamp.model_copy(update=more) if more else lamp)
    for name in dict.fromkeys(_named(build)):
        if name not in circuits and not name.endswith(("+", "-")) and nearest(name, build.circuit) is None:
            imply(name, "name")
    for name, table in build.circuit.items():
        if table.supply is None and table.board is None:
            implied[name] = "supply"
            circuits[name] = table.model_copy(update={"supply": only})
    if not implied and tuple(whole) == build.lamp:
        return build
    build = build.model_copy(update={"lamp": tuple(whole), "circuit": FrozenDict(circuits)})
    build._implied = FrozenDict(implied)
    return build


def _named(build: Build) -> Iterator[str]:
    """The circuits that all that takes current names."""
    for entry in entries(build):
        said = entry.said
        if said.circuit is not None:
            yield said.circuit
        if isinstance(said, Lamp):
            yield from (die.circuit for die in (said.dice or {}).values())


def _counted(lamp: Lamp) -> Lamp:
    """A lamp with a count as so many strings side by side, each on a lead of its own; the longest lead counts."""
    more: dict[str, Any] = {}
    if lamp.count is not None and lamp.parallel == 1:
        more["parallel"] = lamp.count
        if lamp.count > 1 and (lamp.lead is not None or lamp.leads):
            more["strings_share"] = "nothing"
    if lamp.leads and (lamp.lead is None or lamp.lead.length is None):
        more["lead"] = (lamp.lead or Lead()).model_copy(update={"length": max(lamp.leads)})
    return lamp.model_copy(update=more) if more else lamp
