"""Which wires are too hot in use, by the share of their insulation's temperature that may be used."""

from __future__ import annotations

import pytest

from postcheck.limits import Limits
from postcheck.remedies.hot_wires import cooler
from postcheck.survey import Survey
from postcheck.survey.heat.conductors import InUse, UsedWire
from tests.survey.small import survey

from .offers import given, typed


# 200 degC of PTFE, of which four fifths are 160
@pytest.mark.parametrize(("share", "celsius", "found"), [(1.0, 200.0, 0), (1.0, 200.1, 1), (0.8, 160.0, 0), (0.8, 160.1, 1)])  # fmt: skip
def test_what_is_hotter_than_its_share_is_made_thicker(share: float, celsius: float, found: bool) -> None:
    made = Survey(survey().build, Limits({"wire.insulation": (share, "long life")}))
    feed = made.parts.runs[0]
    assert feed.wire is not None
    used = UsedWire("run", feed.name, "", feed.path, feed.wire, 1.5, 1, ("post",), celsius)
    made.__dict__["in_use"] = InUse((used,), {}, {})
    offered = typed(cooler(made, given("wire.hot", ("run", "feed"))))
    assert bool(offered) is bool(found)
    assert {edit.partition(" ")[0] for _, *edits in offered for edit in edits} <= {"run.0.wire"}
