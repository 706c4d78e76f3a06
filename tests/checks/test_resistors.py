import math

import pytest

from postcheck.checks import resistors
from tests.survey.small import survey

from .run import run
from .test_lamps import string


def severities(resistor, circuit="", kind="smd-0603-red", **more):
    return [
        finding.severity
        for finding in run(
            resistors, "resistor.overloaded", survey(lamps=string(kind, resistor, **more), circuit=circuit)
        )[0]
    ]


# P = (12 V - 2 V)**2 / R: 1k 100 mW (113 mW likely), 560 ohm 179 mW (199), 510 ohm 196 mW (220); 0805 stands 1/8 W, 0402 1/16 W
@pytest.mark.parametrize(
    ("resistor", "severity"),
    [
        ("1k 1/4 W", []),
        ("1k 0805", ["caution"]),
        ("1k 0402", ["stop"]),
        ("560 ohm 1/4 W", []),
        ("510 ohm 1/4 W", ["caution"]),
        ("560 ohm 1/2 W", []),
    ],
)
def test_share_of_its_power(resistor, severity):
    assert severities(resistor) == severity


def test_its_heat_is_volts_squared_over_ohms():
    (finding,), _ = run(resistors, "resistor.overloaded", survey(lamps=string("smd-0603-red", "1k 0402")))
    assert finding.figures["nominal"].value == pytest.approx((12 - 2.05) ** 2 / 1000, rel=0.02)
    assert finding.because_of == "lamp.over-rating:bow lamp"


# lit for good 1k has the same 100 mW, at an average of 10 mW: too much for 0402 when the flasher sticks
@pytest.mark.parametrize(
    "circuit",
    [
        'behaviour = "flash"\nrate = "1 Hz"\non_share = "10 %"',
        'behaviour = "flash"\nrate = "6 /min"\non_share = "30 %"',
        'behaviour = "dim"\nfrequency = "2 kHz"\non_share = "10 %"',
    ],
)
def test_what_flashes_may_also_stick(circuit):
    assert severities("1k 0402", circuit) == ["stop"]
    assert severities("1k 0805", circuit) == ["caution"]
    assert severities("1k 1/4 W", circuit) == []


def test_short_flashes_are_told_by_what_sticks():
    flash = 'behaviour = "flash"\nrate = "1 Hz"\non_share = "10 %"'
    (finding,), _ = run(
        resistors, "resistor.overloaded", survey(lamps=string("smd-0603-red", "1k 0402"), circuit=flash)
    )
    assert finding.case == "steadily:"


def test_likely_is_one_corner_at_a_time():
    # 12 V 5 %, 2.0 V of the die (1.8 at the least), 1k 5 %: typical 100 mW; 10.6**2, 10.2**2 and 10**2 / 0.95 mW by each alone
    (finding,), _ = run(resistors, "resistor.overloaded", survey(lamps=string("smd-0603-red", "1k 0402")))
    likely = 100 + math.hypot(10.6**2 - 100, 10.2**2 - 100, 100 / 0.95 - 100)
    assert finding.figures["likely"].value == pytest.approx(likely / 1000, rel=0.02)


def test_one_resistor_for_several_counts_their_sum():
    # two reds behind 470 ohm: the resistor's current is that of both, (12 - 2) / 470 = 21 mA and 213 mW
    (finding,), _ = run(
        resistors, "resistor.overloaded",
        survey(lamps=string("smd-0603-red", "470 ohm 1/8 W", parallel=2, one_resistor="true", matched="true")),
    )  # fmt: skip
    assert finding.figures["nominal"].value == pytest.approx((12 - 2.0) ** 2 / 470, rel=0.03)


def test_unknown_power_matters_only_where_it_is_warm():
    findings, (question,) = run(resistors, "resistor.overloaded", survey(lamps=string("smd-0603-red", "1k")))
    assert findings == []
    assert not question.vital
    assert run(resistors, "resistor.overloaded", survey(lamps=string("smd-0603-red", "4k7"))) == ([], [])


# IEC 60063: 470 in E12, 510 in E24, 499 in E96; 225 and 500 in none
@pytest.mark.parametrize(
    ("ohms", "odd"), [("470 ohm", 0), ("510 ohm", 0), ("499 ohm", 0), ("500 ohm", 1), ("225 ohm", 1)]
)
def test_values_that_are_sold(ohms, odd):
    findings, _ = run(
        resistors, "resistor.not-in-series", survey(lamps=string("smd-0603-red", f"{ohms} 1 W"))
    )
    assert len(findings) == odd
    assert all(finding.severity == "note" for finding in findings)


def test_one_finding_for_one_slip():
    pair = string(resistor="225 ohm 1 W") + string(resistor="225 ohm 1 W").replace("bow lamp", "stern lamp")
    (finding,), _ = run(resistors, "resistor.not-in-series", survey(lamps=pair))
    assert "'bow lamp' and 'stern lamp'" in finding.says
