"""Posts of bare metal: against Ohm's law and the 8 A of a limited power source (IEC 60950-1 table 2B)."""

import pytest

from postcheck.checks import metal
from postcheck.survey import Survey
from tests.survey.small import survey

from .run import run

PACK = 'kind = "battery"\nplace = "base"\nvolts = "9.6 V"\nresistance = "{}"'
COLUMN = '[[run]]\nname = "column"\nline = "{}"\nends = ["base", "hull"]\nbody = true\nohms = "15 mohm"\n'


def _live(**parts):
    made = survey(**parts)
    body = [
        run_.model_copy(update={"body": True, "ohms": 0.015, "length": None}) for run_ in made.build.run[:1]
    ]
    return run(
        metal, "metal.live", Survey(made.build.model_copy(update={"run": (*body, *made.build.run[1:])}))
    )[0]


@pytest.mark.parametrize(
    ("ohms", "severity"),
    # 9.6 V / 8 A = 1.2 ohm
    [("1.25 ohm", "caution"), ("1.15 ohm", "stop"), ("0.26 ohm", "stop")],
)
def test_what_is_not_limited_is_a_stop(ohms, severity):
    (finding,) = _live(supply=PACK.format(ohms))
    assert (finding.severity, finding.subject.name) == (severity, "feed")
    # open volts at the high corner: a battery's volts are taken as they are, or up to 5 % more
    assert finding.figures["short"].value == pytest.approx(9.6 / float(ohms.split()[0]), rel=0.06)


def test_a_fuse_or_a_limit_makes_it_a_caution():
    assert _live(supply=PACK.format("0.26 ohm") + '\nfuse = "500 mA"')[0].severity == "caution"
    assert _live(supply=PACK.format("0.26 ohm") + '\ncurrent_limit = "2 A"')[0].severity == "caution"
    # a fuse up in the hull has the column ahead of it
    away = _live(supply=PACK.format("0.26 ohm") + '\nfuse = { rated = "500 mA", place = "hull" }')
    assert away[0].severity == "stop"


def test_a_constant_current_and_a_switched_negative_are_no_pole():
    assert _live(circuit='output = { steady = "20 mA", compliance = "1 V" }') == []
    assert run(metal, "metal.live", survey(extra=COLUMN.format("main-")))[0] == []


def test_a_wire_beside_it_bridges_what_slides():
    turning = 'bore = "5 mm"\nlength = "160 mm"\nturn = "90 deg"\nstop = true'
    beside = survey(post=turning, extra=COLUMN.format("main-"))
    assert run(metal, "metal.slides", beside) == ([], [])
    alone = Survey(
        beside.build.model_copy(update={"run": tuple(r for r in beside.build.run if r.name != "negative")})
    )
    (finding,), _ = run(metal, "metal.slides", alone)
    assert (finding.severity, finding.subject.name) == ("caution", "column")
    still = alone.build.model_copy(update={"post": alone.build.post.model_copy(update={"turn": 0.0})})
    assert run(metal, "metal.slides", Survey(still)) == ([], [])
