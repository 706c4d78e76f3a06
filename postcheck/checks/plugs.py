"""Plugs: their load, and what goes wrong when they are apart, turned round or half in."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.checks.mishaps import MISHAP_LIMITS, harm, hurt, stood, worst
from postcheck.checks.record import Check
from postcheck.checks.shown import amps, listed, volts
from postcheck.description.models import Plug
from postcheck.plain import quoted
from postcheck.report import Figure, Finding, Limited, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.network.figures import PlugFault
from postcheck.survey.network.supplies import typical_volts

__all__ = ["CHECKS"]


def _overload(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["plug.load"]
    for name, figures in survey.electrics.plugs.items():
        plug = survey.build.plug[figures.position]
        highest = max(figures.highest, default=0.0)
        if plug.rated is None or highest <= plug.rated * limit.value:
            continue
        pin = figures.highest.index(highest)
        yield Finding(
            "plug.overload", "stop", Subject("plug", name),
            f"pin {pin + 1} ({quoted(plug.pins[pin])}) of {quoted(name)} carries up to {amps(highest)}; it is rated {amps(plug.rated)}.",
            "An overloaded contact heats up, loses its spring and burns in.",
            ("plug", figures.position),
            figures={"current": Figure(highest, "A")},
            limit=Limited(plug.rated * limit.value, "A", limit.source),
        )  # fmt: skip


def _live(survey: Survey, plug: Plug) -> list[tuple[str, float]]:
    """The supplies whose poles or circuits stand on a plug's pins, with their volts."""
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


def _bare_pins(survey: Survey) -> Iterator[Finding | NotJudged]:
    for index, plug in enumerate(survey.build.plug):
        live = _live(survey, plug)
        if plug.bare_pins != "supply" or not live:
            continue
        name, level = max(live, key=lambda row: row[1])
        fuse = survey.build.supply[name].fuse
        blown = (
            f"its fuse of {amps(fuse.rated)} goes"
            if fuse is not None
            else "the full current of the supply flows"
        )
        yield Finding(
            "plug.bare-pins", "caution", Subject("plug", plug.name),
            f"when {quoted(plug.name)} is apart, bare pins stand at {volts(level)} from {quoted(name)}.",
            f"A screwdriver or the foot of the model across two pins is a short: {blown}.",
            ("plug", index, "bare_pins"),
            remedy="Put the half with the sockets on the supply's side and the pins on the model.",
            figures={"voltage": Figure(level, "V")},
        )  # fmt: skip


def _mishap(survey: Survey, plug: Plug, index: int, check: str, key: str) -> Finding:
    crossed = check == "plug.crossed"
    faults = [
        fault
        for fault in survey.electrics.plug_faults
        if fault.plug == plug.name and (fault.how == "crossed") is crossed
    ]
    broken = sorted(
        (fault for fault in faults if hurt(survey, fault)), key=lambda fault: -worst(survey, fault)
    )
    how = "can be put in the wrong way round" if crossed else "can sit half way with a pin not meeting"
    remedy = (
        "Use a keyed plug, or lay out the pins the same from both ends (as - + -)."
        if crossed
        else "Use a plug that latches, or pins of which the common one is the longest."
    )
    figures, limit = {}, None
    if broken:
        first = broken[0]
        way = "" if crossed else f" ({first.how})"
        says = f"{quoted(plug.name)} {how}; then{way} {harm(survey, first)}."
        why = f"It takes a moment, and nobody gets at what is glued in: {listed([fault.part for fault in broken])}."
        figures = {"reverse": Figure(max(fault.reverse for fault in broken), "V")}
        limit = stood(survey, first)
    else:
        says, why = _no_loss(plug, how, faults, crossed)
    return Finding(
        check, "stop" if broken else "caution", Subject("plug", plug.name), says, why, ("plug", index, key),
        remedy=remedy, figures=figures, limit=limit,
    )  # fmt: skip


def _no_loss(plug: Plug, how: str, faults: list[PlugFault], crossed: bool) -> tuple[str, str]:
    """What is said of a mishap by which nothing is known to be lost."""
    said = f"{quoted(plug.name)} {how}"
    shorted = [fault.part for fault in faults if fault.kind == "short"]
    unsolved = next((fault for fault in faults if fault.kind == "unsolved"), None)
    if shorted:
        return (
            f"{said}, and {listed(shorted)} is then shorted.",
            "Its fuse goes, or it feeds the short with all that it can give.",
        )
    if unsolved is not None:
        joined = f" {unsolved.part} then stand straight against each other." if unsolved.part else ""
        return (
            f"{said}, and for the lines as they then meet no currents were found.{joined}",
            "Supplies may be joined or shorted; what that does to the lamps is not known.",
        )
    what = (
        "Nothing is known to be lost by it, but" if faults else "Nothing hangs on it that would be lost, but"
    )
    return f"{said}.", (
        f"{what} some stay dark or light with the wrong circuit."
        if crossed
        else f"{what} some stay dark or glow through others."
    )


def _crossed(survey: Survey) -> Iterator[Finding | NotJudged]:
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
            yield _mishap(survey, plug, index, "plug.crossed", "keyed")


def _part_way(survey: Survey) -> Iterator[Finding | NotJudged]:
    for index, plug in enumerate(survey.build.plug):
        if plug.part_way and len(plug.pins) > 1:
            yield _mishap(survey, plug, index, "plug.part-way", "part_way")


CHECKS: tuple[Check, ...] = (
    Check(
        "plug.overload", "stop", "plug", "a pin carries more than it is rated for",
        "An overloaded contact heats up and burns in.", "highest current of a pin / its rating", ("plug.load",),
        "the connector's rating", _overload, dangerous=True,
    ),
    Check(
        "plug.bare-pins", "caution", "plug", "live pins are bare when the plug is apart",
        "Whatever lies across them is a short.", "bare_pins = supply, and a pole or circuit on a pin", (),
        "common practice: sockets on the side that is live", _bare_pins,
    ),
    Check(
        "plug.crossed", "stop", "plug", "a plug can be put in the wrong way round",
        "Lamps, boards and loads that then stand at reverse or too much voltage are lost.",
        "the network solved with the pins in reverse order, at the supply's highest voltage", MISHAP_LIMITS,
        "the part's reverse rating; else the usual 5 V of LED data sheets, and next to nothing for electronics", _crossed,
    ),
    Check(
        "plug.part-way", "stop", "plug", "a plug can sit half way",
        "With the common pin not meeting, circuits feed each other backwards through their lamps.",
        "the network solved with each pin open in turn, at the supply's highest voltage", MISHAP_LIMITS,
        "the part's reverse rating; else the usual 5 V of LED data sheets, and next to nothing for electronics", _part_way,
    ),
)  # fmt: skip
