"""The survey of a changed build: by the limits of the first, or by others."""

from __future__ import annotations

from postcheck.limits import Limits
from postcheck.survey import Survey
from tests.survey.small import survey


def test_a_changed_build_is_judged_by_the_same_limits_and_the_same_build_by_others() -> None:
    own, other = Limits({"lamp.usual": (0.5, "long life")}), Limits({"lamp.usual": (0.7, "bright")})
    made = Survey(survey().build, own)
    less = made.build.model_copy(update={"lamp": ()})
    again, otherwise = made.again(less), made.again(limits=other)
    assert (again.build.lamp, again.limits) == ((), own)
    assert (otherwise.build, otherwise.limits) == (made.build, other)
    assert (again.stage, again.today) == (made.stage, made.today)


def test_what_a_change_leaves_is_not_worked_out_again_unless_the_limits_are_others() -> None:
    made = survey()
    assert made.electrics is not None
    fuse = [("supply", "main", "fuse")]
    assert made.again(changed=fuse).__dict__["electrics"] is made.electrics
    for other in (
        made.again(),
        made.again(changed=[("lamp", 0, "resistor")]),
        made.again(limits=Limits(), changed=fuse),
    ):
        assert "electrics" not in other.__dict__
