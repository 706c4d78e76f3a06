"""Plugs beside what they belong to: a pin that joins the same two places as a run of its line is asked about."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.problems import Problem
from postcheck.plain import quoted
from postcheck.wiring.graph import Edge
from postcheck.wiring.resolved import Wiring


def plug_problems(wiring: Wiring) -> Iterator[Problem]:
    """Each plug that would lie side by side with runs of its own lines, with what can be typed instead."""
    runs = {frozenset((edge.a, edge.b)) for edge in wiring.edges if edge.kind in ("conductor", "body")}
    for index, plug in enumerate(wiring.build.plug):
        if plug.ends is None:
            continue
        # another plug may sit at either place: what counts is on which side of it pin and run end
        pins = zip(plug.pins, wiring.pins[plug.name], strict=False)
        beside = [(line, pin) for line, pin in pins if frozenset((pin.a, pin.b)) in runs]
        if beside:
            line, pin = beside[0]
            near, far = pin.a.place, pin.b.place
            if far in _fed_without(wiring, pin):
                near, far = far, near
            yield Problem(
                "file.invalid", ("plug", index, "ends"),
                f"plug {quoted(plug.name)} joins {quoted(plug.ends[0])} and {quoted(plug.ends[1])}, and so does a run of line "
                f"{quoted(line)}: side by side the plug would carry next to nothing",
                f'where the runs from {quoted(near)} end at the plug, write at = "{far}" instead of `ends`; where they begin at '
                f'it, write at = "{near}"',
                "key",
            )  # fmt: skip


def _fed_without(wiring: Wiring, pin: Edge) -> set[str]:
    """The places that the pin's net comes to from the supplies with all cut that joins the two places of the pin."""
    ends = {pin.a, pin.b}
    joins = [edge for edge in wiring.edges if {edge.a, edge.b} == ends]
    return {node.place for node in wiring.fed.reached(wiring.sources, without=joins) if node.net == pin.a.net}
