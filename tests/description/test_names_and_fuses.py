"""Small facts of what a file may say: both numbers of a unit's name, other names of keys, when a resettable fuse trips."""

from __future__ import annotations

import pytest

from postcheck.description.meant import by_another_name
from postcheck.description.models.supplies import FuseSpec
from postcheck.description.units import _named


def test_a_unit_is_called_in_one_number_and_the_other() -> None:
    assert _named(60.0, "minute", "min") == {"minute": 60.0, "minutes": 60.0, "min": 60.0, "mins": 60.0}


@pytest.mark.parametrize(("value", "found"), [(False, "bore"), (True, None)])
def test_what_a_key_is_also_called_no_value_is(value: bool, found: str | None) -> None:
    assert by_another_name("diameter", {"bore", "plain"}, value=value) == found


def test_a_word_is_a_key_where_nobody_says_that_it_is_a_value() -> None:
    assert by_another_name("diameter", {"bore"}) == "bore"
    assert by_another_name("micro usb", {"plain"}) is None


def test_a_resettable_fuse_trips_at_a_current_within_a_time() -> None:
    fuse = {"rated": "500 mA", "kind": "resettable"}
    assert FuseSpec.model_validate({**fuse, "trips_at": "2.5 A", "trips_in": "4 s"}).trips == (2.5, 4.0)
    assert FuseSpec.model_validate(fuse).trips is None
