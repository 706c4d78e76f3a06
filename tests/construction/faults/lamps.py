"""Slips at the lamps: resistors, polarity, kinds, strings."""

from __future__ import annotations

import re

from tests.construction.faults.record import Found, NotHere, Sort, first, sort
from tests.construction.handbook import e12_above
from tests.construction.model import Model, Part


def plain(model: Model, least: int = 1) -> Part:
    """A string of LEDs with one resistor of its own."""
    return first(
        [
            part
            for part in model.of("led")
            if isinstance(part.entry["resistor"], str)
            and "+" not in part.entry["resistor"]
            and part.parallel == 1
            and part.series >= least
            and "places" not in part.entry
        ]
    )


def other(part: Part, value: str) -> None:
    """Another value for its resistor."""
    part.entry["resistor"] = re.sub(r"^\S+ ohm", value, part.entry["resistor"])
    part.entry.pop("wanted", None)  # it would be told of that alone


def over(model: Model, part: Part) -> str:
    """The check that has to see too much current: of what is on at times only, the one that knows of pulses."""
    return (
        "lamp.strobe"
        if model.tables["circuit"][part.circuit].get("behaviour") in ("flash", "dim")
        else "lamp.over-rating"
    )


@sort("resistor of ohms instead of kilohms", "12 V")
def ohms_for_kilo(model: Model) -> Found:
    part = first(
        [part for part in model.of("led") if "+" not in part.entry["resistor"] and part.ohms >= 1000]
    )
    other(part, f"{part.ohms / 1000:g} ohm")
    return Found(over(model, part), part.name)


@sort("resistor of a tenth: the third band misread")
def tenth(model: Model) -> Found:
    part = plain(model)
    if part.amps * 4 < 0.03:
        raise NotHere
    other(part, f"{part.ohms / 10:g} ohm")
    return Found(over(model, part), part.name)


@sort("resistor of megohms")
def mega(model: Model) -> Found:
    part = plain(model)
    other(part, f"{part.ohms * 1000:g} ohm")
    return Found("lamp.dim", part.name)


@sort("resistor left out")
def left_out(model: Model) -> Found:
    part = plain(model)
    del part.entry["resistor"]
    return Found("lamp.no-resistor", part.name)


@sort("lamp soldered in backwards")
def backwards(model: Model) -> Found:
    part = plain(model)
    part.entry["backwards"] = True
    return Found("lamp.backwards", part.name)


@sort("two lamps too many in a string")
def too_many(model: Model) -> Found:
    part = plain(model)
    part.entry.pop("wanted", None)
    source = model.source
    part.entry["series"] = part.series + 2 + int(source.most / 2)
    return Found("lamp.dim", part.name)


@sort("one resistor for parallel whites", "no closing")
def shared(model: Model) -> Found:
    part = first(
        [
            part
            for part in model.of("led")
            if part.series == 1 and "white" in part.entry["kind"] and "+" not in part.entry["resistor"]
        ]
    )
    part.entry["parallel"] = 3
    part.entry["one_resistor"] = True
    part.entry.pop("strings_share", None)
    return Found("lamp.shared-resistor", part.name)


@sort("a resistor of the size of a crumb", "12 V", "no closing")
def crumb(model: Model) -> Found:
    part = first(
        [
            part
            for part in model.of("led")
            if "+" not in part.entry["resistor"] and (part.amps / part.parallel) ** 2 * part.ohms > 0.055
        ]
    )
    where = part.entry["resistor"].rsplit(" at ", 1)[1]
    part.entry["resistor"] = {"ohms": f"{part.ohms:g} ohm", "size": "01005", "place": where}
    return Found("resistor.overloaded", part.name)


@sort("one lamp of several with another resistor", "no closing")
def odd(model: Model) -> Found:
    rows = [part for part in model.of("led") if "+" not in part.entry["resistor"]]
    for part in rows:
        alike = [one for one in rows if one is not part and one.circuit == part.circuit]
        if len(alike) >= 2:
            other(part, f"{3.3 * part.ohms:g} ohm")
            return Found("lamp.unequal", part.name, note=True)  # another resistor may be meant
    raise NotHere


@sort("wanted bright, wired dim", "no closing")
def wanted(model: Model) -> Found:
    part = plain(model)
    part.entry["wanted"] = f"{2 * part.amps * 1000:.1f} mA"
    return Found("lamp.not-as-wanted", part.name)


@sort("a 12 V lamp with its resistor inside on 5 V", "5 V", "inside")
def inside_low(model: Model) -> Found:
    part = first(model.of("inside"))
    part.entry["kind"] = "led-12v-5mm-white"
    return Found("lamp.dim", part.name, note=True)


@sort("a 5 V lamp with its resistor inside on 12 V", "12 V", "inside")
def inside_high(model: Model) -> Found:
    part = first(model.of("inside"))
    part.entry["kind"] = "led-5v-5mm-white"
    return Found("lamp.over-rating", part.name)


@sort("a bulb of 3 V on 12 V", "12 V", "bulb")
def bulb_high(model: Model) -> Found:
    part = first(model.of("bulb"))
    part.entry["kind"] = "wheat-3v"
    return Found("lamp.over-rating", part.name)


@sort("a bulb of 12 V on 5 V", "5 V", "bulb")
def bulb_low(model: Model) -> Found:
    part = first(model.of("bulb"))
    part.entry["kind"] = "rice-12v"
    return Found("lamp.dim", part.name, note=True)


@sort("a bulb's hot glass on the deck", "bulb")
def glass(model: Model) -> Found:
    part = first(
        [part for part in model.of("bulb") if model.tables["place"][part.entry["place"]]["access"] != "open"]
    )
    del part.entry["held_off"]
    if model.tables["place"][part.entry["place"]]["material"] == "brass":
        raise NotHere
    return Found("part.hot-spot", part.name)


@sort("two lamps that flash by themselves in a row on 5 V", "5 V", "chip")
def chips(model: Model) -> Found:
    part = first(model.of("chip"))
    part.entry["series"] = 2
    return Found("lamp.chip", part.name)


@sort("nothing but a trimmer", "trimmer")
def trimmer(model: Model) -> Found:
    part = first(model.of("trimmed"))
    part.entry["resistor"] = re.sub(r"^.* \+ ", "", part.entry["resistor"])
    return Found("trimmer.turned-down", part.name)


@sort("trimmer where no hand gets", "trimmer", "sealed", "no closing")
def trimmer_sealed(model: Model) -> Found:
    part = first(
        [
            part
            for part in model.of("trimmed")
            if model.tables["place"][part.entry["place"]]["access"] == "sealed"
        ]
    )
    part.entry["resistor"] = re.sub(r" set \S+ at .*", f" at {part.entry['place']}", part.entry["resistor"])
    return Found("trimmer.sealed", part.name)


@sort("a lead that cannot come out", "opening", "hub")
def lead_short(model: Model) -> Found:
    part = first([part for part in model.parts if "lead" in part.entry])
    part.entry["lead"]["spare"] = "5 mm"
    return Found("lead.too-short", part.name)


@sort("both legs of a lead in one colour")
def same_legs(model: Model) -> Found:
    part = first([part for part in model.of("led") if "lead" in part.entry])
    part.entry["lead"]["colours"] = ["red", "red"]
    return Found("lead.same-legs", model.hub)


@sort("an ultraviolet lamp of a strength that hurts", "no closing")
def ultraviolet(model: Model) -> Found:
    # 60 mA are 0.2 W, two fifths of it light: in a beam of 20 degrees 20 W/m2 at 200 mm
    part = first(
        [
            part
            for part in model.of("led")
            if part.series == 1
            and part.parallel == 1
            and model.tables["circuit"][part.circuit] == {"supply": "main"}
        ]
    )
    part.entry["kind"] = "torch"
    model.tables["lamp_kind"] = {
        "torch": {"colour": "uv", "forward": "3.1/3.3/3.6 V", "at": "60 mA", "rated": "150 mA"}
    }
    part.entry["resistor"] = (
        f"{e12_above((model.source.usual - 3.3) / 0.06):g} ohm 2 W at {part.entry['resistor'].rsplit(' at ', 1)[1]}"
    )
    return Found("lamp.eyes", part.name)


@sort("a string too long for its driver", "constant", "no closing")
def compliance(model: Model) -> Found:
    part = first(model.of("constant"))
    part.entry["series"] = part.series + 3
    return Found("output.compliance", "hall")


@sort(
    "strings side by side on one driver, with nothing that shares it out", "constant", "adaptor", "no closing"
)
def uneven(model: Model) -> Found:
    first(model.of("constant")).entry["parallel"] = 3
    return Found("output.uneven", "hall")


@sort("a driver for larger lamps", "constant", "adaptor", "no closing")
def strong_driver(model: Model) -> Found:
    model.tables["circuit"]["hall"]["output"] = "60 mA constant, compliance 1 V"
    return Found("lamp.over-rating", "hall string")


@sort("a pair behind one resistor that nobody matched", "matched", "no closing")
def not_matched(model: Model) -> Found:
    part = first(model.of("matched"))
    del part.entry["matched"]
    return Found("lamp.shared-resistor", part.name)


@sort("a trimmer of next to no power", "trimmer", "no closing")
def trimmer_power(model: Model) -> Found:
    part = first([part for part in model.of("trimmed") if part.amps / part.parallel > 0.005])
    part.entry["resistor"] = re.sub(r"(trimmer \S+ ohm) 1/2 W", r"\1 0.002 W", part.entry["resistor"])
    return Found("trimmer.overloaded", part.name)


@sort("a trimmer that does not reach what is wanted", "trimmer", "no closing")
def trimmer_reach(model: Model) -> Found:
    part = first(model.of("trimmed"))
    part.entry["wanted"] = f"{5 * part.most / part.parallel * 1000:.1f} mA"
    return Found("lamp.not-as-wanted", part.name)


@sort("a resistor left down in the base", "hub", "12 V", "no plug", "no closing")
def in_the_base(model: Model) -> Found:
    for part in model.of("led"):
        mine = [one for one in model.parts if one.circuit == part.circuit]
        plain = model.tables["circuit"][part.circuit] == {"supply": "main"} and "join" not in model.tables
        if plain and len(mine) == 1 and part.series == 1 and part.parallel == 1 and "lead" in part.entry:
            part.entry["resistor"] = re.sub(r" at .*", " at base", part.entry["resistor"])
            return Found("lead.bare", part.name)
    raise NotHere


SORTS = tuple(value for value in globals().values() if isinstance(value, Sort))
