"""Random builds in closed places, and as SPICE netlists in which heat flows as current does: by code of the tests' own.

Nothing here imports postcheck. Besides the wiring the netlist has a node for the air of every closed place, its volts the
kelvin above the room, a resistor of 1 / (U A) to the room, and a current into it for every part that dissipates there; and
a node for every junction. So SPICE finds currents, junctions and air together.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, field

SLOPE = 2 * 1.380649e-23 * 298.15 / 1.602176634e-19  # n V_T at 25 degC, SI of 2019
SPICE_VT = 1.38064852e-23 * 298.15 / 1.6021766208e-19  # k T / q as ngspice 39 has it
ALPHA = 0.00393  # 1/K, copper from 20 degC, IEC 60028
U = 3.5  # W/(m2 K) of the walls of a closed place, the limit heat.per-area
# low point (V, A), typical point, V/K, K/W: the first two are described in the file, of which nothing tells the K/W of
# a small part (500); the colours are those of smd-0603-rgb, as the catalogue prints them
KINDS = {
    "red": ((1.90, 0.005), (2.05, 0.02), -0.002, 500.0),
    "white": ((2.75, 0.005), (3.1, 0.02), -0.003, 500.0),
    "rgb-red": ((2.0, 0.005), (2.1, 0.02), -0.002, 550.0),
    "rgb-green": ((2.6, 0.005), (3.0, 0.02), -0.003, 550.0),
    "rgb-blue": ((2.8, 0.005), (3.1, 0.02), -0.003, 550.0),
}
PER_METRE = {"thin": 2.195, "thick": 0.2}


@dataclass
class Edge:
    """A conductor in the netlist: its nodes, ohm warm, how much of it lies in each place, and what flows in it by circuit."""

    a: str
    b: str
    ohms: float
    lies: dict[str, float]
    flows: dict[str, list[str]] = field(default_factory=dict)
    side_by_side: int = 1


@dataclass
class Warm:
    """A build file and its netlist; `probes`: string currents by lamp or strip, `air`: node of each closed place."""

    toml: str = ""
    netlist: str = ""
    probes: dict[str, list[str]] = field(default_factory=dict)
    nodes: dict[tuple[str, str], str] = field(default_factory=dict)
    air: dict[str, str] = field(default_factory=dict)
    covers: set[str] = field(default_factory=set)


class Draft:
    """What is written of both so far."""

    def __init__(self, seed: int) -> None:
        self.r = random.Random(seed)
        self.toml: list[str] = []
        self.cards: list[str] = []
        self.made = Warm()
        self.count = 0
        self.edges: list[Edge] = []
        self.above: dict[tuple[str, str], tuple[str, Edge]] = {}
        self.share: dict[str, float] = {}
        self.dimmed: set[str] = set()
        self.surface: dict[str, float] = {}
        self.low, self.high = self.r.choice([(5, 35), (15, 25), (20, 40)])
        self.room = (self.low + self.high) / 2
        self.alias: dict[str, str] = {}
        self.passage = 0.0  # m

    def card(self, letter: str, rest: str) -> str:
        self.count += 1
        self.cards.append(f"{letter}{self.count} {rest}")
        return f"{letter}{self.count}"

    def fresh(self) -> str:
        self.count += 1
        return f"x{self.count}"

    def node(self, line: str, place: str) -> str:
        name = self.alias.get(line, line).replace("+", "p").replace("-", "m")
        self.made.nodes[line, place] = f"n_{name}_{place}"
        return f"n_{name}_{place}"

    def copper(self, ohms20: float) -> float:
        return ohms20 * (1 + ALPHA * (self.room - 20))

    def lies(self, start: str, end: str, metres: float) -> dict[str, float]:
        """Half at each end, but for what lies in the post."""
        inside = min(self.passage, metres) if {start, end} == {"base", "deck0"} else 0.0
        share = (1 - inside / metres) / 2
        return {start: share, end: share} if start != end else {start: 1.0}

    def heat(self, place: str, watts: str, share: float = 1.0) -> None:
        if place in self.surface:
            self.card("B", f"0 air_{place} I = {{{share!r}*({watts})}}")

    def resistor(self, a: str, b: str, ohms: float, place: str, share: float) -> None:
        self.card("R", f"{a} {b} {ohms!r}")
        self.heat(place, f"V({a},{b})*V({a},{b})/{ohms!r}", share)

    def wire(self, a: str, b: str, ohms20: float, lies: dict[str, float], conductors: int = 1) -> Edge:
        edge = Edge(a, b, self.copper(ohms20), lies, side_by_side=conductors)
        for _ in range(conductors):
            self.card("R", f"{a} {b} {edge.ohms!r}")
        self.edges.append(edge)
        return edge

    def string(
        self, top: str, low: str, dice: list[str], places: list[str], ohms: float, at: str, share: float
    ) -> str:
        """Dice in series, warmed by themselves and their places, behind a resistor in the place `at`; the probe's name."""
        here = self.fresh()
        probe = self.card("Vp", f"{top} {here} 0")
        if ohms:
            nxt = self.fresh()
            self.resistor(here, nxt, ohms, at, share)
            here = nxt
        for number, (kind, place) in enumerate(zip(dice, places, strict=True)):
            nxt = low if number == len(dice) - 1 else self.fresh()
            inner, junction = self.fresh(), self.fresh()
            _, _, per_kelvin, per_watt = KINDS[kind]
            air = f"V(air_{place})" if place in self.surface else "0"
            self.card("D", f"{here} {inner} {kind}")
            self.card(
                "B", f"{inner} {nxt} V = {{{per_kelvin!r}*({self.room - 25!r} + {air} + V({junction}))}}"
            )
            self.card("B", f"{junction} 0 V = {{{per_watt!r}*I({probe})*V({here},{nxt})}}")
            self.heat(place, f"I({probe})*V({here},{nxt})", share)
            here = nxt
        return probe

    def behind(self, circuit: str, lines: tuple[str, str], place: str, probes: list[str]) -> None:
        """That these currents go to a place by the wires of two lines."""
        for line in lines:
            at = place
            while (self.alias.get(line, line), at) in self.above:
                at, edge = self.above[self.alias.get(line, line), at]
                edge.flows.setdefault(circuit, []).extend(probes)


def make(seed: int) -> Warm:
    """One random build."""
    draft = Draft(seed)
    r, toml, made = draft.r, draft.toml, draft.made
    toml += ["format = 1", "[build]", f'name = "Tender {seed}"', f'air = "{draft.low}..{draft.high} degC"']
    for kind in ("red", "white"):
        (v1, i1), (v2, i2), per_kelvin, _ = KINDS[kind]
        toml += [f"[lamp_kind.{kind}]", f'forward = "{v2} V"', f'at = "{i2 * 1e3:g} mA"', f'low_forward = "{v1} V"',
                 f'low_at = "{i1 * 1e3:g} mA"', 'rated = "20 mA"', f'per_kelvin = "{per_kelvin * 1e3:g} mV"']  # fmt: skip
    for kind, ((v1, i1), (v2, i2), _, _) in KINDS.items():
        series = ((v2 - v1) - SLOPE * math.log(i2 / i1)) / (i2 - i1)
        saturation = i1 / math.expm1((v1 - i1 * series) / SLOPE)
        draft.cards.append(f".model {kind} D(IS={saturation!r} N={SLOPE / SPICE_VT!r} RS={series!r})")
    for name, ohms in PER_METRE.items():
        toml += [
            f"[wire.{name}]",
            'strand = "0.10 mm"',
            'outside = "0.5 mm"',
            f'ohms_per_metre = "{ohms} ohm/m"',
        ]
    places = ["base", *(f"deck{n}" for n in range(r.randint(1, 3)))]
    for place in places:
        if r.random() < 0.75:
            draft.surface[place] = r.choice([0.004, 0.012, 0.04])
            toml += [
                f"[place.{place}]",
                'access = "cover"',
                f'surface = "{draft.surface[place] * 1e4:g} cm2"',
            ]
            made.air[place] = f"air_{place}"
            draft.card("R", f"air_{place} 0 {1 / (U * draft.surface[place])!r}")
            if r.random() < 0.2:
                toml.append('heat = "50 mW"')
                draft.heat(place, "0.05")
        else:
            toml += [f"[place.{place}]", 'access = "open"']
    if r.random() < 0.5:
        draft.passage = 0.16
        made.covers.add("passage")
        toml += ["[post]", 'from = "base"', 'to = "deck0"', 'bore = "6 mm"', 'length = "160 mm"']
    _supply(draft)
    source = _converter(draft) if seed % 5 == 4 else "main"
    circuits = _circuits(draft, source, seed % 5 == 4)
    _runs(draft, source, circuits, places)
    for circuit in circuits:
        for number in range(r.randint(1, 3)):
            _consumer(draft, f"{circuit} {number}", circuit, source, r.choice(places))
    if r.random() < 0.5:
        _colours(draft, circuits, source, r.choice(places))
    for edge in draft.edges:
        flowing = edge.flows.items()
        mean = "+".join(f"{draft.share[c]!r}*({'+'.join(f'I({p})' for p in of)})" for c, of in flowing) or "0"
        spread = "+".join(
            f"{draft.share[c] * (1 - draft.share[c])!r}*({'+'.join(f'I({p})' for p in of)})^2" for c, of in flowing
        ) or "0"  # fmt: skip
        for place, share in edge.lies.items():
            draft.heat(place, f"(({mean})^2+{spread})*{edge.ohms / edge.side_by_side!r}", share)
    made.toml = "\n".join(toml) + "\n"
    made.netlist = "\n".join(["* warm build", *draft.cards, ".end"])
    return made


def _supply(draft: Draft) -> None:
    ohms = draft.r.choice([0.0, 0.5])
    draft.toml += ["[supply.main]", 'kind = "adaptor"', 'place = "base"', 'volts = "12 V"', 'rated = "2 A"']
    plus, minus = draft.node("main+", "base"), draft.node("main-", "base")
    draft.cards.append(f"Vzero {minus} 0 0")
    if ohms:
        draft.toml.append(f'resistance = "{ohms} ohm"')
        inner = draft.fresh()
        draft.card("V", f"{inner} {minus} 12")
        draft.card("R", f"{inner} {plus} {ohms}")
    else:
        draft.card("V", f"{plus} {minus} 12")


def _converter(draft: Draft) -> str:
    draft.made.covers.add("converter")
    draft.toml += ["[supply.low]", 'kind = "converter"', 'place = "base"', 'from = "main"', 'volts = "5 V"',
                   'rated = "2 A"', 'efficiency = "85 %"', 'least_input = "2 V"']  # fmt: skip
    draft.alias["low-"] = "main-"
    into, minus, out = draft.node("main+", "base"), draft.node("main-", "base"), draft.node("low+", "base")
    draft.cards.append(f"Vlow {out} {minus} 5")
    draft.card("B", f"{into} {minus} I = {{-I(Vlow)*5/0.85/V({into},{minus})}}")
    draft.heat("base", f"-I(Vlow)*5*{1 / 0.85 - 1!r}")
    return "low"


def _circuits(draft: Draft, source: str, converted: bool) -> list[str]:
    r, toml = draft.r, draft.toml
    names = [f"c{n}" for n in range(r.randint(1, 3))]
    board = not converted and r.random() < 0.4
    if board:
        draft.made.covers.add("board")
        toml += [
            "[board.flasher]",
            'place = "base"',
            f'supply = "{source}"',
            'idle = "9 mA"',
            'drop = "0.3 V"',
            'least_volts = "1 V"',
        ]
        plus, minus = draft.node("main+", "base"), draft.node("main-", "base")
        draft.card("B", f"{plus} {minus} I = {{0.009*min(1, max(0, V({plus},{minus})))}}")
        draft.heat("base", f"0.009*V({plus},{minus})")
    for name in names:
        toml += (
            [f"[circuit.{name}]", f'supply = "{source}"']
            if not board
            else [f"[circuit.{name}]", 'board = "flasher"']
        )
        # what a flasher leaves out reaches a converter's source by its average, which is no sum of squares
        behaviour = "steady" if converted else r.choice(["steady", "steady", "flash", "dim"])
        draft.share[name] = 1.0
        if behaviour != "steady":
            draft.made.covers.add(behaviour)
            draft.share[name] = r.choice([0.1, 0.5])
            if behaviour == "dim":
                draft.dimmed.add(name)
            rate = 'rate = "45 /min"' if behaviour == "flash" else 'frequency = "2 kHz"'
            toml += [f'behaviour = "{behaviour}"', rate, f'on_share = "{draft.share[name] * 100:g} %"']
        drop = 0.3 if board else r.choice([0.0, 0.0, 0.2])
        here, line = draft.node(f"{source}+", "base"), draft.node(name, "base")
        if drop and not board:
            draft.made.covers.add("drop")
            toml.append(f'output = {{ limit = "1 A", drop = "{drop} V" }}')
        probe = draft.card("Vo", f"{here} {line} {drop}")
        draft.heat("base", f"I({probe})*{drop}", draft.share[name])
    return names


def _runs(draft: Draft, source: str, circuits: list[str], places: list[str]) -> None:
    """A random tree of wires for each line; the way to the first deck by a plug now and then."""
    r, toml = draft.r, draft.toml
    lines = [*circuits, f"{source}-"]
    plugged = not draft.passage and r.random() < 0.4
    if plugged:
        draft.made.covers.add("plug")
        pins = str(lines).replace("'", '"')
        toml += [
            "[[plug]]",
            'name = "joint"',
            f'ends = ["base", "deck0"]\npins = {pins}',
            'contact = "50 mohm"',
            "keyed = true",
        ]
    for line in lines:
        for number, place in enumerate(places[1:]):
            parent = r.choice(places[: number + 1])
            a, b = draft.node(line, parent), draft.node(line, place)
            if plugged and place == "deck0":
                edge = draft.wire(a, b, 0.05 / (1 + ALPHA * (draft.room - 20)), {"base": 0.5, "deck0": 0.5})
            else:
                edge = _run(draft, line, parent, place)
            draft.above[draft.alias.get(line, line), place] = (parent, edge)


def _run(draft: Draft, line: str, parent: str, place: str) -> Edge:
    r = draft.r
    metres, conductors = r.choice([0.2, 0.5, 2.0]), 2 if r.random() < 0.2 else 1
    draft.toml += ["[[run]]", f'line = "{line}"', f'ends = ["{parent}", "{place}"]', f'length = "{metres} m"']
    if r.random() < 0.25:
        draft.made.covers.add("measured")
        ohms = r.choice([0.3, 1.5])
        draft.toml.append(f'ohms = "{ohms} ohm"')
    else:
        wire = r.choice(list(PER_METRE))
        ohms = PER_METRE[wire] * metres
        draft.toml.append(f'wire = "{wire}"')
    if conductors > 1:
        draft.toml.append("conductors = 2")
    a, b = draft.node(line, parent), draft.node(line, place)
    return draft.wire(a, b, ohms, draft.lies(parent, place, metres), conductors)


def _consumer(draft: Draft, label: str, circuit: str, source: str, joint: str) -> None:
    r, toml = draft.r, draft.toml
    decks = sorted({place for _, place in draft.above}) or ["base"]
    volts = 12.0 if source == "main" else 5.0
    choice = r.choice(["single", "series", "parallel", "shared", "chain", "filament", "strip", "load"])
    if volts < 9 and choice in ("filament", "series", "chain"):
        choice = "single"
    draft.made.covers.add(choice)
    share = draft.share[circuit]
    top, low = draft.node(circuit, joint), draft.node(f"{source}-", joint)
    if choice == "strip":
        _strip(draft, label, circuit, source, joint, volts)
        return
    if choice == "load":
        toml += [
            "[[load]]",
            f'name = "{label}"',
            f'circuit = "{circuit}"',
            f'place = "{joint}"',
            'typical = "20 mA"',
            'lowest = "2 V"',
        ]
        here = draft.fresh()
        probe = draft.card("Vp", f"{top} {here} 0")
        draft.card("B", f"{here} {low} I = {{0.02*min(1, max(0, V({here},{low})/2))}}")
        draft.heat(joint, f"I({probe})*V({here},{low})", share)
        draft.behind(circuit, (circuit, f"{source}-"), joint, [probe])
        return
    place = r.choice([joint, *decks])
    toml += ["[[lamp]]", f'name = "{label}"', f'circuit = "{circuit}"', f'place = "{place}"']
    kind = r.choice(["red", "white"])
    forward = KINDS[kind][1][0]
    series = max(1, min(3, int((volts - 2) / forward))) if choice in ("series", "chain") else 1
    strings = r.randint(2, 3) if choice in ("parallel", "shared") else 1
    dice, places = [kind] * series, [place] * series
    metres = r.choice([0.15, 0.6]) if place != joint or r.random() < 0.5 else 0.0
    if choice == "chain" and series > 1:
        places = [place, *(r.choice(decks) for _ in range(series - 1))]
        toml += [
            f"places = {places}".replace("'", '"'),
            f"links = {['120 mm of thin'] * (series - 1)}".replace("'", '"'),
        ]
        if places[-1] != joint or places[0] != joint:
            metres = 0.6
    if choice == "filament":
        toml.append('kind = "wheat"')
        draft.made.covers.add("filament")
        if "[lamp_kind.wheat]" not in toml:
            toml[:] = [
                *toml[:4],
                "[lamp_kind.wheat]",
                'kind = "filament"',
                'volts = "12 V"',
                'rated = "60 mA"',
                *toml[4:],
            ]
        ohms = 0.0
    else:
        ohms = r.choice([330.0, 470.0, 1000.0]) if volts > 6 else r.choice([100.0, 220.0])
        at = r.choice([place, joint]) if metres and choice not in ("chain", "parallel") else place
        toml += [f'kind = "{kind}"', f"series = {series}", f'resistor = "{ohms:g} ohm 1/4 W at {at}"']
    if strings > 1:
        toml.append(f"parallel = {strings}")
    if choice == "shared":
        toml.append("one_resistor = true")
    edges: list[Edge] = []
    if metres:
        toml.append(
            f'lead = "{metres} m of thin to {joint}"' + ('\nstrings_share = "lead"' if strings > 1 else "")
        )
        where, back = draft.lies(joint, place, metres), draft.lies(joint, places[-1], metres)
        feed, end, ohms20 = draft.fresh(), draft.fresh(), PER_METRE["thin"] * metres
        edges = [draft.wire(top, feed, ohms20, where), draft.wire(end, low, ohms20, back)]
        top, low = feed, end
    if choice == "filament":
        here = draft.fresh()
        probes = [draft.card("Vp", f"{top} {here} 0")]
        # two thousand times a second its wire does not follow: it is as hot as the root mean square of its volts makes it
        mean = math.sqrt(share) if circuit in draft.dimmed else 1.0
        draft.card(
            "B",
            f"{here} {low} I = {{0.06*V({here},{low})/12*pow(max({mean!r}*abs(V({here},{low}))/12, 1e-3), -0.45)}}",
        )
        draft.cards.append(f".nodeset v({here})=12")
        draft.heat(place, f"I({probes[0]})*V({here},{low})", share)
    elif choice == "shared":
        behind = draft.fresh()
        draft.resistor(top, behind, ohms, at, share)
        probes = [draft.string(behind, low, dice, places, 0.0, at, share) for _ in range(strings)]
    elif choice == "chain" and series > 1:
        probes = [_chain(draft, top, low, dice, places, ohms, at, circuit)]
    else:
        probes = [draft.string(top, low, dice, places, ohms, at, share) for _ in range(strings)]
    for edge in edges:
        edge.flows.setdefault(circuit, []).extend(probes)
    draft.behind(circuit, (circuit, f"{source}-"), joint, probes)
    draft.made.probes[label] = probes


def _chain(
    draft: Draft, top: str, low: str, dice: list[str], places: list[str], ohms: float, at: str, circuit: str
) -> str:
    """A chain with a link of wire between its dice."""
    share, here = draft.share[circuit], top
    first = ""
    for number, (kind, place) in enumerate(zip(dice, places, strict=True)):
        nxt = low if number == len(dice) - 1 else draft.fresh()
        probe = draft.string(here, nxt, [kind], [place], ohms if number == 0 else 0.0, at, share)
        first = first or probe
        here = nxt
        if number < len(dice) - 1:
            other = draft.fresh()
            where = draft.lies(place, places[number + 1], 0.12)
            link = draft.wire(here, other, PER_METRE["thin"] * 0.12, where)
            link.flows.setdefault(circuit, []).append(first)
            here = other
    return first


def _strip(draft: Draft, label: str, circuit: str, source: str, place: str, volts: float) -> None:
    r, share = draft.r, draft.share[circuit]
    segments, series = r.randint(2, 4), 1 if volts < 6 else 2
    ohms = 150.0 if volts < 6 else 470.0
    kind = f"s{draft.count}"
    draft.toml += [f"[strip_kind.{kind}]", f'volts = "{volts:g} V"', 'segment = "50 mm"', f"series = {series}",
                   f'ohms = "{ohms:g} ohm"', 'kind = "white"', "[[strip]]", f'name = "{label}"', f'circuit = "{circuit}"',
                   f'kind = "{kind}"', f'place = "{place}"', f"segments = {segments}", 'trace = "6 ohm/m"']  # fmt: skip
    feed, back = draft.node(circuit, place), draft.node(f"{source}-", place)
    traces: list[Edge] = []
    probes = []
    for _ in range(segments):
        nxt, nxt_back = draft.fresh(), draft.fresh()
        traces += [draft.wire(feed, nxt, 0.3, {place: 1.0}), draft.wire(nxt_back, back, 0.3, {place: 1.0})]
        feed, back = nxt, nxt_back
        probes.append(draft.string(feed, back, ["white"] * series, [place] * series, ohms, place, share))
        for trace in traces:
            trace.flows.setdefault(circuit, []).append(probes[-1])
    draft.behind(circuit, (circuit, f"{source}-"), place, probes)
    draft.made.probes[label] = probes


def _colours(draft: Draft, circuits: list[str], source: str, joint: str) -> None:
    """A lamp of several colours, each on a circuit of its own choice, with one return for all."""
    r = draft.r
    place, label = r.choice(sorted({place for _, place in draft.above}) or ["base"]), "colours"
    draft.made.covers.add("colours")
    ohms = {"red": 680.0, "green": 470.0, "blue": 560.0}
    circuit = {colour: r.choice(circuits) for colour in ohms}
    dice = ", ".join(
        f'{colour} = {{ circuit = "{circuit[colour]}", resistor = "{ohms[colour]:g} ohm 1/4 W" }}'
        for colour in ohms
    )
    draft.toml += ["[[lamp]]", f'name = "{label}"', 'kind = "smd-0603-rgb"', f'place = "{place}"',
                   f"dice = {{ {dice} }}", f'lead = "0.6 m of thin to {joint}"']  # fmt: skip
    where = draft.lies(joint, place, 0.6)
    common = draft.fresh()
    back = draft.wire(common, draft.node(f"{source}-", joint), PER_METRE["thin"] * 0.6, where)
    for colour, value in ohms.items():
        name = circuit[colour]
        feed = draft.fresh()
        leg = draft.wire(draft.node(name, joint), feed, PER_METRE["thin"] * 0.6, where)
        probe = draft.string(feed, common, [f"rgb-{colour}"], [place], value, place, draft.share[name])
        for edge in (leg, back):
            edge.flows.setdefault(name, []).append(probe)
        draft.behind(name, (name, f"{source}-"), joint, [probe])
        draft.made.probes[f"{label} {colour}"] = [probe]
