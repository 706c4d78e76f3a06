"""Plugs beside what they belong to: a pin that joins the same two places as a run of its line is asked about."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.problems import Problem
from postcheck.plain import quoted
from postcheck.wiring.resolved import Wiring

__all__ = ["plug_problems"]


def plug_problems(wiring: Wiring) -> Iterator[Problem]:
    """Each plug that would lie side by side with runs of its own lines, with what can be typed instead."""
    runs = {frozenset((edge.a, edge.b)) for edge in wiring.edges if edge.kind in ("conductor", "body")}
    for index, plug in enumerate(wiring.build.plug):
        if plug.ends is None:
            continue
        first, second = plug.ends
        # another plug may sit at either place: what counts is on which side of it pin and run end
        pins = zip(plug.pins, wiring.pins[plug.name], strict=False)
        beside = [line for line, pin in pins if frozenset((pin.a, pin.b)) in runs]
        if beside:
            yield Problem(
                "file.invalid", ("plug", index, "ends"),
                f"plug {quoted(plug.name)} joins {quoted(first)} and {quoted(second)}, and so does a run of line "
                f"{quoted(beside[0])}: side by side the plug would carry next to nothing",
                f'where the runs end at the plug, write at = "{second}" instead of `ends`; where they begin at it, at = "{first}"',
                "key",
            )  # fmt: skip
