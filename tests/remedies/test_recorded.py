"""No value is offered for what a test record shows to be built otherwise, until that is settled."""

from __future__ import annotations

import pytest

from postcheck.remedies.recorded import after_records
from postcheck.report import Finding, Subject
from tests.survey.small import survey

BOW = Subject("lamp", "bow lamp")


@pytest.mark.parametrize(
    ("case", "role", "settled"),
    [("plain, not explained", "thing", True), ("plain, explained", "thing", False), (None, "thing", False), (None, "bridged", True), (None, "other_past", True)],
)  # fmt: skip
def test_the_record_comes_first_where_it_names_the_lamp_as_built_otherwise(
    case: str | None, role: str, settled: bool
) -> None:
    record = Finding(
        "proof.current", "stop", Subject("circuit", "lights"), "", "", parts={role: BOW}, case=case
    )
    dim = Finding("lamp.dim", "note", BOW, "", "", remedy="Use 560 ohm.")
    first, second = after_records(survey(), (record, dim), {dim.id: [("lamp", 0, "resistor")]})
    assert first == record
    assert ((second.remedy or "").startswith("Settle its test record first")) is settled
    assert settled or second == dim
