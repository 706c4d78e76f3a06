from pathlib import Path

import pytest

import postcheck
from postcheck import catalogue
from postcheck.checks import heat, hot_spots
from postcheck.limits import Limits
from postcheck.report import Subject
from postcheck.survey import Survey
from tests.survey.small import TEXT, adaptor, lamp, survey

from .run import run

BUILDS = Path(__file__).parents[1] / "builds"


def _hull(watts, surface="100 cm2", material="styrene"):
    return survey(hull=f'access = "sealed"\nmaterial = "{material}"\nsurface = "{surface}"\nheat = "{watts}"')


# P / (U A) with U = 3.5 W/(m2 K): 1 W in 100 cm2 is 28.6 K, on top of a room of 35 degC; styrene is given 60 degC
@pytest.mark.parametrize(("watts", "severity"), [("0.6 W", None), ("0.8 W", "caution"), ("1 W", "stop")])
def test_margin_and_limit(watts, severity):
    findings, _ = run(heat, "place.too-hot", _hull(watts))
    assert [finding.severity for finding in findings] == ([severity] if severity else [])


def test_resin_stands_less_than_styrene():
    # printed resins soften from 46 degC (HDT, suppliers' tables)
    assert run(heat, "place.too-hot", _hull("0.3 W"))[0] == []
    assert run(heat, "place.too-hot", _hull("0.3 W", material="resin"))[0][0].severity == "stop"


def test_a_wall_of_unknown_material_is_asked_about_from_what_the_least_of_the_catalogue_withstands():
    least = min(catalogue.plastic(name).celsius for name in catalogue.names("plastic"))
    assert least == Limits().value("heat.asked")
    unknown = 'access = "sealed"\nsurface = "100 cm2"\nheat = "{}"'
    # 35 degC + P / (3.5 W/(m2 K) x 100 cm2): 40 degC at 175 mW
    assert run(heat, "place.too-hot", survey(hull=unknown.format("0.16 W"))) == ([], [])
    findings, (question,) = run(heat, "place.too-hot", survey(hull=unknown.format("0.19 W")))
    assert findings == []
    assert question.vital


def test_the_heat_offered_is_cool_enough():
    (finding,), _ = run(heat, "place.too-hot", _hull("1 W"))
    assert finding.remedy is not None
    allowed = 3.5 * 0.01 * (60 - 5 - 35)
    printed = float(finding.remedy.partition(" mW")[0].rpartition(" ")[2]) / 1e3
    assert 0.98 * allowed < printed < allowed
    assert run(heat, "place.too-hot", _hull(f"{printed} W"))[0] == []
    assert "resistor" not in finding.remedy  # there is none in it


def test_moving_resistors_out_is_offered_only_where_it_is_enough():
    # 12 V, 470 ohm, red: some 0.2 W in the resistor beside 0.45 or 0.6 W; 0.70 W is allowed
    for beside, enough in (("0.45 W", True), ("0.69 W", True), ("0.8 W", False)):
        hull = f'access = "sealed"\nmaterial = "styrene"\nsurface = "100 cm2"\nheat = "{beside}"'
        with_one = lamp(at=" at hull").replace("1k5 1/4 W", "470 ohm 2 W")
        findings, _ = run(heat, "place.too-hot", survey(hull=hull, lamps=with_one))
        if float(beside.removesuffix(" W")) + 0.2 < 0.7:
            assert findings == []
            continue
        assert ("move the resistor of 'bow lamp' out" in (findings[0].remedy or "")) == enough


def test_a_hot_resistor_against_the_wall():
    hot = survey(
        hull='access = "sealed"\nmaterial = "styrene"\nsurface = "200 cm2"',
        lamps=lamp(at=" at hull").replace("1k5 1/4 W", "470 ohm 1/4 W"),
    )  # fmt: skip
    (finding,), _ = run(hot_spots, "part.hot-spot", hot)
    assert finding.severity == "caution"
    assert "The resistor of 'bow lamp' gets the wall beside it" in finding.says
    # what it may dissipate there: the wall takes half of 85 K at its rating, and stands 60 + 10 degC beside it
    assert finding.remedy is not None
    may, watts = finding.figures["may"].value, finding.figures["dissipates"].value
    rise = hot.places["hull"].rise
    assert 35 + rise + 0.5 * 85 * may / 0.25 == pytest.approx(70, abs=0.5)
    assert may < watts


# 12 V through 430 ohm and a red of 2 V: (10 V)2 / 430 = 0.23 W; half of 85 K at 1/4 W makes 40 K on top of 35 degC
@pytest.mark.parametrize(
    "hull",
    ['access = "open"\nmaterial = "styrene"', 'access = "cover"\nmaterial = "styrene"', 'access = "cover"\nmaterial = "styrene"\nsurface = "2000 cm2"'],
)  # fmt: skip
def test_the_wall_beside_a_resistor_is_judged_everywhere(hull):
    with_one = lamp(at=" at hull").replace("1k5 1/4 W", "430 ohm 1/4 W")
    (finding,), _ = run(hot_spots, "part.hot-spot", survey(hull=hull, lamps=with_one))
    assert finding.figures["hottest"].value == pytest.approx(35 + 0.5 * 85 * 0.2326 / 0.25, abs=1.5)
    assert run(hot_spots, "part.hot-spot", survey(hull=hull, lamps=with_one + "held_off = true\n")) == (
        [],
        [],
    )
    metal = hull.replace("styrene", "brass")
    assert run(hot_spots, "part.hot-spot", survey(hull=metal, lamps=with_one)) == ([], [])
    # a twentieth of the time it is 2 K: only on for good it is as hot as that
    flash = 'behaviour = "flash"\nrate = "60 /min"\non_share = "5 %"\noutput = "100 mA"'
    (stuck,), _ = run(hot_spots, "part.hot-spot", survey(hull=hull, lamps=with_one, circuit=flash))
    assert stuck.case == "stuck:"
    assert stuck.says.startswith("With 'lights' on for good, as when a flasher sticks")
    assert stuck.figures["hottest"].value == pytest.approx(finding.figures["hottest"].value, abs=1.0)


def test_what_a_hot_part_touches_is_asked_where_nobody_says_it():
    with_one = lamp(at=" at hull").replace("1k5 1/4 W", "430 ohm 1/4 W")
    for access, vital in (("open", False), ("cover", True)):
        findings, (question,) = run(
            hot_spots, "part.hot-spot", survey(hull=f'access = "{access}"', lamps=with_one)
        )
        assert findings == []
        assert question.vital is vital
        assert "its resistor touches in 'hull'" in question.what


def test_no_surface_no_judgement_but_only_where_it_matters():
    quiet = survey(lamps=lamp(at=" at hull"))
    assert run(heat, "place.too-hot", quiet) == ([], [])
    findings, (question,) = run(heat, "place.too-hot", survey(hull='access = "sealed"\nheat = "0.3 W"'))
    assert findings == []
    assert "surface" in question.missing
    assert not question.vital


# 25 K over 38 cm2 at 3.5 W/(m2 K) are 0.33 W; ten lamps have 90 cm2 between them, and 1 W is too much for any
@pytest.mark.parametrize(
    ("watts", "lamps", "material", "vital"),
    [
        ("0.30 W", 1, "styrene", False), ("0.40 W", 1, "styrene", True), ("0.40 W", 10, "styrene", False), ("0.70 W", 10, "styrene", False),
        ("0.85 W", 10, "styrene", True), ("1.05 W", 60, "styrene", True), ("0.10 W", 1, "resin", True), ("0.60 W", 1, "brass", False),
    ],
)  # fmt: skip
def test_how_much_heat_needs_a_size(watts, lamps, material, vital):
    hull = f'access = "cover"\nmaterial = "{material}"\nheat = "{watts}"'
    dim = (
        lamp()
        .replace('place = "bow"', f'place = "hull"\nparallel = {lamps}\nstrings_share = "return"')
        .replace("1k5 1/4 W", "1M 1/4 W")
    )
    _, (question,) = run(heat, "place.too-hot", survey(hull=hull, lamps=dim))
    assert question.vital is vital


def test_at_closing_an_unknown_surface_is_vital():
    asked = survey(hull='access = "sealed"\nheat = "0.3 W"')
    _, (question,) = run(heat, "place.too-hot", type(asked)(asked.build, stage="closing"))
    assert question.vital


def test_the_air_that_was_taken_is_told_where_the_file_gives_none():
    def judged(material, without):
        text = TEXT.replace('air = "{air}"\n', "") if without else TEXT
        hull = f'access = "sealed"\nmaterial = "{material}"\nsurface = "100 cm2"\nheat = "1 W"'
        text = text.format(supply=adaptor(), post='bore = "5 mm"\nlength = "160 mm"', hull=hull, lamps=lamp(), circuit="",
                           wire="ptfe-28", air="5..35 degC", extra="")  # fmt: skip
        (finding,), _ = run(heat, "place.too-hot", Survey(postcheck.loads(text)))
        return finding

    assert "(35 degC is taken, as the file gives no `air`)" in judged("styrene", without=True).says
    assert "is taken" not in judged("styrene", without=False).says
    told = " Give the room's `air`, if it is cooler than 35 degC."
    assert (judged("resin", without=True).remedy or "").endswith(told)
    assert "Give the room's" not in (judged("resin", without=False).remedy or "")


def test_a_load_that_gives_most_of_the_heat_is_named():
    motor = (
        '[[load]]\nname = "screw"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "80 mA"\n'
    )
    (finding,), _ = run(
        heat, "place.too-hot", survey(hull='access = "sealed"\nsurface = "60 cm2"', extra=motor)
    )
    assert finding.parts["largest"] == Subject("load", "screw")
    assert "of that by 'screw'" in finding.says
    assert "Begin with 'screw'" in (finding.remedy or "")


# 100 mW of a red on 12 V through 1k5 for a twentieth of the time: P = 12 V * (12 - 2) V / 1k5 = 80 mW lit, over 3.5 W/(m2 K)
# and 8 cm2 it is 28.6 K on 35 degC, and 1.4 K on average
def test_a_flasher_that_sticks_warms_its_place():
    flash = 'behaviour = "flash"\nrate = "60 /min"\non_share = "5 %"\noutput = "100 mA"'
    hull = 'access = "sealed"\nmaterial = "styrene"\nsurface = "{} cm2"'
    inside = lamp(at=" at hull").replace('place = "bow"', 'place = "hull"')
    (finding,), _ = run(heat, "place.too-hot", survey(hull=hull.format(8), lamps=inside, circuit=flash))
    assert (finding.severity, finding.case) == ("caution", "stuck:")
    assert finding.figures["heat"].value == pytest.approx(12 * (12 - 2.0) / 1500, rel=0.03)
    assert finding.figures["air"].value == pytest.approx(35 + 0.080 / 3.5 / 8e-4, abs=1.5)
    assert run(heat, "place.too-hot", survey(hull=hull.format(16), lamps=inside, circuit=flash))[0] == []


# a linear regulator from 12 to 5 V turns 7 V times the current into heat
def test_a_linear_regulator_is_warm():
    text = (BUILDS / "faulty" / "place-too-hot-linear-regulator.post.toml").read_text(encoding="utf-8")
    places = Survey(postcheck.loads(text)).places
    assert places["hull"].heat == pytest.approx(7.0 * 0.250, rel=0.01)
    switching = text.replace("linear = true", 'efficiency = "90 %"')
    assert Survey(postcheck.loads(switching)).places["hull"].heat == pytest.approx(
        5 * 0.25 * (1 / 0.9 - 1), rel=0.02
    )


RESIN = 'access = "sealed"\nmaterial = "resin"\nsurface = "150 cm2"\nheat = "360 mW"'


def test_a_cooler_room_that_is_advised_is_cool_enough():
    # 0.36 W over 150 cm2: 6.9 K above a room that is as warm as resin withstands, 40 degC
    (finding,), _ = run(heat, "place.too-hot", survey(hull=RESIN, air="10..40 degC"))
    room = finding.figures["room"].value
    assert room == 31
    assert f"a room of {room:.0f} degC at most" in (finding.remedy or "")
    assert run(heat, "place.too-hot", survey(hull=RESIN, air=f"10..{room:.0f} degC"))[0] == []
    assert run(heat, "place.too-hot", survey(hull=RESIN, air=f"10..{room + 1:.0f} degC"))[0] != []


def test_a_material_that_is_advised_withstands_it():
    (finding,), _ = run(heat, "place.too-hot", survey(hull=RESIN, air="10..40 degC"))
    needs = finding.figures["needs"].value
    for material, celsius in (("pla", 45), ("abs", 65)):
        other = survey(hull=RESIN.replace("resin", material), air="10..40 degC")
        assert (run(heat, "place.too-hot", other)[0] == []) == (celsius >= needs)


@pytest.mark.parametrize("heat_in_it", ["0.5 W", "3 W"])
def test_a_surface_that_is_enough_is_enough(heat_in_it):
    hull = f'access = "sealed"\nmaterial = "styrene"\nheat = "{heat_in_it}"'
    _, (question,) = run(heat, "place.too-hot", survey(hull=hull))
    enough = float(question.missing.rpartition("; ")[2].partition(" cm2")[0])
    assert run(heat, "place.too-hot", survey(hull=f'{hull}\nsurface = "{enough:g} cm2"')) == ([], [])
    less = survey(hull=f'{hull}\nsurface = "{0.9 * enough:g} cm2"')
    assert run(heat, "place.too-hot", less)[0] != []


def test_no_question_about_a_surface_can_be_pasted_as_an_answer():
    _, (question,) = run(heat, "place.too-hot", survey(hull='access = "sealed"\nheat = "3 W"'))
    written = question.missing.partition('surface = "')[2].partition('"')[0]
    with pytest.raises(postcheck.BuildError):
        survey(hull=f'access = "sealed"\nsurface = "{written}"')
