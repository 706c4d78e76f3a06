"""What may stand where, read off types: by a model of our own."""

from __future__ import annotations

from typing import Annotated, Any, Literal

import pytest

from postcheck.description.keys import choices_of


@pytest.mark.parametrize(
    ("kind", "choices"),
    [
        (Literal["open", "cover"], ["open", "cover"]), (Literal["open"] | None, ["open"]), (Annotated[Literal["a", "b"], "of two"], ["a", "b"]), (Literal["a"] | Literal["b"], ["a", "b"]),
        (tuple[Literal["a", "b"], ...], ["a", "b"]), (str, []), (str | None, []), (list[int], []), (dict[str, Any], []), (int | Literal["all"], ["all"]),
    ],
)  # fmt: skip
def test_the_words_that_may_be_chosen(kind: Any, choices: list[str]) -> None:
    assert choices_of(kind) == choices
