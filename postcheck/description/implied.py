"""What a wish leaves to be understood, filled in once: circuits that no table describes, supplies where there is only one, lamps by count.

All that comes after sees ordinary circuits and lamps; what was taken for granted stays known, and is asked about.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Literal

from postcheck.description.consumers import CONSUMERS, Said, entries
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
    for kind in CONSUMERS:
        section: tuple[Said, ...] = getattr(build, kind)
        for index, said in enumerate(section):
            if said.switch is not None and said.circuit is not None:
                says = f"a {kind} is on circuit {quoted(said.circuit)} or behind switch {quoted(said.switch)}, and both are given"
                yield Problem("file.invalid", (kind, index, "switch"), says, "leave one of them out", "key")
    for index, lamp in enumerate(build.lamp):
        path: Path = ("lamp", index)
        if lamp.count is not None:
            yield from _count(lamp, lamp.count, path)
        if lamp.leads is not None:
            yield from _leads(lamp, lamp.leads, path)
    yield from _behaviours(build)


def _count(lamp: Lamp, count: int, path: Path) -> Iterator[Problem]:
    """A count beside what says how the lamps are joined: their strings hold so many, or it is left open and nothing says it."""
    path = (*path, "count")
    given = lamp.model_fields_set
    joined = given & {"series", "parallel"}
    if lamp.leads is not None or not joined:
        if lamp.keep and not joined:
            says = f"`count` leaves open how {count} lamps are joined, and `keep` says that they are"
            yield Problem("file.invalid", (*path[:-1], "keep"), says, "leave one of them out", "key")
        for key in ("series", "parallel", "one_resistor", "strings_share"):
            if key in given:
                open_ = "`leads` leave" if key in joined else "`count` leaves"
                says = f"{open_} open how {count} lamps are joined, and `{key}` says how"
                yield Problem("file.invalid", path, says, "leave one of them out", "key")
                return
    elif "series" not in given:
        if count % lamp.parallel:
            says = f"{count} lamps cannot be shared out evenly among {lamp.parallel} strings"
            yield Problem("file.invalid", path, says, _MULTIPLE.format("parallel", lamp.parallel), "key")
    elif "parallel" not in given:
        if count % lamp.series:
            says = f"{count} lamps do not make whole strings of {lamp.series}"
            yield Problem("file.invalid", path, says, _MULTIPLE.format("series", lamp.series), "key")
    elif lamp.series * lamp.parallel != count:
        all_of = lamp.series * lamp.parallel
        says = f"{lamp.parallel} strings of {lamp.series} are {all_of} lamps, not {count}"
        yield Problem("file.invalid", path, says, f"write count = {all_of}, or leave it out", "key")


_MULTIPLE = "write a count that {} = {} divides"


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
            path = next(entry.path for entry in entries(build) if _behind(entry.said) == (switch, behaviour))
            says = f"what is behind switch {quoted(switch)} and is to {_VERBS[behaviour or '']} would be circuit {quoted(name)}, whose behaviour is {quoted(circuit.behaviour)}"
            yield Problem("file.invalid", (*path, "switch"), says, "give that circuit another name", "key")


def _behind(said: Said) -> tuple[str | None, str | None]:
    """The switch and the behaviour that something has; only lamps have one of their own."""
    return said.switch, said.behaviour if isinstance(said, Lamp) else None


_VERBS = {"steady": "shine steadily", "flash": "flash", "dim": "be dimmed", "fade": "fade"}


def _by_switch(build: Build) -> dict[tuple[str, str | None], str]:
    """The circuit of each switch and behaviour that all that takes current names.

    It bears the name of the switch where only one behaviour is behind that, or where a table of that name agrees.
    """
    behind: dict[str, dict[str | None, None]] = {}
    for entry in entries(build):
        switch, behaviour = _behind(entry.said)
        if switch is not None and entry.said.circuit is None:
            behind.setdefault(switch, {})[behaviour] = None
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

    switched = _by_switch(build)

    def on_a_circuit(said: Said, name: str) -> Said:
        if said.circuit is not None or (isinstance(said, Lamp) and said.dice is not None):
            return said
        if said.switch is None:
            return said.model_copy(update={"name": name, "circuit": imply(f"circuit of {name}", "nothing")})
        behaviour = _behind(said)[1]
        circuit = imply(switched[said.switch, behaviour], "switch", behaviour or "steady")
        return said.model_copy(update={"circuit": circuit})

    sections: dict[str, tuple[Said, ...]] = {}
    for kind in CONSUMERS:
        section: tuple[Said, ...] = getattr(build, kind)
        counted = [_counted(said) if isinstance(said, Lamp) else said for said in section]
        names = complete((said.name, f"{kind} at {said.place}") for said in counted)
        sections[kind] = tuple(map(on_a_circuit, counted, names))
    for name in dict.fromkeys(_named(build)):
        if name not in circuits and not name.endswith(("+", "-")) and nearest(name, build.circuit) is None:
            imply(name, "name")
    for name, table in build.circuit.items():
        if table.supply is None and table.board is None:
            implied[name] = "supply"
            circuits[name] = table.model_copy(update={"supply": only})
    if not implied and all(sections[kind] == getattr(build, kind) for kind in CONSUMERS):
        return build
    build = build.model_copy(update={**sections, "circuit": FrozenDict(circuits)})
    build._implied = FrozenDict(implied)
    return build


def stated(build: Build) -> Build:
    """The build with every circuit that has a supply taken as its table would say it, and no longer as understood."""
    left = {name: how for name, how in build.implied.items() if build.circuit[name].supply is None}
    if len(left) == len(build.implied):
        return build
    build = build.model_copy()
    build._implied = FrozenDict(left)
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
    """A lamp with a count as so many strings side by side, each on a lead of its own; the longest lead counts.

    Where the file says how many are in series or side by side, the other follows, and the count says no more than they do.
    """
    more: dict[str, Any] = {}
    if lamp.count is not None and lamp.model_fields_set & {"series", "parallel"}:
        more["count"] = None
        if "parallel" not in lamp.model_fields_set:
            more["parallel"] = lamp.count // lamp.series
        if "series" not in lamp.model_fields_set:
            more["series"] = lamp.count // lamp.parallel
    elif lamp.count is not None and lamp.parallel == 1:
        more["parallel"] = lamp.count
        if lamp.count > 1 and (lamp.lead is not None or lamp.leads):
            more["strings_share"] = "nothing"
    if lamp.leads and (lamp.lead is None or lamp.lead.length is None):
        more["lead"] = (lamp.lead or Lead()).model_copy(update={"length": max(lamp.leads)})
    return lamp.model_copy(update=more) if more else lamp
