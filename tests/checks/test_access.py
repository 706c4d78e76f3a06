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
def test_where_nothing_has_to_come_out_the_joint_has_to_be_made_anew(hull):
    # 15 mm for two re-terminations (FAA AC 43.13-1B, 11-118); what nobody says is not asked
    (finding,), unjudged = _lead("14 mm", hull)
    assert (finding.severity, finding.figures["needed"].value, unjudged) == ("caution", 0.015, [])
    assert _lead("15 mm", hull) == ([], [])
    assert _lead(None, hull) == ([], [])


def test_what_is_sealed_is_not_made_anew():
    assert _lead("1 mm", 'access = "sealed"') == ([], [])


# -- what is sealed in


def sealed(lamps: str, extra: str = "", hull: str = 'access = "sealed"') -> list[str]:
    return [
        finding.says
        for finding in run(access, "access.sealed", survey(lamps=lamps, extra=extra, hull=hull))[0]
    ]


SECOND = lamp().replace("bow lamp", "bow lamp 2")


def test_the_joints_of_several_leads_are_told_and_the_only_one_of_a_small_model_is_not() -> None:
    (says,) = sealed(lamp() + SECOND)
    assert "The joint of 'bow lamp' and the joint of 'bow lamp 2'" in says
    assert sealed(lamp()) == []
    assert len(sealed(lamp(), '[place.hub]\naccess = "cover"\n')) == 1
    assert sealed(lamp() + SECOND, hull='access = "cover"') == []


def test_an_open_hub_is_one_where_runs_end_and_no_supply_sits() -> None:
    tray = '[place.tray]\naccess = "open"\n'
    on = '[[run]]\nname = "tail"\nline = "lights"\nends = ["tray", "hull"]\nlength = "90 mm"\n'
    assert sealed(lamp(), tray) == []
    assert len(sealed(lamp(), tray + on)) == 1


def test_a_lamp_soldered_to_its_line_has_no_other_place() -> None:
    straight = lamp().replace('place = "bow"', 'place = "hull"').replace('lead = "120 mm to hull"', "")
    assert sealed(straight + straight.replace("bow lamp", "bow lamp 2")) == []


def test_a_board_is_told() -> None:
    (says,) = sealed(lamp(), '[board.winker]\nplace = "hull"\nsupply = "main"\n')
    assert says == "board 'winker' will be sealed into 'hull'."
