"""A diode across a motor: what it stands, and what it does the wrong way round."""

import pytest

from postcheck.checks import diodes, plugs
from postcheck.description import oneline
from postcheck.description.problems import QuantityError
from tests.survey.small import adaptor, survey

from .run import run

PLUG = '[[plug]]\nname = "keel plug"\npins = ["lights", "main-"]\nat = "hull"\nkeyed = false\n'


def motor(diode, extra="", circuit="", **more):
    text = '[[load]]\nname = "screw"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "200 mA"\nmost = "300 mA"\nhighest = "15 V"\n'
    text += f"diode = {diode}\n" if diode else ""
    text += "".join(f"{key} = {value}\n" for key, value in more.items())
    return survey(lamps=text, extra=extra, circuit=circuit, supply=adaptor("2 A"))


@pytest.mark.parametrize(
    ("text", "table"),
    [
        ("1N4001", {"kind": "1N4001"}),
        ("board", {"kind": "board"}),
        ("1 A", {"rated": "1 A"}),
        ("200mA", {"rated": "200mA"}),
        ("1 A 50 V", {"rated": "1 A", "volts": "50 V"}),
    ],
)
def test_by_its_type_or_its_current(text, table):
    assert oneline.diode(text) == table


@pytest.mark.parametrize("text", ["", "1 A of something", "50 V", "1"])
def test_what_is_neither_is_refused(text):
    with pytest.raises(QuantityError):
        oneline.diode(text)


# the motor has 300 mA at most: 1N4001 1 A and 50 V, 1N4148 0.2 A, and 12.6 V at the supply's highest
@pytest.mark.parametrize(
    ("diode", "circuit", "found"),
    [
        ('"1N4001"', "", []),
        ('"1N4148"', "", [("caution", "current:")]),
        ('"300 mA"', "", []),
        ('"1 A 12 V"', "", [("stop", "reverse:")]),
        ('"1 A 13 V"', "", []),
        ('"200 mA"', 'behaviour = "dim"\nfrequency = "2 kHz"\non_share = "50 %"', [("stop", "again:")]),
    ],
)
def test_it_stands_the_motors_current_and_the_supplys_volts(diode, circuit, found):
    findings, _ = run(diodes, "diode.too-small", motor(diode, circuit=circuit))
    assert [(finding.severity, finding.case) for finding in findings] == found


def test_a_motor_that_is_reversed_has_none():
    assert [
        one.severity for one in run(diodes, "diode.both-ways", motor('"1N4001"', reverses="true"))[0]
    ] == ["stop"]
    assert run(diodes, "diode.both-ways", motor('"board"', reverses="true"))[0] == []


def test_without_one_it_is_asked_about_on_an_output_alone():
    for diode, circuit, asked in (
        ("", 'output = "2 A"', 1),
        ("", "", 0),
        ('"1N4001"', 'output = "2 A"', 0),
        ('"board"', 'output = "2 A"', 0),
    ):
        _, questions = run(diodes, "diode.missing", motor(diode, circuit=circuit))
        assert len(questions) == asked
        assert all(question.vital for question in questions)


def test_crossed_it_is_a_short_that_wires_and_supply_alone_limit():
    """I = (12.6 V - 0.8 V) / (wires + 0.05 ohm): by hand, from the resistance of both runs as the survey has them."""
    short = motor('"1N4001"', extra=PLUG)
    (fault,) = [one for one in short.electrics.plug_faults if one.part == "screw"]
    wires = sum(
        run.ohms(short.build.build.air[0] / 2 + short.build.build.air[1] / 2) for run in short.parts.runs
    )
    pins = 2 * 1e-3
    amps = (12.6 - 0.8) / (wires + pins + 0.05)
    assert fault.reverse == pytest.approx(0.8 + amps * 0.05, rel=0.02)
    assert [one.severity for one in run(plugs, "plug.crossed", short)[0]] == ["stop"]
    plain = motor("", extra=PLUG)
    assert [one.severity for one in run(plugs, "plug.crossed", plain)[0]] == ["caution"]
