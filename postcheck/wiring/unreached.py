"""Whether everything is joined: each consumer to its net's beginning, each run to something that can feed it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from postcheck.description.naming import passages_of
from postcheck.description.problems import Problem
from postcheck.plain import quoted
from postcheck.wiring.consumers import Consumer
from postcheck.wiring.parts import LampPart
from postcheck.wiring.resolved import Wiring

_NAMED = 3  # of those that are connected at one node


def unreached(wiring: Wiring) -> list[Problem]:
    """Lamps, strips and loads that no conductor reaches, and runs that join nothing to a supply."""
    found = [*_consumers(wiring), *_idle_runs(wiring)]
    return found or list(_stray_resistors(wiring))


def _consumers(wiring: Wiring) -> Iterator[Problem]:
    """One problem for each node that nothing comes to, however many are connected there."""
    dark: dict[tuple[str, str], list[Consumer]] = {}
    for consumer in wiring.consumers:
        for leg in consumer.legs:
            if consumer.string == 0 and leg.joint not in wiring.live:
                dark.setdefault((consumer.driver.net(leg.side), leg.joint.place), []).append(consumer)
    for (line, place), consumers in dark.items():
        yield Problem(
            "file.unreached", consumers[0].path[:2],
            f"nothing carries line {quoted(line)} to {quoted(place)}, where {_listed(consumers)} joined",
            _join_offered(wiring, line, place)
            + f"a [[run]] with line = \"{line}\" that ends at \"{place}\" is missing, or "
            + ("its lead goes elsewhere" if len(consumers) == 1 else "their leads go elsewhere"), "key",
            about=consumers[0].name,
        )  # fmt: skip


def _join_offered(wiring: Wiring, line: str, place: str) -> str:
    """The join that is missing where a circuit begins at a pole that comes to the place, with nothing between them."""
    driver = wiring.drivers.get(line)
    if (
        driver is None
        or driver.supply is None
        or driver.driven
        or wiring.node(driver.pole, place) not in wiring.live
    ):
        return ""
    return (
        f'if {quoted(driver.pole)}, which comes there, feeds it: [[join]] place = "{place}", '
        f'lines = ["{driver.pole}", "{line}"]; else '
    )


def _listed(consumers: Sequence[Consumer]) -> str:
    """As in: lamp 'bow' is; 4 lamps ('a', 'b', 'c' and 1 more) are."""
    if len(consumers) == 1:
        return f"{consumers[0].kind} {quoted(consumers[0].name)} is"
    counts = Counter(consumer.kind for consumer in consumers)
    kinds = " and ".join(f"{count} {kind}{'s' if count > 1 else ''}" for kind, count in counts.items())
    return f"{kinds} ({_named(consumers)}) are"


def _idle_runs(wiring: Wiring) -> Iterator[Problem]:
    reached = {
        edge.name for edge in wiring.edges if edge.kind in ("conductor", "body") and edge.a in wiring.live
    }
    for run in wiring.parts.runs:
        if run.live and run.name not in reached:
            yield Problem(
                "file.unreached", run.path,
                f"run {quoted(run.name)} joins nothing: line {quoted(run.line)} does not come to {quoted(run.ends[0])} or {quoted(run.ends[1])}",
                "join it to the rest of its line, or mark it spare = true", "key", about=run.name,
            )  # fmt: skip


def _stray_resistors(wiring: Wiring) -> Iterator[Problem]:
    """Resistors at a place from where no conductor of their own goes on to the lamp, reported once for each such line.

    A resistor sits with its lamp or where its lead ends. Anywhere else it sits in the line itself, which then has to
    carry this one string and nothing else from there on.
    """
    passed = {
        name: (passage.start, passage.end)
        for passage in passages_of(wiring.build).values()
        for name in passage.through
    }
    lamps = {lamp.name: lamp for lamp in wiring.parts.lamps}
    joined = Counter(leg.joint for consumer in wiring.consumers for leg in consumer.legs)
    strays: dict[tuple[str, str, str, bool], list[Consumer]] = {}
    for consumer in wiring.consumers:
        lamp = lamps.get(consumer.name)
        if lamp is None or lamp.resistor is None or consumer.string > 0 or _sits_with(lamp, passed):
            continue
        seat, leg = lamp.resistor.place, consumer.leg(lamp.resistor.side)
        line = consumer.driver.net(leg.side)
        resistors = 1 if lamp.one_resistor else lamp.parallel
        alone = resistors == 1 and joined[leg.joint] == lamp.parallel
        passes = wiring.passes(line, consumer.driver.place or "", seat, leg.joint.place)
        if not (alone and passes):
            strays.setdefault((line, seat, leg.joint.place, passes), []).append(consumer)
    for (line, place, joint, passes), consumers in strays.items():
        sit = (
            f"resistor of {quoted(consumers[0].name)} sits"
            if len(consumers) == 1
            else f"resistors of {_named(consumers)} sit"
        )
        yield Problem(
            "file.unreached", (*consumers[0].path[:2], "resistor"),
            f"the {sit} at {quoted(place)}, and "
            + (
                f"from there to {quoted(joint)} line {quoted(line)} is all there is, for several strings"
                if passes
                else f"line {quoted(line)} does not go through there to {quoted(joint)}, where the lamp is joined"
            ),
            f"put {'it' if len(consumers) == 1 else 'them'} with the lamp or at {quoted(joint)}"
            + ("; a string that has a conductor of its own from there has a circuit of its own" if passes else ""),
            about=consumers[0].name,
        )  # fmt: skip


def _sits_with(lamp: LampPart, passed: dict[str, tuple[str, str]]) -> bool:
    """Whether a resistor sits with its lamp, at a joint of its lead, or at an end of a passage that the lead goes through."""
    assert lamp.resistor is not None
    return lamp.resistor.place in {
        lamp.place, *lamp.places, lamp.supply_leg.to, lamp.return_leg.to, *passed.get(lamp.entry, ()),
    }  # fmt: skip


def _named(consumers: Sequence[Consumer]) -> str:
    names = ", ".join(quoted(consumer.name) for consumer in consumers[:_NAMED])
    return f"{names} and {len(consumers) - _NAMED} more" if len(consumers) > _NAMED else names
