"""Another battery: whichever of its remedies is followed, all that was found of it goes."""

from __future__ import annotations

from pathlib import Path

import pytest

import postcheck
from postcheck.report import Finding
from tests.remedies.test_proven import edited

SOUND = Path(__file__).parent.parent / "builds" / "sound" / "coin-cell-behind-a-screw.post.toml"


def on_a_coin(kind: str, ohms: int, hours: int, more: str = "") -> str:
    text = SOUND.read_text(encoding="utf-8").replace('wanted = "1.7 mA"\n', "")
    text = text.replace("smd-0603-red", kind).replace("620 ohm", f"{ohms} ohm")
    wanted = f'runs_for = "{hours} h"\n' if hours else ""
    return text.replace("cells = 1\n", f"cells = 1\n{wanted}{more}")


def found(text: str) -> dict[str, Finding]:
    return {finding.id: finding for finding in postcheck.check(postcheck.loads(text)).files[0].findings}


@pytest.mark.parametrize(
    ("kind", "ohms", "hours", "checks", "says"),
    [
        # a white of some 3 V fades on two AAA: three of them, with the resistor for 1.5 V more
        ("led-3mm-white", 47, 40, {"battery.dim-early", "battery.overload"}, "Use 3 alkaline AAA cells instead, with"),
        ("led-3mm-red", 47, 20, {"battery.too-short", "battery.overload"}, "Use 2 alkaline AAA cells instead."),
        ("led-3mm-red", 47, 40, {"battery.too-short", "battery.overload"}, "Use 2 alkaline AA cells instead."),
        ("led-3mm-red", 47, 0, {"battery.overload"}, "Use 2 alkaline AAA cells instead."),
    ],
)  # fmt: skip
def test_all_findings_of_a_coin_cell_have_one_remedy_and_it_serves_all(
    kind: str, ohms: int, hours: int, checks: set[str], says: str
) -> None:
    text = on_a_coin(kind, ohms, hours)
    before = {name: one for name, one in found(text).items() if one.severity != "note"}
    assert {one.check for one in before.values()} == checks
    assert {one.remedy for one in before.values()} == {next(iter(before.values())).remedy}
    for finding in before.values():
        assert (finding.remedy or "").startswith(says)
        assert finding.because_of is None
        assert not found(edited(text, finding.edits or ()))


def test_where_no_cells_serve_all_none_are_named() -> None:
    """2.3 Ah are more than two AAA hold, though these carry the load."""
    before = found(on_a_coin("led-3mm-red", 47, 100))
    assert set(before) == {"battery.too-short:main", "battery.overload:main"}
    assert not any("AA" in (one.remedy or "") for one in before.values())


def test_what_was_measured_of_the_old_cells_goes_with_them() -> None:
    more = 'capacity = "200 mAh"\nresistance = "20 ohm"\nrated = "2 mA"\n'
    before = found(on_a_coin("led-3mm-red", 220, 0, more))["battery.overload:main"]
    assert {edit.path[-1] for edit in before.edits or () if edit.value is None} == {
        "capacity",
        "resistance",
        "rated",
    }


def test_a_bare_lamp_gets_its_resistor_with_the_cells_that_would_destroy_it() -> None:
    """Three AAA give 4.5 V: a blue of 3.2 V is left 1.3 V, and takes some 13 mA through 100 ohm."""
    path = SOUND.parent.parent / "faulty" / "lamp-no-resistor-coin-cell.post.toml"
    finding = found(path.read_text(encoding="utf-8"))["battery.overload:main"]
    assert "3 alkaline AAA cells" in (finding.remedy or "")
    assert "100 ohm" in (finding.remedy or "")
    assert "quick fuse" in (finding.remedy or "")


@pytest.mark.parametrize("kind", ["led-3mm-red", "led-3mm-white", "led-3mm-yellow"])
@pytest.mark.parametrize("ohms", [10, 47, 220])
@pytest.mark.parametrize("hours", [0, 20, 100])
def test_followed_one_after_the_other_none_undoes_another(kind: str, ohms: int, hours: int) -> None:
    text = on_a_coin(kind, ohms, hours)
    before = found(text)
    for finding in before.values():
        if finding.edits and finding.severity != "note":
            after = found(edited(text, finding.edits))
            assert finding.id not in after
            assert {name for name, one in after.items() if one.severity != "note"} <= before.keys()
    whole = text
    for finding in before.values():
        if finding.edits and finding.severity != "note":
            whole = edited(whole, finding.edits)
    cured = {name for name, one in before.items() if one.edits and one.severity != "note"}
    assert not cured & found(whole).keys()


def test_no_cells_are_offered_with_which_a_lamp_burns_that_is_over_its_rating_already() -> None:
    """Through 10 ohm a coin cell's own 15 ohm keep a red to 40 mA; two AAA would give it 92 mA."""
    text = on_a_coin("led-3mm-red", 10, 5)
    for finding in found(text).values():
        if finding.edits:
            after = postcheck.check(postcheck.loads(edited(text, finding.edits))).files[0]
            assert after.figures["lamps"]["cabin lamp"]["nominal"] < 1.25 * 0.0401
