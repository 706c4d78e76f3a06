from pathlib import Path

import pytest

import postcheck
from postcheck.checks import loads, outputs, starting
from postcheck.survey import Survey
from tests.survey.small import survey

from .facts import asked, facts, judged, values, with_figures
from .run import run

USB = 'kind = "usb"\nplace = "base"\nport = "plain"'


def motor(typical="200 mA", **more):
    text = f'[[load]]\nname = "winch"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "{typical}"\n'
    return text + "".join(f'{key} = "{value}"\n' for key, value in more.items())


def severities(check, wire="enamel-0.20", supply=USB, **more):
    module = starting if "start" in check else loads
    return [
        finding.severity
        for finding in run(module, check, survey(supply=supply, lamps=motor(**more), wire=wire))[0]
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
    assert severities("load.no-start", starting="900 mA") == []


@pytest.mark.parametrize(("asks", "severity"), [("300 mA", []), ("1 A", []), ("2 A", ["stop"])])
def test_volts_at_the_start(asks, severity):
    # 4.75 V less 0.33 ohm: 4.65 V at 0.3 A, 4.42 V at 1 A, 4.1 V at 2 A
    assert severities("load.no-start", starting=asks, lowest="4.3 V") == severity


SOFT = (
    'kind = "adaptor"\nplace = "base"\nvolts = "6 V"\ntolerance = "0 %"\nrated = "3 A"\nresistance = "1 ohm"'
)
HORN = """
[circuit.horn]
supply = "main"
[[load]]
name = "horn"
kind = "sound"
circuit = "horn"
place = "hull"
typical = "50 mA"
lowest = "{}"
[[run]]
line = "horn"
ends = ["base", "hull"]
length = "300 mm"
wire = "ptfe-24"
"""


# Kirchhoff: 6 V less 1 ohm x (1 A + 50 mA) is 4.95 V, less 0.3 m of AWG 24 (84.2 mohm/m, ASTM B258) at 50 mA and at 1.05 A: 4.92 V;
# while the winch runs 6 - 0.25 = 5.75 V less 6 mV
@pytest.mark.parametrize(("lowest", "severity"), [("4.9 V", []), ("4.95 V", ["stop"])])
def test_volts_while_another_one_starts(lowest, severity):
    made = survey(
        supply=SOFT, lamps=motor(starting="1 A", lowest="2 V"), extra=HORN.format(lowest), wire="ptfe-24"
    )
    [sag] = made.electrics.sags
    assert (sag.name, sag.load) == ("horn", "winch")
    assert sag.volts == pytest.approx(6.0 - 1.05 - 0.3 * 0.0842 * (0.05 + 1.05), abs=0.005)
    assert sag.before == pytest.approx(6.0 - 0.25 - 0.3 * 0.0842 * (0.05 + 0.25), abs=0.005)
    findings, questions = run(starting, "load.resets", made)
    assert ([finding.severity for finding in findings], questions) == (severity, [])


def test_one_that_has_too_little_anyway_is_judged_elsewhere():
    made = survey(
        supply=SOFT, lamps=motor(starting="1 A", lowest="2 V"), extra=HORN.format("5.8 V"), wire="ptfe-24"
    )
    assert run(starting, "load.resets", made) == ([], [])
    assert [finding.subject.name for finding in run(loads, "load.low-volts", made)[0]] == ["horn"]


ADAPTOR = 'kind = "adaptor"\nplace = "base"\nvolts = "5 V"\nrated = "500 mA"\n'


@pytest.mark.parametrize(
    ("limit", "asks", "severity", "asked"),
    [
        ("", "450 mA", [], 0),
        ("", "800 mA", [], 1),  # between its rating and twice that nobody knows
        ("", "1.1 A", ["stop"], 0),
        ('current_limit = "900 mA"\n', "800 mA", [], 0),
        ('current_limit = "700 mA"\n', "800 mA", ["stop"], 0),
    ],
)
def test_amperes_at_the_start(limit, asks, severity, asked):
    made = survey(supply=ADAPTOR + limit, lamps=motor(starting=asks), wire="ptfe-24")
    findings, questions = run(starting, "supply.no-start", made)
    assert ([finding.severity for finding in findings], len(questions)) == (severity, asked)


def test_a_motor_behind_a_converter_is_started_by_its_source_too():
    # 5 V x 1 A / (85 % x 12 V) = 0.49 A on 100 mA
    text = (
        '[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "base"\nvolts = "5 V"\nrated = "2 A"\ncurrent_limit = "3 A"\n'
        '[circuit.winch]\nsupply = "five"\n[[run]]\nline = "winch"\nends = ["base", "hull"]\nlength = "200 mm"\nwire = "ptfe-24"\n'
    )
    made = survey(
        supply=ADAPTOR.replace("5 V", "12 V").replace("500 mA", "100 mA") + 'current_limit = "150 mA"\n',
        lamps=motor(typical="50 mA", starting="1 A").replace('"lights"', '"winch"'),
        extra=text,
    )
    assert made.electrics.supplies["main"].starting == pytest.approx(5.0 / (0.85 * 12.0), rel=0.02)
    [finding], _ = run(starting, "supply.no-start", made)
    assert finding.subject.name == "main"


# IEC 60127-2 by makers' sheets: a slow one in glass may open in 0.15 s at four times its rating, at 2.75 times in 0.6 s
@pytest.mark.parametrize(
    ("fuse", "severity"),
    [("250 mA", ["caution"]), ("250 mA slow", ["caution"]), ("400 mA slow", []), ("1 A", [])],
)
def test_a_fuse_that_opens_at_the_start(fuse, severity):
    assert (
        severities("fuse.opens-at-start", supply=ADAPTOR + f'fuse = "{fuse}"', wire="ptfe-24", starting="1 A")
        == severity
    )


def test_a_battery_that_runs_empty_is_judged_elsewhere():
    cells = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 3'
    assert severities("load.low-volts", supply=cells, typical="50 mA", lowest="4 V") == []


# IEC 60034-1, 7.3 (from memory): a motor does its work for good at up to 5 % more than its rated volts
@pytest.mark.parametrize(
    ("kind", "tolerance", "highest", "severity"),
    [
        ("sound", "5 %", "6 V", []),
        ("sound", "5 %", "5 V", ["caution"]),
        ("motor", "5 %", "5 V", []),
        ("motor", "6 %", "5 V", ["caution"]),
        ("motor", "5 %", "4.5 V", ["stop"]),
    ],
)
def test_highest_volts(kind, tolerance, highest, severity):
    """On 5 V, less some hundredths on the way."""
    supply = ADAPTOR + f'tolerance = "{tolerance}"\n'
    given = motor(highest=highest).replace('kind = "motor"', f'kind = "{kind}"')
    made = survey(supply=supply, lamps=given, wire="ptfe-24")
    assert [one.severity for one in run(loads, "load.over-volts", made)[0]] == severity


def test_what_gets_no_volts_has_not_too_many():
    made = survey(supply=ADAPTOR, lamps=motor(highest="1 V"), wire="ptfe-24")
    assert len(facts(loads, "load.over-volts", made)) == 1
    supplies = {"main": made.electrics.supplies["main"]._replace(volts=0.0)}
    assert judged(loads, "load.over-volts", with_figures(made, supplies=supplies)) == []
    # nor is it asked what it withstands
    unsaid = survey(supply=ADAPTOR, lamps=motor(), wire="ptfe-24")
    assert len(asked(loads, "load.over-volts", unsaid)) == 1
    (name,) = unsaid.electrics.loads
    idle = with_figures(unsaid, loads={name: unsaid.electrics.loads[name]._replace(volts=0.0)})
    assert judged(loads, "load.over-volts", idle) == []


def test_the_volts_of_a_motor_that_is_still_to_be_found_are_not_typed():
    made = survey(supply=ADAPTOR, lamps=motor(highest="3 V"), wire="ptfe-24")
    told = {one.check: one for one in postcheck.check(made.build).files[0].findings}["load.over-volts"]
    assert told.remedy == "Use one that withstands 6 V or more."
    assert told.edits is None


BUILDS = Path(__file__).parents[1] / "builds" / "faulty"


def test_a_battery_that_no_longer_starts_a_motor():
    """Four AA: 6 V as they are called, 5 V with half of their charge gone, 3.6 V empty. 1 A loses the same on the way at any of them."""
    found = {}
    for name in ("half-empty", "nearly-empty", "nearly-empty-not-said"):
        build = postcheck.load(BUILDS / f"load-no-start-{name}.post.toml")
        (found[name],) = postcheck.check(build, remedies=False).files[0].findings
    assert [one.severity for one in found.values()] == ["stop", "caution", "note"]
    lost = 5.0 - found["half-empty"].figures["start"].value
    # cells of 0.15 ohm, and 160 mm of AWG 24 (84 mohm/m)
    assert 4 * 0.15 < lost < 4 * 0.25
    # on the straight line from half to empty
    for name in ("nearly-empty", "nearly-empty-not-said"):
        assert found[name].figures["left"].value == pytest.approx(
            0.5 * (3.0 + lost - 3.6) / (5.0 - 3.6), rel=1e-3
        )
    assert 9.0 < found["nearly-empty"].figures["after"].value / 3600.0 < 10.0


# what others push backwards through it is told as nothing
@pytest.mark.parametrize(
    ("volts", "lowest", "shown"), [(4.2, 3.9, (4.2, 3.9)), (4.2, -0.3, (4.2, 0.0)), (-0.4, -0.9, (0.0, 0.0)), (4.6, 4.5, None)]
)  # fmt: skip
def test_volts_below_nothing_are_told_as_nothing(volts, lowest, shown):
    made = survey(supply=USB, lamps=motor(lowest="4.5 V"))
    load = made.electrics.loads["winch"]._replace(volts=volts, lowest_volts=lowest)
    got = facts(loads, "load.low-volts", with_figures(made, loads={"winch": load}))
    assert [values(fact) for fact in got] == (
        [] if shown is None else [{"volts": shown[0], "lowest": shown[1], "needs": 4.5}]
    )


ROW = '[[load]]\nname = "row"\nkind = "{}"\ncircuit = "lights"\nplace = "hull"\ntypical = "20 mA"\n'
DATA = '[[run]]\nname = "data"\nends = ["base", "{}"]\nlength = "300 mm"\ncarries = "{}"\n'


@pytest.mark.parametrize(
    ("kind", "circuit", "case"),
    [
        ("pixels", 'behaviour = "dim"\nfrequency = "2 kHz"\non_share = "30 %"', "pixels"), ("sound", 'behaviour = "flash"\nrate = "10 /min"', "sound"),
        ("pixels", 'behaviour = "fade"\nrate = "10 /min"', "pixels"), ("pixels", "", None), ("motor", 'behaviour = "flash"\nrate = "10 /min"', None),
        ("other", 'behaviour = "flash"\nrate = "10 /min"', None), ("pixels", 'behaviour = "dim"\nfrequency = "2 kHz"\non_share = "100 %"', None),
        ("sound", 'behaviour = "fade"\nrate = "10 /min"\nleast_share = "100 %"', None),
    ],
)  # fmt: skip
def test_logic_that_begins_anew(kind, circuit, case):
    got = facts(loads, "load.restarts", survey(lamps=ROW.format(kind), circuit=circuit))
    assert [(fact.case, fact.severity, fact.subject.name) for fact in got] == (
        [] if case is None else [(case, "caution", "row")]
    )


@pytest.mark.parametrize(
    ("kind", "extra", "questions"),
    [
        ("pixels", "", 1), ("sound", "", 0), ("pixels", DATA.format("hull", "data"), 0), ("pixels", DATA.format("hull", "sound"), 1),
        ("pixels", DATA.format("bow", "data"), 1), ("pixels", ROW.format("other").replace("row", "maker"), 0),
        ("pixels", ROW.format("motor").replace("row", "winch"), 1), ("pixels", '[board.maker]\nplace = "hull"\nsupply = "main"\n', 0),
        ("pixels", '[board.maker]\nplace = "base"\nsupply = "main"\n', 1), ("pixels", ROW.format("pixels").replace("row", "second"), 1),
    ],
)  # fmt: skip
def test_data_for_pixels(kind, extra, questions):
    got = asked(loads, "load.no-data", survey(lamps=ROW.format(kind), extra=extra))
    assert [(one.subject, one.vital) for one in got] == [("row", False)] * questions
    for one in got:
        typed = "\n".join(one.lines)
        assert tuple(one.lines)[1:4] == (
            'name = "data of row"',
            'ends = ["base", "hull"]',
            'length = "300 mm"',
        )
        assert asked(loads, "load.no-data", survey(lamps=ROW.format(kind), extra=f"{extra}\n{typed}\n")) == []


# data get to pixels from what makes them, or from where no pixels are, through as many rows as there are
@pytest.mark.parametrize(
    ("extra", "asked_of"),
    [
        ((("hull", "bow"),), ["row"]),  # from row to row alone
        ((("base", "hull"), ("hull", "bow")), []), ((("hull", "bow"), ("bow", "base")), []), ((("base", "hull"),), ["bow row"]),
        ((("base", "bow"),), ["row"]), ((), ["row", "bow row"]),
    ],
)  # fmt: skip
@pytest.mark.parametrize("maker", [False, True])
def test_data_from_row_to_row(extra, asked_of, maker):
    rows = ROW.format("pixels") + ROW.format("pixels").replace("row", "bow row").replace("hull", "bow")
    runs = "".join(
        f'[[run]]\nname = "data {n}"\nends = ["{one}", "{other}"]\nlength = "200 mm"\ncarries = "data"\n'
        for n, (one, other) in enumerate(extra)
    )
    through = "".join(
        f'[[run]]\nname = "on {line}"\nline = "{line}"\nends = ["hull", "bow"]\nlength = "120 mm"\nwire = "ptfe-28"\n'
        for line in ("lights", "main-")
    )
    board = '[board.maker]\nplace = "hull"\nsupply = "main"\n' if maker else ""
    got = asked(loads, "load.no-data", survey(lamps=rows, extra=board + through + runs))
    fed = {"row"} if maker else set()
    assert [one.subject for one in got] == [name for name in asked_of if name not in fed]
    typed = "\n".join(line for one in got for line in one.lines)
    assert asked(loads, "load.no-data", survey(lamps=rows, extra=f"{board}{through}{runs}\n{typed}\n")) == []
    if got and got[0].subject == "row":
        assert got[0].lines[2] == 'ends = ["base", "hull"]'


@pytest.mark.parametrize(("closing", "vital"), [((), True), (("hull",), True), (("base",), False)])
def test_data_are_vital_before_pixels_are_closed_in(closing, vital):
    made = Survey(survey(lamps=ROW.format("pixels")).build, stage="closing", closing=closing)
    assert [one.vital for one in asked(loads, "load.no-data", made)] == [vital]


@pytest.mark.parametrize(
    ("kind", "most", "severity"), [("pixels", "90 mA", []), ("pixels", "110 mA", ["stop"]), ("other", "110 mA", ["stop"]), ("sound", "110 mA", ["caution"])]
)  # fmt: skip
def test_an_output_bears_what_stays_at_its_most(kind, most, severity):
    made = survey(lamps=ROW.format(kind) + f'most = "{most}"\n', circuit='output = "100 mA"')
    assert [fact.severity for fact in facts(outputs, "output.overload", made)] == severity
