"""A build with some keys changed is the build of the changed text, and nothing else."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import tomli
from hypothesis import given
from hypothesis import strategies as st

import postcheck
from postcheck.description.problems import BuildError, QuantityError
from postcheck.description.toml_text import in_toml
from postcheck.reading.what_if import Assignment, assigned, assignment, key_steps
from tests.renderers.hostile import FORBIDDEN

ROOT = Path(__file__).parent.parent.parent
AIRSHIP = ROOT / "example_builds" / "mail_airship.post.toml"
TEXT = AIRSHIP.read_text(encoding="utf-8")
BUILDS = sorted(
    [*(ROOT / "example_builds").glob("*.toml"), *(ROOT / "tests" / "builds" / "sound").glob("[a-d]*.toml")]
)


@pytest.mark.parametrize(
    ("changes", "before", "after"),
    [
        ({"post.bore": "3 mm"}, 'bore   = "5 mm"', 'bore   = "3 mm"'),
        ({'lamp."nose lamp".resistor.ohms': "390 ohm"}, '"1k at keel"', '"390 ohm at keel"'),
        ({"lamp.nose lamp.resistor": "390 ohm at keel"}, '"1k at keel"', '"390 ohm at keel"'),
        ({"post.stop": False}, "stop   = true", "stop   = false"),
        ({"post.turn": "30 deg", "post.bore": "3 mm"}, 'bore   = "5 mm"', 'bore   = "3 mm"\n#'),
    ],
)
def test_it_equals_the_changed_text(changes: dict[str, Any], before: str, after: str) -> None:
    nose = TEXT.index('name     = "nose lamp"') if "1k" in before else 0
    assert before in TEXT[nose:]
    text = TEXT[:nose] + TEXT[nose:].replace(before, after, 1)
    if "post.turn" in changes:
        text = text.replace('turn   = "90 deg"', 'turn   = "30 deg"', 1)
        assert '"30 deg"' in text
    build = postcheck.loads(TEXT, "airship")
    changed = postcheck.what_if(build, changes)
    same = postcheck.loads(text, "airship")
    assert (changed, changed.file) == (same, "airship")
    assert changed != build
    ours, theirs = (postcheck.check(one).files[0] for one in (changed, same))
    assert [one.says for one in ours.findings] == [one.says for one in theirs.findings]
    assert (ours.figures, ours.verdict) == (theirs.figures, theirs.verdict)


def leaves(value: object, steps: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], object]]:
    """Every key of a document that has a value, and every table that has a name or stands alone."""
    if isinstance(value, dict):
        if len(steps) > 1:
            yield steps, value
        for key, inner in value.items():
            yield from leaves(inner, (*steps, key))
    elif isinstance(value, list) and any(isinstance(item, dict) for item in value):
        for number, inner in enumerate(value, 1):
            yield from leaves(inner, (*steps, str(number)))
    elif steps != ("use",):
        yield steps, value


@pytest.mark.parametrize("file", BUILDS, ids=lambda file: file.name)
def test_every_key_can_be_named_and_its_own_value_changes_nothing(file: Path) -> None:
    build = postcheck.load(file)
    found = list(leaves(tomli.loads(file.read_text(encoding="utf-8"))))
    assert len(found) > 10
    for steps, value in found:
        changed = assigned(build, [Assignment(steps, value)])
        assert changed == build, steps
        (one,) = changed._assigned
        assert one.was == one.value == in_toml(value)
        # what people are shown can be typed again
        typed = assignment(f"{one.key} = {one.value}")
        assert typed.value == value
        assert assigned(build, [typed])._assigned == (one,)


def test_what_a_workshop_says_can_be_changed_and_the_files_are_not_read_again(tmp_path: Path) -> None:
    shared = 'format = 1\n[wire.house]\nstrands = 7\nstrand = "0.10 mm"\noutside = "{}"\n'
    (tmp_path / "workshop.toml").write_text(shared.format("0.6 mm"), encoding="utf-8")
    file = tmp_path / "airship.post.toml"
    text = TEXT.replace("format = 1", 'format = 1\nuse = ["workshop.toml"]', 1).replace(
        '"ptfe-28"', '"house"', 1
    )
    file.write_text(text, encoding="utf-8")
    build = postcheck.load(file)
    (tmp_path / "workshop.toml").write_text(shared.format("0.9 mm"), encoding="utf-8")
    again = postcheck.load(file)
    (tmp_path / "workshop.toml").unlink()
    changed = postcheck.what_if(build, {"wire.house.outside": "0.9 mm"})
    assert changed == again != build
    assert changed.used == build.used
    assert file.read_text(encoding="utf-8") == text


def test_findings_keep_the_place_in_the_file_and_the_report_says_what_was_changed() -> None:
    build = postcheck.loads(TEXT, "airship")
    changed = postcheck.what_if(build, {"post.bore": "1.9 mm", "stock.series": "E96"})
    report = postcheck.check(changed).files[0]
    line = TEXT.splitlines().index('bore   = "5 mm"') + 1
    (finding,) = (one for one in report.findings if one.check == "passage.cannot-fit")
    assert finding.where is not None
    assert (finding.where.line, finding.where.column) == (line, 1)
    bore, series = report.what_if
    assert bore == postcheck.WhatIf("post.bore", '"1.9 mm"', '"5 mm"', postcheck.Where("airship", line, 1))
    assert (series.key, series.value, series.was) == ("stock.series", '"E96"', None)
    assert all(edit.typed is None for one in report.findings for edit in one.edits or ())
    assert postcheck.check(build).files[0].what_if == ()
    assert dict(build.changes) == {}
    assert dict(changed.changes) == {"post.bore": '"1.9 mm"', "stock.series": '"E96"'}


def test_changes_add_up_and_the_last_one_counts() -> None:
    build = postcheck.loads(TEXT)
    once = postcheck.what_if(build, {"post.bore": "3 mm", 'lamp."nose lamp".resistor.ohms': "2k"})
    twice = postcheck.what_if(once, {"post.bore": "4 mm", "lamp.nose lamp.resistor": "3k at keel"})
    assert [(one.key, one.value, one.was) for one in twice._assigned] == [
        ("post.bore", '"4 mm"', '"5 mm"'),
        ('lamp."nose lamp".resistor', '"3k at keel"', '"1k at keel"'),
    ]


@pytest.mark.parametrize(
    ("key", "value", "says"),
    [
        ("post.boer", "6 mm", "with post.boer = \"6 mm\": post knows no key 'boer'; did you mean 'bore'?"),
        ("bild.name", "x", "with bild.name = \"x\": the file knows no key 'bild'; did you mean 'build'?"),
        ("lamp.nos lamp.wanted", "5 mA", "there is no lamp 'nos lamp'; did you mean 'nose lamp'?"),
        ("lamp.99.wanted", "5 mA", "there is no lamp '99'; positions go from 1 to 6"),
        ("lamp.0.wanted", "5 mA", "there is no lamp '0'; positions go from 1 to 6"),
        ("run.running feed.ends.3", "keel", "'run.\"running feed\".ends' has no '3'; positions go from 1 to 2"),
        ("lamp.1.dice.red.circuit", "x", "the file has no lamp.\"port running lamp\".dice.red; describe it there first"),
        ("join.1.place", "keel", "there is no join '1'; the list is empty"),
        ("supply.mian.volts", "5 V", "there is no supply 'mian'; did you mean 'main'?"),
        ("passage.spar.bore", "5 mm", "there is no passage 'spar'; the file has none"),
        ("lamp", [], "'lamp' is a list of tables; name one of them and its key, as in lamp.1.KEY"),
        ("post.bore", 6, "the number 6 has no unit"),
        ("post.bore", "6 V", "'6 V' is a voltage; a length is needed"),
        ("post.bore.across", "6 mm", "'post.bore' is \"5 mm\"; nothing stands below it"),
        ("usual.run", "ptfe-29", "there is no wire 'ptfe-29'; did you mean 'ptfe-"),
        ("lamp.nose lamp.lead.lenght", "9 mm", "lead knows no key 'lenght'; did you mean 'length'?"),
        ("use", ["workshop.toml"], "`use` cannot be changed so"),
        ("place.keel.access", "opne", "did you mean \"open\"?"),
        ("post.", "6 mm", "'post.' is no key"),
        ("post.bore = 1\nformat", 1, "is no key"),
    ],
)  # fmt: skip
def test_what_is_not_known_is_told_in_one_message_with_the_nearest(key: str, value: Any, says: str) -> None:
    with pytest.raises(BuildError) as caught:
        postcheck.what_if(postcheck.loads(TEXT, "airship"), {key: value})
    (problem,) = caught.value.problems
    assert says in str(problem)
    assert problem.line is None
    assert caught.value.file == "airship"


def test_a_table_that_is_not_there_is_made_where_all_its_keys_may_be_left_out_and_else_asked_for() -> None:
    bare = postcheck.loads(TEXT[: TEXT.index("[post]")] + TEXT[TEXT.index("[place.base]") :])
    with pytest.raises(BuildError, match=r"the file has no \[post\]"):
        postcheck.what_if(bare, {"post.bore": "5 mm"})
    assert postcheck.what_if(bare, {"stock.series": "E12"}).stock.series == "E12"
    attic = postcheck.what_if(bare, {"place.attic": {"access": "open"}})
    assert attic.place["attic"].access == "open"


def test_what_goes_wrong_elsewhere_is_told_at_its_place_in_the_file() -> None:
    with pytest.raises(BuildError) as caught:
        postcheck.what_if(postcheck.loads(TEXT, "airship"), {"lamp.car windows.name": "nose lamp"})
    line = TEXT.splitlines().index('name     = "nose lamp"') + 1
    assert str(caught.value).startswith(f"airship:{line}:12: there is already a lamp named 'nose lamp'")


def test_a_copy_that_was_changed_in_memory_is_refused() -> None:
    build = postcheck.loads(TEXT)
    copy = build.model_copy(update={"post": None})
    with pytest.raises(ValueError, match="changed in memory"):
        postcheck.what_if(copy, {"post.bore": "5 mm"})
    assert postcheck.what_if(build.model_copy(), {"post.bore": "6 mm"}).post != build.post
    with pytest.raises(TypeError):
        postcheck.what_if(build, {"post.bore": object()})  # type: ignore[dict-item]
    with pytest.raises(TypeError):
        postcheck.what_if(TEXT, {})  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "steps", "value"),
    [
        ('post.bore = "6 mm"', ("post", "bore"), "6 mm"),
        ("post.bore=6 mm", ("post", "bore"), "6 mm"),
        ("post.bore =  1/4 in ", ("post", "bore"), "1/4 in"),
        ("post.stop = true", ("post", "stop"), True),
        ("lamp.1.series=3", ("lamp", "1", "series"), 3),
        ('lamp."a.b = c".wanted = 5 mA', ("lamp", "a.b = c", "wanted"), "5 mA"),
        ("lamp.nose lamp.lead=90 mm to keel, red/black", ("lamp", "nose lamp", "lead"), "90 mm to keel, red/black"),
        ('place.attic = { access = "open" }', ("place", "attic"), {"access": "open"}),
        ("proof.1.date = 2026-11-25", ("proof", "1", "date"), date(2026, 11, 25)),
        ("build.name = a = b", ("build", "name"), "a = b"),
        ("x = '''\nfirst\nsecond'''", ("x",), "first\nsecond"),
    ],
)  # fmt: skip
def test_an_assignment_is_read(text: str, steps: tuple[str, ...], value: object) -> None:
    assert assignment(text) == (steps, value)


@pytest.mark.parametrize(
    "text",
    ["", "post", "post.bore", "= 6 mm", "post.bore =", 'post.bore = "6 mm', "a = [1", "a = 1\nb = 2", "a..b = 1", "[a] = 1"],
)  # fmt: skip
def test_what_is_no_assignment_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(QuantityError, match=r'write it like post\.bore = "6 mm"'):
        assignment(text)


@given(st.text("ab.=[]{}\"'\\#,\n\t -1", max_size=30))
def test_whatever_is_typed_is_read_or_refused(text: str) -> None:
    try:
        steps, _ = assignment(text)
    except QuantityError:
        return
    assert steps
    assert all(isinstance(step, str) for step in steps)


@given(st.lists(st.text(st.characters(exclude_categories=["Cs"]), max_size=8), min_size=1, max_size=4))
def test_a_key_as_it_is_shown_is_read_back(steps: list[str]) -> None:
    from postcheck.description.toml_text import key_in_toml  # noqa: PLC0415

    assert key_steps(".".join(map(key_in_toml, steps))) == tuple(steps)


def test_neither_key_nor_value_steers_a_terminal() -> None:
    build = postcheck.load(ROOT / "example_builds" / "tender.post.toml")
    for key, value in (
        ("supply.main.volts", "\u202e"),
        ("supply.main.volts", "\ud800"),
        ("\ud800", "1"),
        ("supply.\x1b[2J", "1"),
    ):
        with pytest.raises(BuildError) as refused:
            postcheck.what_if(build, {key: value})
        assert not FORBIDDEN.search(str(refused.value))
