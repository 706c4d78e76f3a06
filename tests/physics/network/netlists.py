"""Circuits written out for ngspice, independently of the solver, and random circuits of every element.

A one-way drop without any resistance cannot be written as a law: it stands as a voltage source, or as an open end
where `opened` says so. That choice is right, and the only right one, if ngspice then finds no source of these
carrying a reverse current and no open end above its voltage; the comparison asserts that.
"""

from __future__ import annotations

import random
import shutil
import subprocess
from pathlib import Path

from postcheck.physics.network import (
    Circuit,
    ConstantPower,
    Converter,
    Demand,
    Diode,
    Drop,
    Filament,
    Resistance,
    Source,
    SteadyCurrent,
    String,
    fit_diode,
)

# ngspice-39 src/include/ngspice/const.h: CODATA 2014; 25 degC
NGSPICE_VT = 1.38064852e-23 * 298.15 / 1.6021766208e-19
OPTIONS = (
    ".options temp=25 tnom=25 gmin=1e-15 reltol=1e-9 abstol=1e-13 vntol=1e-11 itl1=300 itl2=100 numdgt=15"
)

WHITE = fit_diode(2.85, 5e-3, 3.2, 20e-3)
RED = fit_diode(2.0, 5e-3, 2.1, 20e-3)
BLUE = fit_diode(2.8, 5e-3, 3.1, 20e-3)
GREEN = fit_diode(2.65, 2e-3, 3.2, 20e-3)


def _n(node: int) -> str:
    return "0" if node == 0 else f"n{node}"


def netlist(circuit: Circuit, sweep: str, power: str = "v(lam)", opened: tuple[int, ...] = ()) -> str:
    """SPICE text. Every element k has an ammeter vm{k}; node 0 is earth. `power` scales the power taken."""
    lines = ["* lighting circuit", OPTIONS, "vlam lam 0 1"]
    for k, e in enumerate(circuit.elements):
        if isinstance(e, Source):
            lines.append(f"vm{k} m{k} {_n(e.plus)} 0")  # delivered out of plus
            lines.append(f"ve{k} e{k} {_n(e.minus)} {e.volts!r}")
            lines.append(f"re{k} e{k} m{k} {e.ohms!r}" if e.ohms else f"ve{k}x e{k} m{k} 0")
        elif isinstance(e, Converter):
            lines.append(f"vm{k} m{k} {_n(e.out_plus)} 0")
            lines.append(f"ve{k} e{k} {_n(e.out_minus)} {e.volts!r}")
            lines.append(f"re{k} e{k} m{k} {e.ohms!r}" if e.ohms else f"ve{k}x e{k} m{k} 0")
            out = f"v({_n(e.out_plus)},{_n(e.out_minus)})"
            into = f"v({_n(e.in_plus)},{_n(e.in_minus)})"
            taken = f"{power}*(max(0,{out}*i(vm{k}))/{e.efficiency!r}+{e.idle_watts!r})/max({into},0.05)"
            lines.append(f"vi{k} {_n(e.in_plus)} i{k} 0")
            lines.append(f"bi{k} i{k} {_n(e.in_minus)} i={taken}")
        else:
            lines.append(f"vm{k} {_n(e.a)} m{k} 0")
            if isinstance(e, Drop) and not e.ohms:
                lines.append(
                    f"re{k} m{k} {_n(e.b)} 1e15" if k in opened else f"ve{k} m{k} {_n(e.b)} {e.volts!r}"
                )
            else:
                lines += _load(k, e, power)
    lines += [sweep, ".end"]
    return "\n".join(lines) + "\n"


def _load(k: int, e: object, power: str) -> list[str]:
    a, b = f"m{k}", _n(e.b)  # type: ignore[attr-defined]
    v = f"v({a},{b})"
    if isinstance(e, Resistance):
        return [f"r{k} {a} {b} {e.ohms!r}"]
    if isinstance(e, Drop):
        return [f"b{k} {a} {b} i=max(0,{v}-{e.volts!r})/{e.ohms!r}"]
    if isinstance(e, SteadyCurrent | Demand):
        volts = e.compliance if isinstance(e, SteadyCurrent) else e.least_volts
        return [f"b{k} {a} {b} i=min({e.amps!r},max(0,{v}*{e.amps / volts!r}))"]
    if isinstance(e, Filament):
        series = []
        if e.ohms:  # ngspice has them as a resistor of their own
            series, a = [f"r{k}f {a} f{k} {e.ohms!r}"], f"f{k}"
            v = f"v({a},{b})"
        cold = e.amps / e.volts * 1e-3 ** (e.exponent - 1.0)
        law = f"{e.amps!r}*sgn({v})*pow(abs({v})/{e.volts!r},{e.exponent!r})"
        return [*series, f"b{k} {a} {b} i=(abs({v})>{e.volts * 1e-3!r}) ? {law} : {v}*{cold!r}"]
    if isinstance(e, ConstantPower):
        return [f"b{k} {a} {b} i={power}*{e.watts!r}/max({v},0.05)"]
    assert isinstance(e, String)
    lines, here = [], a
    for j, d in enumerate(e.diodes):
        model = f"d{k}x{j}m"
        lines.append(f".model {model} d(is={d.saturation!r} n={d.slope / NGSPICE_VT!r} rs={d.ohm!r})")
        lines.append(f"d{k}x{j} {here} d{k}y{j} {model}")
        lines.append(f"vs{k}x{j} d{k}y{j} d{k}z{j} {d.shift!r}")
        here = f"d{k}z{j}"
    lines.append(f"r{k} {here} {b} {e.ohms!r}" if e.ohms else f"v{k}end {here} {b} 0")
    return lines


def run(folder: Path, jobs: list[tuple[str, list[str]]], end: float = 1.0) -> list[list[float] | None]:
    """Run netlists in one ngspice process. Each job: (netlist, vectors); each vector where the sweep is at `end`.

    None where ngspice itself found no solution and broke the sweep off.
    """
    program = shutil.which("ngspice")
    assert program, "ngspice is needed: it is the outside reference"
    script = ["* all circuits", ".control", "set numdgt=15", "set wr_singlescale"]
    for n, (text, vectors) in enumerate(jobs):
        (folder / f"c{n}.cir").write_text(text)
        script += [f"source {folder}/c{n}.cir", "run"]
        script.append(f"wrdata {folder}/o{n}.txt " + " ".join(vectors))
        script += ["destroy all", "remcirc"]
    script += ["quit", ".endc", ".end"]
    (folder / "all.cir").write_text("\n".join(script) + "\n")
    done = subprocess.run(
        [program, "-b", str(folder / "all.cir")], capture_output=True, text=True, timeout=120, cwd=folder,
        check=False,
    )  # fmt: skip
    results: list[list[float] | None] = []
    for n in range(len(jobs)):
        path = folder / f"o{n}.txt"
        row = [float(word) for word in path.read_text().splitlines()[-1].split()] if path.exists() else [-1.0]
        results.append(row[1:] if abs(row[0] - end) < 1e-6 else None)
    assert any(results), f"ngspice gave nothing\n{done.stdout[-2000:]}\n{done.stderr[-2000:]}"
    return results


def vectors(circuit: Circuit) -> list[str]:
    """Every ammeter, every converter's input, every node but earth, in that order."""
    names = [f"i(vm{k})" for k in range(len(circuit.elements))]
    names += [f"i(vi{k})" for k, e in enumerate(circuit.elements) if isinstance(e, Converter)]
    return names + [f"v({_n(node)})" for node in range(1, circuit.nodes)]


def random_circuit(seed: int) -> Circuit:
    """A lighting circuit of every element: feeds and returns as trees with loops, outputs, converters, lamps."""
    r = random.Random(seed)
    count = [2]

    def new() -> int:
        count[0] += 1
        return count[0] - 1

    volts = r.choice([5.0, 9.0, 12.0, 12.6])
    parts: list[object] = [Source(1, 0, volts, r.choice([0.0, 0.0, 0.3]))]
    feeds, returns = [1], [0]

    def grow(nodes: list[int], times: int) -> None:
        for _ in range(times):
            node = new()
            parts.append(Resistance(r.choice(nodes), node, 10 ** r.uniform(-2, 0.3)))
            nodes.append(node)
        if len(nodes) > 2 and r.random() < 0.5:
            a, b = r.sample(nodes, 2)
            parts.append(Resistance(a, b, 10 ** r.uniform(-2, 0.3)))

    grow(feeds, r.randint(1, 4))
    grow(returns, r.randint(1, 4))
    for _ in range(r.randint(0, 2)):  # board outputs
        node = new()
        parts.append(Drop(r.choice(feeds), node, r.choice([0.0, 0.2, 0.7]), r.choice([0.0, 0.5])))
        own = [node]
        grow(own, r.randint(0, 2))
        feeds += own
    if r.random() < 0.3:  # a second, lower supply behind a one-way drop that may stay off
        low, node = new(), new()
        parts.append(Source(low, 0, volts * r.uniform(0.3, 1.1), 0.0))
        parts.append(Drop(low, node, 0.3, 0.0))
        parts.append(Resistance(node, r.choice(feeds), 0.5))
    if r.random() < 0.6:
        out = new()
        minus = r.choice(returns)
        parts.append(
            Converter(
                r.choice(feeds),
                minus,
                out,
                minus,
                r.choice([3.3, 5.0, 9.0]),
                r.uniform(0.7, 0.95),
                2.5,
                r.choice([0.0, 0.02]),
                r.choice([0.0, 0.0, 0.2]),
            )
        )
        for _ in range(r.randint(1, 3)):
            parts.append(_string(r, out, r.choice(returns), 5.0))
    for _ in range(r.randint(2, 8)):
        parts.append(_string(r, r.choice(feeds), r.choice(returns), volts))
    extra = [
        lambda a, b: Filament(
            a, b, volts, r.uniform(0.02, 0.1), r.uniform(0.5, 0.6), ohms=r.choice([0.0, 1.5, 60.0])
        ),
        lambda a, b: Demand(a, b, r.uniform(0.01, 0.1), r.choice([3.0, 6.0, 11.9])),
        lambda a, b: SteadyCurrent(a, b, r.uniform(0.005, 0.02), r.choice([0.5, 1.0, 6.0])),
        lambda a, b: ConstantPower(a, b, r.uniform(0.05, 0.5), 2.5),
        lambda a, b: String(b, a, 100.0, (RED,)),  # the wrong way round
    ]
    for make in r.sample(extra, r.randint(2, 5)):
        parts.append(make(r.choice(feeds), r.choice(returns)))
    if r.random() < 0.7:  # a string fed by a constant-current output
        node = new()
        parts.append(_string(r, r.choice(feeds), node, volts, 0.0))
        parts.append(SteadyCurrent(node, r.choice(returns), r.uniform(0.005, 0.03), r.choice([0.4, 0.7])))
    return Circuit(count[0], tuple(parts))  # type: ignore[arg-type]


def _string(r: random.Random, a: int, b: int, volts: float, ohms: float | None = None) -> String:
    kinds: list[Diode] = [WHITE, RED, BLUE, GREEN]
    diodes, left = [], volts
    while True:
        kind = r.choice(kinds)
        if r.random() < 0.3:
            kind = Diode(kind.saturation, kind.slope, kind.ohm, r.uniform(-0.2, 0.2))
        diodes.append(kind)
        left -= 3.0
        if left < 3.0 or r.random() < 0.4:
            break
    return String(a, b, r.choice([47.0, 150.0, 330.0, 1000.0]) if ohms is None else ohms, tuple(diodes))
