"""What may be accepted and what may not, and the order in which findings are told."""

from __future__ import annotations

from pathlib import Path

import pytest

import postcheck
from postcheck.build.models import Accept
from postcheck.checks.judge import DANGEROUS, judge
from postcheck.checks.table import CHECKS
from postcheck.survey import Survey

FAULTY = sorted((Path(__file__).parent.parent / "builds" / "faulty").glob("*.post.toml"))


def test_what_burns_or_destroys_is_marked() -> None:
    assert {
        "battery.lithium-sealed", "battery.overload", "battery.unprotected", "fuse.absent", "fuse.never-opens",
        "lamp.no-resistor", "proof.current", "scope.volts", "supply.backfeed", "supply.conflict", "wire.hot", "wire.hurt-before-fuse",
    } == DANGEROUS  # fmt: skip
    assert all(check.severity == "stop" for check in CHECKS if check.dangerous)


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.name)
def test_only_a_stop_of_a_dangerous_check_cannot_be_accepted(path: Path) -> None:
    build = postcheck.load(path)
    found, _, _ = judge(Survey(build))
    accepted = build.model_copy(
        update={"accept": [Accept(finding=finding.id, reason="as meant") for finding in found]}
    )
    dangerous = {check.name for check in CHECKS if check.dangerous}
    for finding in judge(Survey(accepted))[0]:
        if finding.check.startswith("accept."):
            continue  # it speaks of an acceptance, and ends with it
        refused = finding.severity == "stop" and finding.check in {*dangerous, "closing.open"}
        assert (finding.accepted is None) == refused, finding.id
