"""Complete builds made by rules of the bench, with margins on every side; without their wiring they are wishes that have one.

No planner has a hand in them: values by Ohm's law from typical forward volts, sturdy wire, wide bores, bodies with room for
the heat. The checks have to call each clear before it is taken apart.
"""

from __future__ import annotations

import random
from itertools import count
from typing import Any

import postcheck
from postcheck.reading.loading import built

# Typical forward volts near 5 mA by the data sheets that the catalogue names, and how many go in series on 12 V with volts to spare.
KINDS = {
    "smd-0402-red": (2.0, 3), "smd-0402-green": (2.8, 2), "smd-0603-white": (2.85, 2), "smd-0603-warm-white": (2.85, 2),
    "smd-0603-red": (2.1, 3), "smd-0805-yellow": (2.0, 3), "led-3mm-white": (2.9, 2),
}  # fmt: skip
E12 = (1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2)
COLOURS = ("white", "blue", "yellow", "green", "brown", "orange", "violet", "pink", "grey")
# Ohms of these, over the longest way, are nothing beside a resistor's.
RUN, LEAD = "ptfe-28", "enamel-0.25"
DROP = 0.2
FUSES = ("500 mA", "630 mA", "800 mA", "1 A")


def made(seed: int, *, circuits: int = 9, leds: int = 40, arms: int = 0) -> tuple[dict[str, Any], int]:
    """A complete build that the checks call clear, and how many were made until one was."""
    for attempt in count(1):
        chance = random.Random(f"{seed} {attempt}")
        tables = _made(chance, seed, circuits, leds, arms)
        for fuse in FUSES:
            tables["supply"]["main"]["fuse"] = fuse
            report = postcheck.check(built(tables), stage="wiring", remedies=False).files[0]
            if report.verdict == "clear":
                return tables, attempt
    raise AssertionError


def _made(chance: random.Random, seed: int, circuits: int, leds: int, arms: int) -> dict[str, Any]:
    post = 100 + 10 * chance.randint(0, 15)
    tables: dict[str, Any] = {
        "format": 1,
        "build": {"name": f"Harbour tender {seed}", "stage": "wiring", "air": "10..28 degC"},
        "usual": {"run": RUN, "lead": LEAD, "resistor": "1/4 W 5 %"},
        "supply": {"main": {"kind": "adaptor", "place": "base", "volts": "12 V", "tolerance": "5 %", "rated": "2 A"}},
        "board": {
            "flasher": {"place": "base", "supply": "main", "channels": 12, "limit": "200 mA", "drop": f"{DROP} V", "idle": "5 mA"}
        },
        "place": {
            "base": {"access": "open"},
            "hub": {"access": "cover", "material": "abs", "surface": f"{chance.randint(120, 250)} cm2"},
        },
        "post": {"from": "base", "to": "hub", "bore": f"{chance.choice([4.5, 5, 6])} mm", "length": f"{post} mm", "edges": "bushed"},
        "passage": {}, "circuit": {}, "lamp": [], "run": [], "way": [],
    }  # fmt: skip
    if chance.random() < 0.3:
        tables["post"] |= {
            "turn": "90 deg",
            "stop": True,
            "cycles": "5 /day for 10 years",
            "to_joint": "25 mm",
        }
    ways = {("base", "hub"): post + 60}
    bodies: dict[str, str] = {}  # and where its leads are joined
    for number in range(arms):
        name, length = f"pod {number + 1}", 10 * chance.randint(8, 15)
        access = chance.choice(["cover", "sealed"])
        tables["place"][name] = _body(chance, access, 2.5)
        bore = chance.choice([3, 3.5, 4]) if access == "cover" else chance.choice([4, 5])
        tables["passage"][f"arm {number + 1}"] = {
            "from": "hub", "to": name, "bore": f"{bore} mm", "length": f"{length} mm", "edges": "rounded",
        }  # fmt: skip
        ways["hub", name] = length + 60
        bodies[name] = name if access == "cover" else "hub"
    for number in range(2 if arms else chance.randint(4, 6)):
        name = f"body {number + 1}"
        tables["place"][name] = _body(chance, "sealed", 1.0)
        ways["hub", name] = 10 * chance.randint(8, 30)
        bodies[name] = "hub"
    for number in range(circuits):
        flashes = {
            "board": "flasher",
            "channel": number + 1,
            "behaviour": "flash",
            "rate": f"{chance.choice([12, 15, 18])} /min",
            "on_share": f"{chance.randint(5, 40)} %",
        }
        steady = number == 0 or chance.random() < 0.6
        tables["circuit"][f"circuit {number + 1}"] = {"supply": "main"} if steady else flashes
    if not any("board" in row for row in tables["circuit"].values()):
        del tables["board"]
    joined = _lamps(chance, tables, bodies, ways, leds)
    _runs(tables, joined, ways)
    return {key: value for key, value in tables.items() if value}


def _body(chance: random.Random, access: str, times: float) -> dict[str, Any]:
    surface = round(chance.randint(50, 130) * times)
    return {"access": access, "material": chance.choice(["styrene", "abs"]), "surface": f"{surface} cm2"}


def _lamps(
    chance: random.Random,
    tables: dict[str, Any],
    bodies: dict[str, str],
    ways: dict[tuple[str, str], int],
    leds: int,
) -> dict[str, set[str]]:
    """Puts in the lamps; gives the places where each circuit is joined. The counts of up to 20 entries add up to the LEDs."""
    circuits = list(tables["circuit"])
    entries = min(leds, 20 if leds <= 40 else 30)
    counts = [1] * entries
    while sum(counts) < leds:
        counts[chance.randrange(entries)] += 1
    joined: dict[str, set[str]] = {}
    for number, many in enumerate(counts):
        circuit = circuits[number] if number < len(circuits) else chance.choice(circuits)
        kind, place = chance.choice(list(KINDS)), chance.choice(list(bodies))
        forward, most = KINDS[kind]
        series = max(one for one in range(1, most + 1) if many % one == 0)
        volts = 12.0 - (DROP if "board" in tables["circuit"][circuit] else 0.0)
        milliamperes = chance.choice([3, 4, 5])
        ohms = (volts - series * forward) / (milliamperes / 1000.0)
        value = next(
            step * 10.0**decade for decade in range(1, 6) for step in E12 if step * 10.0**decade >= ohms
        )
        lamp: dict[str, Any] = {
            "name": f"lamp {number + 1}",
            "circuit": circuit,
            "kind": kind,
            "place": place,
            "series": series,
            "parallel": many // series,
            "resistor": f"{value:g} ohm",
        }
        if chance.random() < 0.3:
            lamp["wanted"] = f"{milliamperes} mA"
        to = bodies[place]
        if to != place and many > series:
            lamp["strings_share"] = "lead"
        if to != place:
            lamp["lead"] = {
                "length": f"{ways[to, place]} mm",
                "to": to,
                "colours": ["red", "black"],
                "label": lamp["name"],
            }
        joined.setdefault(circuit, set()).add(to)
        tables["lamp"].append(lamp)
    return joined


def _runs(tables: dict[str, Any], joined: dict[str, set[str]], ways: dict[tuple[str, str], int]) -> None:
    """A feed for each circuit and one return, from the base to the hub, and on to each place where they are joined."""
    colours = dict(zip(tables["circuit"], COLOURS, strict=False)) | {"main-": "black"}
    lines = joined | {"main-": set().union(*joined.values())}
    for line, places in lines.items():
        pieces = [("base", "hub"), *(("hub", place) for place in sorted(places - {"hub"}))]
        for piece in pieces:
            tables["run"].append({
                "line": line, "ends": list(piece), "length": f"{ways[piece]} mm", "wire": RUN, "colour": colours[line],
                "label": line,
            })  # fmt: skip
    tables["way"] = [{"from": start, "to": end, "length": f"{length} mm"} for (start, end), length in ways.items()]  # fmt: skip


def unmade(tables: dict[str, Any]) -> dict[str, Any]:
    """What a builder knows before there is any wiring: no runs, leads, resistors, strings or fuse."""
    taken = ("resistor", "lead", "strings_share", "series", "parallel")
    lamps = []
    for lamp in tables["lamp"]:
        many = lamp["series"] * lamp["parallel"]
        lamps.append(
            {key: value for key, value in lamp.items() if key not in taken}
            | ({"count": many} if many > 1 else {})
        )
    supply = {key: value for key, value in tables["supply"]["main"].items() if key not in ("fuse", "rated")}
    build = tables["build"] | {"stage": "planning"}
    wish = {key: value for key, value in tables.items() if key not in ("run", "usual")}
    return wish | {"lamp": lamps, "supply": {"main": supply}, "build": build}
