"""Shorts, fuses, and wires that get hot."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.build.naming import supply_of
from postcheck.build.quantities import Dimension, format_quantity
from postcheck.checks.known import bare_on
from postcheck.checks.record import Check
from postcheck.checks.shown import amps, celsius, percent
from postcheck.physics.fuse_time import carries_for_good
from postcheck.plain import quoted
from postcheck.report import Edit, Figure, Finding, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.faults import hottest_in_use
from postcheck.survey.figures import ConductorFault
from postcheck.survey.fuse_choice import protecting_fuse

__all__ = ["CHECKS"]

_FIRE = "Hot copper melts its insulation and the plastic it lies in, and can set fire to a closed model. Defer to your local code where it asks for more."


def _hurt(survey: Survey, supply: str) -> list[ConductorFault]:
    """A supply's conductors that a short overheats, the worst first."""
    hurt = [fault for fault in survey.faults if fault.supply == supply and fault.hurt]
    return sorted(hurt, key=lambda fault: (fault.wire.conductor_area, -(fault.hottest or 1e6), fault.name))


def _words(fault: ConductorFault) -> str:
    """What the short does to the conductor."""
    who = f"the lead of {quoted(fault.name)}" if fault.kind == "lead" else quoted(fault.name)
    hot = "melts" if fault.hottest is None else f"gets to {celsius(fault.hottest)}"
    return f"a short at the far end of {who} ({fault.wire.name}, stands {celsius(fault.stands)}) {hot}"


def _also(hurt: list[ConductorFault]) -> str:
    others = len({(fault.kind, fault.name) for fault in hurt}) - 1
    return f" So do {others} more." if others > 1 else " So does one more." if others else ""


def _severity(survey: Survey, hurt: list[ConductorFault]) -> Severity:
    """A stop where a conductor melts, or stays so hot that it sets fire to things."""
    glow = survey.limits.value("fault.glow")
    if any(fault.hottest is None or (fault.lasting_celsius or 0.0) > glow for fault in hurt):
        return "stop"
    return "caution"


def _figures(fault: ConductorFault) -> dict[str, Figure]:
    figures = {"short": Figure(fault.current, "A"), "lasting": Figure(fault.lasting_current, "A")}
    if fault.hottest is not None:
        figures["hottest"] = Figure(fault.hottest, "degC")
    return {name: figure for name, figure in figures.items() if abs(figure.value) < 1e6}


def _fuse_remedy(survey: Survey, supply: str) -> tuple[str, tuple[Edit, ...] | None]:
    load = survey.electrics.supplies.get(supply)
    rated = None
    if load is not None:
        rated = protecting_fuse(survey.build, survey.parts, survey.limits, supply, load.highest)
    if rated is None:
        return (
            "No fuse both carries the load and protects this conductor: use thicker wire, or put the resistors at the joints, ahead of the fine leads.",
            None,
        )
    text = format_quantity(rated, Dimension.CURRENT)
    return f"A quick fuse of {text} at the supply carries the load and protects every conductor.", (
        Edit(("supply", supply, "fuse"), f'"{text}"'),
    )


def _absent(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name, supply in survey.build.supply.items():
        if supply.fuse is not None:
            continue
        hurt = _hurt(survey, name)
        rated = survey.electrics.supplies[name].rated if name in survey.electrics.supplies else None
        if (
            hurt
            and rated is None
            and supply.rated is None
            and supply.current_limit is None
            and supply.kind in ("adaptor", "converter")
        ):
            yield NotJudged(
                name, "whether a short overheats a conductor", "its rated current (rated), or a fuse"
            )
            continue
        if not hurt:
            continue
        worst = hurt[0]
        remedy, edits = _fuse_remedy(survey, name)
        yield Finding(
            "fuse.absent", _severity(survey, hurt), Subject("supply", name),
            f"{quoted(name)} has no fuse and gives {amps(worst.lasting_current)} for good; {_words(worst)}.{_also(hurt)}",
            _FIRE, ("supply", name), remedy=remedy, edits=edits, figures=_figures(worst),
            limit=Limited(worst.stands, "degC", survey.limits["wire.insulation"].source),
        )  # fmt: skip


def _too_small(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["fuse.load"]
    for name, supply in survey.build.supply.items():
        figures = survey.electrics.supplies.get(name)
        if supply.fuse is None or figures is None or figures.highest <= limit.value * supply.fuse.rated:
            continue
        share = figures.highest / supply.fuse.rated
        # what an unlimited lamp draws is no load to choose a fuse by
        bare = bare_on(
            survey,
            {key for key, said in survey.build.circuit.items() if supply_of(survey.build, said) == name},
        )
        remedy, edits = _fuse_remedy(survey, name) if bare is None else (None, None)
        over = share > 1.0
        yield Finding(
            "fuse.too-small", "stop" if over else "caution", Subject("supply", name),
            f"the fuse of {quoted(name)} is rated {amps(supply.fuse.rated)} and carries up to {amps(figures.highest)}: {percent(share)}, where {percent(limit.value)} is the most for long.",
            "It opens with nothing wrong, sooner or later." if over else "A fuse worked near its rating ages and opens with nothing wrong.",
            ("supply", name, "fuse"), remedy=remedy, edits=edits, figures={"load": Figure(figures.highest, "A")},
            limit=Limited(limit.value * supply.fuse.rated, "A", limit.source), because_of=bare,
        )  # fmt: skip


def _never_opens(survey: Survey) -> Iterator[Finding | NotJudged]:
    lasting = survey.limits["fuse.lasting"]
    for name, supply in survey.build.supply.items():
        if supply.fuse is None:
            continue
        carries = carries_for_good(supply.fuse.kind, lasting.value) * supply.fuse.rated
        mine = [fault for fault in survey.faults if fault.supply == name and not fault.opens]
        hurt = [fault for fault in _hurt(survey, name) if not fault.opens]
        weak = [fault for fault in mine if fault.current < carries]
        if not hurt and not weak:
            continue
        worst = hurt[0] if hurt else min(weak, key=lambda fault: fault.current)
        who = f"the lead of {quoted(worst.name)}" if worst.kind == "lead" else quoted(worst.name)
        flows = min(worst.current, worst.lasting_current) if worst.lasting_current else worst.current
        remedy, edits = _fuse_remedy(survey, name)
        yield Finding(
            "fuse.never-opens", "stop" if hurt else "note", Subject("supply", name),
            f"a short at the far end of {who} draws {amps(flows)}; the fuse of {amps(supply.fuse.rated)} holds {amps(carries)} for good and never opens."
            + (f" The conductor {'melts' if worst.hottest is None else 'gets to ' + celsius(worst.hottest)}." if hurt else ""),
            _FIRE if hurt else "No wire is hurt, but the short goes on warming whatever it lies in until somebody notices.",
            ("supply", name, "fuse"), remedy=remedy, edits=edits, figures=_figures(worst),
            limit=Limited(carries, "A", lasting.source),
        )  # fmt: skip


def _before_fuse(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name, supply in survey.build.supply.items():
        if supply.fuse is None:
            continue
        hurt = [fault for fault in _hurt(survey, name) if fault.opens]
        if not hurt:
            continue
        worst = hurt[0]
        remedy, edits = _fuse_remedy(survey, name)
        kind = {"quick": "", "slow": "slow ", "resettable": "resettable "}[supply.fuse.kind]
        yield Finding(
            "wire.hurt-before-fuse", _severity(survey, hurt), Subject("supply", name),
            f"{_words(worst)[0].upper()}{_words(worst)[1:]} before the {kind}fuse of {amps(supply.fuse.rated)} is sure to open.{_also(hurt)}",
            _FIRE, worst.path, remedy=remedy, edits=edits, figures=_figures(worst),
            limit=Limited(worst.stands, "degC", survey.limits["wire.insulation"].source),
            because_of=f"fuse.never-opens:{name}",
        )  # fmt: skip


def _hot(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["wire.insulation"]
    for name, found in hottest_in_use(survey.build, survey.electrics).items():
        figures = survey.electrics.runs[name]
        wire = figures.part.wire
        if wire is None:
            continue
        stands = wire.insulation_celsius * limit.value
        if found is not None and found <= stands:
            continue
        hot = "melts" if found is None else f"gets to {celsius(found)}"
        yield Finding(
            "wire.hot", "stop", Subject("run", name),
            f"{quoted(name)} ({wire.name}) carries up to {amps(figures.highest)} in use and {hot}; its insulation stands {celsius(stands)}.",
            "It is too hot with nothing wrong at all. " + _FIRE, figures.part.path,
            remedy="Thicker wire, or more conductors side by side.",
            figures={"current": Figure(figures.highest, "A")} | ({"hottest": Figure(found, "degC")} if found is not None else {}),
            limit=Limited(stands, "degC", limit.source),
        )  # fmt: skip


_MODEL = "heat made I2R'(T) against heat lost to still air (Morgan) or across a bore; until the fuse opens, with the copper's own heat"
_SOURCES = "Morgan 1975, checked against Preece; IEC 60364-5-54 annex A; IEC 60127-2 and UL 248-14 gates"

CHECKS: tuple[Check, ...] = (
    Check(
        "fuse.absent", "stop", "supply", "nothing ends a short before a conductor overheats",
        "A supply without a fuse or limit of its own feeds a short for good.", _MODEL,
        ("wire.insulation", "fault.glow"), _SOURCES, _absent, dangerous=True,
    ),
    Check(
        "fuse.too-small", "stop", "supply", "a fuse carries too large a share of its rating",
        "It ages and opens with nothing wrong.", "highest load / fuse rating", ("fuse.load",),
        "UL 248-14 practice: 75 % at 25 degC", _too_small,
    ),
    Check(
        "fuse.never-opens", "stop", "supply", "a far short does not open the fuse",
        "Fine wires limit the short to less than the fuse needs.", "lowest voltage / resistance of the whole way against 1.35 x rating",
        ("fuse.lasting", "wire.insulation"), "UL 248-14: 135 % within the hour", _never_opens, dangerous=True,
    ),
    Check(
        "wire.hurt-before-fuse", "stop", "supply", "a conductor overheats before the fuse opens",
        "The fuse is larger than the thinnest conductor behind it bears.", _MODEL,
        ("wire.insulation", "fault.short-time", "fault.glow", "fuse.lasting"), _SOURCES, _before_fuse, dangerous=True,
    ),
    Check(
        "wire.hot", "stop", "run", "a run is too hot in normal use",
        "Its insulation softens with nothing wrong.", _MODEL, ("wire.insulation",), _SOURCES, _hot, dangerous=True,
    ),
)  # fmt: skip
