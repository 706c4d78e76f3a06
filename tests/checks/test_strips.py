import pytest

from postcheck.checks import strips
from postcheck.description.quantities import parse
from postcheck.description.units import Dimension
from postcheck.remedies.proposal import changed
from postcheck.remedies.strip import LENGTHS as PROPOSERS
from postcheck.remedies.strip import whole_lengths
from postcheck.survey import Survey
from tests.survey.small import survey

from .run import run

USB = 'kind = "usb"\nplace = "base"\nport = "plain"'


def cut(length="150 mm", kind="strip-12v-white-60", **more):
    text = (
        f'[[strip]]\nname = "bay"\ncircuit = "lights"\nkind = "{kind}"\nplace = "hull"\nlength = "{length}"\n'
    )
    return text + "".join(f'{key} = "{value}"\n' for key, value in more.items())


def volts(value):
    return f'kind = "adaptor"\nplace = "base"\nvolts = "{value} V"\ntolerance = "5 %"\nrated = "3 A"'


def severities(check, **parts):
    return [finding.severity for finding in run(strips, check, survey(**parts))[0]]


# 60 LEDs a metre at 12 V, three in a segment: 50 mm from mark to mark (strip makers' guides)
@pytest.mark.parametrize(
    ("length", "severity"),
    [
        ("150 mm", []),
        ("151 mm", []),
        ("149 mm", []),
        ("152 mm", ["caution"]),
        ("160 mm", ["caution"]),
        ("190 mm", ["caution"]),
        ("30 mm", ["stop"]),
    ],
)
def test_marks(length, severity):
    assert severities("strip.not-at-mark", lamps=cut(length)) == severity


def test_what_its_segments_are_said_of_may_be_longer():
    assert severities("strip.not-at-mark", lamps=cut("180 mm").replace('length = "180 mm"', 'length = "180 mm"\nsegments = 3')) == []  # fmt: skip


def test_where_to_cut_instead():
    assert whole_lengths(0.18, 0.05) == pytest.approx((0.15, 0.2))
    assert whole_lengths(0.15, 0.05) == pytest.approx((0.15, 0.2))
    assert whole_lengths(0.03, 0.05) == pytest.approx((0.0, 0.05))
    with pytest.raises(ValueError, match="above zero"):
        whole_lengths(0.1, 0.0)
    before = survey(lamps=cut("180 mm"))
    (finding,), _ = run(strips, "strip.not-at-mark", before)
    first, *_ = PROPOSERS["strip.not-at-mark"](before, finding)
    assert "150 mm" in first.says
    assert run(strips, "strip.not-at-mark", Survey(changed(before.build, first.changes))) == ([], [])


# 60 a metre and one in a segment: a sixtieth of a metre, 16.667 mm, from mark to mark
@pytest.mark.parametrize(
    ("length", "segments"),
    [("600 mm", 36), ("583 mm", 35), ("567 mm", 34), ("1 m", 60), ("1017 mm", 61), ("5 m", 300)],
)
def test_marks_a_sixtieth_of_a_metre_apart(length, segments):
    made = survey(lamps=cut(length, kind="strip-5v-warm-white-60"), supply=USB)
    assert run(strips, "strip.not-at-mark", made)[0] == []
    assert made.parts.strips[0].segments == segments


@pytest.mark.parametrize("kind", ["strip-5v-warm-white-60", "strip-5v-red-30", "strip-12v-white-120"])
@pytest.mark.parametrize("length", ["90 mm", "592 mm", "2591 mm", "4.99 m"])
def test_the_length_that_is_printed_is_cut_at_a_mark(kind, length):
    before = survey(lamps=cut(length, kind=kind))
    (finding,), _ = run(strips, "strip.not-at-mark", before)
    for proposal in PROPOSERS["strip.not-at-mark"](before, finding):
        printed = proposal.says.removeprefix("Cut it at ").partition(":")[0]
        after = survey(lamps=cut(printed, kind=kind))
        assert run(strips, "strip.not-at-mark", after)[0] == []
        assert proposal.changes[0].value == pytest.approx(parse(printed, Dimension.LENGTH))


# three whites and 150 ohm: 17.2 mA at 12 V, 3.8 mA at 9 V (worked by hand), 60 mA and more at 24 V
@pytest.mark.parametrize(
    ("supply", "severity"), [(12, []), (11, []), (13, []), (9, ["caution"]), (24, ["stop"]), (5, ["stop"])]
)
def test_wrong_volts(supply, severity):
    assert severities("strip.wrong-volts", lamps=cut("100 mm"), supply=volts(supply)) == severity


def test_current_of_a_segment_at_nine_volts():
    (finding,), _ = run(strips, "strip.wrong-volts", survey(lamps=cut("100 mm"), supply=volts(9)))
    assert finding.figures["current"].value == pytest.approx(3.8e-3, rel=0.1)


def test_through_its_traces():
    # twelve segments of 17 to 24 mA: 0.2 A typical
    long = {"supply": volts(12)}
    assert severities(
        "strip.over-through", lamps=cut("600 mm", trace="0.2 ohm/m", through="100 mA"), **long
    ) == ["stop"]
    assert severities(
        "strip.over-through", lamps=cut("600 mm", trace="0.2 ohm/m", through="250 mA"), **long
    ) == ["caution"]
    assert (
        severities("strip.over-through", lamps=cut("600 mm", trace="0.2 ohm/m", through="1 A"), **long) == []
    )
    assert severities("strip.over-through", lamps=cut("600 mm", trace="0.2 ohm/m"), **long) == []


# twelve segments of 26.6 mA at most: 3, 2 and 1 of them on 100, 60 and 30 mA
@pytest.mark.parametrize(("stands", "pieces"), [("100 mA", 4), ("60 mA", 6), ("30 mA", 12)])
def test_pieces(stands, pieces):
    long = cut("600 mm", trace="0.01 ohm/m", through=stands)
    (finding,), _ = run(strips, "strip.over-through", survey(lamps=long, supply=volts(12)))
    assert f"{pieces} pieces" in (finding.remedy or "")
    assert finding.figures["through"].value / pieces <= finding.figures["stands"].value


def test_through_a_strip_that_feeds_on_needs_its_trace():
    onward = cut("600 mm", through="100 mA", far_end="bow")
    findings, (question,) = run(strips, "strip.over-through", survey(lamps=onward, supply=volts(12)))
    assert findings == []
    assert "trace" in question.missing


def test_dim_at_its_far_end():
    # 50 segments of 17 mA, 1.2 ohm/m in each trace: V = R' L I / 2 each way, well over a volt in all
    (finding,), _ = run(
        strips, "strip.dim", survey(lamps=cut("2500 mm", trace="1.2 ohm/m"), supply=volts(12), wire="ptfe-24")
    )
    assert finding.severity == "caution"
    assert finding.figures["first"].value - finding.figures["last"].value > 1.0
    assert severities("strip.dim", lamps=cut("150 mm", trace="1.2 ohm/m")) == []
    assert (
        severities("strip.dim", lamps=cut("150 mm"), supply=USB) == []
    )  # its volts are wrong: another finding
