import pytest

from postcheck.checks import access
from tests.survey.small import lamp, survey

from .run import run


def _lead(spare, hull='access = "cover"\nopening = "40 mm"'):
    said = f', spare = "{spare}"' if spare else ""
    lead = lamp().replace('lead = "120 mm to hull"', f'lead = {{ length = "120 mm", to = "hull"{said} }}')
    return run(access, "lead.too-short", survey(lamps=lead, hull=hull))


# the opening, and 30 mm for two re-terminations (FAA AC 43.13-1B, 11-118)
@pytest.mark.parametrize(("spare", "found"), [("69 mm", 1), ("70 mm", 0)])
def test_spare_length_to_open_and_re_make(spare, found):
    findings, unjudged = _lead(spare)
    assert len(findings) == found
    assert unjudged == []


def test_not_judged_without_the_spare_length():
    findings, (question,) = _lead(None)
    assert findings == []
    assert "spare" in question.missing


@pytest.mark.parametrize("hull", ['access = "open"\nopening = "40 mm"', 'access = "cover"'])
def test_nothing_to_say_where_nothing_has_to_come_out(hull):
    assert _lead("1 mm", hull) == ([], [])
    assert _lead(None, hull) == ([], [])
