"""Every wire, die and resistor of a build looked up, and what `[usual]` says filled in.

Names were checked when the build was read, so a lookup that fails here is our own fault.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from math import inf
from typing import Any

from postcheck import catalogue
from postcheck.colours import is_light
from postcheck.description.consumers import Entry, entries
from postcheck.description.diodes import diode_data
from postcheck.description.models import (
    Build,
    Lamp,
    Lead,
    Leg,
    Load,
    ResistorSpec,
    Strip,
)
from postcheck.description.naming import run_names
from postcheck.description.printing import format_quantity
from postcheck.description.problems import Path
from postcheck.description.toml_text import in_toml
from postcheck.description.units import Dimension
from postcheck.wiring.data import DieData, WireData, described_die, die_data, lamp_dice, wire_data
from postcheck.wiring.parts import (
    LampPart,
    LegPart,
    LoadPart,
    Part,
    Parts,
    ResistorPart,
    RunPart,
    Share,
    StripPart,
    Unknown,
)
from postcheck.wiring.resistors import resistor_part, usual_resistor
from postcheck.wiring.through import Passages, way_lengths

# Across a silicon diode at a good part of its rating, V; what its bulk adds, ohm (makers' curves, from memory).
DIODE_VOLTS, DIODE_OHMS = 0.8, 0.05

USUAL_LEAD = "enamel-0.10"
"""The wire of a lead where neither `[usual]` nor `[stock]` names one: the usual one of the trade."""
_SOME = 0.1  # m: any length, to show how one is written
# What is to be typed where a strip's traces were not measured.
STRIP_TRACE = 'the measured resistance of its trace, such as trace = "0.5 ohm/m"'

# A cut this far beside the mark is still within the copper of its pads, m: common practice.
BESIDE_THE_MARK = 1e-3


def whole_segments(length: float, segment: float) -> int:
    """How many whole segments a length of strip has, cut at a mark or within the pads there (all in m)."""
    if not segment > 0.0:
        raise ValueError("a segment has a length above zero")
    beside = min(BESIDE_THE_MARK, segment / 4.0)
    return int(length / segment + beside / segment + 1e-9)


def parts_of(build: Build) -> Parts:
    """Look up every wire, die and resistor of a build and fill in what `[usual]` says."""
    return _Gatherer(build).gather()


# The colours of a positive and a negative wire by custom.
_BY_CUSTOM = [[plus, minus] for plus in ("red", "rd") for minus in ("black", "bk")]
_COMMON_LEG = 'black/red where red goes to the positive, or feed = { colour = "red" } and back = { colour = "black" } where black is'


class _Gatherer:
    def __init__(self, build: Build) -> None:
        self.build = build
        self.unknown: list[Unknown] = []
        self.usual_resistor = usual_resistor(build.usual.resistor)
        self.passages = Passages(build)
        self.ways = way_lengths(build) if build.way else {}
        self.run_names = run_names(build)
        self.wire = lru_cache(maxsize=None)(self._wire)
        self.dice = lru_cache(maxsize=None)(self._dice)
        # equal tables of a file are one object, looked up once
        self.resistors: dict[tuple[int, str], ResistorPart | None] = {}
        self.leads: dict[tuple[object, ...], dict[str, Any]] = {}

    def gather(self) -> Parts:
        parts = tuple(part for entry in entries(self.build) for part in self._parts(entry))
        runs = self._runs()
        if not parts:
            self.unknown.append(
                Unknown(
                    self.build.build.name,
                    "anything that is lit or driven",
                    'a [[lamp]], [[strip]] or [[load]], such as [[lamp]] with name = "bow lamp"',
                    True,
                )
            )
        return Parts(parts, runs, tuple(self.unknown))

    def _parts(self, entry: Entry) -> Iterator[Part]:
        said, name = entry.said, entry.name
        common: dict[str, Any] = {
            "kind": entry.kind,
            "name": name,
            "entry": name,
            "path": entry.path,
            "said": said,
            "place": said.place,
            "places": entry.places,
        }
        match said:
            case Lamp():
                yield from self._lamps(said, common)
            case Strip():
                yield self._strip(said, common)
            case Load():
                yield self._load(said, common)

    # -- wires and legs

    def _wire(self, name: str) -> WireData:
        return wire_data(self.build, name)

    def _legs(
        self, name: str, lead: Lead | None, *places: str, circuit: str = "", path: Path = ()
    ) -> dict[str, Any]:
        """Both legs of a lead that begins at the first and the last of some places."""
        key, asked = (id(lead), *places, circuit), len(self.unknown)
        if key not in self.leads:
            legs = self._legs_of(name, lead, *places, circuit=circuit, path=path)
            if len(self.unknown) > asked:  # the question names the lamp, so it is not shared
                return legs
            self.leads[key] = legs
        return self.leads[key]

    def _legs_of(
        self, name: str, lead: Lead | None, *places: str, circuit: str, path: Path
    ) -> dict[str, Any]:
        first, last = places[0], places[-1]
        if lead is None:
            return {
                "supply_leg": LegPart(0.0, None, first, None),
                "return_leg": LegPart(0.0, None, last, None),
            }
        wires: list[str | None] = [*lead.wires] if lead.wires else [lead.wire or self.build.usual.lead] * 2
        colours = [*self._colours(name, lead, circuit), None, None]
        legs = {}
        for position, (side, own) in enumerate((("supply_leg", lead.feed), ("return_leg", lead.back))):
            leg = own or Leg()
            wire = leg.wire or wires[position]
            start = first if side == "supply_leg" else last
            to = leg.to or lead.to or start
            length = leg.length if leg.length is not None else lead.length
            if length is None:
                length = self.ways.get(frozenset((start, to)))
            if length is None or wire is None:
                # what the file already says of the lead stays in the line to type
                far = format_quantity(_SOME if length is None else length, Dimension.LENGTH)
                of = f" of {wire or USUAL_LEAD}" if wire is None or leg.wire or lead.wire else ""
                typed = in_toml(f"{far}{of}" + (f" to {to}" if to != start else ""))
                missing = f"its {'length' if length is None else 'wire'}, such as lead = {typed}"
                plain = lead.model_fields_set <= {"length", "to", "wire"}
                lines = (f"lead = {typed}",) if path and plain else ()
                self.unknown.append(Unknown(name, "the resistance of its lead", missing, True, lines, path))
            legs[side] = LegPart(
                length or 0.0,
                self.wire(wire) if wire else None,
                to,
                leg.colour or colours[position],
            )
        return legs

    def _colours(self, name: str, lead: Lead, circuit: str) -> tuple[str, ...]:
        """The colours of supply and return leg; none where red/black on a circuit switched in the negative is ambiguous.

        By the order of the file red is the switched wire there, and so the negative one; by custom it is the positive.
        """
        colours = lead.colours or ()
        described = self.build.circuit.get(circuit)
        if described is None or described.switched == "positive":
            return colours
        if [colour.strip().casefold() for colour in colours] not in _BY_CUSTOM:
            return colours
        self.unknown.append(
            Unknown(
                name,
                "which wire of its lead goes to the positive: red by its colour, but black by the order in the file, where the switched one comes first",
                _COMMON_LEG,
                True,
            )
        )
        return ()

    def _runs(self) -> tuple[RunPart, ...]:
        runs = []
        for index, (run, name) in enumerate(zip(self.build.run, self.run_names, strict=True)):
            wire = run.wire or self.build.usual.run
            length = run.length if run.length is not None else self.ways.get(frozenset(run.ends))
            if (
                run.ohms is None
                and not run.spare
                and run.carries == "power"
                and (wire is None or length is None)
            ):
                line = 'wire = "ptfe-28"' if wire is None else 'length = "300 mm"'
                missing = f"its {'wire' if wire is None else 'length'}, such as {line}"
                self.unknown.append(
                    Unknown(name, "its resistance and voltage drop", missing, True, (line,), ("run", index))
                )
            runs.append(
                RunPart(
                    name=name,
                    path=("run", index),
                    said=run,
                    line=run.line or "",
                    ends=(run.ends[0], run.ends[1]),
                    length=length or 0.0,
                    wire=self.wire(wire) if wire else None,
                    measured=run.ohms,
                    conductors=run.conductors,
                    spare=run.spare,
                    carries=run.carries,
                    cable=run.cable,
                    body=run.body,
                    through=self.passages.of_run(run, name),
                    colour=run.colour,
                )
            )
        return tuple(runs)

    # -- lamps

    def _dice(self, kind: str) -> tuple[DieData, ...]:
        own = self.build.lamp_kind.get(kind)
        if own is not None:
            if own.colour is not None and not is_light(own.colour):
                self.unknown.append(
                    Unknown(
                        kind,
                        "which colour it gives, and so whether it is ultraviolet, or which white",
                        'its colour in plain words, such as colour = "warm white"',
                        False,
                    )
                )
            return (described_die(own),)
        return lamp_dice(catalogue.lamp(kind))

    def _resistor(self, spec: ResistorSpec | None, place: str) -> ResistorPart | None:
        key = (id(spec), place)
        if key not in self.resistors:
            self.resistors[key] = resistor_part(spec, place, self.usual_resistor)
        return self.resistors[key]

    def _lamps(self, lamp: Lamp, common: dict[str, Any]) -> Iterator[LampPart]:
        name, path = common["name"], common["path"]
        if shares_unsaid(lamp):
            self.unknown.append(_strings_asked(name, lamp, path))
        legs = self._legs(name, lamp.lead, *common["places"], circuit=lamp.circuit or "", path=path)
        links = tuple(self._legs(name, link, lamp.place)["supply_leg"] for link in lamp.links or ())
        dice = self.dice(lamp.kind)
        glows = bool(dice) and dice[0].filament_volts is not None  # either way round
        common |= {
            "parallel": lamp.parallel, "one_resistor": lamp.one_resistor, "matched": lamp.matched, "links": links,
            "behaviour": lamp.behaviour, "backwards": lamp.backwards and not glows, **legs,
        }  # fmt: skip
        if lamp.dice:
            by_colour = {die.colour: die for die in dice}
            for number, (colour, die) in enumerate(lamp.dice.items()):
                common |= _legs_of_die(lamp, legs, number)
                own = self._resistor(die.resistor, lamp.place)
                common |= {"name": f"{name} {colour}", "path": (*path, "dice", colour)}
                yield LampPart(
                    circuit=die.circuit, dice=(by_colour[colour],) * lamp.series, resistor=own,
                    resistor_path=(*path, "dice", colour, "resistor"), wanted_range=die.wanted, colour=True,
                    share=_shared(lamp, own), **common,
                )  # fmt: skip
        else:
            own = self._resistor(lamp.resistor, lamp.place)
            yield LampPart(
                circuit=lamp.circuit or "", dice=dice * lamp.series,
                resistor=own, resistor_path=(*path, "resistor"), wanted_range=lamp.wanted, share=_shared(lamp, own), **common,
            )  # fmt: skip

    def _strip(self, strip: Strip, common: dict[str, Any]) -> StripPart:
        own = self.build.strip_kind.get(strip.kind)
        chains: tuple[tuple[tuple[DieData, ...], float], ...]
        if own is not None:
            volts, segment = own.volts, own.segment
            chains = ((self.dice(own.kind)[:1] * own.series, own.ohms),) * own.strings
            source = own.source or "described in the file"
        else:
            row = catalogue.strip(strip.kind)
            volts, segment, source = row.volts, row.segment_length, row.source
            chains = tuple(
                ((die_data(chain.die, row.source),) * chain.series, chain.ohms) for chain in row.chains
            )
        length = strip.length if strip.length is not None else (strip.segments or 1) * segment
        segments = strip.segments if strip.segments is not None else max(1, whole_segments(length, segment))
        if strip.trace is None:
            self.unknown.append(Unknown(common["name"], "the voltage along the strip", STRIP_TRACE, False))
        return StripPart(
            circuit=strip.circuit or "", dice=chains[0][0], far_end=strip.far_end, volts=volts, segment=segment, length=length,
            segments=segments, chains=chains, trace=strip.trace, through=strip.through, source=source,
            **common, **self._legs(common["name"], strip.lead, strip.place, circuit=strip.circuit or "", path=common["path"]),
        )  # fmt: skip

    def _load(self, load: Load, common: dict[str, Any]) -> LoadPart:
        diode = None if load.diode is None else diode_data(load.diode)
        # a motor just turns the other way, but a diode across it conducts
        turned = inf if diode is None else DIODE_VOLTS
        return LoadPart(
            circuit=load.circuit or "",
            least=load.typical if load.least is None else load.least,
            typical=load.typical,
            most=load.typical if load.most is None else load.most,
            least_given=load.least is not None,
            most_given=load.most is not None,
            starting=load.starting,
            lowest=load.lowest,
            highest=load.highest,
            reverse=turned if load.kind == "motor" else load.reverse,
            diode=diode,
            motor=load.kind == "motor",
            case=load.case,
            held_off=load.held_off,
            never_stalls=load.never_stalls,
            **common,
            **self._legs(load.name, load.lead, load.place, circuit=load.circuit or "", path=common["path"]),
        )


def _legs_of_die(lamp: Lamp, legs: Mapping[str, LegPart], number: int) -> dict[str, LegPart]:
    """The legs of one colour of a lamp: each has a supply leg of its own, and the last colour of the lead is what they share.

    If the lead has another number of colours, they cannot be given to the supply legs.
    """
    assert lamp.dice is not None
    colours = (lamp.lead.colours if lamp.lead is not None else None) or ()
    if len(lamp.dice) == 1:
        return {}
    each = len(colours) == len(lamp.dice) + 1
    own = lamp.lead or Lead()
    feed, back = own.feed or Leg(), own.back or Leg()
    return {
        "supply_leg": legs["supply_leg"]._replace(colour=colours[number] if each else feed.colour),
        "return_leg": legs["return_leg"]._replace(
            colour=back.colour or (colours[-1] if len(colours) > 1 else None)
        ),
    }


def shares_unsaid(lamp: Lamp) -> bool:
    """Whether its strings are taken to have both legs each, because the file does not say what they share."""
    return (
        lamp.parallel > 1 and lamp.lead is not None and lamp.strings_share is None and not lamp.one_resistor
    )


def _strings_asked(name: str, lamp: Lamp, path: Path) -> Unknown:
    """What is asked of parallel strings: how many wires they bring to their joints, in the words of the bench."""
    resistor = lamp.resistor
    each = ", each with a resistor of its own" if resistor is not None else ""
    away = resistor is not None and resistor.place not in (None, lamp.place, *(lamp.places or ()))
    return Unknown(
        name,
        f"how many wires come from the {lamp.parallel} strings (parallel = {lamp.parallel}: side by side{each}): two from each are taken",
        'which it is: strings_share = "nothing", "return" or "lead"',
        False,
        (
            'strings_share = "nothing"  # two wires from each string',
            '# strings_share = "return"  # or one from each, and one back for all',
            '# strings_share = "lead"  # or two wires in all',
            *(("# one_resistor = true  # with that: one resistor for all strings",) if away else ()),
        ),
        path,
    )


def _shared(lamp: Lamp, resistor: ResistorPart | None) -> Share:
    """What the leads of its strings share: as the file says; else nothing, unless they end at one resistor beside them."""
    if lamp.parallel == 1 or lamp.lead is None:
        return "lead"
    if lamp.strings_share is not None:
        return lamp.strings_share
    beside = resistor is not None and resistor.place in (lamp.place, *(lamp.places or ()))
    return "lead" if lamp.one_resistor and beside else "nothing"
