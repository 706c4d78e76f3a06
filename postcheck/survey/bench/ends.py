"""Every conductor's end at every place: what a hand finds there, and which line it belongs to."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import permutations
from typing import NamedTuple

from postcheck.colours import DAYLIGHT, letters
from postcheck.description.models import Build, Lead
from postcheck.description.naming import back_line, line_at, origin_of, supply_of
from postcheck.limits import Limits
from postcheck.physics.colour_difference import ciede2000, in_poor_light, lab_of_srgb
from postcheck.wiring.parts import LampPart, LegPart, LoadPart, Parts, Path, RunPart, StripPart

__all__ = ["ConductorEnd", "conductor_ends", "poor_light_differences"]


class ConductorEnd(NamedTuple):
    """One end of a conductor at a place: a leg of a lead, or a conductor of a run.

    `line`: all that is electrically one with it there, by one name; "" where it carries nothing. `kind`: lamp, strip, load
    or run. `leg`: feed or back. `colour` and `label` as the file words them, `letters` by IEC 60757, `wire` by its name;
    "" where the file says none. `own_label`: the label hangs on this conductor, not on both legs of its lead.
    `positive`: the side it is on; None for what carries no power. `cable`: the sheath that it comes out of.
    """

    place: str
    line: str
    kind: str
    name: str
    path: Path
    leg: str = ""
    colour: str = ""
    letters: str = ""
    wire: str = ""
    label: str = ""
    own_label: bool = False
    positive: bool | None = None
    cable: str = ""


def conductor_ends(build: Build, parts: Parts) -> tuple[ConductorEnd, ...]:
    """All ends: the legs of lamps, strips and loads that have a lead, then both ends of every conductor of a run."""
    return tuple(_Ends(build, parts).all())


def poor_light_differences(limits: Limits) -> dict[tuple[str, str], float]:
    """How different each two of the plain colours look in poor light, by CIEDE2000; their letters in either order."""
    light, chroma = limits.value("colour.poor-light.lightness"), limits.value("colour.poor-light.chroma")
    seen = {code: in_poor_light(lab_of_srgb(*srgb), light, chroma) for code, srgb in DAYLIGHT.items()}
    return {(one, other): ciede2000(seen[one], seen[other]) for one, other in permutations(seen, 2)}


class _Ends:
    def __init__(self, build: Build, parts: Parts) -> None:
        self.build, self.parts = build, parts
        self.line = _one_line(build)
        self.poles = dict(_poles(build))

    def all(self) -> Iterator[ConductorEnd]:
        shared: set[str] = set()  # lamps whose common back leg is listed
        for lamp in self.parts.lamps:
            lead = self.build.lamp[int(lamp.path[1])].lead
            if lead is not None:
                yield self._leg("lamp", lamp.entry, lamp, lead, "feed")
                if lamp.shares_back not in shared:
                    yield self._leg("lamp", lamp.entry, lamp, lead, "back")
                if lamp.shares_back is not None:
                    shared.add(lamp.shares_back)
        for kind, part, lead in self._others():
            if lead is not None:
                for leg in ("feed", "back"):
                    yield self._leg(kind, part.name, part, lead, leg)
        for run in self.parts.runs:
            for place in run.ends:
                yield from [self._run(run, place)] * run.conductors

    def _others(self) -> Iterator[tuple[str, StripPart | LoadPart, Lead | None]]:
        for strip in self.parts.strips:
            yield "strip", strip, self.build.strip[int(strip.path[1])].lead
        for load in self.parts.loads:
            yield "load", load, self.build.load[int(load.path[1])].lead

    def _leg(
        self, kind: str, name: str, part: LampPart | StripPart | LoadPart, lead: Lead, leg: str
    ) -> ConductorEnd:
        data: LegPart = part.feed if leg == "feed" else part.back
        said = lead.feed if leg == "feed" else lead.back
        own = (said.label or "").strip() if said is not None else ""
        line = part.circuit if leg == "feed" else back_line(self.build, part.circuit)
        return ConductorEnd(
            place=data.to,
            line=self.line(line, data.to),
            kind=kind,
            name=name,
            path=(*part.path[:2], "lead"),
            leg=leg,
            colour=(data.colour or "").strip(),
            letters=letters(data.colour or ""),
            wire=data.wire.name if data.wire is not None else "",
            label=own or (lead.label or "").strip(),
            own_label=bool(own),
            positive=self.poles.get(line),
        )

    def _run(self, run: RunPart, place: str) -> ConductorEnd:
        label = (self.build.run[int(run.path[1])].label or "").strip()
        return ConductorEnd(
            place=place,
            line=self.line(run.line, place) if run.line and not run.spare else "",
            kind="run",
            name=run.name,
            path=run.path,
            colour=(run.colour or "").strip(),
            letters=letters(run.colour or ""),
            wire=run.wire.name if run.wire is not None and not run.body else "",
            label=label,
            own_label=bool(label),
            positive=self.poles.get(run.line) if run.live else None,
            cable=run.cable or "",
        )


def _poles(build: Build) -> Iterator[tuple[str, bool]]:
    """Each line with whether it is on the positive side of what hangs on it."""
    for name in build.supply:
        yield f"{name}+", True
        yield f"{name}-", False
    for name, circuit in build.circuit.items():
        yield name, circuit.switched == "positive"
        if circuit.own_return:
            yield f"{name}-return", circuit.switched != "positive"


def _one_line(build: Build) -> Callable[[str, str], str]:
    """The name of all that is electrically one with a line at a place; lines joined anywhere are one everywhere.

    A return of its own is one with its supply's pole where it begins, and there only.
    """
    at = line_at(build)
    same: dict[str, str] = {}

    def root(line: str) -> str:
        while line in same:
            line = same[line]
        return line

    for join in build.join:
        first, *others = (root(at(line, join.place)) for line in join.lines)
        for other in others:
            if root(other) != root(first):
                same[root(other)] = root(first)
    begins = {}
    for name, circuit in build.circuit.items():
        supply = supply_of(build, circuit)
        if circuit.own_return and supply is not None:
            pole = "-" if circuit.switched == "positive" else "+"
            begins[f"{name}-return", origin_of(build, circuit)] = f"{supply}{pole}"
    return lambda line, place: root(at(begins.get((line, place), line), place))
