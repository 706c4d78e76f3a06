"""Every limit that judges a build, in one place, with its source.

A build file can change any of them by name, with a reason (`[[limit]]`); the few that stand between people and
injury or fire can only be lowered. Where a limit has a value for a caution and one for a stop, they are two limits.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

__all__ = ["LIMITS", "Limit", "Limits"]

PRACTICE = "common practice, no published source"


class Limit(NamedTuple):
    """A named limit: SI value (degrees Celsius excepted), the dimension that a changed value must have, its source.

    `firm`: why a build may lower but not raise it. `zero`: whether it can be set to nothing at all.
    """

    name: str
    value: float
    unit: str
    dimension: str
    says: str
    source: str
    changed: str | None = None
    firm: str | None = None
    zero: bool = False


_RATED = "the part's rated continuous current, as its data sheet or the file gives it"

LIMITS: tuple[Limit, ...] = (
    Limit(
        "lamp.current.stop",
        1.25,
        "",
        "share",
        "share of a lamp's rated current, likely corner",
        f"1.25 times {_RATED}; 1.25 is judgement: the trade's three whites with 150 ohm on 12 V 5 % get 1.2 times theirs",
    ),
    Limit("lamp.current.nominal", 1.0, "", "share", "share of a lamp's rated current, typical parts", _RATED),
    Limit(
        "lamp.current.caution",
        1.5,
        "",
        "share",
        "share of a lamp's rated current, stacked worst corner",
        f"1.5 times {_RATED}; 1.5 is judgement: with all tolerances against it the trade's string of three whites gets 1.4",
    ),
    Limit(
        "lamp.destroyed",
        5.0,
        "",
        "share",
        "share of a lamp's rated current above which it is destroyed, and no figure of it is given",
        "usual pulse rating of LEDs, five times the continuous one; judgement: beyond it a die's curve is no longer known",
    ),
    Limit(
        "lamp.filament.caution",
        1.1,
        "",
        "share",
        "share of a filament lamp's rated voltage, highest",
        "common practice: life goes with the voltage to the power of -12, so 10 % more leaves a third (from memory)",
    ),
    Limit(
        "lamp.filament.stop",
        1.3,
        "",
        "share",
        "share of a filament lamp's rated voltage, likely",
        "common practice: the same law leaves a twentieth of the life (from memory)",
    ),
    Limit(
        "lamp.filament.destroyed",
        2.0,
        "",
        "share",
        "share of a filament lamp's rated voltage above which it is destroyed, and no figure of it is given",
        "common practice: the same law leaves a four-thousandth of the life, some minutes (from memory)",
    ),
    Limit(
        "lamp.dim",
        0.1,
        "",
        "share",
        "least share of the rated current a lamp should have unless wanted dim",
        "judgement: below a tenth of the rating small makers' parts are not specified",
        zero=True,
    ),
    Limit(
        "lamp.unequal",
        0.25,
        "",
        "share",
        "most difference in nominal current between lamps of one kind on one circuit",
        "judgement, from the Weber fraction for brightness 7.9 % (Teghtsoonian, from memory) times three",
    ),
    Limit(
        "lamp.wanted",
        0.25,
        "",
        "share",
        "most departure from the current that was wanted",
        "judgement, as for unequal lamps",
    ),
    Limit(
        "lamp.reverse",
        5.0,
        "V",
        "voltage",
        "reverse voltage of an LED where its data sheet gives none",
        "usual leakage test condition of LED data sheets, 5 V",
    ),
    Limit(
        "electronics.reverse",
        0.5,
        "V",
        "voltage",
        "reverse voltage of a board, converter or load where the file gives none (`reverse`)",
        "data sheets of chips: absolute maximum 0.3 to 0.5 V below ground (from memory); beyond it their substrate conducts",
    ),
    Limit(
        "lamp.parallel-spread",
        0.25,
        "",
        "share",
        "most share by which one of several lamps behind one resistor may exceed its part",
        "OSRAM AN040, comparison of LED circuits: unequal sharing of parallel LEDs; the figure is judgement",
        zero=True,
    ),
    Limit(
        "resistor.power.caution",
        0.8,
        "",
        "share",
        "share of a resistor's rated power, highest",
        "common practice 50 to 80 % of rating; film parts at full rating run 70 to 100 K hot (from memory)",
    ),
    Limit(
        "resistor.power.stop",
        1.0,
        "",
        "share",
        "share of a resistor's rated power, highest",
        "the part's rated power at 70 degC",
    ),
    Limit(
        "drop.lamp-share",
        0.10,
        "",
        "share",
        "most share of the supply voltage lost on the way to a steady lamp or strip",
        "ABYC E-11, 10 % for circuits that are not critical (from memory); no standard covers 12 V display lighting",
    ),
    Limit(
        "step.slow",
        0.03,
        "",
        "share",
        "most step of a steady lamp when a flasher of at most 3 Hz switches",
        "judgement from temporal contrast thresholds of 1 to 1.5 % at 1 to 2 Hz (de Lange, Kelly; from memory), times two",
    ),
    Limit(
        "step.fast",
        0.015,
        "",
        "share",
        "the same for a flasher above 3 Hz",
        "judgement from temporal contrast thresholds near 0.5 % at 8 to 10 Hz (de Lange, Kelly; from memory), times three",
    ),
    Limit(
        "supply.load.caution",
        0.8,
        "",
        "share",
        "share of a supply's rated current at the highest corner",
        "NFPA 70 210.19(A)(1): 125 % for continuous load, i.e. 80 %; common practice for small adaptors",
    ),
    Limit(
        "supply.load.stop",
        1.0,
        "",
        "share",
        "share of a supply's rated current at the highest corner",
        "the supply's rating plate",
    ),
    Limit(
        "supply.start",
        2.0,
        "",
        "share",
        "share of its rated current that a supply still gives for a moment, where its current_limit is not stated",
        "small adaptors and converters give up between 1.1 and 2 times their rating (makers' sheets, from memory)",
    ),
    Limit(
        "output.load",
        1.0,
        "",
        "share",
        "share of an output's, channel's or board's limit at the highest corner",
        "the board's rating",
    ),
    Limit(
        "plug.load",
        1.0,
        "",
        "share",
        "share of a pin's rated current at the highest corner",
        "the connector's rating",
    ),
    Limit(
        "strip.through",
        1.0,
        "",
        "share",
        "share of the current a strip's traces stand",
        "the strip's rating, as the file gives it",
    ),
    Limit(
        "wire.insulation",
        1.0,
        "",
        "share",
        "share of a conductor's insulation temperature in normal use or a fault",
        "the wire's insulation rating",
        firm="insulation above its rating melts, smokes and shorts",
    ),
    Limit(
        "fuse.load",
        0.9,
        "",
        "share",
        "share of a quick or slow fuse's rating in continuous use",
        "IEC 60127 fuses carry 100 % for good (fuse makers' guides); a tenth is kept for air warmer than 23 degC, common practice. For a UL 248-14 fuse 75 %",
    ),
    Limit(
        "fuse.load.resettable",
        0.8,
        "",
        "share",
        "share of a resettable fuse's hold current in continuous use",
        "makers' tables: hold current at 20 degC, some 85 % of it at 40 degC (from memory)",
    ),
    Limit(
        "fuse.holds",
        1.5,
        "",
        "share",
        "share of a quick or slow fuse's rating that it is made to hold",
        "IEC 60127-2 sheets 2 and 3: an hour at least at 150 % (from memory)",
    ),
    Limit(
        "fuse.lasting",
        2.1,
        "",
        "share",
        "share of a quick or slow fuse's rating below which nothing promises that it opens",
        "IEC 60127-2 sheets 2 and 3: opens at 210 % within half an hour (from memory). A UL 248-14 fuse opens at 135 % within the hour",
    ),
    Limit(
        "fault.short-time",
        90.0,
        "K",
        "temperature difference",
        "what insulation stands above its rating until a fuse opens, where that takes 5 s at most",
        "IEC 60364-4-43: PVC rated 70 degC stands 160 degC for 5 s (from memory)",
        firm="it is what insulation stands before it melts or burns",
        zero=True,
    ),
    Limit(
        "fault.glow",
        350.0,
        "degC",
        "temperature",
        "a conductor this hot sets fire to what it touches",
        "polystyrene can be lit from about 350 degC (from memory)",
        firm="it is what sets the model on fire",
    ),
    Limit(
        "volts.scope",
        60.0,
        "V",
        "voltage",
        "above this nothing is judged safe",
        "IEC 62368-1 ES1, 60 V DC (from memory)",
        firm="above it a touch can injure, and nothing here judges that",
    ),
    Limit(
        "passage.fill.one",
        0.53,
        "",
        "share",
        "most fill of a bore by one conductor",
        "NFPA 70 chapter 9 table 1",
    ),
    Limit(
        "passage.fill.two",
        0.31,
        "",
        "share",
        "most fill of a bore by two conductors",
        "NFPA 70 chapter 9 table 1",
    ),
    Limit(
        "passage.fill.more",
        0.40,
        "",
        "share",
        "most fill of a bore by three conductors or more",
        "NFPA 70 chapter 9 table 1",
    ),
    Limit(
        "passage.jam.low",
        2.8,
        "",
        "number",
        "three conductors may jam from this ratio of bore to conductor",
        "NFPA 70 chapter 9 table 1, informational note 2",
    ),
    Limit(
        "passage.jam.high",
        3.2,
        "",
        "number",
        "up to this ratio",
        "NFPA 70 chapter 9 table 1, informational note 2",
    ),
    Limit(
        "passage.short",
        0.5,
        "m",
        "length",
        "a straight passage shorter than this is filled by hand, and a handbook fill limit is only a note",
        "judgement: the limits of NFPA 70 chapter 9 are for pulling through long raceways",
        zero=True,
    ),
    Limit(
        "passage.room",
        1.25,
        "",
        "number",
        "least ratio of bore to bundle diameter",
        "FAA AC 43.13-1B, 11-249: about 25 % larger",
    ),
    Limit(
        "passage.room.one",
        1.03,
        "",
        "number",
        "least ratio of bore to a conductor that goes through alone, or to a plug or joint and the wires it passes",
        "judgement: drawn tube of a few millimetres is true to some hundredths (EN 12449, from memory), and nothing slides in a bore it fills",
    ),
    Limit(
        "twist.turn.caution",
        6.2832,
        "rad",
        "angle",
        "most turn from straight",
        "elastic looping of a straight clamped rod at 690 degrees (Greenhill), divided by 1.9; judgement",
    ),
    Limit(
        "twist.cycles",
        10_000.0,
        "",
        "number",
        "cycles taken where the file gives none",
        "judgement: about three a day for nine years",
    ),
    Limit(
        "twist.stretch",
        0.00064,
        "",
        "share",
        "most stretch of a wire as its passage turns",
        "where annealed copper stops springing back: proof stress 75 N/mm2 (OS050 temper) over 117 kN/mm2",
    ),
    Limit(
        "twist.grip",
        0.010,
        "m",
        "length",
        "least distance from the last grip to the first joint where a passage turns",
        "judgement: solder creeps 2 to 5 diameters up the strands and stiffens them",
    ),
    Limit(
        "twist.grip.diameters",
        10.0,
        "",
        "number",
        "the same in outside diameters of the thickest wire; of a cable, of its conductors",
        "judgement, as the bend for the long term of NASA-STD-8739.4, 7.3.21",
    ),
    Limit(
        "bend.moving",
        10.0,
        "",
        "number",
        "least inside bend radius in outside diameters, where the wires move",
        "NASA-STD-8739.4, 7.3.21: 10 diameters for the long term",
    ),
    Limit(
        "bend.rest",
        6.0,
        "",
        "number",
        "least inside bend radius in outside diameters, at rest",
        "NASA-STD-8739.4, 7.3.21: 6 diameters",
    ),
    Limit(
        "bend.single",
        2.0,
        "",
        "number",
        "bend radius in outside diameters below which insulation suffers",
        "IPC/WHMA-A-620 table 14-1: 2 diameters for a single insulated wire",
    ),
    Limit(
        "pull.tail",
        0.2,
        "N",
        "force",
        "what holds back the end of a wire that is drawn in",
        "judgement: 20 g, the fingers that feed it",
    ),
    Limit(
        "pull.friction",
        0.4,
        "",
        "number",
        "friction of a wire on the walls of its passage",
        "0.35 to 0.5 in use for cable in conduit; PVC on metal 0.3 to 0.5, PTFE 0.04 to 0.1 (from memory)",
    ),
    Limit(
        "pull.stress",
        50.0,
        "N/mm2",
        "number",
        "most pull on copper, by its section",
        "European cable practice, 50 N/mm2 (from memory); ICEA's 0.008 lb per circular mil is 70 N/mm2",
    ),
    Limit(
        "flash.rate",
        3.0,
        "Hz",
        "rate",
        "flashes a second without a warning sign",
        "WCAG 2.2 success criterion 2.3.1, three flashes",
        firm="faster flashes can bring on a seizure",
    ),
    Limit(
        "dim.frequency",
        1250.0,
        "Hz",
        "rate",
        "least frequency of dimming that does not need thought",
        "IEEE 1789-2015, exempt above 1250 Hz (from memory)",
    ),
    Limit(
        "dim.visible",
        90.0,
        "Hz",
        "rate",
        "dimming below this is seen to flicker",
        "upper limit of seen flicker, 60 to 90 Hz: Lehman et al., on the grounds of IEEE 1789",
    ),
    Limit(
        "heat.matters",
        0.1,
        "W",
        "power",
        "heat in a closed place below which its size need not be known",
        "judgement: a body must be smaller than 11 cm2 for it to give 25 K at 3.5 W/(m2 K)",
        zero=True,
    ),
    Limit(
        "heat.margin",
        5.0,
        "K",
        "temperature difference",
        "least distance to what a closed place's material stands",
        "judgement: the rise itself is known to about 30 %",
        zero=True,
    ),
    Limit(
        "heat.spot",
        10.0,
        "K",
        "temperature difference",
        "how much more a small spot beside a warm part may get than the whole wall",
        "kit polystyrene: HDT 70 to 84 degC against the 60 degC taken for whole walls; judgement",
        zero=True,
    ),
    Limit(
        "twist.solid",
        0.00026,
        "m",
        "length",
        "thickest solid conductor in a passage that turns",
        "judgement: 30 AWG (0.255 mm, ASTM B258); wire makers give solid wire for what stays put",
    ),
    Limit(
        "heat.touch",
        48.0,
        "degC",
        "temperature",
        "most temperature of a plastic surface held for long",
        "IEC 62368-1 table 38, TS1 (1 min and more; from memory)",
    ),
    Limit(
        "heat.unknown-material",
        60.0,
        "degC",
        "temperature",
        "temperature a closed place of unknown material stands",
        "as kit polystyrene: HDT 70 to 84 degC less a margin; judgement",
    ),
    Limit(
        "heat.per-area",
        3.5,
        "W/(m2 K)",
        "number",
        "heat passed by the walls of a closed place",
        "worked HIPS box 3.3, published enclosure curve 4.6 W/(m2 K); judgement",
    ),
    Limit(
        "access.slack",
        0.03,
        "m",
        "length",
        "spare length a lead needs to open its cover and be re-made twice",
        "FAA AC 43.13-1B, 11-118: two re-terminations; the figure is judgement",
        zero=True,
    ),
    Limit(
        "colour.majority",
        2.0,
        "",
        "number",
        "how often more a colour must be on one side than on the other to count as the build's rule",
        "judgement",
    ),
    Limit(
        "colour.poor-light",
        12.0,
        "",
        "number",
        "least CIEDE2000 difference of two colours in poor light that a hand at the bench trusts",
        "judgement: some ten times what is just seen side by side, for wires are thin and seen one after the other",
    ),
    Limit(
        "colour.poor-light.lightness",
        0.5,
        "",
        "share",
        "share of the lightness that poor light leaves of a colour",
        "judgement: contrast falls as light falls (the Stevens effect); how far at a bench nobody has published",
    ),
    Limit(
        "colour.poor-light.chroma",
        0.33,
        "",
        "share",
        "share of the chroma that poor light leaves of a colour",
        "judgement: colours fade as light falls (the Hunt effect) and in thin wires; how far at a bench nobody has published",
    ),
    Limit(
        "battery.derate",
        0.75,
        "",
        "share",
        "share of the rated capacity that is counted on",
        "judgement: rate, age, temperature, cut-off",
    ),
    Limit(
        "battery.dim",
        0.5,
        "",
        "share",
        "share of the full-battery current at which a lamp counts as gone",
        "judgement",
    ),
    Limit(
        "bench.current",
        2e-3,
        "A",
        "current",
        "current with which a bare LED is tried at the bench",
        "judgement: plainly seen on any indicator LED, a tenth of the usual rating",
    ),
    Limit(
        "bench.lights",
        1e-4,
        "A",
        "current",
        "least current with which an LED is seen to light",
        "judgement: small LEDs of today are seen from some 50 uA on in a dim room",
    ),
    Limit(
        "proof.meter",
        0.03,
        "",
        "share",
        "what a measured current may be beside its band",
        "judgement: hand-held meters are good to 1 to 2 %, the displays of bench supplies to 3 % or so",
        zero=True,
    ),
    Limit(
        "load.spread",
        0.3,
        "",
        "share",
        "what a load may take less or more at the bench than its typical current, where its least or most is not given",
        "judgement: motors of one kind differ by a quarter and more in what they take running free, and a load on the shaft adds to it",
        zero=True,
    ),
    Limit(
        "proof.continuity",
        1.0,
        "ohm",
        "resistance",
        "what a conductor may measure beside the resistance of its own copper",
        "judgement: two sound joints are some milliohms, the leads of a hand-held meter a few tenths of an ohm",
        zero=True,
    ),
    Limit(
        "proof.insulation",
        0.5e6,
        "ohm",
        "resistance",
        "least insulation resistance of wiring at extra-low voltage",
        "IEC 60364-6 table 6A: 0.5 Mohm, tried with 250 V DC, for SELV and PELV (from memory)",
    ),
    Limit(
        "closing.run",
        86_400.0,
        "s",
        "time",
        "how long a lamp runs before it is closed in",
        "common practice: a day of burning-in shows the early failures; no published source for model lighting",
        zero=True,
    ),
)


class Limits(Mapping[str, Limit]):
    """All limits by name, with the file's changes applied."""

    def __init__(self, changes: Mapping[str, tuple[float, str]] | None = None) -> None:
        self._rows = {row.name: row for row in LIMITS}
        for name, (value, reason) in (changes or {}).items():
            self._rows[name] = self._rows[name]._replace(
                value=value, changed=reason, source=f"changed in the build file: {reason}"
            )

    def __getitem__(self, name: str) -> Limit:
        return self._rows[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._rows)

    def __len__(self) -> int:
        return len(self._rows)

    def value(self, name: str) -> float:
        """The limit's value in its unit."""
        return self._rows[name].value
