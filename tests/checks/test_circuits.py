import pytest

import postcheck
from postcheck.checks import circuits
from postcheck.remedies.proposal import changed
from postcheck.remedies.table import proposals
from postcheck.survey import Survey
from tests.survey.small import survey
from tests.write_expected import FAULTY

from .run import run
from .test_lamps import string

USB = 'kind = "usb"\nplace = "base"\nport = "plain"'
OTHER = """
[circuit.other]
supply = "main"
{what}
[[lamp]]
name = "other lamp"
circuit = "other"
kind = "smd-0603-red"
place = "hull"
resistor = "1k 1/4 W"
[[run]]
name = "other feed"
line = "other"
ends = ["base", "hull"]
length = "300 mm"
[[join]]
place = "hull"
lines = {lines}
"""
FLASH = 'behaviour = "flash"\nrate = "45 /min"\non_share = "20 %"'


def joined(what="", lines='["lights", "other"]', circuit="", more=""):
    return survey(circuit=circuit, lamps=string(), extra=OTHER.format(what=what, lines=lines) + more)


def names(check, of):
    return [(finding.severity, finding.subject.name) for finding in run(circuits, check, of)[0]]


# what is joined on the switched side is one node: Kirchhoff's laws


def test_a_steady_lamp_on_a_flasher():
    assert names("circuit.steady-on-flasher", survey(circuit=FLASH, lamps=string(behaviour='"steady"'))) == [
        ("stop", "bow lamp")
    ]
    assert names("circuit.steady-on-flasher", survey(circuit=FLASH, lamps=string())) == []
    assert names("circuit.steady-on-flasher", survey(lamps=string(behaviour='"steady"'))) == []


@pytest.mark.parametrize(
    ("circuit", "what", "told"), [("", FLASH, 1), (FLASH, "", 1), ("", "", 0), (FLASH, FLASH, 0)]
)
def test_lines_joined(circuit, what, told):
    assert len(names("circuit.steady-on-flasher", joined(what, circuit=circuit))) == told


def test_a_switched_line_joined_to_its_pole():
    pole = '[[run]]\nname = "positive"\nline = "main+"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    output = 'output = "100 mA, 0.2 V drop"'
    assert names("circuit.steady-on-flasher", joined(output, '["main+", "other"]', more=pole)) == [
        ("stop", "hull")
    ]
    assert names("circuit.steady-on-flasher", joined("", '["main+", "other"]', more=pole)) == []


@pytest.mark.parametrize(("first", "second", "told"), [(True, True, 1), (True, False, 0), (False, False, 0)])
def test_outputs_joined(first, second, told):
    output = 'output = "100 mA, 0.2 V drop"'
    both = joined(output if second else "", circuit=output if first else "")
    assert len(names("circuit.joined-outputs", both)) == told


# V = R' L I: 0.1 mm copper has 2.195 ohm/m (IEC 60317-0-1)


def row(count, more=""):
    """So many whites straight on runs of 300 mm each way."""
    text = string(resistor="82 ohm 1/4 W", parallel=count).replace('lead = "120 mm to hull"\n', "")
    return survey(lamps=text.replace('"bow"', '"hull"') + more, supply=USB, wire="enamel-0.10")


@pytest.mark.parametrize(("count", "told"), [(6, 0), (20, 0), (60, 1)])
def test_lost_on_the_way(count, told):
    lost = row(count)
    findings, _ = run(circuits, "line.drop", lost)
    assert len(findings) == told
    if told:
        total = lost.electrics.lamps["bow lamp"].nominal * count
        assert findings[0].figures["lost"].value == pytest.approx(2 * 0.3 * 2.195 * total, rel=0.02)
        assert findings[0].limit is not None
        assert findings[0].limit.value == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("share", "millimetres", "told"),
    [("lead", 300, 1), ("return", 300, 1), ("nothing", 300, 0), ("nothing", 20000, 1), ("lead", 60, 0)],
)
def test_lost_in_a_lead_as_in_runs(share, millimetres, told):
    # what sixty take flows through both legs, through one of them, or each has legs of its own
    text = string(resistor="82 ohm 1/4 W", parallel=60, strings_share=f'"{share}"').replace(
        "120 mm to hull", f"{millimetres} mm of enamel-0.10 to hull"
    )
    lost = survey(lamps=text, supply=USB)
    findings, _ = run(circuits, "line.drop", lost)
    assert len(findings) == told
    lamp = lost.electrics.lamps["bow lamp"]
    through = {"lead": 120, "return": 61, "nothing": 2}[share]
    runs = sum(one.drop for one in lost.electrics.runs.values())
    assert lamp.loss - runs == pytest.approx(millimetres / 1e3 * 2.195 * through * lamp.nominal, rel=0.02)
    if told:
        own = "Most of that is lost in its own lead" in findings[0].why
        assert own == (share == "nothing")
        assert findings[0].figures["lost"].value == pytest.approx(lamp.loss)
    if share == "lead" and told:  # the same copper laid as runs
        as_runs, _ = run(circuits, "line.drop", row(60))
        ohms = [
            (one.figures["lost"].value - more) / one.figures["current"].value
            for one, more in ((findings[0], runs), (as_runs[0], 0.0))
        ]
        assert ohms[0] == pytest.approx(ohms[1], rel=1e-6)


def test_lost_but_as_wanted():
    nominal = row(60).electrics.lamps["bow lamp"].nominal
    assert run(circuits, "line.drop", row(60, f'wanted = "{nominal * 1e3:.2f} mA"\n'))[0] == []
    assert len(run(circuits, "line.drop", row(60, 'wanted = "20 mA"\n'))[0]) == 1


LITTLE = ("line-drop-little-for-the-resistor", "line-drop-bulbs")


@pytest.mark.parametrize("name", LITTLE)
def test_light_lost_where_the_volts_are_few(name):
    text = (FAULTY / f"{name}.post.toml").read_text(encoding="utf-8")
    ((finding,), _) = run(circuits, "line.drop", Survey(postcheck.loads(text)))
    assert finding.limit is not None
    assert finding.limit.name == "drop.light"
    assert finding.figures["share"].value < 0.1 < 0.25 < finding.figures["dimmer"].value
    # what a constant current flows through takes nothing of it
    steady = text.replace('supply = "main"', 'supply = "main"\noutput = "240 mA constant, compliance 1 V"')
    assert run(circuits, "line.drop", Survey(postcheck.loads(steady)))[0] == []


def test_a_thicker_wire_or_more_of_them_mends_it():
    lost = row(50)
    (finding,), _ = run(circuits, "line.drop", lost)
    mended = [
        proposal.says
        for proposal in proposals(lost, finding)
        if run(circuits, "line.drop", Survey(changed(lost.build, proposal.changes)))[0] == []
    ]
    assert mended
