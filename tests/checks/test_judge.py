"""What may be accepted and what may not, and the order in which findings are told."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import postcheck
from postcheck.checks.causes import unfolded
from postcheck.checks.judge import judge
from postcheck.checks.table import CHECKS
from postcheck.description.models import Accept
from postcheck.report import Finding, Subject
from postcheck.survey import Survey
from tests.write_expected import TODAY, report, to_be_closed

FAULTY = sorted((Path(__file__).parent.parent / "builds" / "faulty").glob("*.post.toml"))


def test_what_burns_or_destroys_is_marked() -> None:
    assert {
        "battery.overload", "battery.unprotected", "diode.both-ways", "fuse.absent", "fuse.breaking", "fuse.never-opens", "lamp.backwards",
        "lamp.no-resistor", "load.over-volts", "metal.live", "plug.overload", "proof.current", "resistor.overloaded", "scope.volts",
        "strip.over-through", "supply.backfeed", "supply.conflict", "switch.volts", "wire.hot", "wire.hurt-before-fuse",
    } == {check.name for check in CHECKS if check.dangerous}  # fmt: skip


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.name)
def test_only_what_destroys_or_says_why_cannot_be_waived(path: Path) -> None:
    accepted = postcheck.load(path).model_copy(
        update={"accept": [Accept(finding=one.id, reason="as meant") for one in report(path).findings]}
    )
    dangerous = {check.name for check in CHECKS if check.dangerous}
    judged = postcheck.check(accepted, closing=to_be_closed(path), today=TODAY, remedies=False).files[0]
    for finding in judged.findings:
        if finding.check.startswith("accept."):
            continue  # it speaks of an acceptance, and ends with it
        refused = finding.severity != "note" and (
            finding.firm != "" or (finding.severity == "stop" and finding.check in dangerous)
        )
        assert (finding.accepted is None) == refused, finding.id


def test_each_check_says_what_of_it_cannot_be_waived() -> None:
    dangerous = {check.name for check in CHECKS if check.dangerous}
    firm, loose = set(), set()
    for path in FAULTY:
        for found in (
            postcheck.check(postcheck.load(path), remedies=False, closing=to_be_closed(path))
            .files[0]
            .findings
        ):
            if found.severity != "note":
                refused = found.firm != "" or (found.severity == "stop" and found.check in dangerous)
                (firm if refused else loose).add(found.check)
    said = {check.name: check.not_waived for check in CHECKS if not check.name.startswith("closing.")}
    assert {name for name in firm if name in said and not said[name]} == set()
    assert {check.name for check in CHECKS if check.held} - firm == set()
    assert {name for name in loose if said.get(name) in ("any finding", "any stop or caution")} == set()


# by hand, from what each file says: beyond five times its rating or its pulse rating, a chip above its highest volts, ...
@pytest.mark.parametrize(
    ("name", "finding", "refused"),
    [
        ("lamp-over-rating-pulse", "lamp.over-rating:flash tube", True),
        ("lamp-over-rating", "lamp.over-rating:bow lamp", False),  # 1.6 of its rating: a short life
        ("lamp-over-rating-filament", "lamp.over-rating:lantern", False),  # 1.7 of its volts
        ("lamp-shared-resistor", "lamp.shared-resistor:side windows", False),  # 1.4 of its rating
        ("lamp-strobe", "lamp.strobe:tail strobe", False),  # 2.7 of its rating
        ("board-wrong-volts", "board.wrong-volts:lights", True),  # 12 V on 5.5 V
        ("board-wrong-volts-low", "board.wrong-volts:lights", False),
        ("board-overload-channel", "board.overload:port", True),
        ("board-overload", "board.overload:lights", False),  # all of it at once, which may never be
        ("output-overload", "output.overload:beacon", True),
        ("place-too-hot", "place.too-hot:hull", True),  # 73 degC, and 62 with a rise of 30 % less, on 60
        ("place-too-hot-resin", "place.too-hot:hull", True),  # hardly more, but what can melt is not waived
        ("strip-wrong-volts", "strip.wrong-volts:deck light", True),  # 24 V on 12 V
        ("strip-wrong-volts-low", "strip.wrong-volts:deck light", False),
        ("plug-crossed", "plug.crossed:foot plug", False),  # by a slip of the hand only
    ],
)
def test_some_stops_are_refused_by_how_far_they_go(name: str, finding: str, refused: bool) -> None:
    build = postcheck.load(FAULTY[0].with_name(f"{name}.post.toml"))
    accepted = build.model_copy(update={"accept": [Accept(finding=finding, reason="as meant")]})
    found = {one.id: one for one in judge(Survey(accepted)).findings}
    assert found[finding].severity == "stop"
    assert (found[finding].accepted is None) == refused
    assert (f"accept.refused:{finding}" in found) == refused


def test_a_filament_at_more_than_twice_its_volts_is_gone() -> None:
    text = FAULTY[0].with_name("lamp-over-rating-filament.post.toml").read_text(encoding="utf-8")
    (lamp,) = (
        f for f in postcheck.check(postcheck.loads(text)).files[0].findings if f.subject.name == "lantern"
    )
    assert lamp.firm == ""
    text = text.replace('kind = "usb"', 'kind = "adaptor"').replace('port = "plain"', 'volts = "9 V"')
    (lamp,) = (
        f for f in postcheck.check(postcheck.loads(text)).files[0].findings if f.check == "lamp.over-rating"
    )
    assert "burns out" in lamp.says
    assert lamp.firm != ""


# -- what is told, as a reader reads it

BUILDS = sorted((Path(__file__).parents[1] / "builds").glob("*/*.post.toml"))


@pytest.mark.parametrize("path", BUILDS, ids=lambda path: path.name)
def test_what_is_told_begins_as_a_sentence_and_what_is_asked_for_can_be_typed(path: Path) -> None:
    keys = re.compile(r"\w+ = |\[\[\w+\]\]")
    small = [one.says for one in report(path).findings if one.says[0].islower()]
    # what is written in small letters begins with a wire or the like
    assert not [says for says in small if says.split()[0].isalpha()]
    asked = [
        one.missing
        for one in report(path).not_judged
        if one.what != "the currents, drops and loads" and not one.lines
    ]
    assert not [missing for missing in asked if not keys.search(missing)]


@pytest.mark.parametrize(
    ("lead", "missing"),
    [
        ('"120 mm to base"', 'its wire, such as lead = "120 mm of enamel-0.10 to base"'),
        (
            '{ to = "base", wire = "enamel-0.10" }',
            'its length, such as lead = "100 mm of enamel-0.10 to base"',
        ),
    ],
)
def test_what_is_missing_of_a_lead_is_shown_as_it_is_typed(lead: str, missing: str) -> None:
    build = postcheck.loads(
        'format = 1\n[build]\nname = "pilot boat"\n[place.base]\naccess = "open"\n[place.hull]\naccess = "cover"\n'
        '[supply.main]\nkind = "adaptor"\nplace = "base"\nvolts = "12 V"\nrated = "1 A"\n[circuit.lights]\nsupply = "main"\n'
        '[[lamp]]\nname = "stern"\ncircuit = "lights"\nkind = "smd-0603-red"\nplace = "hull"\nresistor = "1k 1/4 W"\n'
        f"lead = {lead}\n"
    )
    asked = {one.what: one.missing for one in postcheck.check(build).files[0].not_judged}
    assert asked["the resistance of its lead"] == missing


@pytest.mark.parametrize(
    ("cause", "left"), [(None, None), ("wire.hot:feed", "wire.hot:feed"), ("wire.hot:back", None)]
)
def test_a_finding_stands_alone_where_its_cause_was_not_found(cause, left):
    found = {"wire.hot:feed": Finding("wire.hot", "stop", Subject("run", "feed"), "", "")}
    finding = Finding("place.too-hot", "caution", Subject("place", "hull"), "", "", because_of=cause)
    assert unfolded(finding, found).because_of == left
