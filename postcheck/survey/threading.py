"""What has to pass through a bore while other wires lie in it: plugs, joints with sleeving, lamps on their leads."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from postcheck.build.models import Build, JointSize, Passage, Plug
from postcheck.build.naming import back_line, lamp_names, line_at
from postcheck.physics import bundle, threading
from postcheck.physics.threading import Group, Thick
from postcheck.survey.figures import Member, Threaded, Threading

__all__ = ["threading_of"]


def threading_of(
    build: Build, name: str, passage: Passage, members: Sequence[Member], bore: float | None = None
) -> Threading | None:
    """How all goes through a passage; None where nothing is thicker than the wires. Plugs wider than the bore are left out.

    `bore` (m) stands in for the passage's own.
    """
    bore = passage.bore if bore is None else bore
    things, plain = _things(build, name, members, bore)
    if not things:
        return None
    groups = [Group(thing.thick, thing.wires) for thing in things]
    if passage.staggered is None:
        return _one_by_one(things, groups, plain, bore)
    verdicts = threading.spaced(groups, bore, plain)
    if passage.staggered:
        checked = [thing._replace(verdict=verdict) for thing, verdict in zip(things, verdicts, strict=True)]
        beside = [_others(groups, number, plain) for number in range(len(groups))]
        return Threading("apart", _worst(verdicts), _with_room(checked, beside, bore))
    # a plug is at the end of its wires, and passes before or after the joints
    joined = [thing for thing in things if thing.kind != "plug"]
    lying = [*plain, *(d for thing in things if thing.kind == "plug" for d in thing.wires)]
    together = threading.abreast([thing.thick for thing in joined], lying, bore) if joined else bundle.FITS
    checked = [
        thing._replace(verdict=verdict if thing.kind == "plug" else together)
        for thing, verdict in zip(things, verdicts, strict=True)
    ]
    return Threading("abreast", _worst([thing.verdict for thing in checked]), tuple(checked))


def _one_by_one(
    things: Sequence[Threaded], groups: Sequence[Group], plain: Sequence[float], bore: float
) -> Threading:
    last = threading.spaced(groups, bore, plain)
    if _worst(last) == bundle.FITS:
        return Threading("one by one", bundle.FITS, tuple(things))
    order = threading.one_by_one(groups, bore)
    passed: list[float] = []
    checked, beside = [], []
    for number, verdict in zip(order.first_to_last, order.verdicts, strict=True):
        checked.append(things[number]._replace(verdict=verdict))
        beside.append(list(passed))
        passed += groups[number].wires
    return Threading("one by one", order.verdict, _with_room(checked, beside, bore), free=False)


def _with_room(
    things: list[Threaded], beside: Sequence[Sequence[float]], bore: float
) -> tuple[Threaded, ...]:
    """The first of those that do worst is told what would pass in its place."""
    worst = _worst([thing.verdict for thing in things])
    if worst != bundle.FITS:
        number = next(n for n, thing in enumerate(things) if thing.verdict == worst)
        things[number] = things[number]._replace(room=threading.room_beside(beside[number], bore))
    return tuple(things)


def _others(groups: Sequence[Group], number: int, plain: Sequence[float]) -> list[float]:
    return [*(d for n, group in enumerate(groups) if n != number for d in group.wires), *plain]


def _worst(verdicts: Sequence[str]) -> str:
    for verdict in (bundle.CANNOT, bundle.NOT_FOUND):
        if verdict in verdicts:
            return verdict
    return bundle.FITS


def _things(
    build: Build, name: str, members: Sequence[Member], bore: float
) -> tuple[list[Threaded], list[float]]:
    """What bulges, each with the wires that come after it, and the diameters of all other wires."""
    things: dict[tuple[str, str], Threaded] = {}
    plain: list[Member] = []
    at = line_at(build)
    for member in members:
        size = _joint(build, member)
        key = (member.kind, member.name)
        if key in things:
            things[key] = things[key]._replace(wires=(*things[key].wires, member.diameter))
        elif size is not None and size.across > member.diameter:
            thick = Thick(size.across, size.thin or 0.0)
            things[key] = Threaded(
                member.name, member.kind, member.path, thick, (member.diameter,), bundle.FITS
            )
        else:
            plain.append(member)
    for number, plug in enumerate(build.plug):
        if name not in plug.through or plug.diameter is None or plug.diameter > bore:
            continue
        own = [member for member in plain if _hangs_on(build, at, member, plug)]
        plain = [member for member in plain if member not in own]
        wires = tuple(member.diameter for member in own)
        things["plug", plug.name] = Threaded(
            plug.name, "plug", ("plug", number), Thick(plug.diameter), wires, bundle.FITS
        )
    return list(things.values()), [member.diameter for member in plain]


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
