"""What no table can see for itself: keys that need or exclude each other, and tables that contradict one another."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from postcheck import catalogue
from postcheck.description.cells import cell_problems
from postcheck.description.consumers import strip_names
from postcheck.description.curves import curve_points, is_a_diode
from postcheck.description.diodes import DIODES, IN_BOARD
from postcheck.description.models import (
    DICE_EXAMPLE,
    MOST_SEGMENTS,
    Build,
    Cable,
    Circuit,
    Die,
    FuseSpec,
    Instead,
    Lamp,
    LampKind,
    ResistorSpec,
    Supply,
)
from postcheck.description.names import catalogue_colours
from postcheck.description.naming import passages_of, run_names
from postcheck.description.printing import format_apart, format_quantity
from postcheck.description.problems import Path, Problem
from postcheck.description.size import segment_of, size_problems
from postcheck.description.toml_text import in_toml, key_in_toml
from postcheck.description.units import Dimension
from postcheck.limits import above
from postcheck.physics.bundle import smallest_possible
from postcheck.plain import nearest, quoted


def contradictions(build: Build) -> list[Problem]:
    """All that contradicts itself or lacks something, in a build whose keys are sound one by one."""
    sections = (
        _supplies,
        _circles,
        _circuits,
        _lamps,
        _strips,
        _loads,
        _runs,
        _wires,
        _passages,
        _cables,
        _plugs,
        _lamp_kinds,
    )
    return [problem for section in (*sections, size_problems) for problem in section(build)]


def _missing(path: Path, says: str, hint: str | None = None) -> Problem:
    return Problem("file.missing", path, says, hint, "key")


def _invalid(path: Path, says: str, hint: str | None = None) -> Problem:
    return Problem("file.invalid", path, says, hint)


def _out_of_range(path: Path, says: str, hint: str | None = None) -> Problem:
    return Problem("file.out-of-range", path, says, hint)


def _supplies(build: Build) -> Iterator[Problem]:
    for name, supply in build.supply.items():
        path: Path = ("supply", name)
        if supply.fuse is not None:
            yield from _trips(supply.fuse, (*path, "fuse"))
        if supply.kind == "battery":
            yield from cell_problems(name, supply)
        yield from _usb_volts(supply, path)
        for number, other in enumerate(supply.instead or ()):
            yield from _usb_volts(other, (*path, "instead", number))
        if supply.kind == "converter" and supply.fed_by is None:
            yield _missing(path, f"converter {quoted(name)} needs `from`", "the supply it is fed by")
        if supply.kind != "converter" and supply.fed_by is not None:
            it_is = f"{'an' if supply.kind[0] in 'aeiou' else 'a'} {supply.kind}"
            yield _invalid(
                (*path, "from"), f"only a converter is fed by another supply; {quoted(name)} is {it_is}"
            )


# VBUS at a port: USB 2.0, 7.2.2, from 4.40 V at a bus-powered hub's; 5.5 V is the most that USB 3.2 and type C let it have (from memory).
_USB_LEAST, USB_MOST = 4.4, 5.5


def _usb_volts(source: Supply | Instead, path: Path) -> Iterator[Problem]:
    """Volts that no USB port has unless it is asked for them, which needs type C or a board that asks."""
    if source.kind != "usb" or source.volts is None:
        return
    if source.port == "type-c":
        if isinstance(source, Supply) and source.cc_resistors and source.volts > USB_MOST:
            volts = format_quantity(source.volts, Dimension.VOLTAGE)
            yield _invalid(
                (*path, "volts"),
                f"resistors alone ask a type C port for 5 V, not for {volts}",
                f'write volts = "5 V", or cc_resistors = false where a board asks the port for {volts}',
            )
        return
    if not _USB_LEAST <= source.volts <= USB_MOST:
        what = "a power bank's USB port" if source.port == "power-bank" else "a plain USB port"
        volts = format_quantity(source.volts, Dimension.VOLTAGE)
        yield _invalid(
            (*path, "volts"),
            f"{what} gives 5 V, not {volts}",
            f'write volts = "5 V", or kind = "adaptor" where {volts} comes from one; a board that asks a type C port for {volts} is port = "type-c"',
        )


def _trips(fuse: FuseSpec, path: Path) -> Iterator[Problem]:
    """What is said of a resettable fuse by its maker, by half or of another kind."""
    examples = {"trips_at": "2.5 A", "trips_in": "4 s"}
    given = [key for key in examples if getattr(fuse, key) is not None]
    if len(given) == 1:
        (other,) = examples.keys() - given
        hint = f'such as {other} = "{examples[other]}"'
        yield _missing(path, f"{given[0]} goes with {other}, from its maker's table", hint)
    elif given and fuse.kind != "resettable":
        hint = 'write kind = "resettable", or leave trips_at and trips_in out'
        says = f"a {fuse.kind} fuse melts and trips no more than once"
        yield Problem("file.invalid", (*path, "trips_at"), says, hint, "key")


def _circles(build: Build) -> Iterator[Problem]:
    reported: set[str] = set()
    for name in build.supply:
        path: list[str] = []
        at: str | None = name
        while at is not None and at in build.supply and at not in path:
            path.append(at)
            at = build.supply[at].fed_by
        if at is not None and at in path and not reported & set(path):
            ring = " from ".join([*path[path.index(at) :], at])
            reported |= set(path)
            says = f"converters feed each other in a circle: {ring}"
            yield _invalid(("supply", at, "from"), says, "one of them needs a supply of another kind")


def _circuits(build: Build) -> Iterator[Problem]:
    taken: dict[tuple[str, int], str] = {}
    for name, circuit in build.circuit.items():
        path: Path = ("circuit", name)
        board = build.board.get(circuit.board or "")
        if board is not None and circuit.supply is not None and circuit.supply != board.supply:
            fed = f"is fed by {quoted(board.supply)}, not by {quoted(circuit.supply)}"
            yield _invalid((*path, "supply"), f"board {quoted(circuit.board or '')} {fed}")
        if circuit.board is not None and circuit.channel is not None:
            if board is not None and board.channels is not None and circuit.channel > board.channels:
                has = f"has {board.channels} channel{'s' * (board.channels > 1)}, not {circuit.channel}"
                used = {one.channel for one in build.circuit.values() if one.board == circuit.board}
                free = next((one for one in range(1, board.channels + 1) if one not in used), None)
                more = f"channels = {circuit.channel} in [board.{key_in_toml(circuit.board)}] where it has so many"
                hint = (
                    f"write {more}" if free is None else f"write channel = {free}, which is free, or {more}"
                )
                yield _out_of_range((*path, "channel"), f"board {quoted(circuit.board)} {has}")._replace(
                    hint=hint
                )
            other = taken.setdefault((circuit.board, circuit.channel), name)
            if other != name:
                says = f"channel {circuit.channel} of board {quoted(circuit.board)} already drives circuit {quoted(other)}"
                yield Problem("file.duplicate-name", (*path, "channel"), says)
        yield from _circuit_name(build, name, circuit)
        if circuit.behaviour == "fade" and circuit.on_share is not None:
            says = f"circuit {quoted(name)} fades, and is never off for a share of the time"
            yield Problem(
                "file.invalid",
                (*path, "on_share"),
                says,
                'say how far down it goes: least_share = "10 %"',
                "key",
            )
        if circuit.behaviour == "steady" and circuit.on_share is not None and circuit.on_share < 1.0:
            says = f"circuit {quoted(name)} is steady, and counts as on all the time"
            hint = 'write behaviour = "flash" with its rate, or behaviour = "dim"; or take on_share out'
            yield Problem("file.invalid", (*path, "on_share"), says, hint, "key")
        if circuit.behaviour != "fade" and circuit.least_share is not None:
            says = f"circuit {quoted(name)} does not fade, and has no least share"
            yield Problem("file.invalid", (*path, "least_share"), says, 'write behaviour = "fade"', "key")


def _circuit_name(build: Build, name: str, circuit: Circuit) -> Iterator[Problem]:
    """A name that is that of another line."""
    hint = "give the circuit another name"
    own = f"{name}-return"
    if circuit.own_return and own in build.circuit:
        says = f"{quoted(own)} is already the line of circuit {quoted(name)}'s own return"
        yield Problem("file.duplicate-name", ("circuit", own), says, hint, "key")
    if name.endswith(("+", "-")):
        says = f"the name {quoted(name)} ends like the pole of a supply"
        yield Problem("file.invalid", ("circuit", name), says, hint, "key")


def _lamps(build: Build) -> Iterator[Problem]:
    for index, lamp in enumerate(build.lamp):
        path: Path = ("lamp", index)
        for key, given, needed, verb in (
            ("places", lamp.places, lamp.series, "need"), ("links", lamp.links, lamp.series - 1, "have"),
        ):  # fmt: skip
            if given is not None and len(given) != needed:
                says = f"{lamp.series} lamps in series {verb} {needed} {key}, not {len(given)}"
                yield _out_of_range((*path, key), says)
        if lamp.resistor is not None:
            yield from _trimmers(lamp.resistor, (*path, "resistor"))
        for colour, die in (lamp.dice or {}).items():
            if die.resistor is not None:
                yield from _trimmers(die.resistor, (*path, "dice", colour, "resistor"))
        if lamp.dice is not None:
            yield from _dice(build, lamp, path)


def _trimmers(spec: ResistorSpec, path: Path) -> Iterator[Problem]:
    """A setting of what cannot be set, or beyond the track."""
    for number, piece in enumerate(spec.pieces):
        where: Path = (*path, "plus", number - 1, "set") if number else (*path, "set")
        if piece.set is None:
            continue
        own, at = (format_quantity(ohms, Dimension.RESISTANCE) for ohms in (piece.ohms, piece.set))
        if not piece.trimmer:
            yield _invalid(
                where, f"a resistor of {own} cannot be set", f'write it like "trimmer {own} set {at}"'
            )
        elif piece.set > piece.ohms:
            yield _out_of_range(
                where, f"a trimmer of {own} cannot be set to {at}", "its whole track is the most"
            )


def _dice(build: Build, lamp: Lamp, path: Path) -> Iterator[Problem]:
    dice: Mapping[str, Die] = lamp.dice or {}
    form = f"write dice = {in_toml(DICE_EXAMPLE)}"
    for_all = [key for key in ("circuit", "switch", "resistor") if getattr(lamp, key) is not None]
    if for_all:
        says = f"a lamp with `dice` has a {' and a '.join(for_all)} for each colour, and none for all"
        hint = f"leave {'it' if len(for_all) == 1 else 'them'} out and {form}"
        yield Problem("file.invalid", (*path, for_all[0]), says, hint, "key")
    elif not dice:
        yield _out_of_range((*path, "dice"), "no colour is given", form)
    if dice and catalogue_colours(build, lamp) == []:
        hint = "write `circuit` and `resistor` instead, and a [[lamp]] of its own for each colour"
        says = f"{quoted(lamp.kind)} has one colour only, and needs no `dice`"
        yield Problem("file.invalid", (*path, "dice"), says, hint, "key")
    sides = {
        circuit.switched: (colour, die.circuit)
        for colour, die in dice.items()
        if (circuit := build.circuit.get(die.circuit)) is not None
    }
    if len(sides) > 1:
        (colour, negative), (other, positive) = sides["negative"], sides["positive"]
        yield _invalid(
            (*path, "dice", colour, "circuit"),
            f"{colour} on {quoted(negative)} is switched in the negative and {other} on {quoted(positive)} in the "
            "positive, but the colours share one leg",
            "switch all colours of a lamp on the same side",
        )


def _strips(build: Build) -> Iterator[Problem]:
    for index, (strip, name) in enumerate(zip(build.strip, strip_names(build), strict=True)):
        if strip.length is None and strip.segments is None:
            yield _missing(("strip", index), f"strip {quoted(name)} needs `length` or `segments`")
        elif strip.length is not None and strip.segments is None:
            segment = segment_of(build, strip)
            if segment is not None and strip.length / segment > MOST_SEGMENTS:
                long, each = (format_quantity(length, Dimension.LENGTH) for length in (strip.length, segment))
                says = f"{long} are more than {MOST_SEGMENTS} segments of {each}"
                yield _out_of_range(("strip", index, "length"), says, "is the length of a segment right?")


def _loads(build: Build) -> Iterator[Problem]:
    for index, load in enumerate(build.load):
        for key in ("case", "held_off", "never_stalls", "diode", "reverses"):
            if load.kind != "motor" and getattr(load, key):
                yield _invalid(
                    ("load", index, key),
                    f"`{key}` is for a motor; {quoted(load.name)} is none",
                    'such as kind = "motor"',
                )
        kind = None if load.diode is None else load.diode.kind
        if (
            load.diode is not None
            and kind != IN_BOARD
            and (kind or "").upper() not in DIODES
            and load.diode.rated is None
        ):
            near = nearest((kind or "").upper(), DIODES) if kind else None
            yield _missing(
                ("load", index, "diode"),
                f"no diode {quoted(kind)} is known"
                if kind
                else f"the diode of {quoted(load.name)} needs its type or current",
                f'write diode = "{near}", or its current, as in diode = "1 A"'
                if near
                else 'write its current, as in diode = "1 A"',
            )


def _runs(build: Build) -> Iterator[Problem]:
    for index, (run, name) in enumerate(zip(build.run, run_names(build), strict=True)):
        path: Path = ("run", index)
        if run.ends[0] == run.ends[1]:
            yield _invalid((*path, "ends"), f"run {quoted(name)} begins and ends at {quoted(run.ends[0])}")
        if run.line is None and not run.spare and run.carries == "power":
            yield _missing(path, f"run {quoted(name)} needs `line`", "or `spare = true`")


def _wires(build: Build) -> Iterator[Problem]:
    """A wire is no thinner outside than its strands are together."""
    for name, wire in build.wire.items():
        least = smallest_possible([wire.strand] * wire.strands)
        if above(least, wire.outside):
            outside, needed = format_apart(Dimension.LENGTH, wire.outside, least)
            what = "strand has" if wire.strands == 1 else f"{wire.strands} strands need"
            says = f"wire {quoted(name)} is {outside} outside, and its {what} at least {needed}"
            yield _invalid(
                ("wire", name, "outside"), says, "`outside` is over the insulation, `strand` one bare strand"
            )


def _passages(build: Build) -> Iterator[Problem]:
    for name, passage in passages_of(build).items():
        if passage.start == passage.end:
            path: Path = ("post",) if name == "post" and build.post is not None else ("passage", name)
            yield _invalid((*path, "to"), f"passage {quoted(name)} begins and ends at {quoted(passage.end)}")


def _cables(build: Build) -> Iterator[Problem]:
    within: dict[str, list[float]] = {}
    for run in build.run:
        diameter = _outside(build, run.wire or build.usual.run)
        if run.cable is not None and diameter is not None and not run.body:
            within.setdefault(run.cable, []).extend([diameter] * run.conductors)
    for name, described in build.cable.items():
        yield from _cable_size(name, described, within.get(name, []))
    for name, diameters in within.items():
        cable = build.cable.get(name)
        least = smallest_possible(diameters)
        if cable is not None and cable.outside is not None and above(least, cable.outside):
            outside, needed = format_apart(Dimension.LENGTH, cable.outside, least)
            what = "conductor needs" if len(diameters) == 1 else f"{len(diameters)} conductors need"
            says = f"cable {quoted(name)} is {outside} outside, and its {what} at least {needed}"
            yield _invalid(
                ("cable", name, "outside"), says, "measure the cable, or name the wire that is in it"
            )


# The insulation of a flat cable is that of its wires, which may be thinner than the thickest of their kind: 0.05 mm either way
# of 0.6 mm, as makers' sheets of PVC wire have it.
_THINNEST = 0.84


def _cable_size(name: str, cable: Cable, within: Sequence[float]) -> Iterator[Problem]:
    """A cable is round or flat, and its conductors lie in it."""
    path: Path = ("cable", name)
    flat = cable.flat
    if cable.outside is None and flat is None:
        hint = 'add outside = "3 mm", or flat = "6.4 x 0.9 mm" of a flat one'
        yield _missing(path, f"cable {quoted(name)} needs `outside` or `flat`", hint)
    elif cable.outside is not None and flat is not None:
        says = f"cable {quoted(name)} has `outside` and `flat`"
        yield Problem("file.invalid", (*path, "flat"), says, "leave one of the two out", "key")
    elif flat is not None and (flat.thin is None or flat.thin > flat.across):
        yield _invalid(
            (*path, "flat"), f"cable {quoted(name)} is flat", 'write its width first: "6.4 x 0.9 mm"'
        )
    elif flat is not None and flat.thin is not None and within:
        for side, given, least in (
            ("thick", flat.thin, _THINNEST * max(within)),
            ("wide", flat.across, _THINNEST * sum(within)),
        ):
            if above(least, given):
                given_, needed = format_apart(Dimension.LENGTH, given, least)
                says = f"cable {quoted(name)} is {given_} {side}, and its conductors side by side need at least {needed}"
                yield _invalid((*path, "flat"), says, "measure the cable, or name the wire that is in it")


def _outside(build: Build, wire: str | None) -> float | None:
    """Greatest outside diameter of a wire, m; None where none is named, or an unknown one."""
    if wire is None:
        return None
    if (own := build.wire.get(wire)) is not None:
        return own.outside
    try:
        return catalogue.wire(wire).max_diameter
    except catalogue.UnknownRow:
        return None


def _plugs(build: Build) -> Iterator[Problem]:
    for index, plug in enumerate(build.plug):
        path: Path = ("plug", index)
        if plug.at is None and plug.ends is None:
            yield _missing(
                path, f"plug {quoted(plug.name)} needs `at`", 'the place where it sits, such as at = "hub"'
            )
        if plug.at is not None and plug.ends is not None:
            hint = "leave `ends` out: the runs go to the plug, and what is at the place is behind it"
            says = f"plug {quoted(plug.name)} has `at` and `ends`"
            yield Problem("file.invalid", (*path, "ends"), says, hint, "key")


def _lamp_kinds(build: Build) -> Iterator[Problem]:
    for name, kind in build.lamp_kind.items():
        path: Path = ("lamp_kind", name)
        if kind.kind == "filament" and kind.volts is None:
            yield _missing(path, f"filament lamp {quoted(name)} needs `volts`")
        elif kind.rated is None and (kind.kind == "filament" or kind.volts is None):
            what = "filament lamp" if kind.kind == "filament" else "LED"
            yield _missing(path, f"{what} {quoted(name)} needs `rated`", 'such as rated = "20 mA"')
        elif kind.kind == "led" and kind.volts is not None:
            yield from _with_resistor(name, kind, path, kind.volts)
        elif kind.kind == "led" and kind.forward is None:
            yield _missing(
                path, f"LED {quoted(name)} needs `forward`", f'such as forward = "{_usual_forward(kind)}"'
            )
        elif kind.kind == "led":
            yield from _curve(kind, path)


def _usual_forward(kind: LampKind) -> str:
    """The forward voltages of small LEDs of its colour, as it would be written; those of a white one where nobody knows it."""
    from postcheck import catalogue  # noqa: PLC0415 - only where it is missing

    row = f"smd-0603-{(kind.colour or 'white').strip().lower().replace(' ', '-')}"
    lamp = catalogue.lamp(row if row in catalogue.names("lamp") else "smd-0603-white")
    assert not isinstance(lamp, catalogue.FilamentLamp)
    die = lamp.dice[0]
    return f"{die.forward_least:g}/{die.forward_typical:g}/{die.forward_most:g} V"


def _with_resistor(name: str, kind: LampKind, path: Path, volts: float) -> Iterator[Problem]:
    """An LED with its resistor inside: on its volts something is left for that."""
    if kind.at is None:
        hint = 'what it takes on its volts, such as at = "15 mA"'
        yield _missing(path, f"LED {quoted(name)} with its resistor inside needs `at`", hint)
        return
    die = curve_points(kind)[1][0]
    if volts <= die * 1.02:
        made, takes = format_apart(Dimension.VOLTAGE, volts, die)
        says = f"LED {quoted(name)} is for {made}, and its die alone takes {takes}: nothing is left for a resistor inside"
        yield _invalid((*path, "volts"), says, "leave `volts` out, or say the `forward` voltage of its die")
        return
    yield from _curve(kind, path)


def _curve(kind: LampKind, path: Path) -> Iterator[Problem]:
    (low, low_at), (typical, at) = curve_points(kind)
    if kind.low_forward is not None and not (low < typical and low_at < at):
        says = "the second point of the curve must lie below the first, in volts and in amps"
        yield Problem("file.wrong-order", (*path, "low_forward"), says)
    elif not is_a_diode(kind):
        points = " and ".join(
            f"{format_quantity(max(volts, 0.0), Dimension.VOLTAGE)} at {format_quantity(amps, Dimension.CURRENT)}"
            for volts, amps in ((low, low_at), (typical, at))
        )
        yield _invalid(
            (*path, "forward" if kind.low_forward is None else "low_forward"),
            f"no LED has a curve through {points}",
            "read two points off its data sheet: the rated current, and about a quarter of it",
        )
    # all of it gone within 100 K
    elif kind.per_kelvin is not None and abs(kind.per_kelvin) * 100.0 > typical:
        by, of = (format_quantity(volts, Dimension.VOLTAGE) for volts in (kind.per_kelvin, typical))
        hint = 'a few millivolts a die, such as per_kelvin = "-2 mV"'
        yield _invalid((*path, "per_kelvin"), f"no LED of {of} changes by {by} per kelvin", hint)
