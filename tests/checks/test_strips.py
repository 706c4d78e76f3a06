import pytest

from postcheck.checks import strips
from postcheck.proof import changed
from postcheck.remedies.strip import PROPOSERS, pieces_for, whole_lengths
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
    [("150 mm", []), ("151 mm", []), ("160 mm", ["caution"]), ("190 mm", ["caution"]), ("30 mm", ["stop"])],
)
def test_marks(length, severity):
    assert severities("strip.not-at-mark", lamps=cut(length)) == severity


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


@pytest.mark.parametrize(("through", "pieces"), [(0.3, 3), (0.3001, 4), (0.1, 1)])
def test_pieces(through, pieces):
    assert pieces_for(through, 0.1) == pieces


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
