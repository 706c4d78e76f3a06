"""What may stand where, read off types: by a model of our own."""

from __future__ import annotations

from typing import Annotated, Any, Literal

import pytest
from pydantic import create_model

from postcheck.description.keys import choices_of
from postcheck.description.refused.tables import unknown


@pytest.mark.parametrize(
    ("kind", "choices"),
    [
        (Literal["open", "cover"], ["open", "cover"]), (Literal["open"] | None, ["open"]), (Annotated[Literal["a", "b"], "of two"], ["a", "b"]), (Literal["a"] | Literal["b"], ["a", "b"]),
        (tuple[Literal["a", "b"], ...], ["a", "b"]), (str, []), (str | None, []), (list[int], []), (dict[str, Any], []), (int | Literal["all"], ["all"]),
    ],
)  # fmt: skip
def test_the_words_that_may_be_chosen(kind: Any, choices: list[str]) -> None:
    assert choices_of(kind) == choices


@pytest.mark.parametrize(("count", "more"), [(30, ""), (31, " and more")])
def test_thirty_keys_of_a_table_are_listed(count: int, more: str) -> None:
    names = [f"key_{number:02}" for number in range(count)]
    model = create_model("Table", **dict.fromkeys(names, (str, "")))  # type: ignore[call-overload]
    said = unknown(("zzz",), {"zzz": 1}, model, guess=False)
    assert said.hint == f"the keys here are {', '.join(names[:30])}{more}"
