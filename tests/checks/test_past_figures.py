"""What a destroyed lamp leaves its neighbours: ratings by the room's air, and null where nothing has a meaning."""

from __future__ import annotations

from pathlib import Path

import pytest

import postcheck
from postcheck.report import FileReport

STARTER = (Path(postcheck.__file__).parent / "description" / "starter.toml").read_text(encoding="utf-8")
_CABIN = 'series   = 3\nresistor = "390 ohm at hub"'
# a sealed lamp on the flasher, beside the one that burns
_BESIDE = """
[[lamp]]
name     = "wheelhouse strobe"
circuit  = "signal"
kind     = "smd-0603-white"
place    = "wheelhouse"
resistor = "680 ohm 1/4 W at hub"
lead     = "150 mm to hub, yellow/black"
"""


# and one in a place of its own
_APART = """
[place.locker]
access   = "sealed"
material = "styrene"
surface  = "60 cm2"
[[lamp]]
name     = "locker lamp"
circuit  = "signal"
kind     = "smd-0603-white"
place    = "locker"
resistor = "680 ohm 1/4 W"
lead     = "150 mm to hub, yellow/black"
"""


def judged(resistor: str = "", more: str = _BESIDE) -> FileReport:
    assert _CABIN in STARTER
    text = STARTER.replace(_CABIN, f"series   = 3\n{resistor}", 1)
    return postcheck.check(postcheck.loads(text + more)).files[0]


def test_what_lies_beside_a_destroyed_lamp_is_rated_by_the_air_of_the_room() -> None:
    told = judged()
    assert {"lamp.no-resistor"} <= {finding.check for finding in told.findings}
    assert not any(finding.subject.name == "wheelhouse strobe" for finding in told.findings)
    lamps, alone = told.figures["lamps"], judged('resistor = "390 ohm at hub"').figures["lamps"]
    assert lamps["wheelhouse strobe"]["nominal"] == pytest.approx(
        alone["wheelhouse strobe"]["nominal"], rel=0.02
    )
    assert lamps["wheelhouse strobe"]["air"] is None


def test_at_volts_that_destroy_all_each_has_the_rating_of_its_sheet() -> None:
    text = (STARTER + _BESIDE).replace('= "12 V"', '= "55 V"', 1)
    rated = {
        finding.subject.name: finding.figures["rated"].value
        for finding in postcheck.check(postcheck.loads(text)).files[0].findings
        if finding.check in ("lamp.over-rating", "lamp.strobe") and "rated" in finding.figures
    }
    assert rated["wheelhouse strobe"] == pytest.approx(0.020)


def test_all_that_carries_the_current_of_a_destroyed_lamp_is_null() -> None:
    figures = judged(more=_BESIDE + _APART).figures
    assert figures["lamps"]["cabin lamps"].get("fate") == "destroyed"
    rows = (
        figures["supplies"]["main"],
        figures["circuits"]["running"],
        *(row for name, row in figures["runs"].items() if name.startswith(("running", "main-"))),
        figures["places"]["wheelhouse"],
    )
    assert len(rows) >= 5
    for row in rows:
        assert row.get("fate") == "lamp destroyed"
        assert all(not isinstance(value, float) for name, value in row.items() if name != "rated"), row
    assert "fate" not in figures["places"]["locker"]
    assert figures["places"]["locker"]["heat"] > 0.0  # type: ignore[operator]
    assert figures["lamps"]["locker lamp"]["air"] is not None
    assert "fate" not in figures["circuits"]["signal"]
    assert isinstance(figures["circuits"]["signal"]["nominal"], float)
    subjects = {(margin["kind"], margin["subject"]) for margin in figures["margins"].values()}
    assert not subjects & {("supply", "main"), ("circuit", "running"), ("place", "wheelhouse"), ("lamp", "cabin lamps")}  # fmt: skip
    sound = judged('resistor = "390 ohm at hub"', _BESIDE + _APART).figures
    assert "supply.overload" in sound["margins"]
    assert sound["circuits"].keys() == figures["circuits"].keys()
    assert figures["supplies"]["main"].keys() == {*sound["supplies"]["main"].keys(), "fate"}


def test_joined_poles_leave_no_figure_of_what_they_feed() -> None:
    joined = '[[join]]\nplace = "hub"\nlines = ["main+", "main-"]\n'
    text = STARTER.replace('line   = "running"', 'line   = "main+"', 1) + joined
    figures = postcheck.check(postcheck.loads(text)).files[0].figures
    for section in ("lamps", "supplies", "circuits"):
        rows = figures[section]
        assert rows
        for row in rows.values():
            assert row.get("fate") == "poles joined"
            assert row["nominal"] is None


_PUSHED = Path(__file__).parents[1] / "builds" / "faulty" / "supply-backfeed-unfused.post.toml"


@pytest.mark.parametrize(
    ("says", "keeps_up"),
    [
        # 41.7 A by volts and wire alone; a supply whose limit is not stated gives twice its rating at most
        ('rated = "30 A"', True),
        ('rated = "20 A"', False),
        # an IEC fuse is open within half an hour at 2.1 times its rating
        ('rated = "30 A"\nfuse = "20 A"', True),
        ('rated = "30 A"\nfuse = "16 A"', False),
        ('rated = "20 A"\ncurrent_limit = "42 A"', True),
        ('rated = "20 A"\ncurrent_limit = "41 A"', False),
    ],
)
def test_what_a_supply_does_not_keep_up_is_no_load_of_it(says: str, keeps_up: bool) -> None:
    text = _PUSHED.read_text(encoding="utf-8").replace('rated = "1 A"', says)
    told = postcheck.check(postcheck.loads(text), remedies=False).files[0]
    by_check = {finding.check: finding for finding in told.findings}
    assert by_check["supply.backfeed"].figures["reverse"].value == pytest.approx(41.7, rel=0.01)
    assert by_check["supply.backfeed"].says.startswith("Up to") is keeps_up
    assert ("wire.hot" in by_check) is keeps_up
    assert ("place.too-hot" in by_check) is keeps_up
    row = told.figures["supplies"]["main"]
    assert row.get("fate") == (None if keeps_up else "supplies joined")
    assert (row["highest"] is not None) is keeps_up
    assert (told.figures["places"]["hub"]["heat"] > 1.0) is keeps_up  # type: ignore[operator]
