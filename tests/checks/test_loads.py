import pytest

from postcheck.checks import loads
from tests.survey.small import survey

from .run import run

USB = 'kind = "usb"\nplace = "base"\nport = "plain"'


def motor(typical="200 mA", **more):
    text = f'[[load]]\nname = "winch"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "{typical}"\n'
    return text + "".join(f'{key} = "{value}"\n' for key, value in more.items())


def severities(check, wire="enamel-0.20", supply=USB, **more):
    return [
        finding.severity
        for finding in run(loads, check, survey(supply=supply, lamps=motor(**more), wire=wire))[0]
    ]


# V = R' L I: 0.6 m of 0.2 mm copper (0.55 ohm/m at 20 degC, IEC 60317-0-1) is 0.33 ohm; USB gives 4.75 V at least


@pytest.mark.parametrize(
    ("lowest", "severity"), [("4.5 V", []), ("4.8 V", ["caution"]), ("4.95 V", ["stop"])]
)
def test_least_volts(lowest, severity):
    assert severities("load.low-volts", lowest=lowest) == severity


def test_volts_at_its_terminals():
    (finding,), _ = run(
        loads, "load.low-volts", survey(supply=USB, lamps=motor(lowest="4.95 V"), wire="enamel-0.20")
    )
    assert finding.figures["volts"].value == pytest.approx(5.0 - 0.6 * 0.55 * 0.2, abs=0.005)


def test_no_least_volts_no_finding():
    assert severities("load.low-volts") == []
    assert severities("load.no-start", starting="2 A") == []


@pytest.mark.parametrize(("starting", "severity"), [("300 mA", []), ("1 A", []), ("2 A", ["stop"])])
def test_starting(starting, severity):
    # 4.75 V less 0.33 ohm: 4.65 V at 0.3 A, 4.42 V at 1 A, 4.1 V at 2 A
    assert severities("load.no-start", starting=starting, lowest="4.3 V") == severity


def test_a_battery_that_runs_empty_is_judged_elsewhere():
    cells = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 3'
    assert severities("load.low-volts", supply=cells, typical="50 mA", lowest="4 V") == []


@pytest.mark.parametrize(("highest", "severity"), [("6 V", []), ("5.1 V", ["caution"]), ("4.5 V", ["stop"])])
def test_highest_volts(highest, severity):
    # USB: 5 V, 5.25 V at most
    assert severities("load.over-volts", wire="ptfe-24", highest=highest) == severity
