"""What a motor does to what switches it as it is switched off, and the diode that takes it."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within, first_broken, of_rating
from postcheck.checks.record import DANGER, Check
from postcheck.checks.wording import Wording, open_question
from postcheck.report import Figure, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey


def _too_small(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for load in survey.parts.loads:
        if (diode := load.diode) is None:
            continue
        subject, path = Subject(load.kind, load.name), (*load.path, "diode")
        over_and_over = survey.build.circuit[load.circuit].behaviour != "steady"
        current = of_rating(survey.limits["diode.current"], diode.rated, "A")
        usual: Severity = "stop" if over_and_over else "caution"
        steps: dict[tuple[Severity, str], Within] = {
            (usual, "again" if over_and_over else "current"): Within(subject, load.most, current)
        }
        start = max(load.starting or 0.0, load.most)
        if diode.surge is not None:
            steps["stop", "held"] = Within(
                subject, start, Limited(diode.surge, "A", "its rating for one surge")
            )
        supply = survey.electrics.supplies.get(survey.wiring.drivers[load.circuit].supply or "")
        if diode.reverse is not None and supply is not None:
            steps["stop", "reverse"] = Within(
                subject, supply.highest_volts, of_rating(survey.limits["diode.reverse"], diode.reverse, "V")
            )
        yield from steps.values()
        if (broken := first_broken(steps)) is None:
            continue
        severity, case = broken
        within = steps[broken]
        figures = {"gets": Figure(within.value, within.limit.unit)}
        yield Fact(
            severity,
            subject,
            path,
            case,
            figures=figures,
            limit=within.limit,
            firm=DANGER if case == "reverse" else "",
        )


def _both_ways(survey: Survey) -> Iterator[Fact]:
    for load in survey.parts.loads:
        said = survey.build.load[int(load.path[1])]
        if load.diode is not None and said.reverses:
            supply = survey.wiring.drivers[load.circuit].supply or ""
            yield Fact(
                "stop",
                Subject(load.kind, load.name),
                (*load.path, "diode"),
                parts={"supply": Subject("supply", supply)},
                firm=DANGER,
            )


def _kick(survey: Survey) -> Iterator[NotJudged]:
    """Motors that something switches which their kick may hurt, and no diode that takes it."""
    for load in survey.parts.loads:
        said, driver = survey.build.load[int(load.path[1])], survey.wiring.drivers[load.circuit]
        hand = next(
            (
                switch
                for line in (load.circuit, driver.pole)
                if (switch := survey.wiring.switches.get(line)) is not None
            ),
            None,
        )
        if not load.motor or said.diode is not None or not (driver.driven or hand):
            continue
        by, what = Subject("circuit", load.circuit), ""
        if driver.board is not None:
            by = Subject("board", driver.board)
        elif not driver.driven and hand is not None:
            by, what = Subject(hand.kind, hand.name), "the switch of "
        both = said.reverses
        # with nothing else to take it, it goes backwards through what lights with the motor
        supply = driver.supply if hand is not None and hand.kind == "supply" else None
        lit = tuple(
            Subject(part.kind, part.name)
            for part in (*survey.parts.lamps, *survey.parts.strips)
            if part.circuit == load.circuit
            or (supply and survey.wiring.drivers[part.circuit].supply == supply)
            if not any(die.filament_volts for dice in part.strings for die in dice)
        )
        also = ", and backwards to {lit}," if lit else ""
        yield open_question(
            load.name, f"what its kick does to {what}{{by:kind}}{also} as it is switched off: hundreds of volts for a moment where nothing takes them",
            'the diode across it, such as diode = "1N4001", cathode to the positive; or diode = "board" where the board has its own' if not both
            else 'what takes it both ways, in the board: diode = "board"',
            # it kills a transistor at once, and an LED that withstands five volts backwards; a contact in time
            vital=driver.driven or bool(lit),
            figures={}, parts={"by": by, **({"lit": lit} if lit else {})},
            lines=() if both else ('diode = "1N4001"  # across its terminals, cathode to the positive',), under=load.path,
        )  # fmt: skip


_TAKES = "As the motor is switched off its current goes on through the diode, and starts from what it was."
CHECKS: tuple[Check, ...] = (
    Check(
        "diode.too-small", "stop", "load", "a diode that the motor across it is too much for",
        "A diode that fails is a short across the motor, or none at all.",
        "the motor's most current / rated current, its starting current / one surge, the supply's highest volts / reverse voltage",
        ("diode.current", "diode.reverse"), "the diode's data sheet", _too_small,
        held="one whose reverse voltage is too small",
        wording={
            "current": Wording("The diode across {subject} takes {gets:apart} as it is switched off. It is rated for {limit:apart}.", _TAKES, "Use one that is rated for more."),
            "again": Wording(
                "The diode across {subject} takes {gets:apart} each time it is switched off, over and over. It is rated for {limit:apart}.", _TAKES, "Use one that is rated for more."
            ),
            "held": Wording(
                "The diode across {subject} takes {gets:apart} when that is switched off while it starts or is held fast. It stands {limit:apart} once.", _TAKES, "Use one that is rated for more."
            ),
            "reverse": Wording(
                "The diode across {subject} has up to {gets:apart} the wrong way round. It is rated for {limit:apart}.",
                "Beyond its reverse voltage a diode breaks down, and then it is a short across the supply.", "Use one for more volts.",
            ),
        },
    ),
    Check(
        "diode.both-ways", "stop", "load", "a diode across a motor that is reversed",
        "Driven the other way round the diode is a short.", "`diode` and `reverses` of one motor", (), "Shockley's law", _both_ways,
        dangerous=True,
        wording={
            "": Wording(
                "{subject} is driven both ways round, and has a diode across it. The other way round that is a short across {supply}.",
                "A diode conducts in one direction whatever drives it: it burns, or the fuse opens, or the board is lost.",
                "Take the diode off, and let the board that reverses the motor take its kick.",
            )
        },
    ),
    Check(
        "diode.missing", "note", "load", "a motor that something switches, without a diode",
        "As a motor is switched off its winding drives the current on, into whatever switched it.",
        "a motor behind an output, a board or a switch, with no diode", (), "common practice", _kick, asks=True,
    ),
)  # fmt: skip
