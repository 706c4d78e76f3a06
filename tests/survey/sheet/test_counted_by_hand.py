"""The cut list and the list of what is needed, of the three example builds, against what was counted by hand.

Each length to cut is the sum of what the file says, of the joint at either end (5 mm), and of two new ends of 5 mm each
where a hand gets at the joint later. So a lead of which one end stays in the model takes 5 + 15 mm more, and a run from
one place in reach to another 15 + 15 mm. All then goes up to the next whole centimetre. Of wire a tenth more is bought,
up to the next tenth of a metre.
"""

from __future__ import annotations

from pathlib import Path

import pytest

import postcheck
from postcheck.materials import Materials

EXAMPLES = Path(__file__).parents[3] / "example_builds"

# wire, colour, flag, how many, mm; in the order in which they are cut
_AIRSHIP_CUT = [
    *[("enamel-0.10", colour, "", 1, 360) for colour in ("yellow", "black")],  # nose lamp, 340 + 5 + 15
    *[("enamel-0.10", colour, "beacon", 1, 330) for colour in ("orange", "brown")],  # tail beacon, 310 + 20
    *[("enamel-0.10", colour, "", 1, 330) for colour in ("blue", "black")],  # tail strobe, 310 + 20
    *[("enamel-0.10", colour, "", 1, 240) for colour in ("red", "black")],  # port running lamp, 220 + 20
    *[("enamel-0.10", colour, "", 1, 240) for colour in ("green", "black")],  # starboard running lamp
    ("enamel-0.10", "white", "", 2, 200),  # car windows, 180 + 20: two strings have a feed each,
    ("enamel-0.10", "black", "", 1, 200),  # and share what goes back
    *[
        ("ptfe-28", colour, "", 1, 290) for colour in ("white", "green", "yellow", "black", "grey")
    ],  # 260 + 30
]
_AIRSHIP_NEEDED = {
    # each the sum of its pieces, a tenth more, up to the next tenth of a metre
    ("wire", "enamel-0.10", "yellow"): 0.4,  # 360 -> 396 mm
    ("wire", "enamel-0.10", "black"): 1.6,  # 360 + 330 + 240 + 240 + 200 = 1370 -> 1507 mm
    ("wire", "enamel-0.10", "orange"): 0.4,  # 330 -> 363 mm
    ("wire", "enamel-0.10", "brown"): 0.4,
    ("wire", "enamel-0.10", "blue"): 0.4,
    ("wire", "enamel-0.10", "red"): 0.3,  # 240 -> 264 mm
    ("wire", "enamel-0.10", "green"): 0.3,
    ("wire", "enamel-0.10", "white"): 0.5,  # 2 x 200 = 400 -> 440 mm
    **{
        ("wire", "ptfe-28", colour): 0.4 for colour in ("white", "green", "yellow", "black", "grey")
    },  # 290 -> 319 mm
    ("resistor", "390 ohm 1/4 W 5 %", ""): 2,  # one for each string of the car windows
    ("resistor", "680 ohm 1/4 W 5 %", ""): 1,
    ("resistor", "1 kohm 1/4 W 5 %", ""): 2,  # nose lamp, tail beacon
    ("resistor", "1.5 kohm 1/4 W 5 %", ""): 2,
    ("lamp", "smd-0402-red", ""): 1,
    ("lamp", "smd-0402-green", ""): 1,
    ("lamp", "smd-0603-warm-white", ""): 6,  # 3 in series, 2 strings
    ("lamp", "smd-0603-white", ""): 2,  # nose lamp, tail strobe
    ("lamp", "smd-0603-red", ""): 1,
    ("sleeve", "1.2 mm", ""): 1,  # the joint of main- at the keel; see below
    ("sleeve", "2.4 mm", ""): 1,  # the joint of running there
    ("sleeve", "3.2 mm", ""): 7,  # one over each resistor: 2.5 mm, and a fifth more to slip it on
    ("fuse", "500 mA", ""): 1,
    ("supply", "adaptor 12 V, 1 A", ""): 1,
    ("board", "flasher", ""): 1,
}
# Sleeves over joints. At the keel one ptfe-28 (0.74 mm) meets six legs of enamel-0.10 (0.117 mm; port, starboard, windows,
# nose, beacon, strobe): more than 0.74 + 0.117 = 0.857 mm and less than 0.74 + 2 x 0.117 = 0.974 mm across. A fifth more is
# 1.03 to 1.17 mm: the sleeve of 1.2 mm goes over. On running it meets the legs of five resistors (port, starboard, two of the
# windows, nose), 0.6 mm each: by their areas more than 1.53 mm, and with the five around the wire less than 0.74 + 2 x 0.6 =
# 1.94 mm; a fifth more is 1.84 to 2.33 mm: the sleeve of 2.4 mm. A joint of
# two conductors with a resistor between them (beacon, strobe) lies under the sleeve of the resistor.

_SUBMERSIBLE_CUT = [
    ("enamel-0.125", "yellow", "search", 2, 140),  # search lamps, 120 + 20: two strings, the return shared
    ("enamel-0.125", "brown", "search", 1, 140),
    *[("enamel-0.125", colour, "", 1, 110) for colour in ("white", "black")],  # mast lamp, 90 + 20
    *[("enamel-0.125", colour, "", 1, 100) for colour in ("red", "black")],  # port side lamp, 80 + 20
    *[("enamel-0.125", colour, "", 1, 100) for colour in ("green", "black")],
    *[("fep-28", colour, "", 1, 270) for colour in ("white", "yellow", "black", "red", "blue")],  # 240 + 30
]
_SUBMERSIBLE_NEEDED = {
    ("wire", "enamel-0.125", "yellow"): 0.4,  # 280 -> 308 mm
    ("wire", "enamel-0.125", "brown"): 0.2,  # 140 -> 154 mm
    ("wire", "enamel-0.125", "white"): 0.2,  # 110 -> 121 mm
    ("wire", "enamel-0.125", "black"): 0.4,  # 110 + 100 + 100 = 310 -> 341 mm
    ("wire", "enamel-0.125", "red"): 0.2,  # 100 -> 110 mm
    ("wire", "enamel-0.125", "green"): 0.2,
    **{("wire", "fep-28", colour): 0.3 for colour in ("white", "yellow", "black", "red", "blue")},  # 297 mm
    ("resistor", "150 ohm 1/8 W 5 %", ""): 2,
    ("resistor", "220 ohm 1/8 W 5 %", ""): 1,
    ("resistor", "270 ohm 1/8 W 5 %", ""): 1,
    ("resistor", "390 ohm 1/8 W 5 %", ""): 1,
    ("lamp", "smd-0603-white", ""): 1,
    ("lamp", "smd-0603-red", ""): 1,
    ("lamp", "smd-0603-green", ""): 1,
    ("lamp", "led-3mm-white", ""): 2,
    ("load", "bilge pump, a motor", ""): 1,
    # in the hull meet four legs (lamps-) of 0.144 mm, 0.35 mm across; three legs of resistors (navigation) of 0.6 mm, 2.155 x
    # 0.6 = 1.29 mm, and two (search), 1.2 mm: a fifth more is 1.55 and 1.44 mm
    ("sleeve", "1.2 mm", ""): 1,
    ("sleeve", "1.6 mm", ""): 2,
    ("sleeve", "2.4 mm", ""): 5,  # over resistors of 1/8 W: 1.9 mm, and a fifth more
    ("plug", "5 pins, 1 A", ""): 1,
    ("fuse", "315 mA", ""): 1,
    ("fuse", "500 mA", ""): 1,
    ("supply", "usb 500 mA", ""): 1,
    ("supply", "battery of 4 nimh cells, aa", ""): 1,
}

_TENDER_CUT = [
    *[("enamel-0.10", colour, "", 1, 170) for colour in ("red", "black")],  # cabin lamps, 150 + 20
    *[("ptfe-28", colour, "", 1, 230) for colour in ("red", "black")],  # 200 + 30
]
_TENDER_NEEDED = {
    ("wire", "enamel-0.10", "red"): 0.2,  # 170 -> 187 mm
    ("wire", "enamel-0.10", "black"): 0.2,
    ("wire", "ptfe-28", "red"): 0.3,  # 230 -> 253 mm
    ("wire", "ptfe-28", "black"): 0.3,
    ("resistor", "390 ohm 1/4 W 5 %", ""): 1,
    ("lamp", "smd-0603-warm-white", ""): 3,
    ("sleeve", "1.2 mm", ""): 1,  # main- at the hub: 0.74 + 0.117 = 0.857 mm, a fifth more 1.03 mm
    ("sleeve", "3.2 mm", ""): 1,
    ("fuse", "250 mA", ""): 1,
    ("supply", "adaptor 12 V, 500 mA", ""): 1,
}

_COUNTED = {
    "mail_airship": (_AIRSHIP_CUT, _AIRSHIP_NEEDED),
    "survey_submersible": (_SUBMERSIBLE_CUT, _SUBMERSIBLE_NEEDED),
    "tender": (_TENDER_CUT, _TENDER_NEEDED),
}

# what each size goes over, as worked out beside the counts: (place, line) of a joint, or the resistors' power
_OVER = {
    "mail_airship": {
        "1.2 mm": [("keel", "main-", "", 1, False)],
        "2.4 mm": [("keel", "running", "", 1, False)],
        "3.2 mm": [("", "", "1/4 W", 7, False)],
    },
    "survey_submersible": {
        "1.2 mm": [("hull", "lamps-", "", 1, True)],  # down to 0.6 mm, and the joint is 0.35 mm across
        "1.6 mm": [("hull", "navigation", "", 1, False), ("hull", "search", "", 1, False)],
        "2.4 mm": [("", "", "1/8 W", 5, False)],
    },
    "tender": {"1.2 mm": [("hub", "main-", "", 1, False)], "3.2 mm": [("", "", "1/4 W", 1, False)]},
}


def _listed(name: str) -> Materials:
    return postcheck.parts_list(postcheck.load(EXAMPLES / f"{name}.post.toml"))


@pytest.mark.parametrize("name", _COUNTED)
def test_what_is_cut(name: str) -> None:
    pieces = _listed(name).pieces
    assert [one.number for one in pieces] == list(range(1, len(pieces) + 1))
    found = [
        (one.wire, one.colour, one.label, one.count, round((one.length or 0.0) * 1e3, 6)) for one in pieces
    ]
    by_length = [(row[0], -row[4]) for row in found]
    assert by_length == sorted(by_length)
    assert sorted(found) == sorted(_COUNTED[name][0])


@pytest.mark.parametrize("name", _COUNTED)
def test_what_is_needed(name: str) -> None:
    items = _listed(name).items
    found = {(one.kind, one.what, one.colour): round(one.needed, 6) for one in items}
    assert found == _COUNTED[name][1]
    assert len(found) == len(items)
    assert all(one.buy == one.needed and one.have == 0 for one in items)


@pytest.mark.parametrize("name", _COUNTED)
def test_which_joint_each_sleeve_is_for(name: str) -> None:
    sleeves = [one for one in _listed(name).items if one.kind == "sleeve"]
    found = {
        one.what: [(over.place, over.line, over.power, over.count, over.loose) for over in one.over]
        for one in sleeves
    }
    assert found == _OVER[name]
    assert all(sum(over.count for over in one.over) == one.needed for one in sleeves)
