import pytest

from postcheck.checks import protection
from postcheck.survey.fuse_choice import protecting_fuse, with_fuse
from tests.survey.small import adaptor, lamp, survey

from .run import run


def _ids(made):
    found = {}
    for check in protection.CHECKS:
        for finding in run(protection, check.name, made)[0]:
            found[finding.check] = finding.severity
    return found


# the common small adaptors with fine leads are sound: 0.1 mm melts at 2.5 A in free air (Preece)
@pytest.mark.parametrize(
    "supply",
    [
        adaptor("1 A", "500 mA"),
        adaptor("5 A", "500 mA"),
        adaptor("2 A", "500 mA"),
        adaptor("1 A", None),
        adaptor("1 A", "1 A"),
        'kind = "usb"\nplace = "base"',
        'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 3',
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
        (adaptor("5 A", "3 A slow"), {"wire.hurt-before-fuse": "stop"}),
        (adaptor("5 A", "1 A"), {"wire.hurt-before-fuse": "caution"}),
        (adaptor("1 A", "8 mA"), {"fuse.too-small": "caution"}),
        (adaptor("1 A", "5 mA"), {"fuse.too-small": "stop"}),
    ],
)
def test_supplies_that_are_not(supply, found):
    assert _ids(survey(supply=supply)) == found


def test_a_resistor_at_the_joint_takes_the_danger_away():
    assert _ids(survey(supply=adaptor("3 A", None), lamps=lamp(at=" at hull"))) == {}


def test_the_finding_names_the_thinnest_and_counts_the_rest():
    many = "".join(lamp().replace("bow lamp", f"lamp {n}") for n in range(4))
    (finding,), _ = run(protection, "fuse.absent", survey(supply=adaptor("3 A", None), lamps=many))
    assert "'lamp " in finding.says
    assert "3 more" in finding.says
    assert "enamel-0.10" in finding.says
    assert finding.limit is not None
    assert finding.limit.value == 130


def test_the_fuse_offered_carries_the_load_and_mends_it():
    made = survey(supply=adaptor("3 A", None))
    (finding,), _ = run(protection, "fuse.absent", made)
    assert finding.edits is not None
    rated = protecting_fuse(
        made.build, made.parts, made.limits, "main", made.electrics.supplies["main"].highest
    )
    assert rated is not None
    assert _ids(type(made)(with_fuse(made.build, "main", rated))) == {}
    # IEC 60127-1, R10: and the next size up does not
    above = {0.5: 0.63, 0.63: 0.8, 0.8: 1.0, 1.0: 1.25}[rated]
    assert "wire.hurt-before-fuse" in _ids(type(made)(with_fuse(made.build, "main", above)))


def test_no_fuse_is_offered_where_none_would_do():
    heavy = (
        '[[load]]\nname = "winch"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "2.5 A"\n'
    )
    made = survey(supply=adaptor("5 A", None), extra=heavy)
    (finding,), _ = run(protection, "fuse.absent", made)
    assert finding.edits is None
    assert "thicker" in (finding.remedy or "")


def test_a_far_short_that_the_fuse_does_not_notice():
    # 2 x 0.7 m of 0.1 mm is 3.1 ohm: 11.4 V drive 3.6 A at most, and a 5 A fuse carries 6.75 A for good (UL 248-14)
    made = survey(supply=adaptor("8 A", "5 A"), lamps=lamp(lead="700 mm to hull"), wire="silicone-22")
    (finding,), _ = run(protection, "fuse.never-opens", made)
    assert finding.severity == "stop"
    assert finding.limit is not None
    assert finding.limit.value == pytest.approx(6.75)


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


def test_a_run_too_hot_in_use():
    winch = '[[load]]\nname = "winch"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "{}"\n'
    thin = survey(supply=adaptor("5 A", None), lamps="", wire="enamel-0.20", extra=winch.format("3.5 A"))
    assert {finding.subject.name for finding in run(protection, "wire.hot", thin)[0]} == {"feed", "negative"}
    assert (
        run(protection, "wire.hot", survey(supply=adaptor("5 A", None), lamps="", extra=winch.format("1 A")))[
            0
        ]
        == []
    )


def test_an_adaptor_of_unknown_size_is_not_judged():
    unknown = adaptor("1 A", None).replace('rated = "1 A"', "")
    findings, (question,) = run(protection, "fuse.absent", survey(supply=unknown))
    assert findings == []
    assert "rated" in question.missing
