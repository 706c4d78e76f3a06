"""What is offered for a passage, and that it holds."""

from __future__ import annotations

import pytest

import postcheck
from tests.survey.small import survey

JOINTS = """[[run]]
name = "{name}"
spare = true
ends = ["base", "hull"]
length = "300 mm"
joint = "{joint}"
"""


def told(made):
    return {finding.id: finding for finding in postcheck.check(made.build).files[0].findings}


def of_post(more, bore="5 mm", extra="", wire="ptfe-28"):
    return told(survey(post=f'bore = "{bore}"\nlength = "160 mm"\n{more}', extra=extra, wire=wire))


# Two circles side by side need their sum: 4.2 mm beside a wire of 0.74 fits in 5 mm, 4.6 does not; in the empty bore it
# does. Drawn through with the joints apart or side by side it is stuck, as the first of all it is not.
@pytest.mark.parametrize("staggered", ["true", "false"])
def test_threading_one_by_one_is_offered_where_that_does(staggered):
    joints = JOINTS.format(name="thin", joint="2 mm") + JOINTS.format(name="fat", joint="4.6 mm")
    stuck = of_post(f"staggered = {staggered}", extra=joints)
    assert stuck["passage.widest:post"].remedy.startswith(
        "Thread them one by one: 'fat', then 'thin', then the rest. Or a bore of "
    )
    # and so it is: the order is noted, and nothing else
    assert {name: finding.severity for name, finding in of_post("", extra=joints).items()} == {
        "passage.order:post": "note"
    }


def test_where_no_order_does_the_joint_is_made_later():
    joints = JOINTS.format(name="one", joint="4.6 mm") + JOINTS.format(name="other", joint="4.6 mm")
    remedy = of_post("staggered = true", extra=joints)["passage.widest:post"].remedy
    assert (
        remedy == "Make that joint, or fit that plug, once it is through; or a bore of 6 mm (tube 8 x 1 mm)."
    )
