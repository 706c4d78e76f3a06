"""A display model with any number of lamps: as a build file, as a network and as a SPICE deck; a tree of runs, a resistor a lamp."""

from __future__ import annotations

import math

from postcheck.physics.network import Circuit, Diode, Element, Resistance, Source, String

__all__ = ["build", "circuit", "deck"]

ROOM = 25  # lamps a place
BLOCK = 1000  # lamps a supply
VOLTS = 12.0
OHMS = 4300.0
LEAD, FEED = 0.2, 0.3  # m
DIODE = 3.0, 0.02, 2.7, 0.002  # forward volts and amps, and a lower point of the curve
SLOPE = 2 * 1.380649e-23 * 298.15 / 1.602176634e-19  # n V_T at 25 degC, n = 2, SI of 2019
PER_METRE = 0.215  # ohm, some 28 AWG; of a deck no more is asked than to be as much work


def places(lamps: int) -> int:
    return -(-lamps // ROOM)


def build(lamps: int) -> str:
    """The build file: for each thousand lamps a supply, and places in rows, each fed from the one before it."""
    lines = [
        f'format = 1\n[build]\nname = "Airship hall, {lamps} lamps"\nstage = "wiring"\nair = "15..30 degC"',
        '[usual]\nrun = "ptfe-28"\nlead = "ptfe-28"',
        f'[lamp_kind.own]\ncolour = "white"\nforward = "{DIODE[0]} V"\nat = "{1e3 * DIODE[1]:g} mA"\nrated = "20 mA"\nreverse = "5 V"',
    ]
    for block in range(-(-lamps // BLOCK)):
        lines += _block(f"b{block}", min(BLOCK, lamps - block * BLOCK))
    return "\n".join(lines) + "\n"


def _block(name: str, lamps: int) -> list[str]:
    lines = [
        f'[supply.{name}]\nkind = "adaptor"\nplace = "{name} 0"\nvolts = "{VOLTS:g} V"\ntolerance = "2 %"\nrated = "4 A"\nfuse = "3.15 A"',
        f'[circuit."{name} on"]\nsupply = "{name}"\nbehaviour = "steady"',
    ]
    lines += [f'[place."{name} {number}"]\naccess = "open"' for number in range(places(lamps) + 1)]
    lines += [
        f'[[run]]\nname = "{name} {line} {number}"\nline = "{line}"\nends = ["{name} {_before(number)}", "{name} {number}"]\n'
        f'length = "{1e3 * FEED:g} mm"\ncolour = "{colour}"'
        for number in range(1, places(lamps) + 1)
        for line, colour in ((f"{name} on", "red"), (f"{name}-", "black"))
    ]
    for number in range(lamps):
        place = f"{name} {1 + number // ROOM}"
        lines.append(
            f'[[lamp]]\nname = "{name} lamp {number}"\ncircuit = "{name} on"\nkind = "own"\nplace = "{place}"\n'
            f'resistor = "{OHMS:g} ohm 1/4 W at {place}"\nlead = "{1e3 * LEAD:g} mm to {place}, red/black"'
        )
    return lines


def circuit(lamps: int) -> Circuit:
    """All lamps on one supply, in one state, for the network room: node 0 is its minus, 1 its plus."""
    amount, run = places(lamps), FEED * PER_METRE
    saturation, ohms = _fitted()
    elements: list[Element] = [Source(1, 0, VOLTS)]
    for number in range(1, amount + 1):
        elements += [
            Resistance(2 * _before(number) + 1, 2 * number + 1, run),
            Resistance(2 * number, 2 * _before(number), run),
        ]
    die = Diode(saturation, SLOPE, ohms)
    for number in range(lamps):
        place = 1 + number // ROOM
        elements.append(String(2 * place + 1, 2 * place, OHMS + 2 * LEAD * PER_METRE, (die,)))
    return Circuit(2 * amount + 2, tuple(elements))


def deck(lamps: int) -> str:
    """The same network for ngspice: one operating point, with its usual tolerances, and nothing printed but the first lamp."""
    saturation, ohms = _fitted()
    run = FEED * PER_METRE
    cards = ["* airship hall", f"V1 a0 0 {VOLTS}", "R0 b0 0 1u"]
    cards += [f".model own D(Is={saturation:.9e} N=2 Rs={ohms:.9e})", ".options temp=25 tnom=25"]
    for number in range(1, places(lamps) + 1):
        before = _before(number)
        cards += [f"Rf{number} a{before} a{number} {run}", f"Rr{number} b{number} b{before} {run}"]
    for number in range(lamps):
        place = 1 + number // ROOM
        cards += [
            f"Rl{number} a{place} c{number} {OHMS + 2 * LEAD * PER_METRE}",
            f"D{number} c{number} b{place} own",
        ]
    return "\n".join([*cards, ".control", "op", "print v(a1)-v(c0)", "quit", ".endc", ".end", ""])


def _fitted() -> tuple[float, float]:
    """(I_s, R_s) of the diode's two points."""
    forward, amps, low_volts, low_amps = DIODE
    ohms = (forward - low_volts - SLOPE * math.log(amps / low_amps)) / (amps - low_amps)
    return low_amps * math.exp(-(low_volts - low_amps * ohms) / SLOPE), ohms


def _before(number: int) -> int:
    """The place that feeds this one: eight from the supply on, the others in rows behind them."""
    return max(number - 8, 0)
