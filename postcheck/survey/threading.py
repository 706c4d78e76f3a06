"""What has to pass through a bore while other wires lie in it: plugs, joints with sleeving, lamps on their leads."""

from __future__ import annotations

from collections.abc import Sequence

from postcheck.build.models import Build, JointSize, Passage
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
        own = [member for member in plain if _line(build, member) in plug.pins]
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


def _line(build: Build, member: Member) -> str | None:
    kind, index = member.path[0], member.path[1]
    if kind == "run" and isinstance(index, int):
        return build.run[index].line
    if kind == "cable":
        return next((run.line for run in build.run if run.cable == member.name), None)
    return None
