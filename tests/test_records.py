"""A record is to everybody what a dataclass of the standard library is."""

from __future__ import annotations

import copy
import dataclasses
import inspect
import pickle
from collections.abc import Callable
from functools import cached_property, partial
from typing import Any

import pytest

from postcheck.records import dataclass as record


def described(made_by: Callable[..., Any], **how: bool) -> Any:
    """The same class, made by one or the other."""

    @made_by(**how)
    class Lamp:
        """A lamp."""

        name: str
        amps: float = 0.02
        notes: dict[str, str] = dataclasses.field(default_factory=dict)
        seen: int = dataclasses.field(default=0, repr=False, compare=False)

        @property
        def milliamps(self) -> float:
            return 1e3 * self.amps

    return Lamp


WAYS = [
    {"frozen": frozen, "slots": slots, "kw_only": kw_only}
    for frozen in (True, False)
    for slots in (True, False)
    for kw_only in (True, False)
]
CALLS: list[tuple[tuple[Any, ...], dict[str, Any]]] = [
    (("nose",), {}),
    (("nose", 0.01), {"seen": 3}),
    (("nose", 0.01, {"a": "b"}, 7), {}),
    ((), {"name": "nose"}),
    ((), {"seen": 1, "name": "nose", "amps": float("nan")}),
    ((), {}),
    ((), {"amps": 1.0}),
    (("nose", 0.01, {}, 1, "too many"), {}),
    (("nose",), {"name": "twice"}),
    (("nose",), {"unknown": 1}),
    (("nose", 0.01, {}, 1), {"amps": 2.0}),
]


def outcome(what: Callable[[], Any]) -> Any:
    """What comes of it, or the kind of its error."""
    try:
        return what()
    except Exception as error:
        return type(error)


@pytest.mark.parametrize("how", WAYS, ids=str)
def test_it_takes_and_tells_the_same(how: dict[str, bool]) -> None:
    ours, theirs = described(record, **how), described(dataclasses.dataclass, **how)
    for given, named in CALLS:
        mine, its = (outcome(partial(made, *given, **named)) for made in (ours, theirs))
        assert repr(mine) == repr(its), (given, named)
        if isinstance(mine, type):
            continue
        assert (mine.name, mine.seen, mine.milliamps) == (
            its.name,
            its.seen,
            pytest.approx(its.milliamps, nan_ok=True),
        )
        assert dataclasses.is_dataclass(mine)
        assert repr(dataclasses.asdict(mine)) == repr(dataclasses.asdict(its))
        assert [field.name for field in dataclasses.fields(mine)] == [
            field.name for field in dataclasses.fields(its)
        ]
        assert repr(dataclasses.replace(mine, name="tail")) == repr(dataclasses.replace(its, name="tail"))
        assert mine.__match_args__ == its.__match_args__
        for change in (
            lambda one: setattr(one, "amps", 1.0),
            lambda one: delattr(one, "amps"),
            hash,
        ):
            assert outcome(partial(change, mine)) == outcome(partial(change, its))


@pytest.mark.parametrize("how", WAYS, ids=str)
def test_it_is_equal_to_what_has_the_same_values_and_is_of_its_class(how: dict[str, bool]) -> None:
    made, other = described(record, **how), described(record, **how)
    assert made(name="nose") == made(name="nose", seen=3)
    assert made(name="nose") != made(name="nose", amps=0.01)
    assert made(name="nose") != other(name="nose")
    assert made(name="nose") != ("nose", 0.02, {}, 0)


def test_it_is_called_as_its_signature_says() -> None:
    ours = inspect.signature(described(record, frozen=True, slots=True))
    assert str(ours).replace("{}", "<factory>") == str(inspect.signature(described(dataclasses.dataclass)))
    assert ours.parameters["notes"].default == {}
    assert (
        inspect.signature(described(record, kw_only=True)).parameters["amps"].kind
        is inspect.Parameter.KEYWORD_ONLY
    )


def test_a_default_is_made_anew_for_each() -> None:
    made = described(record, slots=True)
    one, other = made("nose"), made("tail")
    one.notes["said"] = "dim"
    assert other.notes == {}


def test_it_takes_no_value_that_it_has_no_field_for() -> None:
    for slots in (
        True,
        False,
    ):  # that of the standard library says so too, but before Python 3.12 not with slots
        with pytest.raises(dataclasses.FrozenInstanceError, match="cannot assign to field 'new'"):
            described(record, frozen=True, slots=slots)("nose").new = 1.0
    with pytest.raises(AttributeError):
        described(record, slots=True)("nose").new = 1.0


@record(frozen=True, slots=True)
class Post:
    """Where pickle finds it."""

    bore: float
    inside: tuple[Post, ...] = ()

    def __post_init__(self) -> None:
        if self.bore <= 0.0:
            raise ValueError("bore must be above zero")


@record(frozen=True, slots=True, kw_only=True)
class LongPost(Post):
    """With one more, and what it was given before."""

    length: float = 0.1


@record(frozen=True)
class Known:
    """Without slots, so that it can keep what it worked out."""

    bore: float

    @cached_property
    def half(self) -> float:
        return self.bore / 2


def test_copies_are_equal_and_as_hard_to_change() -> None:
    post = Post(0.005, (Post(0.003),))
    for again in (copy.copy(post), copy.deepcopy(post), pickle.loads(pickle.dumps(post))):
        assert again == post
        assert hash(again) == hash(post)
        with pytest.raises(dataclasses.FrozenInstanceError, match="cannot assign to field 'bore'"):
            again.bore = 1.0
    assert pickle.loads(pickle.dumps(Known(0.004))) == Known(0.004)


def test_what_is_checked_afterwards_is_checked() -> None:
    with pytest.raises(ValueError, match="above zero"):
        Post(0.0)
    with pytest.raises(ValueError, match="above zero"):
        dataclasses.replace(Post(0.1), bore=-1.0)


def test_one_of_another_has_the_fields_of_both() -> None:
    assert LongPost(bore=0.005, length=0.2).length == 0.2
    assert repr(LongPost(bore=0.005)) == "LongPost(bore=0.005, inside=(), length=0.1)"
    assert LongPost(bore=0.005) != Post(0.005)


def test_it_keeps_what_it_worked_out() -> None:
    assert Known(0.004).half == 0.002
    with pytest.raises(dataclasses.FrozenInstanceError):
        Known(0.004).bore = 1.0  # type: ignore[misc]


def test_a_match_takes_it_apart() -> None:
    match Post(0.005):
        case Post(bore):
            assert bore == 0.005
        case _:
            pytest.fail("a record is taken apart by its fields")
