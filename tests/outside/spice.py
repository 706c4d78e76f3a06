"""Runs ngspice on a netlist and reads back every node voltage and source current."""

from __future__ import annotations

import contextlib
import shutil
import subprocess
from collections.abc import Sequence
from pathlib import Path

# Tolerances far below what is compared, and 25 degC, where the curves are given. Where ngspice does not settle with
# the first set it is asked again with a little more leeway, still well below what is compared.
OPTIONS = tuple(
    f".options reltol={reltol} abstol=1e-15 vntol=1e-12 gmin={gmin} itl1=2000 itl2=500 temp=25 tnom=25"
    for reltol, gmin in (("1e-11", "1e-18"), ("1e-10", "1e-17"), ("1e-8", "1e-15"))
)


class Unsettled(RuntimeError):
    """ngspice itself found no operating point."""


def operating_point(netlist: str, folder: Path) -> dict[str, float]:
    """The operating point: `v(node)` and `i(source)` by name. ngspice missing is an error, never a skip."""
    program = shutil.which("ngspice")
    if program is None:
        raise RuntimeError("ngspice is needed for this comparison: apt-get install ngspice")
    raw = folder / "out.raw"
    for options in OPTIONS:
        raw.unlink(missing_ok=True)
        tail = f"{options}\n.control\nset filetype=ascii\nop\nwrite {raw}\nquit\n.endc\n.end\n"
        (folder / "deck.cir").write_text(netlist.removesuffix(".end") + tail)
        subprocess.run(
            [program, "-b", str(folder / "deck.cir")],
            capture_output=True,
            check=False,
            timeout=60,
            cwd=folder,
        )
        found = _read(raw) if raw.exists() else {}
        if found and max(abs(value) for name, value in found.items() if name.startswith("v(")) < 1000:
            return found
    raise Unsettled("ngspice found no operating point")


def operating_points(netlists: Sequence[str], folder: Path) -> list[dict[str, float]]:
    """The operating points of many small netlists, by one run; what does not settle there is tried by itself."""
    program = shutil.which("ngspice")
    if program is None:
        raise RuntimeError("ngspice is needed for this comparison: apt-get install ngspice")
    script = ["* many", ".control", "set filetype=ascii"]
    for number, netlist in enumerate(netlists):
        (folder / f"deck{number}.cir").write_text(f"{netlist.removesuffix('.end')}{OPTIONS[0]}\n.end\n")
        (folder / f"out{number}.raw").unlink(missing_ok=True)
        script += [f"source {folder}/deck{number}.cir", "op", f"write {folder}/out{number}.raw"]
        script += ["destroy all", "remcirc"]
    (folder / "many.cir").write_text("\n".join([*script, "quit", ".endc", ".end\n"]))
    subprocess.run(
        [program, "-b", str(folder / "many.cir")], capture_output=True, check=False, timeout=300, cwd=folder
    )
    found = []
    for number, netlist in enumerate(netlists):
        raw = folder / f"out{number}.raw"
        point = _read(raw) if raw.exists() else {}
        settled = point and max(abs(value) for name, value in point.items() if name.startswith("v(")) < 1000
        found.append(point if settled else operating_point(netlist, folder))
    return found


# For decks with heat in them: what rounding leaves of the current in a short wire must not count.
LED = ".options reltol=1e-9 abstol=1e-12 vntol=1e-10 gmin=1e-16 itl1=2000 itl2=500 temp=25 tnom=25"


def led(netlist: str, source: str, volts: Sequence[float], folder: Path) -> dict[str, float]:
    """The operating point at the end of a way that a source is led: from volts, to volts, by steps of volts.

    Where ngspice settles on nothing, nothing is found; what it settles on may still be wrong.
    """
    program = shutil.which("ngspice")
    if program is None:
        raise RuntimeError("ngspice is needed for this comparison: apt-get install ngspice")
    raw = folder / "out.raw"
    raw.unlink(missing_ok=True)
    way = " ".join(f"{volt:g}" for volt in volts)
    script = f".control\nset filetype=ascii\ndc {source} {way}\nwrite {raw}\nquit\n.endc\n.end\n"
    (folder / "deck.cir").write_text(f"{netlist.removesuffix('.end')}{LED}\n{script}")
    with contextlib.suppress(subprocess.TimeoutExpired):
        command = [program, "-b", str(folder / "deck.cir")]
        subprocess.run(command, capture_output=True, check=False, timeout=20, cwd=folder)
    start, end, step = volts
    whole = raw.exists() and f"No. Points: {1 + round((end - start) / step)}\n" in raw.read_text()
    return _read(raw) if whole else {}


def _read(raw: Path) -> dict[str, float]:
    """The last point of a file."""
    names: list[str] = []
    lines = iter(raw.read_text().splitlines())
    for line in lines:
        if line.startswith("Variables:"):
            break
    for line in lines:
        if line.startswith("Values:"):
            break
        names.append(line.split()[1].lower())
    values = []
    for line in lines:
        words = line.split()
        if words:
            values.append(float(words[-1].split(",")[0]))
    if not values or len(values) % len(names):
        return {}
    return dict(zip(names, values[-len(names) :], strict=True))
