"""What is measured next, of leads that are not told apart yet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from postcheck.identification import Fit, Found, Next, Step
from postcheck.identifying.apart import Apart
from postcheck.lead_readings import LeadReading

# What a step costs at the bench, beside a reading.
_EFFORT: dict[Step, float] = {"volts": 1.0, "colour": 1.0, "place": 1.5, "whole": 4.0, "more volts": 4.0}

# A step, and what it tells for its effort.
_Worth = tuple[float, Next]


def next_step(
    apart: Apart, taken: Sequence[LeadReading], left: Mapping[str, Sequence[int]], found: Sequence[Found]
) -> Next | None:
    """The step that tells most for its effort; of a lead that was not read yet, its volts."""
    steps: list[_Worth] = []
    if len(taken) < len(apart.unmarked):
        steps.append(_step(apart, "volts", "", range(len(apart.unmarked))))
    for one, known in zip(taken, found, strict=True):
        if not known.sure and not known.known:
            steps += _of_lead(apart, one, known, left[one.lead])
    worth, best = max(steps, key=lambda step: step[0], default=(0.0, None))
    return best if worth > 0.0 else None


def _of_lead(apart: Apart, one: LeadReading, known: Found, may: Sequence[int]) -> Iterator[_Worth]:
    """What can be measured of a lead that was read, and may be any of these."""
    meter, unmarked = apart.meter, apart.unmarked
    if not one.turned.said and one.first.said and meter.seems_dark(one.first):
        yield 10.0, Next("turn", one.lead, 1.0)  # a diode conducts one way: nothing is known before
        return
    if known.dark:
        # where nothing lights it no reading helps, and legs that are whole say nothing of the LEDs between them
        if meter.identities.more is not None and any(meter.wants_more(unmarked[to]) for to in may):
            if not one.whole:
                yield 1.0 / _EFFORT["whole"], Next("whole", one.lead, 1.0)
            elif one.more is None:
                yield _step(apart, "more volts", one.lead, may)
        return
    if known.fits and not any(_can_light(apart, fit) for fit in known.fits):
        return
    if one.first.volts is None and one.turned.volts is None:
        yield _step(apart, "volts", one.lead, may)
    if not {one.first.seen, one.turned.seen} - {"", "dark", "lit"}:
        yield _step(apart, "colour", one.lead, may)
    if not one.place:
        yield _step(apart, "place", one.lead, may)


def _step(apart: Apart, step: Step, lead: str, may: Sequence[int]) -> _Worth:
    bits = apart.bits(may, step)
    return bits / _EFFORT[step], Next(step, lead, bits)


def _can_light(apart: Apart, fit: Fit) -> bool:
    (identity,) = (one for one in apart.unmarked if one.expected.name == fit.name)
    return any(
        max(each.first.amps_most, each.turned.amps_most) >= apart.meter.lights
        for each in identity.hypotheses
        if each.condition == fit.condition
    )
