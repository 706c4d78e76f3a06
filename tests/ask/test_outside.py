"""Answers against handbook figures, records and other solvers; the source stands beside each."""

from __future__ import annotations

from math import log1p, pi, sqrt

import pytest
from scipy.optimize import brentq

from postcheck import catalogue
from postcheck.ask import battery, bore, drop, fuse, resistor, turn
from postcheck.physics.network import diode_through
from tests.outside.spice import operating_point

# Equal circles in a circle, the least container over one of them: E. Specht's records; proven for these numbers.
RECORDS = {
    2: 2.0,
    3: 2.154700538379,
    4: 2.414213562373,
    5: 2.701301616704,
    7: 3.0,
    12: 4.029601930116,
    19: 4.863703305156,
}


@pytest.mark.parametrize("count", RECORDS)
def test_equal_wires_go_through_from_the_record_on(count: int) -> None:
    ratio = RECORDS[count]
    assert bore(f"{ratio * 1.001:.6f} mm", [f"{count} x 1 mm"]).says == "Barely"
    assert bore(f"{ratio * 1.2505:.6f} mm", [f"{count} x 1 mm"]).ok
    assert bore(f"{ratio * 0.93:.6f} mm", [f"{count} x 1 mm"]).says.startswith("No")


def test_a_mixed_bundle_is_as_slim_as_the_best_known() -> None:
    # radius 1.2 mm: 2 of 1.2 mm side by side, with 4 of 0.6 mm beside them; found by long independent searches
    answer = bore("5 mm", ["2 x 1.2 mm", "4 x 0.6 mm"])
    assert answer.figures["bundle"].value == pytest.approx(2.4e-3, rel=1e-6)


@pytest.mark.parametrize(("on", "ohms"), [("6 V", 220.0), ("9 V", 390.0), ("12 V", 560.0), ("24 V", 1200.0)])
def test_worked_resistors(on: str, ohms: float) -> None:
    # worked in a lab notebook for 1.7 V and 20 mA: 215, 365, 515 and 1115 ohm, the next of E12 above
    answer = resistor("1.7 V at 20 mA", on, current="20 mA", rated="30 mA")
    assert answer.figures["ohms"].value == ohms
    # the same note's 24 V case dissipates 22.3 V x 18.6 mA = 0.41 W: a quarter watt is not enough
    if on == "24 V":
        assert answer.figures["power"].value == pytest.approx(0.41, rel=0.02)
        assert answer.figures["body"].value > 0.25


def test_a_current_by_ngspice_and_scipy(tmp_path_factory: pytest.TempPathFactory) -> None:
    answer = resistor("2.0 V at 20 mA", "12 V", current="15 mA", rated="30 mA", tolerance="0 %")
    ohms, nominal = answer.figures["ohms"].value, answer.figures["nominal"].value
    # 2.0 V at 20 mA and 0.1 V less at a quarter of it, at the usual 20 degC of the room and warmed by itself
    curve = diode_through(1.9, 5e-3, 2.0, 20e-3)

    def forward(amps: float) -> float:
        warmed = 20.0 + 500.0 * amps * 2.0 - 25.0  # K from 25 degC: 500 K/W and -2 mV/K are usual
        return curve.slope * log1p(amps / curve.saturation) + amps * curve.ohm - 0.002 * warmed

    amps = brentq(lambda amps: 12.0 - amps * ohms - forward(amps), 1e-6, 0.1)
    assert nominal == pytest.approx(amps, rel=2e-4)  # the heat is taken at exactly 2.0 V here
    shift = -0.002 * (20.0 + 500.0 * amps * forward(amps) - 25.0)
    thermal = 0.025692579  # V at 25 degC
    deck = (
        f"deck\nV1 a 0 12\nR1 a b {ohms}\nVs b c {shift}\nR2 c d {curve.ohm}\nD1 d 0 led\n"
        f".model led d(is={curve.saturation} n={curve.slope / thermal})\n.end"
    )
    solved = operating_point(deck, tmp_path_factory.mktemp("spice"))
    assert -solved["i(v1)"] == pytest.approx(nominal, rel=2e-4)


def test_the_band_is_what_its_parts_make_it() -> None:
    # by hand for a resistor alone, the die's volts given: 12.6 V over 0.95 R at most, 11.4 V over 1.05 R at least;
    # the die's own shift with warmth (-2 mV/K) moves each end by some tenths of a per cent
    answer = resistor("2.0 V at 20 mA", "12 V", current="15 mA", rated="30 mA")
    ohms = answer.figures["ohms"].value
    assert answer.figures["highest"].value == pytest.approx((12.6 - 1.97) / (0.95 * ohms), rel=0.01)
    assert answer.figures["lowest"].value == pytest.approx((11.4 - 1.99) / (1.05 * ohms), rel=0.01)


def test_three_whites_on_twelve_volts() -> None:
    # string of three whites on 12 V: 9.6 V at 20 mA by the data sheets; four have nothing left for a resistor
    assert resistor("3 smd-0603-white", "12 V").ok
    four = resistor("4 smd-0603-white", "12 V")
    assert not four.ok
    assert "3 in series would do" in four.reason


@pytest.mark.parametrize(
    ("wire", "ohms_per_metre"),
    # 7 strands of 36 and 38 AWG with 2 % for their lay, and 0.100 mm enamelled: 1/(58 A), IEC 60028
    [("ptfe-28", 0.1983), ("ptfe-30", 0.3153), ("enamel-0.10", 2.195)],
)
def test_drop_by_tabulated_ohms(wire: str, ohms_per_metre: float) -> None:
    answer = drop("260 mm", wire, "120 mA")
    assert answer.figures["ohms"].value == pytest.approx(2 * 0.260 * ohms_per_metre, rel=1e-3)
    assert answer.figures["lost"].value == pytest.approx(2 * 0.260 * ohms_per_metre * 0.120, rel=1e-3)


def test_what_never_arrives_is_said() -> None:
    answer = drop("2 m", "enamel-0.063", "1 A", "12 V")  # 4 m of 5.531 ohm/m would take 22 V
    assert not answer.ok
    assert answer.figures["lost"].value == pytest.approx(22.1, rel=1e-2)


def test_a_short_post_with_a_solid_wire_by_the_length_rule() -> None:
    # L = d * turn / (2 sqrt(3) strain): the turn, peak to peak, that a lone solid wire lives with for 10,000 times.
    # Least strain of the five relations at 10,000: 0.305 % (foil, Df 0.15)
    answer = turn("60 mm", ["pvc-26-solid"], "10000 times")
    row = catalogue.wire("pvc-26-solid")
    expected = 2 * sqrt(3) * 0.00305 * 0.060 / row.strand_diameter / 2  # each way is half of it
    assert answer.figures["turn"].value == pytest.approx(expected, abs=pi / 180 + 0.01 * expected)


def test_no_turn_beyond_a_full_one() -> None:
    # elastic looping of a clamped rod at 690 degrees (Greenhill) over 1.9
    answer = turn("1 m", ["fep-40"], "10 times")
    assert answer.figures["turn"].value == pytest.approx(2 * pi, abs=pi / 180)
    assert "loops" in answer.reason


def test_fuses_are_preferred_ratings_with_a_tenth_to_spare() -> None:
    # IEC 60127-1, R10
    for load, rated in (
        ("340 mA", 0.4),
        ("360 mA", 0.4),
        ("361 mA", 0.5),
        ("1 A", 1.25),
        ("2.8 A", 3.15),
        ("60 mA", 0.1),
    ):
        assert fuse(load).figures["fuse"].value == pytest.approx(rated), load
    assert not fuse("9.5 A").ok
    # IEC 60127-2 holds 150 % for an hour: 800 mA at the start needs 533 mA and so 630 mA
    assert fuse("340 mA", starting="800 mA").figures["fuse"].value == pytest.approx(0.63)


@pytest.mark.parametrize(
    ("wire", "on", "length"),
    [("ptfe-28", "1.2 V", "5 m"), ("ptfe-28", "0.5 V", "5 m"), ("enamel-0.10", "1.5 V", "1 m"), ("ptfe-28", "12 V", "5 m")],
)  # fmt: skip
def test_no_fuse_is_named_below_what_is_asked_for(wire: str, on: str, length: str) -> None:
    answer = fuse("340 mA", wire, on, length)
    # next in R10 above 340 mA over 0.9, by IEC 60127-1
    named = [text for text in (answer.says, answer.reason) if "quick" in text]
    assert all("400 mA quick" in text for text in named)
    # 7 strands of 36 AWG, 2 % for their lay: 0.1983 ohm/m; 10 m take 0.67 V at 340 mA
    assert (answer.says == "It does not arrive") == (on == "0.5 V")
    if on == "0.5 V":
        assert answer.figures["lost"].value == pytest.approx(10 * 0.1983 * 0.34, rel=1e-3)
        assert not named


def test_it_is_the_start_that_no_fuse_holds() -> None:
    # IEC 60127-2 holds 150 % for an hour: 15 A of 10 A
    assert "50 A while it starts is beyond" in fuse("340 mA", starting="50 A").reason
    assert "50 A while it starts is beyond" in fuse("340 mA", "ptfe-28", starting="50 A").reason
    assert "12 A is beyond" in fuse("12 A", starting="50 A").reason
    assert fuse("340 mA", starting="15 A").figures["fuse"].value == pytest.approx(10.0)


def test_runtimes_worked_by_hand() -> None:
    # 3 x AA, 100 mA, 2450 mAh by the least of four makers' curves: 0.75 * 2450 / 100 = 18.4 h; 1000 mAh of lipo at 60 mA: 12.5 h
    assert battery("3 alkaline-aa", "100 mA").figures["lasts"].value / 3600 == pytest.approx(18.375)
    # the most that it may give is no more than that
    assert battery("2 alkaline-aa", "500 mA").figures["capacity"].value == pytest.approx(1375 * 3.6)
    # a CR2032 is rated at 0.2 mA
    assert "published up to 200 uA only" in (battery("cr2032", "1 mA").caution or "")
    assert "published" not in (battery("cr2032", "0.1 mA").caution or "")
    lipo = battery("lipo", "60 mA", capacity="1000 mAh")
    assert lipo.figures["lasts"].value / 3600 == pytest.approx(12.5)
    assert "maker" in (lipo.caution or "")


def test_a_pouch_gives_its_capacity_in_an_hour_where_nobody_says_more() -> None:
    # cell makers' and hobby guides: at most 1C, so 400 mA of 400 mAh
    held = battery("lipo", "400 mA", capacity="400 mAh")
    assert held.ok
    refused = battery("lipo", "410 mA", capacity="400 mAh")
    assert not refused.ok
    assert refused.figures["most"].value == pytest.approx(0.4)
    assert refused.limit is not None
    assert "1C" in refused.limit.source
    # a pouch that is made for more says so; 2 A of it for 0.75 * 0.4 / 2 h
    made_for_it = battery("lipo", "2 A", capacity="400 mAh", rated="4 A")
    assert made_for_it.ok
    assert made_for_it.figures["lasts"].value / 60 == pytest.approx(9.0)


def test_a_cut_off_that_a_fresh_battery_never_has() -> None:
    # a fresh alkaline cell stands at 1.6 V (from memory): 6.4 V of four
    for what, cut_off, lasting in (("4 alkaline-aa", "9 V", None), ("2 alkaline-aa", "5 V", "10 h"), ("cr2032", "3.2 V", None)):  # fmt: skip
        answer = battery(what, "1 mA", cut_off=cut_off, lasting=lasting)
        assert not answer.ok
        assert answer.says == "Empty from the start"
        assert "lasts" not in answer.figures
    # a usual cut-off is where the rated capacity ends; above the usual volts of 6 V much is left: straight from 6.4 to 3.6 V
    for cut_off in ("4 V", None):
        answer = battery("4 alkaline-aa", "100 mA", cut_off=cut_off)
        assert answer.figures["lasts"].value / 3600 == pytest.approx(18.375)
    early = battery("4 alkaline-aa", "100 mA", cut_off="6.05 V")
    assert early.figures["lasts"].value / 3600 == pytest.approx(18.375 * (6.4 - 6.05) / (6.4 - 3.6))


def test_nothing_lasts_longer_than_a_cell_keeps() -> None:
    # alkaline and lithium primary cells are sold to keep for about ten years; from memory
    answer = battery("2 alkaline-aa", "1 nA")
    assert answer.says == "Longer than they keep"
    assert answer.figures["lasts"].value == pytest.approx(10 * 365.25 * 86400)
    assert not battery("2 alkaline-aa", "1 nA", lasting="11 years").ok
    assert battery("2 alkaline-aa", "1 nA", lasting="9 years").ok
