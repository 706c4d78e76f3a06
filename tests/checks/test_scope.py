import pytest

import postcheck
from postcheck.checks import scope
from tests.survey.small import adaptor, survey

from .run import run


# IEC 62368-1 ES1: 60 V DC; the tolerance and the unloaded voltage count
@pytest.mark.parametrize(
    ("supply", "found"),
    [
        (adaptor().replace("12 V", "48 V"), 0),
        (adaptor().replace("12 V", "57 V"), 0),
        (adaptor().replace("12 V", "58 V"), 1),
        (adaptor().replace("12 V", "48 V") + '\nunloaded = "66 V"', 1),
        ('kind = "battery"\nplace = "base"\nchemistry = "lipo"\ncells = 15\nprotected = true', 1),
        ('kind = "battery"\nplace = "base"\nchemistry = "lipo"\ncells = 14\nprotected = true', 0),
    ],
)
def test_supplies(supply, found):
    findings, _ = run(scope, "scope.volts", survey(supply=supply))
    assert len(findings) == found


def test_a_booster_counts_by_what_it_puts_out():
    foil = '[[load]]\nname = "foil"\nkind = "inverter"\ncircuit = "lights"\nplace = "hull"\ntypical = "40 mA"\nopen_volts = "{}"\n'
    (finding,), _ = run(scope, "scope.volts", survey(extra=foil.format("120 V")))
    assert "licensed" in finding.why
    assert run(scope, "scope.volts", survey(extra=foil.format("30 V"))) == ([], [])


@pytest.mark.parametrize(
    "more", ["", '[supply.main]\nkind = "usb"\nplace = "base"\n[place.base]\naccess = "open"\n']
)
def test_a_build_with_nothing_in_it_is_not_clear(more):
    report = postcheck.check(postcheck.loads(f'format = 1\n[build]\nname = "Ferry"\n{more}')).files[0]
    assert report.verdict == "incomplete"
    assert [question.missing for question in report.not_judged if question.vital] == [
        'a [[lamp]], [[strip]] or [[load]], such as [[lamp]] with name = "bow lamp"'
    ]
