"""Public functions refuse what is of another kind at the door, in words, and name themselves."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from typing import Any

import pytest

import postcheck
from tests.pages import ROOT

FUNCTIONS = [
    function for name in postcheck.__all__ if inspect.isfunction(function := getattr(postcheck, name))
]
PATHS = {
    "load",
    "load_revision",
    "loads",
}  # paths and texts, refused by the standard library and in words of their own
OPTIONAL = {"guide": 1}


def needed(function: Callable[..., Any]) -> int:
    """How many arguments it cannot do without."""
    kinds = inspect.signature(function).parameters.values()
    return OPTIONAL.get(function.__name__, sum(one.default is one.empty for one in kinds))


@pytest.mark.parametrize("function", FUNCTIONS, ids=lambda function: function.__name__)
@pytest.mark.parametrize("wrong", [7, 1.5, b"x", [1], object()], ids=lambda wrong: type(wrong).__name__)
def test_what_is_of_another_kind_is_refused_by_name(function: Callable[..., Any], wrong: object) -> None:
    build = postcheck.load(ROOT / "example_builds" / "tender.post.toml")
    count = needed(function)
    says = "str" if function.__name__ in PATHS else rf"{function.__name__}\(\) takes a"
    assert count
    for good in range(count):
        if function.__name__ in PATHS and isinstance(wrong, bytes):
            continue
        with pytest.raises(TypeError, match=says):
            function(*[build] * good, *[wrong] * (count - good))


def test_mending_takes_a_build() -> None:
    with pytest.raises(TypeError, match=r"Mending\(\) takes a Build, not int"):
        postcheck.Mending(7)  # type: ignore[arg-type]


_RECORDED = ROOT / "tests" / "builds" / "faulty" / "proof-current.post.toml"


@pytest.mark.parametrize(
    ("without", "says"),
    [
        ({"lamp": ()}, "there is no part 'stern lamp'"),
        ({"circuit": {}}, "there is no circuit 'deck'"),
        ({"supply": {}}, "there is no supply 'main'"),
    ],
)
def test_a_copy_that_no_file_could_say_is_refused_in_words(without: dict[str, Any], says: str) -> None:
    build = postcheck.load(_RECORDED)
    for function in (postcheck.check, postcheck.parts_list, postcheck.bench_tests):
        function(build)
        with pytest.raises(postcheck.BuildError, match=says):
            function(build.model_copy(update=without))


def test_a_copy_that_is_whole_is_judged_as_the_file_that_says_it() -> None:
    build = postcheck.load(_RECORDED)
    without = build.model_copy(update={"proof": ()})
    text = _RECORDED.read_text(encoding="utf-8").partition("[[proof]]")[0]
    told = [postcheck.check(one).files[0] for one in (without, postcheck.loads(text))]
    assert [one.id for one in told[0].findings] == [one.id for one in told[1].findings]
