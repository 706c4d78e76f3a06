"""A build cannot be changed, by no container in it; it is equal to one that says the same, and a key."""

from __future__ import annotations

import copy
import pickle
import typing
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import tomli
from hypothesis import given, settings
from hypothesis import strategies as st

import postcheck
from postcheck.description import models, quantities
from postcheck.description.frozen import FrozenDict, frozen
from postcheck.description.models import Build, Table, Workshop
from postcheck.reading.loading import built

ROOT = Path(__file__).parent.parent.parent
AIRSHIP = (ROOT / "example_builds" / "mail_airship.post.toml").read_text(encoding="utf-8")
FILES = sorted((ROOT / "tests" / "builds" / "sound").glob("*.post.toml"))
SCALARS = (str, int, float, bool, date, type(None))


def tables() -> list[type[Table]]:
    """Every model that a build or a workshop file is made of, found through the types of their fields."""
    found: dict[type[Table], None] = {}

    def follow(kind: Any) -> None:
        if isinstance(kind, type) and issubclass(kind, Table) and kind not in found:
            found[kind] = None
            for field in kind.model_fields.values():
                follow(field.annotation)
        for argument in typing.get_args(kind):
            follow(argument)

    follow(Build)
    follow(Workshop)
    return list(found)


TABLES = tables()


def test_every_model_is_found() -> None:
    named = [getattr(models, name) for name in models.__all__]
    assert set(TABLES) == {one for one in named if isinstance(one, type)} - {Table}
    assert len(TABLES) > 25


def leaves(kind: Any) -> Iterator[Any]:
    """What a field's type is made of, those of tuples and frozen tables taken apart."""
    origin, arguments = typing.get_origin(kind), typing.get_args(kind)
    if origin is typing.Literal or (origin is None and not arguments):
        yield kind
    elif origin is typing.Annotated:
        yield from leaves(arguments[0])
    elif (
        origin in {tuple, FrozenDict}
        or type(None) in arguments
        or origin is typing.Union
        or bool in arguments
    ):
        for argument in arguments:
            if argument is not Ellipsis:
                yield from leaves(argument)
    else:
        yield kind


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.__name__)
def test_no_field_is_of_a_type_that_can_be_changed(table: type[Table]) -> None:
    for name, field in table.model_fields.items():
        for kind in leaves(field.annotation):
            plain = typing.get_origin(kind) is typing.Literal or kind in {*SCALARS, quantities.Spread}
            assert plain or issubclass(kind, Table), (name, kind)


def example_of(field: Any) -> Any:
    """A value as a file gives it: the field's own example, or that of its type."""
    schemas = [getattr(mark, "json_schema", None) or {} for mark in field.metadata]
    for examples in (field.examples, *(schema.get("examples") for schema in schemas)):
        if examples:
            return examples[0]
    for kind in leaves(field.annotation):
        if typing.get_origin(kind) is typing.Literal:
            return typing.get_args(kind)[0]
        if kind in {bool, int}:
            return True if kind is bool else 1
    raise AssertionError(f"no example for {field}")


def full(table: type[Table]) -> Table:
    """One of this model with every key given."""
    return table.model_validate(
        {field.alias or name: example_of(field) for name, field in table.model_fields.items()}
    )


def contained(value: Any) -> Iterator[Any]:
    """A value and all in it."""
    yield value
    if isinstance(value, Table):
        for name in type(value).model_fields:
            yield from contained(getattr(value, name))
    elif isinstance(value, FrozenDict | tuple):
        for inner in value.values() if isinstance(value, FrozenDict) else value:
            yield from contained(inner)
    else:
        assert isinstance(value, SCALARS), type(value)


CHANGES: dict[type, list[str]] = {
    tuple: [
        "it[0] = it[0]", "it[:] = []", "del it[0]", "del it[:]", "it.append(1)", "it.extend([1])", "it.insert(0, 1)",
        "it.pop()", "it.remove(it[0])", "it.clear()", "it.sort()", "it.reverse()", "it.__init__([])", "it.new = 1",
    ],
    FrozenDict: [
        "it[key] = it[key]", "it['new'] = 1", "del it[key]", "it.update(new=1)", "it.setdefault('new', 1)", "it.pop(key)",
        "it.popitem()", "it.clear()", "it |= {'new': 1}", "it.__init__({'new': 1})", "it._items['new'] = 1",
        "it._items = {}", "del it._items", "it.new = 1", "it.__dict__['new'] = 1",
    ],
    Table: [
        "it.new = 1", "it['new'] = 1", "it.file = 'other'", "it.text = 'other'", "it.used = ()", "it.clear()",
        "it.model_config = {}", "it.model_fields = {}",
    ],
}  # fmt: skip


def attempts(value: Any) -> Iterator[tuple[Any, str, dict[str, Any]]]:
    for kind, changes in CHANGES.items():
        if isinstance(value, kind) and (value or kind is Table):
            given = {"it": value}
            if kind is FrozenDict:
                given["key"] = next(iter(value))
            yield from ((value, change, given) for change in changes)
    if isinstance(value, Table):
        for name in type(value).model_fields:
            yield value, f"it.{name} = it.{name}", {"it": value}
            yield value, f"del it.{name}", {"it": value}
            if isinstance(getattr(value, name), tuple):
                yield value, f"it.{name} += (1,)", {"it": value}


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.__name__)
def test_nothing_in_it_can_be_changed(table: type[Table]) -> None:
    whole, same = full(table), full(table)
    number = hash(whole)
    containers = {
        name
        for name, field in table.model_fields.items()
        if {tuple, FrozenDict} & {typing.get_origin(kind) for kind in (field.annotation, *typing.get_args(field.annotation))}
    }  # fmt: skip
    for name in containers:  # so that none of them is passed by for having nothing in it
        assert getattr(whole, name), name
        assert isinstance(getattr(whole, name), tuple | FrozenDict), name
    tried = 0
    for value in contained(whole):
        for _, change, names in attempts(value):
            try:
                exec(change, dict(names))
            except (TypeError, AttributeError, ValueError):
                pass
            else:
                assert "__init__" in change, (
                    f"{change} of {value!r}"
                )  # object's own takes anything, and does nothing
            tried += 1
    assert tried >= 10
    assert whole == same
    assert hash(whole) == number == hash(same)


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.__name__)
def test_what_is_left_out_is_frozen_too(table: type[Table]) -> None:
    needed = {
        field.alias or name: example_of(field)
        for name, field in table.model_fields.items()
        if field.is_required()
    }
    least = table.model_validate(needed)
    assert isinstance(hash(least), int)
    assert len(list(contained(least))) > 0


def test_what_the_readme_says_cannot_be_done() -> None:
    build: Any = postcheck.loads(AIRSHIP)
    with pytest.raises(AttributeError):
        build.lamp.append(build.lamp[0])
    with pytest.raises(TypeError):
        build.place["attic"] = build.place["keel"]
    with pytest.raises(ValueError, match="frozen"):
        build.usual.lead = "ptfe-28"
    with pytest.raises(ValueError, match="frozen"):
        del build.post
    with pytest.raises(TypeError):
        del build.place["keel"]
    assert build == postcheck.loads(AIRSHIP)


# Equality


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem.removesuffix(".post"))
def test_read_twice_is_equal_wherever_it_was_read(path: Path) -> None:
    one = postcheck.load(path)
    other = postcheck.loads(path.read_text(encoding="utf-8"), folder=path.parent)
    assert one == other == built(tomli.loads(one.text or ""))
    assert hash(one) == hash(other)
    assert len({one, other}) == 1
    assert one.file != other.file


def test_where_it_stands_does_not_count_and_what_it_says_does() -> None:
    one = postcheck.loads(AIRSHIP)
    moved = postcheck.loads(f"# another\n\n{AIRSHIP}", "elsewhere")
    assert one == moved
    assert hash(one) == hash(moved)
    other = postcheck.loads(AIRSHIP.replace("1k at keel", "1k1 at keel", 1))
    assert one != other
    assert one != one.model_dump()
    assert one.usual != one.stock


def test_true_is_no_ohm() -> None:
    """Both are 1 to Python."""
    head = AIRSHIP + '[[proof]]\nsubject = "running feed"\ncontinuity = '
    builds = [postcheck.loads(head + said) for said in ("true", '"1 ohm"', "false", '"0 ohm"')]
    assert all((one == other) is (one is other) for one in builds for other in builds)
    assert len(set(builds)) == 4


def test_one_line_and_table_say_the_same() -> None:
    short = 'resistor = "1k at keel"'
    assert AIRSHIP.count(short) >= 1
    long = 'resistor = { ohms = "1000 ohm", place = "keel" }'
    assert postcheck.loads(AIRSHIP) == postcheck.loads(AIRSHIP.replace(short, long))


def shuffled(value: Any, draw: Any) -> Any:
    """The same tables, their keys in another order; a list keeps its own."""
    if isinstance(value, dict):
        return {key: shuffled(value[key], draw) for key in draw(st.permutations(list(value)))}
    return [shuffled(item, draw) for item in value] if isinstance(value, list) else value


def texts(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The paths of all texts in a document."""
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, item in items:
        yield from texts(item, (*path, key))
    if isinstance(value, str):
        yield path


def put(value: Any, path: tuple[Any, ...], new_value: Any) -> Any:
    if not path:
        return new_value
    new = copy.copy(value)
    new[path[0]] = put(value[path[0]], path[1:], new_value)
    return new


DOCUMENTS = [tomli.loads(path.read_text(encoding="utf-8")) for path in FILES]
DOCUMENTS = [document for document in DOCUMENTS if not document.get("use")]


@settings(max_examples=60)
@given(st.data())
def test_equal_is_what_says_the_same(data: st.DataObject) -> None:
    document = data.draw(st.sampled_from(DOCUMENTS))
    one, other = built(document), built(shuffled(document, data.draw), "other")
    assert one == other
    assert hash(one) == hash(other)
    path = data.draw(st.sampled_from(list(texts(document))))
    text = data.draw(st.sampled_from(["1 V", "2 mA", "12 %", "red", "base", "hub", "4k7", "60 mm"]))
    try:
        changed = built(put(document, path, text))
    except postcheck.BuildError:
        return
    same = one.model_dump() == changed.model_dump()
    assert (one == changed) is same
    assert not same or hash(one) == hash(changed)


# What a build is made of in Python


def tupled(value: Any) -> Any:
    """The same tables with tuples for lists."""
    if isinstance(value, dict):
        return {key: tupled(item) for key, item in value.items()}
    return tuple(map(tupled, value)) if isinstance(value, list) else value


def test_tuples_are_taken_for_lists() -> None:
    tables = tomli.loads(AIRSHIP)
    assert built(tables) == built(tupled(tables))


@pytest.mark.parametrize(
    ("place", "wrong"),
    [(("run", 0, "ends"), "base"), (("run", 0, "ends"), ["base"]), (("run", 0, "ends", 1), 3), (("lamp", 0, "lead"), ["red"])],
)  # fmt: skip
def test_what_is_wrong_in_a_tuple_is_told_as_in_a_list(place: tuple[Any, ...], wrong: Any) -> None:
    tables = put(tomli.loads(AIRSHIP), place, wrong)
    told = []
    for those in (tables, tupled(tables)):
        with pytest.raises(postcheck.BuildError) as caught:
            built(those)
        told.append([str(problem) for problem in caught.value.problems if problem.path[:1] == place[:1]])
    assert told[0] == told[1] != []


# Copies


@pytest.mark.parametrize(
    "copied",
    [
        copy.copy,
        copy.deepcopy,
        lambda build: pickle.loads(pickle.dumps(build)),
        lambda build: build.model_copy(),
        lambda build: build.model_copy(deep=True),
    ],
    ids=["copy", "deepcopy", "pickle", "model_copy", "deep model_copy"],
)
def test_a_copy_is_equal_and_frozen_and_knows_its_text(copied: Any) -> None:
    for build in (postcheck.loads(AIRSHIP, "airship"), full(Build)):
        other = copied(build)
        assert other == build
        assert hash(other) == hash(build)
        assert list(contained(other)) == list(contained(build))
        if isinstance(build, Build) and build.text:
            assert (other.file, other.text, other.used) == (build.file, build.text, build.used)
            assert postcheck.check(other) == postcheck.check(build)


def test_pickled_by_every_protocol() -> None:
    build = postcheck.loads(AIRSHIP)
    for protocol in range(pickle.HIGHEST_PROTOCOL + 1):
        assert pickle.loads(pickle.dumps(build, protocol)) == build


def test_a_changed_copy_is_frozen_whatever_it_is_given() -> None:
    build = postcheck.loads(AIRSHIP)
    other = build.model_copy(
        update={"lamp": list(build.lamp), "place": dict(build.place), "run": [], "post": None}
    )
    assert other == build.model_copy(update={"run": (), "post": None})
    assert isinstance(hash(other), int)
    assert list(contained(other))
    assert build == postcheck.loads(AIRSHIP)


def test_a_copy_as_plain_data() -> None:
    build = full(Build)
    plain = build.model_dump()
    assert type(plain["place"]) is dict
    assert type(plain["place"]["base"]) is dict
    assert '"place":{"base":{"access":"open"' in build.model_dump_json()


# The type itself

KEYS = st.text(max_size=3)
PLAIN = st.dictionaries(KEYS, st.integers() | KEYS | st.tuples(st.integers()), max_size=6)


@given(PLAIN, PLAIN)
def test_a_frozen_dict_is_its_items(first: dict[str, Any], second: dict[str, Any]) -> None:
    one, other = FrozenDict(first), FrozenDict(second)
    assert (one == other) is (first == second)
    assert (one == second) is (first == second)
    assert one != other or hash(one) == hash(other)
    assert list(one.items()) == list(first.items())
    assert list(one) == list(one.keys()) == list(first)
    assert list(one.values()) == list(first.values())
    assert len(one) == len(first)
    assert all(key in one and one[key] == first[key] and one.get(key) == first[key] for key in first)
    assert ("new key" in one, one.get("new key", 3)) == (False, 3)
    assert {**one} == first
    assert eval(repr(one)) == one


@given(PLAIN)
def test_a_frozen_dict_is_cut_off_from_what_it_was_made_of(first: dict[str, Any]) -> None:
    one, before = FrozenDict(first), dict(first)
    first["a new key"] = 1
    assert one == before
    for other in (copy.copy(one), copy.deepcopy(one), pickle.loads(pickle.dumps(one)), FrozenDict(one)):
        assert other == one
        assert list(other) == list(one)
        assert hash(other) == hash(one)


def test_a_frozen_dict_of_what_has_no_hash_has_none() -> None:
    with pytest.raises(TypeError, match="unhashable"):
        hash(FrozenDict({"a": []}))


def test_all_in_it_is_frozen() -> None:
    assert frozen([{"a": [1, {"b": 2}]}, "c"]) == (FrozenDict({"a": (1, FrozenDict({"b": 2}))}), "c")
    spread = quantities.Spread(1.0, 2.0, 3.0)
    assert frozen(spread) is spread
