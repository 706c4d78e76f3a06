"""`vary`: a build over a range, held against judging each of its values by itself."""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from jsonschema import Draft7Validator
from rich.cells import cell_len

import postcheck
from postcheck.cli import main
from postcheck.description.ranges import values_of
from postcheck.reading.what_if import key_steps
from postcheck.renderers import varied as varied_text
from postcheck.renderers import varied_json, varied_svg, varied_words
from postcheck.renderers.variation_schema import variation_schema
from postcheck.report import SEVERITIES
from postcheck.variation import Axis, Found, Point, Segment, Turn, Variation
from postcheck.varying import MOST_A_SIDE, MarginError, Varied, sweep, varied
from tests.emulator import Terminal
from tests.renderers.hostile import FORBIDDEN, NAMES
from tests.renderers.test_report_schema import closed

ROOT = Path(__file__).parent.parent
AIRSHIP = ROOT / "example_builds" / "mail_airship.post.toml"
BUILD = postcheck.load(AIRSHIP)
OHMS = 'lamp."nose lamp".resistor.ohms'
STRICT = Draft7Validator(closed(variation_schema()))


# one lamp and three conductors: judged in a hundredth of a second
RECORDED = ROOT / "tests" / "builds" / "faulty" / "proof-current-far-over.post.toml"
JAMMED = ROOT / "tests" / "builds" / "faulty" / "passage-jam.post.toml"


def over(*words: str, build: postcheck.Build = BUILD, seconds: float = 600.0, **more: Any) -> Variation:
    """Not in so little time as a user waits: what comes of it is then the same on each machine."""
    keys = [
        Varied(key_steps(key), values_of(values)) for key, values in zip(words[::2], words[1::2], strict=True)
    ]
    return varied(build, keys, seconds=seconds, **more)


def by_itself(key: str, value: Any) -> tuple[str, set[tuple[str, str]]]:
    report = postcheck.check(postcheck.what_if(BUILD, {key: value}), remedies=False).files[0]
    found = {(one.id, one.severity) for one in report.findings if one.accepted is None}
    return report.verdict, found


@pytest.mark.parametrize(
    ("key", "values"),
    [("post.bore", "1.9 mm..2.6 mm"), (OHMS, "220 ohm..1k"), ("post.turn", "0..360 deg"), ("supply.main.volts", "10..14 V")],
)  # fmt: skip
def test_each_point_is_what_check_says_of_it_and_each_turn_is_close(
    key: str, values: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("postcheck.varying.closer.MOST", 30)
    told = over(key, values)
    (axis,) = told.axes
    assert len(told.points) == len(axis.values) <= 30
    assert list(axis.numbers) == sorted(set(axis.numbers))
    for value, point in list(zip(axis.values, told.points, strict=True))[::8]:
        assert (point.verdict, {(one.id, one.severity) for one in point.findings}) == by_itself(key, value)
        weights = [SEVERITIES.index(one.severity) for one in point.findings]
        assert weights == sorted(weights)
    turned = {
        at
        for at, (below, above) in enumerate(pairwise(told.points))
        if (below.verdict, {(one.id, one.severity) for one in below.findings})
        != (above.verdict, {(one.id, one.severity) for one in above.findings})
    }
    assert {turn.below for turn in told.turns} == turned
    assert told.turns
    for turn in told.turns:
        below, above = axis.numbers[turn.below], axis.numbers[turn.above]
        # a verdict is followed up before the budget is spent; of ever new findings not all are
        assert turn.close or told.points[turn.below].verdict == told.points[turn.above].verdict
        if turn.close and not axis.series:
            # no step of three digits is left out
            assert above - below <= 0.011 * max(above, (axis.numbers[-1] - axis.numbers[0]) / 10.0)


def test_the_bore_turns_where_the_bundle_no_longer_fits() -> None:
    told = over("post.bore", "1.5 mm..6 mm", seconds=0.0)  # turns of the verdict are followed up in any case
    smallest = postcheck.check(BUILD).files[0].figures["passages"]["post"]["smallest_bore"]
    assert isinstance(smallest, float)
    stop, *_ = told.segments
    (axis,) = told.axes
    assert stop.verdict == "stop"
    assert axis.numbers[stop.last] < smallest * 1e3 <= axis.numbers[stop.last + 1]
    assert told.margin == "passage.cannot-fit"
    for number, point in zip(axis.numbers, told.points, strict=True):
        assert point.used == pytest.approx(smallest * 1e3 / number, rel=2e-3)
        assert (point.used > 1.0) == (point.verdict == "stop")
    assert axis.own is not None
    assert (axis.values[axis.own], axis.was) == ("5 mm", '"5 mm"')


def test_a_resistor_takes_the_values_of_the_shelf_and_keeps_its_place() -> None:
    told = over("lamp.nose lamp.resistor", "220 ohm..1k")
    (axis,) = told.axes
    assert (axis.key, axis.was, axis.series) == (OHMS, '"1k"', "E12")
    assert axis.values[:3] == ("220 ohm", "270 ohm", "330 ohm")
    assert all(point.verdict != "unreadable" for point in told.points)
    e96 = over(OHMS, "500 ohm..600 ohm", build=postcheck.what_if(BUILD, {"stock.series": "E96"}))
    assert e96.axes[0].values[:3] == ("511 ohm", "523 ohm", "536 ohm")


def test_where_judging_takes_long_few_values_have_to_do(monkeypatch: pytest.MonkeyPatch) -> None:
    now = [0.0]
    monkeypatch.setattr(sweep, "process_time", lambda: now[0])
    judge = sweep.judge

    def slow(survey: Any) -> Any:
        now[0] += 1.5
        return judge(survey)

    monkeypatch.setattr(sweep, "judge", slow)
    told = over("supply.main.volts", "4 V..24 V", seconds=sweep.SECONDS)
    assert len(told.segments) > 1
    assert now[0] <= 9.0
    (axis,) = told.axes
    assert axis.numbers[0] == 4.0
    assert axis.numbers[-1] == 24.0
    assert len(axis.numbers) == len(told.points) == now[0] / 1.5
    # values that are named are all judged
    now[0] = 0.0
    named = over("supply.main.volts", "8 V, 9 V, 10 V, 11 V, 12 V, 13 V, 14 V, 15 V", seconds=sweep.SECONDS)
    assert len(named.points) >= 8


def test_a_verdict_that_turns_twice_between_two_coarse_values_is_found(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("postcheck.varying.closer.MOST", 40)
    build = postcheck.load(RECORDED)
    told = over("proof.1.current", "2.5 mA..45 mA", build=build)
    # 12 V within 5 %, a red lamp of some 2 V, 1.5 kohm within 5 %: some (12 - 2) V / 1.5 kohm = 6.7 mA; that is between 5 and
    # 7.5 mA, which are neighbours on the coarse grid and are told alike
    coarse = values_of("2.5 mA..45 mA").grid(21)  # type: ignore[union-attr]
    assert coarse[1:3] == [5.0, 7.5]
    assert [one.verdict for one in told.segments] == ["caution", "clear", "caution", "stop"]
    (axis,) = told.axes
    well = told.segments[1]
    assert 5.0 < axis.numbers[well.first] < 6.7 < axis.numbers[well.last] < 7.5
    for at in (well.first - 1, well.first, well.last, well.last + 1):
        changed = postcheck.what_if(build, {"proof.1.current": axis.values[at]})
        assert postcheck.check(changed, remedies=False).files[0].verdict == told.points[at].verdict
    # without time for more there is the coarse grid, and the turn of the verdict that it shows by itself
    hurried = over("proof.1.current", "2.5 mA..45 mA", build=build, seconds=0.0)
    assert [one.verdict for one in hurried.segments] == ["caution", "stop"]
    assert hurried.gap == 2.5


def test_three_conductors_jam_between_the_ratios_of_the_handbook() -> None:
    told = over("post.bore", "1 mm..19 mm", build=postcheck.load(JAMMED))
    (axis,) = told.axes
    jammed = [
        number
        for number, point in zip(axis.numbers, told.points, strict=True)
        if any(one.id == "passage.jam:post" for one in point.findings)
    ]
    # NFPA 70, chapter 9, table 1, informational note 2: 2.8 to 3.2 times the 0.74 mm of a ptfe-28, to three digits
    assert (jammed[0], jammed[-1]) == (2.08, 2.36)


def test_what_may_cross_its_limit_is_looked_at_ahead_of_the_even_grid(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    build = postcheck.load(RECORDED)
    monkeypatch.setattr("postcheck.varying.closer.MOST", 47)
    told = over("proof.1.current", "2.5 mA..45 mA", build=build)
    assert [one.verdict for one in told.segments] == ["caution", "clear", "caution", "stop"]
    # between 10 and 25 mA nothing is near a limit: there is the coarse grid alone
    far = [number for number in told.axes[0].numbers if 10.0 < number < 25.0]
    assert far == [12.5, 15.0, 17.5, 20.0, 22.5]
    monkeypatch.setattr("postcheck.varying.closer.Closer._doubtful", lambda *_: False)
    evenly = over("proof.1.current", "2.5 mA..45 mA", build=build)
    assert len([number for number in evenly.axes[0].numbers if 10.0 < number < 25.0]) > len(far)


def test_how_closely_it_looked_is_true() -> None:
    told = over("post.bore", "1 mm..6 mm", build=postcheck.load(JAMMED))
    (axis,) = told.axes
    apart = [
        above - below
        for at, (below, above) in enumerate(pairwise(axis.numbers))
        if at not in {turn.below for turn in told.turns}
    ]
    assert told.gap == pytest.approx(max(apart))
    assert over("lamp.bow lamp.resistor.ohms", "470 ohm..2k2", build=postcheck.load(RECORDED)).gap == 0.0
    assert over("lamp.bow lamp.series", "1..5", build=postcheck.load(RECORDED)).gap == 0.0
    assert over("usual.run", "ptfe-28, ptfe-30", build=postcheck.load(JAMMED)).gap is None
    assert over("post.bore", "3..4 mm", "post.stop", "true, false", build=postcheck.load(JAMMED)).gap is None


def test_counts_are_whole_and_words_have_no_order() -> None:
    counts = over("lamp.nose lamp.series", "1..5")
    assert counts.axes[0].values == ("1", "2", "3", "4", "5")
    assert [segment.verdict for segment in counts.segments] == ["clear", "caution", "stop"]
    wires = over("usual.run", "ptfe-30, ptfe-28, no-such")
    assert [point.verdict for point in wires.points] == ["clear", "clear", "unreadable"]
    assert (wires.turns, wires.segments, wires.axes[0].own) == ((), (), 1)
    assert "there is no wire 'no-such'" in wires.points[2].findings[0].says
    stops = over("post.stop", "true, false")
    assert [point.verdict for point in stops.points] == ["clear", "caution"]


def test_many_values_of_a_count_are_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    build = postcheck.load(RECORDED)
    monkeypatch.setattr("postcheck.varying.closer.MOST", 30)
    told = over("lamp.bow lamp.series", "1..90", build=build)
    assert len(told.points) == 30
    assert all(number.is_integer() for number in told.axes[0].numbers)


def test_a_map_is_every_pair() -> None:
    told = over("post.bore", "1.9 mm..2.3 mm", "usual.run", "ptfe-28, ptfe-30")
    down, across = told.axes
    assert len(down.values) <= MOST_A_SIDE
    assert [point.at for point in told.points] == [(i, j) for i in range(len(down.values)) for j in range(2)]
    for point in told.points[::5]:
        values = {"post.bore": down.values[point.at[0]], "usual.run": across.values[point.at[1]]}
        report = postcheck.check(postcheck.what_if(BUILD, values), remedies=False).files[0]
        assert report.verdict == point.verdict


def test_progress_counts_each_judgement() -> None:
    seen: list[int] = []
    told = over("post.bore", "1.9 mm..2.1 mm", build=postcheck.load(JAMMED), progress=seen.append)
    assert seen == list(range(1, len(told.points) + 1))


def after(judgements: int) -> Callable[[int], None]:
    """What stops it as Ctrl-C would."""

    def progress(done: int) -> None:
        if done == judgements:
            raise KeyboardInterrupt

    return progress


def test_broken_off_it_tells_what_there_is_and_that_it_is_not_all() -> None:
    build = postcheck.load(JAMMED)
    told = over("post.bore", "1 mm..19 mm", build=build, progress=after(5))
    # the ends are among the first, and the file's own value
    assert told.stopped
    assert told.axes[0].numbers == (1.0, 2.1, 4.0, 8.0, 19.0)
    assert told.axes[0].own == 1
    said = list(varied_words.sentences(told))
    assert said[0] == "Stopped before its end: this is only what had been judged by then."
    assert "Where a turn is told by two values, more lies between them that was not judged." in said
    assert "Judged at least every 11 mm; what comes and goes within less is not seen." in said
    keys = ("post.bore", "2 mm, 2.2 mm, 2.4 mm", "post.turn", "0..90 deg")
    whole = over(*keys, build=build, margin="passage.full")
    columns = len(whole.axes[1].values)
    part = over(*keys, build=build, margin="passage.full", progress=after(2 * columns + 1))
    assert part.stopped
    assert not whole.stopped
    assert part.points == whole.points[: 2 * columns]
    assert [error.message for error in STRICT.iter_errors(json.loads(varied_json.render(part, "1")))] == []
    for words, most in (
        (["post.bore", "2..3 mm"], 1),
        (["post.bore", "2..3 mm", "post.turn", "0..90 deg"], columns - 1),
    ):
        with pytest.raises(KeyboardInterrupt):
            over(*words, build=build, progress=after(most))


def test_how_far_it_is_is_told_on_a_line_that_goes_again(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("postcheck.cli.progress.PATIENCE", 0.0)
    monkeypatch.setattr("sys.stderr.isatty", lambda: True)
    assert main(["vary", str(JAMMED), "post.bore", "2 mm, 3 mm"]) == 0
    assert capsys.readouterr().err.endswith("\rjudged so far: 2\r" + " " * 16 + "\r")


def test_the_margin_can_be_named() -> None:
    build = postcheck.load(JAMMED)
    told = over("post.bore", "1.5 mm..3 mm", build=build, margin="passage.full")
    assert told.margin == "passage.full"
    assert any((point.used or 0.0) > 1.0 for point in told.points)
    with pytest.raises(
        MarginError, match=r"there is no check 'passage\.tigt'; did you mean 'passage\.tight'"
    ):
        over("post.bore", "2 mm..3 mm", margin="passage.tigt")
    with pytest.raises(MarginError, match=r"'proof\.current' compares nothing here; .*line\.drop.* do"):
        over("post.bore", "2 mm, 3 mm", build=build, margin="proof.current")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["post.boer", "1..3 mm"], "post knows no key 'boer'; did you mean 'bore'?"),
        (["post.bore", "1..3"], "the number 1 has no unit"),
        (["post.bore", "1..3 V"], "'1 V' is a voltage; a length is needed"),
        (["lamp.nos lamp.wanted", "1..3 mA"], "there is no lamp 'nos lamp'; did you mean 'nose lamp'?"),
        (["post.bore", "3 mm"], "names no two values"),
        (["post.bore", "0..1e300 mm"], "is implausible (a typing mistake?)"),
        (["post.bore", "3..4 mm", "post.turn"], "which values of post.turn?"),
        (["post.bore", "3..4 mm", "post.bore", "2..5 mm"], "post.bore is named twice; a map is of two keys"),
        (["lamp.4.wanted", "1..3 mA", 'lamp."nose lamp".wanted', "1..3 mA"], "is named twice"),
        (["post.bore", "3..4 mm", "--margin", "passage.tigt"], "did you mean 'passage.tight'?"),
        (["post.bore", "3..4 mm", "--with", "post"], "--with: 'post' is no assignment"),
        (["post.bore", ", ".join(f"{n} mm" for n in range(1, 63))], "62 values are too many; name 60 at the most"),
        (["post.bore", "3..4 mm", "--today", "soon"], "--today needs a date"),
        (["post.bore", "3..4 mm", "--seconds", "nan"], "--seconds needs a number"),
    ],
)  # fmt: skip
def test_what_cannot_be_varied_is_told_in_one_line(
    words: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["vary", str(AIRSHIP), *words]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert says in err
    assert err.count("\n") == 1


def test_piped_it_is_lines_and_the_file_stays(capsys: pytest.CaptureFixture[str]) -> None:
    before = AIRSHIP.read_bytes()
    assert (
        main(
            [
                "vary",
                str(AIRSHIP),
                "post.bore",
                "1.8..2.8 mm",
                "--with",
                "usual.run = ptfe-30",
                "--seconds",
                "600",
            ]
        )
        == 0
    )
    out, err = capsys.readouterr()
    lines = out.splitlines()
    assert (lines[0], err) == ("post.bore from 1.8 mm to 2.8 mm.", "")
    assert re.match(
        r"Up to [0-9.]+ mm it is a caution \(passage\.tight:post\); from [0-9.]+ mm up it is clear\.",
        lines[3],
    )
    assert lines[2] == 'With usual.run = "ptfe-30" instead of "ptfe-28".'
    assert (
        lines[4]
        == "Judged at least every 0.02 mm, and each turn to three digits; what comes and goes within less is not seen."
    )
    assert AIRSHIP.read_bytes() == before


def test_json_is_by_its_schema(capsys: pytest.CaptureFixture[str]) -> None:
    Draft7Validator.check_schema(variation_schema())
    for words in (["post.bore", "1.9..2.1 mm"], ["post.bore", "1.9..2.1 mm", "post.stop", "true, false"]):
        assert main(["vary", str(JAMMED), *words, "--format", "json"]) == 0
        told = json.loads(capsys.readouterr().out)
        assert [error.message for error in STRICT.iter_errors(told)] == []
        assert len(told["points"]) >= 5
    told["points"][0]["verdict"] = "well"
    assert list(STRICT.iter_errors(told))


def test_a_drawing_is_written_or_goes_to_the_output(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "bore.svg"
    assert main(["vary", str(JAMMED), "post.bore", "1.9..2.1 mm", "--svg", str(out)]) == 0
    assert capsys.readouterr().out.endswith(f"\n\nWrote {out}.\n")
    assert main(["vary", str(JAMMED), "post.bore", "1.9..2.1 mm", "--svg", "-"]) == 0
    assert capsys.readouterr().out == out.read_text(encoding="utf-8")
    assert ElementTree.fromstring(out.read_text(encoding="utf-8")).tag.endswith("svg")
    assert main(["vary", str(JAMMED), "post.bore", "1.9..2.1 mm", "--svg", str(JAMMED)]) == 2


def test_on_a_terminal_it_is_drawn() -> None:
    command = [sys.executable, "-m", "postcheck", "vary", str(JAMMED), "post.bore", "1 mm..6 mm"]
    with Terminal(command, cwd=ROOT, lines=60, PYTHONPATH=str(ROOT), LC_ALL="C.UTF-8") as screen:
        rows = screen.wait(lambda rows: any(row.startswith("From 2.37 mm up") for row in rows))
    assert any("\u2800" <= sign <= "\u28ff" for row in rows for sign in row)
    assert not any("judged so far" in row for row in rows)  # gone again
    assert any(row.strip().startswith("SSSS") for row in rows)


def test_on_a_terminal_without_dots_it_is_drawn_in_ascii() -> None:
    command = [sys.executable, "-m", "postcheck", "vary", str(JAMMED), "post.bore", "1 mm..6 mm"]
    with Terminal(command, cwd=ROOT, lines=60, PYTHONPATH=str(ROOT), PYTHONIOENCODING="ascii") as screen:
        rows = screen.wait(lambda rows: any(row.startswith("From 2.37 mm up") for row in rows))
    assert any("***" in row for row in rows)
    assert any("-----" in row for row in rows)


# -- the records, drawn


def sample(name: str = "bore") -> Variation:
    """Four values of our own: twice over, at, below the limit, and not compared."""
    found = Found(f"passage.tight:{name}", "caution", f"{name} is tight.")
    points = (
        Point((0,), "stop", (Found(f"a.b:{name}", "stop", f"{name} is bad."), found), 2.0),
        Point((1,), "caution", (found,), 1.0),
        Point((2,), "clear", (), 0.5),
        Point((3,), "incomplete", (), None, 2),
    )
    return Variation(
        name, name, "wiring", (Axis(name, ("1 mm", "2 mm", "3 mm", "4 mm"), (1.0, 2.0, 3.0, 4.0), "mm", was=f'"{name}"', own=2),), points,
        (Turn(0, 1, (), (f"a.b:{name}",), (), False), Turn(1, 2, (), (f"passage.tight:{name}",), (), True), Turn(2, 3, (), (), (), True)),
        (Segment(0, 0, "stop"), Segment(1, 1, "caution"), Segment(2, 2, "clear"), Segment(3, 3, "incomplete")), "passage.tight", "too little room",
    )  # fmt: skip


def words_of(name: str) -> Variation:
    """Two keys of words."""
    axes = (Axis(name, (name, "b"), was=f'"{name}"', own=0), Axis("other", ("x", name, "z"), was="1", own=1))
    points = [
        Point((i, j), "stop" if i else "clear", (Found(name, "stop", name),) * i)
        for i in range(2)
        for j in range(3)
    ]
    return Variation(name, name, "wiring", axes, tuple(points))


def test_its_sentences() -> None:
    first, open_turn, own = varied_words.sentences(sample())
    assert first == (
        "Up to 1 mm it is a stop (a.b:bore); from 2 mm, or from a value above 1 mm, it is a caution (passage.tight:bore); "
        "from 3 mm it is clear; from 4 mm up it is incomplete (2 vital things not known)."
    )
    assert open_turn.startswith("Where a turn is told by two values")
    assert own == 'The file has bore = "bore": it is clear.'


def test_the_curve_is_to_scale_and_crosses_the_limit_where_it_should() -> None:
    screen = varied_text.render(sample(), 80, ascii=True).splitlines()
    plot = [
        line[8:]
        for line in screen
        if re.match(r"(\s+[0-9]+ %|        ) [*\- ]*$", line.ljust(12)) and line.strip()
    ]
    limit = next(index for index, line in enumerate(screen) if line.startswith("  100 %"))
    zero = next(index for index, line in enumerate(screen) if line.lstrip().startswith("0 %"))
    top = next(index for index, line in enumerate(screen) if line.startswith("  210 %"))
    assert zero - top == 9
    assert limit - top == round((1.0 - 1.0 / 2.1) * 9)
    assert plot
    # at 2 mm, a third of the way, the curve is at the limit
    stars = [match.start() for match in re.finditer(r"\*", screen[limit][8:])]
    assert min(stars) <= 21 <= max(stars) + 1


@pytest.mark.parametrize("name", NAMES.values(), ids=NAMES.keys())
def test_hostile_names_steer_nothing(name: str) -> None:
    for told in (sample(name), words_of(name)):
        for text in (varied_text.render(told), varied_text.render(told, 40, ascii=True)):
            assert not FORBIDDEN.search(text)
            assert not [line for line in text.split("\n") if line.lstrip().startswith("::") or "##[" in line]
        assert max(cell_len(line) for line in text.split("\n")) <= 40
        text.encode("ascii")
        drawing = varied_svg.render(told)
        ElementTree.fromstring(drawing)
        assert "<script" not in drawing
        told_json = json.loads(varied_json.render(told, "1.2.3"))
        assert [error.message for error in STRICT.iter_errors(told_json)] == []


@pytest.fixture(scope="module")
def pairs() -> Variation:
    """A map of two by ten."""
    return over("post.bore", "2 mm, 2.1 mm", "post.turn", "0..180 deg", build=postcheck.load(JAMMED))


@pytest.mark.parametrize("width", [24, 40, 60, 80, 100])
def test_no_line_is_wider_than_the_screen(width: int, pairs: Variation) -> None:
    for told in (sample(), words_of("ptfe-28"), pairs):
        for plain in (False, True):
            screen = varied_text.render(told, width, ascii=plain)
            assert max(cell_len(line) for line in screen.split("\n")) <= width
    assert "\x1b[" in varied_text.render(sample(), 80, colour=True)


def test_it_says_what_it_needs_and_no_more_is_loaded_by_check() -> None:
    from tests.test_cold_start import loaded  # noqa: PLC0415

    modules = loaded("check", "example_builds/tender.post.toml")
    assert not modules & {"postcheck.varying", "postcheck.variation", "postcheck.description.ranges"}
