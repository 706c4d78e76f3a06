"""Build files under 100 kB that ask for much, by name: the first are what a builder may write, the last what nobody does."""

from __future__ import annotations

from collections.abc import Callable

__all__ = ["FILES", "adaptors", "conductors", "converters", "parallel", "plugs", "strips"]


def _head(supplies: str = "", rated: str = "5 A") -> str:
    return f"""format = 1
[build]
name = "Tender"
stage = "wiring"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
rated = "{rated}"
fuse = "2 A"
[place.base]
access = "open"
[place.hub]
access = "cover"
material = "abs"
surface = "90 cm2"
{supplies}"""


def _post(bore: str, staggered: str = "") -> str:
    said = f"staggered = {staggered}\n" if staggered else ""
    return f'[post]\nfrom = "base"\nto = "hub"\nbore = "{bore}"\nlength = "120 mm"\n{said}'


_RUNNING = '[circuit.running]\nsupply = "main"\nbehaviour = "steady"\n'


def _run(line: str, more: str = "", ends: str = '"base", "hub"') -> str:
    return f'[[run]]\nline = "{line}"\nends = [{ends}]\nlength = "300 mm"\nwire = "ptfe-28"\n{more}'


def _lamp(name: str, more: str = "", circuit: str = "running", place: str = "hub") -> str:
    return (
        f'[[lamp]]\nname = "{name}"\ncircuit = "{circuit}"\nkind = "smd-0603-white"\nplace = "{place}"\n'
        f'resistor = "1k 1/4 W"\nlead = "80 mm of enamel-0.10 to {place}, red/black"\n{more}'
    )


def _joints(bore: str, joints: list[str], staggered: str = "", wire: str = "ptfe-28") -> str:
    """Runs with a joint each: every one its own circuit, and the negative."""
    count = len(joints)
    circuits = "".join(f'[circuit.c{n}]\nsupply = "main"\nbehaviour = "steady"\n' for n in range(count - 1))
    runs = "".join(
        _run("main-" if n == count - 1 else f"c{n}", f'name = "run {n}"\njoint = "{joint}"\n')
        for n, joint in enumerate(joints)
    )
    lamps = "".join(_lamp(f"lamp {n}", circuit=f"c{n}") for n in range(count - 1))
    return _head() + _post(bore, staggered) + circuits + runs.replace("ptfe-28", wire) + lamps


def _equal_joints() -> str:
    return _joints("3.8 mm", ["2.2 mm"] * 8, wire="ptfe-24")


def _sized_joints(count: int, bore: str) -> str:
    return _joints(bore, [f"{1.6 + 0.07 * n:.2f} mm" for n in range(count)])


def _flat_joints(bore: str = "5.2 mm") -> str:
    return _joints(bore, [f"{2.4 + 0.05 * n:.2f} x 0.9 mm" for n in range(20)], "true")


def conductors(runs: int) -> str:
    """Runs of 200 conductors in one post."""
    each = "".join(_run("running", f'name = "run {n}"\nconductors = 200\n') for n in range(runs - 1))
    return (
        _head() + _post("30 mm") + _RUNNING + each + _run("main-", "conductors = 200\n") + _lamp("nose lamp")
    )


def parallel(lamps: int) -> str:
    """Lamps of a thousand strings."""
    body = "".join(_lamp(f"lamp {n}", "parallel = 1000\n") for n in range(lamps))
    return _head(rated="100 A") + _RUNNING + _run("running") + _run("main-") + body


def strips(count: int, segments: int) -> str:
    """Strips with measured traces."""
    body = "".join(
        f'[[strip]]\nname = "strip {n}"\ncircuit = "running"\nkind = "strip-12v-warm-white-60"\nplace = "hub"\n'
        f'segments = {segments}\ntrace = "0.5 ohm/m"\n'
        for n in range(count)
    )
    return _head(rated="100 A") + _RUNNING + _run("running") + _run("main-") + body


def _chained_strips(count: int) -> str:
    places = "".join(f'[place.p{n}]\naccess = "open"\n' for n in range(count + 1))
    body = "".join(
        f'[[strip]]\nname = "strip {n}"\ncircuit = "running"\nkind = "strip-12v-warm-white-60"\n'
        f'place = "{"hub" if n == 0 else f"p{n}"}"\nsegments = 3\ntrace = "0.5 ohm/m"\nfar_end = "p{n + 1}"\n'
        for n in range(count)
    )
    return _head(places) + _RUNNING + _run("running") + _run("main-") + body


def converters(count: int) -> str:
    """Converters in a chain."""
    each = "".join(
        f'[supply.s{n}]\nkind = "converter"\nplace = "hub"\nfrom = "{"main" if n == 0 else f"s{n - 1}"}"\n'
        f'volts = "{11.9 - 0.1 * n:.1f} V"\nrated = "2 A"\nefficiency = "95 %"\nleast_input = "4 V"\n'
        for n in range(count)
    )
    last = f"s{count - 1}"
    circuit = f'[circuit.running]\nsupply = "{last}"\nbehaviour = "steady"\n'
    return _head(each) + circuit + _run("main+") + _run("main-") + _lamp("nose lamp")


def adaptors(count: int) -> str:
    """Adaptors of 5 to 17 V that fit one socket."""
    each = "".join(
        f'[supply.s{n}]\nkind = "adaptor"\nplace = "base"\nvolts = "{5 + n % 13} V"\nrated = "1 A"\nfuse = "500 mA"\n'
        f'socket = "5.5/2.1 mm, centre positive"\n[circuit.c{n}]\nsupply = "s{n}"\nbehaviour = "steady"\n'
        for n in range(count)
    )
    lamps = "".join(_lamp(f"lamp {n}", circuit=f"c{n}", place="base") for n in range(count))
    return _head(each) + lamps


def _circuits(count: int, behaviour: str = 'behaviour = "steady"') -> str:
    circuits = "".join(f'[circuit.c{n}]\nsupply = "main"\n{behaviour}\n' for n in range(count))
    lamps = "".join(_lamp(f"lamp {n}", circuit=f"c{n}", place="base") for n in range(count))
    return _head(rated="50 A") + circuits + lamps


def plugs(count: int) -> str:
    """Plugs of two pins that go in either way."""
    circuits = "".join(f'[circuit.c{n}]\nsupply = "main"\nbehaviour = "steady"\n' for n in range(count))
    places = "".join(f'[place.p{n}]\naccess = "cover"\n' for n in range(count))
    each = "".join(
        f'[[plug]]\nname = "plug {n}"\nends = ["hub", "p{n}"]\npins = ["c{n}", "main-"]\nkeyed = false\n'
        f'rated = "1 A"\ncontact = "20 mohm"\n'
        for n in range(count)
    )
    runs = "".join(_run(f"c{n}") for n in range(count))
    lamps = "".join(_lamp(f"lamp {n}", circuit=f"c{n}", place=f"p{n}") for n in range(count))
    return _head(places) + circuits + each + runs + _run("main-") + lamps


def _closing(count: int) -> str:
    """Places about to be closed, a lamp of its own circuit in each."""
    parts = []
    for n in range(count):
        parts.append(f'[place.p{n}]\naccess = "sealed"\nmaterial = "styrene"\nsurface = "20 cm2"\n')
        parts.append(f'[circuit.c{n}]\nsupply = "main"\nbehaviour = "steady"\n')
        parts.append(_run(f"c{n}", 'colour = "white"\n'))
        parts.append(_lamp(f"lamp {n}", circuit=f"c{n}", place=f"p{n}").replace(f"to p{n}", "to hub"))
    return (_head(rated="20 A") + "".join(parts) + _run("main-")).replace('"wiring"', '"closing"')


def _links(chains: int) -> str:
    links = ", ".join('"20 mm of enamel-0.10"' for _ in range(199))
    return (
        _head(rated="50 A")
        + _RUNNING
        + _run("running")
        + _run("main-")
        + "".join(
            f'[[lamp]]\nname = "chain {n}"\ncircuit = "running"\nkind = "smd-0603-white"\nplace = "hub"\n'
            f'series = 200\nresistor = "1k 1/4 W"\nlead = "80 mm of enamel-0.10 to hub, red/black"\n'
            f"links = [{links}]\n"
            for n in range(chains)
        )
    )


def _strings_anew() -> str:
    """A thousand strings that share a lead, wired once."""
    lamp = _lamp("tank strings", 'series = 3\nparallel = 1000\nstrings_share = "lead"\n')
    return _head(rated="20 A") + _RUNNING + _run("running") + _run("main-") + lamp


def _like_leads(count: int) -> str:
    """Lamps in a hub, all alike, their resistors where their leads end: each lead has bench figures."""
    lamps = "".join(_lamp(f"lamp {n}") for n in range(count))
    return (
        _head(rated="20 A")
        + _RUNNING
        + _run("running")
        + _run("main-")
        + lamps.replace('1/4 W"', '1/4 W at hub"')
    )


FLASHING = 'behaviour = "flash"\nrate = "45 /min"\non_share = "12 %"\noutput = "100 mA, 0.2 V drop"'

# name: (the file, what command is run over it)
FILES: dict[str, tuple[str, Callable[[], str]]] = {
    "8 equal joints": ("check", _equal_joints),
    "12 sized joints": ("check", lambda: _sized_joints(12, "3.4 mm")),
    "14 sized joints": ("check", lambda: _sized_joints(14, "3.6 mm")),
    "20 flat joints": ("check", _flat_joints),
    "20 flat joints long": ("post --effort long", _flat_joints),
    "12 x 200 conductors": ("check", lambda: conductors(12)),
    "300 x 200 conductors": ("check", lambda: conductors(300)),
    "8 x 1000 parallel sheet": ("sheet", lambda: parallel(8)),
    "3 x 1000 parallel": ("check", lambda: parallel(3)),
    "3 x 1000 parallel sheet": ("sheet", lambda: parallel(3)),
    "1000 segments": ("check", lambda: strips(1, 1000)),
    "25 x 200 conductors": ("check", lambda: conductors(25)),
    "30 converters": ("check", lambda: converters(30)),
    "100 x 1000 parallel": ("check", lambda: parallel(100)),
    "500 x 1000 parallel": ("check", lambda: parallel(500)),
    "6 x 1000 segments": ("check", lambda: strips(6, 1000)),
    "40 chained strips": ("check", lambda: _chained_strips(40)),
    "150 converters": ("check", lambda: converters(150)),
    "80 adaptors": ("check", lambda: adaptors(80)),
    "200 adaptors": ("check", lambda: adaptors(200)),
    "450 circuits sheet": ("sheet", lambda: _circuits(450)),
    "100 plugs": ("check", lambda: plugs(100)),
    "200 plugs": ("check", lambda: plugs(200)),
    "120 closings": ("check", lambda: _closing(120)),
    "250 closings": ("check", lambda: _closing(250)),
    "360 flashing": ("check", lambda: _circuits(360, FLASHING)),
    "12 x 200 links": ("check", lambda: _links(12)),
    "1000 strings anew": ("plan --anew", _strings_anew),
    "500 like leads": ("check", lambda: _like_leads(500)),
    "500 like leads vary": ("vary supply.main.volts 4V..24V", lambda: _like_leads(500)),
    "25 x 200 conductors sheet": ("sheet", lambda: conductors(25)),
    "120 closings vary": ("vary supply.main.volts 4V..24V", lambda: _closing(120)),
    "200 adaptors plan": ("plan", lambda: adaptors(200)),
}
