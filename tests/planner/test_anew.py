"""Builds planned anew over the wiring that they have: what is kept, what goes, and what the file says afterwards."""

from __future__ import annotations

import difflib
import random
import re
from pathlib import Path

import pytest
import tomli
from hypothesis import given, settings
from hypothesis import strategies as st

import postcheck
from postcheck.description.positions import locate
from postcheck.planner import plan
from postcheck.planner.anew import bared, found_anew, replaceable
from postcheck.planner.cost import conductors
from postcheck.planner.planning import survey_of
from tests.planner.wishes import random_wish, toml

HERE = Path(__file__).parents[2]
EXAMPLES = sorted((HERE / "example_builds").glob("*.toml"))
SOUND = sorted((HERE / "tests" / "builds" / "sound").glob("*.toml"))
# What a plan may set or take out in tables that stay.
CHOSEN = ("resistor", "lead", "strings_share", "wire", "length", "conductors", "colour", "label", "ohms", "fuse", "rated",
          "own_return", "through", "run")  # fmt: skip


def _judged(text: str, folder: Path | None = None) -> str:
    build = postcheck.loads(text, folder=folder)
    stage = "planning" if build.build.stage == "planning" else "wiring"
    return postcheck.check(build, stage=stage).files[0].verdict  # type: ignore[arg-type]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_needs_no_stripping_and_comes_out_no_worse(path: Path) -> None:
    by_hand = postcheck.load(path)
    planned = found_anew(survey_of(by_hand), 60.0)
    assert planned.build is not None
    assert planned.anew is not None
    assert conductors(planned.build)["post"] <= conductors(by_hand)["post"]
    bare = bared(survey_of(by_hand))
    assert not any(run.carries == "power" and not run.spare for run in bare.run)  # all was open
    assert all(lamp.resistor is None for lamp in bare.lamp)


@pytest.mark.parametrize("path", SOUND[::6], ids=lambda path: path.stem)
def test_a_sound_build_is_planned_anew_and_its_file_differs_in_nothing_else(path: Path) -> None:
    build = postcheck.load(path)
    planned = plan(build, anew=True, seconds=60.0)
    assert planned.verdict == "clear"
    assert planned.text is not None
    assert _judged(planned.text, path.parent) == "clear"
    before = {name: count for name, count, _ in planned.was.passages}
    assert all(one.conductors <= before[one.name] for one in planned.passages if before)
    if planned.stays:
        assert planned.text == build.text
        assert (planned.gone, planned.values, planned.tables) == ((), (), "")
        return
    _nothing_else(build.text or "", planned.text)


def _nothing_else(old: str, new: str) -> None:
    """Lines that go are of tables that go, or of keys that a plan chooses; lines that come are such keys or whole new runs."""
    assert _without_choice(new) == _without_choice(old)
    comments = [line for line in difflib.ndiff(old.splitlines(), new.splitlines()) if line.startswith("- #")]
    above = re.findall(r"(?m)^((?:#.*\n)+)\[\[(?:run|proof)\]\]", old)
    assert all(any(line[2:] in block for block in above) for line in comments)


def _without_choice(text: str) -> object:
    tables = tomli.loads(text)
    tables.pop("proof", None)
    usual = tables.get("usual", {})
    for key in ("run", "lead"):
        usual.pop(key, None)
    tables["usual"] = usual
    for section, rows in list(tables.items()):
        for row in rows if isinstance(rows, list) else rows.values() if isinstance(rows, dict) else ():
            if isinstance(row, dict) and section in (
                "lamp",
                "strip",
                "load",
                "supply",
                "circuit",
                "passage",
            ):
                for key in CHOSEN:
                    row.pop(key, None)
                for die in row.get("dice", {}).values():
                    die.pop("resistor", None)
    tables.get("post", {}).pop("through", None)
    tables.pop("run", None)
    return tables


# -- what is kept


def _blocks(text: str) -> dict[str, str]:
    """Each run, lamp, supply and circuit as it stands in a text, up to the next header or comment above it."""
    found = {}
    pieces = re.split(r"(?m)^(?=\[|#)", text)
    for number, piece in enumerate(pieces):
        if piece.startswith(("[[run]]", "[[lamp]]", "[supply.", "[circuit.")):
            found[piece.rstrip()] = pieces[number - 1].rstrip() if pieces[number - 1].startswith("#") else ""
    return found


def _wasteful(seed: int) -> str:
    """A planned build with more than it needs: each line laid twice, the second time with a comment of its own."""
    chance = random.Random(seed)
    tables = random_wish(seed, circuits=chance.randint(1, 3), leds=chance.randint(2, 6), bodies=2)
    planned = plan(postcheck.loads(toml(tables)), seconds=60.0)
    assert planned.text is not None
    again = re.findall(r"(?m)^\[\[run\]\]\n(?:\S.*\n)+", planned.text)
    return planned.text + "".join(
        f"\n# once more, number {number}\n{run}" for number, run in enumerate(again)
    )


WASTEFUL: dict[int, str] = {}


def _made(seed: int) -> str:
    if seed not in WASTEFUL:
        WASTEFUL[seed] = _wasteful(seed)
    return WASTEFUL[seed]


@settings(max_examples=10)
@given(st.sampled_from([1, 5, 11, 14]), st.randoms(use_true_random=False))
def test_what_is_kept_is_as_it_was_to_the_byte(seed: int, chance: random.Random) -> None:
    text = _made(seed)
    marked = re.sub(
        r"(?m)^\[(?:\[(?:run|lamp)\]|supply\.[^\]]+|circuit\.[^\]]+)\].*\n",
        lambda match: match[0] + ("keep = true\n" if chance.random() < 0.3 else ""),
        text,
    )
    build = postcheck.loads(marked)
    planned = plan(build, anew=True, seconds=60.0)
    assert planned.verdict == "clear"
    assert planned.text is not None
    assert _judged(planned.text) == "clear"
    before, after = _blocks(marked), _blocks(planned.text)
    kept = [block for block in before if "keep = true" in block]
    assert [block for block in after if "keep = true" in block] == kept
    assert all(after[block] == before[block] for block in kept)  # with the comment above it
    now = postcheck.loads(planned.text)
    assert [run for run in now.run if run.keep] == [run for run in build.run if run.keep]
    counts = conductors(now)
    assert counts["post"] <= conductors(build)["post"]
    if not any(run.keep for run in build.run):
        assert counts["post"] < conductors(build)["post"]
        assert planned.gone


def test_with_all_kept_nothing_is_better() -> None:
    text = EXAMPLES[0].read_text(encoding="utf-8")
    marked = re.sub(
        r"(?m)^\[(?:\[(?:run|lamp)\]|supply\.\w+|circuit\.\w+)\].*\n",
        lambda match: match[0] + "keep = true\n",
        text,
    )
    build = postcheck.loads(marked)
    assert bared(survey_of(build)) == build
    planned = plan(build, anew=True, seconds=60.0)
    assert planned.stays
    assert planned.text == marked


def test_a_plan_sets_nothing_in_what_is_kept() -> None:
    tables = random_wish(11, circuits=2, leds=4, bodies=1)
    for lamp in tables["lamp"]:
        lamp.pop("count", None)
    first = plan(postcheck.loads(toml(tables)), seconds=60.0)
    assert any(one.key == "fuse" for one in first.values)
    tables["supply"]["main"] |= {"keep": True, "rated": "1 A"}
    second = plan(postcheck.loads(toml(tables)), seconds=60.0)
    assert second.verdict == "clear"
    assert not any(one.table == "[supply.main]" for one in second.values)
    tables["lamp"][0]["keep"] = True  # built, and without a resistor
    third = plan(postcheck.loads(toml(tables)), seconds=2.0)
    assert third.verdict is None
    assert ("lamp.no-resistor", tables["lamp"][0]["name"]) in [
        (one.check, one.subject) for one in third.blocks
    ]


# -- what goes, and what stays though nobody kept it

WAYLESS = EXAMPLES[0].parent / "mail_airship.post.toml"


def _twice(more: str = "") -> str:
    """The airship with its feed laid twice, once with an extra word."""
    return WAYLESS.read_text(encoding="utf-8") + (
        f'\n# the old feed\n[[run]]\nname = "old feed"\nline = "running"\nends = ["base", "keel"]\nlength = "270 mm"\n{more}'
    )


def test_what_is_laid_twice_goes_with_its_comment_and_all_else_stays() -> None:
    text = _twice()
    planned = plan(postcheck.loads(text), anew=True, seconds=60.0)
    assert planned.gone == ("run 'old feed'",)
    assert planned.text == WAYLESS.read_text(encoding="utf-8")
    assert (planned.was.passages[0][1], planned.passages[0].conductors) == (6, 5)


@pytest.mark.parametrize("word", ["keep = true", "fixed = true"])
def test_what_is_kept_or_trapped_is_not_laid_again(word: str) -> None:
    text = _twice(f"{word}\n")
    planned = plan(postcheck.loads(text), anew=True, seconds=60.0)
    assert planned.gone == ("run 'running feed'",)  # the other one is enough
    assert planned.text is not None
    assert planned.text.endswith(f'length = "270 mm"\n{word}\n')
    assert planned.passages[0].conductors == 5


def test_spares_metal_cables_and_data_are_no_choice_of_a_plan() -> None:
    build = postcheck.load(WAYLESS)
    spare = next(number for number, run in enumerate(build.run) if run.spare)
    assert replaceable(build) == frozenset(range(len(build.run))) - {spare}
    for update in ({"body": True}, {"cable": "x"}, {"carries": "data"}, {"length": None}, {"keep": True}):
        other = build.model_copy(update={"run": (build.run[0].model_copy(update=update), *build.run[1:])})
        assert replaceable(other) == replaceable(build) - {0}


def test_a_test_record_goes_with_what_it_tested() -> None:
    proofs = "".join(
        f'\n[[proof]]\nsubject = "{name}"\ncontinuity = true\n' for name in ("old feed", "negative")
    )
    planned = plan(postcheck.loads(_twice() + proofs), anew=True, seconds=60.0)
    assert planned.gone == ("run 'old feed'", "proof of 'old feed'")
    assert planned.text is not None
    assert [one["subject"] for one in tomli.loads(planned.text)["proof"]] == ["negative"]


def test_a_lead_that_ways_give_the_length_of_may_end_elsewhere() -> None:
    text = WAYLESS.read_text(encoding="utf-8")
    way = '\n[[way]]\nfrom = "car"\nto = "keel"\nlength = "150 mm"\n'
    bare = bared(survey_of(postcheck.loads(text + way)))
    by_name = {lamp.name: lamp.lead for lamp in bare.lamp}
    assert by_name["car windows"] is None
    nose = by_name["nose lamp"]
    assert nose is not None
    assert (nose.to, nose.length, nose.colours) == ("keel", pytest.approx(0.34), None)


def test_an_own_return_that_nothing_asks_for_goes_unless_its_circuit_is_kept() -> None:
    text = next(path for path in SOUND if path.stem == "eight-wires-warm-together.post").read_text(
        encoding="utf-8"
    )
    planned = plan(postcheck.loads(text), anew=True, seconds=60.0)
    assert (planned.was.passages[0][1], planned.passages[0].conductors) == (8, 5)  # four feeds, one return
    assert planned.text is not None
    assert "own_return" not in planned.text
    (told,) = [says for says in planned.heed if "own_return" in says]
    assert told.startswith("Without a return of their own now: ")
    assert told.count("'") == 8  # four circuits
    kept = re.sub(r"(?m)^own_return = true", "own_return = true\nkeep = true", text)
    assert kept.count("keep = true") == 4
    assert plan(postcheck.loads(kept), anew=True, seconds=60.0).stays


def test_a_table_that_is_written_in_another_form_is_told_and_nothing_written() -> None:
    text = _twice().replace('line = "running"\nends = ["base", "keel"]\nlength = "270 mm"\n', "")
    text = text.replace(
        '[[run]]\nname = "old feed"\n',
        '[[run]]\nname = "old feed"\nline = "running"\nends = ["base", "keel"]\nlength = "270 mm"\n'
        "[place.attic]\naccess = 'open'\n[run.joint]\nacross = '1.5 mm'\n",
    )
    assert ("run", 5, "joint") in locate(text)
    planned = plan(postcheck.loads(text), anew=True, seconds=60.0)
    assert planned.gone == ("run 'old feed'",)
    assert planned.text is None
    assert planned.unwritten is not None
    assert "cannot be taken out of the file" in planned.unwritten
