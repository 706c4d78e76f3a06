"""Builds written from the README and the trade alone, each with what must be said of it worked out by hand at its top.

`danger-`: somebody is hurt, something burns, is above its rating or has to be cut open again. `sound-`: mostly the nearest
neighbour of one of these, and has to be clear. The expectation at the top of a file was written before its first run and
is not changed to suit; where the tool says less, it stands below with the reason.
"""

from __future__ import annotations

from pathlib import Path

import pytest

import postcheck

BUILDS = sorted(Path(__file__).parent.glob("*/*.post.toml"))
WEIGHT = {"clear": 0, "incomplete": 1, "caution-or-more": 2, "caution": 2, "stop": 3, "unreadable": 3}

LESS = {
    "fire/danger-03": "the fuse's own heat until it melts counts between two gates of its standard, not the slower gate alone",
    "fire/danger-07": "what the resettable fuse does is asked for: its maker's figures are not in the file",
    "fire/danger-34": "a coin cell's own resistance keeps it from getting hot: a caution",
    "fire/danger-52": "a changed limit is asked about as vital, and the finding it hides is named",
    "fire/danger-63": "as 52",
    "fire/danger-64": "as 52",
    "fire/danger-75": "how hot the stalled motor gets is asked, with its case's surface; in the open that is not vital",
    "fire/danger-77": "a note: whether the pack is charged where it sits the file cannot say",
    "fire/danger-79": "a crushed lead that puts all volts on its resistor is not judged: nearly every build would have it",
    "fire/danger-80": "as 52",
    "fire/danger-81": "as 52",
    "fire/danger-86": "what the motor takes while it is held fast is asked for, as vital",
    "electrics/danger-20": "which leg is meant is asked for, as vital",
    "electrics/danger-22": "as fire/danger-34",
    "electrics/danger-33": "the caution is there, beside a vital question about the winch",
    "electrics/danger-55": "the author's error: nothing is harmed, and a note says so",
    "electrics/danger-61": "the caution is there, beside a vital question about the winch",
    "electrics/danger-63": "white beside warm white of another package and colour: nobody takes them for a pair",
}  # fmt: skip
"""Where less is said than was expected, and why."""


def named(path: Path) -> str:
    """As in fire/danger-03."""
    return f"{path.parent.name}/{'-'.join(path.name.split('-')[:2])}"


def verdict(path: Path) -> str:
    try:
        return postcheck.check(postcheck.load(path), remedies=False).files[0].verdict
    except postcheck.BuildError:
        return "unreadable"


def expected(path: Path) -> str:
    first = path.read_text(encoding="utf-8").splitlines()[0]
    return first.removeprefix("# expected:").split()[0]


@pytest.mark.parametrize("path", BUILDS, ids=named)
def test_as_much_is_said_as_was_worked_out_by_hand(path: Path) -> None:
    wanted, found = expected(path), verdict(path)
    if wanted == "clear":
        assert found == "clear"
    elif named(path) in LESS:
        assert WEIGHT[found] < WEIGHT[wanted]
    else:
        assert WEIGHT[found] >= WEIGHT[wanted]


def test_there_are_enough_of_both() -> None:
    dangerous = [path for path in BUILDS if path.name.startswith("danger-")]
    assert len(dangerous) >= 120
    assert len(BUILDS) - len(dangerous) >= 120
    assert set(LESS) <= {named(path) for path in dangerous}
