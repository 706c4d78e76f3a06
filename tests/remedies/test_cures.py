"""Every remedy of the faulty builds, typed into the file as an editor would: its finding goes, and nothing new comes."""

from __future__ import annotations

from itertools import accumulate
from pathlib import Path

import pytest

from postcheck.report import SEVERITIES, Edit
from tests.write_expected import FAULTY, found, report

PATHS = sorted(FAULTY.glob("*.post.toml"))
# What a remedy says with a value that a file of 2 pages can be given; of the corpus at least so many.
LEAST_CURED = 220


def typed(text: str, edits: tuple[Edit, ...]) -> str:
    """The text with the edits made, from the last to the first."""
    starts = list(accumulate((len(line) for line in text.splitlines(keepends=True)), initial=0))
    for put in sorted(
        (edit.typed for edit in edits if edit.typed is not None),
        key=lambda put: (-put.line, -put.column),
    ):
        start = starts[put.line - 1] + put.column - 1
        end = starts[put.end_line - 1] + put.end_column - 1
        text = text[:start] + put.text + text[end:]
    return text


def not_cured(path: Path) -> tuple[int, list[str]]:
    """How many remedies of a build can be typed, and what is wrong with those that do not hold."""
    text = path.read_text(encoding="utf-8")
    before = {finding.id: finding for finding in report(path).findings}
    count, wrong = 0, []
    for name, finding in before.items():
        if (
            finding.accepted is not None
            or not finding.edits
            or any(edit.typed is None for edit in finding.edits)
        ):
            continue
        count += 1
        after = found(typed(text, finding.edits), path)
        new = [
            other.id
            for other in after.values()
            if other.severity != "note"
            and (
                other.id not in before
                or SEVERITIES.index(other.severity) < SEVERITIES.index(before[other.id].severity)
            )
        ]
        # of what was more, no more than a note may be left
        left = after[name].severity if name in after else None
        stays = left is not None and (left != "note" or finding.severity == "note")
        if stays or new:
            wrong.append(f"{path.name}: {finding.remedy} leaves {name if stays else new}")
    return count, wrong


def test_what_is_advised_cures() -> None:
    results = [not_cured(path) for path in PATHS]
    assert [line for _, wrong in results for line in wrong] == []
    assert sum(count for count, _ in results) >= LEAST_CURED


def offered(name: str, finding: str) -> str | None:
    """What is advised for a finding of a faulty build."""
    path = FAULTY / f"{name}.post.toml"
    (told,) = (one for one in report(path).findings if one.id == finding)
    return told.remedy


# each a way that the trade would take, with the reason beside it
@pytest.mark.parametrize(
    ("name", "finding", "says"),
    [
        # 4 x 3.2 V on 12 V: two and two, (12 - 6.4) V / 16 mA = 350 ohm, the next of E24 is 360, as the dice warm 390
        ("lamp-dim-caution", "lamp.dim:gallery", "Put 2 in series, in 2 strings, each with 390 ohm."),
        ("lamp-sibling-open", "lamp.over-rating:hall strings", "Set the output of 'halls' to 20 mA"),
        ("lead-bare-strings", "lamp.shared-resistor:stern lamp", "Give each string its own 2.2 kohm beside it."),
        ("wire-hot", "wire.hot:feed", "Use enamel-0.40 for 'feed' and 'negative'."),
        ("strip-wrong-volts-weak", "strip.wrong-volts:deck light", "Use an adaptor of 12 V."),
        # two pins of it are overloaded, and both are named
        ("plug-overload", "plug.overload:foot plug", "share 'lights' and 'main-' between 2 pins each"),
        ("dim-frequency-seen", "dim.frequency:cabin", "Dim at 1.25 kHz or faster."),
        # 18 mA is beyond any coin cell: two AAA have its 3 V
        ("battery-overload", "battery.overload:main", "Use 2 alkaline AAA cells"),
        # (12 - 5) V / 12 V of what flows is heat in a linear one
        ("place-too-hot-linear-regulator", "place.too-hot:hull", "Use a switching converter for 'logic'"),
        # 3 x 2.7 V on 12 V at the 11.5 mA of the others: 3.9 V / 11.5 mA = 339 ohm, above it 360; the dice take less volts then
        ("lamp-unequal-whites", "lamp.unequal:bow lights", "Use 390 ohm instead of 270 ohm for 'stern lights'"),
        # a slow fuse of 400 mA lets 912 mA pass for long enough, and a lead of 0.1 mm does not outlast it
        ("fuse-opens-at-start", "fuse.opens-at-start:main", "Fit a slow fuse of 400 mA: it lets the motor start. Use"),
        # 300 mm of way and 15 mm at each end
        ("passage-run-short-flush", "passage.run-short:feed", "Take a conductor of 330 mm or more"),
    ],
)  # fmt: skip
def test_the_trade_would_do_the_same(name: str, finding: str, says: str) -> None:
    assert says in (offered(name, finding) or "")
