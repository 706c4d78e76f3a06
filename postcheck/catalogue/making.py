"""From the millimetres, milliamperes and ohms per kilometre of the data files to rows in SI units."""

from __future__ import annotations

from collections.abc import Callable
from math import pi

from postcheck.catalogue.fields import Fields
from postcheck.catalogue.rows import (
    CellSize,
    Chain,
    Chemistry,
    Die,
    FilamentLamp,
    FuseRating,
    Inside,
    LedLamp,
    Plastic,
    ResistorSize,
    Row,
    Strip,
    Wire,
)

# Annealed copper at 20 degC, 1/58 ohm mm2/m: IEC 60028.
_OHM_MM2_PER_METRE = 1.0 / 58.0
# Lay of stranded conductors: ASTM B496.
_STRANDING = 1.02
# Diameter of the bundle over that of a strand, for concentric lay: geometry (a core and one or two layers).
_CONCENTRIC = {1: 1.0, 7: 3.0, 19: 5.0}
# Other strandings, as round as they come: bundle = 1.155 sqrt(n) strands, the factor of cable makers' tables.
_BUNCHED = 1.155
# UL 758: a stranded conductor may have 1.12 times the resistance of a solid one of its gauge; a solid one about 1.07.
_UL_STRANDED = 1.12
_UL_SOLID = 1.07


def _awg_millimetres(gauge: int) -> float:
    """ASTM B258: d = 0.127 mm * 92**((36 - n)/39)."""
    return float(0.127 * 92.0 ** ((36 - gauge) / 39.0))


def _square(diameter: float) -> float:
    return pi / 4.0 * diameter * diameter


def _wire(name: str, row: Fields) -> Wire:
    gauge = row.count("awg") if row.has("awg") else None
    strands = row.count("strands") if row.has("strands") else 1
    solid = strands == 1
    if row.has("strand"):
        strand = row.number("strand")
    elif gauge is not None:
        strand = _awg_millimetres(gauge)
    else:
        raise ValueError(f"wire {name} has neither strand nor gauge")
    area = strands * _square(strand)
    ohms = _OHM_MM2_PER_METRE / area * (1.0 if solid else _STRANDING)
    if row.has("most_ohms_per_km"):
        most = row.number("most_ohms_per_km") / 1e3
    elif row.has("thinner"):
        most = _OHM_MM2_PER_METRE / _square(strand - row.number("thinner"))
    elif gauge is not None:
        most = _OHM_MM2_PER_METRE / _square(_awg_millimetres(gauge)) * (_UL_SOLID if solid else _UL_STRANDED)
    else:
        raise ValueError(f"wire {name} does not tell its highest resistance")
    bundle = row.maybe("bundle")
    if bundle is None:
        bundle = strand * _CONCENTRIC.get(strands, _BUNCHED * strands**0.5)
    outside = row.number("outside") + (row.maybe("plus") or 0.0)
    return Wire(
        name=name,
        family=row.text("family"),
        gauge=gauge,
        solid=solid,
        strands=strands,
        strand_diameter=strand / 1e3,
        conductor_diameter=bundle / 1e3,
        conductor_area=area / 1e6,
        max_diameter=outside / 1e3,
        ohms_per_metre=ohms,
        ohms_per_metre_most=most,
        insulation_volts=row.maybe("volts"),
        insulation_celsius=row.number("celsius"),
        short_celsius=row.number("short_celsius"),
        enamelled=row.flag("enamelled"),
        source=row.text("source"),
    )


def _die(row: Fields) -> Die:
    least, typical, most = row.numbers("forward")
    low_volts, low_milliamperes = row.numbers("low")
    pulse, width, duty = row.numbers("pulse")
    above, per_kelvin = row.numbers("derate")
    die = Die(
        colour=row.text("colour"),
        forward_least=least,
        forward_typical=typical,
        forward_most=most,
        at_current=row.number("at") / 1e3,
        low_forward=low_volts,
        low_current=low_milliamperes / 1e3,
        rated_current=row.number("rated") / 1e3,
        pulse_current=pulse / 1e3,
        pulse_width=width / 1e3,
        pulse_duty=duty,
        reverse_volts=row.number("reverse"),
        volts_per_kelvin=row.number("per_kelvin") / 1e3,
        kelvin_per_watt=row.number("kelvin_per_watt"),
        derate_above=above,
        derate_per_kelvin=per_kelvin / 1e3,
        junction_most=row.number("junction"),
    )
    row.done()
    return die


def _lamp(name: str, row: Fields) -> LedLamp | FilamentLamp:
    package = row.text("package")
    source = row.text("source")
    if row.has("volts"):
        return FilamentLamp(
            name=name,
            package=package,
            rated_volts=row.number("volts"),
            rated_current=row.number("milliamperes") / 1e3,
            cold_ratio=row.number("cold_ratio"),
            celsius=row.number("celsius"),
            source=source,
        )
    colour = row.text("colour")
    dice = tuple(_die(die) for die in row.tables("dice", row.inner("die")))
    inside = None
    if row.has("inside"):
        said = Fields(f"lamp {name} inside", row.inner("inside"))
        inside = Inside(
            volts=said.number("volts"),
            current=said.number("at") / 1e3,
            tolerance=said.number("tolerance") / 1e2,
            most_volts=said.number("most"),
            derate=said.number("derate") / 1e3,
        )
        said.done()
    flashes = row.maybe("flashes")
    works = row.numbers("works") if flashes is not None else None
    return LedLamp(
        name, package, colour, dice, source, inside, flashes, (works[0], works[1]) if works else None
    )


def _strip(name: str, row: Fields) -> Strip:
    chains = []
    for chain in row.tables("chains", {"die": row.inner("die")}):
        die = {"colour": chain.text("colour"), **chain.inner("die"), **chain.inner("own")}
        series, ohms, alike = chain.count("series"), chain.number("ohms"), chain.count("strings")
        chain.done()
        chains += [Chain(_die(Fields(f"strip {name}", die)), series, ohms)] * alike
    leds = row.count("leds")
    return Strip(
        name=name,
        colour=row.text("colour"),
        volts=row.number("volts"),
        segment_length=leds / row.count("per_metre"),
        leds_per_segment=leds,
        chains=tuple(chains),
        segment_current=row.number("milliamperes") / 1e3,
        trace_ohms_per_metre=row.maybe("trace"),
        source=row.text("source"),
    )


def _resistor(name: str, row: Fields) -> ResistorSize:
    return ResistorSize(
        name=name,
        mount=row.text("mount"),
        power=row.number("watts"),
        max_volts=row.number("volts"),
        tolerance=row.number("tolerance") / 1e2,
        film_celsius=row.number("film_celsius"),
        source=row.text("source"),
        body=body / 1e3 if (body := row.maybe("body")) is not None else None,
    )


def _fuse(name: str, row: Fields) -> FuseRating:
    return FuseRating(name, row.number("amperes"), row.text("source"))


def _plastic(name: str, row: Fields) -> Plastic:
    return Plastic(name, row.text("kind"), row.number("celsius"), row.text("softens"), row.text("source"))


def _size(row: Fields) -> CellSize:
    cells = row.count("cells") if row.has("cells") else 1
    capacity = row.maybe("mah")
    most = row.maybe("most_milliamperes")
    rates = (row.numbers("at"), row.numbers("gives")) if row.has("at") else ()
    found = CellSize(
        name=row.text("name"),
        cells=cells,
        ohms=row.number("ohms") / cells,
        capacity=None if capacity is None else capacity * 3.6,
        most_current=None if most is None else most / 1e3,
        source=row.text("source"),
        also=row.texts("also") if row.has("also") else (),
        at_rates=tuple((at / 1e3, gives * 3.6) for at, gives in zip(*rates, strict=True)) if rates else (),
        coin=row.flag("coin"),
    )
    row.done()
    return found


def _chemistry(name: str, row: Fields) -> Chemistry:
    full, nominal, empty = row.numbers("volts")
    source, coin = row.text("source"), row.flag("coin")
    sizes = tuple(_size(size) for size in row.tables("sizes", {"source": source, "coin": coin}))
    half = row.number("half") if row.has("half") else nominal
    return Chemistry(
        name, full, nominal, empty, row.number("ohms"), row.flag("lithium"), sizes, source, coin, half, row.maybe("hourly")
    )  # fmt: skip


MAKERS: dict[str, Callable[[str, Fields], Row]] = {
    "wire": _wire,
    "lamp": _lamp,
    "strip": _strip,
    "resistor": _resistor,
    "fuse": _fuse,
    "plastic": _plastic,
    "battery": _chemistry,
}
"""Kind of row -> what makes one from its name and fields."""
