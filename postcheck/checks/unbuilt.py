"""What is still to be laid or to be fed: conductors, circuits and supplies of which the file does not say enough yet."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from postcheck.checks.lines_to_type import in_toml
from postcheck.checks.record import Check
from postcheck.checks.shown import millimetres
from postcheck.checks.wording import open_question
from postcheck.plain import quoted
from postcheck.report import NotJudged, Subject
from postcheck.survey import Survey
from postcheck.wiring.unbuilt import Unbuilt

_ON_THE_WAY = "what is lost and what a short does on its way from {start} to {place}: nothing carries it there yet, where {joined:kind} "


def _unlaid(survey: Survey) -> Iterator[NotJudged]:
    for one in survey.wiring.unbuilt:
        fixture = one.joined[0][0] in ("supply", "board")
        verb = "takes its current" if fixture else "is joined" if len(one.joined) == 1 else "are joined"
        yield open_question(
            one.line,
            _ON_THE_WAY + verb,
            "{typed}",
            vital=True,
            plannable=True,
            parts={
                "start": Subject("place", one.start),
                "place": Subject("place", one.place),
                "joined": tuple(Subject(kind, name) for kind, name in one.joined),
            },
            words={"typed": _join_offered(survey, one) + _run_to_type(one)},
        )
    yield from _idle_runs(survey)


def _run_to_type(one: Unbuilt) -> str:
    """The table of the run that is missing, in one line."""
    table: dict[str, str | Sequence[str]] = {"line": one.line, "ends": [one.start, one.place]}
    if one.hops > 1 and one.through:
        table["through"] = list(one.through)
    if one.length is None:
        return f"{_table('run', table)} and its length"
    return _table("run", {**table, "length": millimetres(one.length)})


def _table(name: str, keys: Mapping[str, str | Sequence[str]]) -> str:
    return f"[[{name}]] {_keys(keys)}"


def _keys(keys: Mapping[str, str | Sequence[str]]) -> str:
    return ", ".join(
        f"{key} = {in_toml(value) if isinstance(value, str) else '[' + ', '.join(map(in_toml, value)) + ']'}"
        for key, value in keys.items()
    )


def _join_offered(survey: Survey, one: Unbuilt) -> str:
    """The join that is missing where a circuit begins at a pole that comes to the place, with nothing between them."""
    wiring = survey.wiring
    driver = wiring.drivers.get(one.line)
    if driver is None or driver.driven or wiring.node(driver.pole, one.place) not in wiring.built:
        return ""
    join = _table("join", {"place": one.place, "lines": [driver.pole, one.line]})
    return f"{join} if {quoted(driver.pole)}, which comes there, feeds it; else "


def _idle_runs(survey: Survey) -> Iterator[NotJudged]:
    """Runs whose line comes to neither end of them."""
    wiring = survey.wiring
    reached = {
        edge.name for edge in wiring.edges if edge.kind in ("conductor", "body") and edge.a in wiring.live
    }
    for run in survey.parts.runs:
        if run.live and run.name not in reached and run.line in wiring.poles:
            yield open_question(
                run.name,
                "what it carries: nothing joins {line} to either end of it",
                "a [[run]] that joins it to the rest of its line, or spare = true",
                vital=True,
                parts={"line": Subject("line", run.line)},
            )


def _unfed(survey: Survey) -> Iterator[NotJudged]:
    """Supplies without volts, and circuits that no supply feeds or only the one that there is."""
    build = survey.build
    for name, supply in build.supply.items():
        if name not in survey.wiring.known_supplies and supply.volts is None:
            yield open_question(
                name, "what everything on it gets", 'its volts, such as volts = "12 V"', vital=True
            )
    for name, how in build.implied.items():
        circuit = build.circuit[name]
        if how == "nothing":
            for part in survey.parts.apart:
                if part.circuit == name:
                    missing = 'its circuit or switch, such as switch = "cabin"'
                    yield open_question(part.name, "what it gets: no circuit feeds it", missing, vital=True)
        elif circuit.supply is None:
            yield open_question(
                name,
                "what it gets: nothing says which supply feeds it",
                _supply_to_type(survey, name),
                vital=True,
            )
        else:
            yield open_question(
                name,
                f"whether it is fed by {{supply}}, the only supply, as is taken{_AS_TAKEN.get(how, '')}",
                "{typed}",
                vital=survey.stage != "planning",
                plannable=True,
                parts={"supply": Subject("supply", circuit.supply)},
                words={"typed": _circuit_to_type(name, circuit.supply, circuit.behaviour, how)},
            )


_AS_TAKEN = {"name": ", and shines steadily"}


def _supply_to_type(survey: Survey, name: str) -> str:
    if survey.build.supply:
        return "its supply, such as " + _circuit_to_type(
            name, next(iter(survey.build.supply)), "steady", "supply"
        )
    place = in_toml(next(iter(survey.build.place), "base"))
    return (
        f'the supply, such as [supply.main] kind = "adaptor", place = {place}, volts = "12 V", rated = "1 A"'
    )


def _circuit_to_type(name: str, supply: str, behaviour: str, how: str) -> str:
    """The table of a circuit in one line, or what its table lacks."""
    keys = {"supply": supply} if how == "supply" else {"supply": supply, "behaviour": behaviour}
    key = name if _BARE.fullmatch(name) else in_toml(name)
    return f"[circuit.{key}] {_keys(keys)}"


_BARE = re.compile(r"[A-Za-z0-9_-]+")
CHECKS: tuple[Check, ...] = (
    Check(
        "line.unbuilt", "note", "line", "a line that nothing carries to where it is needed", "What is not laid loses no volts and opens no fuse.",
        "what no path joins to the supply", (), "what the file says", _unlaid,
    ),
    Check(
        "circuit.unfed", "note", "circuit", "a circuit that no supply feeds", "Without volts there is nothing to judge.",
        "a supply with its volts is given", (), "what the file says", _unfed,
    ),
)  # fmt: skip
