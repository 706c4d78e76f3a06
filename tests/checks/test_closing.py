"""What findings of closing say, and that names from the file stay harmless in them."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest
import tomli

import postcheck
from postcheck.checks import closing, measured, test_records
from postcheck.description.problems import BuildError
from postcheck.description.subjects import subjects
from postcheck.renderers import json_renderer, plain_text, terminal
from postcheck.report import FileReport, Finding
from postcheck.survey import Survey
from tests.renderers.hostile import FORBIDDEN, NAMES
from tests.survey.small import TEXT, adaptor, lamp, survey
from tests.survey.test_closing import BOW_RUNS
from tests.survey.test_test_records import record

from .run import run

DAY = date(2026, 11, 25)


def report(text: str, *places: str, stage: str | None = None) -> FileReport:
    return postcheck.check(postcheck.loads(text), closing=places, stage=stage, today=DAY).files[0]


def build(extra: str = "", lamps: str | None = None) -> str:
    return TEXT.format(
        supply=adaptor(), post='bore = "5 mm"\nlength = "160 mm"', hull='access = "cover"\nsurface = "80 cm2"',
        lamps=lamp() if lamps is None else lamps, circuit="", wire="ptfe-28", air="5..35 degC", extra=extra,
    ).replace('[place.bow]\n', '[place.bow]\nsurface = "40 cm2"\n')  # fmt: skip


PROVEN = record(subject='"bow lamp"', volts='"12 V"', current='"6.6 mA"', hours='"24 h"', date="2026-11-20")


def test_a_place_is_refused_until_all_in_it_is_proven() -> None:
    before = report(build(), "bow")
    assert (before.verdict, [finding.id for finding in before.findings]) == ("stop", ["closing.unproven:bow"])
    assert before.figures["closing"]["bow"]["proven"] == 0
    after = report(build(PROVEN), "bow")
    assert (after.verdict, after.findings) == ("clear", ())
    assert after.figures["closing"]["bow"]["needed"] == after.figures["closing"]["bow"]["proven"] == 2
    assert "closing" not in report(build(PROVEN)).figures


def test_the_lines_to_add_are_a_proof_once_the_readings_are_filled_in() -> None:
    (finding,) = report(build(BOW_RUNS, lamp().replace('lead = "120 mm to hull"', "")), "bow").findings
    asked = tomli.loads("\n".join(finding.lines))["proof"]
    assert [entry["subject"] for entry in asked] == ["lights"]  # of its joint, and the lamp shows in it
    lines = "\n".join(finding.lines).replace('"..."', '"6.6 mA"')
    straight = lamp().replace('lead = "120 mm to hull"', "")
    assert report(build(BOW_RUNS + lines, straight), "bow").verdict == "clear"


def test_a_short_run_is_a_caution_that_has_to_be_mended_or_accepted() -> None:
    hour = PROVEN.replace("24 h", "1 h")
    found = report(build(hour), "bow")
    assert [finding.id for finding in found.findings] == [
        "closing.open:Harbour tender",
        "closing.short-run:bow",
    ]
    accepted = '[[accept]]\nfinding = "closing.short-run:bow"\nreason = "to be lit for minutes only"\n'
    assert report(build(hour + accepted), "bow").verdict == "clear"
    limit = '[[limit]]\nname = "closing.run"\nvalue = "1 h"\nreason = "to be lit for minutes only"\n'
    assert report(build(hour + limit), "bow").findings == ()


def test_open_cautions_are_accepted_one_by_one() -> None:
    every = '[[accept]]\nfinding = "closing.open:Harbour tender"\nreason = "all of them"\n'
    found = report(build(PROVEN.replace("24 h", "1 h") + every), "bow")
    assert {finding.id: finding.severity for finding in found.findings if finding.accepted is None} == {
        "closing.open:Harbour tender": "stop", "closing.short-run:bow": "caution",
        "accept.refused:closing.open:Harbour tender": "note",
    }  # fmt: skip


def test_what_cannot_be_tested_is_accepted_one_by_one_and_never_wholesale() -> None:
    def accept(name: str) -> str:
        return f'[[accept]]\nfinding = "{name}"\nreason = "its leads are glued in already"\n'

    whole = report(build(accept("closing.unproven:bow")), "bow")
    assert [(one.id, one.accepted) for one in whole.findings] == [
        ("closing.unproven:bow", None),
        ("accept.refused:closing.unproven:bow", None),
    ]
    assert "closing.unproven:bow lamp in bow" in whole.findings[1].says
    single = report(build(accept("closing.unproven:bow lamp in bow")), "bow")
    assert [(one.id, one.accepted is not None) for one in single.findings] == [
        ("closing.unproven:bow lamp in bow", True)
    ]
    # the rest of the place is asked for all the same
    twins = lamp() + lamp().replace("bow lamp", "stem lamp")
    both = report(build(accept("closing.unproven:bow lamp in bow"), twins), "bow")
    assert [one.id for one in both.findings if one.accepted is None] == ["closing.unproven:bow"]
    assert "'bow lamp'" not in next(one for one in both.findings if one.accepted is None).says
    # and until the place is closed nothing is said of it
    assert report(build(accept("closing.unproven:bow lamp in bow"))).findings == ()


def test_nothing_is_closed_of_a_place_that_is_not_there() -> None:
    with pytest.raises(ValueError, match="did you mean 'bow'"):
        report(build(), "bo")


def test_how_warm_it_gets_is_vital_once_nobody_can_change_it() -> None:
    hot = build(PROVEN).replace('surface = "40 cm2"\naccess = "open"', 'access = "sealed"')
    warm = hot.replace('"1k5 1/4 W"', '"560 ohm 1/2 W"').replace("6.6 mA", "18 mA")
    warm += record(subject='"lights"', volts='"12 V"', current='"18 mA"', hours='"24 h"')
    assert report(warm).verdict == "clear"
    assert report(warm, "bow").verdict == "incomplete"
    assert report(warm, "hull").verdict == "clear"  # elsewhere
    assert report(warm.replace("sealed", "open"), "bow").verdict == "clear"


def test_a_place_that_is_not_sealed_is_closed_with_its_proofs_and_not_called_sealed() -> None:
    second = lamp().replace("bow lamp", "stem lamp")
    board = '[board.winker]\nplace = "hull"\nsupply = "main"\n'
    cover = report(build(board, lamp() + second), "hull")
    assert [one.id for one in cover.findings] == ["closing.unproven:hull", "circuit.empty:winker"]
    assert "cutting" not in cover.findings[0].why
    assert sum(cover.figures["closing"]["hull"][kind] or 0 for kind in ("joint", "board")) == 0
    shut = report(build(board, lamp() + second).replace('access = "cover"', 'access = "sealed"'), "hull")
    assert {one.check for one in shut.findings} == {
        "access.sealed",
        "closing.unproven",
        "closing.open",
        "circuit.empty",
    }
    assert "cutting" in next(one for one in shut.findings if one.check == "closing.unproven").why
    assert sum(shut.figures["closing"]["hull"][kind] or 0 for kind in ("joint", "board")) == 3


ALIKE = lamp().replace("to hull", "to hull, red/black") + lamp().replace("bow lamp", "stem lamp").replace(
    '"lights"', '"signals"'
).replace("to hull", "to hull, red/black")
SIGNALS = """[circuit.signals]
supply = "main"
[[run]]
name = "signal feed"
line = "signals"
ends = ["base", "hull"]
length = "300 mm"
"""
BOTH = PROVEN + PROVEN.replace("bow lamp", "stem lamp")


def test_cautions_elsewhere_do_not_stop_a_place_from_being_closed() -> None:
    text = build(SIGNALS + BOTH, ALIKE)
    assert [one.id for one in report(text).findings] == ["ends.alike:hull"]
    bow = {one.id: one.severity for one in report(text, "bow").findings}
    assert bow == {"ends.alike:hull": "caution", "closing.open:Harbour tender": "note"}
    circuits = "".join(
        record(subject=f'"{name}"', volts='"12 V"', current='"6.6 mA"') for name in ("lights", "signals")
    )
    hull = {one.id: one.severity for one in report(text + circuits, "hull").findings}
    assert hull == {"ends.alike:hull": "caution", "closing.open:Harbour tender": "stop"}
    # a caution of a lamp in it is of the place; where the stage is closing, each is
    short = report(text.replace("24 h", "1 h"), "bow")
    (stop,) = (one for one in short.findings if one.check == "closing.open")
    assert stop.severity == "stop"
    assert stop.says.endswith("'closing.short-run:bow'. 1 caution elsewhere is still open.")
    sealed_bow = text.replace(
        '[place.bow]\nsurface = "40 cm2"\naccess = "open"',
        '[place.bow]\nsurface = "40 cm2"\naccess = "sealed"',
    )
    assert "closing.open:Harbour tender" in {
        one.id for one in report(sealed_bow, stage="closing").findings if one.severity == "stop"
    }


def test_an_acceptance_of_what_closing_no_longer_looks_at_does_not_hang_in_the_air() -> None:
    accept = '[[accept]]\nfinding = "ends.alike:hull"\nreason = "told apart by length"\n'
    circuits = "".join(
        record(subject=f'"{name}"', volts='"12 V"', current='"6.6 mA"') for name in ("lights", "signals")
    )
    text = build(SIGNALS + BOTH + circuits + accept, ALIKE).replace('access = "cover"', 'access = "sealed"')
    assert "ends.alike:hull" in {one.id for one in report(text).findings if one.accepted}
    assert not {one.check for one in report(text, "hull").findings} & {"accept.matches-nothing", "ends.alike"}
    # nor beside one that counts
    both = text + accept.replace("ends.alike", "access.sealed")
    assert "access.sealed:hull" in {one.id for one in report(both, "hull").findings if one.accepted}
    assert "accept.matches-nothing" not in {one.check for one in report(both, "hull").findings}
    other = text.replace("ends.alike:hull", "ends.alike:hall")
    assert "accept.matches-nothing" in {one.check for one in report(other, "hull").findings}


# the feed is 300 mm of AWG 28: 0.213 ohm/m of solid copper (ASTM B258), stranded some more
@pytest.mark.parametrize(("measured", "found"), [("0.3 ohm", 0), ("1 ohm", 0), ("1.2 ohm", 1), ("12 ohm", 1)])
def test_continuity_in_ohms(measured: str, found: int) -> None:
    made = survey(extra=record(subject='"feed"', continuity=f'"{measured}"'))
    assert len(run(test_records, "proof.continuity", made)[0]) == found
    lacks = report(build(record(subject='"feed"', continuity=f'"{measured}"')), "hull")
    (unproven,) = (one for one in lacks.findings if one.check == "closing.unproven")
    assert ("'feed'" in unproven.says) == bool(found)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ('polarity = "reversed"', "false if it was found reversed"),
        ("polarity = 1", "true if it is the right way round"),
        ('continuity = "ok"', '"0.3 ohm"'),
        ("continuity = 1", '"0.3 ohm"'),
    ],
)
def test_what_true_means_is_told_to_who_writes_something_else(line: str, told: str) -> None:
    with pytest.raises(BuildError) as caught:
        postcheck.loads(build(f'[[proof]]\nsubject = "feed"\n{line}\n'))
    (problem,) = caught.value.problems
    assert told in (problem.hint or "")


def test_the_resistors_of_several_strings_are_told_as_such() -> None:
    twins = lamp(at=" at hull").replace("place =", "parallel = 2\nplace =")
    text = record(subject='"bow lamp"', volts='"12 V"', current='"4 mA"')
    (finding,), _ = run(measured, "proof.current", survey(lamps=twins, extra=text))
    assert "It should take 12 mA to 14.4 mA through its resistors." in finding.says
    made = Survey(survey(lamps=twins).build, closing=["bow"])
    (asked,), _ = run(closing, "closing.unproven", made)
    assert any("each string through its own 1.5 kohm" in line for line in asked.lines)
    one = Survey(survey(lamps=lamp(at=" at hull")).build, closing=["bow"])
    (asked,), _ = run(closing, "closing.unproven", one)
    assert any("# through its 1.5 kohm" in line for line in asked.lines)


def asked_of(lamps: str, place: str = "bow") -> Finding:
    made = Survey(survey(lamps=lamps).build, closing=[place])
    (asked,), _ = run(closing, "closing.unproven", made)
    return asked


def test_what_is_not_to_be_tested_before_it_is_mended_is_to_be_mended_first() -> None:
    hot = lamp().replace("1k5", "100 ohm")
    assert hot != lamp()
    alone = asked_of(hot)
    assert alone.lines
    assert all(line.startswith("# ") for line in alone.lines if line)
    assert alone.remedy is not None
    assert alone.remedy.startswith("Mend first what is named below. Then test it")
    both = asked_of(hot + lamp().replace('"bow lamp"', '"second lamp"'))
    assert "[[proof]]" in both.lines
    assert both.remedy is not None
    assert both.remedy.startswith("Test these, ")
    assert both.remedy.endswith("Before that, mend what is not to be tested as it is.")
    assert asked_of(lamp()).remedy == "Test these, write down what the meter shows, and check again."


# -- names from the file


@pytest.mark.parametrize("name", [name for name in NAMES.values() if name.strip() and "\udc80" not in name])
def test_hostile_names_are_harmless_and_can_still_be_proven(name: str) -> None:
    name = name[:60]
    typed = json.dumps(name, ensure_ascii=False).replace("\x7f", "\\u007f")
    text = build(
        record(subject=typed, volts='"12 V"', current='"3 mA"', done=typed, polarity="false"),
        lamp().replace('"bow lamp"', typed),
    )
    one = postcheck.check(postcheck.loads(text), closing=["bow"], today=DAY)
    assert {finding.check for finding in one.files[0].findings} >= {
        "proof.current", "proof.polarity", "closing.unproven",
    }  # fmt: skip
    for shown in (plain_text.render(one), terminal.render(one, colour=False), json_renderer.render(one, "1")):
        assert not FORBIDDEN.search(shown.replace("\n", ""))
        assert "\n::" not in shown
    (unproven,) = (finding for finding in one.files[0].findings if finding.check == "closing.unproven")
    asked = tomli.loads("\n".join(unproven.lines))["proof"][0]["subject"]
    assert subjects(postcheck.loads(text))[asked] == ("lamp", name)


def test_a_circuit_with_the_name_of_a_lamp_is_asked_for_by_its_kind() -> None:
    twins = lamp().replace("bow lamp", "lights").replace('lead = "120 mm to hull"', "")
    made = Survey(survey(lamps=twins, extra=BOW_RUNS).build, closing=["bow"])
    (finding,), _ = run(closing, "closing.unproven", made)
    asked = tomli.loads("\n".join(finding.lines))["proof"]
    assert [entry["subject"] for entry in asked] == ["circuit lights"]


def test_no_test_is_asked_for_that_would_harm_the_lamp() -> None:
    """12 V on a red of about 2 V through 100 ohm are 0.1 A, five times its rating."""
    hard = lamp().replace("1k5 1/4 W", "100 ohm 2 W")
    (found,) = run(closing, "closing.unproven", Survey(survey(lamps=hard).build, closing=["bow"]))[0]
    assert [line[:2] for line in found.lines] == ["# "]
    assert "20 mA is its rating" in found.lines[0]


def test_no_test_is_asked_for_in_which_nothing_lights() -> None:
    weak = lamp().replace("1k5", "1M")
    (found,) = run(closing, "closing.unproven", Survey(survey(lamps=weak).build, closing=["bow"]))[0]
    assert found.lines[0].endswith("at 12 V nothing lights")


def test_names_with_controls_are_asked_for_as_toml_knows_them() -> None:
    """TOML 1.0 has \\uXXXX, and no \\x."""
    name = "a\\u001b[31m\\u007f \\\\x"
    made = survey(lamps=lamp().replace("bow lamp", name))
    (found,) = run(closing, "closing.unproven", Survey(made.build, closing=["bow"]))[0]
    assert f'subject = "{name}"' in found.lines


FAULTY = Path(__file__).parents[1] / "builds" / "faulty"


def closing_of(name: str, current: str = "") -> tuple[Finding, FileReport]:
    """What closing the bow asks for, and the report once that is typed."""
    text = (FAULTY / f"{name}.post.toml").read_text()
    (asked,) = (one for one in report(text, "bow").findings if one.check == "closing.unproven")
    return asked, report(text + "\n" + "\n".join(asked.lines).replace('"..."', f'"{current}"'), "bow")


def test_what_has_its_current_in_pulses_is_tested_with_what_it_stands_for_good() -> None:
    """At most 4.7 V: with a die of 2.9 V and 95 ohm, (4.7 - 2.9) / 95 = 18.9 mA; a tenth more would be 20 mA and more by the die's slope."""
    asked, after = closing_of("closing-pulses-only", "15.5 mA")
    (proof,) = tomli.loads("\n".join(asked.lines))["proof"]
    assert (proof["subject"], proof["volts"], proof["hours"]) == ("bow strobe", "4.7 V", "24 h")
    assert asked.remedy is not None
    assert asked.remedy.startswith("Test these")
    assert (after.verdict, [one.id for one in after.findings]) == ("clear", ["lamp.pulses-only:bow strobe"])


def test_what_is_too_much_in_pulses_too_is_mended_first() -> None:
    text = (
        (FAULTY / "closing-pulses-only.post.toml").read_text().replace('pulse = "100 mA"', 'pulse = "50 mA"')
    )
    (asked,) = (one for one in report(text, "bow").findings if one.check == "closing.unproven")
    assert all(line.startswith("# ") for line in asked.lines)


def test_what_gets_too_hot_held_on_runs_its_hours_as_it_is_lit() -> None:
    """Five strings of 17 mA through 560 ohm are 0.8 W in 60 cm2: at some 3.5 W/m2K 38 K above 35 degC, and ABS withstands 65."""
    asked, after = closing_of("closing-too-hot-held-on", "87 mA")
    steady, lit = tomli.loads("\n".join(asked.lines))["proof"]
    assert (steady["subject"], steady["volts"], "hours" in steady) == ("wink", "12 V", False)
    assert (lit["subject"], lit["hours"], "volts" in lit) == ("wink", "24 h", False)
    assert "gets 'hub' too hot" in "\n".join(asked.lines)
    assert [one.id for one in after.findings if one.check.startswith("closing")] == ["closing.open:Tender whose flasher warms the hub once it is held on"]  # fmt: skip
    # with room for its heat it is held on
    text = (FAULTY / "closing-too-hot-held-on.post.toml").read_text().replace("60 cm2", "120 cm2")
    (cool,) = (one for one in report(text, "bow").findings if one.check == "closing.unproven")
    (proof,) = tomli.loads("\n".join(cool.lines))["proof"]
    assert (proof["volts"], proof["hours"]) == ("12 V", "24 h")
    # a resistor beside its wall too: 0.165 W of 0.25 W
    small = text.replace("120 cm2", "900 cm2").replace("1/2 W", "1/4 W").replace("abs", "pla")
    (spot,) = (one for one in report(small, "bow").findings if one.check == "closing.unproven")
    assert len(tomli.loads("\n".join(spot.lines))["proof"]) == 2
