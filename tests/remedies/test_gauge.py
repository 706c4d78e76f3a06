"""A bore as it is sold, and the gauge that fits instead: only where the volts still arrive."""

from __future__ import annotations

import pytest

import postcheck
from postcheck.remedies.gauge import slimmer
from tests.survey.small import adaptor, lamp, survey

LOAD = """
[[load]]
name = "winch"
kind = "motor"
circuit = "lights"
place = "hull"
typical = "{amps}"
lowest = "11.3 V"
"""


def built(amps, bore="1.7 mm", wire="ptfe-28"):
    return survey(
        post=f'bore = "{bore}"\nlength = "160 mm"',
        supply=adaptor("2 A", "1.6 A"),
        wire=wire,
        extra=LOAD.format(amps=amps),
    )


def told(made):
    return {finding.id: finding for finding in postcheck.check(made.build).files[0].findings}


def test_thinner_wire_is_told_where_it_does_as_well():
    remedy = told(built("10 mA"))["passage.tight:post"].remedy
    assert "(tube 3 x 0.5 mm; 1.9 mm is the least)" in remedy
    assert "Or use ptfe-30 for 'feed' and 'negative': it fits" in remedy


# 12 V less 5 % leaves 11.4 V, so 0.1 V may be lost, the fuse included: 0.6 m of 28 AWG (0.198 ohm/m) lose 0.07 V at
# 0.6 A, of 30 AWG (0.315 ohm/m) 0.08 V at 0.4 A and 0.11 V at 0.6 A (ASTM B258, IEC 60028)
@pytest.mark.parametrize(("amps", "offered"), [("400 mA", True), ("600 mA", False)])
def test_and_not_where_the_volts_would_not_arrive(amps, offered):
    findings = told(built(amps))
    assert "load.low-volts:winch" not in findings
    assert ("load.low-volts:winch" in told(built(amps, wire="ptfe-30"))) is not offered
    remedy = findings["passage.tight:post"].remedy
    assert remedy.startswith("Take a bore of 2 mm")
    assert ("ptfe-30" in remedy) is offered


def test_the_thickest_that_fits_is_first():
    made = built("10 mA")
    first, second = slimmer(made, made.passages["post"])
    # two of 0.66 mm want 1.65 mm with a quarter more, two of 28 AWG (0.74) 1.85
    assert [change.value for change in first.changes] == ["ptfe-30", "ptfe-30"]
    assert second.changes[0].value == "ptfe-32"


def test_what_is_there_already_is_not_offered():
    made = built("10 mA", "5 mm")
    assert [proposal.changes[0].value for proposal in slimmer(made, made.passages["post"])] == [
        "ptfe-30",
        "ptfe-32",
    ]


@pytest.mark.parametrize("bore", ["0.3 mm"])
def test_nothing_is_offered_that_does_not_fit_either(bore):
    made = built("10 mA", bore)
    assert list(slimmer(made, made.passages["post"])) == []


@pytest.mark.parametrize(
    ("wire", "bore", "offered"),
    [("ptfe-28", "1.7 mm", True), ("wrap-26", "1.4 mm", False), ("enamel-0.50", "1.2 mm", False)],
)
def test_only_strands_are_offered_thinner(wire, bore, offered):
    """A thinner solid wire would fit, and breaks the sooner where it is bent."""
    made = built("10 mA", bore=bore, wire=wire)
    assert bool(list(slimmer(made, made.passages["post"]))) is offered


def test_two_strands_are_strands():
    kind = '[wire.pair-{}]\nstrand = "0.2 mm"\nstrands = 2\noutside = "{} mm"\n'
    stock = '[stock]\nwires = ["pair-28", "pair-30"]\n'
    made = survey(
        post='bore = "1.7 mm"\nlength = "160 mm"', supply=adaptor(), wire="pair-28", extra=kind.format(28, 0.74) + kind.format(30, 0.66) + stock
    )  # fmt: skip
    assert [proposal.changes[0].value for proposal in slimmer(made, made.passages["post"])] == ["pair-30"]


@pytest.mark.parametrize(
    ("thick", "thin", "who"),
    [(0, 0, "'feed' and 'negative'"), (0, 1, "'feed' and 'negative'"), (1, 0, "all of its runs"), (1, 1, "the thicker ones of its runs")],
)  # fmt: skip
def test_up_to_two_runs_are_named(thick, thin, who):
    run = '[[run]]\nname = "{}"\nspare = true\nends = ["base", "hull"]\nlength = "300 mm"\nwire = "{}"\n'
    extra = run.format("thick", "ptfe-28") * thick + run.format("thin", "ptfe-30") * thin
    made = survey(post='bore = "5 mm"\nlength = "160 mm"', extra=extra)
    first = next(slimmer(made, made.passages["post"]))
    assert first.says == f"Or use ptfe-30 for {who}: it fits, and the volts still arrive."
    assert len(first.changes) == 2 + thick


def test_thinner_wire_has_to_do_without_any_new_note():
    made = built("10 mA")
    assert all(proposal.spotless for proposal in slimmer(made, made.passages["post"]))


def test_a_lead_beside_them_is_of_whatever_wire_it_likes():
    made = survey(lamps=lamp(lead="400 mm to base", at=" at base").replace('"bow"', '"hull"'))
    assert {member.kind for member in made.passages["post"].members} == {"run", "lead"}
    assert [proposal.changes[0].value for proposal in slimmer(made, made.passages["post"])] == [
        "ptfe-30",
        "ptfe-32",
    ]
