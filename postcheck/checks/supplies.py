"""Supplies: do they carry the load, do they start, and does a USB source stay on."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within, first_broken, of_rating
from postcheck.checks.known import bare_on, first_bare
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording, open_question
from postcheck.description.cells import is_power_bank
from postcheck.description.contradictions import USB_MOST
from postcheck.description.models import Supply
from postcheck.limits import above, below
from postcheck.report import Figure, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import SupplyFigures
from postcheck.survey.network.supplies import BANK_ASKS, BANK_OFF, gives_up, source_of, typical_volts

# The shortest time, s, after which a power bank takes a small load for no load: ten seconds to a minute (from memory).
BANK_WAITS = 10.0
# What a device of USB type C has between each CC contact and ground, ohm (Rd of the specification, from memory).
CC_OHMS = 5.1e3


# -- load


def _overload(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, figures in survey.electrics.supplies.items():
        spec = survey.build.supply[name]
        if spec.kind not in ("converter", "battery"):  # a battery is judged by what its cells give
            yield from _loaded(survey, figures, figures.rated or spec.current_limit)


def _converter_overload(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, figures in survey.electrics.supplies.items():
        spec = survey.build.supply[name]
        if spec.kind == "converter":
            given = [value for value in (spec.rated, spec.current_limit) if value]
            yield from _loaded(survey, figures, min(given, default=None))


def _loaded(survey: Survey, figures: SupplyFigures, rated: float | None) -> Iterator[Fact | Within]:
    if not rated:
        return
    stop, caution = survey.limits["supply.load.stop"], survey.limits["supply.load.caution"]
    circuits = {name for name, driver in survey.wiring.drivers.items() if driver.supply == figures.name}
    subject = Subject("supply", figures.name)
    steps: dict[tuple[Severity, bool], Within] = {
        # lamps spread about their typical current; a motor or a sound board does take its most at times
        ("stop", False): Within(subject, figures.most, of_rating(stop, rated, "A")),
        ("caution", False): Within(subject, figures.highest, of_rating(caution, rated, "A")),
    }
    spec = survey.build.supply[figures.name]
    # it gives no more than that, whatever its plate says
    if spec.current_limit is not None and below(spec.current_limit, rated):
        most = Limited(spec.current_limit, "A", "current_limit in the build file")
        limits: dict[tuple[Severity, bool], Within] = {
            ("stop", True): Within(subject, figures.most, most),
            ("caution", True): Within(subject, figures.highest, most),
        }
        steps = limits | steps
    yield from steps.values()
    if (broken := first_broken(steps)) is None:
        return
    severity, limited = broken
    bare = first_bare(survey, circuits)
    # The current of a lamp that nothing limits is no figure to choose a supply by.
    load = (
        {"nominal": Figure(figures.nominal, "A"), "highest": Figure(figures.highest, "A")}
        if bare is None
        else {}
    )
    # what is more than it may give before it gives up is asked of it, not given
    asked = ""
    if bare is None and severity == "stop" and above(figures.nominal, gives_up(spec)[1]):
        asked = "asked" if spec.current_limit is None else "asked beyond its limit"
        load |= {"gives": Figure(gives_up(spec)[1], "A")}
    yield Fact(
        severity,
        subject,
        (*figures.path, "current_limit") if limited else figures.path,
        "bare lamp" if bare is not None else "limited" if limited else asked or severity,
        figures={**load, "rated": Figure(rated, "A"), "free": Figure(1.0 - caution.value, "share")},
        parts={} if bare is None else {"lamp": Subject("lamp", bare.name)},
        limit=steps[broken].limit,
        because_of=bare_on(survey, circuits),
    )  # fmt: skip


def _no_rating(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, figures in survey.electrics.supplies.items():
        spec = survey.build.supply[name]
        if not figures.rated and not spec.current_limit and figures.highest > 0.0 and spec.kind != "battery":
            yield open_question(
                name,
                "whether it carries {nominal}, up to {highest}",
                'its rated current, as on its plate: rated = "... A"',
                figures={"nominal": Figure(figures.nominal, "A"), "highest": Figure(figures.highest, "A")},
                vital=True,
            )


def _no_start(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    found: set[str] = set()
    for name, state in survey.electrics.no_start:
        supply = survey.build.supply.get(name)
        if supply is None or name in found:
            continue
        found.add(name)
        source = supply.fed_by or ""
        given = typical_volts(survey.build.supply[source])
        least, (open_volts, inside) = supply.least_input, source_of(survey.build.supply[source], 0)
        few = least is not None and below(given, least)
        # the most power that a source can give: with as much resistance outside as inside
        most = {"most": Figure(open_volts**2 / (4.0 * inside), "W")} if inside > 0.0 and not few else {}
        yield Fact(
            "stop",
            Subject("supply", name),
            ("supply", name),
            "too few volts" if few else "too weak",
            figures={"given": Figure(given, "V"), **most}
            | ({"least_input": Figure(least, "V")} if least else {}),
            parts={"source": Subject("supply", source)},
            words={"state": state},
        )


# -- USB

_OFF_BELOW, _OFF_AFTER = 'switches_off_below = "60 mA"', 'switches_off_after = "30 s"'
_BANK_DATA = "the power bank's data, as the file gives it"


def _switches_off(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, figures in survey.electrics.supplies.items():
        supply = survey.build.supply[name]
        if not is_power_bank(supply) and supply.switches_off_below is None:
            continue
        if ("supply", name) in survey.wiring.lacking:  # what is incomplete has no load to judge yet
            continue
        asks = supply.switches_off_below
        if asks is None and below(figures.average, BANK_ASKS):
            yield open_question(
                name,
                "whether it stays on at {average}",
                f"the load below which it switches off, such as {_OFF_BELOW}",
                figures={"average": Figure(figures.average, "A")},
                vital=below(figures.average, BANK_OFF),
            )
            continue
        limit = Limited(asks or BANK_ASKS, "A", _BANK_DATA)
        within = Within(Subject("supply", name), figures.average, limit, least=True)
        if asks is not None:
            yield within
        least = figures.least_average
        if within.kept:
            yield from _dark_gaps(supply, figures)
            if asks is not None and least is not None:
                yield (at_worst := within._replace(value=least))
                if not at_worst.kept:
                    yield Fact(
                        "caution",
                        within.subject,
                        ("supply", name, "switches_off_below"),
                        "small at worst",
                        figures={
                            "average": Figure(figures.average, "A"),
                            "least": Figure(least, "A"),
                            "asks": Figure(asks, "A"),
                        },
                        limit=limit,
                    )
        elif asks is not None:
            # it is never below for so long that it switches off, unless it goes by the average
            gap = figures.gap or 0.0
            flashes = gap > 0.0 and below(gap, supply.switches_off_after or BANK_WAITS)
            yield Fact(
                "caution" if flashes else "stop",
                within.subject,
                ("supply", name, "switches_off_below"),
                "flashes" if flashes else "small load",
                figures={
                    "average": Figure(figures.average, "A"),
                    "asks": Figure(asks, "A"),
                    **({"gap": Figure(gap, "s")} if flashes else {}),
                },
                limit=limit,
            )


def _dark_gaps(supply: Supply, figures: SupplyFigures) -> Iterator[Fact | Within | NotJudged]:
    """A load that is large enough on average, and not while every flasher is dark."""
    asks, waits, gap = supply.switches_off_below, supply.switches_off_after, figures.gap
    if gap is not None and waits is not None and asks is not None:
        # at exactly that time it may have switched off already
        within = Within(Subject("supply", figures.name), gap, Limited(waits, "s", _BANK_DATA), slack=-1e-9)
        yield within
        if not within.kept:
            yield Fact(
                "stop",
                within.subject,
                ("supply", figures.name, "switches_off_after"),
                "dark gaps",
                figures={
                    "dark": Figure(figures.dark, "A"),
                    "asks": Figure(asks, "A"),
                    "gap": Figure(gap, "s"),
                },
                limit=within.limit,
            )
    elif gap is None or not below(gap, waits or BANK_WAITS):
        missing = (_OFF_BELOW if asks is None else "", _OFF_AFTER if waits is None else "")
        yield open_question(
            figures.name,
            "whether it stays on between flashes, at {dark} for {gap}"
            if gap is not None
            else "whether it stays on between flashes, at {dark}",
            f"when it switches off: {' and '.join(filter(None, missing)) or 'the rate of its flashers'}",
            vital=asks is not None,
            figures={
                "dark": Figure(figures.dark, "A"),
                **({"gap": Figure(gap, "s")} if gap is not None else {}),
            },
        )


def _type_c(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, supply in survey.build.supply.items():
        if supply.port != "type-c" or supply.cc_resistors:
            continue
        if supply.volts is not None and supply.volts > USB_MOST:
            if supply.cc_resistors is None:
                yield open_question(
                    name, "whether it gives {volts}: resistors alone get 5 V from it",
                    "cc_resistors = false where a board of the model asks it for {volts}", vital=True,
                    figures={"volts": Figure(supply.volts, "V")}, lines=("cc_resistors = false  # a board asks for its volts",), under=("supply", name),
                )  # fmt: skip
            continue
        if supply.cc_resistors is None:
            yield NotJudged(name, "whether it delivers anything at all",
                            "whether lead or socket has the two 5.1 kohm resistors: cc_resistors = true or false", vital=True)  # fmt: skip
            continue
        yield Fact(
            "stop",
            Subject("supply", name),
            ("supply", name, "cc_resistors"),
            figures={"resistor": Figure(CC_OHMS, "ohm")},
        )


def _loads(what: str) -> dict[str, Wording]:
    """What is said of the load of a supply or converter."""
    takes = "{subject} gives {nominal:apart} with everything on ({highest:apart} at worst). Its rating is {rated:apart}."
    fails = f"An overloaded {what} sags, shuts down or overheats, and it is closed up in the base."
    return {
        "stop": Wording(takes, fails),
        "caution": Wording(takes, "Small supplies last when {free} of their rating stays free."),
        "asked": Wording(
            "{subject} is asked for {nominal:apart} with everything on ({highest:apart} at worst). Its rating is {rated:apart}, and nobody knows what it gives beyond that.",
            fails,
        ),
        "asked beyond its limit": Wording(
            "{subject} is asked for {nominal:apart} with everything on ({highest:apart} at worst). Its rating is {rated:apart}, and it gives {gives:apart} at most.",
            fails,
        ),
        "bare lamp": Wording(
            "{lamp} has no resistor and takes all that {subject} can give. The rating of {subject} is {rated}.", fails
        ),
    }  # fmt: skip


_FULL = "A power bank takes a small load for a telephone that is full, and after half a minute the model goes dark."
_SMALL_LOADS = "Use a plain USB supply, or a bank made for small loads."
_COLLAPSES = "A converter takes the more current the less voltage it gets, so a source that is short of either collapses instead of sagging."

CHECKS: tuple[Check, ...] = (
    Check(
        "supply.overload", "stop", "supply", "a supply with too little to spare", "An overloaded supply sags, shuts down or overheats.",
        "load / rated, and current_limit where that is less: typical lamps with loads at their most for a stop, highest corner for a caution",
        ("supply.load.caution", "supply.load.stop"), "the rating plate; NFPA 70 210.19(A)(1), 125 % for continuous load", _overload,
        wording=_loads("supply") | {
            "limited": Wording(
                "{subject} is asked for {nominal:apart} with everything on ({highest:apart} at worst). Its current is limited to {limit:apart}.",
                "At its limit the volts fall, and all lamps with them, or it shuts down.",
            ),
        },
    ),
    Check(
        "supply.no-rating", "note", "supply", "a supply whose rating is not known", "Its load cannot be judged.",
        "rated is given", (), "the rating plate", _no_rating, asks=True,
    ),
    Check(
        "converter.overload", "stop", "supply", "a converter with too little to spare", "An overloaded converter shuts down or overheats.",
        "load / rated, as for supplies", ("supply.load.caution", "supply.load.stop"), "the converter's rating", _converter_overload,
        wording=_loads("converter"),
    ),
    Check(
        "converter.no-start", "stop", "supply", "a converter that its source cannot start",
        "A source that is short of volts or current collapses.", "from no load upwards: V I = P / efficiency has a solution above least input",
        (), "constant power on a source with resistance: P <= V**2 / (4 R)", _no_start,
        wording={
            "too few volts": Wording(
                "{subject} does not start. It needs {least_input:apart} at its input, and its source {source} gives {given:apart}.", _COLLAPSES,
                "Use a source of more volts, or a converter that works from less.",
            ),
            "too weak": Wording(
                "{subject} does not start with {state}. It takes more power than its source {source} can give it.[ That has {most} at the very most, as much then being lost inside it.]", _COLLAPSES,
                "Use a stronger source, a shorter and thicker way to it, or less load behind it.",
            ),
        },
    ),
    Check(
        "supply.switches-off", "stop", "supply", "a power bank that switches off below a small load", "The model goes dark after half a minute.",
        "average load < switches_off_below: typical for a stop, lowest corner and where flashes lift it in time for a caution; load with every flasher dark, for (1 - on_share) / rate against switches_off_after, a stop", (), "the power bank's data", _switches_off,
        wording={
            "small load": Wording(
                "{subject} switches off below {asks:apart}. The model takes {average:apart} on average.", _FULL, _SMALL_LOADS
            ),
            "small at worst": Wording(
                "{subject} switches off below {asks:apart}. The model takes {average:apart} on average ({least:apart} with a low supply and its parts at their worst).",
                _FULL, _SMALL_LOADS,
            ),
            "flashes": Wording(
                "{subject} switches off below {asks:apart}. The model takes {average:apart} on average, and more each time it flashes: "
                "it is below that for {gap} at a time.",
                "A bank that goes by the moment stays on, one that goes by the average does not, and few say which they are. Try it with yours.",
                "Use a plain USB supply, or let something steady take the rest.",
            ),
            "dark gaps": Wording(
                "{subject} switches off after {limit:apart} below {asks:apart}. Between flashes the model takes {dark:apart} for {gap:apart}.",
                _FULL, "Let something steady take the rest, flash more often, or use a plain USB supply.",
            ),
        },
    ),
    Check(
        "supply.type-c", "stop", "supply", "a type C source that nothing asks for power", "It delivers nothing.",
        "5.1 kohm from CC to ground in lead or socket", (), "USB Type-C specification, Rd (from memory)", _type_c,
        wording={
            "": Wording(
                "{subject} is a type C source, and the model has no resistors that ask it for power: it delivers nothing.",
                "A type C source keeps its output off until it finds {resistor} to ground on a CC contact of what is plugged in.",
                "Put {resistor} from each CC contact of the socket to the negative, or use a lead from a type A source.",
            )
        },
    ),
)  # fmt: skip
