"""Filaments on fast pulses: the heat of a resistance that does not change within a pulse, balanced by SciPy."""

from __future__ import annotations

import pytest
from scipy.optimize import brentq

import postcheck
from postcheck.report import FileReport
from postcheck.survey import Survey
from postcheck.survey.network.elements import glows_through

BOAT = """format = 1
[build]
name = "Tender with a dimmed bulb"
[supply.main]
kind = "adaptor"
place = "base"
volts = "24 V"
tolerance = "0.1 %"
rated = "3 A"
fuse = "500 mA"
[place.base]
access = "open"
[place.hull]
access = "sealed"
material = "styrene"
surface = "2000 cm2"
[lamp_kind.lantern]
kind = "filament"
volts = "12 V"
rated = "50 mA"
[circuit.cab]
supply = "main"
behaviour = "dim"
frequency = "2 kHz"
on_share = "25 %"
output = "3 A"
[[lamp]]
name = "lantern"
circuit = "cab"
kind = "lantern"
place = "hull"
held_off = true
"""


def glowing(volts: float, share: float, ohms: float) -> float:
    """The current (A) of direct current that heats a 12 V, 50 mA filament as these pulses through these ohms do: I ~ V^0.55 (rerating)."""

    def direct(at: float) -> float:
        return 0.05 * (at / 12.0) ** 0.55

    def over(at: float) -> float:
        hot = at / direct(at)
        return share * (volts / (hot + ohms)) ** 2 * hot - at * direct(at)

    return direct(brentq(over, 0.05, 100.0, xtol=1e-12))


def boat(share: str = "25 %", ohms: str = "", text: str = BOAT) -> str:
    resistor = f'resistor = "{ohms} ohm 3 W at base"\nlead = "10 mm of ptfe-22 to base"\n' if ohms else ""
    return text.replace('"25 %"', f'"{share}"') + resistor


def report(text: str) -> FileReport:
    return postcheck.check(postcheck.loads(text), remedies=False).files[0]


@pytest.mark.parametrize(
    ("share", "ohms"), [("25 %", ""), ("10 %", ""), ("25 %", "270"), ("60 %", "270"), ("2 %", "270")]
)
def test_it_is_as_hot_as_the_mean_square_of_its_pulses(share: str, ohms: str) -> None:
    text, part = boat(share, ohms), float(share.rstrip(" %")) / 100.0
    electrics = Survey(postcheck.loads(text)).electrics
    lamp, mean = electrics.lamps["lantern"], glowing(24.0, part, float(ohms or 0.0))
    assert lamp.nominal == pytest.approx(mean, rel=2e-3)
    assert lamp.strings == pytest.approx((lamp.nominal,), rel=1e-12)
    # while it is on, and over time, it takes more than its volts would let it if it were as hot as they make it
    assert electrics.circuits["cab"].nominal == pytest.approx(mean / part**0.5, rel=2e-3)
    assert electrics.supplies["main"].average == pytest.approx(mean * part**0.5, rel=2e-3)


def test_a_trimmer_before_it_turned_to_nothing_to_all_of_its_track_and_held_on() -> None:
    """As its setting is 60 ohm; held on it is a bulb like others on 24 V."""
    text = boat(ohms="270").replace('"270 ohm 3 W at base"', '"trimmer 270 ohm 3 W set 60 ohm at base"')
    lamp = Survey(postcheck.loads(text)).electrics.lamps["lantern"]
    assert lamp.nominal == pytest.approx(glowing(24.0, 0.25, 60.0), rel=2e-3)
    expected = (glowing(24.0, 0.25, 0.0), glowing(24.0, 0.25, 270.0))
    assert lamp.turned == pytest.approx(expected, rel=2e-3)
    assert lamp.held_on == pytest.approx(glowing(24.0, 1.0, 60.0), rel=2e-3)


def test_a_quarter_of_twice_its_volts_is_what_it_is_made_for() -> None:
    """24 V x sqrt(0.25) = 12 V; held on it gets 24 V, twice what it is made for."""
    (note,) = (one for one in report(boat()).findings if one.subject.name == "lantern")
    assert (note.id, note.severity) == ("lamp.pulses-only:lantern", "note")
    assert note.figures["pulsed"].value == pytest.approx(12.0, rel=1e-3)
    assert note.figures["held"].value == pytest.approx(24.0, rel=1e-3)
    # at half of the time it is 17 V by itself
    assert [one.id for one in report(boat("50 %")).findings if one.severity == "stop"] == [
        "lamp.over-rating:lantern"
    ]


@pytest.mark.parametrize(("share", "severity"), [("25 %", "note"), ("2 %", "stop")])
def test_its_light_is_that_of_the_mean_square(share: str, severity: str) -> None:
    """Through 270 ohm 4.3 V and 3 % of its light, or 0.7 V and none."""
    (dim,) = (one for one in report(boat(share, "270")).findings if one.check == "lamp.dim")
    assert dim.severity == severity


@pytest.mark.parametrize(("hertz", "share"), [("99 Hz", None), ("100 Hz", 0.25), ("120 Hz", 0.25)])
def test_from_the_hum_of_alternating_current_on_it_glows_through(hertz: str, share: float | None) -> None:
    build = postcheck.loads(boat().replace("2 kHz", hertz))
    assert glows_through(build, next(iter(build.circuit))) == share


@pytest.mark.parametrize("slow", ['frequency = "50 Hz"', ""])
def test_pulses_that_it_follows_count_by_themselves(slow: str) -> None:
    found = report(boat().replace('frequency = "2 kHz"', slow)).findings
    assert [one.id for one in found if one.subject.name == "lantern"] == ["lamp.over-rating:lantern"]


def test_it_is_tested_with_the_volts_that_it_is_made_for() -> None:
    from postcheck.survey.closing.asked import asked_of  # noqa: PLC0415

    for text in (
        boat(ohms="100"),
        boat(text=BOAT.replace("held_off = true", 'lead = "100 mm to base"\nheld_off = true')),
    ):
        test = asked_of(Survey(postcheck.loads(text), closing=["hull"]), "lamp", "lantern")
        assert test.never is None
        assert test.setting is not None
        assert test.setting.expected.most <= 0.0501
        # nothing on it takes more while it starts
        assert test.setting.starting is None
        assert test.setting.limit < 0.07
