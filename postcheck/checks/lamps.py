"""Lamps: whether each is limited to a current it survives, and wired the right way round."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks import brightness
from postcheck.checks.fact import of_rating
from postcheck.checks.known import filament, is_bare, known_lamps, steady_current
from postcheck.checks.record import DANGER, Check
from postcheck.checks.shown import amps, celsius, count_of, percent, seconds, volts
from postcheck.description.naming import supply_of
from postcheck.limits import Limit
from postcheck.physics import pulse
from postcheck.physics.network import FILAMENT_EXPONENT
from postcheck.plain import quoted
from postcheck.report import Figure, Finding, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.dice import destroyed, reverse_stood, worst_reverse
from postcheck.survey.network.electrics import LEFT
from postcheck.survey.network.figures import LampFigures
from postcheck.wiring.parts import DieData

__all__ = ["CHECKS"]

# A rating below this share of that in the room's own air is told with the air that makes it so.
DERATED = 0.98
# A die is as warm as it gets after about this time, s (from memory).
WARM = 1e-3


# -- too much


def _no_resistor(survey: Survey) -> Iterator[Finding | NotJudged]:
    for part in survey.parts.lamps:
        if not is_bare(survey, part):
            continue
        figures = survey.electrics.lamps.get(part.name)
        rated = min(die.rated for die in part.dice)
        flows = f", where {amps(rated)} is its rating"
        severity: Severity = "stop"
        shown = {"rated": Figure(rated, "A")}
        if figures is not None:
            # Far beyond its rating the curve of a die is no longer known: it does not live to show it.
            if destroyed(part.dice, figures.nominal, survey.limits):
                flows = f"; it gets far more than its rating of {amps(rated)} and burns out"
            else:
                flows = f", and up to {amps(figures.highest)} would flow where {amps(rated)} is its rating"
                shown |= {"nominal": Figure(figures.nominal, "A"), "highest": Figure(figures.highest, "A")}
            if _over(survey, figures, rated) is None:
                severity = "note"
                flows = f"; the supply's own resistance and the forward voltage keep it to {amps(figures.highest)}"
        yield Finding(
            "lamp.no-resistor",
            severity,
            Subject("lamp", part.name),
            f"{quoted(part.name)} has no resistor: nothing but wire limits its current{flows}.",
            "An LED takes ever more current from a few hundredths of a volt more; only a resistor, or a constant-current output, sets it."
            if severity == "stop"
            else "It holds as long as the same kind of cell is put in; any stiffer supply destroys the lamp.",
            part.path,
            figures=shown,
            limit=Limited(rated, "A", survey.limits["lamp.current.nominal"].source),
        )


def _gone(survey: Survey, lamp: LampFigures) -> bool:
    return destroyed(lamp.part.dice, lamp.nominal, survey.limits)


def _pulse_terms(lamp: LampFigures) -> tuple[DieData, float, float]:
    """The die that stands least, with the longest pulse (s) and the largest share for its pulse rating."""
    die = min(lamp.part.dice, key=lambda die: die.rated)
    return die, die.pulse_width or pulse.PULSE_WIDTH, die.pulse_share or pulse.PULSE_DUTY


def _pulse(survey: Survey, lamp: LampFigures) -> tuple[float | None, float | None, float, bool]:
    """Length of a pulse in s and share (None: not said), the current it may have, whether the pulse rating counts."""
    circuit = survey.build.circuit[lamp.part.circuit]
    rate = circuit.rate if circuit.behaviour == "flash" else circuit.frequency
    if circuit.behaviour == "steady" or not rate or circuit.on_share is None:
        return None, None, lamp.rated, False
    width = pulse.on_time(circuit.on_share, rate)
    die, longest, most = _pulse_terms(lamp)
    counts = die.pulse is not None and pulse.applies_pulse_rating(width, circuit.on_share, longest, most)
    limit = pulse.pulse_limit(lamp.rated, die.pulse, width, circuit.on_share, longest, most)
    return width, circuit.on_share, limit, counts


def _over(survey: Survey, lamp: LampFigures, most: float) -> tuple[Severity, str, Limit, float] | None:
    """How far a lamp is beyond the current it stands: severity, words, the limit and the figure that broke it."""
    stop, nominal, caution = (
        survey.limits[f"lamp.current.{name}"] for name in ("stop", "nominal", "caution")
    )
    alone = not (lamp.part.one_resistor and lamp.part.parallel > 1 and lamp.part.matched)
    if filament(lamp):
        return _over_volts(survey, lamp)
    # One bin behind one resistor moves together; the corners move one string alone and would invent a spread.
    likely, highest = (lamp.likely_highest, lamp.highest) if alone else (lamp.nominal, lamp.nominal)
    if likely > stop.value * most * (1.0 + 1e-6):
        words = f"gets {amps(lamp.nominal)}, and {amps(likely)} with parts and supply as they come"
        return "stop", words, stop, likely
    if lamp.nominal > nominal.value * most * (1.0 + 1e-6):
        return "caution", f"gets {amps(lamp.nominal)}", nominal, lamp.nominal
    if highest > caution.value * most * (1.0 + 1e-6):
        words = f"gets {amps(lamp.nominal)}, but {amps(highest)} where every tolerance falls the wrong way"
        return "caution", words, caution, highest
    return None


def _over_volts(survey: Survey, lamp: LampFigures) -> tuple[Severity, str, Limit, float] | None:
    rated = (lamp.part.dice[0].filament_volts or 0.0) * len(lamp.part.dice)
    for name, severity, current in (
        ("stop", "stop", lamp.likely_highest),
        ("caution", "caution", lamp.highest),
    ):
        limit = survey.limits[f"lamp.filament.{name}"]
        share = max(current / lamp.rated, 0.0) ** (
            1.0 / FILAMENT_EXPONENT
        )  # of a current backwards there is none
        if share > limit.value:
            weight: Severity = "stop" if severity == "stop" else "caution"
            return (
                weight,
                f"gets up to {volts(share * rated)}, {percent(share)} of its rated voltage: {amps(current)}",
                limit,
                current,
            )
    return None


def _over_rating(survey: Survey) -> Iterator[Finding | NotJudged]:
    for lamp in known_lamps(survey):
        _, _, most, counts = _pulse(survey, lamp)
        steady = survey.build.circuit[lamp.part.circuit].behaviour == "steady"
        if not (steady or counts or filament(lamp)):
            continue
        over = _over(survey, lamp, most)
        if over is None or _hogs(survey, lamp):
            continue
        # where it is as far over without the heat of its place, that heat is (or adds to) what follows
        cool = most * lamp.rated_outside / lamp.rated
        alike = _over(survey, lamp, cool)
        warmed = alike is None or alike[0] != over[0]
        if alike is not None and not warmed:
            over, most = alike, cool
        severity, words, limit, _ = over
        rating = "its pulse rating" if counts else "its rating"
        cooked = warmed and lamp.rated <= LEFT * min(die.rated for die in lamp.part.dice)
        if warmed and lamp.rated < DERATED * lamp.rated_outside and not filament(lamp):
            rating += f" in air of {celsius(lamp.hottest)}"
        yield _too_much(survey, lamp, "lamp.over-rating", severity, most, limit,
            f"{quoted(lamp.name)} gets far more than {rating} of {amps(most)}; it burns out." if _gone(survey, lamp) and not cooked
            else f"{quoted(lamp.name)} {words}; the air in {quoted(lamp.part.place)} is too hot for it at any current." if cooked
            else f"{quoted(lamp.name)} {words}; {amps(most)} is {rating}.",
            "Too much current ages an LED fast and makes it hot, where nobody will get at it again. Much too much kills it at once."
            if not filament(lamp)
            else "A filament's life falls with the twelfth power of its voltage: a few per cent more cost half of it.",
        )  # fmt: skip


def _strobe(survey: Survey) -> Iterator[Finding | NotJudged]:
    for lamp in known_lamps(survey):
        width, share, most, counts = _pulse(survey, lamp)
        behaviour = survey.build.circuit[lamp.part.circuit].behaviour
        if behaviour == "steady" or counts or filament(lamp):
            continue
        over = _over(survey, lamp, most)
        if over is None or _hogs(survey, lamp):
            continue
        severity, words, limit, _ = over
        what = "while it is on" if width is None else f"in pulses of {seconds(width)}"
        yield _too_much(survey, lamp, "lamp.strobe", severity, most, limit,
            f"{quoted(lamp.name)} {words} {what}; its continuous rating of {amps(most)} is what counts." if not _gone(survey, lamp)
            else f"{quoted(lamp.name)} gets far more than its rating of {amps(most)} {what}; it burns out.",
            _no_pulse(lamp, width, share),
        )  # fmt: skip


def _no_pulse(lamp: LampFigures, width: float | None, share: float | None) -> str:
    """Why a pulse rating does not count: whichever of its conditions is not met."""
    die, longest, most = _pulse_terms(lamp)
    if width is None or share is None:
        return "How long it is on at a time is not known, and a pulse rating counts for short pulses only."
    if die.pulse is None:
        return "Its data give no pulse rating, so what it stands for good is all that is known."
    terms = f"Its pulse rating of {amps(die.pulse)} holds for at most {seconds(longest)} at a time and {percent(most)} of the time"
    missed = [
        *([f"pulses of {seconds(width)}"] if not pulse.short_enough(width, longest) else []),
        *([f"{percent(share)} of the time"] if not pulse.rare_enough(share, most) else []),
    ]
    slow = (
        " A die is warm within about a millisecond, so to it a long pulse is direct current."
        if width > WARM
        else ""
    )
    return f"{terms}, and here it is {' and '.join(missed)}.{slow}"


def _too_much(
    survey: Survey,
    lamp: LampFigures,
    check: str,
    severity: Severity,
    most: float,
    limit: Limit,
    says: str,
    why: str,
) -> Finding:
    currents = {
        "nominal": Figure(lamp.nominal, "A"),
        "likely_highest": Figure(lamp.likely_highest, "A"),
        "highest": Figure(lamp.highest, "A"),
    }
    if _gone(survey, lamp):
        currents = {}
    return Finding(
        check,
        severity,
        Subject("lamp", lamp.name),
        says,
        why,
        lamp.part.path,
        figures=currents | {"rated": Figure(most, "A")},
        limit=of_rating(limit, most, "A"),
        because_of=_behind(survey, lamp, most),
        firm=DANGER if _gone(survey, lamp) else "",
    )


def _behind(survey: Survey, lamp: LampFigures, most: float) -> str | None:
    """The finding that a lamp's excess comes from: strings on one output, or the heat of its place."""
    if _on_one_output(survey, lamp):
        return f"lamp.sibling-open:{lamp.part.circuit}"
    if most < lamp.rated_outside and _over(survey, lamp, most * lamp.rated_outside / lamp.rated) is None:
        return f"place.too-hot:{lamp.part.place}"
    return None


def _hogs(survey: Survey, lamp: LampFigures) -> bool:
    """Whether its excess is the unequal sharing of one resistor, told by another check."""
    within = lamp.nominal <= survey.limits.value("lamp.current.nominal") * lamp.rated
    return within and bool(lamp.shares) and _share_weight(survey, lamp) is not None


def _share_weight(survey: Survey, lamp: LampFigures) -> Severity | None:
    if not lamp.shares:
        return None
    if lamp.shares[0] > survey.limits.value("lamp.current.stop") * lamp.rated:
        return "stop"
    part = sum(lamp.shares) / len(lamp.shares)
    return "caution" if lamp.shares[0] > part * (1.0 + survey.limits.value("lamp.parallel-spread")) else None


def _shared_resistor(survey: Survey) -> Iterator[Finding | NotJudged]:
    for lamp in known_lamps(survey):
        severity = _share_weight(survey, lamp)
        if severity is None:
            continue
        part = sum(lamp.shares) / len(lamp.shares)
        name = "lamp.current.stop" if severity == "stop" else "lamp.parallel-spread"
        limit = survey.limits[name]
        worth = limit.value * lamp.rated if severity == "stop" else part * (1.0 + limit.value)
        yield Finding(
            "lamp.shared-resistor",
            severity,
            Subject("lamp", lamp.name),
            f"{count_of(len(lamp.shares), 'string')} of {quoted(lamp.name)} share one resistor: the one with the least forward"
            f" voltage takes {amps(lamp.shares[0])} and leaves {amps(lamp.shares[-1])} to each of the others; {amps(lamp.rated)} is its rating.",
            "Two LEDs of one bag differ by tenths of a volt. Behind one resistor the lowest takes the current of the others,"
            " warms, and takes more; when it fails the next one gets it all.",
            lamp.part.resistor_path,
            figures={
                "greatest": Figure(lamp.shares[0], "A"),
                "least": Figure(lamp.shares[-1], "A"),
                "rated": Figure(lamp.rated, "A"),
            },
            limit=Limited(worth, "A", limit.source),
            firm=DANGER if destroyed(lamp.part.dice, lamp.shares[0], survey.limits) else "",
        )


def _strings(survey: Survey, circuit: str) -> int:
    return sum(part.parallel for part in survey.parts.lamps if part.circuit == circuit and not part.backwards)


def _on_one_output(survey: Survey, lamp: LampFigures) -> bool:
    return (
        steady_current(survey.build, lamp.part.circuit) is not None
        and _strings(survey, lamp.part.circuit) > 1
    )


def _sibling_open(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["lamp.current.nominal"]
    told: set[str] = set()
    for fault in sorted(survey.electrics.siblings, key=lambda fault: -fault.current / fault.rated):
        steady = steady_current(survey.build, fault.circuit)
        if (
            steady is None
            or fault.circuit in told
            or fault.current <= limit.value * fault.rated * (1.0 + 1e-9)
        ):
            continue
        told.add(fault.circuit)
        strings = _strings(survey, fault.circuit)
        fails = "opens" if fault.how == "open" else "shorts"
        yield Finding(
            "lamp.sibling-open",
            "caution",
            Subject("circuit", fault.circuit),
            f"{count_of(strings, 'string')} hang side by side on the {amps(steady)} of {quoted(fault.circuit)}: when one lamp of {quoted(fault.lamp)} {fails},"
            f" {quoted(fault.other)} gets {amps(fault.current)} a string; {amps(fault.rated)} is its rating.",
            "A constant-current output pushes its whole current through whatever takes it, so one bad joint takes the rest with it,"
            " and even before that the strings share it unequally.",
            ("circuit", fault.circuit),
            remedy=f"Put all of them in one string on {amps(fault.rated)} or less, or give each string an output of its own.",
            figures={
                "left": Figure(fault.current, "A"),
                "steady": Figure(steady, "A"),
                "rated": Figure(fault.rated, "A"),
            },
            limit=of_rating(limit, fault.rated, "A"),
        )


# -- wrong way round


def _rises(survey: Survey, lamp: LampFigures) -> float:
    """How far its supply can go above the volts it is called by, as a ratio."""
    supply = survey.electrics.supplies.get(
        supply_of(survey.build, survey.build.circuit[lamp.part.circuit]) or ""
    )
    return supply.highest_volts / supply.volts if supply is not None and supply.volts > 0.0 else 1.0


def _backwards(survey: Survey) -> Iterator[Finding | NotJudged]:
    for lamp in survey.electrics.lamps.values():
        if not lamp.part.backwards or filament(lamp):
            continue
        limit = survey.limits["lamp.reverse"]
        stands, given = reverse_stood(lamp.part.dice, survey.limits)
        most = worst_reverse(lamp.part.dice, lamp.feed_volts * _rises(survey, lamp))
        over = most > stands * (1.0 + 1e-3)
        several = len(lamp.part.dice) > 1
        much = f" Up to {volts(most)} stand across it the wrong way{', and one die may take nearly all of it' if several else ''}; a die is tested at {volts(stands)}."
        yield Finding(
            "lamp.backwards",
            "stop" if over else "caution",
            Subject("lamp", lamp.name),
            f"{quoted(lamp.name)} is wired the wrong way round and stays dark.{much}",
            "What a die does beyond the reverse voltage it is tested at nobody promises: it may break down, often for good."
            if over
            else "A die is tested at that, so it should live to be turned round, but it gives no light.",
            (*lamp.part.path[:2], "backwards"),
            figures={"reverse": Figure(most, "V"), "rated": Figure(stands, "V")},
            limit=Limited(
                stands, "V", limit.source if not given else "the reverse voltage of its data sheet"
            ),
        )


_ROOT = "nominal: typical parts, all on; likely: root of the sum of squares of the single deviations; highest: all stacked"

CHECKS: tuple[Check, ...] = (
    Check(
        "lamp.no-resistor", "stop", "lamp", "an LED with nothing but wire to limit its current",
        "An LED takes ever more current from a few hundredths of a volt more.",
        "I where V(I) of the dice + I * wire = supply voltage", ("lamp.current.nominal",),
        "Shockley's law; OSRAM AN040, comparison of LED circuits", _no_resistor, dangerous=True,
    ),
    Check(
        "lamp.over-rating", "stop", "lamp", "more current than the lamp stands",
        "Too much current ages an LED fast, and much too much kills it.", f"I / rated; {_ROOT}",
        ("lamp.current.stop", "lamp.current.nominal", "lamp.current.caution", "lamp.filament.caution", "lamp.filament.stop",
         "lamp.destroyed", "lamp.filament.destroyed"),
        "the lamp's data sheet", _over_rating,
    ),
    Check(
        "lamp.strobe", "stop", "lamp", "a flash with more than the continuous rating",
        "Pulse ratings hold for short and rare pulses only.",
        "width = on share / rate; the pulse rating counts up to 0.1 ms and a tenth of the time",
        ("lamp.current.stop", "lamp.current.nominal", "lamp.current.caution"),
        "pulse conditions of LED data sheets (at most 0.1 ms, 1/10)", _strobe,
    ),
    Check(
        "lamp.shared-resistor", "stop", "lamp", "parallel lamps behind one resistor",
        "The lamp with the least forward voltage takes the current of the others.",
        "currents with one lamp at its least and the others at their typical forward voltage",
        ("lamp.current.stop", "lamp.parallel-spread"), "OSRAM AN040, comparison of LED circuits", _shared_resistor,
    ),
    Check(
        "lamp.sibling-open", "caution", "circuit", "strings side by side on one constant-current output",
        "When one fails, the others get its current.", "the most any string gets with another open, or with one of its dice shorted",
        ("lamp.current.nominal",), "Kirchhoff's laws, solved for each failure; the lamp's data sheet", _sibling_open,
    ),
    Check(
        "lamp.backwards", "stop", "lamp", "a lamp wired the wrong way round",
        "It stays dark, and one die may take all the reverse voltage.", "highest voltage at its joints > the reverse voltage that one die is tested at",
        ("lamp.reverse",), "the lamp's data sheet", _backwards, dangerous=True,
    ),
    *brightness.CHECKS,
)  # fmt: skip
