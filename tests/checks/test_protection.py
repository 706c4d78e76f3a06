import pytest

from postcheck.checks import hot_wires, protection
from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.remedies.fuse import FUSES
from postcheck.report import Subject
from postcheck.survey.heat.fuses import protecting_fuse, with_fuse
from tests.survey.small import adaptor, lamp, survey

from .run import run


def _ids(made):
    found = {}
    for module in (protection, hot_wires):
        for check in module.CHECKS:
            for finding in run(module, check.name, made)[0]:
                found[finding.check] = finding.severity
    return found


BATTERY = 'kind = "battery"\nplace = "base"\nchemistry = "{}"\nsize = "{}"\ncells = {}\n'
USB = 'kind = "usb"\nplace = "base"\n'


# the common small supplies with fine leads are sound: 0.1 mm melts at 2.5 A in free air (Preece)
@pytest.mark.parametrize(
    "supply",
    [
        adaptor("1 A", "500 mA"),
        adaptor("5 A", "500 mA"),
        adaptor("2 A", "500 mA"),
        adaptor("1 A", None),
        adaptor("1 A", "1 A"),
        adaptor("1 A", None) + 'current_limit = "1.1 A"',
        USB,
        BATTERY.format("alkaline", "aa", 3) + 'fuse = "500 mA"',
        BATTERY.format("lipo", "", 1) + 'protected = true\nfuse = "250 mA"',
        BATTERY.format("lithium-coin", "cr2032", 1),
    ],
)
def test_sound_supplies_with_enamelled_leads(supply):
    resistor = lamp().replace("1k5", "220 ohm") if "adaptor" not in supply else lamp()
    assert _ids(survey(supply=supply, lamps=resistor)) == {}


@pytest.mark.parametrize(
    ("supply", "found"),
    [
        (adaptor("3 A", None), {"fuse.absent": "stop"}),
        (adaptor("1.3 A", None), {"fuse.absent": "caution"}),
        # 3.7 V / 1.0 ohm, 4.5 V / 1.5 ohm and 3 V / 1.2 ohm by hand, where Preece gives 2.5 A for 0.1 mm
        (BATTERY.format("li-ion", "10440", 1), {"fuse.absent": "stop"}),
        (BATTERY.format("alkaline", "aa", 3), {"fuse.absent": "stop"}),
        # 3 V / 1.25 ohm: 2.4 A; paper and wood are lit from 220 degC (Hilado)
        (BATTERY.format("alkaline", "aa", 2), {"fuse.absent": "stop"}),
        (BATTERY.format("lipo", "", 1) + "protected = true", {"fuse.absent": "stop"}),
        (adaptor("5 A", "3 A slow"), {"wire.hurt-before-fuse": "stop"}),
        # until it opens at five times its rating, 5 A for 0.18 s: 4.5 A2s, where 0.1 mm melts at 5.6 (IEC 60364-5-54)
        (adaptor("5 A", "1 A"), {"wire.hurt-before-fuse": "stop"}),
        # 5 A for 0.3 s (4 / 7.9)**2: 1.9 A2s
        (adaptor("5 A", "630 mA"), {"wire.hurt-before-fuse": "stop"}),
        (adaptor("5 A", "500 mA at hull"), {}),
        (adaptor("8 A", "500 mA at hull"), {"fuse.absent": "stop"}),
        (adaptor("500 mA", "3 A"), {"fuse.never-opens": "note"}),
        # 7.4 mA: 93 % of 8 mA, 82 % of 9 mA
        (adaptor("1 A", "8 mA"), {"fuse.too-small": "caution"}),
        (adaptor("1 A", "9 mA"), {}),
        (adaptor("1 A", "9 mA resettable"), {"fuse.too-small": "caution"}),
        (adaptor("1 A", "5 mA"), {"fuse.too-small": "stop"}),
    ],
)
def test_supplies_that_are_not(supply, found):
    assert _ids(survey(supply=supply)) == found


@pytest.mark.parametrize(
    ("supply", "missing"),
    [
        (adaptor("1 A", None), "current_limit"),
        (adaptor("1 A", "1 A"), "current_limit"),
        (USB, "current_limit"),
        ('kind = "battery"\nplace = "base"\nvolts = "9 V"', "chemistry"),
    ],
)
def test_what_hangs_on_a_limit_that_nobody_states_is_not_judged(supply, missing):
    findings, (question,) = run(protection, "fuse.absent", survey(supply=supply))
    assert findings == []
    assert missing in question.missing


def test_a_resistor_at_the_joint_takes_the_danger_away():
    assert _ids(survey(supply=adaptor("3 A", None), lamps=lamp(at=" at hull"))) == {}


def test_the_finding_names_the_thinnest_and_then_the_rest():
    many = "".join(lamp().replace("bow lamp", f"lamp {n}") for n in range(4))
    (finding,), _ = run(protection, "fuse.absent", survey(supply=adaptor("3 A", None), lamps=many))
    assert "'lamp " in finding.says
    assert all(f"the lead of 'lamp {n}'" in finding.says for n in range(4))
    assert "enamel-0.10" in finding.says
    assert finding.parts["conductor"] == Subject("lead", "lamp 0")
    assert finding.limit is not None
    assert (finding.limit.value, finding.limit.name) == (130, "wire.insulation")


def _offered(made):
    load = made.electrics.supplies["main"].highest
    return protecting_fuse(made.shorts, "main", load), load


@pytest.mark.parametrize("amps", ["20 mA", "100 mA", "400 mA"])
def test_the_fuse_offered_is_the_least_that_carries_the_load_and_mends_it(amps):
    horn = (
        f'[[load]]\nname = "horn"\nkind = "sound"\ncircuit = "lights"\nplace = "hull"\ntypical = "{amps}"\n'
    )
    made = survey(supply=adaptor("3 A", None), extra=horn)
    (finding,), _ = run(protection, "fuse.absent", made)
    first, *_ = FUSES["fuse.absent"](made, finding)
    rated, load = _offered(made)
    assert rated is not None
    assert format_quantity(rated, Dimension.CURRENT) in first.says
    assert _ids(type(made)(with_fuse(made.build, "main", rated))) == {}
    # IEC 60127-1, R10: the next size down carries too little, or is one of those with ohms of their own
    below = {0.1: 0.08, 0.125: 0.1, 0.16: 0.125, 0.2: 0.16, 0.5: 0.4}[rated]
    assert rated == 0.1 or load > 0.9 * below


def test_the_fuse_offered_opens_on_the_weakest_short():
    # 5 V through 3 m of 0.063 mm (5.53 ohm/m) are 0.29 A: a fuse of 250 mA holds 375 mA for an hour, one of 500 mA 750
    far = lamp(lead='{ length = "1500 mm", to = "hull", wire = "enamel-0.063" }').replace('"{', "{")
    usb = USB + 'rated = "500 mA"\nfuse = "{}"'
    far = far.replace('lead = "{', "lead = {").replace('}"', "}").replace("1k5", "150 ohm")
    for fuse in ("250 mA", "500 mA"):
        made = survey(supply=usb.format(fuse), lamps=far)
        (finding,), _ = run(protection, "fuse.never-opens", made)
        first, *_ = FUSES["fuse.never-opens"](made, finding)
        assert (finding.severity, first.changes[0].written) == ("note", '"100 mA"')
        assert _ids(type(made)(with_fuse(made.build, "main", 0.1))) == {}


def test_the_fuse_offered_holds_while_a_motor_starts():
    # A quick fuse is made to hold 1.5 times its rating (IEC 60127-2): of 1.2 A at the start 800 mA and up. Where nobody says what it
    # takes there, five times the 300 mA count: 1 A. Of one that says it takes no more, 400 mA carry it.
    winch = (
        '[[load]]\nname = "winch"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "300 mA"\n'
    )
    steady = survey(supply=adaptor("3 A", None), lamps="", wire="ptfe-28", extra=winch)
    starts = survey(
        supply=adaptor("3 A", None), lamps="", wire="ptfe-28", extra=winch + 'starting = "1.2 A"\n'
    )
    even = survey(
        supply=adaptor("3 A", None), lamps="", wire="ptfe-28", extra=winch + 'starting = "300 mA"\n'
    )
    assert [_offered(one)[0] for one in (steady, starts, even)] == [1.0, 0.8, 0.4]


def test_a_fuse_elsewhere_is_moved_to_the_supply():
    made = survey(supply=adaptor("8 A", "500 mA at hull"))
    (finding,), _ = run(protection, "fuse.absent", made)
    assert "sits at 'hull'" in finding.says
    first, *_ = FUSES["fuse.absent"](made, finding)
    assert [change.written for change in first.changes] == ['"500 mA"']


def test_no_fuse_is_offered_where_none_would_do():
    heavy = (
        '[[load]]\nname = "winch"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "2.5 A"\n'
    )
    made = survey(supply=adaptor("5 A", None), extra=heavy)
    (finding,), _ = run(protection, "fuse.absent", made)
    assert list(FUSES["fuse.absent"](made, finding)) == []
    assert "thicker" in (finding.remedy or "")


def test_a_far_short_that_the_fuse_does_not_notice():
    # 2 x 0.7 m of 0.1 mm is 3.1 ohm: 11.4 V drive 3.6 A at most, and a 5 A fuse holds 7.5 A for an hour (IEC 60127-2)
    made = survey(supply=adaptor("8 A", "5 A"), lamps=lamp(lead="700 mm to hull"), wire="silicone-22")
    (finding,), _ = run(protection, "fuse.never-opens", made)
    assert finding.severity == "stop"
    assert finding.limit is not None
    assert finding.limit.value == pytest.approx(7.5)


def test_a_harmless_far_short_is_a_note():
    # 3 V and 200 mm of 0.2 mm: the wire bears it, the fuse never opens
    battery = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 2\nfuse = "4 A"\nresistance = "1 ohm"'
    lead = lamp().replace(
        'lead = "120 mm to hull"', 'lead = { length = "120 mm", to = "hull", wire = "enamel-0.315" }'
    )
    (finding,), _ = run(
        protection, "fuse.never-opens", survey(supply=battery, lamps=lead.replace("1k5", "100 ohm"))
    )
    assert finding.severity == "note"


def test_where_nothing_promises_that_it_opens():
    # 5 V behind 2.75 ohm: 1.5 A, 1.9 times the fuse's rating; the first gate of IEC 60127-2 is 2.1
    weak = 'kind = "adaptor"\nplace = "base"\nvolts = "5 V"\nrated = "3 A"\nresistance = "2.75 ohm"\nfuse = "800 mA"'
    (finding,), _ = run(protection, "fuse.never-opens", survey(supply=weak))
    assert finding.severity == "caution"
    assert finding.limit is not None
    assert finding.limit.value == pytest.approx(1.68)


def test_a_run_too_hot_in_use():
    winch = '[[load]]\nname = "winch"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "{}"\n'
    thin = survey(supply=adaptor("5 A", None), lamps="", wire="enamel-0.20", extra=winch.format("3.5 A"))
    assert {finding.subject.name for finding in run(hot_wires, "wire.hot", thin)[0]} == {"feed", "negative"}
    assert (
        run(hot_wires, "wire.hot", survey(supply=adaptor("5 A", None), lamps="", extra=winch.format("1 A")))[
            0
        ]
        == []
    )


def test_the_lead_of_a_load_too_hot_in_use():
    winch = '[[load]]\nname = "winch"\nkind = "motor"\ncircuit = "lights"\nplace = "bow"\ntypical = "{}"\nlead = "100 mm to hull"\n'
    thin = survey(supply=adaptor("5 A", "5 A"), lamps="", wire="silicone-22", extra=winch.format("2 A"))
    (finding,), _ = run(hot_wires, "wire.hot", thin)
    assert (finding.subject.kind, finding.subject.name) == ("lead", "winch")


def test_an_adaptor_of_unknown_size_is_not_judged():
    unknown = adaptor("1 A", None).replace('rated = "1 A"', "")
    findings, (question,) = run(protection, "fuse.absent", survey(supply=unknown))
    assert findings == []
    assert "rated" in question.missing
