"""Random sound builds: every law kept with a margin, by the handbook alone."""

from __future__ import annotations

from itertools import chain, count
from random import Random
from typing import Any

from tests.construction import further, lights, motors, supplies, ways
from tests.construction.closing import prove
from tests.construction.handbook import DICE, WIRES, holds_until, least_amps, string_amps, surface, warms
from tests.construction.model import Model, written

STORIES = ("Mail airship", "Survey submersible", "Harbour tender")
BODIES = ("car", "fin", "bow", "stern", "pod", "cabin")
CIRCUITS = ("running", "cabin", "anchor", "mast")


def made(seed: int | str, wants: frozenset[str] = frozenset()) -> Model:
    """A sound build with all that is wanted. Tried anew where the parts drawn do not go together by the handbook."""
    for attempt in range(400):
        model = _drawn(Random(f"{seed} {attempt}"), wants)
        if model is not None and {want for want in wants if not want.startswith("no ")} <= model.has:
            return model
    raise LookupError(f"no build with {sorted(wants)}")


def text(model: Model) -> str:
    """Its file."""
    return written({key: value for key, value in model.tables.items() if key != "ways"})


def _drawn(chance: Random, wants: frozenset[str]) -> Model | None:
    kind, source, said = supplies.chosen(chance, wants)
    model = Model(chance, wants, source)
    model.has |= {kind, "battery"} if kind in supplies.MAH else {kind}
    model.has |= {"12 V"} if source.usual == 12 else {"5 V"} if source.usual == 5 else set()
    model.has |= {"adaptor"} if said["kind"] == "adaptor" else set()
    model.tables = {
        "format": 1,
        "build": {
            "name": f"{chance.choice(STORIES)}, 1:{chance.choice([72, 96, 144])}",
            "stage": chance.choice(["planning", "wiring"]),
        }
        | ({"air": "5..35 degC"} if chance.random() < 0.5 else {}),
        "usual": {},
        "supply": {"main": {"place": "base"}},
        "place": {"base": {"access": "open"}},
        "ways": {},
    }
    _places(model)
    _circuits(model)
    if not _lamps(model) or not _electrics(model, kind, said):
        return None
    for place, row in model.tables["place"].items():
        if row["access"] != "open":
            # half of what lies between a warm room and what the wall withstands, and no more
            row["surface"] = f"{surface(model.heat.get(place, 0.0), chance.uniform(8.0, 13.0))} cm2"
    model.tables["usual"] = {"lead": model.lead, "run": model.wire, "resistor": "1/4 W 5 %"}
    if model.hub != "base":
        ways.lay(model)
        ways.onward(model)
        if model.may("post", 0.7):
            ways.post(model)
        if model.may("plug", 0.25):
            ways.plug(model)
        ways.arms(model)
    _switches(model)
    if kind.startswith("adaptor") and model.may("socket", 0.25):
        model.tables["supply"]["main"]["socket"] = "5.5/2.1 mm, centre positive"
    if model.has & {"sealed"} and _tells(model) and model.may("closing", 0.25):
        model.tables["build"]["stage"] = "closing"
        prove(model)
    if not _shorts(model, kind) or not _steps(model):
        return None
    return model


def _places(model: Model) -> None:
    chance, place = model.chance, model.tables["place"]
    model.wire = chance.choice(["ptfe-26", "ptfe-28", "silicone-28", "ptfe-28", "fep-28", "pvc-28"])
    fine = model.may("enamelled", 0.6)
    model.lead = chance.choice(
        ["enamel-0.125", "enamel-0.10", "enamel-0.20"] if fine else ["ptfe-30", "silicone-30"]
    )
    if model.may("hub", 0.85):
        model.hub = "hull"
        place["hull"] = {"access": "cover", "material": chance.choice(["abs", "styrene", "brass"])}
        if place["hull"]["material"] == "brass":
            place["hull"]["painted"] = True
        if model.may("opening", 0.4):
            place["hull"]["opening"] = f"{chance.choice([30, 40, 60])} mm"
        model.way = 10 * chance.randint(12, 24)
    for name in chance.sample(BODIES, chance.randint(1, 4)):
        access = "sealed" if model.may("sealed", 0.5) else "open"
        place[name] = {"access": access, "material": chance.choice(["styrene", "abs"])}
        if access == "open":
            del place[name]["material"]
        if not model.lined and model.hub != "base" and model.may("lines", 0.2):
            model.lined.add(name)
        model.bodies.append(name)
        model.tables["ways"][name] = 10 * chance.randint(6, 25)


def _circuits(model: Model) -> None:
    chance, tables = model.chance, model.tables
    names = chance.sample(CIRCUITS, chance.randint(1, 3))
    tables["circuit"] = {name: {"supply": "main"} for name in names}
    if model.source.usual == 12 and not model.source.stiff and model.may("converter", 0.15):
        tables["supply"]["five"] = {
            "kind": "converter", "from": "main", "place": "base", "volts": "5 V", "tolerance": "2 %", "efficiency": "85 %",
            "rated": "500 mA", "current_limit": "700 mA", "least_input": "7 V",
        }  # fmt: skip
        tables["circuit"]["signal"] = {"supply": "five", "own_return": True}
    if model.may("board", 0.3):
        volts = model.source
        tables["board"] = {
            "flasher": {
                "place": "base", "supply": "main", "channels": 4, "limit": "200 mA", "total": "500 mA", "idle": "5 mA", "drop": "0.2 V",
                "least_volts": f"{0.6 * volts.usual:.1f} V", "most_volts": f"{1.4 * volts.usual + 1:.1f} V", "reverse": "20 V",
            }
        }  # fmt: skip
        for channel in range(1, chance.randint(1, 2) + 1):
            rate = chance.choice([12, 20, 30])
            tables["circuit"][f"beacon {channel}"] = {
                "board": "flasher", "channel": channel, "behaviour": "flash", "rate": f"{rate} /min", "on_share": f"{chance.choice([10, 20, 40])} %",
            }  # fmt: skip
        names = [name for name in tables["circuit"] if name.startswith("beacon")]
        if len(names) > 1 and model.may("in step", 0.3):
            for name in names:  # more often than they could be seen one after the other
                tables["circuit"][name] |= {"rate": "50 /min", "on_share": "20 %"}
            tables["circuit"][names[1]]["in_step_with"] = names[0]
    if model.may("flasher", 0.25):
        tables["circuit"]["strobe"] = {
            "supply": "main", "behaviour": "flash", "rate": f"{chance.choice([12, 20, 40])} /min", "on_share": "20 %", "output": "300 mA, 0.2 V drop",
        }  # fmt: skip
    if model.may("dim", 0.12):
        tables["circuit"]["glow"] = {
            "supply": "main", "behaviour": "dim", "frequency": f"{chance.choice([2, 4])} kHz", "on_share": "60 %", "output": "300 mA, 0.2 V drop",
        }  # fmt: skip
    if model.may("fade", 0.12):
        tables["circuit"]["lantern"] = {
            "supply": "main", "behaviour": "fade", "rate": f"{chance.choice([6, 12])} /min", "least_share": "20 %", "frequency": "2 kHz", "output": "300 mA, 0.2 V drop",
        }  # fmt: skip
    for said in tables["circuit"].values():
        if model.hub != "base" and said.get("behaviour") in ("flash", "fade") and chance.random() < 0.5:
            said["own_return"] = True


def _lamps(model: Model) -> bool:
    chance, tables = model.chance, model.tables
    flags = chain(
        chance.sample(lights.FLAGS, len(lights.FLAGS)), (f"further {number}" for number in count(1))
    )
    circuits = list(tables["circuit"])
    steady = [name for name in circuits if "behaviour" not in tables["circuit"][name] and name != "signal"]
    for circuit in circuits:
        look = lights.style(model, circuit)
        if look is None:
            return False
        if model.may("sum", 0.12) and look["ohms"] >= 100:
            first = max(
                one
                for scale in (10, 100, 1000)
                for base in (1.0, 1.5, 2.2, 3.3, 4.7, 6.8)
                if (one := base * scale) <= 0.7 * look["ohms"]
            )
            rest = lights.e12_above(look["ohms"] - first)
            look |= {"ohms": first + rest, "split": (first, rest)}
        for _ in range(chance.randint(1, 4)):
            at_hub = chance.random() < 0.15
            lights.led(
                model, circuit, look, f"{next(flags)} lamp", model.hub if at_hub else lights.home(model)
            )
    circuit = chance.choice(steady)
    if (
        model.may("inside", 0.15)
        and lights.as_it_is(model, circuit, "inside", "hatch lamp", lights.home(model)) is None
    ):
        model.has.discard("inside")
    if (
        model.may("bulb", 0.1)
        and lights.as_it_is(model, circuit, "bulb", "lantern bulb", lights.home(model)) is None
    ):
        model.has.discard("bulb")
    flashes = any(said.get("behaviour") in ("flash", "fade") for said in tables["circuit"].values())
    if (
        not flashes
        and model.may("chip", 0.12)
        and lights.as_it_is(model, circuit, "chip", "buoy lamp", lights.home(model)) is None
    ):
        model.has.discard("chip")
    if model.source.usual == 12 and not model.source.stiff and model.may("strip", 0.15):
        lights.strip(model, circuit, "hold strip")
    if model.may("sound", 0.1):
        further.sound_board(model)
    if not model.source.stiff and model.may("constant", 0.1):
        further.constant(model)
    if model.may("matched", 0.1):
        further.matched(model, circuit)
    if len(steady) > 1 and model.hub != "base" and circuit != steady[-1] and model.may("negative", 0.2):
        further.negative(model, steady[-1])
    if model.may("wanted", 0.2):
        for part in model.of("led")[:2]:
            further.dim_on_purpose(model, part)
    if model.may("chain", 0.12):
        _chain(model)
    if model.may("trimmer", 0.1):
        _trimmer(model)
    if not model.source.stiff and model.has & {"adaptor"} and model.may("motor", 0.12):
        tables["circuit"]["drive"] = {"supply": "main"} | (
            {"own_return": True} if model.hub != "base" else {}
        )
        motors.motor(model, "drive")
    if model.may("colours", 0.08):
        for colour in ("red", "green", "blue"):
            tables["circuit"][f"signal {colour}"] = {"supply": "main"}
        if (
            lights.colours(
                model,
                {colour: f"signal {colour}" for colour in ("red", "green", "blue")},
                "signal head",
                model.hub,
            )
            is None
        ):
            return False
    return True


def _tells(model: Model) -> bool:
    """Whether readings reach what is soldered to its line inside: of several lamps on a line one dark one could be within their tolerances."""
    inside = {
        part.circuit if part.sort != "constant" else "" for part in model.parts
        if part.entry["place"] in model.lined and model.tables["place"][part.entry["place"]]["access"] == "sealed"
    }  # fmt: skip
    return all([part.circuit for part in model.parts].count(circuit) == 1 for circuit in inside)


def _chain(model: Model) -> None:
    """A string whose lamps sit in several places, with a wire from one to the next."""
    rows = [
        part for part in model.of("led") if part.series > 1 and part.parallel == 1 and "lead" in part.entry
    ]
    if not rows or len(model.bodies) - len(model.lined) < 2:
        model.has.discard("chain")
        return
    part = rows[0]
    other = next(body for body in model.bodies if body != part.entry["place"] and body not in model.lined)
    place = part.entry["place"]
    part.entry["places"] = [place] * (part.series - 1) + [other]
    part.entry["links"] = [f"{10 * model.chance.randint(4, 12)} mm" for _ in range(part.series - 1)]
    model.warm(other, 0.05)


def _trimmer(model: Model) -> None:
    """Half as much again in a trimmer, set to a third: turned down to zero its lamp has what it had before."""
    rows = [
        part
        for part in model.of("led")
        if "lead" in part.entry
        and "+" not in part.entry["resistor"]
        and part.entry["resistor"].endswith(f"at {model.hub}")
    ]
    rows = [part for part in rows if part.ohms >= 150]
    if not rows:
        model.has.discard("trimmer")
        return
    part = rows[0]
    value = next(one for one in (100, 200, 500, 1000, 2000, 5000) if one >= 0.4 * part.ohms)
    part.entry["resistor"] = part.entry["resistor"].replace(
        " at ", f" + trimmer {value} ohm 1/2 W set {int(0.3 * value)} at "
    )
    part.entry["wanted"] = (
        f"{0.3 * part.amps * 1000 / part.parallel:.1f}..{part.amps * 1400 / part.parallel:.1f} mA"
    )
    part.sort = "trimmed"
    die, volts, ohms = (
        DICE[part.entry["kind"]],
        lights.volts_on(model, part.circuit),
        part.ohms + int(0.3 * value),
    )
    part.amps = part.parallel * string_amps(volts[1], die, part.series, ohms)
    part.least = part.parallel * least_amps(volts[0], die, part.series, part.ohms + value)


def _electrics(model: Model, kind: str, said: dict[str, Any]) -> bool:
    """Rating and fuse; the board and converter within theirs."""
    for name, one in model.tables["circuit"].items():
        load = sum(part.most for part in model.parts if part.circuit == name)
        if "constant" in one.get("output", ""):
            continue
        if (
            ("board" in one and load > 0.12)
            or ("output" in one and load > 0.2)
            or (one.get("supply") == "five" and load > 0.25)
        ):
            return False
    return supplies.finish(model, kind, said)


def _switches(model: Model) -> None:
    if "bank" not in model.has and model.may("switch", 0.2):  # a bank goes to sleep behind its switch
        name = model.chance.choice(
            [
                one
                for one, said in model.tables["circuit"].items()
                if "board" not in said and "output" not in said and "switched" not in said
            ]
        )
        model.tables["circuit"][name]["on_off"] = "2 A at base"
    if model.may("join", 0.1) and model.hub != "base":
        plain = [
            name for name, said in model.tables["circuit"].items()
            if said == {"supply": "main"} and name not in ("drive", "horn") and not name.startswith("signal")
        ]  # fmt: skip
        if len(plain) < 2:
            model.has.discard("join")
            return
        model.tables["join"] = [{"place": model.hub, "lines": plain[:2]}]


def _shorts(model: Model, kind: str) -> bool:
    """Whether a short anywhere leaves the copper whole: it stands all that the source can give for good, or its fuse opens in time."""
    said = model.tables["supply"]["main"]
    fuse = supplies.amps(said["fuse"])
    rated = supplies.amps(said["rated"]) if "rated" in said else {"usb": 0.5}.get(kind, 99.0)
    run, lead = WIRES[model.wire], WIRES[model.lead]
    loop = 0.05 + model.source.ohms + 2 * (model.way + 200) / 1000 * run.ohms
    long = 0.3  # m of lead
    bare = [
        part for part in model.parts
        if "lead" in part.entry and not part.entry.get("resistor", "").endswith(f"at {model.hub}")
    ]  # fmt: skip
    for wire, ohms in [(run, loop)] + ([(lead, loop + 2 * long * lead.ohms)] if bare else []):
        amps = model.source.usual / ohms
        steady = warms(wire, min(amps, 2 * rated)) < 40
        if amps < 4 * fuse or not (steady or (model.source.stiff and holds_until(wire, amps, fuse))):
            return False
    return True


def _steps(model: Model) -> bool:
    """Whether flashers and motors leave steady lamps alone: the volts that they cost on what is shared, over the volts on a resistor."""
    tables = model.tables
    shared = model.source.ohms + (
        0.02 + (model.way + 200) / 1000 * WIRES[model.wire].ohms if model.hub != "base" else 0.0
    )
    jump = 0.0
    for part in model.parts:
        said = tables["circuit"][part.circuit]
        if said.get("behaviour") in ("flash", "fade") or part.sort == "chip" or part.starting:
            path = model.source.ohms if said.get("own_return") else shared
            jump += max(part.most, part.starting) * path
    spare = min((part.ohms * part.amps / part.parallel for part in model.parts if part.ohms), default=1.0)
    return jump < 0.01 * spare
