"""The case of a motor, running and held fast, with figures worked out by hand."""

import pytest

from postcheck.checks import motors
from postcheck.description.problems import BuildError
from postcheck.limits import Limits
from tests.survey.small import adaptor, survey

from .run import run

STYRENE = 'access = "cover"\nmaterial = "styrene"\nsurface = "400 cm2"'
OPEN = 'access = "open"\nmaterial = "styrene"'


def _found(says, *, hull=STYRENE, supply=None, kind="motor"):
    load = f'[[load]]\nname = "screw"\nkind = "{kind}"\ncircuit = "lights"\nplace = "hull"\n{says}\n'
    return run(motors, "motor.hot", survey(supply=supply, hull=hull, lamps="", extra=load))


def test_the_film_is_that_of_a_small_cylinder_in_still_air():
    # Churchill and Chu 1975, a level cylinder: air of 55 degC, D = 10 to 25 mm, 40 K warmer; radiation of plated steel
    # (emissivity some 0.3) beside it
    nu, k, pr = 1.85e-5, 0.0282, 0.71
    for diameter in (0.010, 0.025):
        rayleigh = 9.81 / 328 * 40 * diameter**3 / nu**2 * pr
        nusselt = (0.60 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.559 / pr) ** (9 / 16)) ** (8 / 27)) ** 2
        film = nusselt * k / diameter + 0.3 * 4 * 5.67e-8 * 328**3
        assert film == pytest.approx(Limits().value("heat.case"), rel=0.25)
    assert nusselt * k / diameter < 8.0


@pytest.mark.parametrize(
    ("starting", "severity"),
    [("20 mA", None), ("45 mA", None), ("60 mA", "caution"), ("160 mA", "caution"), ("165 mA", "stop")],
)
def test_held_fast_by_hand(starting, severity):
    # 12 V: P = 12 V x I; in the open 35 degC + P / (12 W/(m2 K) x 14 cm2): 70 degC at 49 mA, 150 degC at 161 mA
    findings, asked = _found(f'typical = "15 mA"\nstarting = "{starting}"\ncase = "14 cm2"', hull=OPEN)
    assert [finding.severity for finding in findings] == ([severity] if severity else [])
    assert asked == []
    for finding in findings:
        amps = float(starting.removesuffix(" mA")) / 1e3
        watts = finding.figures["watts"].value
        assert watts == pytest.approx(12 * amps, rel=0.02)
        assert finding.figures["hottest"].value == pytest.approx(35 + watts / (12 * 14e-4))
        assert bool(finding.firm) == (severity == "stop")


def test_the_air_of_a_closed_place_is_warmer_while_it_is_held_fast():
    known = 'typical = "15 mA"\nstarting = "45 mA"\ncase = "14 cm2"'
    assert _found(known, hull=OPEN)[0] == []
    (finding,), _ = _found(known, hull=STYRENE.replace("400", "60"))
    watts = finding.figures["watts"].value
    assert finding.figures["hottest"].value == pytest.approx(
        35 + watts / (12 * 14e-4) + watts / (3.5 * 60e-4), rel=0.01
    )


@pytest.mark.parametrize("cured", ["never_stalls = true", 'case = "90 cm2"'])
def test_what_cures_it(cured):
    (finding,), _ = _found('typical = "15 mA"\nstarting = "150 mA"\ncase = "14 cm2"')
    assert "never_stalls" in (finding.remedy or "")
    said = (
        'typical = "15 mA"\nstarting = "150 mA"\n' + cured + ("" if "case" in cured else '\ncase = "14 cm2"')
    )
    assert _found(said) == ([], [])


def test_a_limit_or_a_fuse_ends_it():
    said = 'typical = "15 mA"\nstarting = "800 mA"\ncase = "14 cm2"'
    assert [finding.severity for finding in _found(said)[0]] == ["stop"]
    # a time-lag fuse in glass opens within two minutes at 2.1 times its rating
    assert _found(said, supply=adaptor(fuse="315 mA slow glass"))[0] == []
    # at 100 mA it has an eighth of the volts as well: 0.15 W
    limited = adaptor(fuse=None) + 'current_limit = "100 mA"\n'
    assert _found(said, supply=limited) == ([], [])


def test_what_is_not_known_is_asked_by_how_much_it_could_do():
    findings, (question,) = _found('typical = "60 mA"')
    assert findings == []
    assert question.vital
    assert "case =" in question.missing
    assert "starting =" in question.missing
    (question,) = _found('typical = "15 mA"')[1]
    assert not question.vital
    assert _found('typical = "3 mA"') == ([], [])


def test_metal_takes_its_heat_away():
    assert _found('typical = "200 mA"', hull=STYRENE.replace("styrene", "brass")) == ([], [])


def test_where_nothing_is_known_to_be_near_it_no_more_than_its_winding_is_asked_about():
    said = 'typical = "30 mA"\nstarting = "100 mA"'
    assert (
        _found(said, hull='access = "open"')[1] == []
    )  # 35 degC + 1.2 W / (12 W/(m2 K) x 13 cm2) = 112 degC
    findings, (question,) = _found('typical = "60 mA"', hull='access = "open"')
    assert findings == []
    assert not question.vital
    assert "held_off" not in question.missing


@pytest.mark.parametrize("hull", [STYRENE, OPEN, 'access = "open"'])
def test_held_off_the_walls_it_still_burns_out(hull):
    said = 'typical = "60 mA"\nstarting = "300 mA"\nheld_off = true\ncase = "14 cm2"'
    (finding,), _ = _found(said, hull=hull)
    assert (finding.severity, finding.case) == ("stop", "burns out:")
    assert finding.figures["hottest"].value == pytest.approx(
        35 + 3.6 / (12 * 14e-4) + (3.6 / (3.5 * 400e-4) if hull == STYRENE else 0.0), rel=0.01
    )
    (question,) = _found(said.replace('\ncase = "14 cm2"', ""), hull=hull)[1]
    assert question.vital == (hull != 'access = "open"')
    # while it runs that is for the walls alone
    assert _found('typical = "60 mA"\nnever_stalls = true\nheld_off = true', hull=hull) == ([], [])


def test_held_off_the_walls_the_air_is_what_reaches_them():
    said = 'typical = "15 mA"\nstarting = "100 mA"\nheld_off = true\ncase = "40 cm2"'
    (finding,), _ = _found(said, hull=STYRENE.replace("400", "60"))
    assert finding.case == "air:"
    assert finding.figures["hottest"].value == pytest.approx(35 + 1.2 / (3.5 * 60e-4), rel=0.01)
    assert "The air in 'hull' gets to 92 degC. A wall of styrene withstands 60 degC." in finding.says


@pytest.mark.parametrize("milliamps", [60, 150])
def test_the_surface_that_is_proposed_is_the_one_of_the_figure(milliamps):
    said = f'typical = "{milliamps} mA"\nnever_stalls = true'
    (question,) = _found(said, hull=OPEN)[1]
    line = next(line for line in question.lines if line.startswith("case")).split("  #")[0]
    (finding,), asked = _found(f"{said}\n{line}", hull=OPEN)
    assert asked == []
    told = f"{finding.figures['hottest'].value:.0f} degC with {line.split(chr(34))[1]} outside"
    assert told in question.what


def test_other_loads_are_no_motors():
    assert _found('typical = "200 mA"', kind="sound") == ([], [])


@pytest.mark.parametrize("key", ['case = "14 cm2"', "held_off = true", "never_stalls = true"])
def test_the_keys_of_a_motor_are_refused_elsewhere(key):
    with pytest.raises(BuildError) as caught:
        _found(f'typical = "20 mA"\n{key}', kind="sound")
    (problem,) = caught.value.problems
    assert problem.check == "file.invalid"
    assert f"`{key.split()[0]}` is for a motor; 'screw' is none" in problem.says


# what 15 mA are taken for held fast, 75 mA of 12 V, warm the air by 0.9 W / (3.5 W/(m2 K) x surface): 26 K on 100 cm2, 25 on 103, and 35 degC are there
@pytest.mark.parametrize(("surface", "asks"), [("60", 1), ("102", 1), ("104", 0), ("400", 0)])
def test_held_off_the_walls_it_is_asked_about_where_the_air_would_get_too_hot_for_them(surface, asks):
    asked = _found(
        'typical = "15 mA"\nheld_off = true\ncase = "40 cm2"', hull=STYRENE.replace("400", surface)
    )[1]
    assert len(asked) == asks
