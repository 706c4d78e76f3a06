"""What a builder may call something, and the word of the file for it; loaded when there is a mistake."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping

from postcheck.plain import nearest

__all__ = ["all_words_in", "by_another_name", "kind_of_supply", "probably_meant", "words_in"]

# The word of the file, and what else it is called; spaces, dashes and capitals do not count. The first that can stand there is it.
_KEYS = """
lamp: led, light, bulb, diode
supply: power, psu, power supply, adaptor, adapter, battery, mains, source
build: model, project, kit
post: pole, stand, rod, stem, column, display post
place: location, position, where, room, compartment, body, section
run: conductor, wire, cable
circuit: group
switch: group
volts: voltage, volt, v
rated: amp, ampere, amperage, current, max current, maximum current, power, rating, a, output
kind: type, part
ends: from, to, between
resistor: resistance, ohm, r
ohms: resistance, value, r
lead: wire, cable
colours: color, colour
colour: color
series: in series
parallel: in parallel, string
count: number, quantity, qty, how many
on_share: duty, duty cycle, on time
rate: frequency, speed, flash rate, blink rate
behaviour: mode, effect, pattern, steady, flash, blink, dim
bore: diameter, inside diameter, inner diameter, id, hole
material: plastic
surface: area
chemistry: cell type
"""
_VALUES = """
plain: a, type a, usb a, b, type b, usb b, standard, micro usb, micro, usb micro, mini usb, mini, usb 1, usb 2, usb 3, usb 2.0, usb 3.0
type-c: c, usb c, usb type c
power-bank: battery bank, power pack, bank
adaptor: adapter, wall wart, wall adaptor, wall adapter, plug pack, psu, power supply, power brick, brick, charger, transformer
battery: cell, battery pack, battery box, lipo, accumulator
converter: buck, boost, buck converter, boost converter, step down, step up, dc dc, regulator
steady: on, always on, constant, continuous, solid
flash: blink, strobe, pulse, beacon
dim: fade, pwm
sealed: closed, glued, glued shut, shut, potted
cover: hatch, lid, removable, panel, door
open: accessible, outside, free
"""
_OF_KIND = {
    "usbc": 'kind = "usb" and port = "type-c"',
    "usbtypec": 'kind = "usb" and port = "type-c"',
    "usba": 'kind = "usb" and port = "plain"',
    "microusb": 'kind = "usb" and port = "plain"',
    "powerbank": 'kind = "usb" and port = "power-bank"',
}


_MATERIALS = dict.fromkeys(
    ("magnet", "enamelled", "enameled", "winding", "copper", "lacquered"), "enamel"
) | {"teflon": "ptfe"}


def _folded(word: str) -> str:
    return re.sub(r"[^a-z0-9]", "", word.casefold())


def _called(table: str) -> Mapping[str, list[str]]:
    found: dict[str, list[str]] = {}
    for line in table.strip().splitlines():
        ours, _, others = line.partition(": ")
        for other in others.split(", "):
            found.setdefault(_folded(other), []).append(ours)
    return found


def by_another_name(word: str, known: Collection[str], *, value: bool = False) -> str | None:
    """The one of `known` that is also called `word`, in one number or the other; `value`: of values that can be chosen, not of keys."""
    called, folded = _called(_VALUES if value else _KEYS), _folded(word)
    ours = {_folded(one): one for one in known}
    for form in (folded, folded.removesuffix("s"), re.sub(r"(?:ing|ed)$", "", folded)):
        if form in ours:
            return ours[form]
        if found := next((one for one in called.get(form, ()) if one in known), None):
            return found
    return None


def probably_meant(word: str, known: Collection[str]) -> str | None:
    """The key that `word` was meant to be: by another name of it, or the nearest."""
    return by_another_name(word, known) or nearest(word, known)


def kind_of_supply(word: str) -> str | None:
    """What to type for a USB source that is named by its port, under `kind`."""
    return _OF_KIND.get(_folded(word))


def _words(name: str) -> set[str]:
    return {_MATERIALS.get(part, part) for part in re.split(r"[^a-z0-9.]+", name.casefold()) if part}


def all_words_in(name: str, rows: Iterable[str]) -> str | None:
    """The row that has two words of `name` or more, all of them, and the fewest others: "white led 3mm" is "led-3mm-white"."""
    wanted = _words(name)
    found = [row for row in rows if wanted <= _words(row)] if len(wanted) > 1 else []
    return min(found, key=lambda row: len(_words(row)), default=None)


def words_in(name: str, rows: Iterable[str], most: int = 3) -> list[str]:
    """The rows of a catalogue that have most of the words of `name`, and one at least: "red led" is in "smd-0603-red".

    Of those with as many, the ones with a size of it where there are any: "0.1mm enamelled" is "enamel-0.10".
    """
    wanted, sizes = _words(name), _sizes(name)
    scored = [(len(wanted & _words(row)), row) for row in rows]
    best = max((score for score, _ in scored), default=None)
    found = [row for score, row in scored if 0 < score == best]
    return ([row for row in found if sizes & _sizes(row)] or found)[:most]


def _sizes(name: str) -> set[float]:
    """The numbers with a point in a name."""
    return set(map(float, re.findall(r"[0-9]+\.[0-9]+", name)))
