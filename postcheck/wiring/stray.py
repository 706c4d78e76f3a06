"""Resistors that sit where no conductor of their own leads on to the lamp."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from postcheck.description.naming import passages_of
from postcheck.description.problems import Problem
from postcheck.plain import first_few, quoted
from postcheck.wiring.consumers import Consumer
from postcheck.wiring.parts import LampPart
from postcheck.wiring.resolved import Wiring

_NAMED = 3  # of those that are connected at one node


def stray_resistors(wiring: Wiring) -> Iterator[Problem]:
    """Resistors at a place from where no conductor of their own goes on to the lamp, reported once for each such line.

    A resistor sits with its lamp or where its lead ends. Anywhere else it sits in the line itself, which then has to
    carry this one string and nothing else from there on. Of a line that is still to be laid nobody knows.
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
        if leg.joint not in wiring.built:
            continue
        line = consumer.driver.net(leg.side)
        alone = lamp.resistors == 1 and joined[leg.joint] == lamp.parallel
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
    return first_few([quoted(consumer.name) for consumer in consumers], _NAMED)
