import pytest

from postcheck.checks import conductors, grips, passages, turning
from postcheck.survey.post.bores import free_length, turn_borne
from tests.survey.small import lamp, survey

from .run import run, severities

BELL = '[wire.bell]\nstrand = "0.5 mm"\noutside = "1 mm"\n'
TURN = 'bore = "5 mm"\nlength = "{length}"\nturn = "{turn}"\n{more}'


def _ids(made):
    return severities(made, passages, turning, conductors)


def test_what_turns_and_what_does_not():
    still, turning = (
        'bore = "5 mm"\nlength = "160 mm"\nthrough = ["bow lamp"]',
        TURN.format(length="160 mm", turn="90 deg", more='stop = true\nthrough = ["bow lamp"]'),
    )
    long = lamp(lead="400 mm to hull")
    assert _ids(survey(post=still, lamps=long)) == {}
    assert _ids(survey(post=turning, lamps=long)) == {"passage.enamelled": "caution"}


# 30 AWG is 0.255 mm (ASTM B258): wrapping wire of that size may turn, bell wire may not
@pytest.mark.parametrize(("strand", "found"), [("0.25 mm", False), ("0.27 mm", True)])
def test_solid_wire_by_its_thickness(strand, found):
    made = survey(
        post=TURN.format(length="160 mm", turn="45 deg", more='stop = true\ncycles = "100 cycles"'),
        wire="bell", extra=BELL.replace("0.5 mm", strand),
    )  # fmt: skip
    assert ("passage.solid" in _ids(made)) is found


def test_strain_by_cycles():
    def severity(cycles, length="30 mm"):
        more = f'stop = true\ncycles = "{cycles}"'
        return _ids(
            survey(post=TURN.format(length=length, turn="180 deg", more=more), wire="bell", extra=BELL)
        ).get("passage.strain")

    # 0.5 mm solid, 360 degrees in all over 30 mm: 3 % a turning, which soft copper bears some hundred times by every
    # relation (IPC-TR-579, Manson, Coffin and Tavernelli: 2.9 to 7.4 % at 100 cycles)
    assert severity("10 cycles") is None
    assert severity("200 cycles") == "caution"
    assert severity("36525 cycles") == "stop"
    assert severity("200 cycles", "120 mm") is None


def test_the_free_length_offered_lives():
    more = 'stop = true\ncycles = "5000 cycles"\nfree = "{:.0f} mm"'
    made = survey(
        post=TURN.format(length="300 mm", turn="180 deg", more=more.format(30)), wire="bell", extra=BELL
    )
    length = free_length(made.passages["post"], 5000.0)
    assert length is not None
    mended = survey(
        post=TURN.format(length="300 mm", turn="180 deg", more=more.format(length * 1e3)),
        wire="bell",
        extra=BELL,
    )
    assert "passage.strain" not in _ids(mended)
    shorter = survey(
        post=TURN.format(length="300 mm", turn="180 deg", more=more.format(length * 1e3 - 3)),
        wire="bell",
        extra=BELL,
    )
    assert "passage.strain" in _ids(shorter)


def test_no_free_length_is_offered_that_the_passage_has_not():
    made = survey(
        post=TURN.format(length="30 mm", turn="180 deg", more='stop = true\ncycles = "5000 cycles"'),
        wire="bell",
        extra=BELL,
    )
    assert free_length(made.passages["post"], 5000.0) is None
    turn = turn_borne(made.passages["post"], 5000.0)
    assert turn is not None
    degrees = round(turn * 57.29578)
    assert degrees % 5 == 0
    for each, tired in ((degrees, False), (degrees + 5, True)):
        less = survey(
            post=TURN.format(length="30 mm", turn=f"{each} deg", more='stop = true\ncycles = "5000 cycles"'),
            wire="bell",
            extra=BELL,
        )
        assert ("passage.strain" in _ids(less)) == tired


# Greenhill's rod loops at 690 degrees; a whole turn is the limit taken
@pytest.mark.parametrize(
    ("turn", "stop", "found"),
    [
        ("360 deg", "stop = true", 0),
        ("400 deg", "stop = true", 1),
        ("90 deg", "stop = false", 1),
        ("90 deg", "stop = true", 0),
    ],
)
def test_loops(turn, stop, found):
    findings, unjudged = run(
        turning, "passage.loops", survey(post=TURN.format(length="160 mm", turn=turn, more=stop))
    )
    assert len(findings) == found
    assert unjudged == []


def test_a_stop_must_be_said():
    findings, (question,) = run(
        turning, "passage.loops", survey(post=TURN.format(length="160 mm", turn="90 deg", more=""))
    )
    assert findings == []
    assert not question.vital


def test_ends_of_a_bore_that_nobody_states_are_asked_for():
    (question,) = run(grips, "passage.edge", survey(post='bore = "5 mm"\nlength = "160 mm"'))[1]
    assert (question.subject, question.vital) == ("post", False)
    stated = survey(post='bore = "5 mm"\nlength = "160 mm"\nedges = "rounded"')
    assert run(grips, "passage.edge", stated) == ([], [])
