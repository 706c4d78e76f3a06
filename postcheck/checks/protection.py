"""Shorts and fuses: does anything end a short before a conductor is hurt."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import inf

from postcheck.checks.fact import Fact, Within, of_rating
from postcheck.checks.known import bare_on
from postcheck.checks.record import DANGER, Check
from postcheck.checks.wording import Wording, open_question
from postcheck.limits import above, below
from postcheck.physics import copper
from postcheck.physics.fuse import may_hold
from postcheck.report import Figure, Limited, NotJudged, Severity, Subject
from postcheck.survey import Survey
from postcheck.survey.heat.faults import opens_at
from postcheck.survey.heat.figures import ConductorFault
from postcheck.survey.heat.fuses import LOADS, holds_far_short, protecting_fuse
from postcheck.survey.network.supplies import gives_up

_FOR_NOW = (
    "what its insulation withstands while a short lasts, 5 s at most, by its kind: of PVC a figure for such a time, "
    "of most others one of heat shock or intermittent service, which is for longer"
)
FIRE = "Hot copper melts its insulation and the plastic it lies in, and can set fire to a closed model. Defer to your local code where it asks for more."
"""Why no conductor may get too hot."""
# The most current of a short that is shown, A: with next to no resistance the figure means nothing.
_MOST_AMPS = 1e6


def heated(celsius: float | None) -> dict[str, Figure]:
    """How hot a conductor gets, or at what it melts (None)."""
    return (
        {"melts": Figure(copper.MELTING, "degC")} if celsius is None else {"hottest": Figure(celsius, "degC")}
    )


# Conductors ahead of the fuse are judged by `fuse.absent`.
def _hurt(survey: Survey, supply: str, *, fused: bool) -> list[ConductorFault]:
    """A supply's conductors, with a fuse in their way or without, that a short surely overheats, the worst first."""
    return _worst_first(
        fault for fault in survey.faults
        if fault.supply == supply and fault.hurt and (fault.fuse is not None) is fused
    )  # fmt: skip


def _worst_first(faults: Iterable[ConductorFault]) -> list[ConductorFault]:
    """The thinnest and hottest first, of those that melt the one with most current; alike ones as the file has them."""

    def badness(fault: ConductorFault) -> tuple[float, ...]:
        hot = (-(heat.hottest or inf) for heat in (fault.most, fault.sure))
        return fault.wire.conductor_area, *hot, -fault.current, -fault.sure.lasting

    return sorted(faults, key=badness)


def _heats(survey: Survey, faults: Iterable[ConductorFault]) -> Iterator[Within]:
    """How hot shorts surely make conductors, for good and until a fuse opens, against what their insulation withstands."""
    rated = survey.limits["wire.insulation"]
    for fault in faults:
        heat, conductor = fault.sure, Subject(fault.kind, fault.name)
        for_good = Limited(heat.stands, "degC", rated.source, rated.name)
        for_now = Limited(heat.for_now, "degC", _FOR_NOW)
        yield Within(conductor, _celsius(heat.settled), for_good)
        yield Within(conductor, _celsius(heat.peak), for_good if heat.for_now == heat.stands else for_now)


def _celsius(of_copper: float | None) -> float:
    return copper.MELTING if of_copper is None else of_copper


def _severity(survey: Survey, hurt: list[ConductorFault]) -> Severity:
    """A stop where a conductor melts, or gets so hot that it sets fire to things."""
    glow = survey.limits.value("fault.glow")
    if any(fault.sure.hottest is None or above(fault.sure.hottest, glow) for fault in hurt):
        return "stop"
    return "caution"


def _with_short(survey: Survey, fact: Fact, hurt: list[ConductorFault]) -> Fact:
    """A fact on a supply, with what a short does to its conductors, the worst first; what it says itself stays."""
    worst = hurt[0]
    others = tuple(dict.fromkeys(Subject(fault.kind, fault.name) for fault in hurt))[1:]
    insulation = survey.limits["wire.insulation"]
    return fact._replace(
        figures={
            "short": Figure(min(worst.current, _MOST_AMPS), "A"),
            "lasting": Figure(min(worst.sure.lasting, _MOST_AMPS), "A"),
            **heated(worst.sure.hottest),
            "insulation": Figure(worst.sure.withstands, "degC"),
            **fact.figures,
        },
        parts={
            "conductor": Subject(worst.kind, worst.name),
            **({"others": others} if others else {}),
            **fact.parts,
        },
        words={
            "wire": worst.wire.name,
            "where": "part of the way along" if worst.part_way else "at the far end of",
            **fact.words,
        },
        limit=fact.limit or Limited(worst.sure.withstands, "degC", insulation.source, insulation.name),
        firm=DANGER,
    )


def _fuse_that_protects(survey: Survey, supply: str) -> float | None:
    load = survey.electrics.supplies.get(supply)
    if load is None:
        return None
    return protecting_fuse(survey.shorts, supply, load.highest)


def _missing_limit(survey: Survey, name: str) -> str | None:
    """What the file would have to say before a short can be judged at all, where nothing is known that limits it."""
    supply = survey.build.supply[name]
    if supply.fuse is not None or supply.current_limit is not None:
        return None
    if supply.kind == "battery":
        known = supply.chemistry is not None or supply.resistance is not None
        return None if known else "its chemistry and size, as printed on it"
    return None if gives_up(supply)[0] < inf else "its rated current, as on its plate"


def _absent(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, supply in survey.build.supply.items():
        hurt, missing = _hurt(survey, name, fused=False), _missing_limit(survey, name)
        if missing is None:
            mine = (fault for fault in survey.faults if fault.supply == name and fault.fuse is None)
            yield from _heats(survey, (fault for fault in mine if not fault.unsure))
        elif hurt:
            # knowing the rating alone may not make the short any cooler
            fuse = _fuse_that_protects(survey, name)
            yield open_question(
                name, "whether a short overheats a conductor",
                missing if fuse is None else f'{missing}, and a quick fuse: fuse = "{{fuse}}" protects every conductor',
                vital=True, figures={} if fuse is None else {"fuse": Figure(fuse, "A")},
            )  # fmt: skip
        if not hurt or missing is not None:
            continue
        fact = Fact(_severity(survey, hurt), Subject("supply", name), ("supply", name))
        if supply.fuse is not None:
            fact = fact._replace(
                case="fuse elsewhere", parts={"place": Subject("place", supply.fuse.place or "")}
            )
        elif supply.protected and supply.current_limit is None:
            fact = fact._replace(case="protection board")
        else:
            fact = fact._replace(case="battery" if supply.kind == "battery" else "no fuse")
        yield _with_short(survey, fact, hurt)


def _unsure(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    """Conductors that are hurt only if a supply gives more than it is rated for before it gives up by itself."""
    for name, supply in survey.build.supply.items():
        if any(fault.hurt for fault in survey.faults if fault.supply == name):
            continue
        found = _worst_first(fault for fault in survey.faults if fault.supply == name and fault.unsure)
        if not found or _missing_limit(survey, name) is not None:
            continue
        worst = found[0]
        rated = _fuse_that_protects(survey, name)
        sure, most, until = worst.sure.lasting, worst.most.lasting, ""
        if worst.opens:  # then the lasting current is the same, but not what flows until the fuse opens
            sure, most = (min(worst.current, gives) for gives in gives_up(supply))
            until = " until the fuse opens"
        limit = (
            "the current at which it gives up"
            if supply.kind != "battery"
            else "the current at which its board trips"
        )
        yield open_question(
            name,
            f"whether a short overheats {{conductor}} ({worst.wire.name}): it withstands {{lasting}}{until}, but {{most}} "
            + ("melts the wire" if worst.most.hottest is None else "heats the wire to {hottest}"),
            f'{limit}: current_limit = "... A"' + ("" if rated is None else ', or a quick fuse: fuse = "{fuse}"'),
            figures={
                "lasting": Figure(sure, "A"),
                "most": Figure(most, "A"),
                **heated(worst.most.hottest),
                **({} if rated is None else {"fuse": Figure(rated, "A")}),
            },
            parts={"conductor": Subject(worst.kind, worst.name)},
            vital=True,
        )  # fmt: skip


def _absent_or_unsure(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    yield from _absent(survey)
    yield from _unsure(survey)


def _too_small(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, supply in survey.build.supply.items():
        figures = survey.electrics.supplies.get(name)
        if supply.fuse is None or figures is None:
            continue
        limit = survey.limits[LOADS.get(supply.fuse.kind, "fuse.load")]
        place = survey.places.get(supply.fuse.place or supply.place)
        air = place.hottest if place is not None and place.hottest is not None else survey.build.build.air[1]
        held, warm = supply.fuse.in_air(air).rated, dict[str, Figure]()
        share, most = limit.value, of_rating(limit, supply.fuse.rated, "A")
        if below(held, most.value):
            share, most = held / supply.fuse.rated, Limited(held, "A", _WARM)
            warm = {"air": Figure(air, "degC")}
        yield (within := Within(Subject("supply", name), figures.highest, most))
        if within.kept:
            continue
        circuits = {key for key, driver in survey.wiring.drivers.items() if driver.supply == name}
        over = above(figures.highest, held)
        opens = above(
            figures.highest,
            opens_at(supply.fuse, survey.limits.value("fuse.lasting"), survey.build.build.air[0]),
        )
        yield Fact(
            "stop" if over else "caution",
            within.subject,
            ("supply", name, "fuse"),
            "opens" if opens else "over its rating" if over else "near its rating",
            figures={
                "load": Figure(figures.highest, "A"),
                "rated": Figure(supply.fuse.rated, "A"),
                "most": Figure(share, "share"),
                **warm,
            },
            limit=most,
            because_of=bare_on(survey, circuits),  # the current of an unlimited lamp is no load to choose a fuse by
        )  # fmt: skip


_WARM = "makers' tables: a resettable fuse holds some 85 % at 40 degC of what it holds at 20, and less the warmer it is (from memory)"
_OTHER_KINDS = {
    "UL": (("UL 248-14: carries its rating for good", ""), ("UL 248-14: open within an hour at 135 %", "")),
    "resettable": (
        ("makers' tables: it holds its hold current", ""),
        ("its maker's current to trip, or three times its hold current: the slowest of makers' tables", ""),
    ),
}  # fmt: skip


def _never_opens(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    holds, lasting = survey.limits["fuse.holds"], survey.limits["fuse.lasting"]
    for name, supply in survey.build.supply.items():
        if supply.fuse is None:
            continue
        rated, kind = supply.fuse.rated, supply.fuse.kind
        # the two limits are of IEC 60127-2: other kinds have figures of their own
        by_holds, by_lasting = _OTHER_KINDS.get(
            kind, ((holds.source, holds.name), (lasting.source, lasting.name))
        )
        held = Limited(may_hold(kind, holds.value) * rated, "A", *by_holds)
        opens = Limited(opens_at(supply.fuse, lasting.value, survey.build.build.air[0]), "A", *by_lasting)
        mine = [fault for fault in survey.faults if fault.supply == name and fault.fuse is not None]
        for fault in mine:
            yield Within(Subject(fault.kind, fault.name), fault.current, held, least=True)
        yield from _heats(survey, (fault for fault in mine if not fault.opens))
        hurt = [fault for fault in _hurt(survey, name, fused=True) if not fault.opens]
        weak = [fault for fault in mine if not fault.opens and holds_far_short(fault, kind, holds.value)]
        sure, gives = gives_up(supply)
        path = ("supply", name, "fuse")
        if not hurt and not weak:
            load = survey.electrics.supplies.get(name)
            # a fuse chosen for a load that the supply does not carry is the supply's fault
            if supply.kind == "battery" or gives == inf or (load is not None and above(load.highest, sure)):
                continue
            most = Limited(gives, "A", "the most that the supply gives before it gives up")
            yield (within := Within(Subject("supply", name), rated, most))
            if not within.kept:
                yield Fact(
                    "note", within.subject, path, "without effect",
                    figures={"most": Figure(gives, "A"), "rated": Figure(rated, "A")}, limit=most,
                )  # fmt: skip
            continue
        shown = hurt or [min(weak, key=lambda fault: fault.current)]
        worst = shown[0]
        flows = min(worst.current, worst.sure.lasting) if worst.sure.lasting else worst.current
        never = below(flows, held.value)
        severity: Severity = "note" if not hurt else "stop" if never else _severity(survey, hurt)
        fact = Fact(
            severity, Subject("supply", name), path,
            "harmless" if not hurt else "held" if never else "not sure to open",
            figures={"flows": Figure(flows, "A"), "rated": Figure(rated, "A")},
            words={"kind": kind}, limit=held if never else opens,
        )  # fmt: skip
        yield _with_short(survey, fact, shown)


def _before_fuse(survey: Survey) -> Iterator[Fact | Within | NotJudged]:
    for name, supply in survey.build.supply.items():
        mine = (fault for fault in survey.faults if fault.supply == name and fault.fuse is not None)
        yield from _heats(survey, (fault for fault in mine if fault.opens))
        hurt = [fault for fault in _hurt(survey, name, fused=True) if fault.opens]
        if supply.fuse is None or not hurt:
            continue
        fact = Fact(
            _severity(survey, hurt), Subject("supply", name), hurt[0].path,
            figures={"rated": Figure(supply.fuse.rated, "A")}, words={"kind": supply.fuse.kind},
            because_of=f"fuse.never-opens:{name}",
        )  # fmt: skip
        yield _with_short(survey, fact, hurt)


# Which fuse does it is worked out and proven afterwards.
_THICKER = (
    "Use a fuse that carries the load and still protects this conductor. "
    "Where none does both, use thicker wire, or put the resistors at the joints, ahead of the fine leads."
)
_HEATS = "[ heats the wire to {hottest:apart}][ melts the wire ({melts:apart})]"
_WITHSTANDS = "Its insulation withstands {insulation:apart}.[ Too hot as well: {others}.]"
_SHORT = f"A short {{where}} {{conductor}} ({{wire}}){_HEATS}. {_WITHSTANDS}"
_DRAWS = "A short {where} {conductor} draws {flows:apart}."
_HELD = "The {kind} fuse of {subject} ({rated:apart}) is made to hold {limit:apart} and never opens."
_SO_HOT = f"The short{_HEATS}. {_WITHSTANDS}"
_MODEL = "heat made I2R'(T) against heat lost to still air (Morgan) or across a bore, with all others in it; until the fuse opens, with the copper's own heat. A supply that does not state its limit surely gives its rating, and up to twice that: what only that overheats is asked about. A fuse has opened by the time of the last gate it passes, with I2t as there. A stop from what sets fire on, a caution below"
_SOURCES = "Morgan 1975, checked against Preece; IEC 60364-5-54 annex A; IEC 60127-2 and UL 248-14 gates"

CHECKS: tuple[Check, ...] = (
    Check(
        "fuse.absent", "stop", "supply", "nothing ends a short before a conductor overheats",
        "A supply without a fuse or limit of its own feeds a short for good.", _MODEL,
        # where it is not sure, the fuse that would settle it is worked out
        ("wire.insulation", "fault.glow", "fuse.load", "fuse.holds", "fuse.lasting"), _SOURCES, _absent_or_unsure, dangerous=True,
        held="any stop or caution",
        wording={
            "no fuse": Wording(f"{{subject}} has no fuse and gives {{lasting}} without end. {_SHORT}", FIRE, _THICKER),
            "battery": Wording(f"{{subject}} has no fuse and gives {{lasting}} until it is empty. {_SHORT}", FIRE, _THICKER),
            "protection board": Wording(
                "{subject} has no fuse. Its protection board guards the cell, and may let {lasting} flow until it is empty. " + _SHORT, FIRE, _THICKER
            ),
            "fuse elsewhere": Wording(
                f"The fuse of {{subject}} sits at {{place}}. Ahead of it {{lasting}} can flow without end. {_SHORT}", FIRE, _THICKER
            ),
        },
    ),
    Check(
        "fuse.too-small", "stop", "supply", "a fuse carries too large a share of its rating",
        "It ages and opens with nothing wrong.", "highest load / fuse rating; of a resettable one against what it holds in the warmest air of its place, where that is less: 0.75 % of its rating less per kelvin above 20 degC", ("fuse.load", "fuse.load.resettable", "fuse.load.ul", "fuse.lasting"),
        "IEC 60127 fuses carry 100 %, with a tenth to spare", _too_small,
        wording={
            "opens": Wording(
                "Up to {load:apart} is asked of the fuse of {subject}. Its rating is {rated:apart}: it opens.",
                "It opens with nothing wrong, and all behind it goes dark.",
            ),
        } | {
            case: Wording("The fuse of {subject} carries up to {load:apart}. Its rating is {rated:apart}, and {most} of that is the most for long[ in air of {air}].", why)
            for case, why in (
                ("over its rating", "It opens with nothing wrong, sooner or later."),
                ("near its rating", "A fuse worked near its rating ages and opens with nothing wrong."),
            )
        },
    ),
    Check(
        "fuse.never-opens", "stop", "supply", "a far short does not open the fuse",
        "Fine wires limit the short to less than the fuse needs.", "lowest voltage / resistance of the whole way against 1.5 and 2.1 x rating; UL 1 and 1.35, resettable by its maker",
        ("fuse.holds", "fuse.lasting", "wire.insulation", "fault.glow"), "IEC 60127-2: holds 150 % for an hour, opens at 210 % within half an hour", _never_opens,
        dangerous=True,
        held="any stop or caution",
        wording={
            "held": Wording(f"{_DRAWS} {_HELD} {_SO_HOT}", FIRE, _THICKER),
            "not sure to open": Wording(
                f"{_DRAWS} Nothing promises that the {{kind}} fuse of {{subject}} ({{rated:apart}}) opens below {{limit:apart}}. {_SO_HOT}", FIRE, _THICKER
            ),
            "harmless": Wording(
                f"{_DRAWS} {_HELD}", "No wire is hurt, but the short goes on warming whatever it lies in until somebody notices."
            ),
            "without effect": Wording(
                "The fuse of {subject} is rated for {rated:apart} and never opens. {subject} itself gives {most:apart} at most.",
                "No wire is hurt, but the fuse guards nothing that the supply's own limit does not.",
            ),
        },
    ),
    Check(
        "wire.hurt-before-fuse", "stop", "supply", "a conductor overheats before the fuse opens",
        "The fuse is larger than the thinnest conductor behind it withstands.", _MODEL,
        ("wire.insulation", "fault.glow", "fuse.lasting"), _SOURCES, _before_fuse, dangerous=True,
        held="any stop or caution",
        wording={
            "": Wording(
                f"A short {{where}} {{conductor}} ({{wire}}){_HEATS} before the {{kind}} fuse of {{subject}} ({{rated}}) is sure to open. {_WITHSTANDS}",
                FIRE, _THICKER,
            )
        },
    ),
)  # fmt: skip
