"""Supplies that get in each other's way: joined, pushed backwards, or one in the other's socket."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from postcheck.checks.fact import Fact, of_rating
from postcheck.checks.known import sealed_in
from postcheck.checks.misconnections import (
    HARMS,
    MISCONNECTION_LIMITS,
    UNTRIED,
    harm,
    harmed,
    hurt,
    worst,
)
from postcheck.checks.record import DANGER, Check
from postcheck.checks.wording import Wording
from postcheck.description.sockets import centre_of, size_of, sized
from postcheck.limits import above, below
from postcheck.report import Figure, NotJudged, Subject
from postcheck.survey import Survey
from postcheck.survey.heat.faults import opens_at
from postcheck.survey.network.dice import destroyed
from postcheck.survey.network.electrics import PUSHED
from postcheck.survey.network.figures import PlugFault
from postcheck.survey.network.misconnections import unlike_poles
from postcheck.survey.network.supplies import gives_up, rated_current, typical_volts

# A strip on so many times its voltage is lost.
LOST_STRIP = 1.5
# What happens with the poles the wrong way round; a lamp that is wired backwards has a finding of its own.
_TURNED_HARMS = {case: says for case, says in HARMS.items() if "reversed" in case}


def _backfeed(survey: Survey) -> Iterator[Fact | NotJudged]:
    yield from _side_by_side(survey)
    for name, figures in survey.electrics.supplies.items():
        if not above(figures.reverse, PUSHED):
            continue
        others = tuple(
            Subject("supply", other)
            for other, more in survey.electrics.supplies.items()
            if other != name and more.nominal > 0.0
        )
        case = "cell" if survey.build.supply[name].kind == "battery" else "regulated"
        fact = Fact(
            "stop",
            Subject("supply", name),
            figures.path,
            case,
            figures={"reverse": Figure(figures.reverse, "A"), "volts": Figure(figures.volts, "V")},
            parts={"others": others} if others else {},
        )
        first = survey.beyond.pushed.get(name)
        yield fact if first is None else _gives_up(survey, fact, first)


def _gives_up(survey: Survey, fact: Fact, other: str) -> Fact:
    """The fact, where what pushes does not keep that up: its fuse opens, or it is asked for more than it is known to give."""
    supply, gives = survey.build.supply[other], gives_up(survey.build.supply[other])[1]
    fuse = supply.fuse
    ends: dict[str, Figure] = {}
    if fuse is not None and not below(
        gives, opens_at(fuse, survey.limits.value("fuse.lasting"), survey.build.build.air[0])
    ):
        ends["opens"] = Figure(fuse.rated, "A")
    elif supply.current_limit is not None:
        ends["gives"] = Figure(supply.current_limit, "A")
    elif (rated := rated_current(supply)) is not None:
        ends["rated"] = Figure(rated, "A")
    return fact._replace(
        case=f"{fact.case} for a moment",
        figures={**fact.figures, **ends},
        parts={**fact.parts, "other": Subject("supply", other)},
    )


def _side_by_side(survey: Survey) -> Iterator[Fact]:
    """Supplies of the same volts in parallel: no current between them as marked, but none is exactly as marked."""
    for one, two in survey.electrics.joined:
        if any(above(survey.electrics.supplies[name].reverse, PUSHED) for name in (one, two)):
            continue
        yield Fact(
            "caution",
            Subject("supply", one),
            ("supply", one),
            "side by side",
            parts={"other": Subject("supply", two)},
        )


def _conflict(survey: Survey) -> Iterator[Fact | NotJudged]:
    for name in survey.electrics.shorted:
        joint = next(
            (
                (("join", index), Subject("place", join.place))
                for index, join in enumerate(survey.build.join)
                if _joins_poles(survey, name, join.lines)
            ),
            None,
        )
        yield _short(name, joint)
    names = list(dict.fromkeys(name for name in survey.electrics.conflict if name in survey.build.supply))
    if len(names) == 1:
        yield _short(names[0], None)
    if len(names) < 2:
        return
    given = {name: Figure(typical_volts(survey.build.supply[name]), "V") for name in names}
    levels = [figure.value for figure in given.values()]
    unlike = _unlike_volts(survey, names)
    yield Fact(
        "stop",
        Subject("supply", names[0]),
        ("supply", names[0]),
        "joined" if unlike else "alike",
        figures={
            **given,
            **({"lowest": Figure(min(levels), "V")} if unlike else {}),
            "highest": Figure(max(levels), "V"),
        },
        parts={"supplies": tuple(Subject("supply", name) for name in names)},
    )


def _unlike_volts(survey: Survey, names: Iterable[str]) -> bool:
    """Whether supplies are meant to give different volts."""
    levels = [typical_volts(survey.build.supply[name]) for name in names]
    return above(max(levels), min(levels))


def _short(name: str, joint: tuple[tuple[str | int, ...], Subject] | None) -> Fact:
    path, place = joint or (("supply", name), None)
    return Fact(
        "stop", Subject("supply", name), path, "shorted", parts={} if place is None else {"place": place}
    )


def _joins_poles(survey: Survey, name: str, lines: Iterable[str]) -> bool:
    """Whether a joint has lines of both poles of a supply: the pole itself, or a circuit fed from it."""
    poles = survey.wiring.poles
    return {(name, sign) for sign in "+-"} <= {poles[line] for line in lines if line in poles}


def _unsolved(survey: Survey) -> Iterator[Fact | NotJudged]:
    failed = survey.electrics.failed
    if not failed:
        return
    state, reason = failed[0]
    supplies = [name for name in survey.electrics.conflict if name in survey.build.supply]
    conflict = next(iter(supplies), None)
    if conflict is not None:
        which = "the poles of a supply"
        if len(supplies) > 1:
            which = "supplies of different volts" if _unlike_volts(survey, supplies) else "supplies"
        reason = f"{which} are joined without any resistance between them"
    yield Fact(
        "stop",
        Subject("network", "network"),
        ("supply",),
        figures={"more": Figure(len(failed) - 1, "")} if len(failed) > 1 else {},
        words={"state": state, "reason": reason.rstrip(".")},
        because_of=f"supply.conflict:{conflict}" if conflict else None,
    )
    yield NotJudged("network", "the currents, drops and loads", "wiring that has a solution", vital=True)


def _wrong_adaptor(survey: Survey) -> Iterator[Fact | NotJudged]:
    limit = survey.limits["lamp.current.stop"]
    for fault in survey.electrics.wrong_adaptor_faults:
        if fault.untried:
            yield NotJudged(fault.lower, "what the plug of another supply does in its socket", UNTRIED)
            continue
        low, high = (typical_volts(survey.build.supply[name]) for name in (fault.lower, fault.higher))
        parts: dict[str, Subject | tuple[Subject, ...]] = {
            "other": Subject("supply", fault.higher),
            **_sizes(survey.build.supply[fault.higher].socket, survey.build.supply[fault.lower].socket),
        }
        figures = {"higher": Figure(high, "V"), "lower": Figure(low, "V")}
        lost = _lost(survey, fault.lower, high)
        case, over = "fits", None
        if fault.lamp is not None and above(fault.current, limit.value * fault.rated):
            over = of_rating(limit, fault.rated, "A")
            parts["lamp"] = Subject("lamp", fault.lamp)
            figures["rated"] = Figure(fault.rated, "A")
            if destroyed(survey.electrics.lamps[fault.lamp].part.dice, fault.current, survey.limits):
                case = "burns out"  # a destroyed lamp has no current to report
            else:
                case = "over its rating"
                figures["current"] = Figure(fault.current, "A")
        elif lost:
            case, parts["lost"] = "lost", lost
        yield Fact(
            "caution" if case == "fits" else "stop",
            Subject("supply", fault.lower),
            ("supply", fault.lower, "socket"),
            case,
            figures=figures,
            parts=parts,
            limit=over,
            firm=sealed_in(survey, (Subject("lamp", fault.lamp or ""), *lost) if "lamp" in parts else lost),
        )


def _sizes(plug: str | None, socket: str | None) -> dict[str, Subject]:
    """The size that both have, or those of a plug and of the thinner pin that it sits on."""
    if not sized(plug or "").loose_in(sized(socket or "")):
        return {"socket": Subject("socket", size_of(socket or ""))}
    return {"plug": Subject("socket", size_of(plug or "")), "pin": Subject("socket", size_of(socket or ""))}


def _polarity(survey: Survey) -> Iterator[Fact | NotJudged]:
    """Plugs that fit, with the other pole at the centre: an adaptor in the socket of another supply, or of a board."""
    for name in dict.fromkeys(
        fault.plug for fault in survey.electrics.turned_faults if fault.kind == "untried"
    ):
        yield NotJudged(name, "what a plug with the other pole at its centre does in its socket", UNTRIED)
    reported: set[frozenset[tuple[str, str]]] = set()
    for kind, name, own, supply in sorted(
        unlike_poles(survey.build), key=lambda row: not _turned(survey, row[1], row[3])
    ):
        pair = (
            frozenset({(kind, name), ("supply", supply)}) if kind == "supply" else frozenset({(kind, name)})
        )
        at_once = kind == "board" and own == supply
        lost = _turned(survey, name, supply)
        if pair in reported:
            continue
        reported.add(pair)
        socket = (survey.build.supply if kind == "supply" else survey.build.board)[name].socket
        parts: dict[str, Subject | tuple[Subject, ...]] = {
            "other": Subject("supply", supply),
            **_sizes(survey.build.supply[supply].socket, socket),
        }
        figures: dict[str, Figure] = {}
        case, limit = "at once" if at_once else "fits", None
        if lost and not at_once:
            first = max(lost, key=lambda fault: worst(survey, fault))
            case, figures, limit = harm(survey, first)
            figures = {"reverse": Figure(first.reverse, "V"), **figures}
            parts |= {"harmed": harmed(first), "lost": tuple(dict.fromkeys(map(harmed, lost)))}
        # the socket of a supply may be on a board: then the plug is that board's
        boards = [board for board, said in survey.build.board.items() if said.supply == name and said.socket]
        yield Fact(
            "caution" if case == "fits" else "stop",
            Subject(kind, name),
            (kind, name, "socket"),
            case,
            figures=figures,
            parts=parts,
            words={"pole": centre_of(socket), "turned": centre_of(survey.build.supply[supply].socket)},
            limit=limit,
            because_of=f"supply.polarity:{boards[0]}" if boards and kind == "supply" else None,
            firm=DANGER if at_once else "",
        )


def _turned(survey: Survey, name: str, supply: str) -> list[PlugFault]:
    """What is lost with a supply in the socket of another, or of a board, the wrong way round."""
    return [
        fault
        for fault in survey.electrics.turned_faults
        if (fault.plug, fault.turned) == (name, supply)
        and hurt(survey, fault)
        and harm(survey, fault).case in _TURNED_HARMS
    ]


def _lost(survey: Survey, supply: str, high: float) -> tuple[Subject, ...]:
    """The boards, strips and loads of a supply that do not withstand these volts."""
    boards = [
        Subject("board", name)
        for name, board in survey.build.board.items()
        if board.supply == supply and board.most_volts is not None and above(high, board.most_volts)
    ]
    strips = [
        Subject("strip", strip.name)
        for strip in survey.parts.strips
        if survey.wiring.drivers[strip.circuit].supply == supply and above(high, LOST_STRIP * strip.volts)
    ]
    loads = [
        Subject(load.kind, load.name)
        for load in survey.parts.loads
        if load.highest is not None
        and survey.wiring.drivers[load.circuit].supply == supply
        and above(
            survey.electrics.loads[load.name].volts * high / typical_volts(survey.build.supply[supply]),
            load.highest,
        )
    ]
    return (*boards, *strips, *loads)


_PART_LINES = "Part their lines, or take the wrong line out of the joint."
_PUSHED = "Up to {reverse} flows backwards into {subject}[, from {others}]."
_FOR_A_MOMENT = (
    "By volts and wire alone up to {reverse} would flow backwards into {subject}, from {other}."
    "[ The fuse of {other} ({opens}) opens.][ {other} gives no more than {gives}.]"
    "[ {other} is rated for {rated}, and nobody knows what it does when it is asked for so much: it may shut down, sag or burn out.]"
)
_CHARGED = "A cell charged in this way leaks, swells or burns."
_FED = "A supply that is fed from behind loses its regulation, and everything on it gets the higher voltage."
_PART_POLES = "Part their lines: no joint, and no circuit, may connect the positive poles of both."
_ONE_EACH = "Use one larger supply, or give each of them circuits of its own."
_LOOSE = "[ Its plug, {plug}, sits loosely on the thinner pin of {pin}, and makes contact.]"
_FITS = "{other} ({higher}) fits the socket of {subject} ({lower}).[ Both have the size {socket}.]" + _LOOSE
_UNLIKE = (
    "{other} fits the socket of {subject}.[ Both have the size {socket}.]"
    + _LOOSE
    + " The centre of its plug is {turned}, that of the socket {pole}."
)
_SWAPPED = "Plugs get swapped when a model is set up again by someone else, in poor light and in a hurry."
_OTHER_SOCKET = (
    "Use a socket of another outside diameter for one of them. A label alone does not hold a plug back."
)

CHECKS: tuple[Check, ...] = (
    Check(
        "supply.conflict", "stop", "supply", "supplies joined straight to each other", "Nothing limits what flows between them.",
        "a loop of sources without resistance", (), "Kirchhoff's voltage law", _conflict, dangerous=True,
        wording={
            "shorted": Wording(
                "Both poles of {subject} are joined[ at {place}]: a dead short.",
                "All the current that it can give goes through the joint: fire, or a fuse that blows each time.", _PART_LINES,
            ),
            "joined": Wording(
                "{supplies} are joined straight to each other. They give from {lowest:apart} to {highest:apart}. "
                "Only their own resistance, which the file does not give, limits what flows.",
                "The stronger drives all it can into the weaker, or into the wire.", _PART_LINES,
            ),
            "alike": Wording(
                "{supplies} are joined straight to each other. Each is to give {highest}, and no two supplies give exactly the same. "
                "Only their own resistance, which the file does not give, limits what flows.",
                "The higher one carries all it can, and drives current into the other.", _ONE_EACH,
            ),
        },
    ),
    Check(
        "network.unsolved", "stop", "network", "a network without a solution", "A figure that is not a solution would be worse than none.",
        "Kirchhoff's laws with V(I) of every part", (), "Newton's method, residual of every node", _unsolved,
        wording={
            "": Wording(
                "The currents with {state} cannot be found[, nor those in {more:other state}]: {reason}. No figure is given for what depends on them.",
                "A figure that is not a solution would be worse than none.",
            )
        },
    ),
    Check(
        "supply.backfeed", "stop", "supply", "a supply that another one feeds backwards", "A cell leaks or burns, an adaptor loses its regulation.",
        "current out of its positive pole < 0; whether what pushes keeps that up: its fuse, and the most that it gives", ("fuse.lasting",), "Kirchhoff's current law", _backfeed, dangerous=True,
        wording={
            "cell": Wording(_PUSHED, _CHARGED, _PART_POLES),
            "cell for a moment": Wording(_FOR_A_MOMENT, _CHARGED, _PART_POLES),
            "regulated": Wording(_PUSHED, _FED, _PART_POLES),
            "regulated for a moment": Wording(_FOR_A_MOMENT, _FED, _PART_POLES),
            "side by side": Wording(
                "{subject} and {other} feed one line side by side. No two supplies have the same volts: the higher one carries all it can, "
                "and pushes current into the other.",
                "They do not share the load. The one that is pushed may lose its regulation or, if it is a battery, leak or burn.",
                _ONE_EACH,
            ),
        },
    ),
    Check(
        "supply.wrong-adaptor", "stop", "supply", "supplies of different volts in one size of socket", "Plugs get swapped.",
        "the current of each lamp with the other adaptor in place, of those that fit and have no other pole at the centre the one of most volts", ("lamp.current.stop", "lamp.destroyed", "lamp.filament.destroyed"),
        "Kirchhoff's laws, solved for each swap; that a plug with a wider bore makes contact on a thinner pin is common practice", _wrong_adaptor,
        held="a stop that destroys what is sealed in",
        wording={
            "fits": Wording(_FITS, _SWAPPED, _OTHER_SOCKET),
            "over its rating": Wording(
                f"{_FITS} {{lamp}} would then get about {{current:apart}}. Its rating is {{rated:apart}}.", _SWAPPED, _OTHER_SOCKET
            ),
            "burns out": Wording(
                f"{_FITS} {{lamp}} would then get far more than its rating of {{rated}} and burn out.", _SWAPPED, _OTHER_SOCKET
            ),
            "lost": Wording(f"{_FITS} {{lost}} would not withstand it.", _SWAPPED, _OTHER_SOCKET),
        },
    ),
    Check(
        "supply.polarity", "stop", "supply", "plugs of one size with unlike poles at the centre", "Plugs get swapped, and then everything is reversed.",
        "sockets of one size, by the pole that each states at its centre; the network solved with it in place, at its highest voltage", MISCONNECTION_LIMITS, "common practice: most plugs have the positive pole there, not all",
        _polarity,
        held="what destroys at once",
        wording={
            "fits": Wording(
                _UNLIKE,
                f"In the wrong socket it feeds everything the wrong way round. {_SWAPPED}", _OTHER_SOCKET,
            ),
            **{case: Wording(f"{_UNLIKE} Then {says}", f"{_SWAPPED} Lost by it: {{lost}}.", _OTHER_SOCKET) for case, says in _TURNED_HARMS.items()},
            "at once": Wording(
                "{other} has the {turned} pole at the centre of its plug. The socket of {subject}[, size {socket},][, size {pin},] takes the {pole} one there.",
                "The board gets its supply the wrong way round as soon as it is plugged in.",
                "Use an adaptor with the other polarity.",
            ),
        },
    ),
)  # fmt: skip
