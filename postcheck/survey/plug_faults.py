"""What happens to the lamps when a plug is put in the wrong way round, or only part way."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.build.models import Build
from postcheck.survey.dice import rated_at
from postcheck.survey.figures import PlugFault
from postcheck.survey.parts import Parts
from postcheck.survey.states import States
from postcheck.survey.wiring import Corner, State

__all__ = ["plug_faults", "pole_faults"]

# A broken run is a whole solution: the trunk of a build is judged, not each twig.
MOST_BROKEN = 8


def plug_faults(build: Build, parts: Parts, states: States, corner: Corner) -> tuple[PlugFault, ...]:
    """For each plug that can be crossed or sit part way, what every lamp then sees; the worst way of each."""
    highest = corner._replace(supply=1)
    return tuple(
        fault
        for how, plug, state in _mishaps(build, states)
        for fault in _seen(build, parts, states, state, highest, plug, how)
    )


def pole_faults(build: Build, parts: Parts, states: States, corner: Corner) -> tuple[PlugFault, ...]:
    """For each run of a pole that leaves a supply's place, what every lamp sees when it breaks.

    With one supply everything behind the break goes dark. With several, current finds its way backwards through
    lamps of the weaker one.
    """
    if len(build.supply) < 2:
        return ()
    highest = corner._replace(supply=1)
    places = {supply.place for supply in build.supply.values()}
    trunk = [
        run
        for run in parts.runs
        if run.live and run.line.endswith(("+", "-", "-return")) and set(run.ends) & places
    ]
    return tuple(
        fault
        for run in trunk[:MOST_BROKEN]
        for fault in _seen(
            build, parts, states,
            states.everything._replace(name=f"run '{run.name}' broken", broken=frozenset({run.name})),
            highest, run.name, "broken",
        )
    )  # fmt: skip


def _mishaps(build: Build, states: States) -> Iterator[tuple[str, str, State]]:
    for plug in build.plug:
        if plug.keyed is False and len(plug.pins) > 1 and plug.pins != plug.pins[::-1]:
            yield (
                "crossed",
                plug.name,
                states.everything._replace(
                    name=f"plug '{plug.name}' crossed", crossed=frozenset({plug.name})
                ),
            )
        if plug.part_way:
            for number, line in enumerate(plug.pins):
                pins = frozenset({(plug.name, number)})
                yield (
                    f"pin {number + 1} ('{line}') not meeting",
                    plug.name,
                    states.everything._replace(
                        name=f"plug '{plug.name}' part way, pin {number + 1} open",
                        pins_open=pins,
                    ),
                )


def _seen(
    build: Build, parts: Parts, states: States, state: State, corner: Corner, plug: str, how: str
) -> Iterator[PlugFault]:
    solved = states.tried(state, corner)
    if solved is None:
        return
    for lamp in parts.lamps:
        if not lamp.dice:
            continue
        for position in solved.of("lamp", lamp.name)[:1]:
            volts = solved.across(position)
            yield PlugFault(
                plug, how, lamp.name, abs(solved.solution.amps[position]), max(0.0, -volts) / len(lamp.dice),
                min(rated_at(die, build.build.air[1]) for die in lamp.dice),
                lamp.dice[0].reverse,
            )  # fmt: skip
