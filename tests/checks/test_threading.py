import pytest

from postcheck.checks import grips, threading
from tests.survey.small import lamp, survey

from .run import run

POST = 'bore = "{bore} mm"\nlength = "160 mm"\n{more}'
JOINT = (
    '[[run]]\nname = "{name}"\nspare = true\nends = ["base", "hull"]\nlength = "300 mm"\njoint = "{joint}"\n'
)


def made(bore=5, more="", extra="", **other):
    return survey(post=POST.format(bore=bore, more=more), extra=extra, **other)


def ids(build):
    return {
        finding.check: finding.severity
        for module in (threading, grips)
        for check in module.CHECKS
        for finding in run(module, check.name, build)[0]
    }


# one wire of 0.74 mm and a joint beside it: two circles need their sum, 4.26 + 0.74 = 5.00
@pytest.mark.parametrize(("joint", "found"), [("4.2 mm", {}), ("4.3 mm", {"passage.widest": "stop"})])
def test_two_joints_by_the_sum(joint, found):
    two = JOINT.format(name="a", joint=joint) + JOINT.format(name="b", joint=joint)
    assert ids(made(extra=two)) == found


def test_what_was_not_found_is_a_caution_and_says_so():
    for hundredths in range(395, 427, 3):
        joints = "".join(JOINT.format(name=f"s{n}", joint=f"{hundredths / 100} mm") for n in range(7))
        findings, _ = run(threading, "passage.widest", made(extra=joints))
        if findings:
            assert findings[0].severity == "caution"
            assert "was not found to go" in findings[0].says
            break
    else:
        pytest.fail("nothing was left open")


def test_what_does_not_fit_as_a_bundle_is_told_once():
    two = JOINT.format(name="a", joint="4.3 mm") + JOINT.format(name="b", joint="4.3 mm")
    assert "passage.widest" not in ids(made(bore=1.4, extra=two))


def test_the_order_is_told():
    plug = '[[plug]]\nname = "mast"\nends = ["base", "hull"]\npins = ["lights"]\ndiameter = "4.6 mm"\nthrough = ["post"]\n'
    (finding,), _ = run(threading, "passage.order", made(extra=plug + JOINT.format(name="a", joint="2 mm")))
    assert finding.remedy == "Thread 'mast', then 'a', then the rest."


# Euler and Eytelwein: 0.2 N exp(0.4 phi) against 50 N/mm2 on 0.10 mm enamelled (0.00785 mm2, 0.393 N): 96.7 degrees
@pytest.mark.parametrize(("bends", "found"), [(0, False), (90, False), (96, False), (97, True), (180, True)])
def test_pull_round_bends(bends, found):
    build = made(more=f'bends = "{bends} deg"\nthrough = ["bow lamp"]', lamps=lamp(lead="400 mm to hull"))
    assert ("passage.pull" in ids(build)) is found
    if found:
        (finding,), _ = run(threading, "passage.pull", build)
        assert finding.figures["stands"].value == pytest.approx(0.393, abs=0.001)
        # 220 N/mm2
        assert finding.figures["breaks"].value == pytest.approx(1.73, abs=0.01)
        assert "tear" not in finding.why
    # a sturdy wire (7/0.127: 0.0887 mm2, 4.4 N) goes round two whole turns
    assert "passage.pull" not in ids(made(more=f'bends = "{bends + 250} deg"'))


def test_a_pull_that_tears_says_so():
    build = made(more='bends = "330 deg"\nthrough = ["bow lamp"]', lamps=lamp(lead="400 mm to hull"))
    (finding,), _ = run(threading, "passage.pull", build)
    assert "may tear" in finding.why  # 0.2 exp(0.4 x 5.76) = 2.0 N against 1.73


# 0.2 exp(0.4 x 6.98) = 3.26 N is less than twice the 1.73 N at which it breaks; 0.2 exp(0.4 x 7.16) = 3.5 N is more
@pytest.mark.parametrize(
    ("bends", "friction", "far"), [(400, "0.4", False), (410, "0.4", True), (1080, "1000", True)]
)
def test_what_tears_at_once_is_pulled_with_no_figure(bends, friction, far):
    limit = f'[[limit]]\nname = "pull.friction"\nvalue = "{friction}"\nreason = "measured"\n'
    more = f'bends = "{bends} deg"\nthrough = ["bow lamp"]'
    build = made(more=more, lamps=lamp(lead="400 mm to hull"), extra=limit)
    (finding,), _ = run(threading, "passage.pull", build)
    assert ("with far more than it breaks at" in finding.says, "pull" not in finding.figures) == (far, far)


TURN = 'turn = "{turn} deg"\nstop = true\ncycles = "500 cycles"\n{more}'


@pytest.mark.parametrize(
    ("turn", "slack", "found"),
    [(180, "0 mm", True), (180, "0.1 mm", False), (40, "0 mm", False), (180, None, False)],
)
def test_slack(turn, slack, found):
    spares = "".join(JOINT.format(name=f"s{n}", joint="0.1 mm") for n in range(5))
    more = TURN.format(turn=turn, more='free = "60 mm"\n' + (f'slack = "{slack}"' if slack else ""))
    assert ("passage.slack" in ids(made(more=more, extra=spares))) is found


@pytest.mark.parametrize(("away", "found"), [("9 mm", 1), ("10 mm", 0)])
def test_the_last_grip(away, found):
    findings, unjudged = run(
        grips, "passage.grip", made(more=TURN.format(turn=90, more=f'to_joint = "{away}"'))
    )
    assert (len(findings), unjudged) == (found, [])
    # nothing turns, nothing to keep clear of
    assert run(grips, "passage.grip", made(more=f'to_joint = "{away}"')) == ([], [])
    _, (question,) = run(grips, "passage.grip", made(more=TURN.format(turn=90, more="")))
    assert not question.vital


@pytest.mark.parametrize(
    ("edges", "turn", "severity"),
    [("sharp", 0, "note"), ("sharp", 90, "caution"), ("bushed", 90, None), ("rounded", 0, None)],
)
def test_edges(edges, turn, severity):
    more = f'edges = "{edges}"\n' + (TURN.format(turn=turn, more="") if turn else "")
    assert ids(made(more=more)).get("passage.edge") == severity


def test_sharp_edges_and_enamelled_wire():
    build = made(more='edges = "sharp"\nthrough = ["bow lamp"]', lamps=lamp(lead="400 mm to hull"))
    assert ids(build) == {"passage.edge": "caution"}


# 0.74 mm wire: 6 diameters are 4.44 mm at rest, 10 are 7.4 where it moves (NASA-STD-8739.4); 2 are 1.48
@pytest.mark.parametrize(
    ("radius", "turns", "severity"),
    [
        ("4.5 mm", False, None), ("4.4 mm", False, "note"), ("1.5 mm", False, "note"), ("1.4 mm", False, "caution"),
        ("7.5 mm", True, None), ("7.3 mm", True, "caution"),
    ],
)  # fmt: skip
def test_bends_at_the_ends(radius, turns, severity):
    turning = 'turn = "90 deg"\nstop = true\n' if turns else ""
    assert ids(made(more=turning + f'bend_radius = "{radius}"')).get("passage.bend") == severity


def test_a_moving_bend_that_lives_long_enough():
    # strain 0.0635/(5 + 0.0635) = 1.25 %: some 200 turnings at the least (IPC-TR-579, Df 0.15)
    for cycles, found in (("100 cycles", None), ("5000 cycles", "caution")):
        more = f'turn = "90 deg"\nstop = true\nbend_radius = "5 mm"\ncycles = "{cycles}"'
        assert ids(made(more=more)).get("passage.bend") == found
