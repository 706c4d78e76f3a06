"""Direct-current solution of lighting circuits: elements, the solver, and what each lamp sees of the rest."""

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
    forward_voltage,
    thermal_voltage,
)
from postcheck.physics.network.network import Network, solve
from postcheck.physics.network.ports import Port, influence, ports, respond, short_current
from postcheck.physics.network.solution import Solution

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
