"""What has to pass through a bore while other wires lie in it: plugs, joints with sleeving, lamps on their leads."""

from __future__ import annotations

from collections.abc import Sequence

from postcheck.description.models import Passage, Plug
from postcheck.description.problems import Path
from postcheck.physics import bundle, threading
from postcheck.physics.threading import Group, Thick
from postcheck.survey.post.figures import Member, Threaded, Threading
from postcheck.wiring import Wiring


def threading_of(
    wiring: Wiring,
    name: str,
    passage: Passage,
    members: Sequence[Member],
    room: float,
    bore: float | None = None,
) -> Threading | None:
    """How all goes through a passage; None where nothing is thicker than the wires. Plugs wider than the bore are left out.

    `room`: the least ratio of the bore to what is threaded and the wires it passes. `bore` (m) stands in for the
    passage's own.
    """
    bore = passage.bore if bore is None else bore
    things, groups, plain = _things(wiring, name, members, bore)
    if not things:
        return None
    clear = min(bore, bore / room * (1.0 + 1e-9))
    easy = _drawn(passage.staggered, things, groups, plain, clear, clear)
    if easy.verdict == bundle.FITS:
        return easy
    made = _drawn(passage.staggered, things, groups, plain, bore, clear)
    return made._replace(tight=easy.stuck) if made.verdict == bundle.FITS else made


def _drawn(
    staggered: bool | None,
    things: Sequence[Threaded],
    groups: Sequence[Group],
    plain: Sequence[float],
    bore: float,
    clear: float,
) -> Threading:
    """How all goes through a bore; `clear`: the bore that leaves some room, by which it is told what would pass."""
    if staggered is None:
        return _one_by_one(things, groups, plain, bore, clear)
    verdicts = threading.spaced(groups, bore, plain)
    beside = [_others(groups, number, plain) for number in range(len(groups))]
    if staggered:
        checked = [thing._replace(verdict=verdict) for thing, verdict in zip(things, verdicts, strict=True)]
        return Threading("apart", _worst(verdicts), _with_room(checked, beside, clear), rest=bool(plain))
    # a plug is at the end of its wires, and passes before or after the joints
    joined = [thing for thing in things if thing.kind != "plug"]
    lying = [*plain, *(d for thing in things if thing.kind == "plug" for d in thing.wires)]
    together = threading.abreast([thing.thick for thing in joined], lying, bore) if joined else bundle.FITS
    checked = [
        thing._replace(verdict=verdict if thing.kind == "plug" else together)
        for thing, verdict in zip(things, verdicts, strict=True)
    ]
    return Threading(
        "abreast", _worst([thing.verdict for thing in checked]), tuple(checked), rest=bool(plain)
    )


def _one_by_one(
    things: Sequence[Threaded], groups: Sequence[Group], plain: Sequence[float], bore: float, clear: float
) -> Threading:
    if threading.all_pass(groups, bore, plain):
        return Threading("one by one", bundle.FITS, tuple(things), rest=bool(plain))
    order = threading.one_by_one(groups, bore)
    passed: list[int] = []
    checked, beside = [], []
    for number, verdict in zip(order.first_to_last, order.verdicts, strict=True):
        checked.append(things[number]._replace(verdict=verdict))
        beside.append(threading.in_the_way(groups, number, passed))
        passed.append(number)
    return Threading(
        "one by one", order.verdict, _with_room(checked, beside, clear), free=False, rest=bool(plain)
    )


def _with_room(
    things: list[Threaded], beside: Sequence[Sequence[float]], clear: float
) -> tuple[Threaded, ...]:
    """The first of those that do worst is told what would pass in its place, beside whatever lies there."""
    worst = _worst([thing.verdict for thing in things])
    if worst != bundle.FITS:
        number = next(n for n, thing in enumerate(things) if thing.verdict == worst)
        if beside[number]:
            things[number] = things[number]._replace(room=threading.room_beside(beside[number], clear))
    return tuple(things)


def _others(groups: Sequence[Group], number: int, plain: Sequence[float]) -> list[float]:
    return [*threading.in_the_way(groups, number, range(len(groups))), *plain]


def _worst(verdicts: Sequence[str]) -> str:
    for verdict in (bundle.CANNOT, bundle.NOT_FOUND):
        if verdict in verdicts:
            return verdict
    return bundle.FITS


def _things(
    wiring: Wiring, name: str, members: Sequence[Member], bore: float
) -> tuple[list[Threaded], list[Group], list[float]]:
    """What bulges, each with the wires that come after it, the same as groups, and the diameters of all other wires."""
    swollen: dict[tuple[str, Path, int], list[Member]] = {}
    things: list[Threaded] = []
    groups: list[Group] = []
    plain: list[Member] = []
    for member in members:
        size = member.joint
        # both legs of a string, and all its colours, pull one lamp through; the conductors of a run pull one joint
        key = (member.kind, member.path, member.string or 0)
        if key in swollen:
            swollen[key].append(member)
        elif size is not None and size.across > member.diameter:
            swollen[key] = [member]
        else:
            plain.append(member)
    for own in swollen.values():
        size, wires = own[0].joint, tuple(member.diameter for member in own)
        thick = Thick(size.across, size.thin or 0.0) if size is not None else Thick(0.0)
        things.append(_threaded(own[0], thick, wires))
        groups.append(Group(thick, wires))
    for number, plug in enumerate(wiring.build.plug):
        if name not in plug.through or plug.diameter is None or plug.diameter > bore:
            continue
        own = [member for member in plain if _comes_with(wiring, member, plug)]
        plain = [member for member in plain if member not in own]
        wires, thick = tuple(member.diameter for member in own), Thick(plug.diameter)
        behind = frozenset(
            count
            for count, joined in enumerate(swollen.values())
            if all(_comes_with(wiring, member, plug) for member in joined)
        )
        things.append(Threaded(plug.name, "plug", ("plug", number), thick, wires, bundle.FITS))
        groups.append(Group(thick, wires, behind))
    return things, groups, [member.diameter for member in plain]


def _threaded(member: Member, thick: Thick, wires: tuple[float, ...]) -> Threaded:
    return Threaded(member.entry or member.name, member.kind, member.path, thick, wires, bundle.FITS)


def _comes_with(wiring: Wiring, member: Member, plug: Plug) -> bool:
    """Whether a member carries a line of a plug's pins, and so comes through with it."""
    at = wiring.nets.at
    return any(
        all(at(line, place) == at(pin, place) for place in plug.places)
        for line in member.lines
        for pin in plug.pins
    )
