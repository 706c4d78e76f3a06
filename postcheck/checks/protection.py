"""Shorts, fuses, and wires that get hot."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import inf

from postcheck.checks.known import bare_on
from postcheck.checks.record import Check
from postcheck.checks.shown import amps, celsius, percent
from postcheck.description.naming import supply_of
from postcheck.physics.fuse import may_hold, surely_opens_at
from postcheck.plain import quoted
from postcheck.report import Figure, Finding, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.heat.figures import ConductorFault, FaultHeat
from postcheck.survey.heat.fuses import holds_far_short, protecting_fuse
from postcheck.survey.network.supplies import gives_up

__all__ = ["CHECKS"]

_FIRE = "Hot copper melts its insulation and the plastic it lies in, and can set fire to a closed model. Defer to your local code where it asks for more."

# Which fuse does it is worked out and proven afterwards.
_THICKER = "A fuse that carries the load and still protects this conductor; where none does both, thicker wire, or the resistors at the joints, ahead of the fine leads."


# What may lie ahead of the fuse is a matter of its own: `fuse.absent`.
def _hurt(survey: Survey, supply: str, *, fused: bool) -> list[ConductorFault]:
    """A supply's conductors, with a fuse in their way or without, that a short surely overheats, the worst first."""
    return _worst_first(
        fault for fault in survey.faults
        if fault.supply == supply and fault.hurt and (fault.fuse is not None) is fused
    )  # fmt: skip


def _worst_first(faults: Iterable[ConductorFault]) -> list[ConductorFault]:
    return sorted(
        faults, key=lambda fault: (fault.wire.conductor_area, -(fault.most.hottest or 1e6), fault.name)
    )


def _who(fault: ConductorFault) -> str:
    return f"the lead of {quoted(fault.name)}" if fault.kind == "lead" else quoted(fault.name)


def _heats(heat: FaultHeat) -> str:
    return "melts the wire" if heat.hottest is None else f"heats the wire to {celsius(heat.hottest)}"


def _words(fault: ConductorFault) -> str:
    """What the short does to the conductor."""
    who = f"{_who(fault)} ({fault.wire.name}, stands {celsius(fault.sure.stands)})"
    return f"a short at the far end of {who} {_heats(fault.sure)}"


def _also(hurt: list[ConductorFault]) -> str:
    others = len({(fault.kind, fault.name) for fault in hurt}) - 1
    return f" So do {others} more." if others > 1 else " So does one more." if others else ""


def _severity(survey: Survey, hurt: list[ConductorFault]) -> Severity:
    """A stop where a conductor melts, or gets so hot that it sets fire to things."""
    glow = survey.limits.value("fault.glow")
    if any(fault.sure.hottest is None or fault.sure.hottest > glow for fault in hurt):
        return "stop"
    return "caution"


def _figures(fault: ConductorFault) -> dict[str, Figure]:
    figures = {"short": Figure(fault.current, "A"), "lasting": Figure(fault.sure.lasting, "A")}
    if fault.sure.hottest is not None:
        figures["hottest"] = Figure(fault.sure.hottest, "degC")
    return {name: figure for name, figure in figures.items() if abs(figure.value) < 1e6}


def _fuse_that_protects(survey: Survey, supply: str) -> float | None:
    load = survey.electrics.supplies.get(supply)
    if load is None:
        return None
    return protecting_fuse(survey.wiring, survey.limits, survey.in_use, supply, load.highest)


def _missing_limit(survey: Survey, name: str) -> str | None:
    """What the file would have to tell before a short can be judged at all, where nothing is known that limits it."""
    supply = survey.build.supply[name]
    if supply.fuse is not None or supply.current_limit is not None:
        return None
    if supply.kind == "battery":
        known = supply.chemistry is not None or supply.resistance is not None
        return (
            None
            if known
            else 'its chemistry and size, or a fuse, such as chemistry = "alkaline" and size = "aa", or fuse = "500 mA"'
        )
    return (
        None
        if gives_up(supply)[0] < inf
        else 'its rated current, or a fuse, such as rated = "1 A" or fuse = "500 mA"'
    )


def _absent(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name, supply in survey.build.supply.items():
        hurt = _hurt(survey, name, fused=False)
        if not hurt:
            continue
        missing = _missing_limit(survey, name)
        if missing is not None:
            yield NotJudged(name, "whether a short overheats a conductor", missing)
            continue
        worst = hurt[0]
        flows = worst.sure.lasting
        if supply.fuse is not None:
            says = f"the fuse of {quoted(name)} sits at {quoted(supply.fuse.place or '')}; ahead of it {amps(flows)} can flow without end"
        else:
            lasts = "until it is empty" if supply.kind == "battery" else "without end"
            board = supply.protected and supply.current_limit is None
            gives = "; its board guards the cell and may let" if board else " and gives"
            flows_on = f"flow {lasts} (boards trip at 2 to 5 A and more)" if board else lasts
            says = f"{quoted(name)} has no fuse{gives} {amps(flows)} {flows_on}"
        yield Finding(
            "fuse.absent", _severity(survey, hurt), Subject("supply", name),
            f"{says}; {_words(worst)}.{_also(hurt)}",
            _FIRE, ("supply", name), remedy=_THICKER, figures=_figures(worst),
            limit=Limited(worst.sure.stands, "degC", survey.limits["wire.insulation"].source),
        )  # fmt: skip


def _unsure(survey: Survey) -> Iterator[Finding | NotJudged]:
    """Conductors that are hurt only if a supply gives more than it is rated for before it gives up by itself."""
    for name, supply in survey.build.supply.items():
        if any(fault.hurt for fault in survey.faults if fault.supply == name):
            continue
        found = _worst_first(fault for fault in survey.faults if fault.supply == name and fault.unsure)
        if not found or _missing_limit(survey, name) is not None:
            continue
        worst = found[0]
        rated = _fuse_that_protects(survey, name)
        fuse = f', or a quick fuse, such as fuse = "{amps(rated)}"' if rated is not None else ""
        limit = (
            "the current at which it gives up"
            if supply.kind != "battery"
            else "the current at which its board trips"
        )
        yield NotJudged(
            name,
            f"whether a short overheats {_who(worst)} ({worst.wire.name}): it stands {amps(worst.sure.lasting)}, but {amps(worst.most.lasting)} {_heats(worst.most)}",
            f'{limit}, such as current_limit = "1.3 A"{fuse}',
        )  # fmt: skip


def _absent_or_unsure(survey: Survey) -> Iterator[Finding | NotJudged]:
    yield from _absent(survey)
    yield from _unsure(survey)


def _too_small(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name, supply in survey.build.supply.items():
        figures = survey.electrics.supplies.get(name)
        if supply.fuse is None or figures is None:
            continue
        limit = survey.limits["fuse.load.resettable" if supply.fuse.kind == "resettable" else "fuse.load"]
        if figures.highest <= limit.value * supply.fuse.rated:
            continue
        share = figures.highest / supply.fuse.rated
        # what an unlimited lamp draws is no load to choose a fuse by
        bare = bare_on(
            survey,
            {key for key, said in survey.build.circuit.items() if supply_of(survey.build, said) == name},
        )
        over = share > 1.0
        yield Finding(
            "fuse.too-small", "stop" if over else "caution", Subject("supply", name),
            f"the fuse of {quoted(name)} is rated {amps(supply.fuse.rated)} and carries up to {amps(figures.highest)}: {percent(share)}, where {percent(limit.value)} is the most for long.",
            "It opens with nothing wrong, sooner or later." if over else "A fuse worked near its rating ages and opens with nothing wrong.",
            ("supply", name, "fuse"), figures={"load": Figure(figures.highest, "A")},
            limit=Limited(limit.value * supply.fuse.rated, "A", limit.source), because_of=bare,
        )  # fmt: skip


def _never_opens(survey: Survey) -> Iterator[Finding | NotJudged]:
    holds, lasting = survey.limits["fuse.holds"], survey.limits["fuse.lasting"]
    for name, supply in survey.build.supply.items():
        if supply.fuse is None:
            continue
        rated, kind = supply.fuse.rated, supply.fuse.kind
        held, opens = may_hold(kind, holds.value) * rated, surely_opens_at(kind, lasting.value) * rated
        mine = [fault for fault in survey.faults if fault.supply == name and not fault.opens]
        hurt = [fault for fault in _hurt(survey, name, fused=True) if not fault.opens]
        weak = [fault for fault in mine if holds_far_short(fault, kind, holds.value)]
        sure, gives = gives_up(supply)
        if not hurt and not weak:
            load = survey.electrics.supplies.get(name)
            # a fuse chosen for a load that the supply does not carry is the supply's fault
            if supply.kind != "battery" and rated > gives and (load is None or load.highest <= sure):
                yield _without_effect(name, rated, gives)
            continue
        worst = hurt[0] if hurt else min(weak, key=lambda fault: fault.current)
        flows = min(worst.current, worst.sure.lasting) if worst.sure.lasting else worst.current
        never = flows < held
        fuse = (
            f"the fuse of {amps(rated)} is made to hold {amps(held)} and never opens"
            if never
            else (f"nothing promises that the fuse of {amps(rated)} opens below {amps(opens)}")
        )
        yield Finding(
            "fuse.never-opens", "note" if not hurt else "stop" if never else _severity(survey, hurt), Subject("supply", name),
            f"a short at the far end of {_who(worst)} draws {amps(flows)}; {fuse}."
            + (f" It {_heats(worst.sure)}." if hurt else ""),
            _FIRE if hurt else "No wire is hurt, but the short goes on warming whatever it lies in until somebody notices.",
            ("supply", name, "fuse"), remedy=_THICKER if hurt else None, figures=_figures(worst),
            limit=Limited(held, "A", holds.source) if never else Limited(opens, "A", lasting.source),
        )  # fmt: skip


def _without_effect(name: str, rated: float, gives: float) -> Finding:
    return Finding(
        "fuse.never-opens", "note", Subject("supply", name),
        f"the fuse of {amps(rated)} never opens: {quoted(name)} itself gives {amps(gives)} at most.",
        "No wire is hurt, but the fuse guards nothing that the supply's own limit does not.",
        ("supply", name, "fuse"),
        figures={"most": Figure(gives, "A")}, limit=Limited(rated, "A", "the fuse's rating"),
    )  # fmt: skip


def _before_fuse(survey: Survey) -> Iterator[Finding | NotJudged]:
    for name, supply in survey.build.supply.items():
        if supply.fuse is None:
            continue
        hurt = [fault for fault in _hurt(survey, name, fused=True) if fault.opens]
        if not hurt:
            continue
        worst = hurt[0]
        kind = {"quick": "", "slow": "slow ", "resettable": "resettable "}[supply.fuse.kind]
        words = _words(worst)
        yield Finding(
            "wire.hurt-before-fuse", _severity(survey, hurt), Subject("supply", name),
            f"{words} before the {kind}fuse of {amps(supply.fuse.rated)} is sure to open.{_also(hurt)}",
            _FIRE, worst.path, remedy=_THICKER, figures=_figures(worst),
            limit=Limited(worst.sure.stands, "degC", survey.limits["wire.insulation"].source),
            because_of=f"fuse.never-opens:{name}",
        )  # fmt: skip


def _hot(survey: Survey) -> Iterator[Finding | NotJudged]:
    limit = survey.limits["wire.insulation"]
    told: set[tuple[str, str]] = set()
    first: dict[str, str] = {}  # the first hot one of a bore: what lies with it is hot for the same reason
    for used in survey.in_use.wires:
        # the lead of a lamp carries what the lamp stands; one without a resistor is a matter of its own
        if used.name in survey.electrics.lamps and used.kind == "lead":
            continue
        stands = used.wire.insulation_celsius * limit.value
        if (used.celsius is not None and used.celsius <= stands) or (used.kind, used.name) in told:
            continue
        told.add((used.kind, used.name))
        cause = next((first[passage] for passage in used.passages if passage in first), None)
        for passage in used.passages:
            first.setdefault(passage, used.name)
        who = f"the lead of {quoted(used.name)}" if used.kind == "lead" else quoted(used.name)
        hot = "melts" if used.celsius is None else f"gets to {celsius(used.celsius)}"
        beside = survey.in_use.company(used.passages, used.key)
        warmed = f", {beside:.0f} K of it from what lies beside it" if beside >= 5.0 else ""
        yield Finding(
            "wire.hot", "stop", Subject(used.kind, used.name),
            f"{who} ({used.wire.name}) carries up to {amps(used.current)} in use and {hot}{warmed}; its insulation stands {celsius(stands)}.",
            "It is too hot with nothing wrong at all. " + _FIRE, used.path,
            remedy="Thicker wire, or more conductors side by side.",
            figures={"current": Figure(used.current, "A")} | ({"hottest": Figure(used.celsius, "degC")} if used.celsius is not None else {}),
            limit=Limited(stands, "degC", limit.source), because_of=None if cause is None else f"wire.hot:{cause}",
        )  # fmt: skip


_MODEL = "heat made I2R'(T) against heat lost to still air (Morgan) or across a bore, with all others in it; until the fuse opens, with the copper's own heat"
_SOURCES = "Morgan 1975, checked against Preece; IEC 60364-5-54 annex A; IEC 60127-2 and UL 248-14 gates"

CHECKS: tuple[Check, ...] = (
    Check(
        "fuse.absent", "stop", "supply", "nothing ends a short before a conductor overheats",
        "A supply without a fuse or limit of its own feeds a short for good.", _MODEL,
        ("wire.insulation", "fault.glow"), _SOURCES, _absent_or_unsure, dangerous=True,
    ),
    Check(
        "fuse.too-small", "stop", "supply", "a fuse carries too large a share of its rating",
        "It ages and opens with nothing wrong.", "highest load / fuse rating", ("fuse.load", "fuse.load.resettable"),
        "IEC 60127 fuses carry 100 %, with a tenth to spare", _too_small,
    ),
    Check(
        "fuse.never-opens", "stop", "supply", "a far short does not open the fuse",
        "Fine wires limit the short to less than the fuse needs.", "lowest voltage / resistance of the whole way against 1.5 and 2.1 x rating",
        ("fuse.holds", "fuse.lasting", "wire.insulation", "fault.glow"), "IEC 60127-2: holds 150 % for an hour, opens at 210 % within half an hour", _never_opens,
        dangerous=True,
    ),
    Check(
        "wire.hurt-before-fuse", "stop", "supply", "a conductor overheats before the fuse opens",
        "The fuse is larger than the thinnest conductor behind it bears.", _MODEL,
        ("wire.insulation", "fault.short-time", "fault.glow", "fuse.lasting"), _SOURCES, _before_fuse, dangerous=True,
    ),
    Check(
        "wire.hot", "stop", "run", "a conductor is too hot in normal use",
        "Its insulation softens with nothing wrong.", _MODEL, ("wire.insulation",), _SOURCES, _hot, dangerous=True,
    ),
)  # fmt: skip
