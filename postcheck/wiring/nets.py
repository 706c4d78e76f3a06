"""Names of nets, and what drives each circuit: the supply, the place where it begins, the output and its limits.

A build file says *line*; in code all that bears one line's name is a net.
"""

from collections.abc import Mapping
from typing import Literal, NamedTuple, TypeVar

from postcheck.description.models import Build, Circuit
from postcheck.description.problems import Path

_T = TypeVar("_T")


class Driver(NamedTuple):
    """What feeds one circuit. `place`: where it begins; None, as `supply`, where the file does not say.

    `pole` and `other_pole`: the nets of the supply on its switched side and on the other, empty without one; `return_net`: the net that the
    unswitched ends of its consumers are joined to. `positive`: it is switched on the positive side. `driven`: an output
    or board stands between pole and net. `drop` V lost in it, `steady` A of a constant-current output, `compliance` V as
    the file states it, `limit` A of the output alone; `path` of the table that says so.
    """

    circuit: str
    behaviour: Literal["steady", "flash", "dim", "fade"]
    supply: str | None
    place: str | None
    board: str | None
    pole: str
    other_pole: str
    return_net: str
    positive: bool
    own_return: bool
    driven: bool = False
    drop: float = 0.0
    steady: float | None = None
    compliance: float | None = None
    limit: float | None = None
    path: Path = ()

    @property
    def lossless(self) -> bool:
        """Whether its net begins straight at the pole, as far as volts and current go."""
        return self.drop == 0.0 and self.steady is None

    def net(self, side: Literal["supply", "return"]) -> str:
        """The net on one side of its consumers: its own on the supply side."""
        return self.circuit if side == "supply" else self.return_net

    def ends(self, supply: _T, back: _T) -> tuple[_T, _T]:
        """Supply and return side of a consumer, put in the order positive, negative."""
        return (supply, back) if self.positive else (back, supply)


def drivers_of(build: Build) -> dict[str, Driver]:
    """The driver of each circuit by the circuit's name."""
    return {name: _driver(build, name, circuit) for name, circuit in build.circuit.items()}


def known_supplies(build: Build) -> frozenset[str]:
    """The supplies whose volts the file gives; for a converter those of its source too."""

    def known(name: str) -> bool:
        supply = build.supply[name]
        if supply.kind == "converter":
            return supply.volts is not None and (supply.fed_by is None or known(supply.fed_by))
        return supply.kind != "adaptor" or supply.volts is not None

    return frozenset(filter(known, build.supply))


def _driver(build: Build, name: str, circuit: Circuit) -> Driver:
    board = build.board.get(circuit.board or "")
    supply = circuit.supply if circuit.supply is not None else board.supply if board is not None else None
    source = build.supply.get(supply or "")
    place = board.place if board is not None else source.place if source is not None else None
    positive = circuit.switched == "positive"
    pole, other = (f"{supply}{sign}" if supply else "" for sign in ("+-" if positive else "-+"))
    driver = Driver(
        name, circuit.behaviour, supply, place, circuit.board if board is not None else None, pole, other,
        f"{name}-return" if circuit.own_return else other, positive, circuit.own_return,
    )  # fmt: skip
    output = circuit.output or board
    if output is None:
        return driver
    path: Path = ("circuit", name, "output") if circuit.output is not None else ("board", circuit.board or "")
    return driver._replace(
        driven=True, drop=output.drop, steady=output.steady, compliance=output.compliance, limit=output.limit, path=path
    )  # fmt: skip


class Nets:
    """The name that a line's net has at a place.

    A converter's negative is one net with its source's, and supplies may share theirs: two names, one net, so one run
    serves both. Where each name has a conductor of its own, the two are apart at its far end; they meet at the converter
    or supply. A name without a conductor at a place is there by the nearest of those that it is one with.
    """

    def __init__(self, build: Build) -> None:
        self._one_with = _one_with(build)
        self._home: Mapping[str, str] = {f"{name}-": supply.place for name, supply in build.supply.items()}
        # of a root at a place, the names with a conductor there
        self._ends: dict[tuple[str, str], set[str]] = {}
        if not self._one_with:
            return
        ends = [(run.line, end) for run in build.run if run.line and not run.spare for end in run.ends]
        ends += [(line, end) for plug in build.plug for line in plug.pins for end in plug.places]
        for line, end in ends:
            self._ends.setdefault((self.one_with(line), end), set()).add(line)

    def _chain(self, line: str) -> list[str]:
        """A line and those that it is one with, up to the last of them."""
        names = [line]
        while names[-1] in self._one_with:
            names.append(self._one_with[names[-1]])
        return names

    def one_with(self, line: str) -> str:
        """The last of those that a line is one with; itself where it stands alone."""
        return self._chain(line)[-1]

    def begins(self, pole: str, place: str) -> bool:
        """Whether a pole's net begins at its supply's place; a negative that is another supply's begins at that one."""
        return all(self._home.get(line, place) == place for line in self._chain(pole))

    def at(self, line: str, place: str) -> str:
        """The net of a line at a place."""
        if line not in self._one_with:
            return line
        *names, root = self._chain(line)
        ends = self._ends.get((root, place), set())
        own = next((name for name in names if name in ends and self._home.get(name) != place), root)
        return own if len(ends) > 1 else root


def _one_with(build: Build) -> dict[str, str]:
    """Each negative that is another supply's as well, with that one."""
    found: dict[str, str] = {}

    def last(line: str) -> str:
        while line in found:
            line = found[line]
        return line

    for name, supply in build.supply.items():
        other = supply.shares_negative_with
        if not supply.isolated:
            other = other or supply.fed_by  # only converters have it
        if other is not None and last(f"{other}-") != last(f"{name}-"):
            found[f"{name}-"] = f"{other}-"
    return found
