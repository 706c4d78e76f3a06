"""Random lamps on leads, written twice: as a build file, and as the SPICE cards of each lead on a bench supply.

Nothing here imports postcheck. The resistor of a lamp sits at the lamp, at the hub, in the base or nowhere; seen from
the end of the lead, only the one at the lamp is in the circuit. Seen from a line, whatever sits between is. Curves
and wires as in random_builds.py; the lamps state no change with heat, so that a warm one is as a cold one.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, field
from typing import NamedTuple

from tests.outside.random_builds import SLOPE, SPICE_VT

__all__ = ["COLOURS", "Builds", "Connected", "Strings", "deck", "make"]

# Forward voltage least, typical, most at 20 mA, and typical at 5 mA; of a data sheet's kind, invented.
COLOURS = {
    "red": (1.85, 2.05, 2.40, 1.90),
    "white": (2.90, 3.10, 3.50, 2.75),
    "green": (2.75, 3.00, 3.40, 2.60),
    "blue": (2.80, 3.20, 3.60, 2.82),
}
# The catalogue's smd-5050-rgb, by its file; these do change with heat.
RGB = ("red", "green", "blue")
COLOURS |= {
    "rgb-red": (1.8, 2.1, 2.6, 2.0),
    "rgb-green": (3.0, 3.1, 3.6, 2.7),
    "rgb-blue": (3.0, 3.1, 3.6, 2.8),
}
OWN = ("red", "white", "green", "blue")
AT, LOW_AT, RATED = 0.02, 0.005, 0.02
FILAMENT_VOLTS, FILAMENT_AMPS = 12.0, 0.06
WIRES = {"thin": 2.195, "mid": 0.84, "thick": 0.2}
SEATS = ("lamp", "hub", "base", "none")
FORMS = ("single", "series", "own", "shared", "filament", "filaments", "split", "chain", "colours")


class Strings(NamedTuple):
    """Strings between two points: `own` ohm and `chip` resistor in each, `feed` and `back` ohm and `shared` chip before all.

    `chip` and `shared` have `tolerance`; `colour` None is a filament.
    """

    name: str
    colour: str | None
    series: int
    parallel: int
    own: float
    chip: float
    feed: float
    back: float
    shared: float
    tolerance: float
    seat: str
    where: str


@dataclass
class Connected:
    """What a bench supply feeds: strings straight on it, or behind `feed` and `back` ohm of conductors more."""

    key: tuple[str, str]
    strings: list[Strings]
    sort: str
    ways: dict[str, tuple[float, float]] = field(default_factory=dict)


@dataclass
class Builds:
    """A build file, its leads by (kind, name), its lines by (circuit, place), and its supply."""

    toml: str
    leads: dict[tuple[str, str], Connected]
    lines: dict[tuple[str, str], Connected]
    volts: float
    highest: float
    ohms: float
    gives: float
    supply: str


def deck(one: Connected, volts: float, ohms: float, corner: int, amps: float | None = None) -> str:
    """One lead or line on a supply; `corner` as +1 lets lamps and resistors take most. `amps`: a current instead."""
    cards = ["* a lead at the bench"]
    for colour, (least, typical, most, low) in COLOURS.items():
        series = ((typical - low) - SLOPE * math.log(AT / LOW_AT)) / (AT - LOW_AT)
        saturation = LOW_AT / (math.exp((low - LOW_AT * series) / SLOPE) - 1)
        cards.append(f".model {colour} D(IS={saturation:.15g} N={SLOPE / SPICE_VT:.15g} RS={series:.15g})")
        assert least < typical < most
    if amps is not None:
        cards += [f"I0 0 t {amps:.15g}", ".nodeset v(t)=3"]
    elif ohms:
        cards += [f"V0 e 0 {volts:.15g}", f"R0 e t {ohms:.15g}"]
    else:
        cards.append(f"V0 t 0 {volts:.15g}")
    reached: dict[str, tuple[str, str]] = {}
    for place, (feed, back) in one.ways.items():
        reached[place] = (f"tf{place}", f"tb{place}")
        cards += [f"Rf{place} t tf{place} {feed:.15g}", f"Rb{place} tb{place} 0 {back:.15g}"]
    for position, strings in enumerate(one.strings):
        top, low = reached.get(strings.where, ("t", "0"))
        cards += _strings(f"{position}", strings, top, low, corner, volts or 3.0)
    return "\n".join([*cards, ".end"])


def _strings(tag: str, strings: Strings, top: str, low: str, corner: int, volts: float) -> list[str]:
    cards = []
    part = 1.0 - corner * strings.tolerance
    for letter, ohms in (("p", strings.feed), ("q", strings.shared * part)):
        if ohms:
            cards.append(f"R{letter}{tag} {top} {letter}{tag} {ohms:.15g}")
            top = f"{letter}{tag}"
    if strings.back:
        cards.append(f"Rr{tag} r{tag} {low} {strings.back:.15g}")
        low = f"r{tag}"
    for number in range(strings.parallel):
        at = f"s{tag}_{number}"
        cards.append(f"Vp{tag}_{number} {top} {at} 0")
        ohms = strings.own + strings.chip * part
        if ohms:
            cards.append(f"Rs{tag}_{number} {at} {at}r {ohms:.15g}")
            at += "r"
        if strings.colour is None:
            volts = FILAMENT_VOLTS * strings.series
            across = f"V({at},{low})"
            cards.append(
                f"B{tag}_{number} {at} {low} I = {{{FILAMENT_AMPS}*{across}/{volts}*pow(max(abs({across})/{volts}, 1e-3), -0.45)}}"
            )
            cards.append(f".nodeset v({at})=5")
            continue
        least, typical, most, _ = COLOURS[strings.colour]
        shift = (0.0, least - typical, most - typical)[corner] * strings.series
        cards.append(f"Vd{tag}_{number} {at} {at}d {shift:.15g}")
        for position in range(strings.series):
            last = position == strings.series - 1
            start = f"{at}d" if position == 0 else f"{at}d{position}"
            # a start near the end: else a string that hardly conducts leaves ngspice searching
            cards.append(
                f".nodeset v({start})={min(volts, most * strings.series) * (1 - position / strings.series):.6g}"
            )
            cards.append(
                f"D{tag}_{number}_{position} {start} {low if last else f'{at}d{position + 1}'} {strings.colour}"
            )
    return cards


def make(seed: int, leads: int = 14) -> Builds:
    """One build with so many lamps, each on a circuit of its own, and one circuit on which several hang."""
    return _Maker(seed).make(leads)


class _Maker:
    def __init__(self, seed: int) -> None:
        self.rng = random.Random(1000 + seed)
        self.seed = seed
        self.toml = ["format = 1", "", "[build]", f'name = "Lightship {seed}"', ""]
        self.runs: list[str] = []
        self.leads: dict[tuple[str, str], Connected] = {}
        self.lines: dict[tuple[str, str], Connected] = {}
        self.turn = seed

    def make(self, leads: int) -> Builds:
        for colour, (least, typical, most, low) in COLOURS.items():
            if colour.startswith("rgb"):
                continue
            self.toml += [
                f"[lamp_kind.{colour}]",
                f'colour = "{colour}"',
                f'forward = "{least}/{typical}/{most} V"',
                f'at = "{AT * 1e3:g} mA"',
                f'low_forward = "{low} V"',
                f'low_at = "{LOW_AT * 1e3:g} mA"',
                f'rated = "{RATED * 1e3:g} mA"',
                'per_kelvin = "0 mV"',
                "",
            ]
        self.toml += ["[lamp_kind.wheat]", 'kind = "filament"', f'volts = "{FILAMENT_VOLTS:g} V"']
        self.toml += [f'rated = "{FILAMENT_AMPS * 1e3:g} mA"', ""]
        for name, ohms in WIRES.items():
            self.toml += [f"[wire.{name}]", 'strand = "0.10 mm"', 'outside = "0.5 mm"']
            self.toml += [f'ohms_per_metre = "{ohms} ohm/m"', ""]
        self.toml += ["[place]", 'base = { access = "open" }', 'hub = { access = "cover" }']
        self.toml += ['mast = { access = "cover" }', 'car = { access = "sealed" }', ""]
        source, volts, highest, ohms, gives = self._supply()
        self.returns = {"hub": self._run(f"{source}-", "base", "hub")}
        self.returns["mast"] = self._run(f"{source}-", "hub", "mast")
        self.pluses = {"hub": self._run(f"{source}+", "base", "hub")}
        self.pluses["mast"] = self._run(f"{source}+", "hub", "mast")
        self.source, self.volts = source, volts
        for number in range(leads):
            self._circuit(number, [FORMS[(self.turn + number) % len(FORMS)]])
        self._circuit(leads, ["single", "own", "shared", "series"])
        text = "\n".join([*self.toml, *self.runs]) + "\n"
        return Builds(text, self.leads, self.lines, volts, highest, ohms, gives, self.kind)

    def _supply(self) -> tuple[str, float, float, float, float]:
        rng, toml = self.rng, self.toml
        self.kind = ("adaptor", "regulated", "unloaded", "battery", "usb", "converter", "limited")[
            self.seed % 7
        ]
        volts = 5.0 if self.kind in ("usb", "converter") else rng.choice([6.0, 9.0, 12.0])
        tolerance, ohms, highest, gives = 0.04, 0.0, volts, 180.0
        name = "low" if self.kind == "converter" else "main"
        toml += ["[supply.main]", 'place = "base"']
        if self.kind == "usb":
            toml += ['kind = "usb"', 'rated = "90 A"']
            highest = 1.05 * volts  # what a USB source may give: 4.75 to 5.25 V
        elif self.kind == "battery":
            ohms, gives = rng.choice([0.3, 1.5]), math.inf
            toml += ['kind = "battery"', f'volts = "{volts:g} V"', "cells = 4", f'resistance = "{ohms} ohm"']
        else:
            given = 12.0 if self.kind == "converter" else volts
            rated = 0.04 if self.kind == "limited" else 90.0
            toml += ['kind = "adaptor"', f'volts = "{given:g} V"', f'tolerance = "{tolerance * 100:g} %"']
            toml.append(f'rated = "{rated} A"')
            highest = volts * (1 + tolerance)
            if self.kind == "regulated":
                ohms = 0.06 * volts / rated
                highest = volts * 1.06 * (1 + tolerance)
                toml.append('regulation = "6 %"')
            elif self.kind == "unloaded":
                ohms, highest = 3.0 / rated, (volts + 3.0) * (1 + tolerance)
                toml.append(f'unloaded = "{volts + 3:g} V"')
            elif self.kind == "limited":
                gives = 0.05
                toml.append('current_limit = "50 mA"')
        toml.append("")
        if self.kind == "converter":
            gives = 180.0
            toml += ["[supply.low]", 'kind = "converter"', 'place = "base"', 'from = "main"', 'volts = "5 V"']
            toml += ['rated = "90 A"', f'tolerance = "{tolerance * 100:g} %"', ""]
        return name, volts, highest, ohms, gives

    def _run(self, line: str, start: str, end: str) -> float:
        wire, length = self.rng.choice(list(WIRES)), self.rng.choice([120, 260, 500])
        self.runs += ["[[run]]", f'line = "{line}"', f'ends = ["{start}", "{end}"]']
        self.runs += [f'length = "{length} mm"', f'wire = "{wire}"', ""]
        return WIRES[wire] * length / 1000

    def _circuit(self, number: int, forms: list[str]) -> None:
        rng = self.rng
        negative, own_return = rng.random() < 0.3, rng.random() < 0.3
        names = [f"c{number}"] if forms != ["colours"] else [f"c{number}{part}" for part in "abc"]
        feeds: dict[str, dict[str, float]] = {}
        others = self.pluses if negative else self.returns
        for name in names:
            self.toml += [f"[circuit.{name}]", f'supply = "{self.source}"']
            if negative:
                self.toml.append('switched = "negative"')
            own = own_return and forms != ["colours"]
            if own:
                self.toml.append("own_return = true")
            self.toml.append("")
            feeds[name] = {"hub": self._run(name, "base", "hub")}
            feeds[name]["mast"] = self._run(name, "hub", "mast")
            if own:
                others = {"hub": self._run(f"{name}-return", "base", "hub")}
                others["mast"] = self._run(f"{name}-return", "hub", "mast")
        connected: dict[str, list[Strings]] = {name: [] for name in names}
        for index, form in enumerate(forms):
            self._lamp(f"lamp {number} {index}", names, form, len(forms) > 1, own, connected, negative)
        for name in names:
            for place in ("base", "hub", "mast"):
                self._line(name, place, connected[name], feeds[name], others)

    def _line(
        self,
        circuit: str,
        place: str,
        connected: list[Strings],
        feed: dict[str, float],
        back: dict[str, float],
    ) -> None:
        """The strings of a circuit as they are seen from its line at a place."""
        ways: dict[str, tuple[float, float]] = {}
        seen = []
        for strings in connected:
            # a resistor at the joint or at the lamp is ahead; one in the base is passed or, from the base, still to come:
            # whoever stands at the very place has its free side in the hand, so it is out
            one = strings
            if strings.seat == "base":
                one = strings._replace(chip=0.0, shared=0.0)
            if strings.where != place:
                legs = {
                    ("base", "hub"): ("hub",), ("base", "mast"): ("hub", "mast"), ("hub", "mast"): ("mast",),
                    ("mast", "hub"): ("mast",),
                }[place, strings.where]  # fmt: skip
                ways[strings.where] = (sum(feed[leg] for leg in legs), sum(back[leg] for leg in legs))
            seen.append(one)
        if len(ways) <= 1:  # two joints along one way share a part of it: left to the tests of whole builds
            sort = "line " + "+".join(sorted({strings.seat for strings in connected}))
            self.lines[circuit, place] = Connected((circuit, place), seen, sort, ways)

    def _lamp(
        self, name: str, circuits: list[str], form: str, among: bool, own: bool,
        connected: dict[str, list[Strings]], negative: bool,
    ) -> None:  # fmt: skip
        rng, toml = self.rng, self.toml
        joint = "hub" if among else rng.choice(["hub", "hub", "mast"])
        seats = [seat for seat in SEATS if not (seat == "base" and (among or form == "own"))]
        seat = "none" if form.startswith("filament") else rng.choice(seats)
        side = rng.choice(["feed", "back"]) if own else "feed"
        series = rng.randint(2, max(2, min(4, int(self.volts / 2.1)))) if form in ("series", "chain") else 1
        parallel = rng.randint(2, 3) if form in ("own", "shared", "filaments") else 1
        chips = [
            rng.choice([0.0 if seat == "none" else c for c in (47.0, 150.0, 330.0, 1000.0)]) for _ in "abc"
        ]
        tolerance = rng.choice([0.01, 0.05])
        spots = {"lamp": "car", "hub": joint, "base": "base"}
        specs = [
            f'{{ ohms = "{chip:g} ohm", tolerance = "{tolerance * 100:g} %", place = "{spots.get(seat)}", side = "{side}" }}'
            for chip in chips
        ]
        colour = None if form.startswith("filament") else rng.choice(OWN)
        toml += ["[[lamp]]", f'name = "{name}"']
        toml.append(f'place = "{joint if form == "filament" else "car"}"')
        legs = [0.0, 0.0]
        if form == "split":
            wires = rng.sample(list(WIRES), 2)
            lengths = [rng.choice([90, 180]), rng.choice([60, 240])]
            legs = [WIRES[wire] * length / 1000 for wire, length in zip(wires, lengths, strict=True)]
            sides = [
                f'{key} = {{ length = "{length} mm", wire = "{wire}", to = "{joint}", colour = "{shade}" }}'
                for key, length, wire, shade in zip(
                    ("feed", "back"), lengths, wires, ("red", "grey"), strict=True
                )
            ]
            toml.append(f"lead = {{ {', '.join(sides)} }}")
        elif (
            form != "filament"
        ):  # a filament's wire is a part of its curve: the law is of lamp and wire together
            wire, length = rng.choice(list(WIRES)), rng.choice([90, 180, 300])
            legs = [WIRES[wire] * length / 1000] * 2
            toml.append(f'lead = "{length} mm of {wire} to {joint}, red/black"')
        if form == "colours":
            self._colours(name, circuits, chips, specs, legs, (seat, joint, tolerance), connected)
            return
        toml += [f'circuit = "{circuits[0]}"', f'kind = "{colour or "wheat"}"', f"series = {series}"]
        if seat != "none":
            toml.append(f"resistor = {specs[0]}")
        share = "lead"
        if parallel > 1:
            toml.append(f"parallel = {parallel}")
            # a filament's leg is a part of its curve; strings on one resistor beside them share the lead, and those with
            # a resistor each at the joint cannot
            if form != "filaments" and not (form == "shared" and seat == "lamp"):
                share = rng.choice(
                    ["nothing", "return"]
                    if form == "own" and seat == "hub"
                    else ["nothing", "return", "lead"]
                )
            toml.append(f'strings_share = "{share}"')
        if form == "shared" and seat != "none":
            toml.append("one_resistor = true")
        links = 0.0
        if form == "chain":
            toml.append(f"places = {['car'] * series}".replace("'", '"'))
            toml.append(f"links = {['120 mm of thin'] * (series - 1)}".replace("'", '"'))
            links = 0.12 * WIRES["thin"] * (series - 1)
        toml.append("")
        shared = chips[0] if form == "shared" else 0.0
        strings = Strings(
            name, colour, series, parallel, links, 0.0 if form == "shared" else chips[0], *legs, shared,
            tolerance, seat, joint,
        )  # fmt: skip
        if share != "lead":
            strings = strings._replace(own=strings.own + strings.feed, feed=0.0)
        if share == "nothing":
            strings = strings._replace(own=strings.own + strings.back, back=0.0)
        connected[circuits[0]].append(strings)
        bare = strings if seat == "lamp" else strings._replace(chip=0.0, shared=0.0)
        sort = f"{form} {seat}{' negative' if negative else ''}"
        self.leads["lamp", name] = Connected(("lamp", name), [bare], sort)

    def _colours(
        self, name: str, circuits: list[str], chips: list[float], specs: list[str], legs: list[float],
        seat: tuple[str, str, float], connected: dict[str, list[Strings]],
    ) -> None:  # fmt: skip
        seated, joint, tolerance = seat
        kept = {}
        for colour, circuit, chip, spec in zip(RGB, circuits, chips, specs, strict=True):
            kept[colour] = f'circuit = "{circuit}"' + (f", resistor = {spec}" if seated != "none" else "")
            strings = Strings(
                f"{name} {colour}", f"rgb-{colour}", 1, 1, 0.0, chip, *legs, 0.0, tolerance, seated, joint
            )
            connected[circuit].append(strings)
            bare = strings if seated == "lamp" else strings._replace(chip=0.0)
            self.leads["lamp", strings.name] = Connected(("lamp", strings.name), [bare], f"colours {seated}")
        dice = ", ".join(f"{colour} = {{ {said} }}" for colour, said in kept.items())
        self.toml += ['kind = "smd-5050-rgb"', f"dice = {{ {dice} }}", ""]
