"""How near a check that passes comes to its limit: put just short of that, the limit is broken; put there, it is kept."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from math import copysign, isfinite
from pathlib import Path
from typing import NamedTuple

import pytest
import tomli

import postcheck
from postcheck.checks.fact import Within
from postcheck.checks.judge import judge
from postcheck.checks.record import Check
from postcheck.checks.table import CHECKS
from postcheck.description.limits import limit_changes
from postcheck.limits import Limits
from postcheck.report import Finding
from postcheck.survey import Survey
from tests.write_expected import TODAY, to_be_closed

ROOT = Path(__file__).parents[2]
BUILDS = [*sorted((ROOT / "tests" / "builds").glob("*/*.post.toml")), *sorted((ROOT / "example_builds").glob("*.post.toml"))]  # fmt: skip

NEAREST: dict[tuple[str, str], str] = {
    tuple(pair.split()): build
    for pair, build in tomli.loads((Path(__file__).parent / "nearest.toml").read_text())["nearest"].items()
}
_ANY = "told wherever there is one; a limit says only how much it weighs"
_SOLVED = "the network has a solution or none"
_WRITTEN = "what the file says, and no number"
NONE = {
    "battery.coin": _WRITTEN,
    "battery.gas": _WRITTEN,
    "trimmer.sealed": _WRITTEN,
    "diode.both-ways": _WRITTEN,
    "switch.sealed": _WRITTEN,
    "diode.missing": "it only asks",
    "supply.mains-inside": _WRITTEN,
    "supply.polarity": _ANY,
    "supply.conflict": _SOLVED,
    "network.unsolved": _SOLVED,
    "converter.no-start": _SOLVED,
    "supply.backfeed": "whatever flows backwards is too much; its bound is the rounding of a solution",
    "supply.wrong-adaptor": _ANY,
    "supply.no-rating": "it only asks",
    "supply.type-c": _WRITTEN,
    "circuit.steady-on-flasher": _WRITTEN,
    "circuit.joined-outputs": _WRITTEN,
    "circuit.unswitched": "it only asks",
    "circuit.empty": _WRITTEN,
    "output.unlimited": "it only asks",
    "circuit.unfed": "it only asks",
    "line.unbuilt": "it only asks",
    "load.no-data": "it only asks",
    "load.restarts": _WRITTEN,
    "lamp.no-resistor": _ANY,
    "lamp.backwards": _ANY,
    "resistor.not-in-series": "a value is in a series or in none",
    "colour.misspelt": _WRITTEN,
    "colour.both-poles": "told wherever a colour is on both sides; the limit says only which side it belongs to",
    "ends.alike": _WRITTEN,
    "ends.spare": _WRITTEN,
    "ends.uncoloured": "it only asks",
    "metal.live": _ANY,
    "metal.slides": _WRITTEN,
    "passage.soldered": _WRITTEN,
    "lead.same-legs": _WRITTEN,
    "plug.bare-pins": _WRITTEN,
    "plug.crossed": _ANY,
    "plug.part-way": _ANY,
    "passage.plug-alone": _WRITTEN,
    "passage.enamelled": _WRITTEN,
    "passage.joint-inside": _WRITTEN,
    "passage.edge": "told wherever ends are sharp; the limit says only how bad it is",
    "passage.widest": "a proof that it passes, in a bore with the room that is asked for; how much more there is, is not known",
    "passage.order": "a proof that some order is needed",
    "battery.lithium-sealed": _WRITTEN,
    "battery.unprotected": _WRITTEN,
    "access.sealed": _WRITTEN,
    "proof.polarity": _WRITTEN,
    "proof.future": "a day is over or not",
    "closing.unproven": "a test record covers a part or none does",
    "closing.open": "it judges findings",
    "accept.matches-nothing": "it judges waivers",
    "accept.refused": "it judges waivers",
    "accept.expired": "it judges waivers",
    "accept.outgrown": "it judges waivers",
}
"""Checks that compare no number with a limit where they pass, and why."""

OWN_RATINGS = {
    "output.compliance": "5 % less than promised; the limit says only how much it weighs",
    "passage.run-short": "the way through; the limit says only what is asked for beyond it",
    "passage.lengths": "the conductor's own length; the limit says only what is asked for beyond it",
    "switch.volts": "its own rating; the limit says only from where on one is asked for",
    "battery.overload": "what its cells may give; the limit says only from where on a capacity is asked for",
    "fuse.opens-at-start": "the time a motor runs up; the limit says only from where on a fuse may open at all",
}
"""Checks that compare, but by none of the limits that they declare."""

NOT_TOLD = {
    "lamp.over-rating": "an unequal share of one resistor is told by lamp.shared-resistor",
    "part.hot-spot": "what the glass touches is not known, and asked",
    "passage.bend": "whether it moves is not known, and asked",
    "passage.cannot-fit": "no way was found, and none is ruled out: passage.tight",
    "proof.current": "a meter shows no less than nothing",
}
"""Where a comparison fails and nothing is found, and why."""

FOUND_ALL_THE_SAME = {
    "lamp.eyes": "near ultraviolet is told however weak it is",
    "lamp.unequal": "white beside warm white, by their names",
    "passage.loops": "nothing stops it",
    "passage.run-short": "just as long as its way",
    "proof.current": "one string dark comes nearer than all of them lit",
}
"""Where something is found though every comparison is kept, and why."""


class Heard(NamedTuple):
    """What a check says of a build."""

    path: Path
    check: Check
    compared: list[Within]
    found: list[Finding]

    @property
    def broken(self) -> bool:
        return not all(within.kept for within in self.compared)


def survey(path: Path, **moved: float) -> Survey:
    """The survey of a build, with some limits put elsewhere."""
    build = postcheck.load(path)
    changes = {**limit_changes(build)[0], **{name: (value, "moved") for name, value in moved.items()}}
    return Survey(build, Limits(changes), closing=to_be_closed(path), today=TODAY)  # type: ignore[arg-type]


def hears(path: Path, survey: Survey, check: Check) -> Heard:
    results = list(check.heard(survey))
    return Heard(
        path,
        check,
        [result for result in results if isinstance(result, Within)],
        [result for result in results if isinstance(result, Finding)],
    )


@cache
def everything() -> list[Heard]:
    """What every check says of every build."""
    return [
        hears(path, one, check) for path, one in ((path, survey(path)) for path in BUILDS) for check in CHECKS
    ]


def names(heard: Iterable[Heard]) -> set[str]:
    return {one.check.name for one in heard}


def test_every_check_that_compares_has_a_margin_and_its_verdict_agrees() -> None:
    assert names(
        one for one in everything() if any(within.kept for within in one.compared) and not one.found
    ) == ({check.name for check in CHECKS} - NONE.keys())
    assert not names(one for one in everything() if one.compared) & NONE.keys()
    assert names(one for one in everything() if one.broken and not one.found) == NOT_TOLD.keys()
    assert names(one for one in everything() if one.compared and one.found and not one.broken) == (
        FOUND_ALL_THE_SAME.keys()
    )


def test_what_a_report_tells_is_a_number_of_something() -> None:
    for one in everything():
        kept = [within for within in one.compared if within.kept]
        if kept and not one.found:
            near = max(kept, key=lambda within: within.used)
            where = (one.path.name, one.check.name, near)
            assert 0.0 <= near.used <= 1.0 + near.slack, where
            assert near.subject.name, where
            assert all(map(isfinite, (near.value, near.limit.value))), where


def test_there_is_a_build_near_every_limit_of_a_check() -> None:
    declared = {(check.name, name) for check in CHECKS for name in check.limits}
    assert NEAREST.keys() <= declared
    assert {check for check, _ in NEAREST} == {
        check for check, _ in declared
    } - NONE.keys() - OWN_RATINGS.keys()
    assert NEAREST.keys() == {
        (one.check.name, within.limit.name)
        for one in everything()
        for within in one.compared
        if within.kept and within.limit.name and not one.found
    }


@pytest.mark.parametrize(("name", "limit"), NEAREST)
def test_a_limit_moved_past_what_comes_nearest_finds_it(name: str, limit: str) -> None:
    (path,) = (path for path in BUILDS if path.name == NEAREST[name, limit])
    (check,) = (check for check in CHECKS if check.name == name)
    assert flips(hears(path, survey(path), check), limit)


def nearest_by(one: Heard, name: str) -> Within:
    """What comes nearest to a limit of that name."""
    return max(
        (within for within in one.compared if within.kept and within.limit.name == name),
        key=lambda within: within.used,
    )


def flips(one: Heard, name: str) -> bool:
    """Whether the check passes with the limit just short of where the nearest meets it, and finds something just beyond.

    What is compared, and what with, go straight with the limit, or nearly so.
    """
    usual = survey(one.path).limits.value(name)  # type: ignore[arg-type]

    def moved(value: float) -> Heard:
        return hears(one.path, survey(one.path, **{name: value}), one.check)

    near = nearest_by(one, name)
    for step in (1e-3 * usual, -1e-3 * usual):
        beside = moved(usual + step)
        if beside.broken or beside.found:
            continue
        other = nearest_by(beside, name)
        gap, gap_beside = (within.value - within.limit.value for within in (near, other))
        if gap == gap_beside:
            return False
        meets = usual - gap * step / (gap_beside - gap)
        looser = copysign(0.005 * max(abs(meets), 0.01 * usual), step if other.used < near.used else -step)
        kept, broken = moved(meets + looser), moved(meets - looser)
        return not (kept.found or kept.broken) and broken.broken and bool(broken.found)
    return False


@pytest.mark.parametrize(
    ("check", "limit"), [("supply.overload", "supply.load.caution"), ("flash.rate", "flash.rate")]
)
def test_the_nearest_in_the_report_says_how_far_its_limit_may_be_lowered(check: str, limit: str) -> None:
    path = ROOT / "example_builds" / "mail_airship.post.toml"
    nearest = judge(survey(path)).nearest[check]
    assert nearest.limit.name == limit
    at = survey(path).limits.value(limit) * nearest.used  # type: ignore[arg-type]
    for share, broken in ((0.999, True), (1.001, False)):
        judged = judge(survey(path, **{limit: share * at}))
        assert (check in {finding.check for finding in judged.findings}) is broken
        assert (check in judged.nearest) is not broken


def test_the_report_names_the_lamp_that_comes_nearest() -> None:
    report = postcheck.check(postcheck.load(ROOT / "example_builds" / "mail_airship.post.toml")).files[0]
    margin, lamps = report.figures["margins"]["lamp.over-rating"], report.figures["lamps"]
    assert margin["subject"] == "nose lamp"
    assert (lamps["nose lamp"]["nominal"] or 0.0) <= margin["value"] < (lamps["nose lamp"]["highest"] or 0.0)
    assert margin["used"] == margin["value"] / margin["limit"]
    assert margin["limit_name"] == "lamp.current.nominal"
