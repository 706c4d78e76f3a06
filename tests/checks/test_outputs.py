import pytest

from postcheck.checks import outputs
from tests.survey.small import survey

from .run import run
from .test_lamps import string


def names(check, of):
    return [(finding.severity, finding.subject.name) for finding in run(outputs, check, of)[0]]


# a red lamp and 1k on 12 V takes 10 mA; 5 % more volts and 5 % less resistor make it 11 mA


@pytest.mark.parametrize(("limit", "severity"), [("50 mA", []), ("21 mA", ["caution"]), ("15 mA", ["stop"])])
def test_load_of_an_output(limit, severity):
    pair = survey(lamps=string("smd-0603-red", parallel=2), circuit=f'output = "{limit}"')
    findings, _ = run(outputs, "output.overload", pair)
    assert [finding.severity for finding in findings] == severity


def test_an_output_without_a_resistor_behind_it_is_a_consequence():
    (finding,), _ = run(
        outputs, "output.overload", survey(lamps=string(resistor=None), circuit='output = "100 mA"')
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
    assert [finding.severity for finding in run(outputs, "board.wrong-volts", on_board(board))[0]] == severity


def test_a_board_on_an_emptying_battery():
    cells = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 3'
    assert names("board.wrong-volts", on_board('least_volts = "4 V"', supply=cells)) == []


# three whites at 15 mA need 9.3 V, four 12.4 V
@pytest.mark.parametrize(("series", "severity"), [(3, []), (4, ["caution"]), (6, ["stop"])])
def test_constant_current_needs_volts(series, severity):
    output = 'output = "15 mA constant, compliance 1.5 V"'
    findings, _ = run(
        outputs, "output.compliance", survey(lamps=string(resistor=None, series=series), circuit=output)
    )
    assert [finding.severity for finding in findings] == severity
