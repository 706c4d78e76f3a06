"""The law I(V) of diodes in series, cold and warmed by their own heat.

A die at I (A) is warmer than the air round it by d = K I V, K in K/W from junction to air; its forward voltage is V = V0(I)
+ c d, c in V/K, V0 that of a die as cool as its air. Solved for V: V = V0(I) / (1 + r I) with r = -c K (1/A), as explicit
as the law of a cold die. It may bend down: where all in the loop falls with rising current nothing holds the die, and its
current runs up to where no further heat is counted (`String.most`). Of several currents the first on the way from cold is
meant.
"""

from __future__ import annotations

from math import exp, expm1, inf, log1p
from typing import NamedTuple

from postcheck.physics.network.elements import Diode, String
from postcheck.physics.network.laws import LEAK, Places, Table

__all__ = [
    "Constants",
    "StringTable",
    "Tangent",
    "behind",
    "forward_voltage",
    "string_constants",
    "string_law",
]

# share of a string's voltage to which heat and current have to agree: with a hundredth of it over what limits the current,
# that is then known to 1e-9
_AGREE = 1e-11
# V below which the digits that a float has decide, and nothing warms
_NO_VOLTS = 1e-3
# 1/V, slope over current from which on a warmed string is about to bend down; a cold die has 20 to 40
_FOLD = 1e3
_STEEP = 600.0  # exponent above which a diode with no resistance at all goes on as a straight line

# of a die saturation A, slope V, ohm, shift V, heat 1/A; see Diode
_Die = tuple[float, float, float, float, float]
# outside the dice ohm, in them ohm, heat 1/A, most A, and the dice where they are unlike
_Heat = tuple[float, float, float, float, tuple[_Die, ...] | None]
Constants = tuple[float, float, float, float, float, tuple[tuple[float, float], ...], _Heat | None]


def forward_voltage(diode: Diode, amps: float, most: float = inf) -> float:
    """V of a die at I (A) > -saturation, below which there is none; settled in its own heat, counted up to `most` A.

    (slope ln(1 + I / saturation) + I ohm + shift) / (1 + heat I).
    """
    return _die(_laws_of(diode), amps, most)[0]


def _laws_of(diode: Diode) -> _Die:
    return diode.saturation, diode.slope, diode.ohm, diode.shift, diode.heat


def _die(die: _Die, amps: float, most: float) -> tuple[float, float]:
    """(V, dV/dI)."""
    saturation, slope, ohm, shift, heat = die
    cold = slope * log1p(amps / saturation) + amps * ohm + shift
    rise = slope / (saturation + amps) + ohm
    if amps <= 0.0:
        return cold, rise
    if amps > most:
        at_most = slope * log1p(most / saturation) + most * ohm + shift
        return cold - at_most + at_most / (1.0 + heat * most), rise
    fraction = 1.0 + heat * amps
    warm = cold / fraction
    return warm, (rise - heat * warm) / fraction


def string_constants(element: String) -> Constants:
    """(resistance, shift, slope, saturation, leak, rest, heat) of a String, equal diodes merged.

    The diodes with the least saturation current come first: u = ln(1 + I / saturation) is then defined on the
    whole range of the current; each other kind is (slope, saturation ratio <= 1) in `rest`. `heat`: None where no die
    warms itself.
    """
    diodes, ohms = element.diodes, element.ohms
    least, count = diodes[0], len(diodes)
    if all(diode is least for diode in diodes):
        own = count * least.ohm
        alike = (ohms, own, least.heat, element.most, None) if least.heat else None
        return ohms + own, count * least.shift, count * least.slope, least.saturation, LEAK / count, (), alike
    own = sum(diode.ohm for diode in diodes)
    shift = sum(diode.shift for diode in diodes)
    slopes: dict[float, float] = {}
    for diode in diodes:
        slopes[diode.saturation] = slopes.get(diode.saturation, 0.0) + diode.slope
    saturation = min(slopes)
    slope = slopes.pop(saturation)
    rest = tuple((s, saturation / sat) for sat, s in slopes.items()) if slopes else ()
    unlike = any(diode.heat for diode in diodes)
    heat = (ohms, own, 0.0, element.most, tuple(map(_laws_of, diodes))) if unlike else None
    return ohms + own, shift, slope, saturation, LEAK / count, rest, heat


def behind(constants: Constants, ohms: float) -> Constants:
    """The same string with more resistance in series, ohm, and without its leak."""
    own, shift, slope, saturation, _, rest, heat = constants
    return own + ohms, shift, slope, saturation, 0.0, rest, heat and (heat[0] + ohms, *heat[1:])


def string_law(volts: float, constants: Constants, guess: float = inf) -> tuple[float, float, float]:
    """(I, dI/dV, u) of a String at its terminal voltage (V): A, S and ln(1 + I / saturation).

    Solves slope u + R saturation (e^u - 1) + sum of slope_k ln(1 + ratio_k (e^u - 1)) = V - shift for u. The left
    side is convex and rising in u; Newton's iteration from an upper bound falls monotonically on the root.
    No overflow at any voltage. With heat that root is where the way of the warmed law begins.
    """
    ohms, shift, slope, saturation, leak, rest, heat = constants
    v = volts - shift
    drop = ohms * saturation
    top = v / slope if v > 0.0 else 0.0
    if v > 0.0 and drop > 0.0:
        top = min(top, log1p(v / drop))
    elif top > _STEEP and not rest:
        steep = saturation * exp(_STEEP)
        return steep * (1.0 + top - _STEEP), steep / slope, top
    u = min(guess, top, _STEEP)
    for _ in range(200):
        e = expm1(u)
        value = slope * u + drop * e - v + sum(s * log1p(ratio * e) for s, ratio in rest)
        step = value / _rise(e, slope, drop, rest)
        u = min(u - step, top, _STEEP)
        if -1e-7 < step < 1e-7:
            break
    if heat is not None and u > 0.0:
        return _warm_law(volts, constants, u)
    e = expm1(u)
    rise = _rise(e, slope, drop, rest)
    return saturation * e + leak * volts, saturation * (e + 1.0) / rise + leak, u


def _rise(e: float, slope: float, drop: float, rest: tuple[tuple[float, float], ...]) -> float:
    """dV/du of a cold string where e = exp(u) - 1."""
    rise = slope + drop * (e + 1.0)
    for s, ratio in rest:
        rise += s * ratio * (e + 1.0) / (1.0 + ratio * e)
    return rise


def _settled(amps: float, constants: Constants) -> tuple[float, float]:
    """(V, dV/dI) of a warmed string."""
    _, shift, slope, saturation, _, _, heat = constants
    assert heat is not None
    outside, own, per_amp, most, dice = heat
    if dice is None:
        volts, rise = _die((saturation, slope, own, shift, per_amp), amps, most)
        return volts + outside * amps, rise + outside
    each = [_die(die, amps, most) for die in dice]
    return sum(v for v, _ in each) + outside * amps, sum(r for _, r in each) + outside


def _warm_law(volts: float, constants: Constants, u: float) -> tuple[float, float, float]:
    """`string_law` of a string that warms itself, from its cold solution `u` on; u is infinite once nothing holds it."""
    _, _, _, saturation, leak, _, heat = constants
    top = log1p(heat[3] / saturation) if heat is not None else inf
    for _ in range(2000):
        e = expm1(u)
        at, rise = _settled(saturation * e, constants)
        rise *= saturation * (e + 1.0)
        # no further than the law can be trusted not to bend down and up again, nor to where no current is left
        step = min(max((at - volts) / rise, -0.1), 0.5 * u) if rise > 0.0 else -inf
        if u - step > top:
            return _run_away(volts, constants, u)
        u -= step
        if -1e-9 < step < 1e-9:
            break
    return saturation * expm1(u) + leak * volts, saturation * (e + 1.0) / rise + leak, u


def _run_away(volts: float, constants: Constants, u: float) -> tuple[float, float, float]:
    """Where a string comes to rest that nothing holds at `u`: hotter, or where no further heat is counted."""
    saturation, heat = constants[3], constants[-1]
    assert heat is not None
    most = heat[3]
    top = log1p(most / saturation)
    low = high = u
    while high < top and (low == high or _settled(saturation * expm1(high), constants)[0] < volts):
        low, high = high, high + 0.02
    if high >= top:
        amps, g, _ = string_law(volts, _hottest(constants, most))
        if amps >= most:
            return amps, g, inf
        high = top
    for _ in range(60):
        u = 0.5 * (low + high)
        low, high = (u, high) if _settled(saturation * expm1(u), constants)[0] < volts else (low, u)
    amps = saturation * expm1(high)
    return amps, 1.0 / _settled(amps, constants)[1], inf


def _hottest(constants: Constants, most: float) -> Constants:
    """The string where no further heat is counted, with that of `most` A."""
    ohms, shift, slope, saturation, leak, rest, _ = constants
    warmer = shift + _settled(most, constants)[0] - _cold(most, constants)
    return ohms, warmer, slope, saturation, leak, rest, None


def _cold(amps: float, constants: Constants) -> float:
    """V of a string without its own heat."""
    ohms, shift, slope, saturation, _, rest, _ = constants
    e = amps / saturation
    return ohms * amps + shift + slope * log1p(e) + sum(s * log1p(ratio * e) for s, ratio in rest)


class Tangent(NamedTuple):
    """An ordinary string that has the volts and the slope of a warmed one at `amps`.

    There its heat shifts its voltage by `shift` (V), and by `slope` (ohm) more for each ampere more. Its resistance is not
    let fall below zero: where the warmed law bends down, the slope is only met in part.
    """

    string: String
    amps: float = 0.0
    shift: float = 0.0
    slope: float = 0.0

    @classmethod
    def at(cls, string: String, amps: float) -> Tangent:
        """At a current in A; below zero nothing warms."""
        bare = tuple(Diode(diode.saturation, diode.slope, diode.ohm, diode.shift) for diode in string.diodes)
        if amps <= 0.0:
            return cls(String(string.a, string.b, string.ohms, bare))
        constants = string_constants(string)
        volts, rise = _settled(amps, constants)
        whole, own = constants[0], constants[0] - string.ohms
        cold = whole + sum(diode.slope / (diode.saturation + amps) for diode in bare)
        shift, slope = volts - _cold(amps, constants), max(rise - cold, -whole)
        if string.ohms + slope < 0.0:
            left = max(1.0 + (string.ohms + slope) / own, 0.0) if own else 0.0
            bare = tuple(
                Diode(diode.saturation, diode.slope, diode.ohm * left, diode.shift) for diode in bare
            )
        first = bare[0]
        first = Diode(first.saturation, first.slope, first.ohm, first.shift + shift - slope * amps)
        ohms = max(string.ohms + slope, 0.0)
        return cls(String(string.a, string.b, ohms, (first, *bare[1:])), amps, shift, slope)

    def agrees(self, string: String, amps: float) -> bool:
        """Whether heat and current belong together at the current that was found."""
        if amps <= 0.0:
            return self.amps <= 0.0
        constants = string_constants(string)
        volts, _ = _settled(amps, constants)
        off = volts - _cold(amps, constants) - self.shift - self.slope * (amps - self.amps)
        return abs(off) <= _AGREE * max(abs(volts), _NO_VOLTS)


class StringTable(Table):
    """Diode strings; `u` keeps each string's last ln(1 + I / saturation) as the start of the next evaluation.

    Strings that are one element in several positions are evaluated once: `firsts` has the first of each,
    `which` the number of that for every string. `away`: from which volts on one is known to run away, and its law there.
    """

    __slots__ = ("away", "constants", "firsts", "u", "which")

    def __init__(self, places: Places, offset: list[float], strings: list[String]) -> None:
        super().__init__(places, offset)
        self.u: list[float] = [inf] * len(strings)
        self.away: dict[int, tuple[float, Constants]] = {}
        known: dict[int, int] = {}
        self.firsts: list[int] = []
        self.which: list[int] = []
        for number, string in enumerate(strings):
            row = known.setdefault(id(string), len(known))
            if row == len(self.firsts):
                self.firsts.append(number)
            self.which.append(row)
        self.constants: list[Constants] = [string_constants(strings[first]) for first in self.firsts]

    @property
    def unheld(self) -> bool:
        """Whether a string, for its own volts alone, has run away or is about to."""
        return any(
            constants[-1] is not None
            and (self.u[first] == inf or self.slopes[first] > _FOLD * self.amps[first] > 0.0)
            for constants, first in zip(self.constants, self.firsts, strict=True)
        )

    def evaluate(self, x: list[float], into: list[float], conductance: list[float]) -> None:
        """As LinearTable.evaluate. The loop repeats `string_law` for one kind of diode, for speed."""
        amps, slopes, us = [], [], []
        for first, constants in zip(self.firsts, self.constants, strict=True):
            p, q, guess = self.p[first], self.q[first], self.u[first]
            v = x[p] - x[q] + self.offset[first]
            ohms, shift, slope, saturation, leak, rest, heat = constants
            u = guess
            far = True
            if rest or u >= _STEEP:
                pass
            elif heat is None:
                drop = ohms * saturation
                target = v - shift
                for _ in range(6):
                    e = expm1(u)
                    rise = slope + drop * (e + 1.0)
                    step = (slope * u + drop * e - target) / rise
                    if not -1.0 < step < 1.0:
                        break
                    u -= step
                    if -1e-7 < step < 1e-7:
                        far = False
                        break
            elif heat[4] is None:
                outside, own, per_amp, most, _ = heat
                for _ in range(6):
                    e = expm1(u)
                    i = saturation * e
                    if not 0.0 < i < most:
                        break
                    fraction = 1.0 + per_amp * i
                    warm = (slope * u + own * i + shift) / fraction
                    rise = slope / fraction + (outside + (own - per_amp * warm) / fraction) * (i + saturation)
                    if rise <= 0.0:
                        break
                    step = (warm + outside * i - v) / rise
                    if not -1.0 < step < 1.0:
                        break
                    u -= step
                    if -1e-7 < step < 1e-7:
                        far = False
                        break
            if far:
                i, g, u = self._afresh(first, v, constants)
            else:
                e = expm1(u)
                i = saturation * e + leak * v
                g = saturation * (e + 1.0) / rise + leak
            amps.append(i)
            slopes.append(g)
            us.append(u)
        self.amps: list[float] = self._of_each(amps)
        self.slopes: list[float] = self._of_each(slopes)
        self.u = self._of_each(us)
        self._flow(into, conductance)

    def _of_each(self, values: list[float]) -> list[float]:
        """What was found of the first ones, for every string."""
        return [values[row] for row in self.which] if len(values) < len(self.which) else values

    def _flow(self, into: list[float], conductance: list[float]) -> None:
        """One string after the other, so that sums are the same however many are alike."""
        for p, q, edge, i, g in zip(self.p, self.q, self.edge, self.amps, self.slopes, strict=True):
            into[p] -= i
            into[q] += i
            conductance[edge] += g

    def _afresh(self, first: int, volts: float, constants: Constants) -> tuple[float, float, float]:
        """`string_law`; a string that ran away at fewer volts, to where no further heat is counted, has at these."""
        least, hottest = self.away.get(first, (inf, constants))
        if volts >= least:
            amps, slope, _ = string_law(volts, hottest)
            return amps, slope, inf
        amps, slope, u = string_law(volts, constants, self.u[first])
        heat = constants[-1]
        if u == inf and heat is not None and amps >= heat[3]:
            self.away[first] = volts, _hottest(constants, heat[3])
        return amps, slope, u
