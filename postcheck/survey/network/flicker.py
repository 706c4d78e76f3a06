"""What steady lamps do when flashers come on, through everything that they share."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.models import Build
from postcheck.survey.network.elements import Corner
from postcheck.survey.network.figures import Step
from postcheck.survey.network.solved import Solved
from postcheck.survey.network.states import States
from postcheck.wiring.parts import Parts


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
            steps += _between(parts, quiet, lit, flasher, build.circuit[flasher].rate)
    together = states.solved(states.everything, corner) if len(states.flashers) > 1 else None
    if together is not None:
        steps += _between(parts, quiet, together, None, None)
    return tuple(steps)


def _between(
    parts: Parts, before: Solved, after: Solved, flasher: str | None, rate: float | None
) -> Iterator[Step]:
    for lamp in parts.lamps:
        off, on = before.amps("lamp", lamp.name), after.amps("lamp", lamp.name)
        if off and on and abs(off[0]) > 1e-9:
            yield Step(lamp.name, flasher, (on[0] - off[0]) / off[0], rate)
