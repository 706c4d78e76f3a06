"""What is still to be laid or to be fed: conductors, circuits and supplies of which the file does not say enough yet."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.record import Check
from postcheck.checks.shown import listed, millimetres
from postcheck.checks.wording import open_question
from postcheck.description.consumers import CONSUMERS
from postcheck.description.models import Build, Lead
from postcheck.description.names import described_by
from postcheck.description.naming import passages_of
from postcheck.description.printing import format_quantity
from postcheck.description.toml_text import in_toml, key_in_toml
from postcheck.description.units import Dimension
from postcheck.plain import quoted
from postcheck.report import NotJudged, Subject
from postcheck.survey import Survey
from postcheck.wiring import Wiring
from postcheck.wiring.parts import RunPart
from postcheck.wiring.through import through_passage
from postcheck.wiring.unbuilt import Unbuilt

# A length to show where the file gives none, m.
_UNMEASURED = 0.1
_ON_THE_WAY = "what is lost and what a short does on its way from {start} to {place}: nothing carries it there yet, where {joined:kind} "


def _unlaid(survey: Survey) -> Iterator[NotJudged]:
    yield from _nowhere(survey)
    for one in survey.wiring.unbuilt:
        if all(name in survey.wiring.open_ends for _, name in one.joined):
            continue
        fixture = one.joined[0][0] in ("supply", "board")
        verb = "takes its current" if fixture else "is joined" if len(one.joined) == 1 else "are joined"
        yield open_question(
            one.line,
            _ON_THE_WAY + verb,
            _run_missing(one),
            vital=True,
            plannable=True,
            lines=[
                *_known_circuit(survey.build, one.line),
                *_lead_elsewhere(survey, one),
                *_join_offered(survey, one),
                *_run_to_type(survey.build, one),
            ],
            parts={
                "start": Subject("place", one.start),
                "place": Subject("place", one.place),
                "joined": tuple(Subject(kind, name) for kind, name in one.joined),
            },
        )
    yield from _idle_runs(survey)


def _nowhere(survey: Survey) -> Iterator[NotJudged]:
    """Leads that do not say where they go, though nothing is laid to where their lamps are."""
    for name, places in survey.wiring.open_ends.items():
        part = survey.parts.named[name]
        assert part.said.lead is not None
        line, under = _lead_to_type(part.said.lead, places[0])
        yield open_question(
            name,
            "where its lead goes: it does not say, and nothing is laid to {place}, where it would then be joined",
            "`to {to}` in it, such as {line}",
            vital=True, plannable=True, parts={"place": Subject("place", part.place)}, words={"to": places[0], "line": line},
            lines=(line,), under=(*part.path[:2], *under),
        )  # fmt: skip


def _lead_to_type(lead: Lead, place: str) -> tuple[str, tuple[str, ...]]:
    """A lead with where it goes: the whole of it in one line where that says all, or else the key of its table."""
    if lead.model_fields_set - {"length", "wire", "wires", "colours"} or (lead.wires and lead.wire):
        return f"to = {in_toml(place)}", ("lead",)
    wires = " / ".join(lead.wires) if lead.wires else lead.wire
    words = [
        format_quantity(lead.length, Dimension.LENGTH) if lead.length else "",
        f"of {wires}" if wires else "",
        f"to {place}",
    ]
    colours = f", {'/'.join(lead.colours)}" if lead.colours else ""
    return f"lead = {in_toml(' '.join(filter(None, words)) + colours)}", ()


def _run_missing(one: Unbuilt) -> str:
    return "a run" + (", and its length" if one.length is None else "")


def _run_to_type(build: Build, one: Unbuilt) -> Iterator[str]:
    """The table of the run that is missing: of the wire that its neighbours have, and as long as they or the way through need it."""
    beside = [run for run in build.run if set(run.ends) == {one.start, one.place} and not run.spare]
    yield "[[run]]"
    yield f"line = {in_toml(one.line)}"
    yield f"ends = {_listed(one.start, one.place)}"
    if one.hops > 1 and one.through:
        yield f"through = {_listed(*one.through)}"
    wire = next((run.wire for run in (*beside, *build.run) if run.wire), None)
    if wire is not None and build.usual.run is None:
        yield f"wire = {in_toml(wire)}"
    if one.length is not None:
        yield f'length = "{millimetres(one.length)}"'
        return
    passages = passages_of(build)
    least = sum(through_passage(passages[name]) for name in one.through)
    length = next((run.length for run in beside if run.length), least) or _UNMEASURED
    yield f'length = "{millimetres(length)}"  # as you measure it'


def _lead_elsewhere(survey: Survey, one: Unbuilt) -> Iterator[str]:
    """What may be wrong instead, where one lead goes to a place that its line does not reach, and the others do not."""
    wiring = survey.wiring
    if len(one.joined) > 1 or one.joined[0][0] not in CONSUMERS:
        return
    name = one.joined[0][1]
    comes = {node.place for node in wiring.built if node.net == one.line}
    others = {
        leg.joint.place
        for consumer in wiring.consumers
        if consumer.name != name
        for leg in consumer.legs
        if leg.joint in wiring.built and leg.joint.place in comes - {one.place}
    }
    if others:
        listed = " or ".join(in_toml(place) for place in sorted(others)[:3])
        yield f"# unless the lead of {quoted(name)} goes to {listed}, as others do, and not to {in_toml(one.place)}; else:"


def _known_circuit(build: Build, name: str) -> Iterator[str]:
    """What may be wrong instead, where a circuit is named that the file does not describe, and describes others."""
    if build.implied.get(name) == "name" and (known := _described(build)):
        yield f"# unless the circuit {quoted(name)} is one that the file describes: {listed(known)}; else:"


def _described(build: Build) -> list[str]:
    return [name for name in build.circuit if name not in build.implied]


def _listed(*names: str) -> str:
    return f"[{', '.join(map(in_toml, names))}]"


def _join_offered(survey: Survey, one: Unbuilt) -> Iterator[str]:
    """The join that may do instead, where a circuit begins at a pole that reaches the place, with nothing between them."""
    wiring = survey.wiring
    driver = wiring.drivers.get(one.line)
    if driver is None or driver.driven or wiring.node(driver.pole, one.place) not in wiring.built:
        return
    yield "# if it needs no run, as its pole comes there:"
    yield "# [[join]]"
    yield f"# place = {in_toml(one.place)}"
    yield f"# lines = {_listed(driver.pole, one.line)}"


def idle_runs(wiring: Wiring) -> tuple[RunPart, ...]:
    """Runs whose line reaches neither of their ends."""
    reached = {
        edge.name for edge in wiring.edges if edge.kind in ("conductor", "body") and edge.a in wiring.live
    }
    runs = wiring.parts.runs
    return tuple(run for run in runs if run.live and run.name not in reached and run.line in wiring.poles)


def _idle_runs(survey: Survey) -> Iterator[NotJudged]:
    for run in idle_runs(survey.wiring):
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
                name, "what everything on it gets", 'its volts, such as volts = "12 V"', vital=True,
                lines=('volts = "12 V"',), under=("supply", name),
            )  # fmt: skip
    for name, how in build.implied.items():
        circuit = build.circuit[name]
        if how == "nothing":
            for part in survey.parts.apart:
                if part.circuit == name:
                    missing = 'its circuit or switch, such as switch = "cabin"'
                    yield open_question(
                        part.name, "what it gets: no circuit feeds it", missing, vital=True,
                        lines=('switch = "cabin"',), under=part.path,
                    )  # fmt: skip
        elif circuit.supply is None:
            yield open_question(
                name, "what it gets: nothing says which supply feeds it", "its supply", vital=True,
                lines=circuit_to_type(build, name) if build.supply else supply_to_type(build),
                under=("circuit", name) if build.supply and how == "supply" else (),
            )  # fmt: skip
        else:
            known = _described(build) if how == "name" else []
            yield open_question(
                name,
                (
                    "whether it is one of the circuits that the file describes ({known}), or one of its own: "
                    if known
                    else "whether it is "
                )
                + f"fed by {{supply}}, the only supply, as is taken{_AS_TAKEN.get(how, '')}",
                "its supply" if how == "supply" else "its right name or its table" if known else "its table",
                words={"known": listed(known)},
                vital=survey.stage != "planning",
                plannable=True,
                parts={"supply": Subject("supply", circuit.supply)},
                lines=(*_known_circuit(build, name), *circuit_to_type(build, name)),
                under=("circuit", name) if how == "supply" else (),
            )


_AS_TAKEN = {"name": ", and shines steadily"}


def supply_to_type(build: Build) -> tuple[str, ...]:
    """The table of a supply, for a file that has none."""
    return described_by(build, "supply", "main")


def circuit_to_type(build: Build, name: str) -> tuple[str, ...]:
    """The table of a circuit as it was understood, or what its table lacks; on the first supply, where there are several."""
    circuit = build.circuit[name]
    supply = f"supply = {in_toml(circuit.supply or next(iter(build.supply), 'main'))}"
    if build.implied.get(name) == "supply":
        return (supply,)
    return f"[circuit.{key_in_toml(name)}]", supply, f"behaviour = {in_toml(circuit.behaviour)}"


CHECKS: tuple[Check, ...] = (
    Check(
        "line.unbuilt", "note", "line", "a line that nothing carries to where it is needed", "What is not laid loses no volts and opens no fuse.",
        "what no path joins to the supply", (), "what the file says", _unlaid, asks=True,
    ),
    Check(
        "circuit.unfed", "note", "circuit", "a circuit that no supply feeds", "Without volts there is nothing to judge.",
        "a supply with its volts is given", (), "what the file says", _unfed, asks=True,
    ),
)  # fmt: skip
