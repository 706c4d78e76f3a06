"""Heat and currents together, case by case: SciPy's root finder on equations written here, and closed forms by hand."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from scipy.optimize import root

import postcheck
from postcheck.survey import Survey
from postcheck.survey.network import states as states_of_survey
from postcheck.survey.network.heats import _mean_square

SLOPE = 2 * 1.380649e-23 * 298.15 / 1.602176634e-19  # n V_T at 25 degC, SI of 2019
ALPHA = 0.00393  # 1/K, IEC 60028
ENAMEL = 2.1952405943709  # ohm/m at 20 degC of enamel-0.10, as the catalogue prints it
WALLS = 3.5  # W/(m2 K), the limit heat.per-area
KELVIN_PER_WATT = 500.0  # of a small part of which the file says nothing

HEAD = """
format = 1
[build]
name = "Tender"
air = "{air}..{air} degC"
[lamp_kind.white]
forward = "3.1 V"
at = "20 mA"
low_forward = "2.75 V"
low_at = "5 mA"
rated = "20 mA"
per_kelvin = "-3 mV"
[lamp_kind.red]
forward = "2.05 V"
at = "20 mA"
low_forward = "1.95 V"
low_at = "5 mA"
rated = "30 mA"
per_kelvin = "-2 mV"
[supply.main]
kind = "adaptor"
place = "base"
volts = "{volts} V"
tolerance = "0 %"
rated = "1 A"
[place.base]
access = "open"
[circuit.lights]
supply = "main"
"""


def survey(text: str, volts: float = 12.0, air: float = 25.0) -> Survey:
    return Survey(postcheck.loads(HEAD.format(volts=volts, air=air) + text))


def solve(off: Callable[[list[float]], list[float]], start: list[float]) -> list[float]:
    """The unknowns at which everything is off by nothing; as near as rounding lets."""
    found = root(off, start, tol=1e-14)
    assert max(map(abs, found.fun)) < 1e-11
    return list(found.x)


class Die:
    """Shockley's law through two points, and the fall of the forward voltage from 25 degC."""

    def __init__(self, low: float, typical: float, per_kelvin: float) -> None:
        self.series = ((typical - low) - SLOPE * math.log(4)) / 0.015
        self.saturation = 0.005 / math.expm1((low - 0.005 * self.series) / SLOPE)
        self.per_kelvin = per_kelvin

    def volts(self, amps: float, junction: float) -> float:
        cold = SLOPE * math.log1p(max(amps, 0.0) / self.saturation) + amps * self.series
        return cold + self.per_kelvin * (junction - 25.0)


WHITE, RED = Die(2.75, 3.1, -0.003), Die(1.95, 2.05, -0.002)


def test_a_stiff_string_settles_where_its_heat_and_its_current_agree() -> None:
    """Three reds behind 5 ohm: by turns, heat and current close in by a half a turn only."""
    text = '[[lamp]]\nname = "reds"\ncircuit = "lights"\nkind = "red"\nplace = "base"\nseries = 3\nresistor = "5 ohm 1 W 0 %"\n'

    def off(unknown: list[float]) -> list[float]:
        amps, junction = unknown
        volts = RED.volts(amps, junction)
        return [3 * volts + 5.0 * amps - 6.4, 25.0 + KELVIN_PER_WATT * amps * volts - junction]

    amps, _ = solve(off, [0.03, 60.0])
    cold = solve(lambda i: [3 * RED.volts(i[0], 25.0) + 5.0 * i[0] - 6.4], [0.02])[0]
    assert amps > 1.2 * cold
    found = survey(text, 6.4).electrics.lamps["reds"]
    assert found.nominal == pytest.approx(amps, rel=1e-9)
    assert found.highest == pytest.approx(
        amps, rel=1e-9
    )  # nothing has a tolerance, and at its highest it has settled
    assert found.lowest == pytest.approx(cold, rel=1e-9)  # ... and at its lowest it has just been switched on


def test_the_air_of_a_small_place_settles_with_what_warms_it() -> None:
    text = (
        '[place.bow]\naccess = "sealed"\nsurface = "12 cm2"\n'
        '[[run]]\nline = "lights"\nends = ["base", "bow"]\nohms = "2 ohm"\n[[run]]\nline = "main-"\nends = ["base", "bow"]\nohms = "2 ohm"\n'
        '[[lamp]]\nname = "one"\ncircuit = "lights"\nkind = "white"\nplace = "bow"\nseries = 3\nresistor = "150 ohm 1 W 0 %"\n'
        '[[lamp]]\nname = "two"\ncircuit = "lights"\nkind = "red"\nplace = "bow"\nresistor = "680 ohm 1 W 0 %"\n'
    )
    wires = 2.0 * (1 + ALPHA * 5.0)  # measured at 20 degC, in air of 25

    def off(unknown: list[float]) -> list[float]:
        one, two, first, second, rise = unknown
        both, lost = one + two, wires * (one + two) ** 2
        white, red = WHITE.volts(one, first), RED.volts(two, second)
        heat = one * 3 * white + two * red + 150 * one**2 + 680 * two**2 + lost  # half of each wire
        return [
            3 * white + 150 * one + 2 * wires * both - 12.0,
            red + 680 * two + 2 * wires * both - 12.0,
            25.0 + rise + KELVIN_PER_WATT * one * white - first,
            25.0 + rise + KELVIN_PER_WATT * two * red - second,
            heat / (WALLS * 0.0012) - rise,
        ]

    one, two, _, _, rise = solve(off, [0.015, 0.014, 100.0, 100.0, 80.0])
    made = survey(text)
    assert made.electrics.lamps["one"].nominal == pytest.approx(one, rel=1e-9)
    assert made.electrics.lamps["two"].nominal == pytest.approx(two, rel=1e-9)
    assert made.places["bow"].rise == pytest.approx(rise, rel=1e-8)


def test_each_die_of_a_chain_warms_with_the_air_where_it_sits() -> None:
    places = "".join(
        f'[place.{name}]\naccess = "sealed"\nsurface = "{cm2} cm2"\nheat = "{watts} W"\n'
        for name, cm2, watts in (("bow", 40, 0.4), ("hull", 80, 0.0), ("stern", 20, 0.0))
    )
    text = (
        f'{places}[[run]]\nline = "lights"\nends = ["base", "bow"]\nohms = "0.1 ohm"\n'
        '[[run]]\nline = "main-"\nends = ["base", "stern"]\nohms = "0.1 ohm"\n'
        '[[lamp]]\nname = "row"\ncircuit = "lights"\nkind = "white"\nplace = "bow"\nplaces = ["bow", "hull", "stern"]\nseries = 3\n'
        'links = ["10 mm of enamel-0.10", "10 mm of enamel-0.10"]\nresistor = "150 ohm 1 W 0 %"\n'
    )
    warm = 1 + ALPHA * 5.0
    run, link = 0.1 * warm, 0.01 * ENAMEL * warm

    def off(unknown: list[float]) -> list[float]:
        amps, junctions, rises = unknown[0], unknown[1:4], unknown[4:]
        volts = [WHITE.volts(amps, junction) for junction in junctions]
        lost = amps**2
        heats = [
            amps * volts[0] + 0.4 + lost * (150 + run / 2 + link / 2),
            amps * volts[1] + lost * link,
            amps * volts[2] + lost * (run / 2 + link / 2),
        ]
        return [
            sum(volts) + amps * (150 + 2 * run + 2 * link) - 12.0,
            *(
                25.0 + r + KELVIN_PER_WATT * amps * v - j
                for r, v, j in zip(rises, volts, junctions, strict=True)
            ),
            *(h / (WALLS * s) - r for h, s, r in zip(heats, (0.004, 0.008, 0.002), rises, strict=True)),
        ]

    found = solve(off, [0.015, 90.0, 60.0, 60.0, 30.0, 5.0, 10.0])
    made = survey(text)
    assert made.electrics.lamps["row"].nominal == pytest.approx(found[0], rel=1e-9)
    for name, rise in zip(("bow", "hull", "stern"), found[4:], strict=True):
        assert made.places[name].rise == pytest.approx(rise, rel=1e-8)
    # its rating is that of the die in the warmest of its places
    assert made.electrics.lamps["row"].hottest == pytest.approx(25.0 + max(found[4:]), rel=1e-8)


def test_a_lamp_that_nothing_holds_is_destroyed_and_has_no_figure() -> None:
    """Cold it takes little more than its rating; the warmer it gets the more it takes, on stiff volts without end."""
    text = (
        '[[lamp]]\nname = "bare"\ncircuit = "lights"\nkind = "red"\nplace = "base"\nseries = {series}\n{more}'
    )
    cold = solve(lambda i: [RED.volts(i[0], 25.0) - 2.14], [0.03])[0]
    assert cold < 1.6 * 0.03
    reported = survey(text.format(series=2, more=""), 4.28).figures["lamps"]["bare"]
    assert reported["fate"] == "destroyed"
    flowing = ("nominal", "lowest", "highest", "alone", "lead_drop", "resistor", "resistor_highest")
    assert [reported[figure] for figure in flowing] == [None] * len(flowing)  # type: ignore[literal-required]
    held = survey(text.format(series=2, more='resistor = "39 ohm 1 W"\n'), 5.0).figures["lamps"]["bare"]
    assert held["nominal"] is not None
    assert held["nominal"] < 2 * 0.03


def test_what_comes_to_no_rest_is_told_and_not_judged(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(states_of_survey, "MOST_ROUNDS", 2)
    text = (
        '[place.bow]\naccess = "sealed"\nsurface = "12 cm2"\n'
        '[[run]]\nline = "lights"\nends = ["base", "bow"]\nohms = "2 ohm"\n[[run]]\nline = "main-"\nends = ["base", "bow"]\nohms = "2 ohm"\n'
        '[[lamp]]\nname = "one"\ncircuit = "lights"\nkind = "white"\nplace = "bow"\nseries = 3\nresistor = "150 ohm 1 W 0 %"\n'
    )
    build = postcheck.loads(HEAD.format(volts=12.0, air=25.0) + text)
    (report,) = postcheck.check(build).files
    (finding,) = [finding for finding in report.findings if finding.check == "network.unsolved"]
    assert "come to no rest" in finding.says
    assert any(open_.vital and open_.subject == "network" for open_ in report.not_judged)
    assert report.figures["lamps"] == {}


# -- copper


@pytest.mark.parametrize("air", [0.0, 20.0, 45.0])
def test_the_traces_of_a_strip_warm_as_a_measured_run_does(air: float) -> None:
    """One segment of one die behind 4 ohm of run and 4 ohm of trace, all measured at 20 degC."""
    text = (
        '[place.bow]\naccess = "open"\n'
        '[[run]]\nline = "lights"\nends = ["base", "bow"]\nohms = "2 ohm"\n[[run]]\nline = "main-"\nends = ["base", "bow"]\nohms = "2 ohm"\n'
        '[strip_kind.own]\nvolts = "5 V"\nsegment = "50 mm"\nseries = 1\nohms = "100 ohm"\nkind = "white"\n'
        '[[strip]]\nname = "hall"\ncircuit = "lights"\nkind = "own"\nplace = "bow"\nsegments = 1\ntrace = "40 ohm/m"\n'
    )

    def off(unknown: list[float]) -> list[float]:
        amps, junction = unknown
        volts = WHITE.volts(amps, junction)
        return [
            volts + amps * (100 + 8.0 * (1 + ALPHA * (air - 20.0))) - 5.0,
            air + KELVIN_PER_WATT * amps * volts - junction,
        ]

    amps, _ = solve(off, [0.015, 40.0])
    assert survey(text, 5.0, air).electrics.strips["hall"].nominal == pytest.approx(amps, rel=1e-9)


# -- the loss of conductors


def wired(place: str = "", lead: str = "", extra: str = "", metres: float = 5.0) -> Survey:
    text = (
        f'[place.bow]\naccess = "sealed"\nsurface = "90 cm2"\n{place}'
        f'[[run]]\nname = "feed"\nline = "lights"\nends = ["base", "bow"]\nlength = "{metres} m"\nwire = "enamel-0.10"\n'
        f'[[run]]\nname = "back"\nline = "main-"\nends = ["base", "bow"]\nlength = "{metres} m"\nwire = "enamel-0.10"\n'
        f'[[lamp]]\nname = "one"\ncircuit = "lights"\nkind = "white"\nplace = "bow"\nseries = 2\nresistor = "220 ohm 1 W 0 %"\n{lead}'
    )
    return survey(text + extra)


def heat(made: Survey, part: str, place: str = "bow") -> float:
    return dict(made.places[place].parts).get(part, 0.0)


WARM = ENAMEL * (1 + ALPHA * 5.0)  # ohm/m in air of 25 degC


def test_half_of_what_a_run_loses_warms_each_of_its_ends() -> None:
    made = wired()
    amps = made.electrics.lamps["one"].nominal
    assert heat(made, "the wire of feed") == pytest.approx(amps**2 * 5.0 * WARM / 2, rel=1e-9)
    # energy: all that the supply gives, less the halves of the wires that lie outside, is in the place
    given = 12.0 * made.electrics.supplies["main"].nominal
    assert made.places["bow"].heat == pytest.approx(given - amps**2 * 5.0 * WARM, rel=1e-9)


def test_what_lies_in_a_passage_warms_no_place() -> None:
    post = '[post]\nfrom = "base"\nto = "bow"\nbore = "4 mm"\nlength = "2 m"\n'
    made = wired(extra=post)
    amps = made.electrics.lamps["one"].nominal
    assert heat(made, "the wire of feed") == pytest.approx(amps**2 * (5.0 - 2.0) * WARM / 2, rel=1e-9)
    short = wired(extra=post.replace("2 m", "6 m"))
    assert heat(short, "the wire of feed") == 0.0


def test_a_lead_warms_the_places_that_it_lies_in() -> None:
    inside = wired(lead='lead = "3 m of enamel-0.10 to bow"\n')
    amps = inside.electrics.lamps["one"].nominal
    assert heat(inside, "the lead of one") == pytest.approx(amps**2 * 2 * 3.0 * WARM, rel=1e-9)
    hull = '[place.hull]\naccess = "sealed"\nsurface = "90 cm2"\n'
    across = wired(place=hull, lead='lead = "3 m of enamel-0.10 to bow"\n')
    moved = postcheck.loads(
        (across.build.text or "").replace('place = "bow"\nseries', 'place = "hull"\nseries')
    )
    made = Survey(moved)
    amps = made.electrics.lamps["one"].nominal
    assert heat(made, "the lead of one") == pytest.approx(amps**2 * 3.0 * WARM, rel=1e-9)
    assert heat(made, "the lead of one", "hull") == pytest.approx(amps**2 * 3.0 * WARM, rel=1e-9)


def test_a_wire_that_several_circuits_share_warms_by_its_mean_square() -> None:
    """Steady i, and j for a share d of the time: i**2 (1 - d) + (i + j)**2 d."""
    flash = (
        '[circuit.flash]\nsupply = "main"\nbehaviour = "flash"\nrate = "60 /min"\non_share = "20 %"\n'
        '[[run]]\nname = "other"\nline = "flash"\nends = ["base", "bow"]\nlength = "5 m"\nwire = "enamel-0.10"\n'
        '[[lamp]]\nname = "two"\ncircuit = "flash"\nkind = "red"\nplace = "bow"\nresistor = "470 ohm 1 W 0 %"\n'
    )
    made = wired(extra=flash)
    i, j = (made.electrics.lamps[name].nominal for name in ("one", "two"))
    half = 5.0 * WARM / 2
    assert heat(made, "the wire of feed") == pytest.approx(i**2 * half, rel=1e-9)
    assert heat(made, "the wire of other") == pytest.approx(0.2 * j**2 * half, rel=1e-9)
    assert heat(made, "the wire of back") == pytest.approx((0.8 * i**2 + 0.2 * (i + j) ** 2) * half, rel=1e-9)


# -- what the highest current covers


@pytest.mark.parametrize(
    ("driven", "dark"), [("", False), ('output = { limit = "1 A" }\n', True), ('board = "driver"\n', True)]
)
def test_the_highest_current_covers_what_an_output_can_switch_off(driven: str, dark: bool) -> None:
    """On a supply of 5 ohm a lamp gets more when the others are dark; what no output drives is on with it."""
    text = (
        '[circuit.deck]\n' + ("" if "board" in driven else 'supply = "main"\n') + driven
        + '[board.driver]\nplace = "base"\nsupply = "main"\n'
        '[[lamp]]\nname = "one"\ncircuit = "lights"\nkind = "white"\nplace = "base"\nseries = 3\nresistor = "150 ohm 1 W 0 %"\n'
        '[[lamp]]\nname = "two"\ncircuit = "deck"\nkind = "white"\nplace = "base"\nseries = 3\nparallel = 10\nresistor = "150 ohm 1 W 0 %"\n'
    )  # fmt: skip
    soft = HEAD.replace('rated = "1 A"\n', 'rated = "1 A"\nresistance = "5 ohm"\n')
    figures = Survey(postcheck.loads(soft.format(volts=12.0, air=25.0) + text)).electrics.lamps
    one = figures["one"]
    assert one.alone == pytest.approx(one.highest if dark else one.alone, rel=1e-9)
    assert (one.highest > 1.1 * one.nominal) is dark
    assert one.alone > 1.1 * one.nominal
    # ten strings on one circuit are lit together: of these nothing but a broken joint leaves one alone
    assert figures["two"].alone > figures["two"].highest


@pytest.mark.parametrize(
    ("rows", "share"),
    [
        # alone for a share of the time: that share of its square; always: all of it
        ([(1.0, 0.5)], 0.5), ([(0.3, 0.2)], 0.2), ([(0.3, 1.0)], 1.0),
        # 0.2 A half the time beside 0.3 A always: 0.5 A and 0.3 A by turns, of 0.5 A
        ([(0.2, 0.5), (0.3, 1.0)], (0.25 + 0.09) / 2.0 / 0.25),
        # by chance of each other: 0.5, 0.2, 0.3 and 0 A a quarter of the time each
        ([(0.2, 0.5), (0.3, 0.5)], (0.25 + 0.04 + 0.09) / 4.0 / 0.25),
        # what cancels out has nothing to be measured by
        ([(0.2, 0.5), (-0.2, 0.5)], 1.0), ([], 1.0),
    ],
)  # fmt: skip
def test_the_mean_square_of_what_goes_on_and_off(rows: list[tuple[float, float]], share: float) -> None:
    assert _mean_square(rows) == pytest.approx(share, rel=1e-12)
