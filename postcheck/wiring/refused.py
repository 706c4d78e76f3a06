"""What a file is refused for once its names mean something: parts that contradict each other in how they are joined."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from postcheck.description.models import Build
from postcheck.description.naming import passages_between, passages_of, run_names
from postcheck.description.problems import Problem
from postcheck.description.toml_text import in_toml, key_in_toml
from postcheck.plain import first_few, quoted
from postcheck.wiring.consumers import Consumer
from postcheck.wiring.graph import Edge
from postcheck.wiring.nets import Nets
from postcheck.wiring.parts import LampPart, Parts
from postcheck.wiring.resolved import Wiring, resolve

_NAMED = 3  # of the strings whose resistors sit astray at one node


def wiring_problems(build: Build) -> list[Problem]:
    """What is wrong with what is joined to what, in a build whose values and names are sound."""
    wiring = resolve(build)
    return [
        *_plug_problems(wiring),
        *_switch_problems(wiring),
        *_metal_problems(build),
        *_string_problems(wiring.parts),
        *_shared_leg_problems(wiring),
    ] or list(_stray_resistors(wiring))


# -- plugs and switches


def _plug_problems(wiring: Wiring) -> Iterator[Problem]:
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
    """The places that the pin's net reaches from the supplies without anything that joins the two places of the pin."""
    ends = {pin.a, pin.b}
    joins = [edge for edge in wiring.edges if {edge.a, edge.b} == ends]
    return {node.place for node in wiring.fed.reached(wiring.sources, without=joins) if node.net == pin.a.net}


def _switch_problems(wiring: Wiring) -> Iterator[Problem]:
    """Switches away from where their line begins that nothing, or not everything, of it goes through."""
    open_lines = {one.line for one in wiring.unbuilt}
    for switch in wiring.switches.values():
        path = (switch.kind, switch.name, "on_off")
        plug = next(
            (plug for plug in wiring.build.plug if plug.at == switch.place and switch.line in plug.pins), None
        )
        if switch.begins or switch.line in open_lines:
            continue
        if plug is not None:
            says = f"plug {quoted(plug.name)} sits at {quoted(switch.place)} too, and the file does not say which of them comes first"
            yield Problem("file.invalid", path, says, "give one of them a place of its own", "key")
            continue
        own = [edge for edge in wiring.edges if edge.kind == "switch" and edge.name == switch.line]
        ahead = wiring.fed.reached(wiring.sources, without=own)
        passed = [
            consumer.name
            for consumer in wiring.every_consumer
            if switch.line in (consumer.driver.circuit, consumer.driver.pole)
            and not all(leg.joint in ahead for leg in consumer.legs)
        ]
        missed = [
            consumer.name
            for consumer in wiring.every_consumer
            if switch.line in (consumer.driver.circuit, consumer.driver.pole) and consumer.name not in passed
        ]
        if missed:
            says = f"the switch of {quoted(switch.name)} at {quoted(switch.place)} does not turn {quoted(missed[0])} off: its current does not go through {quoted(switch.place)} on line {quoted(switch.line)}"
            yield Problem(
                "file.invalid",
                path,
                says,
                "lay the runs of that line by way of that place, or leave the place out",
                "key",
            )


# -- the metal of a post or spar


def _metal_problems(build: Build) -> Iterator[Problem]:
    """Runs that take a passage's metal for two lines at once, or that name no passage whose metal it could be."""
    at, names = Nets(build).at, run_names(build)
    carried: dict[str, tuple[str, str]] = {}
    for index, run in enumerate(build.run):
        if not run.body or run.line is None:
            continue
        through = run.through or passages_between(build, run.ends)
        if not through:
            yield Problem(
                "file.invalid", ("run", index, "body"),
                f"no post or passage joins {quoted(run.ends[0])} and {quoted(run.ends[1])}, so there is no metal to conduct",
                'name it: through = ["post"]', "key",
            )  # fmt: skip
        for passage in through:
            other = carried.setdefault(passage, (run.line, names[index]))
            if all(at(other[0], end) != at(run.line, end) for end in run.ends):
                yield Problem(
                    "file.invalid", ("run", index, "body"),
                    f"the metal of {quoted(passage)} is line {quoted(other[0])} already ({quoted(other[1])}); as {quoted(run.line)} too it would be a dead short",
                    "give one of them a wire", "key",
                )  # fmt: skip


# -- strings


def _string_problems(parts: Parts) -> Iterator[Problem]:
    """Lamps whose strings are said to share what they cannot, or not to share what they must."""
    for lamp in parts.lamps:
        if lamp.parallel == 1 or lamp.said.strings_share is None:
            continue
        path = (*lamp.path[:2], "strings_share")
        if lamp.lead is None:
            yield Problem(
                "file.invalid", path, f"lamp {quoted(lamp.name)} has no lead whose legs its strings could share",
                'give it one, such as lead = "220 mm to hull", or leave `strings_share` out', "key",
            )  # fmt: skip
        elif lamp.resistor is not None and lamp.one_resistor and lamp.share != "lead" and _beside(lamp):
            yield Problem(
                "file.invalid", path,
                f"the strings of {quoted(lamp.name)} begin at one resistor that sits with them, so they share their lead",
                'write strings_share = "lead", or put the resistor at the joint',
            )  # fmt: skip
        elif lamp.resistor is not None and not lamp.one_resistor and lamp.share == "lead" and _at_joint(lamp):
            yield Problem(
                "file.invalid", path,
                f"each string of {quoted(lamp.name)} has its resistor at {quoted(lamp.resistor.place)}, and so a leg of its own to there",
                'write strings_share = "return" or "nothing", or give them one resistor (one_resistor = true)',
            )  # fmt: skip


def _shared_leg_problems(wiring: Wiring) -> Iterator[Problem]:
    """Lamps of several colours whose circuits come back to supplies that have no pole in common."""
    for index, lamp in enumerate(wiring.build.lamp):
        poles: dict[str, tuple[str, str]] = {}  # by net: a colour that returns to it, and its supply
        for colour, die in (lamp.dice or {}).items():
            driver = wiring.drivers[die.circuit]
            if driver.supply and driver.other_pole:
                poles.setdefault(wiring.nets.one_with(driver.other_pole), (colour, driver.supply))
        if len(poles) < 2:
            continue
        (pole, (colour, supply)), (other, (another, its)) = list(poles.items())[:2]
        hint = "feed them from one supply"
        if pole.endswith("-"):  # and so the other: all colours are switched on one side
            first, later = sorted((supply, its), key=list(wiring.build.supply).index)
            hint += f", or write shares_negative_with = {in_toml(first)} in [supply.{key_in_toml(later)}] where their negatives are joined"
        yield Problem(
            "file.invalid", ("lamp", index, "dice", another, "circuit"),
            f"{colour} goes to {quoted(pole)} and {another} to {quoted(other)}, but the colours share one leg", hint,
        )  # fmt: skip


def _beside(lamp: LampPart) -> bool:
    return lamp.resistor is not None and lamp.resistor.place in (lamp.place, *lamp.places)


def _at_joint(lamp: LampPart) -> bool:
    """Whether a resistor sits at the joint of its own leg, away from the lamp."""
    if lamp.resistor is None or _beside(lamp):
        return False
    leg = lamp.supply_leg if lamp.resistor.side == "supply" else lamp.return_leg
    return lamp.resistor.place == leg.to


# -- resistors


def _stray_resistors(wiring: Wiring) -> Iterator[Problem]:
    """Resistors at a place from where no conductor of their own goes on to the lamp, reported once for each such line.

    A resistor sits with its lamp or where its lead ends. Anywhere else it sits in the line itself, which then has to
    carry this one string and nothing else from there on. A line that is still to be laid is not judged.
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
