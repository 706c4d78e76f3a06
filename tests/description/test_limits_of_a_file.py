"""Limits that a file changes: which values are taken, and what is said of the others."""

from __future__ import annotations

import pytest

import postcheck
from postcheck.description.limits import limit_changes
from postcheck.description.problems import BuildError, Problem

FILE = 'format = 1\n[build]\nname = "Tender"\n[[limit]]\nname = "{}"\nvalue = "{}"\nreason = "as on her sister"\n'
PER_AREA = 'write it as in "4 W/(m2 K)", or the number alone'
TOUCH = (
    "'volts.scope' can be lowered and not raised: above it a touch can injure, and nothing here judges that"
)
SEIZURE = "'dim.seizure' can be raised and not lowered: slower switching can bring on a seizure"


@pytest.mark.parametrize(
    ("name", "said", "value"),
    [
        ("lamp.dim", "4 %", 0.04), ("lamp.dim", "100 %", 1.0), ("lamp.dim", "0 %", 0.0),
        # above the whole up to twice what it is
        ("lamp.current.stop", "250 %", 2.5), ("heat.per-area", "8", 8.0), ("heat.per-area", "8 W/(m2 K)", 8.0), ("passage.room", "1", 1.0),
        # what protects people may go one way alone
        ("volts.scope", "60 V", 60.0), ("volts.scope", "24 V", 24.0), ("dim.seizure", "30 Hz", 30.0), ("dim.seizure", "31 Hz", 31.0),
        ("wire.insulation", "90 %", 0.9), ("bench.current", "0.5 mA", 0.0005),
    ],
)  # fmt: skip
def test_a_limit_that_is_changed(name: str, said: str, value: float) -> None:
    changes, problems = limit_changes(postcheck.loads(FILE.format(name, said)))
    assert changes == {name: (pytest.approx(value), "as on her sister")}
    assert problems == []


@pytest.mark.parametrize(
    ("name", "said", "check", "says", "hint"),
    [
        ("lamp.dim", "0.04", "no-unit", "'0.04' has no unit", 'write "4 %", or "0.04 %" where that is meant'),
        ("lamp.dim", "5 V", "wrong-dimension", "'5 V' is a voltage", 'a share is needed, such as "12 %"'),
        ("lamp.dim", "101 %", "out-of-range", "'101 %' limits nothing", "at most 100 % makes sense here"),
        ("lamp.current.stop", "251 %", "out-of-range", "'251 %' limits nothing", "at most 250 % makes sense here"),
        ("lamp.current.stop", "0 %", "out-of-range", "'0 %' is no limit", "it must be above zero here"),
        ("heat.per-area", "x", "not-a-quantity", "'x' is not a plain number", PER_AREA),
        ("heat.per-area", "8 V", "not-a-quantity", "'8 V' is not a plain number", PER_AREA),
        ("heat.per-area", "inf", "not-finite", "'inf' is no size of a real thing", "write a plain number"),
        ("passage.room", "x", "not-a-quantity", "'x' is not a plain number", "write the number alone"),
        ("passage.room", "-1", "out-of-range", "'-1' is no limit", "it must be above zero here"),
        ("volts.scope", "60.1 V", "out-of-range", TOUCH, "60 V or less"),
        ("dim.seizure", "29 Hz", "out-of-range", SEIZURE, "30 Hz or more"),
        ("wire.insulation", "101 %", "out-of-range",
         "'wire.insulation' can be lowered and not raised: insulation above its rating melts, smokes and shorts", "100 % or less"),
    ],
)  # fmt: skip
def test_a_value_that_is_no_limit(name: str, said: str, check: str, says: str, hint: str) -> None:
    assert refused(FILE.format(name, said)) == Problem(f"file.{check}", ("limit", 0, "value"), says, hint)


@pytest.mark.parametrize(
    ("name", "hint"),
    [
        ("lamp.dimm", "did you mean 'lamp.dim'?"),
        ("wibble", "`postcheck explain` names the limits of each check"),
    ],
)
def test_a_limit_that_there_is_not(name: str, hint: str) -> None:
    says = f"there is no limit '{name}'"
    assert refused(FILE.format(name, "1 %")) == Problem("file.unknown-name", ("limit", 0, "name"), says, hint)


def test_the_first_of_several_counts() -> None:
    twice = FILE.format("lamp.dim", "4 %") + '[[limit]]\nname = "lamp.dim"\nvalue = "3 %"\nreason = "later"\n'
    changes, problems = limit_changes(postcheck.loads(twice))
    assert (changes, problems) == ({"lamp.dim": (0.04, "as on her sister")}, [])


def refused(text: str) -> Problem:
    with pytest.raises(BuildError) as caught:
        postcheck.loads(text)
    (one,) = caught.value.problems
    return Problem(one.check, one.path, one.says, one.hint, one.on)
