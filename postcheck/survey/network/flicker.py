"""What others do when flashers come on and while motors start, through everything that they share."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import chain

from postcheck.description.models import Build
from postcheck.physics.light import light_ratio
from postcheck.survey.network.averages import fade_depth
from postcheck.survey.network.elements import Corner
from postcheck.survey.network.figures import Dip, Sag, Step
from postcheck.survey.network.netlist import State
from postcheck.survey.network.solved import Solved
from postcheck.survey.network.states import States
from postcheck.wiring.parts import MOTOR_STARTS, LampPart, LoadPart, Parts, StripPart

# A current that counts as none, A: what does not light cannot jump.
NONE = 1e-9


def flicker_steps(build: Build, parts: Parts, states: States, corner: Corner) -> tuple[Step, ...]:
    """The step of every other lamp for each flasher alone, and for all flashers at once where there are several.

    Flashers of unlike rates come on together now and then; that is the largest step there is.
    """
    quiet = states.solved(states.quiet, corner)
    if quiet is None:
        return ()
    steps: list[Step] = []
    for flasher, state in states.alone.items():
        lit = states.solved(state, corner)
        if lit is not None:
            said = build.circuit[flasher]
            steps += _between(parts, quiet, lit, flasher, said.rate, fade_depth(said))
    for lamp, state in states.by_itself.items():
        lit, part = states.solved(state, corner), parts.named[lamp]
        if lit is not None and isinstance(part, LampPart):
            found = _between(parts, quiet, lit, lamp, part.flashes)
            steps += (step._replace(by="lamp") for step in found)
    together = states.solved(states.everything, corner) if len(states.flashers) > 1 else None
    if together is not None:
        steps += _between(parts, quiet, together, None, None)
    return tuple(steps)


def _between(
    parts: Parts,
    before: Solved,
    after: Solved,
    flasher: str | None,
    rate: float | None,
    depth: float = 1.0,
) -> Iterator[Step]:
    for part, share in _changes(parts, before, after):
        yield Step(part.kind, part.name, flasher, share * depth, rate)


def _changes(parts: Parts, before: Solved, after: Solved) -> Iterator[tuple[LampPart | StripPart, float]]:
    """The relative change of light of every lamp and strip that is lit before; of a strip that of its worst string."""
    both: Iterable[LampPart | StripPart] = chain(parts.lamps, parts.strips)
    for part in both:
        filament = bool(part.dice) and part.dice[0].filament_volts is not None
        pairs = zip(before.amps(part.kind, part.name), after.amps(part.kind, part.name), strict=False)
        found = [
            light_ratio(max(on / off, 0.0), 1.0, filament=filament) - 1.0
            for off, on in pairs
            if abs(off) > NONE
        ]
        if found:
            yield part, max(found, key=abs)


def start_dips(build: Build, parts: Parts, states: States, corner: Corner) -> tuple[Dip, ...]:
    """What every lamp and strip that does not flash loses while each load starts, with everything else on and running.

    A motor of which the file gives no starting current is taken to start as motors do.
    """
    running = states.solved(states.everything, corner)
    if running is None:
        return ()
    return tuple(
        Dip(part.kind, part.name, load.name, -share, amps, load.starting is not None)
        for load, amps in _starters(parts)
        if (starting := states.tried(starts(states, load.name, amps), corner)[0]) is not None
        for part, share in _changes(parts, running, starting)
        if share < 0.0 and build.circuit[part.circuit].behaviour != "flash"
    )


def start_sags(build: Build, parts: Parts, states: States, corner: Corner) -> tuple[Sag, ...]:
    """What is left for every load and board that needs a least voltage while each other load starts, all else on and running."""
    running = states.solved(states.everything, corner)
    needy: list[tuple[str, str, float]] = [
        (load.kind, load.name, load.lowest) for load in parts.loads if load.lowest is not None
    ]
    needy += [
        ("board", name, board.least_volts)
        for name, board in build.board.items()
        if board.least_volts is not None
    ]
    if running is None or not needy:
        return ()
    sags = []
    for load, amps in _starters(parts):
        start = starts(states, load.name, amps)
        usual, low = (states.tried(start, of)[0] for of in (corner, corner._replace(supply=-1)))
        if usual is None or low is None:
            continue
        for kind, name, needs in needy:
            now, before, least = (_gets(states, solved, kind, name) for solved in (usual, running, low))
            if name != load.name and now is not None and before is not None and least is not None:
                sags.append(
                    Sag(kind, name, load.name, needs, now, before, least, amps, load.starting is not None)
                )
    return tuple(sags)


def _starters(parts: Parts) -> list[tuple[LoadPart, float]]:
    """The loads that take more while they start, and how much, A."""
    return [(load, load.most + surge) for load in parts.loads if (surge := load.surge(MOTOR_STARTS))]


def _gets(states: States, solved: Solved, kind: str, name: str) -> float | None:
    """The volts at the terminals of a load, or between the poles where a board is; None where they are not known."""
    if kind != "board":
        return abs(solved.across(solved.of(kind, name)[0]))
    board = states.build.board[name]
    plus, minus = (solved.volts(states.wiring.pole(board.supply, sign, board.place)) for sign in "+-")
    return None if plus is None or minus is None else plus - minus


def starts(states: States, load: str, amps: float) -> State:
    """One load takes so much, A, with all else on and running."""
    return states.everything._replace(name=f"'{load}' starts", starts=(load, amps))
