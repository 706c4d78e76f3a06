"""Switches that a hand works: whether they carry and make what is behind them, and whether a hand gets at them."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.fact import Fact, Within, first_broken, of_rating
from postcheck.checks.record import DANGER, Check
from postcheck.checks.wording import Wording, open_question
from postcheck.description.problems import Path
from postcheck.limits import above, below
from postcheck.report import Figure, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import SwitchFigures
from postcheck.survey.network.supplies import BANK_ASKS
from postcheck.wiring.switches import Switch


def _path(switch: Switch) -> Path:
    return (switch.kind, switch.name, "on_off")


def _supply(survey: Survey, switch: Switch) -> str:
    """What feeds a switch."""
    return (switch.name if switch.kind == "supply" else survey.wiring.drivers[switch.name].supply) or ""


def _load(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    load, inrush = survey.limits["switch.load"], survey.limits["switch.inrush"]
    for figures in survey.electrics.switches.values():
        switch = figures.switch
        rated, subject = switch.spec.rated, Subject(switch.kind, switch.name)
        if rated is None:
            yield open_question(
                switch.name, "whether its switch carries {highest}",
                'its rating for direct current, such as on_off = "1 A"', figures={"highest": Figure(figures.highest, "A")},
            )  # fmt: skip
            continue
        held, motor = max(
            ((amps, name) for name, amps in figures.held.items() if name in survey.held_for_good),
            default=(0.0, ""),
        )
        steps: dict[tuple[Severity, str], Within] = {
            ("stop", "carries"): Within(subject, figures.highest, of_rating(load, rated, "A")),
            ("stop", "held"): Within(subject, held, of_rating(load, rated, "A")),
            ("caution", "makes"): Within(subject, figures.starting, of_rating(inrush, rated, "A")),
        }
        yield from steps.values()
        broken = first_broken(steps)
        if broken is None:
            yield from _motors(figures, rated)
            continue
        within = steps[broken]
        yield Fact(
            broken[0], subject, _path(switch), broken[1],
            figures={"current": Figure(within.value, "A"), "rated": Figure(rated, "A")},
            parts={"load": Subject("load", motor)} if broken[1] == "held" else {},
            limit=within.limit, firm=DANGER if broken[0] == "stop" else "",
        )  # fmt: skip


def _motors(figures: SwitchFigures, rated: float) -> Iterator[NotJudged]:
    """Motors without a starting current in the file, where it may be too much."""
    if figures.unknown > 0.0 and figures.starting + figures.unknown > rated:
        yield open_question(
            figures.switch.name, "whether its switch makes what motors behind it take as they start: {starting}, if that is five times",
            'their starting current, such as starting = "200 mA"',
            figures={"starting": Figure(figures.starting + figures.unknown, "A")},
        )  # fmt: skip


def _volts(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    usual = survey.limits["switch.volts"]
    for switch in survey.wiring.switches.values():
        supply = survey.electrics.supplies.get(_supply(survey, switch))
        if supply is None:
            continue
        subject, given = Subject(switch.kind, switch.name), switch.spec.volts
        volts = Figure(supply.highest_volts, "V")
        if given is None:
            if above(supply.highest_volts, usual.value):
                yield open_question(
                    switch.name, "whether its switch breaks {volts}",
                    'the direct volts that its rating holds for, such as on_off = "1 A 48 V"', figures={"volts": volts},
                )  # fmt: skip
            continue
        most = Limited(given, "V", "what its rating holds for, as the file gives it")
        yield (within := Within(subject, supply.highest_volts, most))
        if not within.kept:
            yield Fact("stop", subject, _path(switch), figures={"volts": volts}, limit=most, firm=DANGER)


def _sealed(survey: Survey) -> Iterator[Fact]:
    for switch in survey.wiring.switches.values():
        if survey.build.place[switch.place].access == "sealed":
            yield Fact(
                "caution",
                Subject(switch.kind, switch.name),
                _path(switch),
                parts={"place": Subject("place", switch.place)},
            )


def _asleep(survey: Survey) -> Iterator[Fact | Within]:
    """Power banks that switch themselves off once a hand has switched off what is behind them."""
    for switch in survey.wiring.switches.values():
        name = _supply(survey, switch)
        supply, figures = survey.build.supply.get(name), survey.electrics.supplies.get(name)
        if supply is None or figures is None or supply.port != "power-bank":
            continue
        asks = supply.switches_off_below or BANK_ASKS
        off = (
            0.0
            if switch.kind == "supply"
            else max(figures.nominal - survey.electrics.switches[switch.line].nominal, 0.0)
        )
        source = (
            "what the bank asks for, as the file gives it"
            if supply.switches_off_below
            else "what power banks usually ask for (from memory)"
        )
        least = Limited(asks, "A", source)
        yield (within := Within(Subject(switch.kind, switch.name), off, least, least=True))
        if not below(figures.nominal, asks) and not within.kept:
            yield Fact(
                "note",
                within.subject,
                _path(switch),
                figures={"off": Figure(off, "A")},
                parts={"bank": Subject("supply", name)},
                limit=least,
            )


_WELDS = "As contacts close they bounce, and what flows then heats the spot where they touch until it welds or burns away."

CHECKS: tuple[Check, ...] = (
    Check(
        "switch.overload", "stop", "circuit", "a switch that carries or makes more than it is rated for",
        "An overloaded contact gets hot, and one that closes on too much welds.",
        "I behind it, highest, with a motor held fast for good, and as filaments are cold and motors start / its rating for direct current",
        ("switch.load", "switch.inrush", "motor.fuse"),
        "the switch's rating", _load, held="what carries too much",
        wording={
            "carries": Wording(
                "The switch of {subject} carries up to {current:apart}. It is rated for {rated:apart}.",
                "An overloaded contact gets hot and burns, with the plastic round it.", "Use one that is rated for more direct current.",
            ),
            "held": Wording(
                "While {load} is held fast, the switch of {subject} carries {current:apart}. It is rated for {rated:apart}.",
                "An overloaded contact gets hot and burns, with the plastic round it. "
                "Where a clutch or cut-out sees to it that the motor is never held fast, write never_stalls = true.",
                "Use one that is rated for more direct current.",
            ),
            "makes": Wording(
                "As what is behind it starts, the switch of {subject} makes {current:apart}. It is rated for {rated:apart}.",
                _WELDS, "Use one that is rated for more direct current.",
            ),
        },
    ),
    Check(
        "switch.volts", "stop", "circuit", "a switch for fewer volts", "Direct current goes on as an arc between contacts that open too little.",
        "the supply's highest volts / the direct volts that the rating holds for", ("switch.volts",), "the switch's rating", _volts, dangerous=True,
        wording={
            "": Wording(
                "The switch of {subject} breaks up to {volts:apart}. Its rating holds for {limit:apart} of direct current.",
                "Direct current does not pass through zero: above its volts the arc stays, and burns the contacts.",
                "Use one that is rated for these volts of direct current; alternating ones are no measure.",
            )
        },
    ),
    Check(
        "switch.sealed", "caution", "circuit", "a switch that no hand reaches", "What is switched by it stays as it was when the place was closed.",
        "place of the switch is sealed", (), "common practice", _sealed,
        wording={
            "": Wording(
                "The switch of {subject} will be sealed into {place}, where no hand reaches it.",
                "What it turns on stays on, or off, for good.",
                "Put it where a hand gets at it. If a magnet works it from outside, accept this with that reason.",
            )
        },
    ),
    Check(
        "switch.bank-asleep", "note", "circuit", "a power bank that goes off for good once it is switched off behind it",
        "A power bank that is asked for next to nothing switches itself off.", "load left once it is off / what the bank asks for", (),
        "what power banks usually ask for", _asleep,
        wording={
            "": Wording(
                "With {subject} switched off {bank} gives {off:apart}, less than the {limit:apart} that it asks for. It goes off by itself.",
                "Switching on again does not wake it: its own button does.",
                "Turn the model on and off by the button of the bank, or unplug it.",
            )
        },
    ),
)  # fmt: skip
