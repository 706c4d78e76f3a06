"""How near a check that passes comes to its limit: put just short of that, the limit is broken; put there, it is kept."""

from __future__ import annotations

from pathlib import Path

import pytest

import postcheck
from postcheck.checks.judge import judge
from postcheck.limits import Limits
from postcheck.survey import Survey

ROOT = Path(__file__).parents[2]
BUILDS = [*sorted((ROOT / "tests" / "builds").glob("*/*.post.toml")), *sorted((ROOT / "example_builds").glob("*.post.toml"))]  # fmt: skip


def test_what_passes_is_within_its_limit_and_what_is_found_has_no_margin() -> None:
    seen: set[str] = set()
    for path in BUILDS:
        judged = judge(Survey(postcheck.load(path)))
        assert not judged.nearest.keys() & {finding.check for finding in judged.findings}
        for name, nearest in judged.nearest.items():
            assert 0.0 <= nearest.used <= 1.0 + 1e-9, (path.name, name, nearest)
        seen |= judged.nearest.keys()
    assert len(seen) >= 20


@pytest.mark.parametrize(
    ("check", "limit"),
    [
        ("supply.overload", "supply.load.caution"),
        ("board.overload", "output.load"),
        ("line.drop", "drop.lamp-share"),
        ("resistor.overloaded", "resistor.power.caution"),
        ("fuse.too-small", "fuse.load"),
        ("passage.full", "passage.fill.more"),
        ("flash.rate", "flash.rate"),
        ("scope.volts", "volts.scope"),
    ],
)
def test_a_limit_at_the_nearest_is_kept_and_one_below_is_broken(check: str, limit: str) -> None:
    build = postcheck.load(ROOT / "example_builds" / "mail_airship.post.toml")
    usual = Limits()
    nearest = judge(Survey(build, usual)).nearest[check]
    at = usual[limit].value * nearest.used  # type: ignore[index]
    for share, broken in ((0.999, True), (1.001, False)):
        changed = Limits({limit: (share * at, "at the nearest")})  # type: ignore[dict-item]
        judged = judge(Survey(build, changed))
        assert (check in {finding.check for finding in judged.findings}) is broken
        assert (check in judged.nearest) is not broken


def test_the_report_names_the_lamp_that_comes_nearest() -> None:
    report = postcheck.check(postcheck.load(ROOT / "example_builds" / "mail_airship.post.toml")).files[0]
    margin, lamps = report.figures["margins"]["lamp.over-rating"], report.figures["lamps"]
    assert margin["subject"] == "nose lamp"
    assert (lamps["nose lamp"]["nominal"] or 0.0) <= margin["value"] < (lamps["nose lamp"]["highest"] or 0.0)
    assert margin["used"] == margin["value"] / margin["limit"]
