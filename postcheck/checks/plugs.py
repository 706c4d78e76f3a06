"""Plugs: their load, and what goes wrong when they are apart, turned round or half in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from postcheck.checks.fact import Fact, Within, first_broken, of_rating
from postcheck.checks.known import sealed_in
from postcheck.checks.misconnections import (
    HARMS,
    MISCONNECTION_LIMITS,
    UNSOLVED,
    UNTRIED,
    harm,
    harmed,
    hurt,
    worst,
)
from postcheck.checks.record import Check
from postcheck.checks.wording import Wording
from postcheck.description.models import Plug
from postcheck.report import Figure, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import PlugFault
from postcheck.survey.network.supplies import typical_volts

# The lines on a plug that has one way there and one back.
POLES = 2


def _overload(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    limit = survey.limits["plug.load"]
    for name, figures in survey.electrics.plugs.items():
        plug = survey.build.plug[figures.position]
        highest = max(figures.highest, default=0.0)
        held, motor, at = max(
            (
                (max(pins), name, pins.index(max(pins)))
                for name, pins in figures.held.items()
                if name in survey.held_for_good
            ),
            default=(0.0, "", 0),
        )
        if plug.rated is None:
            continue
        subject, rated = Subject("plug", name), of_rating(limit, plug.rated, "A")
        # contacts take a minute to get hot: a start of half a second they bear
        steps: dict[tuple[Severity, str], Within] = {
            ("stop", ""): Within(subject, highest, rated),
            ("stop", "held"): Within(subject, held, rated),
        }
        yield from steps.values()
        if (broken := first_broken(steps)) is None:
            continue
        case = broken[1]
        pin = at if case else figures.highest.index(highest)
        yield Fact(
            "stop",
            subject,
            ("plug", figures.position),
            case,
            figures={
                "current": Figure(held if case else highest, "A"),
                "rated": Figure(plug.rated, "A"),
                "pin": Figure(pin + 1, ""),
            },
            parts={"line": Subject("line", plug.pins[pin])}
            | ({"load": Subject("load", motor)} if case else {}),
            limit=rated,
        )


def _live(survey: Survey, plug: Plug) -> list[tuple[str, float]]:
    """The supplies whose poles or circuits are on a plug's pins, with their volts."""
    build = survey.build
    found: dict[str, float] = {}
    for name, supply in build.supply.items():
        lines = {f"{name}+"} | {
            circuit
            for circuit, said in build.circuit.items()
            if said.supply == name or (said.board and build.board[said.board].supply == name)
        }
        if lines & set(plug.pins):
            found[name] = typical_volts(supply)
    return list(found.items())


def _bare_pins(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for index, plug in enumerate(survey.build.plug):
        live = _live(survey, plug)
        if plug.bare_pins != "supply" or not live:
            continue
        name, level = max(live, key=lambda row: row[1])
        fuse = survey.build.supply[name].fuse
        yield Fact(
            "caution",
            Subject("plug", plug.name),
            ("plug", index, "bare_pins"),
            "no fuse" if fuse is None else "fused",
            figures={
                "voltage": Figure(level, "V"),
                **({} if fuse is None else {"fuse": Figure(fuse.rated, "A")}),
            },
            parts={"supply": Subject("supply", name)},
        )


def _misconnection(
    survey: Survey, plug: Plug, path: tuple[str | int, ...], faults: Sequence[PlugFault], *, crossed: bool
) -> Fact | NotJudged:
    lost = sorted((fault for fault in faults if hurt(survey, fault)), key=lambda fault: -worst(survey, fault))
    subject = Subject("plug", plug.name)
    if lost:
        first = lost[0]
        case, figures, limit = harm(survey, first)
        load = survey.electrics.loads.get(first.part)
        if crossed and case == "reversed" and load is not None and load.part.diode is not None:
            case, figures = "reversed diode", {}
            limit = replace(
                limit, source="from here on the diode across it conducts, and nothing limits what it takes"
            )
        figures = {"reverse": Figure(first.reverse, "V"), **figures}
        parts: dict[str, Subject | tuple[Subject, ...]] = {
            "harmed": harmed(first),
            "lost": tuple(dict.fromkeys(map(harmed, lost))),
        }
        if not crossed:
            figures["pin"] = Figure(first.pin + 1, "")
            parts["line"] = Subject("line", plug.pins[first.pin])
        firm = sealed_in(survey, map(harmed, lost))
        return Fact("stop", subject, path, case, figures=figures, parts=parts, limit=limit, firm=firm)
    kinds = {fault.kind for fault in faults}
    if kinds & {"unsolved", "untried"}:
        return NotJudged(
            plug.name,
            f"what happens when it {'is put in the wrong way round' if crossed else 'sits half way'}",
            UNSOLVED if "unsolved" in kinds else f"{UNTRIED}, or a keyed plug",
        )
    # an open pin alone shorts no supply
    shorted = tuple(harmed(fault) for fault in faults if fault.kind == "short" and crossed)
    if shorted:
        return Fact("caution", subject, path, "shorted", parts={"shorted": shorted})
    # half in, it is seen to be dark, and pushed home
    return Fact("caution" if crossed else "note", subject, path, "nothing lost")


def _by_plug(survey: Survey, *, crossed: bool) -> Mapping[str, list[PlugFault]]:
    found: dict[str, list[PlugFault]] = {plug.name: [] for plug in survey.build.plug}
    for fault in survey.electrics.plug_faults:
        if (fault.how == "crossed") is crossed:
            found[fault.plug].append(fault)
    return found


def _crossed(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    faults = _by_plug(survey, crossed=True)
    for index, plug in enumerate(survey.build.plug):
        if len(plug.pins) < 2 or plug.pins == plug.pins[::-1]:
            continue
        if plug.keyed is None:
            yield NotJudged(
                plug.name,
                "what happens when it is put in the wrong way round",
                "whether it goes in one way only: keyed = true or false",
            )
        elif plug.keyed is False:
            found = _misconnection(survey, plug, ("plug", index, "keyed"), faults[plug.name], crossed=True)
            if isinstance(found, Fact) and len(set(plug.pins)) == POLES:
                # with more lines one end of the plug would meet another line
                found = found._replace(words={"layout": "- + -"})
            yield found


def _part_way(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    faults = _by_plug(survey, crossed=False)
    for index, plug in enumerate(survey.build.plug):
        if plug.part_way and len(plug.pins) > 1:
            yield _misconnection(survey, plug, ("plug", index, "part_way"), faults[plug.name], crossed=False)


_SHORT = "A screwdriver or the foot of the model across two pins is a short: "
_BARE = "When {subject} is apart, its bare pins carry {voltage} from {supply}."
_OTHER_HALF = "Put the half with the sockets on the supply's side and the pins on the model."

_TURNED = "{subject} can be put in the wrong way round."
_KEYED = (
    "Use a keyed plug and write keyed = true[, or lay out the pins the same from both ends (as {layout})]."
)
_HALF_IN = "{subject} can sit half way with a pin not meeting."
_OPEN_PIN = "{subject} can sit half way. With pin {pin}, for {line}, not meeting, "
_LATCHED = "Use a plug that latches and write part_way = false, or one whose common pin is the longest."
_LOST = "It takes a moment, and what is glued in cannot be got at: {lost}."
_REVERSE_SOURCE = (
    "the part's reverse rating; else the usual 5 V of LED data sheets, and next to nothing for electronics"
)

CHECKS: tuple[Check, ...] = (
    Check(
        "plug.overload", "stop", "plug", "a pin carries more than it is rated for",
        "An overloaded contact heats up and burns in.", "highest current of a pin, and with a motor held fast for good, / its rating", ("plug.load", "motor.fuse"),
        "the connector's rating", _overload, dangerous=True,
        wording={
            "": Wording(
                "Pin {pin} of {subject}, for {line}, carries up to {current:apart}. It is rated for {rated:apart}.",
                "An overloaded contact heats up, loses its spring and burns in.",
            ),
            "held": Wording(
                "While {load} is held fast, pin {pin} of {subject}, for {line}, carries {current:apart}. It is rated for {rated:apart}.",
                "An overloaded contact heats up, loses its spring and burns in. "
                "Where a clutch or cut-out sees to it that the motor is never held fast, write never_stalls = true.",
                "Use a plug with pins rated for it.",
            ),
        },
    ),
    Check(
        "plug.bare-pins", "caution", "plug", "live pins are bare when the plug is apart",
        "Whatever lies across them is a short.", "bare_pins = supply, and a pole or circuit on a pin", (),
        "common practice: sockets on the side that is live", _bare_pins,
        wording={
            "fused": Wording(_BARE, _SHORT + "the fuse of {fuse} opens.", _OTHER_HALF),
            "no fuse": Wording(_BARE, _SHORT + "all that {supply} can give flows.", _OTHER_HALF),
        },
    ),
    Check(
        "plug.crossed", "stop", "plug", "a plug can be put in the wrong way round",
        "Lamps, boards and loads that then get reverse or too much voltage are lost.",
        "the network solved with the pins in reverse order, at the supply's highest voltage", MISCONNECTION_LIMITS,
        _REVERSE_SOURCE, _crossed, held="a stop that destroys what is sealed in",
        wording={
            **{case: Wording(f"{_TURNED} Then {says}", _LOST, _KEYED) for case, says in HARMS.items()},
            "reversed diode": Wording(f"{_TURNED} Then the diode across {{harmed}} is a short.", _LOST, _KEYED),
            "shorted": Wording(
                f"{_TURNED} Then {{shorted}} is shorted.", "Its fuse goes, or it feeds the short with all that it can give.", _KEYED
            ),
            "nothing lost": Wording(
                _TURNED, "Nothing is known to be lost by it, but some lamps stay dark or light with the wrong circuit.", _KEYED
            ),
        },
    ),
    Check(
        "plug.part-way", "stop", "plug", "a plug can sit half way",
        "With the common pin not meeting, circuits feed each other backwards through their lamps.",
        "the network solved with each pin open in turn, at the supply's highest voltage", MISCONNECTION_LIMITS,
        _REVERSE_SOURCE, _part_way, held="a stop that destroys what is sealed in",
        wording={
            **{case: Wording(_OPEN_PIN + says, _LOST, _LATCHED) for case, says in HARMS.items()},
            "nothing lost": Wording(
                _HALF_IN, "Nothing is known to be lost by it, but some lamps stay dark or glow through others.", _LATCHED
            ),
        },
    ),
)  # fmt: skip
