import pytest

from postcheck.checks import circuits
from postcheck.remedies.ways import WAYS as PROPOSERS
from postcheck.survey import Survey
from postcheck.trial import changed
from tests.survey.small import survey

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


def test_lost_but_as_wanted():
    nominal = row(60).electrics.lamps["bow lamp"].nominal
    assert run(circuits, "line.drop", row(60, f'wanted = "{nominal * 1e3:.2f} mA"\n'))[0] == []
    assert len(run(circuits, "line.drop", row(60, 'wanted = "20 mA"\n'))[0]) == 1


def test_a_thicker_wire_or_more_of_them_mends_it():
    lost = row(50)
    (finding,), _ = run(circuits, "line.drop", lost)
    mended = [
        proposal.says
        for proposal in PROPOSERS["line.drop"](lost, finding)
        if run(circuits, "line.drop", Survey(changed(lost.build, proposal.changes)))[0] == []
    ]
    assert mended


# -- outputs and boards

# a red lamp and 1k on 12 V takes 10 mA; 5 % more volts and 5 % less resistor make it 11 mA


@pytest.mark.parametrize(("limit", "severity"), [("50 mA", []), ("21 mA", ["caution"]), ("15 mA", ["stop"])])
def test_load_of_an_output(limit, severity):
    pair = survey(lamps=string("smd-0603-red", parallel=2), circuit=f'output = "{limit}"')
    findings, _ = run(circuits, "output.overload", pair)
    assert [finding.severity for finding in findings] == severity


def test_an_output_without_a_resistor_behind_it_is_a_consequence():
    (finding,), _ = run(
        circuits, "output.overload", survey(lamps=string(resistor=None), circuit='output = "100 mA"')
    )
    assert finding.because_of == "lamp.no-resistor:bow lamp"
    assert set(finding.figures) == {"rated"}


def on_board(board, parallel=2, supply=None):
    text = f'[board.driver]\nplace = "base"\nsupply = "main"\n{board}\n'
    lamps = string("smd-0603-red", parallel=parallel).replace('circuit = "lights"', 'circuit = "channel"')
    feed = '[[run]]\nname = "channel feed"\nline = "channel"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    return survey(lamps=lamps, supply=supply, extra=f'{text}[circuit.channel]\nboard = "driver"\n{feed}')


@pytest.mark.parametrize(
    ("board", "expected"),
    [
        ('limit = "100 mA"\ntotal = "500 mA"', []),
        ('limit = "15 mA"', [("stop", "channel")]),
        ('total = "21 mA"', [("caution", "driver")]),
        ('limit = "15 mA"\ntotal = "15 mA"', [("stop", "channel"), ("stop", "driver")]),
    ],
)
def test_load_of_a_board(board, expected):
    assert names("board.overload", on_board(board)) == expected


@pytest.mark.parametrize(
    ("board", "severity"),
    [
        ('least_volts = "9 V"\nmost_volts = "15 V"', []),
        ('most_volts = "12.5 V"', ["caution"]),  # 12 V 5 % gives 12.6 V
        ('most_volts = "5.5 V"', ["stop"]),
        ('least_volts = "11.5 V"', ["caution"]),
        ('least_volts = "15 V"', ["stop"]),
    ],
)
def test_volts_of_a_board(board, severity):
    assert [
        finding.severity for finding in run(circuits, "board.wrong-volts", on_board(board))[0]
    ] == severity


def test_a_board_on_an_emptying_battery():
    cells = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 3'
    assert names("board.wrong-volts", on_board('least_volts = "4 V"', supply=cells)) == []


# three whites at 15 mA need 9.3 V, four 12.4 V
@pytest.mark.parametrize(("series", "severity"), [(3, []), (4, ["caution"]), (6, ["stop"])])
def test_constant_current_needs_volts(series, severity):
    output = 'output = "15 mA constant, compliance 1.5 V"'
    findings, _ = run(
        circuits, "output.compliance", survey(lamps=string(resistor=None, series=series), circuit=output)
    )
    assert [finding.severity for finding in findings] == severity
