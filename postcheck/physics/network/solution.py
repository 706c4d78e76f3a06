"""What a solved circuit says."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from postcheck.physics.network.newton import State
    from postcheck.physics.network.ports import Port

__all__ = ["Solution"]


class Solution(NamedTuple):
    """Voltages and currents of a circuit (V, A), or why there are none.

    - `converged`: whether the figures are a solution. If not, `reason` says why in words, `amps` is empty
      and every voltage is None: figures of an unfinished solution are never given.
    - `volts[node]`: measured from the minus of the first source of each galvanic island; None where no source
      reaches (`floating`).
    - `amps[element]`: from a to b through the element; for a Source and a Converter the current *delivered*
      out of its plus. Elements without a source carry 0.
    - `input_amps[element]`: what a Converter takes at its input, else 0.
    - `will_not_start`: Converters and ConstantPower loads that are off because the supply cannot start them or
      the input lies below their least voltage. The figures are those with these off.
    - `conflict`: elements of a loop of ideal sources (converged is False).
    - `undetermined`: ideal ties in a loop. Voltages stand; how the current divides between these ties is not
      determined: it is given as if they had equal small resistances.
    - `off`: Drops that are open because they would be reversed.
    - `iterations`: steps of Newton's method that it took. `state`: what `ports` and `influence` look into.
    """

    converged: bool
    reason: str
    volts: tuple[float | None, ...]
    amps: tuple[float, ...]
    input_amps: tuple[float, ...] = ()
    will_not_start: tuple[int, ...] = ()
    conflict: tuple[int, ...] = ()
    undetermined: tuple[int, ...] = ()
    floating: tuple[int, ...] = ()
    off: tuple[int, ...] = ()
    iterations: int = 0
    state: State | None = None

    def across(self, a: int, b: int) -> float:
        """V from node a to node b; ValueError where one of them floats or belongs to no solution."""
        first, second = self.volts[a], self.volts[b]
        if first is None or second is None:
            raise ValueError(f"no voltage between nodes {a} and {b}: one of them floats")
        return first - second

    def ports(self, indices: tuple[int, ...] | None = None) -> list[Port]:
        """Thevenin view from each String and Filament, or from the elements `indices`; see `ports.ports`."""
        from postcheck.physics.network.ports import ports  # noqa: PLC0415 - late: not every run asks

        return ports(self, indices)
