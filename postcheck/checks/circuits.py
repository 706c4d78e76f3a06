"""Circuits, outputs and boards: who is switched with whom, what is lost on the way, what an output stands."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import of_rating
from postcheck.checks.known import SHORT_OF, bare_on, filament, known_lamps, short_of_current, steady_current
from postcheck.checks.mishaps import MISHAP_LIMITS, harm, hurt, stood, worst
from postcheck.checks.record import DANGER, Check
from postcheck.checks.shown import amps, count_of, listed, percent, volts
from postcheck.description.naming import supply_of
from postcheck.plain import quoted
from postcheck.report import Figure, Finding, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import LampFigures
from postcheck.survey.network.supplies import converter_volts, source_of, volts_needed

__all__ = ["CHECKS"]

# -- joined with the wrong ones


def _steady_on_flasher(survey: Survey) -> Iterator[Finding | NotJudged]:
    told: set[str] = set()
    for part in survey.parts.lamps:
        if (
            part.behaviour == "steady"
            and survey.build.circuit[part.circuit].behaviour == "flash"
            and part.entry not in told
        ):
            told.add(part.entry)
            yield _switched_along(
                ("lamp", part.entry), (*part.path[:2], "behaviour"),
                f"{quoted(part.entry)} is to shine steadily, but hangs on {quoted(part.circuit)}, which flashes.",
                "Give it a feed of its own from the supply; only the return may be shared.",
            )  # fmt: skip
    for index, join in enumerate(survey.build.join):
        circuits = [line for line in join.lines if line in survey.build.circuit]
        flashing = [name for name in circuits if survey.build.circuit[name].behaviour == "flash"]
        steady = [name for name in circuits if survey.build.circuit[name].behaviour != "flash"]
        if flashing and steady:
            yield _switched_along(
                ("join", join.place), ("join", index, "lines"),
                f"At {quoted(join.place)} the flashing line {quoted(flashing[0])} is joined to {quoted(steady[0])}, which is not to flash.",
                "Keep the two lines apart all the way to the base; only their returns may be joined.",
            )  # fmt: skip
            continue
        for name in circuits:
            pole = f"{supply_of(survey.build, survey.build.circuit[name])}{'+' if survey.build.circuit[name].switched == 'positive' else '-'}"
            if pole in join.lines and _is_switched(survey, name):
                yield _switched_along(
                    ("join", join.place), ("join", index, "lines"),
                    f"At {quoted(join.place)} the switched line {quoted(name)} is joined to the pole {quoted(pole)}: it is always on, past its output.",
                    "Take one of the two lines out of this joint.",
                )  # fmt: skip
                break


def _switched_along(subject: tuple[str, str], path: tuple[str | int, ...], says: str, remedy: str) -> Finding:
    return Finding(
        "circuit.steady-on-flasher", "stop", Subject(*subject), says,
        "What is joined on the switched side is switched together: either both flash or neither does.", path, remedy=remedy,
    )  # fmt: skip


def _is_switched(survey: Survey, name: str) -> bool:
    circuit = survey.build.circuit[name]
    return circuit.behaviour != "steady" or circuit.output is not None or circuit.board is not None


def _joined_outputs(survey: Survey) -> Iterator[Finding | NotJudged]:
    for index, join in enumerate(survey.build.join):
        driven = [line for line in join.lines if line in survey.build.circuit and _drives(survey, line)]
        if len(driven) < 2 or len({survey.build.circuit[name].behaviour == "flash" for name in driven}) > 1:
            continue
        yield Finding(
            "circuit.joined-outputs",
            "stop",
            Subject("join", join.place),
            f"At {quoted(join.place)} the outputs of {listed(driven)} are joined together.",
            "Each output then feeds the other's lamps, one may push current back into the other, and neither limit protects anything.",
            ("join", index, "lines"),
            remedy="Keep the lines apart, or drive all their lamps from one output that stands them.",
        )


def _drives(survey: Survey, name: str) -> bool:
    circuit = survey.build.circuit[name]
    return circuit.output is not None or circuit.board is not None


# -- lost on the way


def _drop(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["drop.lamp-share"]
    worst: dict[str, list[tuple[float, LampFigures, float]]] = {}
    for lamp in known_lamps(survey):
        circuit = lamp.part.circuit
        supply = survey.electrics.supplies.get(supply_of(survey.build, survey.build.circuit[circuit]) or "")
        if (
            supply is None
            or supply.volts <= 0.0
            or steady_current(survey.build, circuit) is not None
            or filament(lamp)
        ):
            continue
        wanted = lamp.part.wanted
        as_wanted = wanted is not None and lamp.nominal >= wanted * (1.0 - survey.limits.value("lamp.wanted"))
        if lamp.loss > limit.value * supply.volts and not as_wanted:
            worst.setdefault(circuit, []).append((lamp.loss / supply.volts, lamp, supply.volts))
    for circuit, lamps in worst.items():
        share, lamp, of = max(lamps, key=lambda row: row[0])
        others = (
            f" {count_of(len(lamps), 'lamp')} of this circuit lose more than {percent(limit.value)}."
            if len(lamps) > 1
            else ""
        )
        yield Finding(
            "line.drop",
            "caution",
            Subject("circuit", circuit),
            f"{volts(lamp.loss)} of {volts(of)} ({percent(share)}) are lost between the supply and {quoted(lamp.name)}, which gets {amps(lamp.nominal)}.{others}",
            "What is lost in the wires is missing at the lamps, and it changes with every other lamp that is on.",
            ("circuit", circuit),
            figures={
                "lost": Figure(lamp.loss, "V"),
                "supply": Figure(of, "V"),
                "current": Figure(lamp.nominal, "A"),
            },
            limit=Limited(limit.value * of, "V", limit.source),
            because_of=bare_on(survey, set(survey.build.circuit)),
        )


# -- outputs and boards


def _output_overload(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name, figures in survey.electrics.circuits.items():
        output = survey.build.circuit[name].output
        if output is not None and output.limit is not None and output.steady is None:
            words = f"The output of {quoted(name)} stands {amps(output.limit)}"
            yield from _too_much(survey, "output.overload", ("circuit", name), ("circuit", name, "output"), words,
                                 (figures.nominal, figures.highest), output.limit, {name})  # fmt: skip


def _too_much(
    survey: Survey, check: str, subject: tuple[str, str], path: tuple[str | int, ...], words: str,
    load: tuple[float, float], most: float, circuits: set[str],
) -> Iterator[Finding]:  # fmt: skip
    """A finding where a load goes beyond what stands it: a stop with typical parts, a caution at the highest corner."""
    limit = survey.limits["output.load"]
    nominal, highest = load[0], max(load)
    if highest <= limit.value * most * (1.0 + 1e-9):
        return
    severity: Severity = "stop" if nominal > limit.value * most else "caution"
    much = (
        f"takes {amps(nominal)}"
        if severity == "stop"
        else f"takes {amps(nominal)}, and up to {amps(highest)} with parts and supply as they come"
    )
    bare = bare_on(survey, circuits)
    shown = {"nominal": Figure(nominal, "A"), "highest": Figure(highest, "A")}
    if bare is not None:
        much, shown = "holds a lamp without a resistor that takes all it can get", {}
    yield Finding(
        check, severity, Subject(*subject), f"{words}, and its load {much}.",
        "An overloaded driver gets hot and fails, usually in the state that is worst for the lamps: always on, or dark.", path,
        figures={**shown, "rated": Figure(most, "A")}, limit=of_rating(limit, most, "A"), because_of=bare,
        # what all outputs take together they may never take at once; what hangs on one of them lights with it
        firm=DANGER if subject[0] == "circuit" else "",
    )  # fmt: skip


def _board_overload(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name, board in survey.build.board.items():
        driven = {circuit for circuit, said in survey.build.circuit.items() if said.board == name}
        if board.steady is None and board.limit is not None:
            for circuit in driven:
                own = survey.build.circuit[circuit].output
                figures = survey.electrics.circuits.get(circuit)
                if figures is not None and (own is None or own.limit is None):
                    words = f"One output of {quoted(name)} stands {amps(board.limit)}, {quoted(circuit)} hangs on one"
                    yield from _too_much(survey, "board.overload", ("circuit", circuit), ("circuit", circuit, "board"), words,
                                         (figures.nominal, figures.highest), board.limit, {circuit})  # fmt: skip
        load = survey.electrics.boards.get(name)
        if load is not None and board.total is not None:
            words = f"All outputs of {quoted(name)} together stand {amps(board.total)}"
            yield from _too_much(
                survey,
                "board.overload",
                ("board", name),
                ("board", name, "total"),
                words,
                load,
                board.total,
                driven,
            )


def _board_volts(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name, board in survey.build.board.items():
        supply = survey.build.supply[board.supply]
        low, usual, high = (
            converter_volts(supply, corner)[0] if supply.kind == "converter" else source_of(supply, corner)[0]
            for corner in (-1, 0, 1)
        )
        least, most = board.least_volts, board.most_volts
        severity: Severity
        if most is not None and high > most * (1.0 + 1e-9):
            severity = "stop" if usual > most else "caution"
            wrong, bound = (
                f"stands {volts(most)}, and {quoted(board.supply)} gives {volts(usual)}, up to {volts(high)}",
                most,
            )
            why = "Above its highest voltage a board's chip is destroyed, and often passes the voltage on to the lamps."
        elif least is not None and usual < least * (1.0 - 1e-9):
            severity, bound = "stop", least
            wrong, why = (
                f"needs {volts(least)}, and {quoted(board.supply)} gives {volts(usual)}",
                "Below its least voltage it does nothing, or anything.",
            )
        elif least is not None and low < least * (1.0 - 1e-9) and supply.kind != "battery":
            severity, bound = "caution", least
            wrong, why = (
                f"needs {volts(least)}, and {quoted(board.supply)} may give only {volts(low)}",
                "Below its least voltage it does nothing, or anything.",
            )
        else:
            continue
        yield Finding(
            "board.wrong-volts", severity, Subject("board", name), f"{quoted(name)} {wrong}.", why, ("board", name, "supply"),
            figures={"lowest": Figure(low, "V"), "volts": Figure(usual, "V"), "highest": Figure(high, "V")},
            limit=Limited(bound, "V", "the board's rating, as the file gives it"),
            firm=DANGER if bound == most else "",
        )  # fmt: skip


def _compliance(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name, figures in survey.electrics.circuits.items():
        steady = steady_current(survey.build, name)
        if steady is None or not short_of_current(survey, name):
            continue
        hung = [lamp for lamp in survey.electrics.lamps.values() if lamp.part.circuit == name]
        if not hung:
            continue
        driver = survey.wiring.drivers[name]
        needs = volts_needed(driver)
        supply = survey.electrics.supplies.get(driver.supply or "")
        has = f" of the {volts(supply.volts)}" if supply is not None else ""
        longest = max(hung, key=lambda lamp: lamp.string_volts)
        yield Finding(
            "output.compliance",
            "stop" if figures.nominal < survey.limits.value("lamp.dim") * steady else "caution",
            Subject("circuit", name),
            f"The output of {quoted(name)} promises {amps(steady)} and gives {amps(max(figures.nominal, 0.0))}: {quoted(longest.name)} leaves too little{has}, and it needs {volts(needs)} for itself.",
            "A constant-current output that runs out of volts is a plain resistor: its lamps are dimmer than meant, and change with the supply.",
            ("circuit", name),
            remedy="Fewer lamps in the string, or a supply of more volts.",
            figures={"nominal": Figure(figures.nominal, "A"), "promised": Figure(steady, "A"), "needs": Figure(needs, "V")},
            limit=Limited(SHORT_OF * steady, "A", "judgement: 5 % less than promised"),
        )  # fmt: skip


def _broken_pole(survey: Survey) -> Iterator[Finding | NotJudged]:
    told = set()
    for fault in sorted(survey.electrics.pole_faults, key=lambda fault: -worst(survey, fault)):
        if fault.plug in told or not hurt(survey, fault):
            continue
        told.add(fault.plug)
        index = next(part.path for part in survey.parts.runs if part.name == fault.plug)
        yield Finding(
            "line.broken-pole", "note", Subject("run", fault.plug),
            f"if {quoted(fault.plug)} breaks, {harm(survey, fault)}.",
            "Supplies that share one return push current through each other's lamps when it comes apart.",
            index, remedy="Give each supply its own return through the post, or lay this one twice.",
            figures={"reverse": Figure(fault.reverse, "V")}, limit=stood(survey, fault),
        )  # fmt: skip


CHECKS: tuple[Check, ...] = (
    Check(
        "line.broken-pole", "note", "run", "a shared return whose break sends another supply's volts backwards through lamps",
        "A joint that fails should leave lamps dark, not destroyed.", "volts and currents of every part with the run left out of the network",
        MISHAP_LIMITS, "the network solved without the run; data sheets' reverse test voltage", _broken_pole,
    ),
    Check(
        "circuit.steady-on-flasher", "stop", "lamp", "a steady light joined to a line that flashes",
        "What is joined on the switched side is switched together.", "lines joined, and what each does", (),
        "Kirchhoff's laws", _steady_on_flasher,
    ),
    Check(
        "circuit.joined-outputs", "stop", "join", "two outputs joined", "Each feeds the other's lamps, and no limit protects.",
        "lines of one joint with an output of their own", (), "Kirchhoff's laws", _joined_outputs,
    ),
    Check(
        "line.drop", "caution", "circuit", "too many volts lost on the way to a lamp", "What is lost in the wires is missing at the lamps.",
        "volts at the supply or output - volts at the lamp's joints", ("drop.lamp-share",),
        "Ohm's law; the limit by ABYC E-11 (from memory)", _drop,
    ),
    Check(
        "output.overload", "stop", "circuit", "an output with more load than it stands", "An overloaded driver fails.",
        "sum of the circuit's currents / limit", ("output.load",), "the output's rating", _output_overload,
    ),
    Check(
        "output.compliance", "stop", "circuit", "a constant-current output without the volts that it needs",
        "Its lamps get less than it promises.", "supply volts - string volts < compliance", ("lamp.dim",),
        "the output's data sheet; 5 % is judgement", _compliance,
    ),
    Check(
        "board.overload", "stop", "board", "a board with more load than it stands", "An overloaded driver fails.",
        "sum of the currents of a channel, or of all / limit", ("output.load",), "the board's rating", _board_overload,
    ),
    Check(
        "board.wrong-volts", "stop", "board", "a board on a supply of the wrong volts",
        "Too much destroys it, with too little it does nothing.", "lowest and highest volts of its supply", (),
        "the board's rating", _board_volts,
    ),
)  # fmt: skip
