"""Random builds, written twice: as a build file, and as a SPICE netlist by code of its own.

Nothing here imports postcheck. Every resistance, diode and source is put into the netlist from the same random
choices that the build file states, by the laws that the file format promises: a diode curve through two points
(n = 2 at 25 degC), wires by ohm per metre at 20 degC, regulation as a resistance.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, field

SLOPE = 2 * 1.380649e-23 * 298.15 / 1.602176634e-19  # n V_T at 25 degC, SI of 2019
# k T / q with the constants that ngspice 39 is compiled with (CODATA 2014)
SPICE_VT = 1.38064852e-23 * 298.15 / 1.6021766208e-19


@dataclass
class Pair:
    """A build file and its netlist; `probes`: lamp string name -> SPICE source that measures it."""

    toml: str
    netlist: str
    probes: dict[str, list[str]]
    nodes: dict[tuple[str, str], str]
    covers: set[str]
    ramp: str | None = None


@dataclass
class Draft:
    rng: random.Random
    toml: list[str] = field(default_factory=list)
    cards: list[str] = field(default_factory=list)
    probes: dict[str, list[str]] = field(default_factory=dict)
    nodes: dict[tuple[str, str], str] = field(default_factory=dict)
    covers: set[str] = field(default_factory=set)
    alias: dict[str, str] = field(default_factory=dict)
    count: int = 0

    def card(self, letter: str, rest: str) -> str:
        self.count += 1
        name = f"{letter}{self.count}"
        self.cards.append(f"{name} {rest}")
        return name

    def node(self, line: str, place: str) -> str:
        line = self.alias.get(line, line)
        name = "n_" + "".join(
            c if c.isalnum() else {"-": "m", "+": "p"}.get(c, "_") for c in f"{line}_{place}"
        )
        self.nodes[line, place] = name
        return name

    def fresh(self) -> str:
        self.count += 1
        return f"x{self.count}"

    def resistor(self, a: str, b: str, ohms: float) -> None:
        self.card("R", f"{a} {b} {ohms:.15g}")


COLOURS = {
    "red": ((1.90, 0.005), (2.05, 0.02)),
    "white": ((2.75, 0.005), (3.1, 0.02)),
    "green": ((2.6, 0.005), (3.0, 0.02)),
}


def diode_card(draft: Draft, kind: str) -> None:
    (v1, i1), (v2, i2) = COLOURS[kind]
    series = ((v2 - v1) - SLOPE * math.log(i2 / i1)) / (i2 - i1)
    saturation = i1 / (math.exp((v1 - i1 * series) / SLOPE) - 1)
    draft.cards.append(f".model {kind} D(IS={saturation:.15g} N={SLOPE / SPICE_VT:.15g} RS={series:.15g})")


def make(seed: int, converter: bool = False) -> Pair:
    """One random build; `converter` puts a DC converter between supply and lamps."""
    draft = Draft(random.Random(seed))
    rng, toml = draft.rng, draft.toml
    toml += ["format = 1", "", "[build]", f'name = "Tender {seed}"', ""]
    for kind, ((v1, i1), (v2, i2)) in COLOURS.items():
        toml += [
            f"[lamp_kind.{kind}]",
            f'forward = "{v2} V"',
            f'at = "{i2 * 1e3:g} mA"',
            f'low_forward = "{v1} V"',
            f'low_at = "{i1 * 1e3:g} mA"',
            'rated = "20 mA"',
            "",
        ]
        diode_card(draft, kind)
    toml += ["[lamp_kind.wheat]", 'kind = "filament"', 'volts = "12 V"', 'rated = "60 mA"', ""]
    per_metre = {"thin": 2.195, "thick": 0.2}
    for name, ohms in per_metre.items():
        toml += [
            f"[wire.{name}]",
            'strand = "0.10 mm"',
            'outside = "0.5 mm"',
            f'ohms_per_metre = "{ohms} ohm/m"',
            "",
        ]
    volts = _supply(draft, seed)
    source = "main"
    if converter:
        source, volts = _converter(draft)
    places = ["base", *[f"deck{i}" for i in range(rng.randint(1, 4))]]
    toml += ["[place]", *[f'{place} = {{ access = "open" }}' for place in places], ""]
    lines = [f"{source}+", f"{source}-"]
    _circuits(draft, source, volts, places, lines)
    _runs(draft, lines, places, per_metre)
    netlist = "\n".join(["* random build", *draft.cards, ".end"])
    return Pair("\n".join(toml) + "\n", netlist, draft.probes, draft.nodes, draft.covers)


def _supply(draft: Draft, seed: int) -> float:
    rng, toml = draft.rng, draft.toml
    plus, minus = draft.node("main+", "base"), draft.node("main-", "base")
    draft.cards.append(f"Vzero {minus} 0 0")
    kind = rng.choice(["adaptor", "adaptor", "regulated", "unloaded", "battery", "usb"])
    draft.covers.add(kind)
    volts = 5.0 if kind == "usb" else rng.choice([9.0, 12.0, 15.0])
    toml += ["[supply.main]", 'place = "base"']
    ohms, emf = 0.0, volts
    if kind == "usb":
        toml += ['kind = "usb"', 'rated = "2 A"']
    elif kind == "battery":
        ohms = rng.choice([0.3, 1.0])
        toml += ['kind = "battery"', f'volts = "{volts:g} V"', "cells = 6", f'resistance = "{ohms} ohm"']
    else:
        toml += ['kind = "adaptor"', f'volts = "{volts:g} V"', 'rated = "2 A"']
        if kind == "regulated":
            ohms, emf = 0.05 * volts / 2, 1.05 * volts
            toml.append('regulation = "5 %"')
        elif kind == "unloaded":
            emf = volts + 3
            ohms = 3 / 2
            toml.append(f'unloaded = "{emf:g} V"')
    toml.append("")
    if ohms:
        inner = draft.fresh()
        draft.cards.append(f"Vmain {inner} {minus} {emf:.15g}")
        draft.resistor(inner, plus, ohms)
    else:
        draft.cards.append(f"Vmain {plus} {minus} {emf:.15g}")
    return volts


def _converter(draft: Draft) -> tuple[str, float]:
    """A step-down converter beside the supply; its input is constant power, its output an ideal 5 V."""
    draft.covers.add("converter")
    draft.toml += [
        "[supply.low]",
        'kind = "converter"',
        'place = "base"',
        'from = "main"',
        'volts = "5 V"',
        'rated = "2 A"',
        'efficiency = "85 %"',
        'least_input = "2 V"',
        "",
    ]
    draft.alias["low-"] = "main-"
    into, minus, out = draft.node("main+", "base"), draft.node("main-", "base"), draft.node("low+", "base")
    draft.cards.append(f"Vlow {out} {minus} 5")
    # the current delivered is -i(Vlow); below the least input a resistance keeps the ramp from zero smooth
    draft.card(
        "B",
        f"{into} {minus} I = {{V({into},{minus}) > 2 ? -I(Vlow)*5/0.85/V({into},{minus}) : -I(Vlow)*5/0.85*V({into},{minus})/4}}",
    )
    return "low", 5.0


def _circuits(draft: Draft, source: str, volts: float, places: list[str], lines: list[str]) -> None:
    rng, toml = draft.rng, draft.toml
    for number in range(rng.randint(1, 4)):
        name = f"c{number}"
        negative = rng.random() < 0.25
        own = rng.random() < 0.3
        form = rng.choice(["direct", "drop", "steady"])
        if form == "steady" and (negative or volts < 9):
            form = "drop"
        toml += [f"[circuit.{name}]", f'supply = "{source}"']
        if negative:
            toml.append('switched = "negative"')
            draft.covers.add("negative")
        if own:
            toml.append("own_return = true")
            draft.covers.add("own return")
        pole, other = (f"{source}-", f"{source}+") if negative else (f"{source}+", f"{source}-")
        back = f"{name}-return" if own else other
        here, line = draft.node(pole, "base"), draft.node(name, "base")
        steady = None
        if form == "direct":
            draft.cards.append(f"V{name}o {here} {line} 0")
        elif form == "drop":
            drop = rng.choice([0.1, 0.2, 0.7])
            toml.append(f'output = {{ limit = "1 A", drop = "{drop} V" }}')
            a, b = (line, here) if negative else (here, line)
            draft.cards.append(f"V{name}o {a} {b} {drop}")
        else:
            steady = rng.choice([0.008, 0.02])
            toml.append(f'output = {{ steady = "{steady * 1e3:g} mA", compliance = "0.5 V" }}')
            # one LED on 9 V or more always leaves it its compliance: it is a current source, and nothing else
            draft.card("I", f"{here} {line} {steady}")
        draft.covers.add(form)
        if own:
            draft.cards.append(f"V{name}r {draft.node(other, 'base')} {draft.node(back, 'base')} 0")
            lines.append(back)
        lines.append(name)
        toml.append("")
        for index in range(1 if steady else rng.randint(1, 4)):
            _consumer(draft, f"{name} {index}", name, back, negative, volts, places, steady)


def _consumer(
    draft: Draft,
    label: str,
    circuit: str,
    back: str,
    negative: bool,
    volts: float,
    places: list[str],
    steady: float | None,
) -> None:
    rng = draft.rng
    place = rng.choice(places)
    choice = rng.choice(
        ["single", "series", "parallel", "shared", "lead", "filament", "strip", "load", "chain"]
    )
    if steady is not None:
        choice = "single"
    if choice == "filament" and volts < 9:
        choice = "single"
    draft.covers.add(choice)
    top, low = draft.node(circuit, place), draft.node(back, place)
    if negative:
        top, low = low, top
    if choice == "strip":
        _strip(draft, label, circuit, back, place, negative, volts)
        return
    if choice == "load":
        amps = rng.choice([0.01, 0.05])
        draft.toml += [
            "[[load]]",
            f'name = "{label}"',
            f'circuit = "{circuit}"',
            f'place = "{place}"',
            f'typical = "{amps * 1e3:g} mA"',
            'lowest = "2 V"',
            "",
        ]
        draft.card("B", f"{top} {low} I = {{{amps}*min(1, max(0, V({top},{low})/2))}}")
        return
    toml = draft.toml
    toml += ["[[lamp]]", f'name = "{label}"', f'circuit = "{circuit}"', f'place = "{place}"']
    if choice == "filament":
        toml += ['kind = "wheat"', ""]
        inner = draft.fresh()
        probe = draft.card("Vp", f"{top} {inner} 0")
        draft.card(
            "B",
            f"{inner} {low} I = {{0.06*V({inner},{low})/12*pow(max(abs(V({inner},{low}))/12, 1e-3), -0.45)}}",
        )
        draft.cards.append(f".nodeset v({inner})={volts if not negative else 0:g}")
        draft.probes[label] = [probe]
        return
    kind = rng.choice(list(COLOURS))
    forward = COLOURS[kind][1][0]
    series = 1
    if choice in ("series", "chain"):
        series = max(1, min(3, int((volts - 1.5) / forward)))
    ohms = rng.choice([330.0, 470.0, 1000.0, 1500.0]) if volts > 6 else rng.choice([100.0, 150.0, 220.0])
    strings = rng.randint(2, 3) if choice in ("parallel", "shared") else 1
    toml += [f'kind = "{kind}"', f"series = {series}"]
    if steady is None:
        toml.append(f'resistor = "{ohms:g} ohm 1/4 W"')
    else:
        ohms = 0.0
    if strings > 1:
        toml.append(f"parallel = {strings}")
    if choice == "shared":
        toml.append("one_resistor = true")
    if choice == "chain" and series > 1:
        toml += [
            f"places = {[place] * series}".replace("'", '"'),
            f"links = {['120 mm of thin'] * (series - 1)}".replace("'", '"'),
        ]
        ohms += 0.12 * 2.195 * (series - 1)
    leg = 0.0
    if rng.random() < 0.5 or choice == "lead":
        leg = 0.22 * 2.195
        toml.append(f'lead = "220 mm of thin to {place}"')
    # what the leads of several strings share; said or not, the lamp's own one resistor is at the end of one lead
    share = "lead"
    if leg and strings > 1 and choice != "shared":
        share = rng.choice(["nothing", "return", "lead", ""])
        if share:
            toml.append(f'strings_share = "{share}"')
            draft.covers.add(f"strings share {share}")
        share = share or "nothing"
    toml.append("")
    # the legs on the supply side and on the return side, shared ones first; the upper end may be either
    shared = {"lead": (leg, leg), "return": (0.0, leg), "nothing": (0.0, 0.0)}[share]
    each = tuple(leg - common for common in shared)
    if negative:
        shared, each = shared[::-1], each[::-1]
    if shared[0]:
        feed = draft.fresh()
        draft.resistor(top, feed, shared[0])
        top = feed
    if shared[1]:
        end = draft.fresh()
        draft.resistor(end, low, shared[1])
        low = end
    if choice == "shared":
        behind = draft.fresh()
        # the resistor is in the feed leg: towards the circuit's switched side
        if negative:
            draft.resistor(behind, low, ohms)
            low = behind
        else:
            draft.resistor(top, behind, ohms)
            top = behind
    names = []
    for _ in range(strings):
        at = draft.fresh()
        names.append(draft.card("Vp", f"{top} {at} 0"))
        own = (0.0 if choice == "shared" else ohms) + sum(each)
        if own:
            nxt = draft.fresh()
            draft.resistor(at, nxt, own)
            at = nxt
        for position in range(series):
            nxt = low if position == series - 1 else draft.fresh()
            draft.card("D", f"{at} {nxt} {kind}")
            at = nxt
    draft.probes[label] = names


def _strip(
    draft: Draft, label: str, circuit: str, back: str, place: str, negative: bool, volts: float
) -> None:
    rng = draft.rng
    segments = rng.randint(2, 5)
    series = 1 if volts < 6 else 2
    ohms = 150.0 if volts < 6 else 470.0
    kind_name = f"s{draft.count}"
    draft.count += 1
    draft.toml += [
        f"[strip_kind.{kind_name}]",
        f'volts = "{volts:g} V"',
        'segment = "50 mm"',
        f"series = {series}",
        f'ohms = "{ohms:g} ohm"',
        'kind = "white"',
        "",
    ]
    draft.toml += [
        "[[strip]]",
        f'name = "{label}"',
        f'circuit = "{circuit}"',
        f'kind = "{kind_name}"',
        f'place = "{place}"',
        f"segments = {segments}",
        'trace = "0.8 ohm/m"',
        "",
    ]
    feed, ret = draft.node(circuit, place), draft.node(back, place)
    names = []
    for _ in range(segments):
        nxt, nxt_ret = draft.fresh(), draft.fresh()
        draft.resistor(feed, nxt, 0.8 * 0.05)
        draft.resistor(ret, nxt_ret, 0.8 * 0.05)
        feed, ret = nxt, nxt_ret
        at, low = (ret, feed) if negative else (feed, ret)
        inner = draft.fresh()
        names.append(draft.card("Vp", f"{at} {inner} 0"))
        nxt = draft.fresh()
        draft.resistor(inner, nxt, ohms)
        at = nxt
        for position in range(series):
            step = low if position == series - 1 else draft.fresh()
            draft.card("D", f"{at} {step} white")
            at = step
    draft.probes[label] = names


def _runs(draft: Draft, lines: list[str], places: list[str], per_metre: dict[str, float]) -> None:
    """Each line reaches every place by a random tree of runs, sometimes with a loop, sometimes over a plug."""
    rng, toml = draft.rng, draft.toml
    if len(places) > 1 and rng.random() < 0.4:
        draft.covers.add("plug")
        pins = list(lines)
        toml += [
            "[[plug]]",
            'name = "joint plug"',
            f'ends = ["base", "{places[1]}"]',
            f"pins = {pins}".replace("'", '"'),
            'contact = "50 mohm"',
            "keyed = true",
            "",
        ]
        for line in pins:
            draft.resistor(draft.node(line, "base"), draft.node(line, places[1]), 0.05)
        joined = places[:2]
    else:
        joined = places[:1]
    rest = [place for place in places if place not in joined]
    for line in lines:
        reached = list(joined)
        side = {place: place for place in joined}  # of the plug: no run goes round it
        legs = []
        for place in rest:
            start = rng.choice(reached)
            legs.append((start, place))
            reached.append(place)
            side[place] = side[start]
        ends = rng.sample(reached, 2) if len(reached) > 2 and rng.random() < 0.3 else []
        if ends and side[ends[0]] == side[ends[1]]:
            draft.covers.add("loop")
            legs.append(tuple(ends))
        for start, end in legs:
            wire = rng.choice(list(per_metre))
            length = rng.choice([120, 260, 500])
            conductors = 2 if rng.random() < 0.15 else 1
            toml += [
                "[[run]]",
                f'line = "{line}"',
                f'ends = ["{start}", "{end}"]',
                f'length = "{length} mm"',
                f'wire = "{wire}"',
                f"conductors = {conductors}",
                "",
            ]
            for _ in range(conductors):
                draft.resistor(
                    draft.node(line, start), draft.node(line, end), per_metre[wire] * length / 1000
                )
            if conductors > 1:
                draft.covers.add("conductors")
