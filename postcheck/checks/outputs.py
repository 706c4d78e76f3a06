"""Outputs and boards: what they carry, and whether they have the volts that they need."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within, first_broken, of_rating
from postcheck.checks.known import SHORT_OF, bare_on, first_bare, short_of_current
from postcheck.checks.record import DANGER, Check
from postcheck.checks.wording import Wording, open_question
from postcheck.limits import above, below
from postcheck.report import Figure, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.supplies import open_volts, volts_needed

# -- load


def _unlimited(survey: Survey) -> Iterator[NotJudged]:
    """Outputs without a rating in the file: vital where a small one would not carry what is on it."""
    usual = survey.limits["output.unstated"]
    most: dict[tuple[str, str], tuple[float, str]] = {}
    for name, figures in survey.electrics.circuits.items():
        circuit, driver = survey.build.circuit[name], survey.wiring.drivers[name]
        board = survey.build.board.get(circuit.board or "")
        known = driver.steady or driver.limit or (board is not None and (board.limit or board.total))
        # a destroyed part takes no current in the end, and its finding comes first
        if not driver.driven or known or ("circuit", name) in survey.beyond.fates or figures.highest <= 0.0:
            continue
        asked = ("circuit", name) if driver.board is None else ("board", driver.board)
        most[asked] = max(most.get(asked, (0.0, "")), (figures.highest, name))
    for (kind, name), (highest, carried) in most.items():
        drop = survey.wiring.drivers[carried].drop
        loses = f", {drop:g} V drop" if drop else ""
        yield open_question(
            name,
            "whether its output carries the {highest} that is on it"
            if kind == "circuit"
            else "whether its output carries the {highest} of {circuit}",
            f'the most current that it may give, by its sheet: output = "... mA{loses}"'
            if kind == "circuit"
            else 'the most current that one output may give, by its sheet: limit = "... mA" of the board',
            vital=above(highest, usual.value),
            figures={"highest": Figure(highest, "A")},
            parts={"circuit": Subject("circuit", carried)},
        )


def _output_overload(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, figures in survey.electrics.circuits.items():
        output = survey.build.circuit[name].output
        if output is not None and output.limit is not None and output.steady is None:
            yield from _too_much(
                survey,
                Fact("stop", Subject("circuit", name), ("circuit", name, "output"), "output", firm=DANGER),
                (figures.nominal, figures.highest),
                output.limit,
                {name},
            )


def _board_overload(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, board in survey.build.board.items():
        driven = {circuit for circuit, said in survey.build.circuit.items() if said.board == name}
        if board.steady is None and board.limit is not None:
            for circuit in driven:
                own = survey.build.circuit[circuit].output
                figures = survey.electrics.circuits.get(circuit)
                if figures is not None and (own is None or own.limit is None):
                    yield from _too_much(
                        survey,
                        Fact(
                            "stop", Subject("circuit", circuit), ("circuit", circuit, "board"), "output",
                            parts={"board": Subject("board", name)}, firm=DANGER,
                        ),
                        (figures.nominal, figures.highest), board.limit, {circuit},
                    )  # fmt: skip
        load = survey.electrics.boards.get(name)
        if load is not None and board.total is not None:
            # all outputs together may never be on at once; everything on one output is on together
            fact = Fact("stop", Subject("board", name), ("board", name, "total"), "board")
            yield from _too_much(survey, fact, load, board.total, driven)


def _at_start(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, figures in survey.electrics.circuits.items():
        circuit = survey.build.circuit[name]
        board = survey.build.board.get(circuit.board or "")
        output = circuit.output
        most = (
            output.limit
            if output is not None and output.limit is not None
            else board.limit
            if board is not None
            else None
        )
        cold = [
            lamp
            for lamp in survey.parts.lamps
            if lamp.circuit == name and lamp.dice and lamp.dice[0].filament_volts
        ]
        if (
            most is None
            or not cold
            or survey.wiring.drivers[name].steady is not None
            or above(figures.nominal, most)
        ):
            continue
        limit = of_rating(survey.limits["output.load"], most, "A")
        yield (within := Within(Subject("circuit", name), figures.starting, limit))
        if not within.kept:
            yield Fact(
                "caution", within.subject, ("circuit", name, "output" if output is not None else "board"),
                figures={"starting": Figure(figures.starting, "A"), "nominal": Figure(figures.nominal, "A"), "rated": Figure(most, "A")},
                parts={"lamp": Subject("lamp", cold[0].name)}, limit=limit,
            )  # fmt: skip


def _too_much(
    survey: Survey, fact: Fact, load: tuple[float, float], most: float, circuits: set[str]
) -> Iterator[Fact | Within]:
    """The fact with its figures, where a load goes beyond a rating: a stop with typical parts, a caution at the highest corner.

    Loads that can stay at their most count with that for a stop too: an output bears it no longer than they do.
    """
    limit = of_rating(survey.limits["output.load"], most, "A")
    nominal, highest = load[0], max(load)
    yield (within := Within(fact.subject, highest, limit))
    if within.kept:
        return
    stays = (load.beyond for load in survey.parts.loads if load.circuit in circuits and load.stays_at_most)
    severity: Severity = "stop" if above(min(nominal + sum(stays), highest), limit.value) else "caution"
    bare = first_bare(survey, circuits)
    takes = {"nominal": Figure(nominal, "A"), "highest": Figure(highest, "A")} if bare is None else {}
    yield fact._replace(
        severity=severity,
        case=fact.case if bare is None else f"{fact.case}, bare lamp",
        figures={**takes, "rated": Figure(most, "A")},
        parts={**fact.parts, **({} if bare is None else {"lamp": Subject("lamp", bare.name)})},
        limit=limit,
        because_of=bare_on(survey, circuits),
        firm=fact.firm if severity == "stop" else "",
    )


# -- volts


def _board_volts(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, board in survey.build.board.items():
        supply = survey.build.supply[board.supply]
        low, usual, high = (open_volts(supply, corner) for corner in (-1, 0, 1))
        subject, given = Subject("board", name), "the board's rating, as the file gives it"
        steps: dict[tuple[Severity, str], Within] = {}
        if board.most_volts is not None:
            severity: Severity = "stop" if above(usual, board.most_volts) else "caution"
            steps[severity, "too high"] = Within(subject, high, Limited(board.most_volts, "V", given))
        if board.least_volts is not None:
            least = Limited(board.least_volts, "V", given)
            steps["stop", "too low"] = Within(subject, usual, least, least=True)
            if supply.kind != "battery":
                steps["caution", "low at worst"] = Within(subject, low, least, least=True)
        yield from steps.values()
        if (broken := first_broken(steps)) is None:
            continue
        severity, case = broken
        yield Fact(
            severity,
            subject,
            ("board", name, "supply"),
            case,
            figures={"lowest": Figure(low, "V"), "volts": Figure(usual, "V"), "highest": Figure(high, "V")},
            parts={"supply": Subject("supply", board.supply)},
            limit=steps[broken].limit,
            firm=DANGER if case == "too high" and severity == "stop" else "",
        )


def _compliance(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, figures in survey.electrics.circuits.items():
        steady = survey.wiring.drivers[name].steady
        if steady is None:
            continue
        promised = Limited(SHORT_OF * steady, "A", "judgement: 5 % less than promised")
        short = short_of_current(survey, name)
        gets = figures.nominal if short or figures.at_low is None else figures.at_low
        yield (within := Within(Subject("circuit", name), gets, promised, least=True))
        if within.kept:
            continue
        behind = [lamp for lamp in survey.electrics.lamps.values() if lamp.part.circuit == name]
        if not behind:
            continue
        driver = survey.wiring.drivers[name]
        supply = survey.electrics.supplies.get(driver.supply or "")
        longest = max(behind, key=lambda lamp: lamp.string_volts)
        volts = (
            0.0
            if supply is None
            else supply.volts
            if short
            else open_volts(survey.build.supply[supply.name], -1)
        )
        yield Fact(
            "stop"
            if short and below(figures.nominal, survey.limits.value("lamp.dim") * steady)
            else "caution",
            within.subject,
            ("circuit", name),
            "short" if short else "supply low",
            figures={
                "nominal" if short else "lowest": Figure(max(gets, 0.0), "A"),
                "promised": Figure(steady, "A"),
                "needs": Figure(volts_needed(driver), "V"),
                "string": Figure(longest.string_volts, "V"),
                **({} if supply is None else {"volts": Figure(volts, "V")}),
            },
            parts={"lamp": Subject("lamp", longest.name)},
            limit=promised,
        )


_FAILS = "An overloaded driver gets hot and fails, usually in the state that is worst for the lamps: always on, or dark."
_TAKES_ALL = "{lamp} has no resistor and takes all that it can get."
_NEEDS = "It needs {needs:apart} for itself, and {lamp} takes {string:apart}[ of the {volts:apart}]."
_RUNS_OUT = (
    "A constant-current output that runs out of volts is a plain resistor: its lamps are dimmer than meant, and change with the supply.",
    "Put fewer lamps in the string, or use a supply of more volts.",
)
_LOW = "Below its least voltage it does nothing, or anything."

CHECKS: tuple[Check, ...] = (
    Check(
        "output.unlimited", "note", "circuit", "an output of which nobody says what it carries", "An overloaded driver fails.",
        "the circuit's highest current > output.unstated: then it is vital", ("output.unstated",), "what the file says", _unlimited, asks=True,
    ),
    Check(
        "output.overload", "stop", "circuit", "an output with more load than it is rated for", "An overloaded driver fails.",
        "sum of the circuit's currents / limit: a stop with typical lamps, and loads that can stay at their most at that", ("output.load",), "the output's rating", _output_overload,
        held="any stop",
        wording={
            "output": Wording(
                "The output of {subject} gives {nominal:apart} ({highest:apart} at worst). It is rated for {rated:apart}.", _FAILS
            ),
            "output, bare lamp": Wording(f"The output of {{subject}} is rated for {{rated}}. {_TAKES_ALL}", _FAILS),
        },
    ),
    Check(
        "output.cold-filaments", "caution", "circuit", "cold filaments that take more than their output is rated for",
        "A small driver fails, or switches off, each time they come on.", "the circuit's current with cold filaments / limit",
        ("output.load",), "the lamp's cold resistance, a tenth to a twelfth of the warm one; the output's rating", _at_start,
        wording={
            "": Wording(
                "When {subject} comes on, its cold filaments take {starting:apart} for a moment, {lamp} among them; warm they take {nominal:apart}."
                " Its output is rated for {rated:apart}.",
                "A filament takes ten times its current while it is cold, and a flasher sends it through that again and again.",
                "Use an output that stands so much for some milliseconds, or LEDs.",
            )
        },
    ),
    Check(
        "output.compliance", "stop", "circuit", "a constant-current output without the volts that it needs",
        "Its lamps get less than it promises.", "supply volts - string volts < compliance: a caution where its current is 5 % or more below what is promised, as usual or with the supply at its lowest; a stop below lamp.dim of that as usual", ("lamp.dim",),
        "the output's data sheet; 5 % is judgement", _compliance,
        wording={
            "short": Wording(f"The output of {{subject}} gives {{nominal:apart}} instead of {{promised:apart}}. {_NEEDS}", *_RUNS_OUT),
            "supply low": Wording(
                f"With the supply at its lowest the output of {{subject}} gives {{lowest:apart}} instead of {{promised:apart}}. {_NEEDS}", *_RUNS_OUT
            ),
        },
    ),
    Check(
        "board.overload", "stop", "board", "a board with more load than it is rated for", "An overloaded driver fails.",
        "sum of the currents of a channel, or of all / limit", ("output.load",), "the board's rating", _board_overload,
        held="a stop of one output",
        wording={
            "output": Wording(
                "{subject} takes {nominal:apart} ({highest:apart} at worst). An output of {board} is rated for {rated:apart}.", _FAILS
            ),
            "output, bare lamp": Wording(f"An output of {{board}} is rated for {{rated}}. {_TAKES_ALL}", _FAILS),
            "board": Wording(
                "All outputs of {subject} together give {nominal:apart} ({highest:apart} at worst). They are rated for {rated:apart}.", _FAILS
            ),
            "board, bare lamp": Wording(f"All outputs of {{subject}} together are rated for {{rated}}. {_TAKES_ALL}", _FAILS),
        },
    ),
    Check(
        "board.wrong-volts", "stop", "board", "a board on a supply of the wrong volts",
        "Too much destroys it, with too little it does nothing.", "lowest and highest volts of its supply", (),
        "the board's rating", _board_volts,
        held="a stop of too many volts",
        wording={
            "too high": Wording(
                "{subject} is rated for {limit:apart} at most. {supply} gives {volts:apart} ({highest:apart} at worst).",
                "Above its highest voltage a board's chip is destroyed, and often passes the voltage on to the lamps.",
            ),
            "too low": Wording("{subject} needs {limit:apart}. {supply} gives {volts:apart}.", _LOW),
            "low at worst": Wording("{subject} needs {limit:apart}. {supply} gives {volts:apart} ({lowest:apart} at worst).", _LOW),
        },
    ),
)  # fmt: skip
