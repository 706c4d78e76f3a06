"""The laws behind every figure: pure functions on plain floats, SI, the standard library only.

Degrees of temperature are degC; where a docstring says "in one unit", any unit of length will do. Sizes,
times, loads and strains are not below zero, and above it where they divide; shares lie between 0 and 1. What is out of
range, or no known word, is a ValueError. Each room, or module, says its sources:

- `battery`: how long a battery lasts
- `bundle`: whether wires of different thickness fit a bore, and how slim their bundle can be
- `colour_difference`: how different two colours look
- `copper`: gauge, resistance and strength of copper conductors
- `fill`: how full a bore is by area, and the handbook rules that go with it
- `flat_cable`: flat cables and wires in a round bore
- `flat_pack`: what goes past a flat pack in a bore
- `fuse`: what a miniature fuse holds, and by when it has opened
- `given`: what a law is given, and the errors where that makes no sense
- `heat`: how warm closed places and resistors get
- `irradiance`: how much light of a small lamp falls on an eye
- `light`: how the light of a lamp goes with its current
- `network`: currents and voltages of a lighting circuit, and what each lamp sees of the rest
- `preferred`: the values that resistors are sold in
- `pulse`: pulses and dimming, and which rating of a lamp counts
- `root`: where a function that only rises or only falls is nothing
- `threading`: thick things through a bore in which wires lie, and in what order
- `tubes`: round tubes as they are sold
- `twist`: wires in a post that turns: strain, life, nicks, loops, bends, pulling
- `wire_heat`: how hot a thin wire gets
"""
