"""Direct-current solution of lighting circuits: elements, the solver, and what each lamp sees of the rest.

A 12 V source of half an ohm, 150 ohm, and a string of three white LEDs of 2.85 V at 5 mA and 3.2 V at 20 mA:

>>> from postcheck.physics.network import Circuit, Resistance, Source, String, diode_through, ports, solve
>>> white = diode_through(2.85, 0.005, 3.2, 0.020)
>>> solution = solve(
...     Circuit(
...         nodes=3,
...         elements=(
...             Source(plus=0, minus=1, volts=12.0, ohms=0.5),
...             Resistance(a=0, b=2, ohms=150.0),
...             String(a=2, b=1, ohms=0.0, diodes=(white, white, white)),
...         ),
...     )
... )
>>> solution.converged
True
>>> [round(amps * 1e3, 2) for amps in solution.amps]  # mA, in the order of the elements
[17.16, 17.16, 17.16]
>>> round(solution.across(2, 1), 3)  # V across the string
9.418
>>> port, = ports(solution)  # what the string sees of the rest
>>> round(port.open_volts, 3), round(port.ohms, 3)
(12.0, 150.5)
"""

from postcheck.physics.network.elements import (
    FILAMENT_EXPONENT,
    Circuit,
    ConstantPower,
    Converter,
    Demand,
    Diode,
    Drop,
    Element,
    Filament,
    Resistance,
    Source,
    SteadyCurrent,
    String,
)
from postcheck.physics.network.fit import (
    THERMAL_VOLTAGE,
    diode_through,
    fit_diode,
    thermal_voltage,
)
from postcheck.physics.network.network import Network, solve
from postcheck.physics.network.ports import Port, influence, ports, respond, short_current
from postcheck.physics.network.solution import Solution
from postcheck.physics.network.strings import forward_voltage

__all__ = [
    "FILAMENT_EXPONENT",
    "THERMAL_VOLTAGE",
    "Circuit",
    "ConstantPower",
    "Converter",
    "Demand",
    "Diode",
    "Drop",
    "Element",
    "Filament",
    "Network",
    "Port",
    "Resistance",
    "Solution",
    "Source",
    "SteadyCurrent",
    "String",
    "diode_through",
    "fit_diode",
    "forward_voltage",
    "influence",
    "ports",
    "respond",
    "short_current",
    "solve",
    "thermal_voltage",
]
