"""What the sheet draws of a small tender: the volts on the way by Ohm's law, and on which pole each joint stands."""

from __future__ import annotations

import pytest

from postcheck.survey import Survey
from postcheck.survey.sheet.hub import hub_places
from postcheck.survey.sheet.paths import circuit_paths
from tests.survey.small import lamp, survey

# The lead is 10 m, so that its ohms count.
FAR = lamp(lead="10 m to hull").replace("1k5 1/4 W", "150 ohm 1/2 W")


@pytest.mark.parametrize("count", [1, 2])
def test_volts_on_the_way_by_ohms_law(count: int) -> None:
    """A metre of copper 0.1 mm thick has 1.724e-8 / (pi/4 1e-8) = 2.195 ohm (IEC 60028); each string has a lead of its own."""
    made = survey(lamps=FAR.replace("resistor =", f"parallel = {count}\nresistor ="))
    (path,) = circuit_paths(made)
    at_base, at_hull, at_lamp = path.points
    assert (at_base.name, at_hull.name, at_lamp.name) == ("base", "hull", "bow lamp")
    assert (at_base.metres, at_hull.metres, at_lamp.metres) == pytest.approx((0.0, 0.3, 10.3))
    assert path.current is not None
    assert at_base.volts == pytest.approx(12.0)
    feed = made.parts.runs[0]
    assert feed.wire is not None
    # there and back through 0.3 m each, with what all strings take
    fallen = 2 * 0.3 * feed.wire.ohms_per_metre * count * path.current
    assert at_hull.volts == pytest.approx(12.0 - fallen, abs=1e-4)
    leads = 2 * 10.0 * 2.195 * path.current
    assert leads > 0.5
    assert at_hull.volts - at_lamp.volts == pytest.approx(leads, rel=1e-3)
    # what is left is the lamp's own and its resistor's
    assert path.takes is not None
    assert at_lamp.volts == pytest.approx(path.takes + 150.0 * path.current, rel=2e-3)


def test_strings_on_one_lead_send_all_their_current_through_it() -> None:
    shared = FAR.replace("resistor =", "parallel = 3\none_resistor = true\nresistor =")
    made = survey(lamps=shared)
    (path,) = circuit_paths(made)
    _, at_hull, at_lamp = path.points
    assert path.current is not None
    assert at_hull.volts - at_lamp.volts == pytest.approx(2 * 10.0 * 2.195 * 3 * path.current, rel=1e-3)


def _sides(made: Survey) -> dict[tuple[str, str], str]:
    return {(place.name, joint.first): joint.side for place in hub_places(made) for joint in place.joints}


def test_a_joint_stands_on_the_pole_it_is_joined_to() -> None:
    assert _sides(survey()) == {
        ("base", "main+"): "+", ("base", "main-"): "-", ("hull", "lights"): "+", ("hull", "main-"): "-",
    }  # fmt: skip


def test_switched_in_the_negative_a_circuit_stands_on_the_negative() -> None:
    assert _sides(survey(circuit='switched = "negative"'))["hull", "lights"] == "-"
