"""Slips at circuits and boards: flashers, dimmers, joins."""

from __future__ import annotations

from tests.construction.faults.record import Asked, Found, NotHere, Sort, first, sort
from tests.construction.model import Model


def flashing(model: Model) -> str:
    """A circuit that flashes."""
    return first([name for name, said in model.tables["circuit"].items() if said.get("behaviour") == "flash"])


def steady(model: Model) -> str:
    """One that does not, on the main supply."""
    return first(
        [
            name
            for name, said in model.tables["circuit"].items()
            if set(said) <= {"supply", "on_off"} and said["supply"] == "main" and "signal" not in name
        ]
    )


@sort("a steady lamp put on the flasher's wire", "flasher", "no closing")
def on_flasher(model: Model) -> Found:
    circuit = flashing(model)
    part = first([part for part in model.of("led") if part.circuit == steady(model)])
    mine = first([one for one in model.of("led") if one.circuit == circuit])
    part.entry |= {"circuit": circuit, "behaviour": "steady", "kind": mine.entry["kind"]}
    return Found("circuit.steady-on-flasher", part.name)


@sort("flasher and steady line joined at the hub", "flasher", "hub", "no join", "no closing")
def joined(model: Model) -> Found:
    circuit = steady(model)
    model.tables["join"] = [{"place": model.hub, "lines": [circuit, flashing(model)]}]
    return Found("circuit.steady-on-flasher", model.hub)


@sort("dimmed and steady line joined at the hub", "dim", "hub", "no join", "no closing")
def dimmed(model: Model) -> Found:
    dims = [name for name, said in model.tables["circuit"].items() if said.get("behaviour") == "dim"]
    model.tables["join"] = [{"place": model.hub, "lines": [steady(model), first(dims)]}]
    return Found("circuit.steady-on-flasher", model.hub)


@sort("outputs of one board joined", "board", "hub", "no join", "no closing")
def outputs(model: Model) -> Found:
    names = [name for name, said in model.tables["circuit"].items() if "board" in said]
    if len(names) < 2:
        raise NotHere
    model.tables["join"] = [{"place": model.hub, "lines": names[:2]}]
    return Found("circuit.joined-outputs", model.hub)


@sort("flash rate typed a second for a minute", "flasher")
def fast(model: Model) -> Found:
    circuit = flashing(model)
    said = model.tables["circuit"][circuit]
    said["rate"] = said["rate"].replace("/min", "/s")
    return Found("flash.rate", circuit)


@sort("a flasher for each of two lamps, together too fast", "board", "flasher")
def together(model: Model) -> Found:
    names = [name for name, said in model.tables["circuit"].items() if said.get("behaviour") == "flash"]
    for name in names:
        model.tables["circuit"][name]["rate"] = "120 /min"
    return Found("flash.together", "|".join(names))


@sort("dimming of 75 Hz", "dim")
def slow_dim(model: Model) -> Found:
    model.tables["circuit"]["glow"]["frequency"] = "75 Hz"
    return Found("dim.frequency", "glow")


@sort("dimming of 20 Hz", "dim")
def seizure(model: Model) -> Found:
    model.tables["circuit"]["glow"]["frequency"] = "20 Hz"
    return Found("dim.frequency", "glow")


@sort("a fade every tenth of a second", "fade")
def fade(model: Model) -> Found:
    model.tables["circuit"]["lantern"]["rate"] = "10 /s"
    return Found("flash.rate", "lantern")


@sort("an output that is too weak", "flasher")
def weak_output(model: Model) -> Found:
    load = sum(part.amps for part in model.parts if part.circuit == "strobe")
    model.tables["circuit"]["strobe"]["output"] = f"{700 * load:.1f} mA, 0.2 V drop"
    return Found("output.overload", "strobe")


@sort("a board's channel that is too weak", "board")
def weak_channel(model: Model) -> Found:
    loads = {
        name: sum(part.amps for part in model.parts if part.circuit == name)
        for name, said in model.tables["circuit"].items()
        if "board" in said
    }
    worst = max(loads, key=lambda name: loads[name])
    model.tables["board"]["flasher"]["limit"] = f"{700 * loads[worst]:.1f} mA"
    return Found("board.overload", worst)


@sort("a board that is too weak in all", "board")
def weak_board(model: Model) -> Found:
    load = sum(part.amps for part in model.parts if "board" in model.tables["circuit"][part.circuit])
    model.tables["board"]["flasher"]["total"] = f"{700 * load:.1f} mA"
    return Found("board.overload", "flasher")


@sort("a 5 V board on more volts", "board", "12 V")
def board_high(model: Model) -> Found:
    model.tables["board"]["flasher"] |= {"least_volts": "4.5 V", "most_volts": "5.5 V"}
    return Found("board.wrong-volts", "flasher")


@sort("a 12 V board on 5 V", "board", "5 V")
def board_low(model: Model) -> Found:
    model.tables["board"]["flasher"] |= {"least_volts": "9 V", "most_volts": "15 V"}
    return Found("board.wrong-volts", "flasher")


@sort("a sound board put on a flasher", "sound", "no closing")
def horn_flashed(model: Model) -> Found:
    model.tables["circuit"]["horn"] |= {"behaviour": "flash", "rate": "20 /min", "output": "1 A, 0.1 V drop"}
    return Found("load.restarts", "fog horn")


@sort("nothing named that makes it flash", "flasher")
def no_output(model: Model) -> Asked:
    del model.tables["circuit"]["strobe"]["output"]
    return Asked("strobe", "")


@sort("a circuit on a supply that nobody has yet")
def no_supply(model: Model) -> Asked:
    circuit = steady(model)
    del model.tables["circuit"][circuit]["supply"]
    model.tables["supply"]["second"] = {
        "kind": "adaptor",
        "place": "base",
        "volts": "12 V",
        "rated": "1 A",
        "fuse": "250 mA",
    }
    return Asked(circuit, "")


SORTS = tuple(value for value in globals().values() if isinstance(value, Sort))
