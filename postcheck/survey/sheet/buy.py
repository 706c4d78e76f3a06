"""What a build needs, counted once for the plan and for the sheet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from math import ceil

from postcheck.description.called import fuse_words, piece_words
from postcheck.description.diodes import diode_data
from postcheck.description.models import Build, Lamp, SeriesResistor, Supply
from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.materials import Item, Materials, Piece
from postcheck.survey import Survey
from postcheck.survey.sheet.cut import pieces
from postcheck.survey.sheet.shelf import same_colour, taken_off
from postcheck.survey.sheet.sleeves import sleeves
from postcheck.wiring.parts import StripPart

# Wire is bought in tenths of a metre.
_TENTHS = 10
_LOADS = {
    "motor": ", a motor", "sound": ", a sound board", "inverter": ", an inverter", "pixels": ", addressable lamps", "other": "",
}  # fmt: skip


def materials(survey: Survey) -> Materials:
    """The cut list and all that is needed, with what is in stock taken off."""
    limits = survey.limits
    cut = pieces(survey)
    return Materials(
        cut,
        tuple(taken_off(survey.build, needed(survey, cut))),
        limits.value("cut.waste"),
        limits.value("joint.takes"),
        limits.value("run.anew"),
    )


def needed(survey: Survey, cut: tuple[Piece, ...]) -> tuple[Item, ...]:
    """Everything that a build is made of, with nothing taken off for what is there."""
    build = survey.build
    return (
        *wires(cut, survey.limits.value("cut.waste")),
        *resistors(build),
        *_lit(survey),
        *_diodes(build),
        *(
            Item(
                "sleeve",
                format_quantity(size, Dimension.LENGTH),
                "",
                sum(one.count for one in over),
                across=size,
                over=over,
            )
            for size, over in sleeves(survey).items()
        ),
        *fuses(build),
        *_plugs(build),
        *_switches(build),
        *_supplies(build),
        *(Item("board", name, "", 1) for name in build.board),
    )


def wires(cut: tuple[Piece, ...], waste: float) -> Iterator[Item]:
    """Each wire by its colour; each cable once for all that lies in one piece of it."""
    metres: Counter[tuple[str, str]] = Counter()
    unmeasured: Counter[tuple[str, str]] = Counter()
    words: dict[tuple[str, str], str] = {}
    cables: dict[str, dict[frozenset[str], float | None]] = {}
    for one in cut:
        if one.cable:
            lengths = cables.setdefault(one.cable, {})
            ends = frozenset((one.start, one.end))
            lengths[ends] = max(one.length or 0.0, lengths.get(ends) or 0.0) or None
            continue
        sort = one.wire, same_colour(one.colour)
        words.setdefault(sort, one.colour)
        # whole um: sums do not depend on their order
        metres[sort] += round((one.length or 0.0) * one.count * 1e6)
        unmeasured[sort] += one.count if one.length is None else 0
    for sort, microns in metres.items():
        what = sort[0] or "wire, the file does not say which"
        yield Item(
            "wire", what, words[sort], _bought(microns / 1e6, waste), "m", unmeasured=unmeasured[sort]
        )  # fmt: skip
    for cable, by_ends in cables.items():
        whole = sum(length or 0.0 for length in by_ends.values())
        none = sum(length is None for length in by_ends.values())
        yield Item("cable", cable, "", _bought(whole, waste), "m", unmeasured=none)


def _bought(metres: float, waste: float) -> float:
    return ceil(metres * (1.0 + waste) * _TENTHS - 1e-6) / _TENTHS


def resistors(build: Build) -> Iterator[Item]:
    """Resistors by value, power and tolerance, the smallest first."""
    counts: Counter[SeriesResistor] = Counter()
    usual = build.usual.resistor
    for lamp in build.lamp:
        for spec in [die.resistor for die in lamp.dice.values()] if lamp.dice else [lamp.resistor]:
            if spec is None:
                continue
            for one in spec.pieces:
                sized = one.power is not None or one.size is not None or one.trimmer
                plain = SeriesResistor.model_construct(
                    ohms=one.ohms, trimmer=one.trimmer, set=None,
                    power=one.power if sized or usual is None else usual.power,
                    size=one.size if sized or usual is None else usual.size,
                    tolerance=one.tolerance if one.tolerance is not None or one.trimmer or usual is None else usual.tolerance,
                )  # fmt: skip
                counts[plain] += 1 if lamp.one_resistor else lamp.parallel
    for kind in sorted(counts, key=lambda one: (one.trimmer, one.ohms, one.power or 0.0)):
        yield Item(
            "resistor", piece_words(kind), "", counts[kind], ohms=kind.ohms, watts=kind.power, size=kind.size or "", tolerance=kind.tolerance
        )  # fmt: skip


def _lit(survey: Survey) -> Iterator[Item]:
    lamps: Counter[str] = Counter()
    for lamp in survey.build.lamp:
        lamps[lamp.kind] += _count(lamp)
    yield from (Item("lamp", kind, "", count) for kind, count in lamps.items())
    strips: Counter[str] = Counter()
    for part in survey.parts.every:
        if isinstance(part, StripPart):
            strips[part.said.kind] += round(part.segments * part.segment * 1e6)
    yield from (Item("strip", kind, "", microns / 1e6, "m") for kind, microns in strips.items())
    yield from (Item("load", f"{load.name}{_LOADS[load.kind]}", "", 1) for load in survey.build.load)


def _diodes(build: Build) -> Iterator[Item]:
    counts: Counter[tuple[str, float]] = Counter()
    for load in build.load:
        if load.diode is not None and (data := diode_data(load.diode)) is not None:
            words = load.diode.kind or format_quantity(data.rated, Dimension.CURRENT)
            if load.diode.kind is None and data.reverse is not None:
                words += f" {format_quantity(data.reverse, Dimension.VOLTAGE)}"
            counts[words, data.rated] += 1
    for (words, rated), count in counts.items():
        yield Item("diode", words, "", count, amps=rated)


def _count(lamp: Lamp) -> int:
    """Lamps of an entry; of colours in one package each string is a row of packages."""
    return lamp.count if lamp.count is not None else lamp.series * lamp.parallel


def fuses(build: Build) -> Iterator[Item]:
    """Fuses, those alike together."""
    counts: Counter[str] = Counter()
    rated: dict[str, float] = {}
    for supply in build.supply.values():
        if supply.fuse is not None:
            words = fuse_words(supply.fuse)
            counts[words] += 1
            rated[words] = supply.fuse.rated
    yield from (Item("fuse", words, "", count, amps=rated[words]) for words, count in counts.items())


def _plugs(build: Build) -> Iterator[Item]:
    counts: Counter[tuple[int, float | None]] = Counter((len(plug.pins), plug.rated) for plug in build.plug)
    for (pins, rated), count in counts.items():
        what = "1 pin" if pins == 1 else f"{pins} pins"
        if rated is not None:
            what += f", {format_quantity(rated, Dimension.CURRENT)}"
        yield Item("plug", what, "", count, amps=rated)


def _switches(build: Build) -> Iterator[Item]:
    given = [
        *(supply.on_off for supply in build.supply.values()),
        *(circuit.on_off for circuit in build.circuit.values()),
    ]
    counts: Counter[float | None] = Counter(switch.rated for switch in given if switch is not None)
    for rated, count in counts.items():
        what = "of unknown rating" if rated is None else format_quantity(rated, Dimension.CURRENT)
        yield Item("switch", what, "", count, amps=rated)


def _supplies(build: Build) -> Iterator[Item]:
    counts: Counter[str] = Counter(_supply(supply) for supply in build.supply.values())
    yield from (Item("supply", what, "", count) for what, count in counts.items())


def _supply(supply: Supply) -> str:
    if supply.kind == "battery":
        cells = supply.cells or 1
        of = f"{cells} {supply.chemistry or ''} {'cell' if cells == 1 else 'cells'}".replace("  ", " ")
        return f"battery of {of}" + (f", {supply.size}" if supply.size else "")
    figures = [
        format_quantity(value, dimension)
        for value, dimension in ((supply.volts, Dimension.VOLTAGE), (supply.rated, Dimension.CURRENT))
        if value is not None
    ]
    kind = (
        f"usb {supply.port}" if supply.kind == "usb" and supply.port not in (None, "plain") else supply.kind
    )
    return f"{kind} {', '.join(figures)}".rstrip()
