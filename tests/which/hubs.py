"""Random hubs of unmarked leads, written twice: as a build file, and as the SPICE cards of each lead on a bench supply.

Nothing here imports postcheck; the curves and the cards are those of random_leads.py. Each lead can be sound, or have a
fault put into its cards: an LED shorted, a string open, its resistor missing, its legs swapped.
"""

from __future__ import annotations

import random
from typing import NamedTuple

from tests.outside.random_leads import (
    AT,
    COLOURS,
    FILAMENT_AMPS,
    FILAMENT_VOLTS,
    LOW_AT,
    OWN,
    WIRES,
    Connected,
    Strings,
    deck,
)

PLACES = ("nose", "tail", "car", "keel")
CONDITIONS = ("sound", "shorted", "open", "no resistor")
METER = 0.002  # of the reading; a good meter


class Hub(NamedTuple):
    toml: str
    leads: dict[str, Strings]
    places: dict[str, str]
    rated: float
    reverse: float


def make(seed: int, most: int = 20) -> Hub:
    """A hub of 3 to `most` leads; all LEDs of one rating and reverse voltage, drawn at random."""
    rng = random.Random(7000 + seed)
    rated, reverse = rng.choice([0.005, 0.01, 0.02, 0.02, 0.03]), rng.choice([3.0, 4.0, 5.0, 5.0, 5.0, 8.0])
    toml = [
        "format = 1",
        "[build]",
        f'name = "Lightship {seed}"',
        "[supply.main]",
        'kind = "adaptor"',
        'place = "base"',
    ]
    toml += ['volts = "12 V"', 'rated = "2 A"', "[circuit.light]", 'supply = "main"']
    toml += ["[place]", 'base = { access = "open" }', 'hub = { access = "cover" }']
    toml += [f'{place} = {{ access = "sealed" }}' for place in PLACES]
    for colour in OWN:
        least, typical, high, low = COLOURS[colour]
        toml += [f"[lamp_kind.{colour}]", f'colour = "{colour}"', f'forward = "{least}/{typical}/{high} V"']
        toml += [f'at = "{AT * 1e3:g} mA"', f'low_forward = "{low} V"', f'low_at = "{LOW_AT * 1e3:g} mA"']
        toml += [f'rated = "{rated * 1e3:g} mA"', f'reverse = "{reverse:g} V"', 'per_kelvin = "0 mV"']
    toml += ["[lamp_kind.wheat]", 'kind = "filament"', f'volts = "{FILAMENT_VOLTS:g} V"']
    toml += [f'rated = "{FILAMENT_AMPS * 1e3:g} mA"']
    for name, ohms in WIRES.items():
        toml += [
            f"[wire.{name}]",
            'strand = "0.10 mm"',
            'outside = "0.5 mm"',
            f'ohms_per_metre = "{ohms} ohm/m"',
        ]
    leads, places = {}, {}
    for number in range(rng.randint(3, most)):
        name, place = f"lamp {number}", rng.choice(PLACES)
        glows = rng.random() < 0.06
        colour = None if glows else rng.choice(OWN)
        series = 1 if glows else rng.choice([1, 1, 1, 1, 2, 2, 3])
        parallel = 2 if not glows and rng.random() < 0.1 else 1
        chip = 0.0 if glows else rng.choice([0.0, 0.0, 0.0, 150.0, 470.0, 1000.0])
        length = rng.choice([90, 180, 300])
        toml += [
            "[[lamp]]",
            f'name = "{name}"',
            'circuit = "light"',
            f'kind = "{colour or "wheat"}"',
            f'place = "{place}"',
        ]
        toml += [
            f"series = {series}",
            f"parallel = {parallel}",
            f'lead = "{length} mm of thick to hub, red/black"',
        ]
        if parallel > 1:
            toml.append('strings_share = "lead"')
        if chip:
            toml.append(f'resistor = "{chip:g} ohm 5 % at {place}"')
        elif not glows:
            toml.append('resistor = "680 ohm at base"')
        leg = WIRES["thick"] * length / 1000
        leads[name] = Strings(name, colour, series, parallel, 0.0, chip, leg, leg, 0.0, 0.05, "lamp", "hub")
        places[name] = place
    return Hub("\n".join(toml) + "\n", leads, places, rated, reverse)


def possible(strings: Strings) -> list[str]:
    """The conditions that a lead can be in."""
    return [
        one
        for one in CONDITIONS
        if not (one == "no resistor" and not strings.chip)
        and not (one == "shorted" and strings.colour is None)
    ]


def on_bench(strings: Strings, condition: str, volts: float, ohms: float, corner: int) -> str | None:
    """The cards of a lead in a condition at a setting; None where nothing conducts."""
    parts = [strings]
    if condition == "no resistor":
        parts = [strings._replace(chip=0.0)]
    elif condition == "open":
        if strings.parallel == 1:
            return None
        parts = [strings._replace(parallel=strings.parallel - 1)]
    elif condition == "shorted":
        parts = [strings._replace(parallel=1, series=strings.series - 1)]
        if strings.parallel > 1:
            parts.append(strings._replace(parallel=strings.parallel - 1))
    if any(part.series == 0 for part in parts):
        return _wired(parts, volts, ohms, corner)
    return _leaking(deck(Connected(("lamp", strings.name), parts, ""), volts, ohms, corner))


def _leaking(cards: str) -> str:
    """With 1 Gohm across each LED: backwards nothing else says how its volts are shared, and ngspice settles on nothing."""
    lines = cards.removesuffix("\n.end").split("\n")
    for line in [line for line in lines if line.startswith("D")]:
        name, a, b, _ = line.split()
        lines.append(f"Rleak{name} {a} {b} 1e9")
    return "\n".join([*lines, ".end"])


def _wired(parts: list[Strings], volts: float, ohms: float, corner: int) -> str:
    """Cards with a string of which nothing is left but wire and resistor."""
    whole = [part for part in parts if part.series]
    cards = _leaking(deck(Connected(("lamp", ""), whole, ""), volts, ohms, corner)).removesuffix("\n.end")
    bare = next(part for part in parts if not part.series)
    left = bare.feed + bare.back + bare.chip * (1.0 - corner * bare.tolerance) + 1e-6
    return f"{cards}\nRshort t 0 {left:.15g}\n.end"


def currents(point: dict[str, float]) -> list[float]:
    """What flows through each string that has LEDs or filaments left."""
    return [value for name, value in point.items() if name.startswith("i(vp")]
