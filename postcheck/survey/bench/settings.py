"""What the full supply does to a test point, and the setting of a bench supply that cannot hurt and still lights it."""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil, floor, inf, log10, sqrt

from postcheck.limits import Limits, above
from postcheck.physics import preferred
from postcheck.physics.root import root_between
from postcheck.survey.bench.figures import Band, ContactTest, Setting, Tester
from postcheck.survey.bench.rig import BENCH, EASIEST, HARDEST, Flow, Rig
from postcheck.survey.network.dice import destroyed
from postcheck.survey.network.resistor_choice import body_for
from postcheck.wiring.parts import LampPart

# A bench supply is set in tenths of a volt, and rarely shows less than a milliamp.
VOLT_STEP, LEAST_LIMIT = 0.1, 1e-3
# The limit is set so far above what is expected at most, or it would cut in and look like a fault.
LIMIT_ROOM = 1.1
# A resistor for the bench lead is sought from this value down, until it changes by less than a hundredth; it has a volt to
# drop at least, or it would not set the current.
FIRST_OHMS, TRIES, NEAR, LEFT_OVER = 1e6, 40, 0.01, 1.0
# How closely, as a share of its limit, the volts are found at which a supply reaches it.
GIVEN = 1e-12
TESTER_TOLERANCE = 0.05

Lamps = Mapping[str, LampPart]


def band(rig: Rig, volts: float, ohms: float) -> Band | None:
    """The current at a bench voltage over the tolerances of the parts, the supply's own left out; None without a solution.

    `ohms`: a resistor in the bench lead, as it comes.
    """
    flows = _flows(rig, volts, ohms)
    return _band(flows) if flows is not None else None


def _flows(rig: Rig, volts: float, ohms: float = 0.0) -> list[Flow] | None:
    """What flows with parts that take least, as they usually are, and that take most; `ohms` as they come."""
    flows = [
        rig.flow(volts, corner, ohms * (1.0 - corner.resistors * TESTER_TOLERANCE))
        for corner in (HARDEST, BENCH, EASIEST)
    ]
    found = [flow for flow in flows if flow is not None]
    return found if len(found) == len(flows) else None


def _band(flows: list[Flow]) -> Band:
    amps = [flow.amps for flow in flows]
    return Band(min(amps), amps[1], max(amps))


def contact_test(
    rig: Rig, lamps: Lamps, volts: float, ohms: float, gives: float, limits: Limits
) -> ContactTest:
    """The full supply (its highest volts, its own resistance, the most that it can give) put on the ends."""
    flow = rig.flow(volts, EASIEST, ohms)
    if flow is None:
        return ContactTest(volts, 0.0, "unknown")
    if flow.amps > gives:
        flow = _given(rig, volts, gives, flow)
    if not flow.strings:
        return ContactTest(volts, flow.amps, "lights")
    worst, most = max(flow.strings, key=lambda string: string[1] / lamps[string[0]].rated)
    rated = lamps[worst].rated
    if any(destroyed(lamps[name].dice, through, limits) for name, through in flow.strings):
        outcome = "destroyed"
    elif above(most, limits.value("lamp.current.caution") * rated):
        outcome = "too much"
    else:
        outcome = "lights" if most >= limits.value("bench.lights") else "dark"
    return ContactTest(volts, flow.amps, outcome, worst, most, rated)  # type: ignore[arg-type]


def setting(
    rig: Rig, lamps: Lamps, usual: float, limits: Limits, more: float, *, steadily: bool
) -> Setting | None:
    """The usual volts where the parts behind the ends keep the current in bounds, else few volts and a limit that holds it.

    `more`: what motors and the like take beyond that while they start, A. `steadily`: in the model it flashes or is
    dimmed, on the bench it is held on; then the limit lets no string have more than it stands for good.
    """
    flows = _flows(rig, usual)
    if flows is None:
        return None
    if _within(flows[-1], lamps, limits):
        found = _just_above(flows, usual, more)
        return _held_on(found, rig, flows, lamps) if steadily else found
    aim = _aim(rig, lamps, limits)
    volts = _least_volts(rig, lamps, usual, aim)
    flows = _flows(rig, volts)
    if flows is None:
        return None
    # one string may take nearly all that the limit lets through, where nothing else keeps it from that
    over = [lamps[name].rated for name, amps in flows[-1].strings if amps > lamps[name].rated]
    limit = max(_step_down(min(_lit(flows[-1], aim), *over, inf)), LEAST_LIMIT)
    at = _band(flows)
    return Setting(volts, limit, Band(*(min(amps, limit) for amps in at)), True, at.most)


def usual_setting(
    rig: Rig, lamps: Lamps, usual: float, limits: Limits, more: float, *, steadily: bool
) -> Setting | None:
    """The usual volts, and a limit above what is expected: of parts that could take more than they stand, at what they stand.

    `more` and `steadily` as for `setting`.
    """
    flows = _flows(rig, usual)
    if flows is None:
        return None
    found = _just_above(flows, usual, more)
    if steadily:
        found = _held_on(found, rig, flows, lamps)
    most = limits.value("lamp.current.stop")
    stood = min(
        (most * lamps[name].rated / amps for name, amps in flows[-1].strings if amps > 0.0), default=inf
    )
    if stood >= 1.0 or found.starting is not None:
        return found
    return _limited(found, stood * flows[-1].amps)


def gentle_setting(rig: Rig, lamps: Lamps, usual: float) -> Setting | None:
    """The most volts, in steps of a bench supply, at which every string stays within its continuous rating; None where there are none."""
    low, high = 0, ceil(usual / VOLT_STEP - 1e-9)
    while high - low > 1:
        middle = (low + high) // 2
        flow = rig.flow(middle * VOLT_STEP, EASIEST)
        stood = flow is not None and all(amps <= stands(lamps[name]) for name, amps in flow.strings)
        low, high = (middle, high) if stood else (low, middle)
    volts = round(low * VOLT_STEP, 6)
    flows = _flows(rig, volts) if low else None
    return _just_above(flows, volts, 0.0) if flows is not None else None


def _held_on(found: Setting, rig: Rig, flows: list[Flow], lamps: Lamps) -> Setting:
    """A setting whose limit keeps every string within its continuous rating."""
    most = _for_good(rig, found.volts, flows[-1], lamps)
    return found if most >= found.expected.most else _limited(found, most)


def _limited(found: Setting, most: float) -> Setting:
    """A setting with its limit at this current (A), and nothing above that to expect."""
    limit = max(_step_down(most), LEAST_LIMIT)
    if limit >= found.limit:
        return found
    expected = Band(*(min(amps, limit) for amps in found.expected))
    return found._replace(limit=limit, expected=expected, held=found.held or found.expected.usual > limit)


def _just_above(flows: list[Flow], volts: float, more: float) -> Setting:
    expected = _band(flows)
    starting = expected.most + more if more else None
    return Setting(volts, limit_above(starting or expected.most), expected, False, expected.most, starting)


def tester(rig: Rig, lamps: Lamps, usual: float, highest: float, limits: Limits) -> Tester | None:
    """The least standard resistor with which the full supply gives no string more than it stands, should it take all.

    Nor all of them together more than they are lit with at the bench. None where none that is sold would stand the heat.
    """
    aim = _aim(rig, lamps, limits)
    if not aim:
        return None
    # downwards from more ohms than are needed, by the volts left across the ends at the current that these let through
    ohms, total = inf, 0.0
    for _ in range(TRIES):
        flow = rig.flow(highest, EASIEST, min(ohms, FIRST_OHMS))
        if flow is None:
            return None
        total = total or min(_lit(flow, aim), *(lamps[name].rated for name in aim))
        kept = highest - flow.amps * min(ohms, FIRST_OHMS)
        before, ohms = ohms, max(highest - kept, LEFT_OVER) / total
        if before - ohms <= NEAR * ohms:
            break
    ohms = preferred.at_least(ohms / (1.0 - TESTER_TOLERANCE), "E12")
    flows = _flows(rig, usual, ohms)
    # where the ends touch each other it has all the volts: P = U2 / R
    body = body_for(highest * highest / (ohms * (1.0 - TESTER_TOLERANCE)), limits)
    return Tester(ohms, body[0], usual, _band(flows)) if flows is not None and body is not None else None


def _lit(flow: Flow, aim: Mapping[str, float]) -> float:
    """What all strings take that get what they are lit with, A."""
    return sum(aim[name] for name, _ in flow.strings)


def _given(rig: Rig, volts: float, gives: float, over: Flow) -> Flow:
    """What flows when the supply is at its limit: its volts fall until the ends take just that, whatever ohms it has.

    Then the strings share otherwise than at the full volts: what needs few volts keeps most.
    """
    flow = over

    def beyond(lowered: float) -> float:
        nonlocal flow
        flow = rig.flow(lowered, EASIEST) or flow
        return flow.amps - gives

    root_between(beyond, 0.0, volts, -gives, over.amps - gives, within=GIVEN * gives)
    return flow


def limit_above(amps: float) -> float:
    """The current limit to set for an expected most, A: a little above it, so that it does not cut in."""
    return max(_step_up(amps * LIMIT_ROOM), LEAST_LIMIT)


def stands(lamp: LampPart) -> float:
    """What a string of a lamp withstands continuously, A: its rated current, or less if its resistor's power allows less."""
    resistor = lamp.resistor
    if resistor is None or resistor.power is None:
        return lamp.rated
    strings = lamp.parallel if lamp.one_resistor else 1
    return min(lamp.rated, sqrt(resistor.power / resistor.ohms) / strings)


def _for_good(rig: Rig, volts: float, flow: Flow, lamps: Lamps) -> float:
    """The most that all strings may get from a supply at its limit, A, with each within its continuous rating."""
    for _ in range(TRIES):
        fraction = min((stands(lamps[name]) / amps for name, amps in flow.strings if amps > 0.0), default=inf)
        if fraction >= 1.0 - NEAR / 10.0:
            break
        flow = _given(rig, volts, flow.amps * fraction, flow)
    return flow.amps


def _within(flow: Flow, lamps: Lamps, limits: Limits) -> bool:
    most = limits.value("lamp.current.stop")
    return all(amps <= most * lamps[name].rated for name, amps in flow.strings)


def _aim(rig: Rig, lamps: Lamps, limits: Limits) -> dict[str, float]:
    """What each string is lit with at the bench: a filament with its rating, an LED with little."""
    current = limits.value("bench.current")
    return {
        name: lamps[name].rated
        if lamps[name].dice[0].filament_volts
        else min(current, lamps[name].wanted or inf, lamps[name].rated)
        for name in rig.test_point.lamps
    }


def _all_get(flow: Flow | None, aim: Mapping[str, float]) -> bool:
    return flow is not None and all(amps >= aim[name] * (1.0 - 1e-6) for name, amps in flow.strings)


def _least_volts(rig: Rig, lamps: Lamps, most: float, aim: Mapping[str, float]) -> float:
    """The least voltage, in steps of a bench supply, at which the hardest parts get what they are lit with; else the most.

    Filaments get the step that comes nearest to it: theirs is the rating itself.
    """
    half = VOLT_STEP / 2.0 if all(lamps[name].dice[0].filament_volts for name in aim) else 0.0
    low, high = 0, ceil(most / VOLT_STEP)
    while high - low > 1:
        middle = (low + high) // 2
        enough = _all_get(rig.flow(middle * VOLT_STEP + half, HARDEST), aim)
        low, high = (low, middle) if enough else (middle, high)
    return round(min(high * VOLT_STEP, most), 6)


def _step_up(amps: float) -> float:
    step = _step(amps)
    return round(ceil(amps / step - 1e-9) * step, 9)


def _step_down(amps: float) -> float:
    step = _step(amps)
    return round(floor(amps / step + 1e-9) * step, 9)


def _step(amps: float) -> float:
    """How finely a current limit is set: a milliamp, and from 50 mA on about a tenth."""
    return max(LEAST_LIMIT, 10.0 ** floor(log10(max(amps, LEAST_LIMIT) * 2.0)) / 10.0)
