"""Supplies: do they carry the load, fight each other, switch themselves off, or come from the wrong socket."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from postcheck.checks.fact import of_rating
from postcheck.checks.known import bare_on
from postcheck.checks.record import Check
from postcheck.checks.shown import amps, count_of, listed, volts
from postcheck.description.naming import supply_of
from postcheck.plain import quoted
from postcheck.report import Figure, Finding, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.dice import destroyed
from postcheck.survey.network.figures import SupplyFigures
from postcheck.survey.network.supplies import typical_volts

__all__ = ["CHECKS"]

# Less than this pushed backwards is the rounding of a solution, not two supplies at odds.
PUSHED = 1e-4
# Power banks that say nothing of it switch off somewhere below this (common practice: 50 to 100 mA).
BANK_ASKS = 0.1


def _circuits(survey: Survey, supply: str) -> set[str]:
    return {
        name for name, circuit in survey.build.circuit.items() if supply_of(survey.build, circuit) == supply
    }


# -- load


def _overload(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name, figures in survey.electrics.supplies.items():
        spec = survey.build.supply[name]
        if spec.kind not in ("converter", "battery"):  # a battery is judged by what its cells give
            yield from _loaded(survey, "supply.overload", figures, figures.rated or spec.current_limit)


def _converter_overload(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name, figures in survey.electrics.supplies.items():
        spec = survey.build.supply[name]
        if spec.kind == "converter":
            given = [value for value in (spec.rated, spec.current_limit) if value]
            yield from _loaded(survey, "converter.overload", figures, min(given, default=None))


def _loaded(survey: Survey, check: str, figures: SupplyFigures, rated: float | None) -> Iterator[Finding]:
    if not rated:
        return
    stop, caution = survey.limits["supply.load.stop"], survey.limits["supply.load.caution"]
    circuits = _circuits(survey, figures.name)
    # Lamps spread about their typical current; what a motor or a sound board may take, it will take.
    likely = figures.nominal + sum(
        load.most - load.typical for load in survey.parts.loads if load.circuit in circuits
    )
    severity: Severity
    if likely > stop.value * rated * (1.0 + 1e-9):
        severity, limit = "stop", stop
    elif figures.highest > caution.value * rated * (1.0 + 1e-9):
        severity, limit = "caution", caution
    else:
        return
    bare = bare_on(survey, circuits)
    says = f"gives {amps(figures.nominal)} with everything on and up to {amps(figures.highest)} at worst; {amps(rated)} is its rating"
    shown = {"nominal": Figure(figures.nominal, "A"), "highest": Figure(figures.highest, "A")}
    if bare is not None:
        # What flows through a lamp that nothing limits is no figure to choose a supply by.
        says, shown = f"is rated {amps(rated)}, and a lamp without a resistor takes all that it can give", {}
    yield Finding(
        check,
        severity,
        Subject("supply", figures.name),
        f"{quoted(figures.name)} {says}.",
        "An overloaded supply sags, shuts down or overheats, and it is closed up in the base."
        if severity == "stop"
        else "Small supplies last when a fifth of their rating stays free.",
        figures.path,
        figures={**shown, "rated": Figure(rated, "A")},
        limit=of_rating(limit, rated, "A"),
        because_of=bare,
    )


def _no_rating(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name, figures in survey.electrics.supplies.items():
        spec = survey.build.supply[name]
        if not figures.rated and not spec.current_limit and figures.highest > 0.0 and spec.kind != "battery":
            yield NotJudged(
                name,
                f"whether it carries {amps(figures.nominal)}, up to {amps(figures.highest)}",
                'its rated current, such as rated = "1 A"',
            )


# -- against each other


def _backfeed(survey: Survey) -> Iterator[Finding | NotJudged]:
    yield from _side_by_side(survey)
    for name, figures in survey.electrics.supplies.items():
        if figures.reverse <= PUSHED:
            continue
        others = [
            other for other, more in survey.electrics.supplies.items() if other != name and more.nominal > 0.0
        ]
        cell = survey.build.supply[name].kind == "battery"
        yield Finding(
            "supply.backfeed",
            "stop",
            Subject("supply", name),
            f"{amps(figures.reverse)} are pushed backwards into {quoted(name)}" + (f" by {listed(others)}." if others else "."),
            "A cell charged in this way leaks, swells or burns." if cell
            else "A supply that is fed from behind loses its regulation, and everything on it gets the higher voltage.",
            figures.path,
            remedy="Part their lines: no joint, and no circuit, may connect the positive poles of both.",
            figures={"reverse": Figure(figures.reverse, "A"), "volts": Figure(figures.volts, "V")},
        )  # fmt: skip


def _side_by_side(survey: Survey) -> Iterator[Finding]:
    """Supplies of the same volts in parallel: no current between them as marked, but none is exactly as marked."""
    for one, two in survey.electrics.joined:
        if any(survey.electrics.supplies[name].reverse > PUSHED for name in (one, two)):
            continue
        yield Finding(
            "supply.backfeed",
            "caution",
            Subject("supply", one),
            f"{quoted(one)} and {quoted(two)} lie side by side on one line: no two supplies have the same volts, so the higher one carries all it can and pushes into the other.",
            "They do not share the load. The one that is pushed may lose its regulation or, if it is a battery, leak or burn.",
            ("supply", one),
            remedy="One larger supply, or each on circuits of its own.",
        )


def _conflict(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name in survey.electrics.shorted:
        join = next(
            (
                ("join", index)
                for index, join in enumerate(survey.build.join)
                if _joins_poles(survey, name, join.lines)
            ),
            None,
        )
        yield _short(name, join)
    names = [name for name in survey.electrics.conflict if name in survey.build.supply]
    if not names:
        return
    given = ", ".join(f"{quoted(name)} {volts(typical_volts(survey.build.supply[name]))}" for name in names)
    if len(set(names)) == 1:
        yield _short(names[0], None)
        return
    yield Finding(
        "supply.conflict",
        "stop",
        Subject("supply", names[0]),
        f"{listed(names)} are joined straight to each other: {given}. Only their own resistance, which the file does not give, limits what flows.",
        "The stronger drives all it can into the weaker, or into the wire.",
        ("supply", names[0]),
        remedy="Part their lines, or take the wrong line out of the joint.",
        figures={name: Figure(typical_volts(survey.build.supply[name]), "V") for name in names},
    )  # fmt: skip


def _short(name: str, join: tuple[str | int, ...] | None) -> Finding:
    return Finding(
        "supply.conflict", "stop", Subject("supply", name),
        f"Both poles of {quoted(name)} are joined{' here' if join else ''}: a dead short.",
        "All the current that it can give goes through the joint: fire, or a fuse that blows each time.",
        join or ("supply", name),
        remedy="Part their lines, or take the wrong line out of the joint.",
    )  # fmt: skip


def _joins_poles(survey: Survey, name: str, lines: Sequence[str]) -> bool:
    """Whether a joint has lines of both poles of a supply: the pole itself, or a circuit fed from it."""
    sides = set()
    for line in lines:
        circuit = survey.build.circuit.get(line.removesuffix("-return"))
        if line in (f"{name}+", f"{name}-"):
            sides.add(line[-1])
        elif circuit is not None and supply_of(survey.build, circuit) == name:
            positive = (circuit.switched == "positive") != line.endswith("-return")
            sides.add("+" if positive else "-")
    return len(sides) == 2


def _wrong_adaptor(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["lamp.current.stop"]
    for swap in survey.electrics.swaps:
        low, high = (typical_volts(survey.build.supply[name]) for name in (swap.lower, swap.higher))
        circuits = _circuits(survey, swap.lower)
        boards = [name for name, board in survey.build.board.items()
                  if board.supply == swap.lower and board.most_volts is not None and high > board.most_volts]  # fmt: skip
        strips = [
            strip.name
            for strip in survey.parts.strips
            if strip.circuit in circuits and high > 1.5 * strip.volts
        ]
        severity: Severity = "caution"
        does = ""
        if swap.lamp is not None and swap.current > limit.value * swap.rated:
            severity = "stop"
            gone = destroyed(survey.electrics.lamps[swap.lamp].part.dice, swap.current, survey.limits)
            does = (
                f" {quoted(swap.lamp)} would then get far more than its rating of {amps(swap.rated)} and burn out."
                if gone
                else f" {quoted(swap.lamp)} would then get about {amps(swap.current)}; {amps(swap.rated)} is its rating."
            )
        elif boards or strips:
            severity = "stop"
            does = f" {listed([*boards, *strips])} would not stand it."
        yield Finding(
            "supply.wrong-adaptor",
            severity,
            Subject("supply", swap.lower),
            f"{quoted(swap.higher)} ({volts(high)}) fits the socket of {quoted(swap.lower)} ({volts(low)}): both are {quoted(survey.build.supply[swap.lower].socket or '')}.{does}",
            "Plugs get swapped when a model is set up again by someone else, in poor light and in a hurry.",
            ("supply", swap.lower, "socket"),
            remedy="Use another size of socket for one of them; a label alone does not hold a plug back.",
            figures={"higher": Figure(high, "V"), "lower": Figure(low, "V")},
        )


# -- USB


def _switches_off(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name, figures in survey.electrics.supplies.items():
        supply = survey.build.supply[name]
        if supply.port != "power-bank" and supply.switches_off_below is None:
            continue
        asks = supply.switches_off_below
        if asks is None:
            if figures.average < BANK_ASKS:
                yield NotJudged(
                    name,
                    f"whether it stays on at {amps(figures.average)}",
                    'the load below which it switches off, such as switches_off_below = "60 mA"',
                )
        elif figures.average < asks:
            yield Finding(
                "supply.switches-off",
                "stop",
                Subject("supply", name),
                f"{quoted(name)} switches off below {amps(asks)}, and the model takes {amps(figures.average)} on average.",
                "A power bank takes a small load for a telephone that is full, and after half a minute the model goes dark.",
                ("supply", name, "switches_off_below"),
                remedy="Use a plain USB supply, or a bank made for small loads.",
                figures={"average": Figure(figures.average, "A"), "asks": Figure(asks, "A")},
                limit=Limited(asks, "A", "the power bank's data, as the file gives it"),
            )


def _type_c(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name, supply in survey.build.supply.items():
        if supply.port != "type-c" or supply.cc_resistors:
            continue
        if supply.cc_resistors is None:
            yield NotJudged(name, "whether it delivers anything at all",
                            "whether lead or socket has the two 5.1 kohm resistors: cc_resistors = true or false", vital=True)  # fmt: skip
            continue
        yield Finding(
            "supply.type-c",
            "stop",
            Subject("supply", name),
            f"{quoted(name)} is a type C source, and the model has no resistors that ask it for power: it delivers nothing.",
            "A type C source keeps its output off until it finds 5.1 kohm to ground on a CC contact of what is plugged in.",
            ("supply", name, "cc_resistors"),
            remedy="Put 5.1 kohm from each CC contact of the socket to the negative, or use a lead from a type A source.",
        )


# -- no way to a figure


def _no_start(survey: Survey) -> Iterator[Finding | NotJudged]:
    told: set[str] = set()
    for name, state in survey.electrics.no_start:
        supply = survey.build.supply.get(name)
        if supply is None or name in told:
            continue
        told.add(name)
        least = f" It needs {volts(supply.least_input)} at its input." if supply.least_input else ""
        source = survey.build.supply[supply.fed_by or ""]
        short = supply.least_input is not None and typical_volts(source) < supply.least_input
        yield Finding(
            "converter.no-start",
            "stop",
            Subject("supply", name),
            f"{quoted(name)} does not start: its source {quoted(supply.fed_by or '')} gives {volts(typical_volts(source))}.{least}"
            if short
            else f"{quoted(name)} does not start with {state}: its source {quoted(supply.fed_by or '')} cannot give what it asks for.{least}",
            "A converter takes the more current the less voltage it gets, so a source that is short of either collapses instead of sagging.",
            ("supply", name),
            remedy="A source of more volts, or a converter that works from less."
            if short
            else "A stronger source, a shorter and thicker way to it, or less load behind it.",
            figures={"least_input": Figure(supply.least_input, "V")} if supply.least_input else {},
        )


def _unsolved(survey: Survey) -> Iterator[Finding | NotJudged]:
    failed = survey.electrics.failed
    if not failed:
        return
    state, reason = failed[0]
    more = f", nor those in {count_of(len(failed) - 1, 'other state')}" if len(failed) > 1 else ""
    conflict = next((name for name in survey.electrics.conflict if name in survey.build.supply), None)
    if conflict is not None:
        reason = "supplies of different volts are joined without any resistance between them"
    yield Finding(
        "network.unsolved",
        "stop",
        Subject("network", "network"),
        f"The currents with {state} cannot be found{more}: {reason.rstrip('.')}. No figure is given for what depends on them.",
        "A figure that is not a solution would be worse than none.",
        ("supply",),
        because_of=f"supply.conflict:{conflict}" if conflict else None,
    )
    yield NotJudged("network", "the currents, drops and loads", "wiring that has a solution", vital=True)


CHECKS: tuple[Check, ...] = (
    Check(
        "supply.conflict", "stop", "supply", "supplies joined straight to each other", "Nothing limits what flows between them.",
        "a loop of sources without resistance", (), "Kirchhoff's voltage law", _conflict, dangerous=True,
    ),
    Check(
        "network.unsolved", "stop", "network", "a network without a solution", "A figure that is not a solution would be worse than none.",
        "Kirchhoff's laws with V(I) of every part", (), "Newton's method, residual of every node", _unsolved,
    ),
    Check(
        "supply.overload", "stop", "supply", "a supply with too little to spare", "An overloaded supply sags, shuts down or overheats.",
        "load / rated: typical lamps with loads at their most for a stop, highest corner for a caution",
        ("supply.load.caution", "supply.load.stop"), "the rating plate; NFPA 70 210.19(A)(1), 125 % for continuous load", _overload,
    ),
    Check(
        "supply.no-rating", "note", "supply", "a supply whose rating is not known", "Its load cannot be judged.",
        "rated is given", (), "the rating plate", _no_rating,
    ),
    Check(
        "converter.overload", "stop", "supply", "a converter with too little to spare", "An overloaded converter shuts down or overheats.",
        "load / rated, as for supplies", ("supply.load.caution", "supply.load.stop"), "the converter's rating", _converter_overload,
    ),
    Check(
        "converter.no-start", "stop", "supply", "a converter that its source cannot start",
        "A source that is short of volts or current collapses.", "from no load upwards: V I = P / efficiency has a solution above least input",
        (), "constant power on a source with resistance: P <= V**2 / (4 R)", _no_start,
    ),
    Check(
        "supply.backfeed", "stop", "supply", "a supply that another one feeds backwards", "A cell leaks or burns, an adaptor loses its regulation.",
        "current out of its positive pole < 0", (), "Kirchhoff's current law", _backfeed, dangerous=True,
    ),
    Check(
        "supply.wrong-adaptor", "stop", "supply", "supplies of different volts in one size of socket", "Plugs get swapped.",
        "the current of each lamp with the other adaptor in place", ("lamp.current.stop",), "Kirchhoff's laws, solved for each swap", _wrong_adaptor,
    ),
    Check(
        "supply.switches-off", "stop", "supply", "a power bank that switches off below a small load", "The model goes dark after half a minute.",
        "average load < switches_off_below", (), "the power bank's data", _switches_off,
    ),
    Check(
        "supply.type-c", "stop", "supply", "a type C source that nothing asks for power", "It delivers nothing.",
        "5.1 kohm from CC to ground in lead or socket", (), "USB Type-C specification, Rd (from memory)", _type_c,
    ),
)  # fmt: skip
