"""The limits as data: each row whole and with its source, and its name known to type checkers."""

from __future__ import annotations

from pathlib import Path
from typing import get_args

import pytest
import tomli

import postcheck
from postcheck import limits
from postcheck.checks.table import CHECKS
from postcheck.description.limits import limit_changes
from postcheck.description.units import Dimension
from postcheck.limits import LIMITS, Limit, LimitName, Limits
from postcheck.renderers.explain import render_check

DATA = tomli.loads((Path(limits.__file__).parent / "limits.toml").read_text(encoding="utf-8"))
# What SI has for a dimension; temperatures are in degrees Celsius, as a builder reads them.
UNITS = {
    "share": {""}, "number": {"", "N/mm2", "W/(m2 K)"}, "temperature": {"degC"}, "temperature difference": {"K"}, "voltage": {"V"},
    "current": {"A"}, "resistance": {"ohm"}, "length": {"m"}, "angle": {"rad"}, "rate": {"Hz"}, "power": {"W"}, "time": {"s"},
    "force": {"N"},
}  # fmt: skip


def test_the_type_has_exactly_the_names_of_the_data_in_their_order() -> None:
    assert list(get_args(LimitName)) == list(DATA) == [row.name for row in LIMITS] == list(Limits())
    assert len(DATA) > 70


@pytest.mark.parametrize("name", DATA)
def test_each_row_is_whole(name: str) -> None:
    row = DATA[name]
    assert {"value", "dimension", "says", "source"} <= row.keys() <= {*Limit._fields} - {"name", "changed"}
    assert isinstance(row["value"], float)
    assert row["value"] > 0.0
    assert row.get("unit", "") in UNITS[row["dimension"]]
    assert row["dimension"] == "number" or Dimension(row["dimension"])
    assert all(row[key].strip() and row[key] == row[key].strip(" .") for key in ("says", "source"))
    assert row.get("zero", True) is True
    assert row.get("unit", "-") != ""  # left out where it has none
    assert row.get("firm", "-").strip()


def test_the_rows_are_read_as_they_stand() -> None:
    for row in LIMITS:
        said = {
            "unit": "",
            "changed": None,
            "firm": None,
            "zero": False,
            "least": False,
            "name": row.name,
        } | DATA[row.name]
        assert row._asdict() == said
        assert Limits()[row.name] == row
        assert Limits().value(row.name) == row.value


def test_a_change_is_a_row_of_its_own_and_leaves_the_others() -> None:
    changed = Limits({"step.slow": (0.05, "a working boat may wink")})
    assert changed["step.slow"]._replace(changed=None, source="") == Limits()["step.slow"]._replace(
        value=0.05, source=""
    )
    assert "a working boat may wink" in changed["step.slow"].source
    assert {name for name in changed if changed[name] != Limits()[name]} == {"step.slow"}


def test_there_is_no_other() -> None:
    with pytest.raises(KeyError):
        Limits()["lamp.currant"]  # type: ignore[index]
    assert "lamp.currant" not in Limits()


TENDER = Path(__file__).parents[1] / "example_builds" / "tender.post.toml"
CHANGE = '\n[[limit]]\nname = "{}"\nvalue = "{}"\nreason = "as explained"\n'


@pytest.mark.parametrize("row", LIMITS, ids=lambda row: row.name)
def test_a_limit_can_be_typed_as_it_is_explained(row: Limit) -> None:
    whole = render_check(CHECKS[0], [row])
    shown = whole.partition(f"Limit {row.name} = ")[2].partition(":")[0]
    build = postcheck.loads(TENDER.read_text(encoding="utf-8") + CHANGE.format(row.name, shown))
    value, _ = limit_changes(build)[0][row.name]
    assert value == pytest.approx(row.value, rel=6e-3)


@pytest.mark.parametrize(
    ("name", "value", "told"),
    [
        ("heat.per-area", "4 W/m2", 'write it as in "4 W/(m2 K)", or the number alone'),
        ("bend.rest", "six", "write the number alone"),
        ("resistor.power.stop", "150 %", "'150 %' limits nothing; at most 100 % makes sense here"),
        ("lamp.current.stop", "600 %", "'600 %' limits nothing; at most 250 % makes sense here"),
    ],
)
def test_a_limit_that_is_none_is_refused_with_what_would_do(name: str, value: str, told: str) -> None:
    with pytest.raises(postcheck.BuildError) as refused:
        postcheck.loads(TENDER.read_text(encoding="utf-8") + CHANGE.format(name, value))
    assert told in str(refused.value)
