"""What happens to everything on a plug when it is put in the wrong way round, or only part way."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations

from postcheck.description.models import Build
from postcheck.description.sockets import centre_of, sized
from postcheck.survey.network.dice import rated_at, worst_reverse
from postcheck.survey.network.elements import Corner
from postcheck.survey.network.figures import PlugFault
from postcheck.survey.network.netlist import State
from postcheck.survey.network.solved import Solved
from postcheck.survey.network.states import States
from postcheck.survey.network.supplies import converter_volts, rated_current
from postcheck.wiring import Wiring
from postcheck.wiring.parts import Part

# A broken run is a whole solution: the trunk of a build is judged, not each twig.
MOST_BROKEN = 8
# A supply asked for so many times its rating (or for so many A where none is given) is shorted.
SHORTED, SHORTED_AMPS = 10.0, 20.0


def plug_faults(wiring: Wiring, states: States, corner: Corner) -> tuple[PlugFault, ...]:
    """For each plug that can be crossed or sit part way, what every part then sees; the worst way of each."""
    highest = corner._replace(supply=1)
    return tuple(
        fault._replace(pin=pin)
        for how, plug, pin, state in _misconnections(wiring.build, states)
        for fault in _seen(wiring, states, state, highest, plug, how)
    )


def pole_faults(wiring: Wiring, states: States, corner: Corner) -> tuple[PlugFault, ...]:
    """For each run of a pole that leaves a supply's place, what every part sees when it breaks.

    With one supply everything behind the break goes dark. With several, current finds its way backwards through
    lamps of the weaker one.
    """
    build = wiring.build
    if len(build.supply) < 2:
        return ()
    highest = corner._replace(supply=1)
    places = {supply.place for supply in build.supply.values()}
    trunk = [
        run
        for run in wiring.parts.runs
        if run.live and run.line.endswith(("+", "-", "-return")) and set(run.ends) & places
    ]
    return tuple(
        fault
        for run in trunk[:MOST_BROKEN]
        for fault in _seen(
            wiring, states,
            states.everything._replace(name=f"run '{run.name}' broken", broken=frozenset({run.name})),
            highest, run.name, "broken",
        )
    )  # fmt: skip


def turned_faults(wiring: Wiring, states: States, corner: Corner) -> tuple[PlugFault, ...]:
    """What every part sees when an adaptor that fits, with the other pole at its centre, is plugged into a socket.

    `plug` is the supply, or the board with a socket, whose socket it is, `turned` the adaptor.
    """
    highest = corner._replace(supply=1)
    return tuple(
        fault._replace(turned=other)
        for kind, name, own, other in unlike_poles(wiring.build)
        for fault in _seen(
            wiring, states,
            states.everything._replace(
                name=f"'{other}' in the socket of '{name}'", turned=frozenset({own}),
                swapped=frozenset({(own, other)}),
            ),
            highest, name, "turned",
        )
        if kind == "supply" or _of_board(wiring, fault, name)
    )  # fmt: skip


def _of_board(wiring: Wiring, fault: PlugFault, board: str) -> bool:
    """Whether a part is a board, or driven by it."""
    if fault.kind == "board":
        return fault.part == board
    return any(
        part.name == fault.part and wiring.drivers[part.circuit].board == board for part in wiring.parts.all
    )


def unlike_poles(build: Build) -> Iterator[tuple[str, str, str, str]]:
    """Every socket, of a supply or a board, that an adaptor with the other pole at its centre fits.

    What it belongs to, its name, the supply that it is for, and that adaptor.
    """
    supplies = [("supply", name, name, supply.socket) for name, supply in build.supply.items()]
    boards = [("board", name, board.supply, board.socket) for name, board in build.board.items()]
    poled = [
        (kind, name, own, sized(socket or ""), pole)
        for kind, name, own, socket in (*supplies, *boards)
        if (pole := centre_of(socket))
    ]
    for (what, supply, _, one, pole), (kind, name, own, other, centre) in combinations(poled, 2):
        if what == "supply" and pole != centre:
            if one.goes_into(other):
                yield kind, name, own, supply
            if kind == "supply" and other.goes_into(one):
                yield kind, supply, supply, name


def _misconnections(build: Build, states: States) -> Iterator[tuple[str, str, int, State]]:
    for plug in build.plug:
        if plug.keyed is False and len(plug.pins) > 1 and plug.pins != plug.pins[::-1]:
            yield (
                "crossed",
                plug.name,
                0,
                states.everything._replace(
                    name=f"plug '{plug.name}' crossed", crossed=frozenset({plug.name})
                ),
            )
        if plug.part_way:
            for number in range(len(plug.pins)):
                pins = frozenset({(plug.name, number)})
                yield (
                    "part way",
                    plug.name,
                    number,
                    states.everything._replace(
                        name=f"plug '{plug.name}' part way, pin {number + 1} open",
                        pins_open=pins,
                    ),
                )


def _seen(
    wiring: Wiring, states: States, state: State, corner: Corner, plug: str, how: str
) -> Iterator[PlugFault]:
    build = wiring.build
    solved, why = states.tried_once(state, corner)
    if solved is not None and (idle := _unstarted(solved)):
        # its source still reaches, through its input, whatever has lost its return
        solved, why = states.tried_once(
            state._replace(name=f"{state.name}, {' and '.join(sorted(idle))} not started", unstarted=idle),
            corner,
        )
        if solved is not None and _starts_again(wiring, solved, idle, corner):
            yield PlugFault(plug, how, "unsolved", "")
    if solved is None:
        yield PlugFault(plug, how, why, "")
        return
    for part in wiring.parts.all:
        if part.dice:
            yield from _string(build, solved, plug, how, part)
    yield from _electronics(wiring, solved, plug, how)
    for name, supply in build.supply.items():
        drawn = max((abs(amps) for amps in solved.amps("supply", name)), default=0.0)
        if drawn > SHORTED * (rated_current(supply) or SHORTED_AMPS / SHORTED):
            yield PlugFault(plug, how, "short", name, drawn)


def _unstarted(solved: Solved) -> frozenset[str]:
    """The converters that do not start."""
    slots = solved.netlist.slots
    return frozenset(slots[position].name for position in solved.solution.will_not_start)


def _starts_again(wiring: Wiring, solved: Solved, idle: Iterable[str], corner: Corner) -> bool:
    """Whether a converter that does not start has the volts to: it tries again and again, and no steady state is its own."""
    for name in idle:
        supply = wiring.build.supply[name]
        plus, minus = (solved.volts(wiring.pole(supply.fed_by or "", sign, supply.place)) for sign in "+-")
        if (
            plus is not None
            and minus is not None
            and plus - minus >= converter_volts(supply, corner.supply)[2]
        ):
            return True
    return False


def _string(build: Build, solved: Solved, plug: str, how: str, part: Part) -> Iterator[PlugFault]:
    """The first string of a lamp or strip; the others are like it."""
    dice = part.dice
    for position in solved.of(part.kind, part.name)[:1]:
        given = [die.reverse for die in dice if die.reverse is not None]
        yield PlugFault(
            plug, how, part.kind, part.name, abs(solved.solution.amps[position]),
            min(rated_at(die, build.build.air[1]) for die in dice), worst_reverse(dice, -solved.across(position)),
            min(given, default=None), dice=len(dice),
        )  # fmt: skip


def _electronics(wiring: Wiring, solved: Solved, plug: str, how: str) -> Iterator[PlugFault]:
    """Boards, converters and other loads: the volts that they are fed with, and which way round."""
    build = wiring.build
    fed: list[tuple[str, str, str, str, float | None]] = [
        ("board", name, board.supply, board.place, board.reverse) for name, board in build.board.items()
    ]
    fed += [
        ("converter", name, supply.fed_by, supply.place, supply.reverse)
        for name, supply in build.supply.items()
        if supply.fed_by is not None
    ]
    for kind, name, source, place, stood in fed:
        plus, minus = (solved.volts(wiring.pole(source, sign, place)) for sign in "+-")
        if plus is not None and minus is not None:
            yield _fed(plug, how, kind, name, plus - minus, stood)
    for part in wiring.parts.all:
        for position in solved.of(part.kind, part.name) if not part.dice else ():
            yield _fed(plug, how, part.kind, part.name, solved.across(position), part.reverse)


def _fed(plug: str, how: str, kind: str, name: str, volts: float, stood: float | None) -> PlugFault:
    return PlugFault(
        plug, how, kind, name, reverse=max(0.0, -volts), reverse_stood=stood, volts=max(0.0, volts)
    )
