"""Parallel strings: behind one resistor, and on one constant-current output."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from postcheck.checks.fact import Fact, Within, first_broken, of_rating
from postcheck.checks.known import known_lamps
from postcheck.checks.record import DANGER, Check
from postcheck.checks.wording import Wording
from postcheck.limits import above, below
from postcheck.report import Figure, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.dice import destroyed
from postcheck.survey.network.figures import LampFigures
from postcheck.survey.network.supplies import open_volts, volts_needed


def share_weight(survey: Survey, lamp: LampFigures) -> Severity | None:
    """How much it weighs that the strings of a lamp share one resistor unequally."""
    return first_broken(_shares(survey, lamp))


def _shares(survey: Survey, lamp: LampFigures) -> dict[Severity, Within]:
    """The greatest share of one resistor against what the lamp withstands, and against its fair part."""
    if not lamp.shares:
        return {}
    greatest, subject = lamp.shares[0], Subject("lamp", lamp.name)
    spread, fair = survey.limits["lamp.parallel-spread"], sum(lamp.shares) / len(lamp.shares)
    most = Limited(fair * (1.0 + spread.value), "A", spread.source, spread.name)
    return {
        "stop": Within(subject, greatest, of_rating(survey.limits["lamp.current.stop"], lamp.rated, "A")),
        "caution": Within(subject, greatest, most),
    }


def _shared_resistor(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for lamp in known_lamps(survey):
        steps = _shares(survey, lamp)
        yield from steps.values()
        if (severity := first_broken(steps)) is None:
            yield from _one_dark(survey, lamp)
            continue
        yield Fact(
            severity,
            Subject("lamp", lamp.name),
            lamp.part.resistor_path,
            "unequal",
            figures={
                "strings": Figure(len(lamp.shares), ""),
                "greatest": Figure(lamp.shares[0], "A"),
                "least": Figure(lamp.shares[-1], "A"),
                "rated": Figure(lamp.rated, "A"),
            },
            limit=steps[severity].limit,
            firm=DANGER if destroyed(lamp.part.dice, lamp.shares[0], survey.limits) else "",
        )


def _one_dark(survey: Survey, lamp: LampFigures) -> Iterator[Fact | Within]:
    """What is left for the other strings behind its resistor when one of them goes dark, however well they match."""
    faults = [
        fault
        for fault in survey.electrics.parallel_string_faults
        if fault.lamp == fault.other == lamp.name and not on_one_output(survey, lamp)
    ]
    for fault in faults:
        most = of_rating(survey.limits["lamp.current.nominal"], fault.rated, "A")
        yield (within := Within(Subject("lamp", lamp.name), fault.current, most))
        if not within.kept:
            yield Fact(
                "caution", within.subject, lamp.part.resistor_path, "one dark",
                figures={
                    "strings": Figure(lamp.part.parallel, ""),
                    "left": Figure(fault.current, "A"),
                    "nominal": Figure(lamp.nominal, "A"),
                    "rated": Figure(fault.rated, "A"),
                },
                limit=most,
                because_of=f"lamp.over-rating:{lamp.name}",
            )  # fmt: skip


def _strings(survey: Survey, circuit: str) -> int:
    return sum(part.parallel for part in survey.parts.lamps if part.circuit == circuit and not part.backwards)


def on_one_output(survey: Survey, lamp: LampFigures) -> bool:
    """Whether it is one of several strings on one constant-current output."""
    return (
        survey.wiring.drivers[lamp.part.circuit].steady is not None
        and _strings(survey, lamp.part.circuit) > 1
    )


class InSeries(NamedTuple):
    """All lamps of an output as one string: the `others`, and the most V that it takes, that the output `needs`, and that there are."""

    others: tuple[Subject, ...]
    takes: float
    needs: float
    volts: float


def in_series(survey: Survey, lamp: LampFigures) -> InSeries | None:
    """What single strings of bare LEDs on one constant-current output come to as one; None where volts or a rating forbid it."""
    driver = survey.wiring.drivers[lamp.part.circuit]
    parts = survey.parts
    behind = [one for one in survey.electrics.lamps.values() if one.part.circuit == lamp.part.circuit]
    supply = survey.build.supply.get(driver.supply or "")
    beside = any(one.circuit == lamp.part.circuit for one in (*parts.loads, *parts.strips))
    if driver.steady is None or supply is None or beside or any(one.part.parallel > 1 for one in behind):
        return None
    if not all(_bare_leds(one) and not below(one.rated, driver.steady) for one in behind):
        return None
    takes = sum(die.forward[2] for one in behind for die in one.part.dice)
    needs, volts = volts_needed(driver), open_volts(supply, -1)
    if above(takes + needs, volts):
        return None
    others = tuple(Subject("lamp", one.name) for one in behind if one is not lamp)
    return InSeries(others, takes, needs, volts)


def _bare_leds(lamp: LampFigures) -> bool:
    part = lamp.part
    inside = any(die.filament_volts is not None or die.volts is not None for die in part.dice)
    return part.resistor is None and not part.backwards and len(part.path) == 2 and not inside


def _parallel_string_open(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    limit = survey.limits["lamp.current.nominal"]
    reported: set[str] = set()
    # a string with a shorted die takes current from the others; an open one leaves them its own
    opened = [fault for fault in survey.electrics.parallel_string_faults if fault.how == "open"]
    for fault in sorted(opened, key=lambda fault: -fault.current / fault.rated):
        steady = survey.wiring.drivers[fault.circuit].steady
        if steady is None or fault.circuit in reported:
            continue
        most = of_rating(limit, fault.rated, "A")
        yield (within := Within(Subject("circuit", fault.circuit), fault.current, most))
        if within.kept:
            continue
        reported.add(fault.circuit)
        strings = _strings(survey, fault.circuit)
        yield Fact(
            "caution",
            within.subject,
            ("circuit", fault.circuit),
            "of another lamp" if fault.lamp != fault.other else "the other" if strings == 2 else "of its own",
            figures={
                "left": Figure(fault.current, "A"),
                "steady": Figure(steady, "A"),
                "rated": Figure(fault.rated, "A"),
                "strings": Figure(strings, ""),
            },
            parts={"failed": Subject("lamp", fault.lamp), "other": Subject("lamp", fault.other)},
            limit=most,
        )


def _uneven(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    spread = survey.limits["lamp.parallel-spread"]
    for circuit, uneven in survey.electrics.uneven_strings.items():
        most = Limited(uneven.nominal * (1.0 + spread.value), "A", spread.source, spread.name)
        yield (within := Within(Subject("circuit", circuit), uneven.greatest, most))
        if not within.kept:
            yield Fact(
                "caution", within.subject, ("circuit", circuit),
                figures={
                    "steady": Figure(survey.wiring.drivers[circuit].steady or 0.0, "A"),
                    "strings": Figure(uneven.strings, ""),
                    "greatest": Figure(uneven.greatest, "A"),
                    "least": Figure(max(uneven.least, 0.0), "A"),
                },
                parts={"lamp": Subject("lamp", uneven.lamp)},
                limit=most,
                because_of=f"lamp.sibling-open:{circuit}",
            )  # fmt: skip


CHECKS: tuple[Check, ...] = (
    Check(
        "lamp.shared-resistor", "stop", "lamp", "parallel lamps behind one resistor",
        "The lamp with the least forward voltage takes the current of the others, and all of it once they are dark.",
        "currents with one lamp at its least and the others at their typical forward voltage, and with one string open",
        ("lamp.current.stop", "lamp.current.nominal", "lamp.parallel-spread", "lamp.destroyed"), "OSRAM AN040, comparison of LED circuits", _shared_resistor,
        wording={
            "one dark": Wording(
                "{strings:string} of {subject} share one resistor and get {nominal} each. When one goes dark, another gets {left}. Its rating is {rated}.",
                "Lamps of one bag share equally, and one bad joint leaves its current to the others, where nobody will get at them.",
            ),
            "unequal": Wording(
                "{strings:string} of {subject} share one resistor. The one with the least forward voltage takes {greatest} and leaves {least} to each of the others. Its rating is {rated}.",
                "Two LEDs of one bag differ by tenths of a volt. Behind one resistor the lowest takes the current of the others,"
                " warms, and takes more. When it fails the next one gets it all.",
            )
        },
    ),
    Check(
        "lamp.sibling-open", "caution", "circuit", "parallel strings on one constant-current output",
        "When one fails, the others get its current.", "the most any string gets with another open",
        ("lamp.current.nominal",), "Kirchhoff's laws, solved for each failure; the lamp's data sheet", _parallel_string_open,
        wording={
            case: Wording(
                f"{{strings:string}} in parallel share the {{steady}} of {{subject}}. When one string of {{failed}} opens, {gets}. Its rating is {{rated}}.",
                "A constant-current output pushes its whole current through whatever takes it, so one bad joint takes the rest with it,"
                " and even before that the strings share it unequally.",
                "Put all of them in one string on {rated} or less, or give each string an output of its own.",
            )
            for case, gets in (
                ("of another lamp", "a string of {other} gets {left}"), ("the other", "the other one gets all of it"), ("of its own", "another one of them gets {left}"),
            )
        },
    ),
    Check(
        "output.uneven", "caution", "circuit", "parallel strings that share one constant-current output unevenly",
        "The string with the least forward voltage takes the current of the others.",
        "the current of a string with its dice at their least forward voltage, the others at their typical one / its usual current", ("lamp.parallel-spread",),
        "OSRAM AN040, comparison of LED circuits", _uneven,
        wording={
            "": Wording(
                "{strings:string} in parallel share the {steady} of {subject}, and nothing sees to it that they share it evenly. "
                "A string of {lamp} with the least forward voltage takes {greatest} and leaves {least} to another.",
                "Two LEDs of one bag differ by tenths of a volt, and an output of constant current lets the lowest take what it can: the others are dim or dark. "
                "A resistor in each string evens that out.",
                "Put all of them in one string, give each string an output of its own, or a resistor. If they are matched, write matched = true.",
            )
        },
    ),
)  # fmt: skip
