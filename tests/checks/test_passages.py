import pytest

from postcheck.checks import conductors, passages, turning
from postcheck.limits import Limits
from postcheck.survey import Survey
from postcheck.survey.post.bores import wide_bore
from tests.survey.small import survey

from .run import run, severities


def _spares(count):
    run = '[[run]]\nname = "spare {n}"\nspare = true\nends = ["base", "hull"]\nlength = "300 mm"\n'
    return "".join(run.format(n=n) for n in range(count))


def _bore(bore, spares=0, more=""):
    return survey(post=f'bore = "{bore}"\nlength = "160 mm"\n{more}', extra=_spares(spares))


def _ids(made):
    return severities(made, passages, turning, conductors)


# two wires of 0.74 mm greatest diameter: 1.48 mm side by side; FAA AC 43.13-1B asks for a quarter more
@pytest.mark.parametrize(
    ("bore", "found"),
    [
        ("1.4 mm", {"passage.cannot-fit": "stop"}),
        ("1.6 mm", {"passage.tight": "caution", "passage.full": "note"}),
        ("2 mm", {}),
    ],
)
def test_two_wires_in_bores(bore, found):
    assert _ids(_bore(bore)) == found


@pytest.mark.parametrize(
    ("bore", "spares"), [("1.4 mm", 0), ("1.6 mm", 0), ("1.6 mm", 1), ("2.9 mm", 5), ("2.2 mm", 1)]
)
@pytest.mark.parametrize("more", ["", 'bends = "90 deg"'])
def test_the_bore_offered_clears_everything_and_is_the_least(bore, spares, more):
    made = _bore(bore, spares, more)
    offered = wide_bore(made.passages["post"], made.limits)
    assert _ids(_bore(f"{offered * 1e3:.1f} mm", spares, more)) == {}
    if more and _ids(made).keys() - {"passage.jam"}:
        assert _ids(_bore(f"{offered * 1e3 - 0.1:.1f} mm", spares, more)) != {}


# NFPA 70 chapter 9 table 1: 40 % for more than two; a short straight bore is only a note
def test_bends_make_a_full_bore_heavier():
    assert _ids(_bore("2.9 mm", 5)) == {"passage.full": "note"}
    assert _ids(_bore("2.9 mm", 5, 'bends = "90 deg"')) == {"passage.full": "caution"}


# informational note 2: three conductors between 2.8 and 3.2 times
@pytest.mark.parametrize(("bore", "jams"), [("2.2 mm", True), ("2.5 mm", False)])
def test_three_may_jam(bore, jams):
    assert ("passage.jam" in _ids(_bore(bore, 1))) is jams
    assert "passage.jam" not in _ids(_bore(bore, 2))


def _alone(bore, limits=None, more=""):
    both = _bore(bore, more=more).build
    alone = both.model_copy(update={"run": [both.run[0], both.run[1].model_copy(update={"body": True})]})
    return Survey(alone, limits)


# 0.74 mm at most across: nothing slides in a bore that it fills, and tube is true to some hundredths
@pytest.mark.parametrize(
    ("bore", "found"),
    [
        ("0.7399 mm", {"passage.cannot-fit": "stop"}),
        ("0.74 mm", {"passage.tight": "caution"}),
        ("0.76 mm", {"passage.tight": "caution"}),
        ("0.8 mm", {}),
    ],
)
def test_a_single_wire_needs_no_quarter_more_but_some_room(bore, found):
    assert _ids(_alone(bore)) == found


def test_the_bore_offered_for_one_wire_is_the_least_that_does():
    # 1.08 times 0.74 mm; the 53 % of NFPA 70 chapter 9 table 1 is not asked of one wire in a short straight bore
    figures = _alone("0.74 mm").passages["post"]
    assert wide_bore(figures, Limits()) == pytest.approx(0.8e-3)
    assert wide_bore(figures, Limits({"passage.room.one": (2.0, "a stiff wire")})) == pytest.approx(1.5e-3)
    # past a bend it is: 0.74 mm / 0.53**0.5 = 1.016 mm
    bent = 'bends = "90 deg"'
    assert wide_bore(_alone("0.74 mm", more=bent).passages["post"], Limits()) == pytest.approx(1.1e-3)
    assert (_ids(_alone("1 mm", more=bent)), _ids(_alone("1.1 mm", more=bent))) == (
        {"passage.full": "caution"},
        {},
    )


def test_a_single_wire_is_told_as_one():
    (finding,), _ = run(passages, "passage.cannot-fit", _alone("0.7399 mm"))
    assert (
        finding.says
        == "'feed' does not go through the post. It is 0.74 mm across, and the bore is 0.7399 mm."
    )
    (finding,), _ = run(passages, "passage.tight", _alone("0.74 mm"))
    assert "'feed' goes through the post with almost no clearance" in finding.says


# two wires of 0.74 mm need 1.48 mm: what does not fit does not look as if it did
def test_a_bore_just_too_narrow_does_not_look_wide_enough():
    (finding,), _ = run(passages, "passage.cannot-fit", _bore("1.4795 mm"))
    assert "fits its bore of 1.479" in finding.says
    assert "The smallest bundle found is 1.48 mm across" in finding.says


def test_an_unknown_wire_in_the_post_is_vital():
    made = survey(extra=_spares(1))
    bare = made.build.model_copy(update={"usual": made.build.usual.model_copy(update={"run": None})})
    findings, (question,) = run(passages, "passage.cannot-fit", type(made)(bare))
    assert findings == []
    assert question.vital


# sixteen equal wires: the best known bore is 4.6154 of them across (the record table kept by E. Specht)
@pytest.mark.parametrize(("effort", "offered"), [("quick", True), ("long", False)])
def test_just_under_the_record_nothing_is_found_and_more_effort_offered_once(effort, offered):
    runs = "".join(
        f'[[run]]\nname = "{line} 7"\nline = "{line}"\nends = ["base", "hull"]\nlength = "300 mm"\nconductors = 7\n'
        for line in ("lights", "main-")
    )
    made = survey(
        post=f'bore = "{0.74 * 4.6154 * 0.999:.4f} mm"\nlength = "160 mm"', wire="ptfe-28", extra=runs
    )
    of = Survey(made.build, effort=effort)
    assert of.passages["post"].verdict == "not found"
    [finding], _ = run(passages, "passage.tight", of)
    assert ("--effort long" in finding.says) == offered
