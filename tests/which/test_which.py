"""Unmarked leads told apart: the worked case, random hubs against ngspice, and the command as it is typed."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from itertools import permutations
from pathlib import Path
from random import Random

import pytest
from jsonschema import Draft7Validator

import postcheck
from postcheck.cli import main
from postcheck.identification import Identification
from postcheck.identifying import Identifier, ReadingError, which
from postcheck.identifying.handing_out import cheapest
from postcheck.renderers import which as words
from postcheck.renderers.identification_schema import identification_schema
from tests.emulator import Terminal
from tests.renderers.hostile import FORBIDDEN
from tests.renderers.test_report_schema import closed
from tests.which.hubs import make
from tests.which.measure import harm, readings, right

HEAD = """format = 1
[build]
name = "Lightship"
[supply.main]
kind = "adaptor"
place = "base"
volts = "12 V"
rated = "1 A"
[place]
base = { access = "open" }
hub = { access = "cover" }
nose = { access = "sealed" }
tail = { access = "sealed" }
"""


def lamp(
    name: str,
    kind: str,
    series: int = 1,
    resistor: str = "470 ohm at base",
    place: str = "nose",
    more: str = "",
) -> str:
    return (
        f'[[lamp]]\nname = "{name}"\ncircuit = "running"\nkind = "{kind}"\nplace = "{place}"\nseries = {series}\n'
        f'resistor = "{resistor}"\nlead = "200 mm to hub, red/black"\n{more}'
    )


# Twelve leads: which they are is put together from the readings that the hand calculation gives.
WORKED = HEAD + "".join(
    (
        lamp("bow", "smd-0603-red"), lamp("stern", "smd-0603-red", place="tail"), lamp("green", "smd-0603-green"),
        lamp("blue", "smd-0603-blue"), lamp("white a", "smd-0603-white"), lamp("white b", "smd-0603-white", place="tail"),
        lamp("warm", "smd-0603-warm-white", place="tail"), lamp("behind 220", "smd-0603-white", resistor="220 ohm at nose"),
        lamp("behind 1k", "smd-0603-white", resistor="1k at nose"), lamp("two reds", "smd-0603-red", 2, place="tail"),
        lamp("two whites", "smd-0603-white", 2), lamp("three whites", "smd-0603-white", 3, place="tail"),
    )
)  # fmt: skip
# By hand, from the data sheets' two points of each curve: setting A 5 V through 1 kohm, B 10 V through 1 kohm.
READS = {
    "bow": 2.07, "stern": 2.07, "green": 2.67, "blue": 2.72, "white a": 2.76, "white b": 2.76, "warm": 2.76,
    "behind 220": 3.15, "behind 1k": 3.85, "two reds": 4.02,
}  # fmt: skip
AT_B = {"two whites": 5.66, "three whites": 8.21}


@pytest.fixture(scope="module")
def worked() -> Identifier:
    return Identifier(postcheck.loads(WORKED, "lightship.post.toml"), "hub")


def told(identifier: Identifier, text: str, lead: str = "1") -> tuple[list[str], list[str]]:
    """What a lead may be, and with what wrong."""
    found = next(one for one in identifier.told(text).found if one.lead == lead)
    return list(found.left), sorted(
        {f"{fit.condition}{' swapped' if fit.swapped else ''}" for fit in found.fits}
    )


def test_the_worked_case_reads_as_by_hand(worked: Identifier) -> None:
    bare = worked.bare
    assert bare.first is not None
    assert bare.more is not None
    assert (bare.first.volts, bare.first.ohms) == (5.0, 1000.0)
    assert (bare.more.volts, bare.more.ohms) == (10.0, 1000.0)
    assert {one.name: round(one.first.usual, 2) for one in bare.expected if one.name in READS} == READS
    assert {one.name: round(one.more.usual, 2) for one in bare.expected if one.more} == AT_B
    # what is lit takes no more than 3 mA or so of usual parts
    assert all(5.0 - one.first.usual < 3.0 for one in bare.expected)
    for dark in AT_B:
        assert next(one.first.usual for one in bare.expected if one.name == dark) > 4.95


def test_how_many_pairs_are_told_apart(worked: Identifier) -> None:
    """The hand calculation has 39 by data sheets, of another twelve of the same readings; 55 and 64 with a bin of 70 mV.

    Fewer are told apart for sure with 0.1 V outside the sheets, a meter's own error and a supply a step low.
    """
    assert worked.bare.told.pairs == 66
    assert worked.bare.told.volts == 29
    binned = which(postcheck.loads(WORKED), "hub", bin_volts=0.07)
    assert (binned.told.volts, binned.told.colour, binned.told.place) == (54, 64, 66)
    assert [one.names for one in binned.alike] == [("bow", "stern"), ("white a", "white b")]


@pytest.mark.parametrize(
    ("reading", "left", "wrong"),
    [
        ("2.07 red in nose", ["bow"], ["sound"]),
        ("5.0 / 2.07 red in nose", ["bow"], ["sound swapped"]),
        ("3.85 white", ["behind 1k"], ["sound"]),
        ("4.02", ["behind 1k", "two reds"], ["sound"]),
        ("4.98 / 5 whole B 8.21 in tail", ["three whites"], ["sound"]),
    ],
)
def test_a_reading_leaves_what_explains_it(
    worked: Identifier, reading: str, left: list[str], wrong: list[str]
) -> None:
    assert told(worked, f"1: {reading}") == (left, wrong)


def test_faults_are_told_as_such(worked: Identifier) -> None:
    assert told(worked, "1: 0.0 / 0.0")[1] == ["shorted"]
    assert told(worked, "1 is bow, 1: 5 / 5") == (["bow"], ["open"])
    assert told(worked, "1 is behind 1k, 1: 2.76") == (["behind 1k"], ["no resistor"])
    assert told(worked, "1 is two reds, 1: 2.07") == (["two reds"], ["shorted"])
    assert worked.told("1: 1.20").unexplained == ("1",)
    dark = worked.told("1: 5 / 5")
    assert dark.faults == 0  # too long a string, as far as one can know
    assert dark.found[0].dark


def test_two_leads_that_can_only_be_two_leave_the_others(worked: Identifier) -> None:
    both = worked.told("1: 2.07 red in nose, 2: 2.07 red in tail, 3: 4.02 red")
    assert [one.left for one in both.found] == [("bow",), ("stern",), ("two reds",)]
    assert all(one.sure for one in both.found)


def test_more_volts_wait_for_a_proven_continuity(worked: Identifier) -> None:
    with pytest.raises(ReadingError, match="continuity is proven; write whole"):
        worked.told("1: 5 / 5 B 8.21")
    step = worked.told("; ".join(f"{n}: 5 / 5" for n in range(1, 13))).next
    assert step is not None
    assert step.step == "whole"
    step = worked.told("; ".join(f"{n}: 5 / 5 whole" for n in range(1, 13))).next
    assert step is not None
    assert step.step == "more volts"


def test_legs_of_one_colour_get_no_setting_b() -> None:
    told = which(postcheck.loads(WORKED.replace("red/black", "red/red")), "hub")
    assert told.first is not None
    assert told.more is None
    assert "There is no setting B" in words.render(told)


def test_what_lamps_withstand_sets_the_volts_and_the_resistor() -> None:
    weak = """[lamp_kind.weak]
colour = "red"
forward = "1.8/2.0/2.4 V"
at = "2 mA"
low_forward = "1.9 V"
low_at = "1 mA"
rated = "2 mA"
reverse = "3.25 V"
"""
    first = which(postcheck.loads(HEAD + weak + lamp("a", "weak") + lamp("b", "smd-0603-white")), "hub").first
    assert first is not None
    assert first.volts == 3.2
    assert first.volts / (0.95 * first.ohms) <= 0.002
    assert (first.delicate, first.weakest) == ("a", "a")
    tiny = weak.replace("3.25 V", "1 V")
    assert which(postcheck.loads(HEAD + tiny + lamp("a", "weak")), "hub").first is None


def test_electronics_are_kept_out() -> None:
    load = '[[load]]\nname = "horn"\ncircuit = "running"\nplace = "nose"\ntypical = "20 mA"\nlead = "200 mm to hub"\n'
    told = which(postcheck.loads(HEAD + lamp("a", "smd-0603-red") + load), "hub")
    assert told.apart == (("horn", "backwards"),)
    assert [one.name for one in told.expected] == ["a"]
    assert "Put nothing on a lead that may be 'horn'" in words.render(told)


def test_what_is_marked_is_known() -> None:
    text = HEAD + lamp("a", "smd-0603-red").replace(
        '"200 mm to hub, red/black"', '{ length = "200 mm", to = "hub", label = "A" }'
    )
    told = which(postcheck.loads(text + lamp("b", "smd-0603-red") + lamp("c", "smd-0603-white")), "hub")
    assert told.marked == (("a", "A"),)
    assert {one.name for one in told.expected} == {"b", "c"}


def test_names_are_handed_out_as_brute_force_does() -> None:
    """Against all permutations."""
    rng = Random(5)
    for _ in range(40):
        size = rng.randint(1, 5)
        costs = [[rng.choice([0, 0, 1, 2, 5]) for _ in range(size)] for _ in range(size)]
        ways = [(sum(costs[i][j] for i, j in enumerate(way)), way) for way in permutations(range(size))]
        least, forced = cheapest(costs)
        assert least == min(cost for cost, _ in ways)
        for i in range(size):
            for j in range(size):
                assert forced[i][j] == min(cost for cost, way in ways if way[i] == j)


@pytest.mark.parametrize("seed", [0, 3, 5, 12])
def test_no_lead_is_harmed_and_what_is_sure_is_right(seed: int, tmp_path: Path) -> None:
    """Outside truth: ngspice, on cards that nothing of postcheck writes; 200 of them by `python -m tests.which.measure`."""
    hub = make(seed, 10)
    identifier = Identifier(postcheck.loads(hub.toml), "hub")
    cases, amps, volts = harm(hub, identifier, tmp_path)
    assert cases > 2 * len(hub.leads)
    assert amps <= 1.0
    assert volts <= 1.0
    truth, read, _ = readings(hub, identifier, seed, tmp_path)
    for one in read:
        assert right(identifier.told(one), truth)[1] == []


# -- as it is typed


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("2.07", "names no lead"),
        ("1: red-ish", "is no reading"),
        ("1: 2.07 rde", "did you mean 'red'"),
        ("1: 2.07 in nos", "did you mean 'nose'"),
        ("1: 2.07, 1: 2.08", "was read already"),
        ("1: 2.07 /", "behind the slash"),
        ("1 is bwo", "did you mean 'bow'"),
        ("1: 2.07 4.99", "has two readings; put a slash"),
        ("1: 2.07 red blue", "red and blue are not seen at once"),
        ("1: 2.07 dark red", "dark and red are not seen at once"),
        ("1: 2,070", "write '2.070' or '2070', whichever is meant"),
        ("1: 12.1", "more than setting A has, 5 V: take the lead off"),
        ("1: 4.99 / 5.2", "more than setting A has, 5 V: take the lead off"),
        ("1: 5 / 5 whole B 12.1", "more than setting B has, 10 V"),
        ("1: 2.07 nose", "write in nose"),
        ("1: -2.07", "type the volts without it"),
        ("1: OL", "set to ohms or diodes"),
        ("1: 2", "with its decimals, as in 2.00"),
        ("1: 2.07 / 4", "with its decimals, as in 4.00"),
        ("1 is bow, 2 is bow", "cannot both be"),
        ("1: 230", "cannot read '230'"),
        (", ".join(f"{n}: 2.07" for n in range(13)), "12 unmarked leads"),
    ],
)
def test_what_cannot_be_taken_is_said(worked: Identifier, text: str, says: str) -> None:
    with pytest.raises(ReadingError, match=says):
        worked.told(text)


def test_readings_come_as_text_lines_or_by_name(worked: Identifier) -> None:
    forms = ("lead 1: 2.07 V red / 5, lead 2: 2760 mV", "lead 1: 2.07 red / 5.0\nlead 2: 2.76 # the fat one", {"lead 1": "2.07 red / 5", "lead 2": "2.76"})  # fmt: skip
    found = [[one.left for one in worked.told(form).found] for form in forms]
    assert found[0] == found[1] == found[2]
    assert worked.told("1: 2.76, 1: again 2.07 red in nose").found[0].left == ("bow",)


def test_a_place_without_leads_is_said() -> None:
    build = postcheck.loads(WORKED)
    with pytest.raises(ReadingError, match="no lead ends at 'base'; leads end at 'hub'"):
        postcheck.which(build, "base")
    with pytest.raises(ReadingError, match="did you mean 'hub'"):
        postcheck.which(build, "hbu")


@pytest.fixture
def file(tmp_path: Path) -> Iterator[Path]:
    path = tmp_path / "lightship.post.toml"
    path.write_text(WORKED, encoding="utf-8")
    before = path.read_bytes()
    yield path
    assert path.read_bytes() == before
    assert {one.name for one in tmp_path.iterdir()} <= {path.name, "read.txt"}


def test_exit_codes(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    at = ["which", str(file), "--at", "hub"]
    assert main([*at, "--readings", "1: 2.07"]) == 0
    assert main([*at, "--readings", "1: 0.0 / 0.0"]) == 1
    assert main([*at, "--readings", "1: 1.20"]) == 1
    assert main(at) == 0  # nobody can answer here
    assert main([*at, "--readings", "1: fast"]) == 2
    assert main([*at, "--readings", "no-such-file"]) == 2
    assert main([*at, "--bin", "70 mA"]) == 2
    assert main([*at, "--bin", "9 V"]) == 2
    (file.parent / "read.txt").write_text("1: 0 / 0\n", encoding="utf-8")
    assert main([*at, "--readings", str(file.parent / "read.txt")]) == 1
    assert "no reading such as" in capsys.readouterr().err


def test_json_is_by_its_schema(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    strict = Draft7Validator(closed(identification_schema()))
    for read, bin_width in (("", []), ("1: 2.07, 2: 5/5 whole B 8.2, 3: 1.2, 4: 0", ["--bin", "70 mV"])):
        main(["which", str(file), "--at", "hub", "--readings", read, "--format", "json", *bin_width])
        shown = json.loads(capsys.readouterr().out)
        assert [error.message for error in strict.iter_errors(shown)] == []


def test_a_screen_is_no_wider_than_it_is_and_cautions_come_in_order(worked: Identifier) -> None:
    for width in (40, 80):
        text = words.render(worked.told("1: 2.07, 2: 5 / 5, 3: 0 / 0, 4: 1.2"), width)
        wide = [line for line in text.splitlines() if len(line) > width and not line.startswith("  ")]
        assert not wide
    assert all(len(line) <= 80 for line in text.splitlines())
    text = words.render(worked.told(""))
    assert text.index("Unplug") < text.index("current limit first") < text.index("then the volts")
    assert "never use it" in text


def test_names_of_the_file_steer_no_terminal() -> None:
    text = WORKED.replace('"bow"', '"bow\\u001b[2J ::error::"')
    shown = words.render(which(postcheck.loads(text), "hub", "1: 2.07"))
    assert not FORBIDDEN.search(shown)


# -- what is typed, as people at a bench type it


@pytest.mark.parametrize(
    "reading",
    [
        "2.07 red / 5", "2.07 / 5 red", "5 / 2.07 red", "5 red / 2.07", "red 2.07 / 5", "2.07 / 5, 1: red", "5 / 2.07, red",
        "5 dark / 2.07 red", "dark / 2.07, red", "2.07 / dark, red", "2.07 lit / 5, red",
    ],
)  # fmt: skip
def test_a_colour_is_what_is_seen_wherever_it_is_typed(worked: Identifier, reading: str) -> None:
    swapped = reading.startswith(("5", "dark"))
    left, wrong = told(worked, f"1: {reading} in nose")
    assert left == ["bow"]
    assert wrong == ["sound swapped" if swapped else "sound"]


def test_two_colours_say_which_side_has_which(worked: Identifier) -> None:
    """One LED lights one way round only: no lead here has red one way and white the other."""
    assert worked.told("1: 2.07 red / 2.76 white").unexplained == ("1",)
    assert worked.told("1: dark / 2.07 red").unexplained == ()
    assert worked.told("1: 2.07 dark / 5 red").unexplained == ("1",)


@pytest.mark.parametrize(
    ("comma", "point"),
    [
        ("1: 2,07", "1: 2.07"),
        ("1: 2,07 red / 4,99 in nose", "1: 2.07 red / 4.99 in nose"),
        ("1: 2,07, 2: 2,76 white", "1: 2.07, 2: 2.76 white"),
        ("1: 2,07,2: 2,76", "1: 2.07; 2: 2.76"),
        ("1: 2.07,2: 2.76", "1: 2.07; 2: 2.76"),
        ("1: 5,2 is stern", "1: 5; 2 is stern"),
        ("1: 0,070", "1: 0.070"),
        ("1: 5 / 5 whole B 8,21", "1: 5 / 5 whole B8.21"),
    ],
)
def test_a_decimal_comma_is_taken_where_it_can_be_nothing_else(
    worked: Identifier, comma: str, point: str
) -> None:
    """The same commas as `record` takes."""
    one, other = worked.told(comma), worked.told(point)
    assert [(found.left, found.fits) for found in one.found] == [
        (found.left, found.fits) for found in other.found
    ]


def test_a_lead_is_one_by_either_name(worked: Identifier) -> None:
    """One lead that counted as two would make a name sure that is not."""
    (one,) = worked.told("lead 1: 2.07, 1: / 5 red, Lead 1: in nose").found
    assert (one.lead, one.left, one.sure) == ("lead 1", ("bow",), True)


# -- sure


def at_the_edge(kinds: tuple[str, str]) -> Iterator[tuple[float, tuple[str, ...]]]:
    """Readings, and what is sure of them."""
    identifier = Identifier(postcheck.loads(HEAD + lamp("a", kinds[0]) + lamp("b", kinds[1])), "hub")
    for hundredths in range(150, 400):
        (found,) = identifier.told(f"1: {hundredths / 100:.2f}").found
        yield hundredths / 100, found.left if found.sure else ()


# By hand from the sheets in postcheck/catalogue/data/lamp/smd-0603.toml, shifted to what flows at 5 V through 1 kohm.
@pytest.mark.parametrize(
    ("kinds", "bands"),
    [
        (("smd-0603-red", "smd-0603-green"), ((1.67, 2.46), (2.27, 3.43))),
        (("smd-0603-green", "smd-0603-white"), ((2.27, 3.43), (2.46, 3.15))),
    ],
)
def test_nothing_is_sure_at_the_edge_of_a_band(
    kinds: tuple[str, str], bands: tuple[tuple[float, float], tuple[float, float]]
) -> None:
    """Makers measure to 0.1 V and a meter shows 2.46 V as 2.43 to 2.49: what is nearer than both together may be either."""
    sure = dict(at_the_edge(kinds))
    assert any(sure.values())
    for name, (least, most) in zip("ba", bands, strict=True):
        assert [
            volts for volts, left in sure.items() if name in left and least - 0.12 <= volts <= most + 0.12
        ] == []


def test_a_reading_counts_to_its_last_digit(worked: Identifier) -> None:
    """3.6 V may be 3.4 to 3.8 V on a meter that shows tenths."""
    fine, rough = (set(told(worked, f"1: {text}")[0]) for text in ("3.60", "3.6"))
    assert fine < rough


def test_whole_volts_are_nothing_and_all_of_the_setting(worked: Identifier) -> None:
    for whole, written in (("0 / 0", "0.00 / 0.00"), ("5 / 5", "5.00 / 5.00"), ("5 / 0", "5.00 / 0.00")):
        (one,), (other,) = worked.told(f"1: {whole}").found, worked.told(f"1: {written}").found
        assert (one.left, one.fits) == (other.left, other.fits)


def test_a_supply_a_step_low_is_no_fault(worked: Identifier) -> None:
    """Who turns up to 5 V and not above may stop at 4.92: a dark lead shows just that."""
    dark = worked.told("1: 4.92 / 4.92")
    assert (dark.faults, dark.unexplained, dark.found[0].dark) == (0, (), True)


def test_whole_legs_say_nothing_of_the_leds_between_them(worked: Identifier) -> None:
    """A burnt-out LED on sound legs is dark both ways too; what setting B shows tells."""
    (dark,) = worked.told("1: 5 / 5 whole").found
    assert {"bow", "two whites", "three whites"} <= set(dark.left)
    (lit,) = worked.told("1: 5 / 5 whole B 8.21 in tail").found
    assert (lit.left, lit.sure) == (("three whites",), True)
    (dead,) = worked.told("1: 5 / 5 whole B 9.98").found
    assert not dead.sure
    assert {fit.condition for fit in dead.fits} == {"open"}
    legs = Identifier(postcheck.loads(WORKED.replace("red/black", "red/red")), "hub")
    step = legs.told("; ".join(f"{n}: 5 / 5" for n in range(1, 13))).next
    assert step is None or step.step != "whole"


# -- the command


def piped(file: Path, text: str, *more: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "postcheck", "which", str(file), "--at", "hub", *more],
        input=text, capture_output=True, text=True, check=False, cwd=Path(__file__).parents[2],
    )  # fmt: skip


def test_readings_from_a_pipe_are_taken(file: Path) -> None:
    run = piped(file, "1: 2.07 red in nose\n2: 0 / 0\nstop\nnot a reading\n")
    assert run.returncode == 1, run.stderr
    assert "is 'bow', sure" in run.stdout
    assert "Fault" in run.stdout
    assert piped(file, "").returncode == 0
    assert piped(file, "1: fast").returncode == 2
    given = piped(file, "1: 0 / 0", "--readings", "1: 2.07 red in nose")
    assert given.returncode == 0
    assert "'1' (2.07 red in nose)" in given.stdout


def test_a_pipe_that_says_nothing_is_told(file: Path) -> None:
    reader, writer = os.pipe()
    try:
        run = subprocess.run(
            [sys.executable, "-m", "postcheck", "which", str(file), "--at", "hub"],
            stdin=reader, capture_output=True, text=True, check=False, cwd=Path(__file__).parents[2], timeout=60,
        )  # fmt: skip
    finally:
        os.close(reader)
        os.close(writer)
    assert run.returncode == 0
    assert "nothing comes from standard input" in run.stderr
    assert "Setting A" in run.stdout


@pytest.mark.parametrize("end", ["stop\r", "Quit\r", "q\r", "\x04", "\r"])
def test_a_word_or_a_key_ends_it(file: Path, end: str) -> None:
    with typed(file) as terminal:
        terminal.wait_for("an empty line ends")
        terminal.type("1: 2.07 red in nose\r")
        terminal.wait_for("is 'bow', sure")
        terminal.type(end)
        assert terminal.ended() == 0
        assert "Traceback" not in "\n".join(terminal.screen)
        assert "error" not in "\n".join(terminal.screen)


def test_the_last_reading_is_taken_back(file: Path) -> None:
    with typed(file) as terminal:
        terminal.wait_for("an empty line ends")
        terminal.type("1: 0 / 0\r")
        terminal.wait_for("Fault: an")
        terminal.type("back\r")
        terminal.wait_for("1: 0 / 0 is taken out")
        terminal.type("stop\r")
        assert terminal.ended() == 0


def typed(file: Path) -> Terminal:
    return Terminal(
        [sys.executable, "-m", "postcheck", "which", str(file), "--at", "hub"],
        lines=70,
        cwd=Path(__file__).parents[2],
    )


def test_a_run_as_it_is_typed(file: Path) -> None:
    with typed(file) as terminal:
        rows = terminal.wait_for("an empty line ends")
        assert max(map(len, rows)) <= 80
        terminal.type("1: 2.07 red\r")
        terminal.wait_for("'1' (2.07 red): 'bow', 'stern' or 'two reds'")
        terminal.type("1: 2.08\r")
        terminal.wait_for("was read already")
        terminal.type("in nose\r")
        terminal.wait_for("is 'bow', sure")
        terminal.type("2: 0 / 0\r")
        rows = terminal.wait_for("Fault: an")
        assert max(map(len, rows)) <= 80
        terminal.type("\r")
        assert terminal.ended() == 1


@pytest.mark.parametrize("step", range(3))
@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGKILL])
def test_killed_at_any_step_nothing_is_lost(file: Path, step: int, how: signal.Signals) -> None:
    with typed(file) as terminal:
        terminal.wait_for("an empty line ends")
        for number, (line, seen) in enumerate((("1: 2.07 red", "'1' (2.07 red)"), ("2: 4.02", "'2' (4.02)"))):
            if number < step:
                terminal.type(f"{line}\r")
                terminal.wait_for(seen)
        if how == signal.SIGINT:
            terminal.type("\x03")
            assert terminal.ended() == 130
            assert "Next:" in "\n".join(terminal.screen).rpartition("^C")[2]
        else:
            os.kill(terminal.process.pid, how)
            assert terminal.ended() == -signal.SIGKILL


def test_the_sheet_has_it(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheet", str(file), "--part", "which", "-o", "-", "--format", "markdown"]) == 0
    text = capsys.readouterr().out
    assert "| bow | 2.07 V (1.57 to 2.56) |" in text
    assert main(["sheet", str(file), "--part", "which", "-o", "-"]) == 0
    assert "Setting A: 5 V, never above, through 1 kohm" in capsys.readouterr().out


def test_python_gives_a_typed_record() -> None:
    told: Identification = postcheck.which(postcheck.loads(WORKED), "hub", {"1": "2.07 red in nose"})
    assert told.found[0].sure
    assert not told.done
    assert isinstance(told, postcheck.Identification)
