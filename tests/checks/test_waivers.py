"""Waivers that name no finding, or count no longer."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import postcheck
from postcheck.description.problems import BuildError
from tests.survey.small import survey

LEAD = (Path(__file__).parents[1] / "builds" / "faulty" / "lead-too-short.post.toml").read_text(
    encoding="utf-8"
)


def found(finding: str, until: str = "") -> dict[str, str | None]:
    text = f'{LEAD}\n[[accept]]\nfinding = "{finding}"\nreason = "only opened once"\n{until}'
    report = postcheck.check(postcheck.loads(text), today=date(2026, 11, 25)).files[0]
    return {finding.id: finding.accepted for finding in report.findings}


def test_one_that_names_a_finding_accepts_it_and_is_not_told() -> None:
    assert found("lead.too-short:bow lamp") == {"lead.too-short:bow lamp": "only opened once"}


def test_one_that_names_none_is_told_and_accepts_nothing() -> None:
    assert found("lead.too-short:bow") == {
        "lead.too-short:bow lamp": None,
        "accept.matches-nothing:lead.too-short:bow": None,
    }


@pytest.mark.parametrize(
    ("finding", "told"),
    [
        ("house.long-lead:bow lamp", False),  # of a check that this project has and this run has not
        ("leads.too-short:bow lamp", True),
        ("laed.too-short:bow lamp", True),
        ("house.long-lead", True),
        ("everything", True),
    ],
)
def test_one_of_a_check_of_the_project_is_let_be_and_a_slip_is_not(finding: str, told: bool) -> None:
    assert (f"accept.matches-nothing:{finding}" in found(finding)) == told


def test_one_that_has_run_out_is_not_told() -> None:
    assert found("lead.too-short:bow", "until = 2026-11-24\n") == {"lead.too-short:bow lamp": None}


def test_one_that_has_run_out_is_told_where_its_finding_is_still_there() -> None:
    assert found("lead.too-short:bow lamp", "until = 2026-11-24\n") == {
        "lead.too-short:bow lamp": None,
        "accept.expired:lead.too-short:bow lamp": None,
    }
    assert found("lead.too-short:bow lamp", "until = 2026-11-25\n") == {
        "lead.too-short:bow lamp": "only opened once"
    }


def test_one_that_was_renewed_is_not_told_as_expired() -> None:
    again = 'until = 2026-11-24\n[[accept]]\nfinding = "lead.too-short:bow lamp"\nreason = "still so"\n'
    assert found("lead.too-short:bow lamp", again) == {"lead.too-short:bow lamp": "still so"}


def test_one_of_what_destroys_parts_is_told_to_be_refused() -> None:
    build = Path(__file__).parents[1] / "builds" / "faulty" / "accept-refused.post.toml"
    notes = [f for f in postcheck.check(postcheck.load(build)).files[0].findings if f.severity == "note"]
    assert [(note.id, note.path) for note in notes] == [
        ("accept.refused:proof.current:stern lamp", ("accept", 0, "finding"))
    ]


FAULTY = Path(__file__).parents[1] / "builds" / "faulty"


@pytest.mark.parametrize(
    ("build", "finding"),
    [
        ("part-hot-spot-bulb", "part.hot-spot"),
        ("part-hot-spot-resistor", "part.hot-spot"),
        ("place-too-hot-beside-a-resistor", "part.hot-spot"),
        ("place-too-hot-stuck", "place.too-hot"),
        ("place-too-hot-stuck-far-beyond", "place.too-hot"),
        ("place-too-hot-near-and-all-white", "place.too-hot"),
        ("wire-hot-on-styrene", "wire.hot-beside"),
        ("battery-hot", "battery.hot"),
        ("battery-coin-cover", "battery.coin"),
        ("battery-gas", "battery.gas"),
    ],
)
def test_what_melts_burns_or_hurts_counts_as_a_caution_too(build: str, finding: str) -> None:
    text = (FAULTY / f"{build}.post.toml").read_text(encoding="utf-8")
    before = postcheck.check(postcheck.loads(text), remedies=False).files[0]
    names = [found.id for found in before.findings if found.check == finding]
    assert names
    waived = "".join(f'\n[[accept]]\nfinding = "{name}"\nreason = "so be it"\n' for name in names)
    after = postcheck.check(postcheck.loads(text + waived), remedies=False).files[0]
    told = {found.id: found for found in after.findings}
    assert [told[name].accepted for name in names] == [None] * len(names)
    assert all(f"accept.refused:{name}" in told for name in names)
    assert after.verdict == before.verdict


def test_what_is_not_said_of_a_lithium_cell_cannot_be_waived() -> None:
    text = (FAULTY / "open-battery-protection.post.toml").read_text(encoding="utf-8")
    waived = '\n[[accept]]\nfinding = "battery.unprotected:main"\nreason = "so be it"\n'
    size = 'chemistry = "'
    verdicts = [
        [vital.subject for vital in postcheck.check(postcheck.loads(one)).files[0].not_judged if vital.vital]
        for one in (text, text + waived, text.replace(size, f"protected = true\n{size}", 1))
    ]
    assert verdicts == [["main"], ["main"], []]


@pytest.mark.parametrize("reason", ["", "  ", "\\u200b", "\\t\\u00a0"])
def test_a_reason_that_cannot_be_seen_is_none(reason: str) -> None:
    with pytest.raises(BuildError):
        survey(extra=f'[[accept]]\nfinding = "circuit.step:lights"\nreason = "{reason}"\n')


@pytest.mark.parametrize(("up_to", "accepted"), [("note", False), ("caution", True), ("stop", True)])
def test_one_up_to_a_weight_holds_no_further(up_to: str, accepted: bool) -> None:
    told = found("lead.too-short:bow lamp", f'up_to = "{up_to}"\n')
    assert (told["lead.too-short:bow lamp"] is not None) == accepted
    assert ("accept.outgrown:lead.too-short:bow lamp" in told) != accepted


@pytest.mark.parametrize(("access", "verdict"), [("sealed", "stop"), ("cover", "clear"), ("open", "clear")])
def test_what_a_slip_of_the_hand_destroys_can_be_lived_with_only_where_it_can_be_replaced(
    access: str, verdict: str
) -> None:
    text = (Path(__file__).parents[1] / "builds/faulty/accept-refused-sealed.post.toml").read_text(
        encoding="utf-8"
    )
    told = postcheck.check(postcheck.loads(text.replace('access = "sealed"', f'access = "{access}"'))).files[
        0
    ]
    assert told.verdict == verdict
