"""What a first build is told: how lamps side by side are asked about, no figures beyond what is destroyed, one note a place."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import postcheck
from postcheck.report import FileReport

STARTER = (Path(postcheck.__file__).parent / "description" / "starter.toml").read_text(encoding="utf-8")


def judged(*changes: tuple[str, str], more: str = "") -> FileReport:
    text = STARTER
    for right, wrong in changes:
        assert right in text
        text = text.replace(right, wrong, 1)
    return postcheck.check(postcheck.loads(text + more)).files[0]


# -- strings side by side

_PARALLEL = ("series   = 3", "parallel = 3")


def test_strings_side_by_side_are_asked_about_in_the_words_of_the_bench() -> None:
    (asked,) = (one for one in judged(_PARALLEL).not_judged if "strings" in one.what)
    assert "parallel = 3: side by side, each with a resistor of its own" in asked.what
    assert asked.under == ("lamp", 2)
    assert [line.split("  #")[0] for line in asked.lines] == [
        'strings_share = "nothing"', '# strings_share = "return"', '# strings_share = "lead"', "# one_resistor = true",
    ]  # fmt: skip


@pytest.mark.parametrize("chosen", [(0,), (1,), (2, 3)])
def test_each_answer_that_is_offered_answers_it(chosen: tuple[int, ...]) -> None:
    (asked,) = (one for one in judged(_PARALLEL).not_judged if "strings" in one.what)
    typed = "\n".join(asked.lines[number].removeprefix("# ") for number in chosen)
    again = judged((_PARALLEL[0], f"{_PARALLEL[1]}\n{typed}"))
    assert not any("strings" in one.what for one in again.not_judged)


# -- beyond what is destroyed

_BARE = ('resistor = "1k5 at hub"\n', "")
_AMPS_WATTS_DEGREES = re.compile(r"[0-9.]+ (?:A|kA|W|kW|degC|K|h)\b")


@pytest.mark.parametrize("resistor", ["", 'resistor = "1 ohm"\n', 'resistor = "0 ohm"\n'])
def test_what_follows_from_a_destroyed_lamp_has_no_figures(resistor: str) -> None:
    told = judged((_BARE[0], resistor))
    own = [finding for finding in told.findings if finding.subject.name == "port running lamp"]
    assert any("burns out" in finding.says for finding in own)
    others = [finding for finding in told.findings if finding not in own]
    assert {"fuse.too-small", "place.too-hot", "supply.overload"} <= {finding.check for finding in others}
    for finding in others:
        assert not _AMPS_WATTS_DEGREES.search(finding.says), finding.says
        if "No figure" in finding.says:
            assert "'port running lamp' is destroyed at once" in finding.says
            assert finding.figures == {}
    assert told.figures["supplies"]["main"]["headroom"] is None
    assert told.figures["supplies"]["main"].get("fate") == "lamp destroyed"
    assert told.figures["places"]["wheelhouse"] == {
        "heat": None,
        "rise": None,
        "air": None,
        "fate": "lamp destroyed",
    }


def test_the_screen_shows_no_load_of_a_destroyed_lamp() -> None:
    from postcheck.renderers.terminal import render  # noqa: PLC0415

    report = postcheck.check(postcheck.loads(STARTER.replace(_BARE[0], "", 1)))
    shown = render(report, width=100)
    assert "no load is given, for a lamp on it is destroyed at once" in shown
    assert "too much" not in shown
    assert "above the air" not in shown


def test_a_lamp_with_too_much_that_lives_keeps_its_figures() -> None:
    told = judged(("1k5 at hub", "220 ohm at hub"))
    assert all("fate" not in row for row in told.figures["supplies"].values())
    assert any(_AMPS_WATTS_DEGREES.search(finding.says) for finding in told.findings)


# -- a lead that goes where nothing comes


def test_a_lead_to_a_place_that_nothing_comes_to_is_told_at_the_lead() -> None:
    changed = ("180 mm to hub, red/black", "180 mm to mast, red/black")
    told = judged(changed)
    (bare,) = (finding for finding in told.findings if finding.check == "lead.bare")
    assert bare.where is not None
    assert bare.where.line == STARTER[: STARTER.index(changed[0])].count("\n") + 1
    unlaid = [one for one in told.not_judged if "nothing carries it there yet" in one.what]
    assert unlaid
    for one in unlaid:
        assert one.lines[0].startswith(
            "# unless the lead of 'port running lamp' goes to \"hub\", as others do"
        )


# -- colours that are hard to tell


def test_colours_alike_in_poor_light_are_one_note_a_place() -> None:
    pairs = [
        "red/brown",
        "orange/black",
        "pink/blue",
        "grey/violet",
        "white/yellow",
        "brown/black",
        "blue/grey",
        "green/turquoise",
    ]
    more = "".join(
        f'[[lamp]]\nname = "extra {number}"\ncircuit = "running"\nkind = "smd-0603-red"\nplace = "mast"\n'
        f'resistor = "1k5 at hub"\nlead = "100 mm to hub, {colours}"\n'
        for number, colours in enumerate(pairs)
    )
    notes = [finding for finding in judged(more=more).findings if finding.check == "ends.poor-light"]
    assert len({finding.subject.name for finding in notes}) == len(notes)
    assert all(len(finding.says) < 330 for finding in notes)


# -- a steady lamp on what flashes


def test_a_lamp_that_says_it_is_steady_is_caught_on_a_flasher() -> None:
    lamp = 'circuit  = "running"\nkind     = "smd-0603-red"'
    wrong = 'circuit  = "signal"\nbehaviour = "steady"\nkind     = "smd-0603-red"'
    (found,) = judged((lamp, wrong)).findings
    assert (
        found.says == "'port running lamp' is to shine steadily. It is connected to 'signal', which flashes."
    )
    assert found.remedy == "Connect it to 'running', which is steady."
    assert judged((lamp, wrong.replace("signal", "running"))).verdict == "clear"


def test_a_dead_short_has_no_load() -> None:
    joined = '[[join]]\nplace = "hub"\nlines = ["main+", "main-"]\n'
    lines = 'line   = "running"'
    told = judged((lines, 'line   = "main+"'), more=joined)
    assert told.findings[0].check == "supply.conflict"
    assert told.figures["supplies"]["main"]["headroom"] is None
    assert told.figures["supplies"]["main"].get("fate") == "poles joined"
    for finding in told.findings:
        if finding.check in ("supply.overload", "fuse.too-small", "wire.hot"):
            assert finding.says.endswith("No figure is given, for the poles of 'main' are joined.")
