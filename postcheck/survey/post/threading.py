"""What has to pass through a bore while other wires lie in it: plugs, joints with sleeving, lamps on their leads."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from postcheck.description.models import Build, JointSize, Passage, Plug
from postcheck.description.naming import back_line, lamp_names, line_at
from postcheck.physics import bundle, threading
from postcheck.physics.threading import Group, Thick
from postcheck.survey.post.figures import Member, Threaded, Threading
from postcheck.wiring.parts import Path

__all__ = ["threading_of"]


def threading_of(
    build: Build,
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
    things, groups, plain = _things(build, name, members, bore)
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
    last = threading.spaced(groups, bore, plain)
    if _worst(last) == bundle.FITS:
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
    build: Build, name: str, members: Sequence[Member], bore: float
) -> tuple[list[Threaded], list[Group], list[float]]:
    """What bulges, each with the wires that come after it, the same as groups, and the diameters of all other wires."""
    swollen: dict[tuple[str, Path], list[Member]] = {}
    things: list[Threaded] = []
    groups: list[Group] = []
    plain: list[Member] = []
    at = line_at(build)
    for member in members:
        size = _joint(build, member)
        # the legs of a lamp and all its colours bring one lamp along, the conductors of a run one joint
        key = (member.kind, member.path)
        if key in swollen:
            swollen[key].append(member)
        elif size is not None and size.across > member.diameter:
            swollen[key] = [member]
        else:
            plain.append(member)
    for own in swollen.values():
        size, wires = _joint(build, own[0]), tuple(member.diameter for member in own)
        thick = Thick(size.across, size.thin or 0.0) if size is not None else Thick(0.0)
        things.append(_threaded(build, own[0], thick, wires))
        groups.append(Group(thick, wires))
    for number, plug in enumerate(build.plug):
        if name not in plug.through or plug.diameter is None or plug.diameter > bore:
            continue
        own = [member for member in plain if _hangs_on(build, at, member, plug)]
        plain = [member for member in plain if member not in own]
        wires, thick = tuple(member.diameter for member in own), Thick(plug.diameter)
        behind = frozenset(
            count
            for count, joined in enumerate(swollen.values())
            if all(_hangs_on(build, at, member, plug) for member in joined)
        )
        things.append(Threaded(plug.name, "plug", ("plug", number), thick, wires, bundle.FITS))
        groups.append(Group(thick, wires, behind))
    return things, groups, [member.diameter for member in plain]


def _threaded(build: Build, member: Member, thick: Thick, wires: tuple[float, ...]) -> Threaded:
    name, index = member.name, member.path[1]
    if member.path[0] == "lamp" and isinstance(index, int):
        name = lamp_names(build)[index]
    return Threaded(name, member.kind, member.path, thick, wires, bundle.FITS)


def _joint(build: Build, member: Member) -> JointSize | None:
    kind, index = member.path[0], member.path[1]
    if kind == "run" and isinstance(index, int):
        return build.run[index].joint
    if kind == "cable":
        sizes = [run.joint for run in build.run if run.cable == member.name and run.joint is not None]
        return max(sizes, key=lambda size: size.across, default=None)
    if not isinstance(index, int):
        return None
    lead = None
    if kind == "lamp":
        lead = build.lamp[index].lead
    elif kind == "strip":
        lead = build.strip[index].lead
    elif kind == "load":
        lead = build.load[index].lead
    return lead.joint if lead is not None else None


def _hangs_on(build: Build, at: Callable[[str, str], str], member: Member, plug: Plug) -> bool:
    """Whether a member carries a line of a plug's pins, and so comes through with it."""
    return any(
        all(at(line, end) == at(pin, end) for end in plug.ends)
        for line in _lines(build, member)
        for pin in plug.pins
    )


def _lines(build: Build, member: Member) -> Iterator[str]:
    """The lines that a member carries: of a cable those of all its runs, of a leg that of its end."""
    kind, index = member.path[0], member.path[1]
    for number, run in enumerate(build.run):
        if run.line and (number == index if kind == "run" else kind == "cable" and run.cable == member.name):
            yield run.line
    for circuit in _circuits(build, member):
        if member.leg == "feed":
            yield circuit
        elif member.leg == "back":
            yield back_line(build, circuit)


def _circuits(build: Build, member: Member) -> Iterator[str]:
    """The circuits that a lead hangs on: the feed of a colour on one, the leg that the colours share on all of theirs."""
    kind, index = member.path[0], member.path[1]
    if kind == "strip" and isinstance(index, int):
        yield build.strip[index].circuit
    elif kind == "load" and isinstance(index, int):
        yield build.load[index].circuit
    elif kind == "lamp" and isinstance(index, int):
        lamp, name = build.lamp[index], lamp_names(build)[index]
        for colour, die in (lamp.dice or {}).items():
            if member.leg == "back" or member.name == f"{name} {colour}":
                yield die.circuit
        if lamp.circuit is not None and not lamp.dice:
            yield lamp.circuit
